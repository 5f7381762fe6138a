"""Calibration: what the tape says about a beam, with the tape's own doubt carried to the end.

Ranges are carried by exact bounds: each sum here rises or falls steadily with each thing put into it, so its bounds
come from theirs, and pi itself is held between two fractions. Nothing is assumed about how errors are spread.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Annotated

from planner.calc.terms.plan import Range, TurnsRange
from studio.quantities import Cm, EndsPerCm, Pure, Share, Tex, Turns

CmRange = Annotated[Range, "cm"]

PI_LOW = Fraction(314159265358979, 10**14)
PI_HIGH = PI_LOW + Fraction(1, 10**14)
PI = (PI_LOW + PI_HIGH) / 2

REACHED = 1 - Fraction(1, 10**9)
"""Part of a wanted length that counts as reaching it, as for whole turns of any beam."""


@dataclass(frozen=True, slots=True)
class Combined:
    """Several measurements of one figure, taken together."""

    range: Range  # what all allow; where they contradict each other, all that any of them allows
    agree: bool  # there is a figure that all of them allow


def taped(length: Cm, tape: Cm) -> CmRange:
    """Give a taped length with the doubt of the tape.

    A reading can be wrong by `tape`, either way: round a beam, over yarn, a millimetre (common practice, no source).
    Source: plain arithmetic. Raises ValueError if `tape` is below zero, or `length` is not above it.

    >>> taped(Fraction(90), Fraction(1, 10)).low
    Fraction(899, 10)
    """
    if tape < 0 or length <= tape:
        raise ValueError(f"tape {tape} must not be below zero, and length {length} must be above it")
    return Range(length - tape, length, length + tape)


def depth_range(turns: Turns, start: Cm, end: Cm, tape: Cm) -> CmRange:
    """Give the depth of one turn from two taped circumferences, with its doubt.

    b = (C1 - C0) / (2 pi T), with both readings wrong in opposite ways at the bounds; the low end stops at 0. A layer
    of depth b adds 2 pi b to the round of any convex beam.
    Source: plain geometry. Raises ValueError if `turns` or `start` is not above zero, `tape` is below, or `end` is
    below `start`.

    Twelve turns between 91.4 and 94.9 cm, read to a millimetre:
    >>> found = depth_range(12, Fraction("91.4"), Fraction("94.9"), Fraction("0.1"))
    >>> [round(float(depth), 4) for depth in (found.low, found.likely, found.high)]
    [0.0438, 0.0464, 0.0491]
    """
    if turns < 1 or start <= 0 or tape < 0 or end < start:
        raise ValueError(f"turns {turns}, start {start}, end {end} and tape {tape} are no winding")
    grown = end - start
    low = max(Fraction(0), grown - 2 * tape) / (2 * PI_HIGH * turns)
    return Range(low, grown / (2 * PI * turns), (grown + 2 * tape) / (2 * PI_LOW * turns))


def turns_to_tell(depth: Cm, tape: Cm, share: Share) -> Turns:
    """Give the turns to wind between two tapings so that the depth is known well enough.

    `share` is the most the depth may be wrong. Two readings are wrong by 2 tape at most, T turns add 2 pi b T: T = tape
    / (pi b share), rounded up.
    Source: plain geometry. Raises ValueError if `depth` or `share` is not above zero, or `tape` is below.

    A layer of half a millimetre, a tape read to a millimetre, a tenth allowed:
    >>> turns_to_tell(Fraction(1, 20), Fraction(1, 10), Fraction(1, 10))
    7
    """
    if depth <= 0 or share <= 0 or tape < 0:
        raise ValueError(f"depth {depth} and share {share} must be above zero, tape {tape} not below")
    return max(1, ceil(tape / (PI_LOW * depth * share)))


def combined(ranges: Sequence[Range]) -> Combined:
    """Take several measurements of one figure together.

    Bounds are cut, not averaged: each range holds the figure, so the figure lies in all of them, its middle the
    likeliest. Where nothing lies in all, a reading, a count of turns or the yarn was another: all that any allows, and
    the mean of all is the likeliest.
    Source: plain logic. Raises ValueError if there are none.

    >>> both = combined([Range(Fraction(4), Fraction(5), Fraction(6)), Range(Fraction(5), Fraction(6), Fraction(7))])
    >>> both.range.low, both.range.likely, both.range.high, both.agree
    (Fraction(5, 1), Fraction(11, 2), Fraction(6, 1), True)
    """
    if not ranges:
        raise ValueError("ranges must hold at least one measurement")
    low, high = max(one.low for one in ranges), min(one.high for one in ranges)
    if low <= high:
        return Combined(Range(low, (low + high) / 2, high) if len(ranges) > 1 else ranges[0], agree=True)
    mean = sum((one.likely for one in ranges), Fraction(0)) / len(ranges)
    return Combined(Range(min(one.low for one in ranges), mean, max(one.high for one in ranges)), agree=False)


def length_range(turns: Turns, circumference: CmRange, depth: CmRange) -> CmRange:
    """Give the length that turns wind on, with its doubt.

    L = T (C0 + pi b T) rises with C0, round the empty bars, and with b, so its bounds are reached at theirs.
    Source: the length of a roll; Math Forum, Dr Peterson, November 2003. Raises ValueError if `turns` or the depth is
    below zero, or the circumference is not above.

    >>> found = length_range(11, taped(Fraction(36), Fraction(0)), Range(*[Fraction("0.01017")] * 3))
    >>> round(float(found.likely), 1)
    399.9
    """
    _check_beam(turns, circumference, depth)
    return Range(
        _length(turns, circumference.low, PI_LOW * depth.low),
        _length(turns, circumference.likely, PI * depth.likely),
        _length(turns, circumference.high, PI_HIGH * depth.high),
    )


def turns_range(length: Cm, circumference: CmRange, depth: CmRange) -> TurnsRange:
    """Give the whole turns for a wanted length, with their doubt.

    Halving among whole numbers, exact. A thin layer on a small beam needs most, the safe number.
    Source: plain arithmetic. Raises ValueError if `length` or the depth is below zero, or the circumference is not
    above.

    >>> turns_range(Fraction(1440), taped(Fraction(18), Fraction("0.2")), Range(*[Fraction("0.0122")] * 3))
    TurnsRange(fewest=70, likely=70, safe=71)
    """
    _check_beam(0 if length >= 0 else -1, circumference, depth)
    goal = length * REACHED
    return TurnsRange(
        _fewest(goal, circumference.high, PI_HIGH * depth.high),
        _fewest(goal, circumference.likely, PI * depth.likely),
        _fewest(goal, circumference.low, PI_LOW * depth.low),
    )


def density_range(depth: CmRange, ends_per_cm: EndsPerCm, tex: Tex) -> Annotated[Range, "g/cm3"]:
    """Give the density of yarn as wound, from a depth that was measured.

    density = ends x tex / (100 000 b), to be kept with the yarn for the next beam. Where the depth's low end is 0 the
    tape cannot tell: wind more turns first, as many as `turns_to_tell` says.
    Source: plain geometry. Raises ValueError if `ends_per_cm`, `tex` or the low end of `depth` is not above zero.

    >>> found = density_range(Range(*[Fraction("0.03375")] * 3), Fraction(8), Fraction("147.635"))
    >>> round(float(found.likely), 3)
    0.35
    """
    if depth.low <= 0 or ends_per_cm <= 0 or tex <= 0:
        raise ValueError(f"low end of depth {depth.low}, ends_per_cm {ends_per_cm} and tex {tex} must be above zero")
    mass = ends_per_cm * tex / 100_000
    return Range(mass / depth.high, mass / depth.likely, mass / depth.low)


def round_range(turns: Turns, circumference: CmRange, depth: CmRange) -> CmRange:
    """Give the circumference to find after so many turns, with its doubt.

    C = C0 + 2 pi b T; the inverse of `depth_range`.
    Source: plain geometry. Raises ValueError if `turns` or the depth is below zero, or the circumference is not above.

    >>> exact = Range(*[Fraction("0.0183")] * 3)
    >>> round(float(round_range(12, taped(Fraction(36), Fraction(0)), exact).likely), 2)
    37.38
    """
    _check_beam(turns, circumference, depth)
    return Range(
        circumference.low + 2 * PI_LOW * depth.low * turns,
        circumference.likely + 2 * PI * depth.likely * turns,
        circumference.high + 2 * PI_HIGH * depth.high * turns,
    )


def outward(found: Range, step: Pure) -> Range:
    """Round a range to a short figure without making it narrower.

    The step is in the unit of the range. Low end down, high end up, the likeliest to the nearest step: a doubt must
    never look smaller than it is.
    Source: plain arithmetic. Raises ValueError if `step` is not above zero.

    >>> outward(Range(Fraction("0.4321"), Fraction("0.4567"), Fraction("0.4801")), Fraction(1, 1000)).high
    Fraction(481, 1000)
    """
    if step <= 0:
        raise ValueError(f"step {step} must be above zero")
    return Range(floor(found.low / step) * step, round(found.likely / step) * step, ceil(found.high / step) * step)


def _check_beam(turns: int, circumference: Range, depth: Range) -> None:
    if turns < 0 or circumference.low <= 0 or depth.low < 0:
        raise ValueError(f"turns or length below zero, circumference {circumference.low} or depth {depth.low}")


def _length(turns: int, empty: Fraction, pi_depth: Fraction) -> Fraction:
    return turns * (empty + pi_depth * turns)


def _fewest(goal: Fraction, empty: Fraction, pi_depth: Fraction) -> int:
    most = ceil(goal / empty)  # enough without any build-up
    return bisect_left(range(most), goal, key=lambda turns: _length(turns, empty, pi_depth))
