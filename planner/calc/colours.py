"""Colours: a typed colour order laid over the whole warp, and the warp's order cut into pieces.

An order is a tuple of runs, seat view from the left. Everything here works run by run, never end by end.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate, pairwise

from planner.calc.brief import Layout
from planner.calc.plan import ColourRun


def total(runs: Iterable[ColourRun]) -> int:
    return sum(run.ends for run in runs)


def counts(runs: Iterable[ColourRun]) -> Mapping[str, int]:
    found: dict[str, int] = {}
    for run in runs:
        found[run.code] = found.get(run.code, 0) + run.ends
    return found


def merged(runs: Iterable[ColourRun]) -> tuple[ColourRun, ...]:
    joined: list[ColourRun] = []
    for run in runs:
        if run.ends < 0:
            raise ValueError(f"runs hold {run.ends} ends of {run.code}; a run must not be below zero")
        if joined and joined[-1].code == run.code:
            joined[-1] = ColourRun(run.code, joined[-1].ends + run.ends)
        elif run.ends:
            joined.append(run)
    return tuple(joined)


def cut_many(runs: Sequence[ColourRun], bounds: Sequence[int]) -> tuple[tuple[ColourRun, ...], ...]:
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


def cut(runs: Sequence[ColourRun], start: int, stop: int) -> tuple[ColourRun, ...]:
    return cut_many(runs, (start, stop))[0]


def _periodic(order: Sequence[ColourRun], skip: int, ends: int) -> tuple[ColourRun, ...]:
    repeats = -(-(skip + ends) // total(order))
    return cut(tuple(order) * repeats, skip, skip + ends)


def fill(order: Sequence[ColourRun], layout: Layout, ends: int) -> tuple[ColourRun, ...]:
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
