"""A plan as a reader sees it: every number already written in her units, ready for page, card and print.

Page and card both take their words from here, so they can never disagree. Templates only choose and repeat.
No sum is made here: numbers come from the plan, `Formatter` writes them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

from planner.calc.terms.brief import BeamKind, WarpBrief
from planner.calc.terms.plan import WarpPlan, YarnNeed
from planner.plan.formatter import Formatter, RemarkView
from planner.plan.plan_view import (
    AlternativeView,
    ChainView,
    CostView,
    EdgeView,
    Figure,
    InWords,
    LayoutView,
    MismatchView,
    NeedView,
    ReedView,
    RunView,
    SectionView,
    SetupView,
    SpoolsView,
    SumGroup,
    TurnView,
    WayView,
    YarnView,
)
from planner.plan.presenter_choices import (
    alternative_view,
    edge_view,
    layouts_text,
    lead_lost,
    mismatch_view,
    rack_work,
    ties_text,
    unsaid,
    way_view,
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
from planner.plan.presenter_waiting import Awaited
from planner.plan.presenter_winding import (
    chain_views,
    cloth_places,
    layout_views,
    raddle_text,
    reed_view,
    run_views,
    section_views,
    setup_views,
    spools_view,
    tie_text,
)

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
"""Remarks that say what `PlanView.knot` says with its figures, where the leader is tied; once is enough."""
MOST_TURN_ROWS = 14
"""Lines of the short turn table; the whole table opens below it."""


class PlanView:
    """A whole plan in the reader's words and units; each part is written when it is first asked for."""

    def __init__(self, brief: WarpBrief, plan: WarpPlan, formatter: Formatter, awaited: Sequence[Awaited] = ()) -> None:
        self.brief, self.plan, self.formatter, self.awaited = brief, plan, formatter, awaited
        self.title, self.loom = brief.title, brief.loom.name
        self.sectional = brief.loom.beam.kind is BeamKind.SECTIONAL
        self.box = bool(plan.winding.setups)
        self.mixed = self.box and bool(plan.winding.chains)
        self.ends, self.ends_of_cloth = plan.cloth.ends_here, plan.cloth.ends
        self.floating_selvedge = plan.yarn.floating
        self.at_once = brief.bench.ends_at_once
        self.spool_count = sum(group.spools for group in plan.winding.spools)
        self.other_beam = other_beam(plan)
        self.part_sections = part_sections(plan)
        self.guided_by = guided_by(plan)
        self.check_total = check_total(plan)
        self.stopped = bool(plan.stops)
        self.waits = tuple(one.sentence for one in awaited)
        self.wound_as = "Winding method" if self.mixed else "Set-up" if len(plan.winding.setups) > 1 else ""
        self.raddle = raddle_text(plan.winding.raddle)
        self.rack_work, self.lead_lost = rack_work(plan), lead_lost(plan, formatter)
        self.end_circumference = length_words(plan.beam.end_circumference, formatter)
        self.round_between = between(plan.beam.round_range, "length", formatter).removeprefix(", ")
        self.rakes, self.knot = rake_words(plan, formatter), knot_words(plan, formatter)
        self.repeat_layouts = layouts_text(plan.choices.layouts, formatter)
        ties, lengths = plan.winding.ties, {chain.length for chain in plan.winding.chains}
        self.ties = tuple(tie_text(tie, formatter) for tie in ties)
        self.tie_every = InWords(ties[0], formatter).distance if ties else ""
        self.tie_marks = ties_text(plan.winding.tie_marks, alike=len(lengths) <= 1)

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """What a weaver looks for first."""
        return tuple(figures(self.plan, self.formatter))

    @cached_property
    def remarks(self) -> tuple[RemarkView, ...]:
        """Advice, loudest first."""
        return tuple(self.formatter.sentence(remark) for remark in self.plan.remarks if remark.code not in KNOT)

    @cached_property
    def by_code(self) -> Mapping[str, YarnView]:
        """Each yarn with its pattern, warp yarns first, the weft last if it is none of them."""
        weft, chosen = self.brief.weft, [*self.brief.yarns]
        if weft and all(weft.code != yarn.code for yarn in chosen):
            chosen.append(weft)
        return {
            yarn.code: YarnView(
                yarn.code, yarn.name, yarn.colour_name, yarn.colour or "#8a8a8a", number % 8, elsewhere=yarn.elsewhere
            )
            for number, yarn in enumerate(chosen)
        }

    @property
    def yarns(self) -> tuple[YarnView, ...]:
        """The same, in their order."""
        return tuple(self.by_code.values())

    @cached_property
    def places(self) -> tuple[tuple[int, int], ...]:
        """Ends of the cloth before and up to the end of each section."""
        return cloth_places(self.brief, self.plan) if self.plan.winding.sections else ()

    @cached_property
    def order(self) -> tuple[RunView, ...]:
        """The colours of the whole cloth."""
        return run_views(self.plan.cloth.pattern, self.by_code)

    @cached_property
    def sections(self) -> tuple[SectionView, ...]:
        """Lines of the section table."""
        return tuple(section_views(self.plan, self.by_code, self.formatter, self.awaited))

    @cached_property
    def layouts(self) -> tuple[LayoutView, ...]:
        """Each way the repeat lies in the sections."""
        return tuple(layout_views(self.plan, self.by_code))

    @cached_property
    def setups(self) -> tuple[SetupView, ...]:
        """Arrangements of spools."""
        return tuple(setup_views(self.plan, self.by_code, self.formatter))

    @cached_property
    def spools(self) -> tuple[SpoolsView, ...]:
        """Spools to wind."""
        return tuple(spools_view(group, self.by_code, self.formatter) for group in self.plan.winding.spools)

    @cached_property
    def short_spools(self) -> tuple[SpoolsView, ...]:
        """Those that may be short ones."""
        return tuple(spools_view(group, self.by_code, self.formatter) for group in self.plan.winding.short_spools)

    @cached_property
    def chains(self) -> tuple[ChainView, ...]:
        """Chains, those that are alike on one line."""
        return tuple(chain_views(self.plan, self.by_code, self.formatter))

    @property
    def reed(self) -> ReedView | None:
        """The best reed."""
        return self.reeds[0] if self.reeds else None

    @cached_property
    def reeds(self) -> tuple[ReedView, ...]:
        """Useful reeds, best first."""
        return tuple(reed_view(choice, self.formatter) for choice in self.plan.reed.reeds)

    @cached_property
    def heddles(self) -> tuple[tuple[int, int, int | None], ...]:
        """Shaft, heddles needed, heddles there (None when not counted)."""
        there = self.brief.loom.heddles
        return tuple(
            (shaft, needed, there[shaft - 1] if shaft <= len(there) else None)
            for shaft, needed in enumerate(self.plan.threading.heddles, start=1)
        )

    @cached_property
    def needs(self) -> tuple[NeedView, ...]:
        """Each yarn against the shelf."""
        return tuple(map(self._need, self.plan.yarn.needs))

    def _need(self, need: YarnNeed) -> NeedView:
        enough = None if need.on_hand is None else not need.short
        words = unsaid(need, "weft", "weft_mass", "short")
        return InWords(need, self.formatter, yarn=self.by_code[need.code], enough=enough, **words)

    @property
    def cost(self) -> CostView | None:
        """What all yarn costs."""
        cost = self.plan.yarn.cost
        if cost is None:
            return None
        pieces = 1 if self.brief.finished_length is None else self.brief.pieces
        words = InWords(cost, self.formatter)
        return CostView(any(need.weft for need in self.plan.yarn.needs), words.whole, pieces, words.of_a_piece)

    @cached_property
    def all_turns(self) -> tuple[TurnView, ...]:
        """Turn against length."""
        return tuple(InWords(row, self.formatter) for row in self.plan.beam.turn_table)

    @property
    def turns(self) -> tuple[TurnView, ...]:
        """About fourteen lines of it, the last always among them."""
        turns = self.all_turns
        if len(turns) <= MOST_TURN_ROWS:
            return turns
        step = next(step for step in (2, 5, 10, 20, 50, 100, 200, 500) if len(turns) / step <= MOST_TURN_ROWS)
        kept = turns[step - 1 :: step]
        return (*kept, turns[-1]) if kept[-1] is not turns[-1] else kept

    @cached_property
    def edge_choices(self) -> tuple[EdgeView, ...]:
        """What can be done about partial edges."""
        return tuple(edge_view(choice, self.formatter) for choice in self.plan.choices.edges)

    @cached_property
    def alternatives(self) -> tuple[AlternativeView, ...]:
        """Widths near by that fit better."""
        selvedge = self.brief.fit.selvedge
        return tuple(alternative_view(other, selvedge, self.formatter) for other in self.plan.choices.alternatives)

    @cached_property
    def mismatches(self) -> tuple[MismatchView, ...]:
        """Sections that come out unequal."""
        return tuple(mismatch_view(pair, self.formatter) for pair in self.plan.choices.mismatches)

    @cached_property
    def fewer_spools(self) -> tuple[WayView, ...]:
        """Ways that need fewer spools."""
        places = self.brief.loom.beam.sections
        return tuple(way_view(way, places, self.formatter) for way in self.plan.winding.fewer_spools)

    @cached_property
    def groups(self) -> tuple[SumGroup, ...]:
        """Every sum, by the part of the plan it belongs to."""
        sums = {key: tuple(self.formatter.line(line) for line in self.plan.sums if line.group == key) for key in GROUPS}
        return tuple(SumGroup(key, GROUPS[key], lines) for key, lines in sums.items() if lines)
