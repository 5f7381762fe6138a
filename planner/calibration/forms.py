"""The form of a calibration: what was wound, and what the tape said before and after."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.utils import timezone

from inventory.models import Yarn
from planner.calibration.selectors import yarns_by_fineness
from planner.models import Calibration
from studio.fields import DATE, Grouped, a_length
from studio.models import Beam
from studio.units import Units

MILLIMETRE = Decimal("0.1")


class CalibrationForm(Grouped, forms.ModelForm[Calibration]):
    """Two circumferences by the tape and the turns between them."""

    yarn = forms.ModelChoiceField(
        Yarn.objects.filter(retired=False), label="Yarn", empty_label="Choose the yarn",
        help_text="Each count once: a measurement counts for every colour of it.",
    )  # fmt: skip
    width_cm = a_length(label="Width they lie on", help_text="The section between its dividers, when the ends fill it.")
    start_cm = a_length(label="Circumference before", help_text="Tape round the bars, or the yarn, inside the section.")
    end_cm = a_length(label="Circumference after", help_text="At the same place, the yarn lying flat.")
    tape_cm = a_length(label="Tape wrong by at most", above_zero=False, help_text="A millimetre is usual over yarn.")
    measured_on = forms.DateField(label="Measured on", widget=DATE, initial=timezone.localdate)
    groups = (
        ("What was wound", ("yarn", "ends", "width_cm", "turns")),
        ("What the tape said", ("start_cm", "end_cm", "tape_cm")),
        ("When", ("measured_on", "note")),
    )

    class Meta:
        model = Calibration
        fields = ("ends", "width_cm", "turns", "start_cm", "end_cm", "tape_cm", "measured_on", "note")
        labels: ClassVar = {"ends": "Ends in the section", "turns": "Turns wound between"}

    def __init__(self, *args: Any, beam: Beam, units: Units, **options: Any) -> None:
        free = (beam.pitch_cm or beam.usable_width_cm) - beam.divider_cm
        start = {"width_cm": free, "start_cm": beam.circumference_cm, "tape_cm": MILLIMETRE}
        super().__init__(*args, initial=start, **options)
        self.fields["yarn"].choices = [("", "Choose the yarn"), *yarns_by_fineness()]  # type: ignore[attr-defined]
        self._read_in(units)
