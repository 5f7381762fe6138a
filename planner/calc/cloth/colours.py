"""Colours: a typed colour order laid over the whole warp, and the warp's order cut into pieces.

An order is a tuple of runs, seat view from the left. Everything here works run by run, never end by end.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate, pairwise

from planner.calc.terms.brief import Layout
from planner.calc.terms.plan import ColourRun
from studio.quantities import Ends


def total(runs: Iterable[ColourRun]) -> Ends:
    """Count the ends of an order.

    Source: plain arithmetic.

    >>> total((ColourRun("A", 15), ColourRun("B", 9)))
    24
    """
    return sum(run.ends for run in runs)


def counts(runs: Iterable[ColourRun]) -> Mapping[str, Ends]:
    """Count the ends of each yarn.

    Codes come in the order they first appear.
    Source: plain arithmetic.

    >>> counts((ColourRun("A", 15), ColourRun("B", 9), ColourRun("A", 1)))
    {'A': 16, 'B': 9}
    """
    found: dict[str, int] = {}
    for run in runs:
        found[run.code] = found.get(run.code, 0) + run.ends
    return found


def merged(runs: Iterable[ColourRun]) -> tuple[ColourRun, ...]:
    """Join neighbouring runs of one yarn and drop empty ones.

    Source: plain arithmetic. Raises ValueError if `runs` hold one below zero ends.

    >>> merged((ColourRun("A", 2), ColourRun("A", 3), ColourRun("B", 0)))
    (ColourRun(code='A', ends=5),)
    """
    joined: list[ColourRun] = []
    for run in runs:
        if run.ends < 0:
            raise ValueError(f"runs hold {run.ends} ends of {run.code}; a run must not be below zero")
        if joined and joined[-1].code == run.code:
            joined[-1] = ColourRun(run.code, joined[-1].ends + run.ends)
        elif run.ends:
            joined.append(run)
    return tuple(joined)


def cut_many(runs: Sequence[ColourRun], bounds: Sequence[Ends]) -> tuple[tuple[ColourRun, ...], ...]:
    """Cut an order into neighbouring pieces, in one pass over its runs.

    `bounds` are the ends before each cut; first and last are the outer edges.
    Source: plain arithmetic. Raises ValueError if `bounds` fall, or reach outside the order.

    Sections of 24 ends cut stripes of 15 and 9:
    >>> stripes = (ColourRun("A", 15), ColourRun("B", 9), ColourRun("C", 6))
    >>> cut_many(stripes, (0, 24, 30))[1]
    (ColourRun(code='C', ends=6),)
    """
    edges = tuple(accumulate((run.ends for run in runs), initial=0))
    if any(a > b for a, b in pairwise(bounds)) or (bounds and not 0 <= bounds[0] <= bounds[-1] <= edges[-1]):
        raise ValueError(f"bounds must rise within 0 to {edges[-1]}")
    pieces, at = [], 0
    for start, stop in pairwise(bounds):
        while at < len(runs) and edges[at + 1] <= start:
            at += 1
        piece, here = [], at
        while here < len(runs) and edges[here] < stop:
            piece.append(ColourRun(runs[here].code, min(stop, edges[here + 1]) - max(start, edges[here])))
            here += 1
        pieces.append(merged(piece))
        at = max(at, here - 1)
    return tuple(pieces)


def cut(runs: Sequence[ColourRun], start: Ends, stop: Ends) -> tuple[ColourRun, ...]:
    """Give the part of an order between two places.

    For many parts of one order `cut_many` reads it only once.
    Source: plain arithmetic.

    >>> cut((ColourRun("A", 15), ColourRun("B", 9)), 14, 16)
    (ColourRun(code='A', ends=1), ColourRun(code='B', ends=1))
    """
    return cut_many(runs, (start, stop))[0]


def _periodic(order: Sequence[ColourRun], skip: int, ends: int) -> tuple[ColourRun, ...]:
    repeats = -(-(skip + ends) // total(order))
    return cut(tuple(order) * repeats, skip, skip + ends)


def fill(order: Sequence[ColourRun], layout: Layout, ends: Ends) -> tuple[ColourRun, ...]:
    """Lay a typed colour order over all ends of the warp.

    `ends` are without selvedges. *Repeat* starts whole at the seat's left and is cut at the right. *Centred* puts the
    whole repeats in the middle and shares what remains between both edges, an odd end to the right, so that an order
    that reads the same from both sides stays so. *Mirrored* repeats from the left edge to the middle and turns back.
    Source: plain arithmetic. Raises ValueError if `order` is empty, `ends` is not above zero, or an order as typed does
    not hold exactly `ends`.

    Forty-five ends of a 30-end order:
    >>> order = (ColourRun("A", 15), ColourRun("B", 9), ColourRun("C", 6))
    >>> [f"{run.ends} {run.code}" for run in fill(order, Layout.REPEAT, 45)]
    ['15 A', '9 B', '6 C', '15 A']
    >>> [f"{run.ends} {run.code}" for run in fill(order, Layout.MIRRORED, 45)]
    ['15 A', '15 B', '15 A']
    """
    repeat = total(order)
    if repeat < 1 or ends < 1:
        raise ValueError(f"order must hold at least one end, ends {ends} must be above zero")
    if layout is Layout.AS_TYPED and repeat != ends:
        raise ValueError(f"order holds {repeat} ends, ends is {ends}; as typed they must be the same")
    if layout is Layout.CENTRED:
        return _periodic(order, -(ends % repeat // 2) % repeat, ends)
    if layout is Layout.MIRRORED:
        left = _periodic(order, 0, ends - ends // 2)
        return merged((*left, *cut(left, 0, ends // 2)[::-1]))
    return _periodic(order, 0, ends)
