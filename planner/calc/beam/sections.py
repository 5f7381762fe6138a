"""Share the ends of a warp among the sections of its beam, seen from the seat.

Places are measured from the warp's left edge as the weaver sees it from the seat. The rule is the raddle's:
round the running total, never the single section, so the total is exact and no end lies far from its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor, lcm

from planner.calc.terms.plan import ColourRun
from studio.quantities import Cm, Ends, EndsExact, EndsPerCm, Place, Sections, Share


def round_half_up(number: EndsExact) -> Ends:
    """Round to the nearest whole number, halves upward.

    Always upward at a half, so that 7 1/2 ends in each section give 8, 7, 8, 7.
    Source: plain arithmetic. Raises ValueError if `number` is below zero.

    >>> round_half_up(Fraction(15, 2)), round_half_up(Fraction(15)), round_half_up(Fraction(45, 2))
    (8, 15, 23)
    """
    if number < 0:
        raise ValueError(f"number {number} must not be below zero")
    return (2 * number.numerator + number.denominator) // (2 * number.denominator)


def ends_per_section(sett: EndsPerCm, pitch: Cm) -> EndsExact:
    """Give the ends that one full section takes; it need not be whole.

    ends = sett x pitch, before anything is rounded.
    Source: T. Vogl, How to calculate yards per spool when warping in sections (2001). Raises ValueError if `sett` or
    `pitch` is not above zero.

    Thirty ends to the inch on two-inch sections:
    >>> ends_per_section(Fraction(1500, 127), Fraction(127, 25))
    Fraction(60, 1)
    """
    if sett <= 0 or pitch <= 0:
        raise ValueError(f"sett {sett} and pitch {pitch} must be above zero")
    return sett * pitch


def boundaries(width: Cm, pitch: Cm, *, section_at_centre: bool = False, shift: Cm = Fraction(0)) -> tuple[Cm, ...]:
    """Give the places where the warp is parted: its left edge, each divider under it, its right edge.

    From the warp's left edge, 0, to its width; `shift` is to the right. Dividers stand at width/2 - shift + k pitch (+
    pitch/2 with a section at the centre).
    Source: plain geometry. Raises ValueError if `width` or `pitch` is not above zero.

    Five inches on two-inch sections about a divider leave half an inch at each edge:
    >>> [str(place) for place in boundaries(Fraction(5), Fraction(2))]
    ['0', '1/2', '5/2', '9/2', '5']
    """
    if width <= 0 or pitch <= 0:
        raise ValueError(f"width {width} and pitch {pitch} must be above zero")
    middle = _middle(width, pitch, section_at_centre=section_at_centre, shift=shift)
    first, last = floor(-middle / pitch) + 1, ceil((width - middle) / pitch) - 1
    return (Fraction(0), *(middle + pitch * k for k in range(first, last + 1)), width)


def _middle(width: Fraction, pitch: Fraction, *, section_at_centre: bool, shift: Fraction) -> Fraction:
    middle = width / 2 - shift
    return middle - pitch / 2 if section_at_centre else middle


def first_position(width: Cm, pitch: Cm, sections: Sections, *, section_at_centre: bool, shift: Cm) -> Place:
    """Give the position on the beam of the warp's leftmost section.

    1 is the beam's left section seen from the seat; below 1 where the warp overhangs. Positions belong to the beam and
    never to the warp, so section 7 is section 7 for ever.
    Source: plain geometry. Raises ValueError if `width` or `pitch` is not above zero, or `sections` is below one.

    Twenty-four inches on a beam of thirty two-inch sections use sections 10 to 21:
    >>> first_position(Fraction(24), Fraction(2), 30, section_at_centre=False, shift=Fraction(0))
    10
    """
    if width <= 0 or pitch <= 0 or sections < 1:
        raise ValueError(f"width {width}, pitch {pitch} and sections {sections} must be above zero")
    middle = _middle(width, pitch, section_at_centre=section_at_centre, shift=shift)
    return floor(-middle / pitch) + sections // 2 + 1


def position_from_back(position: Place, sections: Sections) -> Place:
    """Give the place of a section counted from the left by a person standing behind the loom.

    Left is right from the back: place = sections + 1 - position.
    Source: plain arithmetic. Raises ValueError if `sections` is below one.

    >>> position_from_back(1, 30), position_from_back(21, 30)
    (30, 10)
    """
    if sections < 1:
        raise ValueError(f"sections {sections} must be above zero")
    return sections + 1 - position


def share_ends(bounds: Sequence[Cm], sett: EndsPerCm, ends: Ends) -> tuple[Ends, ...]:
    """Share the ends of an even warp among the stretches between the bounds.

    `bounds` are places from the warp's left edge, rising; a stretch that is too narrow gets 0. Ends up to a bound are
    the sett times its distance, rounded; so no end lies more than half its width out of place.
    Source: common practice, no source. Raises ValueError if there are fewer than two bounds, or `sett` or `ends` is not
    above zero.

    Thirty ends at 7 1/2 to the inch on one-inch sections:
    >>> share_ends([Fraction(k) for k in range(5)], Fraction(15, 2), 30)
    (8, 7, 8, 7)
    """
    if len(bounds) < 2 or sett <= 0 or ends < 1:  # noqa: PLR2004 - a stretch has two bounds
        raise ValueError(f"bounds {len(bounds)}, sett {sett} and ends {ends} do not make a warp")
    return _differences([min(ends, round_half_up(place * sett)) for place in bounds[1:-1]], ends)


def share_runs(bounds: Sequence[Cm], runs: Sequence[ColourRun], setts: Sequence[EndsPerCm]) -> tuple[Ends, ...]:
    """Share the ends of a warp whose runs have setts of their own (crammed and spaced, thick and thin).

    `bounds` are places from the warp's left edge, rising, `setts` those of each run. Ends up to a place are piecewise
    linear, each run with its own slope; the running total is rounded as in `share_ends`. One walk over runs and bounds
    together.
    Source: plain geometry. Raises ValueError if there are fewer than two bounds, or `runs` and `setts` do not pair.

    Two inches at 24 and one inch at 15 ends to the inch, parted every inch:
    >>> runs, setts = [ColourRun("N", 48), ColourRun("T", 15)], [Fraction(24), Fraction(15)]
    >>> share_runs([Fraction(k) for k in range(4)], runs, setts)
    (24, 24, 15)
    """
    if len(bounds) < 2 or len(runs) != len(setts):  # noqa: PLR2004 - a stretch has two bounds
        raise ValueError(f"{len(bounds)} bounds, {len(runs)} runs and {len(setts)} setts do not fit together")
    # In parts of a centimetre that all of them share, whole numbers do what fractions would, in a tenth of the time.
    scale = lcm(*(sett.numerator for sett in setts), *(place.denominator for place in bounds))
    rooms = [scale // sett.numerator * sett.denominator for sett in setts]
    left, before, index, totals = 0, 0, 0, []
    for place in (bound.numerator * (scale // bound.denominator) for bound in bounds[1:-1]):
        while index < len(runs) and (right := left + runs[index].ends * rooms[index]) <= place:
            left, before, index = right, before + runs[index].ends, index + 1
        within, room = (place - left, rooms[index]) if index < len(runs) else (0, 1)
        totals.append(before + (2 * within + room) // (2 * room))
    return _differences(totals, sum(run.ends for run in runs))


def _differences(totals: Sequence[int], ends: int) -> tuple[int, ...]:
    return tuple(upper - lower for lower, upper in pairwise([0, *totals, ends]))


def filled_shares(bounds: Sequence[Cm], pitch: Cm) -> tuple[Share, ...]:
    """Give the part of each section that the warp covers; below 1 at a partial edge.

    `bounds` are places from the warp's left edge, rising.
    Source: plain geometry. Raises ValueError if `pitch` is not above zero.

    >>> [str(share) for share in filled_shares([Fraction(0), Fraction(1, 2), Fraction(5, 2)], Fraction(2))]
    ['1/4', '1']
    """
    if pitch <= 0:
        raise ValueError(f"pitch {pitch} must be above zero")
    return tuple((right - left) / pitch for left, right in pairwise(bounds))


def width_of_full_sections(width: Cm, pitch: Cm, *, section_at_centre: bool) -> tuple[Cm, Cm]:
    """Give the two widths nearest to the wanted one that fill whole sections about the middle.

    The nearest not above and the nearest not below; the lower is 0 where even one section is too wide. Whole sections
    about a divider come in even numbers, about a section in odd ones.
    Source: plain geometry. Raises ValueError if `width` or `pitch` is not above zero.

    >>> [str(fits) for fits in width_of_full_sections(Fraction(25), Fraction(2), section_at_centre=False)]
    ['24', '28']
    """
    if width <= 0 or pitch <= 0:
        raise ValueError(f"width {width} and pitch {pitch} must be above zero")
    base = pitch if section_at_centre else Fraction(0)
    steps = (width - base) / (2 * pitch)
    return max(Fraction(0), base + 2 * pitch * floor(steps)), base + 2 * pitch * ceil(steps)
