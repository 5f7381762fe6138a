"""What lies on the winding bench: the plan's set-ups, spools, chains and knots, reached through `plan`."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from planner.calc.terms.plan_parts import ColourRun, Number


@dataclass(frozen=True, slots=True)
class SlotChange:
    """What one yarn does on the rack between two set-ups; slots count from the left seen from the back.

    Attributes
    ----------
    code : str
        Code of the yarn. [-]
    taken_off : tuple[tuple[int, int], ...]
        First and last slot of each span it leaves. [-]
    put_on : tuple[tuple[int, int], ...]
        First and last slot of each span it comes to. [-]
    """

    code: str
    taken_off: tuple[tuple[int, int], ...]
    put_on: tuple[tuple[int, int], ...]

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
    """One arrangement of spools on the rack.

    Attributes
    ----------
    number : int
        Place in the order of winding, 1 first. [-]
    runs : tuple[ColourRun, ...]
        Colours, seat view from the left. [-]
    positions : tuple[int, ...]
        Sections wound with it. [-]
    changes : tuple[SlotChange, ...]
        What changes on the rack after the set-up before; empty for the first. [-]
    moved : int
        Slots of the rack whose yarn changes after the set-up before. [-]
    threaded : int
        Ends threaded anew through the box; 0 where spools are only taken off, and for the first. [ends]
    lead_lost : Fraction
        Yarn lost between rack and beam at this change. [cm]
    slots : tuple[tuple[int, int], ...]
        First and last slot of each stretch of the rack that holds spools, from the left seen from the back. [-]
    """

    number: int
    runs: tuple[ColourRun, ...]
    positions: tuple[int, ...]
    changes: tuple[SlotChange, ...] = ()
    moved: int = 0
    threaded: int = 0
    lead_lost: Fraction = Fraction(0)
    slots: tuple[tuple[int, int], ...] = ()

    @property
    def runs_from_back(self) -> tuple[ColourRun, ...]:
        """The order of the rack, as the person at the box sees it, behind the loom."""
        return self.runs[::-1]


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
        Real length with the reserve and the box lead lost, rounded up to the studio's step. [cm]
    lead_lost : Fraction
        Yarn each of them loses where the box is threaded anew. [cm]
    """

    code: str
    first: int
    last: int
    sections: int
    nominal_length: Number
    real_length: Number
    to_wind: Fraction
    lead_lost: Fraction = Fraction(0)

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
    mass : Fraction
        What the chain weighs. [g]
    length : Fraction
        How long it is wound. [cm]
    """

    number: int
    position: int | None
    ends: int
    passes: int
    odd_ends: int
    groups: tuple[tuple[int, int], ...]
    runs: tuple[ColourRun, ...]
    mass: Fraction = Fraction(0)
    length: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class ChokeTie:
    """One choke tie of every chain that is so long.

    Attributes
    ----------
    number : int
        1 nearest the beam. [-]
    distance : Fraction
        From the beam's end of the chain. [cm]
    turn : float | None
        Turn at which it reaches the beam; None where that is not counted, or it never does. [turns]
    """

    number: int
    distance: Fraction
    turn: float | None


@dataclass(frozen=True, slots=True)
class KnotPlace:
    """Where the leader knot lands on the beam.

    Attributes
    ----------
    past_bar : Fraction
        Distance of its middle past the nearest bar behind it. [cm]
    to_next_bar : Fraction
        Distance of its middle to the next bar. [cm]
    clear : bool
        Lies in the gap, all of it. [-]
    mend : Fraction
        Change of leader length that puts it in the middle of the nearest gap; minus shortens. [cm]
    too_long : bool
        Longer than a gap, so that no length of leader helps. [-]
    """

    past_bar: Fraction
    to_next_bar: Fraction
    clear: bool
    mend: Fraction
    too_long: bool = False
