"""Slots of the rack: every way to hang a few spools tried, and what holds for any number of set-ups."""

from itertools import combinations, pairwise, permutations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.calc.terms.plan import ColourRun
from planner.calc.winding import rack_slots, setups

RUN = st.tuples(st.sampled_from("ABC"), st.integers(1, 9)).map(lambda pair: ColourRun(*pair))
RACK = st.lists(RUN, min_size=1, max_size=4).map(tuple)
RACKS = st.lists(RACK, min_size=1, max_size=8).map(tuple)
WORD = st.text("AB", min_size=1, max_size=3)


def rack(*pairs):
    return tuple(ColourRun(code, ends) for code, ends in pairs)


def spelt(word):
    return tuple(ColourRun(code, 1) for code in word)


def cells(runs, slots=0):
    written = [run.code for run in runs for _ in range(run.ends)]
    return written + [""] * (slots - len(written))


def by_the_table(before, after):
    """R. A. Wagner and M. J. Fischer (1974): the whole table of changes, a cell at a time."""
    row = list(range(len(after) + 1))
    for at, code in enumerate(before, 1):
        last, row = row, [at]
        for other, wanted in enumerate(after):
            row.append(min(last[other] + (code != wanted), last[other + 1] + 1, row[-1] + 1))
    return row[-1]


def ways(word, slots):
    """Hang a word in its order into slots, in every way."""
    for places in combinations(range(slots), len(word)):
        hung = dict(zip(places, word, strict=True))
        yield tuple(hung.get(slot, "") for slot in range(slots))


def fewest_of_all(words, slots):
    """Try every order of the set-ups, and every way to hang each."""
    changes = {
        pair: sum(one != other for one, other in zip(*pair, strict=True))
        for pair in product([way for word in set(words) for way in ways(word, slots)], repeat=2)
    }
    best = []
    for order in permutations(words):
        reach = dict.fromkeys(ways(order[0], slots), 0)
        for word in order[1:]:
            reach = {way: min(cost + changes[was, way] for was, cost in reach.items()) for way in ways(word, slots)}
        best.append(min(reach.values()))
    return min(best)


@settings(deadline=None, max_examples=40)
@given(words=st.lists(WORD, min_size=1, max_size=4))
def test_no_order_and_no_way_to_hang_a_few_spools_changes_fewer_slots(words):
    """Brute force over six slots, each set-up hung in every way, in every order."""
    racks = [spelt(word) for word in words]
    tried = [
        sum(rack_slots.least_between(one, other) for one, other in pairwise(order)) for order in permutations(racks)
    ]
    assert min(tried) == fewest_of_all(words, 6)


@given(before=RACK, after=RACK)
def test_the_fewest_changes_are_those_of_the_whole_table(before, after):
    assert rack_slots.least_between(before, after) == by_the_table(cells(before), cells(after))


@given(racks=RACKS)
def test_costs_are_a_distance_between_the_yarns_alone_and_slots_from_the_first(racks):
    least = rack_slots.least_costs(racks)
    packed, by_yarns = setups.change_costs(racks), rack_slots.costs_by_yarns(racks)
    for one, other in product(range(len(racks)), repeat=2):
        assert by_yarns[one][other] <= least[one][other] <= packed[one][other]
        assert least[one][other] == least[other][one] == rack_slots.least_between(racks[one], racks[other])
        assert all(least[one][third] <= least[one][other] + least[other][third] for third in range(len(racks)))


@given(racks=RACKS)
def test_spools_hang_in_their_order_and_no_change_is_more_than_the_fewest(racks):
    hung = rack_slots.slots_in_order(racks)
    assert [[code for code in cells(way) if code] for way in hung] == [cells(one) for one in racks]
    changed = [setups.slots_changed(one, other) for one, other in pairwise(hung)]
    assert changed == [rack_slots.least_between(one, other) for one, other in pairwise(racks)]


@given(racks=RACKS)
def test_stretches_that_hold_spools_hold_them_all(racks):
    for one, way in zip(racks, rack_slots.slots_in_order(racks), strict=True):
        slots = {slot for first, last in rack_slots.filled(way) for slot in range(first, last + 1)}
        assert len(slots) == sum(run.ends for run in one)
        assert slots == {slot for slot, code in enumerate(cells(way), 1) if code}


def test_three_lifted_from_the_beginning_are_three_and_not_six():
    """By hand: 7 B and 26 A become 4 B and 26 A; the other 30 spools stay where they hang."""
    seven, four = rack(("B", 7), ("A", 26)), rack(("B", 4), ("A", 26))
    assert (rack_slots.least_between(seven, four), setups.slots_changed(seven, four)) == (3, 6)


def test_a_free_slot_is_used_again():
    """By hand: the B that goes leaves slot 2, and the C that comes takes it."""
    racks = [spelt("ABA"), spelt("AA"), spelt("ACA")]
    assert [cells(way) for way in rack_slots.slots_in_order(racks)] == [
        ["A", "B", "A"],
        ["A", "", "A"],
        ["A", "C", "A"],
    ]


@pytest.mark.parametrize(
    "misuse",
    [
        lambda empty: rack_slots.least_between(empty, empty),
        lambda empty: rack_slots.least_costs([empty]),
        lambda empty: rack_slots.costs_by_yarns([empty]),
        lambda empty: rack_slots.slots_in_order([empty]),
    ],
)
def test_a_run_without_ends_is_refused(misuse):
    with pytest.raises(ValueError, match="racks"):
        misuse(rack(("A", 0)))
