"""Actions with the work on a loom: its next state, a hold, another weaver who takes over, a loom called back."""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from studio.access import refuse_not_yours
from studio.calendar.notify import take_offer_back, tell_called_back, tell_offered, tell_taken_over
from studio.calendar.rules import refuse_by_rules, refuse_ended, refuse_not_begun
from studio.calendar.services import Kind, review_within, set_state
from studio.dates import day_words, days_words
from studio.errors import RuleSaysNo, StudioError
from studio.loom_states import LoomState, may_follow, may_hold
from studio.models import LoomOccupancy, LoomStep, Member
from studio.models.reservations import LONGEST_NOTE, lock_occupancy
from studio.rights import Act, may
from studio.rules.selectors import booking_rules


@transaction.atomic
def change_loom_state(*, occupancy: LoomOccupancy, to: str, by: Member, note: str = "") -> LoomOccupancy:
    """Take one step in the work on a loom.

    Another's warp is cut off only by those who may, and the step says why.
    """
    locked = lock_occupancy(occupancy)
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    refuse_not_begun(locked, timezone.localdate())
    state = LoomState(to)
    if not may_follow(locked.state, state):
        raise StudioError("no_such_step", f"From “{locked.get_state_display()}” there is no step to “{state.label}”.")
    if state is LoomState.CUT_OFF and locked.member_id != by.pk:
        _refuse_to_cut_off(locked, by, note)
    set_state(locked, state, by, note)
    return locked


def _refuse_to_cut_off(occupancy: LoomOccupancy, by: Member, note: str) -> None:
    if not may(by.role, Act.CUT_OFF_OTHERS):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to {Act.CUT_OFF_OTHERS}.")
    rules = booking_rules()
    allowed = occupancy.ends_before + timedelta(days=rules.overdue_days)
    if timezone.localdate() < allowed:
        sentence = f"Another's warp is cut off {days_words(rules.overdue_days)} after its time at the earliest"
        raise RuleSaysNo("not_overdue", f"{sentence}: from {day_words(allowed)}.")
    if not note:
        raise StudioError("say_why", "Say why it is cut off and how its owner was told.", {"note": ["Say why."]})


@transaction.atomic
def put_on_hold(*, occupancy: LoomOccupancy, review_on: date, by: Member, note: str = "") -> LoomOccupancy:
    """Let the work rest, with the day on which somebody looks at it again."""
    locked, today = lock_occupancy(occupancy), timezone.localdate()
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    refuse_not_begun(locked, today)
    if not may_hold(locked.state):
        raise StudioError("no_such_step", f"Work that is “{locked.get_state_display()}” cannot be put on hold.")
    _refuse_review(locked, review_on, today)
    locked.held_from, locked.review_on = locked.state, review_on
    set_state(locked, LoomState.HOLD, by, note)
    return locked


def _refuse_review(occupancy: LoomOccupancy, review_on: date, today: date) -> None:
    """Refuse a day for the second look that is past, too late, or after the loom's time."""
    latest, ends = today + timedelta(days=booking_rules().hold_days), ""
    if today < occupancy.ends_before <= latest:
        latest, ends = occupancy.last_day, ", the last day of its time"
    if latest == today:
        sentence = "Its last day is today. Ask for more days first."
        raise RuleSaysNo("review_date", f"A hold is looked at again. {sentence}", {"review_on": [sentence]})
    if not today < review_on <= latest:
        sentence = f"Give a day after today and by {day_words(latest)}{ends}."
        raise RuleSaysNo("review_date", f"A hold is looked at again. {sentence}", {"review_on": [sentence]})


@transaction.atomic
def take_up_again(*, occupancy: LoomOccupancy, by: Member, note: str = "") -> LoomOccupancy:
    """End a hold; the work goes on where it was."""
    locked = lock_occupancy(occupancy)
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    if locked.state != LoomState.HOLD:
        raise StudioError("not_on_hold", "This work is not on hold.")
    set_state(locked, LoomState(locked.held_from), by, note)
    return locked


@transaction.atomic
def offer_loom(*, occupancy: LoomOccupancy, by: Member, open_to_take_over: bool = True) -> LoomOccupancy:
    """Offer the rest of a warp to whoever wants it, or take the offer back."""
    locked = lock_occupancy(occupancy)
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    if locked.kind != Kind.WARP:
        raise StudioError("no_warp", "Only a member's warp can be taken over.")
    locked.open_to_take_over = open_to_take_over
    locked.changes += 1
    locked.save()
    if open_to_take_over:
        tell_offered(occupancy=locked)
    else:
        take_offer_back(occupancy=locked)
    return locked


@transaction.atomic
def take_over(*, occupancy: LoomOccupancy, title: str, by: Member) -> LoomOccupancy:
    """Take over a dressed loom that was offered: same days left, same state, the threading stays.

    The former owner's reservation ends today, and what goes along changes hands with the loom.
    """
    taker = Member.objects.select_for_update().get(pk=by.pk)
    locked, today = lock_occupancy(occupancy), timezone.localdate()
    refuse_ended(locked)
    if not locked.open_to_take_over or locked.member_id == by.pk:
        raise StudioError("not_offered", "This loom is not open to take over.")
    if not locked.starts_on <= today < locked.ends_before:
        raise RuleSaysNo("not_now", "Only a loom whose time is running can be taken over.")
    if not may(taker.role, Act.RESERVE_LOOM):
        raise RuleSaysNo("not_your_role", f"The role of {taker} does not allow to {Act.RESERVE_LOOM}.")
    refuse_by_rules(booking_rules(), locked.loom, taker, Kind.WARP, today, locked.ends_before, today)
    return _hand_over(locked, taker, title, today)


def _hand_over(occupancy: LoomOccupancy, taker: Member, title: str, today: date) -> LoomOccupancy:
    state, since, ends_before = (
        LoomState(occupancy.held_from or occupancy.state),
        occupancy.state_since,
        occupancy.ends_before,
    )
    occupancy.open_to_take_over = False
    if occupancy.starts_on < today:
        occupancy.ends_before = today
    else:
        occupancy.cancelled_at = timezone.now()
    set_state(occupancy, LoomState.DONE, taker, f"Taken over by {taker}.")
    handed = LoomOccupancy(
        loom=occupancy.loom,
        member=taker,
        title=title,
        starts_on=today,
        ends_before=ends_before,
        state=state.value,
        state_since=since,
        made_by=taker,
        taken_over_from=occupancy,
    )
    handed.full_clean()
    handed.save()
    LoomStep.objects.create(
        occupancy=handed, state=handed.state, made_by=taker, note=f"Taken over from {occupancy.member}."
    )
    for booking in occupancy.tools.filter(cancelled_at=None):
        booking.occupancy, booking.member = handed, taker
        booking.changes += 1
        booking.save()
    take_offer_back(occupancy=occupancy)
    tell_taken_over(occupancy=occupancy, taker=taker)
    return handed


@transaction.atomic
def call_back(*, occupancy: LoomOccupancy, ends_before: date, by: Member, note: str) -> LoomOccupancy:
    """Call a loom back for a class: its time ends earlier, and is not extended again."""
    locked, today = lock_occupancy(occupancy), timezone.localdate()
    refuse_ended(locked)
    if not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to call a loom back.")
    first = max(today + timedelta(days=1), locked.starts_on)
    if locked.last_day < first:
        raise RuleSaysNo("call_back_days", "Its time ends by today: there is no day's notice left to give.")
    if not first < ends_before <= locked.ends_before:
        sentence = f"Give a last day between {day_words(first)} and {day_words(locked.last_day)}"
        raise RuleSaysNo("call_back_days", f"{sentence}: its weaver has at least a day's notice.")
    locked.ends_before, locked.called_back_by = ends_before, by
    review_within(locked)
    _note(locked, by, f"Called back: its time ends with {day_words(locked.last_day)}. {note}".strip())
    tell_called_back(occupancy=locked, by=by, note=note)
    return locked


def _note(occupancy: LoomOccupancy, by: Member, note: str) -> None:
    occupancy.changes += 1
    occupancy.full_clean()
    occupancy.save()
    LoomStep.objects.create(occupancy=occupancy, state=occupancy.state, made_by=by, note=note[:LONGEST_NOTE])
