"""Deeds with the work on a loom: its next state, a hold, another weaver who takes over, a loom called back."""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from studio.access import refuse_not_yours
from studio.calendar.notify import take_offer_back, tell_called_back, tell_offered, tell_taken_over
from studio.calendar.rules import refuse_by_rules, refuse_ended, refuse_not_begun
from studio.calendar.selectors import booking_rules
from studio.calendar.services import Kind, review_within, set_state
from studio.calendar.words import day_words, days_words
from studio.errors import RuleSaysNo, StudioError
from studio.loom_states import LoomState, may_follow, may_hold
from studio.models import LoomOccupancy, LoomStep, Member
from studio.models.reservations import LONGEST_NOTE, hold_occupancy
from studio.rights import Act, may


@transaction.atomic
def change_loom_state(*, occupancy: LoomOccupancy, to: str, by: Member, note: str = "") -> LoomOccupancy:
    """Take one step in the work on a loom.

    Another's warp is cut off only by those who may, and the step says why.
    """
    held = hold_occupancy(occupancy)
    refuse_ended(held)
    refuse_not_yours(held, by)
    refuse_not_begun(held, timezone.localdate())
    state = LoomState(to)
    if not may_follow(held.state, state):
        raise StudioError("no_such_step", f"From “{held.get_state_display()}” there is no step to “{state.label}”.")
    if state is LoomState.CUT_OFF and held.member_id != by.pk:
        _refuse_to_cut_off(held, by, note)
    set_state(held, state, by, note)
    return held


def _refuse_to_cut_off(held: LoomOccupancy, by: Member, note: str) -> None:
    if not may(by.role, Act.CUT_OFF_OTHERS):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to {Act.CUT_OFF_OTHERS}.")
    rules = booking_rules()
    allowed = held.ends_before + timedelta(days=rules.overdue_days)
    if timezone.localdate() < allowed:
        said = f"Another's warp is cut off {days_words(rules.overdue_days)} after its time at the earliest"
        raise RuleSaysNo("not_overdue", f"{said}: from {day_words(allowed)}.")
    if not note:
        raise StudioError("say_why", "Say why it is cut off and how its owner was told.", {"note": ["Say why."]})


@transaction.atomic
def put_on_hold(*, occupancy: LoomOccupancy, review_on: date, by: Member, note: str = "") -> LoomOccupancy:
    """Let the work rest, with the day on which somebody looks at it again."""
    held, today = hold_occupancy(occupancy), timezone.localdate()
    refuse_ended(held)
    refuse_not_yours(held, by)
    refuse_not_begun(held, today)
    if not may_hold(held.state):
        raise StudioError("no_such_step", f"Work that is “{held.get_state_display()}” cannot be put on hold.")
    _refuse_review(held, review_on, today)
    held.held_from, held.review_on = held.state, review_on
    set_state(held, LoomState.HOLD, by, note)
    return held


def _refuse_review(held: LoomOccupancy, review_on: date, today: date) -> None:
    """Refuse a day for the second look that is past, too late, or after the loom's time."""
    latest, ends = today + timedelta(days=booking_rules().hold_days), ""
    if today < held.ends_before <= latest:
        latest, ends = held.last_day, ", the last day of its time"
    if latest == today:
        said = "Its last day is today. Ask for more days first."
        raise RuleSaysNo("review_date", f"A hold is looked at again. {said}", {"review_on": [said]})
    if not today < review_on <= latest:
        said = f"Give a day after today and by {day_words(latest)}{ends}."
        raise RuleSaysNo("review_date", f"A hold is looked at again. {said}", {"review_on": [said]})


@transaction.atomic
def take_up_again(*, occupancy: LoomOccupancy, by: Member, note: str = "") -> LoomOccupancy:
    """End a hold; the work goes on where it was."""
    held = hold_occupancy(occupancy)
    refuse_ended(held)
    refuse_not_yours(held, by)
    if held.state != LoomState.HOLD:
        raise StudioError("not_on_hold", "This work is not on hold.")
    set_state(held, LoomState(held.held_from), by, note)
    return held


@transaction.atomic
def offer_loom(*, occupancy: LoomOccupancy, by: Member, open_to_take_over: bool = True) -> LoomOccupancy:
    """Offer the rest of a warp to whoever wants it, or take the offer back."""
    held = hold_occupancy(occupancy)
    refuse_ended(held)
    refuse_not_yours(held, by)
    if held.kind != Kind.WARP:
        raise StudioError("no_warp", "Only a member's warp can be taken over.")
    held.open_to_take_over = open_to_take_over
    held.changes += 1
    held.save()
    if open_to_take_over:
        tell_offered(held=held)
    else:
        take_offer_back(held=held)
    return held


@transaction.atomic
def take_over(*, occupancy: LoomOccupancy, title: str, by: Member) -> LoomOccupancy:
    """Take over a dressed loom that was offered: same days left, same state, the threading stays.

    The former owner's reservation ends today, and what goes along changes hands with the loom.
    """
    taker = Member.objects.select_for_update().get(pk=by.pk)
    held, today = hold_occupancy(occupancy), timezone.localdate()
    refuse_ended(held)
    if not held.open_to_take_over or held.member_id == by.pk:
        raise StudioError("not_offered", "This loom is not open to take over.")
    if not held.starts_on <= today < held.ends_before:
        raise RuleSaysNo("not_now", "Only a loom whose time is running can be taken over.")
    if not may(taker.role, Act.RESERVE_LOOM):
        raise RuleSaysNo("not_your_role", f"The role of {taker} does not allow to {Act.RESERVE_LOOM}.")
    refuse_by_rules(booking_rules(), held.loom, taker, Kind.WARP, today, held.ends_before, today)
    return _hand_over(held, taker, title, today)


def _hand_over(held: LoomOccupancy, taker: Member, title: str, today: date) -> LoomOccupancy:
    state, since, ends_before = LoomState(held.held_from or held.state), held.state_since, held.ends_before
    held.open_to_take_over = False
    if held.starts_on < today:
        held.ends_before = today
    else:
        held.cancelled_at = timezone.now()
    set_state(held, LoomState.DONE, taker, f"Taken over by {taker}.")
    made = LoomOccupancy(
        loom=held.loom,
        member=taker,
        title=title,
        starts_on=today,
        ends_before=ends_before,
        state=state.value,
        state_since=since,
        made_by=taker,
        taken_over_from=held,
    )
    made.full_clean()
    made.save()
    LoomStep.objects.create(occupancy=made, state=made.state, made_by=taker, note=f"Taken over from {held.member}.")
    for booking in held.tools.filter(cancelled_at=None):
        booking.occupancy, booking.member = made, taker
        booking.changes += 1
        booking.save()
    take_offer_back(held=held)
    tell_taken_over(held=held, taker=taker)
    return made


@transaction.atomic
def call_back(*, occupancy: LoomOccupancy, ends_before: date, by: Member, note: str) -> LoomOccupancy:
    """Call a loom back for a class: its time ends earlier, and is not extended again."""
    held, today = hold_occupancy(occupancy), timezone.localdate()
    refuse_ended(held)
    if not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to call a loom back.")
    first = max(today + timedelta(days=1), held.starts_on)
    if held.last_day < first:
        raise RuleSaysNo("call_back_days", "Its time ends by today: there is no day's notice left to give.")
    if not first < ends_before <= held.ends_before:
        said = f"Give a last day between {day_words(first)} and {day_words(held.last_day)}"
        raise RuleSaysNo("call_back_days", f"{said}: its weaver has at least a day's notice.")
    held.ends_before, held.called_back_by = ends_before, by
    review_within(held)
    _note(held, by, f"Called back: its time ends with {day_words(held.last_day)}. {note}".strip())
    tell_called_back(held=held, by=by, note=note)
    return held


def _note(held: LoomOccupancy, by: Member, note: str) -> None:
    held.changes += 1
    held.full_clean()
    held.save()
    LoomStep.objects.create(occupancy=held, state=held.state, made_by=by, note=note[:LONGEST_NOTE])
