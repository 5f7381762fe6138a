"""Set-ups: what changes on the rack, counted slot by slot."""

from itertools import groupby

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.terms.plan import ColourRun
from planner.calc.winding import setups

RUN = st.tuples(st.sampled_from("ABC"), st.integers(1, 9)).map(lambda pair: ColourRun(*pair))
RACK = st.lists(RUN, min_size=1, max_size=4).map(tuple)


def rack(*pairs):
    return tuple(ColourRun(code, ends) for code, ends in pairs)


def slots(runs, length):
    cells = [run.code for run in runs for _ in range(run.ends)]
    return cells + [""] * (length - len(cells))


def both(before, after):
    length = max(sum(run.ends for run in runs) for runs in (before, after))
    return list(zip(slots(before, length), slots(after, length), strict=True))


@given(before=RACK, after=RACK)
def test_slots_are_counted_one_by_one(before, after):
    assert setups.slots_changed(before, after) == sum(was != now for was, now in both(before, after))


@given(one=RACK, other=RACK, third=RACK)
def test_changes_are_a_distance(one, other, third):
    count = setups.slots_changed
    assert count(one, other) == count(other, one)
    assert count(one, third) <= count(one, other) + count(other, third)
    assert count(one, one) == 0


def test_hamming_distance_of_two_words():
    """R. W. Hamming (1950) counts the places in which two words differ: 1011101 and 1001001 in two (from memory)."""
    words = [
        tuple(ColourRun(digit, len(tuple(same))) for digit, same in groupby(word)) for word in ("1011101", "1001001")
    ]
    assert setups.slots_changed(*words) == 2


@given(before=RACK, after=RACK)
def test_change_list_turns_one_rack_into_the_other(before, after):
    pairs = both(before, after)
    shelf = dict(enumerate((was for was, _ in pairs), 1))
    for change in setups.slot_changes(before, after):
        for first, last in change.taken_off:
            assert {shelf.pop(slot) for slot in range(first, last + 1)} == {change.code}
    for change in setups.slot_changes(before, after):
        for first, last in change.put_on:
            shelf.update({slot: change.code for slot in range(first, last + 1) if not shelf.get(slot)})
    assert [shelf.get(slot, "") for slot in range(1, len(pairs) + 1)] == [now for _, now in pairs]


@given(before=RACK, after=RACK)
def test_a_slot_counts_once_whether_exchanged_emptied_or_filled(before, after):
    changes = setups.slot_changes(before, after)
    off, on = sum(change.spools_off for change in changes), sum(change.spools_on for change in changes)
    counted = setups.slots_changed(before, after)
    assert max(off, on) <= counted <= off + on


def test_six_white_move():
    """The studio's trade notes, 3.3: move 6 white from slots 10-15 to 1-6."""
    before, after = rack(("blue", 9), ("white", 6)), rack(("white", 6), ("blue", 9))
    white = next(change for change in setups.slot_changes(before, after) if change.code == "white")
    assert (white.spools_on, white.taken_off, white.put_on) == (6, ((10, 15),), ((1, 6),))


def test_spans_of_one_yarn_that_touch_are_one():
    before, after = rack(("A", 2), ("B", 2)), rack(("C", 4))
    assert setups.slot_changes(before, after)[-1].put_on == ((1, 4),)


@pytest.mark.parametrize(
    ("before", "after", "ends"),
    [
        ([("A", 8)], [("A", 7)], 0),
        ([("A", 7)], [("A", 8)], 8),
        ([("N", 48)], [("T", 30)], 30),
        ([("A", 15), ("B", 9)], [("A", 15), ("B", 3)], 0),
        ([("A", 15), ("B", 9)], [("A", 15)], 0),
        ([("A", 15), ("B", 9)], [("A", 12), ("B", 9)], 0),
        ([("A", 15), ("B", 9)], [("A", 12), ("B", 3)], 0),
        ([("A", 2), ("B", 9), ("C", 4)], [("B", 9), ("C", 1)], 0),
        ([("A", 2), ("B", 9), ("C", 4)], [("A", 2), ("B", 8), ("C", 4)], 14),
        ([("A", 2), ("B", 9), ("C", 4)], [("A", 2), ("C", 4)], 6),
        ([("A", 15)], [("A", 15), ("B", 9)], 24),
    ],
)
def test_ends_threaded_anew(before, after, ends):
    """Counted at the rack: spools taken off its ends cost nothing, anything else is threaded."""
    assert setups.ends_threaded_anew(rack(*before), rack(*after)) == ends


@given(before=RACK, after=RACK)
def test_nothing_is_threaded_anew_exactly_where_the_ends_lie_side_by_side_already(before, after):
    before, after = (tuple(merged(runs)) for runs in (before, after))
    was, now = ("".join(run.code * run.ends for run in runs) for runs in (before, after))
    assert (setups.ends_threaded_anew(before, after) == 0) == (now in was)


def merged(runs):
    for code, same in groupby(runs, key=lambda run: run.code):
        yield ColourRun(code, sum(run.ends for run in same))


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: setups.slots_changed(rack(("A", 0)), rack(("A", 1))), "racks"),
        (lambda: setups.slot_changes(rack(("A", 0)), ()), "before"),
        (lambda: setups.ends_threaded_anew(rack(("A", 1)), ()), "after"),
        (lambda: setups.change_costs(tuple(rack((str(code), 1)) for code in range(256))), "yarns"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
