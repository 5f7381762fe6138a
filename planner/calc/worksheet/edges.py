"""The worksheet's page of edges: what can be done about partial ones, of even warps and of crammed and spaced ones."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from planner.calc.beam import edges, sections
from planner.calc.beam import turns as beam
from planner.calc.cloth import colours, crammed
from planner.calc.terms.brief import Centre, Layout, Method, WarpBrief
from planner.calc.terms.plan import Beaming, Cloth, ColourRun, EdgeChoice, EdgeKind, Place
from planner.calc.worksheet.ends import stripes_of
from planner.calc.worksheet.sections import places_of

HALF, LEVEL = Fraction(1, 2), (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class _Edges:
    """The edge sections of a warp as it lies."""

    sections: int
    ends: tuple[int, int]
    full: tuple[Fraction, Fraction]
    partial: tuple[bool, bool]
    spread_depth: Fraction

    @property
    def dummies(self) -> int:
        """Ends that fill them, never threaded."""
        gaps = zip(self.full, self.ends, self.partial, strict=True)
        return sum(floor(full - ends + HALF) for full, ends, partial in gaps if partial)


def lying_of(brief: WarpBrief, cloth: Cloth) -> edges.Lying:
    """Give how a warp lies on its sectional beam."""
    facts = brief.loom.beam
    pitch, centre = facts.pitch or facts.usable_width, facts.centre is Centre.SECTION
    return edges.Lying(colours.total(cloth.main), cloth.main_width, pitch, centre, brief.shift)


def edge_choices_of(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> tuple[EdgeChoice, ...]:
    """Work out side by side what can be done about partial edges.

    An even warp is left to `edges`. Where stripes have setts of their own, no share of a mean tells the truth: the ends
    that fill sections are looked for with `crammed`, only where they fill them to a hair, and the edges are counted and
    reckoned from the stripes that lie there.
    """
    lying = lying_of(brief, cloth)
    if stripes_of(brief, cloth.sett_of) is None:
        return edges.edge_choices(lying, _build_up(brief, beaming, Fraction(0)))
    lies = _edges(brief, cloth, beaming.places)
    moved = _moved(brief, cloth, lying, beaming) if all(lies.partial) else ()
    return (*_filling(brief, cloth, lying), *moved, *_lies(brief, cloth, lies, beaming))


def _build_up(brief: WarpBrief, beaming: Beaming, depth: Fraction) -> tuple[float, float]:
    """Give how much longer a full section comes out than one so deep; nothing with chains, whose length is set."""
    if brief.method is Method.CHAIN:
        return LEVEL
    return beam.mismatch(beaming.turned, max(beaming.ordinary, depth), depth, brief.loom.beam.circumference)


def _filling(brief: WarpBrief, cloth: Cloth, lying: edges.Lying) -> Iterator[EdgeChoice]:
    sections_filled = lying.width / lying.pitch
    stripes = stripes_of(brief, cloth.sett_of)
    if sections_filled.denominator == 1 or stripes is None:
        return
    if brief.colour_layout is not Layout.AS_TYPED:
        for ends, count in crammed.counts_that_fill(stripes, lying.pitch, lying.ends, brief.fit.multiple):
            runs = colours.fill(brief.colour_order, brief.colour_layout, ends)
            kind = EdgeKind.FEWER if ends < lying.ends else EdgeKind.MORE
            yield _filled(kind, lying, count, runs, cloth.sett_of)
    count = max(1, ceil(sections_filled - HALF))
    closer = lying.width / (count * lying.pitch)
    setts = {code: sett * closer for code, sett in cloth.sett_of.items()}
    yield _filled(EdgeKind.SETT, lying, count, cloth.main, setts)


def _filled(
    kind: EdgeKind, lying: edges.Lying, count: int, runs: tuple[ColourRun, ...], setts: Mapping[str, Fraction]
) -> EdgeChoice:
    inner = sorted({at for at in (0, 1, count - 1, count) if at >= 0})  # the outer dividers of both edges
    shares = sections.share_runs([lying.pitch * at for at in inner], runs, [setts[run.code] for run in runs])
    edge_ends = (shares[0], shares[-1])
    return EdgeChoice(
        kind=kind,
        ends=colours.total(runs),
        dummy_ends=0,
        sections=count,
        edge_ends=edge_ends,
        edge_full=(Fraction(shares[0]), Fraction(shares[-1])),
        width=count * lying.pitch,
        setts=tuple(dict.fromkeys(setts[code] for code in colours.counts(runs))),
        shift=edges.shift_that_fills(count, lying.pitch, section_at_centre=lying.section_at_centre),
        shorter=0.0,
        share=0.0,
    )


def _moved(brief: WarpBrief, cloth: Cloth, lying: edges.Lying, beaming: Beaming) -> Iterator[EdgeChoice]:
    shift = edges.least_shift(lying)
    if shift is None:
        return
    moved = replace(brief, shift=shift)
    lies = _edges(moved, cloth, places_of(moved, cloth)[0])
    partial = any(lies.partial)
    yield _choice(
        EdgeKind.SHIFT, moved, cloth, lies, _build_up(brief, beaming, lies.spread_depth) if partial else LEVEL
    )


def _lies(brief: WarpBrief, cloth: Cloth, lies: _Edges, beaming: Beaming) -> Iterator[EdgeChoice]:
    yield replace(_choice(EdgeKind.DUMMY, brief, cloth, lies, LEVEL), dummy_ends=lies.dummies)
    yield _choice(EdgeKind.PACKED, brief, cloth, lies, LEVEL)
    yield _choice(EdgeKind.SPREAD, brief, cloth, lies, _build_up(brief, beaming, lies.spread_depth))


def _choice(kind: EdgeKind, brief: WarpBrief, cloth: Cloth, lies: _Edges, build_up: tuple[float, float]) -> EdgeChoice:
    return EdgeChoice(
        kind=kind,
        ends=colours.total(cloth.main),
        dummy_ends=0,
        sections=lies.sections,
        edge_ends=lies.ends,
        edge_full=lies.full,
        width=cloth.main_width,
        setts=cloth.setts,
        shift=brief.shift,
        shorter=build_up[0],
        share=build_up[1],
        partial=lies.partial,
    )


def _edges(brief: WarpBrief, cloth: Cloth, places: tuple[Place, ...]) -> _Edges:
    """Count what lies at the edges, and what would fill them at the setts of the outermost stripes."""
    lying, setts = lying_of(brief, cloth), [cloth.sett_of[run.code] for run in cloth.main]
    bounds = sections.boundaries(lying.width, lying.pitch, section_at_centre=lying.section_at_centre, shift=lying.shift)
    shares = sections.share_runs(bounds, cloth.main, setts)
    lots = [one for one in zip(shares, sections.filled_shares(bounds, lying.pitch), strict=True) if one[0]]
    (left, left_part), (right, right_part) = lots[0], lots[-1]
    partial = (places[0].filled < 1, places[-1].filled < 1 and len(places) > 1)
    both = zip((places[0], places[-1]), partial, strict=True)
    return _Edges(
        sections=len(lots),
        ends=(left, right),
        full=(
            left + (1 - left_part) * lying.pitch * setts[0],
            right + (1 - right_part) * lying.pitch * setts[-1],
        ),
        partial=partial,
        spread_depth=min((place.spread_depth for place, open_ in both if open_), default=Fraction(0)),
    )
