"""The warp sheet as a form. It never refuses: whatever is typed is kept, and the brief says what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from planner.brief.colour_order import with_whole_order
from planner.brief.fields import positions
from planner.brief.form_fields import USUAL_CHOICES, Choices, unit_after, widget_of, words_of
from planner.brief.sheet_input import (
    COME_FILLED_IN,
    FIELDS,
    MOST_ROWS,
    MOST_SIGNS,
    OF_OWN_YARN,
    WEFT_PARTS,
    YARN_PARTS,
    rows,
    units_of,
    usual_code,
    with_units_kept,
)
from planner.calc.terms.usual_losses import USUAL_LOSSES
from studio.units import LONGEST_TEXT, UnitError, Units

LONGEST_COUNT = 6
LOSSES = ("draw_in", "width_shrinkage", "length_shrinkage", "take_up")


@dataclass(frozen=True, slots=True)
class SheetChoices:
    """What the studio's tables offer: beams, racks, boards, and the labels of the yarn room."""

    beams: Choices = ()
    racks: Choices = ()
    boards: Choices = ()
    yarns: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing to mend: the field, its name in words, and the sentence."""

    field: str
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class YarnRow:
    """One yarn of the warp on the sheet."""

    number: int
    code: BoundField
    yarn: BoundField
    more: tuple[BoundField, ...]
    open: bool


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """Fields that are seldom needed: folded up, with what they say in one line."""

    key: str
    title: str
    fields: tuple[BoundField, ...]
    said: str
    open: bool


GROUPS: Mapping[str, str] = MappingProxyType(
    {
        "fit": "Fitting the ends",
        "threading": "Threading",
        "tools": "Winding and its tools",
        "lost": "Yarn lost in winding",
    }
)
MORE_OF_YARN = tuple(name for name in YARN_PARTS if name not in {"code", "yarn"})
SILENT = {"threading_kind": "straight", "margin_on": "all"}
"""What these say when nobody chose; not worth a word in the folded line."""


def _words_in(field: BoundField) -> str:
    """Give what a field says; a box that is ticked says it with True, and one that is not with False."""
    data = field.data
    return ("yes" if data else "") if isinstance(data, bool) else str(data or "").strip()


def _tells(field: BoundField) -> bool:
    text = _words_in(field)
    return bool(text) and text != SILENT.get(field.name)


def _shown(field: BoundField) -> str:
    """Write what a field says, a choice in its words."""
    text = _words_in(field)
    return str(dict(getattr(field.field.widget, "choices", ())).get(text, text))


class BriefForm(forms.Form):
    """Fields for one sheet; as many yarn rows as were typed."""

    def __init__(self, typed: Mapping[str, Any], choices: SheetChoices, *, waste: str = "") -> None:
        super().__init__(data={**typed["form"], "units": typed["units"]}, auto_id="id_%s")
        self.units = Units(typed["units"])
        self.offered = choices
        self.row_count = rows(typed["form"])
        lists = {"beam": choices.beams, "rack": choices.racks, "board": choices.boards}
        names = [*FIELDS, *(f"weft-{part}" for part in WEFT_PARTS)]
        names += [f"yarns-{row}-{part}" for row in range(self.row_count) for part in YARN_PARTS]
        for name in names:
            self.fields[name] = self._field(name, lists.get(name))
        if waste:
            self.fields["waste"].widget.attrs["placeholder"] = waste

    def _field(self, name: str, choices: Choices | None) -> forms.Field:
        words = words_of(name)
        field = SheetField(
            label=words.label, help_text=words.help, required=False, strip=False, widget=widget_of(name, choices)
        )
        field.unit = unit_after(name, self.data.get(name) or "", self.units)
        return field

    def show_mistakes(self, mistakes: Sequence[Mistake]) -> None:
        """Put each mistake beside its field."""
        self.full_clean()
        for mistake in mistakes:
            self.add_error(mistake.field if mistake.field in self.fields else None, mistake.text)

    @property
    def yarn_rows(self) -> list[YarnRow]:
        """The yarn rows in their order."""
        return [self._row(number) for number in range(self.row_count)]

    def _row(self, number: int) -> YarnRow:
        part = {name: self[f"yarns-{number}-{name}"] for name in YARN_PARTS}
        more = tuple(part[name] for name in MORE_OF_YARN)
        telling = (part[name].data for name in MORE_OF_YARN if name not in COME_FILLED_IN)
        return YarnRow(number, part["code"], part["yarn"], more, any(telling) or any(field.errors for field in more))

    @property
    def weft_yarn(self) -> BoundField:
        """The weft, whose name templates could not spell."""
        return self["weft-yarn"]

    @property
    def weft_more(self) -> tuple[BoundField, ...]:
        """What is asked of a weft that is not in the yarn room."""
        return tuple(self[f"weft-{name}"] for name in OF_OWN_YARN)

    @property
    def unit_choices(self) -> Choices:
        """What a bare number may be in."""
        return ((Units.INCH.value, "inches"), (Units.METRIC.value, "centimetres"))

    @property
    def usual_choices(self) -> Choices:
        """Kinds of cloth whose usual losses can be filled in."""
        return USUAL_CHOICES

    @property
    def may_add_yarn(self) -> bool:
        """Say whether one more row fits."""
        return self.row_count < MOST_ROWS

    @property
    def weft_open(self) -> bool:
        """Say whether the weft's own fields hold something, or something to mend."""
        told = any(self[f"weft-{name}"].data for name in ("grist", "colour_name"))
        return told or any(field.errors for field in self.weft_more)

    @property
    def allowances(self) -> FieldGroup:
        """What is kept back or lost in length, each on its own line."""
        return self._group("allowances", "Allowances in length")

    @property
    def groups(self) -> list[FieldGroup]:
        """The rarer fields, each group folded up with what it says."""
        return [self._group(key, title) for key, title in GROUPS.items()]

    def _group(self, key: str, title: str) -> FieldGroup:
        fields = tuple(self[name] for name, field in FIELDS.items() if field.spec.group == key)
        words = [f"{field.label}: {_shown(field)}" for field in fields if _tells(field)]
        return FieldGroup(key, title, fields, ", ".join(words), any(field.errors for field in fields))


class SheetField(forms.CharField):
    """Text exactly as typed, with the unit that a bare number in it has."""

    unit: str = ""


def with_row_added(form: Mapping[str, str]) -> dict[str, str]:
    """Add an empty yarn row with the next free letter."""
    row = rows(form)
    if row >= MOST_ROWS:
        return dict(form)
    taken = {form.get(f"yarns-{at}-code", "").strip().upper() for at in range(row)}
    free = next((usual_code(at) for at in range(MOST_ROWS) if usual_code(at) not in taken), "")
    return {**form, f"yarns-{row}-code": free, f"yarns-{row}-yarn": ""}


def with_row_removed(form: Mapping[str, str], row: int) -> dict[str, str]:
    """Take one yarn row out and close the gap; the last row is only emptied."""
    kept = [at for at in range(rows(form)) if at != row]
    rest = {name: value for name, value in form.items() if not name.startswith("yarns-")}
    for to, source in enumerate(kept):
        rest |= {
            f"yarns-{to}-{part}": form[f"yarns-{source}-{part}"]
            for part in YARN_PARTS
            if f"yarns-{source}-{part}" in form
        }
    return rest if kept else {**rest, "yarns-0-code": usual_code(0), "yarns-0-yarn": ""}


def with_width_tried(form: Mapping[str, str], tried: str) -> dict[str, str]:
    """Ask for another count of ends, and for the shift that comes with it; anything else than a count is no wish."""
    ends, comma, shift = tried.partition(",")
    if not (ends.isascii() and ends.isdecimal() and len(ends) <= LONGEST_COUNT):
        return dict(form)
    moved = {"shift": shift.strip()[:LONGEST_TEXT].replace("\x00", "")} if comma else {}
    return {**form, "width_by": "ends", "ends": ends, **moved}


def with_chains_named(form: Mapping[str, str], named: str) -> dict[str, str]:
    """Ask for some sections as chains beside the box; anything else than positions on the beam is no wish."""
    try:
        places = positions.read(named, None)
    except UnitError:
        return dict(form)
    return {**form, "method": "box", "chain_sections": named} if places else dict(form)


def with_order_tried(form: Mapping[str, str], order: str) -> dict[str, str]:
    """Ask for a whole colour order, every end as typed; nothing is no wish, and the sheet says what is no order."""
    order = order.replace("\x00", "").strip()[:MOST_SIGNS]
    return with_whole_order(form, order) if order else dict(form)


def steered(typed: Mapping[str, Any], posted: Mapping[str, object]) -> dict[str, Any]:
    """Do what a button of the sheet asks: units, a yarn more or fewer, usual losses, a width, an order, chains."""
    form = dict(typed["form"])
    now = Units(typed["units"])
    was = units_of({"units": posted.get("units_were") or now.value})
    form = with_units_kept(form, was, now)
    if "add_yarn" in posted:
        form = with_row_added(form)
    if str(posted.get("remove_yarn", "")).isdecimal():
        form = with_row_removed(form, int(str(posted["remove_yarn"])[:4]))
    form = with_width_tried(form, str(posted.get("try_width", "")))
    form = with_order_tried(form, str(posted.get("try_order", "")))
    form = with_chains_named(form, str(posted.get("wind_chains", "")))
    losses = USUAL_LOSSES.get(str(posted.get("usual", ""))) if "fill" in posted else None
    if losses:
        form |= {name: f"{getattr(losses, name)} %" for name in LOSSES}
    return {"units": now.value, "form": form}
