"""Threading and sleying, section by section: a list to work down, with totals that show a slip early."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

FEWEST_OF_BROKEN = 4
FEWEST_OF_LACE = 3


@dataclass(frozen=True, slots=True)
class SectionThreading:
    """How the ends of one section are threaded, seen from the seat, from the left.

    Attributes
    ----------
    number : int
        Section of the warp, 1 at the left. [-]
    ends : int
        Ends in it. [ends]
    starts_at : int
        Place in the repeat of its first end, 1 for the first. [-]
    shafts : tuple[int, ...]
        Shaft of each of its ends. [-]
    on_each : tuple[int, ...]
        Its ends on each shaft, front first. [ends]
    so_far : int
        Ends threaded after it, from the left edge of the warp: the running check. [ends]
    on_each_so_far : tuple[int, ...]
        Heddles used on each shaft after it. [heddles]
    """

    number: int
    ends: int
    starts_at: int
    shafts: tuple[int, ...]
    on_each: tuple[int, ...]
    so_far: int
    on_each_so_far: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SpareHeddles:
    """Heddles of one shaft that stay empty.

    Attributes
    ----------
    left : int
        Pushed to the left, seen from the seat. [heddles]
    right : int
        Pushed to the right; an odd one stands here. [heddles]
    short : int
        Heddles to be added to the shaft first. [heddles]
    """

    left: int
    right: int
    short: int


@dataclass(frozen=True, slots=True)
class SectionSley:
    """How the ends of one section are sleyed, seen from the seat, from the left.

    Attributes
    ----------
    number : int
        Section of the warp, 1 at the left. [-]
    first_dent : int
        Dent of its first end, counted from the left of the reed. [dents]
    last_dent : int
        Dent of its last end. [dents]
    in_dents : tuple[int, ...]
        Its ends in each dent from the first to the last; 0 for a dent left empty. [ends]
    shares_first : bool
        The section before has ends in the first dent too. [-]
    """

    number: int
    first_dent: int
    last_dent: int
    in_dents: tuple[int, ...]
    shares_first: bool


def point(shafts: int) -> tuple[int, ...]:
    """Give the point draw: up to the last shaft and back, neither end twice.

    Parameters
    ----------
    shafts : int
        Number of shafts. [shafts]

    Returns
    -------
    threading : tuple[int, ...]
        Shaft of each end of one repeat. [-]

    Raises
    ------
    ValueError
        If `shafts` is not above zero.

    Notes
    -----
    Eight ends on five healds: C. P. Brooks, Cotton Manufacturing, 3rd ed., Drafts.

    Examples
    --------
    >>> point(5)
    (1, 2, 3, 4, 5, 4, 3, 2)
    """
    if shafts < 1:
        raise ValueError(f"shafts {shafts} must be above zero")
    return (*range(1, shafts + 1), *range(shafts - 1, 1, -1))


def broken(shafts: int) -> tuple[int, ...]:
    """Give the broken draw: a straight run, then one back that begins half-way.

    Parameters
    ----------
    shafts : int
        Number of shafts, even and at least four. [shafts]

    Returns
    -------
    threading : tuple[int, ...]
        Shaft of each end of one repeat, twice the shafts long. [-]

    Raises
    ------
    ValueError
        If `shafts` is below four or odd.

    Notes
    -----
    The jump of half the shafts keeps the two ends at the turn opposed in a balanced twill, so nothing floats long
    there as it does at a point. Common practice, no source.

    Examples
    --------
    >>> broken(4)
    (1, 2, 3, 4, 2, 1, 4, 3)
    """
    if shafts < FEWEST_OF_BROKEN or shafts % 2:
        raise ValueError(f"shafts {shafts} must be even and at least {FEWEST_OF_BROKEN}")
    half = shafts // 2
    return (*range(1, shafts + 1), *range(half, 0, -1), *range(shafts, half, -1))


def lace(shafts: int) -> tuple[int, ...]:
    """Give a lace draw of six-end units, one unit for each pattern shaft.

    Parameters
    ----------
    shafts : int
        Number of shafts, at least three: two for the ground, the rest for pattern. [shafts]

    Returns
    -------
    threading : tuple[int, ...]
        Shaft of each end of one repeat, six ends for each pattern shaft. [-]

    Raises
    ------
    ValueError
        If `shafts` is below three.

    Notes
    -----
    Each unit is 1, p, 1, p, 1, 2 with p from 3 upward, so half of all ends hang on the front shaft: count its heddles
    first. From memory, not found in the sources seen; a draft of one's own goes before it.

    Examples
    --------
    >>> lace(4)
    (1, 3, 1, 3, 1, 2, 1, 4, 1, 4, 1, 2)
    """
    if shafts < FEWEST_OF_LACE:
        raise ValueError(f"shafts {shafts} must be at least {FEWEST_OF_LACE}")
    return tuple(shaft for pattern in range(3, shafts + 1) for shaft in (1, pattern, 1, pattern, 1, 2))


def blocks(units: Sequence[tuple[int, ...]], counts: Sequence[tuple[int, int]]) -> tuple[int, ...]:
    """Write out a threading given in blocks.

    Parameters
    ----------
    units : Sequence[tuple[int, ...]]
        Shafts of one unit of each block. [-]
    counts : Sequence[tuple[int, int]]
        Block, 1 for the first [-], and how many units of it [repeats], in order.

    Returns
    -------
    threading : tuple[int, ...]
        Shaft of each end. [-]

    Raises
    ------
    ValueError
        If `counts` names a block that `units` has not, or a number below zero.

    Notes
    -----
    Plain repetition, so no source is cited.

    Examples
    --------
    >>> blocks([(1, 3, 2, 3), (1, 4, 2, 4)], [(1, 1), (2, 2)])
    (1, 3, 2, 3, 1, 4, 2, 4, 1, 4, 2, 4)
    """
    if any(not 1 <= block <= len(units) or times < 0 for block, times in counts):
        raise ValueError(f"counts {counts} must name blocks 1 to {len(units)}, none below zero times")
    return tuple(shaft for block, times in counts for _ in range(times) for shaft in units[block - 1])


def threading_guide(threading: Sequence[int], sections: Sequence[int], shafts: int) -> tuple[SectionThreading, ...]:
    """Write the threading out for each section, with running totals.

    Parameters
    ----------
    threading : Sequence[int]
        Shaft of each end of one repeat, from the left seen from the seat. [-]
    sections : Sequence[int]
        Ends of each section or chain, from the left seen from the seat. [ends]
    shafts : int
        Number of shafts. [shafts]

    Returns
    -------
    guide : tuple[SectionThreading, ...]
        One entry for each section. [-]

    Raises
    ------
    ValueError
        If `threading` is empty or names a shaft that is not there, or a section is below zero.

    Notes
    -----
    The repeat runs on from section to section. The totals are the check: when the last end of a section is not on the
    shaft the list says, the slip lies in that section. Weavers who count their heddles exactly find slips by the
    remainder (a published weaver's page, February 2025).

    Examples
    --------
    >>> second = threading_guide((1, 2, 3, 4), (6, 6), 4)[1]
    >>> second.starts_at, second.shafts, second.so_far, second.on_each_so_far
    (3, (3, 4, 1, 2, 3, 4), 12, (3, 3, 3, 3))
    """
    if not threading or min(threading) < 1 or max(threading) > shafts or min(sections, default=0) < 0:
        raise ValueError(
            f"threading {tuple(threading)} must use shafts 1 to {shafts}, and sections hold no fewer than 0"
        )
    found, totals = [], (0,) * shafts
    for number, (start, stop) in enumerate(pairwise((0, *accumulate(sections))), start=1):
        own = tuple(threading[end % len(threading)] for end in range(start, stop))
        on_each = tuple(own.count(shaft) for shaft in range(1, shafts + 1))
        totals = tuple(map(sum, zip(totals, on_each, strict=True)))
        place = start % len(threading) + 1
        found.append(SectionThreading(number, stop - start, place, own, on_each, stop, totals))
    return tuple(found)


def spare_heddles(held: Sequence[int], needed: Sequence[int]) -> tuple[SpareHeddles, ...]:
    """Give the heddles to leave empty at the left and the right of each shaft.

    Parameters
    ----------
    held : Sequence[int]
        Heddles on each shaft, front first. [heddles]
    needed : Sequence[int]
        Heddles the threading needs on each. [heddles]

    Returns
    -------
    spare : tuple[SpareHeddles, ...]
        For each shaft what stays at the left and the right, or how many are short. [heddles]

    Raises
    ------
    ValueError
        If the two lists differ in length or hold a number below zero.

    Notes
    -----
    Left and right equally, an odd one to the right, or the shafts hang crooked: a weaving magazine's notes on heddle
    management (2022).

    Examples
    --------
    >>> spare_heddles((100, 100), (71, 104))
    (SpareHeddles(left=14, right=15, short=0), SpareHeddles(left=0, right=0, short=4))
    """
    if len(held) != len(needed) or min((*held, *needed), default=0) < 0:
        raise ValueError(f"held {tuple(held)} and needed {tuple(needed)} must be as many, none below zero")
    over = [have - need for have, need in zip(held, needed, strict=True)]
    return tuple(SpareHeddles(max(0, n) // 2, (max(0, n) + 1) // 2, max(0, -n)) for n in over)


def sley_guide(sley: Sequence[int], sections: Sequence[int], start_dent: int) -> tuple[SectionSley, ...]:
    """Give the dents of each section, and how many of its ends go into each.

    Parameters
    ----------
    sley : Sequence[int]
        Ends in each dent of one repeat. [ends]
    sections : Sequence[int]
        Ends of each section or chain, from the left seen from the seat. [ends]
    start_dent : int
        Dent of the warp's first repeat, counted from the left. [dents]

    Returns
    -------
    guide : tuple[SectionSley, ...]
        One entry for each section that has ends. [-]

    Raises
    ------
    ValueError
        If `sley` holds no ends or one below zero, a section is below zero, or `start_dent` is not above zero.

    Notes
    -----
    The order runs on from section to section; where a section ends inside a dent, the next one fills it up. Plain
    arithmetic.

    Examples
    --------
    Five ends a section, two in a dent:

    >>> [(one.first_dent, one.in_dents, one.shares_first) for one in sley_guide((2,), (5, 5), 11)]
    [(11, (2, 2, 1), False), (13, (1, 2, 2), True)]
    """
    if min(sley, default=0) < 0 or not sum(sley) or min(sections, default=0) < 0 or start_dent < 1:
        raise ValueError(f"sley {tuple(sley)}, sections and start_dent {start_dent} must hold ends, none below zero")
    cuts = tuple(accumulate(sections, initial=0))
    stops = (0, *accumulate(sley))
    return tuple(
        _sleyed(number, (start, stop), stops, start_dent)
        for number, (start, stop) in enumerate(pairwise(cuts), start=1)
        if stop > start
    )


def _sleyed(number: int, ends: tuple[int, int], stops: Sequence[int], start_dent: int) -> SectionSley:
    start, stop = ends
    first, last = _dent_of(start, stops), _dent_of(stop - 1, stops)
    bounds = [min(stop, max(start, _ends_before(dent, stops))) for dent in range(first, last + 2)]
    return SectionSley(
        number,
        start_dent + first,
        start_dent + last,
        tuple(after - before for before, after in pairwise(bounds)),
        shares_first=_ends_before(first, stops) < start,
    )


def _ends_before(dent: int, stops: Sequence[int]) -> int:
    repeats, rest = divmod(dent, len(stops) - 1)
    return repeats * stops[-1] + stops[rest]


def _dent_of(end: int, stops: Sequence[int]) -> int:
    repeats, rest = divmod(end, stops[-1])
    return repeats * (len(stops) - 1) + next(dent for dent, stop in enumerate(stops[1:]) if stop > rest)
