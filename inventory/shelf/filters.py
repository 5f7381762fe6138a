"""What to look for on the shelf, as pages and API ask it; what is not understood is left out of the question."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from django import forms

from inventory.calc.count import FINEST, THICKEST, metres_per_kilogram, yards_per_pound
from inventory.calc.weight_classes import CLASSES, WeightClass
from inventory.models import Fibre
from inventory.shelf.selectors import COLOURS
from inventory.shelf.stock import LIKE_FINENESS, Enough
from studio.fields import PlainWords
from studio.units import LARGEST, Units, rounded, to_decimal

MOST_WITHIN = 50
LONGEST_WORK = 120


def _bounds(one: WeightClass, units: Units) -> str:
    """Say how much length a weight of a class holds, in the reader's units."""
    unit, measure = ("yd/lb", yards_per_pound) if units is Units.INCH else ("m/kg", metres_per_kilogram)
    least = rounded(measure(one.below_tex), 0) if one.below_tex else ""
    most = rounded(measure(one.from_tex), 0) if one.from_tex else ""
    if not most:
        return f"over {least} {unit}"
    return f"{least} to {most} {unit}" if least else f"up to {most} {unit}"


class ShelfFilter(PlainWords, forms.Form):
    """What to look for on the shelf. The last four come with a link from a warp that needs so much."""

    words = forms.CharField(label="Search", required=False, max_length=80, widget=forms.TextInput({"type": "search"}))
    fibre = forms.ChoiceField(label="Fibre", required=False, choices=[("", "Any"), *Fibre.choices])
    colour = forms.ChoiceField(label="Colours", required=False, choices=[("", "Any"), *COLOURS])
    weight = forms.ChoiceField(label="Weight", required=False, choices=[("", "Any")])
    bin_name = forms.CharField(label="Bin", required=False, max_length=40)
    low = forms.BooleanField(label="Only what runs low", required=False)
    retired = forms.BooleanField(label="Also discontinued yarns", required=False)
    length_cm = forms.DecimalField(
        required=False, min_value=Decimal("0.01"), max_value=Decimal(int(LARGEST)), widget=forms.HiddenInput
    )
    tex = forms.DecimalField(
        required=False, min_value=to_decimal(FINEST), max_value=int(THICKEST), widget=forms.HiddenInput
    )
    within = forms.DecimalField(required=False, min_value=0, max_value=MOST_WITHIN, widget=forms.HiddenInput)
    work = forms.CharField(required=False, max_length=LONGEST_WORK, widget=forms.HiddenInput)

    def __init__(self, *args: Any, units: Units = Units.METRIC, **options: Any) -> None:
        super().__init__(*args, **options)
        classes = [(one.key, f"{one.name}: {_bounds(one, units)}") for one in CLASSES]
        self.fields["weight"].choices = [("", "Any"), *classes]  # type: ignore[attr-defined]  # it is a choice

    def criteria(self) -> dict[str, Any]:
        """Give the part of the question that was understood."""
        self.is_valid()
        plain = ("words", "fibre", "colour", "weight", "bin_name", "retired")
        return {name: self.cleaned_data[name] for name in plain if name in self.cleaned_data}

    @property
    def wants_low(self) -> bool:
        """Whether only what runs low is asked for."""
        self.is_valid()
        return bool(self.cleaned_data.get("low"))

    @property
    def enough(self) -> Enough | None:
        """Give what a warp needs, where length and fineness were understood."""
        self.is_valid()
        length, tex = (self.cleaned_data.get(name) for name in ("length_cm", "tex"))
        if not length or not tex:
            return None
        within = self.cleaned_data.get("within")
        share = LIKE_FINENESS if within is None else Fraction(within) / 100
        return Enough(Fraction(length), Fraction(tex), share, self.cleaned_data.get("work", ""))


class WallFilter(PlainWords, forms.Form):
    """Which part of the colour wall to look at."""

    fibre = forms.ChoiceField(label="Fibre", required=False, choices=[("", "Any"), *Fibre.choices])
    colour = forms.ChoiceField(required=False, choices=[("", "Any"), *COLOURS], widget=forms.HiddenInput)

    def criteria(self) -> dict[str, str]:
        """Give the part of the question that was understood."""
        self.is_valid()
        return {name: str(self.cleaned_data.get(name, "")) for name in self.fields}
