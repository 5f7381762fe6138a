"""Threadings and lift plans in a brief document: as numbers of shafts, as words, or as a small grid."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from planner.brief.fields import LONGEST_WORDS, Kind, text_of
from planner.calc.cloth import weave
from planner.calc.reed import threading_guide
from planner.calc.terms.bounds import MOST_THREADED
from studio.units import UnitError, Units

STRAIGHT = "straight"
DRAWS: Mapping[str, tuple[Callable[[int], tuple[int, ...]], str]] = MappingProxyType({
    "point": (threading_guide.point, "at least one shaft"),
    "broken": (threading_guide.broken, f"an even number of shafts, at least {threading_guide.FEWEST_OF_BROKEN}"),
    "lace": (threading_guide.lace, f"at least {threading_guide.FEWEST_OF_LACE} shafts"),
})  # fmt: skip
"""Threadings that a word stands for once the shafts are known, and the shafts each asks for."""


def _read_threading(value: object, _units: Units | None) -> tuple[int, ...] | str:
    """Read shaft numbers from the first end; a word of DRAWS is settled later, when the shafts are known."""
    text = text_of(value, LONGEST_WORDS, "1, 2, 3, 4").lower()
    if text in {"", STRAIGHT}:
        return ()
    if text in DRAWS:
        return text
    numbers = re.split(r"[\s,;-]+", text)
    if len(numbers) > MOST_THREADED or not all(re.fullmatch(r"\d{1,2}", number, re.ASCII) for number in numbers):
        words = ", ".join([STRAIGHT, *DRAWS])
        raise UnitError("not_a_threading", f"Write the shafts in order, such as “1, 2, 3, 4”, or one of: {words}.")
    return tuple(map(int, numbers))


threading = Kind(_read_threading, lambda shafts: ", ".join(map(str, shafts)) or STRAIGHT)


def settled_threading(typed: tuple[int, ...] | str, shafts: int) -> tuple[int, ...]:
    """Give one repeat of a threading as shaft numbers, now that the shafts are known.

    Examples
    --------
    >>> settled_threading("point", 4), settled_threading("broken", 4), settled_threading((1, 3), 4)
    ((1, 2, 3, 4, 3, 2), (1, 2, 3, 4, 2, 1, 4, 3), (1, 3))
    """
    if not isinstance(typed, str):
        return typed
    draw, asked = DRAWS[typed]
    try:
        return draw(shafts)
    except ValueError:
        there = "1 shaft" if shafts == 1 else f"{shafts} shafts"
        message = f"A {typed} threading needs {asked}; this loom has {there}."
        raise UnitError("shafts_do_not_suit", message) from None


def _read_lifts(value: object, _units: Units | None) -> tuple[tuple[int, ...], ...]:
    """Read the shafts raised in each pick, in numbers or as a grid."""
    text = text_of(value, LONGEST_WORDS, "1 2 / 2 3 / 3 4 / 4 1", lines=True)
    if not text:
        return ()
    try:
        return weave.shafts_raised(weave.read_lifts(text))
    except ValueError:
        message = "Write the shafts raised in each pick, such as “1 2 / 2 3 / 3 4 / 4 1” or “1+2, 2+3, 3+4, 4+1”."
        raise UnitError("not_a_lift_plan", message) from None


lifts = Kind(_read_lifts, lambda picks: " / ".join(" ".join(map(str, pick)) or "-" for pick in picks))


def apart(shaft: int) -> str:
    """Say how to write a number that may be several shafts run together.

    Examples
    --------
    >>> apart(34)
    'For several shafts write 3 4 or 3+4.'
    """
    figures = str(shaft)
    return f"For several shafts write {' '.join(figures)} or {'+'.join(figures)}."
