"""Reeds and sley orders against mill books, a published table, and projects worked by hand."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.reed.reed import empty_at_left, rank_for_stripes, rank_reeds, sley_orders, sley_sett
from planner.calc.terms.brief import ReedFacts

INCH = Fraction(254, 100)
TEN = ReedFacts("10 dpi", 10 / INCH, 36 * INCH)
TWELVE = ReedFacts("12 dpi", 12 / INCH, 36 * INCH)
FIFTEEN = ReedFacts("15 dpi", 15 / INCH, 36 * INCH)
METRIC = ReedFacts("50/10", Fraction(5), Fraction(100))


def near(value, expected, tolerance):
    return abs(Fraction(value) - Fraction(expected)) <= Fraction(tolerance)


SETTS = [
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 243
    pytest.param(Fraction(60, 2), (3,), "90", "0.01", id="R01"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 244
    pytest.param(Fraction(50 * 20, 36), (2,), "55.556", "0.005", id="R07"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 244 (4000 ends in 37 in); quotient mine
    pytest.param(Fraction(2000, 37), (2,), "108.11", "0.02", id="R09"),
    # TextileCalculations educational site blog, Counting of Reed Count (2015)
    pytest.param(Fraction(72 * 20, 36), (3,), "120", "0.01", id="R12"),
    # My Textile Notes, Reed Calculations
    pytest.param(Fraction(72, 2), (3,), "108", "0.01", id="R13"),
    # My Textile Notes, Reed Calculations
    pytest.param(Fraction(100, 2), (1,), "50", "0.01", id="R14"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 225
    pytest.param(Fraction("33.5"), (4,), "134", "0.01", id="R16"),
    # House of Wool, Reed Substitution Guide (table); same in Osterkamp, Useful Information (2023)
    pytest.param(Fraction(8), (1, 1, 1, 2), "10", "0.01", id="R18"),
    # House of Wool, Reed Substitution Guide (table); same in Osterkamp (2023)
    pytest.param(Fraction(10), (1, 1, 1, 2), "12.5", "0.01", id="R19"),
    # House of Wool, Reed Substitution Guide (table); Interweave Q&A (2-1-1)
    pytest.param(Fraction(12), (1, 1, 2), "16", "0.01", id="R20"),
    # House of Wool, Reed Substitution Guide (table); Interweave Q&A on 8/2 cotton
    pytest.param(Fraction(8), (3, 2), "20", "0.01", id="R22"),
    # House of Wool, Reed Substitution Guide (table)
    pytest.param(Fraction(15), (1, 1, 2), "20", "0.01", id="R23"),
    # House of Wool, Reed Substitution Guide (table)
    pytest.param(Fraction(12), (0, 1, 1, 1), "9", "0.01", id="R25"),
    # House of Wool, Reed Substitution Guide (table); no: table prints 24.5; 23.33 is right
    pytest.param(Fraction(10), (2, 2, 3), "23.333", "0.01", id="R27"),
]


@pytest.mark.parametrize(("dents", "sley", "expected", "tolerance"), SETTS)
def test_a_sley_order_gives_the_printed_sett(dents, sley, expected, tolerance):
    assert near(sley_sett(dents, sley), expected, tolerance)


# A yarn shop's published reed substitution table (order, then its sett in a 12-dent reed)
TABLE = [
    ((0, 1), 6),
    ((0, 1, 1), 8),
    ((0, 1, 1, 1), 9),
    ((1,), 12),
    ((1, 1, 1, 2), 15),
    ((1, 1, 2), 16),
    ((1, 2), 18),
    ((1, 2, 2), 20),
    ((2,), 24),
    ((2, 2, 3), 28),
    ((2, 3), 30),
    ((3,), 36),
]


@pytest.mark.parametrize(("order", "sett"), TABLE)
def test_the_order_of_the_published_table_is_found_first(order, sett):
    assert rank_reeds([TWELVE], sett / INCH, 120)[0].sley == order


def test_seven_and_a_half_ends_in_a_twelve_dent_reed_are_five_in_eight_dents():
    """Worked by hand: 7.5 / 12 = 5 / 8."""
    best = rank_reeds([TWELVE], Fraction(15, 2) / INCH, 270)[0]
    assert (sum(best.sley), len(best.sley), best.error) == (5, 8, 0)


def test_a_reed_of_the_exact_sett_comes_first():
    ranked = rank_reeds([METRIC, TWELVE, TEN], 20 / INCH, 282)
    assert [choice.reed for choice in ranked[:2]] == ["10 dpi", "12 dpi"]


def test_a_metric_reed_is_exact_for_a_metric_sett():
    """Worked by hand: a 50/10 reed at one end in each dent is 5 to the cm; 400 ends are 80 cm, not 84.7."""
    best = rank_reeds([TWELVE, METRIC], Fraction(5), 400)[0]
    assert (best.reed, best.sley, best.error, best.width) == ("50/10", (1,), 0, 80)


def test_calling_a_metric_reed_twelve_dents_is_5_8_per_cent_off():
    """A magazine's answer on metric reeds calls 50/10 a 12; exactly it is 12.70 dents to the inch."""
    choice = rank_reeds([METRIC], 12 / INCH, 400)[-1]
    assert near(METRIC.dents * INCH, "12.70", "0.001")
    assert choice.sley == (1,)
    assert near(choice.error, "0.058", "0.0005")


def test_runner_leaves_109_empty_dents():
    """Worked by hand: 141 dents in a 36 in reed of 10: (360 - 141) / 2 = 109."""
    best = rank_reeds([TEN], 20 / INCH, 282)[0]
    assert (best.dents, best.empty_left, best.start_dent, best.width) == (141, 109, 110, Fraction(141, 10) * INCH)


@pytest.mark.parametrize(("inches", "empty"), [(1, 119), (-1, 99), (30, 219), (-30, 0)])
def test_a_shifted_warp_starts_as_many_dents_aside_and_stays_in_the_reed(inches, empty):
    assert rank_reeds([TEN], 20 / INCH, 282, inches * INCH)[0].empty_left == empty


def test_a_reed_that_is_long_enough_comes_before_a_truer_one():
    short = ReedFacts("short 10 dpi", 10 / INCH, 12 * INCH)
    ranked = rank_reeds([short, TWELVE], 20 / INCH, 282)
    assert [choice.reed for choice in ranked] == ["12 dpi", "short 10 dpi"]
    assert ranked[1].empty_left == 0


def test_two_ends_in_a_dent_come_before_one_and_four():
    """Common practice, no source: with two in a dent knots pass and reed marks stay few."""
    reeds = [ReedFacts(f"{dents} dpi", dents / INCH, 36 * INCH) for dents in (20, 5, 10)]
    assert [choice.sley for choice in rank_reeds(reeds, 20 / INCH, 282)] == [(2,), (1,), (4,)]


def test_a_reed_without_an_exact_order_also_shows_a_simple_one():
    choices = rank_reeds([TWELVE], 25 / INCH, 300)
    assert [len(choice.sley) <= 2 for choice in choices] == [False, True]
    assert abs(choices[0].error) < abs(choices[1].error)


def test_a_reed_too_short_keeps_the_true_order():
    assert rank_reeds([TWELVE], 6 / INCH, 240)[0].sley == (0, 1)


def test_a_sett_far_too_open_for_a_reed_offers_nothing():
    assert rank_reeds([ReedFacts("fine", Fraction(40), Fraction(90))], Fraction(1), 90) == ()


@given(dents=st.integers(1, 40), sett=st.integers(1, 160))
def test_orders_are_even_and_as_near_as_their_length_allows(dents, sett):
    for order in sley_orders(Fraction(dents), Fraction(sett)):
        assert max(order) - min(order) <= 1
        assert 2 * abs(sum(order) - Fraction(sett * len(order), dents)) <= 1


@given(ends=st.integers(1, 3000), order=st.sampled_from([order for order, _ in TABLE]))
def test_dents_used_are_just_enough_for_the_ends(ends, order):
    long = ReedFacts("long", Fraction(4), Fraction(5000))
    used = rank_reeds([long], sley_sett(Fraction(4), order), ends)[0].dents
    full, rest = divmod(used, len(order))
    held = full * sum(order) + sum(order[:rest])
    assert held - order[(used - 1) % len(order)] < ends <= held


def owned(*dents):
    return [ReedFacts(f"{count} dpi", count / INCH, 60 * INCH) for count in dents]


CRAMMED = {"A": (20 / INCH, 240), "B": (10 / INCH, 80)}
"""240 ends at 20 to the inch in 12 in, and 80 at 10 in 8 in."""


def test_reeds_for_stripes_stand_by_evenness_then_error_then_dents():
    """By hand: 10 dents take 2 and 1; 5 dents 4 and 2, both even, with fewer dents.

    12 take 1-2-2 and 0-1-1-1-1-1, 6 take 3-3-4 and 1-2-2: exact too, each with two orders that vary by one.
    """
    found = rank_for_stripes(owned(6, 12, 10, 5), CRAMMED)
    assert [(one.reed, [stripe.sley for stripe in one.stripes], one.dents) for one in found] == [
        ("5 dpi", [(4,), (2,)], 100), ("10 dpi", [(2,), (1,)], 200),
        ("6 dpi", [(3, 3, 4), (1, 2, 2)], 120), ("12 dpi", [(1, 2, 2), (0, 1, 1, 1, 1, 1)], 240),
    ]  # fmt: skip
    assert {one.error for one in found} == {0}


def test_the_setts_of_stripes_are_those_of_the_published_table():
    """House of Wool, Reed Substitution Guide: in 15 dents 1-1-2 gives 20 and 0-1-1 gives 10."""
    (found,) = rank_for_stripes([FIFTEEN], CRAMMED)
    assert [(one.sley, one.sett * INCH) for one in found.stripes] == [((1, 1, 2), 20), ((0, 1, 1), 10)]


def test_a_reed_too_short_for_the_stripes_stands_behind():
    short = ReedFacts("short", 10 / INCH, 19 * INCH)
    assert [one.reed for one in rank_for_stripes([short, *owned(6)], CRAMMED)] == ["6 dpi", "short"]


def test_a_reed_that_cannot_carry_one_of_the_yarns_is_no_choice():
    assert rank_for_stripes([ReedFacts("fine", Fraction(40), Fraction(90))], {**CRAMMED, "C": (Fraction(1), 9)}) == ()


@given(
    dents=st.lists(st.integers(4, 24), min_size=1, max_size=5, unique=True),
    setts=st.tuples(st.integers(4, 40), st.integers(4, 40)),
)
def test_the_first_reed_is_the_best_of_all_by_trying_every_order(dents, setts):
    """Every way to spread whole ends over up to eight dents, tried in every reed; then the order of the ranks."""

    def truest(count, sett):
        ways = [
            tuple((at + 1) * ends // long - at * ends // long for at in range(long))
            for long in range(1, 9) for ends in range(1, 12 * long)
        ]  # fmt: skip
        return min(abs(Fraction(sum(way) * count, len(way) * sett) - 1) for way in ways)

    found = rank_for_stripes(owned(*dents), {"A": (setts[0] / INCH, 40), "B": (setts[1] / INCH, 20)})
    for one in found:
        count = int(one.reed.split()[0])
        for stripe, sett in zip(one.stripes, setts, strict=True):
            assert abs(stripe.error) == truest(count, sett)
    merits = [
        (sum(max(part.sley) - min(part.sley) for part in one.stripes), abs(one.error), one.dents) for one in found
    ]
    assert merits == sorted(merits)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: sley_orders(Fraction(0), INCH), "dents"),
        (lambda: sley_orders(INCH, Fraction(0)), "sett"),
        (lambda: sley_orders(INCH, INCH, 0), "most_dents"),
        (lambda: sley_sett(Fraction(0), (1,)), "dents"),
        (lambda: sley_sett(INCH, ()), "sley"),
        (lambda: sley_sett(INCH, (2, -1)), "sley"),
        (lambda: rank_reeds([TEN], Fraction(0), 1), "sett"),
        (lambda: rank_reeds([TEN], INCH, 0), "ends"),
        (lambda: empty_at_left(TEN, 0), "used"),
        (lambda: rank_for_stripes([TEN], {}), "stripes"),
        (lambda: rank_for_stripes([TEN], {"A": (INCH, 0)}), "stripes"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
