"""Which labels, on which sheet. A mistake is said beside its box, and what was typed stays in it."""

from __future__ import annotations

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from inventory.labels.selectors import MOST_LABELS, LabelQuery
from inventory.labels.sheets import SHEETS, LabelSheet
from inventory.models import Yarn
from studio.fields import PlainWords

_SPAN = re.compile(r"(\d{1,9})(?:-(\d{1,9}))?", re.ASCII)
_DASH = re.compile(r"\s*(?:-|\u2013|\u2212|\bto\b)\s*", re.IGNORECASE)
NUMBERS_LIKE = "Write numbers such as 12-20, 31."


def read_numbers(text: str) -> tuple[int, ...]:
    """Read numbers of packages as people write them.

    Examples
    --------
    >>> read_numbers("12-14, 31"), read_numbers("3 to 4")
    ((12, 13, 14, 31), (3, 4))
    """
    numbers: list[int] = []
    for part in filter(None, re.split(r"[,;\s]+", _DASH.sub("-", text))):
        span = _SPAN.fullmatch(part)
        if span is None:
            raise ValidationError(f"“{part[:20]}” is no number. {NUMBERS_LIKE}", code="not_a_number")
        first, last = int(span[1]), int(span[2] or span[1])
        if last < first:
            raise ValidationError(f"“{part}” runs backwards. {NUMBERS_LIKE}", code="backwards")
        if last - first >= MOST_LABELS or len(numbers) >= MOST_LABELS:
            raise ValidationError(f"Print at most {MOST_LABELS} labels at once.", code="too_many")
        numbers += range(first, last + 1)
    return tuple(dict.fromkeys(numbers))


class LabelForm(PlainWords, forms.Form):
    """Choose packages, then a sheet; all of it is a question, so it stands in the address."""

    numbers = forms.CharField(
        label="Numbers",
        required=False,
        max_length=200,
        help_text="Such as 12-20, 31. Also packages that are empty now.",
    )
    words = forms.CharField(
        label="Search", required=False, max_length=80, help_text="Yarn, colour, dye lot, bin or kind of package."
    )
    bin_name = forms.CharField(label="Bin", required=False, max_length=40)
    newest = forms.IntegerField(
        label="Only the newest", required=False, min_value=1, max_value=MOST_LABELS,
        widget=forms.TextInput({"inputmode": "numeric"}), help_text="So many of them, those put on the shelf last.",
    )  # fmt: skip
    yarn: Any = forms.ModelChoiceField(Yarn.objects.all(), required=False, widget=forms.HiddenInput)
    sheet = forms.ChoiceField(label="Sheet", required=False, choices=[(one.key, one.name) for one in SHEETS.values()])
    start = forms.IntegerField(
        label="Begin at label", required=False, min_value=1, widget=forms.TextInput({"inputmode": "numeric"}),
        help_text="For a sheet used in part: counted from the top left, row by row.",
    )  # fmt: skip
    lines = forms.BooleanField(label="Draw lines to cut along, on plain paper", required=False)

    def __init__(self, *args: Any, paper: str = "A4", **options: Any) -> None:
        super().__init__(*args, **options)
        self.paper = paper
        self.fields["sheet"].initial = self._usual_sheet().key

    def _usual_sheet(self) -> LabelSheet:
        return next(sheet for sheet in SHEETS.values() if sheet.paper == self.paper)

    def clean_numbers(self) -> tuple[int, ...]:
        return read_numbers(self.cleaned_data["numbers"])

    def clean(self) -> dict[str, Any]:
        """Fit the first label onto the sheet."""
        values = self.cleaned_data
        start = values.get("start")
        if start and "sheet" in values and start > self.chosen_sheet.labels:
            self.add_error("start", f"This sheet has {self.chosen_sheet.labels} labels.")
        return values

    @property
    def chosen_sheet(self) -> LabelSheet:
        """Give the sheet chosen, or the first one of the reader's paper."""
        return SHEETS.get(self.cleaned_data.get("sheet", ""), self._usual_sheet())

    @property
    def first(self) -> int:
        """Give the place of the first label on its sheet."""
        return self.cleaned_data.get("start") or 1

    def query(self) -> LabelQuery:
        """Give which packages are asked for; nothing while the form has mistakes."""
        if not self.is_valid():
            return LabelQuery()
        return LabelQuery(**{name: self.cleaned_data[name] for name in LabelQuery.__dataclass_fields__})
