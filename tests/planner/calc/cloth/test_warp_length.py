"""Warp lengths against published losses and the eight towels worked by hand."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.warp_length import (
    TOLERANCE,
    gap_count,
    margin_of,
    one_more_piece,
    rounded_up,
    warp_of_one_more,
    warp_of_woven,
    woven_length,
)

INCH = Fraction(254, 100)
NONE = Fraction(0)
TOWEL = woven_length(28 * INCH, 2 * INCH, Fraction(12, 100))
TOWEL_TAKE_UP = Fraction(9, 100)


def near(value, expected, tolerance):
    return abs(Fraction(value) - Fraction(expected)) <= Fraction(tolerance)


def of_yarn(crimp):
    """Crimp is a share of the cloth in mill books; take-up is the same loss as a share of the yarn."""
    return crimp / (1 + crimp)


CRIMPED = [
    # TextileCalculations educational site, Crimp Percentage
    pytest.param(160, Fraction(12, 100), "179.2", "0.05", id="C09"),
    # TextileCalculations educational site, Total Quantity of Materials in a Piece
    pytest.param(40, Fraction(5, 100), "42", "0.01", id="W13"),
]


@pytest.mark.parametrize(("cloth", "crimp", "expected", "tolerance"), CRIMPED)
def test_a_crimp_gives_the_printed_warp_length(cloth, crimp, expected, tolerance):
    assert near(warp_of_woven(Fraction(cloth), of_yarn(crimp)), expected, tolerance)


WITH_WASTE = [
    # allfiberarts beginner weaving page
    pytest.param(40, Fraction(15, 100), 36, "82", "0.1", id="C18"),
]


@pytest.mark.parametrize(("finished", "added", "waste", "expected", "tolerance"), WITH_WASTE)
def test_an_allowance_added_on_gives_the_printed_warp(finished, added, waste, expected, tolerance):
    assert near(warp_of_woven(Fraction(finished), of_yarn(added)) + waste, expected, tolerance)


def test_a_fifth_lost_asks_for_ten_to_finish_at_eight():
    """cnch.org article on warp and weft dimensions and shrinkage: 10 in on the loom finish at 8 in (C17)."""
    assert woven_length(Fraction(8), NONE, Fraction(1, 5)) == 10


def test_runner_is_woven_forty_inches_and_uses_43_48():
    """Worked by hand: 36 / 0.90 = 40; 40 / 0.92 = 43.48."""
    woven = woven_length(36 * INCH, NONE, Fraction(1, 10))
    assert woven == 40 * INCH
    assert near(warp_of_woven(woven, Fraction(8, 100)) / INCH, "43.48", "0.005")


def test_eight_towels_need_362_3_inches():
    """Worked by hand: 30 / 0.88 x 8 / 0.91 + 4 + 36 + 12 = 351.7; x 1.03 = 362.3 in."""
    total = 8 * warp_of_woven(TOWEL, TOWEL_TAKE_UP) + gap_count(8, 8) * INCH / 2 + 36 * INCH + 12 * INCH
    assert near(total / INCH, "351.7", "0.05")
    assert near((total + margin_of(total, Fraction(3, 100))) / INCH, "362.3", "0.05")


def test_a_ninth_towel_needs_37_96_inches():
    """Worked by hand: 34.0909 / 0.91 + 0.5 = 37.96 in; the margin is not taken a second time."""
    assert near(warp_of_one_more(TOWEL, TOWEL_TAKE_UP, INCH / 2, NONE) / INCH, "37.96", "0.005")


def test_a_ninth_towel_does_not_fit_by_less_than_half_an_inch():
    """Worked by hand: 399.9 in really on the beam, 362.3 wanted, 37.6 left; the margin is 10.5."""
    needs = warp_of_one_more(TOWEL, TOWEL_TAKE_UP, INCH / 2, NONE)
    base = 8 * warp_of_woven(TOWEL, TOWEL_TAKE_UP) + 52 * INCH
    margin = margin_of(base, Fraction(3, 100))
    found = one_more_piece(needs, 399.9 * 2.54, base + margin, margin)
    assert not found.fits
    assert near(found.left / INCH, "37.6", "0.1")
    assert near(found.margin / INCH, "10.55", "0.05")


@pytest.mark.parametrize(("over", "fits"), [(TOLERANCE / 2, True), (2 * TOLERANCE, False)])
def test_a_piece_fits_when_less_than_the_tolerance_is_missing(over, fits):
    assert one_more_piece(Fraction(40) + over, Fraction(140), Fraction(100), NONE).fits is fits


@given(
    length=st.fractions(min_value=0, max_value=10**5, max_denominator=999),
    step=st.fractions(min_value=Fraction(1, 10), max_value=500, max_denominator=999),
)
def test_rounding_up_takes_the_fewest_steps_that_reach(length, step):
    rounded = rounded_up(length, step)
    assert (rounded / step).denominator == 1
    assert rounded - step < length <= rounded


def test_a_length_of_whole_steps_stays_as_it_is():
    assert rounded_up(11 * 36 * INCH, 36 * INCH) == 11 * 36 * INCH


@pytest.mark.parametrize(("pieces", "said", "gaps"), [(1, None, 0), (8, None, 7), (8, 8, 8), (8, 0, 0)])
def test_gaps_are_one_fewer_than_pieces_unless_said(pieces, said, gaps):
    assert gap_count(pieces, said) == gaps


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: woven_length(NONE, NONE, NONE), "finished_length"),
        (lambda: woven_length(INCH, -INCH, NONE), "hem"),
        (lambda: woven_length(INCH, NONE, Fraction(1)), "length_shrinkage"),
        (lambda: warp_of_woven(-INCH, NONE), "woven"),
        (lambda: warp_of_woven(INCH, Fraction(1)), "take_up"),
        (lambda: gap_count(0, None), "pieces"),
        (lambda: gap_count(1, -1), "gaps"),
        (lambda: margin_of(-INCH, NONE), "base"),
        (lambda: margin_of(INCH, -INCH), "margin"),
        (lambda: rounded_up(-INCH, INCH), "length"),
        (lambda: rounded_up(INCH, NONE), "step"),
        (lambda: warp_of_one_more(INCH, NONE, -INCH, NONE), "gap"),
        (lambda: warp_of_one_more(INCH, NONE, NONE, -INCH), "fringe"),
        (lambda: one_more_piece(-INCH, INCH, INCH, NONE), "needs"),
        (lambda: one_more_piece(INCH, -1.0, INCH, NONE), "real_length"),
        (lambda: one_more_piece(INCH, INCH, -INCH, NONE), "length_wanted"),
        (lambda: one_more_piece(INCH, INCH, INCH, -INCH), "margin"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=f"^{named} "):
        misuse()
