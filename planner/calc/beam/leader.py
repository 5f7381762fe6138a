"""Leaders and the comb: where the knot lands on the beam, and how far to turn the comb."""

from __future__ import annotations

from fractions import Fraction
from math import acos, degrees

from planner.calc.terms.plan import KnotPlace
from studio.quantities import Bars, Cm, CmNumber, Degrees, DentsPerCm, Ends

KNOT_ROOM = Fraction(1, 4)
"""Part of the way from bar to bar, at each bar, where a knot is taken to lie on the bar. Common practice, no
source: it keeps knots to the middle half of the gap."""


def knot_place(
    leader: CmNumber, circumference: CmNumber, bars: Bars, offset: CmNumber = 0, knot: CmNumber = 0
) -> KnotPlace:
    """Find where the knot at the end of a leader lands once the leader is wound on.

    Bars stand every circumference / bars round the empty beam. `offset` is where the leader is fastened, past a bar
    along the round, such as at a hole; `knot` is the length of knot and loop beyond the leader's end. The middle of the
    knot lies offset + leader + knot / 2 past the bar that the offset is measured from, and past the last bar before it
    by the remainder over that spacing. It is clear where its middle keeps to the middle half of the gap (see
    `KNOT_ROOM`) and neither end lies over a bar. The mend is what is missing to half the spacing, to the longer where
    the leader is too short to lose so much.
    Source: plain geometry of a polygon, exact; the thickness of the leader is left out. Raises ValueError if `leader`,
    `offset` or `knot` is below zero, `circumference` is not above zero, or `bars` is below two.

    A 40 inch leader on a four-bar beam 36 inches round lands 4 inches past a bar:
    >>> knot_place(40, 36, 4)
    KnotPlace(past_bar=Fraction(4, 1), to_next_bar=Fraction(5, 1), clear=True, mend=Fraction(1, 2), too_long=False)
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


def ends_per_comb_dent(ends: Ends, dents: DentsPerCm, section: Cm, fewest: Ends) -> Ends:
    """Give how many ends to put in each dent of the comb so that it need be turned as little as can be.

    `section` is the free width between two dividers. A comb turned through an angle narrows a bundle and never widens
    it, so the bundle of the fullest section must not be narrower than the section to begin with.
    Source: plain arithmetic. Raises ValueError if a number is not above zero.

    Forty ends for a section of 1 3/4 in through a comb of ten dents to the inch:
    >>> ends_per_comb_dent(40, Fraction(10), Fraction(7, 4), 1)
    2
    """
    if ends < 1 or dents <= 0 or section <= 0 or fewest < 1:
        raise ValueError(f"ends {ends}, dents {dents}, section {section} and fewest {fewest} must be above zero")
    return max(fewest, int(ends / (dents * section)))


def comb_angle(bundle: CmNumber, section: CmNumber) -> Degrees:
    """Give the angle to turn the comb so that the bundle becomes as narrow as the section.

    A comb of width B turned through an angle a from the beam shows B cos a, so a = arccos(section / bundle), the free
    width between two dividers; 0 when the bundle fits as it is.
    Source: plain geometry. Raises ValueError if `bundle` or `section` is not above zero.

    >>> round(comb_angle(2, 1.75))
    29
    """
    if bundle <= 0 or section <= 0:
        raise ValueError(f"bundle {bundle} and section {section} must be above zero")
    return degrees(acos(min(1.0, float(section / bundle))))
