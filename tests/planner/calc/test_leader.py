"""Where a leader knot lands, and how far to turn a comb; plain geometry throughout."""

from fractions import Fraction
from math import cos, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc import leader

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


@given(length=LENGTHS, circumference=st.floats(20, 200), bars=BARS)
def test_a_mended_leader_is_clear(length, circumference, bars):
    mend = leader.knot_place(length, circumference, bars).mend
    mended = length + mend if length + mend >= 0 else length + mend + circumference
    assert leader.knot_place(mended, circumference, bars).clear


@given(length=LENGTHS, circumference=st.floats(20, 200), bars=BARS)
def test_the_knot_lies_between_two_bars(length, circumference, bars):
    place = leader.knot_place(length, circumference, bars)
    assert place.past_bar + place.to_next_bar == pytest.approx(circumference / bars)
    assert abs(place.mend) <= circumference / bars / 2 + 1e-9


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
