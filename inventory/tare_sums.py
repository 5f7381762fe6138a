"""What an empty weighs, learned from those that were weighed."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction


def mean(weights: Sequence[Fraction]) -> Fraction:
    """Give the mean of what empties of one sort weighed, exactly.

    Parameters
    ----------
    weights : Sequence[Fraction]
        One or more readings of the scale. [g]

    Returns
    -------
    mean : Fraction
        Their mean. [g]

    Raises
    ------
    ValueError
        If `weights` is empty.

    Notes
    -----
    Plain arithmetic. Cones of one sort differ by a few grams, so the mean of several misses a cone by less than one
    reading may (common practice, no source).

    Examples
    --------
    >>> mean([Fraction(25), Fraction(27), Fraction(25)])
    Fraction(77, 3)
    """
    if not weights:
        raise ValueError("weights must hold at least one reading")
    return sum(weights, Fraction(0)) / len(weights)
