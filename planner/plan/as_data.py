"""A whole plan as data for JSON: exact numbers in canonical units, the reader's own words beside them.

A key says its unit (`width_in_reed_cm`); counts are integers, every other number is text, so that nothing is rounded
on the way: a decimal where one is exact, else a fraction such as "1/3". Lengths in which a circle takes part are
given to ten figures. `shown` holds the same numbers as the formatter writes them. The order of keys is always the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields, is_dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any, TypeGuard

from planner.calc.terms.kinds import Kind, Pair, kinds_of
from planner.calc.terms.plan import (
    Number,
    Quantity,
    Remark,
    Section,
    Setup,
    SlotChange,
    SpoolGroup,
    Sum,
    WarpPlan,
    YarnNeed,
)
from planner.plan.formatter import Formatter
from studio.units import Units

MOST_PLACES = 12
UNIT_OF: Mapping[str, str] = MappingProxyType(
    {
        "length": "cm",
        "distance": "cm",
        "depth": "cm",
        "sett": "ends/cm",
        "picks": "picks/cm",
        "wraps": "wraps/cm",
        "dents": "dents/cm",
        "mass": "g",
        "density": "g/cm3",
        "share": "share",
        "ends": "ends",
        "turns": "turns",
        "tex": "tex",
        "grist": "tex",
        "angle": "degrees",
        "degrees": "degrees",
        "money": "money",
        "price_of_100_g": "money/g",
    }
)
"""Canonical unit of each kind of number; a kind not named here is a bare number."""


COUNTED = frozenset({"turns", "ends", "money"})
"""Kinds whose unit a key does not say."""

PAGES = (
    ("cloth", "ends_here:ends ends_elsewhere"), ("yarn", "floating:floating_selvedge"),
    ("cloth", "repeats balance sett setts width_in_reed finished_width pattern"), ("length", "wanted:length_wanted"),
    ("beam", "warp_length turns turns_exact turns_with_build_up real_length most_turns longest_warp"),
    ("beam", "end_circumference turns_range length_range round_range depth_range most_turns_range longest_range"),
    ("reed", "best:reed reeds"),
    ("winding", "sections setups fewest_moved lead_lost lead_lost_mass spools chains ties raddle"),
    ("threading", "heddles"), ("yarn", "needs:yarn cost"), ("beam", "turn_table"), ("winding", "knot comb_angle"),
    ("", "one_more"), ("choices", "edges:edge_choices alternatives layouts:repeat_layouts mismatches"),
    ("winding", "fewer_spools short_spools tie_marks"),
    ("threading", "guide:threading_guide spare:spare_heddles sleys:sley_guide"),
)  # fmt: skip
"""What goes out of each part of the plan, in the order of the keys: one flat object, as cards were first stored."""

PARTS: Mapping[type, str] = MappingProxyType({
    Section: "position ends runs runs_from_back setup filled depth_per_turn depth real_length free_left",
    Setup: "number runs runs_from_back positions slots changes moved threaded lead_lost",
    SlotChange: "code spools_off spools_on taken_off put_on",
    SpoolGroup: "code first last spools sections nominal_length real_length lead_lost to_wind",
    YarnNeed: "code ends warp_nominal warp_real warp_mass weft weft_mass on_hand short cost",
})  # fmt: skip
"""What goes out of parts that do not simply give their fields in order."""


def plan_as_data(plan: WarpPlan, units: Units) -> dict[str, Any]:
    """Give the plan as a dict of JSON's own kinds, with `shown` text in the reader's units."""
    formatter = Formatter(units)
    rows = [_row(getattr(plan, page) if page else plan, names, formatter) for page, names in PAGES]
    return {
        "units": units.value,
        **{key: value for row, _ in rows for key, value in row.items()},
        "shown": {name: text for _, shown in rows for name, text in shown.items()},
        "sums": [_sum(line, formatter) for line in plan.sums],
        "remarks": [_remark(remark, formatter) for remark in plan.remarks],
    }


def _row(
    part: Any, names: str, formatter: Formatter, within: Kind | None = None
) -> tuple[dict[str, Any], dict[str, str]]:
    """Give what a part holds by keys that say its units, and the reader's words beside it."""
    row: dict[str, Any] = {}
    shown: dict[str, str] = {}
    whose: type = type(part)
    for name, called, kind in _columns(whose, names):
        value, measure = getattr(part, name), within or kind
        row[_key(called, measure)] = _value(value, measure, formatter)
        if _is_figure(measure) and value is not None:
            several = isinstance(value, tuple)
            shown[called] = formatter.setts(value) if several else formatter.quantity(Quantity(value, measure.name))
    return row, shown


def _is_figure(kind: Kind | Pair | None) -> TypeGuard[Kind]:
    return isinstance(kind, Kind) and not kind.within


@cache
def _columns(part: type, names: str) -> tuple[tuple[str, str, Kind | Pair | None], ...]:
    kinds = kinds_of(part)
    pairs = (name.partition(":") for name in names.split())
    return tuple((name, called or name, kinds.get(name)) for name, _, called in pairs)


@cache
def _key(name: str, kind: Kind | Pair | None) -> str:
    """Add the unit to a name, unless the name says it: `share_at_twice`."""
    unit = UNIT_OF[kind.name] if _is_figure(kind) and kind.name not in COUNTED else ""
    return f"{name}_{unit.replace('/', '_per_')}" if unit and unit not in name.split("_") else name


def _value(value: Any, kind: Kind | Pair | None, formatter: Formatter) -> object:
    if is_dataclass(value):
        return _part(value, Kind(kind.name) if isinstance(kind, Kind) else None, formatter)
    if isinstance(kind, Pair):
        return [dict(zip(kind.names, pair, strict=True)) for pair in value]
    if isinstance(value, tuple):
        return [_value(one, None, formatter) for one in value]
    if isinstance(value, StrEnum):
        return value.value
    return number_text(value) if isinstance(value, Fraction | float) or kind else value


def _part(part: Any, kind: Kind | None, formatter: Formatter) -> dict[str, Any]:
    names = PARTS.get(type(part)) or " ".join(field.name for field in fields(part))
    row, shown = _row(part, names, formatter, kind)
    return {**row, "shown": shown} if shown else row


def number_text(value: Number | None) -> str | None:
    """Write a number in full: exact for fractions, ten figures for what a circle made.

    Examples
    --------
    >>> number_text(Fraction(1524, 25)), number_text(Fraction(1, 3)), number_text(1015.7460000001)
    ('60.96', '1/3', '1015.746')
    """
    if value is None:
        return None
    if isinstance(value, float):
        return _without_zeros(f"{Decimal(f'{value:.10g}'):f}")
    exact = Fraction(value)
    if (exact * 10**MOST_PLACES).denominator > 1:
        return f"{exact.numerator}/{exact.denominator}"
    whole, part = divmod(abs(exact.numerator) * 10**MOST_PLACES // exact.denominator, 10**MOST_PLACES)
    return _without_zeros(f"{'-' if exact < 0 else ''}{whole}.{part:0{MOST_PLACES}d}")


def _without_zeros(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def _quantity(quantity: Quantity, formatter: Formatter) -> dict[str, Any]:
    return {
        "value": number_text(quantity.value),
        "unit": UNIT_OF.get(quantity.kind, ""),
        "shown": formatter.quantity(quantity),
    }


def _sum(line: Sum, formatter: Formatter) -> dict[str, Any]:
    return {
        **asdict(formatter.line(line)),
        "inputs": [{"name": name, **_quantity(quantity, formatter)} for name, quantity in line.inputs],
        "exact": _quantity(line.result, formatter),
    }


def _remark(remark: Remark, formatter: Formatter) -> dict[str, str]:
    return {**asdict(formatter.sentence(remark)), "severity": remark.severity.value}
