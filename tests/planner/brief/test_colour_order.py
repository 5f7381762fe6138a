"""Colour orders as people type them, and back again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.brief.colour_order import DEEPEST, LONGEST_ORDER, OrderError, names_of, read_order, write_order
from planner.calc.cloth.colours import merged, total
from planner.calc.terms.brief import MOST_ENDS, MOST_RUNS, YarnChoice
from planner.calc.terms.plan import ColourRun

INDIGO = YarnChoice("A", "8/2 cotton", 148, colour_name="indigo")
WELD = YarnChoice("B", "8/2 cotton", 148, colour_name="weld")
WALNUT = YarnChoice("C", "16/2 linen", 206, colour_name="dark walnut")
NAMES = names_of((INDIGO, WELD, WALNUT))
CODES = {code: code for code in "ABCD"}
RUNS = st.lists(st.builds(ColourRun, st.sampled_from("ABCD"), st.integers(1, 9)), min_size=1, max_size=40)


def words(text):
    return " ".join(f"{run.code}{run.ends}" for run in read_order(text, NAMES))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("15 indigo, 9 weld, 6 dark walnut", "A15 B9 C6"),
        ("15 A; 9 B\n6 C", "A15 B9 C6"),
        ("15 INDIGO,9b,6  Dark   Walnut", "A15 B9 C6"),
        ("6 16/2 linen", "C6"),
        ("(8 A, 8 B) 3 times, 4 C", "A8 B8 A8 B8 A8 B8 C4"),
        ("2 times (8 A, 8 B)", "A8 B8 A8 B8"),
        ("2 (8 A, 8 B)", "A8 B8 A8 B8"),
        ("(8 A, 8 B) x 2", "A8 B8 A8 B8"),
        ("(8 A, 8 B)", "A8 B8"),
        ("(8 A, 4 B, 8 A) 2 times", "A8 B4 A16 B4 A8"),
        ("((1 A, 2 B) 2 times, 3 C) 2 times", "A1 B2 A1 B2 C3 A1 B2 A1 B2 C3"),
        ("8 A, 8 A", "A16"),
        (", 8 A,,\r\n 4 B;", "A8 B4"),
    ],
)
def test_an_order_is_read_as_it_is_meant(text, wanted):
    assert words(text) == wanted


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"),
        (" ,; \n", "empty"),
        ("8", "stripe_unclear"),
        ("indigo", "stripe_unclear"),
        ("0 A", "stripe_unclear"),
        ("-8 A", "stripe_unclear"),
        ("8.5 A", "stripe_unclear"),
        ("8 madder", "unknown_yarn"),
        ("8 A 4 B", "unknown_yarn"),
        ("8 8/2 cotton", "unclear_yarn"),
        ("(8 A, 4 B", "bracket_open"),
        ("8 A) 3 times", "bracket_closed"),
        ("() 3 times", "bracket_empty"),
        ("(8 A) 3 B", "times_unclear"),
        ("0 times (8 A)", "times_unclear"),
        ("2 times (8 A) 3 times", "times_twice"),
        ("(" * (DEEPEST + 1) + "8 A" + ")" * (DEEPEST + 1), "too_deep"),
        (f"(1 A, 1 B) {MOST_RUNS} times", "too_many"),
        (f"{MOST_ENDS + 1} A", "too_many"),
        ("((((1 A, 1 B) 999999 times) 999999 times) 999999 times) 999999 times", "too_many"),
        ("8 A," * LONGEST_ORDER, "too_long"),
    ],
)
def test_an_order_that_cannot_be_read_is_refused_with_a_reason(text, code):
    with pytest.raises(OrderError) as refused:
        read_order(text, NAMES)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("text", "place"),
    [("8 A, 4 madder", "the second stripe"), ("1 A, " * 11 + "1 madder", "stripe 12")],
)
def test_the_reason_says_where(text, place):
    with pytest.raises(
        OrderError, match=f"^At {place} of the colour order: there is no yarn “madder”; the codes are A, B, C"
    ):
        read_order(text, NAMES)


def test_brackets_as_deep_as_allowed_are_read():
    assert words("(" * DEEPEST + "8 A" + ")" * DEEPEST) == "A8"


def test_a_code_wins_over_another_yarns_colour():
    names = names_of((INDIGO, YarnChoice("indigo", "wool", 500, colour_name="A")))
    assert (names["a"], names["indigo"]) == ("A", "indigo")


def test_a_yarn_without_a_colour_goes_by_code_and_name():
    assert set(names_of((YarnChoice("A", "Carpet wool", 500),))) == {"a", "carpet wool"}


def test_names_that_differ_only_by_case_and_lead_apart_are_unclear():
    with pytest.raises(OrderError) as refused:
        read_order("8 red", {"Red": "A", "RED": "B"})
    assert refused.value.code == "unclear_yarn"


@given(runs=RUNS)
def test_what_is_written_reads_back_the_same(runs):
    assert read_order(write_order(runs), CODES) == merged(runs)


@given(block=RUNS, times=st.integers(1, 12))
def test_a_repeated_block_reads_back_the_same(block, times):
    assert read_order(write_order(block * times), CODES) == merged(block * times)


def test_repeats_are_written_once():
    runs = [ColourRun("A", 8), ColourRun("B", 8)] * 3 + [ColourRun("C", 4)]
    assert write_order(runs) == "(8 A, 8 B) 3 times, 4 C"


def test_repeats_within_repeats_are_written_once():
    runs = ([ColourRun("A", 1), ColourRun("B", 2)] * 2 + [ColourRun("C", 3)]) * 2
    assert write_order(runs) == "((1 A, 2 B) 2 times, 3 C) 2 times"


@given(text=st.text(alphabet="0189 AaBxX×(),;\n-.times²", max_size=60))
def test_any_text_gives_runs_within_bounds_or_a_sentence(text):
    try:
        runs = read_order(text, CODES)
    except OrderError as refused:
        runs, sentence = (), refused.message
    else:
        sentence = ""
    assert sentence.endswith(".") or 0 < total(runs) <= MOST_ENDS


def test_each_stripe_is_counted_once_however_many_there_are(monkeypatch):
    """Reading takes time with the stripes, not with their square: no run's ends are asked for over and over."""
    asked = []

    class Watched(ColourRun):
        def __getattribute__(self, name):
            if name == "ends":
                asked.append(name)
            return super().__getattribute__(name)

    monkeypatch.setattr("planner.brief.colour_order.ColourRun", Watched)
    read_order(", ".join(f"1 {code}" for code in "AB" * 300), {"A": "A", "B": "B"})
    assert len(asked) < 10 * 600
