"""A weave typed as its lift plan: how often each thread crosses to the other face, and how far it floats.

A drawdown is a tuple of picks, the first one woven first; each pick tells of every end whether it lies on top.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from inventory.calc.count_systems import SYSTEMS
from planner.calc.terms.bounds import MOST_PICKS, MOST_THREADED
from planner.calc.terms.plan import Remark, Severity
from studio.quantities import Ends, Intersections, Picks, Pure, Shaft, Share, Tex, Threads, ThreadsPerCm

MOST_THREADS = MOST_PICKS
"""Shafts or picks of one repeat that are read."""

MOST_TEXT = 20_000
CM_IN_INCH = Fraction(254, 100)
TEX_OF_COTTON_ONE = SYSTEMS["cotton"].tex_of_one

Drawdown = tuple[tuple[bool, ...], ...]

_GRID = re.compile(r"[xX.]+")
_PICK = re.compile(r"\d{1,9}(?:(?: \d{1,9})*|(?:,\d{1,9})*|(?:\+\d{1,9})*)", re.ASCII)
_LEAST_RUN_TOGETHER = 10


@dataclass(frozen=True, slots=True)
class WeaveCount:
    """What can be counted on one repeat of a weave, taken round and round."""

    ends: Ends
    picks: Picks
    of_ends: tuple[Intersections, ...]  # times each passes from one face to the other
    of_picks: tuple[Intersections, ...]
    warp_float: Picks | None  # most picks an end passes without crossing; None where one never crosses
    weft_float: Ends | None  # most ends a pick passes without crossing; None where one never crosses

    @property
    def mean(self) -> tuple[int, int]:
        """Ends and intersections of all picks together: what the rule of diameters asks for."""
        return self.ends * self.picks, sum(self.of_picks)

    @property
    def tightest(self) -> tuple[int, int]:
        """Ends and intersections of the pick that crosses most."""
        return self.ends, max(self.of_picks)


def read_lifts(text: str) -> Drawdown:
    """Read a lift plan as weavers type it: the shafts raised in each pick, or a small grid.

    Picks are parted by / or new lines, or by commas where there is neither; each one numbers parted by spaces, pluses
    or, beside /, commas; - for none, or x (raised) and . (not). Numbers count the shafts from 1 at the front; the
    greatest one is taken for the number of shafts. The first row is the first pick. In a straight draw the shafts are
    the ends, so this is the drawdown itself.
    Source: plain reading, no arithmetic. Raises ValueError if `text` is none of these, mixes them within a pick, has
    rows of unequal length, or is too large.

    >>> read_lifts("1,2 / 2,3 / 3,4 / 4,1") == read_lifts("xx.. / .xx. / ..xx / x..x")
    True
    >>> read_lifts("1 3, 2 4") == read_lifts("1+3 / 2+4")
    True
    """
    if len(text) > MOST_TEXT:
        raise ValueError(f"text of {len(text)} characters is too long for one repeat of a weave")
    rows = [row.strip() for row in re.split(r"[/\n]", text) if row.strip()]
    if len(rows) == 1:
        rows = [row.strip() for row in rows[0].split(",")]
    if not 1 <= len(rows) <= MOST_THREADS:
        raise ValueError(f"text {text[:20]!r} must hold 1 to {MOST_THREADS} picks, parted by / or new lines")
    return _grid(rows) if all(map(_GRID.fullmatch, rows)) else _numbered(rows)


def _grid(rows: Sequence[str]) -> Drawdown:
    if len({len(row) for row in rows}) > 1 or len(rows[0]) > MOST_THREADS:
        raise ValueError(f"text has rows of unequal length, or of more than {MOST_THREADS} shafts")
    return tuple(tuple(mark != "." for mark in row) for row in rows)


def _numbered(rows: Sequence[str]) -> Drawdown:
    plain = [re.sub(r" ?([,+]) ?", r"\1", " ".join(row.split())) for row in rows]
    wrong = [row for row in plain if row != "-" and not _PICK.fullmatch(row)]
    if wrong:
        raise ValueError(f"text {wrong[0][:20]!r} is no pick; write 1,2 / 2,3 or xx.. / .xx.")
    picks = [{int(shaft) for shaft in re.findall(r"\d+", row)} for row in plain]
    shafts = max(map(max, filter(None, picks)), default=0)
    if not 1 <= shafts <= MOST_THREADS or any(0 in pick for pick in picks):
        raise ValueError(f"text must name shafts from 1 to {MOST_THREADS}, and at least one; {shafts} is the greatest")
    return tuple(tuple(shaft in pick for shaft in range(1, shafts + 1)) for pick in picks)


def shafts_raised(lifts: Drawdown) -> tuple[tuple[Shaft, ...], ...]:
    """Name the shafts that each pick of a lift plan raises.

    Source: the same plan in numbers.

    >>> shafts_raised(read_lifts("xx.. / .xx. / ..xx / x..x"))
    ((1, 2), (2, 3), (3, 4), (1, 4))
    """
    return tuple(tuple(shaft for shaft, up in enumerate(pick, 1) if up) for pick in lifts)


def run_together(lifts: Drawdown) -> Shaft | None:
    """Give a shaft that may be two or more, typed without a space between them.

    A number of several digits that stands alone in its pick, while some shaft before it is never raised: such a shaft
    would weave nothing, so 12 is likelier 1 and 2.
    Source: a guess about typing, no source.

    >>> run_together(read_lifts("12 / 34")), run_together(read_lifts("1 2 / 3 4"))
    (12, None)
    """
    raised = shafts_raised(lifts)
    if {shaft for pick in raised for shaft in pick} >= set(range(1, len(lifts[0]) + 1)):
        return None
    return next((pick[0] for pick in raised if len(pick) == 1 and pick[0] >= _LEAST_RUN_TOGETHER), None)


def drawdown(threading: Sequence[Shaft], lifts: Iterable[Iterable[Shaft]]) -> Drawdown:
    """Give what is woven when a threading is lifted by a lift plan of shafts.

    An end lies on top when its shaft is lifted.
    Source: plain logic. Raises ValueError if `threading` or `lifts` is empty or too long.

    >>> drawdown((1, 2), [(1,), (2,)])
    ((True, False), (False, True))
    """
    picks = [frozenset(pick) for pick in lifts]
    if not 1 <= len(threading) <= MOST_THREADED or not 1 <= len(picks) <= MOST_THREADS:
        raise ValueError(f"threading must hold 1 to {MOST_THREADED} ends, lifts 1 to {MOST_THREADS} picks")
    return tuple(tuple(shaft in pick for shaft in threading) for pick in picks)


def idle_remarks(threading: Sequence[Shaft], lifts: Iterable[Iterable[Shaft]]) -> tuple[Remark, ...]:
    """Say when a threaded shaft is raised in every pick, or in none, so that its ends are never woven in.

    Source: plain logic. Raises ValueError if `lifts` is empty.

    >>> [remark.values["shafts"] for remark in idle_remarks((1, 2, 3, 4), [(1,), (2,)])]
    ['3, 4']
    """
    picks = [frozenset(pick) for pick in lifts]
    if not picks:
        raise ValueError("lifts must hold at least one pick")
    idle = [shaft for shaft in sorted(set(threading)) if len({shaft in pick for pick in picks}) == 1]
    return (Remark("shafts_idle", Severity.WARN, {"shafts": ", ".join(map(str, idle))}),) if idle else ()


def count_weave(weave: Drawdown) -> WeaveCount:
    """Count the intersections and the longest floats of a weave.

    Counted round the repeat, so the last thread meets the first. An intersection is one passage from face to back or
    back to face; plain weave has two on two ends.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed. Raises ValueError if `weave` is empty or its picks have
    unequal numbers of ends.

    >>> twill = count_weave(read_lifts("1,2 / 2,3 / 3,4 / 4,1"))
    >>> twill.of_ends, twill.of_picks, twill.warp_float, twill.weft_float
    ((2, 2, 2, 2), (2, 2, 2, 2), 2, 2)
    """
    if not weave or not weave[0] or len({len(pick) for pick in weave}) > 1:
        raise ValueError("weave must hold picks, each with the same ends")
    columns = tuple(zip(*weave, strict=True))
    return WeaveCount(
        ends=len(columns),
        picks=len(weave),
        of_ends=tuple(map(_changes, columns)),
        of_picks=tuple(map(_changes, weave)),
        warp_float=_longest(columns),
        weft_float=_longest(weave),
    )


def _changes(thread: Sequence[bool]) -> int:
    return sum(thread[k] != thread[k - 1] for k in range(len(thread)))


def _longest(threads: Sequence[Sequence[bool]]) -> int | None:
    if not all(map(_changes, threads)):
        return None
    return max(map(_float, threads))


def _float(thread: Sequence[bool]) -> int:
    """Longest run in one thread, begun where it crosses so that no run is cut in two."""
    start = next(k for k in range(len(thread)) if thread[k] != thread[k - 1])
    turned = (*thread[start:], *thread[:start])
    return max(len(tuple(run)) for _, run in groupby(turned))


def intersections_along(threads: ThreadsPerCm, intersections: Intersections, repeat: Threads) -> ThreadsPerCm:
    """Give how often a thread crosses to the other face on a unit of its length.

    threads x intersections / repeat, where a thread passes so many others on a unit of length: picks for an end, ends
    for a pick.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed. Raises ValueError if `threads` or `repeat` is not above
    zero, or `intersections` is below.

    Five-end satin with 180 picks to the inch:
    >>> intersections_along(Fraction(180), 2, 5)
    Fraction(72, 1)
    """
    if threads <= 0 or repeat < 1 or intersections < 0:
        raise ValueError(f"threads {threads} and repeat {repeat} must be above zero, intersections {intersections} not")
    return threads * intersections / repeat


def rough_contraction(crossings: ThreadsPerCm, weft_tex: Tex, multiplier: Pure = Fraction(4)) -> Share:
    """Give Taylor's rough contraction of a warp, as a share of the cloth.

    Per cent = intersections per inch x multiplier / cotton count of the weft, with 4 for fine cotton cloths and 3 for
    medium ones; c / (1 + c) is the take-up of the warp. A rule for mill cottons, rough by its author's word; a record
    of one's own cloth is better.
    Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed. Raises ValueError if `weft_tex` or `multiplier` is not
    above zero, or `crossings` is below.

    72 intersections to the inch with a weft of 70s cotton:
    >>> round(float(100 * rough_contraction(72 / CM_IN_INCH, TEX_OF_COTTON_ONE / 70)), 2)
    4.11
    """
    if crossings < 0 or weft_tex <= 0 or multiplier <= 0:
        raise ValueError(f"crossings {crossings}, weft_tex {weft_tex} and multiplier {multiplier} must be above zero")
    return crossings * CM_IN_INCH * multiplier * weft_tex / TEX_OF_COTTON_ONE / 100
