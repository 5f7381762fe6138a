"""Room in the dent: whether the ends stand side by side between two wires, and whether a knot passes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import floor

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
    """The room of the ends in one dent.

    Attributes
    ----------
    gap : Fraction
        Clear width between two wires. [cm]
    free : Fraction
        Part of the gap that the ends leave free; below 0 they cannot stand side by side. [share]
    most : int
        Most ends that can stand side by side. [ends]
    knot_passes : bool
        A knot in one of the ends finds room beside the others. [-]
    room : Room
        The same in a word. [-]
    """

    gap: Fraction
    free: Fraction
    most: int
    knot_passes: bool
    room: Room


def dent_gap(dents: Fraction, wire: Fraction) -> Fraction:
    """Give the clear width between two wires of a reed.

    Parameters
    ----------
    dents : Fraction
        Dents on a unit of width. [dents/cm]
    wire : Fraction
        Thickness of a wire; 0 when not known. [cm]

    Returns
    -------
    gap : Fraction
        Clear width of one dent. [cm]

    Raises
    ------
    ValueError
        If `dents` is not above zero, `wire` is below, or the wires leave no gap.

    Notes
    -----
    1 / dents - wire. Plain geometry. Reeds of one number differ in their wire, so a wire measured with a gauge is
    better than any table; without one, the gap is taken a little too wide.

    Examples
    --------
    >>> dent_gap(Fraction(5), Fraction(1, 20))
    Fraction(3, 20)
    """
    if dents <= 0 or wire < 0 or wire * dents >= 1:
        raise ValueError(f"dents {dents} must be above zero, and wire {wire} not below zero nor as wide as the dent")
    return 1 / dents - wire


def free_share(gap: Fraction, ends: int, diameter: Fraction) -> Fraction:
    """Give the part of a dent that its ends leave free.

    Parameters
    ----------
    gap : Fraction
        Clear width of the dent. [cm]
    ends : int
        Ends in it. [ends]
    diameter : Fraction
        Diameter of one end. [cm]

    Returns
    -------
    free : Fraction
        Part left free; below 0 the ends cannot stand side by side. [share]

    Raises
    ------
    ValueError
        If `gap` or `diameter` is not above zero, or `ends` is below.

    Notes
    -----
    1 - ends x diameter / gap. Plain geometry; soft yarns give way, hairy ones need more.

    Examples
    --------
    >>> free_share(Fraction(1, 4), 2, Fraction(1, 20))
    Fraction(3, 5)
    """
    if gap <= 0 or diameter <= 0 or ends < 0:
        raise ValueError(f"gap {gap} and diameter {diameter} must be above zero, ends {ends} not below")
    return 1 - ends * diameter / gap


def dent_room(dents: Fraction, wire: Fraction, ends: int, diameter: Fraction) -> DentRoom:
    """Say how the ends of one dent stand, and whether a knot passes.

    Parameters
    ----------
    dents : Fraction
        Dents on a unit of width. [dents/cm]
    wire : Fraction
        Thickness of a wire; 0 when not known. [cm]
    ends : int
        Ends in the fullest dent. [ends]
    diameter : Fraction
        Diameter of one end. [cm]

    Returns
    -------
    room : DentRoom
        Gap, free share, most ends, knot and verdict. [-]

    Raises
    ------
    ValueError
        If `dents` or `diameter` is not above zero, `wire` or `ends` is below, or the wires leave no gap.

    Notes
    -----
    A knot is taken as `KNOT_WIDTH` threads wide and passes when it and the other ends fit side by side. Tight is below
    a tenth free, ample from a half. Plain geometry; knot and bounds are common practice, no source.

    Examples
    --------
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
