"""Forms of the ledger: why a move is reversed, and from which day to which a statement runs."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from inventory.models.moves import LONGEST_REASON
from studio.fields import PlainWords

FIRST_DAY, LAST_DAY = date(1970, 1, 1), date(2199, 12, 31)


class ReversalForm(PlainWords, forms.Form):
    """Why something is done, for whoever reads the ledger later."""

    said_why = forms.CharField(
        label="Why", required=False, max_length=LONGEST_REASON, help_text="Such as: typed 300 for 30."
    )


def in_our_time(day: date) -> None:
    """Refuse days that no clock of a database can hold in every time zone."""
    if not FIRST_DAY <= day <= LAST_DAY:
        raise ValidationError(f"Choose a day between {FIRST_DAY.year} and {LAST_DAY.year}.", code="out_of_time")


def _day(label: str) -> forms.DateField:
    widget = forms.DateInput({"type": "date"}, format="%Y-%m-%d")
    return forms.DateField(label=label, required=False, validators=[in_our_time], widget=widget)


class PeriodForm(PlainWords, forms.Form):
    """A time; left empty it is this year until today."""

    since = _day("From")
    until = _day("To, that day included")

    def __init__(self, asked: Any) -> None:
        today = timezone.localdate()
        self.usual = {"since": today.replace(month=1, day=1), "until": today}
        super().__init__({**{name: day.isoformat() for name, day in self.usual.items()}, **_filled(asked)})

    def clean(self) -> dict[str, Any]:
        """Put the days in order."""
        values = self.cleaned_data
        if values.get("since") and values.get("until") and values["since"] > values["until"]:
            self.add_error("until", "This day comes before the first one.")
        return values

    def period(self) -> tuple[date, date]:
        """Give the first and the last day; the usual ones while the form has mistakes."""
        values = self.cleaned_data if self.is_valid() else {}
        since, until = (values.get(name) or day for name, day in self.usual.items())
        return since, until


def _filled(asked: Any) -> dict[str, str]:
    return {name: asked[name] for name in ("since", "until") if asked.get(name)}
