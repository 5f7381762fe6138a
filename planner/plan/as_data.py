"""A whole plan as data for JSON: exact numbers in canonical units, the reader's own words beside them.

A key says its unit (`width_in_reed_cm`); counts are integers, every other number is text, so that nothing is rounded
on the way: a decimal where one is exact, else a fraction such as "1/3". Lengths in which a circle takes part are
given to ten figures. `shown` holds the same numbers as the reader writes them. The order of keys is always the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from planner.calc.terms.plan import Number, Quantity, Remark, Sum, WarpPlan
from planner.plan.formatter import Reader
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


@dataclass(frozen=True, slots=True)
class Column:
    """One field of the plan and how it goes out.

    Attributes
    ----------
    name : str
        Field of the dataclass. [-]
    suffix : str
        Unit added to the key. [-]
    kind : str
        Kind of number, for the reader's words; empty for what needs none. [-]
    columns : tuple[Column, ...]
        Fields of the objects it holds. [-]
    pair : tuple[str, str] | tuple[()]
        Names of the two numbers of each pair it holds. [-]
    """

    name: str
    suffix: str = ""
    kind: str = ""
    columns: tuple[Column, ...] = ()
    pair: tuple[str, str] | tuple[()] = ()


def _each(suffix: str, kind: str, *names: str) -> tuple[Column, ...]:
    return tuple(Column(name, suffix, kind) for name in names)


def _plain(*names: str) -> tuple[Column, ...]:
    return _each("", "", *names)


RUN = _plain("code", "ends")
SECTION = (
    *_plain("position", "ends"),
    Column("runs", columns=RUN),
    Column("runs_from_back", columns=RUN),
    *_plain("setup"),
    *_each("_share", "share", "filled"),
    *_each("_cm", "depth", "depth_per_turn", "depth"),
    *_each("_cm", "distance", "real_length"),
    *_each("_share", "share", "free_left"),
)
SPAN = ("first", "last")
SLOTS = (
    *_plain("code", "spools_off", "spools_on"),
    Column("taken_off", pair=SPAN),
    Column("put_on", pair=SPAN),
)
SETUP = (
    *_plain("number"),
    Column("runs", columns=RUN),
    Column("runs_from_back", columns=RUN),
    *_plain("positions"),
    Column("slots", pair=SPAN),
    Column("changes", columns=SLOTS),
    *_plain("moved", "threaded"),
    *_each("_cm", "distance", "lead_lost"),
)
SPOOLS = (
    *_plain("code", "first", "last", "spools", "sections"),
    *_each("_cm", "distance", "nominal_length", "real_length", "lead_lost", "to_wind"),
)
CHAIN = (
    *_plain("number", "position", "ends", "passes", "odd_ends"),
    Column("groups", pair=("groups", "ends")),
    Column("runs", columns=RUN),
    *_each("_g", "mass", "mass"),
    *_each("_cm", "distance", "length"),
)
TIE = (*_plain("number"), *_each("_cm", "distance", "distance"), *_each("", "turns", "turn"))
STRIPE_SLEY = (
    *_plain("code", "sley"),
    *_each("_ends_per_cm", "sett", "sett"),
    *_each("_share", "share", "error"),
)
REED = (
    *_plain("reed", "sley"),
    *_each("_ends_per_cm", "sett", "sett"),
    *_each("_share", "share", "error"),
    *_plain("dents", "empty_left", "start_dent"),
    *_each("_cm", "length", "width"),
    *_plain("room", "knot_passes"),
    Column("stripes", columns=STRIPE_SLEY),
)
YARN = (
    *_plain("code", "ends"),
    *_each("_cm", "distance", "warp_nominal", "warp_real"),
    *_each("_g", "mass", "warp_mass"),
    *_each("_cm", "distance", "weft"),
    *_each("_g", "mass", "weft_mass", "on_hand", "short"),
    *_each("", "money", "cost"),
)
COST = _each("", "money", "warp", "weft", "whole", "of_a_piece")
TURN = (
    *_plain("turn"),
    *_each("_cm", "distance", "length"),
    *_each("_cm", "length", "circumference"),
    *_each("_cm", "depth", "depth"),
)
KNOT = (
    *_each("_cm", "length", "past_bar", "to_next_bar"),
    *_plain("clear"),
    *_each("_cm", "length", "mend"),
    *_plain("too_long"),
)
ONE_MORE = (*_each("_cm", "length", "needs", "left", "margin"), *_plain("fits"))
EDGE = (
    *_plain("kind", "ends", "dummy_ends", "sections", "edge_ends", "edge_full"),
    *_each("_cm", "length", "width"),
    *_each("_ends_per_cm", "sett", "setts"),
    *_each("_cm", "length", "shift", "shorter"),
    *_each("", "share", "share"),
    *_plain("partial"),
)
ALTERNATIVE = (
    *_plain("sections_full", "repeats_whole", "ends", "change"),
    *_each("_cm", "length", "width", "finished_width"),
    *_plain("sections"),
    *_each("_cm", "length", "shift"),
    *_plain("repeats"),
)
LAYOUTS = (*_plain("repeat"), *_each("", "ends", "section"), *_plain("layouts", "one_layout"))
MISMATCH = (
    *_plain("deep", "shallow"),
    *_each("_cm", "length", "longer"),
    *_each("", "share", "share"),
    *_each("_cm", "length", "longer_at_twice"),
    *_each("", "share", "share_at_twice"),
)
WAY = (
    *_plain("way", "spools", "at_once", "setups", "tyings", "chains", "passes"),
    *_each("_cm", "distance", "longest", "lead_lost"),
    *_plain("chain_sections"),
)
TURNS = _plain("fewest", "likely", "safe")
DISTANCES = _each("_cm", "distance", "low", "likely", "high")
LENGTHS = _each("_cm", "length", "low", "likely", "high")
DEPTHS = _each("_cm", "depth", "low", "likely", "high")
HELD = _each("", "turns", "low", "likely", "high")
TIES = _plain("tops", "bottoms", "chokes")
THREADING = _plain("number", "ends", "starts_at", "first_shaft", "last_shaft", "on_each", "so_far", "on_each_so_far")
SPARE = _plain("left", "right", "short")
SLEY_RUN = _plain("times", "in_dents")
SLEY = (
    *_plain("number", "first_dent", "last_dent"),
    Column("runs", columns=SLEY_RUN),
    *_plain("shares_first", "shares_last"),
)
PLAN = (
    *_plain("ends", "ends_elsewhere", "floating_selvedge", "repeats", "balance"),
    *_each("_ends_per_cm", "sett", "sett", "setts"),
    *_each("_cm", "length", "width_in_reed", "finished_width"),
    Column("pattern", columns=RUN),
    *_each("_cm", "distance", "length_wanted", "warp_length"),
    *_plain("turns"),
    *_each("", "turns", "turns_exact"),
    *_plain("turns_with_build_up"),
    *_each("_cm", "distance", "real_length"),
    *_plain("most_turns"),
    *_each("_cm", "distance", "longest_warp"),
    *_each("_cm", "length", "end_circumference"),
    Column("turns_range", columns=TURNS),
    Column("length_range", columns=DISTANCES),
    Column("round_range", columns=LENGTHS),
    Column("depth_range", columns=DEPTHS),
    Column("most_turns_range", columns=HELD),
    Column("longest_range", columns=DISTANCES),
    Column("reed", columns=REED),
    Column("reeds", columns=REED),
    Column("sections", columns=SECTION),
    Column("setups", columns=SETUP),
    *_plain("fewest_moved"),
    *_each("_cm", "distance", "lead_lost"),
    *_each("_g", "mass", "lead_lost_mass"),
    Column("spools", columns=SPOOLS),
    Column("chains", columns=CHAIN),
    Column("ties", columns=TIE),
    Column("raddle", pair=("spaces", "ends")),
    *_plain("heddles"),
    Column("yarn", columns=YARN),
    Column("cost", columns=COST),
    Column("turn_table", columns=TURN),
    Column("knot", columns=KNOT),
    *_each("_degrees", "angle", "comb_angle"),
    Column("one_more", columns=ONE_MORE),
    Column("edge_choices", columns=EDGE),
    Column("alternatives", columns=ALTERNATIVE),
    Column("repeat_layouts", columns=LAYOUTS),
    Column("mismatches", columns=MISMATCH),
    Column("fewer_spools", columns=WAY),
    Column("short_spools", columns=SPOOLS),
    Column("tie_marks", columns=TIES),
    Column("threading_guide", columns=THREADING),
    Column("spare_heddles", columns=SPARE),
    Column("sley_guide", columns=SLEY),
)


def plan_as_data(plan: WarpPlan, units: Units) -> dict[str, Any]:
    """Give the plan as a dict of JSON's own kinds, with `shown` text in the reader's units."""
    reader = Reader(units)
    return {
        "units": units.value,
        **_row(PLAN, plan, reader),
        "sums": [_sum(line, reader) for line in plan.sums],
        "remarks": [_remark(remark, reader) for remark in plan.remarks],
    }


def _row(columns: tuple[Column, ...], thing: object, reader: Reader) -> dict[str, Any]:
    row: dict[str, Any] = {}
    shown: dict[str, str] = {}
    for column in columns:
        value = getattr(thing, column.name)
        row[column.name + column.suffix] = _value(column, value, reader)
        if column.kind and value is not None:
            several = isinstance(value, tuple)
            shown[column.name] = reader.setts(value) if several else reader.say(Quantity(value, column.kind))
    return {**row, "shown": shown} if shown else row


def _value(column: Column, value: Any, reader: Reader) -> object:
    if column.pair:
        return [dict(zip(column.pair, one, strict=True)) for one in value]
    if column.columns and isinstance(value, tuple):
        return [_row(column.columns, one, reader) for one in value]
    if column.columns:
        return None if value is None else _row(column.columns, value, reader)
    if isinstance(value, tuple):
        return [number_text(one) if isinstance(one, Fraction | float) else one for one in value]
    if isinstance(value, StrEnum):
        return value.value
    return number_text(value) if isinstance(value, Fraction | float) or column.kind else value


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


def _quantity(quantity: Quantity, reader: Reader) -> dict[str, Any]:
    return {
        "value": number_text(quantity.value),
        "unit": UNIT_OF.get(quantity.kind, ""),
        "shown": reader.say(quantity),
    }


def _sum(line: Sum, reader: Reader) -> dict[str, Any]:
    said = reader.line(line)
    return {
        "key": said.key,
        "group": said.group,
        "label": said.label,
        "formula": said.formula,
        "result": said.result,
        "source": said.source,
        "inputs": [{"name": name, **_quantity(quantity, reader)} for name, quantity in line.inputs],
        "exact": _quantity(line.result, reader),
    }


def _remark(remark: Remark, reader: Reader) -> dict[str, str]:
    said = reader.sentence(remark)
    return {"code": said.code, "severity": said.severity.value, "text": said.text, "advice": said.advice}
