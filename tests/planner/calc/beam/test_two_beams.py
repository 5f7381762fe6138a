"""Which ends lie on this beam, where across cloth and sections, and what unequal take-up asks for."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam.two_beams import (
    NARROW_MARGIN,
    counts_here,
    ends_here,
    places_across,
    span_of,
    stretch_of,
    take_up_needs,
)
from planner.calc.terms.plan import ColourRun

SETTS = {"A": Fraction(24), "B": Fraction(24), "T": Fraction(15)}
PITCH = Fraction(2)
ORDERS = st.lists(st.tuples(st.sampled_from("ABT"), st.integers(1, 60)), min_size=1, max_size=12)


def order(text):
    """Runs from words such as 12 A 12 B."""
    words = text.split()
    return tuple(ColourRun(code, int(ends)) for ends, code in zip(words[::2], words[1::2], strict=True))


def end_by_end(runs):
    return [run.code for run in runs for _ in range(run.ends)]


@given(ORDERS.map(lambda runs: tuple(ColourRun(code, ends) for code, ends in runs)))
def test_both_beams_together_hold_every_end_once(runs):
    here, there = ends_here(runs, {"T"}), ends_here(runs, {"A", "B"})
    assert end_by_end(here) == [code for code in end_by_end(runs) if code != "T"]
    assert sum(run.ends for run in here + there) == len(end_by_end(runs))


@given(ORDERS.map(lambda runs: tuple(ColourRun(code, ends) for code, ends in runs)), st.integers(1, 40))
def test_ends_are_counted_lot_by_lot_as_one_by_one(runs, size):
    codes = end_by_end(runs)
    lots = [codes[at : at + size] for at in range(0, len(codes), size)]
    assert counts_here(runs, [len(lot) for lot in lots], {"T"}) == tuple(
        sum(code != "T" for code in lot) for lot in lots
    )


@given(ORDERS.map(lambda runs: tuple(ColourRun(code, ends) for code, ends in runs)), st.integers(1, 40))
def test_a_lot_reaches_from_its_first_end_to_its_last(runs, size):
    places = [at for at, code in enumerate(end_by_end(runs)) if code != "T"]
    lots = [places[at : at + size] for at in range(0, len(places), size)]
    if lots:
        found = places_across(runs, [len(lot) for lot in lots], {"T"})
        assert found == tuple((lot[0], lot[-1] + 1) for lot in lots)


@pytest.mark.parametrize(
    ("runs", "begins", "stops"),
    [
        ("48 A", 0, 1),
        ("24 A 24 B", 0, Fraction(1, 2)),
        ("24 B 24 A", Fraction(1, 2), 1),
        ("12 B 24 A 12 B", Fraction(1, 4), Fraction(3, 4)),
        ("12 A 24 B 12 A", 0, 1),  # from the first to the last end of this beam
        ("1 A 1 B " * 24, 0, 1),  # alternating ends are spread over the whole section
        ("3 B 1 A 3 B 1 A " * 6, 0, 1),
        ("10 B 28 A 10 B", Fraction(10, 48), Fraction(38, 48)),
    ],
)
def test_ends_lie_over_a_part_of_their_section(runs, begins, stops):
    assert stretch_of(order(runs), SETTS, {"B"}, PITCH) == (begins, stops)


@pytest.mark.parametrize(("margin", "kept_free"), [(6, False), (7, True)])
def test_a_margin_narrower_than_an_eighth_of_the_section_is_nobodys(margin, kept_free):
    assert Fraction(6, 48) == NARROW_MARGIN
    begins, _ = stretch_of(order(f"{margin} B {48 - margin} A"), SETTS, {"B"}, PITCH)
    assert (begins > 0) is kept_free


def test_each_end_takes_the_room_of_its_own_sett():
    """48 thin ends take 2 in, 15 thick ones 1 in: 1 of 3."""
    assert stretch_of(order("48 A 15 T"), SETTS, {"A"}, Fraction(3)) == (Fraction(2, 3), 1)
    assert span_of(order("48 A 15 T"), SETTS, {"A"}) == (2, 3)


@pytest.mark.parametrize(
    ("more", "less", "needs"),
    [
        # "If T takes up 2 % more, it needs 10.8 in more over 15 yd": the trade notes, 9.9
        (Fraction(2, 100), Fraction(0), Fraction("10.8")),
        (Fraction(10, 100), Fraction(10, 100), 0),
        # By hand: 540 in at 10 % weave 486; at 8 % these take 528.26, so 11.74 are left over.
        (Fraction(10, 100), Fraction(8, 100), 540 - 486 / Fraction(92, 100)),
    ],
)
def test_what_takes_up_more_needs_more_warp(more, less, needs):
    assert take_up_needs(Fraction(540), more, less) == needs


@pytest.mark.parametrize(
    ("ask", "named"),
    [
        (lambda: counts_here(order("4 A"), [5], set()), "lots"),
        (lambda: places_across(order("4 A"), [3], set()), "lots"),
        (lambda: places_across(order("4 A"), [4, 0], set()), "lots"),
        (lambda: span_of(order("4 A"), SETTS, {"A"}), "runs"),
        (lambda: stretch_of(order("4 A"), SETTS, set(), Fraction(0)), "pitch"),
        (lambda: take_up_needs(Fraction(-1), Fraction(0), Fraction(0)), "length"),
        (lambda: take_up_needs(Fraction(1), Fraction(0), Fraction(1, 10)), "less"),
    ],
)
def test_misuse_is_named(ask, named):
    with pytest.raises(ValueError, match=named):
        ask()
