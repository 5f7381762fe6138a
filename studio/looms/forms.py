"""Forms of looms and tools. Each reads a member's units and says every mistake in a sentence beside its field."""

from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.utils import timezone

from studio.fields import DATE, MOST_CM, Grouped, HeddlesField, NumberField, a_length
from studio.models import Beam, BeamRound, Loom, Reed, Station
from studio.units import Units

DIRECTIONS = ((True, "clockwise"), (False, "anticlockwise"))


class LoomForm(Grouped, forms.ModelForm[Loom]):
    weaving_width_cm = a_length(label="Weaving width", help_text="The widest cloth that the reed and beater take.")
    heddles = HeddlesField(
        label="Heddles on each shaft", required=False, help_text="Front shaft first, such as 100, 100, 100, 100."
    )
    waste_cm = a_length(
        label="Loom waste, measured here", above_zero=False,
        help_text="Warp that cannot be woven on this loom, knots at both ends included.",
    )  # fmt: skip
    groups = (
        ("Which loom", ("number", "nickname")),
        ("What it can take", ("weaving_width_cm", "shafts", "treadles", "heddles")),
        ("Measured here", ("waste_cm", "notes", "retired")),
    )

    class Meta:
        model = Loom
        fields = (
            "number", "nickname", "weaving_width_cm", "shafts", "treadles", "heddles", "waste_cm", "notes", "retired",
        )  # fmt: skip
        labels: ClassVar = {"number": "Loom number", "treadles": "Treadles (0 on a table loom)"}
        widgets: ClassVar = {"notes": forms.Textarea(attrs={"rows": 4})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)


class BeamForm(Grouped, forms.ModelForm[Beam]):
    usable_width_cm = a_length(label="Usable width", help_text="Between the outermost rakes or the beam's ends.")
    pitch_cm = a_length(
        label="Section width", required=False,
        help_text="From the middle of one divider to the middle of the next.",
    )  # fmt: skip
    divider_cm = a_length(label="Thickness of a divider", required=False, above_zero=False)
    rake_height_cm = a_length(label="Rake height above the bar", required=False)
    leader_cm = a_length(label="Leader, from where it is fastened to its loop", required=False)
    leader_offset_cm = a_length(
        label="Fastened past its bar by", required=False, above_zero=False,
        help_text="Along the circumference, the way it winds, to its hole; empty where it is tied to the bar.",
    )  # fmt: skip
    leader_knot_cm = a_length(
        label="Knot and loop at its end", required=False, above_zero=False,
        help_text="Their length along the circumference, beyond the leader’s end.",
    )  # fmt: skip
    clockwise = forms.TypedChoiceField(
        label="Winds, seen from the crank side", choices=DIRECTIONS, coerce=lambda word: word == "True",
        widget=forms.RadioSelect, initial=True,
    )  # fmt: skip
    groups = (
        ("The beam", ("name", "kind", "circumference_cm", "measured_on", "usable_width_cm")),
        ("Its sections (leave empty on a plain beam)",
         ("pitch_cm", "divider_cm", "sections", "rake_height_cm")),
        ("Bars and leaders", ("bars", "leader_cm", "leader_offset_cm", "leader_knot_cm")),
        ("The way it turns", ("clockwise", "turning")),
    )  # fmt: skip
    segmented = frozenset({"kind", "clockwise", "turning"})

    class Meta:
        model = Beam
        fields: tuple[str, ...] = (
            "name", "kind", "usable_width_cm", "pitch_cm", "divider_cm", "sections", "rake_height_cm",
            "bars", "leader_cm", "leader_offset_cm", "leader_knot_cm", "clockwise", "turning",
        )  # fmt: skip
        labels: ClassVar = {"kind": "Plain or sectional", "bars": "Number of bars"}
        help_texts: ClassVar = {
            "bars": "Bars the empty beam is made of; 0 for a solid roller.",
            "sections": "An odd number has a section at the middle of the beam, an even number a divider.",
        }
        widgets: ClassVar = {"kind": forms.RadioSelect, "turning": forms.RadioSelect}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["sections"].required = False
        self._read_in(units)

    def clean(self) -> dict[str, Any]:
        """A plain beam has no sections, whatever is left in those boxes."""
        values = super().clean() or {}
        if values.get("kind") == Beam.Kind.PLAIN:
            values |= {"pitch_cm": None, "rake_height_cm": None, "sections": 0}
        for name in ("divider_cm", "leader_offset_cm", "leader_knot_cm"):
            values[name] = values.get(name) or Decimal(0)
        values["sections"] = values.get("sections") or 0
        return values


class NewBeamForm(BeamForm):
    circumference_cm = a_length(
        label="Circumference, empty",
        help_text="Pull a paper strip round the bars inside one section, and measure the strip.",
    )  # fmt: skip
    measured_on = forms.DateField(label="Measured on", widget=DATE, initial=timezone.localdate)

    class Meta(BeamForm.Meta):
        fields = ("circumference_cm", *BeamForm.Meta.fields)


class MeasureForm(Grouped, forms.ModelForm[BeamRound]):
    circumference_cm = a_length(
        label="Circumference, empty",
        help_text="Pull a paper strip round the bars inside one section, and measure the strip.",
    )  # fmt: skip
    measured_on = forms.DateField(label="Measured on", widget=DATE, initial=timezone.localdate)
    groups = (("", ("circumference_cm", "measured_on", "note")),)

    class Meta:
        model = BeamRound
        fields = ("circumference_cm", "measured_on", "note")

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)


class ReedForm(Grouped, forms.ModelForm[Reed]):
    dents = NumberField(label="Dents", help_text="As stamped on the reed: 12, or 50 for a 50/10 reed.")
    reed_length_cm = a_length(label="Reed length", help_text="The width it can fill with ends.")
    reed_height_cm = a_length(label="Reed height", required=False)
    groups = (
        ("The reed", ("dents", "per", "reed_length_cm", "reed_height_cm")),
        ("Where it is", ("kept_with", "mark", "retired")),
    )
    segmented = frozenset({"per"})

    class Meta:
        model = Reed
        fields = ("dents", "per", "reed_length_cm", "reed_height_cm", "kept_with", "mark", "retired")
        labels: ClassVar = {"kept_with": "Kept with a loom"}
        widgets: ClassVar = {"per": forms.RadioSelect}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["kept_with"].empty_label = "none: on the reed rack"  # type: ignore[attr-defined]
        self._read_in(units)


class StationForm(Grouped, forms.ModelForm[Station]):
    path_longest_cm = a_length("distance", label="Longest path", required=False, most=MOST_CM)
    path_step_cm = a_length("distance", label="Paths change by", required=False, most=MOST_CM)
    comb_dents = NumberField(label="Dents of the exit comb", required=False)
    raddle_space_cm = a_length(label="Raddle space", required=False)
    groups = (
        ("The station", ("kind", "name", "training_needed")),
        ("A board or mill", ("path_longest_cm", "path_step_cm", "ends_at_once")),
        ("A rack or tension box", ("rack_spools", "comb_dents", "comb_per")),
        ("A raddle", ("raddle_space_cm",)),
        ("Notes", ("notes", "retired")),
    )
    segmented = frozenset({"comb_per"})

    class Meta:
        model = Station
        fields = ("kind", "name", "training_needed", "path_longest_cm", "path_step_cm", "ends_at_once", "rack_spools",
                  "comb_dents", "comb_per", "raddle_space_cm", "notes", "retired")  # fmt: skip
        labels: ClassVar = {"comb_per": "Comb counted"}
        widgets: ClassVar = {"comb_per": forms.RadioSelect, "notes": forms.Textarea(attrs={"rows": 4})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)
