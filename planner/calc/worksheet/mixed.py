"""The worksheet's page of box and chains in one warp: which sections are which, and what to say of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.calc.terms import positions
from planner.calc.terms.brief import BeamKind, Method, WarpBrief
from planner.calc.terms.plan import Beaming, Cloth, Remark, Winding
from planner.calc.winding import mixed_winding
from planner.calc.worksheet.sections import places_of


def as_wound(brief: WarpBrief, cloth: Cloth) -> WarpBrief:
    """Settle which sections are chains beside the box."""
    if not brief.chain_sections:
        return brief
    if brief.method is Method.CHAIN or brief.loom.beam.kind is BeamKind.PLAIN:
        return replace(brief, chain_sections=())
    used = {place.position for place in places_of(brief, cloth)[0]}
    return replace(brief, method=Method.CHAIN) if used <= set(brief.chain_sections) else brief


def mixed_advice(brief: WarpBrief, beaming: Beaming, winding: Winding) -> Iterator[Remark]:
    """Say what is worth knowing about sections that were named to be chains."""
    chained = [section.position for section in winding.sections if not section.setup]
    boxed = [section.position for section in winding.sections if section.setup]
    if boxed and chained:
        measured = brief.loom.beam.depth_per_turn is not None
        places = positions.spans(chained), positions.spans(boxed)
        yield from mixed_winding.mixed_remarks(*places, beaming.turns or 0, measured=measured)
    if brief.chain_sections:
        empty = sorted({*brief.chain_sections} - {*chained})
        yield from mixed_winding.named_remarks(positions.spans(empty), all_chains=not boxed)
