"""Yarn counts: from what a label says to tex and back, exactly.

Inside Warproom a yarn has one number, its tex (grams per kilometre). Old counts tell how much length a fixed
mass holds, so they fall as the yarn grows thicker and cannot be added; tex rises with thickness and adds.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from inventory.calc.count_systems import SYSTEMS, TEX_YARDS_PER_POUND, CountSystem
from inventory.calc.grist_text import EXAMPLES, tex_of_label, threads_of_label
from studio.quantities import Cm, CountNumber, Grams, MetresPerKilogram, Plies, Tex, YardsPerPound
from studio.units import UnitError, Units

FINEST, THICKEST = Fraction(1, 10), Fraction(100_000)
"""Bounds of a believable yarn [tex]: from below one raw silk thread to a rope of a fifth of a pound a yard."""


def _above_zero(**values: Fraction | int) -> None:
    for name, value in values.items():
        if value <= 0:
            raise ValueError(f"{name} {value} must be above zero")


def _system(key: str) -> CountSystem:
    if key not in SYSTEMS:
        raise ValueError(f"system {key!r} is not one of {', '.join(SYSTEMS)}")
    return SYSTEMS[key]


def tex_of_count(count: CountNumber, system: str, plies: Plies = 1) -> Tex:
    """Turn a yarn's count into tex.

    `count` is of one ply, but of the whole yarn in spun silk. Folding shortens each ply a little (one weavers' page
    says about 5 per cent); the sum leaves that out, as labels do.
    Source: in each row of `SYSTEMS`. Raises ValueError if `count` or `plies` is not above zero, or `system` is unknown.

    8/2 cotton holds 3 360 yards in a pound, and 30/2 metric 15 000 metres in a kilogram:
    >>> yards_per_pound(tex_of_count(Fraction(8), "cotton", 2))
    Fraction(3360, 1)
    >>> metres_per_kilogram(tex_of_count(Fraction(30), "metric", 2))
    Fraction(15000, 1)
    """
    known = _system(system)
    _above_zero(count=count, plies=plies)
    single = known.tex_of_one * count if known.direct else known.tex_of_one / count
    return single * plies if known.plied else single


def count_of_tex(tex: Tex, system: str) -> CountNumber:
    """Turn tex into the count a single yarn of that mass would have.

    Source: in each row of `SYSTEMS`. Raises ValueError if `tex` is not above zero, or `system` is unknown.

    A 20s cotton is a 30s worsted (C. P. Brooks, Cotton Manufacturing, chapter IX):
    >>> count_of_tex(tex_of_count(Fraction(20), "cotton"), "worsted")
    Fraction(30, 1)
    """
    known = _system(system)
    _above_zero(tex=tex)
    return tex / known.tex_of_one if known.direct else known.tex_of_one / tex


def folded(texes: Iterable[Tex]) -> Tex:
    """Add the tex of threads twisted or wound together.

    Twist is not counted. Tex adds, which is why it is used here: in counts the same rule reads 1/R = 1/A + 1/B.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed. Raises ValueError if `texes` is empty or holds one not
    above zero.

    A 60s and a 40s cotton make a 24s:
    >>> singles = [tex_of_count(Fraction(60), "cotton"), tex_of_count(Fraction(40), "cotton")]
    >>> count_of_tex(folded(singles), "cotton")
    Fraction(24, 1)
    """
    threads = tuple(texes)
    if not threads or min(threads) <= 0:
        raise ValueError(f"texes {threads} must hold at least one tex, each above zero")
    return sum(threads, Fraction(0))


def tex_of_yards_per_pound(yards_per_pound: YardsPerPound) -> Tex:
    """Turn yards per pound into tex.

    Source: international yard and pound agreement, 1959: 453.59237 g and 0.9144 m exactly. Raises ValueError if
    `yards_per_pound` is not above zero.

    >>> round(float(tex_of_yards_per_pound(Fraction(3360))), 3)
    147.635
    """
    _above_zero(yards_per_pound=yards_per_pound)
    return TEX_YARDS_PER_POUND / yards_per_pound


def yards_per_pound(tex: Tex) -> YardsPerPound:
    """Turn tex into yards per pound.

    Source: international yard and pound agreement, 1959: 453.59237 g and 0.9144 m exactly. Raises ValueError if `tex`
    is not above zero.

    >>> yards_per_pound(tex_of_yards_per_pound(Fraction(1680)))
    Fraction(1680, 1)
    """
    _above_zero(tex=tex)
    return TEX_YARDS_PER_POUND / tex


def tex_of_metres_per_kilogram(metres_per_kilogram: MetresPerKilogram) -> Tex:
    """Turn metres per kilogram into tex.

    Source: tex is grams per kilometre (ISO 1144). Raises ValueError if `metres_per_kilogram` is not above zero.

    >>> tex_of_metres_per_kilogram(Fraction(5000))
    Fraction(200, 1)
    """
    _above_zero(metres_per_kilogram=metres_per_kilogram)
    return Fraction(1_000_000) / metres_per_kilogram


def metres_per_kilogram(tex: Tex) -> MetresPerKilogram:
    """Turn tex into metres per kilogram.

    Source: tex is grams per kilometre (ISO 1144). Raises ValueError if `tex` is not above zero.

    >>> metres_per_kilogram(Fraction(100))
    Fraction(10000, 1)
    """
    _above_zero(tex=tex)
    return Fraction(1_000_000) / tex


def length_of_mass(mass: Grams, tex: Tex) -> Cm:
    """Give the length of yarn in a mass of it.

    Source: tex is grams per kilometre (ISO 1144). Raises ValueError if `tex` is not above zero or `mass` is below.

    250 g of 100 tex are 2 500 m:
    >>> length_of_mass(Fraction(250), Fraction(100))
    Fraction(250000, 1)
    """
    _above_zero(tex=tex)
    if mass < 0:
        raise ValueError(f"mass {mass} must not be below zero")
    return mass * 100_000 / tex


def mass_of_length(length: Cm, tex: Tex) -> Grams:
    """Give the mass of a length of yarn.

    Source: tex is grams per kilometre (ISO 1144). Raises ValueError if `tex` is not above zero or `length` is below.

    >>> mass_of_length(Fraction(250000), Fraction(100))
    Fraction(250, 1)
    """
    _above_zero(tex=tex)
    if length < 0:
        raise ValueError(f"length {length} must not be below zero")
    return length * tex / 100_000


def read_grist(text: str, units: Units | None) -> Tex:
    """Read what a label says about a yarn's thickness into tex.

    `units` says what a bare number means, yd/lb or m/kg; None refuses it. Two numbers with a stroke are count and
    plies, in either order: the smaller is the plies, since 8/2 cotton and 2/8 cotton are one yarn written in two
    countries. Where even the smaller is above four (12/6, 12/9 cotton) size tells nothing, so the order of writing
    decides: count first in cotton and linen; worsted and metric are written both ways and are refused. So is a stroke
    in tex or denier, where 20/22 denier is a range and no plying. Three numbers are a cabled yarn: 12/2/2 cotton is two
    threads of 12/2 twisted together, four plies in all. Silk must say spun silk, dram silk, old silk denier or Nm.
    Groups of three digits are thousands: 3,360 yd/lb is 3360.
    Source: in each row of `SYSTEMS`; cottolin by the cotton count and hemp by the linen lea, common practice, no
    source. Raises UnitError if `text` is no yarn; its sentence says what would be.

    >>> read_grist("8/2 cotton", None) == read_grist("2/8 cotton", None) == read_grist("3,360 yd/lb", None)
    True
    >>> read_grist("30/2 Nm", None)
    Fraction(200, 3)
    """
    tex = tex_of_label(text, units)
    if tex is None:
        tex = folded(tex_of_count(*thread) for thread in threads_of_label(text))
    if not FINEST <= tex <= THICKEST:
        raise UnitError("not_a_yarn", f"“{text[:20]}” would not be a yarn; write it like {EXAMPLES}.")
    return tex
