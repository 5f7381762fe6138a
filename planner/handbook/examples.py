"""The examples of a data sheet as a weaver would write them: what goes in and what comes out, named and with units.

An example is Python that runs as a test. It is run once more here, its calls of the calculator are listened to, and
what went in and came out is written in words. What has no words, such as a whole brief, is left out.
"""

from __future__ import annotations

import dataclasses
import inspect
import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from doctest import DocTestParser, Example
from enum import Enum
from fractions import Fraction
from functools import wraps
from typing import Any

from planner.calc.terms.plan import ColourRun, Quantity, Remark
from planner.plan.formatter import Reader, good_places
from studio.units import Units, rounded

Figures = tuple[tuple[str, str], ...]
UnitOf = Mapping[str, str]

MOST_IN_ROW = 24
MOST_FIELDS = 8
"""A thing with more fields, such as a brief, is not told in one line."""

_NOT_TOLD = frozenset({"source", "note", "number", "yarn_id"})
_HAS_WORDS = (Remark, ColourRun, Quantity)
_IN_INCHES = re.compile(r"\binch(?:es)?\b|\d in\b|\bin round\b")
_IN_YARDS = re.compile(r"\byards?\b")
_TURNED_TO_CM = re.compile(r"254|INCH|inch\b|127|9144|2286|YARD")
_CLASS_UNIT = re.compile(r"(?m)^ *(\w+) : [^\n]*\n[^\[\]]*\[([^\]]+)\]")
_PLURALS = {"dents": "dent", "ends": "end", "turns": "turn", "plies": "ply", "picks": "pick", "pieces": "piece",
            "sections": "section", "shafts": "shaft", "spools": "spool", "repeats": "repeat", "heddles": "heddle",
            "passes": "pass", "packages": "package", "chains": "chain"}  # fmt: skip
_OWN_WORD = frozenset({"", "-", "share", "count"})


@dataclass(frozen=True, slots=True)
class Step:
    """One step of an example.

    Attributes
    ----------
    words : str
        What stands above it; may be empty. [-]
    puts : Figures
        Name and figure of each thing put in that has words. [-]
    gives : Figures
        Name and figure of what comes out. [-]
    figures : Mapping[str, str]
        What was put in, by the calculator's own names. [-]
    """

    words: str
    puts: Figures
    gives: Figures
    figures: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Call:
    """One call of a calculator that an example made."""

    words: str
    source: str
    arguments: Mapping[str, Any]
    result: Any


def steps_of(function: Callable[..., object], lines: Sequence[str], units: UnitOf, results: UnitOf) -> Iterator[Step]:
    """Give the steps of an example that can be told in words."""
    for call in calls_of(function, lines):
        swapped = _length_unit(call)
        figures = {name: said for name, value in call.arguments.items() if (said := _said(value, units, name, swapped))}
        gives = tuple(_results(call.result, results, swapped))
        if gives:
            puts = tuple((spoken(name), said) for name, said in figures.items())
            yield Step(call.words, puts, gives, figures)


def calls_of(function: Callable[..., object], lines: Sequence[str]) -> Iterator[Call]:
    """Run an example and give each call of the calculator it explains."""
    heard: list[tuple[Mapping[str, Any], Any]] = []

    @wraps(function)
    def listened(*args: Any, **named: Any) -> Any:
        result = function(*args, **named)
        result = tuple(result) if inspect.isgenerator(result) else result
        heard.append((inspect.signature(function).bind(*args, **named).arguments, result))
        return result

    space = {**vars(inspect.getmodule(function)), function.__name__: listened}
    pieces = DocTestParser().parse("\n".join(lines))
    words, source = "", "".join(piece.source for piece in pieces if isinstance(piece, Example))
    for piece in pieces:
        if not isinstance(piece, Example):
            words = " ".join(piece.split()) or words
            continue
        exec(compile(piece.source, "<example>", "exec"), space)  # noqa: S102 - our own data sheet, which is tested
        for arguments, result in heard:
            yield Call(words, source, arguments, result)
            words = ""
        heard.clear()


def spoken(name: str) -> str:
    """Say a name of the code as a weaver would.

    Examples
    --------
    >>> spoken("draw_in"), spoken("ends_per_cm")
    ('draw-in', 'ends per cm')
    """
    words = name.strip("* ").replace("_", " ")
    return words.replace("draw in", "draw-in").replace("take up", "take-up")


def _length_unit(call: Call) -> str:
    """Tell whether the lengths of a call stand for inches or yards: a rule of lengths alone serves any unit."""
    if _TURNED_TO_CM.search(call.source):
        return "cm"
    if _IN_INCHES.search(call.words):
        return "in"
    return "yd" if _IN_YARDS.search(call.words) else "cm"


def _said(value: object, units: UnitOf, name: str, length: str) -> str:
    return written(value, units.get(name, "").replace("cm", length)) or ""


def _results(result: object, units: UnitOf, length: str) -> Iterator[tuple[str, str]]:
    """Give what came out; of several things together each by its own name, of a list of them line by line."""
    name, unit = next(iter(units.items()), ("result", ""))
    if isinstance(result, tuple) and len(result) == len(units) > 1:
        for (name, unit), one in zip(units.items(), result, strict=True):
            yield spoken(name), written(one, unit.replace("cm", length))
        return
    if dataclasses.is_dataclass(result) and not isinstance(result, _HAS_WORDS):
        yield from _fields(result, length)
        return
    if isinstance(result, tuple) and result and all(map(_is_made_of_fields, result)):
        for number, one in enumerate(result[:MOST_IN_ROW], start=1):
            yield str(number), _in_line(one, length)
        return
    whole = written(result, unit.replace("cm", length))
    if whole:
        yield spoken(name), whole + _to_the_inch(result, unit, length)


def _to_the_inch(value: object, unit: str, length: str) -> str:
    """Say a count to the centimetre to the inch too, as setts are said in half the world."""
    if length != "cm" or not unit.endswith("/cm") or not isinstance(value, int | float | Fraction):
        return ""
    return f", or {written(value * Fraction(254, 100), unit.replace('/cm', '/in'))}"


def _is_made_of_fields(value: object) -> bool:
    return dataclasses.is_dataclass(value) and not isinstance(value, _HAS_WORDS)


def _fields(value: Any, length: str) -> Iterator[tuple[str, str]]:
    """Give the fields of a thing that have words, each with its unit; what is missing or none is left out."""
    own = dict(_CLASS_UNIT.findall(inspect.getdoc(type(value)) or ""))
    for field in dataclasses.fields(value):
        part = getattr(value, field.name)
        said = (
            ""
            if part is None or part == () or field.name in _NOT_TOLD
            else written(part, own.get(field.name, "").replace("cm", length))
        )
        if said:
            yield spoken(field.name), said


def _in_line(value: object, length: str) -> str:
    return "; ".join(f"{name} {said}" for name, said in _fields(value, length))


def written(value: object, unit: str) -> str:
    """Write a value with its unit; nothing where it has no words.

    Examples
    --------
    >>> written(Fraction(250000), "cm"), written(Fraction(1, 8), "share"), written((8, 7), "ends"), written(print, "-")
    ('250000 cm', '12.5 %', '8, 7 ends', '')
    """
    for kinds, write in _WRITERS:
        if isinstance(value, kinds):
            return write(value, unit)
    if dataclasses.is_dataclass(value):
        return _in_line(value, "cm") if len(dataclasses.fields(value)) <= MOST_FIELDS else ""
    return ""


def _number(value: float | Fraction, unit: str) -> str:
    if unit == "share":
        return f"{rounded(100 * value, good_places(100 * Fraction(value), 2))} %"
    said = rounded(value, good_places(Fraction(value), 2))
    if unit in _OWN_WORD:
        return said
    if value == 1 and unit in _PLURALS:
        return f"1 {_PLURALS[unit]}"
    return f"{said}{'' if unit.startswith('/') else ' '}{unit}"


def _pairs(value: Mapping[object, object], unit: str) -> str:
    said = [(written(key, "-"), written(one, unit)) for key, one in value.items()]
    return ", ".join(f"{key}: {one}" for key, one in said) if all(map(all, said)) else ""


def _many(value: Collection[Any], unit: str) -> str:
    if not value or len(value) > MOST_IN_ROW:
        return "" if value else "none"
    if all(isinstance(one, bool) for one in value):
        return "".join("x" if one else "." for one in value)
    if all(isinstance(one, int | float | Fraction) for one in value):
        return _numbers(value, unit)
    parts = [written(one, unit if not isinstance(one, tuple) else "-") for one in value]
    return _between(value).join(parts) if all(parts) else ""


def _numbers(value: Collection[Any], unit: str) -> str:
    """Write numbers in a row, their unit once at the end; a length and a share in one have none."""
    if unit == "share":
        return ", ".join(written(one, "-" if max(value) > 1 else "share") for one in value)
    row = ", ".join(written(one, "-") for one in value)
    return row if unit in _OWN_WORD else f"{row} {unit}"


def _between(value: Collection[Any]) -> str:
    """Give what parts things in a row: sentences need nothing, rows within a row a stroke."""
    if all(isinstance(one, Remark) for one in value):
        return " "
    nested = any((isinstance(one, Sequence) and not isinstance(one, str)) or _is_made_of_fields(one) for one in value)
    return " | " if nested else ", "


_WRITERS: tuple[tuple[Any, Callable[[Any, str], str]], ...] = (
    (bool, lambda value, _unit: "yes" if value else "no"),
    (type(None), lambda _value, _unit: "none"),
    (int | float | Fraction, _number),
    (Remark, lambda value, _unit: Reader(Units.METRIC).sentence(value).text),
    (ColourRun, lambda value, _unit: f"{value.ends} {value.code}"),
    (Quantity, lambda value, _unit: Reader(Units.METRIC).say(value)),
    (Enum, lambda value, _unit: str(value.value).replace("_", " ")),
    (str, lambda value, _unit: value),
    (Mapping, _pairs),
    (Sequence | set | frozenset, _many),
)
"""What has words, and who writes it; the first that fits does."""
