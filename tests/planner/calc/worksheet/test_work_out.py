"""The worksheet as a whole: what it refuses, what it never does, and how choices in the brief reach the plan."""

from dataclasses import fields, replace
from fractions import Fraction
from math import ceil, pi
from string import Formatter as Fields

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.beam import turns as beam
from planner.calc.terms.brief import Bench, Centre, Fit, Layout, MarginOn, Method, ReedFacts
from planner.calc.terms.plan import ColourRun, Severity, WarpPlan
from planner.calc.terms.problems import problems_of
from planner.calc.worksheet.sums import WORDS, line, of
from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from studio.units import Units
from tests.planner import worked_projects as projects
from tests.planner.worked_projects import IN, YD, inches, per_inch, share, yards

ORDERS = st.lists(st.tuples(st.sampled_from("ABC"), st.integers(1, 30)), min_size=1, max_size=5)
ORDER_OF_ROOM = ["ample", "fair", "tight", "none"]
LOUDNESS = [Severity.STOP, Severity.WARN, Severity.NOTE]


def with_beam(brief, **facts):
    return replace(brief, loom=replace(brief.loom, beam=replace(brief.loom.beam, **facts)))


def with_losses(brief, **losses):
    return replace(brief, allowances=replace(brief.allowances, **losses))


def shown(plan, key):
    return next(line for line in plan.sums if line.key == key)


def codes(plan):
    return [remark.code for remark in plan.remarks]


@pytest.mark.parametrize("make", projects.ALL)
def test_the_same_brief_gives_the_same_plan(make):
    assert work_out(make()) == work_out(make())


@pytest.mark.parametrize("make", projects.ALL)
def test_remarks_stand_loudest_first(make):
    order = [LOUDNESS.index(remark.severity) for remark in work_out(make()).remarks]
    assert order == sorted(order)


# --- Sums ---


def test_every_line_of_words_names_inputs_that_can_be_filled():
    for key, (_, _, formula, _) in WORDS.items():
        names = {name for _, name, _, _ in Fields().parse(formula) if name}
        made = line(key, of(1, "count"), {name: of(1, "count") for name in names})
        assert made.formula == formula


def test_a_line_with_other_inputs_is_refused():
    with pytest.raises(ValueError, match="working_sett"):
        line("working_sett", of(1, "sett"), {"greatest": of(1, "sett")})


@pytest.mark.parametrize("make", projects.ALL)
@pytest.mark.parametrize("units", list(Units))
def test_every_sum_can_be_read_in_either_unit(make, units):
    formatter = Formatter(units)
    lines = [formatter.line(found) for found in work_out(make()).sums]
    assert len(lines) > 15
    assert not [found.key for found in lines if "{" in found.formula or "…" in found.formula or not found.source]


def test_every_line_of_words_is_used_by_some_plan():
    brief = projects.towels()
    weft = replace(brief.yarns[0], code="W", name="weft", price=Fraction(1, 100))
    plans = [work_out(make()) for make in projects.ALL]
    plans += [
        work_out(replace(brief, weft=weft, picks=per_inch(18), bench=replace(brief.bench, comb_dents=per_inch(10)))),
        work_out(with_beam(brief, depth_per_turn=inches("0.0102"), bars=4, leader=inches(40))),
        work_out(replace(brief, yarns=(replace(brief.yarns[0], wraps=per_inch(40)),), fit=Fit(selvedge=2))),
        work_out(with_losses(projects.runner(), fringe=inches(3))),
        work_out(projects.two_beams("", N=12)),
        work_out(projects.two_beams("", T=Fraction(1, 10))),
        work_out(replace(brief, shift=inches(-2))),
        work_out(projects.towels_measured()),
        work_out(replace(brief, yarns=(replace(brief.yarns[0], price=Fraction(1, 100)),))),
        work_out(replace(projects.thick_and_thin(), ends=None, width_in_reed=inches(24))),
        work_out(replace(projects.rugs(), chain_sections=(5,))),
        work_out(replace(projects.thick_and_thin(), colour_order=(ColourRun("N", 20), ColourRun("T", 30)))),
        work_out(mixed(wraps=(per_inch(28), per_inch(20)))),
        work_out(projects.two_beams()),
        work_out(projects.two_beams("", T=2)),
    ]
    assert {found.key for plan in plans for found in plan.sums} == WORDS.keys()


def test_length_wanted_is_the_sum_of_its_shown_parts():
    found = shown(work_out(projects.class_warp()), "length_wanted")
    assert sum(quantity.value for _, quantity in found.inputs) == found.result.value


# --- Sett ---


def mixed_with_rug_wool():
    """Six ends of 8/2 beside 70 of a wool of 600 yd/lb, all at 20 to the inch."""
    wool = projects.cotton("T", 600, "rug wool", fibre="wool")
    order = (ColourRun("A", 6), ColourRun("T", 70))
    return replace(projects.towels(), yarns=(projects.towels().yarns[0], wool), colour_order=order)


def test_every_yarn_is_held_against_its_own_greatest_sett():
    said = [one.values["yarn"] for one in work_out(mixed_with_rug_wool()).remarks if one.code == "sett_above_greatest"]
    assert said == ["T rug wool"]


def test_a_yarn_at_a_sett_of_its_own_is_held_against_that():
    brief = mixed_with_rug_wool()
    open_wool = replace(brief, yarns=(brief.yarns[0], replace(brief.yarns[1], sett=per_inch(6))))
    assert "sett_above_greatest" not in codes(work_out(open_wool))


def test_greatest_setts_are_shown_once_for_each_thickness_with_the_yarn():
    labels = [found.label for found in work_out(mixed_with_rug_wool()).sums if found.key == "greatest_sett"]
    assert labels == ["Maximum sett, A 8/2 cotton", "Maximum sett, T rug wool"]
    assert [found.label for found in work_out(projects.rugs()).sums if found.key == "greatest_sett"] == ["Maximum sett"]


def mixed(order="4 A, 4 B", wraps=(None, None), **changes):
    """Eight towels of thin and thick cotton by turns, at 16 to the inch."""
    runs = tuple(ColourRun(part.split()[1], int(part.split()[0])) for part in order.split(", "))
    yarns = (
        projects.cotton("A", 3360, "8/2 cotton", wraps=wraps[0]),
        projects.cotton("B", 1680, "8/4 cotton", wraps=wraps[1]),
    )
    return replace(projects.towels(), sett=per_inch(16), yarns=yarns, colour_order=runs, **changes)


SETT_CODES = {"sett_above_greatest", "sett_closer_than_usual", "sett_wider_than_usual"}


def test_a_mixture_at_its_sett_is_not_called_too_open_and_too_close_at_once():
    """The charts have 8/2 at 18 to 24 and 8/4 at 10 to 15; mixed as wide as each lies, by hand 12.9 to 18.5."""
    assert not SETT_CODES & set(codes(work_out(mixed())))


def test_the_greatest_sett_of_a_mixture_follows_from_the_width_its_ends_take():
    """By hand, K 0.90: 52.17 and 36.89 side by side; two ends take 0.04628 in, so 43.22, and half in plain weave."""
    plan = work_out(mixed())
    found = [line.result.value for line in plan.sums if line.key == "greatest_sett"]
    assert [round(float(one * IN), 2) for one in found] == [21.61]


def test_a_mixture_that_cannot_lie_so_close_is_warned_of_once_as_a_mixture():
    said = [one.values["yarn"] for one in work_out(replace(mixed(), sett=per_inch(30))).remarks
            if one.code == "sett_above_greatest"]  # fmt: skip
    assert said == ["A and B mixed"]


def test_wraps_of_a_mixture_propose_its_sett_in_any_weave():
    """By hand: 28 and 20 wraps, as many ends of each: 2 / (1/28 + 1/20) = 23 1/3; two thirds of it in 2/2 twill."""
    brief = mixed(wraps=(per_inch(28), per_inch(20)), weave="twill_2_2")
    assert shown(work_out(brief), "sett_from_wraps").result.value == per_inch(Fraction(140, 9))


def test_wraps_of_one_yarn_alone_are_not_mixed_with_threads_reckoned_by_the_rule():
    assert "sett_from_wraps" not in {line.key for line in work_out(mixed(wraps=(per_inch(28), None))).sums}


@given(first=st.integers(1, 15), second=st.integers(1, 15))
def test_a_mixture_lies_between_its_yarns_and_nearer_the_one_with_more_ends(first, second):
    brief = mixed(f"{first} A, {second} B", ends=None, width_in_reed=inches(24))
    found = [line.result.value for line in work_out(brief).sums if line.key == "greatest_sett"]
    alone = [work_out(replace(brief, yarns=(yarn,), colour_order=())) for yarn in brief.yarns]
    thin, thick = (shown(plan, "greatest_sett").result.value for plan in alone)
    assert len(found) == 1
    assert thick < found[0] < thin


def test_yarns_in_wide_stripes_lie_each_by_itself():
    said = [one.values["yarn"] for one in work_out(mixed("40 A, 40 B")).remarks if one.code in SETT_CODES]
    assert said == ["A 8/2 cotton", "B 8/4 cotton"]


def as_typed(lifts, threaded=(), **changes):
    return replace(projects.towels(), weave="as_typed", lifts=lifts, threading=threaded, **changes)


@pytest.mark.parametrize(
    ("name", "lifts", "threaded"),
    [
        ("plain", ((1, 3), (2, 4)), ()),
        ("twill_2_2", ((1, 2), (2, 3), (3, 4), (1, 4)), ()),
        ("plain", ((1, 2), (3, 4)), (1, 3, 2, 4)),
    ],
)
def test_a_lift_plan_over_its_threading_has_the_sett_of_the_weave_it_makes(name, lifts, threaded):
    """J. T. Taylor, Cotton Weaving and Designing: ends over ends and intersections, whatever the repeat."""
    typed = shown(work_out(as_typed(lifts, threaded)), "greatest_sett")
    assert typed.result.value == shown(work_out(replace(projects.towels(), weave=name)), "greatest_sett").result.value


def test_the_same_lift_plan_on_a_point_draw_crosses_otherwise():
    """By hand, 2/2 twill lifted on 1 2 3 4 3 2: of six ends pick 1 crosses twice, 2 four times, 3 twice, 4 four."""
    plan = work_out(as_typed(((1, 2), (2, 3), (3, 4), (1, 4)), (1, 2, 3, 4, 3, 2)))
    put_in = dict(shown(plan, "greatest_sett").inputs)
    assert (put_in["ends"].value, put_in["intersections"].value) == (24, 12)


def test_shafts_that_a_lift_plan_never_raises_are_named():
    plan = work_out(as_typed(((1,), (2,))))
    assert [one.values["shafts"] for one in plan.remarks if one.code == "shafts_idle"] == ["3, 4"]


@pytest.mark.parametrize(
    ("lifts", "threaded", "code"),
    [
        ((), (), "lifts_missing"),
        (((12,), (34,)), (), "shaft_unknown"),
        (((0, 1), (2,)), (), "shaft_unknown"),
        (((1, 2, 3, 4), ()), (), "never_crosses"),
        (((1,), (2,)), (3, 4), "never_crosses"),
        (((1,), (2,)) * 65, (), "too_large"),
    ],
)
def test_a_lift_plan_that_weaves_nothing_is_refused_beside_its_field(lifts, threaded, code):
    assert [(found.field, found.code) for found in problems_of(as_typed(lifts, threaded))] == [("lifts", code)]


def test_a_shaft_beyond_the_loom_is_told_how_to_be_parted():
    message = problems_of(as_typed(((12,), (34,))))[0].message
    assert "no shaft 34" in message
    assert "3 4 or 3+4" in message


def test_a_lift_plan_beside_a_weave_by_name_is_refused():
    found = problems_of(replace(projects.towels(), lifts=((1,), (2,))))
    assert [one.code for one in found] == ["lifts_not_used"]


def test_yarns_of_one_thickness_are_warned_of_once():
    said = [one.values["yarn"] for one in work_out(replace(projects.rugs(), sett=per_inch(30))).remarks
            if one.code == "sett_above_greatest"]  # fmt: skip
    assert said == ["A, B, C 8/4 cotton"]


# --- Width, ends, selvedges ---


def test_extra_selvedge_ends_are_wound_with_the_edge_sections():
    plan = work_out(replace(projects.towels(), fit=Fit(selvedge=2)))
    assert [section.ends for section in plan.winding.sections] == [42, *[40] * 10, 42]


def test_selvedge_sections_need_their_own_spools():
    plan = work_out(replace(projects.towels(), fit=Fit(selvedge=2)))
    assert [(group.spools, group.sections) for group in plan.winding.spools] == [(40, 12), (2, 2)]


def test_selvedge_ends_do_not_set_the_real_length():
    plain, edged = work_out(projects.towels()), work_out(replace(projects.towels(), fit=Fit(selvedge=2)))
    assert edged.beam.real_length == plain.beam.real_length


def test_selvedges_widen_the_warp():
    plan = work_out(replace(projects.towels(), fit=Fit(selvedge=2)))
    assert plan.cloth.width_in_reed == inches(Fraction(484, 20))


def test_floating_selvedges_are_wound_apart_and_need_yarn():
    plain = work_out(projects.runner())
    floating = work_out(replace(projects.runner(), fit=Fit(floating_selvedge=2)))
    assert (floating.cloth.ends_here, floating.yarn.needs[0].warp_real - plain.yarn.needs[0].warp_real) == (
        282,
        2 * plain.beam.warp_length,
    )


def test_floating_selvedges_are_of_the_yarns_at_their_edges():
    """A warp that starts with A and ends with C floats one end of each."""
    brief = replace(projects.rugs(), method=Method.CHAIN)
    plain, floating = work_out(brief), work_out(replace(brief, fit=Fit(whole_repeats=True, floating_selvedge=2)))
    more = [one.warp_real - other.warp_real for one, other in zip(floating.yarn.needs, plain.yarn.needs, strict=True)]
    assert more == [plain.beam.warp_length, 0, plain.beam.warp_length]


def test_a_single_floating_selvedge_is_of_the_yarn_at_the_left():
    brief = replace(projects.rugs(), method=Method.CHAIN)
    plain, floating = work_out(brief), work_out(replace(brief, fit=Fit(whole_repeats=True, floating_selvedge=1)))
    more = [one.warp_real - other.warp_real for one, other in zip(floating.yarn.needs, plain.yarn.needs, strict=True)]
    assert more == [plain.beam.warp_length, 0, 0]


def test_the_sum_of_a_chain_names_its_floating_selvedges():
    found = shown(work_out(replace(projects.runner(), fit=Fit(floating_selvedge=2))), "warp_yarn_chains")
    assert [quantity.value for _, quantity in found.inputs][::2] == [282, 2]


def test_whole_repeats_keep_the_multiple():
    """Fifteen-end repeats in pairs go by thirty: 365 ends fill the width, 360 are the nearest."""
    order = (ColourRun("A", 9), ColourRun("B", 6))
    brief = replace(projects.rugs(), width_in_reed=inches("30.5"), colour_order=order)
    plan = work_out(replace(brief, fit=Fit(multiple=2, whole_repeats=True)))
    assert (plan.cloth.ends_here, plan.cloth.repeats) == (360, 24)


def test_repeats_are_rounded_once():
    """374.6 ends are nearer to seven fifties than to eight; rounded to 375 first, they would be eight."""
    order = (ColourRun("A", 30), ColourRun("B", 20))
    brief = replace(projects.rugs(), width_in_reed=inches(Fraction("374.6") / 12), colour_order=order)
    assert work_out(replace(brief, fit=Fit(whole_repeats=True))).cloth.ends_here == 350


def test_a_multiple_that_repeats_and_balance_never_make_is_remarked():
    brief = replace(projects.rugs(), fit=Fit(multiple=2, whole_repeats=True, balance=15))
    plan = work_out(brief)
    assert (plan.cloth.ends_here, "multiple_missed" in codes(plan)) == (375, True)


def test_pairs_make_the_count_even():
    plan = work_out(replace(projects.runner(), finished_width=inches("12.1"), fit=Fit(multiple=2)))
    assert plan.cloth.ends_here % 2 == 0


def test_whole_repeats_and_balance():
    brief = replace(projects.rugs(), width_in_reed=inches("30.5"), fit=Fit(whole_repeats=True, balance=15))
    plan = work_out(brief)
    assert (plan.cloth.repeats, plan.cloth.balance, plan.cloth.ends_here) == (12, 15, 375)
    assert "order_not_symmetrical" not in codes(plan)


def test_an_order_as_typed_sets_the_ends():
    brief = replace(projects.rugs(), width_in_reed=None, colour_layout=Layout.AS_TYPED, fit=Fit())
    assert work_out(brief).cloth.ends_here == 30


def test_width_of_a_mixed_warp_is_each_stripe_at_its_own_sett():
    plan = work_out(replace(projects.thick_and_thin(), ends=None, width_in_reed=inches(24)))
    assert (plan.cloth.ends_here, plan.cloth.width_in_reed) == (504, inches(24))


# --- Length and turns ---


def test_margin_on_the_woven_warp_leaves_waste_out():
    everything = work_out(with_losses(projects.class_warp(), margin_on=MarginOn.ALL))
    woven = work_out(projects.class_warp())
    assert everything.length.wanted > woven.length.wanted


def test_a_calibrated_beam_counts_its_build_up():
    """362.3 in wanted: ten turns of 36 in with 0.0102 in of depth hold 363.2."""
    plan = work_out(with_beam(projects.towels(), depth_per_turn=inches("0.0102")))
    assert plan.beam.turns == 10
    assert plan.beam.real_length > plan.length.wanted


def uneven_and_calibrated():
    """A calibrated beam with sections of 8 and of 7 ends, and a length that lies between what both hold."""
    brief = with_beam(projects.throws(), depth_per_turn=inches("0.1"))
    deep = beam.length_of_turns(9, 36 * IN, inches("0.1"))
    return replace(brief, finished_length=None, warp_length=Fraction(deep) - IN / 10)


def test_a_calibrated_beam_is_long_enough_in_its_shallowest_section():
    plan = work_out(uneven_and_calibrated())
    assert plan.beam.turns == 10
    assert min(section.real_length for section in plan.winding.sections) >= plan.length.wanted


def test_the_turns_of_a_calibrated_beam_show_the_least_depth():
    plan = work_out(uneven_and_calibrated())
    depth = dict(shown(plan, "turns_calibrated").inputs)["depth"].value
    assert float(depth) == min(section.depth_per_turn for section in plan.winding.sections)


def test_what_is_left_is_what_the_shortest_section_leaves():
    plan = work_out(with_beam(projects.throws(), depth_per_turn=inches("0.1")))
    shortest = min(section.real_length for section in plan.winding.sections)
    assert float(plan.one_more.left) == pytest.approx(shortest - float(plan.length.wanted), abs=1e-6)


def test_a_calibrated_depth_is_no_guess():
    plan = work_out(with_beam(projects.towels(), depth_per_turn=inches("0.0102")))
    assert "density_guessed" not in codes(plan)


def test_calibration_scales_thin_sections_with_the_ordinary_one():
    guessed, measured = (
        work_out(brief) for brief in (projects.throws(), with_beam(projects.throws(), depth_per_turn=inches("0.03")))
    )
    ratio = [
        section.depth_per_turn / other.depth_per_turn
        for section, other in zip(measured.winding.sections, guessed.winding.sections, strict=True)
    ]
    assert ratio == pytest.approx([ratio[0]] * 36)


def test_thicker_dividers_make_the_yarn_deeper():
    thin, thick = work_out(projects.towels()), work_out(with_beam(projects.towels(), divider=inches("0.25")))
    assert thick.winding.sections[0].depth == pytest.approx(thin.winding.sections[0].depth * 2 / 1.75)


@pytest.mark.parametrize("make", [make for make in projects.ALL if make().method is Method.BOX])
def test_turns_with_build_up_reach_the_length_and_one_less_does_not(make):
    brief = make()
    plan = work_out(brief)
    depth = min(section.depth_per_turn for section in plan.winding.sections)
    empty, turns = brief.loom.beam.circumference, plan.beam.turns_with_build_up
    goal = float(plan.length.wanted) * (1 - beam.LENGTH_TOLERANCE)
    assert beam.length_of_turns(turns - 1, empty, depth) < goal <= beam.length_of_turns(turns, empty, depth)


def test_end_of_the_turn_table_is_the_plan():
    plan = work_out(projects.towels())
    last = plan.beam.turn_table[-1]
    assert (last.turn, last.length, last.circumference) == (
        plan.beam.turns,
        plan.beam.real_length,
        plan.beam.end_circumference,
    )


def test_one_more_is_not_asked_where_the_length_was_given():
    assert work_out(projects.waiting_section()).one_more is None


def test_one_more_fits_on_a_generous_board():
    plan = work_out(replace(projects.runner(), bench=Bench(board_step=yards(4))))
    assert plan.one_more.fits
    assert "one_more_fits" in codes(plan)


# --- Winding ---


def test_chains_of_sections_name_their_sections():
    plan = work_out(projects.class_warp())
    assert [chain.position for chain in plan.winding.chains] == [section.position for section in plan.winding.sections]


def test_chains_keep_the_colours_of_the_warp():
    plan = work_out(replace(projects.rugs(), method=Method.CHAIN))
    assert sum((chain.runs for chain in plan.winding.chains), ()) == sum(
        (section.runs for section in plan.winding.sections), ()
    )


def test_spools_carry_the_real_length_of_their_sections():
    """Each end, in each section, takes that section's length and the waste; all spools together hold them all."""
    brief = projects.throws()
    plan = work_out(brief)
    waste = float(brief.allowances.section_waste)
    wanted = sum(section.ends * (section.real_length + waste) for section in plan.winding.sections)
    assert sum(group.spools * group.real_length for group in plan.winding.spools) == pytest.approx(wanted)


def test_every_section_names_its_set_up():
    plan = work_out(projects.rugs())
    for setup in plan.winding.setups:
        held = {section.position for section in plan.winding.sections if section.setup == setup.number}
        assert held == set(setup.positions)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(order=ORDERS)
def test_what_all_spools_lose_is_what_the_re_threads_lose(order):
    runs = tuple(ColourRun(code, ends) for code, ends in order)
    yarns = tuple(projects.cotton(code, 3360) for code in "ABC")
    plan = work_out(replace(projects.towels(), yarns=yarns, colour_order=runs))
    assert sum(group.spools * group.lead_lost for group in plan.winding.spools) == sum(
        rack.lead_lost for rack in plan.winding.setups
    )


def test_a_small_rack_is_remarked_and_counts_one_set_up():
    """Thirty spools in all, 24 at a time."""
    at_a_time = [work_out(replace(projects.rugs(), bench=Bench(rack_spools=places))) for places in (24, 23)]
    assert ["spools_over_rack" in codes(plan) for plan in at_a_time] == [False, True]


def test_comb_is_turned_where_the_bundle_is_too_wide():
    """The studio's trade notes: 40 ends, two in each of ten dents, for 1.75 in: 29 degrees."""
    bench = Bench(comb_dents=per_inch(10), comb_ends_per_dent=2)
    plan = work_out(replace(with_beam(projects.towels(), divider=inches("0.25")), bench=bench))
    assert round(plan.winding.comb_angle) == 29


def test_leader_knot_is_placed_on_a_beam_of_bars():
    plan = work_out(with_beam(projects.towels(), bars=4, leader=inches(36)))
    assert not plan.winding.knot.clear
    assert "knot_on_bar" in codes(plan)


def test_a_solid_roller_has_no_gap_for_a_knot():
    assert work_out(with_beam(projects.towels(), bars=0, leader=inches(36))).winding.knot is None


def test_linen_is_warned_at_half_the_mismatch():
    brief = projects.thick_and_thin()
    linen = replace(
        brief, yarns=tuple(replace(yarn, fibre="linen", wound_density=Fraction("0.45")) for yarn in brief.yarns)
    )
    severities = [next(r.severity for r in work_out(b).remarks if r.code == "sections_unequal") for b in (brief, linen)]
    assert severities == [Severity.NOTE, Severity.WARN]


def test_a_warp_wider_than_the_beam_is_planned_and_stopped():
    plan = work_out(with_beam(projects.towels(), sections=10))
    assert len(plan.winding.sections) == 12
    assert "sections_short" in [remark.code for remark in plan.stops]


def test_moving_the_warp_moves_sections_and_reed_alike():
    still, moved = work_out(projects.towels()), work_out(replace(projects.towels(), shift=inches(2)))
    assert moved.winding.sections[0].position == still.winding.sections[0].position + 1
    assert moved.reed.best.empty_left == still.reed.best.empty_left + 20


def test_a_beam_without_a_rake_height_is_not_asked_for_its_limit():
    plan = work_out(with_beam(projects.towels(), rake_height=None))
    assert (plan.beam.most_turns, plan.beam.longest_warp) == (None, None)


def test_a_reed_far_too_fine_for_a_stripe_is_no_choice():
    brief = projects.thick_and_thin()
    spaced = replace(brief, yarns=(brief.yarns[0], replace(brief.yarns[1], sett=per_inch("0.5"))))
    plan = work_out(spaced)
    assert plan.reed.best is None
    assert "reed_unsuitable" in codes(plan)


# --- Yarn ---


def test_weft_of_the_same_yarn_is_added_to_it():
    brief = projects.runner()
    plan = work_out(replace(brief, weft=replace(brief.yarns[0], code="")))
    (need,) = plan.yarn.needs
    assert need.weft / YD == pytest.approx(310.2, abs=0.05)


def test_weft_of_another_yarn_stands_by_itself():
    assert [need.code for need in work_out(projects.runner()).yarn.needs] == ["A", "W"]


def test_weft_is_the_same_yarn_only_when_the_yarn_room_says_so():
    """Alike in name but bought apart: another dye lot is another yarn."""
    brief = projects.runner()
    warp = replace(brief.yarns[0], yarn_id=1)
    plans = [work_out(replace(brief, yarns=(warp,), weft=replace(warp, code="W", yarn_id=bought))) for bought in (1, 2)]
    assert [len(plan.yarn.needs) for plan in plans] == [1, 2]


def test_a_weft_on_the_shelf_is_weighed_too():
    brief = projects.runner()
    plan = work_out(replace(brief, weft=replace(brief.weft, on_hand=Fraction(20))))
    assert float(plan.yarn.needs[1].short) == pytest.approx(21.9, abs=0.05)
    assert "yarn_short" in codes(plan)


@pytest.mark.parametrize("given_as", ["warp_length", "turns"])
def test_gaps_and_fringes_are_not_woven_where_the_length_is_given(given_as):
    """Three pieces, two gaps of 10 in and three fringes of 4 in: 32 in of the warp take no weft."""
    lengths = {"warp_length": yards(10), "turns": 10}
    weft = {"weft": projects.cotton("W", 3360), "picks": per_inch(18)}
    brief = replace(projects.towels(), finished_length=None, pieces=3, **{given_as: lengths[given_as]}, **weft)
    plain = with_losses(brief, gap=Fraction(0), gaps=None, fringe=Fraction(0))
    apart = with_losses(brief, gap=inches(10), gaps=None, fringe=inches(4))
    woven = [dict(shown(work_out(one), "weft_length").inputs)["woven"].value for one in (plain, apart)]
    assert woven[0] - woven[1] == inches(32) * (1 - brief.allowances.take_up)


def test_cost_is_mass_times_price():
    brief = projects.towels()
    (need,) = work_out(replace(brief, yarns=(replace(brief.yarns[0], price=Fraction(3, 100)),))).yarn.needs
    assert need.cost == need.warp_mass * Fraction(3, 100)


def test_cost_is_unknown_without_a_price():
    assert work_out(projects.towels()).yarn.needs[0].cost is None


@pytest.mark.parametrize(("held", "short"), [(784, 0), (700, 83)])
def test_shelf(held, short):
    brief = projects.towels()
    (need,) = work_out(replace(brief, yarns=(replace(brief.yarns[0], on_hand=Fraction(held)),))).yarn.needs
    assert float(need.short) == pytest.approx(short, abs=0.1)


# --- Whatever is asked ---


@st.composite
def briefs(draw):
    """Whatever a form could hold that has no problems."""
    base = draw(st.sampled_from(projects.ALL))()
    length = st.fractions(0, 60, max_denominator=8).map(inches)
    order = tuple(ColourRun(code, ends) for code, ends in draw(ORDERS))
    own = draw(st.sampled_from([None, per_inch(15), per_inch("7.5")]))
    brief = replace(
        base,
        yarns=tuple(projects.cotton(code, 3360, sett=own if code == "B" else None) for code in "ABC"),
        colour_order=order,
        colour_layout=draw(st.sampled_from([Layout.REPEAT, Layout.CENTRED, Layout.MIRRORED])),
        finished_width=None,
        width_in_reed=draw(st.none() | st.fractions(Fraction(1, 4), 60, max_denominator=16).map(inches)),
        ends=None,
        sett=per_inch(draw(st.fractions(2, 60, max_denominator=8))),
        fit=Fit(draw(st.integers(1, 4)), selvedge=draw(st.integers(0, 4)), whole_repeats=draw(st.booleans())),
        shift=draw(st.fractions(-5, 5, max_denominator=4).map(inches)),
        allowances=replace(
            base.allowances, take_up=share(draw(st.integers(0, 90))), fringe=draw(length), waste=draw(length)
        ),
    )
    if brief.width_in_reed is None:
        brief = replace(brief, ends=draw(st.integers(1, 2000)))
    if brief.fit.whole_repeats or brief.ends is not None:
        most = min(9, sum(run.ends for run in order) - 1)
        brief = replace(brief, fit=replace(brief.fit, balance=draw(st.integers(0, most))))
    if brief.loom.beam.pitch is not None:
        centre, held = draw(st.sampled_from(Centre)), brief.loom.beam.sections // 2 * 2
        held -= centre is Centre.SECTION
        brief = with_beam(brief, centre=centre, sections=held, divider=draw(st.sampled_from([0, IN / 4])))
        places = st.lists(st.integers(1, held), max_size=held).map(tuple)
        brief = replace(brief, method=draw(st.sampled_from(Method)), chain_sections=draw(places))
    return brief


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(brief=briefs())
def test_whatever_has_no_problems_is_worked_out_and_nothing_is_lost(brief):
    assert problems_of(brief) == ()
    plan = work_out(brief)
    assert (
        sum(run.ends for run in plan.cloth.pattern)
        == plan.cloth.ends_here
        == sum(plan.threading.heddles)
        == sum(need.ends for need in plan.yarn.needs)
    )
    wound = [*plan.winding.chains, *(section for section in plan.winding.sections if section.setup)]
    assert sum(part.ends for part in wound) == plan.cloth.ends_here
    assert sum(count * ends for count, ends in plan.winding.raddle) in {0, plan.cloth.ends_here}
    assert all(section.ends > 0 and 0 < section.filled <= 1 for section in plan.winding.sections)
    positions = [section.position for section in plan.winding.sections]
    assert positions == list(range(positions[0], positions[0] + len(positions))) if positions else True


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(brief=briefs(), units=st.sampled_from(Units))
def test_whatever_is_worked_out_can_be_read(brief, units):
    plan, formatter = work_out(brief), Formatter(units)
    assert all(formatter.line(found).result for found in plan.sums)
    assert not [said.code for said in map(formatter.sentence, plan.remarks) if "…" in said.text + said.advice]


def test_every_field_of_the_plan_is_filled_for_some_project():
    plans = [work_out(make()) for make in projects.ALL]
    plans.append(
        work_out(replace(with_beam(projects.towels(), bars=4, leader=inches(40)), fit=Fit(floating_selvedge=2)))
    )
    plans.append(work_out(replace(projects.towels(), bench=Bench(comb_dents=per_inch(15)))))
    plans.append(work_out(projects.towels_measured()))
    plans.append(work_out(replace(projects.rugs(), fit=Fit(whole_repeats=True, balance=15))))
    plans.append(work_out(replace(projects.towels(), yarns=(projects.cotton("A", 3360, price=Fraction(1, 40)),))))
    plans.append(work_out(projects.two_beams()))
    empty = [field.name for field in fields(WarpPlan) if not any(getattr(plan, field.name) for plan in plans)]
    assert empty == []


# --- Room in the dent ---


def with_reeds(brief, *found):
    return replace(brief, loom=replace(brief.loom, reeds=found))


def test_two_ends_of_8_2_in_a_dent_of_ten_to_the_inch_stand_with_room_for_a_knot():
    """By hand: 0.9 x sqrt(3360) = 52.2 lie side by side in an inch; 2 of 10 dents take 20 of them, a knot 20 more."""
    best = work_out(with_reeds(projects.towels(), ReedFacts("10 dpi", per_inch(10), inches(40)))).reed.best
    assert (best.sley, best.room, best.knot_passes) == ((2,), "ample", True)


def test_a_reed_in_whose_dents_the_ends_cannot_stand_comes_after_one_in_which_they_can():
    """52 lie side by side in an inch. 42 to the inch are 1-2 in 28 dents, exact, but 2 x 28 is 56; 4 x 11 is 44."""
    narrow, wide = ReedFacts("28 dpi", per_inch(28), inches(40)), ReedFacts("11 dpi", per_inch(11), inches(40))
    brief = with_reeds(replace(projects.towels(), sett=per_inch(42)), narrow, wide)
    reeds = work_out(brief).reed.reeds
    assert [one.room == "none" for one in reeds] == sorted(one.room == "none" for one in reeds)
    assert (reeds[0].reed, reeds[-1].reed) == ("11 dpi", "28 dpi")
    assert abs(reeds[0].error) > abs(reeds[-1].error)


def test_stripes_of_two_yarns_have_the_room_of_the_tighter():
    """Thick 5/2 and thin 10/2, each in its own order: the dent of the thick one is the fuller."""
    reeds = work_out(projects.thick_and_thin()).reed.reeds
    alone = replace(projects.thick_and_thin(), colour_order=(ColourRun("N", 48),))
    assert {one.room for one in reeds} <= {"ample", "fair", "tight", "none"}
    assert ORDER_OF_ROOM.index(reeds[0].room) >= ORDER_OF_ROOM.index(work_out(alone).reed.reeds[0].room)


# --- A beam that was taped with the yarn ---


def test_turns_of_a_measured_beam_are_those_that_are_enough_whatever_the_tape_left_open():
    """Whole turns tried one by one with plain floats, the least round and the densest yarn put in."""
    plan = work_out(projects.towels_measured())
    wanted = float(plan.length.wanted)
    least = next(turns for turns in range(1, 30) if turns * (91.34 + pi * depth_at("0.50") * turns) >= wanted)
    assert (plan.beam.turns, plan.beam.turns_range.safe) == (least, least)
    assert (
        plan.beam.turns_range.fewest <= plan.beam.turns_range.likely <= least < work_out(projects.towels()).beam.turns
    )


def depth_at(density):
    """Depth of a turn in a full section, 40 ends of 8/2 on 2 in: ends x tex / (width x density)."""
    return float(40 * projects.tex_of(3360) / 100_000 / (2 * IN * Fraction(density)))


@given(
    density=st.fractions(Fraction(40, 100), Fraction(50, 100), max_denominator=997),
    wrong=st.fractions(Fraction(-1, 10), Fraction(1, 10), max_denominator=97),
    wanted=st.fractions(200, 5000, max_denominator=7),
)
def test_whatever_yarn_and_tape_really_were_the_warp_is_long_enough_and_within_its_range(density, wrong, wanted):
    brief = replace(projects.towels_measured(), finished_length=None, warp_length=wanted)
    plan = work_out(brief)
    really = beam.length_of_turns(plan.beam.turns, brief.loom.beam.circumference + wrong, depth_at(density))
    assert really >= float(wanted) * (1 - 1e-8)
    assert float(plan.beam.length_range.low) * (1 - 1e-9) <= really <= float(plan.beam.length_range.high) * (1 + 1e-9)


def test_a_yarn_that_was_not_measured_leaves_the_whole_warp_to_the_empty_beam():
    brief = projects.towels_measured()
    half = replace(brief.yarns[0], code="B", density_low=None, density_high=None)
    order = (ColourRun("A", 20), ColourRun("B", 20))
    plan = work_out(replace(brief, yarns=(*brief.yarns, half), colour_order=order))
    assert (plan.beam.turns_range, plan.beam.length_range, plan.beam.round_range) == (None, None, None)
    assert plan.beam.turns == ceil(plan.length.wanted / brief.loom.beam.circumference)


def test_turns_that_were_asked_for_stay_and_their_length_has_a_range():
    plan = work_out(replace(projects.towels_measured(), finished_length=None, turns=7))
    assert (plan.beam.turns, plan.beam.turns_range) == (7, None)
    assert plan.beam.length_range.low < plan.beam.length_range.likely < plan.beam.length_range.high


@pytest.mark.parametrize(
    ("wrong", "place"),
    [
        ({"density_low": share(46)}, "yarns.0.density_low"),
        ({"density_high": None}, "yarns.0.density_low"),
        ({"wound_density": None}, "yarns.0.density_low"),
    ],
)
def test_a_range_of_densities_that_does_not_rise_is_refused(wrong, place):
    brief = projects.towels_measured()
    brief = replace(brief, yarns=(replace(brief.yarns[0], **wrong),))
    assert [problem.field for problem in problems_of(brief)] == [place]


def test_a_tape_that_measures_nothing_is_refused():
    brief = with_beam(projects.towels_measured(), tape=inches(4))
    assert [problem.code for problem in problems_of(brief)] == ["tape_unsound"]


def test_a_row_of_a_chart_that_is_misprinted_is_told_with_its_chart():
    """A loom maker's published chart: 840 yd/lb printed for 4/2 cotton, 1680 by the count."""
    brief = replace(projects.towels(), yarns=(projects.cotton("A", 1680, "4/2 cotton"),), sett=per_inch(20))
    said = [Formatter(Units.INCH).sentence(one) for one in work_out(brief).remarks]
    texts = {one.code: one.text for one in said}
    assert texts["sett_closer_than_usual"].endswith("12/in to 15/in.")
    assert texts["chart_misprint"] == (
        "In a loom maker's published sett chart the row of 4/2 cotton is doubtful: 840 yd/lb is printed; "
        "by the count 4/2 holds 1680."
    )


def test_a_sett_that_a_chart_prints_as_one_figure_is_told_once():
    brief = replace(projects.towels(), yarns=(projects.cotton("A", 12_800, "30/2 cotton"),), sett=per_inch(40))
    said = {one.code: Formatter(Units.INCH).sentence(one).text for one in work_out(brief).remarks}
    assert said["sett_closer_than_usual"].endswith("usual for A 30/2 cotton: 36/in.")
