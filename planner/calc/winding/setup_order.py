"""The order of set-ups that changes the fewest slots of the rack: proved for a few, never worse than given for many.

A set-up is known here by its place alone; what it costs to go from one to another is worked out in `setups`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from itertools import pairwise
from sys import maxsize

from studio.quantities import Ends, Place, Spools

Costs = tuple[tuple[Spools, ...], ...]
Order = tuple[Place, ...]

EXACT_UP_TO = 12
"""Set-ups up to which the order is proved the best; beyond, it is improved and never worse than the given one."""

MOST_PASSES = 40
"""Times a long order is gone through for a turn that helps."""


def fewest_changes(costs: Costs) -> Spools:
    """Give a number of slots that no order of the set-ups can do with fewer of.

    Slots of the cheapest way to join all set-ups, were one allowed to branch: an order is a tree without branches, so
    no order is cheaper than the cheapest tree.
    Source: R. C. Prim, Shortest Connection Networks and Some Generalizations, Bell System Technical Journal 36 (1957).
    Raises ValueError if `costs` is not square.

    >>> fewest_changes(((0, 1, 8), (1, 0, 7), (8, 7, 0)))
    8
    """
    if any(len(row) != len(costs) for row in costs):
        raise ValueError("costs must be square")
    return _tree_over(costs)((1 << len(costs)) - 1) if costs else 0


def fewest_proven(costs: Costs, order: Sequence[Place]) -> Spools:
    """Give the slots that are proved to be the fewest, or the bound below which no order lies.

    The changes of `order`, as `order_of_setups` found it, up to `EXACT_UP_TO` set-ups, since it is the best; beyond,
    `fewest_changes`, and the best may lie above that.
    Source: M. Held and R. M. Karp, A Dynamic Programming Approach to Sequencing Problems, Journal of SIAM 10 (1962),
    prove the order. Raises ValueError if `costs` is not square.

    Three set-ups all apart alike from a fourth in the middle, which only a branching tree joins for 3:
    >>> apart = ((0, 2, 2, 1), (2, 0, 2, 1), (2, 2, 0, 1), (1, 1, 1, 0))
    >>> fewest_changes(apart), fewest_proven(apart, (0, 3, 1, 2))
    (3, 4)
    """
    return changes_in_order(costs, order) if len(costs) <= EXACT_UP_TO else fewest_changes(costs)


def changes_in_order(costs: Costs, order: Sequence[Place]) -> Spools:
    """Count the slots that change when the set-ups are wound in an order.

    Loading the first set-up is not counted, it is the same for every order.
    Source: plain arithmetic.

    >>> changes_in_order(((0, 1, 8), (1, 0, 7), (8, 7, 0)), (0, 1, 2))
    8
    """
    return sum(costs[one][other] for one, other in pairwise(order))


def order_of_setups(costs: Costs, threaded: Callable[[Place, Place], Ends]) -> Order:
    """Order the set-ups so that the fewest slots of the rack change.

    `threaded` gives the ends threaded anew when the second follows the first. Up to `EXACT_UP_TO` set-ups the order is
    the best there is, by dynamic programming over subsets. Beyond, the nearest neighbour and the given order are
    improved by turning stretches round and the better of the two is taken, so it is never worse than the given order.
    Of an order and its reverse, that which threads fewer ends anew is taken; at a tie, the one that begins with the
    earlier set-up.
    Source: M. Held and R. M. Karp, A Dynamic Programming Approach to Sequencing Problems, Journal of SIAM 10 (1962); G.
    A. Croes, A Method for Solving Traveling-Salesman Problems, Operations Research 6 (1958). Raises ValueError if
    `costs` is not square.

    Seven ends of one yarn, seven of another, and eight of the first, given in this order:
    >>> order_of_setups(((0, 7, 1), (7, 0, 8), (1, 8, 0)), lambda one, other: 0 if (one, other) == (2, 0) else 7)
    (2, 0, 1)
    """
    if any(len(row) != len(costs) for row in costs):
        raise ValueError("costs must be square")
    given = tuple(range(len(costs)))
    found = min(
        (_improved(costs, start) for start in (given, _nearest(costs))), key=lambda o: changes_in_order(costs, o)
    )
    cheapest = changes_in_order(costs, found)
    if len(costs) <= EXACT_UP_TO and cheapest > fewest_changes(costs):
        found = _exact(costs, cheapest - 1) or found
    if changes_in_order(costs, given) == changes_in_order(costs, found):
        found = given
    return min((found, found[::-1]), key=lambda order: (sum(threaded(*pair) for pair in pairwise(order)), order))


def _nearest(costs: Costs) -> Order:
    """Go on to the nearest set-up that is left, from the first."""
    order, left = [0] if costs else [], set(range(1, len(costs)))
    while left:
        row = costs[order[-1]]
        order.append(min(left, key=lambda place: (row[place], place)))
        left.remove(order[-1])
    return tuple(order)


def _improved(costs: Costs, given: Order) -> Order:
    """Turn stretches round while it helps; a blank at both ends lets the outer stretches turn too."""
    blank = len(costs)
    rows = (*((*row, 0) for row in costs), (0,) * (blank + 1))
    order = [blank, *given, blank]
    for _ in range(MOST_PASSES):
        if not _turned_once(rows, order):
            break
    return tuple(order[1:-1])


def _turned_once(rows: Costs, order: list[int]) -> bool:
    helped = False
    for start in range(1, len(order) - 2):
        row_before, row_first = rows[order[start - 1]], rows[order[start]]
        for stop in range(start + 1, len(order) - 1):
            last, after = order[stop], order[stop + 1]
            if row_before[last] + row_first[after] < row_before[order[start]] + rows[last][after]:
                order[start : stop + 1] = order[start : stop + 1][::-1]
                row_first, helped = rows[order[start]], True
    return helped


def _exact(costs: Costs, limit: int) -> Order | None:
    """Give the best order of at most `limit` changes, None when there is none.

    One step of `reach` holds, for each set of set-ups still to wind and the last one wound, the cheapest way there. A
    way is dropped as soon as even the cheapest tree over what is left would take it past the limit.
    """
    tree = _tree_over(costs)
    everything = (1 << len(costs)) - 1
    reach: dict[tuple[int, int], tuple[int, Order]] = {
        (everything ^ 1 << place, place): (0, (place,)) for place in range(len(costs))
    }
    for _ in range(len(costs) - 1):
        longer: dict[tuple[int, int], tuple[int, Order]] = {}
        for (left, last), (cost, order) in reach.items():
            if cost + tree(left | 1 << last) > limit:
                continue
            for place, step in enumerate(costs[last]):
                if left >> place & 1:
                    key, now = (left ^ 1 << place, place), cost + step
                    if now < longer.get(key, (limit + 1,))[0]:
                        longer[key] = (now, (*order, place))
        reach = longer
    return min(reach.values(), default=(0, None))[1]


def _tree_over(costs: Costs) -> Callable[[int], int]:
    """Give the cheapest tree over any set of set-ups, worked out once; the bits of a number say which are in it."""

    @cache
    def tree(members: int) -> int:
        near = {place: maxsize for place in range(len(costs)) if members >> place & 1}
        place, joined = near.popitem()[0], 0
        while near:
            row = costs[place]
            for other, cost in near.items():
                if row[other] < cost:
                    near[other] = row[other]
            place = min(near, key=near.__getitem__)
            joined += near.pop(place)
        return joined

    return tree
