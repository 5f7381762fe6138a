"""The parts a plan is made of: plain frozen data, reached through `planner.calc.terms.plan`.

Numbers that were counted are `int`, numbers that follow by plain arithmetic are exact `Fraction`s, and lengths
in which a circle takes part are `float`s of at least nine good digits. Left and right are seen from the seat.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Annotated

from planner.calc.terms.kinds import Depth, Distance, Kind, Length, Sett, Share

Number = int | Fraction | float


class Severity(StrEnum):
    """How loudly a remark speaks. Only a card is held back by STOP; a plan is always shown."""

    NOTE = "note"
    WARN = "warn"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in the canonical unit of its kind; a `Formatter` writes it in someone's units.

    The kind is a key of `studio.units.KINDS`, or one of ends, turns, count, tex, ratio, angle, money, price_of_100_g.
    """

    value: Number
    kind: str


@dataclass(frozen=True, slots=True)
class Sum:
    """One shown line of arithmetic; its formula names the inputs in braces, in their order."""

    key: str
    group: str  # yarn, sett, width, length, reed, sections, beam, winding, weft or fit
    label: str
    formula: str
    inputs: tuple[tuple[str, Quantity], ...]
    result: Quantity
    source: str  # as published, or "Plain arithmetic.", or "Common practice, no source."


@dataclass(frozen=True, slots=True)
class Remark:
    """Advice as data; `planner.plan.formatter` turns it into a sentence with what to do."""

    code: str
    severity: Severity
    values: Mapping[str, Quantity | str]


@dataclass(frozen=True, slots=True)
class ColourRun:
    """Neighbouring ends of one yarn, by its code."""

    code: str
    ends: int


@dataclass(frozen=True, slots=True)
class Range:
    """A figure with its doubt; the field that holds it says the unit."""

    low: Fraction
    likely: Fraction
    high: Fraction

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a range must rise from low {self.low} by likely {self.likely} to high {self.high}")


DistanceRange = Annotated[Range, Kind("distance", within=True)]
LengthRange = Annotated[Range, Kind("length", within=True)]
DepthRange = Annotated[Range, Kind("depth", within=True)]
PartTurnsRange = Annotated[Range, Kind("turns", within=True)]


@dataclass(frozen=True, slots=True)
class TurnsRange:
    """Whole turns for a wanted length: enough at the most favourable, by the likeliest figures, and for certain."""

    fewest: int
    likely: int
    safe: int


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the beam."""

    position: int  # 1 at the seat's left
    ends: int
    runs: tuple[ColourRun, ...]  # from the left
    setup: int  # number of the spool arrangement it is wound with, 1 first; 0 for a chain
    filled: Share[Fraction]  # part of the pitch its ends cover at their sett; below 1 at a partial edge
    depth_per_turn: Depth[float]
    depth: Depth[float]  # after the last turn
    real_length: Distance[float]  # of its ends after the turns, with build-up
    free_left: Share[Fraction] | None = None  # part of the pitch left of its ends; None on the only beam of a cloth

    @property
    def runs_from_back(self) -> tuple[ColourRun, ...]:
        """Colours as the person at the box sees them, behind the loom."""
        return self.runs[::-1]


@dataclass(frozen=True, slots=True)
class StripeSley:
    """How the stripes of one yarn are sleyed in a reed, where yarns have setts of their own."""

    code: str
    sley: tuple[int, ...]  # ends in each dent of one repeat
    sett: Sett[Fraction]  # that really results
    error: Share[Fraction]  # by which it differs from the yarn's own sett, with its sign


@dataclass(frozen=True, slots=True)
class ReedChoice:
    """One reed with a sley order; where stripes have setts of their own, that of the yarn with the most ends."""

    reed: str
    sley: tuple[int, ...]  # ends in each dent of one repeat
    sett: Sett[Fraction]  # that really results
    error: Share[Fraction]  # by which it differs from the wanted sett, with its sign; of stripes the worst
    dents: int
    empty_left: int
    start_dent: int  # counted from the left
    width: Length[Fraction]
    room: str = ""  # how the ends of its fullest dent stand side by side: ample, fair, tight, none
    knot_passes: bool | None = None  # a knot in one of them finds room beside the others; None when not asked
    stripes: tuple[StripeSley, ...] = ()


@dataclass(frozen=True, slots=True)
class TurnRow:
    """One line of the table of turn against length."""

    turn: int
    length: Distance[float]  # wound so far
    circumference: Length[float]  # after this turn, for the tape
    depth: Depth[float]


@dataclass(frozen=True, slots=True)
class OneMore:
    """What one more piece would need, and what is left over."""

    needs: Length[Number]  # with its gap
    left: Length[Number]  # beyond what pieces, waste and samples use, the margin kept
    margin: Length[Number]
    fits: bool  # without touching the margin
