"""The board or mill as it really is: its paths measured with a string, the chain's weight, and its ties.

A board of one yard between the pegs winds a little more than a yard, since the warp lies round the outside of pegs.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil

from planner.calc.terms.plan import TieMarks
from studio.quantities import Cm, Crosses, Ends, Grams, Tex, Ties

CM_OF_ONE_TEX = 100_000
"""Centimetres of yarn that weigh one gram at one tex."""

ARMS_OF_A_CROSS = 4
"""Places where a cross is tied, two above the yarn and two below."""

END_PEGS = 2
"""Pegs at which the warp turns back, each tied above and below."""


def measured_path(path: Cm, guide: Cm, guide_measured: Cm) -> Cm:
    """Give the true length of a path from a guide string wound on the same board.

    true = path x measured / guide: every leg is taken to be as wrong as the measured ones.
    Source: plain arithmetic. Raises ValueError if a length is not above zero.

    Ten yards wound as a path, 10.2 found with the string; a path of 5 yards then winds 5.1:
    >>> measured_path(Fraction(5), Fraction(10), Fraction("10.2"))
    Fraction(51, 10)
    """
    if path <= 0 or guide <= 0 or guide_measured <= 0:
        raise ValueError(f"path {path}, guide {guide} and guide_measured {guide_measured} must be above zero")
    return path * guide_measured / guide


def path_by_name(wanted: Cm, step: Cm, guide: Cm, guide_measured: Cm) -> Cm:
    """Give the shortest path, by the board's name, that really winds the length wanted.

    The way back of `measured_path`, rounded up to whole steps by the board's name.
    Source: plain arithmetic. Raises ValueError if a length is not above zero.

    A board that winds 9.8 for 10 needs half a yard more for ten true yards:
    >>> path_by_name(Fraction(10), Fraction(1, 2), Fraction(10), Fraction("9.8"))
    Fraction(21, 2)
    """
    if wanted <= 0 or step <= 0 or guide <= 0 or guide_measured <= 0:
        raise ValueError(f"wanted {wanted}, step {step}, guide {guide} and guide_measured {guide_measured}")
    return ceil(wanted * guide / guide_measured / step) * step


def shortest_path(paths: Sequence[Cm], wanted: Cm) -> Cm:
    """Pick the shortest of the measured paths that reaches the length wanted.

    Source: plain comparison. Raises ValueError if no path is as long as `wanted`.

    >>> shortest_path([Fraction(5), Fraction(10), Fraction(8)], Fraction(6))
    Fraction(8, 1)
    """
    reaching = [path for path in paths if path >= wanted]
    if not reaching:
        raise ValueError(f"wanted {wanted} is longer than all {len(paths)} paths")
    return min(reaching)


def chain_mass(parts: Iterable[tuple[Ends, Tex]], length: Cm) -> Grams:
    """Give what a chain weighs, so that a miscount can be found on the scales.

    mass = ends x length x tex / 100 000, added over the yarns, without ties.
    Source: plain arithmetic. Raises ValueError if `length` or a count is below zero.

    Thirty-two ends of 150 tex, ten metres long:
    >>> chain_mass([(32, Fraction(150))], Fraction(1000))
    Fraction(48, 1)
    """
    counted = tuple(parts)
    if length < 0 or any(ends < 0 for ends, _ in counted):
        raise ValueError(f"length {length} and ends must not be below zero")
    return sum((ends * tex for ends, tex in counted), Fraction(0)) * length / CM_OF_ONE_TEX


def tie_marks(crosses: Crosses, chokes: Ties) -> TieMarks:
    """Count the ties of a chain in the colour of the tops, in the colour of the bottoms, and the choke ties.

    One cross to thread by, one more for the raddle. Each is tied at its four arms, each end peg at both sides; half of
    these lie on top. One colour of tie above and another below shows a twisted chain at once.
    Source: common practice, no source. Raises ValueError if `crosses` or `chokes` is below zero.

    >>> marks = tie_marks(2, 9)
    >>> marks.tops, marks.bottoms, marks.chokes
    (6, 6, 9)
    """
    if crosses < 0 or chokes < 0:
        raise ValueError(f"crosses {crosses} and chokes {chokes} must not be below zero")
    each = crosses * ARMS_OF_A_CROSS // 2 + END_PEGS
    return TieMarks(each, each, chokes)
