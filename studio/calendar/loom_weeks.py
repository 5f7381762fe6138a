"""The calendar of the looms, laid out for its page: looms down the side, days across, each span over its days.

A span is a cell over several columns, since spans of one loom never overlap. For a phone the same row is told in words.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from django.urls import reverse

from studio.calendar.weeks import overdue_by_loom, spans_between
from studio.dates import span_words
from studio.loom_states import LoomState
from studio.models import Loom, LoomOccupancy, Member

FIRST_DAY = date(2000, 1, 1)
LAST_DAY = date(2199, 12, 31)
"""The calendar goes no further: beyond it a typed year is a slip."""
WEEK = timedelta(days=7)
DAY = timedelta(days=1)
SATURDAY = 5
Kind = LoomOccupancy.Kind

LOOKS: Mapping[str, str] = {
    "free": "free",
    "reserved": "reserved",
    "dressed": "dressed",
    "hold": "on hold",
    "class": "class",
    "out": "out of order",
    "done": "given back",
}
"""The kinds of span, each with its word; the style sheet has a pattern of its own for each."""


@dataclass(frozen=True, slots=True)
class DayHead:
    """A column of the calendar."""

    day: date
    is_today: bool
    is_weekend: bool

    @property
    def classes(self) -> str:
        """How the style sheet knows it."""
        return "is-today" if self.is_today else "is-weekend" if self.is_weekend else ""


@dataclass(frozen=True, slots=True)
class Cell:
    """One free day, or what is shown of a span."""

    days: int
    look: str
    day: DayHead
    occupancy: LoomOccupancy | None = None
    state: str = ""
    span: str = ""
    from_before: bool = False
    goes_on: bool = False
    reserve_url: str = ""

    @property
    def classes(self) -> str:
        """How the style sheet knows it."""
        return f"look-{self.look}{' from-before' if self.from_before else ''}{' goes-on' if self.goes_on else ''}"


@dataclass(frozen=True, slots=True)
class Stretch:
    """A span of one loom in words, or a time in which it is free."""

    words: str
    look: str
    occupancy: LoomOccupancy | None
    state: str
    reserve_url: str


@dataclass(frozen=True, slots=True)
class LoomRow:
    """One loom over the days shown."""

    loom: Loom
    cells: tuple[Cell, ...]
    overdue: LoomOccupancy | None


@dataclass(frozen=True, slots=True)
class OneLoom:
    """One loom at a time, for a narrow screen, with its neighbours."""

    row: LoomRow
    stretches: tuple[Stretch, ...]
    place: int
    before: Loom | None
    after: Loom | None


@dataclass(frozen=True, slots=True)
class LoomCalendar:
    """A page of the calendar."""

    title: str
    days: tuple[DayHead, ...]
    rows: tuple[LoomRow, ...]
    one: OneLoom | None
    first: date
    earlier: date | None
    later: date | None


def look_of(occupancy: LoomOccupancy) -> str:
    """Name the kind of a span, as the style sheet knows it."""
    if occupancy.kind == Kind.OUT:
        return "out"
    if occupancy.state == LoomState.DONE:
        return "done"
    if occupancy.state == LoomState.HOLD:
        return "hold"
    if occupancy.kind == Kind.CLASS:
        return "class"
    early = occupancy.state in {LoomState.RESERVED, LoomState.ASSIGNED}
    return "reserved" if early else "dressed"


def state_words(occupancy: LoomOccupancy) -> str:
    """Say how a span stands, in a word or two."""
    if occupancy.kind == Kind.OUT:
        return LOOKS["out"]
    if occupancy.kind == Kind.CLASS:
        return f"class, {occupancy.get_state_display()}"
    return str(occupancy.get_state_display())


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarRequest:
    """What somebody wants to see of the calendar."""

    day: date
    today: date
    loom_number: int | None
    """The loom that a narrow screen shows; where there is no such loom the member's own, or the first."""
    may_reserve: bool
    member: Member


def week_of(asked: CalendarRequest) -> LoomCalendar:
    """Lay out the week a day lies in, from Monday on."""
    first = max(asked.day - asked.day.weekday() * DAY, FIRST_DAY)
    title = f"{span_words(first, first + WEEK)}, week {first.isocalendar().week}"
    return _calendar(title, first, 7, asked)


def month_of(asked: CalendarRequest) -> LoomCalendar:
    """Lay out the month a day lies in."""
    first = asked.day.replace(day=1)
    return _calendar(f"{first:%B %Y}", first, monthrange(first.year, first.month)[1], asked)


def _calendar(title: str, first: date, many: int, asked: CalendarRequest) -> LoomCalendar:
    days = tuple(_head(first + at * DAY, asked.today) for at in range(many))
    spans, late = spans_between(first, first + many * DAY), overdue_by_loom(asked.today)
    rows = tuple(
        LoomRow(loom, _cells(loom, spans.get(loom.pk, ()), days, asked), late.get(loom.pk))
        for loom in Loom.objects.in_use().prefetch_related(None)
    )
    around = (first - DAY, first + many * DAY)
    earlier, later = (day if FIRST_DAY <= day <= LAST_DAY else None for day in around)
    return LoomCalendar(title, days, rows, _one_of(rows, asked), first, earlier, later)


def _head(day: date, today: date) -> DayHead:
    return DayHead(day, day == today, day.weekday() >= SATURDAY)


def _cells(
    loom: Loom, spans: Sequence[LoomOccupancy], days: Sequence[DayHead], asked: CalendarRequest
) -> tuple[Cell, ...]:
    base = reverse("reserve", args=[loom.pk]) if asked.may_reserve else ""
    cells: list[Cell] = []
    at, end = 0, len(days)
    for occupancy in spans:
        start = max((occupancy.starts_on - days[0].day).days, 0)
        cells += [_free(day, base, asked.today) for day in days[at:start]]
        at = min((occupancy.ends_before - days[0].day).days, end)
        cells.append(_taken(occupancy, days[start], at - start, days))
    return (*cells, *(_free(day, base, asked.today) for day in days[at:]))


def _free(day: DayHead, base: str, today: date) -> Cell:
    url = f"{base}?from={day.day.isoformat()}" if base and day.day >= today else ""
    return Cell(1, "free", day, reserve_url=url)


def _taken(occupancy: LoomOccupancy, day: DayHead, many: int, days: Sequence[DayHead]) -> Cell:
    return Cell(
        days=many,
        look=look_of(occupancy),
        day=day,
        occupancy=occupancy,
        state=state_words(occupancy),
        span=span_words(occupancy.starts_on, occupancy.ends_before),
        from_before=occupancy.starts_on < days[0].day,
        goes_on=occupancy.last_day > days[-1].day,
    )


def _one_of(rows: Sequence[LoomRow], asked: CalendarRequest) -> OneLoom | None:
    if not rows:
        return None
    own = next((at for at, row in enumerate(rows) if _is_own(row, asked.member)), 0)
    at = next((at for at, row in enumerate(rows) if row.loom.number == asked.loom_number), own)
    before = rows[at - 1].loom if at else None
    after = rows[at + 1].loom if at + 1 < len(rows) else None
    return OneLoom(rows[at], _stretches(rows[at].cells), at + 1, before, after)


def _is_own(row: LoomRow, member: Member) -> bool:
    """Say whether a member has a loom in the days shown, or is over time with it; who closes a loom has it not."""
    occupancies = [row.overdue, *(cell.occupancy for cell in row.cells)]
    return any(one is not None and one.member_id == member.pk and one.kind != Kind.OUT for one in occupancies)


def _stretches(cells: Sequence[Cell]) -> tuple[Stretch, ...]:
    """Tell a row in words; free days that follow each other become one stretch, past ones apart from those to come."""
    told = []
    for occupancy, group in groupby(cells, key=lambda cell: cell.occupancy or bool(cell.reserve_url)):
        some = list(group)
        first = some[0]
        if isinstance(occupancy, LoomOccupancy):
            told.append(Stretch(first.span, first.look, occupancy, first.state, ""))
            continue
        words = span_words(first.day.day, some[-1].day.day + DAY)
        told.append(Stretch(words, "free", None, "free", first.reserve_url))
    return tuple(told)


def ahead_in_words(spans: Iterable[LoomOccupancy]) -> tuple[Stretch, ...]:
    """Tell what lies ahead on one loom, for its own page."""
    return tuple(
        Stretch(span_words(one.starts_on, one.ends_before), look_of(one), one, state_words(one), "") for one in spans
    )
