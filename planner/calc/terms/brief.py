"""What the weaver wants: the brief, as plain frozen data in cm, g, tex and ends/cm.

A brief is complete: every default and every fact about the loom is written in, so that the same brief
gives the same plan for ever. `planner.brief.document` makes one from typed text; `calc.worksheet` works it out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType

from planner.calc.terms.bounds import MOST_ENDS, MOST_RUNS, MOST_SECTIONS, MOST_TURNS
from planner.calc.terms.loom_facts import ZERO, BeamFacts, BeamKind, Bench, Centre, LoomFacts, ReedFacts, Turning
from planner.calc.terms.plan_parts import ColourRun
from planner.calc.terms.problems import Problem, problems_of

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
    density_low : Fraction | None
        Least the density can be, where it was measured on this beam; None where it was not. [g/cm3]
    density_high : Fraction | None
        Most the density can be, where it was measured on this beam. [g/cm3]
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
    elsewhere : bool
        Its ends lie on another warp beam: they keep their place in the cloth and are not wound here. [-]
    take_up : Fraction | None
        Own take-up where it differs from the warp's, of the warp length. [share]
    count : str
        Count as it was typed, such as 4/2 cotton, where the name does not say it; may be empty. [-]
    """

    code: str
    name: str
    tex: Fraction
    fibre: str = "cotton"
    colour_name: str = ""
    colour: str = ""
    wound_density: Fraction | None = None
    density_low: Fraction | None = None
    density_high: Fraction | None = None
    wraps: Fraction | None = None
    sett: Fraction | None = None
    on_hand: Fraction | None = None
    price: Fraction | None = None
    yarn_id: int | None = None
    elsewhere: bool = False
    take_up: Fraction | None = None
    count: str = ""


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
        Key of the weave, for the sett advice; as_typed is that of `lifts`. [-]
    method : Method
        Tension box or chains. [-]
    chain_sections : tuple[int, ...]
        Positions wound as chains while the rest comes from the box, 1 at the seat's left; all of them count as the
        method chains, and none counts with it or on a plain beam. [-]
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
    lifts : tuple[tuple[int, ...], ...]
        Shafts raised in each pick of one repeat, the first pick first; for a weave as typed. [-]
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
    chain_sections: tuple[int, ...] = ()
    colour_order: tuple[ColourRun, ...] = ()
    colour_layout: Layout = Layout.REPEAT
    fit: Fit = field(default_factory=Fit)
    allowances: Allowances = field(default_factory=Allowances)
    threading: tuple[int, ...] = ()
    lifts: tuple[tuple[int, ...], ...] = ()
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
