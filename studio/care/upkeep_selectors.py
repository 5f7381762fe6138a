"""What is to be done on which loom, and when: worked out from the log and from the warps cut off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Max, QuerySet
from django.utils import timezone

from studio.care.words import rhythm_words
from studio.loom_states import LoomState
from studio.models import Loom, LoomStep, UpkeepDone, UpkeepJob


@dataclass(frozen=True, slots=True)
class UpkeepDue:
    """One job with the day it was last done and the day it is due, where that can be known."""

    job: UpkeepJob
    last: date | None
    due_on: date | None
    is_due: bool

    @property
    def rhythm(self) -> str:
        """How often it comes round, in words."""
        return rhythm_words(self.job.every_days)


def upkeep_of(loom: Loom, today: date) -> list[UpkeepDue]:
    """Give a loom's jobs, those due first."""
    return _in_order(_dues(_jobs().filter(loom=loom), today))


def upkeep_due(today: date) -> list[UpkeepDue]:
    """Give what is due on any loom in use, longest due first; two questions however many looms there are."""
    return [due for due in _in_order(_dues(_jobs().filter(loom__retired=False), today)) if due.is_due]


def upkeep_log(loom: Loom) -> QuerySet[UpkeepDone]:
    """Give what was done on a loom, latest first."""
    return UpkeepDone.objects.filter(job__loom=loom).select_related("job", "done_by")


def _jobs() -> QuerySet[UpkeepJob]:
    jobs = UpkeepJob.objects.filter(retired=False).select_related("loom")
    return jobs.annotate(last=Max("done__done_on")).order_by("loom__number", "pk")


def _in_order(dues: Iterable[UpkeepDue]) -> list[UpkeepDue]:
    return sorted(dues, key=lambda due: (not due.is_due, due.due_on or date.max, due.job.loom.number, due.job.pk))


def _dues(jobs: Iterable[UpkeepJob], today: date) -> list[UpkeepDue]:
    listed = list(jobs)
    after_warp = {job.loom_id for job in listed if job.every_days is None}
    cut_off = _last_cut_off(after_warp) if after_warp else {}
    return [_due(job, cut_off.get(job.loom_id), today) for job in listed]


def _last_cut_off(looms: Iterable[int]) -> dict[int, date]:
    steps = LoomStep.objects.filter(state=LoomState.CUT_OFF, occupancy__loom__in=looms, occupancy__cancelled_at=None)
    latest = steps.order_by().values_list("occupancy__loom").annotate(latest=Max("made_at"))
    return {loom: timezone.localdate(moment) for loom, moment in latest}


def _due(job: UpkeepJob, cut_off: date | None, today: date) -> UpkeepDue:
    """Say when a job is due. What was never logged is due now: nobody knows how long it is ago."""
    last: date | None = job.last  # type: ignore[attr-defined]
    if job.every_days is not None:
        due_on = last and last + timedelta(days=job.every_days)
        return UpkeepDue(job, last, due_on, due_on is None or due_on <= today)
    waits = cut_off is not None and (last is None or cut_off > last)
    return UpkeepDue(job, last, cut_off if waits else None, waits)
