"""What the weaver wants: the brief, as plain frozen data in cm, g, tex and ends/cm.

A brief is complete: every default and every fact about the loom is written in, so that the same brief
gives the same plan for ever. `planner.brief_text` makes one from typed text; `calc.worksheet` works it out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType

from planner.calc.plan import ColourRun
from planner.calc.problems import MOST_ENDS, MOST_RUNS, MOST_SECTIONS, MOST_TURNS, Problem, problems_of

__all__ = [
    "MOST_ENDS",
    "MOST_RUNS",
    "MOST_SECTIONS",
    "MOST_TURNS",
    "WOUND_DENSITY",
    "ZERO",
    "Allowances",
    "BeamFacts",
    "BeamKind",
    "Bench",
    "Centre",
    "Fit",
    "Layout",
    "LoomFacts",
    "MarginOn",
    "Method",
    "Problem",
    "ReedFacts",
    "Tolerances",
    "Turning",
    "WarpBrief",
    "YarnChoice",
    "problems_of",
]

ZERO = Fraction(0)


class BeamKind(StrEnum):
    """How the warp beam is divided."""

    PLAIN = "plain"
    SECTIONAL = "sectional"


class Centre(StrEnum):
    """What stands at the middle of a sectional beam."""

    DIVIDER = "divider"
    SECTION = "section"


class Method(StrEnum):
    """How the warp gets on to the beam."""

    BOX = "box"
    CHAIN = "chain"


class Layout(StrEnum):
    """How a typed colour order fills the warp."""

    REPEAT = "repeat"
    CENTRED = "centred"
    MIRRORED = "mirrored"
    AS_TYPED = "as_typed"


class MarginOn(StrEnum):
    """What the safety margin is a share of."""

    WOVEN = "woven"
    ALL = "all"


class Turning(StrEnum):
    """Which way the warp leaves the beam."""

    OVER = "over"
    UNDER = "under"


@dataclass(frozen=True, slots=True)
class YarnChoice:
    """One yarn of the warp, or the weft.

    Attributes
    ----------
    code : str
        Short code on cards and in the colour order, such as A. [-]
    name : str
        What the label says, such as 8/2 cotton. [-]
    colour_name : str
        Colour in words; may be empty. [-]
    colour : str
        Colour for drawings as #rrggbb; never the only sign. [-]
    fibre : str
        Key of the fibre: cotton, linen, cottolin, wool, silk, rayon, hemp, other. [-]
    tex : Fraction
        Mass per length. [tex]
    wound_density : Fraction | None
        Density of this yarn as wound on a beam; None takes the fibre's default. [g/cm3]
    wraps : Fraction | None
        Wraps as measured round a ruler. [ends/cm]
    sett : Fraction | None
        Own sett where it differs from the warp's (crammed and spaced cloth). [ends/cm]
    on_hand : Fraction | None
        Free on the shelf; None when not known. [g]
    price : Fraction | None
        Money per gram; None when not known. [1/g]
    yarn_id : int | None
        The yarn room's number of this yarn. [-]
    """

    code: str
    name: str
    tex: Fraction
    fibre: str = "cotton"
    colour_name: str = ""
    colour: str = ""
    wound_density: Fraction | None = None
    wraps: Fraction | None = None
    sett: Fraction | None = None
    on_hand: Fraction | None = None
    price: Fraction | None = None
    yarn_id: int | None = None


@dataclass(frozen=True, slots=True)
class ReedFacts:
    """One reed of the studio.

    Attributes
    ----------
    name : str
        What is written on it, such as 12 dpi or 50/10. [-]
    dents : Fraction
        Dents per unit of width. [dents/cm]
    reed_length : Fraction
        Usable width of the reed. [cm]
    """

    name: str
    dents: Fraction
    reed_length: Fraction


@dataclass(frozen=True, slots=True)
class BeamFacts:
    """One warp beam, as measured here.

    Attributes
    ----------
    kind : BeamKind
        Plain or sectional. [-]
    circumference : Fraction
        Round the bars, empty. [cm]
    usable_width : Fraction
        Width that can carry warp. [cm]
    pitch : Fraction | None
        Section width, centre of divider to centre of divider; None on a plain beam. [cm]
    divider : Fraction
        Thickness of one divider. [cm]
    sections : int
        Number of sections; 0 on a plain beam. [-]
    centre : Centre
        What stands at the middle. [-]
    rake_height : Fraction | None
        Rake above the bar; None on a plain beam. [cm]
    bars : int
        Bars the circumference is made of; 0 for a solid roller. [-]
    leader : Fraction | None
        Length of a leader from its bar to its loop. [cm]
    turning : Turning
        Warp comes off over the top or from under. [-]
    clockwise : bool
        Turns clockwise while winding, seen from the crank side. [-]
    depth_per_turn : Fraction | None
        Calibrated depth of one turn of this yarn on this beam, if measured. [cm]
    """

    kind: BeamKind
    circumference: Fraction
    usable_width: Fraction
    pitch: Fraction | None = None
    divider: Fraction = ZERO
    sections: int = 0
    centre: Centre = Centre.DIVIDER
    rake_height: Fraction | None = None
    bars: int = 0
    leader: Fraction | None = None
    turning: Turning = Turning.OVER
    clockwise: bool = True
    depth_per_turn: Fraction | None = None


@dataclass(frozen=True, slots=True)
class LoomFacts:
    """The loom the warp is planned for.

    Attributes
    ----------
    name : str
        Nickname, as the studio says it. [-]
    weaving_width : Fraction
        Widest warp in the reed. [cm]
    beam : BeamFacts
        The warp beam used. [-]
    waste : Fraction
        Loom waste as measured here. [cm]
    shafts : int
        Number of shafts. [-]
    treadles : int
        Number of treadles. [-]
    heddles : tuple[int, ...]
        Heddles on each shaft, front shaft first; empty when not counted. [-]
    reeds : tuple[ReedFacts, ...]
        Reeds that fit and may be used. [-]
    """

    name: str
    weaving_width: Fraction
    beam: BeamFacts
    waste: Fraction
    shafts: int = 4
    treadles: int = 0
    heddles: tuple[int, ...] = ()
    reeds: tuple[ReedFacts, ...] = ()


@dataclass(frozen=True, slots=True)
class Bench:
    """Winding tools: rack, box, board, raddle.

    Attributes
    ----------
    rack_spools : int | None
        Places on the spool rack; None when not known. [-]
    board_path_max : Fraction | None
        Longest path of the board or mill. [cm]
    board_step : Fraction
        Grain of path lengths on the board. [cm]
    ends_at_once : int
        Ends wound together on the board. [ends]
    chain_ends_max : int
        Most ends in one chain off a plain beam's board. [ends]
    raddle_space : Fraction
        Width of one raddle space. [cm]
    tie_every : Fraction
        Distance between choke ties. [cm]
    comb_dents : Fraction | None
        Dents of the box's exit comb; None leaves the comb out. [dents/cm]
    comb_ends_per_dent : int
        Ends in each dent of the exit comb. [ends]
    spool_step : Fraction
        Lengths on spools are rounded up to this. [cm]
    """

    rack_spools: int | None = None
    board_path_max: Fraction | None = None
    board_step: Fraction = Fraction(2286, 100)
    ends_at_once: int = 2
    chain_ends_max: int = 100
    raddle_space: Fraction = Fraction(127, 100)
    tie_every: Fraction = Fraction(9144, 100)
    comb_dents: Fraction | None = None
    comb_ends_per_dent: int = 1
    spool_step: Fraction = Fraction(4572, 10)


@dataclass(frozen=True, slots=True)
class Allowances:
    """What is lost or kept back. Shares are of the longer length and are divided out.

    Attributes
    ----------
    draw_in : Fraction
        Narrowing from reed to fell, of the width in reed. [share]
    width_shrinkage : Fraction
        From the width on the loom to finished, of the width on the loom. [share]
    length_shrinkage : Fraction
        From woven under tension to finished, of the woven length. [share]
    take_up : Fraction
        Warp used by bending, of the warp length. [share]
    hem : Fraction
        Hems of one piece, both together, finished. [cm]
    fringe : Fraction
        Warp left as fringe of one piece beyond waste and gaps. [cm]
    gap : Fraction
        Unwoven warp of one gap between pieces. [cm]
    gaps : int | None
        Number of gaps; None means one fewer than pieces. [-]
    demo_woven : Fraction
        Strip woven for trial or demonstration, under tension. [cm]
    sampling : Fraction
        Warp kept for samples. [cm]
    waste : Fraction
        Loom waste. [cm]
    margin : Fraction
        Safety margin, added on. [share]
    margin_on : MarginOn
        What the margin is a share of: warp that is woven, or the whole warp. [-]
    section_waste : Fraction
        Yarn of each end lost at cutting and tying each section (box). [cm]
    box_lead : Fraction
        Yarn of each end lost at each complete re-thread of the box. [cm]
    spool_reserve : Fraction
        More yarn on each spool than the sum asks, added on. [share]
    weft_allowance : Fraction
        Weft beyond the width in reed, added on. [share]
    """

    draw_in: Fraction = ZERO
    width_shrinkage: Fraction = ZERO
    length_shrinkage: Fraction = ZERO
    take_up: Fraction = ZERO
    hem: Fraction = ZERO
    fringe: Fraction = ZERO
    gap: Fraction = ZERO
    gaps: int | None = None
    demo_woven: Fraction = ZERO
    sampling: Fraction = ZERO
    waste: Fraction = ZERO
    margin: Fraction = ZERO
    margin_on: MarginOn = MarginOn.ALL
    section_waste: Fraction = Fraction(4572, 100)
    box_lead: Fraction = Fraction(2286, 10)
    spool_reserve: Fraction = Fraction(3, 100)
    weft_allowance: Fraction = Fraction(1, 10)


@dataclass(frozen=True, slots=True)
class Tolerances:
    """The studio's limits for remarks.

    Attributes
    ----------
    mismatch_note : Fraction
        Length difference between sections that is noted. [share]
    mismatch_warn : Fraction
        Length difference between sections that is warned of. [share]
    mismatch_stop : Fraction
        Length difference that is never passed over in silence. [share]
    sett_error : Fraction
        Error of the sett a reed gives that is still called good. [share]
    rake_clearance : Fraction
        Divider that must stay above the yarn. [cm]
    sett_share : Fraction
        Working sett as a share of the maximum sett. [share]
    """

    mismatch_note: Fraction = Fraction(3, 1000)
    mismatch_warn: Fraction = Fraction(5, 1000)
    mismatch_stop: Fraction = Fraction(1, 100)
    sett_error: Fraction = Fraction(2, 100)
    rake_clearance: Fraction = Fraction(635, 1000)
    sett_share: Fraction = Fraction(8, 10)


@dataclass(frozen=True, slots=True)
class Fit:
    """How the count of ends is settled.

    Attributes
    ----------
    multiple : int
        Ends come in multiples of this (pairs, ends per dent); 1 for none. [ends]
    whole_repeats : bool
        Only whole repeats of the colour order, plus `balance`. [-]
    balance : int
        Ends added after the last whole repeat so that the edges match. [ends]
    selvedge : int
        Extra ends on each side, wound with the edge sections. [ends]
    floating_selvedge : int
        Floating selvedge ends in all, wound apart from the beam (0 or 2). [ends]
    """

    multiple: int = 1
    whole_repeats: bool = False
    balance: int = 0
    selvedge: int = 0
    floating_selvedge: int = 0


@dataclass(frozen=True, slots=True)
class WarpBrief:
    """What the weaver wants, complete.

    Exactly one of `finished_width`, `width_in_reed`, `ends` sets the width (or the colour order, when its
    layout is AS_TYPED and none is given); exactly one of `finished_length`, `warp_length`, `turns` the length.

    Attributes
    ----------
    title : str
        Name of the warp. [-]
    loom : LoomFacts
        Loom, beam and reeds. [-]
    yarns : tuple[YarnChoice, ...]
        Warp yarns; codes are unique. [-]
    sett : Fraction
        Wanted sett. [ends/cm]
    finished_width : Fraction | None
        Width of the finished cloth. [cm]
    width_in_reed : Fraction | None
        Width in reed, given directly. [cm]
    ends : int | None
        Warp ends, given directly, selvedges not counted. [ends]
    pieces : int
        Number of pieces. [-]
    finished_length : Fraction | None
        Finished length of one piece, hems not counted. [cm]
    warp_length : Fraction | None
        Warp length, given directly. [cm]
    turns : int | None
        Beam turns, given directly. [turns]
    weave : str
        Key of the weave, for the sett advice. [-]
    method : Method
        Tension box or chains. [-]
    colour_order : tuple[ColourRun, ...]
        One repeat as typed, seat view from the left; empty means all of the first yarn. [-]
    colour_layout : Layout
        How the repeat fills the warp. [-]
    fit : Fit
        How the count of ends is settled. [-]
    allowances : Allowances
        Losses and reserves. [-]
    threading : tuple[int, ...]
        One repeat of shaft numbers, from the first end; empty means straight on all shafts. [-]
    weft : YarnChoice | None
        Weft yarn. [-]
    picks : Fraction | None
        Wanted picks per unit of length. [picks/cm]
    bench : Bench
        Winding tools. [-]
    tolerances : Tolerances
        The studio's limits for remarks. [-]
    shift : Fraction
        Warp moved off the middle of the beam, to the right seen from the seat. [cm]
    """

    title: str
    loom: LoomFacts
    yarns: tuple[YarnChoice, ...]
    sett: Fraction
    finished_width: Fraction | None = None
    width_in_reed: Fraction | None = None
    ends: int | None = None
    pieces: int = 1
    finished_length: Fraction | None = None
    warp_length: Fraction | None = None
    turns: int | None = None
    weave: str = "plain"
    method: Method = Method.BOX
    colour_order: tuple[ColourRun, ...] = ()
    colour_layout: Layout = Layout.REPEAT
    fit: Fit = field(default_factory=Fit)
    allowances: Allowances = field(default_factory=Allowances)
    threading: tuple[int, ...] = ()
    weft: YarnChoice | None = None
    picks: Fraction | None = None
    bench: Bench = field(default_factory=Bench)
    tolerances: Tolerances = field(default_factory=Tolerances)
    shift: Fraction = ZERO

    def problems(self) -> tuple[Problem, ...]:
        """Give what makes the brief impossible to work out; empty when it can be."""
        return problems_of(self)


WOUND_DENSITY: Mapping[str, Fraction] = MappingProxyType({
    "cotton": Fraction(45, 100),
    "linen": Fraction(50, 100),
    "cottolin": Fraction(47, 100),
    "wool": Fraction(30, 100),
    "silk": Fraction(50, 100),
    "rayon": Fraction(50, 100),
    "hemp": Fraction(50, 100),
    "other": Fraction(40, 100),
})  # fmt: skip
"""Default density of yarn wound by hand on a beam [g/cm3]. No published source was found: estimates, to be
replaced by a calibration of the studio's own beam and yarn."""
