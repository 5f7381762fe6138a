"""Weft against the piece weights of mill books."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.weft import picks_in, weft_length

INCH = Fraction(254, 100)
YARD = 36 * INCH
NONE = Fraction(0)
HANK = 840 * YARD


def near(value, expected, tolerance):
    return abs(Fraction(value) - Fraction(expected)) <= Fraction(tolerance)


HANKS = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), Weight of a Piece
    pytest.param("37.5", 64, 36, 36, "2.857", "0.01", id="W04"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 245 (question); printed answer cut off
    pytest.param("30", 80, 90, 40, "6.429", "0.01", id="W11"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 436
    pytest.param("34", 84, 60, 1, "204", "0.05", id="W12"),
]


@pytest.mark.parametrize(("reed", "picks", "yards", "count", "expected", "tolerance"), HANKS)
def test_a_piece_takes_the_printed_weft(reed, picks, yards, count, expected, tolerance):
    """Pounds of a count are hanks over the count; with count 1 the row is in hanks."""
    weft = weft_length(yards * YARD, picks / INCH, Fraction(reed) * INCH, NONE)
    assert near(weft / HANK / count, expected, tolerance)


def test_runner_takes_310_2_yards_of_weft():
    """Worked by hand: 18 picks to the inch x 40 in x 14.1 in x 1.1 = 310.2 yd."""
    weft = weft_length(40 * INCH, 18 / INCH, Fraction("14.1") * INCH, Fraction(1, 10))
    assert weft == Fraction("310.2") * YARD


def test_forty_inches_at_eighteen_are_720_picks_exactly():
    assert picks_in(40 * INCH, 18 / INCH) == 720


def test_a_pick_begun_is_counted():
    assert picks_in(Fraction(101, 10), Fraction(1)) == 11


@given(length=st.integers(0, 10**4), picks=st.integers(1, 100))
def test_whole_picks_are_never_one_too_many(length, picks):
    assert picks_in(length * INCH, picks / INCH) == length * picks


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: picks_in(-INCH, INCH), "woven"),
        (lambda: picks_in(INCH, NONE), "picks"),
        (lambda: weft_length(-INCH, INCH, INCH, NONE), "woven_total"),
        (lambda: weft_length(INCH, NONE, INCH, NONE), "picks"),
        (lambda: weft_length(INCH, INCH, NONE, NONE), "width_in_reed"),
        (lambda: weft_length(INCH, INCH, INCH, -INCH), "allowance"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
