"""Positions on the beam in short text, and back again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.terms.positions import spans


@pytest.mark.parametrize(
    ("numbers", "text"),
    [((), ""), ((3,), "3"), ((3, 7, 8, 9), "3, 7-9"), ((9, 3), "9, 3"), ((3, 3), "3, 3"), ((4, 5, 5, 6), "4-5, 5-6")],
)
def test_neighbours_are_joined(numbers, text):
    assert spans(numbers, "-") == text


@given(st.lists(st.integers(1, 60)))
def test_nothing_is_lost_whatever_the_order(numbers):
    parts = [part.split("-") for part in spans(numbers, "-").split(", ") if part]
    assert [place for part in parts for place in range(int(part[0]), int(part[-1]) + 1)] == numbers
