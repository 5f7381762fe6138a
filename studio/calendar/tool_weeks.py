"""The week of boards, mills, boxes and reeds, laid out for its page: tools down the side, days across."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.urls import reverse
from django.utils import timezone

from studio.calendar.loom_weeks import DAY, FIRST_DAY, LAST_DAY, SATURDAY, WEEK, DayHead
from studio.calendar.weeks import reeds_in_use, stations_in_use, tools_between
from studio.dates import hours_words, span_words
from studio.models import Member, Reed, Station, ToolBooking
from studio.rights import Act, may

ALL_DAY = "all day"


@dataclass(frozen=True, slots=True)
class BookedHours:
    """A booking as one day shows it."""

    booking: ToolBooking
    words: str
    may_cancel: bool


@dataclass(frozen=True, slots=True)
class ToolDay:
    """What is booked of one tool on one day."""

    head: DayHead
    hours: tuple[BookedHours, ...]
    book_url: str

    @property
    def classes(self) -> str:
        """How the style sheet knows it."""
        return f"{'' if self.hours else 'is-empty '}{self.head.classes}"


@dataclass(frozen=True, slots=True)
class ToolRow:
    """One tool over the week."""

    name: str
    what: str
    days: tuple[ToolDay, ...]
    book_url: str


@dataclass(frozen=True, slots=True)
class ToolWeek:
    """The page of tools."""

    title: str
    heads: tuple[DayHead, ...]
    groups: tuple[tuple[str, tuple[ToolRow, ...]], ...]
    earlier: date | None
    later: date | None


def tool_week(asked: date, today: date, member: Member) -> ToolWeek:
    """Lay out the week a day lies in; as many questions for many tools as for few."""
    first = max(asked - asked.weekday() * DAY, FIRST_DAY)
    days = [first + at * DAY for at in range(7)]
    heads = tuple(DayHead(day, day == today, day.weekday() >= SATURDAY) for day in days)
    booked = list(tools_between(first, first + WEEK))
    stations = _rows(stations_in_use(), "station", booked, heads, today, member)
    taken = {one.reed_id for one in booked}
    reeds = _rows([reed for reed in reeds_in_use() if reed.pk in taken], "reed", booked, heads, today, member)
    earlier, later = (day if FIRST_DAY <= day <= LAST_DAY else None for day in (first - DAY, first + WEEK))
    title = f"{span_words(first, first + WEEK)}, week {first.isocalendar().week}"
    return ToolWeek(
        title, heads, (("Boards and other stations", stations), ("Reeds booked in this week", reeds)), earlier, later
    )


def tool_key(tool: Station | Reed) -> str:
    """Name a tool in an address or a form, such as station-3."""
    return f"{'station' if isinstance(tool, Station) else 'reed'}-{tool.pk}"


def tool_words(tool: Station | Reed) -> str:
    """Call a tool so that it can be chosen from a list."""
    return str(tool) if isinstance(tool, Station) else f"reed, {reed_words(tool)}"


def reed_words(reed: Reed) -> str:
    """Call a reed among reeds, with the loom it is kept with where its mark does not say it."""
    return f"{reed}, kept with loom {reed.kept_with}" if reed.kept_with and not reed.mark else str(reed)


def taken_words(tools: Mapping[str, Station | Reed], booked: Iterable[ToolBooking]) -> tuple[str, ...]:
    """Say of the tools that can go along which are taken, each with who has it first and when."""
    by_key: dict[str, list[ToolBooking]] = {}
    for one in booked:
        by_key.setdefault(_key_of(one), []).append(one)
    return tuple(f"{tool_words(tools[key])}: {_first_of(some)}" for key, some in by_key.items() if key in tools)


def _first_of(booked: Sequence[ToolBooking]) -> str:
    more = f", and {len(booked) - 1} more" if len(booked) > 1 else ""
    return f"{booked[0].member}, {_span(booked[0])}{more}"


def _key_of(one: ToolBooking) -> str:
    return f"station-{one.station_id}" if one.station_id else f"reed-{one.reed_id}"


def _span(one: ToolBooking) -> str:
    return hours_words(timezone.localtime(one.starts_at), timezone.localtime(one.ends_at))


def _rows(
    tools: Iterable[Station | Reed], kind: str, booked: Sequence[ToolBooking], heads: Sequence[DayHead], today: date,
    member: Member,
) -> tuple[ToolRow, ...]:  # fmt: skip
    by_tool: dict[int, list[ToolBooking]] = {}
    for one in booked:
        by_tool.setdefault(getattr(one, f"{kind}_id") or 0, []).append(one)
    base = reverse("tool-book") if may(member.role, Act.RESERVE_LOOM) else ""
    rows = []
    for tool in tools:
        days = (_day(tool, head, by_tool.get(tool.pk, ()), base, today, member) for head in heads)
        what = tool.get_kind_display() if isinstance(tool, Station) else ""
        rows.append(ToolRow(str(tool), what, tuple(days), f"{base}?tool={tool_key(tool)}" if base else ""))
    return tuple(rows)


def _day(
    tool: Station | Reed, head: DayHead, booked: Iterable[ToolBooking], base: str, today: date, member: Member
) -> ToolDay:
    hours = tuple(
        BookedHours(one, _on_day(one, head.day), _may_cancel(one, member)) for one in booked if _touches(one, head.day)
    )
    open_yet = head.day >= today and all(one.words != ALL_DAY for one in hours)
    url = f"{base}?tool={tool_key(tool)}&day={head.day.isoformat()}" if base and open_yet else ""
    return ToolDay(head, hours, url)


def _touches(booking: ToolBooking, day: date) -> bool:
    starts, ends = timezone.localtime(booking.starts_at), timezone.localtime(booking.ends_at)
    return starts.date() <= day and (ends.date() > day or (ends.date() == day and ends.time() > datetime.min.time()))


def _on_day(booking: ToolBooking, day: date) -> str:
    starts, ends = timezone.localtime(booking.starts_at), timezone.localtime(booking.ends_at)
    begins, stops = starts.date() == day, ends.date() == day
    whole = not begins or starts.time() == datetime.min.time()
    if whole and not stops:
        return ALL_DAY
    if begins and stops:
        return f"{starts:%H:%M} to {ends:%H:%M}"
    return f"from {starts:%H:%M}" if begins else f"until {ends:%H:%M}"


def _may_cancel(booking: ToolBooking, member: Member) -> bool:
    yours = booking.member_id == member.pk or may(member.role, Act.RESERVE_FOR_OTHERS)
    return yours and booking.occupancy_id is None and booking.ends_at > timezone.now()
