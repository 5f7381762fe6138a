"""The looms register: list, one loom, and what stewards change."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from studio import selectors, services
from studio.doors import FormPage, answer_form, member_of, needs, posted
from studio.drawings import picture_of
from studio.errors import StudioError
from studio.forms import LoomForm
from studio.models import Loom
from studio.rights import Act, may


@require_safe
@needs(Act.SEE_STUDIO)
def loom_list(request: HttpRequest) -> HttpResponse:
    member = member_of(request)
    shown = {"looms": selectors.looms(), "may_edit": may(member.role, Act.EDIT_LOOMS)}
    return render(request, "studio/loom_list.html", shown)


@require_safe
@needs(Act.SEE_STUDIO)
def loom_page(request: HttpRequest, pk: int) -> HttpResponse:
    member = member_of(request)
    loom = get_object_or_404(Loom, pk=pk)
    beams = loom.beams.select_related("loom")
    shown = {
        "loom": loom,
        "pictures": [picture_of(beam, member.reads_in) for beam in beams],
        "rounds": selectors.rounds_of(loom),
        "reeds": loom.own_reeds.all(),
        "may_edit": may(member.role, Act.EDIT_LOOMS),
    }
    return render(request, "studio/loom.html", shown)


@needs(Act.EDIT_LOOMS)
def loom_new(request: HttpRequest) -> HttpResponse:
    start = {"number": selectors.next_loom_number()}
    form = LoomForm(posted(request), instance=Loom(), initial=start, units=member_of(request).reads_in)
    looms = reverse("looms")
    page = FormPage("New loom", "Put it on the register", looms, "The loom is on the register. Add its beams next.")
    return answer_form(request, form, page, lambda values: services.keep_loom(loom=None, values=values))


@needs(Act.EDIT_LOOMS)
def loom_edit(request: HttpRequest, pk: int) -> HttpResponse:
    loom = get_object_or_404(Loom, pk=pk)
    form = LoomForm(posted(request), instance=loom, units=member_of(request).reads_in)
    page = FormPage(f"Change loom {loom}", "Keep the changes", loom.get_absolute_url(), "The changes are kept.")
    return answer_form(request, form, page, lambda values: services.keep_loom(loom=loom, values=values))


@needs(Act.EDIT_LOOMS)
def loom_delete(request: HttpRequest, pk: int) -> HttpResponse:
    loom = get_object_or_404(Loom, pk=pk)
    if request.method == "POST":
        try:
            services.remove_loom(loom=loom)
        except StudioError as refused:
            messages.error(request, refused.message)
            return redirect(loom)
        messages.success(request, f"Loom {loom} is off the register.")
        return redirect("looms")
    return render(request, "studio/remove.html", selectors.going_with_loom(loom))
