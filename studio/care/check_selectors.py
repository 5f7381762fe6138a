"""Questions asked of check lists and faults."""

from __future__ import annotations

from datetime import date

from django.db.models import F, QuerySet

from studio.care.words import BEGIN_POINTS, END_POINTS
from studio.loom_states import DRESSING, LoomState
from studio.models import CheckPoint, Fault, Loom, LoomCheck, LoomOccupancy, Member
from studio.rights import Act, may

Moment = CheckPoint.Moment
BEGINNING = frozenset({LoomState.ASSIGNED, *DRESSING})
"""A loom dressed from front to back is threaded before it is beamed, so the list waits until weaving begins."""
ENDING = frozenset({LoomState.CHECKING})


def check_points() -> QuerySet[CheckPoint]:
    """Give every point of both lists; the first question writes the usual ones."""
    if not CheckPoint.objects.exists():
        usual = ((Moment.BEGIN, BEGIN_POINTS), (Moment.END, END_POINTS))
        points = [
            CheckPoint(moment=moment, text=text, place=place)
            for moment, texts in usual
            for place, text in enumerate(texts, start=1)
        ]
        CheckPoint.objects.bulk_create(points, ignore_conflicts=True)
    return CheckPoint.objects.order_by("moment", "retired", "place", "pk")


def points_asked(moment: str) -> list[CheckPoint]:
    """Give the points asked at the begin or at the end."""
    return list(check_points().filter(moment=moment, retired=False))


def checks_of(occupancy: LoomOccupancy) -> QuerySet[LoomCheck]:
    """Give the lists that were filled in for a time at a loom, with the faults found."""
    return occupancy.checks.select_related("made_by").prefetch_related("faults")


def may_be_checked(occupancy: LoomOccupancy, moment: str, today: date) -> bool:
    """Say whether a list can be filled in now: by the state of a warp, and of a class while its days run."""
    if not occupancy.stands or occupancy.kind == LoomOccupancy.Kind.OUT:
        return False
    if occupancy.kind == LoomOccupancy.Kind.CLASS:
        return occupancy.starts_on <= today and occupancy.state != LoomState.DONE
    states = BEGINNING if moment == Moment.BEGIN else ENDING
    return LoomState(occupancy.held_from or occupancy.state) in states


def lists_to_fill(occupancy: LoomOccupancy, today: date) -> list[tuple[str, str]]:
    """Give the lists that wait to be filled in: their names and how people call them."""
    filled = set(occupancy.checks.values_list("moment", flat=True))
    moments = [moment for moment in Moment if moment not in filled and may_be_checked(occupancy, moment, today)]
    return [(moment.value, moment.label) for moment in moments]


def faults_of(loom: Loom) -> QuerySet[Fault]:
    """Give what is and was wrong with a loom: open faults first, then the latest mended."""
    faults = loom.faults.select_related("noted_by", "mended_by", "found_in")
    return faults.order_by(F("mended_on").desc(nulls_first=True), "-noted_at", "-pk")


def faults_met(occupancy: LoomOccupancy) -> QuerySet[Fault]:
    """Give what is wrong with a loom for who has it; what her own lists found stands with the lists."""
    if not occupancy.stands or occupancy.state == LoomState.DONE:
        return Fault.objects.none()
    return open_faults(occupancy.loom).exclude(found_in__occupancy=occupancy)


def open_faults(loom: Loom | None = None) -> QuerySet[Fault]:
    """Give what is wrong now, with one loom or with any in use, latest first."""
    of = {"loom__retired": False} if loom is None else {"loom": loom}
    return Fault.objects.filter(mended_on=None, **of).select_related("loom", "noted_by", "found_in")


def may_fill(member: Member, occupancy: LoomOccupancy) -> bool:
    """Say whether a member may fill in the lists of somebody's time at a loom."""
    return occupancy.member_id == member.pk or may(member.role, Act.RESERVE_FOR_OTHERS)
