"""Width: from the finished cloth to the reed, to a whole number of ends, and back again."""

from __future__ import annotations

from fractions import Fraction
from math import floor, gcd

from studio.quantities import Cm, Ends, EndsExact, EndsPerCm, Repeats, Share

HALF = Fraction(1, 2)


def _kept(draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    if not 0 <= draw_in < 1:
        raise ValueError(f"draw_in {draw_in} must be at least 0 and below 1")
    if not 0 <= width_shrinkage < 1:
        raise ValueError(f"width_shrinkage {width_shrinkage} must be at least 0 and below 1")
    return (1 - draw_in) * (1 - width_shrinkage)


def width_in_reed(finished_width: Cm, draw_in: Share, width_shrinkage: Share) -> Cm:
    """Give the width in the reed that finishes at a wanted width.

    Losses are shares of the longer measure, draw-in of the width in reed and shrinkage of the width on the loom, so
    they are divided out: adding them on falls short.
    Source: plain arithmetic. Raises ValueError if `finished_width` is not above zero, or `draw_in` or `width_shrinkage`
    is below 0 or not below 1.

    A loss of one fifth asks for ten to finish at eight:
    >>> width_in_reed(Fraction(8), Fraction(0), Fraction(1, 5))
    Fraction(10, 1)
    """
    if finished_width <= 0:
        raise ValueError(f"finished_width {finished_width} must be above zero")
    return finished_width / _kept(draw_in, width_shrinkage)


def finished_width_of(width_in_reed: Cm, draw_in: Share, width_shrinkage: Share) -> Cm:
    """Give the width a cloth finishes at, from its width in the reed.

    The way back of `width_in_reed`.
    Source: plain arithmetic. Raises ValueError if `width_in_reed` is not above zero, or `draw_in` or `width_shrinkage`
    is below 0 or not below 1.

    >>> finished_width_of(Fraction(10), Fraction(0), Fraction(1, 5))
    Fraction(8, 1)
    """
    if width_in_reed <= 0:
        raise ValueError(f"width_in_reed {width_in_reed} must be above zero")
    return width_in_reed * _kept(draw_in, width_shrinkage)


def ends_across(width_in_reed: Cm, sett: EndsPerCm, multiple: Ends = 1) -> Ends:
    """Count the warp ends that fill a width in the reed.

    Ends come in multiples, such as pairs; selvedges are not counted. Part of an end cannot be wound, so the count is
    settled once, here: to the nearest, a half upward, at least one. The width always follows back from the count with
    `width_of_ends`.
    Source: plain arithmetic. Raises ValueError if `width_in_reed`, `sett` or `multiple` is not above zero.

    Twenty inches at twelve ends to the inch, and 14.12 inches at twenty in pairs:
    >>> ends_across(Fraction(254, 5), Fraction(600, 127))
    240
    >>> ends_across(Fraction(12 * 254, 85), Fraction(2000, 254), 2)
    282
    """
    if width_in_reed <= 0 or sett <= 0 or multiple < 1:
        raise ValueError(f"width_in_reed {width_in_reed}, sett {sett} and multiple {multiple} must be above zero")
    return max(1, floor(width_in_reed * sett / multiple + HALF)) * multiple


def multiple_fits_repeats(repeat: Ends, balance: Ends, multiple: Ends) -> bool:
    """Tell whether some number of whole repeats with the balance is a multiple, such as pairs.

    k x repeat + balance is a multiple for some k exactly when the greatest common divisor of repeat and multiple
    divides the balance.
    Source: plain arithmetic. Raises ValueError if `repeat` or `multiple` is not above zero, or `balance` is below.

    Thirty ends and one more are never even; 31 and one more are, at every odd number of repeats:
    >>> multiple_fits_repeats(30, 1, 2), multiple_fits_repeats(31, 1, 2)
    (False, True)
    """
    if repeat < 1 or balance < 0 or multiple < 1:
        raise ValueError(f"repeat {repeat} and multiple {multiple} must be above zero, balance {balance} not below")
    return balance % gcd(repeat, multiple) == 0


def repeats_in_steps(repeat: Ends, balance: Ends, multiple: Ends) -> tuple[Ends, Ends]:
    """Give the fewest ends that are whole repeats, their balance and a multiple at once, and how far apart these lie.

    The fewest, of one repeat at least, and the step to the next, lcm(repeat, multiple).
    Source: plain arithmetic. Raises ValueError if `repeat` or `multiple` is not above zero, `balance` is below, or no
    number of repeats gives the multiple.

    Repeats of 31 and one more end in pairs: 32 ends, then every 62:
    >>> repeats_in_steps(31, 1, 2)
    (32, 62)
    """
    if not multiple_fits_repeats(repeat, balance, multiple):
        raise ValueError(f"no repeats of {repeat} with balance {balance} are a multiple of {multiple}")
    every = multiple // gcd(repeat, multiple)
    fewest = next(count for count in range(1, every + 1) if (count * repeat + balance) % multiple == 0)
    return fewest * repeat + balance, every * repeat


def ends_in_repeats(
    ends: Ends | EndsExact, repeat: Ends, balance: Ends = 0, multiple: Ends = 1
) -> tuple[Ends, Repeats]:
    """Settle a count of ends on whole repeats of the colour order.

    Of the numbers of repeats that, with the balance, give the multiple, the nearest, a half upward, at least one. They
    lie lcm(repeat, multiple) ends apart, and the count is rounded once.
    Source: plain arithmetic. Raises ValueError if `ends`, `repeat` or `multiple` is not above zero, `balance` is below,
    or no number of repeats gives the multiple.

    A 12-end repeat in 400 ends leaves 396 (J. T. Taylor, Cotton Weaving and Designing, 6th ed.):
    >>> ends_in_repeats(400, 12, 0)
    (396, 33)

    The same in eights steps by 24 ends:
    """
    if ends <= 0 or repeat < 1 or balance < 0:
        raise ValueError(f"ends {ends} and repeat {repeat} must be above zero, balance {balance} not below")
    if not multiple_fits_repeats(repeat, balance, multiple):
        raise ValueError(f"no repeats of {repeat} with balance {balance} are a multiple of {multiple}")
    fewest, step = repeats_in_steps(repeat, balance, multiple)
    found = fewest + max(0, floor(Fraction(ends - fewest) / step + HALF)) * step
    return found, (found - balance) // repeat


def width_of_ends(ends: Ends, sett: EndsPerCm) -> Cm:
    """Give the width that a count of ends takes up.

    Source: plain arithmetic. Raises ValueError if `ends` or `sett` is not above zero.

    282 ends at 20 to the inch are 14.1 inches:
    >>> width_of_ends(282, Fraction(2000, 254)) == Fraction(141, 10) * Fraction(254, 100)
    True
    """
    if ends < 1 or sett <= 0:
        raise ValueError(f"ends {ends} and sett {sett} must be above zero")
    return ends / sett
