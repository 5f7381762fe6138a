"""What follows from a brief: the plan, as plain frozen data. No arithmetic happens after this.

Numbers that were counted are `int`, numbers that follow by plain arithmetic are exact `Fraction`s, and lengths
in which a circle takes part are `float`s of at least nine good digits; all in cm, g, tex, ends/cm.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from planner.calc.terms.plan_choices import (
    Alternative,
    EdgeChoice,
    EdgeKind,
    FewerSpools,
    Mismatch,
    RepeatLayouts,
    SpoolWay,
    TieMarks,
)
from planner.calc.terms.plan_parts import (
    ClothCost,
    ColourRun,
    Number,
    OneMore,
    Quantity,
    Range,
    ReedChoice,
    Remark,
    Section,
    Severity,
    StripeSley,
    Sum,
    TurnRow,
    TurnsRange,
    YarnNeed,
)
from planner.calc.terms.plan_threading import SectionSley, SectionThreading, SleyRun, SpareHeddles
from planner.calc.terms.plan_winding import Chain, ChokeTie, KnotPlace, Setup, SlotChange, SpoolGroup

__all__ = [
    "Alternative",
    "Chain",
    "ChokeTie",
    "ClothCost",
    "ColourRun",
    "EdgeChoice",
    "EdgeKind",
    "FewerSpools",
    "KnotPlace",
    "Mismatch",
    "Number",
    "OneMore",
    "Quantity",
    "Range",
    "ReedChoice",
    "Remark",
    "RepeatLayouts",
    "Section",
    "SectionSley",
    "SectionThreading",
    "Setup",
    "Severity",
    "SleyRun",
    "SlotChange",
    "SpareHeddles",
    "SpoolGroup",
    "SpoolWay",
    "StripeSley",
    "Sum",
    "TieMarks",
    "TurnRow",
    "TurnsRange",
    "WarpPlan",
    "YarnNeed",
]


@dataclass(frozen=True, slots=True)
class WarpPlan:
    """All that follows from a brief.

    Attributes
    ----------
    ends : int
        Warp ends on the beam, selvedges counted, floating selvedges not. [ends]
    ends_elsewhere : int
        Warp ends of the same cloth on another beam. [ends]
    floating_selvedge : int
        Floating selvedge ends, wound apart; with two beams those of the yarns on this one. [ends]
    repeats : int
        Whole repeats of the colour order; 0 when there is no repeat. [-]
    balance : int
        Ends beyond whole repeats. [ends]
    sett : Fraction
        Planned sett; of stripes with setts of their own, see `setts`. [ends/cm]
    setts : tuple[Fraction, ...]
        Every sett of the warp once, as they first appear from the seat's left. [ends/cm]
    width_in_reed : Fraction
        True width in reed. [cm]
    finished_width : Fraction
        What the finished width becomes. [cm]
    pattern : tuple[ColourRun, ...]
        The whole colour order, seat view from the left, the ends on another beam among them. [-]
    length_wanted : Fraction
        Warp length before rounding up. [cm]
    warp_length : Fraction
        Warp length planned: rounded up by board or empty beam, without build-up; the length asked for, which every
        section reaches, where a measured depth counts the turns. [cm]
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
        Longest warp the rakes hold, in the section that comes out shortest. [cm]
    end_circumference : float | None
        Circumference to find with the tape at the end. [cm]
    turns_range : TurnsRange | None
        Whole turns that reach the length, by the doubt of the tape; None where this beam and yarn are not
        calibrated, or the turns were given. [turns]
    length_range : Range | None
        Length after the planned turns in the deepest ordinary section, with its doubt; None as above. [cm]
    round_range : Range | None
        Circumference to find with the tape at the end, with its doubt; None as above. [cm]
    depth_range : Range | None
        Depth of yarn at the end in the deepest section, with its doubt; None as above. [cm]
    most_turns_range : Range | None
        Turns the rakes hold, with their doubt; None as above. [turns]
    longest_range : Range | None
        Longest warp the rakes hold, with its doubt; None as above. [cm]
    reed : ReedChoice | None
        Best reed. [-]
    reeds : tuple[ReedChoice, ...]
        All useful reeds, best first. [-]
    sections : tuple[Section, ...]
        Sections used, from the seat's left; empty on a plain beam. [-]
    setups : tuple[Setup, ...]
        Arrangements of spools, in the order of winding that moves fewest; empty where all are chains. [-]
    fewest_moved : int
        Slots of the rack that no order of the set-ups can do with fewer of. [-]
    lead_lost : Fraction
        Yarn lost between rack and beam at all changes of set-up. [cm]
    lead_lost_mass : Fraction
        What it weighs. [g]
    spools : tuple[SpoolGroup, ...]
        Spools to fill; empty where all are chains. [-]
    chains : tuple[Chain, ...]
        Chains to wind; empty where the box winds all. [-]
    ties : tuple[ChokeTie, ...]
        Choke ties of each chain, as many as the longest has. [-]
    raddle : tuple[tuple[int, int], ...]
        Raddle spaces of the whole warp as (how many, ends in each); empty where the box takes part. [-]
    heddles : tuple[int, ...]
        Heddles needed on each shaft, front first. [-]
    yarn : tuple[YarnNeed, ...]
        What each yarn is needed for. [-]
    cost : ClothCost | None
        What all yarn costs; None where a price is not known. Without described pieces the whole counts as one. [money]
    turn_table : tuple[TurnRow, ...]
        Turn against length; empty where turns are not counted. [-]
    knot : KnotPlace | None
        Where the leader knot lands. [-]
    comb_angle : float | None
        Angle to turn the comb so that the bundle fits the section. [degrees]
    one_more : OneMore | None
        What one more piece would need. [-]
    edge_choices : tuple[EdgeChoice, ...]
        What can be done about partial edges; empty when no edge is partial. [-]
    alternatives : tuple[Alternative, ...]
        Widths near the planned one that fit better, the nearest first. [-]
    repeat_layouts : RepeatLayouts | None
        How the repeat falls into the sections; None without a repeat or sections. [-]
    mismatches : tuple[Mismatch, ...]
        Sections that come out unequal, the worst pair first; empty where all are chains. [-]
    fewer_spools : tuple[FewerSpools, ...]
        The planned way and those that need fewer spools; empty where all are chains, or there is no such way. [-]
    short_spools : tuple[SpoolGroup, ...]
        Spools that serve fewer sections than the first of their yarn, so may be short ones. [-]
    tie_marks : TieMarks | None
        Ties of each chain, chokes of the longest; None where the box winds all. [-]
    threading_guide : tuple[SectionThreading, ...]
        Threading of each section, or of each chain where there are none, from the seat's left. [-]
    spare_heddles : tuple[SpareHeddles, ...]
        Heddles of each shaft that stay empty, front first; empty where they were not counted. [-]
    sley_guide : tuple[SectionSley, ...]
        Dents of each section or chain in the best reed, from the seat's left; empty without a reed. [-]
    sums : tuple[Sum, ...]
        Every line of arithmetic, in the order of the bench. [-]
    remarks : tuple[Remark, ...]
        Advice, loudest first. [-]
    """

    ends: int
    ends_elsewhere: int
    floating_selvedge: int
    repeats: int
    balance: int
    sett: Fraction
    setts: tuple[Fraction, ...]
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
    turns_range: TurnsRange | None
    length_range: Range | None
    round_range: Range | None
    depth_range: Range | None
    most_turns_range: Range | None
    longest_range: Range | None
    reed: ReedChoice | None
    reeds: tuple[ReedChoice, ...]
    sections: tuple[Section, ...]
    setups: tuple[Setup, ...]
    fewest_moved: int
    lead_lost: Fraction
    lead_lost_mass: Fraction
    spools: tuple[SpoolGroup, ...]
    chains: tuple[Chain, ...]
    ties: tuple[ChokeTie, ...]
    raddle: tuple[tuple[int, int], ...]
    heddles: tuple[int, ...]
    yarn: tuple[YarnNeed, ...]
    cost: ClothCost | None
    turn_table: tuple[TurnRow, ...]
    knot: KnotPlace | None
    comb_angle: float | None
    one_more: OneMore | None
    edge_choices: tuple[EdgeChoice, ...]
    alternatives: tuple[Alternative, ...]
    repeat_layouts: RepeatLayouts | None
    mismatches: tuple[Mismatch, ...]
    fewer_spools: tuple[FewerSpools, ...]
    short_spools: tuple[SpoolGroup, ...]
    tie_marks: TieMarks | None
    threading_guide: tuple[SectionThreading, ...]
    spare_heddles: tuple[SpareHeddles, ...]
    sley_guide: tuple[SectionSley, ...]
    sums: tuple[Sum, ...]
    remarks: tuple[Remark, ...]

    @property
    def ends_of_cloth(self) -> int:
        """Warp ends of the whole cloth, on whichever beam they lie; floating selvedges not counted."""
        return self.ends + self.ends_elsewhere

    @property
    def stops(self) -> tuple[Remark, ...]:
        """Remarks that hold back a card."""
        return tuple(remark for remark in self.remarks if remark.severity is Severity.STOP)
