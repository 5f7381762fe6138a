"""What a weaver chooses herself of the packages proposed for her warp, and what she knows of the weeks left."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils import timezone

from planner.calc.shelf.awaited import Wait, wait_for
from planner.yarn.awaited import OwnYarn, ShortageOptions, lacking
from planner.yarn.filling import PackageChoice
from planner.yarn.shelf_selectors import ShelfPlan, YarnLine
from planner.yarn.wanted_selectors import WantedRow
from studio.fields import NumberField, PlainWords

LONGEST_KEY = 18
MOST_CHOSEN = 500
MOST_SESSIONS = 500
MOST_A_WEEK = 14
FARTHEST = timedelta(days=5 * 366)


def choice_in(said: QueryDict) -> PackageChoice:
    """Read which packages are insisted on (`with`) and left out (`without`); what is both is left out."""
    left_out = _keys(said.getlist("without"))
    return PackageChoice(_keys(said.getlist("with")) - left_out, left_out)


def _keys(texts: Iterable[str]) -> frozenset[int]:
    good = (text for text in texts if text.isascii() and text.isdecimal() and len(text) <= LONGEST_KEY)
    return frozenset(int(text) for text, _ in zip(good, range(MOST_CHOSEN), strict=False))


def _day(label: str, **options: Any) -> forms.DateField:
    return forms.DateField(label=label, required=False, widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"), **options)


def sound_day(day: date | None) -> date | None:
    """Refuse a day that is past, or farther off than anybody waits."""
    today = timezone.localdate()
    if day is not None and day < today:
        raise forms.ValidationError("That day is past; give one to come, or none.", code="past")
    if day is not None and day > today + FARTHEST:
        raise forms.ValidationError("That is more than five years away; look at the year again.", code="far_off")
    return day


class WantForm(PlainWords, forms.Form):
    """When wanted yarn is expected, and what else is to be known about it."""

    expected_on = _day("Expected on")
    note = forms.CharField(label="Note", required=False, max_length=200)

    def clean_expected_on(self) -> date | None:
        return sound_day(self.cleaned_data["expected_on"])


class WaitForm(PlainWords, forms.Form):
    """What is known of the weeks left on the loom."""

    yarn_on = _day("Yarn expected on")
    sessions = forms.IntegerField(
        label="Sessions of weaving left", min_value=0, max_value=MOST_SESSIONS, required=False, localize=False,
        widget=forms.TextInput({"inputmode": "numeric", "autocomplete": "off"}),
    )  # fmt: skip
    a_week = NumberField(label="Sessions a week", required=False)
    booked_on = _day("Loom booked until")

    def clean_yarn_on(self) -> date | None:
        return sound_day(self.cleaned_data["yarn_on"])

    def clean_booked_on(self) -> date | None:
        return sound_day(self.cleaned_data["booked_on"])

    def clean_a_week(self) -> Fraction | None:
        said = self.cleaned_data["a_week"]
        if said is not None and said > MOST_A_WEEK:
            raise forms.ValidationError("Nobody weaves so often in a week.", code="too_often")
        return None if said is None else Fraction(said)

    def waited(self) -> Waited | None:
        """Give what waiting comes to; nothing while something is not said."""
        said = self.cleaned_data if self.is_bound and self.is_valid() else {}
        yarn_on, sessions, a_week, booked_on = (said.get(name) for name in WaitForm.base_fields)
        if yarn_on is None or sessions is None or a_week is None or booked_on is None:
            return None
        today = timezone.localdate()
        wait = wait_for((yarn_on - today).days, sessions, a_week, (booked_on - today).days)
        return Waited(wait, (yarn_on - today).days, today + timedelta(days=wait.done))


@dataclass(frozen=True, slots=True)
class Waited:
    """What waiting comes to, with its days in the calendar."""

    wait: Wait
    days: int
    done_on: date


@dataclass(frozen=True, slots=True)
class LineBox:
    """One yarn of the page: the shelf's line, what can be done where it is short, and its row of the wanted list."""

    line: YarnLine
    options: ShortageOptions | None
    wanted: WantedRow | None
    want: WantForm
    others: PackageChoice
    """What was chosen of the other yarns, to be carried along."""
    short: bool
    open: bool


@dataclass(frozen=True, slots=True)
class OwnBox:
    """One yarn that is in no book of the yarn room, and its request on the wanted list."""

    own: OwnYarn
    wanted: WantedRow | None
    want: WantForm


def boxes_of(
    plan: ShelfPlan,
    options: Iterable[ShortageOptions],
    rows: Iterable[WantedRow],
    choice: PackageChoice,
    failed: Mapping[str, WantForm],
) -> tuple[LineBox, ...]:
    """Gather what the page says of each yarn; `failed` has the forms that came back with mistakes."""
    by_yarn = {row.wanted.yarn_id: row for row in rows if row.wanted.yarn_id is not None}
    short = {one.line.yarn.pk: one for one in options}
    boxes = []
    for line in plan.lines:
        key, mine = line.yarn.pk, {one.package.pk for one in line.candidates}
        wanted = by_yarn.get(key)
        boxes.append(
            LineBox(
                line=line,
                options=short.get(key),
                wanted=wanted,
                want=failed.get(str(key)) or _want_form(wanted, f"want-{key}"),
                others=PackageChoice(choice.insisted - mine, choice.left_out - mine),
                short=bool(lacking(line)) and not line.left_out,
                open=bool(mine & (choice.insisted | choice.left_out)),
            )
        )
    return tuple(boxes)


def own_boxes(
    yarns: Iterable[OwnYarn], rows: Iterable[WantedRow], failed: Mapping[str, WantForm]
) -> tuple[OwnBox, ...]:
    """Gather what the page says of yarns that are in no book."""
    by_name = {(row.wanted.yarn_name, row.wanted.tex): row for row in rows if row.wanted.yarn_id is None}
    return tuple(
        OwnBox(one, wanted := by_name.get((one.name, one.tex)), failed.get(one.key) or _want_form(wanted, one.key))
        for one in yarns
    )


def _want_form(row: WantedRow | None, key: str) -> WantForm:
    said = {"expected_on": row.wanted.expected_on, "note": row.wanted.note} if row is not None else {}
    return WantForm(initial=said, auto_id=f"{key}-%s")
