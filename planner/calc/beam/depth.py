"""Depth of yarn on a warp beam: what one turn adds, what the tape says it added, what the rakes hold."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import floor, pi

from studio.quantities import Cm, Cm2, CmFloat, CmNumber, Ends, EndsPerCm, GramsPerCm3, Tex, Turns, TurnsNumber


def wound_area(tex: Tex, density: GramsPerCm3) -> Cm2:
    """Give the cross-section one end takes on the beam.

    area = tex / (100 000 density), with the air round it, since one tex is a gram in 100 000 cm.
    Source: plain arithmetic. Raises ValueError if `tex` or `density` is not above zero.

    >>> float(wound_area(Fraction(150), Fraction(1, 2)))
    0.003
    """
    if tex <= 0 or density <= 0:
        raise ValueError(f"tex {tex} and density {density} must be above zero")
    return tex / (100_000 * density)


def depth_per_turn(ends_per_cm: EndsPerCm, tex: Tex, density: GramsPerCm3) -> Cm:
    """Give the depth that one turn of evenly spread yarn adds.

    depth = ends per cm x tex / (100 000 density). The density of yarn wound by hand has no published source, so a
    calibration of one's own beam is better.
    Source: plain geometry. Raises ValueError if any number is not above zero.

    Eight ends to the centimetre of 147.635 tex at 0.35 g/cm3:
    >>> round(float(depth_per_turn(Fraction(8), Fraction("147.635"), Fraction("0.35"))), 5)
    0.03375
    """
    if ends_per_cm <= 0 or tex <= 0 or density <= 0:
        raise ValueError(f"ends_per_cm {ends_per_cm}, tex {tex} and density {density} must be above zero")
    return ends_per_cm * tex / (100_000 * density)


def depth_of_mixture(parts: Iterable[tuple[Ends, Cm2]], width: Cm) -> Cm:
    """Give the depth one turn adds where several yarns lie side by side.

    Cross-sections of all ends add; their sum over the width they share is the depth, were it level.
    Source: plain geometry. Raises ValueError if `width` is not above zero.

    >>> depth_of_mixture([(10, Fraction(1, 100)), (5, Fraction(1, 50))], Fraction(4))
    Fraction(1, 20)
    """
    if width <= 0:
        raise ValueError(f"width {width} must be above zero")
    return sum((ends * area for ends, area in parts), Fraction(0)) / width


def depth_from_tape(turns: TurnsNumber, start: CmNumber, end: CmNumber) -> CmFloat:
    """Solve the depth of one turn from the tape, before and after a section.

    b = (C1 - C0) / (2 pi T).
    Source: plain geometry. Raises ValueError if `turns` or `start` is not above zero, or `end` is below `start`.

    >>> round(depth_from_tape(12, 36, 37.38), 4)
    0.0183
    """
    if turns <= 0 or start <= 0 or end < start:
        raise ValueError(f"turns {turns}, start {start} and end {end} are no winding")
    return (float(end) - float(start)) / (2 * pi * float(turns))


def most_turns(rake_height: Cm, clearance: Cm, depth_per_turn: Cm) -> Turns:
    """Give the turns that the rakes hold.

    turns = (rake height - clearance) / depth per turn, rounded down. The rake is measured above the bar, and its
    clearance must stay above the yarn; 0 where it is no higher.
    Source: plain geometry. Raises ValueError if `depth_per_turn` is not above zero, or a height is below zero.

    A 1 in rake, 1/4 in kept free, 0.0122 in a turn:
    >>> most_turns(Fraction(1), Fraction(1, 4), Fraction("0.0122"))
    61
    """
    if depth_per_turn <= 0 or rake_height < 0 or clearance < 0:
        raise ValueError(f"rake_height {rake_height}, clearance {clearance}, depth_per_turn {depth_per_turn}")
    return max(0, floor((rake_height - clearance) / depth_per_turn))
