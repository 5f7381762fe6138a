"""Actions of the calendar: reserve a loom with what goes along, move its days, give it back, wait for it.

Each locks the member, then the loom, then the tools by their keys, so that nobody waits in a ring; then it looks, and
writes all or nothing. What the database refuses by itself comes out as the same sentence.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

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
from studio.calendar.selectors import at_midnight, seats_to_come, standing, tools_along
from studio.dates import day_words
from studio.errors import LoomTaken, RuleSaysNo, StudioError
from studio.loom_states import LoomState, may_give_back
from studio.models import (
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
from studio.models.reservations import lock_occupancy
from studio.rights import Act, may
from studio.rules.selectors import booking_rules

Kind = LoomOccupancy.Kind
Tool = Station | Reed


@dataclass(frozen=True, slots=True, kw_only=True)
class ReservationRequest:
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
        message = str(refused)
        if TAKEN in message or any(name in message for name in GUARDS.postgres):
            raise LoomTaken("loom_taken", "Somebody was quicker: it is taken at that time. Look again.") from refused
        raise


@transaction.atomic
def reserve_loom(*, loom: Loom, request: ReservationRequest, by: Member) -> LoomOccupancy:
    """Reserve a loom for some days, with the reeds and stations that go along.

    Raises
    ------
    LoomTaken
        If somebody has the loom or one of the tools at that time; nothing is then kept.
    RuleSaysNo, NotTrained
        If a rule of the studio stands against it; the message says what would be allowed.
    """
    member = Member.objects.select_for_update().get(pk=request.member.pk)
    locked = Loom.objects.select_for_update().get(pk=loom.pk)
    rules, today = booking_rules(), timezone.localdate()
    refuse_who_may_not(request.kind, member, by)
    refuse_by_rules(rules, locked, member, request.kind, request.starts_on, request.ends_before, today)
    occupancy = LoomOccupancy(
        loom=locked,
        kind=request.kind,
        member=member,
        title=request.title,
        starts_on=request.starts_on,
        ends_before=request.ends_before,
        note=request.note,
        made_by=by,
    )
    occupancy.full_clean()
    refuse_taken(locked, request.starts_on, request.ends_before)
    if request.kind != Kind.OUT:
        refuse_still_dressed(locked, request.starts_on, request.ends_before, today)
    with never_twice():
        occupancy.save()
    LoomStep.objects.create(occupancy=occupancy, state=occupancy.state, made_by=by)
    for tool in _in_order(request.tools):
        _take_along(occupancy, tool, by)
    _leave_queue(locked, member)
    return occupancy


def _in_order(tools: Sequence[Tool]) -> list[Tool]:
    return sorted(tools, key=lambda tool: (isinstance(tool, Station), tool.pk))


def _take_along(occupancy: LoomOccupancy, tool: Tool, by: Member) -> ToolBooking:
    span = at_midnight(occupancy.starts_on), at_midnight(occupancy.ends_before)
    return _book(tool, occupancy.member, *span, by=by, occupancy=occupancy)


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
    locked = type(tool).objects.select_for_update().get(pk=tool.pk)
    if locked.retired:
        raise RuleSaysNo("tool_retired", f"{tool_name(locked)} is no longer in use.")
    if isinstance(locked, Station):
        refuse_untrained_at(booking_rules(), locked, member)
    refuse_tool_taken(locked, starts_at, ends_at)
    which = {"station": locked} if isinstance(locked, Station) else {"reed": locked}
    booking = ToolBooking(
        member=member, starts_at=starts_at, ends_at=ends_at, made_by=by, occupancy=occupancy, note=note, **which
    )
    booking.full_clean()
    with never_twice():
        booking.save()
    return booking


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
    locked = ToolBooking.objects.select_for_update().get(pk=booking.pk)
    if locked.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise StudioError("not_yours", f"{locked.member} has booked this; a teacher or a steward can cancel it.")
    if locked.stands:
        locked.cancelled_at = timezone.now()
        locked.changes += 1
        locked.save()
    return locked


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
    locked, today = lock_occupancy(occupancy), timezone.localdate()
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    _refuse_to_move(locked, starts_on, ends_before, today)
    refuse_extension(booking_rules(), locked, ends_before, by)
    if locked.kind == Kind.WARP and (starts_on < locked.starts_on or ends_before > locked.ends_before):
        refuse_too_many(booking_rules(), member, starts_on, ends_before, besides=locked.pk)
    refuse_taken(locked.loom, starts_on, ends_before, besides=locked.pk)
    if starts_on != locked.starts_on and locked.kind != Kind.OUT:
        refuse_still_dressed(locked.loom, starts_on, ends_before, today, besides=locked.pk)
    locked.starts_on, locked.ends_before = starts_on, ends_before
    review_within(locked)
    _write(locked)
    _move_tools(locked)
    inside = {"starts_at__gte": at_midnight(starts_on), "ends_at__lte": at_midnight(ends_before)}
    _cancel_seats(seats_to_come(locked, timezone.now()).exclude(**inside), by)
    return locked


def _refuse_to_move(occupancy: LoomOccupancy, starts_on: date, ends_before: date, today: date) -> None:
    if starts_on != occupancy.starts_on:
        if occupancy.state != LoomState.RESERVED or occupancy.starts_on < today:
            raise RuleSaysNo("begun", "The work has begun: its first day stays. The last day can be moved.")
        if starts_on < today:
            raise RuleSaysNo("in_the_past", f"The first day can be today, {day_words(today)}, or later.")
    if ends_before < occupancy.ends_before and ends_before < today:
        raise RuleSaysNo("in_the_past", "The last day is past. Give the loom back instead.")


def review_within(occupancy: LoomOccupancy) -> None:
    """Let a hold be looked at again by the last day at the latest, when its time gets shorter."""
    if occupancy.review_on is not None:
        occupancy.review_on = min(occupancy.review_on, occupancy.last_day)


def _write(occupancy: LoomOccupancy) -> None:
    occupancy.changes += 1
    occupancy.full_clean()
    with never_twice():
        occupancy.save()


def _move_tools(occupancy: LoomOccupancy) -> None:
    """Let the tools follow the loom's days; one that somebody else has by then stops it all."""
    span = at_midnight(occupancy.starts_on), at_midnight(occupancy.ends_before)
    for booking in sorted(tools_along(occupancy), key=lambda one: (one.station_id or 0, one.reed_id or 0)):
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
    locked = lock_occupancy(occupancy)
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    if locked.state != LoomState.RESERVED:
        raise RuleSaysNo("begun", "The work has begun. Cut the warp off and give the loom back instead.")
    locked.cancelled_at = timezone.now()
    _write(locked)
    LoomStep.objects.create(occupancy=locked, state=locked.state, made_by=by, made_at=locked.cancelled_at)
    _free_tools(locked)
    _cancel_seats(seats_to_come(locked, timezone.now()), by)
    take_offer_back(occupancy=locked)
    tell_who_waits(loom=locked.loom, today=timezone.localdate())
    return locked


@transaction.atomic
def give_back(*, occupancy: LoomOccupancy, by: Member, note: str = "") -> LoomOccupancy:
    """Give the loom back, early or late: free from today, and so is what went along."""
    locked, today = lock_occupancy(occupancy), timezone.localdate()
    refuse_ended(locked)
    refuse_not_yours(locked, by)
    if locked.kind == Kind.WARP and not may_give_back(locked.state):
        raise RuleSaysNo("still_dressed", "A warp is on the loom. Cut it off, inspect the loom, and then give it back.")
    if locked.starts_on > today:
        raise RuleSaysNo("not_begun", f"It begins on {day_words(locked.starts_on)}. Cancel it instead.")
    locked.ends_before = min(locked.ends_before, max(today, locked.starts_on + timedelta(days=1)))
    set_state(locked, LoomState.DONE, by, note)
    _move_tools(locked)
    _cancel_seats(seats_to_come(locked, timezone.now()), by)
    take_offer_back(occupancy=locked)
    tell_who_waits(loom=locked.loom, today=today)
    return locked


def set_state(occupancy: LoomOccupancy, state: LoomState, by: Member, note: str = "") -> None:
    """Write a state with its step: who, when and why. The loom must be locked."""
    occupancy.state, occupancy.state_since = state.value, timezone.now()
    if state is not LoomState.HOLD:
        occupancy.held_from, occupancy.review_on = "", None
    _write(occupancy)
    LoomStep.objects.create(occupancy=occupancy, state=occupancy.state, made_by=by, note=note)


def _cancel_seats(seats: Iterable[SeatTime], by: Member) -> None:
    """Cancel hours whose warp is gone by then, and tell whose they were."""
    for seat in seats:
        seat.cancelled_at = timezone.now()
        seat.changes += 1
        seat.save()
        tell_hours_lost(seat=seat, by=by)


def _free_tools(occupancy: LoomOccupancy) -> None:
    for booking in tools_along(occupancy):
        booking.cancelled_at = timezone.now()
        booking.changes += 1
        booking.save()


@transaction.atomic
def wait_for_loom(*, loom: Loom, member: Member, days: int, note: str = "") -> QueuePlace:
    """Take a place in the queue for a loom."""
    locked = Loom.objects.select_for_update().get(pk=loom.pk)
    if not may(member.role, Act.RESERVE_LOOM):
        raise RuleSaysNo("not_your_role", f"The role of {member} does not allow to {Act.RESERVE_LOOM}.")
    place = QueuePlace(loom=locked, member=member, days=days, note=note)
    place.full_clean()
    place.save()
    for offered in standing().filter(loom=locked, open_to_take_over=True).exclude(state=LoomState.DONE):
        tell_offered(occupancy=offered)
    return place


@transaction.atomic
def leave_queue(*, place: QueuePlace, by: Member) -> None:
    """Give a place in the queue up."""
    Loom.objects.select_for_update().get(pk=place.loom_id)
    locked = QueuePlace.objects.select_for_update().get(pk=place.pk)
    if locked.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise StudioError("not_yours", "This is another member's place.")
    _leave_queue(locked.loom, locked.member)
    tell_who_waits(loom=locked.loom, today=timezone.localdate())


def _leave_queue(loom: Loom, member: Member) -> None:
    QueuePlace.objects.filter(loom=loom, member=member, left_at=None).update(left_at=timezone.now())
