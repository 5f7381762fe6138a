"""The worksheet's page of threading: section by section the heddles and the dents, and heddles that stay empty."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.calc.cloth import sett, weave
from planner.calc.fit import loom as loom_fit
from planner.calc.reed import sley_guide, threading, threading_guide
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Remark, SectionSley, SectionThreading, SpareHeddles
from planner.calc.winding import chains
from planner.calc.worksheet.cloth import Cloth
from planner.calc.worksheet.reed import Sleying
from planner.calc.worksheet.sections import ends_across
from planner.calc.worksheet.sett import weave_of
from planner.calc.worksheet.winding import Winding


@dataclass(frozen=True, slots=True)
class Threading:
    """What to do at the heddles and the reed.

    Attributes
    ----------
    heddles : tuple[int, ...]
        Heddles needed on each shaft, front first. [heddles]
    guide : tuple[SectionThreading, ...]
        Threading of each section, or of each chain where there are none. [-]
    spare : tuple[SpareHeddles, ...]
        Heddles of each shaft that stay empty; empty where they were not counted. [-]
    sleys : tuple[SectionSley, ...]
        Dents of each section or chain; empty without a reed. [-]
    """

    heddles: tuple[int, ...]
    guide: tuple[SectionThreading, ...]
    spare: tuple[SpareHeddles, ...]
    sleys: tuple[SectionSley, ...]


def threading_of(brief: WarpBrief, cloth: Cloth, winding: Winding, sleying: Sleying) -> Threading:
    """Work out the threading and the sleying, section by section.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]
    cloth : Cloth
        Ends and colours. [-]
    winding : Winding
        Sections or chains, in the order of the warp. [-]
    sleying : Sleying
        Reeds, best first. [-]

    Returns
    -------
    threading : Threading
        Heddles, threading and dents. [-]

    Notes
    -----
    Hands plain values to `threading_guide` and `sley_guide`. Extra selvedge ends are threaded and sleyed as the rest;
    floating selvedges pass through no heddle, so they are not among the ends. Of a cloth on two beams all ends are
    told, in parts as wide as a section, or as a chain may be.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, Method, YarnChoice
    >>> from planner.calc.worksheet.beam import beaming_of
    >>> from planner.calc.worksheet.cloth import cloth_of, length_of
    >>> from planner.calc.worksheet.reed import sleying_of
    >>> from planner.calc.worksheet.winding import winding_of
    >>> loom = LoomFacts("Loom", Fraction(100), BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100)), Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=282, turns=2, method=Method.CHAIN)
    >>> cloth = cloth_of(brief)
    >>> winding = winding_of(brief, cloth, beaming_of(brief, cloth, length_of(brief)))
    >>> [part.starts_at for part in threading_of(brief, cloth, winding, sleying_of(brief, cloth)).guide]
    [1, 3, 1]
    """
    shafts, held = brief.loom.shafts, brief.loom.heddles
    draft = brief.threading or threading.straight(shafts)
    parts = _parts(brief, cloth, winding)
    heddles = threading.heddles_per_shaft(draft, cloth.ends, shafts)
    return Threading(
        heddles=heddles,
        guide=threading_guide.threading_guide(draft, parts, shafts),
        spare=threading_guide.spare_heddles(held, heddles) if held else (),
        sleys=_sleys(cloth, parts, sleying),
    )


def _parts(brief: WarpBrief, cloth: Cloth, winding: Winding) -> list[int]:
    if not cloth.parted:
        return [part.ends for part in winding.sections or winding.chains]
    if winding.sections:
        return list(ends_across(brief, cloth))
    return list(chains.chain_sizes(cloth.ends, brief.bench.ends_at_once, brief.bench.chain_ends_max))


def _sleys(cloth: Cloth, parts: list[int], sleying: Sleying) -> tuple[SectionSley, ...]:
    if not sleying.reeds:
        return ()
    best, orders = sleying.reeds[0], dict(sleying.stripes)
    if not orders:
        return sley_guide.sley_guide(best.sley, parts, best.start_dent)
    stripes = [(run.ends, orders[run.code]) for run in cloth.pattern]
    return sley_guide.sley_guide_of_stripes(stripes, parts, best.start_dent)


def shaft_advice(brief: WarpBrief) -> Iterator[Remark]:
    """Say when a weave needs more shafts than there are, or a lift plan leaves some idle.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]

    Yields
    ------
    remark : Remark
        One at most. [-]

    Notes
    -----
    Hands plain values to `loom_fit` and `weave`. A lift plan keeps to the shafts there are: a problem says so else.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, YarnChoice
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=400, turns=2, weave="satin_5")
    >>> [remark.code for remark in shaft_advice(brief)]
    ['shafts_short']
    """
    if brief.weave == sett.AS_TYPED:
        yield from weave.idle_remarks(brief.threading or threading.straight(brief.loom.shafts), brief.lifts)
    else:
        known = weave_of(brief)
        yield from loom_fit.shaft_remarks(known.name, known.ends, brief.loom.shafts)
