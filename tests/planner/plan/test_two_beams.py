"""One cloth on two warp beams: each sheet plans its own beam, and both together plan the whole cloth.

Figures of thick and thin are those of the trade notes, 9.9, worked by hand.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planner.brief.document import read_brief, write_brief
from planner.calc.terms.brief import Allowances, Fit, Layout, Method
from planner.calc.terms.plan import ColourRun, Severity
from planner.calc.terms.problems import problems_of
from planner.calc.worksheet.two_beams import beam_problems
from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import plan_as_data
from planner.plan.card_digest import card_digest
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from studio.units import Units
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_work_out import briefs, codes, shown, with_beam
from tests.planner.worked_projects import IN, YD, inches, per_inch, share

THIN, THICK = projects.two_beams("T"), projects.two_beams("N")
"""The sheet of the thin yarn's beam, and that of the thick one's."""


def swapped(brief):
    return replace(brief, yarns=tuple(replace(yarn, elsewhere=not yarn.elsewhere) for yarn in brief.yarns))


def striped(order, **changes):
    """Towels of two colours at 20 to the inch, B on the other beam; forty ends fill a section of two inches."""
    towels = projects.towels()
    (cotton,) = towels.yarns
    yarns = (cotton, replace(cotton, code="B", elsewhere=True))
    runs = tuple(ColourRun(code, int(ends)) for ends, code in (stripe.split() for stripe in order.split(", ")))
    return replace(towels, yarns=yarns, colour_order=runs, **changes)


def lying(plan):
    return [(section.position, section.ends, section.filled, section.free_left) for section in plan.winding.sections]


# --- Thick and thin, 9.9 ---


@pytest.mark.parametrize(
    ("brief", "ends", "positions", "each"),
    [(THIN, 384, (6, 7, 9, 10, 12, 13, 15, 16), 48), (THICK, 120, (8, 11, 14, 17), 30)],
)
def test_each_beam_carries_its_own_yarn_in_its_true_sections(brief, ends, positions, each):
    plan = work_out(brief)
    assert (plan.cloth.ends_here, plan.cloth.ends) == (ends, 504)
    assert lying(plan) == [(position, each, 1, 0) for position in positions]


@pytest.mark.parametrize(("brief", "spools", "yards"), [(THIN, ("N", 48), 124), (THICK, ("T", 30), 62)])
def test_each_beam_is_wound_with_its_own_spools_and_one_set_up(brief, spools, yards):
    plan = work_out(brief)
    (group,) = plan.winding.spools
    assert ((group.code, group.spools), group.nominal_length / YD, len(plan.winding.setups)) == (spools, yards, 1)


def test_neither_beam_has_unequal_sections_any_more():
    assert "sections_unequal" in codes(work_out(projects.thick_and_thin()))
    assert "sections_unequal" not in codes(work_out(THIN)) + codes(work_out(THICK))


def test_yarn_for_the_warp_is_asked_of_its_own_beam_alone():
    """5 952 yd of thin, 1 860 of thick."""
    needs = [{need.code: need.warp_nominal / YD for need in work_out(brief).yarn.needs} for brief in (THIN, THICK)]
    assert needs == [{"N": 5952, "T": 0}, {"N": 0, "T": 1860}]


def test_nothing_is_asked_of_the_shelf_for_a_yarn_on_the_other_beam():
    brief = replace(THIN, yarns=tuple(replace(yarn, yarn_id=at) for at, yarn in enumerate(THIN.yarns, 1)))
    asked = [said.values["yarn"] for said in work_out(brief).remarks if said.code == "yarn_unknown"]
    assert asked == ["N 10/2 cotton"]


def test_the_cloth_is_the_same_on_both_sheets():
    one, other, whole = work_out(THIN), work_out(THICK), work_out(projects.thick_and_thin())
    for name in ("pattern", "width_in_reed", "finished_width", "repeats"):
        assert getattr(one.cloth, name) == getattr(other.cloth, name) == getattr(whole.cloth, name), name
    assert one.reed == other.reed == whole.reed
    assert one.threading.heddles == other.threading.heddles == whole.threading.heddles


def test_weft_is_of_the_whole_cloth():
    weft = {"weft": projects.cotton("W", 3360, "weft"), "picks": per_inch(20)}
    plans = [work_out(replace(brief, **weft)) for brief in (THIN, THICK, projects.thick_and_thin())]
    assert len({plan.yarn.needs[-1].weft for plan in plans}) == 1


def test_the_sheet_says_what_lies_elsewhere_and_warns_of_two_brakes():
    said = {remark.code: remark for remark in work_out(THIN).remarks}
    sentence = Formatter(Units.INCH).sentence(said["two_beams"])
    assert sentence.text == "120 of the 504 ends of this cloth lie on the other beam: 120 of T 5/2 cotton."
    assert "sley and thread them in their places" in sentence.advice
    assert "caution_two_beams" in said


def test_what_would_mislead_is_left_out():
    """Widths, edges and repeats take every section for full of the whole cloth."""
    plan = work_out(striped("20 A, 20 B", width_in_reed=inches(25)))
    assert (plan.choices.edges, plan.choices.alternatives, plan.choices.layouts) == ((), (), None)
    assert not {"edge_partial", "edge_between_dividers", "order_fits_sections"} & set(codes(plan))
    assert all(way.way != "half_pitch" for way in plan.winding.fewer_spools)


# --- How the ends lie in a section ---


def test_alternating_ends_are_spread_over_whole_sections_at_half_the_depth():
    plan, whole = work_out(striped("1 A, 1 B")), work_out(projects.towels())
    assert lying(plan) == [(position, 20, 1, 0) for position in range(6, 18)]
    assert [section.depth_per_turn * 2 for section in plan.winding.sections] == pytest.approx(
        [section.depth_per_turn for section in whole.winding.sections]
    )


def test_a_stripe_of_half_a_section_lies_as_deep_as_a_full_one_on_half_the_width():
    half, whole = work_out(striped("20 A, 20 B")), work_out(projects.towels())
    assert lying(half) == [(position, 20, Fraction(1, 2), 0) for position in range(6, 18)]
    assert half.winding.sections[0].depth_per_turn == pytest.approx(whole.winding.sections[0].depth_per_turn)
    assert half.beam.real_length == pytest.approx(whole.beam.real_length)


def test_a_part_filled_section_is_told_with_its_side():
    """Moved by a quarter of a section the stripes of half a section lie in the middle."""
    moved = work_out(striped("20 A, 20 B", shift=inches("0.5")))
    assert {(section.filled, section.free_left) for section in moved.winding.sections} == {
        (Fraction(1, 2), Fraction(1, 4))
    }
    assert next(said.values["places"] for said in moved.remarks if said.code == "part_sections") == (
        "6–17 in the middle"
    )


def test_the_outermost_section_keeps_the_room_beside_the_cloth():
    """Twenty-five inches lie half an inch into the edge sections: three quarters of these are free."""
    plan = work_out(striped("40 A, 40 B", width_in_reed=inches(25)))
    first = plan.winding.sections[0]
    assert (first.position, first.ends, first.filled, first.free_left) == (5, 10, Fraction(1, 4), Fraction(3, 4))


def test_a_section_without_ends_of_this_beam_is_not_used():
    assert [section.position for section in work_out(striped("40 A, 40 B")).winding.sections] == [6, 8, 10, 12, 14, 16]


def test_selvedge_ends_lie_on_the_beam_of_their_yarn():
    fit = Fit(selvedge=2)
    left, right = work_out(striped("40 A, 40 B", fit=fit)), work_out(swapped(striped("40 A, 40 B", fit=fit)))
    assert (left.winding.sections[0].ends, right.winding.sections[-1].ends) == (42, 42)
    assert "selvedge_sections" not in codes(left) + codes(right)


def test_floating_selvedges_are_counted_once_with_the_yarn_of_their_edge():
    fit = Fit(floating_selvedge=2)
    plans = [work_out(one(striped("40 A, 40 B", fit=fit))) for one in (lambda brief: brief, swapped)]
    assert [plan.yarn.floating for plan in plans] == [1, 1]


# --- Chains ---


def test_raddle_spaces_of_the_other_beam_stay_empty():
    """Ten ends to half an inch: two spaces of this beam, two without."""
    plan = work_out(striped("20 A, 20 B", method=Method.CHAIN))
    assert plan.winding.raddle[:4] == ((2, 10), (2, 0), (2, 10), (2, 0))
    assert PlanView(striped("20 A, 20 B"), plan, Formatter(Units.INCH)).raddle.startswith("2 of 10, 2 empty, 2 of 10")
    assert {chain.groups for chain in plan.winding.chains} == {((2, 10),)}


def test_chains_on_a_plain_beam_hold_the_ends_of_this_beam():
    runner = projects.runner()
    (cotton,) = runner.yarns
    yarns = (cotton, replace(cotton, code="B", elsewhere=True))
    plan = work_out(replace(runner, yarns=yarns, colour_order=(ColourRun("A", 2), ColourRun("B", 1))))
    assert (sum(chain.ends for chain in plan.winding.chains), plan.cloth.ends_elsewhere) == (188, 94)
    assert {run.code for chain in plan.winding.chains for run in chain.runs} == {"A"}


def test_a_plain_beam_is_asked_for_the_width_of_its_own_ends():
    """A stripe of four inches in the middle of twelve goes on a beam of five, the ground beside it does not."""
    runner = with_beam(projects.runner(), usable_width=inches(5))
    (cotton,) = runner.yarns
    yarns = (cotton, replace(cotton, code="B"))
    order = tuple(ColourRun(code, 80) for code in "ABA")
    brief = replace(runner, yarns=yarns, finished_width=None, colour_order=order, colour_layout=Layout.AS_TYPED)
    on = {away: codes(work_out(replace(brief, yarns=marked(yarns, away)))) for away in ("A", "B")}
    assert ("beam_narrow" in on["A"], "beam_narrow" in on["B"]) == (False, True)


def marked(yarns, away):
    return tuple(replace(yarn, elsewhere=yarn.code == away) for yarn in yarns)


# --- Length and take-up ---


def cloths(away, **own):
    """Four cloths of 36 in, woven at take-ups of their own."""
    brief = projects.two_beams(away, turns=None, **own)
    return replace(brief, finished_length=inches(36), pieces=4, allowances=Allowances(take_up=share(8)))


@pytest.mark.parametrize(
    ("brief", "inch"),
    [
        (cloths("T", T=10), 4 * 36 / 0.92),  # thin beam: the warp's 8 %
        (cloths("N", T=10), 4 * 36 / 0.90),  # thick beam: its own 10 %
        (cloths("", T=10), 4 * 36 / 0.90),  # both on one beam: the larger
        (cloths("N", T=5), 4 * 36 / 0.95),  # its own counts where it is the smaller one, too
        (cloths("", T=5), 4 * 36 / 0.92),
    ],
)
def test_each_beam_is_as_long_as_its_own_take_up_asks(brief, inch):
    """A loss is divided out: 36 in woven with 10 % take-up use 40 in."""
    assert float(work_out(brief).length.wanted / IN) == pytest.approx(inch)


def test_the_sum_says_whose_take_up_counts():
    lines = [shown(work_out(cloths(away, T=10)), "pieces_warp") for away in ("T", "N")]
    assert [line.label for line in lines] == [
        "Warp for the pieces, by the take-up of N", "Warp for the pieces, by the take-up of T",
    ]  # fmt: skip
    assert [dict(line.inputs)["take_up"].value for line in lines] == [share(8), share(10)]


def test_one_more_piece_is_reckoned_by_the_same_take_up():
    plans = [work_out(cloths(away, T=10)) for away in ("T", "N")]
    assert [float(plan.one_more.needs / IN) for plan in plans] == pytest.approx([36 / 0.92, 36 / 0.90])


def test_unequal_take_up_on_one_beam_is_set_against_the_deeper_sections():
    """Two per cent more over 15 yd needs 10.8 in, and the thick sections have 1.7: it will be tight."""
    plan = work_out(projects.two_beams("", T=2))
    needs, lacking = shown(plan, "take_up_needs"), shown(plan, "take_up_lacking")
    assert needs.result.value / IN == Fraction("10.8")
    assert round(dict(lacking.inputs)["given"].value / 2.54, 1) == 1.7
    assert round(float(lacking.result.value) / 2.54, 1) == 9.1
    said = next(remark for remark in plan.remarks if remark.code == "take_up_tight")
    sentence = Formatter(Units.INCH).sentence(said)
    assert sentence.text.startswith("T 5/2 cotton takes up more than N 10/2 cotton: it needs 10.8 in more over 15 yd")
    assert "second beam" in sentence.advice
    assert said.severity is Severity.WARN


def test_linen_is_held_to_half_the_difference():
    """0.8 % over 15 yd is 4.3 in, less the 1.7 of the deeper sections: half a per cent lacks, a note in cotton."""
    quiet, linen = (projects.two_beams("", T=Fraction(8, 10)) for _ in range(2))
    linen = replace(linen, yarns=tuple(replace(yarn, fibre="linen", wound_density=None) for yarn in linen.yarns))
    severities = [
        [said.severity for said in work_out(brief).remarks if said.code == "take_up_tight"] for brief in (quiet, linen)
    ]
    assert severities == [[Severity.NOTE], [Severity.WARN]]


@pytest.mark.parametrize("brief", [projects.two_beams("T", T=2), projects.two_beams("N", T=2), THIN])
def test_on_two_beams_take_ups_part_and_nothing_is_tight(brief):
    plan = work_out(brief)
    assert "take_up_tight" not in codes(plan)
    assert "take_up_needs" not in {line.key for line in plan.sums}


def test_chains_have_one_length_so_the_sections_give_nothing():
    plan = work_out(replace(projects.two_beams("", T=2), method=Method.CHAIN))
    assert dict(shown(plan, "take_up_lacking").inputs)["given"].value == 0


# --- The brief ---


NEVER_REACHED = (ColourRun("N", 600), ColourRun("T", 4))
"""504 ends of this order are all thin."""


@pytest.mark.parametrize(
    "brief",
    [
        replace(THIN, yarns=tuple(replace(yarn, elsewhere=True) for yarn in THIN.yarns)),
        replace(THICK, colour_order=NEVER_REACHED),
    ],
    ids=["all marked", "none reached"],
)
def test_a_beam_without_ends_is_refused_beside_the_mark(brief):
    assert problems_of(brief) == ()
    assert [(problem.field, problem.code) for problem in beam_problems(brief)] == [
        ("yarns.0.elsewhere", "no_ends_here"),
    ]


def test_both_doors_refuse_a_beam_without_ends():
    document = write_brief(THIN)
    document["yarns"] = [{**yarn, "elsewhere": True} for yarn in document["yarns"]]
    reading = read_brief(document)
    assert reading.brief is None
    assert [problem.field for problem in reading.problems] == ["yarns.0.elsewhere"]


@pytest.mark.parametrize(("percent", "code"), [(95, "too_large"), (-1, "too_small")])
def test_a_take_up_beyond_reason_is_refused_beside_its_yarn(percent, code):
    brief = projects.two_beams("", T=percent)
    assert [(problem.field, problem.code) for problem in problems_of(brief)] == [("yarns.1.take_up", code)]


def test_marks_and_take_ups_are_written_and_read_again():
    brief = projects.two_beams("N", T=2)
    assert read_brief(write_brief(brief)).brief == brief


# --- The plan goes out ---


def test_data_says_what_lies_here_and_there():
    data = plan_as_data(work_out(striped("20 A, 20 B")), Units.INCH)
    assert (data["ends"], data["ends_elsewhere"]) == (240, 240)
    assert (data["sections"][0]["filled_share"], data["sections"][0]["free_left_share"]) == ("0.5", "0")


def digest(brief):
    return card_digest(plan_as_data(work_out(brief), Units.METRIC))


def test_a_mark_makes_old_cards_wrong_and_so_does_a_stripe_moved_within_its_sections():
    one = striped("20 A, 20 B")
    assert len({digest(one), digest(swapped(one)), digest(striped("20 B, 20 A")), digest(striped("20 A, 21 B"))}) == 4


def test_cards_from_before_two_beams_stay_good():
    """What came later counts only where it says something: the digest is that of a plan without these keys."""
    data = plan_as_data(work_out(projects.towels()), Units.METRIC)
    old = {name: value for name, value in data.items() if name != "ends_elsewhere"}
    old["sections"] = [{k: v for k, v in row.items() if k != "free_left_share"} for row in data["sections"]]
    assert card_digest(data) == card_digest(old)


# --- Whatever is asked ---


@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
@given(brief=briefs(), away=st.sets(st.sampled_from("ABC"), min_size=1, max_size=2), floating=st.sampled_from([0, 2]))
def test_both_sheets_together_hold_the_whole_cloth(brief, away, floating):
    yarns = tuple(replace(yarn, elsewhere=yarn.code in away) for yarn in brief.yarns)
    one = replace(brief, yarns=yarns, fit=replace(brief.fit, floating_selvedge=floating))
    assume(not beam_problems(one) and not beam_problems(swapped(one)))
    plans = [work_out(one), work_out(swapped(one))]
    whole = work_out(replace(one, yarns=brief.yarns))
    assert sum(plan.cloth.ends_here for plan in plans) == whole.cloth.ends_here == plans[0].cloth.ends
    assert sum(plan.yarn.floating for plan in plans) == floating
    assert (
        len(
            {
                (plan.threading.heddles, plan.reed.best, plan.cloth.pattern, plan.cloth.width_in_reed)
                for plan in (*plans, whole)
            }
        )
        == 1
    )
    assert_sections_are_those_of_the_whole(plans, whole)


def assert_sections_are_those_of_the_whole(plans, whole):
    here = [{section.position: section for section in plan.winding.sections} for plan in plans]
    for section in whole.winding.sections:
        found = [beam[section.position] for beam in here if section.position in beam]
        assert sum(part.ends for part in found) == section.ends
        assert all(0 < part.filled <= 1 and 0 <= part.free_left <= 1 - part.filled for part in found)
