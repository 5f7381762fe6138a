"""The kinds of value in a brief document: how each is read from JSON, and written so that it reads back exactly.

Every reader here is total: whatever JSON holds, it gives a value or raises `UnitError` with a sentence.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Any

from inventory.calc.count import (
    FINEST,
    THICKEST,
    metres_per_kilogram,
    read_grist,
    tex_of_metres_per_kilogram,
    tex_of_yards_per_pound,
    yards_per_pound,
)
from planner.brief.colour_order import write_order
from planner.calc.terms.brief import MOST_SECTIONS
from planner.calc.terms.positions import spans
from studio.units import (
    KINDS,
    LARGEST,
    UnitError,
    Units,
    exact_text,
    factor,
    in_units,
    read,
    read_number,
    rounded,
    usual,
)

LONGEST_WORDS = 40_000
"""Characters of a colour order or a threading; a full one of two thousand runs still fits."""

MOST_DIGITS = 400
"""Digits above or below the line of an exact fraction: more than any label can make, few enough to be quick."""

MINUS = frozenset("-\N{MINUS SIGN}")


_FRACTION = re.compile(r"(?P<top>\d{1,400})/(?P<low>\d{1,400})", re.ASCII)
_LONG = re.compile(r"(?P<number>\d{1,400}/\d{1,400}) ?(?P<unit>\D.{0,19})", re.ASCII)
_COLOUR = re.compile(r"#[0-9a-f]{6}", re.ASCII)
_CODE = re.compile(r"[^\W\d_][\w -]{0,11}")


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of value: `read(json value, units)` and `write(value)` are each other's way back."""

    read: Callable[[Any, Units | None], Any]
    write: Callable[[Any], Any] = lambda value: value


def printable(text: object, most: int = 40) -> str:
    """Give text that can stand in any answer: short, and nothing in it that a terminal or an encoder trips over."""
    return "".join(sign if sign.isprintable() else "?" for sign in str(text)[:most])


def text_of(value: object, most: int, example: str, *, lines: bool = False) -> str:
    """Give a value as bounded text without control signs; with `lines` it may have several."""
    if not isinstance(value, str):
        raise UnitError("not_text", f"Write it as text, such as “{example}”.")
    if len(value) > most:
        raise UnitError("too_long", f"That is too long; {most} characters are the most.")
    allowed = "\r\n" if lines else ""
    if any(unicodedata.category(sign) in {"Cc", "Cs"} and sign not in allowed for sign in value):
        raise UnitError("odd_signs", "Leave out control signs and half characters.")
    return value.strip()


def words(most: int, *, needed: bool = False) -> Kind:
    """Make the kind of a short plain text."""

    def read_words(value: object, _units: Units | None) -> str:
        text = text_of(value, most, "a few words")
        if needed and not text:
            raise UnitError("missing", "Write something here.")
        return text

    return Kind(read_words)


def _read_colour(value: object, _units: Units | None) -> str:
    text = text_of(value, 20, "#3b5b8c").lower()
    if text and not _COLOUR.fullmatch(text):
        raise UnitError("not_a_colour", "Give the colour as # and six hexadecimal digits, such as “#3b5b8c”.")
    return text


def _read_code(value: object, _units: Units | None) -> str:
    text = " ".join(text_of(value, 20, "A").split())
    if not _CODE.fullmatch(text):
        raise UnitError("not_a_code", "A code is a letter, then up to eleven letters, figures or dashes, such as A.")
    return text


colour = Kind(_read_colour)
code = Kind(_read_code)


def choice(words_allowed: type[StrEnum] | tuple[str, ...]) -> Kind:
    """Make the kind of a value that is one of a few words."""
    allowed = tuple(words_allowed)

    def read_choice(value: object, _units: Units | None) -> str:
        if not isinstance(value, str) or value not in allowed:
            raise UnitError("not_a_choice", f"Choose one of: {', '.join(allowed)}.")
        return words_allowed(value) if isinstance(words_allowed, type) else value

    return Kind(read_choice, str)


def whole(least: int, most: int) -> Kind:
    """Make the kind of a whole number, as a JSON integer or its digits."""

    def read_whole(value: object, _units: Units | None) -> int:
        if isinstance(value, str) and re.fullmatch(r"\s*\d{1,20}\s*", value, re.ASCII):
            value = int(value)
        if isinstance(value, bool) or not isinstance(value, int):
            raise UnitError("not_whole", "Give a whole number, without quotes or a decimal point.")
        if not least <= value <= most:
            raise UnitError("out_of_range", f"Give a whole number from {least} to {most}.")
        return value

    return Kind(read_whole)


def _read_flag(value: object, _units: Units | None) -> bool:
    if not isinstance(value, bool):
        raise UnitError("not_yes_or_no", "Write true or false, without quotes.")
    return value


flag = Kind(_read_flag)


def _number(text: str) -> Fraction:
    """Read a number as typed, or the long “p/q” that we write ourselves where no decimal is exact."""
    match = _FRACTION.fullmatch(text)
    if not match:
        return read_number(text)
    if not int(match["low"]):
        raise UnitError("not_a_number", "A fraction needs something other than 0 below the line.")
    number = Fraction(int(match["top"]), int(match["low"]))
    if number > LARGEST:
        raise UnitError("too_large", "That number is too large.")
    return number


def _exact(text: str, size_of: Callable[[str], Fraction | None]) -> Fraction | None:
    """Read a long “p/q unit”; None when the text is something else."""
    match = _LONG.fullmatch(text)
    size = size_of(" ".join(match["unit"].lower().split())) if match else None
    return None if match is None or size is None else _number(match["number"]) * size


def _figures(value: object, example: str) -> str:
    """Give a quantity as text: a string, or a JSON integer. A decimal JSON number is already rounded, so refused."""
    if isinstance(value, int) and not isinstance(value, bool):
        if abs(value) > LARGEST:
            raise UnitError("too_large", "That number is too large.")
        return str(value)
    return text_of(value, 2 * MOST_DIGITS + 30, example)


def quantity(kind: str, *, signed: bool = False) -> Kind:
    """Make the kind of a number with a unit, one of `studio.units.KINDS`."""
    measure = KINDS[kind]
    example = f"2 {usual(kind)}"

    def size(label: str) -> Fraction | None:
        return factor(measure.labels[label], measure.canonical) if label in measure.labels else None

    def read_quantity(value: object, units: Units | None) -> Fraction:
        text = _figures(value, example)
        minus = signed and text[:1] in MINUS
        text = text[1:].lstrip() if minus else text
        exact = _exact(text, size)
        number = read(text, kind, units) if exact is None else exact
        return -number if minus else number

    return Kind(read_quantity, lambda value: write_quantity(value, kind))


@lru_cache(maxsize=2_048)
def write_quantity(value: Fraction, kind: str) -> str:
    """Write a canonical number with the unit in which it is shortest, exact in any case.

    Examples
    --------
    >>> write_quantity(Fraction(9144, 100), "length"), write_quantity(Fraction(25), "length")
    ('36 in', '25 cm')
    >>> write_quantity(Fraction(1, 3), "share"), write_quantity(Fraction(1, 9999999), "length")
    ('33 1/3 %', '1/9999999 cm')
    """
    if value < 0:
        return f"-{write_quantity(-value, kind)}"
    figures = {units: exact_text(value, kind, units) for units in Units}
    tried = sorted(("/" in figure, len(figure), f"{figure} {usual(kind, units)}") for units, figure in figures.items())
    for _is_fraction, _length, text in tried:
        if _reads_back(text, value, kind):
            return text
    number = in_units(value, kind, Units.METRIC)
    return f"{number.numerator}/{number.denominator} {usual(kind, Units.METRIC)}"


def _reads_back(text: str, value: Fraction, kind: str) -> bool:
    try:
        return read(text, kind, None) == value
    except UnitError:
        return False


def read_tex(text: str) -> Fraction:
    """Read a fineness as `write_tex` writes it.

    Examples
    --------
    >>> read_tex("100/3 tex"), read_tex(write_tex(Fraction(100, 7)))
    (Fraction(100, 3), Fraction(100, 7))
    """
    return _read_tex(text, None)


def _read_tex(value: object, units: Units | None) -> Fraction:
    """Read a fineness: our own exact “p/q tex”, or whatever a label says."""
    text = text_of(value, 2 * MOST_DIGITS + 30, "3360 yd/lb")
    exact = _exact(text, lambda label: Fraction(1) if label == "tex" else None)
    if exact is None:
        return read_grist(text, units)
    if not FINEST <= exact <= THICKEST:
        raise UnitError("out_of_range", f"A yarn lies between {rounded(FINEST, 1)} and {rounded(THICKEST, 0)} tex.")
    return exact


_GRISTS: tuple[tuple[str, Callable[[Fraction], Fraction], Callable[[Fraction], Fraction]], ...] = (
    ("yd/lb", yards_per_pound, tex_of_yards_per_pound),
    ("m/kg", metres_per_kilogram, tex_of_metres_per_kilogram),
    ("tex", Fraction, Fraction),
)


def write_tex(tex: Fraction) -> str:
    """Write a fineness exactly: as a label says it where that is a short figure, else as a fraction of a tex.

    Examples
    --------
    >>> write_tex(tex_of_yards_per_pound(Fraction(3360))), write_tex(Fraction(100, 3))
    ('3360 yd/lb', '30000 m/kg')
    """
    for label, there, back in _GRISTS:
        number = rounded(there(tex), 3)
        if back(Fraction(number) or Fraction(1)) == tex:
            return f"{number} {label}"
    return f"{tex.numerator}/{tex.denominator} tex"


grist = Kind(_read_tex, write_tex)


def _read_price(value: object, _units: Units | None) -> Fraction:
    money, bar, per = text_of(value, 2 * MOST_DIGITS + 30, "2.40 /100 g").rpartition("/")
    if not bar or not money.strip():
        raise UnitError("unit_missing", "Say for how much yarn, such as “2.40 /100 g” or “1.90 /oz”.")
    mass = read(per if per.strip()[:1].isdigit() else f"1 {per}", "mass", None)
    if mass <= 0:
        raise UnitError("not_above_zero", "The weight the price is for must be above zero.")
    return _number(money.strip()) / mass


def write_price(price: Fraction) -> str:
    """Write money per gram as a price of 100 g.

    Examples
    --------
    >>> write_price(Fraction(24, 1000)), write_price(Fraction(1, 300))
    ('2.4 /100 g', '1/3 /100 g')
    """
    hundred = price * 100
    short = rounded(hundred, 4)
    figures = short if Fraction(short) == hundred else f"{hundred.numerator}/{hundred.denominator}"
    return f"{figures} /100 g"


price = Kind(_read_price, write_price)


def _read_order_text(value: object, _units: Units | None) -> str:
    """Take the words as they are: they can be read only when the yarns and their names are known."""
    return text_of(value, LONGEST_WORDS, "15 A, 9 B, 6 C")


colour_order = Kind(_read_order_text, write_order)


def whole_list(least: int, most: int, longest: int) -> Kind:
    """Make the kind of a list of whole numbers."""
    one = whole(least, most)

    def read_list(value: object, units: Units | None) -> tuple[int, ...]:
        if not isinstance(value, list | tuple) or len(value) > longest:
            raise UnitError("not_a_list", f"Give a list of whole numbers, {longest} at the most.")
        return tuple(one.read(number, units) for number in value)

    return Kind(read_list, list)


_POSITIONS = whole_list(1, MOST_SECTIONS, MOST_SECTIONS)
_SPAN = re.compile(r"(?P<first>\d{1,6})(?:-(?P<last>\d{1,6}))?", re.ASCII)


def _read_positions(value: object, units: Units | None) -> tuple[int, ...]:
    """Read positions on the beam: a list of them, or text in which a hyphen or an en dash makes a span."""
    if isinstance(value, list):
        return tuple(_POSITIONS.read(value, units))
    text = " ".join(text_of(value, LONGEST_WORDS, "3, 7-9").replace("\N{EN DASH}", "-").split())
    places: list[int] = []
    for part in text.replace(" -", "-").replace("- ", "-").replace(",", " ").replace(";", " ").split():
        places += _span(part)
        if len(places) > MOST_SECTIONS:
            raise UnitError("too_many", f"That names more than {MOST_SECTIONS} positions.")
    return tuple(places)


def _span(part: str) -> range:
    match = _SPAN.fullmatch(part)
    if match is None:
        raise UnitError("not_positions", "Write positions on the beam and spans of them, such as “3, 7-9”.")
    first, last = int(match["first"]), int(match["last"] or match["first"])
    if last < first:
        raise UnitError("span_backwards", f"Write the lower position first: {last}-{first}.")
    if not 1 <= first <= last <= MOST_SECTIONS:
        raise UnitError("out_of_range", f"Positions on the beam are whole numbers from 1 to {MOST_SECTIONS}.")
    return range(first, last + 1)


positions = Kind(_read_positions, lambda places: spans(places, "-"))
