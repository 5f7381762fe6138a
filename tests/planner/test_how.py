"""How it is worked out: every calculator has its page, every sum leads to one, and questions are answered right."""

import doctest
import pkgutil

import pytest
from django.urls import reverse

import planner.calc
from planner import explained, explained_facts
from planner.calc.sums import WORDS
from planner.disagreements import DISAGREEMENTS
from planner.explained import by_key, by_slug, parts, public_functions, slug_of_sum
from planner.explained_parts import NO_CALCULATORS, PARTS, SUM_CALCULATORS, TITLES
from planner.questions import QUESTIONS
from tests import cast


@pytest.fixture
def browser(db):
    return cast.as_(cast.new_member())


@pytest.fixture
def metric(db):
    return cast.as_(cast.new_member(units="metric"))


def text_of(words):
    return "".join(text for _, text in words)


def page_of(browser, name, **asked):
    return browser.get(reverse("how-one", args=[name]), asked)


def answer(browser, name, question, **asked):
    """Give the answer's figures by their labels, with their bounds."""
    page = page_of(browser, name, ask=question, **asked)
    lines = next(lines for form, lines in page.context["questions"] if form.question.key == question)
    return {line.label: f"{line.value} ({line.between})" if line.between else line.value for line in lines}


def errors(browser, name, question, **asked):
    page = page_of(browser, name, ask=question, **asked)
    form = next(form for form, _ in page.context["questions"] if form.question.key == question)
    return {field: list(said) for field, said in form.errors.items()}


def test_every_module_of_the_bench_stands_in_a_part():
    there = {found.name for found in pkgutil.iter_modules(planner.calc.__path__)}
    placed = {name.rsplit(".", 1)[1] for _, modules in PARTS.values() for name in modules if "calc" in name}
    assert there == placed | NO_CALCULATORS


def test_what_is_left_out_holds_no_calculator_that_a_sum_needs():
    assert not {name.split(".")[0] for name in SUM_CALCULATORS.values()} & NO_CALCULATORS


def test_every_public_calculator_is_explained():
    modules = [name for _, names in PARTS.values() for name in names]
    known = [f"{name.rsplit('.', 1)[1]}.{one.__name__}" for name in modules for one in public_functions(name)]
    assert sorted(known) == sorted(by_key())


def test_no_two_calculators_share_an_address():
    assert len(by_slug()) == sum(len(part.calculators) for part in parts())


@pytest.mark.parametrize("name", by_slug())
def test_a_data_sheet_has_rule_source_symbols_and_an_example_with_its_result(name):
    sheet = by_slug()[name]
    assert all((sheet.purpose, sheet.rule, sheet.source, sheet.results, sheet.examples))
    assert any(step.answer for step in sheet.examples)


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("group-setups", "Plain comparison."), ("passes-in-all", "Plain arithmetic."),
        ("mass-of-lead", "Plain arithmetic."), ("sley-guide", "Plain arithmetic."),
        ("change-costs", "R. W. Hamming, Bell System Technical Journal 29 (1950)"),
    ],
)  # fmt: skip
def test_a_rule_says_where_it_comes_from_apart_from_itself(name, source):
    said = [text_of(words) for words in by_slug()[name].source]
    assert source in said[-1]
    assert len(" ".join(said)) < len(" ".join(text_of(words) for words in by_slug()[name].rule))


def test_every_page_is_there_with_its_rule_source_and_example(browser):
    for name, sheet in by_slug().items():
        page = page_of(browser, name)
        assert page.status_code == 200, name
        for heading in ("The rule", "Source", "An example", "What comes out"):
            assert heading in page.content.decode(), name
        assert page.context["calculator"] is sheet


@pytest.mark.parametrize("key", WORDS)
def test_every_sum_leads_to_a_real_page(key):
    assert slug_of_sum(key) in by_slug()


def test_no_sum_is_mapped_that_is_never_shown():
    assert SUM_CALCULATORS.keys() == WORDS.keys()


def test_a_sum_of_an_old_plan_leads_nowhere():
    assert slug_of_sum("never_was") == ""


def test_every_calculator_of_a_disagreement_is_known():
    assert {name for one in DISAGREEMENTS for name in one.calculators} <= by_key().keys()


def test_every_calculator_of_a_question_is_known():
    assert {name for one in QUESTIONS.values() for name in one.calculators} <= by_key().keys()


def test_every_disagreement_has_sides_with_sources():
    assert all(len(one.sides) > 1 and all(side.says and side.source for side in one.sides) for one in DISAGREEMENTS)


def test_the_index_lists_every_part_and_calculator(browser):
    page = browser.get(reverse("how")).content.decode()
    assert all(f'href="{reverse("how-one", args=[name])}"' in page for name in by_slug())


def test_disagreements_stand_together_and_on_the_pages_concerned(browser):
    together = browser.get(reverse("how-disagreements")).content.decode()
    assert all(f'id="{one.key}"' in together for one in DISAGREEMENTS)
    page = page_of(browser, "woven-length")
    assert [one.key for one in page.context["disagreements"]] == ["add-or-divide"]


def test_a_table_that_a_rule_names_is_shown_with_its_sources(browser):
    page = page_of(browser, "dents-of").content.decode()
    assert "Bolton: beers of 20 dents in 24 1/4 in" in page
    assert "One table on the web counts them in 24 1/2 in" in page


@pytest.mark.parametrize("name", ["no-such", "sett", "how", "-"])
def test_an_unknown_name_is_not_found(browser, name):
    assert page_of(browser, name).status_code == 404


@pytest.mark.parametrize("url", ["how", "how-disagreements"])
def test_a_stranger_is_sent_to_sign_in(db, url):
    answered = cast.stranger().get(reverse(url))
    assert (answered.status_code, answered.url.split("?")[0]) == (302, reverse("sign-in"))


def test_a_stranger_sees_no_calculator_either(db):
    assert page_of(cast.stranger(), "woven-length").status_code == 302


def test_pages_only_read(browser):
    assert browser.post(reverse("how-one", args=["woven-length"])).status_code == 405


@pytest.mark.parametrize("name", ["woven-length", "depth-range", "rank-reeds"])
def test_a_page_asks_the_database_for_the_member_and_the_house_only(browser, django_assert_num_queries, name):
    page_of(browser, name)
    with django_assert_num_queries(4):  # session, user, member, rules of the studio
        page_of(browser, name)


# The six direct questions, each against figures that stand outside the project.

TAPED = {"turns": "12", "start": "91.4 cm", "end": "94.9 cm"}


def test_a_beam_is_calibrated_from_two_rounds(metric):
    # By hand: 3.5 cm / (2 x 3.14159 x 12) = 0.04642 cm; 3.3 and 3.7 cm give 0.0438 and 0.0491. Plain geometry.
    found = answer(metric, "depth-range", "calibrate", **TAPED)
    assert found["Depth of one turn"] == "0.46 mm (0.44 mm to 0.49 mm)"


def test_a_calibration_tells_the_density_of_the_yarn(metric):
    # By hand: 8 ends x 147.635 tex = 0.0118108 g/cm2 a layer; over 0.04642 cm 0.254 g/cm3. Plain geometry.
    found = answer(metric, "depth-range", "calibrate", **TAPED, sett="8", grist="8/2 cotton")
    assert found["Density as wound"] == "0.25 g/cm3 (0.24 g/cm3 to 0.27 g/cm3)"


def test_the_reach_of_yarn_is_its_length_over_the_ends(browser):
    # J. T. Taylor's way: 10 lb of 8/2 cotton are 33 600 yd; over 420 ends 80 yd each. Definition of the count.
    found = answer(browser, "longest-warp", "reach", mass="10 lb", grist="8/2 cotton", ends="420")
    assert found == {"Yarn there is": "33600 yd", "Longest warp": "80 yd"}


def test_the_reach_of_yarn_in_width_and_pieces(browser):
    # By hand: 3360 yd / 10 yd = 336 ends at 20 to the inch, 16.8 in; 336 ends x (10 x 36 in) = 3360 yd.
    asked = {"warp_length": "10 yd", "sett": "20", "ends": "336", "piece": "32 in", "fixed": "40 in"}
    found = answer(browser, "widest", "reach", mass="1 lb", grist="3360 yd/lb", **asked)
    assert (found["Widest warp"], found["Most pieces"]) == ("16.8 in in the reed, 336 ends", "10")


def test_an_old_reed_is_told_in_dents_and_in_the_other_districts(browser):
    # C. P. Brooks, Cotton Manufacturing, 3rd ed.: one Bolton is 1.6495 Stockport, so 36 are 59.38.
    found = answer(browser, "dents-of", "reeds", number="36", system="bolton")
    assert (found["Dents"], found["Stockport: dents in 2 in"]) == ("29.69/in", "59.38")


def test_a_count_is_told_in_the_others(browser):
    # C. P. Brooks, Cotton Manufacturing, chapter IX: a 20s cotton is a 30s worsted.
    found = answer(browser, "count-of-tex", "counts", grist="20 cotton")
    assert (found["As one ply, worsted count"], found["Yards per pound"]) == ("30", "16800 yd/lb")


def test_a_weave_is_counted_from_its_lift_plan(browser):
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed.: a 2/2 twill has two intersections on four ends.
    found = answer(browser, "count-weave", "weave", lifts="1,2 / 2,3 / 3,4 / 4,1", fibre="cotton")
    assert (found["Intersections of each pick"], found["Longest float of the warp"]) == ("2", "2 picks")


def test_a_weave_beside_a_yarn_gives_the_greatest_sett(browser):
    # By hand: 0.90 x sqrt(3360) = 52.17 to the inch; x 4 / (4 + 2) = 34.78. Taylor's rule, K of the 1999 page.
    asked = {"lifts": "xx..\r\n.xx.\r\n..xx\r\nx..x", "grist": "8/2 cotton", "fibre": "cotton"}
    assert answer(browser, "count-weave", "weave", **asked)["Greatest sett"] == "34.78/in"


def test_a_package_has_as_much_as_its_lightest_and_heaviest_cone_leave(browser):
    # By hand: 488, 465.5 and 443 g x 3360 / 453.59237 = 3614.88, 3448.21 and 3281.54 yd. Definition of the pound.
    asked = {"gross": "500 g", "grist": "8/2 cotton", "package": "cone", "lightest": "12 g", "heaviest": "57 g"}
    found = answer(browser, "package-length", "package", **asked)
    assert found["Yarn on the package"] == "3448.21 yd (3281.54 yd to 3614.88 yd)"


def test_a_weighed_empty_leaves_no_doubt(browser):
    asked = {"gross": "1 lb", "grist": "3360 yd/lb", "package": "cone", "lightest": "0.5 lb"}
    assert answer(browser, "package-length", "package", **asked) == {"Yarn on the package": "1680 yd"}


# What goes wrong is said beside its field, and what was typed is kept.

WRONG = {
    "words for a length": ("depth-range", "calibrate", {**TAPED, "start": "a yard or so"}, "start"),
    "a unit of nobody's": ("depth-range", "calibrate", {**TAPED, "end": "3 furlongs"}, "end"),
    "half a turn": ("depth-range", "calibrate", {**TAPED, "turns": "1/2"}, "turns"),
    "no turns": ("depth-range", "calibrate", {**TAPED, "turns": "0"}, "turns"),
    "a beam that shrank": ("depth-range", "calibrate", {**TAPED, "end": "90 cm"}, "end"),
    "too little for the tape": (
        "depth-range", "calibrate", {**TAPED, "end": "91.5 cm", "sett": "8", "grist": "8/2 cotton"}, "turns",
    ),
    "a beam left out": ("depth-range", "calibrate", {"turns": "12", "end": "94.9 cm"}, "start"),
    "no yarn": ("widest", "reach", {"mass": "1 lb", "grist": "string", "ends": "4"}, "grist"),
    "a question without a question": ("widest", "reach", {"mass": "1 lb", "grist": "8/2 cotton"}, "ends"),
    "a district unheard of": ("dents-of", "reeds", {"number": "36", "system": "york"}, "system"),
    "a reed of nothing": ("dents-of", "reeds", {"number": "0", "system": "bolton"}, "number"),
    "no weave": ("count-weave", "weave", {"lifts": "over and under", "fibre": "cotton"}, "lifts"),
    "rows of unequal length": ("count-weave", "weave", {"lifts": "xx. / x.", "fibre": "cotton"}, "lifts"),
    "a cone heavier than the lightest": (
        "package-length", "package",
        {"gross": "1 lb", "grist": "8/2 cotton", "package": "cone", "lightest": "9 g", "heaviest": "8 g"}, "heaviest",
    ),
    "a package lighter than its cone": (
        "package-length", "package", {"gross": "3 g", "grist": "8/2 cotton", "package": "cone"}, "gross",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("name", "question", "asked", "field"), WRONG.values(), ids=WRONG.keys())
def test_a_mistake_stands_beside_its_field(browser, name, question, asked, field):
    assert list(errors(browser, name, question, **asked)) == [field]


def test_what_was_typed_is_kept(browser):
    page = page_of(browser, "depth-range", ask="calibrate", **{**TAPED, "start": "a yard or so"})
    assert 'value="a yard or so"' in page.content.decode()


def test_an_unasked_question_shows_no_mistake(browser):
    page = page_of(browser, "depth-range")
    assert [(form.is_bound, lines) for form, lines in page.context["questions"]] == [(False, ())]


HOSTILE = [
    "", "0", "-1", "1e999", "9" * 400, "1/0", "²", "\x00", "<script>", "1 /in /in", "∞ in", "999999999 yd", "1,2 / ",
]  # fmt: skip


@pytest.mark.parametrize("value", HOSTILE)
@pytest.mark.parametrize("key", QUESTIONS)
def test_whatever_is_typed_there_is_a_page(browser, key, value):
    question = QUESTIONS[key]
    name = by_key()[question.calculators[0]].slug
    for ask in question.asks:
        sound = {other.name: "4" for other in question.asks} | {ask.name: value}
        assert page_of(browser, name, ask=key, **sound).status_code == 200


def test_a_weave_that_never_crosses_is_counted(browser):
    found = answer(browser, "count-weave", "weave", lifts="x", fibre="cotton", grist="8/2 cotton")
    assert found["Longest float of the warp"] == "some never cross"


def test_what_the_module_shows_as_examples_is_so():
    assert [doctest.testmod(module).failed for module in (explained, explained_facts)] == [0, 0]


def test_every_title_of_our_own_is_of_a_calculator():
    assert TITLES.keys() <= by_key().keys()


def test_no_two_pages_have_one_title_in_a_part():
    assert [part.key for part in parts() if len({one.title for one in part.calculators}) < len(part.calculators)] == []


def test_a_rule_is_found_by_the_words_of_its_purpose(browser):
    found = browser.get(reverse("search"), {"q": "depth tape"}).content.decode()
    assert f'href="{reverse("how-one", args=["depth-from-tape"])}"' in found


def test_the_foot_of_every_page_leads_here(browser):
    assert f'href="{reverse("how")}"' in browser.get(reverse("warps")).content.decode()


def test_rows_without_a_name_go_by_their_keys(browser):
    table = page_of(browser, "package-length").context["calculator"].tables[0]
    assert (table.columns[0], table.rows[0][0]) == ("Kind", "Cone")
