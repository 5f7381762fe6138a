"""Sett: how close the ends may stand, from wraps or from the yarn's thickness, and what is usual."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from types import MappingProxyType
from typing import Annotated

from studio.quantities import Ends, EndsPerCm, Intersections, Pure, Share, Tex, ThreadsPerCm, WrapsPerCm, YardsPerPound

CM_IN_INCH = Fraction(254, 100)
TEX_YARDS_PER_POUND = Fraction("453.59237") * 1_000_000 / Fraction("914.4")
"""Tex times yards per pound, exact from the yard and the pound of 1959 [tex yd/lb]."""


@dataclass(frozen=True, slots=True)
class Weave:
    """A weave as its sett sees it."""

    name: str
    ends: Ends  # of one repeat
    intersections: Intersections  # times one pick passes from face to back in that repeat
    source: str  # of the ratio


_DRAFT = "Counted from the draft."
_APPROXIMATE = "Common practice, no source: sett as its neighbour in this table."

WEAVES: Mapping[str, Weave] = MappingProxyType({
    "plain": Weave("plain weave", 2, 2, _DRAFT),
    "twill_2_1": Weave("2/1 twill", 3, 2, _DRAFT),
    "twill_2_2": Weave("2/2 twill", 4, 2, _DRAFT),
    "twill_1_3": Weave("1/3 twill", 4, 2, _DRAFT),
    "satin_5": Weave("5-end satin", 5, 2, _DRAFT),
    "satin_8": Weave("8-end satin", 8, 2, _DRAFT),
    "basket_2_2": Weave("2/2 basket weave", 4, 2, _DRAFT),
    "lace_huck": Weave("huck and other lace", 2, 2, _APPROXIMATE),
    "overshot": Weave("overshot, by its plain ground", 2, 2, _APPROXIMATE),
    "waffle": Weave("waffle", 4, 2, _APPROXIMATE),
})  # fmt: skip
"""Weaves offered; lace and overshot count as plain, waffle as 2/2 twill, for want of a better published rule."""

AS_TYPED = "as_typed"
"""Key of a weave that is counted from its own lift plan."""

YARN_CONSTANTS: Mapping[str, Fraction] = MappingProxyType({"wool": Fraction(84, 100)})
USUAL_CONSTANT = Fraction(90, 100)


def diameters(tex: Tex, constant: Pure) -> ThreadsPerCm:
    """Give how many threads of a yarn lie side by side in a unit of width.

    Per inch they are K times the square root of the yards per pound, K from `yarn_constant`. The root is cut to a
    millionth of a thread; no count is settled by it.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed., with K 0.95. Raises ValueError if `tex` or `constant`
    is not above zero.

    8/2 cotton, 3 360 yd/lb, K 0.90, lies about 52 to the inch:
    >>> per_cm = diameters(TEX_YARDS_PER_POUND / 3360, Fraction(9, 10))
    >>> round(float(per_cm * CM_IN_INCH), 1)
    52.2
    """
    if tex <= 0 or constant <= 0:
        raise ValueError(f"tex {tex} and constant {constant} must be above zero")
    square = (constant / CM_IN_INCH) ** 2 * TEX_YARDS_PER_POUND / tex
    return Fraction(isqrt(int(square * 10**12)), 10**6)


def yarn_constant(fibre: str) -> Pure:
    """Give the constant K of the rule of diameters for a fibre.

    A larger K means a finer thread for its mass. Printed values differ by some 7 per cent: cotton 0.90 to 0.95, worsted
    0.90, woollen 0.84 to 0.85. These are the lower ones, so that a sett errs to the open side. Wraps counted round a
    ruler are better than any constant.
    Source: a medieval textile study page on Ashenhurst's formula (1999), with 0.90 and 0.84.

    >>> yarn_constant("cotton"), yarn_constant("wool")
    (Fraction(9, 10), Fraction(21, 25))
    """
    return YARN_CONSTANTS.get(fibre, USUAL_CONSTANT)


def greatest_sett(diameters: ThreadsPerCm, ends: Ends, intersections: Intersections) -> EndsPerCm:
    """Give the closest sett a weave allows.

    Each intersection of a pick takes the room of one thread: D e / (e + i) fill the width, the weft being as thick as
    the warp.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed. Raises ValueError if `diameters`, `ends` or
    `intersections` is not above zero.

    156 diameters in 2/2 twill give 104:
    >>> greatest_sett(Fraction(156), 4, 2)
    Fraction(104, 1)
    """
    if diameters <= 0 or ends < 1 or intersections < 1:
        raise ValueError(f"diameters {diameters}, ends {ends} and intersections {intersections} must be above zero")
    return diameters * ends / (ends + intersections)


def working_sett(greatest: EndsPerCm, share: Share) -> EndsPerCm:
    """Take a share of the greatest sett.

    About 80 per cent for ordinary cloth, 90 for hard wear, 50 to 60 for delicate.
    Source: common practice, no source agreed. Raises ValueError if `greatest` is not above zero, or `share` is not
    above 0 or exceeds 1.

    >>> working_sett(Fraction(26), Fraction(3, 4))
    Fraction(39, 2)
    """
    if greatest <= 0 or not 0 < share <= 1:
        raise ValueError(f"greatest {greatest} must be above zero and share {share} above 0 and at most 1")
    return greatest * share


def sett_from_wraps(wraps: WrapsPerCm, ends: Ends, intersections: Intersections) -> EndsPerCm:
    """Give the sett that wraps round a ruler propose.

    Wraps times ends over ends and intersections: half of them in plain weave, two thirds in 2/2 twill; the same as
    `greatest_sett` with the diameters counted instead of reckoned.
    Source: weavers' common rule, common practice, no source. Raises ValueError if `wraps`, `ends` or `intersections` is
    not above zero.

    >>> sett_from_wraps(Fraction(12), 2, 2), sett_from_wraps(Fraction(12), 4, 2)
    (Fraction(6, 1), Fraction(8, 1))
    """
    if wraps <= 0 or ends < 1 or intersections < 1:
        raise ValueError(f"wraps {wraps}, ends {ends} and intersections {intersections} must be above zero")
    return wraps * ends / (ends + intersections)


@dataclass(frozen=True, slots=True)
class UsualSett:
    """One row of the table of usual setts."""

    yarn: str  # as the chart names it
    fibre: str
    yards_per_pound: Annotated[int, "yd/lb"] | None  # None where the chart names a class of yarn alone
    plain: tuple[EndsPerCm, EndsPerCm] | None  # lowest and highest; None where the chart is silent
    twill: tuple[EndsPerCm, EndsPerCm] | None
    source: str
    note: str = ""  # what the chart adds
    misprint: str = ""  # what is doubtful in the row as printed


_MAKER = "A loom maker's published sett chart"
_SHOP = "A yarn shop's published sett chart"
_BOTH = f"{_MAKER}; {_SHOP.lower()}"


def _band(per_inch: tuple[int, int] | None) -> tuple[Fraction, Fraction] | None:
    return per_inch and (per_inch[0] / CM_IN_INCH, per_inch[1] / CM_IN_INCH)


def _row(
    yarn: str,
    grist: int | None,
    plain: tuple[int, int] | None,
    twill: tuple[int, int] | None,
    source: str,
    **doubt: str,
) -> UsualSett:
    fibre = _CLASSES.get(yarn) or yarn.rpartition(" ")[2]
    return UsualSett(yarn, fibre, grist, _band(plain), _band(twill), source, **doubt)


_SEINE = (
    "size 12 is set closest and size 6 widest, though in 12/6, 12/9 and 12/12 the last number grows with thickness "
    "(common practice, no source)"
)
_CLASSES = {
    "3/10 alpaca": "wool", "heavy wool": "wool",
    "seine twine 12/6": "cotton", "seine twine 12/9": "cotton", "seine twine 12/12": "cotton",
}  # fmt: skip
"""Rows that name a class of yarn and no length of a pound, to their fibre; they are found by name alone."""

_RAYON = "20/2 is set closer than the finer 30/2"

USUAL_SETTS: tuple[UsualSett, ...] = (
    _row("30/2 cotton", 12_800, (36, 36), (40, 40), _MAKER,
         misprint="12 800 yd/lb is printed; by the count 30/2 holds 12 600"),
    _row("20/2 cotton", 8400, (24, 30), (32, 36), _MAKER),
    _row("16/2 cotton", 6720, (20, 28), (30, 30), _SHOP, note="20 open, 24 drapes, 28 firm."),
    _row("10/2 cotton", 4200, (24, 28), (30, 30), _MAKER),
    _row("8/2 cotton", 3360, (18, 24), (20, 24), _BOTH),
    _row("5/2 cotton", 2100, (15, 18), (20, 20), _MAKER),
    _row("8/4 cotton", 1680, (10, 15), (12, 20), _BOTH),
    _row("3/2 cotton", 1260, (10, 12), (15, 15), _MAKER),
    _row("4/2 cotton", 1680, (12, 15), (20, 20), _MAKER,
         misprint="840 yd/lb is printed; by the count 4/2 holds 1680"),
    _row("30/2 rayon", 12_800, (32, 36), (45, 48), _MAKER, misprint=_RAYON),
    _row("20/2 rayon", 8400, (36, 40), (48, 48), _MAKER, misprint=_RAYON),
    _row("10/2 rayon", 4200, (24, 30), (36, 36), _MAKER),
    _row("8/2 rayon", 3360, (20, 20), (24, 24), _MAKER),
    _row("5/2 rayon", 2100, (16, 16), (20, 20), _MAKER),
    _row("2/8 cottolin", 3360, (18, 24), (20, 24), _SHOP, note="The chart says: as 8/2 cotton."),
    _row("40/2 linen", 6000, (30, 30), (36, 36), _SHOP),
    _row("20/2 linen", 3000, (20, 24), (30, 30), _MAKER),
    _row("16/2 linen", 2400, (20, 20), (24, 24), _SHOP),
    _row("10/2 linen", 1500, (12, 12), (12, 15), _MAKER),
    _row("3/10 alpaca", None, (10, 12), (16, 16), _SHOP, note="Yarns of that class."),
    _row("heavy wool", None, (6, 6), (8, 8), _SHOP, note="Singles and 2-ply."),
    _row("seine twine 12/6", None, (4, 6), None, _SHOP, note="For weft-faced rugs.", misprint=_SEINE),
    _row("seine twine 12/9", None, (6, 8), None, _SHOP, note="For weft-faced rugs.", misprint=_SEINE),
    _row("seine twine 12/12", None, (8, 10), None, _SHOP, note="For weft-faced rugs.", misprint=_SEINE),
)  # fmt: skip
"""Setts as printed in ends per inch for plain weave and twill; charts carry misprints, so they advise, never refuse."""

NEAR = Fraction(5, 4)
MOST_ROWS = 3


def _apart(one: Fraction, other: int) -> Fraction:
    return max(one / other, other / one)


def usual_setts(yards_per_pound: YardsPerPound, fibre: str, label: str = "") -> tuple[UsualSett, ...]:
    """Find the printed setts of yarns near this one.

    Rows of the same fibre within a quarter of that length, those the label names first, then the nearest: two counts
    can hold the same length, as 8/4 and 4/2 cotton do. Fibres without a chart give nothing, rather than another fibre's
    sett. Rows of a class of yarn, such as seine twine, are found by the label alone.
    Source: in each row of `USUAL_SETTS`. Raises ValueError if `yards_per_pound` is not above zero.

    >>> [row.yarn for row in usual_setts(Fraction(3360), "cotton")]
    ['8/2 cotton', '10/2 cotton']
    >>> [row.yarn for row in usual_setts(Fraction(1680), "cotton", "4/2 cotton, unbleached")]
    ['4/2 cotton', '8/4 cotton', '5/2 cotton']
    """
    if yards_per_pound <= 0:
        raise ValueError(f"yards_per_pound {yards_per_pound} must be above zero")
    words = frozenset(label.casefold().replace(",", " ").split())
    near = [
        (not _is_named(row, words), _apart(yards_per_pound, row.yards_per_pound or 1), row)
        for row in USUAL_SETTS
        if row.fibre == fibre and _is_near(row, yards_per_pound, words)
    ]
    return tuple(row for _, _, row in sorted(near, key=lambda found: found[:2])[:MOST_ROWS])


def _is_near(row: UsualSett, yards_per_pound: Fraction, words: frozenset[str]) -> bool:
    if row.yards_per_pound is None:
        return _is_named(row, words)
    return _apart(yards_per_pound, row.yards_per_pound) <= NEAR


def _is_named(row: UsualSett, words: frozenset[str]) -> bool:
    """Tell whether a label names the row; alpaca is told by the fibre, the others by all their words."""
    return "alpaca" in words if "alpaca" in row.yarn else frozenset(row.yarn.split()) <= words
