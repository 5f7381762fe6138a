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

from planner.calc.terms.plan import Range, TurnsRange

PI_LOW = Fraction(314159265358979, 10**14)
PI_HIGH = PI_LOW + Fraction(1, 10**14)
PI = (PI_LOW + PI_HIGH) / 2

REACHED = 1 - Fraction(1, 10**9)
"""Part of a wanted length that counts as reaching it, as for whole turns of any beam."""


@dataclass(frozen=True, slots=True)
class Combined:
    """Several measurements of one figure, taken together.

    Attributes
    ----------
    range : Range
        What all of them allow; where they contradict each other, all that any of them allows. [-]
    agree : bool
        There is a figure that all of them allow. [-]
    """

    range: Range
    agree: bool


def taped(length: Fraction, tape: Fraction) -> Range:
    """Give a taped length with the doubt of the tape.

    Parameters
    ----------
    length : Fraction
        Length as read. [cm]
    tape : Fraction
        Most the reading can be wrong, either way. [cm]

    Returns
    -------
    range : Range
        The length with its bounds. [cm]

    Raises
    ------
    ValueError
        If `tape` is below zero, or `length` is not above it.

    Notes
    -----
    Plain arithmetic. Round a beam, over yarn, a tape is a millimetre wrong (common practice, no source).

    Examples
    --------
    >>> taped(Fraction(90), Fraction(1, 10)).low
    Fraction(899, 10)
    """
    if tape < 0 or length <= tape:
        raise ValueError(f"tape {tape} must not be below zero, and length {length} must be above it")
    return Range(length - tape, length, length + tape)


def depth_range(turns: int, start: Fraction, end: Fraction, tape: Fraction) -> Range:
    """Give the depth of one turn from two taped circumferences, with its doubt.

    Parameters
    ----------
    turns : int
        Turns wound between the two. [turns]
    start : Fraction
        Circumference before. [cm]
    end : Fraction
        Circumference after. [cm]
    tape : Fraction
        Most each reading can be wrong, either way. [cm]

    Returns
    -------
    depth : Range
        Depth of one turn; its low end stops at 0. [cm]

    Raises
    ------
    ValueError
        If `turns` or `start` is not above zero, `tape` is below, or `end` is below `start`.

    Notes
    -----
    b = (C1 - C0) / (2 pi T), with both readings wrong in opposite ways at the bounds. Plain geometry: a layer of
    depth b adds 2 pi b to the round of any convex beam.

    Examples
    --------
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


def turns_to_tell(depth: Fraction, tape: Fraction, share: Fraction) -> int:
    """Give the turns to wind between two tapings so that the depth is known well enough.

    Parameters
    ----------
    depth : Fraction
        Depth of one turn as guessed. [cm]
    tape : Fraction
        Most each reading can be wrong, either way. [cm]
    share : Fraction
        Most the depth may be wrong, either way. [share]

    Returns
    -------
    turns : int
        Fewest turns. [turns]

    Raises
    ------
    ValueError
        If `depth` or `share` is not above zero, or `tape` is below.

    Notes
    -----
    Two readings are wrong by 2 tape at most, T turns add 2 pi b T: T = tape / (pi b share), rounded up. Plain geometry.

    Examples
    --------
    A layer of half a millimetre, a tape read to a millimetre, a tenth allowed:

    >>> turns_to_tell(Fraction(1, 20), Fraction(1, 10), Fraction(1, 10))
    7
    """
    if depth <= 0 or share <= 0 or tape < 0:
        raise ValueError(f"depth {depth} and share {share} must be above zero, tape {tape} not below")
    return max(1, ceil(tape / (PI_LOW * depth * share)))


def combined(ranges: Sequence[Range]) -> Combined:
    """Take several measurements of one figure together.

    Parameters
    ----------
    ranges : Sequence[Range]
        The measurements. [-]

    Returns
    -------
    combined : Combined
        What all allow, its middle as the likeliest; where they contradict each other, all that any allows. [-]

    Raises
    ------
    ValueError
        If there are none.

    Notes
    -----
    Bounds are cut, not averaged: each range holds the figure, so the figure lies in all of them. Where nothing lies in
    all, a reading, a count of turns or the yarn was another, and the mean of all is the likeliest. Plain logic.

    Examples
    --------
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


def length_range(turns: int, circumference: Range, depth: Range) -> Range:
    """Give the length that turns wind on, with its doubt.

    Parameters
    ----------
    turns : int
        Turns of the beam. [turns]
    circumference : Range
        Round the bars, empty. [cm]
    depth : Range
        Depth of one turn. [cm]

    Returns
    -------
    length : Range
        Length of each end. [cm]

    Raises
    ------
    ValueError
        If `turns` or the depth is below zero, or the circumference is not above.

    Notes
    -----
    L = T (C0 + pi b T) rises with C0 and with b, so its bounds are reached at theirs. The length of a roll; Math
    Forum, Dr Peterson, November 2003.

    Examples
    --------
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


def turns_range(length: Fraction, circumference: Range, depth: Range) -> TurnsRange:
    """Give the whole turns for a wanted length, with their doubt.

    Parameters
    ----------
    length : Fraction
        Length wanted. [cm]
    circumference : Range
        Round the bars, empty. [cm]
    depth : Range
        Depth of one turn. [cm]

    Returns
    -------
    turns : TurnsRange
        Turns at best, likely, and for certain. [turns]

    Raises
    ------
    ValueError
        If `length` or the depth is below zero, or the circumference is not above.

    Notes
    -----
    Halving among whole numbers, exact. A thin layer on a small beam needs most, the safe number. Plain arithmetic.

    Examples
    --------
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


def density_range(depth: Range, ends_per_cm: Fraction, tex: Fraction) -> Range:
    """Give the density of yarn as wound, from a depth that was measured.

    Parameters
    ----------
    depth : Range
        Depth of one turn; its low end above 0. [cm]
    ends_per_cm : Fraction
        Ends on a unit of width on the beam. [ends/cm]
    tex : Fraction
        Mass per length of the yarn. [tex]

    Returns
    -------
    density : Range
        Density, to be kept with the yarn for the next beam. [g/cm3]

    Raises
    ------
    ValueError
        If `ends_per_cm`, `tex` or the low end of `depth` is not above zero.

    Notes
    -----
    density = ends x tex / (100 000 b). Where the depth's low end is 0 the tape cannot tell: wind more turns first, as
    many as `turns_to_tell` says. Plain geometry.

    Examples
    --------
    >>> found = density_range(Range(*[Fraction("0.03375")] * 3), Fraction(8), Fraction("147.635"))
    >>> round(float(found.likely), 3)
    0.35
    """
    if depth.low <= 0 or ends_per_cm <= 0 or tex <= 0:
        raise ValueError(f"low end of depth {depth.low}, ends_per_cm {ends_per_cm} and tex {tex} must be above zero")
    mass = ends_per_cm * tex / 100_000
    return Range(mass / depth.high, mass / depth.likely, mass / depth.low)


def round_range(turns: int, circumference: Range, depth: Range) -> Range:
    """Give the circumference to find after so many turns, with its doubt.

    Parameters
    ----------
    turns : int
        Turns of the beam. [turns]
    circumference : Range
        Round the bars, empty. [cm]
    depth : Range
        Depth of one turn. [cm]

    Returns
    -------
    circumference : Range
        Round the yarn at the end. [cm]

    Raises
    ------
    ValueError
        If `turns` or the depth is below zero, or the circumference is not above.

    Notes
    -----
    C = C0 + 2 pi b T; the inverse of `depth_range`. Plain geometry.

    Examples
    --------
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


def outward(found: Range, step: Fraction) -> Range:
    """Round a range to a short figure without making it narrower.

    Parameters
    ----------
    found : Range
        A range of anything. [-]
    step : Fraction
        Step of the short figures, in the same unit. [-]

    Returns
    -------
    range : Range
        Low end down, high end up, the likeliest to the nearest step. [-]

    Raises
    ------
    ValueError
        If `step` is not above zero.

    Notes
    -----
    Plain arithmetic: a doubt must never look smaller than it is.

    Examples
    --------
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
