"""Where a leader knot lands, and how far to turn a comb; plain geometry throughout."""

from fractions import Fraction
from math import cos, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import leader

LENGTHS = st.floats(0, 300)
BARS = st.integers(2, 8)


def test_a_leader_of_whole_rounds_ends_on_its_own_bar():
    place = leader.knot_place(72, 36, 4)
    assert (place.past_bar, place.clear) == (0, False)


def test_a_knot_in_the_middle_of_a_gap_needs_no_mending():
    place = leader.knot_place(40.5, 36, 4)
    assert (place.clear, place.mend) == (True, 0)


def test_a_knot_just_short_of_a_bar_asks_for_a_shorter_leader():
    place = leader.knot_place(44, 36, 4)
    assert (place.past_bar, place.to_next_bar, place.clear, place.mend) == (8, 1, False, -3.5)


@pytest.mark.parametrize(
    ("leader_of", "offset", "knot", "past", "clear", "mend"),
    [
        (40, 2, 1, "13/2", True, "-2"), (40, 0, 0, "4", True, "1/2"), (40, "4.5", 0, "17/2", False, "-4"),
        (38, "0.25", 1, "11/4", True, "7/4"), (44, "1.5", "1.5", "5/4", False, "13/4"), (1, 0, 15, "17/2", False, "5"),
    ],
)  # fmt: skip
def test_a_knot_lies_as_far_as_hole_leader_and_half_the_knot_reach(leader_of, offset, knot, past, clear, mend):
    """By hand, 36 in round four bars: a bar every 9 in, the middle of a gap at 4 1/2.

    40 + 2 + 1/2 = 42 1/2 is 6 1/2 past the bar at 36; 40 + 4 1/2 is 8 1/2 past, on the next bar; 38 + 1/4 + 1/2 is
    2 3/4 past; 44 + 1 1/2 + 3/4 is 1 1/4 past 45. A leader of an inch cannot lose four, so it gains five: 1 + 7 1/2 is
    8 1/2, and 13 1/2 is the middle of the next gap.
    """
    place = leader.knot_place(leader_of, 36, 4, Fraction(offset), Fraction(knot))
    assert (place.past_bar, place.clear, place.mend) == (Fraction(past), clear, Fraction(mend))


def test_a_long_knot_lies_over_a_bar_though_its_middle_is_clear():
    """39 in and half of 6.2 are 6.1 past a bar: the knot reaches to 9.2, over the next bar; of 5 in it reaches to 8."""
    assert not leader.knot_place(39, 36, 4, 0, Fraction("6.2")).clear
    assert leader.knot_place(39, 36, 4, 0, Fraction(5)).clear


@pytest.mark.parametrize(("knot", "too_long"), [(9, False), (10, True)])
def test_a_knot_longer_than_the_gap_is_helped_by_no_leader(knot, too_long):
    assert leader.knot_place(40, 36, 4, 0, knot).too_long == too_long


EXACT = st.fractions(0, 100, max_denominator=16)


@given(length=EXACT, around=st.fractions(20, 200, max_denominator=8), bars=BARS, offset=EXACT, part=st.fractions(0, 1))
def test_a_mended_leader_puts_the_knot_in_the_very_middle(length, around, bars, offset, part):
    """Whatever the hole and the knot: exactly the middle, never a leader below nothing, clear if the gap holds it."""
    knot = part * around / bars
    place = leader.knot_place(length, around, bars, offset, knot)
    mended = leader.knot_place(length + place.mend, around, bars, offset, knot)
    assert mended.past_bar == mended.to_next_bar == around / bars / 2
    assert mended.clear
    assert mended.mend == 0
    assert not place.too_long


@given(length=LENGTHS, circumference=st.floats(20, 200), bars=BARS)
def test_a_mended_leader_is_clear(length, circumference, bars):
    mend = leader.knot_place(length, circumference, bars).mend
    mended = length + mend if length + mend >= 0 else length + mend + circumference
    assert leader.knot_place(mended, circumference, bars).clear


@given(length=LENGTHS, circumference=st.floats(20, 200), bars=BARS)
def test_the_knot_lies_between_two_bars(length, circumference, bars):
    place = leader.knot_place(length, circumference, bars)
    assert place.past_bar + place.to_next_bar == pytest.approx(circumference / bars)
    assert abs(place.mend) <= circumference / bars / 2 + 1e-9 or length + place.mend < circumference / bars


def test_comb_of_two_inches_for_an_inch_and_three_quarters():
    """The studio's trade notes: 40 ends, 2 per dent of 10, turned by 29 degrees."""
    assert round(leader.comb_angle(2, 1.75)) == 29


@given(bundle=st.floats(1, 20), section=st.floats(1, 20))
def test_a_turned_bundle_is_no_wider_than_the_section(bundle, section):
    turned = bundle * cos(radians(leader.comb_angle(bundle, section)))
    assert turned == pytest.approx(min(bundle, section))


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: leader.knot_place(1, 36, 1), "bars"),
        (lambda: leader.knot_place(-1, 36, 4), "leader"),
        (lambda: leader.knot_place(1, 36, 4, -1), "offset"),
        (lambda: leader.knot_place(1, 36, 4, 0, -1), "knot"),
        (lambda: leader.comb_angle(0, 1), "bundle"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()


@pytest.mark.parametrize(("ends", "in_a_dent"), [(10, 1), (20, 1), (40, 2), (48, 2), (60, 3)])
def test_as_many_ends_go_in_a_dent_as_leave_the_bundle_no_narrower_than_the_section(ends, in_a_dent):
    """Ten dents to the inch and sections of 1 3/4 in, by hand: 17 1/2 dents lie over a section."""
    assert leader.ends_per_comb_dent(ends, Fraction(10), Fraction(7, 4), 1) == in_a_dent
