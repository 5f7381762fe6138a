"""Threading and sleying, section by section: parts of a plan, reached through `planner.calc.terms.plan`.

Sections, or chains on a plain beam, are counted from 1 at the left seen from the seat, in the order of the plan's
own. All left and right is seen from the seat. Floating selvedges pass through no heddle and are not counted here.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SectionThreading:
    """How the ends of one section or chain are threaded, from the left; the tuples go by shaft, front first."""

    number: int
    ends: int
    starts_at: int  # place in the repeat of its first end, 1 for the first
    first_shaft: int  # of its first end; 0 where it has none
    last_shaft: int
    on_each: tuple[int, ...]  # ends
    so_far: int  # ends threaded after it, from the left edge of the warp: the running check
    on_each_so_far: tuple[int, ...]  # heddles used


@dataclass(frozen=True, slots=True)
class SpareHeddles:
    """Heddles of one shaft that stay empty, pushed to both sides; an odd one stands at the right."""

    left: int
    right: int
    short: int  # to be added to the shaft first


@dataclass(frozen=True, slots=True)
class SleyRun:
    """Neighbouring dents that repeat one order."""

    times: int
    in_dents: tuple[int, ...]  # ends in each dent of the order; 0 for a dent left empty


@dataclass(frozen=True, slots=True)
class SectionSley:
    """How the ends of one section or chain are sleyed; dents are counted from the left of the reed."""

    number: int
    first_dent: int
    last_dent: int
    runs: tuple[SleyRun, ...]
    shares_first: bool  # the section before has ends in the first dent too
    shares_last: bool

    @property
    def in_dents(self) -> tuple[int, ...]:
        """Its ends in each dent, one by one."""
        return tuple(ends for run in self.runs for ends in run.in_dents * run.times)
