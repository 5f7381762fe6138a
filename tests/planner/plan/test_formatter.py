"""Plans in words: quantities, sums and remarks, in either habit of units."""

import ast
from fractions import Fraction
from pathlib import Path
from string import Formatter as Fields

import pytest

from planner import calc
from planner.calc.terms.plan import Quantity, Remark, Severity, Sum
from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from planner.plan.remarks import WORDINGS
from studio.units import KINDS, Units
from tests.planner.worked_projects import ALL

INCH = Fraction(254, 100)
INCHES, METRIC = Formatter(Units.INCH), Formatter(Units.METRIC)
READERS = [INCHES, METRIC]


@pytest.mark.parametrize(
    ("value", "kind", "inches", "metric"),
    [
        (12 * INCH, "length", "12 in", "30.5 cm"),
        (Fraction(9144, 10), "distance", "10 yd", "9.14 m"),
        (20 / INCH, "sett", "20/in", "7.87/cm"),
        (Fraction(1, 8), "share", "12.5 %", "12.5 %"),
        (Fraction("453.59237"), "mass", "16 oz", "453.6 g"),
        (282, "ends", "282 ends", "282 ends"),
        (1, "ends", "1 end", "1 end"),
        (11, "turns", "11 turns", "11 turns"),
        (13.127, "turns", "13.13 turns", "13.13 turns"),
        (1, "turns", "1 turn", "1 turn"),
        (48, "count", "48", "48"),
        (Fraction("147.635"), "tex", "147.6 tex", "147.6 tex"),
        (Fraction("147.6353118620589"), "grist", "3360 yd/lb", "6773 m/kg"),
        (Fraction(9, 10), "ratio", "0.9", "0.9"),
        (12.34, "angle", "12.3°", "12.3°"),
        (12.34, "degrees", "12.3°", "12.3°"),
        (Fraction(25, 2), "money", "12.50", "12.50"),
        (12, "money", "12.00", "12.00"),
        (Fraction(-1, 4), "money", "−0.25", "−0.25"),
        (Fraction(24, 1000), "price_of_100_g", "2.40 per 100 g", "2.40 per 100 g"),
        (Fraction(1, 300), "price_of_100_g", "0.33 per 100 g", "0.33 per 100 g"),
    ],
)
def test_a_quantity_is_said_in_the_readers_units(value, kind, inches, metric):
    said = Quantity(value, kind)
    assert (INCHES.quantity(said), METRIC.quantity(said)) == (inches, metric)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_measure_is_said_with_its_label(kind):
    assert METRIC.quantity(Quantity(Fraction(1), kind)).endswith(KINDS[kind].usual[Units.METRIC])


WIDTH = Sum(
    key="width_wanted",
    group="width",
    label="Width in reed",
    formula="{finished} ÷ (1 − {loss})",
    inputs=(("finished", Quantity(12 * INCH, "length")), ("loss", Quantity(Fraction(15, 100), "share"))),
    result=Quantity(12 * INCH / Fraction(85, 100), "length"),
    source="Plain arithmetic.",
)


def test_a_sum_shows_its_numbers_in_place_of_names():
    shown = INCHES.line(WIDTH)
    assert (shown.label, shown.formula, shown.result) == ("Width in reed", "12 in ÷ (1 − 15 %)", "14.12 in")
    assert (shown.key, shown.group, shown.source) == ("width_wanted", "width", "Plain arithmetic.")


def test_a_sum_reads_in_centimetres_for_whoever_prefers_them():
    assert METRIC.line(WIDTH).formula == "30.48 cm ÷ (1 − 15 %)"


SHORT = Remark(
    "one_more_short",
    Severity.NOTE,
    {
        "needs": Quantity(Fraction("37.9625") * INCH, "length"),
        "left": Quantity(37.6 * 2.54, "length"),
        "short": Quantity(0.36 * 2.54, "length"),
        "margin": Quantity(Fraction("10.5") * INCH, "length"),
    },
)


def test_a_remark_becomes_a_sentence_and_advice():
    """The ninth towel, worked by hand: 37.96 in needed, 37.6 left, margin 10.5."""
    shown = INCHES.sentence(SHORT)
    assert shown.text == "One more piece needs 37.96 in; 37.6 in are left: 0.36 in too little."
    assert "10.5 in" in shown.advice
    assert (shown.code, shown.severity) == ("one_more_short", Severity.NOTE)


def test_words_of_people_are_never_read_as_a_template():
    remark = Remark("reed_missing", Severity.NOTE, {"loom": "{width.__class__} {0}"})
    assert "{width.__class__} {0}" in INCHES.sentence(remark).text


def test_a_sentence_begins_with_a_capital():
    remark = Remark("yarn_unknown", Severity.NOTE, {"yarn": "weld", "needed": Quantity(100, "mass")})
    assert INCHES.sentence(remark).text[0].isupper()


def test_a_retired_code_on_an_old_card_still_says_something():
    shown = INCHES.sentence(Remark("moths_in_yarn", Severity.WARN, {}))
    assert (shown.text, shown.advice) == ("Moths in yarn.", "")


def test_a_missing_value_shows_as_an_ellipsis():
    assert "…" in INCHES.sentence(Remark("yarn_unknown", Severity.NOTE, {})).text


def calls_of_remark():
    for path in sorted(Path(calc.__file__).parent.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Remark":
                yield node


def words_in_calc():
    texts = [path.read_text(encoding="utf-8") for path in Path(calc.__file__).parent.rglob("*.py")]
    nodes = [node for text in texts for node in ast.walk(ast.parse(text))]
    return {node.value for node in nodes if isinstance(node, ast.Constant)}


def test_every_code_made_in_calc_has_its_words():
    codes = {
        word.value for call in calls_of_remark() for word in ast.walk(call.args[0]) if isinstance(word, ast.Constant)
    }
    assert codes
    assert codes - WORDINGS.keys() == set()


def test_no_words_wait_for_a_remark_that_nobody_makes():
    assert WORDINGS.keys() - words_in_calc() == set()


@pytest.mark.parametrize("code", WORDINGS)
def test_wordings_are_whole_sentences_with_plain_names(code):
    wording = WORDINGS[code]
    assert wording.text.endswith(".")
    assert not wording.advice or wording.advice.endswith(".")
    names = [name for text in (wording.text, wording.advice) for _, name, _, _ in Fields().parse(text) if name]
    assert all(name.isidentifier() for name in names)


def plans():
    return [pytest.param(brief, id=brief.title) for brief in (make() if callable(make) else make for make in ALL)]


@pytest.mark.parametrize("formatter", READERS, ids=["inches", "metric"])
@pytest.mark.parametrize("brief", plans())
def test_a_whole_plan_reads_without_a_gap(brief, formatter):
    plan = work_out(brief)
    lines = [formatter.line(line) for line in plan.sums]
    said = [formatter.sentence(remark) for remark in plan.remarks]
    texts = [line.formula for line in lines] + [text for one in said for text in (one.text, one.advice)]
    assert lines
    assert [text for text in texts if "…" in text or "{" in text] == []
