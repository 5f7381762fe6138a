"""Sections, set-ups, spools, chains and reeds as a reader sees them: what is wound, in rows, and where it lies.

No sum is made here; numbers come from the plan, `Formatter` writes them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from planner.brief.colour_order import write_order
from planner.calc.beam.two_beams import places_across
from planner.calc.cloth.colours import cut
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Chain, ChokeTie, ColourRun, ReedChoice, Section, SpoolGroup, WarpPlan
from planner.calc.terms.positions import spans
from planner.plan.formatter import Formatter
from planner.plan.plan_view import (
    ChainView,
    InWords,
    LayoutView,
    ReedView,
    RunView,
    SectionView,
    SetupView,
    SpoolsView,
    YarnView,
)
from planner.plan.presenter_choices import change_text, slots_text, unsaid
from planner.plan.presenter_waiting import Awaited

FEW_RUNS = 2
"""While no row of a table has more runs, colours stand in words; else all rows use the codes of the key beside."""

Yarns = Mapping[str, YarnView]


def section_views(
    plan: WarpPlan, yarns: Yarns, formatter: Formatter, awaited: Sequence[Awaited]
) -> Iterator[SectionView]:
    """Write the lines of the section table, marked where they wait for yarn."""
    named = _named(section.runs for section in plan.winding.sections)
    chains, turns = _chain_of(plan), plan.beam.turns
    for section in plan.winding.sections:
        seat, chain = run_views(section.runs, yarns), chains.get(section.position, 0)
        until = [one.until for one in awaited if not one.chains and section.position in one.places]
        yield InWords(
            section,
            formatter,
            seat=seat,
            back=seat[::-1],
            seat_text=_text(seat, named=named),
            back_text=_text(seat[::-1], named=named),
            turns="" if turns is None else str(turns),
            partial=section.filled < 1,
            chain=chain,
            wound=f"chain\N{NO-BREAK SPACE}{chain}" if chain else f"set-up\N{NO-BREAK SPACE}{section.setup}",
            waits="; ".join(dict.fromkeys(until)),
        )


def run_views(runs: tuple[ColourRun, ...], yarns: Yarns) -> tuple[RunView, ...]:
    """Give runs with their yarns."""
    return tuple(RunView(run.ends, yarns[run.code]) for run in runs)


def _chain_of(plan: WarpPlan) -> Mapping[int | None, int]:
    return {chain.position: chain.number for chain in plan.winding.chains}


def layout_views(plan: WarpPlan, yarns: Yarns) -> Iterator[LayoutView]:
    """Name each way the repeat lies in the sections, in the order of the beam, and say where it does."""
    if plan.choices.layouts is None:
        return
    named = _named(section.runs for section in plan.winding.sections)
    kinds: defaultdict[object, list[Section]] = defaultdict(list)
    for section in plan.winding.sections:
        kinds[section.runs].append(section)
    chains = _chain_of(plan)
    for number, alike in enumerate(kinds.values(), start=1):
        yield LayoutView(
            number=number,
            ends=alike[0].ends,
            sections=spans([one.position for one in alike]),
            wound=_wound_as([one.setup for one in alike], [chains.get(one.position, 0) for one in alike]),
            seat_text=_text(run_views(alike[0].runs, yarns), named=named),
            edge=alike[0].filled < 1,
        )


def setup_views(plan: WarpPlan, yarns: Yarns, formatter: Formatter) -> Iterator[SetupView]:
    """Write the arrangements of spools, with the sections each serves."""
    named = _named(setup.runs for setup in plan.winding.setups)
    for setup in plan.winding.setups:
        seat = run_views(setup.runs, yarns)
        yield InWords(
            setup,
            formatter,
            ends=sum(run.ends for run in seat),
            positions=spans(setup.positions),
            seat_text=_text(seat, named=named),
            back_text=_text(seat[::-1], named=named),
            slots=slots_text(setup),
            changes=tuple(change_text(change, yarns[change.code]) for change in setup.changes),
            **unsaid(setup, "lead_lost"),
        )


def spools_view(group: SpoolGroup, yarns: Yarns, formatter: Formatter) -> SpoolsView:
    """Write spools of one yarn that carry the same length."""
    return InWords(group, formatter, yarn=yarns[group.code], which=spans(range(group.first, group.last + 1)))


def chain_views(plan: WarpPlan, yarns: Yarns, formatter: Formatter) -> Iterator[ChainView]:
    """Write the chains, those that are alike on one line."""
    named = _named(chain.runs for chain in plan.winding.chains)
    kinds: dict[object, list[Chain]] = {}
    for chain in plan.winding.chains:
        kinds.setdefault((chain.runs, chain.groups, chain.length), []).append(chain)
    for alike in kinds.values():
        first = alike[0]
        yield InWords(
            first,
            formatter,
            numbers=spans([chain.number for chain in alike]),
            positions=spans([chain.position for chain in alike if chain.position is not None]),
            passes=f"{first.passes} + {first.odd_ends} ends" if first.odd_ends else str(first.passes),
            groups=groups_text(first.groups),
            seat_text=_text(run_views(first.runs, yarns), named=named),
            count=len(alike),
            boxes=range(len(alike)),
        )


def tie_text(tie: ChokeTie, formatter: Formatter) -> str:
    """Write where a choke tie is, and when it comes to the beam."""
    at = f", reaches the beam at turn {tie.turn:.1f}" if tie.turn is not None else ""
    return f"{tie.number}: {InWords(tie, formatter).distance}{at}"


def _named(rows: Iterable[tuple[ColourRun, ...]]) -> bool:
    """Say whether a table names its colours: one rule for all its rows, so that they read alike and keep one line."""
    return all(len(runs) <= FEW_RUNS for runs in rows)


def _text(runs: tuple[RunView, ...], *, named: bool) -> str:
    if named:
        return ", ".join(f"{run.text} {run.yarn.colour_name}".strip() for run in runs)
    return _order(tuple(ColourRun(run.yarn.code, run.ends) for run in runs))


@lru_cache(maxsize=256)
def _order(runs: tuple[ColourRun, ...]) -> str:
    """Write many runs as short as they can be read back: many sections of a warp are alike, so the words are kept."""
    return write_order(runs)


def _wound_as(setups: Sequence[int], chains: Sequence[int]) -> str:
    """Say by which set-ups and chains sections are wound, such as: set-up 2, chains 4-5."""
    parts = (("set-up", sorted({*setups} - {0})), ("chain", sorted({*chains} - {0})))
    return ", ".join(f"{word}{'s' if len(which) > 1 else ''} {spans(which)}" for word, which in parts if which)


def groups_text(groups: tuple[tuple[int, int], ...]) -> str:
    """Write raddle groups, such as 28 of 10, 1 of 2."""
    return ", ".join(f"{count} of {ends}" if ends else f"{count} empty" for count, ends in groups)


def raddle_text(groups: tuple[tuple[int, int], ...]) -> str:
    """Write the spaces of a raddle, such as 40 spaces, 8 ends each."""
    if len(groups) != 1:
        return groups_text(groups)
    ((spaces, ends),) = groups
    return f"{spaces} space{'s' if spaces > 1 else ''}, {ends} end{'s' if ends > 1 else ''} each"


def reed_view(choice: ReedChoice, formatter: Formatter) -> ReedView:
    """Write one reed with its sley order."""
    stripes = tuple(
        (f"{stripe.code} {_dents(stripe.sley)}", InWords(stripe, formatter).sett) for stripe in choice.stripes
    )
    setts = dict.fromkeys(stripe.sett for stripe in choice.stripes) or (choice.sett,)
    return InWords(
        choice,
        formatter,
        sley=", ".join(order for order, _ in stripes) or _dents(choice.sley),
        stripes=stripes,
        sett=formatter.setts(tuple(setts)),
        exact=choice.error == 0,
        room=_room(choice),
    )


def _room(choice: ReedChoice) -> str:
    """Say how the ends stand in a dent."""
    if choice.room == "none":
        return "too little side by side"
    knots = "knots pass" if choice.knot_passes else "knots catch in the reed"
    return f"{choice.room}, {knots}" if choice.room else ""


def _dents(sley: tuple[int, ...]) -> str:
    return "-".join(str(ends) for ends in sley)


def cloth_places(brief: WarpBrief, plan: WarpPlan) -> tuple[tuple[int, int], ...]:
    """Give the ends of the cloth before and up to the end of each section, of each chain, or of the whole warp."""
    lots = (
        [section.ends for section in plan.winding.sections]
        or [chain.ends for chain in plan.winding.chains]
        or [plan.cloth.ends_here]
    )
    elsewhere = {yarn.code for yarn in brief.yarns if yarn.elsewhere} if plan.cloth.ends_elsewhere else set()
    return places_across(plan.cloth.pattern, lots, elsewhere)


def cloth_runs(brief: WarpBrief, plan: WarpPlan) -> tuple[tuple[ColourRun, ...], ...]:
    """Give the colours across each of these, with those of another beam in their places between them."""
    lots = plan.winding.sections or plan.winding.chains
    if lots and not plan.cloth.ends_elsewhere:
        return tuple(lot.runs for lot in lots)
    return tuple(cut(plan.cloth.pattern, start, stop) for start, stop in cloth_places(brief, plan))
