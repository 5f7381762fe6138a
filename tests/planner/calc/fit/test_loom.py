"""Remarks about loom, bench, cloth and shelf: each speaks when it should, and is silent else."""

import re
from fractions import Fraction
from pathlib import Path

import pytest

from planner import calc
from planner.calc.fit import cloth as cloth_fit
from planner.calc.fit import loom as loom_fit
from planner.calc.fit import winding as winding_fit
from planner.calc.fit import yarn as yarn_fit
from planner.calc.terms.brief import YarnChoice
from planner.calc.terms.plan import ColourRun, KnotPlace, OneMore, Quantity, ReedChoice, YarnNeed
from planner.plan.formatter import Formatter
from planner.plan.remarks import WORDINGS
from studio.units import Units
from tests.planner.worked_projects import IN, inches, per_inch, share

DEPTH = (Fraction("0.0122"), Fraction(3, 4))
LIMITS = (Fraction(3, 1000), Fraction(5, 1000), Fraction(1, 100))


def loud(remarks):
    return [(remark.code, remark.severity.value) for remark in remarks]


def reed(error="0", width=100):
    sett = per_inch(20) * (1 + Fraction(error))
    return ReedChoice("10 dpi", (2,), sett, Fraction(error), 200, 0, 1, Fraction(width))


def need(mass, held):
    short = max(Fraction(0), Fraction(mass) - held) if held is not None else Fraction(0)
    yarn = YarnChoice("A", "cotton", Fraction(150), on_hand=held)
    return YarnNeed(yarn, 48, 0, 0, Fraction(mass), 0, Fraction(0), short, None)


def test_a_warp_as_wide_as_the_loom_fits():
    assert loom_fit.width_remarks(inches(36), inches(36), "Heron", inches(36)) == ()


def test_a_plain_beam_can_be_the_narrow_part():
    assert loud(loom_fit.width_remarks(inches(36), inches(40), "Heron", inches(30))) == [("beam_narrow", "stop")]


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        (reed(), []),
        (reed("0.01"), [("reed_changes_sett", "note")]),
        (reed("-0.058"), [("reed_changes_sett", "warn")]),
        (reed(width=140), [("reed_too_short", "stop")]),
        (None, [("reed_unsuitable", "warn")]),
    ],
)
def test_reed(choice, said):
    assert loud(loom_fit.reed_remarks(choice, Fraction(120), per_inch(20), share(2), "Heron")) == said


def test_a_metric_reed_taken_for_twelve_dents_is_warned_of():
    """Handwoven's rule of thumb swaps 50/10 for 12; the exact 12.7 is 5.8 % off."""
    error = Fraction(5) * IN / 12 - 1
    assert round(100 * error, 1) == Fraction("5.8")
    assert loud(loom_fit.reed_remarks(reed(str(error)), Fraction(120), per_inch(12), share(2), "Dunlin")) == [
        ("reed_changes_sett", "warn")
    ]


def test_each_short_shaft_is_named():
    """A block weave needs 109 heddles on shaft 1 and 42 on shaft 4 (Lynne, Weaving, blog of 5 April 2017)."""
    remarks = loom_fit.heddle_remarks([109, 42], [100, 100], "Heron")
    assert [(said.values["shaft"], said.values["missing"].value) for said in remarks] == [("1", 9)]


def test_shafts_with_the_same_numbers_are_named_together():
    remarks = loom_fit.heddle_remarks([240, 240, 240, 90, 240], [200, 200, 200, 200, 200], "Heron")
    said = [(one.code, one.values["shafts"], one.values["missing"].value, one.values["total"].value) for one in remarks]
    assert said == [("heddles_short_alike", "1 to 3 and 5", 40, 160)]


@pytest.mark.parametrize(
    ("short", "written"), [((1, 2), "1 to 2"), ((1, 2, 3), "1 to 3"), ((1, 3, 5, 6), "1, 3 and 5 to 6")]
)
def test_numbers_of_shafts_are_written_as_spans(short, written):
    needed = [9 if shaft in short else 0 for shaft in range(1, 7)]
    (remark,) = loom_fit.heddle_remarks(needed, [1] * 6, "Heron")
    assert remark.values["shafts"] == written


def test_a_satin_stripe_with_plain_needs_seven_shafts():
    """J. T. Taylor, Cotton Weaving and Designing, Fig. 221: five and two."""
    assert loud(loom_fit.shaft_remarks("satin stripe", 5 + 2, 4)) == [("shafts_short", "warn")]
    assert loom_fit.shaft_remarks("satin stripe", 7, 8) == ()


@pytest.mark.parametrize(
    ("first", "last", "shift", "said"),
    [
        (1, 16, 0, []),
        (0, 17, 0, [("sections_short", "stop")]),
        (3, 17, 5, [("sections_overhang", "stop"), ("off_centre", "note")]),
        (5, 12, -5, [("off_centre", "note")]),
    ],
)
def test_place_on_the_beam(first, last, shift, said):
    assert loud(loom_fit.place_remarks(first, last, 16, Fraction(shift))) == said


@pytest.mark.parametrize(("shift", "side"), [(5, "right"), (-5, "left")])
def test_the_side_is_the_seats(shift, side):
    (remark,) = loom_fit.place_remarks(3, 12, 16, Fraction(shift))
    assert (remark.values["side"], remark.values["shift"].value) == (side, 5)


@pytest.mark.parametrize(
    ("planned", "least", "said"),
    [
        (80, 70, [("rakes_over", "stop")]),
        (62, 58, [("rakes_by_build_up", "warn")]),
        (61, 58, [("rakes_near", "note")]),
        (55, 52, [("rakes_near", "note")]),
        (54, 51, []),
    ],
)
def test_rakes_that_hold_61_turns(planned, least, said):
    assert loud(loom_fit.rake_remarks(planned, least, 61, (1240.7, 1440.0), DEPTH)) == said


@pytest.mark.parametrize(
    ("fraction", "unkind", "said"),
    [(0.0015, False, []), (0.0032, False, ["note"]), (0.0064, False, ["warn"]), (0.011, False, ["stop"]),
     (0.0015, True, ["note"]), (0.0032, True, ["warn"]), (0.0064, True, ["stop"]), (0.0, True, [])],
)  # fmt: skip
def test_mismatch_at_the_studios_limits(fraction, unkind, said):
    remarks = winding_fit.mismatch_remarks((1.0, fraction), *LIMITS, unkind=unkind)
    assert [remark.severity.value for remark in remarks] == said


def test_turns_without_build_up_say_nothing():
    assert winding_fit.turn_remarks(5, 5, 500.0, Fraction(500)) == ()


@pytest.mark.parametrize(("places", "said"), [(48, []), (47, [("spools_over_rack", "warn")]), (None, [])])
def test_rack(places, said):
    assert loud(winding_fit.rack_remarks(48, places, 1, Fraction(0))) == said


def test_chain_on_a_long_enough_board():
    assert loud(winding_fit.chain_remarks(Fraction(900), Fraction(900), 0, 2)) == [("board_path", "note")]


@pytest.mark.parametrize(
    ("angle", "bundle", "section", "said"),
    [(0.0, 2, 2, []), (29.0, 2, "1.75", ["comb_must_turn"]), (0.0, 1, 2, ["comb_too_narrow"]), (None, None, 2, [])],
)
def test_comb(angle, bundle, section, said):
    width = None if bundle is None else Fraction(bundle)
    remarks = winding_fit.comb_remarks(angle, width, Fraction(section), None)
    assert [remark.code for remark in remarks] == said


@pytest.mark.parametrize(("clear", "said"), [(True, []), (False, [("knot_on_bar", "warn")])])
def test_knot(clear, said):
    assert loud(winding_fit.comb_remarks(None, None, None, KnotPlace(4.0, 5.0, clear, 0.5))) == said


@pytest.mark.parametrize(("mend", "said"), [(-2.5, ("shorten", 2.5)), (2.5, ("lengthen", 2.5))])
def test_a_knot_is_mended_by_a_length_that_is_never_below_zero(mend, said):
    (remark,) = winding_fit.comb_remarks(None, None, None, KnotPlace(4.0, 5.0, clear=False, mend=mend))
    assert (remark.values["change"], remark.values["mend"].value) == said


def test_one_thickness_is_not_remarked():
    assert winding_fit.build_remarks([], ("A", Fraction(1)), ("B", Fraction(1)), 0) == ()


def test_a_short_warp_on_a_plain_beam_has_one_caution():
    assert loud(winding_fit.caution_remarks(Fraction(0), box=False)) == [("caution_beam", "note")]


@pytest.mark.parametrize(
    ("sett", "said"),
    [(12, ["sett_wider_than_usual"]), (20, []), (26, ["sett_closer_than_usual"]),
     (32, ["sett_above_greatest", "sett_closer_than_usual"])],
)  # fmt: skip
def test_sett_against_a_usual_18_to_24(sett, said):
    """A loom maker's and a yarn shop's charts for 8/2 cotton; outside them is a remark and never a refusal."""
    band = (per_inch(18), per_inch(24))
    remarks = cloth_fit.sett_remarks(per_inch(sett), per_inch(30), band, "8/2 cotton", "plain weave")
    assert [remark.code for remark in remarks] == said


@pytest.mark.parametrize(("wanted", "said"), [(480, []), (478, ["ends_changed"]), (None, [])])
def test_count(wanted, said):
    remarks = cloth_fit.count_remarks(wanted, 480, inches(24), (inches(20), inches("20.1")))
    assert [remark.code for remark in remarks] == said


def test_a_finished_width_that_changes_by_more_than_a_hundredth():
    remarks = cloth_fit.count_remarks(480, 480, inches(24), (inches(20), inches("20.3")))
    assert [remark.code for remark in remarks] == ["width_changed"]


@pytest.mark.parametrize(
    ("order", "repeats", "balance", "planned", "said"),
    [
        ("A8", 0, 0, 0, []),
        ("A8 B4 A8", 1, 8, 8, []),
        ("A8 B4", 1, 0, 0, ["order_not_symmetrical"]),
        ("A8 B4 A3", 1, 3, 0, ["order_not_symmetrical", "repeat_cut"]),
    ],
)
def test_edges_of_the_order(order, repeats, balance, planned, said):
    pattern = [ColourRun(word[0], int(word[1:])) for word in order.split()]
    remarks = cloth_fit.order_edge_remarks(pattern, repeats, balance, planned)
    assert [remark.code for remark in remarks] == said


@pytest.mark.parametrize(
    ("order", "section", "offered"),
    [("A15 B9 C6", 24, "12 A, 7 B, 5 C"), ("A5 B5", 24, "6 A, 6 B"), ("A12 B12", 24, None), ("A30 B1", 4, None)],
)
def test_order_that_fits_the_sections(order, section, offered):
    runs = [ColourRun(word[0], int(word[1:])) for word in order.split()]
    said = [remark.values["order"] for remark in cloth_fit.order_remarks(runs, Fraction(section), 5)]
    assert said == ([offered] if offered else [])


@pytest.mark.parametrize(("left", "code"), [(40, "one_more_fits"), (37, "one_more_short"), (20, "one_more_misses")])
def test_one_more(left, code):
    found = OneMore(Fraction(38), Fraction(left), Fraction(10), left >= 38)
    assert [remark.code for remark in cloth_fit.one_more_remarks(found)] == [code]


def test_no_piece_no_remark():
    assert cloth_fit.one_more_remarks(None) == ()


@pytest.mark.parametrize(
    ("margin", "waste", "missing", "said"),
    [
        (7, 36, False, []),
        (5, 36, False, [("margin_small", "note")]),
        (7, 30, False, [("waste_below_loom", "warn")]),
        (7, 36, True, [("losses_missing", "warn")]),
    ],
)
def test_length(margin, waste, missing, said):
    remarks = cloth_fit.length_remarks(inches(margin), inches(waste), inches(36), "Heron", losses_missing=missing)
    assert loud(remarks) == said


@pytest.mark.parametrize(
    ("held", "known", "said"),
    [(200, True, []), (104, True, ["yarn_close"]), (84, True, ["yarn_short"]), (None, True, ["yarn_unknown"]),
     (None, False, [])],
)  # fmt: skip
def test_yarn_against_the_shelf(held, known, said):
    found = need(100, None if held is None else Fraction(held))
    remarks = yarn_fit.yarn_remarks(found, "8/2 cotton", None, in_yarn_room=known)
    assert [remark.code for remark in remarks] == said


def test_every_code_has_its_words():
    home = Path(calc.__file__).parent
    others = (home / "winding/fewer_spools.py", home / "winding/mixed_winding.py", home / "cloth/weave.py")
    sources = [path.read_text(encoding="utf-8") for path in (*home.glob("fit/*.py"), *others)]
    codes = {code for source in sources for code in re.findall(r'Remark\(\s*"(\w+)"|"(caution_\w+)"', source)}
    named = {one or other for one, other in codes}
    assert len(named) > 30
    assert named == WORDINGS.keys()


def test_a_remark_reads_as_a_sentence_in_either_unit():
    (remark,) = loom_fit.rake_remarks(80, 70, 61, (3151.3, 3657.6), (Fraction("0.031"), Fraction("1.905")))
    said = [Formatter(units).sentence(remark) for units in Units]
    assert "61 turns" in said[0].text
    assert "34.46 yd" in said[0].text
    assert "31.51 m" in said[1].text
    assert "2 warps" in said[0].advice


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: loom_fit.width_remarks(Fraction(0), Fraction(1), "", None), "width"),
        (lambda: loom_fit.reed_remarks(None, None, Fraction(0), Fraction(0), ""), "wanted"),
        (lambda: loom_fit.heddle_remarks([1, 1], [1], ""), "shafts"),
        (lambda: loom_fit.shaft_remarks("", 0, 1), "needed"),
        (lambda: loom_fit.place_remarks(2, 1, 1, Fraction(0)), "sections"),
        (lambda: loom_fit.rake_remarks(-1, 0, 0, (0, 0), DEPTH), "planned"),
        (lambda: winding_fit.turn_remarks(1, 1, 1.0, Fraction(0)), "nominal"),
        (lambda: winding_fit.mismatch_remarks((0, 0), *LIMITS[::-1], unkind=False), "limits"),
        (lambda: winding_fit.build_remarks([], ("A", Fraction(1)), ("B", Fraction(2)), 0), "thinner"),
        (lambda: winding_fit.rack_remarks(0, 1, 1, Fraction(0)), "fullest"),
        (lambda: winding_fit.chain_remarks(Fraction(0), None, 0, 1), "length"),
        (lambda: winding_fit.comb_remarks(None, Fraction(0), None, None), "bundle"),
        (lambda: winding_fit.caution_remarks(Fraction(-1), box=True), "warp_yarn"),
        (lambda: cloth_fit.sett_remarks(Fraction(0), Fraction(1), None, "", ""), "sett"),
        (lambda: cloth_fit.count_remarks(1, 0, Fraction(1), (None, Fraction(1))), "ends"),
        (lambda: cloth_fit.order_edge_remarks([], 0, 0, 0), "pattern"),
        (lambda: cloth_fit.order_remarks([], Fraction(0), 1), "section"),
        (lambda: cloth_fit.length_remarks(Fraction(-1), Fraction(0), Fraction(0), "", losses_missing=False), "margin"),
        (lambda: yarn_fit.yarn_remarks(need(-1, None), "", None, in_yarn_room=False), "need"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()


def test_values_are_quantities_or_words():
    remarks = loom_fit.place_remarks(0, 16, 16, Fraction(5))
    assert {type(value) for remark in remarks for value in remark.values.values()} == {Quantity, str}


def test_no_reed_listed_is_another_matter_than_none_that_suits():
    assert loud(loom_fit.reed_remarks(None, None, per_inch(20), share(2), "Heron")) == [("reed_missing", "note")]
