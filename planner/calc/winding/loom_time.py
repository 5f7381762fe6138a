"""How long a warp keeps a loom: hours of dressing and weaving, and the days they take at so many hours a week."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

ENDS_AN_HOUR = 60
"""Ends an hour from the first spool to the first pick: winding, beaming, threading and sleying together (common
practice, no source)."""
WOVEN_AN_HOUR = Fraction(30)
"""Cloth an hour of one who is practised, plain weave, one shuttle [cm] (common practice, no source)."""
HOURS_A_WEEK = 6
"""Two evenings (common practice, no source)."""
DAYS_OF_A_WEEK = 7


def hours_of_dressing(ends: int, ends_an_hour: int) -> Fraction:
    """Give the hours from the first spool to the first pick.

    Parameters
    ----------
    ends : int
        Warp ends. [ends]
    ends_an_hour : int
        Ends wound, beamed, threaded and sleyed in an hour. [ends/h]

    Returns
    -------
    hours : Fraction
        Hours of work. [h]

    Raises
    ------
    ValueError
        If `ends` is below zero or `ends_an_hour` is not above it.

    Notes
    -----
    Plain arithmetic. The rate is each weaver's own.

    Examples
    --------
    >>> hours_of_dressing(480, 60)
    Fraction(8, 1)
    """
    if ends < 0 or ends_an_hour <= 0:
        raise ValueError(f"ends {ends} must not be below zero, ends_an_hour {ends_an_hour} must be above it")
    return Fraction(ends, ends_an_hour)


def hours_of_weaving(woven: Fraction, woven_an_hour: Fraction) -> Fraction:
    """Give the hours at the loom for a length of warp.

    Parameters
    ----------
    woven : Fraction
        Warp that is woven off. [cm]
    woven_an_hour : Fraction
        Warp woven off in an hour. [cm/h]

    Returns
    -------
    hours : Fraction
        Hours of work. [h]

    Raises
    ------
    ValueError
        If `woven` is below zero or `woven_an_hour` is not above it.

    Notes
    -----
    Plain arithmetic. The rate is each weaver's own, and each cloth's.

    Examples
    --------
    >>> hours_of_weaving(Fraction(720), Fraction(30))
    Fraction(24, 1)
    """
    if woven < 0 or woven_an_hour <= 0:
        raise ValueError(f"woven {woven} must not be below zero, woven_an_hour {woven_an_hour} must be above it")
    return woven / woven_an_hour


def days_on_loom(hours: Fraction, hours_a_week: Fraction) -> int:
    """Give the days a loom is kept for some hours of work.

    Parameters
    ----------
    hours : Fraction
        Hours of work. [h]
    hours_a_week : Fraction
        Hours at the loom in a week. [h/week]

    Returns
    -------
    days : int
        Whole days, at least one. [days]

    Raises
    ------
    ValueError
        If `hours` is below zero or `hours_a_week` is not above it.

    Notes
    -----
    Plain arithmetic: a week is seven days, a day that was begun is kept.

    Examples
    --------
    Eight sessions of three hours, two a week:

    >>> days_on_loom(Fraction(24), Fraction(6))
    28
    """
    if hours < 0 or hours_a_week <= 0:
        raise ValueError(f"hours {hours} must not be below zero, hours_a_week {hours_a_week} must be above it")
    return max(1, ceil(hours * DAYS_OF_A_WEEK / hours_a_week))
