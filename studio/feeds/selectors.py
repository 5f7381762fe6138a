"""What stands in a calendar that another program reads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Prefetch, Q, QuerySet

from studio.calendar.selectors import at_midnight
from studio.models import Feed, LoomOccupancy, Member, SeatTime, ToolBooking

DAYS_BACK = 180
"""What ended longer ago falls out of the calendar."""
DAYS_CANCELLED = 42
"""So long a cancelled time is still told as cancelled, so that a program that reads seldom hears of it."""


@dataclass(frozen=True, slots=True)
class FeedContents:
    """What one address shows: the days of looms, hours at class warps, tools booked by themselves."""

    feed: Feed
    occupancies: list[LoomOccupancy]
    seats: list[SeatTime]
    tools: list[ToolBooking]


def feeds_of(member: Member) -> QuerySet[Feed]:
    """Give a member's calendar addresses: her own times, then loom by loom."""
    return member.feeds.select_related("loom")


def calendar_of(feed: Feed, today: date) -> FeedContents:
    """Read what an address shows; a fixed number of questions.

    Reeds and stations that go along with a loom are told in the loom's own entry.
    """
    told = _still_told(today)
    days = told & Q(ends_before__gt=today - timedelta(days=DAYS_BACK))
    hours = told & Q(ends_at__gt=at_midnight(today - timedelta(days=DAYS_BACK)))
    looms = LoomOccupancy.objects.filter(days).select_related("loom", "member").prefetch_related(_tools())
    seats = SeatTime.objects.filter(hours).select_related("member", "occupancy__loom")
    if feed.loom_id:
        mine, sits = looms.filter(loom=feed.loom_id), seats.filter(occupancy__loom=feed.loom_id)
        return FeedContents(feed, list(mine), list(sits), [])
    mine, sits = looms.filter(member=feed.member_id), seats.filter(member=feed.member_id)
    tools = ToolBooking.objects.filter(hours, member=feed.member_id, occupancy=None)
    return FeedContents(feed, list(mine), list(sits), list(tools.select_related("station", "reed")))


def _still_told(today: date) -> Q:
    return Q(cancelled_at=None) | Q(cancelled_at__gt=at_midnight(today - timedelta(days=DAYS_CANCELLED)))


def _tools() -> Prefetch[str]:
    along = ToolBooking.objects.filter(cancelled_at=None).select_related("station", "reed")
    return Prefetch("tools", queryset=along)
