"""Check lists: what is looked at when a loom is begun and given back."""

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.care import check_selectors, check_services
from studio.care.check_selectors import may_fill
from studio.care.forms import PointForm, form_asking
from studio.files.photo_storage import answer_photo
from studio.models import CheckPoint, LoomCheck, LoomOccupancy
from studio.rights import Act, may


@require_safe
@act_required(Act.SEE_STUDIO)
def checks(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what was looked at at both ends of a time, and the list that waits."""
    occupancy = get_object_or_404(LoomOccupancy.objects.select_related("loom", "member"), pk=pk)
    waiting = (
        check_selectors.lists_to_fill(occupancy, timezone.localdate())
        if may_fill(member_of(request), occupancy)
        else []
    )
    shown = {"occupancy": occupancy, "checks": check_selectors.checks_of(occupancy), "lists_to_fill": waiting}
    return render(request, "studio/care/checks.html", shown)


@act_required(Act.SEE_STUDIO)
def check_fill(request: HttpRequest, pk: int, moment: str) -> HttpResponse:
    """Fill a list in; another's is no business of a member's."""
    if moment not in CheckPoint.Moment.values:
        raise Http404("There is no such list.")
    member, occupancy = member_of(request), get_object_or_404(LoomOccupancy.objects.select_related("loom"), pk=pk)
    if not may_fill(member, occupancy):
        raise PermissionDenied("This is another member's loom.")
    form = form_asking(check_selectors.points_asked(moment))(posted(request), request.FILES or None)
    page = FormPage(
        f"Loom {occupancy.loom}, {CheckPoint.Moment(moment).label}", "Save", occupancy.get_absolute_url(),
        "The list is saved.", template="studio/care/check_form.html", more={"occupancy": occupancy},
        lede="Tick what is in order. Where something is wrong, write what: it becomes a fault of the loom.",
    )  # fmt: skip

    def fill(values: dict[str, object]) -> LoomCheck:
        said = {name: values[name] for name in ("answers", "note", "photo")}
        return check_services.fill_check(occupancy=occupancy, moment=moment, by=member, **said)  # type: ignore[arg-type]

    return answer_form(request, form, page, fill)


@require_safe
@act_required(Act.SEE_STUDIO)
def check_photo(request: HttpRequest, pk: int) -> HttpResponse:
    return answer_photo(get_object_or_404(LoomCheck, pk=pk).photo)


@require_safe
@act_required(Act.SEE_STUDIO)
def points(request: HttpRequest) -> HttpResponse:
    may_edit = may(member_of(request).role, Act.SET_UPKEEP)
    return render(
        request, "studio/care/check_points.html", {"points": check_selectors.check_points(), "may_edit": may_edit}
    )


@act_required(Act.SET_UPKEEP)
def point_new(request: HttpRequest) -> HttpResponse:
    page = FormPage("New point", "Add to the list", reverse("check-points"), "The point is on the list.")
    form = PointForm(posted(request), initial={"moment": CheckPoint.Moment.BEGIN})
    return answer_form(request, form, page, lambda values: check_services.keep_point(point=None, values=values))


@act_required(Act.SET_UPKEEP)
def point_edit(request: HttpRequest, pk: int) -> HttpResponse:
    point = get_object_or_404(CheckPoint, pk=pk)
    page = FormPage("Change a point", "Save", reverse("check-points"), "The changes are saved.")
    form = PointForm(posted(request), instance=point)
    return answer_form(request, form, page, lambda values: check_services.keep_point(point=point, values=values))
