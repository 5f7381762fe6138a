"""The worksheet's page of the sett: what each yarn and weave propose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from planner.calc.cloth import colours, firmness, sett, weave
from planner.calc.reed import threading
from planner.calc.terms.brief import WarpBrief, YarnChoice
from planner.calc.terms.plan import ColourRun, Sum
from planner.calc.worksheet.sums import added, line, of

WIDEST_MIXED = Fraction(254, 100)
"""Widest stripe whose ends lie among those of other yarns, one inch [cm]. In a wider one the yarn lies by itself.
Common practice, no source."""

Setts = tuple[Fraction, Fraction]
SIDE_BY_SIDE = ("width_of_mixture", "diameters_of_mixture")
WRAPPED = ("width_wrapped", "wraps_of_mixture")


def weave_of(brief: WarpBrief) -> sett.Weave:
    """Give the weave as its sett sees it: one of the table, or counted from threading and lift plan.

    A threading that is not typed is straight on all shafts.
    """
    if brief.weave != sett.AS_TYPED:
        return sett.WEAVES.get(brief.weave, sett.WEAVES["plain"])
    return _counted(brief.threading or threading.straight(brief.loom.shafts), brief.lifts)


@lru_cache(maxsize=64)
def _counted(threaded: tuple[int, ...], lifts: tuple[tuple[int, ...], ...]) -> sett.Weave:
    """Remember the last weaves: a long threading takes a moment to count, and seldom changes."""
    ends, intersections = weave.count_weave(weave.drawdown(threaded, lifts)).mean
    return sett.Weave("the weave as typed", ends, intersections, "Counted from threading and lift plan.")


def mixture_of(brief: WarpBrief, pattern: tuple[ColourRun, ...]) -> frozenset[str]:
    """Name the yarns of different thickness that lie among each other at the warp's own sett.

    A yarn with a sett of its own, or in a stripe wider than `WIDEST_MIXED`, lies by itself.
    """
    wide = {run.code for run in pattern if run.ends > WIDEST_MIXED * brief.sett}
    here = {run.code for run in pattern} - wide
    mixed = [yarn for yarn in brief.yarns if yarn.code in here and yarn.sett in {None, brief.sett}]
    return frozenset(yarn.code for yarn in mixed) if len({_kind(yarn) for yarn in mixed}) > 1 else frozenset()


def _kind(yarn: YarnChoice) -> tuple[Fraction, Fraction, Fraction | None]:
    return yarn.tex, sett.yarn_constant(yarn.fibre), yarn.wraps


def sett_advice(brief: WarpBrief, pattern: tuple[ColourRun, ...]) -> tuple[Mapping[str, Fraction], tuple[Sum, ...]]:
    """Give the greatest sett by each yarn's thickness, the lines once for yarns of one thickness."""
    woven, counted, mixed = weave_of(brief), colours.counts(pattern), mixture_of(brief, pattern)
    kinds: dict[tuple[tuple[Fraction, Fraction, Fraction | None], bool], list[YarnChoice]] = {}
    for yarn in (yarn for yarn in brief.yarns if yarn.code in counted):
        kinds.setdefault((_kind(yarn), yarn.code in mixed), []).append(yarn)
    greatest: dict[str, Fraction] = {}
    sums: list[Sum] = []
    share = brief.tolerances.sett_share
    for ((tex, constant, wraps), in_mixture), alike in kinds.items():
        side_by_side, about = sett.diameters(tex, constant), names_of_yarns(alike) if len(kinds) > 1 else ""
        sums.append(_diameter_sum(alike[0], constant, side_by_side, about))
        if not in_mixture:
            greatest |= dict.fromkeys((yarn.code for yarn in alike), _greatest(side_by_side, woven))
            sums += _sett_sums(side_by_side, wraps, woven, share, about)
    if mixed:
        parts = [(alike, sum(counted[yarn.code] for yarn in alike)) for (_, among), alike in kinds.items() if among]
        of_mixture, mixture_sums = _of_mixture(parts, woven, share)
        greatest |= dict.fromkeys(mixed, of_mixture)
        sums += mixture_sums
    return greatest, tuple(sums)


def _greatest(side_by_side: Fraction, woven: sett.Weave) -> Fraction:
    return sett.greatest_sett(side_by_side, woven.ends, woven.intersections)


def _of_mixture(
    parts: Sequence[tuple[list[YarnChoice], int]], woven: sett.Weave, share: Fraction
) -> tuple[Fraction, tuple[Sum, ...]]:
    """Wrap the yarns in the proportion of their ends: side by side by the rule of diameters, and as each was wrapped.

    The two are never mixed, since wraps lie far looser; a mixture has wraps only where each of its yarns has.
    """
    thick = [(ends, sett.diameters(alike[0].tex, sett.yarn_constant(alike[0].fibre))) for alike, ends in parts]
    wrapped = [(ends, alike[0].wraps) for alike, ends in parts if alike[0].wraps is not None]
    name = mixture_name([yarn for alike, _ in parts for yarn in alike])
    side_by_side = firmness.wraps_of_mixture(thick)
    wraps = firmness.wraps_of_mixture(wrapped) if len(wrapped) == len(parts) else None
    sums = [
        *_mixture_sums(SIDE_BY_SIDE, thick, side_by_side, name),
        *([] if wraps is None else _mixture_sums(WRAPPED, wrapped, wraps, name)),
        *_sett_sums(side_by_side, wraps, woven, share, name),
    ]
    return _greatest(side_by_side, woven), tuple(sums)


def _mixture_sums(
    keys: tuple[str, str], parts: Sequence[tuple[int, Fraction]], result: Fraction, name: str
) -> Iterator[Sum]:
    ends = sum(number for number, _ in parts)
    width = of(ends / result, "length")
    yield added(
        keys[0], width, [{"number": of(number, "ends"), "across": of(each, "wraps")} for number, each in parts], name
    )
    yield line(keys[1], of(result, "wraps"), {"ends": of(ends, "ends"), "width": width}, name)


def usual_of_mixture(parts: Sequence[tuple[int, Setts | None]]) -> Setts | None:
    """Mix printed setts as the yarns are mixed.

    Widths add, as for wraps.
    """
    bands = [(ends, band) for ends, band in parts if band is not None]
    if len(bands) < len(parts):
        return None
    low, high = (firmness.wraps_of_mixture([(ends, band[at]) for ends, band in bands]) for at in (0, 1))
    return low, high


def mixture_name(yarns: Sequence[YarnChoice]) -> str:
    """Name the yarns of a mixture."""
    codes = [yarn.code for yarn in yarns]
    return f"{', '.join(codes[:-1])} and {codes[-1]} mixed"


def names_of_yarns(yarns: Sequence[YarnChoice]) -> str:
    """Name yarns that are alike but for their colour."""
    if len(yarns) == 1:
        yarn = yarns[0]
        return " ".join(word for word in (yarn.code, yarn.name, yarn.colour_name) if word)
    codes, names = ", ".join(yarn.code for yarn in yarns), dict.fromkeys(yarn.name for yarn in yarns if yarn.name)
    return " ".join(word for word in (codes, ", ".join(names)) if word)


def _sett_sums(
    side_by_side: Fraction, wraps: Fraction | None, woven: sett.Weave, share: Fraction, about: str
) -> Iterator[Sum]:
    """Show the greatest sett, and beside it what wraps, when measured, propose.

    Wraps round a ruler lie far looser than yarns side by side in the rule of diameters: half the wraps of 8/2 cotton
    is 14 to the inch where charts print 20. So wraps propose a sett and never say which is too close.
    """
    crossing = {"ends": of(woven.ends, "count"), "intersections": of(woven.intersections, "count")}
    greatest = _greatest(side_by_side, woven)
    yield line("greatest_sett", of(greatest, "sett"), {"diameters": of(side_by_side, "wraps"), **crossing}, about)
    put_in = {"greatest": of(greatest, "sett"), "share": of(share, "share")}
    yield line("working_sett", of(sett.working_sett(greatest, share), "sett"), put_in, about)
    if wraps is not None:
        by_wraps = sett.sett_from_wraps(wraps, woven.ends, woven.intersections)
        yield line("sett_from_wraps", of(by_wraps, "sett"), {"wraps": of(wraps, "wraps"), **crossing}, about)


def _diameter_sum(yarn: YarnChoice, constant: Fraction, result: Fraction, about: str) -> Sum:
    put_in = {
        "constant": of(constant / sett.CM_IN_INCH, "sett"),  # K is printed for the inch; a metric reader needs its own
        "tex_yards": of(sett.TEX_YARDS_PER_POUND, "ratio"),
        "count": of(yarn.tex, "tex"),
    }
    return line("diameters", of(result, "wraps"), put_in, about)
