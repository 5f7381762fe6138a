"""The worksheet's page of threading: section by section the heddles and the dents, and heddles that stay empty."""

from __future__ import annotations

from collections.abc import Iterator

from planner.calc.cloth import sett, weave
from planner.calc.fit import loom as loom_fit
from planner.calc.reed import sley_guide, threading, threading_guide
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import (
    Cloth,
    Remark,
    SectionSley,
    Sleying,
    Threading,
    Winding,
)
from planner.calc.winding import chains
from planner.calc.worksheet.sections import ends_across
from planner.calc.worksheet.sett import weave_of


def threading_of(brief: WarpBrief, cloth: Cloth, winding: Winding, sleying: Sleying) -> Threading:
    """Work out the threading and the sleying, section by section.

    Extra selvedge ends are threaded and sleyed as the rest; floating selvedges pass through no heddle, so they are not
    among the ends. Of a cloth on two beams all ends are told, in parts as wide as a section, or as a chain may be.
    """
    shafts, there = brief.loom.shafts, brief.loom.heddles
    draft = brief.threading or threading.straight(shafts)
    parts = _parts(brief, cloth, winding)
    heddles = threading.heddles_per_shaft(draft, cloth.ends, shafts)
    return Threading(
        heddles=heddles,
        guide=threading_guide.threading_guide(draft, parts, shafts),
        spare=threading_guide.spare_heddles(there, heddles) if there else (),
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
    best = sleying.reeds[0]
    orders = {stripe.code: stripe.sley for stripe in best.stripes}
    if not orders:
        return sley_guide.sley_guide(best.sley, parts, best.start_dent)
    stripes = [(run.ends, orders[run.code]) for run in cloth.pattern]
    return sley_guide.sley_guide_of_stripes(stripes, parts, best.start_dent)


def shaft_advice(brief: WarpBrief) -> Iterator[Remark]:
    """Say when a weave needs more shafts than there are, or a lift plan leaves some idle.

    A lift plan keeps to the shafts there are: a problem says so else.
    """
    if brief.weave == sett.AS_TYPED:
        yield from weave.idle_remarks(brief.threading or threading.straight(brief.loom.shafts), brief.lifts)
    else:
        woven = weave_of(brief)
        yield from loom_fit.shaft_remarks(woven.name, woven.ends, brief.loom.shafts)
