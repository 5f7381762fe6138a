"""Threading and sleying in whole plans, held to figures worked by hand from the worked projects."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings

from planner.calc.reed.threading_guide import broken, lace
from planner.calc.terms.brief import Fit
from planner.calc.terms.plan import SpareHeddles
from planner.calc.worksheet.work_out import work_out
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_work_out import briefs
from tests.planner.worked_projects import with_heddles

SOME = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def test_towels_are_threaded_alike_in_every_section():
    """480 ends, 12 sections of 40, straight on four shafts: ten whole repeats in each, ten ends on each shaft."""
    guide = work_out(projects.towels()).threading.guide
    assert {(part.ends, part.starts_at, part.first_shaft, part.last_shaft, part.on_each) for part in guide} == {
        (40, 1, 1, 4, (10, 10, 10, 10))
    }
    assert [(part.so_far, part.on_each_so_far[0]) for part in guide] == [(40 * n, 10 * n) for n in range(1, 13)]


def test_towels_lie_twenty_dents_to_a_section():
    """Two in a dent of the 10-dent reed, 48 in long: 480 dents, 240 used, 120 empty at the left; 40 ends, 20 dents."""
    guide = work_out(projects.towels()).threading.sleys
    assert [(part.first_dent, part.last_dent) for part in guide] == [(121 + 20 * n, 140 + 20 * n) for n in range(12)]
    assert {part.runs[0].times for part in guide} == {20}
    assert not any(part.shares_first or part.shares_last for part in guide)


def test_towels_leave_fifteen_heddles_at_each_end_of_each_shaft():
    """150 hang on each shaft, 480 / 4 = 120 are needed: 30 are left, half of them at each side."""
    assert work_out(projects.towels()).threading.spare == (SpareHeddles(left=15, right=15, short=0),) * 4


def test_the_runner_goes_chain_by_chain():
    """282 ends in three chains of 94. 94 = 23 x 4 + 2, so the second begins on shaft 3, the third on shaft 1 again."""
    plan = work_out(projects.runner())
    assert plan.winding.sections == ()
    assert [(part.number, part.starts_at, part.last_shaft, part.so_far) for part in plan.threading.guide] == [
        (1, 1, 2, 94), (2, 3, 4, 188), (3, 1, 2, 282),
    ]  # fmt: skip
    assert [part.on_each for part in plan.threading.guide] == [(24, 24, 23, 23), (23, 23, 24, 24), (24, 24, 23, 23)]
    assert plan.threading.guide[-1].on_each_so_far == plan.threading.heddles == (71, 71, 70, 70)


def test_an_odd_spare_heddle_of_the_runner_hangs_at_the_right():
    """100 on each shaft: 29 are left on the first two, 30 on the others."""
    spare = [(one.left, one.right, one.short) for one in work_out(projects.runner()).threading.spare]
    assert spare == [(14, 15, 0), (14, 15, 0), (15, 15, 0), (15, 15, 0)]


def test_heddles_that_are_too_few_are_counted():
    """The runner needs 71 on the front shaft; 60 hang there."""
    plan = work_out(with_heddles(projects.runner(), 60, 71, 100, 100))
    assert [(one.left, one.right, one.short) for one in plan.threading.spare][:2] == [(0, 0, 11), (0, 0, 0)]


def test_heddles_nobody_counted_leave_nothing_to_say():
    assert work_out(projects.rugs()).threading.spare == ()


def test_no_reed_no_dents():
    plan = work_out(projects.waiting_section())
    assert (plan.threading.sleys, len(plan.threading.guide)) == ((), 18)


def test_thick_and_thin_are_each_sleyed_in_their_own_order():
    """96 thin ends at 24 and 30 thick at 15 to the inch, in a reed of 12: 2 in a dent, and 5 in 4 dents (1-1-1-2).

    48 + 24 dents to a repeat of 6 in, so three sections of 2 in, 24 dents each: 48 thin, 48 thin, 30 thick. Four
    repeats make 288 of the reed's 540 dents: 126 are left empty, so dent 127 is the first.
    """
    guide = work_out(projects.thick_and_thin()).threading.sleys
    assert [(part.first_dent, part.last_dent) for part in guide] == [(127 + 24 * n, 150 + 24 * n) for n in range(12)]
    runs = [[(run.times, run.in_dents) for run in part.runs] for part in guide]
    assert runs == [[(24, (2,))], [(24, (2,))], [(6, (1, 1, 1, 2))]] * 4


def test_selvedge_ends_are_threaded_and_sleyed_as_the_rest_and_floating_ones_not_at_all():
    """Two more ends on each side: 42 in the first section, so the second begins on shaft 3, 21 dents after the first.

    484 ends are 242 dents; (480 - 242) / 2 = 119 stay empty, so the first is dent 120.
    """
    plan = work_out(replace(projects.towels(), fit=Fit(selvedge=2, floating_selvedge=2)))
    first, second = plan.threading.guide[:2]
    assert (first.ends, first.last_shaft, second.starts_at, second.first_shaft) == (42, 2, 3, 3)
    assert (plan.threading.sleys[0].first_dent, plan.threading.sleys[1].first_dent) == (120, 141)
    assert plan.threading.guide[-1].so_far == sum(plan.threading.heddles) == 484


def test_a_lace_runs_on_from_chain_to_chain():
    """Twelve ends a repeat on four shafts: 94 = 7 x 12 + 10, so the second chain begins with end 11, on shaft 1.

    Seven repeats hang 42 of the first chain on the front shaft, and of the next ten ends (1 3 1 3 1 2 1 4 1 4) five.
    """
    first, second, _ = work_out(replace(projects.runner(), threading=lace(4))).threading.guide
    assert (first.on_each[0], second.starts_at, second.first_shaft) == (47, 11, 1)


def test_a_broken_draw_turns_inside_a_section():
    """Eight ends a repeat, forty to a section: five repeats, ten on each of the four shafts, the last on shaft 3."""
    guide = work_out(replace(projects.towels(), threading=broken(4))).threading.guide
    assert {(part.starts_at, part.on_each, part.last_shaft) for part in guide} == {(1, (10,) * 4, 3)}


@pytest.mark.parametrize("make", projects.ALL, ids=lambda make: make.__name__)
def test_the_guides_of_the_worked_projects_end_with_the_whole_warp(make):
    plan = work_out(make())
    assert plan.threading.guide[-1].on_each_so_far == plan.threading.heddles
    assert [part.number for part in plan.threading.guide] == list(
        range(1, len(plan.winding.sections or plan.winding.chains) + 1)
    )
    assert all(part.last_dent <= plan.reed.best.start_dent + plan.reed.best.dents - 1 for part in plan.threading.sleys)


@SOME
@given(brief=briefs())
def test_the_width_of_the_dents_is_the_width_in_that_reed(brief):
    """Any warp, yarns with setts of their own among them: the reed's dents from the first to the last of the guide."""
    plan = work_out(brief)
    assert bool(plan.threading.sleys) == bool(plan.reed.best)
    if plan.reed.best is not None:
        dents = plan.threading.sleys[-1].last_dent - plan.reed.best.start_dent + 1
        facts = next(reed for reed in brief.loom.reeds if reed.name == plan.reed.best.reed)
        assert Fraction(dents) / facts.dents == plan.reed.best.width
        assert [part.so_far for part in plan.threading.guide][-1] == sum(
            sum(part.in_dents) for part in plan.threading.sleys
        )
