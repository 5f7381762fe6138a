"""What an empty weighs, learned from those that were weighed."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

FAR_OFF = 2
"""An empty of more than so many times the others of its sort, or less than that part, is asked about."""


def median(weights: Sequence[Fraction]) -> Fraction:
    """Give the middle of what empties of one sort weighed, exactly.

    Parameters
    ----------
    weights : Sequence[Fraction]
        One or more readings of the scale. [g]

    Returns
    -------
    middle : Fraction
        As many weigh less as weigh more; between the two in the middle of an even number. [g]

    Raises
    ------
    ValueError
        If `weights` is empty.

    Notes
    -----
    Plain arithmetic. Cones of one sort differ by a few grams (common practice, no source); one that is wrong moves the
    middle by no more than those, and a mean by as much as it is wrong.

    Examples
    --------
    >>> median([Fraction(25), Fraction(27), Fraction(250)]), median([Fraction(25), Fraction(26)])
    (Fraction(27, 1), Fraction(51, 2))
    """
    if not weights:
        raise ValueError("weights must hold at least one reading")
    inside, rest = divmod(len(weights), 2)
    ordered = sorted(weights)
    return ordered[inside] if rest else (ordered[inside - 1] + ordered[inside]) / 2


def far_off(weight: Fraction, middle: Fraction) -> bool:
    """Say whether an empty is far off the others of its sort.

    Parameters
    ----------
    weight : Fraction
        One reading. [g]
    middle : Fraction
        The median of the others. [g]

    Returns
    -------
    far_off : bool
        Above double or below half of it. [-]

    Notes
    -----
    Common practice, no source.

    Examples
    --------
    >>> far_off(Fraction(250), Fraction(25)), far_off(Fraction(27), Fraction(25))
    (True, False)
    """
    return not middle / FAR_OFF <= weight <= middle * FAR_OFF
