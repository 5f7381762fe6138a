"""The form that sends a file of packages in."""

from __future__ import annotations

from typing import Any

from django import forms

from inventory.files.spreadsheets import MOST_BYTES, TOO_LARGE
from studio.fields import PlainWords
from studio.units import Units, usual


class FileForm(PlainWords, forms.Form):
    """A file of packages, and what a bare weight in it means."""

    file = forms.FileField(
        label="File", help_text="CSV in UTF-8, or XLSX; at most 2 MB and 5,000 rows.",
        widget=forms.FileInput({"accept": ".csv,.xlsx,text/csv"}),
        error_messages={"required": "Choose a file.", "empty": "This file is empty.", "invalid": "Choose a file."},
    )  # fmt: skip
    mass_unit = forms.ChoiceField(
        label="A weight without its unit is in", choices=[("g", "g"), ("oz", "oz")], widget=forms.RadioSelect
    )

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial["mass_unit"] = usual("mass", units)

    def clean_file(self) -> Any:
        sent = self.cleaned_data["file"]
        if (sent.size or 0) > MOST_BYTES:
            raise forms.ValidationError(TOO_LARGE, code="too_large")
        return sent
