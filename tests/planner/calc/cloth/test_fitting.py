"""Widths that fit better: the fourth and eighth worked projects, then every count near by tried."""

from fractions import Fraction
from math import lcm

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth import fitting
from planner.calc.cloth.fitting import Count

SECTIONS = st.fractions(1, 60, max_denominator=4)


@pytest.mark.parametrize(
    ("repeat", "section", "layouts"),
    [
        (30, 24, 5),  # the studio's fourth worked project
        (24, 24, 1),  # 12 A, 7 B, 5 C, offered there instead
        (12, 24, 1),
        (48, 24, 2),
        (15, Fraction(15, 2), 2),
        (7, 24, 7),
    ],
)
def test_layouts_of_a_repeat(repeat, section, layouts):
    assert fitting.layouts_of_repeat(repeat, Fraction(section)) == layouts


@given(repeat=st.integers(1, 60), section=st.integers(1, 60))
def test_layouts_by_the_trades_formula(repeat, section):
    """The studio's trade notes, 3.3: every lcm(r, e) / e sections."""
    assert fitting.layouts_of_repeat(repeat, Fraction(section)) == lcm(repeat, section) // section


@given(repeat=st.integers(1, 40), section=st.integers(1, 40))
def test_layouts_are_the_different_cuts_of_an_endless_order(repeat, section):
    """Brute force: number the ends of a repeat and cut sections until they have all been seen."""
    cuts = {tuple((start + end) % repeat for end in range(section)) for start in range(0, section * repeat, section)}
    assert fitting.layouts_of_repeat(repeat, Fraction(section)) == len(cuts)


@given(repeat=st.integers(1, 60), section=st.integers(1, 60))
def test_nearest_repeat_of_one_layout(repeat, section):
    found = fitting.repeat_of_one_layout(repeat, Fraction(section))
    alike = [number for number in range(1, section + 1) if fitting.layouts_of_repeat(number, Fraction(section)) == 1]
    assert found in alike
    assert abs(found - repeat) == min(abs(number - repeat) for number in alike)


def test_no_repeat_makes_sections_of_half_ends_alike():
    assert fitting.repeat_of_one_layout(15, Fraction(15, 2)) == 0


def test_rugs_are_told_of_five_layouts_and_of_24_ends():
    found = fitting.repeat_layouts(30, Fraction(24))
    assert (found.layouts, found.one_layout) == (5, 24)


def test_partial_edges_would_fill_with_576_or_624():
    """The studio's eighth worked project: 24 in, 576 ends; 26 in, 624 ends."""
    found = fitting.better_counts(Count(600, sections_full=False, repeats_whole=False), Fraction(48), 0, 0)
    assert [count.ends for count in found] == [576, 624]


def test_a_count_that_fits_both_stays_even_if_others_are_nearer():
    """Sections of 24, repeat of 30: 360 is full and whole, 380 neither; 384, 390 and 360 are near."""
    found = fitting.better_counts(Count(385, sections_full=False, repeats_whole=False), Fraction(24), 30, 0)
    assert [(count.ends, count.sections_full, count.repeats_whole) for count in found] == [
        (384, True, False), (390, False, True), (360, True, True),
    ]  # fmt: skip


def test_nothing_is_offered_where_all_fits():
    assert fitting.better_counts(Count(360, sections_full=True, repeats_whole=True), Fraction(24), 30, 0) == ()


def test_full_sections_are_not_given_up_for_whole_repeats():
    found = fitting.better_counts(Count(384, sections_full=True, repeats_whole=False), Fraction(24), 30, 0)
    assert [count.ends for count in found] == [360, 480]


def test_pairs_are_kept():
    found = fitting.better_counts(Count(100, sections_full=False, repeats_whole=False), None, 9, 4, 2)
    assert [count.ends for count in found] == [94, 112]


@given(
    ends=st.integers(1, 800),
    section=st.none() | SECTIONS,
    repeat=st.integers(0, 40),
    balance=st.integers(0, 12),
    multiple=st.integers(1, 4),
)
def test_nearest_of_each_wish_is_among_them(ends, section, repeat, balance, multiple):
    """Brute force over every count within reach."""
    planned = Count(ends, sections_full=False, repeats_whole=False)
    found = fitting.better_counts(planned, section, repeat, balance, multiple)
    reach = [count for count in range(max(1, ends - ends // 4), ends + ends // 4 + 1) if count % multiple == 0]

    def full(count):
        return section is not None and (count / section).denominator == 1

    def whole(count):
        return repeat > 0 and count >= repeat + balance and (count - balance) % repeat == 0

    fitting_ones = [count for count in reach if count != ends and (full(count) or whole(count))]
    assert {count.ends for count in found} <= set(fitting_ones)
    assert all((count.sections_full, count.repeats_whole) == (full(count.ends), whole(count.ends)) for count in found)
    if fitting_ones:
        assert min(abs(count.ends - ends) for count in found) == min(abs(count - ends) for count in fitting_ones)
    if any(full(count) and whole(count) for count in fitting_ones):
        assert any(count.sections_full and count.repeats_whole for count in found)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: fitting.layouts_of_repeat(0, Fraction(24)), "repeat"),
        (lambda: fitting.repeat_of_one_layout(30, Fraction(0)), "section"),
        (lambda: fitting.better_counts(Count(9, False, False), Fraction(0), 0, 0), "section"),  # noqa: FBT003
        (lambda: fitting.better_counts(Count(9, False, False), None, -1, 0), "repeat"),  # noqa: FBT003
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
