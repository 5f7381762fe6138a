"""Sleying by sections: every end in one dent, in order, and a dent on the border of two sections told by both."""

from fractions import Fraction
from itertools import accumulate, cycle, pairwise
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.warp_width import width_of_ends
from planner.calc.reed.reed import sley_orders, sley_sett
from planner.calc.reed.sley_guide import sley_guide, sley_guide_of_stripes

SECTIONS = st.lists(st.integers(0, 60), min_size=1, max_size=15)
SLEYS = st.lists(st.integers(0, 4), min_size=1, max_size=8).filter(any).map(tuple)
SETTS = st.fractions(Fraction(1, 4), 5, max_denominator=9)
"""Ends in a dent, on the mean."""


@given(sley=SLEYS, sections=SECTIONS, start=st.integers(1, 300))
def test_each_dent_holds_what_the_order_says(sley, sections, start):
    """Read against the order laid end by end: brute force."""
    dent_of_end = [
        dent for dent, ends in zip(range(sum(sections) * 9 + 9), cycle(sley), strict=False) for _ in range(ends)
    ]
    at = 0
    for part in sley_guide(sley, sections, start):
        dents = [start + dent for dent in dent_of_end[at : at + sections[part.number - 1]]]
        assert (part.first_dent, part.last_dent) == (dents[0], dents[-1])
        assert list(part.in_dents) == [dents.count(dent) for dent in range(dents[0], dents[-1] + 1)]
        assert part.shares_first == (at > 0 and dent_of_end[at - 1] + start == dents[0])
        at += len(dents)


@given(sley=SLEYS, repeats=st.integers(1, 50), dents=st.fractions(1, 10, max_denominator=10))
def test_whole_repeats_take_the_dents_of_their_width(sley, repeats, dents):
    ends = sum(sley) * repeats
    guide = sley_guide(sley, [ends], 1)
    empty = len(sley) - max(dent for dent, held in enumerate(sley, start=1) if held)  # after the last end
    assert width_of_ends(ends, sley_sett(dents, sley)) == Fraction(guide[0].last_dent + empty) / dents


@given(sley=SLEYS, sections=SECTIONS)
def test_neighbours_tell_of_the_same_dent(sley, sections):
    guide = sley_guide(sley, sections, 1)
    for one, other in pairwise(guide):
        assert one.shares_last == other.shares_first == (one.last_dent == other.first_dent)
    assert not any(part.shares_first for part in guide[:1])
    assert not any(part.shares_last for part in guide[-1:])


@given(sley=SLEYS, sections=SECTIONS)
def test_dents_are_told_in_few_words_however_many_they_are(sley, sections):
    for part in sley_guide(sley, sections, 1):
        assert len(part.runs) <= 3
        assert all(run.in_dents == sley for run in part.runs if run.times > 1)


def test_twenty_ends_that_begin_inside_an_order_of_three_dents():
    """Order 1-2-2, sections of 13 and 20 ends, from dent 40, counted by hand.

    Two repeats hold 10 ends in 6 dents. The other 3 ends of the first section fill dents 46 (one) and 47 (two). The
    second begins in dent 48 with the two that end the repeat; three repeats hold 15 in dents 49 to 57; the last 3 ends
    lie one in dent 58, two in dent 59.
    """
    first, second = sley_guide((1, 2, 2), (13, 20), 40)
    assert (first.first_dent, first.last_dent, first.in_dents) == (40, 47, (1, 2, 2, 1, 2, 2, 1, 2))
    assert (second.first_dent, second.last_dent) == (48, 59)
    assert [(run.times, run.in_dents) for run in second.runs] == [(1, (2,)), (3, (1, 2, 2)), (1, (1, 2))]
    assert not second.shares_first


ORDERS = SETTS.map(lambda each: sley_orders(Fraction(1), each)[-1:]).filter(bool)
STRIPES = st.lists(st.tuples(st.integers(1, 40), ORDERS.map(lambda orders: orders[0])), min_size=1, max_size=8)


@given(ends=st.integers(1, 300), each=SETTS, at=st.integers(0, 300))
def test_one_stripe_is_sleyed_as_an_even_warp(ends, each, at):
    """The orders that reeds are ranked by are even, so both ways must agree, dent for dent."""
    cut = min(at, ends)
    for order in sley_orders(Fraction(1), each):
        even = sley_guide(order, (cut, ends - cut), 7)
        striped = sley_guide_of_stripes([(ends, order)], (cut, ends - cut), 7)
        assert [(p.first_dent, p.last_dent, p.in_dents, p.shares_first, p.shares_last) for p in even] == [
            (p.first_dent, p.last_dent, p.in_dents, p.shares_first, p.shares_last) for p in striped
        ]


@given(stripes=STRIPES, at=st.integers(0, 320))
def test_stripes_take_the_dents_of_their_width_and_no_end_is_lost(stripes, at):
    ends = sum(held for held, _ in stripes)
    cut = min(at, ends)
    guide = sley_guide_of_stripes(stripes, (cut, ends - cut), 1)
    width = sum(held / sley_sett(Fraction(1), order) for held, order in stripes)
    assert guide[-1].last_dent == ceil(width)
    assert [sum(part.in_dents) for part in guide] == [part for part in (cut, ends - cut) if part]


@given(stripes=STRIPES)
def test_each_end_lies_in_the_dent_where_its_room_ends(stripes):
    """Laid out end by end, in fractions of a dent."""
    rooms = [Fraction(len(order), sum(order)) for held, order in stripes for _ in range(held)]
    dents = [ceil(edge) for edge in accumulate(rooms)]
    (part,) = sley_guide_of_stripes(stripes, (len(dents),), 1)
    assert list(part.in_dents) == [dents.count(dent) for dent in range(dents[0], dents[-1] + 1)]


def test_thick_and_thin_in_turn_share_dents_as_their_room_asks():
    """Three thin ends, two in a dent, and one thick end alone, twice over: counted by hand.

    Edges of the ends in dents: 0.5, 1, 1.5 | 2.5 | 3, 3.5, 4 | 5. So dents 1 to 5 hold 2, 1, 2, 2 and 1 ends, five
    dents for eight ends; were each stripe begun in a dent of its own, it would be six.
    """
    (part,) = sley_guide_of_stripes([(3, (2,)), (1, (1,))] * 2, (8,), 1)
    assert part.in_dents == (2, 1, 2, 2, 1)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: sley_guide((), (1,), 1), "sley"),
        (lambda: sley_guide((0,), (1,), 1), "sley"),
        (lambda: sley_guide((2,), (-1,), 1), "sections"),
        (lambda: sley_guide((2,), (1,), 0), "start_dent"),
        (lambda: sley_guide_of_stripes([(2, ())], (2,), 1), "stripes"),
        (lambda: sley_guide_of_stripes([(2, (0,))], (2,), 1), "stripes"),
        (lambda: sley_guide_of_stripes([(0, (2,))], (0,), 1), "stripes"),
        (lambda: sley_guide_of_stripes([(2, (2,))], (3,), 1), "sections"),
        (lambda: sley_guide_of_stripes([(2, (2,))], (3, -1), 1), "sections"),
        (lambda: sley_guide_of_stripes([(2, (2,))], (2,), 0), "start_dent"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
