"""A warp whose yarn is short: how far the yarn at hand reaches, and what could be done beside waiting.

Yarn is counted in whole ends, since one end of a section comes whole from one package. A colour that does not reach is
filled up with ground: each of its stripes becomes narrower by the same number of ends on both sides, so that it keeps
its middle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, groupby
from math import ceil, floor

from planner.calc.terms.plan import ColourRun
from studio.quantities import Days, Ends, Grams, Pure, Sessions, Tex, WholeGrams

WEEK_DAYS = 7


@dataclass(frozen=True, slots=True)
class Reach:
    """How many ends the yarn at hand serves."""

    served: Ends  # with the reserve
    bare: Ends  # without any


@dataclass(frozen=True, slots=True)
class Wait:
    """What waiting for yarn comes to, in days from today."""

    weaving: Days  # that is left once the warp is complete
    done: Days  # until the cloth is off the loom
    beyond: Days  # longer than the loom is booked


def reach_of(masses: Sequence[Grams], end: Grams, bare_end: Grams) -> Reach:
    """Count the ends that the yarn at hand serves, each whole from one package.

    Each package serves mass / end, rounded down, with the reserve and without.
    Source: plain arithmetic. Raises ValueError if `end` or `bare_end` is not above zero, or a mass is below.

    A cone of 311.1 yd; an end takes 12.73 yd, and 3 % of that in reserve. Lengths in place of masses:
    >>> reach_of([Fraction("311.1")], Fraction("12.73") * Fraction("1.03"), Fraction("12.73"))
    Reach(served=23, bare=24)
    """
    if min(end, bare_end) <= 0 or any(mass < 0 for mass in masses):
        raise ValueError(f"end {end} and bare_end {bare_end} must be above zero, masses {masses} not below")
    served, bare = (sum(floor(mass / use) for mass in masses) for use in (end, bare_end))
    return Reach(served, bare)


def ends_kept(stripes: Sequence[Ends], served: Ends) -> tuple[Ends, ...]:
    """Say how many ends of a colour stay in each of its stripes when the yarn serves only so many.

    Every stripe keeps its share, and one end fewer where the rest could not lie in two equal parts beside it: so a
    stripe of an even number stays even, and pairs in the dents stay pairs.
    Source: common practice, no source. Raises ValueError if a stripe has no end, or `served` is below zero.

    Yarn for 23 of 36 ends; then for 50 of three stripes:
    >>> ends_kept([36], 23), ends_kept([24, 12, 24], 50)
    ((22,), (20, 10, 20))
    """
    if served < 0 or any(stripe < 1 for stripe in stripes):
        raise ValueError(f"served {served} must not be below zero, and stripes {stripes} have ends")
    planned, kept = sum(stripes), list[int]()
    for so_far, stripe in zip(accumulate(stripes), stripes, strict=True):
        share = min(stripe, floor(Fraction(so_far * min(served, planned), planned)) - sum(kept))
        kept.append(share - 1 if share and (stripe - share) % 2 else share)
    return tuple(kept)


def with_ground(order: Sequence[ColourRun], code: str, ground: str, kept: Sequence[Ends]) -> tuple[ColourRun, ...]:
    """Narrow the stripes of one colour, and fill up with ground on both sides.

    `kept` names every stripe of the colour; 0 drops it. Neighbouring runs of one yarn become one.
    Source: plain arithmetic. Raises ValueError if `kept` does not name every stripe, or keeps more than a stripe has.

    >>> from planner.calc.terms.plan import ColourRun
    >>> order = [ColourRun("G", 10), ColourRun("H", 36), ColourRun("G", 10)]
    >>> [(run.code, run.ends) for run in with_ground(order, "H", "G", [22])]
    [('G', 17), ('H', 22), ('G', 17)]
    """
    stripes = [run.ends for run in order if run.code == code]
    if len(stripes) != len(kept) or any(not 0 <= stay <= ends for stay, ends in zip(kept, stripes, strict=True)):
        raise ValueError(f"kept {kept} must name each of the stripes {stripes} and keep no more of it")
    left, runs = list[int](kept), list[ColourRun]()
    for run in order:
        if run.code != code:
            runs.append(run)
            continue
        stay = left.pop(0)
        before = (run.ends - stay) // 2
        runs += [ColourRun(ground, before), ColourRun(code, stay), ColourRun(ground, run.ends - stay - before)]
    some = (run for run in runs if run.ends)
    return tuple(ColourRun(name, sum(run.ends for run in same)) for name, same in groupby(some, lambda run: run.code))


def ground_for(ends: Ends, end: Grams, tex: Tex, ground_tex: Tex) -> Grams:
    """Weigh the ground yarn that ends of another colour ask for when they are wound with it.

    The same length of another yarn.
    Source: plain arithmetic. Raises ValueError if `tex` or `ground_tex` is not above zero, or another figure is below.

    Fourteen ends of 3 g, the ground half as thick:
    >>> ground_for(14, Fraction(3), Fraction(300), Fraction(150))
    Fraction(21, 1)
    """
    if min(tex, ground_tex) <= 0 or ends < 0 or end < 0:
        raise ValueError(
            f"tex {tex} and ground_tex {ground_tex} must be above zero, ends {ends} and end {end} not below"
        )
    return ends * end * ground_tex / tex


def wait_for(expected: Days, sessions: Sessions, a_week: Pure, booked: Days) -> Wait:
    """Set the day yarn is expected against the time left on the loom.

    Weaving begins when the yarn is there: sessions by seven over sessions a week, rounded up to whole days. Where it
    ends beyond the booking, the extension is asked for at once and not at the end.
    Source: plain arithmetic; the habit is common practice, no source. Raises ValueError if `a_week` is not above zero,
    or another figure is below.

    Yarn expected on day 20, eight sessions at two a week, the loom booked to day 28:
    >>> wait_for(20, 8, Fraction(2), 28)
    Wait(weaving=28, done=48, beyond=20)
    """
    if a_week <= 0 or min(expected, sessions, booked) < 0:
        raise ValueError(f"a_week {a_week} must be above zero, {expected}, {sessions} and {booked} not below")
    weaving = ceil(sessions * WEEK_DAYS / a_week)
    done = expected + weaving
    return Wait(weaving, done, max(0, done - booked))


def to_buy(masses: Sequence[Grams]) -> WholeGrams:
    """Give what to ask for in the shop when several warps lack a yarn.

    The sum, rounded up once.
    Source: plain arithmetic. Raises ValueError if a mass is below zero.

    >>> to_buy([Fraction("43.47"), Fraction("10.2")])
    54
    """
    if any(mass < 0 for mass in masses):
        raise ValueError(f"masses {masses} must not be below zero")
    return ceil(sum(masses))
