"""Files of packages that were sent in and wait for a yes; what was kept of them is remembered, the file is not."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.models.arrivals import LONGEST_STAMP
from studio.models import Member


class FileSent(models.Model):
    """A file between its preview and the yes: for its member alone, under a random name, for an hour."""

    class Kind(models.TextChoices):
        CSV = "csv", "CSV"
        XLSX = "xlsx", "XLSX"

    key = models.CharField("random name", max_length=LONGEST_STAMP, unique=True)
    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="+")
    name = models.CharField("name of the file", max_length=120)
    kind = models.CharField("kind of file", max_length=4, choices=Kind.choices)
    mass_unit = models.CharField("unit of a bare weight", max_length=2)
    digest = models.CharField("hash of the file", max_length=64)
    content = models.BinaryField("the file", null=True)
    sent_at = models.DateTimeField("sent", default=timezone.now, editable=False)
    kept_at = models.DateTimeField("kept", null=True, blank=True, editable=False)
    said = models.TextField("what was kept of it", blank=True)

    class Meta:
        verbose_name = "file sent in"
        verbose_name_plural = "files sent in"
        ordering = ("-pk",)
        indexes = (models.Index(fields=("digest",), condition=Q(kept_at__isnull=False), name="file_kept_before"),)
        constraints = (
            models.CheckConstraint(
                condition=Q(kept_at=None, content__isnull=False) | Q(kept_at__isnull=False, content=None),
                name="file_is_there_until_it_is_kept",
            ),
        )

    def __str__(self) -> str:
        return self.name
