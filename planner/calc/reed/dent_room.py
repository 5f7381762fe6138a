"""Room in the dent: whether the ends stand side by side between two wires, and whether a knot passes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import floor

from studio.quantities import Cm, DentsPerCm, Ends, Share

KNOT_WIDTH = 3
"""Threads that a weaver's knot is wide. Common practice, no source."""

SNUG, AMPLE = Fraction(1, 10), Fraction(1, 2)
"""Free shares below which a dent is called tight, and from which it is called ample. Common practice, no source."""


class Room(StrEnum):
    """How a dent feels to the ends in it."""

    AMPLE = "ample"
    FAIR = "fair"
    TIGHT = "tight"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class DentRoom:
    """The room of the ends in one dent."""

    gap: Cm  # between two wires
    free: Share  # below 0 the ends cannot stand side by side
    most: Ends
    knot_passes: bool  # a knot in one of the ends finds room beside the others
    room: Room  # the same in a word


def dent_gap(dents: DentsPerCm, wire: Cm) -> Cm:
    """Give the clear width between two wires of a reed.

    1 / dents - wire, 0 where that is not known: the gap is then taken a little too wide. Reeds of one number differ in
    their wire, so a wire measured with a gauge is better than any table.
    Source: plain geometry. Raises ValueError if `dents` is not above zero, `wire` is below, or the wires leave no gap.

    >>> dent_gap(Fraction(5), Fraction(1, 20))
    Fraction(3, 20)
    """
    if dents <= 0 or wire < 0 or wire * dents >= 1:
        raise ValueError(f"dents {dents} must be above zero, and wire {wire} not below zero nor as wide as the dent")
    return 1 / dents - wire


def free_share(gap: Cm, ends: Ends, diameter: Cm) -> Share:
    """Give the part of a dent that its ends leave free.

    1 - ends x diameter / gap; below 0 the ends cannot stand side by side. Soft yarns give way, hairy ones need more.
    Source: plain geometry. Raises ValueError if `gap` or `diameter` is not above zero, or `ends` is below.

    >>> free_share(Fraction(1, 4), 2, Fraction(1, 20))
    Fraction(3, 5)
    """
    if gap <= 0 or diameter <= 0 or ends < 0:
        raise ValueError(f"gap {gap} and diameter {diameter} must be above zero, ends {ends} not below")
    return 1 - ends * diameter / gap


def dent_room(dents: DentsPerCm, wire: Cm, ends: Ends, diameter: Cm) -> DentRoom:
    """Say how the ends of one dent stand, and whether a knot passes.

    `ends` are those of the fullest dent; `wire` is 0 when not known. A knot is taken as `KNOT_WIDTH` threads wide and
    passes when it and the other ends fit side by side. Tight is below a tenth free, ample from a half.
    Source: plain geometry; knot and bounds are common practice, no source. Raises ValueError if `dents` or `diameter`
    is not above zero, `wire` or `ends` is below, or the wires leave no gap.

    Two ends of 8/2 cotton, 52 to the inch, in a 10-dent reed:
    >>> inch = Fraction(254, 100)
    >>> found = dent_room(10 / inch, inch / 200, 2, inch / 52)
    >>> found.room, found.most, found.knot_passes
    (<Room.AMPLE: 'ample'>, 4, True)
    """
    gap = dent_gap(dents, wire)
    free = free_share(gap, ends, diameter)
    with_knot = (ends - 1 + KNOT_WIDTH) * diameter if ends else 0
    return DentRoom(gap, free, floor(gap / diameter), with_knot <= gap, _verdict(free))


def _verdict(free: Fraction) -> Room:
    if free < 0:
        return Room.NONE
    if free < SNUG:
        return Room.TIGHT
    return Room.AMPLE if free >= AMPLE else Room.FAIR
