"""Widths near the planned one that fit better, and how the repeat of a colour order falls into the sections."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from math import ceil, isqrt, lcm

from planner.calc.terms.plan import RepeatLayouts
from studio.quantities import Cm, Ends, EndsExact, Layouts, Sections

MOST_ALTERNATIVES = 3
"""Widths offered at once."""

FARTHEST = Fraction(1, 4)
"""Share by which an offered count may differ from the planned one. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Count:
    """A count of ends and what it fills."""

    ends: Ends  # extra selvedge ends not counted
    sections_full: bool
    repeats_whole: bool  # with the balance asked for


def layouts_of_repeat(repeat: Ends, section: EndsExact) -> Layouts:
    """Count the different full sections that a repeat gives before the layout comes round again.

    layouts = lcm(repeat, section) / section, which is the denominator of section / repeat in lowest terms; so written
    it serves sections of 7 1/2 ends too.
    Source: plain arithmetic. Raises ValueError if `repeat` or `section` is not above zero.

    Thirty ends of stripes on sections of 24, and 24 ends, such as 12 A, 7 B, 5 C:
    >>> layouts_of_repeat(30, Fraction(24)), layouts_of_repeat(24, Fraction(24))
    (5, 1)
    """
    if repeat < 1 or section <= 0:
        raise ValueError(f"repeat {repeat} and section {section} must be above zero")
    return (section / repeat).denominator


def repeat_of_one_layout(repeat: Ends, section: EndsExact) -> Ends:
    """Give the nearest repeat that makes every full section alike.

    Sections are alike when the repeat divides them, so the answer is the nearest divisor, the larger of two as near; 0
    where a full section has no whole number of ends.
    Source: plain arithmetic. Raises ValueError if `repeat` or `section` is not above zero.

    >>> repeat_of_one_layout(30, Fraction(24)), repeat_of_one_layout(9, Fraction(24))
    (24, 8)
    """
    if repeat < 1 or section <= 0:
        raise ValueError(f"repeat {repeat} and section {section} must be above zero")
    if section.denominator > 1:
        return 0
    whole = section.numerator
    small = [number for number in range(1, isqrt(whole) + 1) if whole % number == 0]
    return min((*small, *(whole // number for number in small)), key=lambda number: (abs(number - repeat), -number))


def repeat_layouts(repeat: Ends, section: EndsExact) -> RepeatLayouts:
    """Tell how a repeat falls into the sections.

    `layouts_of_repeat` and `repeat_of_one_layout` together.
    Source: plain arithmetic. Raises ValueError if `repeat` or `section` is not above zero.

    >>> found = repeat_layouts(30, Fraction(24))
    >>> found.layouts, found.one_layout
    (5, 24)
    """
    return RepeatLayouts(repeat, section, layouts_of_repeat(repeat, section), repeat_of_one_layout(repeat, section))


def sections_for(width: Cm, pitch: Cm) -> Sections:
    """Give the fewest sections that hold a width.

    A warp about the middle with two partial edges lies in one section more.
    Source: plain arithmetic. Raises ValueError if `width` or `pitch` is not above zero.

    >>> sections_for(Fraction(26), Fraction(2)), sections_for(Fraction(43, 20), Fraction(1))
    (13, 3)
    """
    if width <= 0 or pitch <= 0:
        raise ValueError(f"width {width} and pitch {pitch} must be above zero")
    return ceil(width / pitch)


def ends_to_ask(ends: Ends, selvedge: Ends) -> Ends:
    """Give the count to ask for on the sheet so that so many ends lie on the beam.

    `ends` count the extra selvedge ends, `selvedge` on each side; the count asked for does not.
    Source: plain arithmetic. Raises ValueError if `selvedge` is below zero, or nothing is left between the selvedges.

    >>> ends_to_ask(484, 2)
    480
    """
    if selvedge < 0 or ends <= 2 * selvedge:
        raise ValueError(f"selvedge {selvedge} must not be below zero, and ends {ends} must be more than both of them")
    return ends - 2 * selvedge


def better_counts(
    planned: Count, section: EndsExact | None, repeat: Ends, balance: Ends, multiple: Ends = 1
) -> tuple[Count, ...]:
    """Give the nearest counts of ends that fit the sections, the repeat, or both, better than the planned one.

    `section` is None on a plain beam or where setts differ, `repeat` 0 without a colour order, `balance` what follows
    the last repeat so that the edges match. For each of the three wishes the nearest count below and above is looked
    for, no farther than `FARTHEST`.
    Source: plain arithmetic. Raises ValueError if `section` is not above zero, `multiple` is below one, or `repeat` or
    `balance` below zero.

    A warp of 600 ends on sections of 48, and 370 ends of a 30-end repeat on sections of 24:
    >>> [found.ends for found in better_counts(Count(600, False, False), Fraction(48), 0, 0)]
    [576, 624]
    """
    if (section is not None and section <= 0) or multiple < 1 or repeat < 0 or balance < 0:
        raise ValueError(f"section {section}, multiple {multiple}, repeat {repeat} and balance {balance}")
    near = {
        ends: _count(ends, section, repeat, balance) for ends in _near(planned.ends, section, repeat, balance, multiple)
    }
    return better_of(planned, near.values())


def better_of(planned: Count, counts: Iterable[Count]) -> tuple[Count, ...]:
    """Keep of some counts the nearest that fit better than the planned one.

    A count is better when it fills all that the planned one fills and something more; the nearest that fits both always
    stays. Three at most, the nearest first.
    Source: plain comparison.

    >>> tried = [Count(330, False, True), Count(360, True, False), Count(380, False, False)]
    >>> [found.ends for found in better_of(Count(384, False, False), tried)]
    [360, 330]
    """
    better = [count for count in counts if _is_better(count, planned)]
    nearest = sorted(better, key=lambda count: (abs(count.ends - planned.ends), count.ends))
    fits_both = [count for count in nearest if count.sections_full and count.repeats_whole]
    kept = nearest[:MOST_ALTERNATIVES]
    return tuple(kept if not fits_both or fits_both[0] in kept else [*kept[:-1], fits_both[0]])


def _count(ends: int, section: Fraction | None, repeat: int, balance: int) -> Count:
    full = section is not None and (ends / section).denominator == 1
    return Count(ends, full, repeat > 0 and ends - balance >= repeat and (ends - balance) % repeat == 0)


def _is_better(count: Count, planned: Count) -> bool:
    now, then = (count.sections_full, count.repeats_whole), (planned.sections_full, planned.repeats_whole)
    return now != then and all(new or not old for new, old in zip(now, then, strict=True))


def _near(ends: int, section: Fraction | None, repeat: int, balance: int, multiple: int) -> Iterator[int]:
    """Give for each wish the nearest count below and above, as far as there is one."""

    def whole(count: int) -> bool:
        return count - balance >= repeat and (count - balance) % repeat == 0

    if section is not None:
        step = lcm(section.numerator, multiple)
        yield from _beside(ends, step, 0, lambda _count: True)
        if repeat:
            yield from _beside(ends, step, 0, whole)
    if repeat:
        yield from _beside(ends, repeat, balance, lambda count: count % multiple == 0 and whole(count))


def _beside(ends: int, step: int, first: int, fits: Callable[[int], bool]) -> Iterator[int]:
    """Give the nearest count of `first` and whole steps that fits, below the ends and above them."""
    within = int(ends * FARTHEST)
    below = ends - 1 - (ends - 1 - first) % step
    above = ends + 1 + (first - ends - 1) % step
    yield from islice(filter(fits, range(below, max(0, ends - within - 1), -step)), 1)
    yield from islice(filter(fits, range(above, ends + within + 1, step)), 1)
