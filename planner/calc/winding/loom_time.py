"""How long a warp keeps a loom: hours of dressing and weaving, and the days they take at so many hours a week."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from studio.quantities import Cm, CmPerHour, Days, Ends, EndsPerHour, Hours, HoursPerWeek

ENDS_AN_HOUR = 60
"""Ends an hour from the first spool to the first pick: winding, beaming, threading and sleying together (common
practice, no source)."""
WOVEN_AN_HOUR = Fraction(30)
"""Cloth an hour of one who is practised, plain weave, one shuttle [cm] (common practice, no source)."""
HOURS_A_WEEK = 6
"""Two evenings (common practice, no source)."""
DAYS_OF_A_WEEK = 7


def hours_of_dressing(ends: Ends, ends_an_hour: EndsPerHour) -> Hours:
    """Give the hours from the first spool to the first pick.

    The rate, for winding, beaming, threading and sleying together, is each weaver's own.
    Source: plain arithmetic. Raises ValueError if `ends` is below zero or `ends_an_hour` is not above it.

    >>> hours_of_dressing(480, 60)
    Fraction(8, 1)
    """
    if ends < 0 or ends_an_hour <= 0:
        raise ValueError(f"ends {ends} must not be below zero, ends_an_hour {ends_an_hour} must be above it")
    return Fraction(ends, ends_an_hour)


def hours_of_weaving(woven: Cm, woven_an_hour: CmPerHour) -> Hours:
    """Give the hours at the loom for a length of warp.

    The rate is each weaver's own, and each cloth's.
    Source: plain arithmetic. Raises ValueError if `woven` is below zero or `woven_an_hour` is not above it.

    >>> hours_of_weaving(Fraction(720), Fraction(30))
    Fraction(24, 1)
    """
    if woven < 0 or woven_an_hour <= 0:
        raise ValueError(f"woven {woven} must not be below zero, woven_an_hour {woven_an_hour} must be above it")
    return woven / woven_an_hour


def days_on_loom(hours: Hours, hours_a_week: HoursPerWeek) -> Days:
    """Give the days a loom is kept for some hours of work.

    A week is seven days, a day that was begun is kept, at least one.
    Source: plain arithmetic. Raises ValueError if `hours` is below zero or `hours_a_week` is not above it.

    Eight sessions of three hours, two a week:
    >>> days_on_loom(Fraction(24), Fraction(6))
    28
    """
    if hours < 0 or hours_a_week <= 0:
        raise ValueError(f"hours {hours} must not be below zero, hours_a_week {hours_a_week} must be above it")
    return max(1, ceil(hours * DAYS_OF_A_WEEK / hours_a_week))
