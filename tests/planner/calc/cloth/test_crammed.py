"""Crammed and spaced cloth: counted as it lies, against laying it out end by end."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth import colours
from planner.calc.cloth.crammed import (
    FARTHEST,
    Stripes,
    counts_of_repeats,
    counts_that_fill,
    ends_that_fill,
    width_laid,
)
from planner.calc.terms.brief import Layout
from planner.calc.terms.plan import ColourRun

SETTS = {"A": Fraction(20), "B": Fraction(10), "C": Fraction(15, 2)}
"""Ends to the inch of three yarns; widths below are in inches too."""


def stripes(order, layout=Layout.REPEAT):
    runs = tuple(ColourRun(word[-1], int(word[:-1])) for word in order.split())
    return Stripes(runs, tuple(SETTS[run.code] for run in runs), layout)


SIXTIES, TWENTIES = stripes("60A 60B"), stripes("60A 20B")

ANY = st.builds(
    lambda runs, layout: stripes(" ".join(f"{ends}{code}" for code, ends in runs), layout),
    st.lists(st.tuples(st.sampled_from("ABC"), st.integers(1, 12)), min_size=1, max_size=5),
    st.sampled_from([Layout.REPEAT, Layout.CENTRED, Layout.MIRRORED]),
)
INCHES = st.fractions(Fraction(1, 4), 30, max_denominator=20)


def laid_out(found, ends):
    """The width of every single end, added up one by one."""
    runs = colours.fill(found.order, found.layout, ends) if ends else ()
    return sum((1 / SETTS[run.code] for run in runs for _ in range(run.ends)), Fraction(0))


@pytest.mark.parametrize(("order", "wide", "ends"), [
    (SIXTIES, 23, 320), (SIXTIES, 24, 330), (SIXTIES, 18, 240), (TWENTIES, 24, 390), (TWENTIES, 25, 400),
])  # fmt: skip
def test_stripes_that_fill_a_width_by_hand(order, wide, ends):
    """60 A are 3 in, 60 B 6 in: 23 in are 240 ends in 18 in, 60 A in 3 in more and 20 B in 2 in more.

    60 A and 20 B are 5 in: 24 in are 320 ends in 20 in, 60 A in 3 in more and 10 B in 1 in more.
    """
    assert ends_that_fill(Fraction(wide), order) == ends
    assert width_laid(order, ends) == wide


def test_a_mean_sett_would_count_other_ends():
    """120 ends in 9 in are 13 1/3 to the inch, and 23 in of those are 307 ends, by hand only 21.7 in wide."""
    assert round(23 * Fraction(120, 9)) == 307
    assert float(width_laid(SIXTIES, 307)) == 21.7


def test_pairs_and_whole_repeats_are_kept():
    """23 in: 320 ends are even already; two repeats are 18 in and three 27 in, which is nearer by an inch."""
    assert ends_that_fill(Fraction(23), SIXTIES, 2, 2) == 320
    assert ends_that_fill(Fraction(23), SIXTIES, 120, 120) == 360
    assert ends_that_fill(Fraction(22), SIXTIES, 120, 120) == 240


@given(found=ANY, ends=st.integers(0, 200))
def test_the_width_is_that_of_every_end_added_up(found, ends):
    assert width_laid(found, ends) == laid_out(found, ends)


@given(found=ANY, wide=INCHES, step=st.integers(1, 5))
def test_no_other_count_is_nearer_to_the_width(found, wide, step):
    ends = ends_that_fill(wide, found, step, step)
    away = [abs(laid_out(found, count) - wide) for count in (ends - step, ends, ends + step) if count > 0]
    assert ends % step == 0
    assert min(away) == abs(laid_out(found, ends) - wide)


@given(ends=st.integers(1, 400), sett=st.sampled_from(sorted(SETTS.values())), step=st.integers(1, 4))
def test_an_even_warp_is_counted_as_by_its_sett(ends, sett, step):
    """Width times sett, to the nearest and a half upward: the rule for one sett."""
    wide = Fraction(ends, 7)
    even = Stripes((ColourRun("A", 3), ColourRun("B", 4)), (sett, sett))
    by_sett = max(1, int(wide * sett / step + Fraction(1, 2))) * step
    assert ends_that_fill(wide, even, step, step) == by_sett


def test_counts_that_fill_sections_by_hand():
    """384 ends are 23.4 in. 22 in: 20 in and 40 A; 24 in: 23 in and 10 B; on sections of two inches."""
    assert counts_that_fill(TWENTIES, Fraction(2), 384) == ((360, 11), (390, 12))
    assert counts_that_fill(TWENTIES, Fraction(2), 384, 4) == ((360, 11), (420, 13))


@given(found=ANY, ends=st.integers(1, 200), multiple=st.integers(1, 3))
def test_the_counts_offered_are_the_nearest_that_fill_to_a_hair(found, ends, multiple):
    """Against every count within a quarter, tried one by one."""
    within = range(max(1, ends - int(ends * FARTHEST)), ends + int(ends * FARTHEST) + 1)
    whole = [n for n in within if n != ends and n % multiple == 0 and laid_out(found, n) % 2 == 0]
    nearest = [max([n for n in whole if n < ends], default=None), min([n for n in whole if n > ends], default=None)]
    offered = counts_that_fill(found, Fraction(2), ends, multiple)
    assert [count for count, _ in offered] == [n for n in nearest if n is not None]
    assert all(laid_out(found, count) == 2 * places for count, places in offered)


@given(found=ANY, ends=st.integers(10, 200), step=st.integers(1, 30), first=st.integers(1, 30))
def test_the_nearest_repeats_are_among_those_offered(found, ends, step, first):
    within = int(ends * FARTHEST)
    near = [n for n in range(first, 400, step) if n != ends and abs(n - ends) <= within]
    offered = counts_of_repeats(found, ends, first, step, Fraction(2))
    assert set(offered) <= set(near)
    for side in ([n for n in near if n < ends][-1:], [n for n in near if n > ends][:1]):
        assert set(side) <= set(offered)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: width_laid(Stripes((), ()), 3), "runs"),
        (lambda: width_laid(SIXTIES, -1), "ends"),
        (lambda: width_laid(Stripes(SIXTIES.order, (Fraction(1),)), 1), "setts"),
        (lambda: ends_that_fill(Fraction(0), SIXTIES), "width"),
        (lambda: counts_that_fill(SIXTIES, Fraction(0), 1), "pitch"),
        (lambda: counts_of_repeats(SIXTIES, 1, 0, 1), "first"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
