"""Ends shared among sections: the total is exact, and no end lies far from its place."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import sections
from planner.calc.terms.plan import ColourRun
from tests.planner.worked_projects import IN, inches, per_inch

WIDTHS = st.fractions(min_value=Fraction(1, 2), max_value=300, max_denominator=1000)
PITCHES = st.fractions(min_value=1, max_value=20, max_denominator=1000)
SETTS = st.fractions(min_value=Fraction(1, 2), max_value=40, max_denominator=1000)
SHIFTS = st.fractions(min_value=-10, max_value=10, max_denominator=100)


def about_a_divider(width, pitch):
    return sections.boundaries(inches(width), inches(pitch))


def test_one_inch_sections_take_thirty_ends_at_thirty_to_the_inch():
    """T. Vogl, How to calculate yards per spool when warping in sections (2001): 30 packages."""
    assert sections.ends_per_section(per_inch(30), inches(1)) == 30


def test_two_inch_sections_take_sixty_ends_at_thirty_to_the_inch():
    """T. Vogl, as above: 60 packages."""
    assert sections.ends_per_section(per_inch(30), inches(2)) == 60


def test_seven_and_a_half_to_the_inch_alternate():
    bounds = about_a_divider(36, 1)
    assert sections.share_ends(bounds, per_inch("7.5"), 270) == (8, 7) * 18


def test_edges_are_alike_about_a_divider():
    bounds = about_a_divider(25, 2)
    assert sections.share_ends(bounds, per_inch(24), 600) == (12, *[48] * 12, 12)


def test_a_warp_moved_sideways_keeps_its_width():
    bounds = sections.boundaries(inches(25), inches(2), shift=inches("0.5"))
    assert [share for share in sections.filled_shares(bounds, inches(2)) if share < 1] == [Fraction(1, 2)]


def test_a_warp_moved_right_has_its_partial_section_at_the_right():
    bounds = sections.boundaries(inches(25), inches(2), shift=inches("0.5"))
    assert sections.filled_shares(bounds, inches(2))[-1] == Fraction(1, 2)


def test_a_section_at_the_centre_moves_the_dividers_by_half():
    at_divider = sections.boundaries(Fraction(80), Fraction(5))
    at_section = sections.boundaries(Fraction(80), Fraction(5), section_at_centre=True)
    assert (at_divider[1], at_section[1]) == (5, Fraction(5, 2))


@pytest.mark.parametrize(
    ("width", "section_at_centre", "shift", "position"),
    [
        (24, False, 0, 10),
        (24, False, 2, 11),
        (24, False, -2, 9),
        (60, False, 0, 1),
        (62, False, 0, 0),
        (26, True, 0, 10),
    ],
)
def test_first_position_seen_from_the_seat(width, section_at_centre, shift, position):
    """Thirty sections of two inches (thirty-one about a section); counted on a drawing."""
    held = 31 if section_at_centre else 30
    found = sections.first_position(
        inches(width), inches(2), held, section_at_centre=section_at_centre, shift=inches(shift)
    )
    assert found == position


def test_first_and_last_change_places_from_the_back():
    assert [sections.position_from_back(place, 16) for place in (1, 16)] == [16, 1]


def test_seeing_from_the_back_twice_is_seeing_from_the_seat():
    seen = [sections.position_from_back(sections.position_from_back(place, 30), 30) for place in range(1, 31)]
    assert seen == list(range(1, 31))


def test_own_setts_fill_their_own_sections():
    order = [ColourRun("N", 96), ColourRun("T", 30)] * 4
    setts = [per_inch(24), per_inch(15)] * 4
    assert sections.share_runs(about_a_divider(24, 2), order, setts) == (48, 48, 30) * 4


def test_nearest_widths_that_fill_whole_sections_about_a_section():
    found = sections.width_of_full_sections(inches(25), inches(2), section_at_centre=True)
    assert [width / IN for width in found] == [22, 26]


@given(width=WIDTHS, pitch=PITCHES, sett=SETTS, shift=SHIFTS, at_section=st.booleans())
def test_the_total_is_exact(width, pitch, sett, shift, at_section):
    ends = max(1, round(width * sett))
    bounds = sections.boundaries(ends / sett, pitch, section_at_centre=at_section, shift=shift)
    shares = sections.share_ends(bounds, sett, ends)
    assert sum(shares) == ends
    assert min(shares) >= 0


@given(width=WIDTHS, pitch=PITCHES, sett=SETTS)
def test_no_boundary_lies_more_than_half_an_end_from_its_place(width, pitch, sett):
    ends = max(1, round(width * sett))
    bounds = sections.boundaries(ends / sett, pitch)
    before = 0
    for place, share in zip(bounds[1:], sections.share_ends(bounds, sett, ends), strict=True):
        before += share
        assert abs(before - place * sett) <= Fraction(1, 2)


@given(width=WIDTHS, pitch=PITCHES, sett=SETTS, cut=st.integers(1, 50))
def test_runs_of_one_sett_are_shared_like_an_even_warp(width, pitch, sett, cut):
    ends = max(2, round(width * sett))
    first = min(cut, ends - 1)
    runs = [ColourRun("A", first), ColourRun("B", ends - first)]
    bounds = sections.boundaries(ends / sett, pitch)
    assert sections.share_runs(bounds, runs, [sett, sett]) == sections.share_ends(bounds, sett, ends)


@given(width=WIDTHS, pitch=PITCHES, shift=SHIFTS, at_section=st.booleans())
def test_no_stretch_is_wider_than_a_section(width, pitch, shift, at_section):
    bounds = sections.boundaries(width, pitch, section_at_centre=at_section, shift=shift)
    assert all(0 < right - left <= pitch for left, right in pairwise(bounds))


@given(width=WIDTHS, pitch=PITCHES, sett=SETTS)
def test_an_unmoved_warp_lies_the_same_from_both_sides(width, pitch, sett):
    filled = sections.filled_shares(sections.boundaries(width, pitch), pitch)
    assert filled == filled[::-1]
    assert sum(filled) * pitch == width


@given(ends=st.integers(2, 400), sett=SETTS, pitch=PITCHES, times=st.fractions(Fraction(1, 9), 9, max_denominator=50))
def test_shares_do_not_depend_on_the_unit(ends, sett, pitch, times):
    here = sections.share_ends(sections.boundaries(ends / sett, pitch), sett, ends)
    there = sections.share_ends(sections.boundaries(times * ends / sett, times * pitch), sett / times, ends)
    assert here == there


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: sections.round_half_up(Fraction(-1)), "number"),
        (lambda: sections.ends_per_section(Fraction(0), Fraction(1)), "sett"),
        (lambda: sections.boundaries(Fraction(0), Fraction(1)), "width"),
        (
            lambda: sections.first_position(Fraction(1), Fraction(1), 0, section_at_centre=False, shift=Fraction(0)),
            "sections",
        ),
        (lambda: sections.position_from_back(1, 0), "sections"),
        (lambda: sections.share_ends([Fraction(0)], Fraction(1), 1), "bounds"),
        (lambda: sections.share_runs([Fraction(0), Fraction(1)], [ColourRun("A", 1)], []), "runs"),
        (lambda: sections.filled_shares([], Fraction(0)), "pitch"),
        (lambda: sections.width_of_full_sections(Fraction(0), Fraction(1), section_at_centre=True), "width"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
