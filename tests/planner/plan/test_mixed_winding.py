"""Box and chains in one warp: the five rugs, with the odd layouts as chains, against figures worked by hand.

The studio's fourth worked project has five layouts of 24 ends, each in three of the sections 4 to 18. Here the first
layout, A15 B9 in sections 4, 9 and 14, comes from the box, and the other four are twelve chains. Worked by hand:
A 180, B 108, C 72 ends in all; 45, 27 and 0 of them by the box; 135, 81 and 72 in chains.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.terms.brief import BeamKind, Fit, Method
from planner.calc.terms.plan import ColourRun, SpoolWay
from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import plan_as_data
from planner.plan.card_digest import card_digest
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from studio.units import Units
from tests.planner import worked_projects as projects
from tests.planner.worked_projects import YD, inches, per_inch

BOXED = (4, 9, 14)
ODD = tuple(place for place in range(4, 19) if place not in BOXED)
PLAN = work_out(replace(projects.rugs(), chain_sections=ODD))
ALL_BOX = work_out(projects.rugs())
SOME = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def mixed(*places, **changes):
    return work_out(replace(projects.rugs(), chain_sections=places, **changes))


def codes(plan):
    return [remark.code for remark in plan.remarks]


def remark(plan, code):
    return next(remark for remark in plan.remarks if remark.code == code)


def sums(plan, key):
    return [line for line in plan.sums if line.key == key]


def shown(plan, brief=None):
    return PlanView(brief or projects.rugs(), plan, Formatter(Units.INCH))


# --- The box's side ---


def test_the_box_winds_three_sections_at_one_set_up():
    (setup,) = PLAN.winding.setups
    assert (setup.positions, setup.runs) == (BOXED, (ColourRun("A", 15), ColourRun("B", 9)))
    assert {section.position: section.setup for section in PLAN.winding.sections} == {
        **dict.fromkeys(ODD, 0),
        4: 1,
        9: 1,
        14: 1,
    }


def test_24_spools_serve_three_sections_each_and_none_has_the_third_colour():
    """Three sections of 13 1/2 yd: 40 1/2 yd on each, by the empty beam."""
    groups = [(group.code, group.spools, group.sections, group.nominal_length / YD) for group in PLAN.winding.spools]
    assert groups == [("A", 15, 3, Fraction("40.5")), ("B", 9, 3, Fraction("40.5"))]


def test_nothing_is_threaded_anew():
    assert "rethreads" not in codes(PLAN)
    assert all(group.lead_lost == 0 for group in PLAN.winding.spools)


def test_turns_and_lengths_on_the_beam_are_the_boxs():
    assert (PLAN.beam.turns, PLAN.beam.real_length, PLAN.beam.end_circumference) == (
        13,
        ALL_BOX.beam.real_length,
        ALL_BOX.beam.end_circumference,
    )
    assert [s.real_length for s in PLAN.winding.sections] == [s.real_length for s in ALL_BOX.winding.sections]


# --- The chains' side ---


def test_twelve_chains_of_twelve_passes_in_raddle_groups_of_six():
    """Twenty-four ends two at a time; half an inch of raddle at 12 to the inch holds six."""
    assert [chain.position for chain in PLAN.winding.chains] == list(ODD)
    assert {(chain.ends, chain.passes, chain.odd_ends, chain.groups) for chain in PLAN.winding.chains} == {
        (24, 12, 0, ((4, 6),))
    }


def test_chains_keep_the_colours_of_their_sections():
    runs = {section.position: section.runs for section in PLAN.winding.sections}
    assert all(chain.runs == runs[chain.position] for chain in PLAN.winding.chains)


def test_a_chain_is_as_long_as_its_section_takes_on_up_to_the_next_quarter_yard():
    """Thirteen turns take on 13.18 yd by the hand-worked figures; a board of nine-inch steps makes it 13 1/4."""
    assert {chain.length / YD for chain in PLAN.winding.chains} == {Fraction("13.25")}


def test_the_length_of_the_chains_is_a_sum_of_its_own():
    (line,) = sums(PLAN, "chain_length")
    put_in = dict(line.inputs)
    assert (put_in["turns"].value, line.result.value) == (13, Fraction("13.25") * YD)
    assert line.label == "Length of a chain, sections 5–8, 10–13, 15–18"


def test_a_chain_weighs_its_ends_times_its_length():
    """24 ends of 13.25 yd are 318 yd; 1680 yd weigh a pound."""
    assert {chain.mass for chain in PLAN.winding.chains} == {Fraction("318") / 1680 * projects.POUND}


def test_ties_come_every_yard_and_the_last_before_the_last_turn():
    assert [tie.distance / YD for tie in PLAN.winding.ties] == list(range(1, 14))
    assert all(a.turn < b.turn for a, b in zip(PLAN.winding.ties, PLAN.winding.ties[1:], strict=False))
    assert 12 < PLAN.winding.ties[-1].turn < 13
    assert (PLAN.winding.tie_marks.tops, PLAN.winding.tie_marks.bottoms, PLAN.winding.tie_marks.chokes) == (6, 6, 13)


def test_a_tie_on_what_is_left_of_the_chain_never_reaches_the_beam():
    """A board of three-yard steps makes chains of 15 yd; at 13.18 yd the turns are done."""
    plan = mixed(5, bench=replace(projects.FINE_BENCH, board_step=3 * YD))
    assert (plan.winding.chains[0].length / YD, [tie.turn is None for tie in plan.winding.ties]) == (
        15,
        [False] * 13 + [True],
    )


def test_unequal_sections_have_chains_of_their_own_lengths():
    """Eighteen turns of 0.0122 and 0.0098 in a turn differ by 2.4 in; the board goes by one inch here."""
    bench = replace(projects.FINE_BENCH, board_step=inches(1))
    thick, thin = sorted(place.position for place in work_out(projects.thick_and_thin()).winding.sections)[1:3][::-1]
    plan = work_out(replace(projects.thick_and_thin(18), chain_sections=(thick, thin), bench=bench))
    lengths = {chain.position: chain.length for chain in plan.winding.chains}
    assert inches(1) < lengths[thick] - lengths[thin] < inches(4)
    assert len(sums(plan, "chain_length")) == 2
    said = remark(plan, "board_paths").values
    assert (said["shortest"].value, said["longest"].value) == (lengths[thin], lengths[thick])
    assert shown(plan, projects.thick_and_thin()).tie_marks.endswith("choke ties, or as many as fit.")


# --- Yarn ---


def test_yarn_by_the_empty_beam_counts_both_ways():
    """A 45 x 13.5 + 135 x 13, B 27 x 13.5 + 81 x 13, C 72 x 13: 4716 yd, half a yard for 288 ends less than 4860."""
    found = [need.warp_nominal / YD for need in PLAN.yarn.needs]
    assert found == [Fraction("2362.5"), Fraction("1417.5"), 936]
    assert sum(found) == 4860 - Fraction(288, 2)


def test_yarn_to_wind_is_what_spools_and_chains_take():
    """C lies in chains alone: 72 ends of 13.25 yd, 954 yd."""
    a, b, c = PLAN.yarn.needs
    by_box = {group.code: group.spools * group.to_wind for group in PLAN.winding.spools}
    assert a.warp_real == by_box["A"] + 135 * Fraction("13.25") * YD
    assert b.warp_real == by_box["B"] + 81 * Fraction("13.25") * YD
    assert c.warp_real == 954 * YD


def test_the_sums_of_the_yarn_add_spools_and_chains():
    assert [line.key for line in PLAN.sums if line.key.startswith("warp_yarn")] == [
        "warp_yarn_spools", "warp_yarn_spools", "warp_yarn_chains",
    ]  # fmt: skip
    for line, need in zip(
        (*sums(PLAN, "warp_yarn_spools"), *sums(PLAN, "warp_yarn_chains")), PLAN.yarn.needs, strict=True
    ):
        numbers = [quantity.value for _, quantity in line.inputs]
        assert sum(a * b for a, b in zip(numbers[::2], numbers[1::2], strict=True)) == need.warp_real


def test_chains_bear_no_waste_of_the_box():
    loss = replace(projects.rugs().allowances, section_waste=10 * YD)
    assert mixed(*ODD, allowances=loss).yarn.needs[2].warp_real == PLAN.yarn.needs[2].warp_real


def test_a_yarn_of_one_section_that_is_a_chain_is_not_counted_off_in_spools():
    brief = replace(projects.waiting_section(), chain_sections=(14,))
    plan = work_out(brief)
    assert [chain.ends for chain in plan.winding.chains] == [36]
    assert ("yarn_short" in codes(plan), "yarn_for_fewer" in codes(plan)) == (True, False)


# --- Which sections are chains ---


def test_all_sections_named_are_the_method_chains():
    by_name, by_method = mixed(*range(4, 19)), work_out(replace(projects.rugs(), method=Method.CHAIN))
    extra = {"all_sections_as_chains"}
    assert set(codes(by_name)) - set(codes(by_method)) == extra
    assert replace(by_name, remarks=()) == replace(by_method, remarks=())


def test_positions_without_ends_are_a_note_and_change_nothing():
    plan = mixed(1, 2, 3, *ODD, 19)
    assert remark(plan, "chain_sections_empty").values == {"places": "1–3, 19"}
    assert replace(plan, remarks=()) == replace(PLAN, remarks=())


def test_positions_without_ends_alone_leave_the_warp_to_the_box():
    plan = mixed(1, 21)
    assert replace(plan, remarks=()) == replace(ALL_BOX, remarks=())
    assert set(codes(plan)) - set(codes(ALL_BOX)) == {"chain_sections_empty"}


def test_positions_are_nothing_to_the_method_chains():
    assert mixed(5, method=Method.CHAIN) == work_out(replace(projects.rugs(), method=Method.CHAIN))


def test_positions_are_nothing_to_a_plain_beam():
    brief = projects.runner()
    assert brief.loom.beam.kind is BeamKind.PLAIN
    assert work_out(replace(brief, chain_sections=(1, 2))) == work_out(brief)


def test_order_and_repetition_of_the_positions_change_nothing():
    assert mixed(*ODD[::-1], 5, 5) == PLAN


# --- Advice ---


def test_a_mixed_warp_is_told_how_both_go_together():
    said = remark(PLAN, "mixed_winding").values
    assert (said["chains"], said["box"], said["turns"].value) == ("5–8, 10–13, 15–18", "4, 9, 14", 13)
    assert "chain_length_reckoned" in codes(PLAN)
    words = Formatter(Units.INCH).sentence(remark(PLAN, "mixed_winding"))
    assert all(part in f"{words.text} {words.advice}" for part in ("same start mark", "before you cut", "nobody can"))


def test_a_measured_depth_is_trusted():
    rugs = projects.rugs()
    beam = replace(rugs.loom.beam, depth_per_turn=inches("0.0122"))
    plan = work_out(replace(rugs, chain_sections=ODD, loom=replace(rugs.loom, beam=beam)))
    assert ("mixed_winding" in codes(plan), "chain_length_reckoned" in codes(plan)) == (True, False)


def test_a_board_too_short_for_the_chains_is_told():
    bench = replace(projects.FINE_BENCH, board_path_max=13 * YD)
    said = remark(mixed(*ODD, bench=bench), "board_too_short").values
    assert (said["length"].value, said["path"].value) == (Fraction("13.25") * YD, 13 * YD)


def test_the_rack_need_hold_only_what_the_box_winds():
    """Layouts have 24 ends each; with the edges' two selvedge ends apart the rack needs no more than 24 places."""
    fit = Fit(whole_repeats=True, selvedge=2)
    bench = replace(projects.FINE_BENCH, rack_spools=24)
    whole, apart = mixed(fit=fit, bench=bench), mixed(4, 18, fit=fit, bench=bench)
    assert ["spools_over_rack" in codes(plan) for plan in (whole, apart)] == [True, False]


def test_cautions_of_the_box_stay():
    assert {"caution_beam", "caution_box"} <= set(codes(PLAN))


# --- Ways with fewer spools ---


def test_the_mixed_way_names_the_sections_that_become_chains():
    way = next(way for way in ALL_BOX.winding.fewer_spools if way.way is SpoolWay.MIXED)
    assert way.chain_sections == ODD


def test_wound_so_the_plan_is_what_the_way_promised():
    way = next(way for way in ALL_BOX.winding.fewer_spools if way.way is SpoolWay.MIXED)
    planned = mixed(*way.chain_sections).winding.fewer_spools[0]
    assert replace(planned, way=SpoolWay.MIXED) == way


def test_a_mixed_plan_is_not_offered_to_itself():
    assert [way.way.value for way in PLAN.winding.fewer_spools] == ["planned", "half_pitch", "chains"]


def test_only_the_mixed_way_is_asked_for_and_only_where_the_beam_has_the_places():
    assert {way.way: way.asked for way in shown(ALL_BOX).fewer_spools if way.asked} == {"mixed": "5-8, 10-13, 15-18"}
    narrow = replace(projects.rugs().loom, beam=replace(projects.rugs().loom.beam, sections=13))
    brief = replace(projects.rugs(), loom=narrow)
    assert not any(way.asked for way in shown(work_out(brief), brief).fewer_spools)


# --- Whatever is named ---


@SOME
@given(places=st.sets(st.integers(1, 21)), order=st.lists(st.integers(1, 30), min_size=1, max_size=6))
def test_every_end_is_wound_once_and_no_spool_serves_a_chain(places, order):
    runs = tuple(ColourRun("ABC"[at % 3], ends) for at, ends in enumerate(order))
    plan = mixed(*places, colour_order=runs, fit=Fit())
    chained = {chain.position for chain in plan.winding.chains}
    boxed = [section for section in plan.winding.sections if section.position not in chained]
    assert (
        sum(chain.ends for chain in plan.winding.chains) + sum(section.ends for section in boxed)
        == plan.cloth.ends_here
    )
    assert chained == places & {section.position for section in plan.winding.sections}
    assert sorted(place for setup in plan.winding.setups for place in setup.positions) == [s.position for s in boxed]
    served = Counter({group.code: 0 for group in plan.winding.spools})
    for group in plan.winding.spools:
        served[group.code] += group.spools * group.sections
    held = Counter(dict.fromkeys(served, 0))
    for section in boxed:
        for run in section.runs:
            held[run.code] += run.ends
    assert served == held


@SOME
@given(places=st.sets(st.integers(1, 21)))
def test_chains_are_long_enough_and_the_box_does_as_if_they_were_not_there(places):
    plan = mixed(*places)
    lengths = {section.position: section.real_length for section in plan.winding.sections}
    assert all(float(chain.length) >= lengths[chain.position] * (1 - 1e-8) for chain in plan.winding.chains)
    whole = {setup.runs: setup.positions for setup in ALL_BOX.winding.setups}
    chained = {chain.position for chain in plan.winding.chains}
    if plan.winding.setups:
        left = {runs: tuple(p for p in held if p not in chained) for runs, held in whole.items()}
        assert {setup.runs: setup.positions for setup in plan.winding.setups} == {
            r: held for r, held in left.items() if held
        }
        assert sum(setup.moved for setup in plan.winding.setups) <= sum(setup.moved for setup in ALL_BOX.winding.setups)


# --- Shown ---


def test_each_section_says_how_it_is_wound():
    found = shown(PLAN)
    assert (found.mixed, found.wound_as) == (True, "Winding method")
    assert [row.wound.replace("\N{NO-BREAK SPACE}", " ") for row in found.sections][:3] == [
        "set-up 1", "chain 1", "chain 2",
    ]  # fmt: skip


def test_chains_that_are_alike_stand_on_one_line():
    lines = [(chain.numbers, chain.positions, chain.length) for chain in shown(PLAN).chains]
    assert lines == [
        ("1, 5, 9", "5, 10, 15", "13.25 yd"), ("2, 6, 10", "6, 11, 16", "13.25 yd"),
        ("3, 7, 11", "7, 12, 17", "13.25 yd"), ("4, 8, 12", "8, 13, 18", "13.25 yd"),
    ]  # fmt: skip


@pytest.mark.parametrize("make", [projects.rugs, projects.towels, projects.class_warp, projects.runner])
def test_a_warp_wound_one_way_is_not_mixed(make):
    assert not shown(work_out(make()), make()).mixed


def test_other_chains_are_other_deeds():
    digests = {card_digest(plan_as_data(plan, Units.METRIC)) for plan in (ALL_BOX, PLAN, mixed(5), mixed(6))}
    assert len(digests) == 4


def test_a_chain_of_another_length_is_another_deed():
    other = mixed(*ODD, bench=replace(projects.FINE_BENCH, board_step=YD))
    assert card_digest(plan_as_data(other, Units.METRIC)) != card_digest(plan_as_data(PLAN, Units.METRIC))


def test_sett_of_half_ends_gives_odd_chains():
    """Two throws at 7 1/2 to the inch: sections of seven leave one end over."""
    brief = replace(projects.throws(), chain_sections=(6, 7))
    plan = work_out(brief)
    assert [(chain.ends, chain.passes, chain.odd_ends) for chain in plan.winding.chains] == [(7, 3, 1), (8, 4, 0)]
    assert brief.sett == per_inch("7.5")
    assert "odd_ends" in codes(plan)
