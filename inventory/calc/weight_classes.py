"""Yarns by how heavy they are: five plain classes, so that a shelf can be looked through without a count.

The trade has no open scale for weaving yarns; these bounds are round in tex and in m/kg alike (common practice, no
source), and every list shows them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from studio.quantities import Tex


@dataclass(frozen=True, slots=True)
class WeightClass:
    """Yarns of about one weight."""

    key: str
    name: str
    from_tex: Tex
    below_tex: Tex | None  # what no longer belongs to it; None where there is no end


CLASSES = (
    WeightClass("very_fine", "very fine", Fraction(0), Fraction(80)),
    WeightClass("fine", "fine", Fraction(80), Fraction(160)),
    WeightClass("medium", "medium", Fraction(160), Fraction(320)),
    WeightClass("heavy", "heavy", Fraction(320), Fraction(1000)),
    WeightClass("very_heavy", "very heavy", Fraction(1000), None),
)
"""From thin to thick: 80 tex is 12,500 m/kg, 160 tex 6,250, 320 tex 3,125 and 1,000 tex 1,000."""


def weight_class(tex: Tex) -> WeightClass:
    """Give the class a yarn belongs to.

    Source: common practice, no source. Raises ValueError if `tex` is below zero.

    8/2 cotton, at 3 360 yards in a pound, and a wool of 900:
    >>> weight_class(Fraction(496055, 3360)).name, weight_class(Fraction(496055, 900)).name
    ('fine', 'heavy')
    """
    for one in CLASSES:
        if one.from_tex <= tex and (one.below_tex is None or tex < one.below_tex):
            return one
    raise ValueError(f"tex {tex} must not be below zero")
