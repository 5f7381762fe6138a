"""Sleying, section by section: the dents of each, and how many of its ends go into each dent."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from itertools import accumulate, pairwise
from math import lcm

from planner.calc.terms.plan import SectionSley, SleyRun
from studio.quantities import Dents, Ends

MOST_IN_ORDER = 8
"""Dents of the longest order looked for where stripes are sleyed each in its own."""


def sley_guide(sley: Sequence[Ends], sections: Sequence[Ends], start_dent: Dents) -> tuple[SectionSley, ...]:
    """Give the dents of each section, and how many of its ends go into each.

    Sections come from the left seen from the seat; `start_dent` counts from there too. The order runs on from section
    to section; where a section ends inside a dent, the next one fills what is left.
    Source: plain arithmetic. Raises ValueError if `sley` holds no ends or one below zero, a section is below zero, or
    `start_dent` is not above zero.

    Five ends a section, two in a dent:
    >>> [(one.first_dent, one.in_dents, one.shares_first) for one in sley_guide((2,), (5, 5), 11)]
    [(11, (2, 2, 1), False), (13, (1, 2, 2), True)]
    """
    if min(sley, default=0) < 0 or not sum(sley) or min(sections, default=0) < 0 or start_dent < 1:
        raise ValueError(f"sley {tuple(sley)}, sections and start_dent {start_dent} must hold ends, none below zero")
    repeat = _Repeat(tuple(sley))
    row = cache(repeat.row)
    cuts = tuple(accumulate(sections, initial=0))
    found = []
    for number, (start, stop) in enumerate(pairwise(cuts), start=1):
        if stop > start:
            repeats, begin = divmod(start, repeat.ends)
            first, last, runs, free = row(begin, stop - start)
            left = start_dent + repeats * len(sley)
            shares_first, shares_last = repeat.stops[first] < begin, free and stop < cuts[-1]
            found.append(SectionSley(number, left + first, left + last, runs, shares_first, shares_last))
    return tuple(found)


class _Repeat:
    """One repeat of a sley order: how many ends stand before each dent, and the dent of each end."""

    def __init__(self, sley: tuple[int, ...]) -> None:
        self.sley, self.stops, self.ends = sley, (0, *accumulate(sley)), sum(sley)
        self.dent_of = [dent for dent, ends in enumerate(sley) for _ in range(ends)]

    def row(self, begin: int, ends: int) -> tuple[int, int, tuple[SleyRun, ...], bool]:
        """Sley so many ends from inside a repeat: first and last dent from 0, the dents, and room left in the last.

        Sections that begin at the same place of the repeat and hold as many ends are alike: few rows are ever made.
        """
        sley, stops = self.sley, self.stops
        repeats, rest = divmod(begin + ends, self.ends)
        if not rest:
            repeats, rest = repeats - 1, self.ends
        first, last = self.dent_of[begin], self.dent_of[rest - 1]
        head: tuple[int, ...] = ()
        tail: tuple[int, ...] = (*sley[:last], rest - stops[last])
        if not repeats:
            tail = (ends,) if first == last else (stops[first + 1] - begin, *tail[first + 1 :])
        elif begin or first:
            head = (stops[first + 1] - begin, *sley[first + 1 :])
        whole = repeats - bool(head) + (tail == sley)
        parts = ((1, head), (whole, sley), (1, () if tail == sley else tail))
        runs = tuple(SleyRun(times, dents) for times, dents in parts if times and dents)
        return first, repeats * len(sley) + last, runs, rest < stops[last + 1]


def sley_guide_of_stripes(
    stripes: Sequence[tuple[Ends, Sequence[Ends]]], sections: Sequence[Ends], start_dent: Dents
) -> tuple[SectionSley, ...]:
    """Give the dents of each section where stripes are sleyed each in its own order.

    Each stripe is its ends and the order of its yarn. Each end takes the room its order gives it, and lies in the dent
    where this room ends: within a stripe that begins a dent, this is the order spread evenly, and the whole takes the
    dents of its width. A stripe that ends inside a dent shares it with the next.
    Source: plain arithmetic. Raises ValueError if an order or a stripe holds no ends, `sections` hold more or fewer
    than the stripes, or `start_dent` is not above zero.

    Four fine ends, two in a dent, then three thick ones, one in a dent, in two sections:
    >>> [one.in_dents for one in sley_guide_of_stripes([(4, (2,)), (3, (1,))], (5, 2), 1)]
    [(2, 2, 1), (1, 1)]
    """
    sound = all(ends > 0 and min(order, default=0) >= 0 and sum(order) for ends, order in stripes)
    if not sound or min(sections, default=0) < 0 or sum(sections) != sum(ends for ends, _ in stripes):
        raise ValueError("stripes and sections must hold the same ends, and every order some")
    if start_dent < 1:
        raise ValueError(f"start_dent {start_dent} must be above zero")
    stops = tuple(accumulate(_dents_of_stripes(stripes), initial=0))
    cuts = pairwise(accumulate(sections, initial=0))
    return tuple(_cut(number, cut, stops, start_dent) for number, cut in enumerate(cuts, 1) if cut[1] > cut[0])


def _dents_of_stripes(stripes: Sequence[tuple[int, Sequence[int]]]) -> list[int]:
    """Fill dent after dent; room is counted in parts of a dent so small that every end takes whole ones."""
    rooms = [Fraction(len(order), sum(order)) for _, order in stripes]
    parts = lcm(*(room.denominator for room in rooms))
    dents: list[int] = []
    at = 0
    for (ends, _), room in zip(stripes, (int(room * parts) for room in rooms), strict=True):
        edge = at + ends * room
        while at < edge:
            dent = (at + room - 1) // parts
            dents += [0] * (dent + 1 - len(dents))
            fit = (min(edge, (dent + 1) * parts) - at) // room
            dents[dent] += fit
            at += fit * room
    return dents


def _cut(number: int, ends: tuple[int, int], stops: Sequence[int], start_dent: int) -> SectionSley:
    start, stop = ends
    first, last = bisect_right(stops, start) - 1, bisect_right(stops, stop - 1) - 1
    bounds = [min(stop, max(start, bound)) for bound in stops[first : last + 2]]
    dents = tuple(after - before for before, after in pairwise(bounds))
    return SectionSley(
        number, start_dent + first, start_dent + last, _runs(dents), stops[first] < start, stop < stops[last + 1]
    )


def _runs(dents: tuple[int, ...]) -> tuple[SleyRun, ...]:
    """Write a row of dents as repeats, from the left always the order that reaches furthest."""
    runs: list[SleyRun] = []
    at = 0
    while at < len(dents):
        times, length = max(
            ((_times(dents, at, length), length) for length in range(1, MOST_IN_ORDER + 1)),
            key=lambda found: (found[0] * found[1] if found[0] > 1 else 1, -found[1]),
        )
        runs.append(SleyRun(times, dents[at : at + length]))
        at += times * length
    return tuple(runs)


def _times(dents: tuple[int, ...], at: int, length: int) -> int:
    """Count how often the order of this length stands in a row."""
    order, times = dents[at : at + length], 1
    while dents[at + times * length : at + (times + 1) * length] == order:
        times += 1
    return times
