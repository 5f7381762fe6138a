"""Find a loom for a warp, and reserve it with the reed that the plan is sleyed in."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from planner.loom_search.forms import ReserveForm, WhenForm
from planner.loom_search.selectors import (
    fit_on,
    looms_found,
    plan_of,
    reed_of,
    reservation_of,
    time_needed,
    usable_reeds,
)
from planner.loom_search.services import reserve_for_warp
from planner.models import Project
from planner.warps.selectors import may_change
from studio.access import FormPage, member_of, member_required, posted, submit
from studio.models import Beam
from studio.rights import Act, may

NO_PLAN = "This warp has no plan yet; what it still needs is marked. A loom can be looked for once it has one."


@require_safe
@member_required
def find_loom(request: HttpRequest, pk: int) -> HttpResponse:
    """Show which looms a warp fits and when each is free for as long as it takes."""
    warp, member = _warp(pk), member_of(request)
    planned = plan_of(warp)
    if warp.is_draft or planned is None:
        messages.warning(request, NO_PLAN)
        return redirect(warp)
    form = WhenForm(request.GET)
    starting, hours, days = form.asked()
    needed = time_needed(*planned, hours, member.reads_in)
    found = looms_found(warp, member, days or needed.days, starting)
    context = {
        "warp": warp,
        "form": form,
        "needed": needed,
        "days": days or needed.days,
        "own_days": days,
        "fitting": [one for one in found if not one.fit.refusal and not one.fit.has_warnings],
        "warned": [one for one in found if not one.fit.refusal and one.fit.has_warnings],
        "others": [one for one in found if one.fit.refusal],
        "reservation": reservation_of(warp),
        "may_reserve": may_change(warp, member) and may(member.role, Act.RESERVE_LOOM),
    }
    part = "_looms_found" if request.headers.get("HX-Target") == "looms-found" else "find_loom"
    return render(request, f"planner/loom_search/{part}.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@member_required
def reserve_loom(request: HttpRequest, pk: int, beam_pk: int) -> HttpResponse:
    """Reserve one loom for a warp, with its reed and equipment."""
    warp, member = _warp(pk), member_of(request)
    beam = get_object_or_404(Beam.objects.select_related("loom"), pk=beam_pk, loom__retired=False)
    fit = fit_on(warp, member, beam)
    starting, _, days = WhenForm(request.GET).asked()
    start = {"starts_on": starting, "last_day": starting + timedelta(days=(days or 1) - 1), "reed": reed_of(fit)}
    form = ReserveForm(posted(request), reeds=usable_reeds(beam), initial=start)
    reservation = (
        submit(form, lambda _: reserve_for_warp(warp=warp, loom=beam.loom, loom_request=form.loom_request(), by=member))
        if form.is_bound
        else None
    )
    if reservation is not None:
        messages.success(request, f"Loom {beam.loom} is yours, {reservation.span}, with everything reserved with it.")
        return redirect(reservation)
    page = FormPage(f"Reserve loom {beam.loom}", "Reserve", reverse("warp-looms", args=[pk]), "", lede=f"For “{warp}”.")
    context = {"form": form, "page": page, "warp": warp, "fit": fit, "other": beam.pk != warp.beam_id}
    return render(request, "planner/loom_search/reserve_loom.html", context, status=422 if form.is_bound else 200)


def _warp(pk: int) -> Project:
    return get_object_or_404(Project.objects.select_related("owner", "loom", "beam"), pk=pk)
