"""What an empty weighs, learned from those that were weighed."""

from __future__ import annotations

from collections.abc import Sequence

from studio.quantities import Grams

FAR_OFF = 2
"""An empty of more than so many times the others of its sort, or less than that part, is asked about."""


def median(weights: Sequence[Grams]) -> Grams:
    """Give the middle of what empties of one sort weighed, exactly.

    Of an even number it lies between the two in the middle. Cones of one sort differ by a few grams (common practice,
    no source); one that is wrong moves the middle by no more than those, and a mean by as much as it is wrong.
    Source: plain arithmetic. Raises ValueError if `weights` is empty.

    >>> from fractions import Fraction
    >>> median([Fraction(25), Fraction(27), Fraction(250)]), median([Fraction(25), Fraction(26)])
    (Fraction(27, 1), Fraction(51, 2))
    """
    if not weights:
        raise ValueError("weights must hold at least one reading")
    inside, rest = divmod(len(weights), 2)
    ordered = sorted(weights)
    return ordered[inside] if rest else (ordered[inside - 1] + ordered[inside]) / 2


def far_off(weight: Grams, middle: Grams) -> bool:
    """Say whether an empty is far off the others of its sort.

    It is above double or below half of their median.
    Source: common practice, no source.

    >>> from fractions import Fraction
    >>> far_off(Fraction(250), Fraction(25)), far_off(Fraction(27), Fraction(25))
    (True, False)
    """
    return not middle / FAR_OFF <= weight <= middle * FAR_OFF
