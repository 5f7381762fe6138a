"""The same firmness in another weave, another yarn, or a mixture: how the sett changes."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import isqrt

from studio.quantities import Ends, EndsPerCm, Intersections, Pure, Tex, WrapsPerCm

ROOT_PLACES = 10**12


def sett_of_other_weave(
    sett: EndsPerCm, given: tuple[Ends, Intersections], wanted: tuple[Ends, Intersections]
) -> EndsPerCm:
    """Give the sett at which another weave is as firm.

    Sett goes with e / (e + i), of ends and intersections of each weave, in the same yarn.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed. Raises ValueError if a number is not above zero.

    103 in plain weave, counted on four ends, are 137 1/3 in 2/2 twill:
    >>> sett_of_other_weave(Fraction(103), (4, 4), (4, 2))
    Fraction(412, 3)
    """
    if sett <= 0 or min(*given, *wanted) < 1:
        raise ValueError(f"sett {sett}, given {given} and wanted {wanted} must be above zero")
    return sett * Fraction(wanted[0], sum(wanted)) / Fraction(given[0], sum(given))


def sett_of_other_yarn(sett: EndsPerCm, tex: Tex, new_tex: Tex) -> EndsPerCm:
    """Give the sett at which another yarn of the same kind is as firm in the same weave.

    Sett goes with the square root of the count, hence with 1 / sqrt(tex), between yarns of one fibre and twist. The
    root is exact where there is one, else cut to 12 places.
    Source: a published note on changing yarn counts (2026). Raises ValueError if a number is not above zero.

    A yarn four times as heavy stands half as close:
    >>> sett_of_other_yarn(Fraction(10), Fraction(50), Fraction(200))
    Fraction(5, 1)
    """
    if sett <= 0 or tex <= 0 or new_tex <= 0:
        raise ValueError(f"sett {sett}, tex {tex} and new_tex {new_tex} must be above zero")
    square = tex / new_tex
    top, low = isqrt(square.numerator), isqrt(square.denominator)
    if top * top == square.numerator and low * low == square.denominator:
        return sett * Fraction(top, low)
    return sett * Fraction(isqrt(square.numerator * ROOT_PLACES**2 // square.denominator), ROOT_PLACES)


def heavier_cloth(sett: EndsPerCm, tex: Tex, ratio: Pure) -> tuple[EndsPerCm, Tex]:
    """Give sett and yarn of the same cloth made heavier or lighter.

    `ratio` is the new mass over the old one; the firmness stays. The count goes inversely as the mass squared and the
    sett as the root of the count.
    Source: an old rule in a published note on changing yarn counts (2026). Raises ValueError if a number is not above
    zero.

    One sixth heavier:
    >>> heavier_cloth(Fraction(56), Fraction(36), Fraction(7, 6))
    (Fraction(48, 1), Fraction(49, 1))
    """
    if sett <= 0 or tex <= 0 or ratio <= 0:
        raise ValueError(f"sett {sett}, tex {tex} and ratio {ratio} must be above zero")
    return sett / ratio, tex * ratio**2


def wraps_of_mixture(parts: Iterable[tuple[Ends, WrapsPerCm]]) -> WrapsPerCm:
    """Give the wraps of several yarns wound round the ruler in the proportion they are used.

    Widths add, not wraps: ends in all over the sum of ends / wraps. A weaving teacher's published advice is to wrap the
    yarns together in the proportion used; this is the same with each yarn wrapped by itself.
    Source: plain geometry. Raises ValueError if `parts` is empty, holds ends below zero or none at all, or wraps not
    above zero.

    Two thin ends of 12 wraps to one thick of 6:
    >>> wraps_of_mixture([(2, Fraction(12)), (1, Fraction(6))])
    Fraction(9, 1)
    """
    kept = tuple(parts)
    ends = sum(count for count, _ in kept)
    if ends < 1 or any(count < 0 or wraps <= 0 for count, wraps in kept):
        raise ValueError(f"parts {kept} must hold ends, none below zero, each with wraps above zero")
    return ends / sum((count / wraps for count, wraps in kept), Fraction(0))
