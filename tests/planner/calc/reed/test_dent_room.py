"""Room in the dent: what fits side by side, by plain counting."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.reed.dent_room import KNOT_WIDTH, Room, dent_gap, dent_room, free_share

GAPS = st.fractions(Fraction(1, 50), 2, max_denominator=200)
WIDTHS = st.fractions(Fraction(1, 500), 1, max_denominator=500)
ENDS = st.integers(0, 12)
DEGREES = [Room.NONE, Room.TIGHT, Room.FAIR, Room.AMPLE]


@given(gap=GAPS, ends=ENDS, diameter=WIDTHS)
def test_free_and_filled_are_the_whole_gap(gap, ends, diameter):
    assert free_share(gap, ends, diameter) * gap + ends * diameter == gap


@given(gap=GAPS, ends=ENDS, diameter=WIDTHS)
def test_the_most_ends_fit_and_one_more_does_not(gap, ends, diameter):
    most = dent_room(1 / gap, Fraction(0), ends, diameter).most
    assert free_share(gap, most, diameter) >= 0 > free_share(gap, most + 1, diameter)


@given(gap=GAPS, ends=ENDS, diameter=WIDTHS)
def test_more_ends_never_have_more_room(gap, ends, diameter):
    fewer, more = (dent_room(1 / gap, Fraction(0), count, diameter) for count in (ends, ends + 1))
    assert DEGREES.index(more.room) <= DEGREES.index(fewer.room)
    assert fewer.knot_passes or not more.knot_passes


@given(gap=GAPS, ends=st.integers(1, 12), diameter=WIDTHS)
def test_a_knot_passes_where_it_and_the_other_ends_fit(gap, ends, diameter):
    found = dent_room(1 / gap, Fraction(0), ends, diameter)
    assert found.knot_passes == (found.most >= ends - 1 + KNOT_WIDTH)


@given(dents=st.fractions(1, 20, max_denominator=50), share=st.fractions(0, Fraction(9, 10), max_denominator=50))
def test_gap_and_wire_are_the_whole_dent(dents, share):
    wire = share / dents
    assert (dent_gap(dents, wire) + wire) * dents == 1


@pytest.mark.parametrize(
    ("ends", "room"), [(0, "ample"), (5, "ample"), (6, "fair"), (9, "fair"), (10, "tight"), (11, "none")]
)
def test_verdicts_at_their_bounds(ends, room):
    """Ten threads fill the dent; a tenth free is fair, a half ample: common practice, no source."""
    assert dent_room(Fraction(1), Fraction(0), ends, Fraction(1, 10)).room == room


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: dent_gap(Fraction(0), Fraction(0)), "dents"),
        (lambda: dent_gap(Fraction(1), Fraction(-1)), "wire"),
        (lambda: dent_gap(Fraction(5), Fraction(1, 5)), "wire"),
        (lambda: free_share(Fraction(0), 1, Fraction(1)), "gap"),
        (lambda: free_share(Fraction(1), 1, Fraction(0)), "diameter"),
        (lambda: free_share(Fraction(1), -1, Fraction(1)), "ends"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
