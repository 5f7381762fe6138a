"""Forms of the yarn room. A bare number takes the member's usual unit, and is kept with it."""

from datetime import date
from typing import Any

from django import forms

from inventory.calc.words import with_unit
from inventory.models import Package, Yarn
from inventory.models.packages import WEIGH_IT, trouble_with_day
from studio.fields import PlainWords
from studio.units import UnitError, Units, exact_text, read, usual

WEIGHED_AGAIN = "What the scale shows now. Left as it is, nothing is weighed, and what was taken since stays taken."
GRIST_UNIT = {Units.INCH: "yd/lb", Units.METRIC: "m/kg"}
GRIST_NAME = {Units.INCH: "Yards per pound", Units.METRIC: "Metres per kilogram"}


class PlainDecimal(forms.DecimalField):
    """A number as people write it: the comma of half the world is a point."""

    widget = forms.TextInput

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class YarnForm(PlainWords, forms.ModelForm):  # type: ignore[type-arg]  # Django itself takes no type here
    """A yarn, as its label describes it."""

    class Meta:
        model = Yarn
        fields = (
            "name", "fibre", "colour_name", "colour", "count_text", "grist_text", "wraps_text",
            "wound_density", "price_per_100g", "keep_at_least_text", "notes", "retired",
        )  # fmt: skip
        field_classes = {"wound_density": PlainDecimal, "price_per_100g": PlainDecimal}
        labels = {
            "name": "Yarn",
            "colour_name": "Colour name",
            "colour": "Colour in drawings",
            "wound_density": "Density wound on a beam",
            "price_per_100g": "Price of 100 g",
        }
        help_texts = {
            "name": "Count and fibre say it best, such as 8/2 cotton.",
            "colour": "Or # and six hexadecimal digits. It never stands without the name.",
            "count_text": "As on the label, such as 8/2 cotton, Nm 2/30 or 16/2 linen.",
            "wraps_text": "As you measured them round a ruler, such as 28 /in.",
            "keep_at_least_text": "With less than this free, the yarn stands on the low-stock list.",
            "wound_density": "Measured here. Left empty, plans take a default for the fibre, which is not sourced.",
        }
        error_messages = {
            "name": {"required": "Give the yarn a name, such as 8/2 cotton."},
            "wound_density": {"invalid": "Write the density as a number, such as 0.45."},
            "price_per_100g": {"invalid": "Write the price as a number, such as 2.40."},
        }
        widgets = {"colour": forms.ColorInput, "notes": forms.Textarea({"rows": 3})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.units = units
        example = "3360 yd/lb" if units is Units.INCH else "6770 m/kg"
        grist = self.fields["grist_text"]
        grist.label = GRIST_NAME[units]
        grist.help_text = f"From the label, such as {example}. It wins over the count."

    def clean_colour(self) -> str:
        return str(self.cleaned_data["colour"]).lower()

    def clean_grist_text(self) -> str:
        return with_unit(self.cleaned_data["grist_text"], GRIST_UNIT[self.units])

    def clean_wraps_text(self) -> str:
        return with_unit(self.cleaned_data["wraps_text"], usual("wraps", self.units))

    def clean_keep_at_least_text(self) -> str:
        return with_unit(self.cleaned_data["keep_at_least_text"], usual("mass", self.units))


class PackageForm(PlainWords, forms.ModelForm):  # type: ignore[type-arg]  # Django itself takes no type here
    """A package on the scale."""

    class Meta:
        model = Package
        fields = (
            "kind", "gross_text", "tare_text", "dye_lot", "bin_name", "owner", "source", "received_on", "notes",
        )  # fmt: skip
        help_texts = {
            "gross_text": "Package and yarn together, as the scale shows it: 18.5 oz or 525 g.",
            "tare_text": "Weigh an empty one of the same kind; cones and tubes differ by the weight of many yards.",
            "dye_lot": "Two lots of one colour can show as a stripe.",
            "bin_name": "Where it stands.",
            "owner": "A member’s own yarn is nobody else’s to plan with or to take.",
        }
        widgets = {"received_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d")}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.units = units
        self.fields["gross_text"].required = True
        self.fields["gross_text"].error_messages["required"] = WEIGH_IT
        self.fields["owner"].empty_label = "the studio"  # type: ignore[attr-defined]  # it is a choice of members
        if self.instance.pk:
            self.fields["gross_text"].help_text = WEIGHED_AGAIN
        self._show_unspoken_weights()

    def _show_unspoken_weights(self) -> None:
        """Show a weight that came without words (from a script, say) in the reader's unit."""
        for column in ("gross", "tare"):
            grams = getattr(self.instance, f"{column}_g")
            if grams and not getattr(self.instance, f"{column}_text"):
                self.initial[f"{column}_text"] = exact_text(grams, "mass", self.units)

    def clean_gross_text(self) -> str:
        return self._weight("gross_text")

    def clean_tare_text(self) -> str:
        return self._weight("tare_text")

    def clean_received_on(self) -> date | None:
        day: date | None = self.cleaned_data["received_on"]
        if day and "received_on" in self.changed_data and (trouble := trouble_with_day(day)):
            raise forms.ValidationError(trouble, code="day")
        return day

    def _weight(self, name: str) -> str:
        text = with_unit(self.cleaned_data[name], usual("mass", self.units))
        try:
            read(text or "0 g", "mass", None)
        except UnitError as trouble:
            raise forms.ValidationError(trouble.message, code=trouble.code) from trouble
        return text

    def _post_clean(self) -> None:
        """Let the model compare the weights only when both were understood; else each fault would show twice."""
        if not self.errors:
            super()._post_clean()  # type: ignore[misc]  # Django's own hook, missing from its type hints
