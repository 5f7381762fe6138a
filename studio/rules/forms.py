"""Forms of the rules: for plans and safety, and for reserving."""

from decimal import Decimal
from typing import Any, ClassVar

from django import forms

from studio.fields import MOST_CM, Grouped, QuantityField, a_length
from studio.models import BookingRules, StudioRules
from studio.units import Units


class RulesForm(Grouped, forms.ModelForm[StudioRules]):
    mismatch_note = QuantityField("share", label="Length between sections: note at", most=Decimal("0.9"))
    mismatch_warn = QuantityField("share", label="Warn at", most=Decimal("0.9"))
    mismatch_stop = QuantityField("share", label="Never silent at", most=Decimal("0.9"))
    sett_error = QuantityField("share", label="Sett error still called good", above_zero=False, most=Decimal("0.9"))
    sett_share = QuantityField("share", label="Working sett, share of the maximum", most=Decimal("0.9"))
    rake_clearance_cm = a_length(label="Rake kept clear above the yarn", above_zero=False)
    section_waste_cm = a_length(label="Yarn lost per end and section", above_zero=False)
    box_lead_cm = a_length("distance", label="Box lead lost per end and re-thread", above_zero=False)
    spool_reserve = QuantityField("share", label="More yarn on each spool", above_zero=False, most=Decimal("0.9"))
    spool_step_cm = a_length("distance", label="Spools are wound in steps of", most=MOST_CM)
    tie_every_cm = a_length("distance", label="Choke ties every", most=MOST_CM)
    groups = (
        ("The studio", ("name", "units", "local_rules")),
        ("When sections differ in length", ("mismatch_note", "mismatch_warn", "mismatch_stop")),
        ("Sett", ("sett_share", "sett_error")),
        ("On the beam", ("rake_clearance_cm", "section_waste_cm")),
        ("Spools, box and chains", ("box_lead_cm", "spool_reserve", "spool_step_cm", "tie_every_cm")),
    )
    segmented = frozenset({"units"})

    class Meta:
        model = StudioRules
        fields = ("name", "units", "local_rules", "mismatch_note", "mismatch_warn", "mismatch_stop", "sett_error",
                  "sett_share", "rake_clearance_cm", "section_waste_cm", "box_lead_cm", "spool_reserve",
                  "spool_step_cm", "tie_every_cm")  # fmt: skip
        help_texts: ClassVar = {"local_rules": "Printed on every card, beside the line about the maker's manual."}
        widgets: ClassVar = {"units": forms.RadioSelect, "local_rules": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)

    def clean(self) -> dict[str, Any]:
        """Each bound warns louder than the one before, or the middle one would never be heard."""
        values = super().clean() or {}
        for lower, higher in (("mismatch_note", "mismatch_warn"), ("mismatch_warn", "mismatch_stop")):
            low, high = values.get(lower), values.get(higher)
            if low is not None and high is not None and low > high:
                self.add_error(higher, "This must not be less than the bound before it.")
        return values


class BookingRulesForm(Grouped, forms.ModelForm[BookingRules]):
    groups = (
        ("How long", ("longest_days", "ahead_days", "extension_days", "extension_only_if_nobody_waits")),
        ("How many looms at once",
         ("looms_guest", "looms_member", "looms_trained", "looms_teacher", "looms_steward")),
        ("Safety briefings", ("briefing_for_sectional", "briefing_for_stations")),
        ("Before and after the end", ("remind_days", "overdue_days", "hold_days")),
        ("While others wait", ("queue_days",)),
        ("By the hour", ("seat_hours", "tool_hours")),
    )  # fmt: skip

    class Meta:
        model = BookingRules
        fields = (
            "longest_days", "ahead_days", "extension_days", "extension_only_if_nobody_waits", "looms_guest",
            "looms_member", "looms_trained", "looms_teacher", "looms_steward", "briefing_for_sectional",
            "briefing_for_stations", "remind_days", "overdue_days", "hold_days", "queue_days", "seat_hours",
            "tool_hours",
        )  # fmt: skip
        help_texts: ClassVar = {
            "briefing_for_sectional": "Trained members, teachers and stewards count as briefed.",
            "overdue_days": "Only stewards cut off another's warp, and the step says how its weaver was told.",
        }
