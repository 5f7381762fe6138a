"""Questions asked of the calendar: which loom is free, since when it stands so, who waits for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.db.models import Q, QuerySet
from django.utils import timezone

from studio.dates import day_words, span_words
from studio.loom_states import LoomState
from studio.models import Loom, LoomOccupancy, Member, QueuePlace, Reed, SeatTime, Station, ToolBooking

AT_WORK = tuple(state for state in LoomState if state not in {LoomState.DONE, LoomState.RESERVED})
"""Named one by one, so that the index of states finds the few among many years."""
Kind = LoomOccupancy.Kind


@dataclass(frozen=True, slots=True)
class Opening:
    """When a loom is next free for so many days, and who has it until then."""

    loom: Loom
    starts_on: date
    until: date | None
    """The day on which somebody else's time begins; none where nobody has asked for it yet."""
    now: LoomOccupancy | None
    waiting: int = 0
    """How many wait for the loom."""

    @property
    def free_words(self) -> str:
        """The days that are free, such as 3 to 21 December 2026; or from 3 December 2026."""
        return span_words(self.starts_on, self.until) if self.until else f"from {day_words(self.starts_on)}"

    @property
    def over_time(self) -> bool:
        """Who has the loom should have given it back by now."""
        return self.now is not None and self.now.ends_before <= timezone.localdate()


def at_midnight(day: date) -> datetime:
    """Give the moment a day begins in the studio; what is reserved by days frees its tools then."""
    return datetime.combine(day, time.min, tzinfo=timezone.get_current_timezone())


def standing() -> QuerySet[LoomOccupancy]:
    """Give every reservation of a loom that was not cancelled, with its loom and who has it."""
    return LoomOccupancy.objects.filter(cancelled_at=None).select_related("loom", "member")


def between(starts_on: date, ends_before: date) -> QuerySet[LoomOccupancy]:
    """Give what lies in a span of days or touches it; who ends on its first day does not."""
    return standing().filter(starts_on__lt=ends_before, ends_before__gt=starts_on)


def in_the_way(loom: Loom, starts_on: date, ends_before: date, besides: int = 0) -> LoomOccupancy | None:
    """Give the first reservation of a loom that a span would meet; none where it is free."""
    return between(starts_on, ends_before).filter(loom=loom).exclude(pk=besides).order_by("starts_on").first()


def tool_in_the_way(
    tool: Station | Reed, starts_at: datetime, ends_at: datetime, besides: Iterable[int] = ()
) -> ToolBooking | None:
    """Give the first booking of a tool that a span would meet; none where it is free."""
    which = {"station": tool} if isinstance(tool, Station) else {"reed": tool}
    meets = ToolBooking.objects.filter(cancelled_at=None, starts_at__lt=ends_at, ends_at__gt=starts_at, **which)
    return meets.exclude(pk__in=list(besides)).select_related("member").order_by("starts_at").first()


def seat_in_the_way(
    occupancy: LoomOccupancy, member: Member, starts_at: datetime, ends_at: datetime
) -> SeatTime | None:
    """Give the first hours that a span would meet, at this class warp or the member's own at another; or none."""
    meets = SeatTime.objects.filter(cancelled_at=None, starts_at__lt=ends_at, ends_at__gt=starts_at)
    meets = meets.filter(Q(occupancy=occupancy) | Q(member=member))
    return meets.select_related("member", "occupancy__loom").order_by("starts_at", "pk").first()


def seats_to_come(occupancy: LoomOccupancy, now: datetime) -> QuerySet[SeatTime]:
    """Give the hours at a class warp that are not over yet, soonest first."""
    return occupancy.seats.filter(cancelled_at=None, ends_at__gt=now).select_related("member", "occupancy__loom")


def openings(looms: Iterable[Loom], days: int, starts_on: date) -> tuple[Opening, ...]:
    """Give for each loom the first day from which it is free for so many days; two questions for all."""
    asked, today = list(looms), timezone.localdate()
    late = _late(today) if starts_on <= today else Q()
    ahead = standing().filter(Q(ends_before__gt=starts_on) | late, loom__in=asked).order_by("starts_on")
    by_loom: dict[int, list[LoomOccupancy]] = {loom.pk: [] for loom in asked}
    for one in ahead:
        by_loom[one.loom_id].append(one)
    waiting = Counter(QueuePlace.objects.filter(loom__in=asked, left_at=None).values_list("loom", flat=True))
    return tuple(_opening(loom, by_loom[loom.pk], days, starts_on, waiting[loom.pk]) for loom in asked)


def _opening(loom: Loom, taken: list[LoomOccupancy], days: int, starts_on: date, waiting: int) -> Opening:
    now = next((one for one in taken if one.starts_on <= starts_on), None)
    first = starts_on
    for one in taken:
        if (one.starts_on - first).days >= days:
            return Opening(loom, first, one.starts_on, now, waiting)
        first = max(first, _free_again(one))
    return Opening(loom, first, None, now, waiting)


def _free_again(one: LoomOccupancy) -> date:
    """Give the day from which a loom is free; what stands over its time keeps it today."""
    today = timezone.localdate()
    over_time = one.ends_before <= today and one.kind != Kind.OUT and one.state in AT_WORK
    return today + timedelta(days=1) if over_time else one.ends_before


def days_in_state(occupancy: LoomOccupancy, today: date) -> int:
    """Count the days since the last step."""
    return (today - timezone.localdate(occupancy.state_since)).days


def who_waits(loom: Loom, besides: Member | None = None) -> QuerySet[QueuePlace]:
    """Give the queue for a loom, first come first."""
    waiting = QueuePlace.objects.filter(loom=loom, left_at=None).select_related("member")
    return waiting if besides is None else waiting.exclude(member=besides)


def looms_at_once(member: Member, starts_on: date, ends_before: date, besides: int = 0) -> int:
    """Count the most looms a member has at once on any of some days, and with them each that stands over its time.

    Classes and looms out of order are nobody's own.
    """
    mine = standing().filter(member=member, kind=Kind.WARP).exclude(state=LoomState.DONE).exclude(pk=besides)
    spans = mine.filter(starts_on__lt=ends_before, ends_before__gt=starts_on).values_list("starts_on", "ends_before")
    late = overdue(timezone.localdate()).filter(member=member, kind=Kind.WARP).exclude(pk=besides)
    lasting = [*spans, *((starts_on, ends_before) for _ in late.values("pk"))]
    begins = {max(first, starts_on) for first, _ in lasting}
    return max((sum(first <= day < free for first, free in lasting) for day in begins), default=0)


def reservations_of(member: Member, today: date) -> QuerySet[LoomOccupancy]:
    """Give what a member has or will have, and what is overdue, soonest first."""
    mine = standing().filter(member=member).exclude(state=LoomState.DONE)
    return mine.filter(Q(ends_before__gt=today) | ~Q(state=LoomState.RESERVED)).prefetch_related("tools__reed")


def overdue(today: date) -> QuerySet[LoomOccupancy]:
    """Give the looms that were to be free and are not given back; a reservation nobody took up just lapses."""
    return standing().filter(_late(today))


def late_on(loom: Loom, today: date, besides: int = 0) -> LoomOccupancy | None:
    """Give the warp that stands on a loom over its time; none where there is none."""
    return overdue(today).filter(loom=loom).exclude(pk=besides).first()


def _late(today: date) -> Q:
    return Q(ends_before__lte=today, state__in=AT_WORK) & ~Q(kind=Kind.OUT)


def to_look_at(today: date) -> QuerySet[LoomOccupancy]:
    """Give the holds whose review date has come."""
    return standing().filter(state=LoomState.HOLD, review_on__lte=today)


def tools_along(occupancy: LoomOccupancy) -> QuerySet[ToolBooking]:
    """Give the reeds and stations that go along with a loom."""
    return occupancy.tools.filter(cancelled_at=None).select_related("station", "reed", "member")


def last_allowed(starts_on: date, longest_days: int) -> date:
    """Give the day before which the longest reservation ends."""
    return starts_on + timedelta(days=longest_days)
