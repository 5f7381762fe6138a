"""Threading, section by section: a list to work down, with totals that show a slip early."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from operator import sub

from planner.calc.terms.plan import SectionThreading, SpareHeddles
from studio.quantities import Ends, Heddles, Place, Repeats, Shaft, Shafts

FEWEST_OF_BROKEN = 4
FEWEST_OF_LACE = 3


def point(shafts: Shafts) -> tuple[Shaft, ...]:
    """Give the point draw: up to the last shaft and back, neither end twice.

    Source: C. P. Brooks, Cotton Manufacturing, 3rd ed., Drafts: eight ends on five healds. Raises ValueError if
    `shafts` is not above zero.

    >>> point(5)
    (1, 2, 3, 4, 5, 4, 3, 2)
    """
    if shafts < 1:
        raise ValueError(f"shafts {shafts} must be above zero")
    return (*range(1, shafts + 1), *range(shafts - 1, 1, -1))


def broken(shafts: Shafts) -> tuple[Shaft, ...]:
    """Give the broken draw: a straight run, then one back that begins half-way.

    The repeat is twice the shafts long. The jump of half the shafts keeps the two ends at the turn opposed in a
    balanced twill, so nothing floats long there as it does at a point.
    Source: common practice, no source. Raises ValueError if `shafts` is below four or odd.

    >>> broken(4)
    (1, 2, 3, 4, 2, 1, 4, 3)
    """
    if shafts < FEWEST_OF_BROKEN or shafts % 2:
        raise ValueError(f"shafts {shafts} must be even and at least {FEWEST_OF_BROKEN}")
    half = shafts // 2
    return (*range(1, shafts + 1), *range(half, 0, -1), *range(shafts, half, -1))


def lace(shafts: Shafts) -> tuple[Shaft, ...]:
    """Give a lace draw of six-end units, one unit for each pattern shaft.

    Two shafts are for the ground, the rest for pattern. Each unit is 1, p, 1, p, 1, 2 with p from 3 upward, so half of
    all ends hang on the front shaft: count its heddles first.
    Source: from memory, not found in the sources seen; a draft of one's own goes before it. Raises ValueError if
    `shafts` is below three.

    >>> lace(4)
    (1, 3, 1, 3, 1, 2, 1, 4, 1, 4, 1, 2)
    """
    if shafts < FEWEST_OF_LACE:
        raise ValueError(f"shafts {shafts} must be at least {FEWEST_OF_LACE}")
    return tuple(shaft for pattern in range(3, shafts + 1) for shaft in (1, pattern, 1, pattern, 1, 2))


def blocks(units: Sequence[tuple[Shaft, ...]], counts: Sequence[tuple[Place, Repeats]]) -> tuple[Shaft, ...]:
    """Write out a threading given in blocks.

    `counts` name each block in order, 1 for the first, and how many units of it.
    Source: plain repetition. Raises ValueError if `counts` names a block that `units` has not, or a number below zero.

    >>> blocks([(1, 3, 2, 3), (1, 4, 2, 4)], [(1, 1), (2, 2)])
    (1, 3, 2, 3, 1, 4, 2, 4, 1, 4, 2, 4)
    """
    if any(not 1 <= block <= len(units) or times < 0 for block, times in counts):
        raise ValueError(f"counts {counts} must name blocks 1 to {len(units)}, none below zero times")
    return tuple(shaft for block, times in counts for _ in range(times) for shaft in units[block - 1])


def threading_guide(
    threading: Sequence[Shaft], sections: Sequence[Ends], shafts: Shafts
) -> tuple[SectionThreading, ...]:
    """Write the threading out for each section, with running totals.

    From the left seen from the seat, the repeat runs on from section to section. The totals are the check: when the
    last end of a section is not on the shaft the list says, the slip lies in that section.
    Source: a published weaver's page, February 2025: weavers who count their heddles exactly find slips by the
    remainder. Raises ValueError if `threading` is empty or names a shaft that is not there, or a section is below zero.

    >>> second = threading_guide((1, 2, 3, 4), (6, 6), 4)[1]
    >>> second.starts_at, second.first_shaft, second.last_shaft, second.so_far, second.on_each_so_far
    (3, 3, 4, 12, (3, 3, 3, 3))
    """
    if not threading or min(threading) < 1 or max(threading) > shafts or min(sections, default=0) < 0:
        raise ValueError(
            f"threading {tuple(threading)} must use shafts 1 to {shafts}, and sections hold no fewer than 0"
        )
    repeat, cuts = len(threading), tuple(accumulate(sections, initial=0))
    used = _heddles_used(threading, cuts, shafts)
    return tuple(
        SectionThreading(
            number=number,
            ends=stop - start,
            starts_at=start % repeat + 1,
            first_shaft=threading[start % repeat] if stop > start else 0,
            last_shaft=threading[(stop - 1) % repeat] if stop > start else 0,
            on_each=tuple(map(sub, after, before)),
            so_far=stop,
            on_each_so_far=after,
        )
        for number, ((start, before), (stop, after)) in enumerate(pairwise(zip(cuts, used, strict=True)), start=1)
    )


def _heddles_used(threading: Sequence[int], cuts: Sequence[int], shafts: int) -> list[tuple[int, ...]]:
    """Give the heddles on each shaft at each cut; the repeat is walked once, however many ends there are."""
    wanted, held = {cut % len(threading) for cut in cuts}, [0] * shafts
    within: dict[int, tuple[int, ...]] = {}
    for place, shaft in enumerate(threading):
        if place in wanted:
            within[place] = tuple(held)
        held[shaft - 1] += 1
    return [
        tuple(
            cut // len(threading) * whole + part for whole, part in zip(held, within[cut % len(threading)], strict=True)
        )
        for cut in cuts
    ]


def in_repeats(
    threading: Sequence[Shaft], starts_at: Place, ends: Ends
) -> tuple[tuple[Shaft, ...], Repeats, tuple[Shaft, ...]]:
    """Part the threading of one section into what ends a repeat begun before, whole repeats, and one begun.

    `starts_at` is the place in the repeat of the section's first end, 1 for the first.
    Source: plain arithmetic. Raises ValueError if `threading` is empty, `starts_at` lies outside it, or `ends` is below
    zero.

    Twelve ends of a straight draw that begin on shaft 3:
    >>> in_repeats((1, 2, 3, 4), 3, 12)
    ((3, 4), 2, (1, 2))
    """
    if not 1 <= starts_at <= len(threading) or ends < 0:
        raise ValueError(f"starts_at {starts_at} must lie in the {len(threading)} of threading, ends {ends} above -1")
    head = tuple(threading[starts_at - 1 :][:ends]) if starts_at > 1 else ()
    repeats, rest = divmod(ends - len(head), len(threading))
    return head, repeats, tuple(threading[:rest])


def spare_heddles(held: Sequence[Heddles], needed: Sequence[Heddles]) -> tuple[SpareHeddles, ...]:
    """Give the heddles to leave empty at the left and the right of each shaft.

    Left and right equally, an odd one to the right, or the shafts hang crooked.
    Source: a weaving magazine's notes on heddle management (2022). Raises ValueError if the two lists differ in length
    or hold a number below zero.

    >>> spare_heddles((100, 100), (71, 104))
    (SpareHeddles(left=14, right=15, short=0), SpareHeddles(left=0, right=0, short=4))
    """
    if len(held) != len(needed) or min((*held, *needed), default=0) < 0:
        raise ValueError(f"held {tuple(held)} and needed {tuple(needed)} must be as many, none below zero")
    over = [have - need for have, need in zip(held, needed, strict=True)]
    return tuple(SpareHeddles(max(0, n) // 2, (max(0, n) + 1) // 2, max(0, -n)) for n in over)
