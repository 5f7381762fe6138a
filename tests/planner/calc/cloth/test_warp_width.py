"""Widths and counts of ends against mill books and a project worked by hand."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.warp_width import (
    ends_across,
    ends_in_repeats,
    finished_width_of,
    multiple_fits_repeats,
    width_in_reed,
    width_of_ends,
)

INCH = Fraction(254, 100)
NONE = Fraction(0)


def near(value, expected, tolerance):
    return abs(Fraction(value) - Fraction(expected)) <= Fraction(tolerance)


COUNTS = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), Weight of a Piece, online-text p. 93
    pytest.param(38, 60, "2280", "0.5", id="W01"),
    # jeanweaves blog, 7 Jan 2014
    pytest.param(48, 48, "2304", "0.5", id="W20"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), online-text p. 96; no: book prints 2238; its own
    # rule 36 x 39 x 1.6495 gives 2316
    pytest.param(39, Fraction(36 * 20 * 2 * 4, 97), "2315.9", "1", id="R06"),
    # T. F. Bell, Jacquard Weaving and Designing (year not visible), online-text p. 54
    pytest.param(Fraction(100, 48), 72, "150", "0.01", id="T08"),
]


@pytest.mark.parametrize(("inches", "per_inch", "expected", "tolerance"), COUNTS)
def test_a_width_holds_the_printed_ends(inches, per_inch, expected, tolerance):
    assert near(ends_across(inches * INCH, per_inch / INCH), expected, tolerance)


WIDTHS = [
    # Interweave Q&A, Winding a warp with complex colour order
    pytest.param(406, 20, "20.3", "0.05", id="R29"),
    # Interweave Q&A, Winding a warp with complex colour order
    pytest.param(406, 30, "13.533", "0.05", id="R30"),
]


@pytest.mark.parametrize(("ends", "per_inch", "expected", "tolerance"), WIDTHS)
def test_ends_take_the_printed_width(ends, per_inch, expected, tolerance):
    assert near(width_of_ends(ends, per_inch / INCH) / INCH, expected, tolerance)


REPEATED = [
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 220
    pytest.param(400, 12, "396", "0.01", id="T05"),
]


@pytest.mark.parametrize(("ends", "repeat", "expected", "tolerance"), REPEATED)
def test_whole_repeats_leave_the_printed_ends(ends, repeat, expected, tolerance):
    assert near(ends_in_repeats(ends, repeat)[0], expected, tolerance)


REPEATS = [
    # Lynne, Weaving, the Original Programming Project (blog, 5 Apr 2017)
    pytest.param(22 * 20, 128, "3", "0.01", id="T09"),
    # Weaving from Paradise blog, Warp 46 design and planning (May 2024)
    pytest.param(1232, 16, "77", "0.01", id="T13"),
]


@pytest.mark.parametrize(("ends", "repeat", "expected", "tolerance"), REPEATS)
def test_ends_hold_the_printed_repeats(ends, repeat, expected, tolerance):
    assert near(ends_in_repeats(ends, repeat)[1], expected, tolerance)


CONTRACTED = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), Weight of a Piece
    pytest.param(36, Fraction(6, 106), "38.16", "0.2", id="C20"),
]


@pytest.mark.parametrize(("cloth", "loss", "expected", "tolerance"), CONTRACTED)
def test_contraction_of_a_cloth_gives_the_printed_reed_width(cloth, loss, expected, tolerance):
    """The book's 6 per cent is of the cloth; ours is of the longer width, 6/106."""
    assert near(width_in_reed(Fraction(cloth), loss, NONE), expected, tolerance)


ADDED_ON = [
    # cnch.org article on warp and weft dimensions and shrinkage
    pytest.param(Fraction(12), Fraction(1, 5), "9.6", "0.01", id="C15"),
]


@pytest.mark.parametrize(("wide", "loss", "expected", "tolerance"), ADDED_ON)
def test_a_loss_merely_added_on_falls_as_short_as_printed(wide, loss, expected, tolerance):
    assert near(finished_width_of(wide, NONE, loss), expected, tolerance)


def test_runner_of_twelve_inches_takes_282_ends_in_pairs():
    """Worked by hand: 12 in finished, 15 per cent lost, 20 ends to the inch give 282.35, so 282 and 14.1 in."""
    ends = ends_across(width_in_reed(12 * INCH, Fraction(15, 100), NONE), 20 / INCH, 2)
    assert (ends, width_of_ends(ends, 20 / INCH)) == (282, Fraction(141, 10) * INCH)


def test_draw_in_and_shrinkage_follow_one_another():
    """Worked by hand: 36 kept at 0.9 and 0.8 comes from 50."""
    assert width_in_reed(Fraction(36), Fraction(1, 10), Fraction(1, 5)) == 50


@given(sett=st.integers(4, 40), inches=st.integers(4, 60))
def test_whole_setts_and_widths_give_one_count_in_inches_and_in_centimetres(sett, inches):
    assert ends_across(inches * INCH, sett / INCH) == ends_across(Fraction(inches), Fraction(sett)) == sett * inches


@given(
    width=st.fractions(min_value=1, max_value=500, max_denominator=999),
    sett=st.fractions(min_value=Fraction(1, 4), max_value=60, max_denominator=999),
    multiple=st.integers(1, 8),
)
def test_the_count_is_the_nearest_multiple(width, sett, multiple):
    ends = ends_across(width, sett, multiple)
    assert ends % multiple == 0
    assert ends == multiple or -multiple < 2 * (width * sett - ends) < multiple or 2 * (ends - width * sett) == multiple


@given(
    finished=st.fractions(min_value=1, max_value=500, max_denominator=99),
    draw_in=st.fractions(min_value=0, max_value=Fraction(1, 2), max_denominator=99),
    shrinkage=st.fractions(min_value=0, max_value=Fraction(1, 2), max_denominator=99),
)
def test_finished_width_comes_back_unchanged(finished, draw_in, shrinkage):
    assert finished_width_of(width_in_reed(finished, draw_in, shrinkage), draw_in, shrinkage) == finished


def test_a_half_is_counted_upward():
    assert ends_across(Fraction(5), Fraction(5, 2)) == 13


def test_a_narrow_band_still_has_one_multiple():
    assert ends_across(Fraction(1, 10), Fraction(1), 4) == 4


def test_balance_ends_stand_beside_whole_repeats():
    """Worked by hand: (282 - 4) / 30 = 9.27, so 9 repeats and 4 more."""
    assert ends_in_repeats(282, 30, 4) == (274, 9)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: width_in_reed(NONE, NONE, NONE), "finished_width"),
        (lambda: width_in_reed(INCH, Fraction(1), NONE), "draw_in"),
        (lambda: width_in_reed(INCH, NONE, Fraction(-1)), "width_shrinkage"),
        (lambda: finished_width_of(NONE, NONE, NONE), "width_in_reed"),
        (lambda: ends_across(NONE, INCH), "width_in_reed"),
        (lambda: ends_across(INCH, NONE), "sett"),
        (lambda: ends_across(INCH, INCH, 0), "multiple"),
        (lambda: ends_in_repeats(0, 4), "ends"),
        (lambda: ends_in_repeats(4, 0), "repeat"),
        (lambda: ends_in_repeats(4, 4, -1), "balance"),
        (lambda: ends_in_repeats(40, 4, 1, 2), "multiple"),
        (lambda: multiple_fits_repeats(0, 0, 1), "repeat"),
        (lambda: width_of_ends(0, INCH), "ends"),
        (lambda: width_of_ends(4, NONE), "sett"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()


@given(ends=st.fractions(1, 3000), repeat=st.integers(1, 60), balance=st.integers(0, 30), multiple=st.integers(1, 12))
def test_repeats_in_multiples_are_the_nearest_there_are(ends, repeat, balance, multiple):
    possible = [count * repeat + balance for count in range(1, 4000 // repeat + 800)]
    fitting = [total for total in possible if total % multiple == 0]
    assert bool(fitting) == multiple_fits_repeats(repeat, balance, multiple)
    if fitting:
        found, repeats = ends_in_repeats(ends, repeat, balance, multiple)
        assert found == repeats * repeat + balance
        assert found == min(fitting, key=lambda total: (abs(total - ends), -total))
