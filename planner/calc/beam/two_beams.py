"""Warps on two beams: which ends lie on this one, how they lie in its sections, and what unequal take-up asks for.

A cloth of thick and thin, or of plain and puckered stripes, is often put on two warp beams, since each kind takes up
and builds up differently. One sheet plans one beam; the ends of some yarns lie *elsewhere*, on the other one.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate, groupby, pairwise

from planner.calc.terms.plan import ColourRun
from studio.quantities import Cm, Ends, EndsPerCm, Share

ZERO, ONE = Fraction(0), Fraction(1)

NARROW_MARGIN = Fraction(1, 8)
"""Room beside the ends, as a part of the section, that nobody keeps free on purpose. An estimate, no source."""


def ends_here(runs: Sequence[ColourRun], elsewhere: Collection[str]) -> tuple[ColourRun, ...]:
    """Take the ends of this beam out of the order of the whole cloth.

    `elsewhere` are the yarns on the other beam; the ends come in the fewest runs.
    Source: plain arithmetic.

    >>> stripes = (ColourRun("N", 48), ColourRun("T", 30), ColourRun("N", 48))
    >>> ends_here(stripes, {"T"}), ends_here(stripes, {"N"})
    ((ColourRun(code='N', ends=96),), (ColourRun(code='T', ends=30),))
    """
    kept = (run for run in runs if run.code not in elsewhere)
    return tuple(ColourRun(code, sum(run.ends for run in same)) for code, same in groupby(kept, lambda run: run.code))


def counts_here(runs: Sequence[ColourRun], sizes: Sequence[Ends], elsewhere: Collection[str]) -> tuple[Ends, ...]:
    """Count the ends of this beam in each of neighbouring lots of the cloth, such as raddle spaces.

    Source: plain arithmetic. Raises ValueError if the lots hold more ends than the order.

    >>> counts_here((ColourRun("A", 6), ColourRun("B", 4), ColourRun("A", 2)), [5, 5, 2], {"B"})
    (5, 1, 2)
    """
    stops = tuple(accumulate(sizes, initial=0))
    if stops[-1] > sum(run.ends for run in runs):
        raise ValueError(f"lots of {stops[-1]} ends are more than the order holds")
    before, at, counted, found = 0, 0, 0, [0]
    for stop in stops[1:]:
        while at < len(runs) and before + runs[at].ends <= stop:
            counted += 0 if runs[at].code in elsewhere else runs[at].ends
            before, at = before + runs[at].ends, at + 1
        part = 0 if at == len(runs) or runs[at].code in elsewhere else stop - before
        found.append(counted + part)
    return tuple(upper - lower for lower, upper in pairwise(found))


def places_across(
    runs: Sequence[ColourRun], lots: Sequence[Ends], elsewhere: Collection[str]
) -> tuple[tuple[Ends, Ends], ...]:
    """Say from where to where across the cloth each lot of this beam's ends reaches, such as its sections or chains.

    Ends of the cloth before the first and up to the last of each lot.
    Source: plain arithmetic. Raises ValueError if a lot is empty, or the lots are not all the ends of this beam.

    Two sections of 48 thin ends, then one beyond a stripe of 30 thick ones that lie on the other beam:
    >>> stripes = (ColourRun("N", 96), ColourRun("T", 30), ColourRun("N", 48))
    >>> places_across(stripes, [48, 48, 48], {"T"})
    ((0, 48), (48, 96), (126, 174))
    """
    bounds, kept = tuple(accumulate(lots, initial=0)), [run for run in runs if run.code not in elsewhere]
    if min(lots, default=0) < 1 or bounds[-1] != sum(run.ends for run in kept):
        raise ValueError(f"lots {bounds[-1]} must be the ends of this beam, none empty")
    stretches, cloth, here = [], 0, 0
    for run in runs:
        if run.code not in elsewhere:
            stretches.append((here, here + run.ends, cloth - here))
            here += run.ends
        cloth += run.ends
    found, at = [], 0
    for start, stop in pairwise(bounds):
        while stretches[at][1] <= start:
            at += 1
        last = at
        while stretches[last][1] < stop:
            last += 1
        found.append((start + stretches[at][2], stop + stretches[last][2]))
    return tuple(found)


def span_of(runs: Sequence[ColourRun], setts: Mapping[str, EndsPerCm], elsewhere: Collection[str]) -> tuple[Cm, Cm]:
    """Say where across some ends of the cloth the first and the last end of this beam stand.

    Each end takes the room its sett gives it, on whichever beam it lies; places are from the left edge of these ends.
    Source: plain geometry. Raises ValueError if no end of this beam is among them.

    >>> stripes = (ColourRun("N", 48), ColourRun("T", 30), ColourRun("N", 24))
    >>> [str(place) for place in span_of(stripes, {"N": Fraction(24), "T": Fraction(15)}, {"N"})]
    ['2', '4']
    """
    lying = _lying(runs, setts, elsewhere)
    return lying[0][0], lying[-1][1]


def _lying(
    runs: Sequence[ColourRun], setts: Mapping[str, Fraction], elsewhere: Collection[str]
) -> list[tuple[Fraction, Fraction]]:
    """Give left and right edge of each run of this beam."""
    edges = accumulate((run.ends / setts[run.code] for run in runs), initial=ZERO)
    lying = [place for run, place in zip(runs, pairwise(edges), strict=True) if run.code not in elsewhere]
    if not lying:
        raise ValueError("runs must hold an end of this beam")
    return lying


def stretch_of(
    runs: Sequence[ColourRun], setts: Mapping[str, EndsPerCm], elsewhere: Collection[str], pitch: Cm
) -> tuple[Share, Share]:
    """Say over what part of a section's width the ends of this beam lie.

    From the first to the last end of this beam, as parts of the width the runs take. Room beside them that is no wider
    than a gap between them, or than `NARROW_MARGIN` of the section, is theirs too: ends that alternate are spread over
    the whole section.
    Source: plain geometry. Raises ValueError if no end of this beam is among the runs, or `pitch` is not above zero.

    A stripe in the right half of a section:
    >>> setts, pitch = {"A": Fraction(12), "B": Fraction(12)}, Fraction(2)
    >>> [str(part) for part in stretch_of((ColourRun("B", 12), ColourRun("A", 12)), setts, {"B"}, pitch)]
    ['1/2', '1']
    """
    if pitch <= 0:
        raise ValueError(f"pitch {pitch} must be above zero")
    lying, whole = _lying(runs, setts, elsewhere), sum((run.ends / setts[run.code] for run in runs), ZERO)
    gap = max((right[0] - left[1] for left, right in pairwise(lying)), default=ZERO)
    narrow, first, last = max(gap, NARROW_MARGIN * pitch), lying[0][0], lying[-1][1]
    return ZERO if first <= narrow else first / whole, ONE if whole - last <= narrow else last / whole


def take_up_needs(length: Cm, more: Share, less: Share) -> Cm:
    """Give how much more warp a yarn needs than its neighbour, because weaving takes up more of it.

    The cloth of `length` is length (1 - more), and the neighbour weaves it from length (1 - more) / (1 - less).
    Source: plain arithmetic. Raises ValueError if `length` is below zero, or the take-ups are not 0 <= less <= more <
    1.

    Thick yarn that takes up 2 % more than thin, over 15 yards, in inches:
    >>> float(take_up_needs(Fraction(540), Fraction(2, 100), Fraction(0)))
    10.8
    """
    if length < 0 or not 0 <= less <= more < 1:
        raise ValueError(f"length {length}, more {more} and less {less} must not be below zero, less at most more")
    return length * (more - less) / (1 - less)
