"""Colour orders: filled to the last end, cut into sections, and counted."""

from fractions import Fraction
from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.colours import counts, cut, cut_many, fill, merged, total
from planner.calc.terms.brief import Layout
from planner.calc.terms.plan import ColourRun

RUGS = (ColourRun("A", 15), ColourRun("B", 9), ColourRun("C", 6))
RUNS = st.builds(ColourRun, st.sampled_from("ABCD"), st.integers(1, 40))
ORDERS = st.lists(RUNS, min_size=1, max_size=12).map(tuple)
LAYOUTS = st.sampled_from([Layout.REPEAT, Layout.CENTRED, Layout.MIRRORED])


def words(runs):
    return " ".join(f"{run.code}{run.ends}" for run in runs)


def end_by_end(runs):
    return [run.code for run in runs for _ in range(run.ends)]


TOTALS = [
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., reeding plan, online-text p. 221
    pytest.param((48, 18, 5), "71", "0.01", id="T01"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., Fig. 221, online-text p. 166
    pytest.param((20, 16), "36", "0.01", id="T11"),
    # Weaving from Paradise blog, Warp 46 design and planning (May 2024)
    pytest.param((80, 1072, 80), "1232", "0.01", id="P24"),
]


@pytest.mark.parametrize(("stripes", "expected", "tolerance"), TOTALS)
def test_stripes_add_up_to_the_printed_pattern(stripes, expected, tolerance):
    found = total(ColourRun(str(at), ends) for at, ends in enumerate(stripes))
    assert abs(found - Fraction(expected)) <= Fraction(tolerance)


def test_five_rugs_fall_into_the_five_layouts_worked_by_hand():
    """Worked by hand: stripes of 15, 9 and 6 over sections of 24 come round again after five."""
    pieces = cut_many(fill(RUGS, Layout.REPEAT, 360), range(0, 361, 24))
    by_hand = ["A15 B9", "C6 A15 B3", "B6 C6 A12", "A3 B9 C6 A6", "A9 B9 C6"]
    assert [words(piece) for piece in pieces] == by_hand * 3


def test_five_rugs_take_the_ends_worked_by_hand():
    """Worked by hand: twelve repeats, A 180, B 108, C 72."""
    assert counts(fill(RUGS, Layout.REPEAT, 360)) == {"A": 180, "B": 108, "C": 72}


@pytest.mark.parametrize(
    ("layout", "ends", "wanted"),
    [
        (Layout.REPEAT, 45, "A15 B9 C6 A15"),
        (Layout.REPEAT, 20, "A15 B5"),
        (Layout.CENTRED, 60, "A15 B9 C6 A15 B9 C6"),
        (Layout.CENTRED, 40, "C5 A15 B9 C6 A5"),
        (Layout.CENTRED, 41, "C5 A15 B9 C6 A6"),
        (Layout.MIRRORED, 45, "A15 B15 A15"),
        (Layout.MIRRORED, 60, "A15 B9 C12 B9 A15"),
        (Layout.AS_TYPED, 30, "A15 B9 C6"),
    ],
)
def test_a_layout_fills_the_warp_as_its_name_says(layout, ends, wanted):
    assert words(fill(RUGS, layout, ends)) == wanted


@given(order=ORDERS, layout=LAYOUTS, ends=st.integers(1, 400))
def test_a_filled_warp_holds_exactly_its_ends(order, layout, ends):
    assert total(fill(order, layout, ends)) == ends


@given(order=ORDERS, ends=st.integers(1, 400))
def test_a_mirrored_warp_reads_the_same_from_both_sides(order, ends):
    runs = fill(order, Layout.MIRRORED, ends)
    assert runs == runs[::-1]


@given(order=ORDERS, half=st.integers(1, 200))
def test_a_centred_warp_of_an_even_order_reads_the_same_from_both_sides(order, half):
    palindrome = (*order, *order[::-1])
    runs = fill(palindrome, Layout.CENTRED, 2 * half)
    assert runs == runs[::-1]


@given(order=ORDERS, layout=LAYOUTS, ends=st.integers(1, 400))
def test_neighbouring_runs_always_differ(order, layout, ends):
    runs = fill(order, layout, ends)
    assert all(one.code != other.code for one, other in pairwise(runs))


@given(order=ORDERS, sizes=st.lists(st.integers(0, 30), min_size=1, max_size=20))
def test_pieces_join_to_the_whole(order, sizes):
    bounds = tuple(accumulate(sizes, initial=0))
    runs = fill(order, Layout.REPEAT, max(1, bounds[-1]))
    pieces = cut_many(runs, bounds)
    assert [total(piece) for piece in pieces] == sizes
    assert merged(run for piece in pieces for run in piece) == cut(runs, 0, bounds[-1])


@given(order=ORDERS, data=st.data())
def test_a_part_is_what_counting_end_by_end_gives(order, data):
    stop = data.draw(st.integers(0, total(order)))
    start = data.draw(st.integers(0, stop))
    assert end_by_end(cut(order, start, stop)) == end_by_end(order)[start:stop]


@given(order=ORDERS)
def test_merging_changes_no_end(order):
    assert end_by_end(merged(order)) == end_by_end(order)


class CountedRuns(list):
    """Runs that count how often one of them is looked at."""

    reads = 0

    def __getitem__(self, at):
        self.reads += 1
        return super().__getitem__(at)


def test_the_fullest_warp_is_cut_in_one_pass():
    """Three looks at each run at most, and a few at each bound; starting over at each bound would take millions."""
    runs = CountedRuns(ColourRun("AB"[at % 2], 1) for at in range(20_000))
    cut_many(runs, range(0, 20_001, 50))
    assert runs.reads <= 3 * 20_000 + 3 * 400


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: fill((), Layout.REPEAT, 4), "order"),
        (lambda: fill(RUGS, Layout.REPEAT, 0), "ends"),
        (lambda: fill(RUGS, Layout.AS_TYPED, 31), "order"),
        (lambda: cut_many(RUGS, (0, 31)), "bounds"),
        (lambda: cut_many(RUGS, (-1, 30)), "bounds"),
        (lambda: cut_many(RUGS, (0, 20, 10)), "bounds"),
        (lambda: merged([ColourRun("A", -1)]), "runs"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
