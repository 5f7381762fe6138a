"""A calibrated beam: what the tape leaves open reaches depth, rakes and the longest warp, and its sums say so."""

from dataclasses import replace
from fractions import Fraction
from math import floor, pi

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.terms.brief import Fit, Method
from planner.calc.terms.plan import ColourRun
from planner.calc.worksheet.sums import ESTIMATED, MEASURED, OWN_FIGURE
from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from planner.plan.presenter_figures import figures, rake_words
from studio.units import Units
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_work_out import with_beam
from tests.planner.worked_projects import IN, YD, inches, per_inch, share, yards

INCH = Formatter(Units.INCH)
PER_TURN = float(40 * projects.tex_of(3360) / 100_000 / (2 * IN))
"""Cross-sections of 40 ends of 8/2 over a section of two inches, before the density: one turn is this over it [cm]."""


def pier(turns_of=145, rake=2, **changes):
    """A long warp at 20 to the inch on a beam taped with this yarn: 0.40 to 0.50 g/cm3, the tape a millimetre wrong."""
    brief = replace(projects.towels_measured(), finished_length=None, pieces=1, warp_length=yards(turns_of), **changes)
    return with_beam(brief, rake_height=inches(rake))


def codes(plan):
    return {remark.code: remark for remark in plan.remarks}


def near(value):
    return pytest.approx(float(value), rel=1e-9)


def test_depth_at_the_end_lies_between_the_densest_and_the_loosest_yarn():
    plan = work_out(pier())
    found = [
        float(one) for one in (plan.beam.depth_range.low, plan.beam.depth_range.likely, plan.beam.depth_range.high)
    ]
    assert found == [near(plan.beam.turns * PER_TURN / density) for density in (0.5, 0.45, 0.4)]


def test_turns_the_rakes_hold_lie_between_those_of_the_loosest_and_of_the_densest_yarn():
    """A rake of 2 in, a quarter kept free: 1.75 in over the depth of a turn, rounded down."""
    plan = work_out(pier())
    room = 1.75 * 2.54
    held = [floor(room / (PER_TURN / density)) for density in (0.4, 0.45, 0.5)]
    assert [plan.beam.most_turns_range.low, plan.beam.most_turns_range.likely, plan.beam.most_turns_range.high] == held
    assert plan.beam.most_turns == held[1]


def test_the_longest_warp_lies_between_those_of_both():
    plan = work_out(pier())
    ends = (("low", 91.34, 0.5), ("likely", 91.44, 0.45), ("high", 91.54, 0.4))
    for name, around, density in ends:
        turns = int(getattr(plan.beam.most_turns_range, name))
        length = turns * (around + pi * PER_TURN / density * turns)
        assert float(getattr(plan.beam.longest_range, name)) == near(length)


def test_a_warp_that_only_the_most_of_the_tape_takes_past_the_clearance_is_warned_of():
    """Planned turns lie between what the rakes hold for certain and what they likely hold."""
    plan = work_out(pier(175))
    assert plan.beam.most_turns_range.low < plan.beam.turns <= plan.beam.most_turns
    found = codes(plan)["rakes_in_doubt"]
    assert found.severity.value == "warn"
    assert found.values["depth"].value < found.values["room"].value < found.values["deepest"].value
    assert found.values["held"].value == plan.beam.most_turns_range.low
    assert not {"rakes_near", "rakes_over"} & set(codes(plan))


def test_a_warp_that_fits_whatever_the_tape_did_is_not_warned_of():
    plan = work_out(pier(20))
    assert plan.beam.turns < plan.beam.most_turns_range.low
    assert "rakes_in_doubt" not in codes(plan)


def test_a_warp_that_likely_passes_too_is_stopped_as_before():
    assert "rakes_over" in codes(work_out(pier(230)))


@pytest.mark.parametrize("wanted", [40, 145])
def test_the_headline_of_a_calibrated_count_is_the_length_asked_for(wanted):
    """Fewer turns of a yard than yards are asked for reach it; the headline is what is wound, not the turns."""
    plan = work_out(pier(wanted))
    shown = {figure.key: f"{figure.value} {figure.unit}" for figure in figures(plan, INCH)}
    assert (shown["length"], plan.beam.warp_length) == (f"{wanted} yd", yards(wanted))
    assert plan.beam.turns * YD < plan.beam.warp_length <= plan.beam.length_range.high
    assert all(section.real_length >= float(plan.beam.warp_length) for section in plan.winding.sections)


def test_turns_that_were_given_keep_their_length_by_the_empty_beam():
    plan = work_out(replace(pier(), warp_length=None, turns=30))
    assert plan.beam.warp_length == 30 * 36 * IN


def test_a_count_by_the_empty_beam_keeps_its_length():
    plan = work_out(projects.towels())
    assert plan.beam.warp_length == plan.beam.turns * 36 * IN


def test_the_longest_warp_is_that_of_the_section_that_comes_out_shortest():
    """Crammed and spaced, section by section: stripes at 20 and at 10 to the inch; the spaced are half as deep."""
    yarns = (projects.cotton("A", 3360), projects.cotton("B", 3360, sett=per_inch(10)))
    order = (ColourRun("A", 40), ColourRun("B", 20))
    plan = work_out(replace(projects.towels(), yarns=yarns, colour_order=order))
    deep, shallow = (PER_TURN / 0.45, PER_TURN / 0.45 / 2)
    turns = floor(1.75 * 2.54 / deep)
    assert plan.beam.most_turns == turns
    assert plan.beam.longest_warp == near(turns * (36 * 2.54 + pi * shallow * turns))


def test_chains_are_as_long_in_the_deepest_section():
    plan = work_out(replace(projects.towels(), method=Method.CHAIN, fit=Fit(selvedge=8)))
    deep = max(section.depth_per_turn for section in plan.winding.sections)
    assert plan.beam.longest_warp == near(plan.beam.most_turns * (36 * 2.54 + pi * deep * plan.beam.most_turns))


DEFAULT, OWN = {"wound_density": None}, {"wound_density": share(47)}
TAPED = {"wound_density": share(45), "density_low": share(40), "density_high": share(50)}


@pytest.mark.parametrize(("known", "source"), [(DEFAULT, ESTIMATED), (OWN, OWN_FIGURE), (TAPED, MEASURED)])
def test_a_sum_of_depth_says_what_its_density_rests_on(known, source):
    brief = projects.towels()
    plan = work_out(replace(brief, yarns=tuple(replace(yarn, **known) for yarn in brief.yarns)))
    assert next(line for line in plan.sums if line.key == "depth_per_turn").source == source


@pytest.mark.parametrize(("taped", "source"), [("N", ESTIMATED), ("NT", MEASURED)])
def test_a_mixture_is_no_better_known_than_its_least_known_yarn(taped, source):
    brief = replace(projects.thick_and_thin(), colour_order=(ColourRun("N", 20), ColourRun("T", 30)))
    yarns = tuple(replace(yarn, **TAPED) if yarn.code in taped else yarn for yarn in brief.yarns)
    plan = work_out(replace(brief, yarns=yarns))
    assert next(line for line in plan.sums if line.key == "depth_mixed").source == source


def test_the_page_says_depth_and_rakes_with_their_doubt():
    words = rake_words(work_out(pier()), INCH)
    assert words.count("by the tape") == 3
    assert rake_words(work_out(projects.towels()), INCH).count("by the tape") == 0


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    density=st.fractions(Fraction(40, 100), Fraction(50, 100), max_denominator=997),
    wrong=st.fractions(Fraction(-1, 10), Fraction(1, 10), max_denominator=97),
    wanted=st.integers(5, 150),
)
def test_whatever_yarn_and_tape_really_were_depth_and_rakes_lie_in_their_ranges(density, wrong, wanted):
    plan = work_out(pier(wanted))
    depth, around = PER_TURN / float(density), 91.44 + float(wrong)
    turns = floor(1.75 * 2.54 / depth * (1 + 1e-12))
    assert (
        float(plan.beam.depth_range.low) - 1e-9 <= plan.beam.turns * depth <= float(plan.beam.depth_range.high) + 1e-9
    )
    assert plan.beam.most_turns_range.low <= turns <= plan.beam.most_turns_range.high
    longest = turns * (around + pi * depth * turns)
    assert float(plan.beam.longest_range.low) - 1e-6 <= longest <= float(plan.beam.longest_range.high) + 1e-6
