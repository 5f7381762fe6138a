"""What follows from a brief: the plan, as plain frozen data. No arithmetic happens after this.

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
        A key of `studio.units.KINDS`, or one of ends, turns, count, tex, ratio, angle, money. [-]
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
    """Advice as data; `planner.reading` turns it into a sentence with what to do.

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
        Number of the spool arrangement it is wound with, 1 first; 0 for chains. [-]
    filled : Fraction
        Part of the pitch its ends cover at their sett; below 1 at a partial edge. [share]
    depth_per_turn : float
        Depth one turn adds. [cm]
    depth : float
        Depth of yarn after the last turn. [cm]
    real_length : float
        Length its ends have after the turns, with build-up. [cm]
    """

    position: int
    ends: int
    runs: tuple[ColourRun, ...]
    setup: int
    filled: Fraction
    depth_per_turn: float
    depth: float
    real_length: float

    @property
    def runs_from_back(self) -> tuple[ColourRun, ...]:
        """Colours as the person at the box sees them, behind the loom."""
        return self.runs[::-1]


@dataclass(frozen=True, slots=True)
class Setup:
    """One arrangement of spools on the rack.

    Attributes
    ----------
    number : int
        1 first. [-]
    runs : tuple[ColourRun, ...]
        Colours, seat view from the left. [-]
    positions : tuple[int, ...]
        Sections wound with it. [-]
    """

    number: int
    runs: tuple[ColourRun, ...]
    positions: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SpoolGroup:
    """Spools of one yarn that carry the same length.

    Attributes
    ----------
    code : str
        Code of the yarn. [-]
    first : int
        Number of the first spool of this yarn in the group. [-]
    last : int
        Number of the last. [-]
    sections : int
        Sections each of them serves. [-]
    nominal_length : Number
        Yarn by turns times empty circumference, with section waste. [cm]
    real_length : Number
        Yarn with build-up and section waste. [cm]
    to_wind : Fraction
        Real length with the reserve, rounded up to the studio's step. [cm]
    """

    code: str
    first: int
    last: int
    sections: int
    nominal_length: Number
    real_length: Number
    to_wind: Fraction

    @property
    def spools(self) -> int:
        """How many spools the group has."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Chain:
    """One chain wound on the board or mill.

    Attributes
    ----------
    number : int
        1 first, in the order of the warp from the seat's left. [-]
    position : int | None
        Section it is for; None on a plain beam. [-]
    ends : int
        Ends in it. [ends]
    passes : int
        Full passes with all ends in hand. [-]
    odd_ends : int
        Ends of one last, smaller pass; 0 when the passes come out even. [ends]
    groups : tuple[tuple[int, int], ...]
        Raddle groups as (how many groups, ends in each), in order. [-]
    runs : tuple[ColourRun, ...]
        Colours, seat view from the left. [-]
    """

    number: int
    position: int | None
    ends: int
    passes: int
    odd_ends: int
    groups: tuple[tuple[int, int], ...]
    runs: tuple[ColourRun, ...]


@dataclass(frozen=True, slots=True)
class ChokeTie:
    """One choke tie of every chain.

    Attributes
    ----------
    number : int
        1 nearest the beam. [-]
    distance : Fraction
        From the beam's end of the chain. [cm]
    turn : float | None
        Turn at which it reaches the beam. [turns]
    """

    number: int
    distance: Fraction
    turn: float | None


@dataclass(frozen=True, slots=True)
class ReedChoice:
    """One reed with a sley order.

    Attributes
    ----------
    reed : str
        Name of the reed. [-]
    sley : tuple[int, ...]
        Ends in each dent of one repeat. [ends]
    sett : Fraction
        Sett that really results. [ends/cm]
    error : Fraction
        Share by which it differs from the wanted sett, with its sign. [share]
    dents : int
        Dents the warp takes. [dents]
    empty_left : int
        Dents left empty at the left, seen from the seat, before the first. [dents]
    start_dent : int
        First dent used, counted from the left seen from the seat. [dents]
    width : Fraction
        Width in this reed. [cm]
    """

    reed: str
    sley: tuple[int, ...]
    sett: Fraction
    error: Fraction
    dents: int
    empty_left: int
    start_dent: int
    width: Fraction


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
        Warp yarn by nominal lengths, with section waste. [cm]
    warp_real : Number
        Warp yarn to wind: spools as wound, or ends times warp length. [cm]
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
class KnotPlace:
    """Where the leader knot lands on the beam.

    Attributes
    ----------
    past_bar : float
        Distance past the nearest bar behind it. [cm]
    to_next_bar : float
        Distance to the next bar. [cm]
    clear : bool
        Lies in the gap. [-]
    mend : float
        Change of leader length that puts it in the middle of the nearest gap; minus shortens. [cm]
    """

    past_bar: float
    to_next_bar: float
    clear: bool
    mend: float


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


@dataclass(frozen=True, slots=True)
class WarpPlan:
    """All that follows from a brief.

    Attributes
    ----------
    ends : int
        Warp ends on the beam, selvedges counted, floating selvedges not. [ends]
    floating_selvedge : int
        Floating selvedge ends, wound apart. [ends]
    repeats : int
        Whole repeats of the colour order; 0 when there is no repeat. [-]
    balance : int
        Ends beyond whole repeats. [ends]
    sett : Fraction
        Planned sett. [ends/cm]
    width_in_reed : Fraction
        True width in reed. [cm]
    finished_width : Fraction
        What the finished width becomes. [cm]
    pattern : tuple[ColourRun, ...]
        The whole colour order, seat view from the left. [-]
    length_wanted : Fraction
        Warp length before rounding up. [cm]
    warp_length : Fraction
        Warp length planned: rounded up, without build-up. [cm]
    turns : int | None
        Beam turns planned, from the empty circumference unless calibrated; None where turns are not counted. [turns]
    turns_exact : float | None
        Turns the wanted length takes with build-up. [turns]
    turns_with_build_up : int | None
        Whole turns that would do, counting the build-up. [turns]
    real_length : float | None
        Length after the planned turns, with build-up, in the deepest ordinary section. [cm]
    most_turns : int | None
        Turns the rakes hold. [turns]
    longest_warp : float | None
        Longest warp the rakes hold. [cm]
    end_circumference : float | None
        Circumference to find with the tape at the end. [cm]
    reed : ReedChoice | None
        Best reed. [-]
    reeds : tuple[ReedChoice, ...]
        All useful reeds, best first. [-]
    sections : tuple[Section, ...]
        Sections used, from the seat's left; empty on a plain beam. [-]
    setups : tuple[Setup, ...]
        Arrangements of spools; empty with chains. [-]
    spools : tuple[SpoolGroup, ...]
        Spools to fill; empty with chains. [-]
    chains : tuple[Chain, ...]
        Chains to wind; empty with the box. [-]
    ties : tuple[ChokeTie, ...]
        Choke ties of each chain. [-]
    raddle : tuple[tuple[int, int], ...]
        Raddle spaces of the whole warp as (how many, ends in each); empty with the box. [-]
    heddles : tuple[int, ...]
        Heddles needed on each shaft, front first. [-]
    yarn : tuple[YarnNeed, ...]
        What each yarn is needed for. [-]
    turn_table : tuple[TurnRow, ...]
        Turn against length; empty where turns are not counted. [-]
    knot : KnotPlace | None
        Where the leader knot lands. [-]
    comb_angle : float | None
        Angle to turn the comb so that the bundle fits the section. [degrees]
    one_more : OneMore | None
        What one more piece would need. [-]
    sums : tuple[Sum, ...]
        Every line of arithmetic, in the order of the bench. [-]
    remarks : tuple[Remark, ...]
        Advice, loudest first. [-]
    """

    ends: int
    floating_selvedge: int
    repeats: int
    balance: int
    sett: Fraction
    width_in_reed: Fraction
    finished_width: Fraction
    pattern: tuple[ColourRun, ...]
    length_wanted: Fraction
    warp_length: Fraction
    turns: int | None
    turns_exact: float | None
    turns_with_build_up: int | None
    real_length: float | None
    most_turns: int | None
    longest_warp: float | None
    end_circumference: float | None
    reed: ReedChoice | None
    reeds: tuple[ReedChoice, ...]
    sections: tuple[Section, ...]
    setups: tuple[Setup, ...]
    spools: tuple[SpoolGroup, ...]
    chains: tuple[Chain, ...]
    ties: tuple[ChokeTie, ...]
    raddle: tuple[tuple[int, int], ...]
    heddles: tuple[int, ...]
    yarn: tuple[YarnNeed, ...]
    turn_table: tuple[TurnRow, ...]
    knot: KnotPlace | None
    comb_angle: float | None
    one_more: OneMore | None
    sums: tuple[Sum, ...]
    remarks: tuple[Remark, ...]

    @property
    def stops(self) -> tuple[Remark, ...]:
        """Remarks that hold back a card."""
        return tuple(remark for remark in self.remarks if remark.severity is Severity.STOP)
