"""Weft: picks in a woven length and the yarn they take."""

from __future__ import annotations

from math import ceil

from studio.quantities import Cm, Picks, PicksPerCm, Share


def picks_in(woven: Cm, picks: PicksPerCm) -> Picks:
    """Count the picks of a woven length.

    The last one begun is counted.
    Source: plain arithmetic. Raises ValueError if `woven` is below zero or `picks` is not above.

    Forty inches at 18 picks to the inch:
    >>> from fractions import Fraction
    >>> picks_in(Fraction(1016, 10), Fraction(1800, 254))
    720
    """
    if woven < 0 or picks <= 0:
        raise ValueError(f"woven {woven} must not be below zero and picks {picks} must be above")
    return ceil(woven * picks)


def weft_length(woven_total: Cm, picks: PicksPerCm, width_in_reed: Cm, allowance: Share) -> Cm:
    """Give the weft yarn of everything that is woven.

    The width in reed is used, and not the narrower cloth; the allowance is for bends, turns and joins, and is added on.
    Source: C. P. Brooks, Cotton Manufacturing, 3rd ed., Weight of a Piece; the allowance is common practice, no source.
    Raises ValueError if `picks` or `width_in_reed` is not above zero, or `woven_total` or `allowance` is below.

    >>> from fractions import Fraction
    >>> weft_length(Fraction(100), Fraction(8), Fraction(50), Fraction(1, 10))
    Fraction(44000, 1)
    """
    if woven_total < 0 or picks <= 0 or width_in_reed <= 0 or allowance < 0:
        raise ValueError(
            f"picks {picks} and width_in_reed {width_in_reed} must be above zero, "
            f"woven_total {woven_total} and allowance {allowance} not below"
        )
    return woven_total * picks * width_in_reed * (1 + allowance)
