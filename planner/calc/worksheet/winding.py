"""The worksheet's pages for the winding bench: set-ups and spools, chains, raddle and ties; leader and comb."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import accumulate

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import leader, sections, two_beams
from planner.calc.beam import turns as beam
from planner.calc.cloth import colours
from planner.calc.terms import positions
from planner.calc.terms.brief import Method, WarpBrief
from planner.calc.terms.plan import (
    Beaming,
    Chain,
    ChokeTie,
    Cloth,
    ColourRun,
    KnotPlace,
    Section,
    SpoolGroup,
    Sum,
    Winding,
)
from planner.calc.winding import board, chains, fewer_spools, mixed_winding, spools
from planner.calc.worksheet.sections import density_of
from planner.calc.worksheet.setups import fewer_spools_of, rack_of
from planner.calc.worksheet.sums import added, line, of
from planner.calc.worksheet.winding_sums import chain_sums, spool_sums

Groups = tuple[tuple[int, int], ...]

CROSSES = 2
"""Crosses of a chain: one to thread by, one for the raddle."""


def winding_of(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> Winding:
    """Work out set-ups and spools for the box, chains with groups and ties, or both.

    One set-up serves every section with the same runs; one chain serves one section. Sections named to be chains are
    left out of set-ups and spools, as if they were not there.
    """
    knot, knot_sums = _knot(brief)
    bundle, angle, comb_sums = _comb(brief, beaming.sections)
    if brief.method is Method.BOX:
        winding = _by_box(brief, cloth, beaming, knot, (bundle, angle), (*comb_sums, *knot_sums))
        apart = tuple(section for section in winding.sections if not section.setup)
        return _with_chains(brief, cloth, beaming, winding, apart) if apart else winding
    lengths = dict.fromkeys((section.position for section in beaming.sections), beaming.warp_length)
    wound = (
        _chains_of_sections(brief, cloth, beaming, lengths)
        if beaming.sections
        else _chains_of_plain_beam(brief, cloth, beaming)
    )
    raddle = _joined(pair for chain in wound for pair in chain.groups)
    if cloth.parted or not beaming.sections:
        raddle = chains.as_groups(_spaces(cloth.pattern, cloth, brief.bench.raddle_space))
    depth = beaming.ordinary if beaming.sections else _depth_on_plain_beam(brief, cloth)
    ties = tuple(_ties(brief, beaming.warp_length, depth))
    sums = (*chain_sums(brief, cloth.ends_here, wound), *comb_sums, *knot_sums)
    return Winding(
        sections=beaming.sections,
        chains=wound,
        ties=ties,
        raddle=raddle,
        tie_marks=board.tie_marks(CROSSES, len(ties)),
        bundle=bundle,
        comb_angle=angle,
        knot=knot,
        sums=sums,
    )


def _by_box(
    brief: WarpBrief,
    cloth: Cloth,
    beaming: Beaming,
    knot: KnotPlace | None,
    comb: tuple[Fraction | None, float | None],
    sums: tuple[Sum, ...],
) -> Winding:
    apart = frozenset(brief.chain_sections)
    boxed = tuple(section for section in beaming.sections if section.position not in apart)
    layouts, loss = spools.group_setups([(part.position, part.runs) for part in boxed]), brief.allowances
    rack = rack_of(layouts, loss.box_lead, brief.bench.rack_spools)
    numbers = {place: setup.number for setup in rack.setups for place in setup.positions}
    numbered = tuple(replace(section, setup=numbers.get(section.position, 0)) for section in beaming.sections)
    step = brief.bench.spool_step
    bare = tuple(_spool_groups(brief, boxed, beaming.nominal))
    groups = spools.with_lead_lost(bare, rack.setups, loss.box_lead, loss.spool_reserve, step)
    lead_mass, lead_sums = _lead(brief, rack.threaded_anew, groups)
    return Winding(
        sections=numbered,
        setups=rack.setups,
        spools=groups,
        lead_lost=rack.lead_lost,
        comb_angle=comb[1],
        bundle=comb[0],
        knot=knot,
        sums=(*spool_sums(brief, beaming.nominal, groups), *rack.sums, *lead_sums, *sums),
        fewest_moved=rack.fewest,
        fewer_spools=fewer_spools_of(brief, cloth, beaming.sections, groups, rack.lead_lost),
        short_spools=fewer_spools.short_spools(groups),
        lead_lost_mass=lead_mass,
    )


def _with_chains(
    brief: WarpBrief, cloth: Cloth, beaming: Beaming, winding: Winding, apart: tuple[Section, ...]
) -> Winding:
    """Add the sections that are chains; the turns are the box's, so each chain is as long as its section takes on."""
    step = brief.bench.board_step
    lengths = {section.position: mixed_winding.chain_length(section.real_length, step) for section in apart}
    wound = _chains_of_sections(brief, cloth, beaming, lengths)
    depths = {place.position: place.depth for place in beaming.places}
    deepest = max(depths[section.position] for section in apart)
    ties = tuple(_ties(brief, max(lengths.values()), deepest, beaming.turns))
    return replace(
        winding,
        chains=wound,
        ties=ties,
        tie_marks=board.tie_marks(CROSSES, len(ties)),
        sums=(*winding.sums, *_length_sums(brief, beaming, lengths), *chain_sums(brief, cloth.ends_here, wound)),
    )


def _length_sums(brief: WarpBrief, beaming: Beaming, lengths: Mapping[int, Fraction]) -> Iterator[Sum]:
    """Show the length of each chain, those for sections of one depth on one line."""
    alike: dict[Fraction, list[int]] = {}
    for place in beaming.places:
        if place.position in lengths:
            alike.setdefault(place.depth, []).append(place.position)
    for depth, places in alike.items():
        put_in = {
            "turns": of(beaming.turns or 0, "turns"),
            "circumference": of(brief.loom.beam.circumference, "length"),
            "depth": of(depth, "depth"),
            "step": of(brief.bench.board_step, "distance"),
        }
        about = f"section{'s' if len(places) > 1 else ''} {positions.spans(places)}"
        yield line("chain_length", of(lengths[places[0]], "distance"), put_in, about)


def _spool_groups(brief: WarpBrief, boxed: tuple[Section, ...], warp_length: Fraction) -> Iterator[SpoolGroup]:
    loss = brief.allowances
    waste = float(loss.section_waste)
    uses: dict[str, list[tuple[int, float]]] = {}
    for section in boxed:
        for code, ends in colours.counts(section.runs).items():
            uses.setdefault(code, []).append((ends, section.real_length + waste))
    nominal = warp_length + loss.section_waste
    for yarn in brief.yarns:
        yield from spools.spool_groups(
            yarn.code, uses.get(yarn.code, ()), nominal, loss.spool_reserve, brief.bench.spool_step
        )


def _lead(brief: WarpBrief, anew: int, groups: tuple[SpoolGroup, ...]) -> tuple[Fraction, tuple[Sum, ...]]:
    """Give the mass of the yarn lost at re-threads, and how its length and mass came about."""
    texes = {yarn.code: yarn.tex for yarn in brief.yarns}
    mass = spools.mass_of_lead(groups, texes)
    if not anew:
        return mass, ()
    lost = spools.box_lead_lost(anew, brief.allowances.box_lead)
    put_in = {"ends": of(anew, "ends"), "lead": of(brief.allowances.box_lead, "distance")}
    lost_line = line("box_lead_lost", of(lost, "distance"), put_in)
    by_yarn: defaultdict[str, Fraction] = defaultdict(Fraction)
    for group in groups:
        by_yarn[group.code] += group.spools * group.lead_lost
    parts = [
        {"number": of(texes[code], "tex"), "length": of(length, "distance")}
        for code, length in by_yarn.items()
        if length
    ]
    return mass, (lost_line, *([added("box_lead_mass", of(mass, "mass"), parts)] if parts else ()))


def _spaces(runs: tuple[ColourRun, ...], cloth: Cloth, space: Fraction) -> tuple[int, ...]:
    """Count the ends of this beam in each raddle space; those of another beam take their room."""
    shared = _shared(runs, cloth.sett_of, space)
    return two_beams.counts_here(runs, shared, cloth.elsewhere) if cloth.parted else shared


def _shared(runs: tuple[ColourRun, ...], setts: Mapping[str, Fraction], space: Fraction) -> tuple[int, ...]:
    width = sum((run.ends / setts[run.code] for run in runs), Fraction(0))
    bounds = chains.even_spaces(width, space)
    if len({setts[run.code] for run in runs}) == 1:
        return sections.share_ends(bounds, setts[runs[0].code], colours.total(runs))
    return sections.share_runs(bounds, runs, [setts[run.code] for run in runs])


def _chains_of_sections(
    brief: WarpBrief, cloth: Cloth, beaming: Beaming, lengths: Mapping[int, Fraction]
) -> tuple[Chain, ...]:
    @cache
    def groups(runs: tuple[ColourRun, ...]) -> Groups:
        return chains.as_groups(_spaces(runs, cloth, brief.bench.raddle_space))

    apart = [place for place in beaming.places if place.position in lengths]
    return tuple(
        _chain(brief, lengths[one.position], (number, one.position), one.runs, groups(one.across or one.runs))
        for number, one in enumerate(apart, 1)
    )


def _chains_of_plain_beam(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> tuple[Chain, ...]:
    bench = brief.bench
    sizes = chains.chain_sizes(cloth.ends_here, bench.ends_at_once, bench.chain_ends_max)
    spaces = _spaces(cloth.pattern, cloth, bench.raddle_space)
    groups = chains.groups_of_chains(spaces, sizes)
    cuts = colours.cut_many(cloth.here, tuple(accumulate(sizes, initial=0)))
    return tuple(
        _chain(brief, beaming.warp_length, (number, None), runs, own)
        for number, (runs, own) in enumerate(zip(cuts, groups, strict=True), 1)
    )


def _chain(
    brief: WarpBrief, length: Fraction, place: tuple[int, int | None], runs: tuple[ColourRun, ...], groups: Groups
) -> Chain:
    counted = colours.counts(runs)
    ends = sum(counted.values())
    passes, odd = chains.passes_of(ends, brief.bench.ends_at_once)
    mass = board.chain_mass([(counted[yarn.code], yarn.tex) for yarn in brief.yarns if yarn.code in counted], length)
    return Chain(*place, ends, passes, odd, groups, runs, mass, length)


def _joined(pairs: Iterable[tuple[int, int]]) -> Groups:
    joined: list[tuple[int, int]] = []
    for count, ends in pairs:
        if joined and joined[-1][1] == ends:
            joined[-1] = (joined[-1][0] + count, ends)
        else:
            joined.append((count, ends))
    return tuple(joined)


def _depth_on_plain_beam(brief: WarpBrief, cloth: Cloth) -> Fraction:
    """Give the depth of one turn as measured, or of the yarn alone: what is packed in between is not counted."""
    if brief.loom.beam.depth_per_turn is not None:
        return brief.loom.beam.depth_per_turn
    areas = {yarn.code: beam_depth.wound_area(yarn.tex, density_of(yarn)) for yarn in brief.yarns}
    parts = [(ends, areas[code]) for code, ends in colours.counts(cloth.here).items()]
    return beam_depth.depth_of_mixture(parts, cloth.width_in_reed)


def _ties(brief: WarpBrief, length: Fraction, depth: Fraction, turns: int | None = None) -> Iterator[ChokeTie]:
    """Place the choke ties; where the turns are the box's, what is left of a chain never reaches the beam."""
    for number, distance in enumerate(chains.tie_distances(length, brief.bench.tie_every), 1):
        turn = beam.turns_of_length(distance, brief.loom.beam.circumference, depth)
        reached = turns is None or turn <= turns
        yield ChokeTie(number, distance, turn if reached else None)


def _comb(brief: WarpBrief, placed: tuple[Section, ...]) -> tuple[Fraction | None, float | None, tuple[Sum, ...]]:
    dents, pitch = brief.bench.comb_dents, brief.loom.beam.pitch
    if dents is None or pitch is None or not placed:
        return None, None, ()
    free, fullest = pitch - brief.loom.beam.divider, max(section.ends for section in placed)
    in_a_dent = leader.ends_per_comb_dent(fullest, dents, free, brief.bench.comb_ends_per_dent)
    bundle = fullest / (dents * in_a_dent)
    angle = leader.comb_angle(bundle, free)
    put_in = {"section": of(free, "length"), "bundle": of(max(bundle, free), "length")}
    packed = {"ends": of(fullest, "ends"), "dents": of(dents, "dents"), "in_a_dent": of(in_a_dent, "ends")}
    bundle_line = line("comb_bundle", of(bundle, "length"), packed)
    return bundle, angle, (bundle_line, line("comb_angle", of(angle, "angle"), put_in))


def _knot(brief: WarpBrief) -> tuple[KnotPlace | None, tuple[Sum, ...]]:
    facts = brief.loom.beam
    if facts.leader is None or facts.bars < 2:  # noqa: PLR2004 - a solid roller has no gap
        return None, ()
    knot = leader.knot_place(facts.leader, facts.circumference, facts.bars, facts.leader_offset, facts.leader_knot)
    named = ("offset", "leader", "knot", "circumference")
    lengths = (facts.leader_offset, facts.leader, facts.leader_knot, facts.circumference)
    put_in = {name: of(length, "length") for name, length in zip(named, lengths, strict=True)}
    put_in["bars"] = of(facts.bars, "count")
    return knot, (line("knot", of(knot.past_bar, "length"), put_in),)
