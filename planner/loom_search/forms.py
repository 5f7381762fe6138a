"""When a loom is wanted for a warp, and what is reserved with it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from django import forms
from django.utils import timezone

from planner.calc.winding.loom_time import HOURS_A_WEEK
from planner.loom_search.services import LoomRequest
from studio.fields import DATE, Grouped, NumberField, PlainWords
from studio.models import Reed, Station
from studio.models.reservations import LONGEST_NOTE

MOST_DAYS = 366
FURTHEST = timedelta(days=3660)
"""Ten years: nobody asks for more, and the calendar of a computer ends somewhere."""


class WhenForm(PlainWords, forms.Form):
    """From which day, and for how long: by the hours a week, or by days of one's own."""

    starting = forms.DateField(label="From", widget=DATE, required=False)
    hours = NumberField(label="Hours at the loom in a week", required=False)
    days = forms.IntegerField(label="Or days, as you know them", required=False, min_value=1, max_value=MOST_DAYS)

    def __init__(self, data: Any = None, **options: Any) -> None:
        asked = any(data.get(name) for name in ("starting", "hours", "days")) if data else False
        super().__init__(data if asked else None, **options)
        self.initial = {"starting": timezone.localdate(), "hours": HOURS_A_WEEK}

    def clean_starting(self) -> date:
        """Refuse a day before today, or beyond any calendar."""
        day: date = self.cleaned_data["starting"] or timezone.localdate()
        if day < timezone.localdate():
            raise forms.ValidationError("That day is past. Give today or a later one.", code="past")
        if day > timezone.localdate() + FURTHEST:
            raise forms.ValidationError("That is too far ahead to plan.", code="far")
        return day

    def clean_hours(self) -> Any:
        """Refuse more hours than a week has."""
        hours = self.cleaned_data["hours"]
        if hours is not None and not 0 < hours <= 24 * 7:
            raise forms.ValidationError("A week has 168 hours.", code="hours")
        return hours

    def asked(self) -> tuple[date, Fraction, int | None]:
        """Give the day, the hours a week, and days where they were typed; what is wrong counts as not said."""
        values = self.cleaned_data if self.is_bound and (self.is_valid() or self.cleaned_data) else {}
        hours = values.get("hours") or HOURS_A_WEEK
        return values.get("starting") or timezone.localdate(), Fraction(hours), values.get("days")


class ReserveForm(Grouped, forms.Form):
    """First and last day, and the reed and equipment reserved with it."""

    starts_on = forms.DateField(label="First day", widget=DATE)
    last_day = forms.DateField(label="Last day", widget=DATE, help_text="Available again the next day.")
    reed = forms.ModelChoiceField(Reed.objects.none(), label="Reed", required=False, empty_label="none")
    stations = forms.ModelMultipleChoiceField(
        Station.objects.none(), label="Equipment", required=False, widget=forms.CheckboxSelectMultiple,
        help_text="Reserved for all these days. A board for an afternoon is better booked by itself.",
    )  # fmt: skip
    note = forms.CharField(label="Note", required=False, max_length=LONGEST_NOTE)
    groups = (
        ("The days", ("starts_on", "last_day")),
        ("Also reserved, all or nothing", ("reed", "stations")),
        ("", ("note",)),
    )

    def __init__(self, *args: Any, reeds: Sequence[Reed], **options: Any) -> None:
        super().__init__(*args, **options)
        reed: Any = self.fields["reed"]
        stations: Any = self.fields["stations"]
        reed.queryset = Reed.objects.filter(pk__in=[one.pk for one in reeds])
        stations.queryset = Station.objects.filter(retired=False).order_by("kind", "name")

    def clean(self) -> dict[str, Any]:
        """Refuse a last day before the first, beside its field."""
        values = super().clean() or {}
        first, last = values.get("starts_on"), values.get("last_day")
        if first and last and last < first:
            self.add_error("last_day", "The last day comes before the first.")
        if last and last > timezone.localdate() + FURTHEST:
            self.add_error("last_day", "That is too far ahead to plan.")
        return values

    def loom_request(self) -> LoomRequest:
        """Give what is wanted, days half-open."""
        values = self.cleaned_data
        tools = [*([values["reed"]] if values["reed"] else []), *values["stations"]]
        after = values["last_day"] + timedelta(days=1)
        return LoomRequest(starts_on=values["starts_on"], ends_before=after, tools=tools, note=values["note"])
