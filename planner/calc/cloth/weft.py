"""Weft: picks in a woven length and the yarn they take."""

from __future__ import annotations

from fractions import Fraction
from math import ceil


def picks_in(woven: Fraction, picks: Fraction) -> int:
    """Count the picks of a woven length.

    Parameters
    ----------
    woven : Fraction
        Length woven, under tension. [cm]
    picks : Fraction
        Picks per unit of length. [picks/cm]

    Returns
    -------
    count : int
        Picks, the last one begun counted. [picks]

    Raises
    ------
    ValueError
        If `woven` is below zero or `picks` is not above.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    Forty inches at 18 picks to the inch:

    >>> picks_in(Fraction(1016, 10), Fraction(1800, 254))
    720
    """
    if woven < 0 or picks <= 0:
        raise ValueError(f"woven {woven} must not be below zero and picks {picks} must be above")
    return ceil(woven * picks)


def weft_length(woven_total: Fraction, picks: Fraction, width_in_reed: Fraction, allowance: Fraction) -> Fraction:
    """Give the weft yarn of everything that is woven.

    Parameters
    ----------
    woven_total : Fraction
        Length woven in all, under tension. [cm]
    picks : Fraction
        Picks per unit of length. [picks/cm]
    width_in_reed : Fraction
        Width the warp takes up in the reed. [cm]
    allowance : Fraction
        Weft beyond the width in reed, for its bends, turns and joins; added on. [share]

    Returns
    -------
    length : Fraction
        Weft yarn. [cm]

    Raises
    ------
    ValueError
        If `picks` or `width_in_reed` is not above zero, or `woven_total` or `allowance` is below.

    Notes
    -----
    The width in reed is used, and not the narrower cloth, as in C. P. Brooks, Cotton Manufacturing, 3rd ed., Weight
    of a Piece. The allowance is common practice, no source.

    Examples
    --------
    >>> weft_length(Fraction(100), Fraction(8), Fraction(50), Fraction(1, 10))
    Fraction(44000, 1)
    """
    if woven_total < 0 or picks <= 0 or width_in_reed <= 0 or allowance < 0:
        raise ValueError(
            f"picks {picks} and width_in_reed {width_in_reed} must be above zero, "
            f"woven_total {woven_total} and allowance {allowance} not below"
        )
    return woven_total * picks * width_in_reed * (1 + allowance)
