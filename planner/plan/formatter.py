"""From a plan's bare numbers to what a person reads, in her own units.

The plan keeps one canonical number for everybody. A `Formatter` writes it: lengths in inches or centimetres, sums with
their numbers filled in, remarks as sentences. No arithmetic beyond the change of units happens here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from inventory.calc.count import metres_per_kilogram, yards_per_pound
from planner.calc.terms.plan import Number, Quantity, Remark, Severity, Sum
from planner.plan.remarks import WORDINGS, Wording
from studio.units import KINDS, Units, in_units, rounded, show


@dataclass(frozen=True, slots=True)
class SumView:
    """One line of arithmetic as a reader sees it."""

    key: str
    group: str
    label: str
    formula: str
    result: str
    source: str


@dataclass(frozen=True, slots=True)
class RemarkView:
    """One remark as a reader sees it."""

    code: str
    severity: Severity
    text: str
    advice: str


def _counted(one: str, many: str) -> Callable[[str], str]:
    return lambda number: f"{number} {one if number == '1' else many}"


def _money(value: Number, places: int = 2) -> str:
    whole = rounded(value, places)
    pounds, _, pence = whole.partition(".")
    return f"{pounds}.{pence:0<2}"


@dataclass(frozen=True, slots=True)
class OtherKind:
    """A kind without a unit of length, mass or density; the same for every reader."""

    places: int
    words: Callable[[str], str]


OTHER_KINDS: Mapping[str, OtherKind] = MappingProxyType({
    "ends": OtherKind(2, _counted("end", "ends")),
    "counted_dents": OtherKind(0, _counted("dent", "dents")),
    "turns": OtherKind(2, _counted("turn", "turns")),
    "count": OtherKind(2, str),
    "tex": OtherKind(1, "{} tex".format),
    "ratio": OtherKind(4, str),
    "angle": OtherKind(1, "{}°".format),
    "degrees": OtherKind(1, "{}°".format),
})  # fmt: skip
MONEY: Mapping[str, tuple[int, str]] = MappingProxyType({"money": (1, "{}"), "price_of_100_g": (100, "{} per 100 g")})
"""Kinds of money: what the number is multiplied by, and its words."""

GOOD_DIGITS = 1000
"""A number written as a whole one of at least so much has four good digits."""

MOST_PLACES = 9
_TWICE = re.compile(r"(?<![\w.])(\d[\d.]*(?:/[a-z]+| (?:in|yd|cm|mm|m|%))) to \1(?![\w/])")
"""The same figure with its unit on both sides of *to*."""

_TAKEN_AWAY = re.compile(r"\{(\w+)\} − \{(\w+)\}|arccos\(\{(\w+)\} ÷ \{(\w+)\}\)")
"""Two figures of a formula of which only the small difference counts."""


def good_places(number: Number, places: int) -> int:
    """Give decimal places enough for four good digits, at least so many.

    Examples
    --------
    >>> good_places(0.01234, 3), good_places(123, 1), good_places(0, 2)
    (5, 1, 2)
    """
    while number and places < MOST_PLACES and abs(number) * 10**places < GOOD_DIGITS:
        places += 1
    return places


class _Values(dict[str, str]):
    """Values of a sentence; one that is missing shows as an ellipsis and never as a broken page."""

    def __missing__(self, key: str) -> str:
        return "…"


class Formatter:
    """Writes a plan for someone with a habit of units."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def quantity(self, quantity: Quantity) -> str:
        """Write a quantity with its unit."""
        if quantity.kind in KINDS:
            return show(quantity.value, quantity.kind, self.units)
        if quantity.kind == "grist":
            return self._grist(Fraction(quantity.value))
        return _other(quantity, OTHER_KINDS[quantity.kind].places if quantity.kind in OTHER_KINDS else 2)

    def quantity_closely(self, quantity: Quantity, apart: Number | None = None) -> str:
        """Write a quantity with at least four good digits, so that a sum comes out again by hand.

        Of a figure that another is taken from, what the two are `apart` has four good digits.

        Examples
        --------
        >>> Formatter(Units.INCH).quantity_closely(Quantity(0.0310, "depth"))
        '0.0122 in'
        """
        size = abs(Fraction(quantity.value))
        smallest = min(size, Fraction(apart)) if apart else size
        if quantity.kind in KINDS:
            places = good_places(in_units(smallest, quantity.kind, self.units), KINDS[quantity.kind].places[self.units])
            return show(quantity.value, quantity.kind, self.units, places)
        if quantity.kind in OTHER_KINDS:
            return _other(quantity, good_places(smallest, OTHER_KINDS[quantity.kind].places))
        if quantity.kind == "price_of_100_g":
            return _other(quantity, good_places(100 * quantity.value, 2))
        return self.quantity(quantity)

    def setts(self, setts: Sequence[Fraction]) -> str:
        """Write the setts of a warp, the unit once: crammed and spaced cloth has several."""
        *first, last = (self.quantity(Quantity(sett, "sett")) for sett in setts)
        numbers = ", ".join(sett.partition("/")[0] for sett in first)
        return f"{numbers} and {last}" if numbers else last

    def line(self, line: Sum) -> SumView:
        """Write a sum with its numbers in place of their names, each with digits enough to work it again by hand."""
        apart = _apart(line)
        values = _Values({name: self.quantity_closely(quantity, apart.get(name)) for name, quantity in line.inputs})
        return SumView(
            key=line.key,
            group=line.group,
            label=line.label,
            formula=line.formula.format_map(values),
            result=self.quantity_closely(line.result),
            source=line.source,
        )

    def sentence(self, remark: Remark) -> RemarkView:
        """Write a remark as a sentence and what to do."""
        values = _Values(
            {name: value if isinstance(value, str) else self.quantity(value) for name, value in remark.values.items()}
        )
        # A card keeps its remarks for ever; a code that has since been retired still says something.
        wording = WORDINGS.get(remark.code) or Wording(f"{remark.code.replace('_', ' ').capitalize()}.")
        return RemarkView(
            code=remark.code,
            severity=remark.severity,
            text=_capital(_one_figure(wording.text.format_map(values))),
            advice=_capital(_one_figure(wording.advice.format_map(values))),
        )

    def _grist(self, tex: Fraction) -> str:
        if self.units is Units.INCH:
            return f"{rounded(yards_per_pound(tex), 0)} yd/lb"
        return f"{rounded(metres_per_kilogram(tex), 0)} m/kg"


def _other(quantity: Quantity, places: int) -> str:
    if quantity.kind in MONEY:
        times, words = MONEY[quantity.kind]
        return words.format(_money(times * quantity.value, places))
    kind = OTHER_KINDS[quantity.kind]
    return kind.words(rounded(quantity.value, places))


def _apart(line: Sum) -> Mapping[str, Number]:
    """Give what two figures of a sum differ by, where one is taken from the other."""
    inputs = dict(line.inputs)
    apart: dict[str, Number] = {}
    for found in _TAKEN_AWAY.finditer(line.formula):
        one, other = filter(None, found.groups())
        apart[one] = apart[other] = abs(Fraction(inputs[one].value) - Fraction(inputs[other].value))
    return apart


def _one_figure(sentence: str) -> str:
    """Write bounds that read alike once.

    Examples
    --------
    >>> _one_figure("usual for it: 36/in to 36/in."), _one_figure("3 in to 30 in")
    ('usual for it: 36/in.', '3 in to 30 in')
    """
    return _TWICE.sub(r"\1", sentence)


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
