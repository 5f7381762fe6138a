"""Where across the cloth the sections or chains of one beam lie, the ends of another beam between them."""

from __future__ import annotations

from planner.calc.beam.two_beams import places_across
from planner.calc.cloth.colours import cut
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import ColourRun, WarpPlan

Runs = tuple[ColourRun, ...]


def cloth_places(brief: WarpBrief, plan: WarpPlan) -> tuple[tuple[int, int], ...]:
    """Give the ends of the cloth before and up to the end of each section, of each chain, or of the whole warp."""
    lots = (
        [section.ends for section in plan.winding.sections]
        or [chain.ends for chain in plan.winding.chains]
        or [plan.cloth.ends_here]
    )
    elsewhere = {yarn.code for yarn in brief.yarns if yarn.elsewhere} if plan.cloth.ends_elsewhere else set()
    return places_across(plan.cloth.pattern, lots, elsewhere)


def cloth_runs(brief: WarpBrief, plan: WarpPlan) -> tuple[Runs, ...]:
    """Give the colours across each of these, with those of another beam in their places between them."""
    lots = plan.winding.sections or plan.winding.chains
    if lots and not plan.cloth.ends_elsewhere:
        return tuple(lot.runs for lot in lots)
    return tuple(cut(plan.cloth.pattern, start, stop) for start, stop in cloth_places(brief, plan))
