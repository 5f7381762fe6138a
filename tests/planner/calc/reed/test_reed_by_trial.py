"""Reeds and sley orders by trial: every order up to eight dents is laid, and none is better than what is proposed."""

from fractions import Fraction
from itertools import accumulate, combinations_with_replacement, permutations
from math import ceil, floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.calc.reed.reed import rank_reeds, sley_orders, sley_sett
from planner.calc.terms.brief import ReedFacts

MOST_DENTS = 8


def fillings(per_dent):
    """Give every choice of ends for up to eight dents, whatever their order, with no dent far from the mean."""
    around = range(max(0, floor(per_dent) - 1), ceil(per_dent) + 2)
    for dents in range(1, MOST_DENTS + 1):
        yield from (filling for filling in combinations_with_replacement(around, dents) if sum(filling))


def least_error(dents, sett):
    return min(abs(sley_sett(dents, filling) / sett - 1) for filling in fillings(sett / dents))


def bunching(order):
    """Give how far the ends run ahead of an even spread and fall behind it, within one repeat."""
    each = Fraction(sum(order), len(order))
    ahead = [laid - each * dent for dent, laid in enumerate(accumulate(order), 1)]
    return max(ahead) - min(ahead)


@settings(deadline=None, max_examples=60)
@given(dents=st.integers(4, 20), sett=st.integers(3, 60))
def test_no_order_up_to_eight_dents_comes_nearer_than_the_best_proposed(dents, sett):
    offered = [
        abs(sley_sett(Fraction(dents), order) / sett - 1) for order in sley_orders(Fraction(dents), Fraction(sett))
    ]
    if offered:
        assert min(offered) == least_error(Fraction(dents), Fraction(sett))


@pytest.mark.parametrize("dents", range(1, MOST_DENTS + 1))
def test_no_other_arrangement_of_an_order_is_spread_more_evenly(dents):
    """Every order of the same dents is tried, for every mean that has so many dents in its repeat."""
    for sett in range(1, 3 * dents):
        for order in sley_orders(Fraction(1), Fraction(sett, dents), MOST_DENTS):
            assert bunching(order) == min(bunching(other) for other in set(permutations(order)))


@settings(deadline=None, max_examples=40)
@given(
    reeds=st.lists(st.integers(4, 20), min_size=1, max_size=4, unique=True),
    sett=st.integers(3, 60),
    ends=st.integers(1, 900),
)
def test_no_reed_long_enough_comes_nearer_than_the_first_of_the_ranking(reeds, sett, ends):
    """Every reed with every order up to eight dents; a reed is long enough for its own truest order or it is not."""
    facts = [ReedFacts(f"{dents}", Fraction(dents), Fraction(1000)) for dents in reeds]
    ranked = rank_reeds(facts, Fraction(sett), ends)
    errors = {
        one.name: least_error(one.dents, Fraction(sett)) for one in facts if sley_orders(one.dents, Fraction(sett))
    }
    assert bool(ranked) == bool(errors)
    if ranked:
        assert abs(ranked[0].error) == min(errors.values())
        assert {choice.reed for choice in ranked} == errors.keys()
        first_of_each = {choice.reed: abs(choice.error) for choice in reversed(ranked)}
        assert first_of_each == errors
