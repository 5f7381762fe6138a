"""Cost in whole plans: each yarn, all of it, and one piece's part, held to a sum worked by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.terms.brief import Allowances, BeamFacts, BeamKind, LoomFacts, Method, WarpBrief, YarnChoice
from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from studio.units import Units
from tests.planner import worked_projects
from tests.planner.calc.worksheet.test_work_out import briefs

WARP = YarnChoice("A", "warp", Fraction(150), price=Fraction(24, 1000))
WEFT = YarnChoice("W", "weft", Fraction(100), price=Fraction(40, 1000))


def two_scarves(**changes):
    """Give two pieces of a metre, 100 ends at 8 to the cm, without any loss but the loom's 90 cm."""
    loom = LoomFacts("Dunlin", Fraction(100), BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100)), Fraction(90))
    start = WarpBrief(
        "Two scarves", loom, (WARP,), Fraction(8), ends=100, pieces=2, finished_length=Fraction(100),
        method=Method.CHAIN, weft=WEFT, picks=Fraction(5), allowances=Allowances(waste=Fraction(90)),
    )  # fmt: skip
    return replace(start, **changes)


def lines(brief):
    return {line.key: line for line in work_out(brief).sums if line.key.startswith("cost")}


def test_two_scarves_cost_what_their_yarn_does():
    """Worked by hand.

    Warp: 2 x 100 + 90 = 290 cm, up to 13 steps of 9 in: 297.18 cm; 100 ends are 297.18 m, at 150 tex 44.577 g, at
    2.40 for 100 g 1.069848. Weft: 5 picks/cm x 200 cm x 12.5 cm x 1.1 = 137.5 m, at 100 tex 13.75 g, at 4.00 for
    100 g 0.55. Together 1.619848, each of the two 0.809924.
    """
    cost = work_out(two_scarves()).yarn.cost
    assert (cost.warp, cost.weft) == (Fraction("1.069848"), Fraction("0.55"))
    assert (cost.whole, cost.of_a_piece) == (Fraction("1.619848"), Fraction("0.809924"))


def test_the_sums_of_cost_say_the_price_of_100_g_and_add_up():
    said = {key: Formatter(Units.METRIC).line(line) for key, line in lines(two_scarves(weft=None)).items()}
    assert (said["cost"].formula, said["cost"].result) == ("44.58 g × 2.40 per 100 g", "1.07")
    assert (said["cost_of_cloth"].formula, said["cost_of_cloth"].result) == ("1.07 + 0.00", "1.07")
    assert (said["cost_of_piece"].formula, said["cost_of_piece"].result) == ("1.07 ÷ 2", "0.53")


@pytest.mark.parametrize("changes", [{"weft": replace(WEFT, price=None)}, {"yarns": (replace(WARP, price=None),)}])
def test_a_price_that_nobody_knows_leaves_no_total(changes):
    brief = two_scarves(**changes)
    assert work_out(brief).yarn.cost is None
    assert lines(brief).keys() == {"cost"}


def test_a_yarn_that_is_not_used_need_have_no_price():
    spare = YarnChoice("B", "spare", Fraction(150))
    order = worked_projects.ColourRun("A", 1)
    assert (
        work_out(two_scarves(yarns=(WARP, spare), colour_order=(order,))).yarn.cost == work_out(two_scarves()).yarn.cost
    )


def test_a_single_piece_and_a_warp_without_pieces_have_no_part():
    assert "cost_of_piece" not in lines(two_scarves(pieces=1))
    by_length = two_scarves(finished_length=None, warp_length=Fraction(290))
    assert "cost_of_piece" not in lines(by_length)
    assert work_out(by_length).yarn.cost.of_a_piece == work_out(by_length).yarn.cost.whole


def test_the_page_shows_the_total_and_each_piece():
    shown = [PlanView(brief, work_out(brief), Formatter(Units.METRIC)).cost for brief in (
        two_scarves(), two_scarves(pieces=1), two_scarves(weft=replace(WEFT, price=None)),
    )]  # fmt: skip
    assert (shown[0].whole, shown[0].pieces, shown[0].of_a_piece) == ("1.62", 2, "0.81")
    assert (shown[1].pieces, shown[2]) == (1, None)
    warp_alone = two_scarves(weft=None)
    with_weft = [
        PlanView(one, work_out(one), Formatter(Units.METRIC)).cost.with_weft for one in (two_scarves(), warp_alone)
    ]
    assert with_weft == [True, False]


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(brief=briefs(), prices=st.tuples(*[st.fractions(0, 1, max_denominator=100)] * 3))
def test_the_yarns_together_cost_the_whole(brief, prices):
    yarns = tuple(replace(yarn, price=price) for yarn, price in zip(brief.yarns, prices, strict=True))
    brief = replace(brief, yarns=yarns, weft=None)
    plan = work_out(brief)
    assert (
        plan.yarn.cost.whole == sum(need.cost for need in plan.yarn.needs) == plan.yarn.cost.warp + plan.yarn.cost.weft
    )
