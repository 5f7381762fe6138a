"""Unequal sections: the ninth worked project, then every pair as two rolls of its own."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import turns as beam
from planner.calc.beam import unequal

THICK_AND_THIN = [(1, 0.0098), (2, 0.0098), (3, 0.0122)]
"""The studio's ninth worked project, in inches: N N T on a 36 in beam."""


def test_ninth_project():
    """Printed there: 1.7 in at 15 turns, 0.32 %; 6.9 in at 30, 0.64 %; the depths there are rounded."""
    (worst,) = unequal.mismatches(THICK_AND_THIN, 15, 36)
    assert worst.longer == pytest.approx(1.7, abs=0.05)
    assert worst.longer_at_twice == pytest.approx(6.9, abs=0.15)
    assert 100 * worst.share == pytest.approx(0.32, abs=0.011)
    assert 100 * worst.share_at_twice == pytest.approx(0.64, abs=0.021)


def test_a_pair_names_all_its_sections():
    (worst,) = unequal.mismatches(THICK_AND_THIN, 15, 36)
    assert (worst.deep, worst.shallow) == ((3,), (1, 2))


def test_equal_sections_have_no_pair():
    assert unequal.mismatches([(1, 0.01), (2, 0.01)], 15, 36) == ()


def test_third_project_is_harmless():
    """Printed there: 0.32 in over six turns, 0.15 % of 6 yd, with depths of 0.137 and 0.120 in at the end."""
    (pair,) = unequal.mismatches([(1, 0.137 / 6), (2, 0.120 / 6)], 6, 36)
    assert (round(pair.longer, 2), round(100 * pair.share, 2)) == (0.32, 0.15)


DEPTHS = st.lists(st.floats(0.001, 0.2).map(lambda depth: round(depth, 3)), min_size=1, max_size=12)


@given(depths=DEPTHS, turns=st.integers(1, 200))
def test_each_pair_is_the_difference_of_two_rolls(depths, turns):
    found = unequal.mismatches(list(enumerate(depths)), turns, 100)
    for pair in found:
        for times, longer in ((1, pair.longer), (2, pair.longer_at_twice)):
            deep, shallow = (
                beam.length_of_turns(times * turns, 100, depths[places[0]]) for places in (pair.deep, pair.shallow)
            )
            assert longer == pytest.approx(deep - shallow, abs=1e-6)


@given(depths=DEPTHS)
def test_worst_pair_comes_first_and_no_pair_is_worse(depths):
    found = unequal.mismatches(list(enumerate(depths)), 10, 100)
    differences = [abs(one - other) for one, other in combinations(depths, 2)]
    if found:
        assert found[0].longer == pytest.approx(beam.mismatch(10, max(differences), 0, 100)[0])
        assert [pair.longer for pair in found] == sorted((pair.longer for pair in found), reverse=True)
    else:
        assert not any(differences)


@given(depths=DEPTHS)
def test_every_section_stands_in_one_group(depths):
    groups = unequal.sections_by_depth(list(enumerate(depths)))
    assert sorted(place for places in groups.values() for place in places) == list(range(len(depths)))


def test_at_most_fifteen_pairs_are_listed():
    assert len(unequal.mismatches([(place, place / 100) for place in range(9)], 10, 100)) == unequal.MOST_PAIRS


@pytest.mark.parametrize(("turns", "circumference"), [(-1, 36), (1, 0)])
def test_misuse_is_refused(turns, circumference):
    with pytest.raises(ValueError, match="turns"):
        unequal.mismatches(THICK_AND_THIN, turns, circumference)
