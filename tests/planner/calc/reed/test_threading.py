"""Heddles on each shaft against mill books and published drafts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.reed.threading import heddles_per_shaft, straight

POINT = (1, 2, 3, 4, 5, 4, 3, 2)
BLOCK_SHAFTS = {3: 6, 4: 21, 5: 12, 6: 18, 7: 16, 8: 36}
BLOCKS = tuple(end for shaft, units in BLOCK_SHAFTS.items() for _ in range(units) for end in (1, shaft, 2, shaft))

NEEDED = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), Healds, online-text p. 92-93
    pytest.param((), 60, 4, 1, "15", "0.01", id="H01"),
    # A. Wolfensberger, Theory of Silk Weaving, 2nd ed. 1921, p. 71
    pytest.param((), 100, 4, 3, "25", "0.01", id="H06"),
    # Lynne, Weaving, the Original Programming Project (blog, 5 Apr 2017)
    pytest.param(BLOCKS, 436, 8, 1, "109", "0.01", id="H07"),
    # Lynne, Weaving, the Original Programming Project (blog, 5 Apr 2017)
    pytest.param(BLOCKS, 436, 8, 4, "42", "0.01", id="H08"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), Drafts, Fig. 37 (8 ends on 5 healds); 528 ends
    # mine
    pytest.param(POINT, 528, 5, 2, "132", "0.01", id="H15"),
    # Handwoven magazine, notes on heddle management (2022)
    pytest.param((), 400, 8, 8, "50", "0.01", id="H17"),
]


@pytest.mark.parametrize(("threading", "ends", "shafts", "shaft", "expected", "tolerance"), NEEDED)
def test_a_shaft_needs_the_printed_heddles(threading, ends, shafts, shaft, expected, tolerance):
    found = heddles_per_shaft(threading, ends, shafts)[shaft - 1]
    assert abs(found - float(expected)) <= float(tolerance)


def test_all_shafts_of_the_block_weave_hold_436():
    """Sum of the counts printed in a weaver's blog of 5 April 2017, Weaving, the Original Programming Project (H10)."""
    assert (len(BLOCKS), sum(heddles_per_shaft(BLOCKS, 436, 8))) == (436, 436)


def test_282_ends_straight_on_four_shafts():
    """Worked by hand: 70 whole repeats and two ends more."""
    assert heddles_per_shaft((), 282, 4) == (71, 71, 70, 70)


@given(
    threading=st.lists(st.integers(1, 6), min_size=1, max_size=30).map(tuple),
    ends=st.integers(0, 500),
)
def test_counting_end_by_end_gives_the_same(threading, ends):
    walked = [threading[end % len(threading)] for end in range(ends)]
    assert heddles_per_shaft(threading, ends, 6) == tuple(walked.count(shaft) for shaft in range(1, 7))


def test_a_draw_is_straight_from_the_front():
    assert straight(5) == (1, 2, 3, 4, 5)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: straight(0), "shafts"),
        (lambda: heddles_per_shaft((), 4, 0), "shafts"),
        (lambda: heddles_per_shaft((), -1, 4), "ends"),
        (lambda: heddles_per_shaft((1, 5), 4, 4), "threading"),
        (lambda: heddles_per_shaft((0, 1), 4, 4), "threading"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
