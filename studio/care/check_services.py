"""Actions with check lists and faults."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from studio.access import refuse_not_yours
from studio.care.check_selectors import may_be_checked
from studio.errors import RuleSaysNo, StudioError
from studio.files import photo_storage as photos
from studio.models import CheckPoint, Fault, Loom, LoomCheck, LoomOccupancy, Member
from studio.models.reservations import lock_occupancy
from studio.records import Values, change
from studio.rights import Act, may


@dataclass(frozen=True, slots=True)
class PointAnswer:
    """What somebody says to one point: it is as it should be, or what is wrong."""

    point: str
    fault: str = ""


@transaction.atomic
def fill_check(
    *,
    occupancy: LoomOccupancy,
    moment: str,
    answers: Sequence[PointAnswer],
    by: Member,
    note: str = "",
    photo: bytes | None = None,
) -> LoomCheck:
    """Keep a list as it was filled in; each point where something is wrong becomes a fault of the loom.

    Raises
    ------
    StudioError
        If the work is not so far, the list was filled in before, or the loom is another's.
    """
    locked = lock_occupancy(occupancy)
    refuse_not_yours(locked, by)
    if locked.checks.filter(moment=moment).exists():
        raise StudioError("checked_before", "This list was filled in already. A fault found later is noted by itself.")
    if not may_be_checked(locked, moment, timezone.localdate()):
        when = CheckPoint.Moment(moment).label
        raise RuleSaysNo("not_now", f"This list is for {when}; the work is “{locked.get_state_display()}”.")
    kept_answers = [{"point": one.point, "fault": one.fault} for one in answers]
    with photos.kept(photo) as name:
        check = LoomCheck(occupancy=locked, moment=moment, answers=kept_answers, note=note, photo=name, made_by=by)
        check.full_clean()
        check.save()
        for one in answers:
            if one.fault:
                _note(locked.loom, f"{one.point}: {one.fault}", by, found_in=check)
    return check


@transaction.atomic
def note_fault(*, loom: Loom, text: str, by: Member, photo: bytes | None = None) -> Fault:
    """Note something that is wrong with a loom; anybody may, and should."""
    with photos.kept(photo) as name:
        return _note(loom, text, by, photo=name)


def _note(loom: Loom, text: str, by: Member, *, photo: str = "", found_in: LoomCheck | None = None) -> Fault:
    longest = Fault._meta.get_field("text").max_length
    fault = Fault(loom=loom, text=text[:longest], photo=photo, noted_by=by, found_in=found_in)
    fault.full_clean()
    fault.save()
    return fault


@transaction.atomic
def mend_fault(*, fault: Fault, mended_on: date, by: Member, how: str = "") -> Fault:
    """Write down that a fault is mended, when and how."""
    if not may(by.role, Act.LOG_UPKEEP):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to {Act.LOG_UPKEEP}.")
    locked = Fault.objects.select_for_update().get(pk=fault.pk)
    if locked.mended_on is not None:
        raise StudioError("mended_before", f"{locked.mended_by} mended this already.")
    if mended_on > timezone.localdate():
        raise ValidationError({"mended_on": "That day is still to come. Give the day it was mended."})
    if mended_on < timezone.localdate(locked.noted_at):
        raise ValidationError({"mended_on": "That is before the fault was noted."})
    locked.mended_on, locked.mended_by, locked.mended_how = mended_on, by, how
    locked.full_clean()
    locked.save()
    return locked


@transaction.atomic
def keep_point(*, point: CheckPoint | None, values: Values) -> CheckPoint:
    """Put a point on a list, or change it; lists that were filled in keep the words they had."""
    return change(point or CheckPoint(), values)
