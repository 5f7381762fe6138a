"""The rules of reserving: one row, edited by stewards. The defaults are figures of published studio policies."""

from __future__ import annotations

from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q


def number(
    verbose_name: str, default: int, *, least: int = 0, most: int = 1000
) -> models.PositiveSmallIntegerField[Any, Any]:
    """Make a column for a whole number of days, weeks or looms."""
    return models.PositiveSmallIntegerField(
        verbose_name, default=default, validators=[MinValueValidator(least), MaxValueValidator(most)]
    )


class BookingRules(models.Model):
    """How long, how far ahead, how many at once, who first. Published policies differ; none is universal."""

    longest_days = number("longest reservation, days", 90, least=1)
    ahead_days = number("how far ahead a reservation may begin, days", 180)
    extension_days = number("longest extension at a time, days", 31, least=1)
    extension_only_if_nobody_waits = models.BooleanField("extended only while nobody waits", default=True)
    looms_guest = number("looms at once, guest or student", 0, most=99)
    looms_member = number("looms at once, member", 1, most=99)
    looms_trained = number("looms at once, trained member", 2, most=99)
    looms_teacher = number("looms at once, teacher", 6, most=99)
    looms_steward = number("looms at once, steward", 6, most=99)
    briefing_for_sectional = models.BooleanField("a sectional beam needs its safety briefing", default=True)
    briefing_for_stations = models.BooleanField("stations marked so need their safety briefing", default=True)
    remind_days = number("reminder before the end, days", 7)
    overdue_days = number("overdue after the end until it may be cut off, days", 30)
    hold_days = number("longest hold before it is looked at again, days", 28, least=1)
    queue_days = number("days a free loom waits for who was told, before the next is told", 3, least=1, most=99)
    seat_hours = number("longest time at a class warp, hours", 4, least=1, most=24)
    tool_hours = number("longest time at a board or other station, hours", 12, least=1, most=240)

    class Meta:
        verbose_name_plural = "booking rules"
        constraints = (models.CheckConstraint(condition=Q(pk=1), name="booking_rules_one_row"),)

    def __str__(self) -> str:
        return "Rules of reserving"
