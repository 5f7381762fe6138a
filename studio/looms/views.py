"""The looms register: list, one loom, and what stewards change."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.calendar.loom_weeks import ahead_in_words
from studio.calendar.selectors import overdue, who_waits
from studio.calendar.weeks import ahead_of, now_and_next
from studio.care.check_selectors import open_faults
from studio.errors import StudioError
from studio.looms import selectors, services
from studio.looms.drawings import picture_of
from studio.looms.forms import LoomForm
from studio.models import Loom, Member
from studio.rights import Act, may

MOST_AHEAD = 12
"""Spans shown on a loom's page; the month shows the rest."""


@require_safe
@act_required(Act.SEE_STUDIO)
def loom_list(request: HttpRequest) -> HttpResponse:
    member = member_of(request)
    rows = now_and_next(Loom.objects.with_beams(), timezone.localdate())
    shown = {"rows": rows, "may_edit": may(member.role, Act.EDIT_LOOMS)}
    return render(request, "studio/looms/loom_list.html", shown)


@require_safe
@act_required(Act.SEE_STUDIO)
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
        "faults": open_faults(loom),
        "may_log": may(member.role, Act.LOG_UPKEEP),
        "may_set": may(member.role, Act.CLOSE_LOOM),
        **_calendar_of(loom, member),
    }
    return render(request, "studio/looms/loom.html", shown)


def _calendar_of(loom: Loom, member: Member) -> dict[str, Any]:
    """Say who has the loom, who comes after, and who waits."""
    today = timezone.localdate()
    queue = list(who_waits(loom))
    return {
        "ahead": ahead_in_words(ahead_of(loom, today)[:MOST_AHEAD]),
        "overdue": overdue(today).filter(loom=loom).first(),
        "queue": queue,
        "my_place": next((place for place in queue if place.member_id == member.pk), None),
        "may_reserve": may(member.role, Act.RESERVE_LOOM),
        "may_reserve_for_others": may(member.role, Act.RESERVE_FOR_OTHERS),
    }


@act_required(Act.EDIT_LOOMS)
def loom_new(request: HttpRequest) -> HttpResponse:
    start = {"number": selectors.next_loom_number()}
    form = LoomForm(posted(request), instance=Loom(), initial=start, units=member_of(request).reads_in)
    looms = reverse("looms")
    page = FormPage("New loom", "Add loom", looms, "The loom is on the register. Add its beams next.")
    return answer_form(request, form, page, lambda values: services.keep_loom(loom=None, values=values))


@act_required(Act.EDIT_LOOMS)
def loom_edit(request: HttpRequest, pk: int) -> HttpResponse:
    loom = get_object_or_404(Loom, pk=pk)
    form = LoomForm(posted(request), instance=loom, units=member_of(request).reads_in)
    page = FormPage(f"Change loom {loom}", "Save", loom.get_absolute_url(), "The changes are saved.")
    return answer_form(request, form, page, lambda values: services.keep_loom(loom=loom, values=values))


@act_required(Act.EDIT_LOOMS)
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
    return render(request, "remove_page.html", selectors.going_with_loom(loom))
