"""The sums that the worksheet's pages of winding show: spools and chains."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.cloth import colours
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Chain, ColourRun, SpoolGroup, Sum
from planner.calc.worksheet.sums import added, line, of


def spool_sums(brief: WarpBrief, warp_length: Fraction, groups: tuple[SpoolGroup, ...]) -> Iterator[Sum]:
    """Show how much goes on each spool."""
    loss = brief.allowances
    by_code = colours.counts(tuple(ColourRun(group.code, group.spools) for group in groups))
    each = [{"spools": of(spools, "count")} for spools in by_code.values()]
    yield added("spools", of(sum(by_code.values()), "count"), each)
    waste = of(loss.section_waste, "length")
    for group in groups:
        about = f"{group.code} {group.first}" if group.spools == 1 else f"{group.code} {group.first}–{group.last}"
        served = of(group.sections, "count")
        put_in = {"sections": served, "length": of(warp_length, "distance"), "waste": waste}
        yield line("spool_nominal", of(group.nominal_length, "distance"), put_in, about)
        mean = group.real_length / group.sections - float(loss.section_waste)
        put_in = {"sections": served, "length": of(mean, "distance"), "waste": waste}
        yield line("spool_real", of(group.real_length, "distance"), put_in, about)
        if group.lead_lost:
            put_in = {"times": of(group.lead_lost / loss.box_lead, "count"), "lead": of(loss.box_lead, "distance")}
            yield line("spool_lead", of(group.lead_lost, "distance"), put_in, about)
        put_in = {
            "length": of(group.real_length, "distance"),
            "reserve": of(loss.spool_reserve, "share"),
            "lead": of(group.lead_lost, "distance"),
            "step": of(brief.bench.spool_step, "distance"),
        }
        yield line("spool_to_wind", of(group.to_wind, "distance"), put_in, about)


def chain_sums(brief: WarpBrief, ends: int, chains: tuple[Chain, ...]) -> Iterator[Sum]:
    """Show how the chains were counted, and what the fullest one weighs."""
    at_once = of(brief.bench.ends_at_once, "ends")
    if chains[0].position is None:
        put_in = {"ends": of(ends, "ends"), "most": of(brief.bench.chain_ends_max, "ends")}
        yield line("chains", of(len(chains), "count"), put_in)
    fullest = max(chains, key=lambda chain: chain.ends)
    passes = fullest.passes + bool(fullest.odd_ends)
    yield line("passes", of(passes, "count"), {"ends": of(fullest.ends, "ends"), "at_once": at_once})
    counted, length = colours.counts(fullest.runs), of(fullest.length, "distance")
    parts = [
        {"ends": of(counted[yarn.code], "ends"), "count": of(yarn.tex, "tex"), "length": length}
        for yarn in brief.yarns
        if yarn.code in counted
    ]
    yield added("chain_mass", of(fullest.mass, "mass"), parts)
