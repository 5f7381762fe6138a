"""Questions of the calendar's pages: what lies in some days, who has a loom now and next, what is mine."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from operator import attrgetter

from django.db.models import Count, F, IntegerField, OuterRef, Q, QuerySet, Subquery, Window
from django.db.models.functions import Coalesce, Lag
from django.utils import timezone

from studio.calendar.selectors import at_midnight, between, overdue, reservations_of, standing
from studio.models import Loom, LoomOccupancy, LoomStep, Member, QueuePlace, Reed, SeatTime, Station, ToolBooking
from studio.rules.selectors import booking_rules

MOST_HOURS = 12
"""Hours told on a member's own page."""
Spans = Mapping[int, list[LoomOccupancy]]
"""By the key of a loom, what lies on it in order."""


@dataclass(frozen=True, slots=True)
class NowAndNext:
    """A loom on the register, who has it today and who comes after."""

    loom: Loom
    now: LoomOccupancy | None
    then: LoomOccupancy | None
    overdue: LoomOccupancy | None

    @property
    def free_until(self) -> date | None:
        """The last free day before the next comes; none where nobody does."""
        return self.then.starts_on - timedelta(days=1) if self.then else None


@dataclass(frozen=True, slots=True)
class MyReservation:
    """One of a member's own reservations, and how its time stands today."""

    occupancy: LoomOccupancy
    begun: bool
    days_left: int
    """Today is one of them; nought or less once the time is over."""
    days_in_state: int
    ends_soon: bool
    overdue: bool
    to_look_at: bool


def by_loom(spans: Iterable[LoomOccupancy]) -> Spans:
    """Sort spans by the loom they lie on."""
    sorted_out: dict[int, list[LoomOccupancy]] = {}
    for one in spans:
        sorted_out.setdefault(one.loom_id, []).append(one)
    return sorted_out


def spans_between(starts_on: date, ends_before: date) -> Spans:
    """Give for every loom what lies in some days, in order; one question for all looms."""
    return by_loom(between(starts_on, ends_before).order_by("starts_on"))


def overdue_by_loom(today: date) -> Mapping[int, LoomOccupancy]:
    """Give the looms that were to be free and still are not given back."""
    return {one.loom_id: one for one in overdue(today)}


def now_and_next(looms: QuerySet[Loom], today: date) -> list[NowAndNext]:
    """Say of each loom who has it and who comes next; as many questions for many looms as for few.

    Spans of one loom never overlap, so those that end later also begin later, and the index of the loom finds two.
    """
    ahead = standing().filter(loom=OuterRef("pk"), ends_before__gt=today).order_by("ends_before").values("pk")
    rows = list(looms.annotate(first=Subquery(ahead[:1]), second=Subquery(ahead[1:2])))
    keys = {key for row in rows for key in (row.first, row.second) if key}
    occupancies = standing().in_bulk(keys)
    late = overdue_by_loom(today)
    return [_now_and_next(row, occupancies.get(row.first), occupancies.get(row.second), late, today) for row in rows]


def _now_and_next(
    loom: Loom,
    first: LoomOccupancy | None,
    second: LoomOccupancy | None,
    late: Mapping[int, LoomOccupancy],
    today: date,
) -> NowAndNext:
    begun = first is not None and first.starts_on <= today
    now, then = (first, second) if begun else (None, first)
    return NowAndNext(loom, now, then, late.get(loom.pk))


def ahead_of(loom: Loom, today: date) -> QuerySet[LoomOccupancy]:
    """Give what lies on a loom today and later, in order."""
    return standing().filter(loom=loom, ends_before__gt=today).order_by("starts_on")


def queue_places_of(member: Member) -> QuerySet[QueuePlace]:
    """Give the places a member has in queues, each with how many stand there up to and with it as `place`."""
    before = Q(asked_at__lt=OuterRef("asked_at")) | Q(asked_at=OuterRef("asked_at"), pk__lte=OuterRef("pk"))
    waiting = QueuePlace.objects.filter(before, loom=OuterRef("loom"), left_at=None).order_by()
    counted = waiting.values("loom").annotate(many=Count("pk")).values("many")
    mine = QueuePlace.objects.filter(member=member, left_at=None).select_related("loom")
    return mine.annotate(place=Coalesce(Subquery(counted, output_field=IntegerField()), 1))


def my_reservations(member: Member, today: date) -> list[MyReservation]:
    """Give a member's own reservations, soonest first, each with how its time stands."""
    remind = booking_rules().remind_days
    own = reservations_of(member, today).exclude(kind=LoomOccupancy.Kind.OUT).prefetch_related(None)
    return [_mine(occupancy, today, remind) for occupancy in own]


def _mine(occupancy: LoomOccupancy, today: date, remind_days: int) -> MyReservation:
    left = (occupancy.ends_before - today).days
    begun = occupancy.starts_on <= today
    return MyReservation(
        occupancy=occupancy,
        begun=begun,
        days_left=left,
        days_in_state=(today - timezone.localdate(occupancy.state_since)).days,
        ends_soon=begun and 0 < left <= remind_days,
        overdue=left <= 0,
        to_look_at=occupancy.review_on is not None and occupancy.review_on <= today,
    )


def tools_between(starts_on: date, ends_before: date) -> QuerySet[ToolBooking]:
    """Give every booking of a tool that touches some days, in order."""
    span = {"starts_at__lt": at_midnight(ends_before), "ends_at__gt": at_midnight(starts_on)}
    booked = ToolBooking.objects.filter(cancelled_at=None, **span)
    return booked.select_related("member", "occupancy__loom").order_by("starts_at", "pk")


@dataclass(frozen=True, slots=True)
class MyHours:
    """Hours a member has booked, at a class warp or of a tool."""

    what: str
    starts_at: datetime
    ends_at: datetime
    occupancy: LoomOccupancy | None


def hours_of(member: Member, now: datetime) -> list[MyHours]:
    """Give the hours a member has booked, soonest first; what goes along with a loom is told with the loom."""
    ahead = {"member": member, "cancelled_at": None, "ends_at__gt": now}
    seats = SeatTime.objects.filter(**ahead).select_related("occupancy__loom")[:MOST_HOURS]
    tools = ToolBooking.objects.filter(occupancy=None, **ahead).select_related("station", "reed")[:MOST_HOURS]
    at_looms = [MyHours(str(one.occupancy), one.starts_at, one.ends_at, one.occupancy) for one in seats]
    of_tools = [MyHours(str(one.tool), one.starts_at, one.ends_at, None) for one in tools]
    return sorted(at_looms + of_tools, key=attrgetter("starts_at"))[:MOST_HOURS]


def seats_on(occupancy: LoomOccupancy, day: date, next_day: date) -> QuerySet[SeatTime]:
    """Give who weaves at a class warp on one day, in order."""
    booked = occupancy.seats.filter(cancelled_at=None)
    return booked.filter(starts_at__lt=at_midnight(next_day), ends_at__gt=at_midnight(day)).select_related("member")


def stations_in_use() -> QuerySet[Station]:
    """Give the stations that can be booked, boards first: they are short before a class."""
    boards_first = Q(kind=Station.Kind.BOARD)
    return Station.objects.filter(retired=False).annotate(is_board=boards_first).order_by("-is_board", "kind", "name")


def reeds_in_use() -> QuerySet[Reed]:
    """Give the reeds that can be booked, with the loom each is kept with."""
    return Reed.objects.filter(retired=False).select_related("kept_with").order_by("per", "dents", "pk")


def may_be_reserved_for() -> QuerySet[Member]:
    """Give the members for whom somebody can reserve: those who may sign in."""
    return Member.objects.filter(user__is_active=True).order_by(F("name"), "pk")


def steps_of(occupancy: LoomOccupancy) -> QuerySet[LoomStep]:
    """Give the history of the work on a loom, latest first, each step with the state `before` it.

    Where that is the same, no work was done: its note says what happened, such as a loom called back.
    """
    before = Window(Lag("state"), order_by=(F("made_at").asc(), F("pk").asc()))
    return occupancy.steps.select_related("made_by").annotate(before=before).order_by("-made_at", "-pk")
