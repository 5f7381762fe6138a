"""The parts a plan is made of: plain frozen data, reached through `planner.calc.terms.plan`.

Numbers that were counted are `int`, numbers that follow by plain arithmetic are exact `Fraction`s, and lengths
in which a circle takes part are `float`s of at least nine good digits; all in cm, g, tex, ends/cm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

Number = int | Fraction | float


class Severity(StrEnum):
    """How loudly a remark speaks. Only a card is held back by STOP; a plan is always shown."""

    NOTE = "note"
    WARN = "warn"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and the kind of thing it measures; a `Reader` writes it in someone's units.

    Attributes
    ----------
    value : Number
        The number in the canonical unit of its kind. [-]
    kind : str
        A key of `studio.units.KINDS`, or one of ends, turns, count, tex, ratio, angle, money, price_of_100_g. [-]
    """

    value: Number
    kind: str


@dataclass(frozen=True, slots=True)
class Sum:
    """One shown line of arithmetic.

    Attributes
    ----------
    key : str
        Constant name of the line, such as width_in_reed. [-]
    group : str
        Part of the plan it belongs to: yarn, sett, width, length, reed, sections, beam, winding, weft, fit. [-]
    label : str
        What is worked out, in trade words. [-]
    formula : str
        The arithmetic with {names} of the inputs, such as "{finished} ÷ (1 − {loss})". [-]
    inputs : tuple[tuple[str, Quantity], ...]
        Name and quantity of each number put in, in the order of the formula. [-]
    result : Quantity
        What comes out. [-]
    source : str
        Published source, or "Plain arithmetic.", or "Common practice, no source." [-]
    """

    key: str
    group: str
    label: str
    formula: str
    inputs: tuple[tuple[str, Quantity], ...]
    result: Quantity
    source: str


@dataclass(frozen=True, slots=True)
class Remark:
    """Advice as data; `planner.plan.formatter` turns it into a sentence with what to do.

    Attributes
    ----------
    code : str
        Constant word that picks the sentence. [-]
    severity : Severity
        How loudly it speaks. [-]
    values : Mapping[str, Quantity | str]
        What the sentence needs. [-]
    """

    code: str
    severity: Severity
    values: Mapping[str, Quantity | str]


@dataclass(frozen=True, slots=True)
class ColourRun:
    """Neighbouring ends of one yarn.

    Attributes
    ----------
    code : str
        Code of the yarn. [-]
    ends : int
        How many. [ends]
    """

    code: str
    ends: int


@dataclass(frozen=True, slots=True)
class Range:
    """A figure with its doubt.

    Attributes
    ----------
    low : Fraction
        Least it can be. [-]
    likely : Fraction
        Likeliest. [-]
    high : Fraction
        Most it can be. [-]
    """

    low: Fraction
    likely: Fraction
    high: Fraction

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a range must rise from low {self.low} by likely {self.likely} to high {self.high}")


@dataclass(frozen=True, slots=True)
class TurnsRange:
    """Whole turns for a wanted length.

    Attributes
    ----------
    fewest : int
        Enough if everything lies at its most favourable. [turns]
    likely : int
        Enough by the likeliest figures. [turns]
    safe : int
        Enough whatever the figures are within their ranges. [turns]
    """

    fewest: int
    likely: int
    safe: int


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the beam.

    Attributes
    ----------
    position : int
        Place on the beam, 1 at the seat's left. [-]
    ends : int
        Ends in it. [ends]
    runs : tuple[ColourRun, ...]
        Colours, seat view from the left; read backwards from the back. [-]
    setup : int
        Number of the spool arrangement it is wound with, 1 first; 0 for a chain. [-]
    filled : Fraction
        Part of the pitch its ends cover at their sett; below 1 at a partial edge. [share]
    depth_per_turn : float
        Depth one turn adds. [cm]
    depth : float
        Depth of yarn after the last turn. [cm]
    real_length : float
        Length its ends have after the turns, with build-up. [cm]
    free_left : Fraction | None
        Part of the pitch left of its ends, seen from the seat; None where the whole cloth is on one beam. [share]
    """

    position: int
    ends: int
    runs: tuple[ColourRun, ...]
    setup: int
    filled: Fraction
    depth_per_turn: float
    depth: float
    real_length: float
    free_left: Fraction | None = None

    @property
    def runs_from_back(self) -> tuple[ColourRun, ...]:
        """Colours as the person at the box sees them, behind the loom."""
        return self.runs[::-1]


@dataclass(frozen=True, slots=True)
class StripeSley:
    """How the stripes of one yarn are sleyed in a reed, where yarns have setts of their own.

    Attributes
    ----------
    code : str
        Code of the yarn. [-]
    sley : tuple[int, ...]
        Ends in each dent of one repeat. [ends]
    sett : Fraction
        Sett that really results. [ends/cm]
    error : Fraction
        Share by which it differs from the yarn's own sett, with its sign. [share]
    """

    code: str
    sley: tuple[int, ...]
    sett: Fraction
    error: Fraction


@dataclass(frozen=True, slots=True)
class ReedChoice:
    """One reed with a sley order.

    Attributes
    ----------
    reed : str
        Name of the reed. [-]
    sley : tuple[int, ...]
        Ends in each dent of one repeat; of stripes with setts of their own, for the yarn with the most ends. [ends]
    sett : Fraction
        Sett that really results, of the same ends. [ends/cm]
    error : Fraction
        Share by which it differs from the wanted sett, with its sign; of stripes the worst. [share]
    dents : int
        Dents the warp takes. [dents]
    empty_left : int
        Dents left empty at the left, seen from the seat, before the first. [dents]
    start_dent : int
        First dent used, counted from the left seen from the seat. [dents]
    width : Fraction
        Width in this reed. [cm]
    room : str
        How the ends of its fullest dent stand side by side, wires not counted: ample, fair, tight, none. [-]
    knot_passes : bool | None
        A knot in one of them finds room beside the others; None when not asked. [-]
    stripes : tuple[StripeSley, ...]
        Sley order of each yarn, where yarns have setts of their own. [-]
    """

    reed: str
    sley: tuple[int, ...]
    sett: Fraction
    error: Fraction
    dents: int
    empty_left: int
    start_dent: int
    width: Fraction
    room: str = ""
    knot_passes: bool | None = None
    stripes: tuple[StripeSley, ...] = ()


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """What one yarn is needed for, against the shelf.

    Attributes
    ----------
    code : str
        Code of the yarn. [-]
    ends : int
        Warp ends of it. [ends]
    warp_nominal : Number
        Warp yarn by nominal lengths, with section waste where the box winds it. [cm]
    warp_real : Number
        Warp yarn to wind: spools as wound, and ends of chains times their length. [cm]
    warp_mass : Number
        Mass of `warp_real`. [g]
    weft : Number
        Weft yarn. [cm]
    weft_mass : Number
        Mass of the weft. [g]
    on_hand : Fraction | None
        Free on the shelf; None when not known. [g]
    short : Number
        Mass missing; 0 when there is enough or it is not known. [g]
    cost : Number | None
        Price of warp and weft; None when not known. [money]
    """

    code: str
    ends: int
    warp_nominal: Number
    warp_real: Number
    warp_mass: Number
    weft: Number
    weft_mass: Number
    on_hand: Fraction | None
    short: Number
    cost: Number | None


@dataclass(frozen=True, slots=True)
class ClothCost:
    """What the yarn of a cloth costs.

    Attributes
    ----------
    warp : Fraction
        Warp yarn. [money]
    weft : Fraction
        Weft yarn. [money]
    whole : Fraction
        Both. [money]
    of_a_piece : Fraction
        The whole over the pieces. [money]
    """

    warp: Fraction
    weft: Fraction
    whole: Fraction
    of_a_piece: Fraction


@dataclass(frozen=True, slots=True)
class TurnRow:
    """One line of the table of turn against length.

    Attributes
    ----------
    turn : int
        Turns wound. [turns]
    length : float
        Length wound so far. [cm]
    circumference : float
        Circumference after this turn, for the tape. [cm]
    depth : float
        Depth of yarn. [cm]
    """

    turn: int
    length: float
    circumference: float
    depth: float


@dataclass(frozen=True, slots=True)
class OneMore:
    """What one more piece would need, and what is left over.

    Attributes
    ----------
    needs : Number
        Warp one more piece needs with its gap. [cm]
    left : Number
        Warp beyond what the pieces, waste and samples use, the margin kept. [cm]
    margin : Number
        Margin, which could be spent instead. [cm]
    fits : bool
        One more fits without touching the margin. [-]
    """

    needs: Number
    left: Number
    margin: Number
    fits: bool
