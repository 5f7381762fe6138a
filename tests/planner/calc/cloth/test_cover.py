"""Thickness and cover, against exam papers, pint's tex, and a thread whose volume is measured by integration."""

from fractions import Fraction
from math import pi, sqrt

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from planner.calc.cloth.cover import (
    CM_IN_INCH,
    TEX_OF_COTTON_ONE,
    cloth_cover,
    cover_factor,
    fractional_cover,
    peirce_cover_factor,
    peirce_diameter,
    thread_diameter,
)

TEXES = st.fractions(1, 2000, max_denominator=99)
THREADS = st.fractions(0, 60, max_denominator=99)
SHARES = st.fractions(0, 1, max_denominator=99)
OUTSIDE = pint.UnitRegistry(non_int_type=Fraction)


@given(root=st.integers(1, 400))
def test_a_square_count_has_an_exact_diameter(root):
    assert peirce_diameter(TEX_OF_COTTON_ONE / root**2) == CM_IN_INCH / (28 * root)


@given(tex=TEXES)
def test_the_root_is_cut_within_a_billionth(tex):
    wanted = float(CM_IN_INCH) / 28 * sqrt(tex / TEX_OF_COTTON_ONE)
    assert float(peirce_diameter(tex)) == pytest.approx(wanted, rel=1e-9)


@given(tex=TEXES, volume=st.floats(0.5, 3))
def test_a_centimetre_of_thread_has_the_volume_of_its_mass(tex, volume):
    """The disc is laid together from its rings by scipy's quad."""
    radius = thread_diameter(tex, volume) / 2
    area, _ = quad(lambda ring: 2 * pi * ring, 0, radius)
    assert area == pytest.approx(float(tex) * volume / 100_000)


def test_peirces_rule_is_a_cotton_of_about_0_9_g_in_a_cubic_centimetre():
    """Peirce 1937 gives cotton yarn a specific volume of 1.1: from memory."""
    assert thread_diameter(TEX_OF_COTTON_ONE, 1.1) == pytest.approx(float(peirce_diameter(TEX_OF_COTTON_ONE)), rel=0.01)


@given(threads=THREADS, tex=TEXES)
def test_metric_cover_is_0_957_of_peirces(threads, tex):
    """Balasubramanian, conversion factors page; the root is cut, so not exact."""
    ours = float(cover_factor(threads, tex))
    assert ours == pytest.approx(0.9567 * float(peirce_cover_factor(threads, tex)), rel=1e-4)


@given(threads=THREADS, tex=TEXES)
def test_peirces_cover_over_28_is_the_fractional_cover(threads, tex):
    share = fractional_cover(threads, peirce_diameter(tex))
    assert float(share) == pytest.approx(float(peirce_cover_factor(threads, tex)) / 28, rel=1e-9)


def test_pint_turns_the_cotton_count_into_the_same_tex():
    with OUTSIDE.context("textile"):
        outside = OUTSIDE.Quantity(Fraction(1), "number_english").to("tex").magnitude
    assert outside == TEX_OF_COTTON_ONE


@given(warp=SHARES, weft=SHARES)
def test_open_is_what_both_sets_leave_open(warp, weft):
    assert 1 - cloth_cover(warp, weft) == (1 - warp) * (1 - weft)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: peirce_diameter(Fraction(0)), "tex"),
        (lambda: thread_diameter(0, 1), "tex"),
        (lambda: thread_diameter(1, 0), "specific_volume"),
        (lambda: fractional_cover(Fraction(-1), Fraction(1)), "threads"),
        (lambda: fractional_cover(Fraction(1), Fraction(0)), "diameter"),
        (lambda: cloth_cover(Fraction(2), Fraction(0)), "warp"),
        (lambda: cloth_cover(Fraction(0), Fraction(-1)), "weft"),
        (lambda: cover_factor(Fraction(1), Fraction(0)), "tex"),
        (lambda: peirce_cover_factor(Fraction(-1), Fraction(1)), "threads"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
