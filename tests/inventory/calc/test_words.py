"""Sentences about what is there: what is offered can be asked for, and two numbers that differ read apart."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.ledger import micrograms
from inventory.calc.words import at_most, told_apart
from studio.units import Units, read

amounts = st.integers(min_value=0, max_value=10**12)


@given(there=amounts, units=st.sampled_from(Units), places=st.integers(min_value=0, max_value=4))
def test_what_is_offered_is_never_more_than_is_there(there, units, places):
    assert read(at_most(there, units, places), "mass", None) * 1_000_000 <= there


@given(there=amounts, more=st.integers(min_value=1000, max_value=10**9), units=st.sampled_from(Units))
def test_a_refusal_never_names_the_same_number_twice(there, more, units):
    offered, asked = told_apart(there, there + more, units)
    assert offered != asked


@pytest.mark.parametrize(
    ("units", "words"), [(Units.INCH, ("17.6 oz", "17.63 oz")), (Units.METRIC, ("498.9 g", "499.8 g"))]
)
def test_amounts_stand_in_the_readers_units(units, words):
    ounces = Fraction("28.349523125")
    assert told_apart(micrograms(ounces * Fraction("17.6")), micrograms(ounces * Fraction("17.63")), units) == words


def test_what_cannot_be_told_apart_is_said_as_it_is():
    assert told_apart(5_000_000, 5_000_000, Units.METRIC) == ("5 g", "5 g")
