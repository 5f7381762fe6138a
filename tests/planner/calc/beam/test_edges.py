"""Partial edges: the five choices of the studio's trade notes (2.7), with the numbers of its eighth worked project."""

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import edges, sections
from planner.calc.beam import turns as beam
from planner.calc.beam.edges import Lying
from planner.calc.terms.plan import EdgeKind

EIGHTH = Lying(600, Fraction(25), Fraction(2))
"""Project 8 in inches: 8/2 at 24 to the inch, 25 in on two-inch sections, a divider at the centre."""

DEPTH = 24 * 496055 / 3360 * 1e-5 / 0.45 / 2.54**2
"""Depth of one of its turns in inches, by the trade notes' own figures."""

BUILD_UP = beam.mismatch(20, DEPTH, 0, 36)


def choices(warp=EIGHTH, build_up=BUILD_UP):
    return {choice.kind: choice for choice in edges.edge_choices(warp, build_up)}


def test_a_quarter_of_a_section_lies_at_each_edge():
    assert edges.parts_at_edges(EIGHTH) == (Fraction(1, 4), Fraction(1, 4))


@pytest.mark.parametrize(
    ("kind", "ends", "width", "count", "shift"),
    [
        (EdgeKind.FEWER, 576, 24, 12, 0),
        (EdgeKind.MORE, 624, 26, 13, 1),
        (EdgeKind.SETT, 600, 24, 12, 0),
        (EdgeKind.SHIFT, 600, 25, 13, Fraction(1, 2)),
        (EdgeKind.DUMMY, 600, 25, 14, 0),
        (EdgeKind.PACKED, 600, 25, 14, 0),
        (EdgeKind.SPREAD, 600, 25, 14, 0),
    ],
)
def test_eighth_project(kind, ends, width, count, shift):
    found = choices()[kind]
    assert (found.ends, found.width, found.sections, found.shift) == (ends, width, count, shift)


def test_eighth_project_moved_has_one_half_section_of_24():
    assert choices()[EdgeKind.SHIFT].edge_ends == (48, 24)


def test_eighth_project_takes_36_dummy_ends_on_each_side():
    assert choices()[EdgeKind.DUMMY].dummy_ends == 72


def test_eighth_project_filled_by_another_sett():
    assert choices()[EdgeKind.SETT].setts == (25,)


def test_eighth_project_spread_comes_out_eleven_and_a_half_inches_short():
    """Printed there: 20.43 against 20.11 yd, 11.5 in, 1.6 %."""
    found = choices()[EdgeKind.SPREAD]
    assert (round(found.shorter, 1), round(100 * found.share, 1)) == (11.5, 1.6)


def test_half_a_section_spread_costs_two_thirds_of_a_quarter_spread():
    found = choices()
    assert found[EdgeKind.SHIFT].shorter == pytest.approx(found[EdgeKind.SPREAD].shorter * 2 / 3)


def test_what_is_filled_or_packed_comes_out_as_long_as_the_rest():
    level = {kind for kind, choice in choices().items() if not choice.shorter}
    assert level == {EdgeKind.FEWER, EdgeKind.MORE, EdgeKind.SETT, EdgeKind.DUMMY, EdgeKind.PACKED}


def test_spread_by_the_length_of_a_roll():
    """The edge as a roll of its own: T (C0 + pi b T) with a quarter of the depth."""
    full, spread = (20 * (36 + pi * depth * 20) for depth in (DEPTH, DEPTH / 4))
    assert choices()[EdgeKind.SPREAD].shorter == pytest.approx(full - spread)


def test_nothing_to_choose_where_sections_are_full():
    assert edges.edge_choices(Lying(480, Fraction(24), Fraction(2)), BUILD_UP) == ()


def test_one_partial_side_cannot_be_moved_away():
    assert EdgeKind.SHIFT not in choices(replace(EIGHTH, shift=Fraction(1, 2)))


def test_thirteen_full_sections_half_a_section_off_are_only_moved():
    found = choices(Lying(624, Fraction(26), Fraction(2)))
    assert EdgeKind.FEWER not in found
    assert (found[EdgeKind.SHIFT].shift, found[EdgeKind.SHIFT].sections, found[EdgeKind.SHIFT].shorter) == (1, 13, 0)


def test_a_warp_in_one_section_has_one_edge():
    found = choices(Lying(24, Fraction(1), Fraction(2), section_at_centre=True))
    assert (found[EdgeKind.PACKED].sections, found[EdgeKind.DUMMY].dummy_ends) == (1, 24)
    assert EdgeKind.FEWER not in found


@pytest.mark.parametrize(
    ("count", "at_centre", "shift"), [(12, False, 0), (13, False, 1), (13, True, 0), (12, True, 1)]
)
def test_whole_sections_lie_about_the_middle_or_half_a_section_off(count, at_centre, shift):
    assert edges.shift_that_fills(count, Fraction(2), section_at_centre=at_centre) == shift


LYING = st.builds(
    Lying,
    st.integers(1, 900),
    st.fractions(Fraction(1, 4), 60, max_denominator=16),
    st.sampled_from([Fraction(1), Fraction(2), Fraction(5, 2)]),
    st.booleans(),
    st.fractions(-5, 5, max_denominator=8),
)


@given(warp=LYING)
def test_edges_are_those_of_the_section_table(warp):
    bounds = sections.boundaries(warp.width, warp.pitch, section_at_centre=warp.section_at_centre, shift=warp.shift)
    filled = sections.filled_shares(bounds, warp.pitch)
    left, right = edges.parts_at_edges(warp)
    expected = (filled[0] % 1, filled[-1] % 1 if len(filled) > 1 else 0)
    assert (left, right) == expected or (len(filled) == 1 and left + right == filled[0])


@given(warp=LYING)
def test_no_choice_loses_an_end_or_comes_out_longer_than_full(warp):
    for choice in edges.edge_choices(warp, (10.0, 0.01)):
        kept = choice.kind in {EdgeKind.FEWER, EdgeKind.MORE} or choice.ends == warp.ends
        assert kept
        assert 0 <= choice.shorter < 10
        assert choice.sections >= 1
        assert choice.dummy_ends >= 0


@given(warp=LYING)
def test_widths_that_fill_are_whole_sections_and_lie_on_dividers(warp):
    for choice in edges.edge_choices(warp, (10.0, 0.01)):
        if choice.kind in {EdgeKind.FEWER, EdgeKind.MORE, EdgeKind.SETT}:
            assert choice.width == choice.sections * warp.pitch
            moved = replace(warp, width=choice.width, shift=choice.shift)
            assert edges.parts_at_edges(moved) == (0, 0)


@pytest.mark.parametrize(
    ("wide", "at_centre", "now", "shift"),
    [
        ("25", False, "0", "1/2"), ("30.5", False, "0", "3/4"), ("26", False, "0", "1"), ("25.33", True, "0", "0.335"),
        ("30.5", False, "0.25", "3/4"), ("30.5", False, "-0.25", "-3/4"), ("25", False, "1", "1/2"),
    ],
)  # fmt: skip
def test_a_warp_is_moved_by_the_less_of_going_back_to_a_divider_and_going_on_to_one(wide, at_centre, now, shift):
    """By hand on two-inch sections. 30.5 in: 15.25 a side are 7 sections and 1.25 in, so 0.75 more reach a divider.

    25.33 in about a middle section: 11.665 beyond it are 5 sections and 1.665 in, so 0.335 in more.
    """
    warp = Lying(600, Fraction(wide), Fraction(2), section_at_centre=at_centre, shift=Fraction(now))
    assert edges.least_shift(warp) == Fraction(shift)


@pytest.mark.parametrize(("wide", "shift"), [("24", "0"), ("25", "1/2"), ("30.5", "-3/4"), ("1", "1/2")])
def test_one_partial_side_or_none_asks_for_no_move(wide, shift):
    assert edges.least_shift(Lying(600, Fraction(wide), Fraction(2), shift=Fraction(shift))) is None


@given(warp=LYING)
def test_moving_leaves_at_most_one_partial_side_and_goes_no_farther_than_half_a_section(warp):
    for choice in edges.edge_choices(warp, (10.0, 0.01)):
        if choice.kind is EdgeKind.SHIFT:
            assert 0 in edges.parts_at_edges(replace(warp, shift=choice.shift))
            far = abs(warp.shift) > warp.pitch / 2
            assert abs(choice.shift - warp.shift if far or not warp.shift else choice.shift) <= warp.pitch / 2


@given(warp=LYING, tried=st.fractions(-1, 1, max_denominator=64))
def test_no_shorter_move_than_the_one_told_leaves_one_side_partial(warp, tried):
    """Against moves tried at random: none as near to the middle does with less."""
    found = edges.least_shift(warp)
    moved = warp.shift + tried * warp.pitch
    if found is not None and (abs(moved) <= warp.pitch / 2 or abs(warp.shift) > warp.pitch / 2):
        assert 0 not in edges.parts_at_edges(replace(warp, shift=moved)) or (
            abs(moved - warp.shift) >= abs(found - warp.shift)
        )


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: edges.shift_that_fills(0, Fraction(2), section_at_centre=False), "sections"),
        (lambda: edges.parts_at_edges(Lying(0, Fraction(2), Fraction(2))), "ends"),
        (lambda: edges.edge_choices(Lying(1, Fraction(2), Fraction(0)), (0.0, 0.0)), "pitch"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
