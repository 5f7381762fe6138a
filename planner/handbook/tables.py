"""The tables that rules name: count systems, usual setts, usual tares, each row with its source.

`tables.toml` says which they are and what stands above their columns; the rows are those the calculators use.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import import_module

from planner.handbook.toml import read_toml, with_unit
from studio.units import Units, rounded

PLACES = 3
IN_INCHES: Mapping[str, tuple[str, Fraction]] = {
    "ends/cm": ("ends/in", Fraction(254, 100)),
    "cm": ("in", Fraction(100, 254)),
}
"""Units of a table for a reader of inches: the word, and what the figure is multiplied by."""

WORDS_FOR = {True: "yes", False: "no", None: ""}


@dataclass(frozen=True, slots=True)
class Table:
    """One table, written for one reader: what stands above its columns, and its rows."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@cache
def table(name: str, units: Units) -> Table:
    """Write a table in a reader's units."""
    asked = read_toml("tables.toml")[name]
    module, _, thing = asked["of"].rpartition(".")
    known = getattr(import_module(module), thing)
    rows = known.items() if isinstance(known, Mapping) else ((None, row) for row in known)
    heads = {field: _for_reader(*with_unit(words), units) for field, words in asked["columns"].items()}
    return Table(
        asked["title"],
        tuple(f"{words}, {unit}" if unit else words for words, unit, _times in heads.values()),
        tuple(
            tuple(
                str(key).capitalize() if field == "key" else cell(getattr(row, field), times)
                for field, (_words, _unit, times) in heads.items()
            )
            for key, row in rows
        ),
    )


def _for_reader(words: str, unit: str, units: Units) -> tuple[str, str, Fraction]:
    return (words, *(IN_INCHES.get(unit, (unit, Fraction(1))) if units is Units.INCH else (unit, Fraction(1))))


def cell(value: object, times: Fraction = Fraction(1)) -> str:
    """Write one figure of a table.

    Examples
    --------
    >>> cell(Fraction(1, 3)), cell(True), cell(None), cell(Fraction(1, 10**9))
    ('0.333', 'yes', '', '1/1000000000')
    >>> cell((Fraction(5), Fraction(5))), cell((Fraction(5), Fraction(6)), Fraction(2))
    ('5', '10 to 12')
    """
    if isinstance(value, tuple):
        return " to ".join(dict.fromkeys(cell(one, times) for one in value))
    if value is None or isinstance(value, bool):
        return WORDS_FOR[value]
    if isinstance(value, int | Fraction | float):
        short = rounded(value * times, PLACES)
        return str(value) if short == "0" and value else short
    return str(value)
