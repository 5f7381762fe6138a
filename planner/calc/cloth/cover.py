"""Cover: how thick a thread is, and how much of the cloth the threads cover."""

from __future__ import annotations

from fractions import Fraction
from math import isqrt, pi, sqrt

from inventory.calc.count_systems import SYSTEMS
from studio.quantities import Cm, Cm3PerGram, CmFloat, Pure, Share, Tex, TexNumber, ThreadsPerCm

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


def peirce_diameter(tex: Tex) -> Cm:
    """Give the diameter of a cotton yarn by Peirce's rule.

    d = 1 / (28 sqrt(Ne)) in, not pressed. It is the rule of diameters with K = 28 / sqrt(840) = 0.966, and 7 per cent
    finer than K = 0.90 of handweaving pages: show which one was used.
    Source: F. T. Peirce, 1937, as used in a GATE textile paper of 2007. Raises ValueError if `tex` is not above zero.

    A 36s cotton is 1/168 in thick:
    >>> float(peirce_diameter(TEX_OF_COTTON_ONE / 36) / CM_IN_INCH * 168)
    1.0
    """
    if tex <= 0:
        raise ValueError(f"tex {tex} must be above zero")
    return _root(tex / TEX_OF_COTTON_ONE) / PEIRCE * CM_IN_INCH


def thread_diameter(tex: TexNumber, specific_volume: Cm3PerGram) -> CmFloat:
    """Give the diameter of a round thread from its mass and the room that a gram of it takes.

    d = sqrt(4 tex v / (100 000 pi)), the circle whose area is the volume of a centimetre of thread, air included. The
    4.44e-3 sqrt(tex / fibre density) of exam papers is this with 0.65 of the thread filled by fibre.
    Source: plain geometry. Raises ValueError if `tex` or `specific_volume` is not above zero.

    100 tex at 1.1 cm3 to the gram:
    >>> round(thread_diameter(100, 1.1), 5)
    0.03742
    """
    if tex <= 0 or specific_volume <= 0:
        raise ValueError(f"tex {tex} and specific_volume {specific_volume} must be above zero")
    return sqrt(4 * float(tex) * float(specific_volume) / (100_000 * pi))


def diameter_of_wraps(side_by_side: ThreadsPerCm) -> Cm:
    """Give the diameter of a thread from how many of it lie side by side.

    1 / threads side by side, counted or by the rule of diameters. Wraps round a ruler lie looser than the rule of
    diameters, so they make a thread look thicker.
    Source: plain geometry. Raises ValueError if `side_by_side` is not above zero.

    >>> diameter_of_wraps(Fraction(20))
    Fraction(1, 20)
    """
    if side_by_side <= 0:
        raise ValueError(f"side_by_side {side_by_side} must be above zero")
    return 1 / side_by_side


def fractional_cover(threads: ThreadsPerCm, diameter: Cm) -> Share:
    """Give the part of the cloth that one set of threads would cover alone.

    Threads times diameter; above 1 the threads have no room side by side.
    Source: GATE textile paper of 2007, question 85; plain geometry. Raises ValueError if `threads` is below zero or
    `diameter` is not above.

    >>> fractional_cover(Fraction(28), Fraction(1, 64))
    Fraction(7, 16)
    """
    if threads < 0 or diameter <= 0:
        raise ValueError(f"threads {threads} must not be below zero and diameter {diameter} must be above")
    return threads * diameter


def cloth_cover(warp: Share, weft: Share) -> Share:
    """Give the part of the cloth that warp and weft cover together.

    c1 + c2 - c1 c2: what one set leaves open, the other covers in its own proportion.
    Source: plain geometry. Raises ValueError if `warp` or `weft` is below 0 or above 1.

    >>> cloth_cover(Fraction(1, 2), Fraction(1, 2))
    Fraction(3, 4)
    """
    if not 0 <= warp <= 1 or not 0 <= weft <= 1:
        raise ValueError(f"warp {warp} and weft {weft} must be between 0 and 1")
    return warp + weft - warp * weft


def cover_factor(threads: ThreadsPerCm, tex: Tex) -> Pure:
    """Give the cover factor in its metric form.

    Threads per cm x sqrt(tex) / 10, by custom without a unit. It is 0.957 times Peirce's factor, so a factor without
    its system's name tells nothing. The root is exact where there is one, else cut to 12 places.
    Source: notes on woven fabric calculation. Raises ValueError if `tex` is not above zero or `threads` is below.

    >>> cover_factor(Fraction(28), Fraction(25))
    Fraction(14, 1)
    """
    if threads < 0 or tex <= 0:
        raise ValueError(f"threads {threads} must not be below zero and tex {tex} must be above")
    return threads * _root(tex) / 10


def peirce_cover_factor(threads: ThreadsPerCm, tex: Tex) -> Pure:
    """Give the cover factor as Peirce wrote it, in inches and cotton counts.

    Threads per inch / sqrt(Ne), by custom without a unit; 28 is a cotton cloth full of threads.
    Source: F. T. Peirce, 1937, as given in published conversion tables. Raises ValueError if `tex` is not above zero or
    `threads` is below.

    Forty threads to the inch of a 16s cotton:
    >>> peirce_cover_factor(40 / CM_IN_INCH, TEX_OF_COTTON_ONE / 16)
    Fraction(10, 1)
    """
    if threads < 0 or tex <= 0:
        raise ValueError(f"threads {threads} must not be below zero and tex {tex} must be above")
    return threads * CM_IN_INCH * _root(tex / TEX_OF_COTTON_ONE)
