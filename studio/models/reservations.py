"""Who has which loom, seat or tool, and when. Three kinds that are never mixed: days, hours, and what goes along."""

from __future__ import annotations

import uuid
from datetime import date, timedelta
from typing import Any

from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from studio.dates import span_words
from studio.loom_states import DRESSED, LoomState
from studio.models.looms import Loom, Reed, Station
from studio.models.members import Member

LONGEST_TITLE = 120
LONGEST_NOTE = 400


def person(name: str, **options: Any) -> models.ForeignKey[Any, Any]:
    """Make a column for a member whom a reservation names; such a member is shut out, not removed."""
    return models.ForeignKey(Member, on_delete=models.PROTECT, verbose_name=name, **options)


class Booking(models.Model):
    """What every reservation carries: who wrote it, whether it still stands, and its name in a calendar."""

    note = models.CharField("note", max_length=LONGEST_NOTE, blank=True)
    made_by = person("made by", related_name="+", editable=False)
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)
    cancelled_at = models.DateTimeField("cancelled", null=True, blank=True, editable=False)
    uid = models.UUIDField("name in calendars", default=uuid.uuid4, unique=True, editable=False)
    changes = models.PositiveIntegerField("times changed", default=0, editable=False)
    changed_at = models.DateTimeField("last changed", auto_now=True, editable=False)

    class Meta:
        abstract = True

    @property
    def stands(self) -> bool:
        """It was not cancelled."""
        return self.cancelled_at is None


class LoomOccupancy(Booking):
    """A loom that somebody has, from one day up to another that is free again.

    From planning until the loom is swept: days to months, and one at a time. A class block and a loom out of order
    stand in the same table, so that nothing can lie across them.
    """

    class Kind(models.TextChoices):
        WARP = "warp", "a warp"
        CLASS = "class", "a class or workshop"
        OUT = "out", "out of order"

    loom = models.ForeignKey(Loom, on_delete=models.PROTECT, related_name="occupancies")
    kind = models.CharField("for", max_length=5, choices=Kind.choices, default=Kind.WARP)
    member = person("who has it", related_name="occupancies")
    title = models.CharField("work", max_length=LONGEST_TITLE)
    starts_on = models.DateField("first day")
    ends_before = models.DateField("free again on")
    state = models.CharField(
        "state", max_length=8, choices=[(one.value, one.label) for one in LoomState], default=LoomState.RESERVED.value
    )
    state_since = models.DateTimeField("in this state since", default=timezone.now, editable=False)
    held_from = models.CharField("state before the hold", max_length=8, blank=True, editable=False)
    review_on = models.DateField("look at it again on", null=True, blank=True)
    open_to_take_over = models.BooleanField("open to take over", default=False)
    called_back_by = person("called back by", null=True, blank=True, related_name="+", editable=False)
    taken_over_from = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="handed_to", editable=False
    )

    class Meta:
        verbose_name_plural = "loom occupancies"
        ordering = ("starts_on", "loom", "pk")
        indexes = (
            models.Index(fields=("loom", "ends_before", "starts_on"), name="occupancy_of_loom"),
            models.Index(fields=("member", "ends_before"), name="occupancy_of_member"),
            models.Index(fields=("ends_before", "starts_on"), name="occupancy_by_day"),
            models.Index(fields=("state", "ends_before"), name="occupancy_by_state"),
        )
        constraints = (
            models.CheckConstraint(
                condition=Q(ends_before__gt=F("starts_on")),
                name="occupancy_ends_after_it_starts",
                violation_error_message="The last day comes before the first.",
            ),
            models.CheckConstraint(
                condition=Q(state="hold", review_on__isnull=False) & ~Q(held_from="")
                | ~Q(state="hold") & Q(held_from=""),
                name="occupancy_on_hold_has_a_review_date",
            ),
        )

    def __str__(self) -> str:
        return f"“{self.title}” on loom {self.loom}"

    def get_absolute_url(self) -> str:
        return reverse("occupancy", args=[self.pk])

    @property
    def last_day(self) -> date:
        """The last day that belongs to it."""
        return self.ends_before - timedelta(days=1)

    @property
    def span(self) -> str:
        """Its days, such as 3 to 21 December 2026."""
        return span_words(self.starts_on, self.ends_before)

    @property
    def days(self) -> int:
        """How many days it holds the loom."""
        return (self.ends_before - self.starts_on).days

    @property
    def is_dressed(self) -> bool:
        """A warp is on the loom, on hold or not."""
        return LoomState(self.held_from or self.state) in DRESSED


class LoomStep(models.Model):
    """One change of state, with who and when; it is never changed."""

    occupancy = models.ForeignKey(LoomOccupancy, on_delete=models.CASCADE, related_name="steps")
    state = models.CharField("state", max_length=8, choices=[(one.value, one.label) for one in LoomState])
    made_by = person("by", related_name="+")
    made_at = models.DateTimeField("when", default=timezone.now, editable=False)
    note = models.CharField("note", max_length=LONGEST_NOTE, blank=True)

    class Meta:
        ordering = ("made_at", "pk")

    def __str__(self) -> str:
        return f"{self.occupancy}: {self.get_state_display()}"


class SeatTime(Booking):
    """Hours of one weaver at a warp that several weave."""

    occupancy = models.ForeignKey(LoomOccupancy, on_delete=models.PROTECT, related_name="seats")
    member = person("who weaves", related_name="seat_times")
    starts_at = models.DateTimeField("from")
    ends_at = models.DateTimeField("until")

    class Meta:
        ordering = ("starts_at", "pk")
        indexes = (models.Index(fields=("occupancy", "starts_at"), name="seat_of_warp"),)
        constraints = (
            models.CheckConstraint(
                condition=Q(ends_at__gt=F("starts_at")),
                name="seat_ends_after_it_starts",
                violation_error_message="It ends before it begins.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.member} at {self.occupancy}"


class ToolBooking(Booking):
    """A station or a reed that somebody has for a while, by itself or along with a loom."""

    station = models.ForeignKey(Station, on_delete=models.PROTECT, null=True, blank=True, related_name="bookings")
    reed = models.ForeignKey(Reed, on_delete=models.PROTECT, null=True, blank=True, related_name="bookings")
    member = person("who has it", related_name="tool_bookings")
    occupancy = models.ForeignKey(
        LoomOccupancy,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="tools",
        verbose_name="reserved with",
    )
    starts_at = models.DateTimeField("from")
    ends_at = models.DateTimeField("until")

    class Meta:
        ordering = ("starts_at", "pk")
        indexes = (
            models.Index(fields=("station", "starts_at"), name="booking_of_station"),
            models.Index(fields=("reed", "starts_at"), name="booking_of_reed"),
        )
        constraints = (
            models.CheckConstraint(
                condition=Q(ends_at__gt=F("starts_at")),
                name="booking_ends_after_it_starts",
                violation_error_message="It ends before it begins.",
            ),
            models.CheckConstraint(
                condition=Q(station__isnull=True, reed__isnull=False) | Q(station__isnull=False, reed__isnull=True),
                name="booking_is_of_one_tool",
            ),
        )

    def __str__(self) -> str:
        return f"{self.tool} for {self.member}"

    @property
    def tool(self) -> Station | Reed | None:
        """What is booked."""
        return self.station or self.reed


class QueuePlace(models.Model):
    """Somebody who waits for a loom; the first who asked is the first who is told."""

    loom = models.ForeignKey(Loom, on_delete=models.CASCADE, related_name="queue")
    member = person("who waits", related_name="queue_places")
    days = models.PositiveSmallIntegerField("days wanted")
    note = models.CharField("note", max_length=LONGEST_NOTE, blank=True)
    asked_at = models.DateTimeField("asked", default=timezone.now, editable=False)
    told_at = models.DateTimeField("told that it is free", null=True, blank=True, editable=False)
    left_at = models.DateTimeField("left the waiting list", null=True, blank=True, editable=False)

    class Meta:
        ordering = ("asked_at", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(days__gt=0), name="queue_wants_some_days"),
            models.UniqueConstraint(
                fields=("loom", "member"), condition=Q(left_at__isnull=True), name="queue_once_per_loom",
                violation_error_message="You wait for this loom already.",
            ),
        )  # fmt: skip

    def __str__(self) -> str:
        return f"{self.member} waits for {self.loom}"


def lock_occupancy(occupancy: LoomOccupancy) -> LoomOccupancy:
    """Lock the loom of a reservation, then read the reservation as it is now; within a transaction."""
    Loom.objects.select_for_update().get(pk=occupancy.loom_id)
    people = ("loom", "member", "called_back_by")
    return LoomOccupancy.objects.select_related(*people).get(pk=occupancy.pk)
