"""What the benches share: a clock that tells waiting from working, and a table."""

import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import perf_counter, process_time

from django.db import connection
from django.test.utils import CaptureQueriesContext


@dataclass(frozen=True, slots=True)
class Taken:
    """Times of many calls, in ms: on the wall, and what this process itself worked.

    On a busy machine the wall counts the waiting for others too; the work does not.
    """

    wall: Sequence[float]
    work: Sequence[float]

    def row(self) -> tuple[str, ...]:
        """Give p50 and p95, work then wall."""
        figures = (share(self.work, 50), share(self.work, 95), share(self.wall, 50), share(self.wall, 95))
        return tuple(f"{figure:.1f}" for figure in figures)


HEAD = ("work p50", "work p95", "wall p50", "wall p95")


def taken(calls: Sequence[Callable[[], object]]) -> Taken:
    """Time each call once."""
    wall, work = [], []
    for call in calls:
        start, began = perf_counter(), process_time()
        call()
        work.append(1000 * (process_time() - began))
        wall.append(1000 * (perf_counter() - start))
    return Taken(wall, work)


def joined(many: Sequence[Taken]) -> Taken:
    """Give the times of several rounds as one."""
    return Taken([t for one in many for t in one.wall], [t for one in many for t in one.work])


def share(times: Sequence[float], per_cent: int) -> float:
    """Give the time that so many per cent of the calls do not pass: the nearest rank, nothing in between."""
    ranked = sorted(times)
    return ranked[max(0, -(-len(ranked) * per_cent // 100) - 1)]


def queries_of(call: Callable[[], object]) -> int:
    """Count the questions to the database."""
    with CaptureQueriesContext(connection) as asked:
        call()
    return len(asked)


def say_table(title: str, head: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
    """Print a table, with how busy the machine is: times of a busy machine are times of a busy machine."""
    lines = [tuple(str(cell) for cell in row) for row in (head, *rows)]
    wide = [max(len(line[at]) for line in lines) for at in range(len(head))]
    load = os.getloadavg()[0]
    say(f"\n{title}\n{os.cpu_count()} cores, load {load:.1f}; times in ms")
    for line in lines:
        first, *rest = (
            cell.ljust(width) if at == 0 else cell.rjust(width)
            for at, (cell, width) in enumerate(zip(line, wide, strict=True))
        )
        say("  ".join((first, *rest)))


def say(words: str) -> None:
    """Print one line now."""
    sys.stdout.write(words + "\n")
    sys.stdout.flush()
