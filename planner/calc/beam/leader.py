"""Leaders and the comb: where the knot lands on the beam, and how far to turn the comb."""

from __future__ import annotations

from fractions import Fraction
from math import acos, degrees

from planner.calc.terms.plan import KnotPlace, Number

KNOT_ROOM = Fraction(1, 4)
"""Part of the way from bar to bar, at each bar, where a knot is taken to lie on the bar. Common practice, no
source: it keeps knots to the middle half of the gap."""


def knot_place(leader: Number, circumference: Number, bars: int, offset: Number = 0, knot: Number = 0) -> KnotPlace:
    """Find where the knot at the end of a leader lands once the leader is wound on.

    Parameters
    ----------
    leader : Number
        Length of the leader from where it is fastened to its loop. [cm]
    circumference : Number
        Round the bars, empty. [cm]
    bars : int
        Bars the beam is made of. [-]
    offset : Number
        Where it is fastened, past a bar along the round, such as at a hole; 0 on the bar itself. [cm]
    knot : Number
        Length of knot and loop beyond the leader's end, along the round. [cm]

    Returns
    -------
    place : KnotPlace
        Where its middle lands, and how much longer or shorter puts that in the middle of the gap. [cm]

    Raises
    ------
    ValueError
        If `leader`, `offset` or `knot` is below zero, `circumference` is not above zero, or `bars` is below two.

    Notes
    -----
    Bars stand every circumference / bars round the beam. The middle of the knot lies offset + leader + knot / 2 past
    the bar that the offset is measured from, and past the last bar before it by the remainder over that spacing. It is
    clear where its middle keeps to the middle half of the gap (see `KNOT_ROOM`) and neither end lies over a bar. The
    mend is what is missing to half the spacing, to the longer where the leader is too short to lose so much. Plain
    geometry of a polygon, exact; the thickness of the leader is left out.

    Examples
    --------
    A 40 inch leader on a four-bar beam 36 inches round lands 4 inches past a bar. From a hole 2 inches on, with a
    knot of an inch, its middle lands 6 1/2 inches past: 2 inches too far.

    >>> knot_place(40, 36, 4)
    KnotPlace(past_bar=Fraction(4, 1), to_next_bar=Fraction(5, 1), clear=True, mend=Fraction(1, 2), too_long=False)
    >>> place = knot_place(40, 36, 4, 2, 1)
    >>> str(place.past_bar), str(place.mend)
    ('13/2', '-2')
    """
    if min(leader, offset, knot) < 0 or circumference <= 0 or bars < 2:  # noqa: PLR2004 - one bar makes no round
        raise ValueError(
            f"leader {leader}, offset {offset}, knot {knot}, circumference {circumference} and bars {bars} are no beam"
        )
    spacing, half = Fraction(circumference) / bars, Fraction(knot) / 2
    past = (Fraction(offset) + Fraction(leader) + half) % spacing
    nearest, mend = min(past, spacing - past), spacing / 2 - past
    return KnotPlace(
        past_bar=past,
        to_next_bar=spacing - past,
        clear=nearest >= max(KNOT_ROOM * spacing, half),
        mend=mend if leader + mend >= 0 else mend + spacing,
        too_long=knot > spacing,
    )


def ends_per_comb_dent(ends: int, dents: Fraction, section: Fraction, fewest: int) -> int:
    """Give how many ends to put in each dent of the comb so that it need be turned as little as can be.

    Parameters
    ----------
    ends : int
        Ends of the fullest section. [ends]
    dents : Fraction
        Dents of the comb. [dents/cm]
    section : Fraction
        Free width between two dividers. [cm]
    fewest : int
        Fewest ends in a dent. [ends]

    Returns
    -------
    ends_per_dent : int
        The most that still leave the bundle as wide as the section. [ends]

    Raises
    ------
    ValueError
        If a number is not above zero.

    Notes
    -----
    A comb turned through an angle narrows a bundle and never widens it, so the bundle must not be narrower than the
    section to begin with. Plain arithmetic, so no source is cited.

    Examples
    --------
    Forty ends for a section of 1 3/4 in through a comb of ten dents to the inch:

    >>> ends_per_comb_dent(40, Fraction(10), Fraction(7, 4), 1)
    2
    """
    if ends < 1 or dents <= 0 or section <= 0 or fewest < 1:
        raise ValueError(f"ends {ends}, dents {dents}, section {section} and fewest {fewest} must be above zero")
    return max(fewest, int(ends / (dents * section)))


def comb_angle(bundle: Number, section: Number) -> float:
    """Give the angle to turn the comb so that the bundle becomes as narrow as the section.

    Parameters
    ----------
    bundle : Number
        Width of the ends in the comb. [cm]
    section : Number
        Free width between two dividers. [cm]

    Returns
    -------
    angle : float
        Angle between comb and beam; 0 when the bundle fits as it is. [degrees]

    Raises
    ------
    ValueError
        If `bundle` or `section` is not above zero.

    Notes
    -----
    A comb of width B turned through an angle a shows B cos a, so a = arccos(section / bundle). Plain geometry.

    Examples
    --------
    >>> round(comb_angle(2, 1.75))
    29
    """
    if bundle <= 0 or section <= 0:
        raise ValueError(f"bundle {bundle} and section {section} must be above zero")
    return degrees(acos(min(1.0, float(section / bundle))))
