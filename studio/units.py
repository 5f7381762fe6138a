"""Numbers with units, in and out: the one module between what people type and what is calculated.

Inside Warproom every quantity is an exact `fractions.Fraction` in one canonical unit: cm, g, tex,
ends/cm. This module alone knows pint; it asks the registry once for each factor, exactly, and keeps
the answer, so reading a form costs microseconds and never passes through a float.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import MappingProxyType

import pint

Number = int | Fraction | float

LONGEST_TEXT = 60
"""Characters of a typed quantity; anything longer is not a quantity and is refused unread."""

LARGEST = Fraction(10**9)
"""Bound on a typed number: keeps hostile input from growing exact fractions without end."""


class Units(StrEnum):
    """The two habits of a weaving room; a member chooses one, a plan is the same in both."""

    INCH = "inch"
    METRIC = "metric"


class UnitError(ValueError):
    """What was typed is not a quantity of the wanted kind; `code` and a sentence say why."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code
        self.message = message


@dataclass(frozen=True, slots=True)
class QuantityKind:
    """One kind of quantity: its canonical unit, its usual units, and how it is shown.

    Attributes
    ----------
    name : str
        Key of the kind. [-]
    canonical : str
        Unit of the calculated number, in pint's spelled-out words. [-]
    labels : Mapping[str, str]
        Label a person may type, lower case, to pint's words. [-]
    usual : Mapping[Units, str]
        Label meant when a bare number is typed, and shown. [-]
    places : Mapping[Units, int]
        Decimal places shown; trailing zeros are dropped. [-]
    """

    name: str
    canonical: str
    labels: Mapping[str, str]
    usual: Mapping[Units, str]
    places: Mapping[Units, int]


_LENGTHS = MappingProxyType({
    "in": "inch", "inch": "inch", "inches": "inch", '"': "inch", "″": "inch",
    "ft": "foot", "feet": "foot", "foot": "foot", "'": "foot", "’": "foot", "′": "foot",
    "yd": "yard", "yds": "yard", "yard": "yard", "yards": "yard",
    "mm": "millimeter", "cm": "centimeter", "m": "meter", "metre": "meter", "metres": "meter",
})  # fmt: skip
_PER_LENGTH = MappingProxyType({
    "/in": "1/inch", "per in": "1/inch", "per inch": "1/inch", "epi": "1/inch", "ppi": "1/inch",
    "dpi": "1/inch", "wpi": "1/inch", "/cm": "1/centimeter", "per cm": "1/centimeter",
    "/10cm": "1/decimeter", "/10 cm": "1/decimeter", "per 10 cm": "1/decimeter",
})  # fmt: skip
_MASSES = MappingProxyType({
    "oz": "ounce", "ounce": "ounce", "ounces": "ounce", "lb": "pound", "lbs": "pound",
    "g": "gram", "gram": "gram", "grams": "gram", "kg": "kilogram",
})  # fmt: skip
_PER_MASS = MappingProxyType({
    "/g": "1/gram", "/100 g": "1/hectogram", "/100g": "1/hectogram", "/kg": "1/kilogram", "/oz": "1/ounce",
    "/lb": "1/pound", "per kg": "1/kilogram", "per oz": "1/ounce", "per lb": "1/pound",
})  # fmt: skip
_SHARES = MappingProxyType({"%": "percent", "per cent": "percent", "percent": "percent"})


def _counted(word: str) -> Mapping[str, str]:
    """Give the labels of a count to a length, also with what is counted: ends per inch, ends/cm.

    Examples
    --------
    >>> {"/in", "ends/in", "ends per inch"} <= set(_counted("ends"))
    True
    """
    labels = {f"{word}{label}": unit for label, unit in _PER_LENGTH.items() if label.startswith("/")}
    labels |= {f"{word} {label}": unit for label, unit in _PER_LENGTH.items() if label.startswith("per ")}
    return MappingProxyType({**_PER_LENGTH, **labels})


def _kind(
    name: str, canonical: str, labels: Mapping[str, str], inch: tuple[str, int], metric: tuple[str, int]
) -> QuantityKind:
    return QuantityKind(
        name,
        canonical,
        labels,
        MappingProxyType({Units.INCH: inch[0], Units.METRIC: metric[0]}),
        MappingProxyType({Units.INCH: inch[1], Units.METRIC: metric[1]}),
    )


KINDS: Mapping[str, QuantityKind] = MappingProxyType({
    kind.name: kind
    for kind in (
        _kind("length", "centimeter", _LENGTHS, ("in", 2), ("cm", 1)),
        _kind("distance", "centimeter", _LENGTHS, ("yd", 2), ("m", 2)),
        _kind("depth", "centimeter", _LENGTHS, ("in", 3), ("mm", 2)),
        _kind("sett", "1/centimeter", _counted("ends"), ("/in", 2), ("/cm", 2)),
        _kind("picks", "1/centimeter", _counted("picks"), ("/in", 2), ("/cm", 2)),
        _kind("wraps", "1/centimeter", _counted("wraps"), ("/in", 1), ("/cm", 1)),
        _kind("dents", "1/centimeter", _counted("dents"), ("/in", 2), ("/10 cm", 2)),
        _kind("mass", "gram", _MASSES, ("oz", 2), ("g", 1)),
        _kind("density", "gram/centimeter**3", MappingProxyType({"g/cm3": "gram/centimeter**3"}),
              ("g/cm3", 2), ("g/cm3", 2)),
        _kind("price", "1/gram", _PER_MASS, ("/lb", 2), ("/100 g", 2)),
        _kind("share", "dimensionless", _SHARES, ("%", 2), ("%", 2)),
    )
})  # fmt: skip


@cache
def registry() -> pint.UnitRegistry[Fraction]:
    """Give the one pint registry, made with exact fractions (pint's own definitions, ISO 80000)."""
    return pint.UnitRegistry(non_int_type=Fraction)


@cache
def factor(unit: str, canonical: str) -> Fraction:
    """Give how many canonical units one `unit` holds, exactly.

    Examples
    --------
    >>> factor("inch", "centimeter")
    Fraction(127, 50)
    >>> factor("yard", "centimeter")
    Fraction(2286, 25)
    """
    if canonical == "dimensionless":
        return Fraction(1, 100)
    converted = registry().Quantity(Fraction(1), unit).to(canonical).magnitude
    return Fraction(converted)


_VULGAR = MappingProxyType({
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
})  # fmt: skip
_NUMBER = re.compile(
    r"(?P<whole>\d{1,12})(?:[.,](?P<part>\d{1,9}))?(?:\s+(?P<top>\d{1,4})/(?P<low>\d{1,4}))?"
    r"|(?P<top2>\d{1,6})/(?P<low2>\d{1,6})",
    re.ASCII,
)
_SPLIT = re.compile(
    r"\s*(?P<number>\d{1,6}/\d{1,6}|\d[\d.,]*(?:\s+\d{1,4}/\d{1,4})?)\s*(?P<unit>\D.*|)", re.ASCII | re.DOTALL
)
_POUNDS_AND_OUNCES = re.compile(
    r"\s*(?P<pounds>\d{1,6})\s*(?:lbs?|pounds?)\.?\s*(?:,|and\s)?\s*(?P<ounces>\d[^A-Za-z]*?)\s*(?:oz|ounces?)\.?\s*",
    re.ASCII | re.IGNORECASE,
)
_ENDLESS = re.compile(r"\d{13,}(?:[.,]\d*)?", re.ASCII)
_BELOW = re.compile(r"\s*[-\u2212\u2013]\s*\d", re.ASCII)
_PER_100_G = re.compile(r"\s*(?P<number>\d[\d.,]*)\s*/\s*100\s*g\s*", re.ASCII | re.IGNORECASE)
_PER_TEN_CM = re.compile(r"\s*(?P<number>\d[\d.,]*)\s*/\s*10\s*(?P<unit>cm)?\s*", re.ASCII | re.IGNORECASE)


def _plain(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise UnitError("too_long", "That is too long to be a measurement.")
    for sign, words in _VULGAR.items():
        text = text.replace(sign, f" {words}")
    return text.strip()


_THOUSANDS_OR_PART = re.compile(r"(?P<whole>[1-9]\d{0,2}),(?P<part>\d{3})", re.ASCII)
"""A comma that may stand for thousands: some write 1,200 for twelve hundred, others for a little over one."""


def _refuse_unclear_comma(text: str) -> None:
    match = _THOUSANDS_OR_PART.fullmatch(text)
    if not match:
        return
    whole, part = match["whole"], match["part"]
    small = f"{whole}.{part}".rstrip("0").rstrip(".")
    question = f"Is {text} in the thousands or a little over {whole}?"
    if int(part) == 0:
        question = f"Is {text} in the thousands or exactly {whole}?"
    raise UnitError("comma_unclear", f"{question} Write {whole}{part} or {small}.")


def read_number(text: str) -> Fraction:
    """Read a number as people write it: 12, 12.5, 12,5, 12 1/2, 12½ or 1/2.

    A comma before exactly three digits could part thousands, so it is asked about and never guessed; 0,125 and a
    point, as in 1.200, leave no doubt here.

    Examples
    --------
    >>> read_number("12 1/2")
    Fraction(25, 2)
    >>> read_number("7,5")
    Fraction(15, 2)
    """
    plain = _plain(text)
    _refuse_unclear_comma(plain)
    match = _NUMBER.fullmatch(plain)
    if _ENDLESS.fullmatch(plain):
        raise UnitError("too_large", "That number is too large.")
    if not match:
        raise UnitError("not_a_number", f"“{text[:20]}” is not a number. Write it like 12, 12.5 or 12 1/2.")
    part = match.groupdict()
    top, low = part["top"] or part["top2"], part["low"] or part["low2"]
    if low is not None and int(low) == 0:
        raise UnitError("not_a_number", "A fraction needs something other than 0 below the line.")
    number = Fraction(f"{part['whole'] or 0}.{part['part'] or 0}")
    if top and low:
        number += Fraction(int(top), int(low))
    if number > LARGEST:
        raise UnitError("too_large", "That number is too large.")
    return number


def read(text: str, kind: str, units: Units | None) -> Fraction:
    """Read a typed quantity into the canonical unit of its kind.

    A bare number takes the usual unit of `units`; with `units` None (the API) a unit is required. A mass may be in
    whole pounds with ounces, as many scales show it.

    Examples
    --------
    >>> read("2", "length", Units.INCH)
    Fraction(127, 25)
    >>> read("16 /in", "sett", None)
    Fraction(800, 127)
    >>> read("10 %", "share", None)
    Fraction(1, 10)
    >>> read("50/10", "dents", None)
    Fraction(5, 1)
    >>> read("2 lb 3 oz", "mass", None) == read("35 oz", "mass", None)
    True
    """
    quantity = KINDS[kind]
    both = _POUNDS_AND_OUNCES.fullmatch(_plain(text)) if kind == "mass" else None
    if both:
        ounces = 16 * read_number(both["pounds"]) + read_number(both["ounces"])
        return ounces * factor("ounce", quantity.canonical)
    match = _SPLIT.fullmatch(_unfractioned(_plain(text), quantity))
    if not match:
        raise _refusal(text)
    label = " ".join(match["unit"].lower().split())
    if not label:
        if units is None:
            raise UnitError("unit_missing", f"Say the unit, for example “{text.strip()[:12]} {usual(kind)}”.")
        label = quantity.usual[units]
    if label not in quantity.labels:
        raise UnitError("unit_unknown", f"“{label[:20]}” is not a unit of {kind}; try “{usual(kind)}”.")
    return read_number(match["number"]) * factor(quantity.labels[label], quantity.canonical)


def _refusal(text: str) -> UnitError:
    """Say why a text is no quantity; a number below nothing is a number all the same."""
    if _BELOW.match(text):
        return UnitError("not_above_zero", f"“{text.strip()[:20]}” must be more than nothing.")
    return UnitError("not_a_number", f"“{text[:20]}” is not a number with a unit.")


def _unfractioned(text: str, quantity: QuantityKind) -> str:
    """Keep 50/10 cm, the 50/10 written on a metric reed, and 2/100 g, from being taken for fractions."""
    priced = _PER_100_G.fullmatch(text) if "/100 g" in quantity.labels else None
    if priced:
        return f"{priced['number']} /100 g"
    match = _PER_TEN_CM.fullmatch(text) if "/10 cm" in quantity.labels else None
    return f"{match['number']} /10 cm" if match and (match["unit"] or quantity.name == "dents") else text


def usual(kind: str, units: Units = Units.INCH) -> str:
    """Give the label shown for a kind, such as "in" or "cm"."""
    return KINDS[kind].usual[units]


def in_units(value: Number, kind: str, units: Units) -> Fraction:
    """Turn a canonical number into the reader's unit, still exact.

    Examples
    --------
    >>> in_units(Fraction(127, 25), "length", Units.INCH)
    Fraction(2, 1)
    """
    quantity = KINDS[kind]
    return Fraction(value) / factor(quantity.labels[quantity.usual[units]], quantity.canonical)


def rounded(value: Number, places: int) -> str:
    """Write a number with at most so many decimals, halves up, no needless zeros, true minus sign.

    Examples
    --------
    >>> rounded(Fraction(1412, 100), 2), rounded(Fraction(2), 2), rounded(Fraction(-1, 3), 2)
    ('14.12', '2', '−0.33')
    """
    exact = Fraction(value)
    with_places = Decimal(exact.numerator) / Decimal(exact.denominator)
    text = f"{with_places.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP):f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text.replace("-", "−")


def show(value: Number, kind: str, units: Units, places: int | None = None) -> str:
    """Write a canonical number for a reader, with its unit; with as many decimals as is usual for it, or as asked.

    Examples
    --------
    >>> show(Fraction(127, 25), "length", Units.INCH), show(Fraction(127, 25), "length", Units.METRIC)
    ('2 in', '5.1 cm')
    >>> show(Fraction(1, 10), "share", Units.METRIC)
    '10 %'
    """
    label = usual(kind, units)
    gap = "" if label.startswith("/") else " "
    digits = KINDS[kind].places[units] if places is None else places
    return f"{rounded(in_units(value, kind, units), digits)}{gap}{label}"


def show_bare(value: Number, kind: str, units: Units) -> str:
    """Write a canonical number for a reader, without its unit.

    Examples
    --------
    >>> show_bare(Fraction(800, 127), "sett", Units.INCH)
    '16'
    """
    return rounded(in_units(value, kind, units), KINDS[kind].places[units])


def exact_text(value: Fraction, kind: str, units: Units) -> str:
    """Write a canonical number so that reading it again gives the very same number.

    A decimal where one exists, else a fraction; used to fill forms and stored briefs.

    Examples
    --------
    >>> exact_text(Fraction(9144, 100), "length", Units.INCH)
    '36'
    >>> exact_text(Fraction(254, 300), "length", Units.INCH)
    '1/3'
    """
    number = in_units(value, kind, units)
    places = next((p for p in range(10) if (number * 10**p).denominator == 1), None)
    if places is not None:
        return f"{Decimal(number.numerator) / Decimal(number.denominator):.{places}f}"
    whole, rest = divmod(number, 1)
    return f"{whole} {rest}" if whole else f"{rest}"


def to_decimal(value: Fraction, places: int = 6) -> Decimal:
    """Give a canonical number as the Decimal a database column keeps.

    Examples
    --------
    >>> to_decimal(Fraction(127, 25))
    Decimal('5.080000')
    """
    return (Decimal(value.numerator) / Decimal(value.denominator)).quantize(Decimal(1).scaleb(-places))
