"""The rack in the order of winding: what is claimed of it holds, for a rack of any size and any number of set-ups."""

from fractions import Fraction
from itertools import pairwise, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.calc.terms.plan import ColourRun, Setup
from planner.calc.winding import rack_slots, setups
from planner.calc.worksheet.setups import rack_of

RUN = st.tuples(st.sampled_from("ABC"), st.integers(1, 9)).map(lambda pair: ColourRun(*pair))
RACK = st.lists(RUN, min_size=1, max_size=4).map(tuple)
LEAD = Fraction(230)


def racks_of(least, most):
    return st.lists(RACK, min_size=least, max_size=most, unique=True).map(tuple)


def wound(racks, places=None):
    found = [Setup(number, runs[::-1], (number,)) for number, runs in enumerate(racks, 1)]
    return rack_of(found, LEAD, places)


def from_slot_one(racks, order):
    return sum(setups.slots_changed(racks[one], racks[other]) for one, other in pairwise(order))


def slots_of(rack):
    """What hangs in each slot, set-up by set-up."""
    found = []
    for setup in rack.setups:
        slots = [slot for first, last in setup.slots for slot in range(first, last + 1)]
        cells = [run.code for run in setup.runs_from_back for _ in range(run.ends)]
        found.append(dict(zip(slots, cells, strict=True)))
    return found


@settings(deadline=None, max_examples=40)
@given(racks=racks_of(1, 7))
def test_of_a_few_set_ups_the_fewest_there_can_be_are_planned_and_named(racks):
    """Every order is tried, with the fewest changes from one set-up to the next."""
    least = rack_slots.least_costs(racks)
    orders = permutations(range(len(racks)))
    best = min(sum(least[one][other] for one, other in pairwise(order)) for order in orders)
    rack = wound(racks)
    assert (rack.moved, rack.fewest) == (best, best)


@settings(deadline=None, max_examples=40)
@given(racks=racks_of(1, 6), places=st.integers(1, 40))
def test_a_rack_with_too_few_places_is_filled_from_slot_one_in_the_order_that_is_best_so(racks, places):
    rack = wound(racks, places)
    used = max(max(hung) for hung in slots_of(rack))
    fullest = max(sum(run.ends for run in one) for one in racks)
    packed = min(from_slot_one(racks, order) for order in permutations(range(len(racks))))
    assert rack.fewest <= rack.moved <= packed
    assert used <= max(places, fullest)


@settings(deadline=None, max_examples=25)
@given(racks=racks_of(13, 18) | racks_of(31, 36))
def test_many_set_ups_are_never_worse_than_given_and_never_below_the_bound(racks):
    rack = wound(racks)
    given_order = sum(rack_slots.least_between(one, other) for one, other in pairwise(racks))
    assert rack.fewest <= rack.moved <= given_order


@settings(deadline=None, max_examples=40)
@given(racks=racks_of(1, 9), places=st.none() | st.integers(1, 40))
def test_slots_that_change_are_those_that_differ(racks, places):
    rack = wound(racks, places)
    hung = slots_of(rack)
    differ = [sum(one.get(slot) != other.get(slot) for slot in one | other) for one, other in pairwise(hung)]
    assert [setup.moved for setup in rack.setups] == [0, *differ]
