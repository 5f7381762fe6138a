"""Pages of the intake: take yarn in, name it later, throw out what is none, and learn what empties weigh."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_POST, require_safe

from inventory.intake.forms import KEPT_FOR_THE_NEXT, EmptyForm, IntakeForm, NameForm, NewYarnForm, ThrowOutForm
from inventory.intake.photo_services import keep_photo, sweep_photos
from inventory.intake.selectors import (
    chosen_arrivals,
    known_tares,
    of_an_animal,
    thrown_out_lately,
    waiting,
    weight_waiting,
    what_came_in,
    what_was_named,
    yarns_offered,
)
from inventory.intake.services import add_to_stock, leave_out, name_arrivals, once, throw_out, weigh_empty
from inventory.models import Arrival, Package, Photo, TareWeighing
from inventory.shelf.services import YarnFacts
from studio.access import FormPage, act_required, answer_form, member_of, member_required, posted, submit
from studio.models import Member
from studio.rights import Act, may

ROWS_ON_A_PAGE = 50


@act_required(Act.EDIT_YARN)
def intake(request: HttpRequest) -> HttpResponse:
    """Take in one cone, or several like it, and be ready for the next."""
    member = member_of(request)
    initial = {name: request.GET[name] for name in KEPT_FOR_THE_NEXT if name in request.GET}
    files = request.FILES if request.method == "POST" else None
    form = IntakeForm(posted(request), files, by=member, empties=known_tares(), initial=initial)
    photo = _photo_of(form, member) if form.is_bound else None
    packages: list[Package] = []
    sentence = submit(form, partial(_add_to_stock, form, photo, member, packages)) if form.is_bound else None
    if sentence is not None:
        _tell(request, sentence, packages)
        _remind_of_moths(request, packages, member)
        return redirect(f"{reverse('intake')}?{urlencode(form.for_the_next())}")
    context = {"form": form, "photo": photo, "yarns": yarns_offered(), "waiting": waiting().count()}
    return render(request, "inventory/intake/intake.html", context, status=422 if form.is_bound else 200)


def _photo_of(form: IntakeForm, member: Member) -> Photo | None:
    """Keep the photo even where the form has mistakes: nobody should take it twice."""
    form.is_valid()
    picture = form.cleaned_data.get("photo")
    if picture is not None:
        return keep_photo(picture=picture, by=member)
    kept: Photo | None = form.cleaned_data.get("kept_photo")
    return kept


def _add_to_stock(
    form: IntakeForm, photo: Photo | None, member: Member, packages: list[Package], values: dict[str, Any]
) -> str:
    """Take it in once for this form, and give what is said of it; packages are added to those taken."""
    sweep_photos()

    def action() -> str:
        added = add_to_stock(
            facts=form.facts(),
            grosses=form.grosses(),
            by=member,
            yarn=values["yarn_words"],
            photo=photo,
            to_quarantine=values.get("to_quarantine", False),
        )
        packages.extend(added.packages)
        return what_came_in(added.packages, added.arrivals, member.reads_in)

    return once(stamp=values["stamp"], by=member, action=action)


def _tell(request: HttpRequest, sentence: str, packages: Sequence[Package]) -> None:
    """Say what was written, with the way to the labels of those that have their numbers now."""
    numbers = ",".join(str(package.pk) for package in packages)
    context = {"sentence": sentence, "packages": packages, "numbers": numbers}
    messages.success(request, render_to_string("inventory/intake/_labels_offered.html", context))


def _remind_of_moths(request: HttpRequest, packages: Sequence[Package], member: Member) -> None:
    """Say that wool and silk belong into quarantine, where none of it went there at once."""
    at_risk = of_an_animal(packages)
    if at_risk:
        context = {"packages": at_risk, "may_do": may(member.role, Act.ADJUST_STOCK)}
        messages.warning(request, render_to_string("inventory/intake/_moths.html", context))


@member_required
@require_safe
def not_named(request: HttpRequest) -> HttpResponse:
    """Show what came in and has no name yet, the oldest first."""
    member = member_of(request)
    page = Paginator(waiting(), ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    gross, net, weighed_in = weight_waiting(member.reads_in)
    context = {
        "page": page,
        "gross_g": gross,
        "net_g": net,
        "thrown_out": thrown_out_lately(),
        "weighed_in": weighed_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
    }
    return render(request, "inventory/intake/not_named.html", context)


@act_required(Act.EDIT_YARN)
def name_them(request: HttpRequest) -> HttpResponse:
    """Say which yarn the chosen ones are: one of the book, or a new one."""
    member = member_of(request)
    data: QueryDict = request.POST if request.method == "POST" else request.GET
    arrivals = chosen_arrivals(data.getlist("arrival"))
    if not arrivals:
        messages.warning(request, "Choose at least one that has no name yet.")
        return redirect("not-named")
    is_new = "new" in data
    existing = NameForm(None if is_new else posted(request), by=member)
    new = NewYarnForm(posted(request) if is_new else None, by=member)
    form = new if is_new else existing
    packages = submit(form, partial(_name, arrivals, member)) if form.is_bound else None
    if packages is not None:
        _tell(request, what_was_named(packages), packages)
        _remind_of_moths(request, packages, member)
        return redirect("not-named")
    context = {
        "arrivals": arrivals,
        "existing": existing,
        "new": new,
        "yarns": yarns_offered(),
        "units": member.reads_in,
    }
    return render(request, "inventory/intake/name_them.html", context, status=422 if form.is_bound else 200)


def _name(arrivals: tuple[Arrival, ...], member: Member, values: dict[str, Any]) -> tuple[Package, ...]:
    to_quarantine = values.pop("to_quarantine", False)
    yarn = values.get("yarn_words")
    facts = YarnFacts(**values) if yarn is None else None
    return name_arrivals(arrivals=arrivals, by=member, yarn=yarn, new_yarn=facts, to_quarantine=to_quarantine)


@act_required(Act.EDIT_YARN)
def arrival_out(request: HttpRequest, pk: int) -> HttpResponse:
    """Throw out what came in and is no yarn to keep."""
    arrival = get_object_or_404(waiting(), pk=pk)
    page = FormPage(
        title=f"Throw out {arrival}?",
        button="Throw it out",
        cancel_url=reverse("not-named"),
        done=f"{arrival} is thrown out. It stays in the records with its reason.",
        template="inventory/intake/arrival_out.html",
        more={"arrival": arrival},
    )
    form = ThrowOutForm(posted(request))
    by = member_of(request)
    return answer_form(request, form, page, lambda values: throw_out(arrival=arrival, by=by, **values))


@member_required
def empties(request: HttpRequest) -> HttpResponse:
    """Show what empties weigh, and weigh one more."""
    member = member_of(request)
    may_edit = may(member.role, Act.EDIT_YARN)
    rows = known_tares()
    form = EmptyForm(posted(request) if may_edit else None, units=member.reads_in, known=rows)
    weighing = submit(form, lambda values: weigh_empty(by=member, **values)) if form.is_bound else None
    if weighing is not None:
        messages.success(request, f"{weighing.tare}: {weighing.weight_text} is recorded. Now the next.")
        return redirect("empties")
    context = {"form": form, "rows": rows, "units": member.reads_in, "may_edit": may_edit}
    return render(request, "inventory/intake/empties.html", context, status=422 if form.is_bound else 200)


@act_required(Act.EDIT_YARN)
@require_POST
def weighing_left_out(request: HttpRequest, pk: int) -> HttpResponse:
    """Leave a wrong weighing out of its median, or count it again."""
    weighing = get_object_or_404(TareWeighing, pk=pk)
    leave_out(weighing=weighing, left_out="out" in request.POST)
    return redirect("empties")
