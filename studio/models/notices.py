"""Private calendar addresses, and what members are told: each notice once."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from studio.models.looms import Loom
from studio.models.members import Member
from studio.models.reservations import LoomOccupancy


class Feed(models.Model):
    """A private address at which a calendar program reads a member's own times, or those of one loom.

    Only a hash of its secret is kept, so nobody can read the address here. It is shown once, and made anew at will.
    """

    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="feeds")
    loom = models.ForeignKey(Loom, on_delete=models.CASCADE, null=True, blank=True, related_name="feeds")
    digest = models.CharField("hash of the address", max_length=64, unique=True)
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)
    used_on = models.DateField("last read on", null=True, blank=True)

    class Meta:
        verbose_name = "calendar address"
        verbose_name_plural = "calendar addresses"
        ordering = ("loom__number", "pk")
        constraints = (
            models.UniqueConstraint(fields=("member",), condition=Q(loom__isnull=True), name="feed_of_own_times_once"),
            models.UniqueConstraint(
                fields=("member", "loom"), condition=Q(loom__isnull=False), name="feed_of_loom_once"
            ),
        )

    def __str__(self) -> str:
        return f"Loom {self.loom}" if self.loom else "My own times"


class Notice(models.Model):
    """Something a member is told once: on Today, in the list of notices, and by mail if she wants it."""

    class Kind(models.TextChoices):
        ENDING = "ending", "a time is about to end"
        OVERDUE = "overdue", "a loom is overdue"
        FREE = "free", "a loom I wait for is free"
        CALLED = "called", "a loom is called back"
        REVIEW = "review", "work on hold is to be looked at"
        OFFERED = "offered", "a loom I wait for is open to take over"
        TAKEN = "taken", "somebody took over my loom"
        BROKEN = "broken", "a loom of mine is out of order"
        HOURS = "hours", "my hours at a class warp are cancelled"

    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="notices")
    kind = models.CharField("kind", max_length=8, choices=Kind.choices)
    loom = models.ForeignKey(Loom, on_delete=models.CASCADE, related_name="notices")
    occupancy = models.ForeignKey(
        LoomOccupancy, on_delete=models.SET_NULL, null=True, blank=True, related_name="notices"
    )
    key = models.CharField("what makes it one", max_length=120, unique=True)
    text = models.CharField("text", max_length=1000)
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)
    mailed_at = models.DateTimeField("sent by mail", null=True, blank=True, editable=False)
    read_at = models.DateTimeField("seen", null=True, blank=True, editable=False)

    class Meta:
        ordering = ("-made_at", "-pk")
        indexes = (models.Index(fields=("member", "read_at", "-made_at"), name="notices_of_member"),)

    def __str__(self) -> str:
        return self.text

    def get_absolute_url(self) -> str:
        about = self.occupancy
        return reverse("loom", args=[self.loom_id]) if about is None else about.get_absolute_url()


ALWAYS_BY_MAIL = frozenset({Notice.Kind.OVERDUE, Notice.Kind.CALLED})
"""Rules of the house, which nobody can turn off."""
