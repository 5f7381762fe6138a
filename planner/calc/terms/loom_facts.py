"""The loom, its beam and reeds, and the winding tools, as the studio measured them: the plan's given facts.

Part of the brief, and reached through `planner.calc.terms.brief`; kept apart so that each file fits a reader's head.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

ZERO = Fraction(0)


class BeamKind(StrEnum):
    """How the warp beam is divided."""

    PLAIN = "plain"
    SECTIONAL = "sectional"


class Centre(StrEnum):
    """What stands at the middle of a sectional beam."""

    DIVIDER = "divider"
    SECTION = "section"


class Turning(StrEnum):
    """Which way the warp leaves the beam."""

    OVER = "over"
    UNDER = "under"


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
        Length of a leader from where it is fastened to its loop. [cm]
    leader_offset : Fraction
        Where it is fastened, past a bar along the round, the way it winds; 0 on the bar itself. [cm]
    leader_knot : Fraction
        Length of knot and loop beyond the leader's end, along the round. [cm]
    turning : Turning
        Warp comes off over the top or from under. [-]
    clockwise : bool
        Turns clockwise while winding, seen from the crank side. [-]
    tape : Fraction
        Most the circumference can be wrong, either way, by the tape it was measured with. [cm]
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
    leader_offset: Fraction = ZERO
    leader_knot: Fraction = ZERO
    turning: Turning = Turning.OVER
    clockwise: bool = True
    tape: Fraction = ZERO
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
        Fewest ends in each dent of the exit comb; where a section needs more, more go in. [ends]
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
