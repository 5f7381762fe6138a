"""Yarn counts: from what a label says to tex and back, exactly.

Inside Warproom a yarn has one number, its tex (grams per kilometre). Old counts tell how much length a fixed
mass holds, so they fall as the yarn grows thicker and cannot be added; tex rises with thickness and adds.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

from inventory.count_systems import PER_MASS, SYSTEM_WORDS, SYSTEMS, TEX_YARDS_PER_POUND, CountSystem
from studio.units import LONGEST_TEXT, UnitError, Units, read_number

MOST_PLIES = 99
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


def tex_of_count(count: Fraction, system: str, plies: int = 1) -> Fraction:
    """Turn a yarn's count into tex.

    Parameters
    ----------
    count : Fraction
        Number of one ply; of the whole yarn in spun silk. [count]
    system : str
        Key of `SYSTEMS`, such as cotton. [-]
    plies : int
        Equal plies folded together. [plies]

    Returns
    -------
    tex : Fraction
        Mass per length of the whole yarn, twist not counted. [tex]

    Raises
    ------
    ValueError
        If `count` or `plies` is not above zero, or `system` is unknown.

    Notes
    -----
    Definitions and their sources stand in `SYSTEMS`. Spun silk names the folded yarn, so its plies are not multiplied.
    Folding shortens each ply a little (one weavers' page says about 5 per cent); the sum leaves that out, as labels do.

    Examples
    --------
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


def count_of_tex(tex: Fraction, system: str) -> Fraction:
    """Turn tex into the count a single yarn of that mass would have.

    Parameters
    ----------
    tex : Fraction
        Mass per length of the yarn. [tex]
    system : str
        Key of `SYSTEMS`. [-]

    Returns
    -------
    count : Fraction
        Number in that system, taken as one ply. [count]

    Raises
    ------
    ValueError
        If `tex` is not above zero, or `system` is unknown.

    Notes
    -----
    Definitions and their sources stand in `SYSTEMS`.

    Examples
    --------
    A 20s cotton is a 30s worsted (C. P. Brooks, Cotton Manufacturing, chapter IX):

    >>> count_of_tex(tex_of_count(Fraction(20), "cotton"), "worsted")
    Fraction(30, 1)
    """
    known = _system(system)
    _above_zero(tex=tex)
    return tex / known.tex_of_one if known.direct else known.tex_of_one / tex


def folded(texes: Iterable[Fraction]) -> Fraction:
    """Add the tex of threads twisted or wound together.

    Parameters
    ----------
    texes : Iterable[Fraction]
        Mass per length of each thread. [tex]

    Returns
    -------
    tex : Fraction
        Mass per length of them all, twist not counted. [tex]

    Raises
    ------
    ValueError
        If `texes` is empty or holds one not above zero.

    Notes
    -----
    Tex adds, which is why it is used here: in counts the same rule reads 1/R = 1/A + 1/B
    (J. T. Taylor, Cotton Weaving and Designing, 6th ed.).

    Examples
    --------
    A 60s and a 40s cotton make a 24s:

    >>> singles = [tex_of_count(Fraction(60), "cotton"), tex_of_count(Fraction(40), "cotton")]
    >>> count_of_tex(folded(singles), "cotton")
    Fraction(24, 1)
    """
    threads = tuple(texes)
    if not threads or min(threads) <= 0:
        raise ValueError(f"texes {threads} must hold at least one tex, each above zero")
    return sum(threads, Fraction(0))


def tex_of_yards_per_pound(yards_per_pound: Fraction) -> Fraction:
    """Turn yards per pound into tex.

    Parameters
    ----------
    yards_per_pound : Fraction
        Length a pound holds. [yd/lb]

    Returns
    -------
    tex : Fraction
        Mass per length. [tex]

    Raises
    ------
    ValueError
        If `yards_per_pound` is not above zero.

    Notes
    -----
    International yard and pound agreement, 1959: 453.59237 g and 0.9144 m exactly.

    Examples
    --------
    >>> round(float(tex_of_yards_per_pound(Fraction(3360))), 3)
    147.635
    """
    _above_zero(yards_per_pound=yards_per_pound)
    return TEX_YARDS_PER_POUND / yards_per_pound


def yards_per_pound(tex: Fraction) -> Fraction:
    """Turn tex into yards per pound.

    Parameters
    ----------
    tex : Fraction
        Mass per length. [tex]

    Returns
    -------
    yards_per_pound : Fraction
        Length a pound holds. [yd/lb]

    Raises
    ------
    ValueError
        If `tex` is not above zero.

    Notes
    -----
    International yard and pound agreement, 1959: 453.59237 g and 0.9144 m exactly.

    Examples
    --------
    >>> yards_per_pound(tex_of_yards_per_pound(Fraction(1680)))
    Fraction(1680, 1)
    """
    _above_zero(tex=tex)
    return TEX_YARDS_PER_POUND / tex


def tex_of_metres_per_kilogram(metres_per_kilogram: Fraction) -> Fraction:
    """Turn metres per kilogram into tex.

    Parameters
    ----------
    metres_per_kilogram : Fraction
        Length a kilogram holds. [m/kg]

    Returns
    -------
    tex : Fraction
        Mass per length. [tex]

    Raises
    ------
    ValueError
        If `metres_per_kilogram` is not above zero.

    Notes
    -----
    Tex is grams per kilometre (ISO 1144).

    Examples
    --------
    >>> tex_of_metres_per_kilogram(Fraction(5000))
    Fraction(200, 1)
    """
    _above_zero(metres_per_kilogram=metres_per_kilogram)
    return Fraction(1_000_000) / metres_per_kilogram


def metres_per_kilogram(tex: Fraction) -> Fraction:
    """Turn tex into metres per kilogram.

    Parameters
    ----------
    tex : Fraction
        Mass per length. [tex]

    Returns
    -------
    metres_per_kilogram : Fraction
        Length a kilogram holds. [m/kg]

    Raises
    ------
    ValueError
        If `tex` is not above zero.

    Notes
    -----
    Tex is grams per kilometre (ISO 1144).

    Examples
    --------
    >>> metres_per_kilogram(Fraction(100))
    Fraction(10000, 1)
    """
    _above_zero(tex=tex)
    return Fraction(1_000_000) / tex


def length_of_mass(mass: Fraction, tex: Fraction) -> Fraction:
    """Give the length of yarn in a mass of it.

    Parameters
    ----------
    mass : Fraction
        Yarn alone, cone taken off. [g]
    tex : Fraction
        Mass per length. [tex]

    Returns
    -------
    length : Fraction
        Yarn on the package. [cm]

    Raises
    ------
    ValueError
        If `tex` is not above zero or `mass` is below.

    Notes
    -----
    Tex is grams per kilometre (ISO 1144).

    Examples
    --------
    250 g of 100 tex are 2 500 m:

    >>> length_of_mass(Fraction(250), Fraction(100))
    Fraction(250000, 1)
    """
    _above_zero(tex=tex)
    if mass < 0:
        raise ValueError(f"mass {mass} must not be below zero")
    return mass * 100_000 / tex


def mass_of_length(length: Fraction, tex: Fraction) -> Fraction:
    """Give the mass of a length of yarn.

    Parameters
    ----------
    length : Fraction
        Yarn measured off. [cm]
    tex : Fraction
        Mass per length. [tex]

    Returns
    -------
    mass : Fraction
        Yarn alone. [g]

    Raises
    ------
    ValueError
        If `tex` is not above zero or `length` is below.

    Notes
    -----
    Tex is grams per kilometre (ISO 1144).

    Examples
    --------
    >>> mass_of_length(Fraction(250000), Fraction(100))
    Fraction(250, 1)
    """
    _above_zero(tex=tex)
    if length < 0:
        raise ValueError(f"length {length} must not be below zero")
    return length * tex / 100_000


_THOUSANDS = re.compile(r"\d{1,3}(?:[., ]\d{3}){1,2}", re.ASCII)
_NUMBER = r"\d{1,3}(?:[., ]\d{3}){1,2}(?!\d)|\d[\d.,]{0,15}(?:\s\d{1,4}/\d{1,4})?"
_MEASURED = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>[^\d\s].{{0,30}})?", re.ASCII)
_COUNTED = re.compile(
    rf"(?P<before>[a-z][a-z ]{{0,30}})?(?:(?P<one>\d{{1,4}}(?:[.,]\d{{1,3}})?)/(?P<two>\d{{1,4}})|(?P<alone>{_NUMBER}))"
    r"(?:'?s)? ?(?P<after>[a-z][a-z ]{0,30})?",
    re.ASCII,
)

_EXAMPLES = "8/2 cotton, Nm 30/2, 3360 yd/lb, 6770 m/kg or 147.6 tex"
_PLIES_FIRST = frozenset({"worsted", "metric"})
SURELY_PLIES = 4
"""A smaller number up to this is the plies; above it only the order of writing can tell."""


def _per_mass(number: str, unit: str) -> Fraction:
    plain = re.sub(r"[., ]", "", number) if _THOUSANDS.fullmatch(number) else number
    value = read_number(plain)
    if value == 0:
        raise UnitError("not_above_zero", "A yarn needs a number above zero.")
    return PER_MASS[unit] / value


def _count_and_plies(one: str, two: str, system: str) -> tuple[Fraction, int]:
    first, second = read_number(one), int(two)
    if first <= second and first.denominator == 1:
        small_is_plies = first <= SURELY_PLIES or system in _PLIES_FIRST
        return (Fraction(second), int(first)) if small_is_plies else (first, second)
    if second > SURELY_PLIES and system in _PLIES_FIRST and first.denominator == 1:
        raise UnitError("plies_unclear", f"“{one}/{two}” does not say which number is the plies; give yd/lb or m/kg.")
    return first, second


def _system_of(before: str, after: str, fallback: str) -> str:
    if before and after and before != after:
        raise UnitError("not_a_count", f"“{before}” and “{after}” are two systems; name one, as in {_EXAMPLES}.")
    word = before or after or fallback
    if word == "silk":
        raise UnitError("silk_unclear", "Silk is numbered in two ways: write “spun silk” or “Nm”, or give m/kg.")
    if word not in SYSTEM_WORDS:
        named = f"“{word[:20]}” is not a count system we know" if word else "Say the count system"
        raise UnitError("system_unknown", f"{named}; write it like {_EXAMPLES}.")
    return word


def _read_count(text: str, fallback: str) -> tuple[Fraction, str]:
    found = _COUNTED.fullmatch(text)
    if not found:
        raise UnitError("not_a_count", f"“{text[:20]}” is not a yarn count; write it like {_EXAMPLES}.")
    word = _system_of((found["before"] or "").strip(), (found["after"] or "").strip(), fallback)
    system = SYSTEM_WORDS[word]
    if found["alone"]:
        count, plies = read_number(found["alone"]), 1
    else:
        count, plies = _count_and_plies(found["one"], found["two"], system)
    if count <= 0 or not 1 <= plies <= MOST_PLIES:
        raise UnitError("not_above_zero", f"A count is above zero and has 1 to {MOST_PLIES} plies.")
    return tex_of_count(count, system, plies), word


def _read_plies(text: str) -> Fraction:
    texes: list[Fraction] = []
    word = ""
    for part in reversed(text.split("+")):
        tex, word = _read_count(part.strip(), word)
        texes.append(tex)
    return folded(texes)


def read_grist(text: str, units: Units | None) -> Fraction:
    """Read what a label says about a yarn's thickness into tex.

    Parameters
    ----------
    text : str
        Such as 8/2 cotton, Nm 30/2, 60 + 40 cotton, 3360 yd/lb or 147.6 tex. [-]
    units : Units | None
        What a bare number means: yd/lb or m/kg; None refuses it. [-]

    Returns
    -------
    tex : Fraction
        Mass per length of the whole yarn. [tex]

    Raises
    ------
    UnitError
        If `text` is no yarn; its sentence says what would be.

    Notes
    -----
    Two numbers with a stroke are count and plies, in either order: the smaller is the plies, since 8/2 cotton and
    2/8 cotton are one yarn written in two countries. Where even the smaller is above four (12/6, 12/9 cotton) size
    tells nothing, so the order of writing decides: count first in cotton and linen; worsted and metric are written
    both ways and are refused. Cottolin goes by the cotton count and hemp by the linen lea (common practice, no
    source). Silk must say spun silk or Nm. Groups of three digits are thousands: 3,360 yd/lb is 3360. A word
    is asked for rather than guessed.

    Examples
    --------
    >>> read_grist("8/2 cotton", None) == read_grist("2/8 cotton", None) == read_grist("3,360 yd/lb", None)
    True
    >>> read_grist("30/2 Nm", None)
    Fraction(200, 3)
    """
    if len(text) > LONGEST_TEXT:
        raise UnitError("too_long", "That is too long to be a yarn count.")
    plain = " ".join(text.lower().split())
    found = _MEASURED.fullmatch(plain)
    unit = (found["unit"] or "").strip() if found else ""
    if found and not unit and units is not None:
        unit = "yd/lb" if units is Units.INCH else "m/kg"
    tex = _per_mass(found["number"], unit) if found and unit in PER_MASS else _read_plies(plain)
    if not FINEST <= tex <= THICKEST:
        raise UnitError("not_a_yarn", f"“{text[:20]}” would not be a yarn; write it like {_EXAMPLES}.")
    return tex
