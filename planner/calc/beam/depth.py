"""Depth of yarn on a warp beam: what one turn adds, what the tape says it added, what the rakes hold."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import floor, pi

from planner.calc.terms.plan import Number


def wound_area(tex: Fraction, density: Fraction) -> Fraction:
    """Give the cross-section one end takes on the beam.

    Parameters
    ----------
    tex : Fraction
        Mass per length of the yarn. [tex]
    density : Fraction
        Density of the yarn as wound. [g/cm3]

    Returns
    -------
    area : Fraction
        Cross-section with the air round it. [cm2]

    Raises
    ------
    ValueError
        If `tex` or `density` is not above zero.

    Notes
    -----
    area = tex / (100 000 density), since one tex is a gram in 100 000 cm. Plain arithmetic.

    Examples
    --------
    >>> float(wound_area(Fraction(150), Fraction(1, 2)))
    0.003
    """
    if tex <= 0 or density <= 0:
        raise ValueError(f"tex {tex} and density {density} must be above zero")
    return tex / (100_000 * density)


def depth_per_turn(ends_per_cm: Fraction, tex: Fraction, density: Fraction) -> Fraction:
    """Give the depth that one turn of evenly spread yarn adds.

    Parameters
    ----------
    ends_per_cm : Fraction
        Ends per unit of width on the beam. [ends/cm]
    tex : Fraction
        Mass per length of the yarn. [tex]
    density : Fraction
        Density of the yarn as wound. [g/cm3]

    Returns
    -------
    depth : Fraction
        Depth of one layer. [cm]

    Raises
    ------
    ValueError
        If any number is not above zero.

    Notes
    -----
    depth = ends per cm x tex / (100 000 density). Plain geometry; the density of yarn wound by hand has no
    published source, so a calibration of one's own beam is better.

    Examples
    --------
    Eight ends to the centimetre of 147.635 tex at 0.35 g/cm3:

    >>> round(float(depth_per_turn(Fraction(8), Fraction("147.635"), Fraction("0.35"))), 5)
    0.03375
    """
    if ends_per_cm <= 0 or tex <= 0 or density <= 0:
        raise ValueError(f"ends_per_cm {ends_per_cm}, tex {tex} and density {density} must be above zero")
    return ends_per_cm * tex / (100_000 * density)


def depth_of_mixture(parts: Iterable[tuple[int, Fraction]], width: Fraction) -> Fraction:
    """Give the depth one turn adds where several yarns lie side by side.

    Parameters
    ----------
    parts : Iterable[tuple[int, Fraction]]
        Ends of each yarn and the cross-section of one of them. [cm2]
    width : Fraction
        Width on the beam that they share. [cm]

    Returns
    -------
    depth : Fraction
        Depth of one layer, were it level. [cm]

    Raises
    ------
    ValueError
        If `width` is not above zero.

    Notes
    -----
    Cross-sections add; their sum over the width is the depth. Plain geometry.

    Examples
    --------
    >>> depth_of_mixture([(10, Fraction(1, 100)), (5, Fraction(1, 50))], Fraction(4))
    Fraction(1, 20)
    """
    if width <= 0:
        raise ValueError(f"width {width} must be above zero")
    return sum((ends * area for ends, area in parts), Fraction(0)) / width


def depth_from_tape(turns: Number, start: Number, end: Number) -> float:
    """Solve the depth of one turn from the tape, before and after a section.

    Parameters
    ----------
    turns : Number
        Turns wound between the two measurements. [turns]
    start : Number
        Circumference before. [cm]
    end : Number
        Circumference after. [cm]

    Returns
    -------
    depth : float
        Depth one turn adds. [cm]

    Raises
    ------
    ValueError
        If `turns` or `start` is not above zero, or `end` is below `start`.

    Notes
    -----
    b = (C1 - C0) / (2 pi T). Plain geometry.

    Examples
    --------
    >>> round(depth_from_tape(12, 36, 37.38), 4)
    0.0183
    """
    if turns <= 0 or start <= 0 or end < start:
        raise ValueError(f"turns {turns}, start {start} and end {end} are no winding")
    return (float(end) - float(start)) / (2 * pi * float(turns))


def most_turns(rake_height: Fraction, clearance: Fraction, depth_per_turn: Fraction) -> int:
    """Give the turns that the rakes hold.

    Parameters
    ----------
    rake_height : Fraction
        Rake above the bar. [cm]
    clearance : Fraction
        Rake that must stay above the yarn. [cm]
    depth_per_turn : Fraction
        Depth one turn adds. [cm]

    Returns
    -------
    turns : int
        Whole turns; 0 where the rake is no higher than the clearance. [turns]

    Raises
    ------
    ValueError
        If `depth_per_turn` is not above zero, or a height is below zero.

    Notes
    -----
    turns = (rake height - clearance) / depth per turn, rounded down. Plain geometry.

    Examples
    --------
    A 1 in rake, 1/4 in kept free, 0.0122 in a turn:

    >>> most_turns(Fraction(1), Fraction(1, 4), Fraction("0.0122"))
    61
    """
    if depth_per_turn <= 0 or rake_height < 0 or clearance < 0:
        raise ValueError(f"rake_height {rake_height}, clearance {clearance}, depth_per_turn {depth_per_turn}")
    return max(0, floor((rake_height - clearance) / depth_per_turn))
