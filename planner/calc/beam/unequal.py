"""Sections that come out unequal: any two of them, at the turns planned and at twice as many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import pi

from planner.calc.terms.plan import Mismatch, Number
from studio.quantities import CmNumber, Place, TurnsNumber

MOST_PAIRS = 15
"""Pairs of unlike sections listed, the worst first."""


def sections_by_depth(depths: Sequence[tuple[Place, CmNumber]]) -> Mapping[CmNumber, tuple[Place, ...]]:
    """Put sections that build up alike together.

    `depths` are the position of each section and what one turn adds in it; the deepest come first.
    Source: plain comparison.

    >>> sections_by_depth([(1, 0.012), (2, 0.01), (3, 0.012)])
    {0.012: (1, 3), 0.01: (2,)}
    """
    found: dict[Number, list[int]] = {}
    for position, depth in depths:
        found.setdefault(depth, []).append(position)
    return {depth: tuple(found[depth]) for depth in sorted(found, reverse=True)}


def mismatches(
    depths: Sequence[tuple[Place, CmNumber]], turns: TurnsNumber, circumference: CmNumber
) -> tuple[Mismatch, ...]:
    """Compare every two unlike groups of sections, the worst pair first.

    dL = pi T^2 (b1 - b2) and its share pi T (b1 - b2) / C0, so twice the turns give four times the length and twice the
    share; see `turns.mismatch`. `MOST_PAIRS` at most; none where all sections are alike.
    Source: plain geometry. Raises ValueError if `turns` or a depth is below zero, or `circumference` is not above zero.

    Thick and thin stripes, in inches: 1.7 in after 15 turns, 6.8 in after 30:
    >>> (worst,) = mismatches([(1, 0.0098), (2, 0.0098), (3, 0.0122)], 15, 36)
    >>> worst.deep, worst.shallow, round(worst.longer, 1), round(worst.longer_at_twice, 1)
    ((3,), (1, 2), 1.7, 6.8)
    """
    if turns < 0 or circumference <= 0 or any(depth < 0 for _, depth in depths):
        raise ValueError(f"turns {turns}, circumference {circumference} and depths must not be below zero")
    groups = sections_by_depth(depths)
    worst = sorted(combinations(groups, 2), key=lambda pair: pair[1] - pair[0])[:MOST_PAIRS]
    return tuple(
        _pair(groups[deep], groups[shallow], float(deep - shallow), turns, circumference) for deep, shallow in worst
    )


def _pair(
    deep: tuple[int, ...], shallow: tuple[int, ...], difference: float, turns: Number, circumference: Number
) -> Mismatch:
    share = pi * float(turns) * difference / float(circumference)
    longer = pi * float(turns) ** 2 * difference
    return Mismatch(deep, shallow, longer, share, 4 * longer, 2 * share)
