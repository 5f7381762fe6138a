"""Reeds by their old numbers: what each district counted, as dents, and back again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from studio.quantities import Cm, CountNumber, Dents, DentsPerCm

CM_IN_INCH = Fraction(254, 100)


@dataclass(frozen=True, slots=True)
class ReedSystem:
    """One way of numbering reeds: a reed of number 1 has `dents` dents in `width`."""

    key: str
    name: str
    dents: Dents  # that a number of one stands for
    width: Cm  # in which they are counted
    source: str
    disagreement: str = ""  # what other sources say


def _inches(key: str, name: str, rule: tuple[int, Fraction], source: str, disagreement: str = "") -> ReedSystem:
    dents, inches = rule
    return ReedSystem(key, name, dents, inches * CM_IN_INCH, source, disagreement)


_TAYLOR = "J. T. Taylor, Cotton Weaving and Designing, 6th ed."
_BROOKS = "C. P. Brooks, Cotton Manufacturing, 3rd ed."
_TEXTBOOK = "An educational site on textile calculations, Counting of Reed Count (2015)"
_ARTISAN = "A shawl weaver's training text, pages 73-74"

SYSTEMS: Mapping[str, ReedSystem] = MappingProxyType({
    system.key: system
    for system in (
        _inches("inch", "dents to the inch", (1, Fraction(1)), "Definition."),
        ReedSystem("metric", "dents to 10 cm", 1, Fraction(10), "Definition.",
                   "Tables that swap metric for inch reeds are up to 5.8 per cent off; 50/10 is 12.7 to the inch."),
        _inches("stockport", "Stockport: dents in 2 in", (1, Fraction(2)), f"{_TAYLOR}; {_BROOKS}"),
        _inches("bradford", "Bradford: beers of 20 dents in 36 in", (20, Fraction(36)), f"{_TAYLOR}; {_TEXTBOOK}",
                "Also put as beers of 40 ends: the same, at two ends in a dent."),
        _inches("bolton", "Bolton: beers of 20 dents in 24 1/4 in", (20, Fraction(97, 4)), f"{_TAYLOR}; {_BROOKS}",
                "One table on the web counts them in 24 1/2 in, 1 per cent coarser. Brooks prints 2238 ends where his "
                "own rule gives 2316."),
        _inches("scotch", "Scotch: splits in 37 in", (1, Fraction(37)), _TAYLOR),
        _inches("porter", "Scotch porters: 20 splits in 37 in", (20, Fraction(37)),
                "From memory; the books seen confirm only the 37 in."),
        _inches("irish", "Irish: hundreds of dents in 40 in", (100, Fraction(40)), _TEXTBOOK),
        _inches("radcliffe", "Radcliffe: dents to the inch", (1, Fraction(1)), _ARTISAN),
        _inches("huddersfield", "Huddersfield: dents to the inch", (1, Fraction(1)), _ARTISAN),
    )
})  # fmt: skip
"""Every system by key. Where sources disagree, the older printed book is followed and the other one told."""


def dents_of(number: CountNumber, system: str) -> DentsPerCm:
    """Turn a reed's number into dents.

    Source: in each row of `SYSTEMS`, with its disagreements. Raises ValueError if `number` is not above zero or
    `system` is unknown.

    A 60 Stockport reed has 30 dents to the inch, and a 36 Bolton nearly so:
    >>> dents_of(Fraction(60), "stockport") * CM_IN_INCH
    Fraction(30, 1)
    """
    if number <= 0 or system not in SYSTEMS:
        raise ValueError(f"number {number} must be above zero and system {system!r} one of {', '.join(SYSTEMS)}")
    known = SYSTEMS[system]
    return number * known.dents / known.width


def number_of(dents: DentsPerCm, system: str) -> CountNumber:
    """Turn dents into the number a district would give the reed.

    Not rounded.
    Source: in each row of `SYSTEMS`, with its disagreements. Raises ValueError if `dents` is not above zero or `system`
    is unknown.

    One Bolton beer is 1.6495 Stockport (C. P. Brooks, Cotton Manufacturing, 3rd ed.):
    >>> round(float(number_of(dents_of(Fraction(1), "bolton"), "stockport")), 4)
    1.6495
    """
    if dents <= 0 or system not in SYSTEMS:
        raise ValueError(f"dents {dents} must be above zero and system {system!r} one of {', '.join(SYSTEMS)}")
    known = SYSTEMS[system]
    return dents * known.width / known.dents
