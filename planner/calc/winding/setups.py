"""Set-ups of the rack: what changes from one to another; `setup_order` finds the order that changes least.

An arrangement of spools is its runs, slot by slot from slot 1 at the left seen from the back; a run of no yarn is a
stretch of empty slots, such as `rack_slots` leaves. Between two arrangements a slot counts once when its yarn differs,
whether a spool is exchanged there, taken off or put on. Counted so, the costs are a distance: the same both ways, and
never shorter by way of a third arrangement. The order of the sections on the beam has nothing to do with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

from planner.calc.terms.plan import ColourRun, SlotChange
from studio.quantities import Ends, Spools

Runs = tuple[ColourRun, ...]
Costs = tuple[tuple[Spools, ...], ...]

MOST_CODES = 255
"""Yarns that a byte can tell apart, one value being kept for the empty slot."""


def slots_changed(before: Runs, after: Runs) -> Spools:
    """Count the slots of the rack whose yarn changes from one set-up to another.

    Rack orders are read from the left seen from the back; slots are exchanged, emptied or filled. The number of places
    in which two words differ, an empty slot being a letter of its own.
    Source: R. W. Hamming, Error Detecting and Error Correcting Codes, Bell System Technical Journal 29 (1950), section
    3. Raises ValueError if a run holds fewer than one end.

    >>> slots_changed((ColourRun("B", 9), ColourRun("A", 15)), (ColourRun("B", 3), ColourRun("A", 15)))
    12
    """
    return change_costs((before, after))[0][1]


def change_costs(racks: Sequence[Runs]) -> Costs:
    """Count the slots that change between every two set-ups.

    The count of `slots_changed`, but each rack is written as one number, a byte to a slot, so that two are compared at
    once.
    Source: R. W. Hamming, Bell System Technical Journal 29 (1950), section 3. Raises ValueError if a run holds fewer
    than one end.

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
    codes = sorted({run.code for runs in racks for run in runs} - {""})
    if len(codes) > MOST_CODES:
        raise ValueError(f"racks hold {len(codes)} yarns; {MOST_CODES} are the most")
    signs = {code: bytes((number,)) for number, code in enumerate(("", *codes))}
    words = [b"".join(signs[run.code] * run.ends for run in runs) for runs in racks]
    return tuple(int.from_bytes(word, "little") for word in words), max(map(len, words), default=0)


def slot_changes(before: Runs, after: Runs) -> tuple[SlotChange, ...]:
    """List what each yarn does on the rack from one set-up to the next.

    Both orders, from the left seen from the back, are walked together, from one edge of a run to the next.
    Source: plain arithmetic. Raises ValueError if a run holds fewer than one end.

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


def _stretches(before: Runs, after: Runs) -> Iterator[tuple[int, int, str, str]]:
    """Part the rack wherever either order changes yarn: first slot, last slot, yarn before, yarn after."""
    slots = max(sum(run.ends for run in runs) for runs in (before, after))
    was, now = _stops(before, slots), _stops(after, slots)
    one = other = start = 0
    while start < slots:
        stop = min(was[one][0], now[other][0])
        yield start + 1, stop, was[one][1], now[other][1]
        one, other, start = one + (was[one][0] == stop), other + (now[other][0] == stop), stop


def _stops(runs: Runs, slots: int) -> list[tuple[int, str]]:
    """Give the last slot of each run with its yarn, then, without one, the last slot of the rack."""
    return [*zip(accumulate(run.ends for run in runs), (run.code for run in runs), strict=True), (slots, "")]


def _lengthen(spans: dict[str, list[tuple[int, int]]], code: str, first: int, last: int) -> None:
    own = spans.setdefault(code, [])
    if own and own[-1][1] == first - 1:
        own[-1] = (own[-1][0], last)
    else:
        own.append((first, last))


def ends_threaded_anew(before: Runs, after: Runs) -> Ends:
    """Count the ends that the box is threaded with when one set-up follows another.

    All ends of the next set-up, or 0 where spools at the ends of the rack are only taken off. Ends that stay as they
    were are tied on with the rest still in the box; one that comes between them has to pass comb and bars in its place,
    so the whole is threaded anew.
    Source: common practice, no source. Raises ValueError if `after` holds no end.

    Four B after seven lose nothing where all else stays; thirty thick ends after 48 thin ones are threaded:
    >>> ends_threaded_anew((ColourRun("B", 7), ColourRun("A", 26)), (ColourRun("B", 4), ColourRun("A", 26)))
    0
    >>> ends_threaded_anew((ColourRun("N", 48),), (ColourRun("T", 30),))
    30
    """
    if not after:
        raise ValueError("after must hold at least one end")
    if any(_holds(before[at:], after) for at in range(len(before))):
        return 0
    return sum(run.ends for run in after)


def _holds(before: Runs, after: Runs) -> bool:
    """Tell whether the ends that stay lie side by side from the first of these runs on."""
    if len(before) < len(after) or any(one.code != other.code for one, other in zip(before, after, strict=False)):
        return False
    whole = before[1 : len(after) - 1] == after[1:-1]
    return whole and before[0].ends >= after[0].ends and before[len(after) - 1].ends >= after[-1].ends
