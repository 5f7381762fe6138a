"""Questions asked of notices: what a member has not seen, who is to be told, what is to be mailed."""

from __future__ import annotations

from datetime import date, timedelta

from django.db.models import Max, Q, QuerySet
from django.utils import timezone

from studio.calendar.selectors import openings, overdue, standing, who_waits
from studio.loom_states import LoomState
from studio.models import BookingRules, Loom, LoomOccupancy, Member, QueuePlace
from studio.rights import Role


def ending(today: date, rules: BookingRules) -> QuerySet[LoomOccupancy]:
    """Give the times that run now and are about to end."""
    near = standing().filter(starts_on__lte=today, ends_before__gt=today)
    near = near.filter(ends_before__lte=today + timedelta(days=rules.remind_days))
    return near.exclude(state=LoomState.DONE).exclude(kind=LoomOccupancy.Kind.OUT)


def stewards() -> list[Member]:
    """Give the stewards who may sign in."""
    return list(Member.objects.filter(role=Role.STEWARD, user__is_active=True))


def looms_waited_for() -> QuerySet[Loom]:
    """Give the looms in use for which somebody waits."""
    return Loom.objects.filter(retired=False, queue__left_at=None, queue__isnull=False).distinct()


def free_since(loom: Loom, today: date) -> date | None:
    """Give the day from which nobody has a loom; none while somebody has it, or a warp stands on it over time."""
    mine = standing().filter(loom=loom)
    if mine.filter(starts_on__lte=today, ends_before__gt=today).exists() or overdue(today).filter(loom=loom).exists():
        return None
    last: date | None = mine.filter(ends_before__lte=today).aggregate(last=Max("ends_before"))["last"]
    return last or date.min


def next_to_tell(loom: Loom, today: date, rules: BookingRules) -> QueuePlace | None:
    """Give who in the queue is told next that a loom is free: one at a time, first come first.

    Who wants more days than there are is passed over; who was told keeps some days for a choice.
    """
    since = free_since(loom, today)
    if loom.retired or since is None:
        return None
    queue = list(who_waits(loom))
    told = [timezone.localdate(place.told_at) for place in queue if place.told_at is not None]
    if any(day >= since and day + timedelta(days=rules.queue_days) > today for day in told):
        return None
    fresh = (place for place in queue if place.told_at is None or timezone.localdate(place.told_at) < since)
    return next((place for place in fresh if _opens(loom, place.days, today)), None)


def _opens(loom: Loom, days: int, today: date) -> bool:
    (opening,) = openings([loom], days, today)
    return opening.starts_on == today


def waiting_besides(occupancy: LoomOccupancy) -> QuerySet[QueuePlace]:
    """Give who waits for a loom, without who has it."""
    return who_waits(occupancy.loom).filter(~Q(member=occupancy.member_id))
