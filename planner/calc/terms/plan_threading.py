"""Threading and sleying, section by section: parts of a plan, reached through `planner.calc.terms.plan`.

Sections, or chains on a plain beam, are counted from 1 at the left seen from the seat, in the order of the plan's
own. All left and right is seen from the seat. Floating selvedges pass through no heddle and are not counted here.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SectionThreading:
    """How the ends of one section or chain are threaded, seen from the seat, from the left.

    Attributes
    ----------
    number : int
        Section or chain of the warp, 1 at the left. [-]
    ends : int
        Ends in it. [ends]
    starts_at : int
        Place in the repeat of its first end, 1 for the first. [-]
    first_shaft : int
        Shaft of its first end; 0 where it has none. [-]
    last_shaft : int
        Shaft of its last end; 0 where it has none. [-]
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
    first_shaft: int
    last_shaft: int
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
class SleyRun:
    """Neighbouring dents that repeat one order.

    Attributes
    ----------
    times : int
        How often the order stands there. [repeats]
    in_dents : tuple[int, ...]
        Ends in each dent of the order; 0 for a dent left empty. [ends]
    """

    times: int
    in_dents: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SectionSley:
    """How the ends of one section or chain are sleyed, seen from the seat, from the left.

    Attributes
    ----------
    number : int
        Section or chain of the warp, 1 at the left. [-]
    first_dent : int
        Dent of its first end, counted from the left of the reed. [dents]
    last_dent : int
        Dent of its last end. [dents]
    runs : tuple[SleyRun, ...]
        Its ends in each dent from the first to the last, like dents together. [-]
    shares_first : bool
        The section before has ends in the first dent too. [-]
    shares_last : bool
        The section after has ends in the last dent too. [-]
    """

    number: int
    first_dent: int
    last_dent: int
    runs: tuple[SleyRun, ...]
    shares_first: bool
    shares_last: bool

    @property
    def in_dents(self) -> tuple[int, ...]:
        """Its ends in each dent, one by one."""
        return tuple(ends for run in self.runs for ends in run.in_dents * run.times)
