"""The worksheet's margin: everything worth saying about a plan, loudest first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import floor

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import sections, two_beams
from planner.calc.cloth import colours, sett
from planner.calc.fit import cloth as cloth_fit
from planner.calc.fit import loom as loom_fit
from planner.calc.fit import winding as winding_fit
from planner.calc.fit import yarn as yarn_fit
from planner.calc.terms.brief import BeamKind, Layout, Method, WarpBrief, YarnChoice
from planner.calc.terms.plan import Beaming, Cloth, OneMore, Remark, Severity, Sleying, WarpLength, Winding, YarnNeed
from planner.calc.winding import fewer_spools
from planner.calc.worksheet.mixed import mixed_advice
from planner.calc.worksheet.reed import hardest_sett
from planner.calc.worksheet.sections import density_of
from planner.calc.worksheet.sett import mixture_name, mixture_of, names_of_yarns, usual_of_mixture, weave_of
from planner.calc.worksheet.threading import shaft_advice

LOUDNESS: Mapping[Severity, int] = {Severity.STOP: 0, Severity.WARN: 1, Severity.NOTE: 2}

UNKIND_FIBRES = frozenset({"linen", "hemp", "silk", "rayon"})
"""Fibres that do not even out unequal tension; limits of mismatch are halved for them. Common practice, no source."""


def loudest_first(remarks: Iterator[Remark]) -> tuple[Remark, ...]:
    """Put the loudest remarks first, each loudness in the order of the bench."""
    return tuple(sorted(remarks, key=lambda remark: LOUDNESS[remark.severity]))


def cloth_advice(brief: WarpBrief, cloth: Cloth, length: WarpLength, one_more: OneMore | None) -> Iterator[Remark]:
    """Say what is worth knowing about sett, count, colours and length."""
    yield from _sett_advice(brief, cloth)
    finished = (brief.finished_width, cloth.finished_width)
    main = colours.total(cloth.main)
    yield from cloth_fit.count_remarks(cloth.filling, main, cloth.width_in_reed, finished)
    yield from _multiple_advice(brief, cloth)
    planned = brief.fit.balance
    if brief.colour_layout in {Layout.REPEAT, Layout.CENTRED}:
        yield from cloth_fit.order_edge_remarks(cloth.pattern, cloth.repeats, cloth.balance, planned)
    elif brief.colour_layout is Layout.AS_TYPED:
        yield from cloth_fit.order_edge_remarks(cloth.pattern, 0, 0, planned)
    if brief.finished_length is not None:
        loss = brief.allowances
        missing = not (length.take_up or loss.length_shrinkage)
        yield from cloth_fit.length_remarks(
            length.margin, loss.waste, brief.loom.waste, brief.loom.name, losses_missing=missing
        )
    yield from cloth_fit.one_more_remarks(one_more)


def _sett_advice(brief: WarpBrief, cloth: Cloth) -> Iterator[Remark]:
    """Hold each yarn against its own sett, a mixture as one; yarns that differ by colour alone are named together."""
    woven, mixed, counted = weave_of(brief), mixture_of(brief, cloth.pattern), colours.counts(cloth.pattern)
    kinds: dict[tuple[Fraction, str, Fraction], list[YarnChoice]] = {}
    for yarn in brief.yarns:
        if yarn.code in cloth.greatest_setts.keys() - mixed:
            kinds.setdefault((yarn.tex, yarn.fibre, cloth.sett_of[yarn.code]), []).append(yarn)
    for (_, _, wanted), alike in kinds.items():
        greatest = cloth.greatest_setts[alike[0].code]
        row, usual = _usual_setts(brief, alike[0])
        yield from cloth_fit.sett_remarks(wanted, greatest, usual, names_of_yarns(alike), woven.name)
        if row is not None:
            yield from yarn_fit.chart_remarks(row.yarn, row.source, row.misprint)
    if mixed:
        alike = [yarn for yarn in brief.yarns if yarn.code in mixed]
        usual = usual_of_mixture([(counted[yarn.code], _usual_setts(brief, yarn)[1]) for yarn in alike])
        greatest = cloth.greatest_setts[alike[0].code]
        yield from cloth_fit.sett_remarks(brief.sett, greatest, usual, mixture_name(alike), woven.name)


def _multiple_advice(brief: WarpBrief, cloth: Cloth) -> Iterator[Remark]:
    fit = brief.fit
    if fit.whole_repeats and brief.ends is None:
        repeat = colours.total(brief.colour_order)
        yield from cloth_fit.multiple_remarks(fit.multiple, repeat, fit.balance, colours.total(cloth.main))


def _name(yarn: YarnChoice) -> str:
    return names_of_yarns([yarn])


def _usual_setts(brief: WarpBrief, yarn: YarnChoice) -> tuple[sett.UsualSett | None, tuple[Fraction, Fraction] | None]:
    """Give the row of the charts that a yarn goes by in this weave, and its setts."""
    if brief.weave not in {"plain", "lace_huck", "twill_2_2"}:
        return None, None
    for row in sett.usual_setts(sett.TEX_YARDS_PER_POUND / yarn.tex, yarn.fibre, f"{yarn.name} {yarn.count}"):
        band = row.twill if brief.weave.startswith("twill") else row.plain
        if band is not None:
            return row, band
    return None, None


def loom_advice(
    brief: WarpBrief, cloth: Cloth, beaming: Beaming, sleying: Sleying, heddles: tuple[int, ...]
) -> Iterator[Remark]:
    """Say what is worth knowing about the loom: width, reed, heddles, sections, rakes."""
    loom, facts = brief.loom, brief.loom.beam
    yield from loom_fit.width_remarks(cloth.width_in_reed, loom.weaving_width, loom.name, None)
    if facts.kind is BeamKind.PLAIN:  # asked by itself, since a beam may carry a part of the cloth alone
        carried = _width_here(cloth) if cloth.parted else cloth.width_in_reed
        yield from loom_fit.width_remarks(carried, max(carried, loom.weaving_width), loom.name, facts.usable_width)
    best = sleying.reeds[0] if sleying.reeds else None
    lengths = {reed.name: reed.reed_length for reed in loom.reeds}
    room = lengths[best.reed] if best is not None else next(iter(lengths.values()), None)
    sett_wanted = hardest_sett(brief, cloth, best)
    yield from loom_fit.reed_remarks(best, room, sett_wanted, brief.tolerances.sett_error, loom.name)
    yield from shaft_advice(brief)
    yield from loom_fit.heddle_remarks(heddles, loom.heddles, loom.name)
    if beaming.places:
        yield from _beam_advice(brief, beaming)


def _width_here(cloth: Cloth) -> Fraction:
    """Measure from the first to the last end on this beam."""
    left, right = two_beams.span_of(cloth.pattern, cloth.sett_of, cloth.elsewhere)
    return right - left


def _beam_advice(brief: WarpBrief, beaming: Beaming) -> Iterator[Remark]:
    facts, places = brief.loom.beam, beaming.places
    yield from loom_fit.place_remarks(places[0].position, places[-1].position, facts.sections, brief.shift)
    if beaming.most_turns is not None and facts.rake_height is not None:
        wanted = float(beaming.warp_length)
        room = max(Fraction(0), facts.rake_height - brief.tolerances.rake_clearance)
        in_doubt = loom_fit.rake_doubt_remarks(beaming.turned, beaming.most_turns_range, beaming.depth_range, room)
        yield from in_doubt or loom_fit.rake_remarks(
            float(beaming.turned),
            beaming.turns_with_build_up or 0,
            beaming.most_turns,
            (beaming.longest_warp or 0.0, wanted),
            (max(place.depth for place in places), room),
        )


def winding_advice(brief: WarpBrief, cloth: Cloth, beaming: Beaming, winding: Winding) -> Iterator[Remark]:
    """Say what is worth knowing about turns, spools, chains, comb and leader."""
    if beaming.places:
        yield from _depth_advice(brief, cloth, beaming)
    if brief.method is Method.BOX:
        fullest = max(colours.total(setup.runs) for setup in winding.setups)
        yield from winding_fit.rack_remarks(fullest, brief.bench.rack_spools, len(winding.setups), winding.lead_lost)
        yield from fewer_spools.rack_remarks(winding.fewer_spools, brief.bench.rack_spools)
        if cloth.repeats > 1 and cloth.is_even and not cloth.parted and brief.loom.beam.pitch is not None:
            each = sections.ends_per_section(cloth.sett_of[cloth.main[0].code], brief.loom.beam.pitch)
            yield from cloth_fit.order_remarks(brief.colour_order, each, len(winding.setups))
    yield from mixed_advice(brief, beaming, winding)
    if winding.chains:
        odd = next((chain.ends for chain in winding.chains if chain.odd_ends), 0)
        path, at_once = brief.bench.board_path_max, brief.bench.ends_at_once
        lengths = {chain.length for chain in winding.chains}
        yield from winding_fit.chain_remarks(max(lengths), path, odd, at_once, min(lengths))
    pitch = brief.loom.beam.pitch
    free = None if pitch is None else pitch - brief.loom.beam.divider
    yield from winding_fit.comb_remarks(winding.comb_angle, winding.bundle, free, winding.knot)


def _depth_advice(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> Iterator[Remark]:
    limits, used = brief.tolerances, {run.code for run in cloth.here}
    yarns = [yarn for yarn in brief.yarns if yarn.code in used]
    if beaming.turns is not None and beaming.real_length is not None:
        build_up = beaming.turns if beaming.length_range else beaming.turns_with_build_up or 0
        yield from winding_fit.turn_remarks(beaming.turns, build_up, beaming.real_length, beaming.nominal)
        yield from winding_fit.doubt_remarks(beaming.turns_range)
    unkind = any(yarn.fibre in UNKIND_FIBRES for yarn in yarns)
    yield from winding_fit.mismatch_remarks(
        beaming.difference, limits.mismatch_note, limits.mismatch_warn, limits.mismatch_stop, unkind=unkind
    )
    guessed = {(yarn.name or yarn.code, density_of(yarn)): None for yarn in yarns if yarn.wound_density is None}
    sizes = [(beam_depth.wound_area(yarn.tex, density_of(yarn)), _name(yarn)) for yarn in yarns]
    (thick, thick_name), (thin, thin_name) = max(sizes), min(sizes)
    yield from winding_fit.build_remarks(
        tuple(guessed) if brief.loom.beam.depth_per_turn is None else (),
        (thick_name, thick),
        (thin_name, thin),
        brief.fit.selvedge if used >= {cloth.pattern[0].code, cloth.pattern[-1].code} else 0,
    )


def yarn_advice(brief: WarpBrief, winding: Winding, needs: tuple[YarnNeed, ...], sleying: Sleying) -> Iterator[Remark]:
    """Say what is short on the shelf, how stripes are sleyed, and the usual cautions."""
    yarns = {yarn.code: yarn for yarn in brief.yarns}
    for need in needs:
        if need.yarn.elsewhere and not need.weft:
            continue
        fewer = _fewer_ends(brief, winding, need)
        yield from yarn_fit.yarn_remarks(need, _name(need.yarn), fewer, in_yarn_room=need.yarn.yarn_id is not None)
    best = sleying.best
    if best is not None and best.stripes:
        yield from cloth_fit.stripe_sley_remarks(
            [(_name(yarns[stripe.code]), stripe.sley) for stripe in best.stripes], best.reed
        )
    wound = sum((Fraction(need.warp_real) for need in needs), Fraction(0))
    yield from winding_fit.caution_remarks(wound, box=brief.method is Method.BOX)


def _fewer_ends(brief: WarpBrief, winding: Winding, need: YarnNeed) -> tuple[int, int] | None:
    """Count the ends that what is held would serve, for a yarn that stands in one section alone."""
    groups = [group for group in winding.spools if group.code == need.code]
    chained = any(run.code == need.code for chain in winding.chains for run in chain.runs)
    if chained or not need.short or need.weft or [group.sections for group in groups] != [1] or need.on_hand is None:
        return None
    free = float(need.on_hand / need.yarn.tex) * 100_000
    real, lead = float(groups[0].real_length), float(groups[0].lead_lost)
    reserved = real * float(1 + brief.allowances.spool_reserve)
    return floor(free / (reserved + lead)), floor(free / (real + lead))
