"""From a plan's bare numbers to what a person reads, in her own units.

The plan keeps one canonical number for everybody. A `Reader` writes it: lengths in inches or centimetres, sums with
their numbers filled in, remarks as sentences. No arithmetic beyond the change of units happens here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from inventory.yarn_count import metres_per_kilogram, yards_per_pound
from planner.calc.plan import Number, Quantity, Remark, Severity, Sum
from planner.remarks import WORDINGS, Wording
from studio.units import KINDS, Units, rounded, show


@dataclass(frozen=True, slots=True)
class ShownSum:
    """One line of arithmetic as a reader sees it.

    Attributes
    ----------
    key : str
        Constant name of the line. [-]
    group : str
        Part of the plan it belongs to. [-]
    label : str
        What is worked out. [-]
    formula : str
        The arithmetic with its numbers. [-]
    result : str
        What comes out, with its unit. [-]
    source : str
        Where the rule comes from. [-]
    """

    key: str
    group: str
    label: str
    formula: str
    result: str
    source: str


@dataclass(frozen=True, slots=True)
class ShownRemark:
    """One remark as a reader sees it.

    Attributes
    ----------
    code : str
        Constant word of the remark. [-]
    severity : Severity
        How loudly it speaks. [-]
    text : str
        The sentence. [-]
    advice : str
        What to do; may be empty. [-]
    """

    code: str
    severity: Severity
    text: str
    advice: str


def _counted(value: Number, one: str, many: str) -> str:
    number = rounded(value, 2)
    return f"{number} {one if number == '1' else many}"


def _money(value: Number) -> str:
    whole = rounded(value, 2)
    pounds, _, pence = whole.partition(".")
    return f"{pounds}.{pence:0<2}"


OTHER_KINDS: Mapping[str, Callable[[Number], str]] = MappingProxyType({
    "ends": lambda value: _counted(value, "end", "ends"),
    "turns": lambda value: _counted(value, "turn", "turns"),
    "count": lambda value: rounded(value, 2),
    "tex": lambda value: f"{rounded(value, 1)} tex",
    "ratio": lambda value: rounded(value, 4),
    "angle": lambda value: f"{rounded(value, 1)}°",
    "degrees": lambda value: f"{rounded(value, 1)}°",
    "money": _money,
    "price_of_100_g": lambda value: f"{_money(100 * value)} per 100 g",
})  # fmt: skip
"""Kinds without a unit of length, mass or density; the same for every reader."""


class _Said(dict[str, str]):
    """Values of a sentence; one that is missing shows as an ellipsis and never as a broken page."""

    def __missing__(self, key: str) -> str:
        return "…"


class Reader:
    """Writes a plan for someone with a habit of units."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def say(self, quantity: Quantity) -> str:
        """Write a quantity with its unit."""
        if quantity.kind in KINDS:
            return show(quantity.value, quantity.kind, self.units)
        if quantity.kind == "grist":
            return self._grist(Fraction(quantity.value))
        return OTHER_KINDS[quantity.kind](quantity.value)

    def setts(self, setts: Sequence[Fraction]) -> str:
        """Write the setts of a warp, the unit once: crammed and spaced cloth has several."""
        *first, last = (self.say(Quantity(sett, "sett")) for sett in setts)
        numbers = ", ".join(said.partition("/")[0] for said in first)
        return f"{numbers} and {last}" if numbers else last

    def line(self, line: Sum) -> ShownSum:
        """Write a sum with its numbers in place of their names."""
        said = _Said({name: self.say(quantity) for name, quantity in line.inputs})
        return ShownSum(
            key=line.key,
            group=line.group,
            label=line.label,
            formula=line.formula.format_map(said),
            result=self.say(line.result),
            source=line.source,
        )

    def sentence(self, remark: Remark) -> ShownRemark:
        """Write a remark as a sentence and what to do."""
        said = _Said(
            {name: value if isinstance(value, str) else self.say(value) for name, value in remark.values.items()}
        )
        # A card keeps its remarks for ever; a code that has since been retired still says something.
        wording = WORDINGS.get(remark.code) or Wording(f"{remark.code.replace('_', ' ').capitalize()}.")
        return ShownRemark(
            code=remark.code,
            severity=remark.severity,
            text=_capital(wording.text.format_map(said)),
            advice=_capital(wording.advice.format_map(said)),
        )

    def _grist(self, tex: Fraction) -> str:
        if self.units is Units.INCH:
            return f"{rounded(yards_per_pound(tex), 0)} yd/lb"
        return f"{rounded(metres_per_kilogram(tex), 0)} m/kg"


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
