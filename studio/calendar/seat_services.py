"""Actions with hours at a warp that several people weave."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone

from studio.calendar.rules import refuse_ended
from studio.calendar.selectors import at_midnight, seat_in_the_way
from studio.calendar.services import Kind, never_twice
from studio.dates import hours_words, span_words
from studio.errors import LoomTaken, RuleSaysNo, StudioError
from studio.models import LoomOccupancy, Member, SeatTime
from studio.models.reservations import lock_occupancy
from studio.rights import Act, may
from studio.rules.selectors import booking_rules


@transaction.atomic
def book_seat(
    *, occupancy: LoomOccupancy, member: Member, starts_at: datetime, ends_at: datetime, by: Member, note: str = ""
) -> SeatTime:
    """Book hours at a class warp, one weaver at a time.

    Raises
    ------
    LoomTaken
        If somebody sits there in those hours, or the member sits elsewhere.
    RuleSaysNo
        If it is no warp for several, the hours are too many, past, or outside the warp's days.
    """
    Member.objects.select_for_update().get(pk=member.pk)
    locked = lock_occupancy(occupancy)
    refuse_ended(locked)
    _refuse_hours(locked, member, starts_at, ends_at, by)
    seat = SeatTime(occupancy=locked, member=member, starts_at=starts_at, ends_at=ends_at, made_by=by, note=note)
    seat.full_clean()
    other = seat_in_the_way(locked, member, starts_at, ends_at)
    if other is not None:
        span = hours_words(timezone.localtime(other.starts_at), timezone.localtime(other.ends_at))
        where = "there" if other.occupancy_id == locked.pk else f"at {other.occupancy}"
        raise LoomTaken("seat_taken", f"{other.member} weaves {where}, {span}.")
    with never_twice():
        seat.save()
    return seat


def _refuse_hours(occupancy: LoomOccupancy, member: Member, starts_at: datetime, ends_at: datetime, by: Member) -> None:
    if occupancy.kind != Kind.CLASS:
        raise RuleSaysNo("no_class_warp", "Hours are booked at a class warp; this loom is one weaver's.")
    if member.pk != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise RuleSaysNo("not_for_others", "You can book for yourself; a teacher or a steward does it for others.")
    if not may(by.role, Act.BOOK_SEAT):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to {Act.BOOK_SEAT}.")
    most = booking_rules().seat_hours
    if ends_at - starts_at > timedelta(hours=most):
        raise RuleSaysNo("too_long", f"A seat is booked for {most} hours at a time at most.")
    if starts_at < timezone.now() - timedelta(hours=1):
        raise RuleSaysNo("in_the_past", "That time is past.")
    if starts_at < at_midnight(occupancy.starts_on) or ends_at > at_midnight(occupancy.ends_before):
        raise RuleSaysNo(
            "outside", f"The warp is on the loom {span_words(occupancy.starts_on, occupancy.ends_before)}."
        )


@transaction.atomic
def cancel_seat(*, seat: SeatTime, by: Member) -> SeatTime:
    """Give hours up; they are free at once."""
    locked = SeatTime.objects.select_for_update().get(pk=seat.pk)
    if locked.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise StudioError("not_yours", f"{locked.member} has booked this; a teacher or a steward can cancel it.")
    if locked.stands:
        locked.cancelled_at = timezone.now()
        locked.changes += 1
        locked.save()
    return locked
