"""Crammed and spaced cloth: stripes at setts of their own, laid side by side until a width is full.

Such a warp has no one sett, so no width times a sett counts its ends. The colour order is laid out as it will lie, and
its width is looked at after each end; run by run, so that ten thousand ends cost no more than a hundred.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, islice
from math import ceil, floor, lcm

from planner.calc.terms.brief import Layout
from planner.calc.terms.plan import ColourRun
from studio.quantities import Cm, Ends, EndsPerCm, Sections

FARTHEST = Fraction(1, 4)
"""Share by which an offered count may differ from the planned one. Common practice, no source."""

MOST_TRIED = 100
"""Whole repeats looked at on each side for one that fills whole sections."""


@dataclass(frozen=True, slots=True)
class Stripes:
    """A colour order whose stripes have setts of their own, and how it fills a warp."""

    order: tuple[ColourRun, ...]  # one repeat as typed, seat view from the left
    setts: tuple[EndsPerCm, ...]  # of each run
    layout: Layout = Layout.REPEAT


def width_laid(stripes: Stripes, ends: Ends) -> Cm:
    """Give the width of so many ends of a colour order, each stripe at its own sett.

    The width is the sum of ends / sett over the stripes, the last one cut where the ends run out; laid out as a colour
    order is: repeated from the left, its rest halved between both sides, or turned back at the middle. Extra selvedge
    ends are not counted.
    Source: plain arithmetic. Raises ValueError if the order is empty, it and its setts do not pair, a number of ends is
    below zero or a sett not above.

    60 ends at 20 to the inch and 60 at 10, laid over 240 and over 320 ends, in inches:
    >>> stripes = Stripes((ColourRun("A", 60), ColourRun("B", 60)), (Fraction(20), Fraction(10)))
    >>> [str(width_laid(stripes, ends)) for ends in (120, 240, 320)]
    ['9', '18', '23']
    """
    if ends < 0:
        raise ValueError(f"ends {ends} must not be below zero")
    laid, scale = _laid(stripes)
    return Fraction(laid(ends), scale)


def ends_that_fill(width: Cm, stripes: Stripes, first: Ends = 1, step: Ends = 1) -> Ends:
    """Count the ends of a crammed and spaced warp that fill a width.

    `first` are the fewest ends to think of; from these they go up by `step`, such as pairs or whole repeats. The count
    whose width is nearest, of two as near the larger. The order is laid out end by end until the width is full; found
    by halving, since each end makes it wider. A mean sett would count the stripe that comes last as if it were half of
    each.
    Source: plain arithmetic. Raises ValueError if `width`, `first` or `step` is not above zero, or the stripes are
    none.

    Twenty-three inches of 60 ends at 20 and 60 at 10, then whole repeats of the same:
    >>> stripes = Stripes((ColourRun("A", 60), ColourRun("B", 60)), (Fraction(20), Fraction(10)))
    >>> ends_that_fill(Fraction(23), stripes), ends_that_fill(Fraction(23), stripes, 120, 120)
    (320, 360)
    """
    if width <= 0 or first < 1 or step < 1:
        raise ValueError(f"width {width}, first {first} and step {step} must be above zero")
    laid, scale = _laid(stripes)
    most = max(0, ceil((width * max(stripes.setts) - first) / step)) + 1
    counts = range(first, first + most * step + 1, step)
    over = bisect_right(counts, floor(width * scale), key=laid)
    if over == 0:
        return first
    below, above = counts[over - 1], counts[over]
    return above if laid(above) + laid(below) <= 2 * width * scale else below


def counts_that_fill(stripes: Stripes, pitch: Cm, ends: Ends, multiple: Ends = 1) -> tuple[tuple[Ends, Sections], ...]:
    """Give the nearest counts of ends, below and above, that are as wide as whole sections to a hair.

    Each whole number of sections is tried, no farther than `FARTHEST`; fewer ends first, none where none near is exact.
    Source: plain arithmetic. Raises ValueError if `pitch`, `ends` or `multiple` is not above zero.

    60 ends at 20 to the inch and 20 at 10 are 5 in. 384 of them are 23.4 in; whole two-inch sections near by:
    >>> stripes = Stripes((ColourRun("A", 60), ColourRun("B", 20)), (Fraction(20), Fraction(10)))
    >>> counts_that_fill(stripes, Fraction(2), 384)
    ((360, 11), (390, 12))
    """
    if pitch <= 0 or ends < 1 or multiple < 1:
        raise ValueError(f"pitch {pitch}, ends {ends} and multiple {multiple} must be above zero")
    (laid, scale), within = _laid(stripes), int(ends * FARTHEST)
    low, high, one = max(0, ends - within), ends + within, pitch * scale

    def exact(places: range) -> Iterator[tuple[int, int]]:
        for places_full in places:
            wanted = places_full * one
            if wanted.denominator > 1:
                continue  # no whole number of ends is so wide
            count = bisect_left(range(low, high + 1), wanted.numerator, key=laid) + low
            if count <= high and count % multiple == 0 and laid(count) == wanted.numerator:
                yield count, places_full
                return

    here = laid(ends) / one
    fewer = exact(range(ceil(here) - 1, max(0, ceil(laid(low) / one) - 1), -1))
    more = exact(range(floor(here) + 1, floor(laid(high) / one) + 1))
    return (*fewer, *more)


def counts_of_repeats(
    stripes: Stripes, ends: Ends, first: Ends, step: Ends, pitch: Cm | None = None
) -> tuple[Ends, ...]:
    """Give the nearest counts of whole repeats, below and above, and the nearest of them that fill whole sections.

    `first` are the fewest ends of whole repeats with their balance, `step` leads to the next; without `pitch` the beam
    is plain. The planned count is not among them. Looked for no farther than `FARTHEST`, and among `MOST_TRIED` counts
    on each side.
    Source: plain arithmetic. Raises ValueError if `ends`, `first`, `step` or `pitch` is not above zero.

    Repeats of 60 ends at 20 to the inch and 20 at 10, 5 in wide: four and six of them fill sections of 2 in.
    >>> stripes = Stripes((ColourRun("A", 60), ColourRun("B", 20)), (Fraction(20), Fraction(10)))
    >>> counts_of_repeats(stripes, 384, 80, 80, Fraction(2))
    (320, 400, 480)
    """
    if ends < 1 or first < 1 or step < 1 or (pitch is not None and pitch <= 0):
        raise ValueError(f"ends {ends}, first {first}, step {step} and pitch {pitch} must be above zero")
    (laid, scale), within = _laid(stripes), int(ends * FARTHEST)
    below = ends - 1 - (ends - 1 - first) % step
    above = max(first, ends + 1 + (first - ends - 1) % step)
    found: list[int] = []
    for counts in (range(below, max(first, ends - within) - 1, -step), range(above, ends + within + 1, step)):
        found += counts[:1]
        if pitch is not None:
            whole = (count for count in counts[:MOST_TRIED] if (laid(count) / (pitch * scale)).denominator == 1)
            found += islice(whole, 1)
    return tuple(dict.fromkeys(found))


def _laid(stripes: Stripes) -> tuple[Callable[[int], int], int]:
    """Give what tells the width of a count of ends, and in how many parts of a centimetre it tells it.

    The parts are such that every end is a whole number of them; the order is added up once.
    """
    order, setts = stripes.order, stripes.setts
    if not order or len(order) != len(setts) or min(setts) <= 0 or min(run.ends for run in order) < 1:
        raise ValueError(f"{len(order)} runs and {len(setts)} setts must be as many, and above zero")
    scale = lcm(*(sett.numerator for sett in setts))
    rooms = [scale // sett.numerator * sett.denominator for sett in setts]
    stops = tuple(accumulate((run.ends for run in order), initial=0))
    edges = tuple(accumulate((run.ends * room for run, room in zip(order, rooms, strict=True)), initial=0))
    repeat, whole = stops[-1], edges[-1]

    def upto(ends: int) -> int:
        at = bisect_right(stops, ends) - 1
        return edges[at] + (ends - stops[at]) * rooms[at] if ends > stops[at] else edges[at]

    def repeated(ends: int) -> int:
        return ends // repeat * whole + upto(ends % repeat)

    def centred(ends: int) -> int:
        rest = ends % repeat
        left = whole - upto(repeat - rest // 2)
        return ends // repeat * whole + left + upto(rest - rest // 2)

    def mirrored(ends: int) -> int:
        return repeated(ends - ends // 2) + repeated(ends // 2)

    return {Layout.CENTRED: centred, Layout.MIRRORED: mirrored}.get(stripes.layout, repeated), scale
