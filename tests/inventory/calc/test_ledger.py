"""Sums of the ledger, worked by hand and against published figures."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.calc.count import length_of_mass, tex_of_count
from inventory.calc.count_systems import CM_IN_YARD, GRAMS_IN_POUND
from inventory.calc.ledger import SLACK_UG, cut_back, grams, meant, micrograms, net_micrograms, price_of

OUNCE = Fraction("28.349523125")


def yards_of_cotton(micrograms_of_yarn, count, plies=1):
    return length_of_mass(grams(micrograms_of_yarn), tex_of_count(Fraction(count), "cotton", plies)) / CM_IN_YARD


@pytest.mark.parametrize(
    ("mass", "amount"),
    [("84", 84_000_000), ("0.0000005", 1), ("0.0000004", 0), ("-0.0000005", 0), ("-84", -84_000_000)],
)
def test_a_mass_is_kept_to_the_nearest_microgram(mass, amount):
    assert micrograms(Fraction(mass)) == amount


def test_an_ounce_is_kept_to_the_microgram():
    # One avoirdupois ounce is 28.349523125 g by the agreement of 1959.
    assert micrograms(OUNCE) == 28_349_523


@pytest.mark.parametrize("amount", [0, 1, -84_000_001, 10**15])
def test_grams_and_back_lose_nothing(amount):
    assert micrograms(grams(amount)) == amount


def test_a_cone_of_109_g_with_a_core_of_25_g_holds_311_yards_of_8_4():
    # Worked by hand: 109 - 25 = 84 g; 84 / 453.59 x 1680 yd/lb = 311 yd.
    net = net_micrograms(Fraction(109), Fraction(25))
    assert (net, round(yards_of_cotton(net, 8, 4))) == (84_000_000, 311)


def test_a_tare_of_57_g_forgotten_is_422_yards_of_8_2():
    # Worked by hand: two ounces, 57 g, at 7.4 yd/g.
    with_core, without = net_micrograms(Fraction(557), Fraction(0)), net_micrograms(Fraction(557), Fraction(57))
    assert yards_of_cotton(with_core - without, 8, 2) == pytest.approx(422, abs=1)


def test_a_weighed_beam_nets_as_published():
    # Textile Learner blog, Calculation of Weaving, problem 1: 369 lb gross, 69 lb empty, 300 lb of yarn on 420 ends
    # of 20s, 12 000 yd long (rows B16 and W25 of the table of published values).
    net = net_micrograms(369 * GRAMS_IN_POUND, 69 * GRAMS_IN_POUND)
    assert float(grams(net) / GRAMS_IN_POUND) == pytest.approx(300, abs=1e-6)
    assert float(yards_of_cotton(net, 20) / 420) == pytest.approx(12_000, abs=0.001)


def test_a_cone_of_six_and_a_quarter_pounds_of_10s_holds_48_006_m():
    # R. Raju, Warping Plan, example 1 (row P12): 6.25 lb of 10s.
    net = net_micrograms(Fraction("6.25") * GRAMS_IN_POUND, Fraction(0))
    assert float(yards_of_cotton(net, 10) * Fraction("0.9144")) == pytest.approx(48_006, abs=10)


@pytest.mark.parametrize(("gross", "tare"), [(20, 25), (20, -1)])
def test_readings_that_cannot_be_are_a_fault(gross, tare):
    with pytest.raises(ValueError, match="tare"):
        net_micrograms(Fraction(gross), Fraction(tare))


@pytest.mark.parametrize(
    ("asked", "there", "what"),
    [
        (500, 400, 400),
        (400, 500, 500),
        (SLACK_UG, 0, SLACK_UG),
        (10 * SLACK_UG, 9 * SLACK_UG, 10 * SLACK_UG),
        (10 * SLACK_UG, 9 * SLACK_UG + 1, 9 * SLACK_UG + 1),
    ],
)
def test_what_no_scale_can_tell_apart_means_all_of_it(asked, there, what):
    assert meant(asked, there) == what


def test_a_tenth_of_an_ounce_taken_ten_times_leaves_no_crumbs():
    left = net_micrograms(OUNCE, Fraction(0))
    for _ in range(10):
        left -= meant(micrograms(OUNCE / 10), left)
    assert left == 0


@pytest.mark.parametrize(
    ("need", "cut"),
    [(0, {}), (1, {1: 1}), (50, {1: 50}), (130, {1: 50, 2: 80}), (131, {1: 51, 2: 80}), (230, {1: 150, 2: 80})],
)
def test_the_latest_promise_is_cut_first(need, cut):
    # Worked by hand: work 1 was promised 100, then work 2 80, then work 1 another 50.
    assert cut_back(need, [(1, 50), (2, 80), (1, 100)], {1: 150, 2: 80}) == cut


def test_what_was_taken_counts_as_of_the_oldest_promise():
    # Work 1 took 120 of its 150, so only 30 of its latest promise are left to cut.
    assert cut_back(40, [(1, 50), (2, 80), (1, 100)], {1: 30, 2: 80}) == {1: 30, 2: 10}


def test_more_than_all_hold_cannot_be_cut():
    with pytest.raises(ValueError, match="need"):
        cut_back(231, [(1, 150), (2, 80)], {1: 150, 2: 80})


@pytest.mark.parametrize(
    ("mass", "price", "paid"),
    [
        ("84", "3.10", "2.60"),
        ("100", "3.10", "3.10"),
        ("0", "3.10", "0.00"),
        ("50", "0.05", "0.03"),
        ("1", "0.10", "0.00"),
    ],
)
def test_a_price_is_rounded_once_to_the_smallest_coin(mass, price, paid):
    # Worked by hand: 84 g at 3.10 is 2.604; 50 g at 0.05 is 0.025, halves up.
    assert str(price_of(Fraction(mass), Fraction(price))) == paid


def test_a_published_mixture_costs_what_its_book_says():
    # W. Davis, Hosiery Manufacture, example 37 (row K09): 1.5 lb at 4s and 1.5 lb at 8s 6d cost 18s 9d together.
    half_kilo = Fraction("1.5") * GRAMS_IN_POUND
    paid = [price_of(half_kilo, Fraction(price) / GRAMS_IN_POUND * 100) for price in ("4", "8.5")]
    assert sum(paid) == Decimal("18.75")


@pytest.mark.parametrize(("mass", "price"), [(-1, 1), (1, -1)])
def test_a_price_below_nothing_is_a_fault(mass, price):
    with pytest.raises(ValueError, match="below zero"):
        price_of(Fraction(mass), Fraction(price))
