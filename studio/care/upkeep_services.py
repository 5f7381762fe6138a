"""Actions of upkeep: set a loom's rhythm, and log what was done."""

from __future__ import annotations

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from studio.care.words import USUAL_JOBS
from studio.errors import RuleSaysNo
from studio.models import Loom, Member, UpkeepDone, UpkeepJob
from studio.records import Values, change
from studio.rights import Act, may


@transaction.atomic
def keep_job(*, job: UpkeepJob | None, loom: Loom, values: Values, by: Member) -> UpkeepJob:
    """Put a job on a loom, or change it."""
    _refuse(by, Act.SET_UPKEEP)
    return change(job or UpkeepJob(loom=loom), values)


@transaction.atomic
def set_usual_rhythm(*, loom: Loom, by: Member) -> int:
    """Put the usual jobs on a loom that has them not; give how many are new."""
    _refuse(by, Act.SET_UPKEEP)
    locked = Loom.objects.select_for_update().get(pk=loom.pk)
    before = set(locked.jobs.values_list("text", flat=True))
    fresh = [(text, every_days) for text, every_days in USUAL_JOBS if text not in before]
    for text, every_days in fresh:
        keep_job(job=None, loom=locked, values={"text": text, "every_days": every_days}, by=by)
    return len(fresh)


@transaction.atomic
def log_upkeep(*, job: UpkeepJob, done_on: date, by: Member, note: str = "") -> UpkeepDone:
    """Write down that a job was done."""
    _refuse(by, Act.LOG_UPKEEP)
    if done_on > timezone.localdate():
        raise ValidationError({"done_on": "That day is still to come. Give the day it was done."})
    done = UpkeepDone(job=job, done_on=done_on, done_by=by, note=note)
    done.full_clean()
    done.save()
    return done


def _refuse(by: Member, act: Act) -> None:
    if not may(by.role, act):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to {act}.")
