"""What follows from a brief: the plan, as plain frozen data, a part for each page of the worksheet.

Numbers that were counted are `int`, numbers that follow by plain arithmetic are exact `Fraction`s, and lengths
in which a circle takes part are `float`s of at least nine good digits; units are said by `planner.calc.terms.kinds`.
Left and right are seen from the seat.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.calc.terms.brief import YarnChoice
from planner.calc.terms.kinds import Angle, Depth, Distance, Length, Mass, Money, Sett, Share, Spaces, Turns
from planner.calc.terms.plan_choices import (
    Alternative,
    EdgeChoice,
    EdgeKind,
    FewerSpools,
    Mismatch,
    RepeatLayouts,
    SpoolWay,
)
from planner.calc.terms.plan_parts import (
    ColourRun,
    DepthRange,
    DistanceRange,
    LengthRange,
    Number,
    OneMore,
    PartTurnsRange,
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
)
from planner.calc.terms.plan_threading import SectionSley, SectionThreading, SleyRun, SpareHeddles
from planner.calc.terms.plan_winding import Chain, ChokeTie, KnotPlace, Setup, SlotChange, SpoolGroup, TieMarks

__all__ = [
    "Alternative", "Beaming", "Chain", "Choices", "ChokeTie", "Cloth", "ClothCost", "ColourRun", "EdgeChoice",
    "EdgeKind", "FewerSpools", "KnotPlace", "Mismatch", "Number", "OneMore", "Place", "Quantity", "Range",
    "ReedChoice", "Remark", "RepeatLayouts", "Section", "SectionSley", "SectionThreading", "Setup", "Severity",
    "SleyRun", "Sleying", "SlotChange", "SpareHeddles", "SpoolGroup", "SpoolWay", "StripeSley", "Sum", "Threading",
    "TieMarks", "TurnRow", "TurnsRange", "WarpLength", "WarpPlan", "Winding", "Yarn", "YarnNeed",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cloth:
    """Ends, colours and width of the warp."""

    main: tuple[ColourRun, ...]  # without the extra selvedge ends; the sections are shared by these
    pattern: tuple[ColourRun, ...]  # of all ends, those on another beam among them
    here: tuple[ColourRun, ...]  # of the ends on this beam
    elsewhere: frozenset[str]  # codes of the yarns whose ends lie on another beam
    ends: int  # in all, selvedges counted, floating selvedges not
    repeats: int  # whole ones; 0 when there is no repeat
    balance: int  # ends beyond them
    filling: int | None  # ends that would fill the wanted width without repeats or a multiple
    sett: Sett[Fraction]  # planned; of stripes with setts of their own, see `setts`
    sett_of: Mapping[str, Fraction]  # of each yarn
    greatest_setts: Mapping[str, Fraction]  # of each yarn of the pattern in this weave, one for all of a mixture
    main_width: Length[Fraction]  # without the extra selvedge ends
    width_in_reed: Length[Fraction]
    finished_width: Length[Fraction]
    sums: tuple[Sum, ...]

    @property
    def ends_here(self) -> int:
        """Ends on this beam."""
        return sum(run.ends for run in self.here)

    @property
    def ends_elsewhere(self) -> int:
        """Ends of the same cloth on another beam."""
        return self.ends - self.ends_here

    @property
    def parted(self) -> bool:
        """Some ends lie on another beam."""
        return self.ends_here < self.ends

    @property
    def is_even(self) -> bool:
        """One sett for the whole warp."""
        return len({self.sett_of[code] for code in {run.code for run in self.main}}) == 1

    @property
    def setts(self) -> Sett[tuple[Fraction, ...]]:
        """Every sett of the warp once, as they first appear from the left."""
        return tuple(dict.fromkeys(self.sett_of[code] for code in dict.fromkeys(run.code for run in self.pattern)))


@dataclass(frozen=True, slots=True)
class WarpLength:
    """What the warp is long for, before it is rounded up."""

    woven: Length[Fraction] | None  # of one piece under tension; None when the warp length was given directly
    woven_total: Distance[Fraction]  # for the weft
    take_up: Share[Fraction]  # the largest of the yarns on this beam; it decides how far they let the cloth be woven
    margin: Length[Fraction]  # in it
    wanted: Distance[Fraction]
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True)
class Place:
    """One section before its turns are known; depths are those of one turn."""

    position: int
    ends: int
    runs: tuple[ColourRun, ...]
    filled: Share[Fraction]  # part of the pitch its ends cover
    depth: Depth[Fraction]
    spread_depth: Depth[Fraction]  # were the ends spread over the whole section
    free_left: Share[Fraction] | None = None  # part of the pitch left of its ends; None on the only beam of a cloth
    across: tuple[ColourRun, ...] = ()  # all ends of the cloth across it where some lie on another beam


@dataclass(frozen=True, slots=True)
class Beaming:
    """The warp on its beam; None where turns are not counted, ranges also where they rest on no measure.

    The warp length is that by board or empty beam, without build-up; where a measured depth counts the turns, the
    length asked for, which every section reaches.
    """

    places: tuple[Place, ...]  # sections used; empty on a plain beam
    sections: tuple[Section, ...]  # the same with depth and length, set-ups not yet numbered
    ordinary: Depth[Fraction]  # of one turn in the deepest ordinary section
    turns: int | None
    turns_exact: Turns[float] | None  # of the length, with build-up
    turns_with_build_up: int | None  # whole ones that would do, in the shallowest section too
    warp_length: Distance[Fraction]
    nominal: Distance[Fraction]  # turns times the empty circumference; what the board gives where none are counted
    real_length: Distance[float] | None  # with build-up, in the deepest ordinary section
    end_circumference: Length[float] | None  # to find with the tape
    most_turns: int | None  # that the rakes hold
    longest_warp: Distance[float] | None  # that they hold, in the section that comes out shortest
    turn_table: tuple[TurnRow, ...]
    difference: tuple[float, float]  # deepest section longer than the shallowest, in cm and as a share
    sums: tuple[Sum, ...]  # length first, then sections and beam
    turns_range: TurnsRange | None = None
    length_range: DistanceRange | None = None
    round_range: LengthRange | None = None  # circumference at the end
    depth_range: DepthRange | None = None  # at the end, in the deepest section
    most_turns_range: PartTurnsRange | None = None
    longest_range: DistanceRange | None = None

    @property
    def turned(self) -> Number:
        """Turns that lie on the beam, whole with the box, exact with chains."""
        return self.turns if self.turns is not None else self.turns_exact or 0


@dataclass(frozen=True, slots=True)
class Sleying:
    """Reeds for the warp."""

    reeds: tuple[ReedChoice, ...]  # useful ones, best first
    sums: tuple[Sum, ...]

    @property
    def best(self) -> ReedChoice | None:
        """The first of the reeds."""
        return self.reeds[0] if self.reeds else None


@dataclass(frozen=True, slots=True)
class Winding:
    """How the warp is wound: by set-ups and spools where the box takes part, by chains where the board does."""

    sections: tuple[Section, ...]  # from the left, with their set-ups; empty on a plain beam
    setups: tuple[Setup, ...] = ()  # in the order of winding
    spools: tuple[SpoolGroup, ...] = ()
    chains: tuple[Chain, ...] = ()
    ties: tuple[ChokeTie, ...] = ()  # of each chain, as many as the longest has
    raddle: Spaces = ()  # of the whole warp; none where the box takes part
    lead_lost: Distance[Fraction] = Fraction(0)  # between rack and beam, at all changes of set-up
    lead_lost_mass: Mass[Fraction] = Fraction(0)
    fewest_moved: int = 0  # slots of the rack that no order of the set-ups can do with fewer of
    fewer_spools: tuple[FewerSpools, ...] = ()  # the planned way and those that need fewer spools, if there are any
    short_spools: tuple[SpoolGroup, ...] = ()  # serve fewer sections than the first of their yarn
    tie_marks: TieMarks | None = None
    bundle: Length[Fraction] | None = None  # width of the fullest section in the comb
    comb_angle: Angle[float] | None = None  # to turn the comb so that the bundle fits the section
    knot: KnotPlace | None = None
    sums: tuple[Sum, ...] = ()


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """What one yarn is needed for, against the shelf."""

    yarn: YarnChoice
    ends: int
    warp_nominal: Distance[Number]  # by nominal lengths, with section waste where the box winds it
    warp_real: Distance[Number]  # to wind: spools as wound, and ends of chains times their length
    warp_mass: Mass[Number]
    weft: Distance[Number]
    weft_mass: Mass[Number]
    short: Mass[Number]  # 0 when there is enough or it is not known
    cost: Money[Number] | None  # of warp and weft

    @property
    def code(self) -> str:
        """Code of the yarn."""
        return self.yarn.code

    @property
    def on_hand(self) -> Mass[Fraction] | None:
        """Free on the shelf; None when not known."""
        return self.yarn.on_hand


@dataclass(frozen=True, slots=True)
class ClothCost:
    """What the yarn of a cloth costs."""

    warp: Money[Fraction]
    weft: Money[Fraction]
    whole: Money[Fraction]
    of_a_piece: Money[Fraction]


@dataclass(frozen=True, slots=True)
class Yarn:
    """Yarn for warp and weft."""

    needs: tuple[YarnNeed, ...]  # warp yarns first
    floating: int  # floating selvedge ends of the yarns on this beam, wound apart
    cost: ClothCost | None  # None where a price is not known; without described pieces the whole counts as one
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True)
class Threading:
    """What to do at the heddles and the reed, by sections, or by chains where there are none."""

    heddles: tuple[int, ...]  # needed on each shaft, front first
    guide: tuple[SectionThreading, ...]
    spare: tuple[SpareHeddles, ...]  # empty where the heddles were not counted
    sleys: tuple[SectionSley, ...]  # in the best reed


@dataclass(frozen=True, slots=True)
class Choices:
    """What else could be done."""

    edges: tuple[EdgeChoice, ...] = ()  # about partial ones
    alternatives: tuple[Alternative, ...] = ()  # widths near by that fit better, the nearest first
    layouts: RepeatLayouts | None = None
    mismatches: tuple[Mismatch, ...] = ()  # sections that come out unequal, the worst pair first
    sums: tuple[Sum, ...] = ()


@dataclass(frozen=True, slots=True)
class WarpPlan:
    """All that follows from a brief."""

    cloth: Cloth
    length: WarpLength
    beam: Beaming
    reed: Sleying
    winding: Winding
    yarn: Yarn
    threading: Threading
    choices: Choices
    one_more: OneMore | None  # what one more piece would need
    sums: tuple[Sum, ...]  # in the order of the bench
    remarks: tuple[Remark, ...]  # loudest first

    @property
    def stops(self) -> tuple[Remark, ...]:
        """Remarks that hold back a card."""
        return tuple(remark for remark in self.remarks if remark.severity is Severity.STOP)
