"""The sheet's words and the brief document: nothing typed is lost on the way."""

from fractions import Fraction

import pytest

from planner.brief.document import BRIEF, read_brief, write_brief
from planner.brief.sheet_input import (
    FIELDS,
    STEERING,
    KnownFacts,
    blank_typed,
    document_of,
    field_of_problem,
    keep_typed,
    rows_used,
    still_needed,
    typed_from_document,
    with_units_kept,
)
from planner.calc.terms.usual_losses import USUAL_LOSSES
from studio.units import KINDS, Units, read

LOOM = {
    "name": "Heron", "weaving_width": "45 in", "waste": "36 in", "shafts": 4,
    "beam": {"kind": "sectional", "circumference": "36 in", "usable_width": "45 in", "pitch": "2 in", "sections": 22,
             "rake_height": "2 in"},
}  # fmt: skip
FORM = {
    "beam": "1", "sett": "20", "width_by": "ends", "ends": "480", "finished_width": "7", "length_by": "turns",
    "turns": "11", "yarns-0-code": "A", "yarns-0-yarn": "8/2", "yarns-0-grist": "8/2 cotton",
}  # fmt: skip


def typed(**changes):
    return {"units": "inch", "form": {**FORM, **changes}}


def document(**changes):
    return document_of(typed(**changes), KnownFacts(loom=LOOM))


def document_keys(part=BRIEF, prefix=""):
    for key in part.keys:
        yield f"{prefix}{key.name}"
        if hasattr(key.kind, "keys") and not key.kind.most:
            yield from document_keys(key.kind, f"{prefix}{key.name}.")


def test_every_field_has_a_place_in_the_brief_document():
    paths = {field.path for field in FIELDS.values() if field.name not in STEERING}
    assert paths - set(document_keys()) == set()


@pytest.mark.parametrize(("box", "paddle"), [("on", True), ("", None)])
def test_a_paddle_is_kept_where_it_is_ticked_and_left_out_elsewhere(box, paddle):
    reading = read_brief(document(with_paddle=box, ends_at_once="4"))
    assert (reading.brief.bench.with_paddle, reading.brief.bench.ends_at_once) == (paddle, 4)
    kept = write_brief(reading.brief)
    assert (kept["bench"].get("with_paddle"), read_brief(kept).brief) == (paddle, reading.brief)
    assert typed_from_document(kept)["form"].get("with_paddle", "") == box


def test_a_lift_plan_counts_when_the_weave_is_as_typed_alone():
    kept = document(weave="twill_2_2", lifts="1 2 / 2 3")
    assert "lifts" not in kept
    assert read_brief(document(weave="as_typed", lifts="1 3, 2 4")).brief.lifts == ((1, 3), (2, 4))


@pytest.mark.parametrize("lifts", ["12 / 34", "over and under", "", "1 3, 2 4 / 1", "1 2 3 4 / -"])
def test_trouble_with_a_lift_plan_stands_beside_it(lifts):
    reading = read_brief(document(weave="as_typed", lifts=lifts))
    assert [field_of_problem(found.field, FORM) for found in reading.problems] == ["lifts"]


def test_a_lift_plan_comes_back_from_its_document():
    form = typed_from_document(document(weave="as_typed", lifts="1 3, 2 4"))["form"]
    assert (form["weave"], form["lifts"]) == ("as_typed", "1 3, 2 4")


def test_wraps_of_a_yarn_reach_the_brief_with_a_count_or_over_the_yarn_rooms():
    assert read_brief(document(**{"yarns-0-wraps": "28"})).brief.yarns[0].wraps == Fraction(2800, 254)
    known = KnownFacts(loom=LOOM, yarns={12: {"grist": "3360 yd/lb", "wraps": "30 /in", "yarn_id": 12}})
    named = {"yarns-0-yarn": "8/2 cotton (yarn 12)", "yarns-0-grist": "", "yarns-0-wraps": "28 /in"}
    assert document_of(typed(**named), known)["yarns"][0]["wraps"] == "28 /in"


def test_a_sheet_becomes_a_brief_that_can_be_worked_out():
    reading = read_brief(document())
    assert reading.problems == ()
    assert (reading.brief.ends, reading.brief.sett) == (480, Fraction(20 * 100, 254))


def test_only_the_chosen_width_and_length_count():
    made = document(warp_length="10 yd", finished_length="3", width_in_reed="9")
    assert {
        name for name in ("finished_width", "width_in_reed", "warp_length", "finished_length") if name in made
    } == set()


def test_a_number_without_a_unit_means_the_sheets_unit():
    inch = read_brief(document(width_by="width_in_reed", width_in_reed="24")).brief
    metric = read_brief(
        document_of({**typed(width_by="width_in_reed", width_in_reed="24"), "units": "metric"}, KnownFacts(loom=LOOM))
    ).brief
    assert (inch.width_in_reed, metric.width_in_reed) == (Fraction(24 * 254, 100), Fraction(24))


@pytest.mark.parametrize("text", ["12", "12 1/2", "12½", "1/2", "7,5", "0.001"])
@pytest.mark.parametrize("name", [f.name for f in FIELDS.values() if f.spec.kind in KINDS and f.spec.kind != "share"])
def test_a_change_of_units_changes_no_meaning(name, text):
    kept = with_units_kept({name: text}, Units.INCH, Units.METRIC)[name]
    assert read(kept, FIELDS[name].spec.kind, Units.METRIC) == read(text, FIELDS[name].spec.kind, Units.INCH)


def test_a_change_of_units_leaves_what_says_its_own():
    form = {"hem": "3 cm", "draw_in": "8", "pieces": "8", "title": "12"}
    assert with_units_kept(form, Units.INCH, Units.METRIC) == form


def test_units_changed_to_and_fro_keep_the_first_meaning():
    once = with_units_kept({"sett": "12"}, Units.INCH, Units.METRIC)
    assert with_units_kept(once, Units.METRIC, Units.INCH) == {"sett": "12 /in"}


def test_what_is_posted_is_kept_letter_for_letter():
    kept = keep_typed({"units": "metric", "sett": " 12 1/2 ", "title": "🧶", "csrfmiddlewaretoken": "x", "stray": "y"})
    assert kept == {"units": "metric", "form": {"sett": " 12 1/2 ", "title": "🧶"}}


def test_what_no_database_stores_is_left_out():
    assert keep_typed({"title": "a\x00b"})["form"] == {"title": "ab"}


def test_a_row_beyond_the_last_letter_is_not_kept():
    assert keep_typed({"yarns-25-yarn": "z", "yarns-26-yarn": "too many"})["form"] == {"yarns-25-yarn": "z"}


def test_an_empty_row_between_yarns_is_no_yarn():
    form = {**FORM, "yarns-1-code": "B", "yarns-2-code": "C", "yarns-2-yarn": "linen", "yarns-2-grist": "10 tex"}
    assert rows_used(form) == [0, 2]


def test_a_problem_finds_the_row_it_was_typed_in():
    form = {**FORM, "yarns-1-code": "B", "yarns-2-code": "C", "yarns-2-yarn": "linen"}
    assert field_of_problem("yarns.1.grist", form) == "yarns-2-grist"


@pytest.mark.parametrize(
    ("path", "field"),
    [
        ("sett", "sett"), ("allowances.draw_in", "draw_in"), ("fit.multiple", "multiple"), ("weft.grist", "weft-grist"),
        ("weft.name", "weft-yarn"), ("yarns", "yarns-0-yarn"), ("loom", "beam"), ("loom.beam.pitch", "beam"),
        ("tolerances.mismatch_warn", "beam"), ("bench.board_step", "board_step"), ("bench.tie_every", "rack"),
        ("unheard.of", "title"), ("", "title"),
    ],
)  # fmt: skip
def test_a_problem_stands_beside_its_field(path, field):
    assert field_of_problem(path, FORM) == field


def test_the_code_of_a_warp_yarn_stands_for_the_same_yarn_as_weft():
    made = document(**{"weft-yarn": "a"})
    assert (made["weft"]["code"], made["weft"]["grist"]) == ("A", "8/2 cotton")


def test_a_yarn_of_the_yarn_room_brings_its_facts_and_typed_words_win():
    facts = KnownFacts(loom=LOOM, yarns={7: {"name": "8/2 cotton", "grist": "3360 yd/lb", "yarn_id": 7}})
    made = document_of(
        typed(**{"yarns-0-yarn": "8/2 cotton (yarn 7)", "yarns-0-grist": "", "yarns-0-sett": "18"}), facts
    )
    assert made["yarns"] == [{"name": "8/2 cotton", "grist": "3360 yd/lb", "yarn_id": 7, "code": "A", "sett": "18"}]


def test_a_blank_sheet_says_what_it_still_needs():
    assert still_needed(blank_typed(Units.INCH)["form"]) == (
        "beam", "yarns-0-yarn", "sett", "finished_width", "finished_length",
    )  # fmt: skip


def test_a_document_fills_a_sheet_that_gives_the_document_again():
    first = document(
        hem="2 in", whole_repeats="on", threading_kind="point", **{"weft-yarn": "wool", "weft-grist": "100 tex"}
    )
    again = document_of(typed_from_document(first, 1), KnownFacts(loom=LOOM))
    assert again == first


@pytest.mark.parametrize(
    ("typed_in", "kind"),
    [
        ("straight", "straight"), ("point", "point"), ("broken", "broken"), ("lace", "lace"), ("1, 3, 2, 4", "typed"),
        ("Broken", "typed"),
    ],
)  # fmt: skip
def test_a_threading_comes_back_as_it_was_given(typed_in, kind):
    form = typed_from_document(document(threading_kind="typed", threading=typed_in), 1)["form"]
    assert (form["threading_kind"], form["threading"]) == (kind, typed_in)
    assert document_of({"units": "inch", "form": form}, KnownFacts(loom=LOOM))["threading"] == typed_in


@pytest.mark.parametrize(
    ("kind", "field"),
    [("broken", "threading_kind"), ("lace", "threading_kind"), ("typed", "threading"), ("", "threading")],
)
def test_a_problem_of_the_threading_stands_beside_what_is_in_sight(kind, field):
    assert field_of_problem("threading", {**FORM, "threading_kind": kind}) == field


@pytest.mark.parametrize("said", ["3, 7-9", [3, 7, 8, 9]])
def test_positions_of_a_document_fill_the_sheet_as_typed(said):
    typed = typed_from_document({**document(), "chain_sections": said}, 1)
    assert read_brief(document_of(typed, KnownFacts(loom=LOOM))).brief.chain_sections == (3, 7, 8, 9)


@pytest.mark.parametrize("losses", USUAL_LOSSES.values(), ids=USUAL_LOSSES.keys())
def test_usual_losses_are_losses_that_a_brief_takes(losses):
    fields = {name: getattr(losses, name) for name in ("draw_in", "width_shrinkage", "length_shrinkage", "take_up")}
    assert read_brief(document(**fields)).problems == ()


# Ranges of the whole width loss, reed to finished, per cent: common practice, no source (from memory but for cotton).
WIDTH_LOSS = {
    "cotton_plain": (12, 16), "cotton_twill": (14, 20), "cotton_waffle": (20, 30), "cotton_lace": (12, 18),
    "linen_plain": (6, 10), "cottolin": (10, 14), "wool_light": (12, 18), "wool_fulled": (20, 30), "silk": (6, 10),
    "rayon": (8, 12), "rag_rug": (5, 8), "weft_faced": (3, 5), "warp_faced": (3, 6),
}  # fmt: skip


@pytest.mark.parametrize("key", WIDTH_LOSS)
def test_draw_in_and_shrinkage_make_the_usual_width_loss(key):
    losses = USUAL_LOSSES[key]
    kept = (1 - Fraction(losses.draw_in) / 100) * (1 - Fraction(losses.width_shrinkage) / 100)
    assert WIDTH_LOSS[key][0] <= 100 * (1 - kept) <= WIDTH_LOSS[key][1]


def test_a_count_typed_beside_a_name_is_kept_as_typed():
    yarns = document(**{"yarns-0-yarn": "rug warp", "yarns-0-grist": "4/2 cotton"})["yarns"]
    assert (yarns[0]["name"], yarns[0]["count"]) == ("rug warp", "4/2 cotton")
