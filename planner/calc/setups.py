"""Set-ups of the rack: the order of winding that moves the fewest spools, and what changes from one to the next.

Slots of the rack are filled in the order of the ends, slot 1 at the left seen from the back, so an arrangement of
spools is simply its runs. Between two arrangements a slot counts once when its yarn differs, whether a spool is
exchanged there, taken off or put on. Counted so, the costs are a distance: the same both ways, and never shorter by
way of a third arrangement. The order of the sections on the beam has nothing to do with it and never changes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from itertools import accumulate, pairwise
from sys import maxsize

from planner.calc.plan import ColourRun, SlotChange

Runs = tuple[ColourRun, ...]
Costs = tuple[tuple[int, ...], ...]
Order = tuple[int, ...]

EXACT_UP_TO = 12
"""Set-ups up to which the order is proved the best; beyond, it is improved and never worse than the given one."""

MOST_PASSES = 40
"""Times a long order is gone through for a turn that helps."""

MOST_CODES = 255
"""Yarns that a byte can tell apart, one value being kept for the empty slot."""


def slots_changed(before: Runs, after: Runs) -> int:
    """Count the slots of the rack whose yarn changes from one set-up to another.

    Parameters
    ----------
    before : Runs
        Rack order, from the left seen from the back. [-]
    after : Runs
        Rack order of the next set-up, in the same view. [-]

    Returns
    -------
    changed : int
        Slots exchanged, emptied or filled. [spools]

    Raises
    ------
    ValueError
        If a run holds fewer than one end.

    Notes
    -----
    The number of places in which two words differ, an empty slot being a letter of its own: R. W. Hamming, Error
    Detecting and Error Correcting Codes, Bell System Technical Journal 29 (1950), section 3.

    Examples
    --------
    >>> slots_changed((ColourRun("B", 9), ColourRun("A", 15)), (ColourRun("B", 3), ColourRun("A", 15)))
    12
    """
    return change_costs((before, after))[0][1]


def change_costs(racks: Sequence[Runs]) -> Costs:
    """Count the slots that change between every two set-ups.

    Parameters
    ----------
    racks : Sequence[Runs]
        Rack order of each set-up, from the left seen from the back. [-]

    Returns
    -------
    costs : Costs
        Row and column in the order of `racks`. [spools]

    Raises
    ------
    ValueError
        If a run holds fewer than one end.

    Notes
    -----
    Each rack is written as one number, a byte to a slot, so that two are compared in one step. See `slots_changed`.

    Examples
    --------
    >>> change_costs(((ColourRun("A", 8),), (ColourRun("A", 7),), (ColourRun("B", 7),)))
    ((0, 1, 8), (1, 0, 7), (8, 7, 0))
    """
    if any(run.ends < 1 for runs in racks for run in runs):
        raise ValueError("racks hold a run of fewer than one end")
    written, slots = _written(racks)
    rows = [[0] * len(racks) for _ in racks]
    for first, one in enumerate(written):
        for second in range(first):
            same = (one ^ written[second]).to_bytes(slots, "little").count(0)
            rows[first][second] = rows[second][first] = slots - same
    return tuple(map(tuple, rows))


def _written(racks: Sequence[Runs]) -> tuple[tuple[int, ...], int]:
    codes = sorted({run.code for runs in racks for run in runs})
    if len(codes) > MOST_CODES:
        raise ValueError(f"racks hold {len(codes)} yarns; {MOST_CODES} are the most")
    signs = {code: bytes((number,)) for number, code in enumerate(codes, 1)}
    words = [b"".join(signs[run.code] * run.ends for run in runs) for runs in racks]
    return tuple(int.from_bytes(word, "little") for word in words), max(map(len, words), default=0)


def slot_changes(before: Runs, after: Runs) -> tuple[SlotChange, ...]:
    """List what each yarn does on the rack from one set-up to the next.

    Parameters
    ----------
    before : Runs
        Rack order, from the left seen from the back. [-]
    after : Runs
        Rack order of the next set-up, in the same view. [-]

    Returns
    -------
    changes : tuple[SlotChange, ...]
        Yarns that leave or come to a slot, by code, with the slots as spans. [-]

    Raises
    ------
    ValueError
        If a run holds fewer than one end.

    Notes
    -----
    Both orders are walked together, from one edge of a run to the next. Plain arithmetic.

    Examples
    --------
    Six white move from slots 10 to 15 to slots 1 to 6:

    >>> blue_first = (ColourRun("blue", 9), ColourRun("white", 6))
    >>> white_first = (ColourRun("white", 6), ColourRun("blue", 9))
    >>> change = slot_changes(blue_first, white_first)[1]
    >>> change.code, change.taken_off, change.put_on
    ('white', ((10, 15),), ((1, 6),))
    """
    if any(run.ends < 1 for run in (*before, *after)):
        raise ValueError("before and after must hold no run of fewer than one end")
    off: dict[str, list[tuple[int, int]]] = {}
    on: dict[str, list[tuple[int, int]]] = {}
    for first, last, was, now in _stretches(before, after):
        if was != now:
            _lengthen(off, was, first, last)
            _lengthen(on, now, first, last)
    codes = sorted({*off, *on} - {""})
    return tuple(SlotChange(code, tuple(off.get(code, ())), tuple(on.get(code, ()))) for code in codes)


def _stretches(before: Runs, after: Runs) -> tuple[tuple[int, int, str, str], ...]:
    """Part the rack wherever either order changes yarn: first slot, last slot, yarn before, yarn after."""
    ends = [tuple(accumulate(run.ends for run in runs)) for runs in (before, after)]
    places, found = [0, 0], []
    for start, stop in pairwise(sorted({0, *ends[0], *ends[1]})):
        codes = []
        for side, runs in enumerate((before, after)):
            while places[side] < len(runs) and ends[side][places[side]] <= start:
                places[side] += 1
            codes.append(runs[places[side]].code if places[side] < len(runs) else "")
        found.append((start + 1, stop, codes[0], codes[1]))
    return tuple(found)


def _lengthen(spans: dict[str, list[tuple[int, int]]], code: str, first: int, last: int) -> None:
    own = spans.setdefault(code, [])
    if own and own[-1][1] == first - 1:
        own[-1] = (own[-1][0], last)
    else:
        own.append((first, last))


def ends_threaded_anew(before: Runs, after: Runs) -> int:
    """Count the ends that the box is threaded with when one set-up follows another.

    Parameters
    ----------
    before : Runs
        Rack order, from the left seen from the back. [-]
    after : Runs
        Rack order of the next set-up, in the same view. [-]

    Returns
    -------
    ends : int
        All ends of the next set-up, or 0 where spools at the far end of the rack are only taken off. [ends]

    Raises
    ------
    ValueError
        If `after` holds no end.

    Notes
    -----
    Ends that stay as they were are tied on with the rest still in the box; one that comes between them has to pass
    comb and bars in its place, so the whole is threaded anew. Common practice, no source.

    Examples
    --------
    Seven ends after eight lose nothing; thirty thick ends after 48 thin ones are threaded:

    >>> ends_threaded_anew((ColourRun("A", 8),), (ColourRun("A", 7),))
    0
    >>> ends_threaded_anew((ColourRun("N", 48),), (ColourRun("T", 30),))
    30
    """
    if not after:
        raise ValueError("after must hold at least one end")
    *inner, last = after
    same = before[: len(inner)] == tuple(inner) and len(before) >= len(after)
    if same and before[len(inner)].code == last.code and before[len(inner)].ends >= last.ends:
        return 0
    return sum(run.ends for run in after)


def fewest_changes(costs: Costs) -> int:
    """Give a number of slots that no order of the set-ups can do with fewer of.

    Parameters
    ----------
    costs : Costs
        Slots that change between every two set-ups. [spools]

    Returns
    -------
    bound : int
        Slots of the cheapest way to join all set-ups, were one allowed to branch. [spools]

    Raises
    ------
    ValueError
        If `costs` is not square.

    Notes
    -----
    An order is a tree without branches, so no order is cheaper than the cheapest tree. R. C. Prim, Shortest
    Connection Networks and Some Generalizations, Bell System Technical Journal 36 (1957), gives the tree.

    Examples
    --------
    >>> fewest_changes(((0, 1, 8), (1, 0, 7), (8, 7, 0)))
    8
    """
    if any(len(row) != len(costs) for row in costs):
        raise ValueError("costs must be square")
    return _tree_over(costs)((1 << len(costs)) - 1) if costs else 0


def changes_in_order(costs: Costs, order: Sequence[int]) -> int:
    """Count the slots that change when the set-ups are wound in an order.

    Parameters
    ----------
    costs : Costs
        Slots that change between every two set-ups. [spools]
    order : Sequence[int]
        Places of the set-ups in `costs`. [-]

    Returns
    -------
    changed : int
        Slots changed in all; loading the first set-up is not counted, it is the same for every order. [spools]

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
    >>> changes_in_order(((0, 1, 8), (1, 0, 7), (8, 7, 0)), (0, 1, 2))
    8
    """
    return sum(costs[one][other] for one, other in pairwise(order))


@lru_cache(maxsize=64)
def order_of_setups(racks: tuple[Runs, ...]) -> Order:
    """Order the set-ups so that the fewest slots of the rack change.

    Parameters
    ----------
    racks : tuple[Runs, ...]
        Rack order of each set-up, from the left seen from the back. [-]

    Returns
    -------
    order : Order
        Places of the set-ups in `racks`, first to wind first. [-]

    Raises
    ------
    ValueError
        If a run holds fewer than one end.

    Notes
    -----
    Up to `EXACT_UP_TO` set-ups the order is the best there is, by dynamic programming over subsets: M. Held and R. M.
    Karp, A Dynamic Programming Approach to Sequencing Problems, Journal of SIAM 10 (1962). Beyond, the nearest
    neighbour and the given order are improved by turning stretches round (G. A. Croes, A Method for Solving
    Traveling-Salesman Problems, Operations Research 6 (1958)) and the better of the two is taken, so it is never worse
    than the given order. Of an order and its reverse, that which threads fewer ends anew is taken; at a tie, the one
    that begins with the earlier set-up.

    Examples
    --------
    >>> eight, seven, white = (ColourRun("A", 8),), (ColourRun("A", 7),), (ColourRun("B", 7),)
    >>> order_of_setups((seven, white, eight))
    (2, 0, 1)
    """
    costs = change_costs(racks)
    given = tuple(range(len(racks)))
    found = min(
        (_improved(costs, start) for start in (given, _nearest(costs))), key=lambda o: changes_in_order(costs, o)
    )
    cheapest = changes_in_order(costs, found)
    if len(racks) <= EXACT_UP_TO and cheapest > fewest_changes(costs):
        found = _exact(costs, cheapest - 1) or found
    if changes_in_order(costs, given) == changes_in_order(costs, found):
        found = given
    return min((found, found[::-1]), key=lambda order: (_threaded(racks, order), order))


def _threaded(racks: tuple[Runs, ...], order: Order) -> int:
    return sum(ends_threaded_anew(racks[one], racks[other]) for one, other in pairwise(order))


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
