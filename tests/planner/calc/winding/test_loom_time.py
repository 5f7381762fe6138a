"""How long a warp keeps a loom, by hand and by its properties."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.winding.loom_time import days_on_loom, hours_of_dressing, hours_of_weaving

HOURS = st.fractions(0, 5000, max_denominator=60)
A_WEEK = st.fractions(Fraction(1, 2), 168, max_denominator=12)


def test_eight_sessions_at_two_a_week_are_twenty_eight_days():
    """Our own trade brief, worked project 9.5: eight sessions left at two a week take 28 days."""
    assert days_on_loom(Fraction(8), Fraction(2)) == 28


def test_a_rug_warp_by_hand():
    """Plain arithmetic: 360 ends at 60 an hour are 6 h, 12 m at 30 cm an hour are 40 h; 46 h at 6 a week, 54 days."""
    hours = hours_of_dressing(360, 60) + hours_of_weaving(Fraction(1200), Fraction(30))
    assert (hours, days_on_loom(hours, Fraction(6))) == (46, 54)


def test_nothing_to_do_still_keeps_the_loom_for_a_day():
    assert days_on_loom(Fraction(0), Fraction(6)) == 1


@given(hours=HOURS, more=HOURS, a_week=A_WEEK)
def test_more_work_never_takes_fewer_days(hours, more, a_week):
    assert days_on_loom(hours + more, a_week) >= days_on_loom(hours, a_week)


@given(hours=HOURS, a_week=A_WEEK)
def test_the_days_hold_the_work_and_one_day_less_would_not(hours, a_week):
    days = days_on_loom(hours, a_week)
    assert Fraction(days) * a_week / 7 >= hours
    assert days == 1 or Fraction(days - 1) * a_week / 7 < hours


@given(one=st.integers(0, 5000), other=st.integers(0, 5000), rate=st.integers(1, 500))
def test_two_warps_are_dressed_in_the_hours_of_both(one, other, rate):
    assert hours_of_dressing(one + other, rate) == hours_of_dressing(one, rate) + hours_of_dressing(other, rate)


@given(woven=HOURS, rate=st.fractions(1, 200, max_denominator=10))
def test_a_faster_hand_needs_fewer_hours(woven, rate):
    assert hours_of_weaving(woven, rate * 2) * 2 == hours_of_weaving(woven, rate)


@pytest.mark.parametrize(
    ("deed", "values"),
    [
        (hours_of_dressing, (-1, 60)), (hours_of_dressing, (1, 0)),
        (hours_of_weaving, (Fraction(-1), Fraction(1))), (hours_of_weaving, (Fraction(1), Fraction(0))),
        (days_on_loom, (Fraction(-1), Fraction(6))), (days_on_loom, (Fraction(1), Fraction(0))),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(deed, values):
    with pytest.raises(ValueError, match="must"):
        deed(*values)
