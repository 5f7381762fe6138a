"""Pictures of plans: everything in its place, the same warp from both sides, small however many stripes."""

import itertools
import re
from dataclasses import replace
from fractions import Fraction

import pytest

from planner.calc.terms.brief import Layout
from planner.calc.terms.plan import ColourRun
from planner.calc.worksheet.work_out import work_out
from planner.plan.charts import draw_curve, draw_stock
from planner.plan.drawings import SIDE, WIDE, draw_beam
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from studio.units import Units
from tests.planner.briefs import plain_brief, sectional_brief


def drawn(brief):
    plan, formatter = work_out(brief), Formatter(Units.INCH)
    return plan, draw_beam(brief, plan, PlanView(brief, plan, formatter).yarns, formatter)


def widths(path):
    return [float(width) for width in re.findall(r"h([\d.]+)v", path)]


def test_each_section_is_drawn_once_at_its_position():
    brief = sectional_brief()
    plan, beam = drawn(brief)
    step = (WIDE - 2 * SIDE) / brief.loom.beam.sections
    places = [round((block.left - SIDE) / step) + 1 for block in beam.blocks]
    assert places == [section.position for section in plan.winding.sections]


def test_used_and_unused_sections_fill_the_beam():
    _, beam = drawn(sectional_brief())
    together = sum(block.width for block in beam.blocks) + sum(widths(beam.empty))
    assert together == pytest.approx(WIDE - 2 * SIDE, abs=1)


def test_stripes_are_as_wide_as_their_ends():
    brief = sectional_brief(colour_order=(ColourRun("A", 30), ColourRun("B", 10)))
    _, beam = drawn(brief)
    first = {stripes.fill: sum(widths(stripes.d)) for stripes in beam.blocks[0].stripes}
    assert first["url(#yarn-0)"] == pytest.approx(3 * first["url(#yarn-1)"], rel=0.02)


def test_a_partial_edge_lies_against_its_neighbour():
    _, beam = drawn(sectional_brief(width_in_reed=Fraction(254 * 25, 100)))
    first, second = beam.blocks[:2]
    assert first.width < second.width
    assert first.left + first.width == pytest.approx(second.left)


def test_the_view_from_the_back_mirrors_places_and_keeps_numbers():
    _, beam = drawn(sectional_brief())
    seat, back = beam.views
    mirrored = {text: round(WIDE - float(x), 1) for x, text in back.numbers}
    assert mirrored == {text: float(x) for x, text in seat.numbers}


def test_both_views_say_whose_left_it_is():
    _, beam = drawn(sectional_brief())
    assert [view.left for view in beam.views] == ["Left, seen from the seat", "Left, seen from the back"]


def test_labels_never_run_together_on_a_beam_of_sixty_sections():
    brief = sectional_brief(sections=60, width_in_reed=Fraction(254 * 110, 100))
    for view in drawn(brief)[1].views:
        for labels in (view.numbers, view.ends):
            places = sorted(float(x) for x, _ in labels)
            assert all(b - a >= 18 for a, b in itertools.pairwise(places))


def test_every_count_of_ends_is_written_where_narrow_edges_join_full_sections():
    plan, beam = drawn(sectional_brief(sections=30, width_in_reed=Fraction(254 * 25, 100)))
    written = [int(text) for _, text in beam.views[0].ends]
    assert (written[0], written[-1]) == (plan.winding.sections[0].ends, plan.winding.sections[-1].ends)
    assert set(written) == {section.ends for section in plan.winding.sections}


def test_depth_is_drawn_to_the_scale_of_the_rakes():
    brief = sectional_brief()
    plan, beam = drawn(brief)
    height = float(re.search(r"v-([\d.]+)h", beam.depth)[1])
    assert height / 80 == pytest.approx(plan.winding.sections[0].depth / float(brief.loom.beam.rake_height), abs=0.001)


def test_a_line_stands_over_each_chain_and_over_no_section_of_the_box():
    plan, beam = drawn(sectional_brief(chain_sections=(8, 11, 12)))
    starts = [float(x) for x in re.findall(r"M([\d.]+) ", beam.chains)]
    over = [
        section.position
        for section, block in zip(plan.winding.sections, beam.blocks, strict=True)
        if any(block.left < x < block.left + block.width for x in starts)
    ]
    assert (over, len(starts)) == ([8, 11, 12], 3)
    assert all("Wound as chains: 8, 11–12." in view.alternative for view in beam.views)


@pytest.mark.parametrize("make", [sectional_brief, plain_brief])
def test_no_line_stands_over_a_warp_that_is_wound_one_way(make):
    _, beam = drawn(make())
    assert (beam.chains, "beaded" in beam.caption) == ("", False)


def test_yarn_above_the_rakes_still_fits_into_the_picture():
    _, beam = drawn(sectional_brief(finished_length=None, turns=400))
    assert float(re.search(r"v-([\d.]+)h", beam.depth)[1]) < 130


def test_a_thousand_stripes_stay_a_small_picture():
    order = (ColourRun("A", 1), ColourRun("B", 1))
    _, beam = drawn(sectional_brief(colour_order=order, colour_layout=Layout.REPEAT))
    assert sum(len(stripes.d) for block in beam.blocks for stripes in block.stripes) < 30_000


def test_every_yarn_has_a_hatch_of_its_own_in_grey():
    _, beam = drawn(sectional_brief(colour_order=(ColourRun("A", 3), ColourRun("B", 1))))
    assert len({swatch.hatch for swatch in beam.swatches}) == len(beam.swatches)


def test_chains_lie_side_by_side_on_a_plain_beam():
    plan, beam = drawn(plain_brief())
    assert len(beam.blocks) == len(plan.winding.chains)
    assert all(a.left + a.width == pytest.approx(b.left) for a, b in zip(beam.blocks, beam.blocks[1:], strict=False))
    assert not beam.has_rakes


def test_stock_bars_share_one_scale():
    brief = sectional_brief()
    brief = replace(brief, yarns=tuple(replace(yarn, on_hand=Fraction(5000)) for yarn in brief.yarns))
    plan = work_out(brief)
    bar = draw_stock(plan, PlanView(brief, plan, Formatter(Units.INCH)).needs)[0]
    assert float(bar.needed) / float(bar.there) == pytest.approx(float(plan.yarn.needs[0].warp_mass) / 5000, rel=0.02)


def test_the_curve_bends_above_the_plain_line():
    brief = sectional_brief()
    plan = work_out(brief)
    curve = draw_curve(brief, plan, PlanView(brief, plan, Formatter(Units.INCH)).all_turns)
    top = float(curve.points.split(",")[-1])
    assert top < float(curve.plain.split(",")[-1])


def test_no_curve_where_turns_are_not_counted():
    brief = plain_brief()
    plan = work_out(brief)
    assert draw_curve(brief, plan, ()) is None or plan.beam.turn_table
