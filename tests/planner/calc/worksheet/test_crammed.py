"""Whole plans of crammed and spaced cloth: one lie in every part of them, never a mean."""

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.terms.brief import Centre, Fit, Layout, Method
from planner.calc.terms.plan import ColourRun, EdgeKind
from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from planner.plan.presenter_figures import figures
from studio.units import Units
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_work_out import with_beam
from tests.planner.worked_projects import IN, cotton, inches, per_inch

SOME = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
INCH = Formatter(Units.INCH)


def crammed(order, **changes):
    """Twenty A to the inch and ten B, on a beam of 22 two-inch sections about a divider, for twenty turns."""
    runs = tuple(ColourRun(word[-1], int(word[:-1])) for word in order.split())
    yarns = (cotton("A", 3360), cotton("B", 3360, sett=per_inch(10)))
    base = replace(projects.towels(), yarns=yarns, colour_order=runs, finished_length=None, pieces=1, turns=20)
    return replace(base, **{"width_in_reed": None, **changes})


def said(plan, code):
    return next((remark.values for remark in plan.remarks if remark.code == code), None)


def choices(plan):
    return {choice.kind: choice for choice in plan.choices.edges}


LEFT_AT_THE_EDGES = crammed("60A 20B", ends=384)
"""Four repeats of 60 A and 20 B in 20 in, 60 A in 3 in, 4 B in 0.4 in: 23.4 in, 1.7 in over at each side."""


@pytest.mark.parametrize(("order", "wide", "ends"), [("60A 60B", 23, 320), ("60A 20B", 24, 390)])
def test_ends_fill_the_width_asked_for(order, wide, ends):
    """By hand: 240 ends in 18 in, 60 A in 3 in, 20 B in 2 in; and 320 in 20 in, 60 A in 3 in, 10 B in 1 in."""
    plan = work_out(crammed(order, width_in_reed=inches(wide)))
    assert (plan.cloth.ends_here, plan.cloth.width_in_reed) == (ends, inches(wide))
    assert said(plan, "width_changed") is None


def test_all_twelve_sections_are_full_where_the_width_is_whole_sections():
    plan = work_out(crammed("60A 20B", width_in_reed=inches(24)))
    assert [section.filled for section in plan.winding.sections] == [1] * 12
    assert sum(section.ends for section in plan.winding.sections) == 390


def test_a_finished_width_is_met():
    brief = crammed("60A 60B", finished_width=inches(23))
    assert work_out(brief).cloth.finished_width == inches(23)


def test_whole_repeats_say_what_would_have_filled_the_width():
    """23 in: 320 ends would fill it; two repeats are 18 in, three 27 in, so three are 4 in too wide but nearer."""
    plan = work_out(crammed("60A 60B", width_in_reed=inches(23), fit=Fit(whole_repeats=True)))
    changed = said(plan, "ends_changed")
    assert (plan.cloth.ends_here, changed["wanted"].value, changed["ends"].value) == (360, 320, 360)


@pytest.mark.parametrize(
    ("order", "shown"), [("60A 20B", "20 and 10"), ("60A", "20"), ("60B", "10"), ("4B 6A", "10 and 20")]
)
def test_the_headline_names_every_sett(order, shown):
    first = next(figures(work_out(crammed(order, ends=120)), INCH))
    found = {figure.key: figure for figure in figures(work_out(crammed(order, ends=120)), INCH)}
    assert first.key == "ends"
    assert (found["sett"].value, found["sett"].unit) == (shown, "/in")


def test_the_true_width_is_shown_stripe_by_stripe():
    line = next(one for one in work_out(crammed("60A 60B", width_in_reed=inches(23))).sums
                if one.key == "width_in_reed_mixed")  # fmt: skip
    shown = INCH.line(line)
    assert (shown.formula, shown.result) == ("180 ends ÷ 20/in + 140 ends ÷ 10/in", "23 in")


def test_edges_say_what_lies_there_and_what_would_fill_them():
    """Left 1.7 in of A: 34 of 40. Right 4 B in 0.4 in, 26 A in 1.3 in; 0.3 in more of B are 3: 30 of 33."""
    found = said(work_out(LEFT_AT_THE_EDGES), "edge_partial")
    names = ("left", "left_full", "right", "right_full", "dummies")
    assert [found[name].value for name in names] == [34, 40, 30, 33, 9]


def test_what_fills_is_had_when_it_is_typed_in():
    """22 in are 320 ends in 20 in and 40 A; 24 in are 380 in 23 in and 10 B."""
    found = choices(work_out(LEFT_AT_THE_EDGES))
    offered = [(found[kind].ends, found[kind].width / IN) for kind in (EdgeKind.FEWER, EdgeKind.MORE)]
    assert offered == [(360, 22), (390, 24)]
    for kind in (EdgeKind.FEWER, EdgeKind.MORE):
        again = work_out(replace(LEFT_AT_THE_EDGES, ends=found[kind].ends, shift=found[kind].shift))
        assert (again.cloth.width_in_reed, again.choices.edges) == (found[kind].width, ())
        assert len(again.winding.sections) == found[kind].sections
        assert (again.winding.sections[0].ends, again.winding.sections[-1].ends) == found[kind].edge_ends


def test_spread_edges_come_out_shorter_by_the_length_of_a_roll():
    """The shallower edge, 30 ends of 8/2 over two inches, beside 40 in a full section: pi T^2 (b1 - b2)."""
    plan = work_out(LEFT_AT_THE_EDGES)
    one = float(projects.tex_of(3360) / 100_000 / (2 * IN) / Fraction(45, 100))
    spread = choices(plan)[EdgeKind.SPREAD]
    assert spread.shorter == pytest.approx(pi * 20**2 * (40 - 30) * one)
    assert said(plan, "edge_partial")["shorter"].value == spread.shorter
    assert said(plan, "edge_partial")["share"].value == spread.share


def test_another_sett_closes_every_stripe_alike():
    """23.4 in pressed into 24 in: each stripe opens by 24 / 23.4."""
    found = choices(work_out(LEFT_AT_THE_EDGES))[EdgeKind.SETT]
    assert (found.ends, found.width) == (384, inches(24))
    assert [sett * IN for sett in found.setts] == [20 * Fraction("23.4") / 24, 10 * Fraction("23.4") / 24]


def test_a_crammed_warp_is_offered_counts_that_keep_their_word():
    plan = work_out(LEFT_AT_THE_EDGES)
    assert [(other.ends, other.width / IN, other.sections) for other in plan.choices.alternatives] == [
        (390, 24, 12), (400, 25, 13), (320, 20, 10),
    ]  # fmt: skip


def test_the_moved_warp_is_reckoned_as_it_would_lie():
    """1.7 in over at each side of two-inch sections: 0.3 in to the right fill the right side, and leave 1.4 in.

    Left 1.4 in of A are 28; right 4 B in 0.4 in and 32 A in 1.6 in are 36.
    """
    found = choices(work_out(LEFT_AT_THE_EDGES))[EdgeKind.SHIFT]
    assert found.shift == inches("0.3")
    again = work_out(replace(LEFT_AT_THE_EDGES, shift=found.shift))
    assert found.edge_ends == (again.winding.sections[0].ends, again.winding.sections[-1].ends) == (28, 36)
    assert choices(again)[EdgeKind.SPREAD].shorter == found.shorter
    assert EdgeKind.SHIFT not in choices(again)


def reeds_of(plan):
    return [(one.reed, [(part.code, part.sley) for part in one.stripes]) for one in plan.reed.reeds]


def test_the_most_even_reed_comes_first_with_the_order_of_each_stripe():
    """By hand: 10 dents take 2 A and 1 B; 8 take 2-3 and 1-1-1-2, 12 take 1-2-2 and 0-1-1-1-1-1, all exactly."""
    assert reeds_of(work_out(crammed("60A 20B", ends=384))) == [
        ("10 dpi", [("A", (2,)), ("B", (1,))]), ("8 dpi", [("A", (2, 3)), ("B", (1, 1, 1, 2))]),
        ("12 dpi", [("A", (1, 2, 2)), ("B", (0, 1, 1, 1, 1, 1))]),
    ]  # fmt: skip


def test_a_row_of_the_reeds_says_each_order_and_each_sett():
    brief = crammed("60A 20B", ends=384)
    first = PlanView(brief, work_out(brief), INCH).reeds[0]
    assert first.stripes == (("A 2", "20/in"), ("B 1", "10/in"))
    assert (first.sley, first.sett, first.exact) == ("A 2, B 1", "20 and 10/in", True)


def test_dents_of_stripes_are_shown_to_be_counted():
    """300 A at 20 are 15 in, 84 B at 10 are 8.4 in: 23.4 in of 10 dents are 234."""
    lines = {one.key: INCH.line(one) for one in work_out(crammed("60A 20B", ends=384)).sums}
    assert lines["width_of_stripes"].formula == "300 ends ÷ 20/in + 84 ends ÷ 10/in"
    assert (lines["dents_of_stripes"].formula, lines["dents_of_stripes"].result) == (
        "23.4 in × 10/in, rounded up",
        "234",
    )


def test_a_reed_that_is_not_exact_is_told_by_the_stripe_it_suits_worst():
    """Of 11 dents: 20 to the inch come to 11 ends in 6 dents, 20.17; 10 to 7 in 8, 9.63, which is farther off."""
    brief = crammed("60A 20B", ends=384)
    brief = replace(brief, loom=replace(brief.loom, reeds=projects.reeds(11)))
    found = said(work_out(brief), "reed_changes_sett")
    assert (found["wanted"].value * IN, found["sett"].value * IN) == (10, 11 * Fraction(7, 8))


ORDERS = st.lists(st.tuples(st.sampled_from("AB"), st.integers(1, 60)), min_size=2, max_size=5)


@st.composite
def briefs(draw):
    order = " ".join(f"{ends}{code}" for code, ends in draw(ORDERS))
    layout = draw(st.sampled_from([Layout.REPEAT, Layout.CENTRED, Layout.MIRRORED]))
    wide = draw(st.fractions(1, 40, max_denominator=10).map(inches))
    more = {"fit": Fit(draw(st.integers(1, 2)), selvedge=draw(st.integers(0, 2))), "colour_layout": layout}
    brief = crammed(order, **more)
    brief = replace(brief, width_in_reed=wide, shift=draw(st.fractions(-2, 2, max_denominator=4).map(inches)))
    if draw(st.booleans()):
        brief = with_beam(brief, centre=Centre.SECTION, sections=21)
    return replace(brief, method=draw(st.sampled_from(Method)))


@SOME
@given(brief=briefs())
def test_the_ends_fill_the_width_within_half_a_step(brief):
    plan = work_out(brief)
    inner = plan.cloth.width_in_reed - brief.fit.selvedge * sum(
        1 / (brief.sett if run.code == "A" else per_inch(10)) for run in (plan.cloth.pattern[0], plan.cloth.pattern[-1])
    )
    assert (
        abs(inner - brief.width_in_reed) <= brief.fit.multiple / per_inch(10) / 2 or plan.cloth.ends_here <= 2 + 2 * 2
    )


@SOME
@given(brief=briefs())
def test_every_choice_of_the_edges_keeps_its_word(brief):
    plan = work_out(brief)
    fixed = replace(brief, width_in_reed=None, fit=replace(brief.fit, multiple=1))
    for choice in plan.choices.edges:
        if choice.kind in {EdgeKind.FEWER, EdgeKind.MORE}:
            again = work_out(replace(fixed, ends=choice.ends, shift=choice.shift))
            assert [section.filled for section in again.winding.sections] == [1] * choice.sections
        if choice.kind is EdgeKind.SHIFT:
            again = work_out(replace(fixed, ends=choice.ends, shift=choice.shift))
            assert sum(section.filled < 1 for section in again.winding.sections) <= 1
        assert all(ends >= 0 for ends in choice.edge_ends)
        assert choice.dummy_ends >= 0
        assert choice.shorter >= 0


@SOME
@given(brief=briefs())
def test_every_width_offered_is_had(brief):
    for other in work_out(brief).choices.alternatives:
        ends = other.ends - 2 * brief.fit.selvedge
        again = work_out(replace(brief, width_in_reed=None, ends=ends, shift=other.shift))
        assert (again.cloth.width_in_reed, again.cloth.finished_width) == (other.width, other.finished_width)
        if other.sections_full:
            assert [section.filled for section in again.winding.sections] == [1] * other.sections
