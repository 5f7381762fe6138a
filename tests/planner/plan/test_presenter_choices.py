"""The choices of a plan in words: what a weaver reads beside her numbers."""

from dataclasses import replace
from fractions import Fraction

import pytest

from planner.calc.terms.brief import Bench, Method
from planner.calc.terms.plan import EdgeKind, SlotChange, SpoolWay
from planner.calc.worksheet.work_out import work_out
from planner.plan import presenter_choices as words
from planner.plan.formatter import Formatter
from planner.plan.plan_view import YarnView
from planner.plan.presenter import PlanView
from studio.units import Units
from tests.planner import worked_projects as projects

WHITE = YarnView("B", "8/2 cotton", "white", "#ffffff", 1)


def shown(brief, units=Units.INCH):
    return PlanView(brief, work_out(brief), Formatter(units))


@pytest.mark.parametrize(
    ("off", "on", "text"),
    [
        (((10, 15),), ((1, 6),), "Move 6 B white from slots 10–15 to slots 1–6"),
        (((10, 15),), ((1, 4),), "Take 6 B white off slots 10–15, put 4 on slots 1–4"),
        (((10, 10), (12, 15)), (), "Take 5 B white off slots 10, 12–15"),
        ((), ((3, 3),), "Put 1 B white on slot 3"),
    ],
)
def test_a_change_on_the_rack(off, on, text):
    assert words.change_text(SlotChange("B", off, on), WHITE) == text


def test_every_choice_and_way_has_its_words():
    assert (set(words.EDGE_WORDS), set(words.WAY_WORDS)) == (set(EdgeKind), set(SpoolWay))


def test_rack_order_says_how_good_it_is():
    assert shown(projects.rugs()).rack_work == (
        "Wound in this order, 48 slots of the rack change: the fewest there can be with the spools in the order of the "
        "ends, and those not in use taken off. They take slots 1 to 39, some left free. "
        "Slots count from the left, seen from the back."
    )


def test_rack_order_owns_up_where_the_bound_lies_lower():
    plan = work_out(projects.rugs())
    plan = replace(plan, winding=replace(plan.winding, fewest_moved=40))
    assert "no order needs fewer than 40" in words.rack_work(plan)


def test_one_set_up_needs_no_word_about_order():
    assert shown(projects.towels()).rack_work == ""


def test_each_set_up_after_the_first_lists_its_changes_and_its_loss():
    first, *others = shown(projects.rugs()).setups
    assert (first.changes, first.moved, first.lead_lost) == ((), 0, "")
    assert all(setup.changes and setup.moved and setup.lead_lost == "60 yd" for setup in others)


def test_partial_edges_in_words():
    found = {choice.kind: choice for choice in shown(projects.partial_edges()).edge_choices}
    assert (found["more"].ends, found["more"].width, found["more"].shift) == (
        624, "26 in", "1 in to the right, seen from the seat",
    )  # fmt: skip
    assert (found["spread"].shorter, found["packed"].shorter) == ("11.5 in", "")


def test_widths_that_fit_in_words():
    said = [(other.title, other.ends, other.change) for other in shown(projects.partial_edges()).alternatives]
    assert said == [("Sections full", 576, "24 fewer"), ("Sections full", 624, "24 more")]


def test_repeat_in_the_sections_in_words():
    assert shown(projects.rugs()).repeat_layouts == (
        "The repeat of 30 ends lies in 5 different ways in sections of 24 ends; "
        "a repeat of 24 ends would lie the same in all."
    )


def test_a_repeat_that_fits_is_told_so():
    order = projects.rugs().colour_order
    brief = replace(projects.rugs(), colour_order=tuple(replace(run, ends=run.ends * 4 // 5) for run in order[:1]))
    assert shown(brief).repeat_layouts == "The repeat of 12 ends lies the same in every full section of 24 ends."


def test_no_repeat_is_found_for_sections_of_half_ends():
    brief = projects.throws()
    order = (replace(projects.rugs().colour_order[0], ends=4),)
    assert shown(replace(brief, colour_order=order)).repeat_layouts.endswith("different ways in sections of 7.5 ends.")


def test_unequal_sections_in_words():
    (pair,) = shown(projects.thick_and_thin()).mismatches
    assert (pair.deep.count(","), pair.longer[-2:], pair.share[-1]) == (3, "in", "%")


def test_ways_with_fewer_spools_in_words():
    found = shown(projects.rugs()).fewer_spools
    assert [(way.way, way.spools, way.lead_lost) for way in found] == [
        ("planned", 30, "240 yd"), ("half_pitch", 27, found[1].lead_lost), ("mixed", 24, ""), ("chains", 0, ""),
    ]  # fmt: skip


def test_chains_in_words():
    found = shown(projects.class_warp())
    assert found.tie_marks == (
        "Each chain: 6 ties in one colour on the tops of the pegs, 6 in another below, and 9 choke ties."
    )
    assert shown(projects.class_warp(), Units.METRIC).chains[0].mass == "69.1 g"


def test_box_has_no_ties_and_chains_no_rack():
    box, chains = shown(projects.towels()), shown(projects.class_warp())
    assert (box.tie_marks, chains.rack_work, chains.fewer_spools, chains.mismatches) == ("", "", (), ())


@pytest.mark.parametrize("make", projects.ALL, ids=lambda make: make.__name__)
@pytest.mark.parametrize("units", list(Units))
def test_every_project_can_be_shown(make, units):
    found = shown(make(), units)
    assert bool(found.setups) == (found.box and found.sectional)
    assert all(choice.title and choice.width for choice in found.edge_choices)


def test_a_small_rack_is_told_of_half_sections():
    plan = work_out(replace(projects.towels(), bench=Bench(rack_spools=24, spool_step=Fraction(1))))
    said = next(remark for remark in plan.remarks if remark.code == "half_pitch_fits_rack")
    assert (said.values["at_once"].value, said.values["tyings"].value) == (20, 24)


def test_each_layout_is_named_with_the_sections_and_set_ups_where_it_occurs():
    """The fourth worked project: five layouts, each at k, k + 5 and k + 10 of its fifteen sections from 4 on."""
    found = shown(projects.rugs()).layouts
    assert [one.sections for one in found] == [f"{first}, {first + 5}, {first + 10}" for first in range(4, 9)]
    assert [one.seat_text for one in found] == [
        "15 A, 9 B",
        "6 C, 15 A, 3 B",
        "6 B, 6 C, 12 A",
        "3 A, 9 B, 6 C, 6 A",
        "9 A, 9 B, 6 C",
    ]
    assert sorted(one.wound for one in found) == [f"set-up {number}" for number in range(1, 6)]


def test_the_same_stripes_wound_as_chains_have_the_same_layouts():
    box, chains = projects.rugs(), replace(projects.rugs(), method=Method.CHAIN)
    assert shown(chains).repeat_layouts == shown(box).repeat_layouts
    same = [(one.number, one.sections, one.seat_text) for one in shown(box).layouts]
    assert [(one.number, one.sections, one.seat_text) for one in shown(chains).layouts] == same
    assert [one.wound for one in shown(chains).layouts] == [f"chains {k}, {k + 5}, {k + 10}" for k in range(1, 6)]
