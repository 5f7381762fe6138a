"""Cover: how thick a thread is, and how much of the cloth the threads cover."""

from __future__ import annotations

from fractions import Fraction
from math import isqrt, pi, sqrt

from inventory.calc.count_systems import SYSTEMS
from planner.calc.terms.plan import Number

CM_IN_INCH = Fraction(254, 100)
TEX_OF_COTTON_ONE = SYSTEMS["cotton"].tex_of_one
PEIRCE = 28
"""Diameters of a 1s cotton side by side in an inch, by Peirce's rule of 1937."""

ROOT_PLACES = 10**12


def _root(square: Fraction) -> Fraction:
    """Square root: exact where there is one, else cut to a millionth of a millionth."""
    top, low = isqrt(square.numerator), isqrt(square.denominator)
    if top * top == square.numerator and low * low == square.denominator:
        return Fraction(top, low)
    return Fraction(isqrt(square.numerator * ROOT_PLACES**2 // square.denominator), ROOT_PLACES)


def peirce_diameter(tex: Fraction) -> Fraction:
    """Give the diameter of a cotton yarn by Peirce's rule.

    Parameters
    ----------
    tex : Fraction
        Mass per length of the yarn. [tex]

    Returns
    -------
    diameter : Fraction
        Diameter of the yarn, not pressed. [cm]

    Raises
    ------
    ValueError
        If `tex` is not above zero.

    Notes
    -----
    d = 1 / (28 sqrt(Ne)) in: F. T. Peirce, 1937, as used in a GATE textile paper of 2007. It is the rule of diameters
    with K = 28 / sqrt(840) = 0.966, and 7 per cent finer than K = 0.90 of handweaving pages: show which one was used.

    Examples
    --------
    A 36s cotton is 1/168 in thick:

    >>> float(peirce_diameter(TEX_OF_COTTON_ONE / 36) / CM_IN_INCH * 168)
    1.0
    """
    if tex <= 0:
        raise ValueError(f"tex {tex} must be above zero")
    return _root(tex / TEX_OF_COTTON_ONE) / PEIRCE * CM_IN_INCH


def thread_diameter(tex: Number, specific_volume: Number) -> float:
    """Give the diameter of a round thread from its mass and the room that a gram of it takes.

    Parameters
    ----------
    tex : Number
        Mass per length of the yarn. [tex]
    specific_volume : Number
        Room of one gram, air included; 1 over the density of the thread. [cm3/g]

    Returns
    -------
    diameter : float
        Diameter of the thread. [cm]

    Raises
    ------
    ValueError
        If `tex` or `specific_volume` is not above zero.

    Notes
    -----
    d = sqrt(4 tex v / (100 000 pi)), the circle whose area is the volume of a centimetre of thread. Plain geometry.
    The 4.44e-3 sqrt(tex / fibre density) of exam papers is this with 0.65 of the thread filled by fibre.

    Examples
    --------
    100 tex at 1.1 cm3 to the gram:

    >>> round(thread_diameter(100, 1.1), 5)
    0.03742
    """
    if tex <= 0 or specific_volume <= 0:
        raise ValueError(f"tex {tex} and specific_volume {specific_volume} must be above zero")
    return sqrt(4 * float(tex) * float(specific_volume) / (100_000 * pi))


def diameter_of_wraps(side_by_side: Fraction) -> Fraction:
    """Give the diameter of a thread from how many of it lie side by side.

    Parameters
    ----------
    side_by_side : Fraction
        Threads side by side, touching, counted or by the rule of diameters. [threads/cm]

    Returns
    -------
    diameter : Fraction
        Diameter of one thread. [cm]

    Raises
    ------
    ValueError
        If `side_by_side` is not above zero.

    Notes
    -----
    1 / threads side by side. Plain geometry. Wraps round a ruler lie looser than the rule of diameters, so they make
    a thread look thicker.

    Examples
    --------
    >>> diameter_of_wraps(Fraction(20))
    Fraction(1, 20)
    """
    if side_by_side <= 0:
        raise ValueError(f"side_by_side {side_by_side} must be above zero")
    return 1 / side_by_side


def fractional_cover(threads: Fraction, diameter: Fraction) -> Fraction:
    """Give the part of the cloth that one set of threads would cover alone.

    Parameters
    ----------
    threads : Fraction
        Ends or picks on a unit of width. [threads/cm]
    diameter : Fraction
        Diameter of one thread. [cm]

    Returns
    -------
    cover : Fraction
        Part covered; above 1 the threads have no room side by side. [share]

    Raises
    ------
    ValueError
        If `threads` is below zero or `diameter` is not above.

    Notes
    -----
    Threads times diameter: GATE textile paper of 2007, question 85. Plain geometry.

    Examples
    --------
    >>> fractional_cover(Fraction(28), Fraction(1, 64))
    Fraction(7, 16)
    """
    if threads < 0 or diameter <= 0:
        raise ValueError(f"threads {threads} must not be below zero and diameter {diameter} must be above")
    return threads * diameter


def cloth_cover(warp: Fraction, weft: Fraction) -> Fraction:
    """Give the part of the cloth that warp and weft cover together.

    Parameters
    ----------
    warp : Fraction
        Cover of the warp alone, 0 to 1. [share]
    weft : Fraction
        Cover of the weft alone, 0 to 1. [share]

    Returns
    -------
    cover : Fraction
        Part covered by either. [share]

    Raises
    ------
    ValueError
        If `warp` or `weft` is below 0 or above 1.

    Notes
    -----
    c1 + c2 - c1 c2: what one set leaves open, the other covers in its own proportion. Plain geometry.

    Examples
    --------
    >>> cloth_cover(Fraction(1, 2), Fraction(1, 2))
    Fraction(3, 4)
    """
    if not 0 <= warp <= 1 or not 0 <= weft <= 1:
        raise ValueError(f"warp {warp} and weft {weft} must be between 0 and 1")
    return warp + weft - warp * weft


def cover_factor(threads: Fraction, tex: Fraction) -> Fraction:
    """Give the cover factor in its metric form.

    Parameters
    ----------
    threads : Fraction
        Ends or picks on a unit of width. [threads/cm]
    tex : Fraction
        Mass per length of the yarn. [tex]

    Returns
    -------
    factor : Fraction
        Metric cover factor, by custom without a unit. [-]

    Raises
    ------
    ValueError
        If `tex` is not above zero or `threads` is below.

    Notes
    -----
    Threads per cm x sqrt(tex) / 10, as in notes on woven fabric calculation. It is 0.957 times Peirce's factor, so
    a factor without its system's name tells nothing. The root is exact where there is one, else cut to 12 places.

    Examples
    --------
    >>> cover_factor(Fraction(28), Fraction(25))
    Fraction(14, 1)
    """
    if threads < 0 or tex <= 0:
        raise ValueError(f"threads {threads} must not be below zero and tex {tex} must be above")
    return threads * _root(tex) / 10


def peirce_cover_factor(threads: Fraction, tex: Fraction) -> Fraction:
    """Give the cover factor as Peirce wrote it, in inches and cotton counts.

    Parameters
    ----------
    threads : Fraction
        Ends or picks on a unit of width. [threads/cm]
    tex : Fraction
        Mass per length of the yarn. [tex]

    Returns
    -------
    factor : Fraction
        Peirce's cover factor, by custom without a unit; 28 is a cotton cloth full of threads. [-]

    Raises
    ------
    ValueError
        If `tex` is not above zero or `threads` is below.

    Notes
    -----
    Threads per inch / sqrt(Ne): F. T. Peirce, 1937, as given in published conversion tables.

    Examples
    --------
    Forty threads to the inch of a 16s cotton:

    >>> peirce_cover_factor(40 / CM_IN_INCH, TEX_OF_COTTON_ONE / 16)
    Fraction(10, 1)
    """
    if threads < 0 or tex <= 0:
        raise ValueError(f"threads {threads} must not be below zero and tex {tex} must be above")
    return threads * CM_IN_INCH * _root(tex / TEX_OF_COTTON_ONE)
