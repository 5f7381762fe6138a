"""Yarn counts: from what a label says to tex and back, exactly.

Inside Warproom a yarn has one number, its tex (grams per kilometre). Old counts tell how much length a fixed
mass holds, so they fall as the yarn grows thicker and cannot be added; tex rises with thickness and adds.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from studio.units import LONGEST_TEXT, UnitError, Units, read_number

GRAMS_IN_POUND = Fraction("453.59237")
CM_IN_YARD = Fraction("91.44")
"""International yard and pound agreement of 1959: exact by definition."""

TEX_YARDS_PER_POUND = GRAMS_IN_POUND * 100_000 / CM_IN_YARD
"""Tex times yards per pound of any yarn, 496 054.65 [tex yd/lb]."""

MOST_PLIES = 99
FINEST, THICKEST = Fraction(1, 10), Fraction(100_000)
"""Bounds of a believable yarn [tex]: from below one raw silk thread to a rope of a fifth of a pound a yard."""


@dataclass(frozen=True, slots=True)
class CountSystem:
    """One way of numbering yarn.

    Attributes
    ----------
    key : str
        Key of the system. [-]
    name : str
        What the trade calls it. [-]
    tex_of_one : Fraction
        Tex of a single yarn numbered 1. [tex]
    direct : bool
        The number grows with thickness (tex, denier, jute) and not with length. [-]
    plied : bool
        The number names one ply, so plies make the yarn thicker. [-]
    source : str
        Published source of the definition. [-]
    """

    key: str
    name: str
    tex_of_one: Fraction
    direct: bool
    plied: bool
    source: str


def _hank(key: str, name: str, yards: int, source: str, *, plied: bool = True) -> CountSystem:
    return CountSystem(key, name, TEX_YARDS_PER_POUND / yards, direct=False, plied=plied, source=source)


def _direct(key: str, name: str, tex_of_one: Fraction, source: str) -> CountSystem:
    return CountSystem(key, name, tex_of_one, direct=True, plied=True, source=source)


_DAVIS = "W. Davis, Hosiery Manufacture, chapter on counts of yarn"
_ISO = "ISO 1144, Textiles: universal system for designating linear density (Tex System)"

SYSTEMS: Mapping[str, CountSystem] = MappingProxyType({
    system.key: system
    for system in (
        _hank("cotton", "cotton count", 840, "J. T. Taylor, Cotton Weaving and Designing, 6th ed."),
        _hank("spun_silk", "spun silk count", 840, _DAVIS, plied=False),
        _hank("worsted", "worsted count", 560, _DAVIS),
        _hank("linen", "linen lea", 300, _DAVIS),
        _hank("cut", "woollen cut", 300, _DAVIS),
        _hank("run", "woollen run", 1600, "American Correspondence School of Textiles, Calculations IV, 1898, par. 1"),
        _hank("yorkshire", "Yorkshire skein", 256, _DAVIS),
        _hank("galashiels", "Galashiels cut", 200, _DAVIS),
        _hank("alloa", "Alloa cut", 240, _DAVIS),
        CountSystem("metric", "metric count (Nm)", Fraction(1000), direct=False, plied=True, source=_ISO),
        _direct("tex", "tex", Fraction(1), _ISO),
        _direct("denier", "denier", Fraction(1, 9), _ISO),
        _direct("jute", "jute count", GRAMS_IN_POUND * 100_000 / (14_400 * CM_IN_YARD),
                "Woodhouse & Kilgour, The Jute Industry, yarn table (spyndle of 14 400 yd)"),
    )
})  # fmt: skip
"""Every count system by key, with its definition's source."""


def _above_zero(**values: Fraction | int) -> None:
    for name, value in values.items():
        if value <= 0:
            raise ValueError(f"{name} {value} must be above zero")


def _system(key: str) -> CountSystem:
    if key not in SYSTEMS:
        raise ValueError(f"system {key!r} is not one of {', '.join(SYSTEMS)}")
    return SYSTEMS[key]


def tex_of_count(count: Fraction, system: str, plies: int = 1) -> Fraction:
    known = _system(system)
    _above_zero(count=count, plies=plies)
    single = known.tex_of_one * count if known.direct else known.tex_of_one / count
    return single * plies if known.plied else single


def count_of_tex(tex: Fraction, system: str) -> Fraction:
    known = _system(system)
    _above_zero(tex=tex)
    return tex / known.tex_of_one if known.direct else known.tex_of_one / tex


def folded(texes: Iterable[Fraction]) -> Fraction:
    threads = tuple(texes)
    if not threads or min(threads) <= 0:
        raise ValueError(f"texes {threads} must hold at least one tex, each above zero")
    return sum(threads, Fraction(0))


def tex_of_yards_per_pound(yards_per_pound: Fraction) -> Fraction:
    _above_zero(yards_per_pound=yards_per_pound)
    return TEX_YARDS_PER_POUND / yards_per_pound


def yards_per_pound(tex: Fraction) -> Fraction:
    _above_zero(tex=tex)
    return TEX_YARDS_PER_POUND / tex


def tex_of_metres_per_kilogram(metres_per_kilogram: Fraction) -> Fraction:
    _above_zero(metres_per_kilogram=metres_per_kilogram)
    return Fraction(1_000_000) / metres_per_kilogram


def metres_per_kilogram(tex: Fraction) -> Fraction:
    _above_zero(tex=tex)
    return Fraction(1_000_000) / tex


def length_of_mass(mass: Fraction, tex: Fraction) -> Fraction:
    _above_zero(tex=tex)
    if mass < 0:
        raise ValueError(f"mass {mass} must not be below zero")
    return mass * 100_000 / tex


def mass_of_length(length: Fraction, tex: Fraction) -> Fraction:
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

_PER_MASS: Mapping[str, Fraction] = MappingProxyType({
    "yd/lb": TEX_YARDS_PER_POUND, "yds/lb": TEX_YARDS_PER_POUND, "ypp": TEX_YARDS_PER_POUND,
    "yards per pound": TEX_YARDS_PER_POUND, "yards/pound": TEX_YARDS_PER_POUND, "yd per lb": TEX_YARDS_PER_POUND,
    "yd/oz": TEX_YARDS_PER_POUND / 16, "yards per ounce": TEX_YARDS_PER_POUND / 16,
    "m/kg": Fraction(1_000_000), "metres per kilogram": Fraction(1_000_000), "m per kg": Fraction(1_000_000),
    "m/g": Fraction(1000), "km/kg": Fraction(1000), "m/100g": Fraction(100_000), "m/100 g": Fraction(100_000),
    "m/50g": Fraction(50_000), "m/50 g": Fraction(50_000),
})  # fmt: skip
"""Length for a mass, as labels print it: this over the printed number is tex."""

_SYSTEM_WORDS: Mapping[str, str] = MappingProxyType({
    "cotton": "cotton", "ne": "cotton", "nec": "cotton", "cottolin": "cotton", "spun silk": "spun_silk",
    "worsted": "worsted", "linen": "linen", "lea": "linen", "linen lea": "linen", "hemp": "linen",
    "cut": "cut", "run": "run", "yorkshire": "yorkshire", "yorkshire skein": "yorkshire",
    "galashiels": "galashiels", "galashiels cut": "galashiels", "alloa": "alloa", "alloa cut": "alloa",
    "nm": "metric", "metric": "metric", "tex": "tex", "den": "denier", "denier": "denier", "jute": "jute",
})  # fmt: skip

_EXAMPLES = "8/2 cotton, Nm 30/2, 3360 yd/lb, 6770 m/kg or 147.6 tex"
_PLIES_FIRST = frozenset({"worsted", "metric"})
SURELY_PLIES = 4
"""A smaller number up to this is the plies; above it only the order of writing can tell."""


def _per_mass(number: str, unit: str) -> Fraction:
    plain = re.sub(r"[., ]", "", number) if _THOUSANDS.fullmatch(number) else number
    value = read_number(plain)
    if value == 0:
        raise UnitError("not_above_zero", "A yarn needs a number above zero.")
    return _PER_MASS[unit] / value


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
    if word not in _SYSTEM_WORDS:
        named = f"“{word[:20]}” is not a count system we know" if word else "Say the count system"
        raise UnitError("system_unknown", f"{named}; write it like {_EXAMPLES}.")
    return word


def _read_count(text: str, fallback: str) -> tuple[Fraction, str]:
    found = _COUNTED.fullmatch(text)
    if not found:
        raise UnitError("not_a_count", f"“{text[:20]}” is not a yarn count; write it like {_EXAMPLES}.")
    word = _system_of((found["before"] or "").strip(), (found["after"] or "").strip(), fallback)
    system = _SYSTEM_WORDS[word]
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
    if len(text) > LONGEST_TEXT:
        raise UnitError("too_long", "That is too long to be a yarn count.")
    plain = " ".join(text.lower().split())
    found = _MEASURED.fullmatch(plain)
    unit = (found["unit"] or "").strip() if found else ""
    if found and not unit and units is not None:
        unit = "yd/lb" if units is Units.INCH else "m/kg"
    tex = _per_mass(found["number"], unit) if found and unit in _PER_MASS else _read_plies(plain)
    if not FINEST <= tex <= THICKEST:
        raise UnitError("not_a_yarn", f"“{text[:20]}” would not be a yarn; write it like {_EXAMPLES}.")
    return tex
