"""The same firmness in another weave or yarn: there and back again, and against wraps laid side by side."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.firmness import heavier_cloth, sett_of_other_weave, sett_of_other_yarn, wraps_of_mixture
from planner.calc.cloth.sett import greatest_sett

SETTS = st.fractions(1, 40, max_denominator=99)
TEXES = st.fractions(1, 2000, max_denominator=99)
WEAVES = st.tuples(st.integers(1, 16), st.integers(1, 16))
PARTS = st.lists(st.tuples(st.integers(1, 40), st.fractions(1, 40, max_denominator=20)), min_size=1, max_size=5)


@given(sett=SETTS, given_=WEAVES, wanted=WEAVES)
def test_another_weave_and_back_is_the_sett_again(sett, given_, wanted):
    assert sett_of_other_weave(sett_of_other_weave(sett, given_, wanted), wanted, given_) == sett


@given(sett=SETTS, given_=WEAVES, wanted=WEAVES)
def test_equal_firmness_is_the_same_part_of_the_greatest_sett(sett, given_, wanted):
    other = sett_of_other_weave(sett, given_, wanted)
    assert sett / greatest_sett(Fraction(1), *given_) == other / greatest_sett(Fraction(1), *wanted)


@given(sett=SETTS, tex=TEXES, new=TEXES)
def test_sett_squared_times_tex_stays(sett, tex, new):
    other = sett_of_other_yarn(sett, tex, new)
    assert float(other**2 * new) == pytest.approx(float(sett**2 * tex), rel=1e-8)


@given(sett=SETTS, tex=TEXES, ratio=st.fractions(Fraction(1, 4), 4, max_denominator=30))
def test_a_heavier_cloth_has_the_mass_asked_for_and_the_same_firmness(sett, tex, ratio):
    new_sett, new_tex = heavier_cloth(sett, tex, ratio)
    assert new_sett * new_tex == ratio * sett * tex
    assert sett_of_other_yarn(sett, tex, new_tex) == pytest.approx(new_sett)


@given(parts=PARTS)
def test_wraps_of_a_mixture_fill_the_width_of_its_yarns(parts):
    wraps = wraps_of_mixture(parts)
    assert sum(count / own for count, own in parts) * wraps == sum(count for count, _ in parts)
    assert min(own for _, own in parts) <= wraps <= max(own for _, own in parts)


@given(count=st.integers(1, 40), wraps=SETTS)
def test_one_yarn_wraps_as_itself(count, wraps):
    assert wraps_of_mixture([(count, wraps)]) == wraps


def test_the_mean_of_the_wraps_would_be_too_close():
    """12 and 4 wraps, end and end: side by side 6 to the unit, not the mean of 8."""
    assert wraps_of_mixture([(1, Fraction(12)), (1, Fraction(4))]) == 6


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: sett_of_other_weave(Fraction(0), (2, 2), (4, 2)), "sett"),
        (lambda: sett_of_other_weave(Fraction(1), (0, 2), (4, 2)), "given"),
        (lambda: sett_of_other_weave(Fraction(1), (2, 2), (4, 0)), "wanted"),
        (lambda: sett_of_other_yarn(Fraction(1), Fraction(0), Fraction(1)), "tex"),
        (lambda: heavier_cloth(Fraction(1), Fraction(1), Fraction(0)), "ratio"),
        (lambda: wraps_of_mixture([]), "parts"),
        (lambda: wraps_of_mixture([(1, Fraction(0))]), "parts"),
        (lambda: wraps_of_mixture([(-1, Fraction(1)), (3, Fraction(1))]), "parts"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
