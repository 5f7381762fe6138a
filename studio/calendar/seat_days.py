"""A day at a class warp, hour by hour, for its page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.utils import timezone

from studio.models import SeatTime

OPENS, CLOSES = 8, 22
"""Hours always shown (common practice, no source); earlier and later ones where somebody weaves then."""


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour of the day, who weaves in it, and where it is booked while it is free."""

    begins: str
    seats: tuple[SeatTime, ...]
    book_url: str


def hours_of_day(seats: Sequence[SeatTime], day: date, page: str) -> tuple[Hour, ...]:
    """Lay out a day by its hours; one that is past is not offered."""
    shown = set(range(OPENS, CLOSES)) | {hour for hour in range(24) if _in(seats, day, hour)}
    return tuple(_hour(seats, day, hour, page) for hour in sorted(shown))


def _hour(seats: Sequence[SeatTime], day: date, hour: int, page: str) -> Hour:
    begins = f"{hour:02}:00"
    free = page and _moment(day, hour) > timezone.now()
    url = f"{page}?day={day.isoformat()}&at={begins}#book-hours" if free else ""
    return Hour(begins, _in(seats, day, hour), url)


def _in(seats: Sequence[SeatTime], day: date, hour: int) -> tuple[SeatTime, ...]:
    starts = _moment(day, hour)
    ends = starts + timedelta(hours=1)
    return tuple(seat for seat in seats if seat.starts_at < ends and seat.ends_at > starts)


def _moment(day: date, hour: int) -> datetime:
    return datetime(day.year, day.month, day.day, hour, tzinfo=timezone.get_current_timezone())
