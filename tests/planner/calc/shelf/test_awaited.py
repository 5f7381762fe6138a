"""What can be done about yarn that is short: by the studio's own worked project, then the limits."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as some

from planner.calc.shelf.awaited import Reach, Wait, ends_kept, ground_for, reach_of, to_buy, wait_for, with_ground
from planner.calc.shelf.need import yarn_asked
from planner.calc.terms.plan import ColourRun
from planner.calc.worksheet.work_out import work_out
from tests.planner.worked_projects import waiting_section

POUND = Fraction("453.59237")
YARD = Fraction("91.44")


def dyed(**allowances):
    """Give the hand-dyed yarn of the project in which a section waits."""
    brief = waiting_section()
    yarns = tuple(replace(yarn, yarn_id=key) for key, yarn in enumerate(brief.yarns, 1))
    brief = replace(brief, yarns=yarns, allowances=replace(brief.allowances, **allowances))
    return yarn_asked(brief, work_out(brief))[1]


# The worked project of our own trade brief, by hand and before there was a program: 18 sections of 36 ends, 12 turns.
# An end takes 12.23 yd with build-up and half a yard at cutting and tying, 12.73 yd; 36 of them 458.3 yd, and 3 % added
# on for reserve 472. The cone weighs 109 g, its core 25 g: 84 g are 311 yd at 1 680 yd/lb.


def test_the_cone_serves_23_ends_and_24_without_reserve():
    asked = dyed()
    assert reach_of([Fraction(84)], asked.least_end_mass, asked.bare_end_mass) == Reach(23, 24)


def test_an_end_takes_12_73_yards():
    asked = dyed()
    assert float(asked.bare_end_mass / asked.tex * 100_000 / YARD) == pytest.approx(12.73, abs=0.005)
    assert float(36 * asked.least_end_mass * 1680 / POUND) == pytest.approx(472, abs=0.5)


def test_161_yards_are_short_before_spools_are_rounded_up():
    # By hand 161 yd, 43.5 g. The shelf page says a little more: it counts spools as they are wound, to the next step.
    asked = dyed()
    short = 36 * asked.least_end_mass - 84
    assert float(short) == pytest.approx(43.5, abs=0.1)
    assert float(short * 1680 / POUND) == pytest.approx(161, abs=0.5)
    assert asked.mass - 84 >= short


def test_threading_the_box_anew_costs_four_ends():
    # The worked project leaves out what is lost when the box is threaded for a section of its own. With the studio's
    # two and a half yards: 311.1 / (12.73 x 1.03 + 2.5) = 19.9, and 311.1 / (12.73 + 2.5) = 20.4.
    asked = dyed(box_lead=Fraction(5, 2) * YARD)
    assert reach_of([Fraction(84)], asked.least_end_mass, asked.bare_end_mass) == Reach(19, 20)


def test_22_of_the_colour_and_14_of_the_ground():
    assert ends_kept([36], 23) == (22,)
    order = waiting_section().colour_order
    narrowed = with_ground(order, "H", "G", [22])
    assert [(run.code, run.ends) for run in narrowed] == [("G", 13 * 36 + 7), ("H", 22), ("G", 4 * 36 + 7)]


def test_the_stripe_dropped_is_all_ground():
    assert with_ground(waiting_section().colour_order, "H", "G", [0]) == (ColourRun("G", 18 * 36),)


def test_fourteen_ground_ends_take_as_much_as_they_replace():
    # By hand: 14 x 12.73 yd x 1.03 = 183.6 yd of the same count, 49.6 g.
    asked = dyed()
    mass = ground_for(14, asked.least_end_mass, asked.tex, asked.tex)
    assert float(mass) == pytest.approx(49.6, abs=0.1)


def test_waiting_goes_twenty_days_beyond_the_booking():
    # Day 20, and 8 sessions at 2 a week are 28 days: day 48, and the loom is booked to day 28. Asked for on day 1.
    assert wait_for(20, 8, Fraction(2), 28) == Wait(weaving=28, done=48, beyond=20)


# Limits.


def test_two_small_packages_serve_fewer_than_one_large():
    assert reach_of([Fraction(30)], Fraction(10), Fraction(9)) == Reach(3, 3)
    assert reach_of([Fraction(15), Fraction(15)], Fraction(10), Fraction(9)) == Reach(2, 2)


def test_no_package_serves_nothing():
    assert reach_of([], Fraction(10), Fraction(9)) == Reach(0, 0)


@pytest.mark.parametrize(("end", "bare", "mass"), [(0, 1, 1), (1, 0, 1), (1, 1, -1)])
def test_impossible_ends_are_refused(end, bare, mass):
    with pytest.raises(ValueError, match="above zero"):
        reach_of([Fraction(mass)], Fraction(end), Fraction(bare))


@pytest.mark.parametrize(
    ("stripes", "served", "kept"),
    [
        ([37], 23, (23,)),  # an odd stripe stays odd
        ([36], 0, (0,)),
        ([36], 36, (36,)),
        ([36], 99, (36,)),
        ([1, 1, 1, 1], 2, (0, 1, 0, 1)),
        ([], 5, ()),
    ],
)
def test_every_stripe_keeps_its_share(stripes, served, kept):
    assert ends_kept(stripes, served) == kept


@given(some.lists(some.integers(1, 60), min_size=1, max_size=30), some.integers(0, 900))
def test_never_more_than_there_is_yarn_for_and_the_rest_in_equal_parts(stripes, served):
    kept = ends_kept(stripes, served)
    assert sum(kept) <= served
    assert all(
        0 <= stay <= ends and (stay == 0 or (ends - stay) % 2 == 0) for stay, ends in zip(kept, stripes, strict=True)
    )


@given(
    some.lists(some.tuples(some.sampled_from("ABC"), some.integers(1, 40)), min_size=1, max_size=30),
    some.integers(0, 500),
)
def test_as_many_ends_as_before_and_no_more_of_the_colour(runs, served):
    order = [ColourRun(code, ends) for code, ends in runs]
    kept = ends_kept([run.ends for run in order if run.code == "A"], served)
    made = with_ground(order, "A", "B", kept)
    assert sum(run.ends for run in made) == sum(run.ends for run in order)
    assert sum(run.ends for run in made if run.code == "A") == sum(kept) <= served
    assert all(one.code != two.code for one, two in pairwise(made))


@pytest.mark.parametrize("kept", [[], [37], [-1], [1, 1]])
def test_stripes_that_are_not_there_are_refused(kept):
    with pytest.raises(ValueError, match="kept"):
        with_ground([ColourRun("H", 36)], "H", "G", kept)


@pytest.mark.parametrize(("stripes", "served"), [([0], 1), ([3], -1)])
def test_stripes_without_ends_are_refused(stripes, served):
    with pytest.raises(ValueError, match="served"):
        ends_kept(stripes, served)


@pytest.mark.parametrize("figures", [(-1, 1, 1, 1), (1, -1, 1, 1), (1, 1, 0, 1), (1, 1, 1, 0)])
def test_ground_of_nothing_is_refused(figures):
    ends, *rest = figures
    with pytest.raises(ValueError, match="ground_tex"):
        ground_for(ends, *map(Fraction, rest))


@pytest.mark.parametrize("figures", [(-1, 8, 2, 28), (20, -1, 2, 28), (20, 8, 0, 28), (20, 8, 2, -1)])
def test_days_below_nothing_are_refused(figures):
    expected, sessions, a_week, booked = figures
    with pytest.raises(ValueError, match="a_week"):
        wait_for(expected, sessions, Fraction(a_week), booked)


def test_a_part_of_a_day_is_a_day():
    assert wait_for(0, 3, Fraction(2), 11) == Wait(weaving=11, done=11, beyond=0)  # 10.5 days


def test_what_to_buy_is_rounded_up_once():
    assert to_buy([Fraction(1, 3)] * 3) == 1
    assert to_buy([Fraction(1, 3)] * 4) == 2
    assert to_buy([]) == 0


def test_less_than_nothing_is_not_bought():
    with pytest.raises(ValueError, match="masses"):
        to_buy([Fraction(-1)])
