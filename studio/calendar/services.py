"""Deeds of the calendar: reserve a loom with what goes along, move its days, give it back, wait for it.

Each locks the member, then the loom, then the tools by their keys, so that nobody waits in a ring; then it looks, and
writes all or nothing. What the database refuses by itself comes out as the same sentence.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from studio.access import refuse_not_yours
from studio.calendar.guards import GUARDS, TAKEN
from studio.calendar.notify import take_offer_back, tell_hours_lost, tell_offered, tell_who_waits
from studio.calendar.rules import (
    refuse_by_rules,
    refuse_ended,
    refuse_extension,
    refuse_still_dressed,
    refuse_taken,
    refuse_too_many,
    refuse_tool_taken,
    refuse_untrained_at,
    refuse_who_may_not,
    tool_name,
)
from studio.calendar.selectors import at_midnight, booking_rules, seats_to_come, standing, tools_along
from studio.calendar.words import day_words
from studio.errors import LoomTaken, RuleSaysNo, StudioError
from studio.loom_states import LoomState, may_give_back
from studio.models import (
    BookingRules,
    Loom,
    LoomOccupancy,
    LoomStep,
    Member,
    QueuePlace,
    Reed,
    SeatTime,
    Station,
    ToolBooking,
)
from studio.models.reservations import hold_occupancy
from studio.rights import Act, may

Kind = LoomOccupancy.Kind
Tool = Station | Reed


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What somebody wants to have: days half-open, and the tools that go along or nothing does."""

    member: Member
    title: str
    starts_on: date
    ends_before: date
    kind: str = Kind.WARP
    tools: Sequence[Tool] = field(default=())
    note: str = ""


@contextmanager
def never_twice() -> Iterator[None]:
    """Turn what the database refuses to take twice into a refusal like any other."""
    try:
        with transaction.atomic():
            yield
    except IntegrityError as refused:
        said = str(refused)
        if TAKEN in said or any(name in said for name in GUARDS.postgres):
            raise LoomTaken("loom_taken", "Somebody was quicker: it is taken at that time. Look again.") from refused
        raise


@transaction.atomic
def reserve_loom(*, loom: Loom, wish: Wish, by: Member) -> LoomOccupancy:
    """Reserve a loom for some days, with the reeds and stations that go along.

    Raises
    ------
    LoomTaken
        If somebody has the loom or one of the tools at that time; nothing is then kept.
    RuleSaysNo, NotTrained
        If a rule of the studio stands against it; the message says what would be allowed.
    """
    member = Member.objects.select_for_update().get(pk=wish.member.pk)
    held = Loom.objects.select_for_update().get(pk=loom.pk)
    rules, today = booking_rules(), timezone.localdate()
    refuse_who_may_not(wish.kind, member, by)
    refuse_by_rules(rules, held, member, wish.kind, wish.starts_on, wish.ends_before, today)
    made = LoomOccupancy(
        loom=held,
        kind=wish.kind,
        member=member,
        title=wish.title,
        starts_on=wish.starts_on,
        ends_before=wish.ends_before,
        note=wish.note,
        made_by=by,
    )
    made.full_clean()
    refuse_taken(held, wish.starts_on, wish.ends_before)
    if wish.kind != Kind.OUT:
        refuse_still_dressed(held, wish.starts_on, wish.ends_before, today)
    with never_twice():
        made.save()
    LoomStep.objects.create(occupancy=made, state=made.state, made_by=by)
    for tool in _in_order(wish.tools):
        _take_along(made, tool, by)
    _leave_queue(held, member)
    return made


def _in_order(tools: Sequence[Tool]) -> list[Tool]:
    return sorted(tools, key=lambda tool: (isinstance(tool, Station), tool.pk))


def _take_along(made: LoomOccupancy, tool: Tool, by: Member) -> ToolBooking:
    span = at_midnight(made.starts_on), at_midnight(made.ends_before)
    return _book(tool, made.member, *span, by=by, occupancy=made)


def _book(
    tool: Tool,
    member: Member,
    starts_at: datetime,
    ends_at: datetime,
    *,
    by: Member,
    occupancy: LoomOccupancy | None = None,
    note: str = "",
) -> ToolBooking:
    """Lock a tool, look, and book it."""
    held = type(tool).objects.select_for_update().get(pk=tool.pk)
    if held.retired:
        raise RuleSaysNo("tool_retired", f"{tool_name(held)} is no longer in use.")
    if isinstance(held, Station):
        refuse_untrained_at(booking_rules(), held, member)
    refuse_tool_taken(held, starts_at, ends_at)
    which = {"station": held} if isinstance(held, Station) else {"reed": held}
    made = ToolBooking(
        member=member, starts_at=starts_at, ends_at=ends_at, made_by=by, occupancy=occupancy, note=note, **which
    )
    made.full_clean()
    with never_twice():
        made.save()
    return made


@transaction.atomic
def book_tool(
    *, tool: Tool, member: Member, starts_at: datetime, ends_at: datetime, by: Member, note: str = ""
) -> ToolBooking:
    """Book a board, mill, box or reed for some hours, by itself."""
    person = Member.objects.select_for_update().get(pk=member.pk)
    refuse_who_may_not(Kind.WARP, person, by)
    rules = booking_rules()
    if starts_at < timezone.now() - timedelta(hours=1):
        raise RuleSaysNo("in_the_past", "That time is past.")
    if isinstance(tool, Station) and ends_at - starts_at > timedelta(hours=rules.tool_hours):
        raise RuleSaysNo("too_long", f"A station is booked for {rules.tool_hours} hours at a time at most.")
    return _book(tool, person, starts_at, ends_at, by=by, note=note)


@transaction.atomic
def cancel_tool(*, booking: ToolBooking, by: Member) -> ToolBooking:
    """Give a booked tool up; what goes along with a loom goes with the loom."""
    held = ToolBooking.objects.select_for_update().get(pk=booking.pk)
    if held.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise StudioError("not_yours", f"{held.member} has booked this; a teacher or a steward can cancel it.")
    if held.stands:
        held.cancelled_at = timezone.now()
        held.changes += 1
        held.save()
    return held


@transaction.atomic
def move_reservation(*, occupancy: LoomOccupancy, starts_on: date, ends_before: date, by: Member) -> LoomOccupancy:
    """Give a reservation other days: later, longer or shorter, with all that goes along.

    Raises
    ------
    LoomTaken
        If somebody has the loom or one of its tools in the new days.
    RuleSaysNo
        If others wait, the days are too many, or the work has begun and its first day would move.
    """
    member = Member.objects.select_for_update().get(pk=occupancy.member_id)
    held, today = hold_occupancy(occupancy), timezone.localdate()
    refuse_ended(held)
    refuse_not_yours(held, by)
    _refuse_to_move(held, starts_on, ends_before, today)
    refuse_extension(booking_rules(), held, ends_before, by)
    if held.kind == Kind.WARP and (starts_on < held.starts_on or ends_before > held.ends_before):
        refuse_too_many(booking_rules(), member, starts_on, ends_before, besides=held.pk)
    refuse_taken(held.loom, starts_on, ends_before, besides=held.pk)
    if starts_on != held.starts_on and held.kind != Kind.OUT:
        refuse_still_dressed(held.loom, starts_on, ends_before, today, besides=held.pk)
    held.starts_on, held.ends_before = starts_on, ends_before
    review_within(held)
    _write(held)
    _move_tools(held)
    inside = {"starts_at__gte": at_midnight(starts_on), "ends_at__lte": at_midnight(ends_before)}
    _cancel_seats(seats_to_come(held, timezone.now()).exclude(**inside), by)
    return held


def _refuse_to_move(held: LoomOccupancy, starts_on: date, ends_before: date, today: date) -> None:
    if starts_on != held.starts_on:
        if held.state != LoomState.RESERVED or held.starts_on < today:
            raise RuleSaysNo("begun", "The work has begun: its first day stays. The last day can be moved.")
        if starts_on < today:
            raise RuleSaysNo("in_the_past", f"The first day can be today, {day_words(today)}, or later.")
    if ends_before < held.ends_before and ends_before < today:
        raise RuleSaysNo("in_the_past", "The last day is past. Give the loom back instead.")


def review_within(held: LoomOccupancy) -> None:
    """Let a hold be looked at again by the last day at the latest, when its time gets shorter."""
    if held.review_on is not None:
        held.review_on = min(held.review_on, held.last_day)


def _write(held: LoomOccupancy) -> None:
    held.changes += 1
    held.full_clean()
    with never_twice():
        held.save()


def _move_tools(held: LoomOccupancy) -> None:
    """Let the tools follow the loom's days; one that somebody else has by then stops it all."""
    span = at_midnight(held.starts_on), at_midnight(held.ends_before)
    for booking in sorted(tools_along(held), key=lambda one: (one.station_id or 0, one.reed_id or 0)):
        tool = booking.station or booking.reed
        if tool is None:
            continue
        type(tool).objects.select_for_update().get(pk=tool.pk)
        refuse_tool_taken(tool, *span, besides=[booking.pk])
        booking.starts_at, booking.ends_at = span
        booking.changes += 1
        with never_twice():
            booking.save()


@transaction.atomic
def cancel_reservation(*, occupancy: LoomOccupancy, by: Member) -> LoomOccupancy:
    """Give up a reservation on which nothing was begun."""
    held = hold_occupancy(occupancy)
    refuse_ended(held)
    refuse_not_yours(held, by)
    if held.state != LoomState.RESERVED:
        raise RuleSaysNo("begun", "The work has begun. Cut the warp off and give the loom back instead.")
    held.cancelled_at = timezone.now()
    _write(held)
    LoomStep.objects.create(occupancy=held, state=held.state, made_by=by, made_at=held.cancelled_at)
    _free_tools(held)
    _cancel_seats(seats_to_come(held, timezone.now()), by)
    take_offer_back(held=held)
    tell_who_waits(loom=held.loom, today=timezone.localdate())
    return held


@transaction.atomic
def give_back(*, occupancy: LoomOccupancy, by: Member, note: str = "") -> LoomOccupancy:
    """Give the loom back, early or late: free from today, and so is what went along."""
    held, today = hold_occupancy(occupancy), timezone.localdate()
    refuse_ended(held)
    refuse_not_yours(held, by)
    if held.kind == Kind.WARP and not may_give_back(held.state):
        raise RuleSaysNo(
            "still_dressed", "A warp is on the loom. Cut it off, look the loom over, and then give it back."
        )
    if held.starts_on > today:
        raise RuleSaysNo("not_begun", f"It begins on {day_words(held.starts_on)}. Cancel it instead.")
    held.ends_before = min(held.ends_before, max(today, held.starts_on + timedelta(days=1)))
    set_state(held, LoomState.DONE, by, note)
    _move_tools(held)
    _cancel_seats(seats_to_come(held, timezone.now()), by)
    take_offer_back(held=held)
    tell_who_waits(loom=held.loom, today=today)
    return held


def set_state(held: LoomOccupancy, state: LoomState, by: Member, note: str = "") -> None:
    """Write a state with its step: who, when and why. The loom must be locked."""
    held.state, held.state_since = state.value, timezone.now()
    if state is not LoomState.HOLD:
        held.held_from, held.review_on = "", None
    _write(held)
    LoomStep.objects.create(occupancy=held, state=held.state, made_by=by, note=note)


def _cancel_seats(seats: Iterable[SeatTime], by: Member) -> None:
    """Cancel hours whose warp is gone by then, and tell whose they were."""
    for seat in seats:
        seat.cancelled_at = timezone.now()
        seat.changes += 1
        seat.save()
        tell_hours_lost(seat=seat, by=by)


def _free_tools(held: LoomOccupancy) -> None:
    for booking in tools_along(held):
        booking.cancelled_at = timezone.now()
        booking.changes += 1
        booking.save()


@transaction.atomic
def wait_for_loom(*, loom: Loom, member: Member, days: int, note: str = "") -> QueuePlace:
    """Take a place in the queue for a loom."""
    held = Loom.objects.select_for_update().get(pk=loom.pk)
    if not may(member.role, Act.RESERVE_LOOM):
        raise RuleSaysNo("not_your_role", f"The role of {member} does not allow to {Act.RESERVE_LOOM}.")
    place = QueuePlace(loom=held, member=member, days=days, note=note)
    place.full_clean()
    place.save()
    for offered in standing().filter(loom=held, open_to_take_over=True).exclude(state=LoomState.DONE):
        tell_offered(held=offered)
    return place


@transaction.atomic
def leave_queue(*, place: QueuePlace, by: Member) -> None:
    """Give a place in the queue up."""
    Loom.objects.select_for_update().get(pk=place.loom_id)
    held = QueuePlace.objects.select_for_update().get(pk=place.pk)
    if held.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise StudioError("not_yours", "This is another member's place.")
    _leave_queue(held.loom, held.member)
    tell_who_waits(loom=held.loom, today=timezone.localdate())


def _leave_queue(loom: Loom, member: Member) -> None:
    QueuePlace.objects.filter(loom=loom, member=member, left_at=None).update(left_at=timezone.now())


@transaction.atomic
def keep_booking_rules(*, values: Mapping[str, Any]) -> BookingRules:
    """Keep the rules of reserving; what is reserved already stays as it is."""
    booking_rules()
    kept = BookingRules.objects.select_for_update().get()
    for name, value in values.items():
        setattr(kept, name, value)
    kept.full_clean()
    kept.save()
    return kept
