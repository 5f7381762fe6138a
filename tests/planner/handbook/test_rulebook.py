"""How it is worked out: every calculator has its rule, and formula and example give what the calculator gives."""

import inspect
import re
from collections import Counter
from fractions import Fraction
from importlib import import_module
from math import isclose
from pkgutil import walk_packages

import pytest
from django.urls import reverse

import planner.calc
from planner.calc.worksheet.sums import WORDS
from planner.handbook.disagreements import DISAGREEMENTS
from planner.handbook.questions import QUESTIONS
from planner.handbook.rulebook import PARTS, by_slug, parts, slug_of_sum
from planner.handbook.toml import read_toml
from tests import cast
from tests.planner.handbook.worked import NUMBER, arguments, arithmetic, calculator, leaves, number, value_of, worked

TOLD = {slug: rule for part in PARTS for slug, rule in read_toml(f"rules/{part}.toml").items()}
NO_RULES = ("planner.calc.terms", "planner.calc.worksheet")
"""Facts and words, and calculators called in the order of the bench."""

NOT_ALL_TOLD = {
    "stripe-sley-remarks", "yarn-remarks", "chart-remarks", "edge-remarks", "losses-of", "rank-for-stripes",
    "sley-guide-of-stripes", "run-together", "with-lead-lost", "group-setups", "filled", "order-of-setups",
    "with-chains", "that-need-fewer", "fewer-spools-rack-remarks", "yarn-asked", "masses-taken",
}  # fmt: skip
"""Rules whose examples leave out a part that has no words, such as a whole brief."""

TO_THE_INCH = {"diameters"}
IN_NAMES = re.compile(r"\{(\w+)\}")
CODE = re.compile(r"[A-Za-z]_[A-Za-z]|Fraction\(|lambda")
OTHER_UNITS = re.compile(r", or [\d.]+ ?\S+|cm[23]")
SOURCE = re.compile(
    r"\b(?:1[5-9]|20)\d\d\b|\bed\.|\bISO\b|[Nn]o source|[Cc]ommon practice|[Nn]o arithmetic|[Nn]otes on"
    r"|[Pp]lain (?:arithmetic|geometry|algebra|logic|reading|words|comparison)|\bDefinitions?\b"
    r"|\b[Ss]ources?\b|\bDavis\b|\bBrooks\b|\bTaylor\b|\bPeirce\b|\bVogl\b|\bForum\b",
)


def public_calculators():
    modules = [one.name for one in walk_packages(planner.calc.__path__, "planner.calc.") if not one.ispkg]
    for name in ("inventory.calc.count", "inventory.calc.package_length", *modules):
        if not name.startswith(NO_RULES):
            for thing in vars(import_module(name)).values():
                if inspect.isfunction(thing) and thing.__module__ == name and not thing.__name__.startswith("_"):
                    yield f"{name}.{thing.__name__}"


def test_every_public_calculator_has_its_rule_and_no_rule_is_of_none():
    assert sorted(public_calculators()) == sorted(rule["of"] for rule in TOLD.values())


def test_a_rule_names_what_goes_in_and_where_it_comes_from():
    faults = []
    for slug, rule in TOLD.items():
        names = list(inspect.signature(calculator(rule)).parameters)
        put = {name for example in rule["examples"] for name in example.get("put", ())}
        if list(rule.get("in", {})) != names or not put | set(IN_NAMES.findall(str(rule.get("formula")))) <= {*names}:
            faults.append(f"{slug}: other names than its calculator's")
        if not SOURCE.search(rule["source"]):
            faults.append(f"{slug}: no source")
        texts = [rule.get(key, "") for key in ("purpose", "notes", "source", "limits")]
        figures = [
            text for example in rule["examples"] for side in ("put", "give") for text in example.get(side, {}).values()
        ]
        if CODE.search(" ".join(map(str, texts + figures))):
            faults.append(f"{slug}: speaks in names of the code")
    assert faults == []


@pytest.mark.parametrize("slug", TOLD.keys() - NOT_ALL_TOLD)
def test_an_example_comes_out_as_the_calculator_has_it(slug):
    rule = TOLD[slug]
    function = calculator(rule)
    usual = {name: one.default for name, one in inspect.signature(function).parameters.items()}
    for example in rule["examples"]:
        given = arguments(function, example)
        result = list(leaves(worked(function, given)))
        told = OTHER_UNITS.sub("", " ".join(example["give"].values()).replace("\n", " ").replace("−", "-"))
        for word in sorted({one.replace("−", "-") for one in result if isinstance(one, str)}, key=len, reverse=True):
            assert word.replace("_", " ") in told
            told = told.replace(word, "~" * len(word)) if len(word) > 1 else told
        figures = [one for one in result if not isinstance(one, str)]
        for text in NUMBER.findall(told):
            assert any(isclose(one, number(text), rel_tol=2e-3) for one in figures), (text, figures)
        for work, ended in filter(None, map(arithmetic, rule.get("formula", ()))):
            value = ended(value_of(work, usual | given)) / (Fraction(254, 100) if slug in TO_THE_INCH else 1)
            assert any(isclose(value, one, rel_tol=1e-6) for one in figures), (value, figures)


def test_most_formulas_are_arithmetic_that_can_be_worked_out():
    formulas = [rule["formula"] for slug, rule in TOLD.items() if "formula" in rule and slug not in NOT_ALL_TOLD]
    assert sum(any(map(arithmetic, lines)) for lines in formulas) * 2 > len(formulas)


@pytest.mark.parametrize(
    ("name", "worth", "slug", "said"),
    [
        ("winding.setup_order.EXACT_UP_TO", 12, "order-of-setups", "twelve"),
        ("cloth.fitting.FARTHEST", Fraction(1, 4), "better-counts", "a quarter of the planned count"),
        ("cloth.crammed.FARTHEST", Fraction(1, 4), "counts-that-fill", "a quarter of the planned count"),
        ("cloth.crammed.MOST_TRIED", 100, "counts-of-repeats", "a hundred counts"),
        ("beam.leader.KNOT_ROOM", Fraction(1, 4), "knot-place", "the middle half of the gap"),
        ("reed.dent_room.KNOT_WIDTH", 3, "dent-room", "three ends"),
        ("beam.turns.LENGTH_TOLERANCE", 1e-9, "whole-turns", "a thousand-millionth part of it"),
        ("shelf.package_plan.MOST_LOOKS", 20_000, "fewest-joins", "20 000 ways"),
        ("beam.unequal.MOST_PAIRS", 15, "mismatches", "Fifteen at most"),
        ("fit.beam.MUCH_TO_ONE_SIDE", 3, "part-remarks", "three times"),
        ("beam.two_beams.NARROW_MARGIN", Fraction(1, 8), "stretch-of", "an eighth of the section"),
        ("winding.spools.STEP_TOLERANCE", 1e-9, "length-to-wind", "a thousand-millionth part"),
        ("winding.mixed_winding.STEP_TOLERANCE", 1e-9, "chain-length", "a thousand-millionth part"),
        ("cloth.warp_length.TOLERANCE", Fraction(1, 10**6), "one-more-piece", "a millionth of a centimetre"),
    ],
)
def test_a_fixed_figure_is_said_as_it_is_in_the_code(name, worth, slug, said):
    module, _, constant = name.rpartition(".")
    assert getattr(import_module(f"planner.calc.{module}"), constant) == worth
    assert said in str(TOLD[slug]).replace("\\n", " ")


def test_every_sum_of_a_warp_sheet_leads_to_one_rule():
    led = Counter(line for rule in TOLD.values() for line in rule.get("sums", ()))
    assert (led.keys(), set(led.values())) == (WORDS.keys(), {1})
    assert (slug_of_sum("weft_mass"), slug_of_sum("never_was")) == ("mass-of-length", "")


def test_questions_and_disagreements_name_known_rules():
    named = {slug for one in (*QUESTIONS.values(), *DISAGREEMENTS) for slug in one.rules}
    assert named <= by_slug().keys()


def test_no_two_rules_have_one_address_or_in_a_part_one_title():
    assert len(by_slug()) == sum(len(part.rules) for part in parts())
    assert [part.key for part in parts() if len({one.title for one in part.rules}) < len(part.rules)] == []


@pytest.fixture
def browser(db):
    return cast.as_(cast.new_member())


def page_of(browser, slug):
    return browser.get(reverse("how-one", args=[slug]))


@pytest.mark.parametrize("slug", ["width-in-reed", "rank-reeds", "yarn-constant", "one-more-remarks"])
def test_a_page_shows_rule_symbols_limits_source_and_example(browser, slug):
    page = page_of(browser, slug).content.decode()
    for heading in ("The rule", "What goes in", "What comes out", "Limits", "Source", "An example"):
        assert heading in page


def test_the_index_lists_every_part_rule_and_question(browser):
    page = browser.get(reverse("how")).content.decode()
    assert all(page.count(f'href="{reverse("how-one", args=[slug])}"') == 1 for slug in by_slug())
    assert all(page.count(f'href="{reverse("how-ask", args=[key])}"') == 1 for key in QUESTIONS)
    assert all(f'id="part-{part.key}"' in page for part in parts())


def test_a_page_leads_to_the_questions_and_disagreements_it_helps_with(browser):
    assert [one.key for one in page_of(browser, "length-of-mass").context["questions"]] == ["package"]
    assert [one.key for one in page_of(browser, "woven-length").context["disagreements"]] == ["add-or-divide"]


def test_disagreements_stand_together(browser):
    together = browser.get(reverse("how-disagreements")).content.decode()
    assert all(f'id="{one.key}"' in together for one in DISAGREEMENTS)


@pytest.mark.parametrize(
    ("slug", "units", "told"),
    [
        ("dents-of", "inch", "One table on the web counts them in 24 1/2 in"),
        ("usual-setts", "inch", "24 to 28"),
        ("usual-setts", "metric", "9.449 to 11.024"),
        ("package-length", "metric", "<td>Cone</td>"),
    ],
)
def test_a_table_that_a_rule_names_is_in_the_readers_units(db, slug, units, told):
    assert told in page_of(cast.as_(cast.new_member(units=units)), slug).content.decode()


@pytest.mark.parametrize("name", ["no-such", "sett", "-"])
def test_an_unknown_name_is_not_found(browser, name):
    assert page_of(browser, name).status_code == 404


@pytest.mark.parametrize(("name", "args"), [("how", []), ("how-disagreements", []), ("how-one", ["woven-length"])])
def test_a_stranger_is_sent_to_sign_in_and_a_member_only_reads(browser, name, args):
    answered = cast.stranger().get(reverse(name, args=args))
    assert (answered.status_code, answered.url.split("?")[0]) == (302, reverse("sign-in"))
    assert browser.post(reverse(name, args=args)).status_code == 405


def test_a_page_asks_the_database_for_the_member_and_the_house_only(browser, django_assert_num_queries):
    page_of(browser, "usual-setts")
    with django_assert_num_queries(4):  # session, user, member, rules of the studio
        page_of(browser, "usual-setts")


def test_a_rule_is_found_by_the_words_of_its_purpose(browser):
    found = browser.get(reverse("search"), {"q": "depth tape"}).content.decode()
    assert f'href="{reverse("how-one", args=["depth-from-tape"])}"' in found


def test_the_foot_of_every_page_leads_here(browser):
    assert f'href="{reverse("how")}"' in browser.get(reverse("warps")).content.decode()
