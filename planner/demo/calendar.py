"""Who has which loom in the invented studio, around today: dressed, on hold, a class, out of order, and who waits.

The deeds know no yesterday, so what has begun is reserved from today, and then its days and steps are set back.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from studio.calendar.dressing import change_loom_state, offer_loom, put_on_hold
from studio.calendar.seat_services import book_seat
from studio.calendar.selectors import at_midnight
from studio.calendar.services import ReservationRequest, book_tool, reserve_loom, wait_for_loom
from studio.loom_states import LoomState as S
from studio.models import Loom, LoomOccupancy, LoomStep, Member, Reed, Station, ToolBooking

Kind = LoomOccupancy.Kind
Members = Mapping[str, Member]
DAY = timedelta(days=1)
DRESSED = (S.ASSIGNED, S.BEAMING, S.BEAMED, S.THREADED, S.SLEYED, S.WEAVING)
"""The steps of a warp that went on from the back, one after another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoSpan:
    """One reservation: days from today, half-open, and how far the work has got."""

    loom: int
    who: str
    title: str
    start: int
    end: int
    steps: Sequence[S] = ()
    kind: str = Kind.WARP
    reed: tuple[int, int] | None = None
    """Dents of a reed to the inch that goes along, and the loom it is kept with."""
    note: str = ""


SPANS = (
    DemoSpan(loom=1, who="member", title="Runner for the long table", start=-9, end=12, steps=DRESSED[:4]),
    DemoSpan(loom=1, who="member-b", title="First scarf", start=14, end=35),
    DemoSpan(loom=2, who="trained", title="Eight towels", start=-16, end=5, steps=DRESSED, reed=(15, 2)),
    DemoSpan(loom=3, who="trained-b", title="Wool throws", start=-20, end=22, steps=DRESSED[:3]),
    DemoSpan(loom=4, who="trained-c", title="Five rugs", start=-30, end=20, steps=DRESSED),
    DemoSpan(loom=5, who="steward", title="Brake cord is worn", start=-3, end=8, kind=Kind.OUT,
             note="A new cord is ordered. Do not wind on it."),
    DemoSpan(loom=6, who="trained-d", title="Blanket in double cloth", start=3, end=45, reed=(12, 6)),
    DemoSpan(loom=7, who="trained-c", title="Linen curtains", start=10, end=52),
    DemoSpan(loom=8, who="evening", title="Evening class, plain weave", start=-5, end=23, steps=DRESSED,
             kind=Kind.CLASS, reed=(8, 8)),
)  # fmt: skip


def keep_calendar(members: Members) -> None:
    """Let the looms be as they are found on an ordinary day."""
    made = {span.title: _span(span, members) for span in SPANS}
    throws, rugs = made["Wool throws"], made["Five rugs"]
    put_on_hold(
        occupancy=throws, review_on=timezone.localdate() + 9 * DAY, by=throws.member, note="Waits for grey yarn."
    )
    offer_loom(occupancy=rugs, by=rugs.member)
    looms = {loom.number: loom for loom in Loom.objects.all()}
    for number, who, days in ((2, "trained-d", 28), (2, "member", 21), (4, "trained", 14)):
        wait_for_loom(loom=looms[number], member=members[who], days=days)
    _hours(made["Evening class, plain weave"], members)


def _span(span: DemoSpan, members: Members) -> LoomOccupancy:
    today, member = timezone.localdate(), members[span.who]
    wish = ReservationRequest(
        member=member,
        title=span.title,
        starts_on=today + max(span.start, 0) * DAY,
        ends_before=today + span.end * DAY,
        kind=span.kind,
        tools=_reeds(span),
        note=span.note,
    )
    occupancy = reserve_loom(loom=Loom.objects.get(number=span.loom), request=wish, by=member)
    for step in span.steps:
        occupancy = change_loom_state(occupancy=occupancy, to=step, by=member)
    if span.start < 0:
        _set_back(occupancy, today + span.start * DAY)
    occupancy.refresh_from_db()
    return occupancy


def _reeds(span: DemoSpan) -> list[Reed]:
    if span.reed is None:
        return []
    dents, loom = span.reed
    return [Reed.objects.get(dents=dents, per=Reed.Per.INCH, kept_with__number=loom)]


def _set_back(occupancy: LoomOccupancy, first: date) -> None:
    """Let it have begun on an earlier day, with its steps spread over the days since."""
    steps = list(occupancy.steps.all())
    apart = (timezone.localdate() - first) / len(steps)
    for at, step in enumerate(steps):
        LoomStep.objects.filter(pk=step.pk).update(made_at=_noon(first + at * apart))
    since = _noon(first + (len(steps) - 1) * apart)
    LoomOccupancy.objects.filter(pk=occupancy.pk).update(starts_on=first, state_since=since, made_at=_noon(first))
    ToolBooking.objects.filter(occupancy=occupancy).update(starts_at=at_midnight(first))


def _hours(lessons: LoomOccupancy, members: Members) -> None:
    """Book the next days' hours at the class warp, and the board before it."""
    tomorrow = timezone.localdate() + DAY
    for who, hour in (("student", 10), ("guest", 13), ("newmember", 18)):
        someone, starts = members[who], _at(tomorrow, hour)
        book_seat(occupancy=lessons, member=someone, starts_at=starts, ends_at=starts + timedelta(hours=2), by=someone)
    board = Station.objects.filter(kind=Station.Kind.BOARD).order_by("pk")[0]
    for who, days, hour in (("member-b", 1, 9), ("trained-d", 1, 14), ("newmember", 2, 9), ("trained-d", 3, 9)):
        someone, starts = members[who], _at(timezone.localdate() + days * DAY, hour)
        book_tool(tool=board, member=someone, starts_at=starts, ends_at=starts + timedelta(hours=3), by=someone)


def _noon(day: date) -> datetime:
    return _at(day, 12)


def _at(day: date, hour: int) -> datetime:
    return datetime.combine(day, time(hour), tzinfo=timezone.get_current_timezone())
