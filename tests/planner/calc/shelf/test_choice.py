"""Which packages a warp takes: by hand, and against trying every way."""

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.shelf import choice as shelf_choice
from planner.calc.shelf.choice import Offer, choose_packages, spools_by_stripe, stripe_of_lots

ZERO = Fraction(0)


def grams(*masses, lot=""):
    return [Offer(lot, Fraction(mass)) for mass in masses]


def suffices(offers, places, mass, ends, end_mass):
    whole = sum(offers[at].mass // end_mass for at in places) if end_mass else ends
    return sum(offers[at].mass for at in places) >= mass and whole >= ends


def best_by_trying(offers, mass, ends, end_mass):
    """Give the fewest lots and then the fewest packages, by trying every set of packages."""
    held = {at for at, offer in enumerate(offers) if offer.held}
    others = [at for at in range(len(offers)) if at not in held]
    sets = [held | set(some) for n in range(len(others) + 1) for some in combinations(others, n)]
    good = [places for places in sets if suffices(offers, places, mass, ends, end_mass)]
    return min(((len({offers[at].lot for at in places}), len(places)) for places in good), default=None)


OFFERS = st.lists(
    st.builds(Offer, st.sampled_from("XYZ"), st.integers(0, 60).map(Fraction), st.sampled_from([False, False, True])),
    min_size=1,
    max_size=7,
)


@given(OFFERS, st.integers(0, 150), st.integers(0, 12), st.integers(0, 17))
def test_no_other_way_has_fewer_lots_or_packages(offers, mass, ends, end_mass):
    choice = choose_packages(offers, Fraction(mass), ends, Fraction(end_mass))
    best = best_by_trying(offers, mass, ends, end_mass)
    assert choice.enough == (best is not None)
    assert not choice.enough or (len(choice.lots), len(choice.places)) == best


@given(OFFERS, st.integers(0, 150), st.integers(0, 12), st.integers(0, 17))
def test_what_is_chosen_suffices_and_keeps_what_is_held(offers, mass, ends, end_mass):
    choice = choose_packages(offers, Fraction(mass), ends, Fraction(end_mass))
    assert {at for at, offer in enumerate(offers) if offer.held} <= set(choice.places)
    assert choice.enough == suffices(offers, choice.places, mass, ends, end_mass)


def test_the_last_package_is_the_lightest_that_suffices():
    # 500 g and 120 g make 620 g; of 450, 120 and 90 g the 120 g cone is enough, and the 450 g cone stays whole.
    assert choose_packages(grams(500, 450, 120, 90), Fraction(600), 0, ZERO).places == (0, 2)


def test_one_lot_of_more_packages_goes_before_two_lots_of_fewer():
    offers = [*grams(500, lot="X"), *grams(500, lot="Y"), *grams(200, 200, 200, lot="Z")]
    assert choose_packages(offers, Fraction(600), 0, ZERO).lots == ("Z",)


def test_many_lots_are_taken_in_turn_and_still_suffice(monkeypatch):
    monkeypatch.setattr(shelf_choice, "MOST_LOTS", 2)
    offers = [Offer(lot, Fraction(mass)) for lot, mass in zip("ABCD", (40, 30, 20, 10), strict=True)]
    assert choose_packages(offers, Fraction(85), 0, ZERO).lots == ("A", "B", "C")


@pytest.mark.parametrize(
    ("ends", "served", "stripe"),
    [(480, [400, 130], (3, 1)), (480, [240, 240], (1, 1)), (10, [7, 3], (7, 3)), (9, [9, 9, 9], (1, 1, 1))],
)
def test_the_shortest_stripe_that_asks_no_lot_for_too_much(ends, served, stripe):
    assert stripe_of_lots(ends, served) == stripe


@given(st.lists(st.integers(1, 60), min_size=2, max_size=4), st.data())
def test_no_stripe_asks_a_lot_for_more_than_it_has(served, data):
    ends = data.draw(st.integers(len(served), sum(served)))
    stripe = stripe_of_lots(ends, served)
    assert min(stripe) >= 1
    assert all(Fraction(of * ends, sum(stripe)) <= there for of, there in zip(stripe, served, strict=True))


def test_spools_are_dealt_out_as_the_stripe_goes_over_the_warp():
    # 40 spools of twelve sections, striped 3 to 1: ten of them, 120 ends, are of the second lot.
    dealt = spools_by_stripe([12] * 40, (3, 1), [400, 130])
    assert (dealt[:8], dealt.count(1)) == ((0, 0, 0, 1, 0, 0, 0, 1), 10)


def test_spools_are_not_dealt_out_where_a_lot_would_run_out():
    assert spools_by_stripe([5, 5, 5], (1, 1), [9, 9]) == ()


@pytest.mark.parametrize("wrong", [
    lambda: spools_by_stripe([1], (1,), [1, 1]),
    lambda: choose_packages(grams(1), Fraction(-1), 0, ZERO),
    lambda: choose_packages(grams(-1), Fraction(1), 0, ZERO),
    lambda: stripe_of_lots(5, [0, 9]),
    lambda: stripe_of_lots(5, [2, 2]),
])  # fmt: skip
def test_impossible_figures_are_refused(wrong):
    with pytest.raises(ValueError, match="must"):
        wrong()
