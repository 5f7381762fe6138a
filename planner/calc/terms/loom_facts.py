"""The loom, its beam and reeds, and the winding tools, as the studio measured them: the plan's given facts.

Part of the brief, and reached through `planner.calc.terms.brief`; what a field is, stands beside it (`field_table`).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Annotated

from planner.calc.terms.bounds import MOST_ENDS, MOST_SECTIONS, MOST_SHAFTS
from planner.calc.terms.field_table import Spec, choice, flag, length, part, per_cm, whole, width, words
from studio.quantities import Bars, Cm, DentsPerCm, Ends, Heddles, Sections, Shafts, Spools

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


# fmt: off
@dataclass(frozen=True, slots=True)
class ReedFacts:
    """One reed of the studio."""

    name: Annotated[str, words("as written on the reed", least=1, most=80)]
    dents: Annotated[DentsPerCm, Spec("dents")]
    reed_length: Annotated[Cm, width("usable width")]


@dataclass(frozen=True, slots=True)
class BeamFacts:
    """One warp beam, as measured here."""

    kind: Annotated[BeamKind, choice()]
    circumference: Annotated[Cm, width("round the bars, empty", "The circumference of the beam", above=True)]
    usable_width: Annotated[Cm, width("what can carry warp", "The usable width of the beam", above=True)]
    pitch: Annotated[Cm | None, length(
        "section width, centre of divider to centre of divider", left_out="a sectional beam needs it")] = None
    divider: Annotated[Cm, width("thickness of one", "The thickness of a divider")] = ZERO
    sections: Annotated[Sections, whole(
        "how many; a sectional beam needs it", "The number of sections", most=MOST_SECTIONS)] = 0
    centre: Annotated[Centre, choice(
        "at the middle: a divider with an even number of sections, a section with an odd one")] = Centre.DIVIDER
    rake_height: Annotated[Cm | None, width(
        "of the rake above the bar", "The height of the rakes", left_out="not known")] = None
    bars: Annotated[Bars, whole(
        "bars the circumference is made of, 0 for a solid roller", "The number of bars", most=24)] = 0
    leader: Annotated[Cm | None, length(
        "from where it is fastened to its loop", "The length of a leader", left_out="not known")] = None
    leader_offset: Annotated[Cm, width(
        "where it is fastened, past a bar along the round, the way it winds", "The place where a leader is fastened",
        left_out="0: on a bar")] = ZERO
    leader_knot: Annotated[Cm, width(
        "knot and loop beyond the leader's end, along the round", "The length of a leader knot")] = ZERO
    turning: Annotated[Turning, choice("how the warp leaves the beam")] = Turning.OVER
    clockwise: Annotated[bool, flag("turns clockwise while winding, seen from the crank side")] = True
    tape: Annotated[Cm, width(
        "most the circumference can be wrong, either way, by the tape it was measured with",
        "The doubt of the tape")] = ZERO
    depth_per_turn: Annotated[Cm | None, Spec(
        "depth", "measured with this yarn on this beam", "The measured depth per turn", most=2000, above=True,
        left_out="worked out from the yarn")] = None


@dataclass(frozen=True, slots=True)
class LoomFacts:
    """The loom the warp is planned for."""

    name: Annotated[str, words("nickname", least=1, most=80)]
    weaving_width: Annotated[Cm, width("widest warp in the reed", "The weaving width of the loom", above=True)]
    beam: Annotated[BeamFacts, part("loom.beam")]
    waste: Annotated[Cm, length("loom waste as measured", "The loom waste")]
    shafts: Annotated[Shafts, whole(called="The number of shafts", least=1, most=MOST_SHAFTS)] = 4
    treadles: Annotated[int, whole(called="The number of treadles", most=MOST_SHAFTS)] = 0
    heddles: Annotated[tuple[Heddles, ...], Spec(
        "counts", "one for each shaft, front shaft first", most=10000, left_out="not counted")] = ()
    reeds: Annotated[tuple[ReedFacts, ...], part("loom.reeds", most=40, left_out="none")] = ()


@dataclass(frozen=True, slots=True)
class Bench:
    """Winding tools: rack, box, board, raddle."""

    rack_spools: Annotated[Spools | None, whole(
        "places on the spool rack", "The number of places on the rack", "Spools on the rack",
        "Empty: as kept with the rack.", "tools", above=True, most=MOST_ENDS, left_out="not known")] = None
    board_path_max: Annotated[Cm | None, length(
        "longest path of board or mill", "The longest path of the board", "Longest path",
        "Empty: as kept with the board.", "tools", above=True, left_out="not known")] = None
    board_step: Annotated[Cm, length(
        "paths change by this", "The step of the board", "Paths change by", "Empty: as kept with the board.", "tools",
        above=True)] = Fraction(2286, 100)
    ends_at_once: Annotated[Ends, whole(
        "ends wound together on the board", "The ends wound at once", "Ends wound at once",
        "Empty: as kept with the board.", "tools", least=1, most=1000)] = 2
    with_paddle: Annotated[bool | None, flag(
        "the ends wound at once run through a paddle, and not between the fingers", label="Wound with a paddle",
        group="tools", left_out="not said")] = None
    chain_ends_max: Annotated[Ends, whole(
        "most ends in one chain", "The ends of one chain", "Most ends in a chain", "Empty: 100.", "tools", least=1,
        most=MOST_ENDS)] = 100
    raddle_space: Annotated[Cm, width("one space", "The raddle space", above=True)] = Fraction(127, 100)
    tie_every: Annotated[Cm, length(
        "between choke ties", "The distance between choke ties", above=True)] = Fraction(9144, 100)
    comb_dents: Annotated[DentsPerCm | None, per_cm(
        "dents", "of the box's exit comb", "The dents of the comb", left_out="comb left out")] = None
    comb_ends_per_dent: Annotated[Ends, whole(
        "fewest ends in each dent of the exit comb; where a section needs more, more go in",
        "The ends in each dent of the comb", least=1, most=100)] = 1
    spool_step: Annotated[Cm, length(
        "lengths on spools are rounded up to this", "The step of spool lengths", above=True)] = Fraction(4572, 10)
# fmt: on
