"""The looms' health: lists to look a loom over by, faults found, and work that keeps it sound."""

from __future__ import annotations

from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from studio.models.looms import Loom
from studio.models.members import Member
from studio.models.reservations import LONGEST_NOTE, LoomOccupancy, person

LONGEST_POINT = 160
LONGEST_PHOTO_NAME = 40
LONGEST_RHYTHM = 3650


def photo() -> models.CharField[Any, Any]:
    """Make a column for the name under which `studio.files.photo_storage` keeps a photo."""
    return models.CharField("photo", max_length=LONGEST_PHOTO_NAME, blank=True, editable=False)


class CheckPoint(models.Model):
    """One thing to look at when a loom is begun or given back, as the stewards wrote it."""

    class Moment(models.TextChoices):
        BEGIN = "begin", "when the work begins"
        END = "end", "when the loom is given back"

    moment = models.CharField("asked", max_length=5, choices=Moment.choices)
    text = models.CharField("what to look at", max_length=LONGEST_POINT)
    place = models.PositiveSmallIntegerField("place in the list", default=1, validators=[MaxValueValidator(999)])
    retired = models.BooleanField("no longer asked", default=False)

    class Meta:
        ordering = ("moment", "place", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("moment", "text"),
                name="check_point_once",
                violation_error_message="This point is on the list already.",
            ),
        )

    def __str__(self) -> str:
        return self.text


class LoomCheck(models.Model):
    """A list as it was filled in once, at the begin or the end of somebody's time at a loom."""

    occupancy = models.ForeignKey(LoomOccupancy, on_delete=models.CASCADE, related_name="checks")
    moment = models.CharField("filled in", max_length=5, choices=CheckPoint.Moment.choices)
    answers = models.JSONField("points looked at", default=list, editable=False)
    note = models.CharField("note", max_length=LONGEST_NOTE, blank=True)
    photo = photo()
    made_by = person("by", related_name="+", editable=False)
    made_at = models.DateTimeField("when", default=timezone.now, editable=False)

    class Meta:
        ordering = ("made_at", "pk")
        constraints = (models.UniqueConstraint(fields=("occupancy", "moment"), name="check_once_at_each_end"),)

    def __str__(self) -> str:
        return f"{self.occupancy}: inspected {self.get_moment_display()}"


class Fault(models.Model):
    """Something wrong with a loom, from the day it was noted until it is mended."""

    loom = models.ForeignKey(Loom, on_delete=models.CASCADE, related_name="faults")
    text = models.CharField("what is wrong", max_length=LONGEST_NOTE)
    photo = photo()
    found_in = models.ForeignKey(
        LoomCheck, on_delete=models.SET_NULL, null=True, blank=True, related_name="faults", editable=False
    )
    noted_by = person("noted by", related_name="+", editable=False)
    noted_at = models.DateTimeField("noted", default=timezone.now, editable=False)
    mended_by = person("mended by", null=True, blank=True, related_name="+", editable=False)
    mended_on = models.DateField("mended on", null=True, blank=True)
    mended_how = models.CharField("how it was mended", max_length=LONGEST_NOTE, blank=True)

    class Meta:
        ordering = ("-noted_at", "-pk")
        indexes = (models.Index(fields=("loom", "mended_on"), name="faults_of_loom"),)
        constraints = (
            models.CheckConstraint(
                condition=Q(mended_on__isnull=True, mended_by__isnull=True)
                | Q(mended_on__isnull=False, mended_by__isnull=False),
                name="fault_mended_by_somebody",
            ),
        )

    def __str__(self) -> str:
        return self.text

    def get_absolute_url(self) -> str:
        return f"{reverse('loom-care', args=[self.loom_id])}#fault-{self.pk}"


class UpkeepJob(models.Model):
    """Work that comes round on one loom: after each warp, or after so many days."""

    loom = models.ForeignKey(Loom, on_delete=models.CASCADE, related_name="jobs")
    text = models.CharField("what is done", max_length=LONGEST_POINT)
    every_days = models.PositiveSmallIntegerField(
        "every so many days", null=True, blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(LONGEST_RHYTHM)],
    )  # fmt: skip
    retired = models.BooleanField("no longer done", default=False)

    class Meta:
        ordering = ("loom", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("loom", "text"),
                name="upkeep_job_once_per_loom",
                violation_error_message="This loom has that job already.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.text}, loom {self.loom}"


class UpkeepDone(models.Model):
    """One entry of the log: the job, who did it, when, and what was found."""

    job = models.ForeignKey(UpkeepJob, on_delete=models.CASCADE, related_name="done")
    done_on = models.DateField("done on")
    done_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", verbose_name="done by")
    note = models.CharField("note", max_length=LONGEST_NOTE, blank=True)

    class Meta:
        verbose_name_plural = "upkeep done"
        ordering = ("-done_on", "-pk")
        indexes = (models.Index(fields=("job", "-done_on"), name="upkeep_done_of_job"),)

    def __str__(self) -> str:
        return f"{self.job} on {self.done_on:%Y-%m-%d}"
