"""The sums that the worksheet's pages of winding show: spools and chains."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.cloth import colours
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Chain, ColourRun, SpoolGroup, Sum
from planner.calc.worksheet.sums import added, line, of


def spool_sums(brief: WarpBrief, warp_length: Fraction, groups: tuple[SpoolGroup, ...]) -> Iterator[Sum]:
    """Show how much goes on each spool.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]
    warp_length : Fraction
        Length of the warp by the empty beam. [cm]
    groups : tuple[SpoolGroup, ...]
        Spools that hold alike. [-]

    Yields
    ------
    line : Sum
        The spools in all, then for each group its lengths. [-]

    Notes
    -----
    Writes down what `spools` worked out; no arithmetic of its own but the mean of the sections a spool serves.

    Examples
    --------
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, YarnChoice
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "8/2 cotton", Fraction(148)),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=400, turns=5)
    >>> group = SpoolGroup("A", 1, 40, 12, Fraction(12600), 12700.0, Fraction(13000))
    >>> [line.key for line in spool_sums(brief, Fraction(1000), (group,))]
    ['spools', 'spool_nominal', 'spool_real', 'spool_to_wind']
    """
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


def chain_sums(brief: WarpBrief, ends: int, found: tuple[Chain, ...]) -> Iterator[Sum]:
    """Show how the chains were counted, and what the fullest one weighs.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]
    ends : int
        Ends of the warp. [ends]
    found : tuple[Chain, ...]
        Its chains, at least one. [-]

    Yields
    ------
    line : Sum
        Number of chains where no section sets it, passes, and mass. [-]

    Notes
    -----
    Writes down what `chains` and `board` worked out; no arithmetic of its own.

    Examples
    --------
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, YarnChoice
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "8/2 cotton", Fraction(148)),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=94, turns=5)
    >>> chain = Chain(1, None, 94, 47, 0, (), (ColourRun("A", 94),), Fraction(28), Fraction(200))
    >>> [line.key for line in chain_sums(brief, 94, (chain,))]
    ['chains', 'passes', 'chain_mass']
    """
    at_once = of(brief.bench.ends_at_once, "ends")
    if found[0].position is None:
        put_in = {"ends": of(ends, "ends"), "most": of(brief.bench.chain_ends_max, "ends")}
        yield line("chains", of(len(found), "count"), put_in)
    fullest = max(found, key=lambda chain: chain.ends)
    passes = fullest.passes + bool(fullest.odd_ends)
    yield line("passes", of(passes, "count"), {"ends": of(fullest.ends, "ends"), "at_once": at_once})
    counted, length = colours.counts(fullest.runs), of(fullest.length, "distance")
    parts = [
        {"ends": of(counted[yarn.code], "ends"), "count": of(yarn.tex, "tex"), "length": length}
        for yarn in brief.yarns
        if yarn.code in counted
    ]
    yield added("chain_mass", of(fullest.mass, "mass"), parts)
