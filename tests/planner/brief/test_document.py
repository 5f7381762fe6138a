"""Briefs in and out: strict, total, exact. Arbitrary JSON never raises, and what is written reads back the same."""

import json
import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planner
from inventory.calc.count import tex_of_yards_per_pound
from planner.brief.document import digest, load, read_brief, write_brief
from planner.brief.format_page import HEAD, PAGE, with_tables
from planner.brief.schema import BRIEF, Part
from planner.calc.terms.brief import Allowances, WarpBrief
from studio.units import UnitError, Units
from tests.planner import worked_projects

HOME = Path(planner.__file__).parent
EXAMPLES = sorted((HOME / "examples").glob("*.json"))
MANY = settings(max_examples=60, deadline=None)
HALF_A_SECOND = 0.5


def towels(**changes):
    document = load((HOME / "examples" / "towels_sectional_beam_inches.json").read_bytes())
    return {**document, **changes}


def brief_of(document, units=None) -> WarpBrief:
    reading = read_brief(document, units)
    assert reading.problems == ()
    return reading.brief


def problems_of(document, units=None) -> dict[str, str]:
    reading = read_brief(document, units)
    assert reading.brief is None
    return {problem.field: problem.code for problem in reading.problems}


def inside(part, key, value, document=None):
    """A towel brief with one value changed; `part` is dotted, numbers are places in a list."""
    document = json.loads(json.dumps(document or towels()))
    place = document
    for step in filter(None, part.split(".")):
        place = place[int(step)] if step.isdecimal() else place.setdefault(step, {})
    place[key] = value
    return document


# What is read


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_documented_example_reads(path):
    assert isinstance(brief_of(load(path.read_bytes())), WarpBrief)


def test_three_examples_are_documented():
    text = (HOME / "BRIEF_FORMAT.md").read_text(encoding="utf-8")
    assert [path.name for path in EXAMPLES if path.name in text] == [path.name for path in EXAMPLES]
    assert len(EXAMPLES) == 3


def test_an_inch_is_2_54_cm():
    # International yard and pound agreement, 1959.
    assert brief_of(towels()).width_in_reed == Fraction("60.96")


def test_a_metric_reed_is_exact():
    brief = brief_of(load((HOME / "examples" / "linen_cloths_metric.json").read_bytes()))
    assert brief.loom.reeds[0].dents == 5


def test_a_bare_number_takes_the_units_asked_for():
    assert brief_of(towels(width_in_reed="24"), Units.INCH).width_in_reed == Fraction("60.96")
    assert brief_of(towels(width_in_reed="60.96"), Units.METRIC).width_in_reed == Fraction("60.96")


def test_the_documents_own_units_win():
    assert brief_of(towels(width_in_reed="60", units="metric"), Units.INCH).width_in_reed == 60


def test_a_bare_number_is_a_per_cent_where_a_share_belongs():
    assert brief_of(inside("allowances", "take_up", "9"), Units.INCH).allowances.take_up == Fraction(9, 100)


def test_the_loom_gives_its_waste_where_the_brief_says_none():
    assert brief_of(towels()).allowances.waste == Fraction("91.44")


def test_the_brief_may_say_another_waste():
    assert brief_of(inside("allowances", "waste", "30 in")).allowances.waste == Fraction("76.2")


def test_what_is_left_out_takes_the_dataclass_default():
    document = {key: value for key, value in towels().items() if key != "allowances"}
    assert brief_of(document).allowances == replace(Allowances(), waste=Fraction("91.44"))


def test_null_counts_as_left_out():
    assert brief_of(towels(bench=None, picks=None)) == brief_of(
        {key: value for key, value in towels().items() if key not in {"bench", "picks"}}
    )


# Common practice, no source, but for the point: Brooks, Cotton Manufacturing, 3rd ed., Drafts, up and back on five.
DRAWS = {
    ("point", 4): (1, 2, 3, 4, 3, 2),
    ("point", 5): (1, 2, 3, 4, 5, 4, 3, 2),
    ("broken", 4): (1, 2, 3, 4, 2, 1, 4, 3),
    ("broken", 6): (1, 2, 3, 4, 5, 6, 3, 2, 1, 6, 5, 4),
    ("lace", 3): (1, 3, 1, 3, 1, 2),
    ("Lace ", 5): (1, 3, 1, 3, 1, 2, 1, 4, 1, 4, 1, 2, 1, 5, 1, 5, 1, 2),
}


def on_shafts(shafts, threading):
    document = inside("loom", "shafts", shafts, towels(threading=threading))
    document["loom"].pop("heddles", None)
    return document


@pytest.mark.parametrize(("draw", "shafts"), DRAWS)
def test_a_draw_named_by_a_word_is_written_out_on_the_looms_shafts(draw, shafts):
    assert brief_of(on_shafts(shafts, draw)).threading == DRAWS[draw, shafts]


@pytest.mark.parametrize(
    ("draw", "shafts", "said"),
    [
        ("broken", 5, "A broken threading needs an even number of shafts, at least 4; this loom has 5 shafts."),
        ("broken", 2, "A broken threading needs an even number of shafts, at least 4; this loom has 2 shafts."),
        ("lace", 1, "A lace threading needs at least 3 shafts; this loom has 1 shaft."),
    ],
)
def test_a_draw_the_loom_has_no_shafts_for_is_told_in_a_sentence(draw, shafts, said):
    reading = read_brief(on_shafts(shafts, draw))
    assert [(problem.field, problem.message) for problem in reading.problems] == [("threading", said)]


@MANY
@given(draw=st.sampled_from(["straight", "point", "broken", "lace"]), shafts=st.integers(1, 64))
def test_a_draw_on_any_loom_is_a_brief_that_reads_back_the_same_or_one_problem(draw, shafts):
    reading = read_brief(on_shafts(shafts, draw))
    if reading.brief is None:
        assert [problem.field for problem in reading.problems] == ["threading"]
    else:
        assert max(reading.brief.threading, default=shafts) == shafts
        assert read_brief(json.loads(json.dumps(write_brief(reading.brief)))).brief == reading.brief


def test_a_draw_waits_for_a_loom_that_is_itself_wrong():
    assert problems_of(inside("loom", "shafts", 65, towels(threading="broken"))).keys() == {"loom.shafts"}


def test_a_straight_draft_stays_unsaid():
    assert brief_of(towels(threading="Straight")).threading == ()


@pytest.mark.parametrize("typed", ["1,2,3,4", "1 2 3 4", "1-2-3-4"])
def test_shafts_are_read_as_people_part_them(typed):
    assert brief_of(towels(threading=typed)).threading == (1, 2, 3, 4)


def test_a_colour_order_goes_by_colour_names():
    brief = brief_of(towels(colour_order="480 natural"))
    assert [(run.code, run.ends) for run in brief.colour_order] == [("A", 480)]


@pytest.mark.parametrize(
    ("typed", "places"),
    [
        ("3, 7-9", (3, 7, 8, 9)), ("3; 7 \N{EN DASH} 9", (3, 7, 8, 9)), ("9 3", (9, 3)), ("5-5", (5,)), ("", ()),
        ([3, 7], (3, 7)), ([], ()), (["4"], (4,)),
    ],
)  # fmt: skip
def test_positions_are_read_as_people_write_them(typed, places):
    assert brief_of(towels(chain_sections=typed)).chain_sections == places


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("9-7", "span_backwards"), ("3.5", "not_positions"), ("-3", "not_positions"), ("3-", "not_positions"),
        ("1-2-3", "not_positions"), ("a", "not_positions"), ("0", "out_of_range"), ("401", "out_of_range"),
        ("1-400, 1", "too_many"), (3, "not_text"), ([0], "out_of_range"), ([2.5], "not_whole"), ([True], "not_whole"),
        ([1] * 401, "not_a_list"), ({}, "not_text"), ("23", "not_on_beam"),
    ],
)  # fmt: skip
def test_what_is_no_position_is_refused(typed, code):
    assert problems_of(towels(chain_sections=typed))["chain_sections"] == code


@MANY
@given(st.lists(st.integers(1, 22), max_size=30))
def test_positions_come_back_in_their_order_however_they_stand(places):
    brief = brief_of(towels(chain_sections=places))
    assert brief.chain_sections == tuple(places)
    assert brief_of(write_brief(brief)) == brief


def test_positions_are_written_short():
    assert write_brief(brief_of(towels(chain_sections=[3, 7, 8, 9])))["chain_sections"] == "3, 7-9"


@pytest.mark.parametrize(
    ("typed", "per_gram"),
    [("2.40 /100 g", "0.024"), ("24/kg", "0.024"), ("1/2 / 50 g", "0.01"), ("28.349523125 /oz", "1")],
)
def test_a_price_is_read_per_weight(typed, per_gram):
    # The ounce of 28.349523125 g is exact by the agreement of 1959.
    assert brief_of(inside("yarns.0", "price", typed)).yarns[0].price == Fraction(per_gram)


def test_a_warp_may_be_moved_to_the_left():
    assert brief_of(towels(shift="-1 in")).shift == Fraction("-2.54")


def test_a_count_comes_to_its_tex():
    # 8/2 cotton is 8 x 840 / 2 = 3360 yd/lb; the hank of 840 yd: J. T. Taylor, Cotton Weaving and Designing, 6th ed.
    assert brief_of(inside("yarns.0", "grist", "8/2 cotton")).yarns[0].tex == tex_of_yards_per_pound(Fraction(3360))


# What is refused


@pytest.mark.parametrize("document", [None, True, 3, 2.5, "brief", [], [{"title": "x"}]])
def test_what_is_no_object_is_refused(document):
    assert problems_of(document) == {"": "not_an_object"}


def test_an_empty_document_names_all_that_is_needed():
    assert problems_of({}) == dict.fromkeys(("title", "loom", "yarns", "sett"), "missing")


@pytest.mark.parametrize(
    ("part", "key", "value", "field", "code"),
    [
        ("", "sett", "20", "sett", "unit_missing"),
        ("", "sett", 20, "sett", "unit_missing"),
        ("", "sett", "20 lb", "sett", "unit_unknown"),
        ("", "sett", 2.5, "sett", "not_text"),
        ("", "sett", float("nan"), "sett", "not_text"),
        ("", "sett", float("inf"), "sett", "not_text"),
        ("", "sett", True, "sett", "not_text"),
        ("", "sett", 10**30, "sett", "too_large"),
        ("", "sett", ["20 /in"], "sett", "not_text"),
        ("", "sett", "20 /in" + " " * 10**6, "sett", "too_long"),
        ("", "sett", "1/0 /in", "sett", "not_a_number"),
        ("", "sett", "99999999999/3 /in", "sett", "too_large"),
        ("", "pieces", "9" * 5_000, "pieces", "not_whole"),
        ("", "pieces", "99999", "pieces", "out_of_range"),
        ("", "pieces", "eight", "pieces", "not_whole"),
        ("loom", "heddles", "150", "loom.heddles", "not_a_list"),
        ("yarns.0", "grist", "1/99999999 tex", "yarns.0.grist", "out_of_range"),
        ("", "pieces", True, "pieces", "not_whole"),
        ("", "pieces", 1.0, "pieces", "not_whole"),
        ("", "pieces", -1, "pieces", "out_of_range"),
        ("", "title", "a\x00b", "title", "odd_signs"),
        ("", "title", "\ud800", "title", "odd_signs"),
        ("", "title", "   ", "title", "missing"),
        ("", "weave", "velvet", "weave", "not_a_choice"),
        ("", "units", "cubit", "units", "not_a_choice"),
        ("", "yarns", [], "yarns", "yarns_missing"),
        ("", "yarns", {}, "yarns", "not_a_list"),
        ("", "yarns", [{}] * 10**5, "yarns", "too_many"),
        ("", "yarns", ["8/2"], "yarns.0", "not_an_object"),
        ("", "colour_order", "8 Z", "colour_order", "unknown_yarn"),
        ("", "threading", "1, 2, x", "threading", "not_a_threading"),
        ("", "threading", "pointed", "threading", "not_a_threading"),
        ("", "threading", "1, 5", "threading", "shaft_unknown"),
        ("yarns.0", "grist", "8/2 nonsense", "yarns.0.grist", "system_unknown"),
        ("yarns.0", "colour", "blue", "yarns.0.colour", "not_a_colour"),
        ("yarns.0", "code", "(A)", "yarns.0.code", "not_a_code"),
        ("yarns.0", "price", "2.40", "yarns.0.price", "unit_missing"),
        ("yarns.0", "price", "2.40 /0 g", "yarns.0.price", "not_above_zero"),
        ("loom", "reeds", [{}] * 41, "loom.reeds", "too_many"),
        ("loom", "heddles", [1, "x"], "loom.heddles", "not_whole"),
        ("loom.beam", "sections", 10**9, "loom.beam.sections", "out_of_range"),
        ("loom.beam", "clockwise", 1, "loom.beam.clockwise", "not_yes_or_no"),
        ("loom.beam", "circumference", "1/1000000000 in", "finished_length", "too_long"),
        ("allowances", "take_up", "0.1", "allowances.take_up", "unit_missing"),
        ("allowances", "take_up", "100 %", "allowances.take_up", "too_large"),
    ],
)
def test_what_is_wrong_is_named_beside_its_field(part, key, value, field, code):
    assert problems_of(inside(part, key, value)).get(field) == code


def test_all_problems_come_at_once():
    document = inside("loom.beam", "pitch", "2", inside("yarns.0", "grist", "?", towels(sett="x", extra=1)))
    assert problems_of(document).keys() == {"sett", "extra", "yarns.0.grist", "loom.beam.pitch"}


def test_an_unknown_key_suggests_the_nearest():
    (problem,) = read_brief(towels(widht_in_reed="2 in")).problems
    assert problem.code == "unknown_key"
    assert "“width_in_reed”" in problem.message


def test_many_unknown_keys_are_counted():
    reading = read_brief(towels(**{f"x{number}": 1 for number in range(10**5)}))
    assert len(reading.problems) == 11
    assert "99990 more" in reading.problems[-1].message


def test_no_answer_carries_half_a_character():
    (problem,) = read_brief(towels(**{"\ud800\x1b[31m": 1})).problems
    assert problem.field.encode("utf-8") == b"??[31m"


def test_a_loom_by_number_asks_to_be_looked_up():
    assert problems_of(towels(loom={"number": 3})) == {"loom.number": "not_found"}


def test_a_yarn_by_number_asks_to_be_looked_up():
    assert problems_of(towels(yarns=[{"code": "A", "yarn_id": 9}])) == {"yarns.0.yarn_id": "not_found"}


def test_rules_between_fields_are_asked_too():
    assert problems_of(towels(ends=480)) == {"ends": "width_twice"}


# What is written


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_comes_back_exactly(path):
    brief = brief_of(load(path.read_bytes()))
    assert brief_of(json.loads(json.dumps(write_brief(brief)))) == brief


@pytest.mark.parametrize("make", worked_projects.ALL, ids=lambda make: make.__name__)
def test_each_worked_project_comes_back_exactly(make):
    assert brief_of(json.loads(json.dumps(write_brief(make())))) == make()


def test_a_complete_document_says_every_quantity_with_its_unit():
    assert read_brief(write_brief(brief_of(towels()))).problems == ()


def test_writing_keeps_the_measures_people_use():
    written = write_brief(brief_of(towels()))
    assert (written["width_in_reed"], written["sett"]) == ("24 in", "20 /in")
    assert (written["yarns"][0]["grist"], written["yarns"][0]["price"]) == ("3360 yd/lb", "2.4 /100 g")


def test_inches_and_centimetres_give_one_brief():
    metric = towels(width_in_reed="60.96 cm", finished_length="71.12 cm", sett="1000/127 /cm")
    assert brief_of(metric) == brief_of(towels(sett="20 /in"))


def exact(least=Fraction(1, 10), most=Fraction(500)):
    return st.fractions(least, most, max_denominator=10**12)


def test_a_shift_to_the_left_comes_back():
    assert write_brief(brief_of(towels(shift="-1/3 in")))["shift"] == "-1/3 in"


def test_a_yarn_without_a_short_figure_is_written_as_a_fraction():
    document = write_brief(brief_of(inside("yarns.0", "grist", "1653515/11202 tex")))
    assert document["yarns"][0]["grist"] == "1653515/11202 tex"


@st.composite
def briefs(draw):
    """A sound brief with awkward numbers in every kind of place."""
    base = brief_of(towels())
    price = draw(st.none() | exact(Fraction(0)))
    tex = draw(st.fractions(1, 2000, max_denominator=10**15))
    yarn = replace(base.yarns[0], tex=tex, price=price, wraps=draw(exact()), on_hand=price)
    reed = replace(base.loom.reeds[0], dents=draw(exact(most=Fraction(20))))
    take_up = draw(st.fractions(0, Fraction(1, 2), max_denominator=10**9))
    return replace(
        base,
        width_in_reed=None,
        finished_width=draw(exact()),
        sett=draw(exact(most=Fraction(20))),
        shift=draw(st.fractions(-5, 5, max_denominator=10**9)),
        threading=tuple(draw(st.lists(st.integers(1, 4), max_size=40))),
        yarns=(yarn,),
        weft=yarn,
        loom=replace(base.loom, reeds=(reed,)),
        allowances=replace(base.allowances, take_up=take_up, gaps=draw(st.none() | st.integers(0, 20))),
    )


@MANY
@given(briefs())
def test_any_brief_reads_back_equal(brief):
    assert brief_of(write_brief(brief)) == brief


@pytest.mark.parametrize("typed", ["1,2", "12½", "1/3", "2 7/9999", "0.123456789"])
@pytest.mark.parametrize("unit", ["in", "ft", "yd", "mm", "cm", "m"])
def test_any_length_people_can_type_reads_back_equal(typed, unit):
    brief = brief_of(towels(width_in_reed=None, finished_width=f"{typed} {unit}"))
    assert brief_of(write_brief(brief)).finished_width == brief.finished_width


# Hostile documents

ODD = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30) | st.characters(categories=["Cs"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
PLACES = ["", "loom", "loom.beam", "loom.reeds.0", "yarns.0", "weft", "fit", "allowances", "bench", "tolerances"]


@MANY
@given(ODD)
def test_arbitrary_json_never_raises(document):
    assert read_brief(document).brief is None


def keys_at(place):
    part = BRIEF
    for step in filter(None, place.split(".")):
        part = part if step == "0" else next(key.kind for key in part.keys if key.name == step)
    return [key.name for key in part.keys]


EVERY_KEY = [(place, key) for place in PLACES for key in keys_at(place)]
TYPED = st.text("0123456789/.,+ -%incmgtexlbydkw\n½\N{MINUS SIGN}", max_size=40)


@MANY
@given(place=st.sampled_from(EVERY_KEY), value=ODD | TYPED)
def test_an_odd_value_in_any_place_never_raises(place, value):
    reading = read_brief(inside(*place, value), Units.INCH)
    json.dumps([[problem.field, problem.message] for problem in reading.problems], ensure_ascii=False).encode()


HOSTILE = {
    "unknown keys": {f"x{number}": number for number in range(10**5)},
    "yarns": towels(yarns=[{"code": "A", "grist": "30 tex"}] * 10**5),
    "yarns full of unknown keys": towels(yarns=[{f"x{number}": 1 for number in range(1_000)}] * 26),
    "a long text": towels(title="a" * 10**7),
    "a long quantity": towels(sett="9" * 10**6 + " /in"),
    "a huge number": towels(sett=10**4_000),
    "a huge fraction": towels(sett=f"{'9' * 400}/{'7' * 400} /in"),
    "many brackets": towels(colour_order="(" * 19_000),
    "many stripes": towels(colour_order="1 A," * 4_900),
    "far positions": towels(chain_sections="1" + " " * 39_000 + "- 2"),
    "many positions": towels(chain_sections="1-400," * 6_000),
    "a long threading": towels(threading="1," * 20_000),
    "folded yarns": inside("yarns.0", "grist", "8/2+" * 14 + "8/2"),
    "nested lists": inside("loom.beam", "pitch", [[[[[[]]]]]] * 10**5),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_document_is_answered_at_once(name):
    read_brief(towels())  # the table of units is made once
    started = time.process_time()
    read_brief(HOSTILE[name])
    assert time.process_time() - started < HALF_A_SECOND


# Bytes


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        (b"{", "not_json"),
        (b"", "not_json"),
        (b'{"a": NaN}', "not_json"),
        (b'{"a": -Infinity}', "not_json"),
        (b'{"a": 1, "a": 2}', "key_twice"),
        (b'{"a": "\xff"}', "not_utf8"),
        (b"[" * 100_000, "too_deep"),
        (b'{"a":' * 100_000, "too_deep"),
        (b"9" * 5_000, "too_large"),
        (b" " * 2_500_001, "too_large"),
    ],
)
def test_bytes_that_are_no_document_are_refused_with_a_word(raw, code):
    with pytest.raises(UnitError) as refused:
        load(raw)
    assert refused.value.code == code


# The tables hold together


def parts(part):
    yield part
    for key in part.keys:
        if isinstance(key.kind, Part):
            yield from parts(key.kind)


def test_the_page_of_the_format_says_what_the_field_table_says():
    text = PAGE.read_text(encoding="utf-8")
    assert with_tables(text) == text
    assert text.count(HEAD) == len({part.made for part in parts(BRIEF)})


def test_a_digest_does_not_mind_the_order_of_keys():
    assert digest({"a": 1, "b": [2]}) == digest({"b": [2], "a": 1})


def test_a_digest_tells_briefs_apart():
    assert digest(write_brief(brief_of(towels()))) != digest(write_brief(brief_of(towels(pieces=9))))
