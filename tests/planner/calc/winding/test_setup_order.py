"""Order of set-ups: every order tried where there are few, a proven bound where there are many."""

from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import minimum_spanning_tree

from planner.calc.terms.plan import ColourRun
from planner.calc.winding import rack_slots, setup_order, setups

RUN = st.tuples(st.sampled_from("ABC"), st.integers(1, 9)).map(lambda pair: ColourRun(*pair))
RACK = st.lists(RUN, min_size=1, max_size=4).map(tuple)


def racks_of(least, most):
    return st.lists(RACK, min_size=least, max_size=most, unique=True).map(tuple)


def rack(*pairs):
    return tuple(ColourRun(code, ends) for code, ends in pairs)


RUGS_FROM_BACK = (
    rack(("B", 9), ("A", 15)),
    rack(("B", 3), ("A", 15), ("C", 6)),
    rack(("A", 12), ("C", 6), ("B", 6)),
    rack(("A", 6), ("C", 6), ("B", 9), ("A", 3)),
    rack(("C", 6), ("B", 9), ("A", 9)),
)
"""The five layouts of the studio's fourth worked project, as they hang on the rack."""


def order_of(racks):
    costs = rack_slots.least_costs(racks)
    return setup_order.order_of_setups(costs, lambda one, other: setups.ends_threaded_anew(racks[one], racks[other]))


def cost_of(racks, order):
    return sum(rack_slots.least_between(racks[one], racks[other]) for one, other in pairwise(order))


@settings(deadline=None, max_examples=60)
@given(racks=racks_of(1, 7))
def test_no_order_of_a_few_set_ups_moves_fewer(racks):
    """Brute force over every order."""
    best = min(cost_of(racks, order) for order in permutations(range(len(racks))))
    found = order_of(racks)
    assert sorted(found) == list(range(len(racks)))
    assert cost_of(racks, found) == best == setup_order.fewest_proven(rack_slots.least_costs(racks), found)


@settings(deadline=None, max_examples=15)
@given(racks=racks_of(9, 12))
def test_up_to_twelve_no_turn_of_two_set_ups_helps(racks):
    found = order_of(racks)
    cost = cost_of(racks, found)
    for one in range(len(found)):
        for other in range(one):
            swapped = list(found)
            swapped[one], swapped[other] = swapped[other], swapped[one]
            assert cost_of(racks, swapped) >= cost


@settings(deadline=None, max_examples=30)
@given(racks=racks_of(2, 20))
def test_never_worse_than_given_and_never_below_the_bound(racks):
    costs = rack_slots.least_costs(racks)
    found = setup_order.changes_in_order(costs, order_of(racks))
    assert (
        setup_order.fewest_changes(costs)
        <= setup_order.fewest_proven(costs, order_of(racks))
        <= found
        <= setup_order.changes_in_order(costs, range(len(racks)))
    )


@given(racks=racks_of(2, 15))
def test_bound_is_the_cheapest_tree(racks):
    """SciPy's minimum spanning tree; racks differ, so no cost is zero, which it would take for no edge."""
    costs = rack_slots.least_costs(racks)
    if all(cost for row, place in zip(costs, range(len(costs)), strict=True) for cost in row[:place]):
        assert setup_order.fewest_changes(costs) == minimum_spanning_tree(csr_array([list(row) for row in costs])).sum()


def test_rugs_from_slot_one_change_sixty_slots_and_fifty_four_will_do_and_forty_eight_with_free_slots():
    """Counted by hand from the five layouts: 12 + 15 + 15 + 18; by brute force nothing below 54, nor below 48."""
    packed, free = setups.change_costs(RUGS_FROM_BACK), rack_slots.least_costs(RUGS_FROM_BACK)
    best = [
        min(setup_order.changes_in_order(costs, order) for order in permutations(range(5))) for costs in (packed, free)
    ]
    assert setup_order.changes_in_order(packed, range(5)) == 60
    assert best == [54, 48]
    assert setup_order.changes_in_order(free, order_of(RUGS_FROM_BACK)) == 48


def test_the_fuller_of_two_plain_set_ups_comes_first():
    assert order_of((rack(("A", 7)), rack(("A", 8)))) == (1, 0)


def test_the_given_order_stays_where_none_is_better():
    assert order_of((rack(("A", 5)), rack(("B", 5)), rack(("C", 5)))) == (0, 1, 2)


@pytest.mark.parametrize(
    "misuse",
    [setup_order.fewest_changes, lambda costs: setup_order.order_of_setups(costs, lambda _one, _other: 0)],
)
def test_costs_that_are_not_square_are_refused(misuse):
    with pytest.raises(ValueError, match="square"):
        misuse(((0, 1), (1,)))
