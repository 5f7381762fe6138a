"""A plan as a reader sees it: every number already written in her units, ready for page, card and print.

Page and card both take their words from here, so they can never disagree. Templates only choose and repeat.
No sum is made here: numbers come from the plan, `Reader` writes them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from planner.brief.colour_order import write_order
from planner.calc.terms.brief import BeamKind, WarpBrief, YarnChoice
from planner.calc.terms.plan import (
    Chain,
    ColourRun,
    Quantity,
    ReedChoice,
    Section,
    Setup,
    SpoolGroup,
    TurnRow,
    WarpPlan,
    YarnNeed,
)
from planner.calc.terms.positions import spans
from planner.plan.cloth_places import cloth_places
from planner.plan.formatter import Reader
from planner.plan.plan_view import (
    ShownChain,
    ShownCost,
    ShownLayout,
    ShownNeed,
    ShownPlan,
    ShownReed,
    ShownRun,
    ShownSection,
    ShownSetup,
    ShownSpools,
    ShownTurn,
    ShownYarn,
    SumGroup,
)
from planner.plan.presenter_choices import (
    change_text,
    layouts_text,
    lead_lost,
    rack_work,
    shown_alternative,
    shown_edge,
    shown_mismatch,
    shown_way,
    slots_text,
    ties_text,
)
from planner.plan.presenter_figures import (
    between,
    check_total,
    figures,
    knot_words,
    length_words,
    other_beam,
    part_sections,
    rake_words,
)
from planner.plan.presenter_threading import guided_by

GROUPS: Mapping[str, str] = {
    "yarn": "Yarn",
    "sett": "Sett",
    "width": "Width and ends",
    "length": "Length",
    "reed": "Reed",
    "sections": "Sections",
    "beam": "Beam",
    "winding": "Winding",
    "weft": "Weft and cost",
    "fit": "On this loom",
}
KNOT = frozenset({"knot_on_bar", "knot_too_long"})
"""Remarks that say what `ShownPlan.knot` says with its figures, where the leader is tied; once is enough."""
MOST_TURN_ROWS = 14
"""Lines of the short turn table; the whole table opens below it."""


def show_plan(brief: WarpBrief, plan: WarpPlan, reader: Reader, *, sums: bool = True) -> ShownPlan:
    """Write a whole plan in the reader's words and units; sums that nobody has opened may stay unwritten."""
    yarns = _yarns(brief)
    turns = tuple(_turn(row, reader) for row in plan.beam.turn_table)
    return ShownPlan(
        title=brief.title,
        loom=brief.loom.name,
        sectional=brief.loom.beam.kind is BeamKind.SECTIONAL,
        box=bool(plan.winding.setups),
        ends=plan.cloth.ends_here,
        ends_of_cloth=plan.cloth.ends,
        floating_selvedge=plan.yarn.floating,
        check_total=check_total(plan),
        other_beam=other_beam(plan),
        places=cloth_places(brief, plan) if plan.winding.sections else (),
        part_sections=part_sections(plan),
        figures=tuple(figures(plan, reader)),
        remarks=tuple(reader.sentence(remark) for remark in plan.remarks if remark.code not in KNOT),
        stopped=bool(plan.stops),
        yarns=tuple(yarns.values()),
        order=_runs(plan.cloth.pattern, yarns),
        sections=tuple(_sections(plan, yarns, reader)),
        setups=tuple(_setups(plan, yarns, reader)),
        spools=tuple(_spools(group, yarns, reader) for group in plan.winding.spools),
        spool_count=_spool_count(plan),
        at_once=brief.bench.ends_at_once,
        chains=tuple(_chains(plan, yarns, reader)),
        ties=tuple(
            _tie(tie.number, tie.turn, reader.say(Quantity(tie.distance, "distance"))) for tie in plan.winding.ties
        ),
        tie_every=reader.say(Quantity(plan.winding.ties[0].distance, "distance")) if plan.winding.ties else "",
        raddle=_groups(plan.winding.raddle),
        reed=_reed(plan.reed.best, reader) if plan.reed.best else None,
        reeds=tuple(_reed(reed, reader) for reed in plan.reed.reeds),
        needs=tuple(_need(need, yarns, reader) for need in plan.yarn.needs),
        cost=_cost(brief, plan, reader),
        turns=_thinned(turns),
        guided_by=guided_by(plan),
        all_turns=turns,
        heddles=_heddles(brief, plan),
        groups=tuple(_sum_groups(plan, reader)) if sums else (),
        end_circumference=length_words(plan.beam.end_circumference, reader),
        rakes=rake_words(plan, reader),
        round_between=between(plan.beam.round_range, "length", reader).removeprefix(", "),
        knot=knot_words(plan, reader),
        rack_work=rack_work(plan),
        lead_lost=lead_lost(plan, reader),
        edge_choices=tuple(shown_edge(choice, reader) for choice in plan.choices.edges),
        alternatives=tuple(shown_alternative(other, brief.fit.selvedge, reader) for other in plan.choices.alternatives),
        repeat_layouts=layouts_text(plan.choices.layouts, reader),
        layouts=tuple(_layouts(plan, yarns)),
        mismatches=tuple(shown_mismatch(pair, reader) for pair in plan.choices.mismatches),
        fewer_spools=tuple(shown_way(way, brief.loom.beam.sections, reader) for way in plan.winding.fewer_spools),
        short_spools=tuple(_spools(group, yarns, reader) for group in plan.winding.short_spools),
        tie_marks=ties_text(plan.winding.tie_marks, alike=len({chain.length for chain in plan.winding.chains}) < 2),  # noqa: PLR2004
    )


def _yarns(brief: WarpBrief) -> dict[str, ShownYarn]:
    """Give each yarn its pattern, warp yarns first, the weft last if it is none of them."""
    chosen: list[YarnChoice] = [*brief.yarns]
    if brief.weft and all(brief.weft.code != yarn.code for yarn in chosen):
        chosen.append(brief.weft)
    return {
        yarn.code: ShownYarn(
            yarn.code, yarn.name, yarn.colour_name, yarn.colour or "#8a8a8a", number % 8, elsewhere=yarn.elsewhere
        )
        for number, yarn in enumerate(chosen)
    }


def _runs(runs: tuple[ColourRun, ...], yarns: Mapping[str, ShownYarn]) -> tuple[ShownRun, ...]:
    return tuple(ShownRun(run.ends, yarns[run.code]) for run in runs)


FEW_RUNS = 2
"""While no row of a table has more runs, colours stand in words; else all rows use the codes of the key beside."""


def _named(rows: Iterable[tuple[ColourRun, ...]]) -> bool:
    """Say whether a table names its colours: one rule for all its rows, so that they read alike and keep one line."""
    return all(len(runs) <= FEW_RUNS for runs in rows)


def _text(runs: tuple[ShownRun, ...], *, named: bool) -> str:
    if named:
        return ", ".join(f"{run.text} {run.yarn.colour_name}".strip() for run in runs)
    return _order(tuple(ColourRun(run.yarn.code, run.ends) for run in runs))


@lru_cache(maxsize=256)
def _order(runs: tuple[ColourRun, ...]) -> str:
    """Write many runs as short as they can be read back: many sections of a warp are alike, so the words are kept."""
    return write_order(runs)


def _sections(plan: WarpPlan, yarns: Mapping[str, ShownYarn], reader: Reader) -> Iterator[ShownSection]:
    named = _named(section.runs for section in plan.winding.sections)
    turns = "" if plan.beam.turns is None else str(plan.beam.turns)
    chains = {chain.position: chain.number for chain in plan.winding.chains}
    for section in plan.winding.sections:
        shown = _section(section, yarns, reader, turns=turns, named=named)
        yield replace(shown, chain=chains.get(section.position, 0))


def _section(
    section: Section, yarns: Mapping[str, ShownYarn], reader: Reader, *, turns: str, named: bool
) -> ShownSection:
    seat, back = _runs(section.runs, yarns), _runs(section.runs_from_back, yarns)
    return ShownSection(
        position=section.position,
        ends=section.ends,
        seat=seat,
        back=back,
        seat_text=_text(seat, named=named),
        back_text=_text(back, named=named),
        turns=turns,
        depth=reader.say(Quantity(section.depth, "depth")),
        real_length=reader.say(Quantity(section.real_length, "distance")),
        setup=section.setup,
        partial=section.filled < 1,
    )


def _layouts(plan: WarpPlan, yarns: Mapping[str, ShownYarn]) -> Iterator[ShownLayout]:
    """Name each way the repeat lies in the sections, in the order of the beam, and say where it does."""
    if plan.choices.layouts is None:
        return
    named = _named(section.runs for section in plan.winding.sections)
    kinds: defaultdict[object, list[Section]] = defaultdict(list)
    for section in plan.winding.sections:
        kinds[section.runs].append(section)
    chains = {chain.position: chain.number for chain in plan.winding.chains}
    for number, alike in enumerate(kinds.values(), start=1):
        yield ShownLayout(
            number=number,
            ends=alike[0].ends,
            sections=spans([one.position for one in alike]),
            wound=_wound_as([one.setup for one in alike], [chains.get(one.position, 0) for one in alike]),
            seat_text=_text(_runs(alike[0].runs, yarns), named=named),
            edge=alike[0].filled < 1,
        )


def _wound_as(setups: Sequence[int], chains: Sequence[int]) -> str:
    """Say by which set-ups and chains sections are wound, such as: set-up 2, chains 4-5."""
    parts = (("set-up", sorted({*setups} - {0})), ("chain", sorted({*chains} - {0})))
    return ", ".join(f"{word}{'s' if len(found) > 1 else ''} {spans(found)}" for word, found in parts if found)


def _setups(plan: WarpPlan, yarns: Mapping[str, ShownYarn], reader: Reader) -> Iterator[ShownSetup]:
    named = _named(setup.runs for setup in plan.winding.setups)
    yield from (_setup(setup, yarns, reader, named=named) for setup in plan.winding.setups)


def _setup(setup: Setup, yarns: Mapping[str, ShownYarn], reader: Reader, *, named: bool) -> ShownSetup:
    seat = _runs(setup.runs, yarns)
    return ShownSetup(
        number=setup.number,
        ends=sum(run.ends for run in seat),
        positions=spans(setup.positions),
        seat_text=_text(seat, named=named),
        back_text=_text(seat[::-1], named=named),
        slots=slots_text(setup),
        moved=setup.moved,
        changes=tuple(change_text(change, yarns[change.code]) for change in setup.changes),
        lead_lost=reader.say(Quantity(setup.lead_lost, "distance")) if setup.lead_lost else "",
    )


def _spools(group: SpoolGroup, yarns: Mapping[str, ShownYarn], reader: Reader) -> ShownSpools:
    return ShownSpools(
        yarn=yarns[group.code],
        spools=group.spools,
        which=spans(tuple(range(group.first, group.last + 1))),
        sections=group.sections,
        nominal=reader.say(Quantity(group.nominal_length, "distance")),
        real=reader.say(Quantity(group.real_length, "distance")),
        to_wind=reader.say(Quantity(group.to_wind, "distance")),
    )


def _spool_count(plan: WarpPlan) -> int:
    return sum(group.spools for group in plan.winding.spools)


def _chains(plan: WarpPlan, yarns: Mapping[str, ShownYarn], reader: Reader) -> Iterator[ShownChain]:
    """Give chains, those that are alike on one line."""
    named = _named(chain.runs for chain in plan.winding.chains)
    kinds: dict[object, list[Chain]] = {}
    for chain in plan.winding.chains:
        kinds.setdefault((chain.runs, chain.groups, chain.length), []).append(chain)
    for alike in kinds.values():
        first = alike[0]
        positions = tuple(chain.position for chain in alike if chain.position is not None)
        yield ShownChain(
            numbers=spans(tuple(chain.number for chain in alike)),
            positions=spans(positions),
            ends=first.ends,
            passes=f"{first.passes} + {first.odd_ends} ends" if first.odd_ends else str(first.passes),
            groups=_groups(first.groups),
            seat_text=_text(_runs(first.runs, yarns), named=named),
            count=len(alike),
            mass=reader.say(Quantity(first.mass, "mass")),
            length=reader.say(Quantity(first.length, "distance")),
        )


def _groups(groups: tuple[tuple[int, int], ...]) -> str:
    """Write raddle groups, such as 28 of 10, 1 of 2."""
    return ", ".join(f"{count} of {ends}" if ends else f"{count} empty" for count, ends in groups)


def _tie(number: int, turn: float | None, distance: str) -> str:
    at = f", reaches the beam at turn {turn:.1f}" if turn is not None else ""
    return f"{number}: {distance}{at}"


def _room(choice: ReedChoice) -> str:
    """Say how the ends stand in a dent."""
    if choice.room == "none":
        return "too little side by side"
    return f"{choice.room}{', knots pass' if choice.knot_passes else ', a knot sticks'}" if choice.room else ""


def _dents(sley: tuple[int, ...]) -> str:
    return "-".join(str(ends) for ends in sley)


def _reed(choice: ReedChoice, reader: Reader) -> ShownReed:
    setts = dict.fromkeys(stripe.sett for stripe in choice.stripes) or (choice.sett,)
    stripes = tuple(
        (f"{stripe.code} {_dents(stripe.sley)}", reader.say(Quantity(stripe.sett, "sett"))) for stripe in choice.stripes
    )
    return ShownReed(
        reed=choice.reed,
        sley=", ".join(order for order, _ in stripes) or _dents(choice.sley),
        stripes=stripes,
        sett=reader.setts(tuple(setts)),
        error=reader.say(Quantity(choice.error, "share")),
        exact=choice.error == 0,
        dents=choice.dents,
        empty_left=choice.empty_left,
        start_dent=choice.start_dent,
        room=_room(choice),
        width=reader.say(Quantity(choice.width, "length")),
    )


def _need(need: YarnNeed, yarns: Mapping[str, ShownYarn], reader: Reader) -> ShownNeed:
    def mass(value: object) -> str:
        return "" if value is None else reader.say(Quantity(value, "mass"))  # type: ignore[arg-type]

    return ShownNeed(
        yarn=yarns[need.code],
        ends=need.ends,
        warp=reader.say(Quantity(need.warp_real, "distance")),
        warp_mass=mass(need.warp_mass),
        weft=reader.say(Quantity(need.weft, "distance")) if need.weft else "",
        weft_mass=mass(need.weft_mass) if need.weft else "",
        on_hand=mass(need.on_hand),
        short=mass(need.short) if need.short else "",
        cost="" if need.cost is None else reader.say(Quantity(need.cost, "money")),
        enough=None if need.on_hand is None else not need.short,
    )


def _cost(brief: WarpBrief, plan: WarpPlan, reader: Reader) -> ShownCost | None:
    if plan.yarn.cost is None:
        return None
    pieces = 1 if brief.finished_length is None else brief.pieces
    whole, of_a_piece = (
        reader.say(Quantity(value, "money")) for value in (plan.yarn.cost.whole, plan.yarn.cost.of_a_piece)
    )
    return ShownCost(any(need.weft for need in plan.yarn.needs), whole, pieces, of_a_piece)


def _turn(row: TurnRow, reader: Reader) -> ShownTurn:
    return ShownTurn(
        row.turn,
        reader.say(Quantity(row.length, "distance")),
        reader.say(Quantity(row.circumference, "length")),
        reader.say(Quantity(row.depth, "depth")),
    )


def _thinned(turns: tuple[ShownTurn, ...]) -> tuple[ShownTurn, ...]:
    """Keep about fourteen lines, the last always among them."""
    if len(turns) <= MOST_TURN_ROWS:
        return turns
    step = next(step for step in (2, 5, 10, 20, 50, 100, 200, 500) if len(turns) / step <= MOST_TURN_ROWS)
    kept = [turn for turn in turns if turn.turn % step == 0]
    return (*kept, turns[-1]) if kept[-1] is not turns[-1] else tuple(kept)


def _heddles(brief: WarpBrief, plan: WarpPlan) -> tuple[tuple[int, int, int | None], ...]:
    """Give shaft, heddles needed, heddles there (None when not counted)."""
    there = brief.loom.heddles
    return tuple(
        (shaft, needed, there[shaft - 1] if shaft <= len(there) else None)
        for shaft, needed in enumerate(plan.threading.heddles, start=1)
    )


def _sum_groups(plan: WarpPlan, reader: Reader) -> Iterator[SumGroup]:
    for key, title in GROUPS.items():
        sums = tuple(reader.line(line) for line in plan.sums if line.group == key)
        if sums:
            yield SumGroup(key, title, sums)
