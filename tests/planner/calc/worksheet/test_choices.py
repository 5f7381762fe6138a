"""Choices in whole plans: shown when there is something to choose, true to the plan they stand in."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.terms.brief import Bench, Fit, Method
from planner.calc.terms.plan import EdgeKind
from planner.calc.worksheet.work_out import work_out
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_work_out import briefs, with_beam
from tests.planner.worked_projects import inches

SOME = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SOME
@given(brief=briefs())
def test_edges_are_asked_about_exactly_where_one_is_partial(brief):
    plan = work_out(brief)
    partial = any(section.filled < 1 for section in plan.winding.sections)
    assert bool(plan.choices.edges) == partial


@SOME
@given(brief=briefs())
def test_set_ups_are_all_there_in_an_order_no_worse_than_the_beams(brief):
    plan = work_out(brief)
    assert [setup.number for setup in plan.winding.setups] == list(range(1, len(plan.winding.setups) + 1))
    places = sorted(place for setup in plan.winding.setups for place in setup.positions)
    assert places == [section.position for section in plan.winding.sections if section.setup]
    assert plan.winding.fewest_moved <= sum(setup.moved for setup in plan.winding.setups)


@SOME
@given(brief=briefs())
def test_change_lists_lead_from_one_rack_to_the_next(brief):
    racks = []
    for setup in work_out(brief).winding.setups:
        cells = [run.code for run in setup.runs_from_back for _ in range(run.ends)]
        shelf = dict(racks[-1]) if racks else {}
        for change in setup.changes:
            for first, last in change.taken_off:
                assert all(shelf.pop(slot) == change.code for slot in range(first, last + 1))
        for change in setup.changes:
            shelf.update({slot: change.code for first, last in change.put_on for slot in range(first, last + 1)})
        slots = [slot for first, last in setup.slots for slot in range(first, last + 1)]
        racks.append(dict(zip(slots, cells, strict=True)))
        assert not setup.changes or shelf == racks[-1]


@SOME
@given(brief=briefs())
def test_ways_with_fewer_spools_start_from_the_plan(brief):
    plan = work_out(brief)
    for planned, *others in filter(None, [plan.winding.fewer_spools]):
        assert planned.spools == sum(group.spools for group in plan.winding.spools)
        assert (planned.setups, planned.tyings) == (len(plan.winding.setups), len(plan.winding.sections))
        assert all(way.spools < planned.spools or way.at_once < planned.at_once for way in others)


@SOME
@given(brief=briefs())
def test_an_alternative_planned_in_its_turn_keeps_its_word(brief):
    plan = work_out(brief)
    for other in plan.choices.alternatives:
        ends = other.ends - 2 * brief.fit.selvedge
        fit = replace(brief.fit, multiple=1, whole_repeats=False)
        again = work_out(replace(brief, width_in_reed=None, ends=ends, fit=fit, shift=other.shift))
        assert (again.cloth.width_in_reed, again.cloth.finished_width) == (other.width, other.finished_width)
        if other.sections_full:
            assert [section.filled for section in again.winding.sections] == [1] * other.sections
        if other.repeats_whole:
            assert (again.cloth.repeats, again.cloth.balance) == divmod(
                ends, sum(run.ends for run in brief.colour_order)
            )


def test_alternatives_never_ask_for_a_wider_loom():
    brief = with_beam(projects.partial_edges(), sections=12)
    assert [other.ends for other in work_out(brief).choices.alternatives] == [576]


def test_edges_of_chains_come_out_as_long_as_the_board():
    plan = work_out(replace(projects.partial_edges(), method=Method.CHAIN))
    assert {choice.kind: choice.shorter for choice in plan.choices.edges}[EdgeKind.SPREAD] == 0


@SOME
@given(order=st.permutations(["A", "B", "C"]), ends=st.integers(3, 40))
def test_box_lead_is_lost_once_for_each_thread_that_is_drawn_anew(order, ends):
    runs = tuple(replace(run, code=code) for run, code in zip(projects.rugs().colour_order, order, strict=True))
    plan = work_out(replace(projects.rugs(), colour_order=(replace(runs[0], ends=ends), *runs[1:]), fit=Fit()))
    lost = sum(setup.lead_lost for setup in plan.winding.setups)
    assert lost == sum(setup.threaded for setup in plan.winding.setups) * projects.rugs().allowances.box_lead


def test_chains_are_weighed_by_their_own_yarns():
    brief = replace(projects.thick_and_thin(), method=Method.CHAIN, bench=Bench(board_step=inches(36)))
    plan = work_out(brief)
    tex = {yarn.code: yarn.tex for yarn in brief.yarns}
    for chain in plan.winding.chains:
        assert chain.mass == sum(run.ends * tex[run.code] for run in chain.runs) * plan.beam.warp_length / 100_000
