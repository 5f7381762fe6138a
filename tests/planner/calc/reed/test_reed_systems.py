"""Old reed numbers: there and back, and what is told where the books disagree. Printed examples: published values."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.reed.reed_systems import CM_IN_INCH, SYSTEMS, dents_of, number_of

NUMBERS = st.fractions(Fraction(1, 10), 4000, max_denominator=100)
METRIC = [
    ("20", "5.08"),
    ("25", "6.35"),
    ("30", "7.62"),
    ("40", "10.16"),
    ("45", "11.43"),
    ("50", "12.70"),
    ("60", "15.24"),
]


@given(number=NUMBERS, system=st.sampled_from(sorted(SYSTEMS)))
def test_a_number_turned_into_dents_and_back_is_itself(number, system):
    assert number_of(dents_of(number, system), system) == number


@given(number=NUMBERS, system=st.sampled_from(sorted(SYSTEMS)))
def test_twice_the_number_is_twice_the_dents(number, system):
    assert dents_of(2 * number, system) == 2 * dents_of(number, system)


@pytest.mark.parametrize(("number", "to_the_inch"), METRIC)
def test_a_metric_reed_is_exact_to_the_inch(number, to_the_inch):
    """By the inch of 1959; the tables that swap 50/10 for 12 dents are 5.8 per cent off."""
    assert dents_of(Fraction(number), "metric") * CM_IN_INCH == Fraction(to_the_inch)


def test_the_other_width_for_bolton_would_be_one_per_cent_coarser():
    other = Fraction(20) / (Fraction(49, 2) * CM_IN_INCH)
    assert round(float(1 - other / dents_of(Fraction(1), "bolton")), 3) == 0.010
    assert "24 1/2" in SYSTEMS["bolton"].disagreement


def test_every_system_names_its_source():
    assert [key for key, system in SYSTEMS.items() if key != system.key or not system.source] == []


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: dents_of(Fraction(0), "stockport"), "number"),
        (lambda: dents_of(Fraction(1), "Stockport"), "system"),
        (lambda: number_of(Fraction(0), "stockport"), "dents"),
        (lambda: number_of(Fraction(1), ""), "system"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
