"""Positions on the beam in short text: 3, 7–9. Words, not a sum."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby


def spans(numbers: Sequence[int], dash: str = "–") -> str:
    """Write numbers as spans, neighbours joined.

    Whatever the order, the text reads back to the same numbers.

    >>> spans((1, 2, 3, 7, 9, 10)), spans((3, 7, 8, 9), "-")
    ('1–3, 7, 9–10', '3, 7-9')
    """
    runs = (tuple(same) for _, same in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]))
    return ", ".join(_span(run[0][1], run[-1][1], dash) for run in runs)


def _span(first: int, last: int, dash: str) -> str:
    return str(first) if first == last else f"{first}{dash}{last}"
