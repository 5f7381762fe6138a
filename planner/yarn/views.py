"""Pages of a warp's yarn: what the shelf has for it, set it aside, give it back, ask for what it lacks."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from planner.models import Project
from planner.yarn.account_views import may_take, warp_named
from planner.yarn.awaited import options_for, own_yarns
from planner.yarn.filling import NO_CHOICE, PackageChoice
from planner.yarn.shelf_forms import WaitForm, WantForm, boxes_of, choice_in, own_boxes
from planner.yarn.shelf_selectors import Worked, shelf_plan, worked
from planner.yarn.shelf_services import give_yarn_back, set_yarn_aside
from planner.yarn.wanted_selectors import may_ask, wanted_by
from planner.yarn.wanted_services import WantedDetails, want_yarn
from planner.yarn.words import set_aside_words
from studio.access import act_required, member_of, member_required, submit
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act, may

NO_PLAN = "This warp has no plan yet; what it still needs is marked. Its yarn can be looked up once it has one."
SET_ASIDE = "The yarn is set aside for this warp. It stays on the shelf, and nobody else can have it."


@member_required
@require_http_methods(["GET", "HEAD", "POST"])
def warp_yarn(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what the shelf has for a warp, or set aside what is proposed."""
    warp, member = warp_named(pk), member_of(request)
    if request.method != "POST":
        return _page(request, warp, member, choice_in(request.GET))
    _refuse_who_may_not(member)
    choice = choice_in(request.POST)
    try:
        set_yarn_aside(warp=warp, by=member, seen=request.POST.get("seen", ""), choice=choice)
    except StudioError as refused:
        messages.error(request, refused.message)
        return _page(request, warp_named(pk), member, choice, status=HTTPStatus.CONFLICT)
    messages.success(request, SET_ASIDE)
    return redirect("warp-yarn", pk=pk)


@act_required(Act.TAKE_YARN)
@require_http_methods(["GET", "HEAD", "POST"])
def warp_yarn_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask, then give back to the shelf all that is set aside for a warp."""
    warp, member = warp_named(pk), member_of(request)
    yarn = set_aside_words(warp, member)
    if request.method != "POST":
        context = {"warp": warp, "yarn": yarn, "may_take": may_take(warp, member)}
        return render(request, "planner/yarn/warp_yarn_back.html", context)
    try:
        give_yarn_back(warp=warp, by=member)
    except StudioError as refused:
        messages.error(request, refused.message)
    else:
        said = f"Back on the shelf: {yarn}." if yarn else "Nothing was set aside for this warp."
        messages.success(request, said)
    return redirect("warp-yarn", pk=pk)


@act_required(Act.PLAN_WARP)
@require_POST
def warp_yarn_want(request: HttpRequest, pk: int) -> HttpResponse:
    """Put what a warp lacks of one yarn on the wanted list."""
    warp, member, which = warp_named(pk), member_of(request), request.POST.get("which", "")
    form = WantForm(request.POST, auto_id=f"want-{which}-%s" if which.isalnum() else "want-%s")
    row = submit(form, lambda said: want_yarn(warp=warp, which=which, by=member, asked=WantedDetails(**said)))
    if row is None:
        for sentence in form.non_field_errors():
            messages.error(request, str(sentence))
        status = HTTPStatus.CONFLICT if form.non_field_errors() else HTTPStatus.UNPROCESSABLE_ENTITY
        return _page(request, warp, member, failed={which: form}, status=status)
    messages.success(request, f"On the wanted list: {row.yarn_name}.")
    return redirect("warp-yarn", pk=pk)


def _refuse_who_may_not(member: Member) -> None:
    if not may(member.role, Act.TAKE_YARN):
        raise PermissionDenied(f"The role does not allow to {Act.TAKE_YARN}.")


def _page(
    request: HttpRequest,
    warp: Project,
    member: Member,
    choice: PackageChoice = NO_CHOICE,
    *,
    failed: Mapping[str, WantForm] | None = None,
    status: HTTPStatus = HTTPStatus.OK,
) -> HttpResponse:
    found = None if warp.is_draft else worked(warp)
    if found is None:
        messages.warning(request, NO_PLAN)
        return redirect(reverse("warp", args=[warp.pk]))
    context = {
        "warp": warp,
        "package_choice": choice,
        "set_aside": set_aside_words(warp, member),
        "may_take": may_take(warp, member),
        "may_ask": may_ask(warp, member),
        "own": warp.owner_id == member.pk,
        "units": member.reads_in,
    }
    lines = _lines(request, warp, found, choice, failed or {})
    return render(request, "planner/yarn/warp_yarn.html", {**context, **lines}, status=status)


def _lines(
    request: HttpRequest, warp: Project, found: Worked, choice: PackageChoice, failed: Mapping[str, WantForm]
) -> dict[str, Any]:
    """Give each yarn's line, with what can be done where it does not suffice."""
    plan, rows = shelf_plan(warp, found.asked, choice), wanted_by(warp)
    choices = options_for(warp, found, plan)
    waiting = _waiting(request, {row.wanted.expected_on for row in rows if row.wanted.expected_on})
    return {
        "plan": plan,
        "boxes": boxes_of(plan, choices, rows, choice, failed),
        "own_yarns": own_boxes(own_yarns(found.plan), rows, failed),
        "waiting": waiting if choices else None,
        "waited": waiting.waited() if choices else None,
    }


def _waiting(request: HttpRequest, days: set[Any]) -> WaitForm:
    """Make the form of the weeks left; it is bound once something of it was said."""
    said = request.GET if WaitForm.base_fields.keys() & request.GET.keys() else None
    return WaitForm(said, initial={"yarn_on": max(days, default=None)})
