"""The figures and tables that a data sheet names: count systems, usual setts, tolerances, with their sources.

A name in capitals between grave accents is looked up in the calculator's own module, so the page shows what is used.
"""

from __future__ import annotations

import dataclasses
import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

from studio.units import Units, rounded

_NAMED = re.compile(r"`([A-Z][A-Z_]+)`")
_UNIT = re.compile(r"(?m)^ *(\w+) : [^\n]*\n[^\[\]]*\[([^\]]+)\]")
PLACES = 3
Row = tuple[str, ...]
IN_INCHES = {"ends/cm": ("ends/in", Fraction(254, 100)), "cm": ("in", Fraction(100, 254))}
"""Units of a table for a reader of inches: the word, and what the figure is multiplied by."""

WORDS_FOR = {True: "yes", False: "no", None: ""}


CONSTANTS: Mapping[str, tuple[Fraction, str]] = MappingProxyType({
    "EXACT_UP_TO": (Fraction(12), "twelve"),
    "FARTHEST": (Fraction(1, 4), "a quarter of the planned count"),
    "KNOT_ROOM": (Fraction(1, 4), "a quarter"),
    "KNOT_WIDTH": (Fraction(3), "three ends"),
    "LENGTH_TOLERANCE": (Fraction(1, 10**9), "a thousand-millionth part of it"),
    "MOST_LOOKS": (Fraction(20_000), "20 000"),
    "MOST_TRIED": (Fraction(100), "a hundred"),
    "MOST_PAIRS": (Fraction(15), "fifteen"),
    "MUCH_TO_ONE_SIDE": (Fraction(3), "three"),
    "NARROW_MARGIN": (Fraction(1, 8), "an eighth"),
    "STEP_TOLERANCE": (Fraction(1, 10**9), "a thousand-millionth part"),
    "TOLERANCE": (Fraction(1, 10**6), "a millionth of a centimetre"),
    "LONGEST_TEXT": (Fraction(60), "sixty signs"),
})  # fmt: skip
"""Fixed figures that rules name, each with its worth and how it is said; tests hold the worth to the code."""


@dataclass(frozen=True, slots=True)
class Table:
    """One table that a rule uses: what stands above its columns, and its rows."""

    name: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    others: tuple[tuple[str, ...], ...] = ()
    heads: tuple[str, ...] = ()

    def shown(self, units: Units) -> Table:
        """Give the table in a reader's units; it is written in cm, g and ends to the centimetre."""
        return self if units is Units.METRIC else replace(self, columns=self.heads, rows=self.others)


def tables_named(function: Callable[..., object]) -> Iterator[Table]:
    """Give the tables that a data sheet names: those whose rows are dataclasses."""
    for name, thing in _named(function):
        keys = list(thing) if isinstance(thing, Mapping) else []
        rows = list(thing.values()) if isinstance(thing, Mapping) else list(thing) if isinstance(thing, tuple) else []
        if rows and dataclasses.is_dataclass(rows[0]):
            yield _table(name, rows, [] if hasattr(rows[0], "name") else keys)


def _named(function: Callable[..., object]) -> Iterator[tuple[str, object]]:
    known = vars(inspect.getmodule(function))
    for name in dict.fromkeys(_NAMED.findall(inspect.getdoc(function) or "")):
        if name in known:
            yield name, known[name]


def _table(name: str, rows: list[object], keys: list[object]) -> Table:
    """Write a table; rows without a name of their own go by their keys."""
    columns, cells = _written(rows, keys, Units.METRIC)
    heads, others = _written(rows, keys, Units.INCH)
    return Table(name, name.replace("_", " ").capitalize(), columns, cells, others, heads)


def _written(rows: list[object], keys: list[object], units: Units) -> tuple[Row, tuple[Row, ...]]:
    """Write the heads and the rows of a table for a reader."""
    in_cm = dict(_UNIT.findall(inspect.getdoc(type(rows[0])) or ""))
    names = [field.name for field in dataclasses.fields(rows[0]) if field.name != "key"]  # type: ignore[arg-type]
    columns = tuple(_column(field, _unit(in_cm.get(field, "-"), units)) for field in names)
    cells = tuple(tuple(_cell_in(getattr(row, field), in_cm.get(field, "-"), units) for field in names) for row in rows)
    if not keys:
        return columns, cells
    named = tuple((str(key).capitalize(), *row) for key, row in zip(keys, cells, strict=True))
    return ("Kind", *columns), named


def _unit(unit: str, units: Units) -> str:
    return IN_INCHES[unit][0] if units is Units.INCH and unit in IN_INCHES else unit


def _cell_in(value: object, unit: str, units: Units) -> str:
    if units is Units.METRIC or unit not in IN_INCHES or not value:
        return cell(value)
    times = IN_INCHES[unit][1]
    return cell(tuple(one * times for one in value) if isinstance(value, tuple) else value * times)  # type: ignore[operator]


def _column(field: str, unit: str) -> str:
    words = field.replace("_", " ").capitalize()
    return words if unit in {"-", field} else f"{words}, {unit}"


def cell(value: object) -> str:
    """Write one figure of a table.

    Examples
    --------
    >>> cell(Fraction(1, 3)), cell(True), cell(None), cell(Fraction(1, 10**9))
    ('0.333', 'yes', '', '1/1000000000')
    >>> cell((Fraction(5), Fraction(5))), cell((Fraction(5), Fraction(6)))
    ('5', '5 to 6')
    """
    if isinstance(value, tuple):
        return " to ".join(dict.fromkeys(map(cell, value)))
    if value is None or isinstance(value, bool):
        return WORDS_FOR[value]
    if isinstance(value, int | Fraction | float):
        short = rounded(value, PLACES)
        return str(value) if short == "0" and value else short
    return str(value)
