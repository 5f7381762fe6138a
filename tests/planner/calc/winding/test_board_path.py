"""Paths of a board or mill: by the guide string, never by the name."""

from fractions import Fraction
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.winding.board_path import board_length, passes_in_all, path_error, turns_of_mill
from planner.calc.winding.chains import chain_sizes, passes_of

LENGTHS = st.fractions(10, 3000, max_denominator=20)


@given(nominal=LENGTHS, true=LENGTHS)
def test_a_name_and_its_error_are_the_true_length(nominal, true):
    assert nominal * (1 + path_error(nominal, true)) == true


@given(legs=st.integers(0, 20), leg=LENGTHS)
def test_each_leg_adds_itself(legs, leg):
    assert board_length(legs + 1, leg, Fraction(5)) - board_length(legs, leg, Fraction(5)) == leg


@given(length=LENGTHS, round_=LENGTHS, posts=st.integers(1, 12))
def test_turns_of_a_mill_reach_and_one_post_fewer_does_not(length, round_, posts):
    turns = turns_of_mill(length, round_, posts)
    assert turns * round_ >= length > (turns - Fraction(1, posts)) * round_
    assert (turns * posts).denominator == 1


@given(ends=st.integers(1, 2000), at_once=st.integers(1, 8), most=st.integers(8, 200))
def test_passes_of_all_chains_are_those_of_each(ends, at_once, most):
    sizes = chain_sizes(ends, at_once, most)
    each = [full + bool(odd) for full, odd in (passes_of(size, at_once) for size in sizes)]
    assert passes_in_all(sizes, at_once) == list(accumulate(each))[-1]


def test_no_chains_take_no_passes():
    assert passes_in_all([], 2) == 0


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: board_length(-1, Fraction(1), Fraction(0)), "legs"),
        (lambda: board_length(1, Fraction(0), Fraction(0)), "leg"),
        (lambda: board_length(1, Fraction(1), Fraction(-1)), "cross"),
        (lambda: path_error(Fraction(0), Fraction(1)), "nominal"),
        (lambda: path_error(Fraction(1), Fraction(0)), "true"),
        (lambda: turns_of_mill(Fraction(0), Fraction(1), 1), "length"),
        (lambda: turns_of_mill(Fraction(1), Fraction(0), 1), "circumference"),
        (lambda: turns_of_mill(Fraction(1), Fraction(1), 0), "posts"),
        (lambda: passes_in_all([1], 0), "at_once"),
        (lambda: passes_in_all([-1], 1), "chains"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
