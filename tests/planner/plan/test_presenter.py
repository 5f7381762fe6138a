"""A plan in words: one way of writing colours in each table, and each piece of advice once."""

from dataclasses import replace
from fractions import Fraction

import pytest

from planner.calc.terms.plan import ColourRun, KnotPlace
from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from studio.units import Units
from tests.planner.briefs import INCH, sectional_brief

FORMATTER = Formatter(Units.INCH)


def striped(*order):
    return sectional_brief(colour_order=tuple(ColourRun(code, ends) for code, ends in order))


def texts(brief):
    return [row.seat_text for row in PlanView(brief, work_out(brief), FORMATTER).sections]


def test_few_runs_are_written_with_their_colours():
    assert set(texts(striped(("A", 40), ("B", 40)))) == {"40 A natural", "40 B indigo"}


def test_one_row_of_many_runs_puts_the_whole_table_in_codes():
    """Seventeen and thirty-one ends in turn: some sections of forty hold two runs, others three."""
    rows = texts(striped(("A", 17), ("B", 31)))
    assert {row.count(",") for row in rows} == {1, 2}
    assert not any("natural" in row or "indigo" in row for row in rows)


@pytest.mark.parametrize(
    ("past", "to_next", "clear", "said"),
    [
        (7, 2, False, "The leader knot lands 2 in before a bar. Shorten every leader by 2.5 in."),
        (2, 7, False, "The leader knot lands 2 in past a bar. Lengthen every leader by 2.5 in."),
        (0, 9, False, "The leader knot lands on a bar. Lengthen every leader by 4.5 in."),
        (4, 5, True, "The leader knot lands 4 in past a bar, clear in the gap."),
    ],
)
def test_the_knot_is_placed_by_the_bar_it_is_nearest_to(past, to_next, clear, said):
    """Nine inches from bar to bar, so the middle of the gap lies four and a half inches past each."""
    mend = (Fraction(9, 2) - past) * INCH
    place = KnotPlace(past * float(INCH), to_next * float(INCH), clear=clear, mend=float(mend))
    brief = sectional_brief()
    plan = work_out(brief)
    plan = replace(plan, winding=replace(plan.winding, knot=place))
    assert PlanView(brief, plan, FORMATTER).knot == said


def test_advice_on_the_knot_is_given_once():
    brief = sectional_brief()
    brief = replace(brief, loom=replace(brief.loom, beam=replace(brief.loom.beam, bars=4, leader=36 * INCH)))
    plan = work_out(brief)
    shown = PlanView(brief, plan, FORMATTER)
    assert "knot_on_bar" in {remark.code for remark in plan.remarks}
    assert [remark.text for remark in shown.remarks if "knot" in remark.text] == []
    assert "every leader by" in shown.knot
