"""Threading and sleying by sections: every end once, in order, with totals that agree with the whole."""

from fractions import Fraction
from itertools import cycle, islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.brief_fields import pointed
from planner.calc.reed import sley_sett
from planner.calc.threading import heddles_per_shaft
from planner.calc.threading_guide import blocks, broken, lace, point, sley_guide, spare_heddles, threading_guide
from planner.calc.warp_width import width_of_ends
from planner.calc.weave import count_weave, drawdown

DRAFTS = st.lists(st.integers(1, 8), min_size=1, max_size=24).map(tuple)
SECTIONS = st.lists(st.integers(0, 60), min_size=1, max_size=15)
SLEYS = st.lists(st.integers(0, 4), min_size=1, max_size=8).filter(any).map(tuple)
BALANCED_TWILL = [(1, 2), (2, 3), (3, 4), (4, 1)]


@pytest.mark.parametrize("shafts", range(2, 33))
def test_the_point_is_the_one_a_brief_reads(shafts):
    assert point(shafts) == pointed(shafts)


@pytest.mark.parametrize("shafts", range(4, 33, 2))
def test_a_broken_draw_loads_every_shaft_twice(shafts):
    assert heddles_per_shaft(broken(shafts), 2 * shafts, shafts) == (2,) * shafts


def test_a_broken_draw_has_no_longer_float_than_its_twill_and_a_point_has():
    floats = [count_weave(drawdown(draft, BALANCED_TWILL)).weft_float for draft in (broken(4), point(4))]
    assert floats == [2, 3]


@pytest.mark.parametrize("shafts", range(3, 17))
def test_half_of_a_lace_draw_hangs_on_the_front_shaft(shafts):
    draft = lace(shafts)
    assert heddles_per_shaft(draft, len(draft), shafts)[0] * 2 == len(draft) == 6 * (shafts - 2)


@given(draft=DRAFTS, sections=SECTIONS)
def test_the_guide_is_the_whole_threading_cut_into_sections(draft, sections):
    guide = threading_guide(draft, sections, 8)
    whole = tuple(shaft for part in guide for shaft in part.shafts)
    assert whole == tuple(islice(cycle(draft), sum(sections)))
    assert [part.ends for part in guide] == sections


@given(draft=DRAFTS, sections=SECTIONS)
def test_running_totals_are_those_of_the_ends_so_far(draft, sections):
    for part in threading_guide(draft, sections, 8):
        assert part.on_each_so_far == heddles_per_shaft(draft, part.so_far, 8)
        assert sum(part.on_each) == len(part.shafts) == part.ends


@given(draft=DRAFTS, sections=SECTIONS)
def test_each_section_says_where_in_the_repeat_it_begins(draft, sections):
    for part in threading_guide(draft, sections, 8):
        assert 1 <= part.starts_at <= len(draft)
        assert part.shafts[:1] in {(), (draft[part.starts_at - 1],)}


@given(pairs=st.lists(st.tuples(st.integers(0, 300), st.integers(0, 300)), max_size=16))
def test_spare_heddles_are_shared_and_none_is_lost(pairs):
    held, needed = [have for have, _ in pairs], [need for _, need in pairs]
    for (have, need), spare in zip(pairs, spare_heddles(held, needed), strict=True):
        assert spare.left + need + spare.right - spare.short == have
        assert 0 <= spare.right - spare.left <= 1
        assert not (spare.short and spare.right)


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


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: point(0), "shafts"),
        (lambda: broken(3), "shafts"),
        (lambda: broken(5), "shafts"),
        (lambda: lace(2), "shafts"),
        (lambda: blocks([(1, 2)], [(2, 1)]), "counts"),
        (lambda: blocks([(1, 2)], [(1, -1)]), "counts"),
        (lambda: threading_guide((), (1,), 4), "threading"),
        (lambda: threading_guide((5,), (1,), 4), "threading"),
        (lambda: threading_guide((0,), (1,), 4), "threading"),
        (lambda: threading_guide((1,), (-1,), 4), "sections"),
        (lambda: spare_heddles((1,), (1, 2)), "held"),
        (lambda: spare_heddles((-1,), (1,)), "held"),
        (lambda: sley_guide((), (1,), 1), "sley"),
        (lambda: sley_guide((0,), (1,), 1), "sley"),
        (lambda: sley_guide((2,), (-1,), 1), "sections"),
        (lambda: sley_guide((2,), (1,), 0), "start_dent"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
