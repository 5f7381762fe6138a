"""The worksheet's pages of the beam: turns, depth of yarn, and what the rakes hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import turns as beam
from planner.calc.cloth import colours, warp_length
from planner.calc.terms.brief import BeamFacts, BeamKind, Method, WarpBrief, YarnChoice
from planner.calc.terms.plan import (
    Beaming,
    Cloth,
    Number,
    Place,
    Quantity,
    Section,
    Sum,
    TurnsRange,
    WarpLength,
)
from planner.calc.worksheet.doubt import Doubt, doubt_of, doubt_sums
from planner.calc.worksheet.sections import density_of, places_of, section_sums
from planner.calc.worksheet.sums import ESTIMATED, MEASURED, OWN_FIGURE, added, line, of

ZERO = Fraction(0)


def beaming_of(brief: WarpBrief, cloth: Cloth, length: WarpLength) -> Beaming:
    """Lay the warp on its beam: sections, turns, depth and length.

    With the box whole turns set the length; with chains the board does, and the turns only follow.
    """
    if brief.loom.beam.kind is BeamKind.PLAIN:
        return _on_plain_beam(brief, length)
    places, ordinary = places_of(brief, cloth)
    if brief.method is Method.CHAIN:
        return _by_chains(brief, cloth, length, places, ordinary)
    return _by_box(brief, cloth, length, places, ordinary)


def _on_plain_beam(brief: WarpBrief, length: WarpLength) -> Beaming:
    warp, board = _board_length(brief, length)
    nothing = (None, None, None)
    return Beaming((), (), ZERO, *nothing, warp, warp, None, None, None, None, (), (0.0, 0.0), (board,))


def _board_length(brief: WarpBrief, length: WarpLength) -> tuple[Fraction, Sum]:
    step = brief.bench.board_step
    warp = warp_length.rounded_up(length.wanted, step)
    put_in = {"length": of(length.wanted, "distance"), "step": of(step, "distance")}
    return warp, line("warp_by_board", of(warp, "distance"), put_in)


def _by_box(
    brief: WarpBrief, cloth: Cloth, length: WarpLength, places: tuple[Place, ...], ordinary: Fraction
) -> Beaming:
    empty = brief.loom.beam.circumference
    least = _extremes(places)[1]  # the shallowest section comes out shortest, and it too must be long enough
    build_up = beam.whole_turns(length.wanted, empty, least)
    doubt = doubt_of(brief, places, ordinary)
    turns_range = None if doubt is None or brief.turns is not None else doubt.turns(length.wanted)
    turns = _planned_turns(brief, length, build_up, turns_range)
    most, rake = _most_turns(brief, places), brief.loom.beam.rake_height
    most_range = None if doubt is None or rake is None else doubt.most_turns(rake, brief.tolerances.rake_clearance)
    return Beaming(
        places=places,
        sections=_sections(places, turns, lambda depth: beam.length_of_turns(turns, empty, depth)),
        ordinary=ordinary,
        turns=turns,
        turns_exact=beam.turns_of_length(length.wanted, empty, ordinary),
        turns_with_build_up=build_up,
        warp_length=length.wanted if _by_measure(brief, doubt) else turns * empty,
        nominal=turns * empty,
        real_length=beam.length_of_turns(turns, empty, ordinary),
        end_circumference=beam.end_circumference(turns, empty, ordinary),
        most_turns=most,
        longest_warp=None if most is None else beam.length_of_turns(most, empty, least),
        turn_table=beam.turn_table(turns, empty, ordinary),
        difference=_difference(places, turns, empty),
        sums=(
            *_turn_sums(brief, length, least, turns, build_up, doubt),
            *section_sums(brief, cloth, places),
            *_depth_sums(brief, places, ordinary),
            *_wound_sums(brief, places, ordinary, turns, most),
            *doubt_sums(brief, doubt, turns),
        ),
        turns_range=turns_range,
        length_range=None if doubt is None else doubt.length(turns),
        round_range=None if doubt is None else doubt.round(turns),
        depth_range=None if doubt is None else doubt.depth(turns),
        most_turns_range=most_range,
        longest_range=None if doubt is None or most_range is None else doubt.longest(most_range),
    )


def _by_measure(brief: WarpBrief, doubt: Doubt | None) -> bool:
    """Tell whether the turns were counted from a depth that was measured, and so reach the length without spare."""
    return brief.turns is None and (doubt is not None or brief.loom.beam.depth_per_turn is not None)


def _planned_turns(brief: WarpBrief, length: WarpLength, build_up: int, turns_range: TurnsRange | None) -> int:
    """Count from the empty beam, which is safe, unless the depth was measured; then as many as its doubt asks."""
    if brief.turns is not None:
        return brief.turns
    if turns_range is not None:
        return turns_range.safe
    if brief.loom.beam.depth_per_turn is not None:
        return build_up
    return beam.turns_by_empty_beam(length.wanted, brief.loom.beam.circumference)


def _by_chains(
    brief: WarpBrief, cloth: Cloth, length: WarpLength, places: tuple[Place, ...], ordinary: Fraction
) -> Beaming:
    empty = brief.loom.beam.circumference
    warp, board = _board_length(brief, length)
    exact, deep = beam.turns_of_length(warp, empty, ordinary), _extremes(places)[0]
    most = _most_turns(brief, places)
    put_in = {"length": of(warp, "distance"), "circumference": of(empty, "length"), "depth": of(ordinary, "depth")}
    return Beaming(
        places=places,
        sections=_sections(places, exact, lambda _depth: float(warp)),
        ordinary=ordinary,
        turns=None,
        turns_exact=exact,
        turns_with_build_up=beam.whole_turns(warp, empty, ordinary),
        warp_length=warp,
        nominal=warp,
        real_length=float(warp),
        end_circumference=beam.end_circumference(exact, empty, ordinary),
        most_turns=most,
        longest_warp=None if most is None else beam.length_of_turns(most, empty, deep),
        turn_table=(),
        difference=(0.0, 0.0),
        sums=(
            board,
            *section_sums(brief, cloth, places),
            *_depth_sums(brief, places, ordinary),
            line("turns_of_chain", of(exact, "turns"), put_in),
            *_rake_sums(brief, places, deep, most),
        ),
    )


def _most_turns(brief: WarpBrief, places: tuple[Place, ...]) -> int | None:
    rake = brief.loom.beam.rake_height
    deepest = max(place.depth for place in places)
    return None if rake is None else beam_depth.most_turns(rake, brief.tolerances.rake_clearance, deepest)


def _sections(places: tuple[Place, ...], turns: Number, length_at: Callable[[float], float]) -> tuple[Section, ...]:
    depths = [float(place.depth) for place in places]
    lengths = {depth: length_at(depth) for depth in set(depths)}
    return tuple(
        Section(
            position=place.position,
            ends=place.ends,
            runs=place.runs,
            setup=0,
            filled=place.filled,
            depth_per_turn=depth,
            depth=depth * float(turns),
            real_length=lengths[depth],
            free_left=place.free_left,
        )
        for place, depth in zip(places, depths, strict=True)
    )


def _extremes(places: tuple[Place, ...]) -> tuple[Fraction, Fraction]:
    depths = {place.depth for place in places}
    return max(depths), min(depths)


def _difference(places: tuple[Place, ...], turns: int, empty: Fraction) -> tuple[float, float]:
    deep, shallow = _extremes(places)
    return beam.mismatch(turns, deep, shallow, empty)


def _turn_sums(
    brief: WarpBrief, length: WarpLength, least: Fraction, turns: int, build_up: int, doubt: Doubt | None
) -> Iterator[Sum]:
    empty, wanted = of(brief.loom.beam.circumference, "length"), of(length.wanted, "distance")
    if brief.turns is None:
        by_empty = beam.turns_by_empty_beam(length.wanted, brief.loom.beam.circumference)
        yield line("turns", of(by_empty, "turns"), {"length": wanted, "circumference": empty})
        measured = doubt is not None or brief.loom.beam.depth_per_turn is not None
        put_in = {"circumference": empty, "depth": of(least, "depth"), "length": wanted}
        shown = line("turns_calibrated" if measured else "turns_with_build_up", of(build_up, "turns"), put_in)
        yield shown if measured else replace(shown, source=density_source(brief.yarns))
    if brief.turns is None and doubt is not None:
        low = of(doubt.circumference.low, "length")
        put_in = {"circumference": low, "depth": of(doubt.shallowest.low, "depth"), "length": wanted}
        yield line("turns_safe", of(turns, "turns"), put_in)
    warp = turns * brief.loom.beam.circumference
    yield line("warp_by_turns", of(warp, "distance"), {"turns": of(turns, "turns"), "circumference": empty})


def density_source(yarns: Sequence[YarnChoice]) -> str:
    """Say where the densities of some yarns come from: the least certain of them speaks for all.

    A density with its range was measured on this beam; one without is the studio's own figure; none is a default.
    """
    if any(yarn.wound_density is None for yarn in yarns):
        return ESTIMATED
    return OWN_FIGURE if any(yarn.density_low is None for yarn in yarns) else MEASURED


def _depth_sums(brief: WarpBrief, places: tuple[Place, ...], ordinary: Fraction) -> Iterator[Sum]:
    if brief.loom.beam.depth_per_turn is not None:
        yield line("depth_measured", of(ordinary, "depth"), {"depth": of(ordinary, "depth")})
        return
    place = next(place for place in places if place.depth == ordinary)
    width = of(place.filled * ((brief.loom.beam.pitch or 1) - brief.loom.beam.divider), "length")
    yarns = [yarn for yarn in brief.yarns if yarn.code in {run.code for run in place.runs}]
    if len({(yarn.tex, density_of(yarn)) for yarn in yarns}) > 1:
        counted = colours.counts(place.runs)
        parts = [_layer(yarn, counted[yarn.code], width) for yarn in yarns]
        shown = added("depth_mixed", of(ordinary, "depth"), parts)
    else:
        shown = line("depth_per_turn", of(ordinary, "depth"), _layer(yarns[0], place.ends, width))
    yield replace(shown, source=density_source(yarns))


def _layer(yarn: YarnChoice, ends: int, width: Quantity) -> dict[str, Quantity]:
    counted, count = of(ends, "ends"), of(yarn.tex, "tex")
    return {"ends": counted, "count": count, "width": width, "density": of(density_of(yarn), "density")}


def _wound_sums(
    brief: WarpBrief, places: tuple[Place, ...], ordinary: Fraction, turns: int, most: int | None
) -> Iterator[Sum]:
    facts = brief.loom.beam
    counted, depth, empty = of(turns, "turns"), of(ordinary, "depth"), of(facts.circumference, "length")
    yield line("depth", of(turns * ordinary, "depth"), {"turns": counted, "depth": depth})
    put_in = {"turns": counted, "circumference": empty, "depth": depth}
    yield line("real_length", of(beam.length_of_turns(turns, facts.circumference, ordinary), "distance"), put_in)
    put_in = {"circumference": empty, "depth": depth, "turns": counted}
    end = beam.end_circumference(turns, facts.circumference, ordinary)
    yield line("end_circumference", of(end, "length"), put_in)
    deep, shallow = _extremes(places)
    yield from _rake_sums(brief, places, shallow, most)
    if deep != shallow:
        put_in = {"turns": counted, "deep": of(deep, "depth"), "shallow": of(shallow, "depth")}
        yield line("mismatch", of(beam.mismatch(turns, deep, shallow, facts.circumference)[0], "length"), put_in)


def _rake_sums(brief: WarpBrief, places: tuple[Place, ...], shortest: Fraction, most: int | None) -> Iterator[Sum]:
    facts: BeamFacts = brief.loom.beam
    if most is None or facts.rake_height is None:
        return
    put_in = {
        "rake": of(facts.rake_height, "depth"),
        "clearance": of(brief.tolerances.rake_clearance, "depth"),
        "depth": of(_extremes(places)[0], "depth"),
    }
    yield line("most_turns", of(most, "turns"), put_in)
    put_in = {
        "turns": of(most, "turns"),
        "circumference": of(facts.circumference, "length"),
        "depth": of(shortest, "depth"),
    }
    yield line("longest_warp", of(beam.length_of_turns(most, facts.circumference, shortest), "distance"), put_in)
