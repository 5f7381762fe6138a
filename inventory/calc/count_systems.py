"""The count systems of the trade: what each number means, exactly, and where that is written.

Old counts tell how much length a fixed mass holds; tex, denier and the jute count tell how much a fixed length weighs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from studio.quantities import Tex

GRAMS_IN_POUND = Fraction("453.59237")
CM_IN_YARD = Fraction("91.44")
"""International yard and pound agreement of 1959: exact by definition."""

TEX_YARDS_PER_POUND = GRAMS_IN_POUND * 100_000 / CM_IN_YARD
"""Tex times yards per pound of any yarn, 496 054.65 [tex yd/lb]."""


@dataclass(frozen=True, slots=True)
class CountSystem:
    """One way of numbering yarn."""

    key: str
    name: str
    tex_of_one: Tex
    direct: bool  # the number grows with thickness (tex, denier, jute) and not with length
    plied: bool  # the number names one ply, so plies make the yarn thicker
    source: str


def _hank(key: str, name: str, yards: int, source: str, *, plied: bool = True) -> CountSystem:
    return CountSystem(key, name, TEX_YARDS_PER_POUND / yards, direct=False, plied=plied, source=source)


def _direct(key: str, name: str, tex_of_one: Fraction, source: str) -> CountSystem:
    return CountSystem(key, name, tex_of_one, direct=True, plied=True, source=source)


_TAYLOR = "J. T. Taylor, Cotton Weaving and Designing, 6th ed."
_DAVIS = "W. Davis, Hosiery Manufacture, chapter on counts of yarn"
_ISO = "ISO 1144, Textiles: universal system for designating linear density (Tex System)"

SYSTEMS: Mapping[str, CountSystem] = MappingProxyType({
    system.key: system
    for system in (
        _hank("cotton", "cotton count", 840, _TAYLOR),
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
        _direct("old_denier", "old silk denier", TEX_YARDS_PER_POUND / (16 * 520 * Fraction(1600, 3)),
                f"{_TAYLOR}, pp. 238-239 (deniers of a skein of 520 yd, 533 1/3 of them an ounce)"),
        _direct("dram", "dram silk", TEX_YARDS_PER_POUND / (256 * 1000),
                f"{_TAYLOR}, p. 239 (drams of 1000 yd, 256 of them a pound)"),
        _direct("jute", "jute count", GRAMS_IN_POUND * 100_000 / (14_400 * CM_IN_YARD),
                "Woodhouse & Kilgour, The Jute Industry, yarn table (spyndle of 14 400 yd)"),
    )
})  # fmt: skip
"""Every count system by key, with its definition's source."""

PER_MASS: Mapping[str, Fraction] = MappingProxyType({
    "yd/lb": TEX_YARDS_PER_POUND, "yds/lb": TEX_YARDS_PER_POUND, "ypp": TEX_YARDS_PER_POUND,
    "yards per pound": TEX_YARDS_PER_POUND, "yards/pound": TEX_YARDS_PER_POUND, "yd per lb": TEX_YARDS_PER_POUND,
    "yd/oz": TEX_YARDS_PER_POUND / 16, "yards per ounce": TEX_YARDS_PER_POUND / 16,
    "m/kg": Fraction(1_000_000), "metres per kilogram": Fraction(1_000_000), "m per kg": Fraction(1_000_000),
    "m/g": Fraction(1000), "km/kg": Fraction(1000), "m/100g": Fraction(100_000), "m/100 g": Fraction(100_000),
    "m/50g": Fraction(50_000), "m/50 g": Fraction(50_000),
})  # fmt: skip
"""Length for a mass, as labels print it: this over the printed number is tex."""

SYSTEM_WORDS: Mapping[str, str] = MappingProxyType({
    "cotton": "cotton", "ne": "cotton", "nec": "cotton", "cottolin": "cotton", "spun silk": "spun_silk",
    "worsted": "worsted", "linen": "linen", "lea": "linen", "linen lea": "linen", "hemp": "linen",
    "cut": "cut", "run": "run", "yorkshire": "yorkshire", "yorkshire skein": "yorkshire",
    "galashiels": "galashiels", "galashiels cut": "galashiels", "alloa": "alloa", "alloa cut": "alloa",
    "nm": "metric", "metric": "metric", "tex": "tex", "den": "denier", "denier": "denier", "jute": "jute",
    "old denier": "old_denier", "old silk denier": "old_denier", "dram": "dram", "drams": "dram", "dram silk": "dram",
})  # fmt: skip
"""Count systems as people type them, lower case, to keys of `SYSTEMS`."""
