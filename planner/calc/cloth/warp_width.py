"""Width: from the finished cloth to the reed, to a whole number of ends, and back again."""

from __future__ import annotations

from fractions import Fraction
from math import floor, gcd

HALF = Fraction(1, 2)


def _kept(draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    if not 0 <= draw_in < 1:
        raise ValueError(f"draw_in {draw_in} must be at least 0 and below 1")
    if not 0 <= width_shrinkage < 1:
        raise ValueError(f"width_shrinkage {width_shrinkage} must be at least 0 and below 1")
    return (1 - draw_in) * (1 - width_shrinkage)


def width_in_reed(finished_width: Fraction, draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    """Give the width in the reed that finishes at a wanted width.

    Parameters
    ----------
    finished_width : Fraction
        Width of the finished cloth. [cm]
    draw_in : Fraction
        Narrowing from reed to fell, of the width in reed. [share]
    width_shrinkage : Fraction
        From the width on the loom to finished, of the width on the loom. [share]

    Returns
    -------
    width_in_reed : Fraction
        Width the warp takes up in the reed. [cm]

    Raises
    ------
    ValueError
        If `finished_width` is not above zero, or `draw_in` or `width_shrinkage` is below 0 or not below 1.

    Notes
    -----
    Plain arithmetic. Losses are shares of the longer measure, so they are divided out: adding them on falls short.

    Examples
    --------
    A loss of one fifth asks for ten to finish at eight:

    >>> width_in_reed(Fraction(8), Fraction(0), Fraction(1, 5))
    Fraction(10, 1)
    """
    if finished_width <= 0:
        raise ValueError(f"finished_width {finished_width} must be above zero")
    return finished_width / _kept(draw_in, width_shrinkage)


def finished_width_of(width_in_reed: Fraction, draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    """Give the width a cloth finishes at, from its width in the reed.

    Parameters
    ----------
    width_in_reed : Fraction
        Width the warp takes up in the reed. [cm]
    draw_in : Fraction
        Narrowing from reed to fell, of the width in reed. [share]
    width_shrinkage : Fraction
        From the width on the loom to finished, of the width on the loom. [share]

    Returns
    -------
    finished_width : Fraction
        Width to expect of the finished cloth. [cm]

    Raises
    ------
    ValueError
        If `width_in_reed` is not above zero, or `draw_in` or `width_shrinkage` is below 0 or not below 1.

    Notes
    -----
    Plain arithmetic, the way back of `width_in_reed`.

    Examples
    --------
    >>> finished_width_of(Fraction(10), Fraction(0), Fraction(1, 5))
    Fraction(8, 1)
    """
    if width_in_reed <= 0:
        raise ValueError(f"width_in_reed {width_in_reed} must be above zero")
    return width_in_reed * _kept(draw_in, width_shrinkage)


def ends_across(width_in_reed: Fraction, sett: Fraction, multiple: int = 1) -> int:
    """Count the warp ends that fill a width in the reed.

    Parameters
    ----------
    width_in_reed : Fraction
        Width the warp takes up in the reed. [cm]
    sett : Fraction
        Warp ends per unit of width. [ends/cm]
    multiple : int
        Ends come in multiples of this, such as pairs; 1 for any number. [ends]

    Returns
    -------
    ends : int
        The nearest multiple, at least one; selvedges not counted. [ends]

    Raises
    ------
    ValueError
        If `width_in_reed`, `sett` or `multiple` is not above zero.

    Notes
    -----
    Plain arithmetic. Part of an end cannot be wound, so the count is settled once, here: to the nearest, a half
    upward. The width always follows back from the count with `width_of_ends`.

    Examples
    --------
    Twenty inches at twelve ends to the inch, and 14.12 inches at twenty in pairs:

    >>> ends_across(Fraction(254, 5), Fraction(600, 127))
    240
    >>> ends_across(Fraction(12 * 254, 85), Fraction(2000, 254), 2)
    282
    """
    if width_in_reed <= 0 or sett <= 0 or multiple < 1:
        raise ValueError(f"width_in_reed {width_in_reed}, sett {sett} and multiple {multiple} must be above zero")
    return max(1, floor(width_in_reed * sett / multiple + HALF)) * multiple


def multiple_fits_repeats(repeat: int, balance: int, multiple: int) -> bool:
    """Tell whether some number of whole repeats with the balance is a multiple, such as pairs.

    Parameters
    ----------
    repeat : int
        Ends of one repeat. [ends]
    balance : int
        Ends added after the last repeat. [ends]
    multiple : int
        Ends come in multiples of this. [ends]

    Returns
    -------
    fits : bool
        Some number of repeats comes out so. [-]

    Raises
    ------
    ValueError
        If `repeat` or `multiple` is not above zero, or `balance` is below.

    Notes
    -----
    k x repeat + balance is a multiple for some k exactly when the greatest common divisor of repeat and multiple
    divides the balance. Plain arithmetic.

    Examples
    --------
    Thirty ends and one more are never even; 31 and one more are, at every odd number of repeats:

    >>> multiple_fits_repeats(30, 1, 2), multiple_fits_repeats(31, 1, 2)
    (False, True)
    """
    if repeat < 1 or balance < 0 or multiple < 1:
        raise ValueError(f"repeat {repeat} and multiple {multiple} must be above zero, balance {balance} not below")
    return balance % gcd(repeat, multiple) == 0


def repeats_in_steps(repeat: int, balance: int, multiple: int) -> tuple[int, int]:
    """Give the fewest ends that are whole repeats, their balance and a multiple at once, and how far apart these lie.

    Parameters
    ----------
    repeat : int
        Ends of one repeat. [ends]
    balance : int
        Ends added after the last repeat. [ends]
    multiple : int
        Ends come in multiples of this. [ends]

    Returns
    -------
    steps : tuple[int, int]
        The fewest, of one repeat at least, and the step to the next. [ends]

    Raises
    ------
    ValueError
        If `repeat` or `multiple` is not above zero, `balance` is below, or no number of repeats gives the multiple.

    Notes
    -----
    The step is lcm(repeat, multiple). Plain arithmetic.

    Examples
    --------
    Repeats of 31 and one more end in pairs: 32 ends, then every 62:

    >>> repeats_in_steps(31, 1, 2)
    (32, 62)
    """
    if not multiple_fits_repeats(repeat, balance, multiple):
        raise ValueError(f"no repeats of {repeat} with balance {balance} are a multiple of {multiple}")
    every = multiple // gcd(repeat, multiple)
    fewest = next(count for count in range(1, every + 1) if (count * repeat + balance) % multiple == 0)
    return fewest * repeat + balance, every * repeat


def ends_in_repeats(ends: int | Fraction, repeat: int, balance: int = 0, multiple: int = 1) -> tuple[int, int]:
    """Settle a count of ends on whole repeats of the colour order.

    Parameters
    ----------
    ends : int | Fraction
        Ends that would fill the width, not rounded. [ends]
    repeat : int
        Ends of one repeat. [ends]
    balance : int
        Ends added after the last repeat so that the edges match. [ends]
    multiple : int
        Ends come in multiples of this, such as pairs; 1 for any number. [ends]

    Returns
    -------
    ends : int
        Ends of the whole repeats with the balance. [ends]
    repeats : int
        Whole repeats, at least one. [repeats]

    Raises
    ------
    ValueError
        If `ends`, `repeat` or `multiple` is not above zero, `balance` is below, or no number of repeats gives the
        multiple.

    Notes
    -----
    Plain arithmetic: of the numbers of repeats that give the multiple, the nearest, a half upward. They lie
    lcm(repeat, multiple) ends apart, and the count is rounded once.

    Examples
    --------
    A 12-end repeat in 400 ends leaves 396 (J. T. Taylor, Cotton Weaving and Designing, 6th ed.):

    >>> ends_in_repeats(400, 12, 0)
    (396, 33)

    The same in eights steps by 24 ends:

    >>> ends_in_repeats(400, 12, 0, 8)
    (408, 34)
    """
    if ends <= 0 or repeat < 1 or balance < 0:
        raise ValueError(f"ends {ends} and repeat {repeat} must be above zero, balance {balance} not below")
    if not multiple_fits_repeats(repeat, balance, multiple):
        raise ValueError(f"no repeats of {repeat} with balance {balance} are a multiple of {multiple}")
    fewest, step = repeats_in_steps(repeat, balance, multiple)
    found = fewest + max(0, floor(Fraction(ends - fewest) / step + HALF)) * step
    return found, (found - balance) // repeat


def width_of_ends(ends: int, sett: Fraction) -> Fraction:
    """Give the width that a count of ends takes up.

    Parameters
    ----------
    ends : int
        Warp ends. [ends]
    sett : Fraction
        Warp ends per unit of width. [ends/cm]

    Returns
    -------
    width : Fraction
        True width in the reed. [cm]

    Raises
    ------
    ValueError
        If `ends` or `sett` is not above zero.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    282 ends at 20 to the inch are 14.1 inches:

    >>> width_of_ends(282, Fraction(2000, 254)) == Fraction(141, 10) * Fraction(254, 100)
    True
    """
    if ends < 1 or sett <= 0:
        raise ValueError(f"ends {ends} and sett {sett} must be above zero")
    return ends / sett
