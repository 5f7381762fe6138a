"""Box and chains in one warp: no chain too short, none longer than the board makes it, and what is said of them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import turns as beam
from planner.calc.winding import mixed_winding

INCH = Fraction(254, 100)
NINE_INCHES = 9 * INCH
STEPS = st.fractions(Fraction(1, 10), 200, max_denominator=100)


def test_a_chain_for_the_rugs_is_thirteen_and_a_quarter_yards():
    """Thirteen turns take on 13.18 yd (474.6 in) by the studio's fourth worked project; the board goes by 9 in."""
    taken = 13.18 * 36 * float(INCH)
    assert mixed_winding.chain_length(taken, NINE_INCHES) == 53 * NINE_INCHES == Fraction("13.25") * 36 * INCH


@given(turns=st.integers(1, 400), empty=STEPS, depth=st.fractions(0, 1, max_denominator=10_000), step=STEPS)
def test_a_chain_is_long_enough_and_by_less_than_one_step_too_long(turns, empty, depth, step):
    taken = beam.length_of_turns(turns, empty, depth)
    length = mixed_winding.chain_length(taken, step)
    assert (length / step).denominator == 1
    assert float(length) >= taken * (1 - 2 * mixed_winding.STEP_TOLERANCE)
    assert float(length - step) < taken


@given(steps=st.integers(1, 100), step=STEPS)
def test_a_length_of_whole_steps_stays_as_it_is_whatever_a_float_makes_of_it(steps, step):
    assert mixed_winding.chain_length(float(steps * step), step) == steps * step


@pytest.mark.parametrize(
    ("measured", "codes"), [(False, ["mixed_winding", "chain_length_reckoned"]), (True, ["mixed_winding"])]
)
def test_a_reckoned_depth_is_owned_up_to(measured, codes):
    said = mixed_winding.mixed_remarks("5", "4, 6", 13, measured=measured)
    assert [remark.code for remark in said] == codes


@pytest.mark.parametrize(
    ("empty", "all_chains", "codes"),
    [
        ("", False, []),
        ("1-3", False, ["chain_sections_empty"]),
        ("", True, ["all_sections_as_chains"]),
        ("1", True, ["all_sections_as_chains", "chain_sections_empty"]),
    ],
)
def test_what_came_of_the_sections_named_is_said(empty, all_chains, codes):
    assert [remark.code for remark in mixed_winding.named_remarks(empty, all_chains=all_chains)] == codes


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: mixed_winding.chain_length(0.0, Fraction(1)), "taken"),
        (lambda: mixed_winding.chain_length(1.0, Fraction(0)), "step"),
        (lambda: mixed_winding.mixed_remarks("", "1", 3, measured=True), "chains"),
        (lambda: mixed_winding.mixed_remarks("1", "2", 0, measured=True), "turns"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
