"""The same firmness in another weave, another yarn, or a mixture: how the sett changes."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import isqrt

ROOT_PLACES = 10**12


def sett_of_other_weave(sett: Fraction, given: tuple[int, int], wanted: tuple[int, int]) -> Fraction:
    """Give the sett at which another weave is as firm.

    Parameters
    ----------
    sett : Fraction
        Sett of the weave that is known to be right. [ends/cm]
    given : tuple[int, int]
        Ends and intersections of that weave. [-]
    wanted : tuple[int, int]
        Ends and intersections of the other. [-]

    Returns
    -------
    sett : Fraction
        Sett of the other, in the same yarn. [ends/cm]

    Raises
    ------
    ValueError
        If a number is not above zero.

    Notes
    -----
    Sett goes with e / (e + i): J. T. Taylor, Cotton Weaving and Designing, 6th ed.

    Examples
    --------
    103 in plain weave, counted on four ends, are 137 1/3 in 2/2 twill:

    >>> sett_of_other_weave(Fraction(103), (4, 4), (4, 2))
    Fraction(412, 3)
    """
    if sett <= 0 or min(*given, *wanted) < 1:
        raise ValueError(f"sett {sett}, given {given} and wanted {wanted} must be above zero")
    return sett * Fraction(wanted[0], sum(wanted)) / Fraction(given[0], sum(given))


def sett_of_other_yarn(sett: Fraction, tex: Fraction, new_tex: Fraction) -> Fraction:
    """Give the sett at which another yarn of the same kind is as firm in the same weave.

    Parameters
    ----------
    sett : Fraction
        Sett of the yarn that is known to be right. [ends/cm]
    tex : Fraction
        Mass per length of that yarn. [tex]
    new_tex : Fraction
        Mass per length of the other. [tex]

    Returns
    -------
    sett : Fraction
        Sett of the other. [ends/cm]

    Raises
    ------
    ValueError
        If a number is not above zero.

    Notes
    -----
    Sett goes with the square root of the count, hence with 1 / sqrt(tex): a published note on changing yarn counts
    (2026). It holds between yarns of one fibre and twist. The root is exact where there is one, else cut to 12 places.

    Examples
    --------
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


def heavier_cloth(sett: Fraction, tex: Fraction, ratio: Fraction) -> tuple[Fraction, Fraction]:
    """Give sett and yarn of the same cloth made heavier or lighter.

    Parameters
    ----------
    sett : Fraction
        Sett of the cloth as it is. [ends/cm]
    tex : Fraction
        Mass per length of its yarn. [tex]
    ratio : Fraction
        New mass of the cloth over the old one. [-]

    Returns
    -------
    new : tuple[Fraction, Fraction]
        Sett [ends/cm] and yarn [tex] that keep the firmness.

    Raises
    ------
    ValueError
        If a number is not above zero.

    Notes
    -----
    The count goes inversely as the mass squared and the sett as the root of the count: an old rule in a published
    note on changing yarn counts (2026).

    Examples
    --------
    One sixth heavier:

    >>> heavier_cloth(Fraction(56), Fraction(36), Fraction(7, 6))
    (Fraction(48, 1), Fraction(49, 1))
    """
    if sett <= 0 or tex <= 0 or ratio <= 0:
        raise ValueError(f"sett {sett}, tex {tex} and ratio {ratio} must be above zero")
    return sett / ratio, tex * ratio**2


def wraps_of_mixture(parts: Iterable[tuple[int, Fraction]]) -> Fraction:
    """Give the wraps of several yarns wound round the ruler in the proportion they are used.

    Parameters
    ----------
    parts : Iterable[tuple[int, Fraction]]
        Ends of each yarn in the repeat [ends] and its own wraps. [wraps/cm]

    Returns
    -------
    wraps : Fraction
        Wraps of the mixture. [wraps/cm]

    Raises
    ------
    ValueError
        If `parts` is empty, holds ends below zero or none at all, or wraps not above zero.

    Notes
    -----
    Widths add, not wraps: ends in all over the sum of ends / wraps. A weaving teacher's published advice is to wrap
    the yarns together in the proportion used; this is the same with each yarn wrapped by itself.
    Plain geometry.

    Examples
    --------
    Two thin ends of 12 wraps to one thick of 6:

    >>> wraps_of_mixture([(2, Fraction(12)), (1, Fraction(6))])
    Fraction(9, 1)
    """
    kept = tuple(parts)
    ends = sum(count for count, _ in kept)
    if ends < 1 or any(count < 0 or wraps <= 0 for count, wraps in kept):
        raise ValueError(f"parts {kept} must hold ends, none below zero, each with wraps above zero")
    return ends / sum((count / wraps for count, wraps in kept), Fraction(0))
