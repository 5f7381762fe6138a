"""How it is worked out: every calculator has its page, every sum leads to one, and the list holds them all."""

import doctest
import pkgutil
import re
from html import unescape

import pytest
from django.urls import reverse

import planner.calc
from planner.calc.worksheet.sums import WORDS
from planner.handbook import explained
from planner.handbook import facts as explained_facts
from planner.handbook.disagreements import DISAGREEMENTS
from planner.handbook.explained import by_key, by_slug, parts, public_functions, slug_of_sum
from planner.handbook.parts import PARTS, SUM_CALCULATORS, TITLES
from planner.handbook.questions import QUESTIONS
from tests import cast


@pytest.fixture
def browser(db):
    return cast.as_(cast.new_member())


def text_of(words):
    return "".join(text for _, text in words)


def page_of(browser, name, **asked):
    return browser.get(reverse("how-one", args=[name]), asked)


def test_every_module_of_the_bench_stands_in_a_part():
    there = {found.name for found in pkgutil.walk_packages(planner.calc.__path__, "planner.calc.") if not found.ispkg}
    placed = {name for _, modules in PARTS.values() for name in modules if "planner.calc" in name}
    assert placed == {name for name in there if name.split(".")[2] not in {"terms", "worksheet"}}


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
    assert all(step.gives for step in sheet.examples)
    assert any(one.answer for one in sheet.checked)


@pytest.mark.parametrize("name", by_slug())
def test_every_sentence_of_a_source_is_one(name):
    assert all(explained.SOURCE.search(text_of(words)) for words in by_slug()[name].source)


@pytest.mark.parametrize("name", by_slug())
def test_no_page_speaks_in_the_names_of_the_code(name):
    sheet = by_slug()[name]
    told = [text for words in (*sheet.rule, *sheet.source, *sheet.limits, *sheet.more) for _, text in words]
    told += [one.name for one in (*sheet.inputs, *sheet.results)]
    told += [f"{name} {figure}" for step in sheet.examples for name, figure in (*step.puts, *step.gives)]
    assert [text for text in told if re.search(r"[A-Za-z]_[A-Za-z]|Fraction\(|lambda", text)] == []


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


def test_every_disagreement_has_sides_with_sources():
    assert all(len(one.sides) > 1 and all(side.says and side.source for side in one.sides) for one in DISAGREEMENTS)


def test_the_index_lists_every_part_and_calculator(browser):
    page = browser.get(reverse("how")).content.decode()
    assert all(f'href="{reverse("how-one", args=[name])}"' in page for name in by_slug())
    assert all(f'id="part-{part.key}"' in page for part in parts())


def test_the_index_lists_every_question_once_with_what_it_is_for(browser):
    page = browser.get(reverse("how")).content.decode()
    assert [page.count(f'href="{reverse("how-ask", args=[key])}"') for key in QUESTIONS] == [1] * len(QUESTIONS)
    assert all(question.about in unescape(page) for question in QUESTIONS.values())


def test_a_page_leads_to_the_questions_it_helps_to_answer(browser):
    page = page_of(browser, "length-of-mass")
    assert [question.key for question in page.context["questions"]] == ["package"]


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


@pytest.mark.parametrize(
    ("units", "said"), [("inch", ("Plain, ends/in", "24 to 28")), ("metric", ("Plain, ends/cm", "9.449 to 11.024"))]
)
def test_a_table_is_in_the_readers_units(db, units, said):
    page = page_of(cast.as_(cast.new_member(units=units)), "usual-setts").content.decode()
    assert all(words in page for words in said)
