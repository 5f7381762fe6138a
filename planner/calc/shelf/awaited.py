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

WEEK_DAYS = 7


@dataclass(frozen=True, slots=True)
class Reach:
    """How many ends the yarn at hand serves.

    Attributes
    ----------
    served : int
        With the reserve. [ends]
    bare : int
        Without any reserve. [ends]
    """

    served: int
    bare: int


@dataclass(frozen=True, slots=True)
class Wait:
    """What waiting for yarn comes to, in days from today.

    Attributes
    ----------
    weaving : int
        Weaving that is left once the warp is complete. [days]
    done : int
        Until the cloth is off the loom. [days]
    beyond : int
        Longer than the loom is booked; 0 where the booking suffices. [days]
    """

    weaving: int
    done: int
    beyond: int


def reach_of(masses: Sequence[Fraction], end: Fraction, bare_end: Fraction) -> Reach:
    """Count the ends that the yarn at hand serves, each whole from one package.

    Parameters
    ----------
    masses : Sequence[Fraction]
        Yarn on each package. [g]
    end : Fraction
        What one end takes, the reserve in it. [g]
    bare_end : Fraction
        The same without the reserve. [g]

    Returns
    -------
    reach : Reach
        Ends served. [ends]

    Raises
    ------
    ValueError
        If `end` or `bare_end` is not above zero, or a mass is below.

    Notes
    -----
    Each package serves mass / end, rounded down. Plain arithmetic.

    Examples
    --------
    A cone of 311.1 yd; an end takes 12.73 yd, and 3 % of that in reserve. Lengths in place of masses:

    >>> reach_of([Fraction("311.1")], Fraction("12.73") * Fraction("1.03"), Fraction("12.73"))
    Reach(served=23, bare=24)
    """
    if min(end, bare_end) <= 0 or any(mass < 0 for mass in masses):
        raise ValueError(f"end {end} and bare_end {bare_end} must be above zero, masses {masses} not below")
    served, bare = (sum(floor(mass / use) for mass in masses) for use in (end, bare_end))
    return Reach(served, bare)


def ends_kept(stripes: Sequence[int], served: int) -> tuple[int, ...]:
    """Say how many ends of a colour stay in each of its stripes when the yarn serves only so many.

    Parameters
    ----------
    stripes : Sequence[int]
        Ends of the colour in each stripe as planned. [ends]
    served : int
        Ends there is yarn for. [ends]

    Returns
    -------
    kept : tuple[int, ...]
        Ends that stay in each stripe; together at most `served`. [ends]

    Raises
    ------
    ValueError
        If a stripe has no end, or `served` is below zero.

    Notes
    -----
    Every stripe keeps its share, and one end fewer where the rest could not lie in two equal parts beside it: so a
    stripe of an even number stays even, and pairs in the dents stay pairs. Common practice, no source.

    Examples
    --------
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


def with_ground(order: Sequence[ColourRun], code: str, ground: str, kept: Sequence[int]) -> tuple[ColourRun, ...]:
    """Narrow the stripes of one colour, and fill up with ground on both sides.

    Parameters
    ----------
    order : Sequence[ColourRun]
        The whole colour order. [-]
    code : str
        Code of the colour. [-]
    ground : str
        Code of the ground. [-]
    kept : Sequence[int]
        Ends that stay in each of its stripes; 0 drops the stripe. [ends]

    Returns
    -------
    order : tuple[ColourRun, ...]
        The new order, of as many ends. [-]

    Raises
    ------
    ValueError
        If `kept` does not name every stripe, or keeps more than a stripe has.

    Notes
    -----
    Neighbouring runs of one yarn become one. Plain arithmetic.

    Examples
    --------
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


def ground_for(ends: int, end: Fraction, tex: Fraction, ground_tex: Fraction) -> Fraction:
    """Weigh the ground yarn that ends of another colour ask for when they are wound with it.

    Parameters
    ----------
    ends : int
        Ends to replace. [ends]
    end : Fraction
        What one end takes of the colour. [g]
    tex : Fraction
        Mass per length of the colour. [tex]
    ground_tex : Fraction
        Mass per length of the ground. [tex]

    Returns
    -------
    mass : Fraction
        Ground yarn needed more. [g]

    Raises
    ------
    ValueError
        If `tex` or `ground_tex` is not above zero, or another figure is below.

    Notes
    -----
    The same length of another yarn. Plain arithmetic.

    Examples
    --------
    Fourteen ends of 3 g, the ground half as thick:

    >>> ground_for(14, Fraction(3), Fraction(300), Fraction(150))
    Fraction(21, 1)
    """
    if min(tex, ground_tex) <= 0 or ends < 0 or end < 0:
        raise ValueError(
            f"tex {tex} and ground_tex {ground_tex} must be above zero, ends {ends} and end {end} not below"
        )
    return ends * end * ground_tex / tex


def wait_for(expected: int, sessions: int, a_week: Fraction, booked: int) -> Wait:
    """Set the day yarn is expected against the time left on the loom.

    Parameters
    ----------
    expected : int
        Until the yarn is there, from today. [days]
    sessions : int
        Sessions of weaving that are left. [-]
    a_week : Fraction
        Sessions in a week. [-]
    booked : int
        Until the loom's booking ends, from today. [days]

    Returns
    -------
    wait : Wait
        When the cloth would be off the loom, and how far that lies beyond the booking. [days]

    Raises
    ------
    ValueError
        If `a_week` is not above zero, or another figure is below.

    Notes
    -----
    Weaving begins when the yarn is there: sessions by seven over sessions a week, rounded up to whole days. Where it
    ends beyond the booking, the extension is asked for at once and not at the end. Plain arithmetic; the habit is
    common practice, no source.

    Examples
    --------
    Yarn expected on day 20, eight sessions at two a week, the loom booked to day 28:

    >>> wait_for(20, 8, Fraction(2), 28)
    Wait(weaving=28, done=48, beyond=20)
    """
    if a_week <= 0 or min(expected, sessions, booked) < 0:
        raise ValueError(f"a_week {a_week} must be above zero, {expected}, {sessions} and {booked} not below")
    weaving = ceil(sessions * WEEK_DAYS / a_week)
    done = expected + weaving
    return Wait(weaving, done, max(0, done - booked))


def to_buy(masses: Sequence[Fraction]) -> int:
    """Give what to ask for in the shop when several warps lack a yarn.

    Parameters
    ----------
    masses : Sequence[Fraction]
        What each lacks. [g]

    Returns
    -------
    grams : int
        All of it, in whole grams. [g]

    Raises
    ------
    ValueError
        If a mass is below zero.

    Notes
    -----
    The sum, rounded up once. Plain arithmetic.

    Examples
    --------
    >>> to_buy([Fraction("43.47"), Fraction("10.2")])
    54
    """
    if any(mass < 0 for mass in masses):
        raise ValueError(f"masses {masses} must not be below zero")
    return ceil(sum(masses))
