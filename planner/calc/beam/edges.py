"""Partial edge sections: what can be done about them, worked out side by side. Places are seen from the seat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from planner.calc.terms.plan import EdgeChoice, EdgeKind
from studio.quantities import Cm, CmFloat, Ends, Sections, Share, ShareFloat

ZERO, HALF, ONE = Fraction(0), Fraction(1, 2), Fraction(1)


@dataclass(frozen=True, slots=True)
class Lying:
    """How a warp lies on its beam, extra selvedge ends not counted."""

    ends: Ends
    width: Cm
    pitch: Cm
    section_at_centre: bool = False  # a section, not a divider, stands at the middle of the beam
    shift: Cm = ZERO  # off the middle of the beam, to the right

    @property
    def sett(self) -> Fraction:
        """Ends to the centimetre, on the whole."""
        return self.ends / self.width

    @property
    def full(self) -> Fraction:
        """Ends of a full section."""
        return self.sett * self.pitch


def shift_that_fills(sections: Sections, pitch: Cm, *, section_at_centre: bool) -> Cm:
    """Give how far off the middle of the beam a warp of whole sections lies.

    An even number lies about a divider, an odd one about a section: nothing, or half a section to the right.
    Source: plain geometry. Raises ValueError if `sections` is below one or `pitch` not above zero.

    Twelve sections about a divider, then thirteen:
    >>> [str(shift_that_fills(count, Fraction(2), section_at_centre=False)) for count in (12, 13)]
    ['0', '1']
    """
    if sections < 1 or pitch <= 0:
        raise ValueError(f"sections {sections} and pitch {pitch} must be above zero")
    return ZERO if sections % 2 == section_at_centre else pitch / 2


def parts_at_edges(warp: Lying) -> tuple[Share, Share]:
    """Give the parts of a section that the warp covers beyond its outermost dividers.

    What remains, over the pitch, from each edge to a divider: at the left and at the right. A warp that lies in one
    section alone has all of its part at the left.
    Source: plain geometry. Raises ValueError if a width or `ends` is not above zero.

    Twenty-five inches about a divider on two-inch sections:
    >>> [str(part) for part in parts_at_edges(Lying(600, Fraction(25), Fraction(2)))]
    ['1/4', '1/4']
    """
    if warp.ends < 1 or warp.width <= 0 or warp.pitch <= 0:
        raise ValueError(f"ends {warp.ends}, width {warp.width} and pitch {warp.pitch} must be above zero")
    divider = warp.pitch / 2 if warp.section_at_centre else ZERO
    left = (divider - warp.shift + warp.width / 2) % warp.pitch
    right = (warp.width / 2 + warp.shift - divider) % warp.pitch
    if left >= warp.width:  # no divider under the warp: it lies in one section
        return warp.width / warp.pitch, ZERO
    return left / warp.pitch, right / warp.pitch


def least_shift(warp: Lying) -> Cm | None:
    """Give where to move a warp so that one side at most is partial, by the shortest way.

    How far off the middle it then lies, to the right; None where one side at most is partial already. Each edge lies
    between two dividers, so it can go back to the one or on to the other: of a part f, by f or by 1 - f of a section,
    whichever is less: half a section at most. No warp comes to lie more than half a section off the middle, unless it
    lies farther already. Of two ways as short the one nearer to the middle is taken, then the one to the right.
    Source: plain geometry; half a section is the most that is usual, common practice, no source. Raises ValueError if a
    width or `ends` is not above zero.

    Inches on two-inch sections about a divider: 25 in go on by a half, 30 1/2 in come back by three quarters:
    >>> [str(least_shift(Lying(600, Fraction(wide), Fraction(2)))) for wide in ("25", "30.5")]
    ['1/2', '3/4']
    """
    left, right = parts_at_edges(warp)
    if not (left and right):
        return None
    ways = (left, left - 1, -right, 1 - right)
    places = [warp.shift + way * warp.pitch for way in ways]
    near = [place for place in places if abs(place) <= warp.pitch / 2]
    return min(
        near if abs(warp.shift) <= warp.pitch / 2 else places,
        key=lambda place: (abs(place - warp.shift), abs(place), -place),
    )


def edge_choices(warp: Lying, build_up: tuple[CmFloat, ShareFloat]) -> tuple[EdgeChoice, ...]:
    """Work out side by side what can be done about partial edges.

    `build_up` is how much the yarn of a full section lengthens its turns, in length and as a share of the length by the
    empty beam; nothing with chains, whose length the board sets. Fewer or more ends at the same sett, or the same ends
    at another, so that sections fill; moved, so that one side is partial or none; filled with ends that are not
    threaded; packed at the same density against the full neighbour, the free side held by a moved pin; or spread over
    the whole section. Spread, part f of a section builds up f as deep as a full one, so it comes out shorter by (1 - f)
    of a full section's build-up. What is moved is reckoned as if the part that stays were spread.
    Source: the order is common practice of teachers, no source; the rest plain geometry. Raises ValueError if a width
    or `ends` is not above zero.

    The studio's eighth worked project, in inches: 25 in at 24 on two-inch sections, 20 turns, 15.3 in of build-up:
    >>> found = edge_choices(Lying(600, Fraction(25), Fraction(2)), (15.3, 0.0213))
    >>> [(choice.kind.value, choice.ends, str(choice.width), str(choice.shift)) for choice in found[:3]]
    [('fewer', 576, '24', '0'), ('more', 624, '26', '1'), ('sett', 600, '24', '0')]
    """
    parts = parts_at_edges(warp)
    if not any(parts):
        return ()
    return (*_filling(warp), *_moved(warp, build_up), *_as_it_lies(warp, parts, build_up))


def _filling(warp: Lying) -> Iterator[EdgeChoice]:
    wanted = warp.width / warp.pitch
    lower, upper = floor(wanted), ceil(wanted)
    if lower < upper:
        if lower:
            yield _filled(warp, EdgeKind.FEWER, lower, floor(lower * warp.full))
        yield _filled(warp, EdgeKind.MORE, upper, ceil(upper * warp.full))
        yield _filled(warp, EdgeKind.SETT, max(1, ceil(wanted - HALF)), warp.ends)


def _filled(warp: Lying, kind: EdgeKind, sections: int, ends: int) -> EdgeChoice:
    width, each = sections * warp.pitch, _whole(Fraction(ends, sections))
    shift = shift_that_fills(sections, warp.pitch, section_at_centre=warp.section_at_centre)
    sett = ends / width if kind is EdgeKind.SETT else warp.sett
    full = sett * warp.pitch
    return EdgeChoice(kind, ends, 0, sections, (each, each), (full, full), width, (sett,), shift, 0.0, 0.0)


def _moved(warp: Lying, build_up: tuple[float, float]) -> Iterator[EdgeChoice]:
    shift = least_shift(warp)
    if shift is not None:
        moved = replace(warp, shift=shift)
        yield _lying(EdgeKind.SHIFT, moved, parts_at_edges(moved), build_up)


def _as_it_lies(warp: Lying, parts: tuple[Fraction, Fraction], build_up: tuple[float, float]) -> Iterator[EdgeChoice]:
    level = (0.0, 0.0)
    packed = _lying(EdgeKind.PACKED, warp, parts, level)
    full = _whole(warp.full)
    dummies = sum(max(0, full - _whole(part * warp.full)) for part in parts if part)
    yield replace(packed, kind=EdgeKind.DUMMY, dummy_ends=dummies)
    yield packed
    yield _lying(EdgeKind.SPREAD, warp, parts, build_up)


def _lying(kind: EdgeKind, warp: Lying, parts: tuple[Fraction, Fraction], build_up: tuple[float, float]) -> EdgeChoice:
    partial = [part for part in parts if part]
    between = int(warp.width / warp.pitch - sum(parts))
    left, right = (_whole((part or ONE) * warp.full) for part in parts)
    sections = between + len(partial)
    missing = float(1 - min(partial, default=ONE))
    return EdgeChoice(
        kind=kind,
        ends=warp.ends,
        dummy_ends=0,
        sections=sections,
        edge_ends=(left, right) if sections > 1 else (warp.ends, warp.ends),
        edge_full=(warp.full, warp.full),
        width=warp.width,
        setts=(warp.sett,),
        shift=warp.shift,
        shorter=missing * build_up[0],
        share=missing * build_up[1],
        partial=(bool(parts[0]), bool(parts[1])),
    )


def _whole(ends: Fraction) -> int:
    return floor(ends + HALF)
