"""What follows from a brief: the plan, as plain frozen data. No arithmetic happens after this.

Numbers that were counted are `int`, numbers that follow by plain arithmetic are exact `Fraction`s, and lengths
in which a circle takes part are `float`s of at least nine good digits; all in cm, g, tex, ends/cm.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from planner.calc.plan_choices import (
    Alternative,
    EdgeChoice,
    EdgeKind,
    FewerSpools,
    Mismatch,
    RepeatLayouts,
    SpoolWay,
    TieMarks,
)
from planner.calc.plan_parts import (
    ColourRun,
    Number,
    OneMore,
    Quantity,
    ReedChoice,
    Remark,
    Section,
    Severity,
    Sum,
    TurnRow,
    YarnNeed,
)
from planner.calc.plan_winding import (
    Chain,
    ChokeTie,
    KnotPlace,
    Setup,
    SlotChange,
    SpoolGroup,
)

__all__ = [
    "Alternative",
    "Chain",
    "ChokeTie",
    "ColourRun",
    "EdgeChoice",
    "EdgeKind",
    "FewerSpools",
    "KnotPlace",
    "Mismatch",
    "Number",
    "OneMore",
    "Quantity",
    "ReedChoice",
    "Remark",
    "RepeatLayouts",
    "Section",
    "Setup",
    "Severity",
    "SlotChange",
    "SpoolGroup",
    "SpoolWay",
    "Sum",
    "TieMarks",
    "TurnRow",
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
        Arrangements of spools, in the order of winding that moves fewest; empty where all are chains. [-]
    fewest_moved : int
        Slots of the rack that no order of the set-ups can do with fewer of. [-]
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
    fewest_moved: int
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
    edge_choices: tuple[EdgeChoice, ...]
    alternatives: tuple[Alternative, ...]
    repeat_layouts: RepeatLayouts | None
    mismatches: tuple[Mismatch, ...]
    fewer_spools: tuple[FewerSpools, ...]
    short_spools: tuple[SpoolGroup, ...]
    tie_marks: TieMarks | None
    sums: tuple[Sum, ...]
    remarks: tuple[Remark, ...]

    @property
    def stops(self) -> tuple[Remark, ...]:
        """Remarks that hold back a card."""
        return tuple(remark for remark in self.remarks if remark.severity is Severity.STOP)
