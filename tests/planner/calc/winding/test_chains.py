"""Chains: published passes, near equal sizes, and raddle groups that hold every end."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.winding import chains

SPACES = st.lists(st.integers(0, 12), min_size=1, max_size=30).filter(any)


def expanded(groups):
    return [ends for count, ends in groups for _ in range(count)]


def test_passes_of_1072_ends_with_five_in_hand():
    """Weaving from Paradise, Warp 46 (May 2024): 215 passes for 1072 ends with 5 in hand."""
    passes, odd = chains.passes_of(1072, 5)
    assert passes + bool(odd) == 215


def test_passes_of_a_border():
    """The same page: 80 ends, 4 in hand; the division to 20 is plain arithmetic."""
    assert chains.passes_of(80, 4) == (20, 0)


def test_a_runner_of_282_ends_is_three_chains_of_94():
    assert chains.chain_sizes(282, 2, 100) == (94, 94, 94)


def test_an_odd_end_stands_in_the_last_chain():
    """142 passes are shared 47, 48, 47, and the last pass holds one end."""
    assert chains.chain_sizes(283, 2, 100) == (94, 96, 93)


@given(ends=st.integers(1, 3000), at_once=st.integers(1, 8), most=st.integers(8, 200))
def test_chains_hold_every_end_and_are_nearly_equal(ends, at_once, most):
    sizes = chains.chain_sizes(ends, at_once, most)
    assert sum(sizes) == ends
    assert max(sizes) <= most
    assert max(sizes) - min(sizes) < 2 * at_once


@given(ends=st.integers(1, 3000), at_once=st.integers(1, 8), most=st.integers(8, 200))
def test_every_chain_but_the_last_is_of_whole_passes(ends, at_once, most):
    assert all(size % at_once == 0 for size in chains.chain_sizes(ends, at_once, most)[:-1])


@given(spaces=SPACES)
def test_groups_hold_the_ends_of_the_spaces(spaces):
    assert sum(expanded(chains.as_groups(spaces))) == sum(spaces)


@given(spaces=SPACES, data=st.data())
def test_groups_of_chains_hold_the_ends_of_each_chain(spaces, data):
    total = sum(spaces)
    cuts = sorted(data.draw(st.sets(st.integers(1, max(1, total - 1)), max_size=5)) - {total})
    sizes = [right - left for left, right in zip([0, *cuts], [*cuts, total], strict=True)]
    found = chains.groups_of_chains(spaces, sizes)
    assert [sum(expanded(groups)) for groups in found] == sizes


def test_a_space_across_two_chains_is_counted_in_two_parts():
    found = chains.groups_of_chains([10] * 28 + [2], [94, 94, 94])
    assert found == (((9, 10), (1, 4)), ((1, 6), (8, 10), (1, 8)), ((1, 2), (9, 10), (1, 2)))


def test_raddle_spaces_of_a_runner():
    bounds = chains.even_spaces(Fraction("14.1"), Fraction(1, 2))
    assert (len(bounds) - 1, bounds[-1] - bounds[-2]) == (29, Fraction("0.1"))


def test_ten_yards_carry_nine_ties():
    assert chains.tie_distances(Fraction(10), Fraction(1)) == tuple(range(1, 10))


def test_a_short_chain_carries_no_tie():
    assert chains.tie_distances(Fraction(1), Fraction(1)) == ()


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: chains.chain_sizes(0, 1, 1), "ends"),
        (lambda: chains.passes_of(1, 0), "at_once"),
        (lambda: chains.as_groups([-1]), "space"),
        (lambda: chains.groups_of_chains([1], [2]), "chains"),
        (lambda: chains.tie_distances(Fraction(1), Fraction(0)), "every"),
        (lambda: chains.even_spaces(Fraction(1), Fraction(0)), "space"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()


@given(ends=st.integers(1, 3000), at_once=st.integers(1, 12), most=st.integers(1, 200))
def test_no_chain_ever_holds_more_than_it_may(ends, at_once, most):
    sizes = chains.chain_sizes(ends, at_once, most)
    assert sum(sizes) == ends
    assert 0 < min(sizes) <= max(sizes) <= most
