"""The form at the winding: what is done with each package of a warp, and what the scale shows of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from inventory.calc.words import with_unit
from inventory.models import Package
from inventory.models.packages import HEAVIEST_G
from planner.yarn.account_selectors import Account, AccountPackage
from planner.yarn.account_services import Taking, YarnAction
from studio.fields import PlainWords
from studio.models import Member
from studio.units import LONGEST_TEXT, UnitError, read, show, usual

NOTHING = "nothing now"
SAY_SCALE = "Say what the scale shows, with the cone or tube."
ACTION_LABELS: Mapping[YarnAction, str] = MappingProxyType({
    YarnAction.TAKE: "take out, and weigh what is left",
    YarnAction.BACK: "bring back, and weigh it",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class TakingRow:
    """One package with its two boxes."""

    line: AccountPackage
    action: BoundField
    gross: BoundField


class TakingForm(PlainWords, forms.Form):
    """One line for each package of a warp's account."""

    use_required_attribute = False

    def __init__(self, *args: Any, account: Account, by: Member, **options: Any) -> None:
        self.account, self.units = account, by.reads_in
        boxes = {name: box for line in account.packages for name, box in self._boxes(line)}
        self.base_fields = boxes  # type: ignore[misc]  # each account has its own
        super().__init__(*args, **options)

    def _boxes(self, line: AccountPackage) -> Iterator[tuple[str, forms.Field]]:
        key, shown_in = line.package.pk, usual("mass", self.units)
        yield (
            f"action-{key}",
            forms.ChoiceField(
                label=f"Action for {line.package}",
                required=False,
                choices=list(self._choices(line)),
                error_messages={"invalid_choice": "Choose one of those offered; look at what is set aside now."},
            ),
        )
        yield (
            f"gross-{key}",
            forms.CharField(
                label=f"The scale shows of {line.package}, in {shown_in}",
                required=False,
                max_length=LONGEST_TEXT,
                error_messages={"max_length": "That is too long to be a weight."},
                widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "size": 9}),
            ),
        )

    def _choices(self, line: AccountPackage) -> Iterator[tuple[str, str]]:
        yield "", NOTHING
        if line.may_take and not self.account.closed:
            yield YarnAction.TAKE_ALL.value, f"take out all {show(line.set_aside, 'mass', self.units)}"
            yield YarnAction.TAKE.value, ACTION_LABELS[YarnAction.TAKE]
        if line.used:
            yield YarnAction.BACK.value, ACTION_LABELS[YarnAction.BACK]

    @property
    def rows(self) -> list[TakingRow]:
        """The packages in their order."""
        return [
            TakingRow(line, self[f"action-{line.package.pk}"], self[f"gross-{line.package.pk}"])
            for line in self.account.packages
        ]

    def clean(self) -> dict[str, Any]:
        """Ask for a reading where one is needed, and for an action where there is a reading."""
        values: dict[str, Any] = self.cleaned_data
        for line in self.account.packages:
            key = line.package.pk
            action, gross = values.get(f"action-{key}"), values.get(f"gross-{key}")
            if gross is None or action is None:
                continue
            if action in {YarnAction.TAKE, YarnAction.BACK}:
                self._read(line.package, gross)
            elif gross and action == YarnAction.TAKE_ALL:
                self.add_error(f"gross-{key}", "All of it goes, so no reading is needed: empty this box.")
            elif gross:
                self.add_error(f"action-{key}", "Choose an action.")
        return values

    def _read(self, package: Package, gross: str) -> None:
        """Keep a reading with its unit, or say what is wrong with it."""
        name = f"gross-{package.pk}"
        text = with_unit(gross, usual("mass", self.units))
        try:
            shown = read(text, "mass", None) if text else None
        except UnitError as trouble:
            self.add_error(name, trouble.message)
            return
        empty = show(package.tare_g, "mass", self.units)
        if shown is None:
            self.add_error(name, SAY_SCALE)
        elif shown > HEAVIEST_G:
            self.add_error(name, "No package weighs a tonne; look at the scale again.")
        elif shown < package.tare_g:
            self.add_error(name, f"That is less than the empty {package.get_kind_display()} alone, {empty}.")
        else:
            self.cleaned_data[name] = text

    def takings(self) -> tuple[Taking, ...]:
        """Give what is to be done, as it was understood."""
        values = self.cleaned_data
        return tuple(
            Taking(one.package, YarnAction(action), values[f"gross-{one.package.pk}"])
            for one in self.account.packages
            if (action := values[f"action-{one.package.pk}"])
        )

    def refuse(self, rows: Mapping[int, str]) -> None:
        """Put each refusal beside its package."""
        for key, words in rows.items():
            self.add_error(f"gross-{key}" if self.cleaned_data.get(f"gross-{key}") else f"action-{key}", words)
