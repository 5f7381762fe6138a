"""How the warp is wound: parts of a plan, reached through `planner.calc.terms.plan`.

Slots of the rack count from the left seen from the back; all other left and right is seen from the seat.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from planner.calc.terms.kinds import Distance, Groups, Length, Mass, Spans, Turns
from planner.calc.terms.plan_parts import ColourRun, Number


@dataclass(frozen=True, slots=True)
class SlotChange:
    """What one yarn does on the rack between two set-ups."""

    code: str
    taken_off: Spans
    put_on: Spans

    @property
    def spools_off(self) -> int:
        """Spools taken off."""
        return sum(last - first + 1 for first, last in self.taken_off)

    @property
    def spools_on(self) -> int:
        """Spools put on."""
        return sum(last - first + 1 for first, last in self.put_on)


@dataclass(frozen=True, slots=True)
class Setup:
    """One arrangement of spools on the rack, with what changes after the one before; nothing for the first."""

    number: int  # in the order of winding, 1 first
    runs: tuple[ColourRun, ...]
    positions: tuple[int, ...]  # sections wound with it
    changes: tuple[SlotChange, ...] = ()
    moved: int = 0  # slots whose yarn changes
    threaded: int = 0  # ends threaded anew through the box; none where spools are only taken off
    lead_lost: Distance[Fraction] = Fraction(0)  # yarn between rack and beam
    slots: Spans = ()  # stretches of the rack that hold spools

    @property
    def runs_from_back(self) -> tuple[ColourRun, ...]:
        """The order of the rack, as the person at the box sees it, behind the loom."""
        return self.runs[::-1]


@dataclass(frozen=True, slots=True)
class SpoolGroup:
    """Spools of one yarn that carry the same length; numbered within their yarn."""

    code: str
    first: int
    last: int
    sections: int  # each of them serves
    nominal_length: Distance[Number]  # by turns times empty circumference, with section waste
    real_length: Distance[Number]  # with build-up and section waste
    to_wind: Distance[Fraction]  # with the reserve and the box lead lost, rounded up to the studio's step
    lead_lost: Distance[Fraction] = Fraction(0)  # by each where the box is threaded anew

    @property
    def spools(self) -> int:
        """How many spools the group has."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Chain:
    """One chain wound on the board or mill."""

    number: int  # 1 first, in the order of the warp
    position: int | None  # of its section; None on a plain beam
    ends: int
    passes: int  # full ones, with all ends in hand
    odd_ends: int  # of one last, smaller pass
    groups: Groups  # of the raddle, in order
    runs: tuple[ColourRun, ...]
    mass: Mass[Fraction] = Fraction(0)
    length: Distance[Fraction] = Fraction(0)


@dataclass(frozen=True, slots=True)
class ChokeTie:
    """One choke tie of every chain that is so long."""

    number: int  # 1 nearest the beam
    distance: Distance[Fraction]  # from the beam's end of the chain
    turn: Turns[float] | None  # at which it reaches the beam; None where that is not counted, or it never does


@dataclass(frozen=True, slots=True)
class TieMarks:
    """Ties of one chain before it leaves the board; one colour above the pegs, another below."""

    tops: int
    bottoms: int
    chokes: int


@dataclass(frozen=True, slots=True)
class KnotPlace:
    """Where the middle of the leader knot lands on the beam."""

    past_bar: Length[Fraction]
    to_next_bar: Length[Fraction]
    clear: bool  # all of it in the gap
    mend: Length[Fraction]  # change of leader that puts it in the middle of the nearest gap; minus shortens
    too_long: bool = False  # longer than a gap, so that no length of leader helps
