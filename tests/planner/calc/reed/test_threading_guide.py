"""Threading by sections: every end once, in order, with totals that agree with the whole."""

from itertools import cycle, islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.weave import count_weave, drawdown
from planner.calc.reed.threading import heddles_per_shaft
from planner.calc.reed.threading_guide import blocks, broken, in_repeats, lace, point, spare_heddles, threading_guide

DRAFTS = st.lists(st.integers(1, 8), min_size=1, max_size=24).map(tuple)
SECTIONS = st.lists(st.integers(0, 60), min_size=1, max_size=15)
BALANCED_TWILL = [(1, 2), (2, 3), (3, 4), (4, 1)]


@pytest.mark.parametrize("shafts", range(2, 33))
def test_a_point_draw_loads_the_shafts_at_the_turns_half_as_much(shafts):
    """Brooks, Cotton Manufacturing, 3rd ed., Drafts: eight ends on five healds, the first and last shaft once."""
    draft = point(shafts)
    assert heddles_per_shaft(draft, len(draft), shafts) == (1, *[2] * (shafts - 2), 1)
    assert {abs(one - other) for one, other in zip(draft, draft[1:] + draft[:1], strict=True)} == {1}


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


def written_out(draft, part):
    head, repeats, tail = in_repeats(draft, part.starts_at, part.ends)
    return (*head, *draft * repeats, *tail)


@given(draft=DRAFTS, sections=SECTIONS)
def test_the_guide_is_the_whole_threading_cut_into_sections(draft, sections):
    guide = threading_guide(draft, sections, 8)
    whole = tuple(shaft for part in guide for shaft in written_out(draft, part))
    assert whole == tuple(islice(cycle(draft), sum(sections)))
    assert [part.ends for part in guide] == sections


@given(draft=DRAFTS, sections=SECTIONS)
def test_running_totals_are_those_of_the_ends_so_far(draft, sections):
    for part in threading_guide(draft, sections, 8):
        shafts = written_out(draft, part)
        assert part.on_each_so_far == heddles_per_shaft(draft, part.so_far, 8)
        assert part.on_each == tuple(shafts.count(shaft) for shaft in range(1, 9))
        assert sum(part.on_each) == len(shafts) == part.ends


@given(draft=DRAFTS, sections=SECTIONS)
def test_each_section_says_where_it_begins_and_ends(draft, sections):
    for part in threading_guide(draft, sections, 8):
        assert 1 <= part.starts_at <= len(draft)
        shafts = written_out(draft, part) or (0,)
        assert (part.first_shaft, part.last_shaft) == (shafts[0], shafts[-1])


def test_a_section_that_begins_in_a_repeat_ends_it_first():
    """Lace on four shafts, 20 ends from place 11: 1, 2 end the repeat of 12; one whole; six of the next are left."""
    assert in_repeats(lace(4), 11, 20) == ((1, 2), 1, (1, 3, 1, 3, 1, 2))


def test_a_section_shorter_than_what_is_left_of_the_repeat_is_only_that():
    assert in_repeats((1, 2, 3, 4), 2, 2) == ((2, 3), 0, ())


@given(pairs=st.lists(st.tuples(st.integers(0, 300), st.integers(0, 300)), max_size=16))
def test_spare_heddles_are_shared_and_none_is_lost(pairs):
    held, needed = [have for have, _ in pairs], [need for _, need in pairs]
    for (have, need), spare in zip(pairs, spare_heddles(held, needed), strict=True):
        assert spare.left + need + spare.right - spare.short == have
        assert 0 <= spare.right - spare.left <= 1
        assert not (spare.short and spare.right)


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
        (lambda: in_repeats((1, 2), 3, 1), "starts_at"),
        (lambda: in_repeats((), 1, 1), "starts_at"),
        (lambda: in_repeats((1, 2), 1, -1), "ends"),
        (lambda: spare_heddles((1,), (1, 2)), "held"),
        (lambda: spare_heddles((-1,), (1,)), "held"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
