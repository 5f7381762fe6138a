"""What is on a package: bounds that hold whatever the cone weighs, against pint's own tex."""

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.count import length_of_mass, tex_of_yards_per_pound
from inventory.calc.package_length import USUAL_TARES, PackageLength, length_in_doubt, package_length, together
from inventory.models import Package

YD = Fraction(9144, 100)
EIGHT_TWO = tex_of_yards_per_pound(Fraction(3360))
OUTSIDE = pint.UnitRegistry(non_int_type=Fraction)
MASSES = st.fractions(0, 500, max_denominator=100)
TEXES = st.fractions(1, 3000, max_denominator=100)


def test_a_core_of_57_g_hides_some_400_yards_of_8_2_cotton():
    """57 g x 7.4 yd/g = 422 yd: weight of a cone from a weaving magazine's answers, the product plain arithmetic."""
    assert round(length_in_doubt(Fraction(0), Fraction(57), EIGHT_TWO) / YD) == 422


@given(lightest=MASSES, more=MASSES, yarn=MASSES, part=st.fractions(0, 1, max_denominator=50), tex=TEXES)
def test_the_yarn_lies_within_its_bounds_whatever_the_core_weighs(lightest, more, yarn, part, tex):
    gross = lightest + part * more + yarn
    found = package_length(gross, lightest, lightest + more, tex)
    assert 0 <= found.low <= length_of_mass(yarn, tex) <= found.high
    assert found.low <= found.likely <= found.high


@given(gross=MASSES, tex=TEXES)
def test_a_weighed_core_leaves_no_doubt(gross, tex):
    found = package_length(gross + 12, Fraction(12), Fraction(12), tex)
    assert found.low == found.likely == found.high == length_of_mass(gross, tex)


@given(gross=st.integers(1, 5000), tex=st.integers(1, 2000))
def test_pint_gives_the_same_length(gross, tex):
    found = package_length(Fraction(gross), Fraction(0), Fraction(0), Fraction(tex)).likely
    outside = OUTSIDE.Quantity(Fraction(gross), "gram") / OUTSIDE.Quantity(Fraction(tex), "tex")
    assert outside.to("centimeter").magnitude == found


def test_a_package_lighter_than_the_heaviest_core_may_be_empty():
    assert package_length(Fraction(30), Fraction(12), Fraction(57), EIGHT_TWO).low == 0


def test_packages_together_add_bound_to_bound():
    one = package_length(Fraction(500), Fraction(12), Fraction(57), EIGHT_TWO)
    assert together([one] * 3) == PackageLength(3 * one.low, 3 * one.likely, 3 * one.high)


def test_no_packages_hold_nothing():
    assert together([]) == PackageLength(Fraction(0), Fraction(0), Fraction(0))


def test_every_kind_of_package_has_its_usual_tares():
    assert USUAL_TARES.keys() == set(Package.Kind.values)
    assert all(0 <= tare.lightest <= tare.heaviest and tare.source for tare in USUAL_TARES.values())


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: package_length(Fraction(10), Fraction(12), Fraction(12), EIGHT_TWO), "gross"),
        (lambda: package_length(Fraction(100), Fraction(13), Fraction(12), EIGHT_TWO), "lightest"),
        (lambda: package_length(Fraction(100), Fraction(-1), Fraction(12), EIGHT_TWO), "lightest"),
        (lambda: package_length(Fraction(100), Fraction(1), Fraction(12), Fraction(0)), "tex"),
        (lambda: length_in_doubt(Fraction(2), Fraction(1), EIGHT_TWO), "lightest"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
