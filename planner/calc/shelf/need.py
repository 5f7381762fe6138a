"""A warp against the shelf: what its plan asks of each yarn of the yarn room, and what each package gives to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import SpoolGroup, WarpPlan, YarnNeed
from studio.quantities import Ends, Grams, Key, Place, Sections, Tex

CM_OF_ONE_TEX = 100_000
"""Centimetres of a yarn of one tex that weigh one gram, by the definition of tex (1 g in 1 km)."""


@dataclass(frozen=True, slots=True)
class SpoolAsked:
    """One spool as the plan asks for it."""

    code: str
    number: Place  # in the plan
    sections: Sections  # as many warp ends come from it
    mass: Grams  # to wind on it
    short: bool  # it serves fewer sections than the first of its yarn


@dataclass(frozen=True, slots=True)
class YarnAsked:
    """What a plan asks of one yarn of the yarn room."""

    yarn_id: Key
    codes: tuple[str, ...]  # as the brief has them
    tex: Tex
    ends: Ends
    warp_mass: Grams  # with build-up, waste and reserve
    weft_mass: Grams
    spools: tuple[SpoolAsked, ...]  # empty where all are chains
    end_mass: Grams  # most that one warp end takes, as it is wound
    least_end_mass: Grams  # the same with the reserve, but not rounded up to the winder's step
    bare_end_mass: Grams  # the same without any reserve

    @property
    def mass(self) -> Fraction:
        """Warp and weft together."""
        return self.warp_mass + self.weft_mass


def yarn_asked(brief: WarpBrief, plan: WarpPlan) -> tuple[YarnAsked, ...]:
    """Gather what a plan asks of each yarn of the yarn room.

    The masses are the plan's own, in the order of the brief. Two codes that mean one yarn are added.
    Source: plain arithmetic.

    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, Method, YarnChoice
    >>> from planner.calc.worksheet.work_out import work_out
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150), yarn_id=4),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=100, warp_length=Fraction(2286), method=Method.CHAIN)
    >>> [(yarn.yarn_id, yarn.ends, float(yarn.mass)) for yarn in yarn_asked(brief, work_out(brief))]
    [(4, 100, 342.9)]
    """
    needs_of: dict[int, list[YarnNeed]] = {}
    for need in plan.yarn.needs:
        if need.yarn.yarn_id is not None and (need.warp_mass or need.weft_mass):
            needs_of.setdefault(need.yarn.yarn_id, []).append(need)
    reserve = brief.allowances.spool_reserve
    return tuple(_asked(key, needs, plan, reserve) for key, needs in needs_of.items())


def _asked(key: int, needs: list[YarnNeed], plan: WarpPlan, reserve: Fraction) -> YarnAsked:
    gram = needs[0].yarn.tex / CM_OF_ONE_TEX
    codes = tuple(need.code for need in needs if need.ends)
    groups = [group for group in plan.winding.spools if group.code in codes]
    chains = [chain.length for chain in plan.winding.chains if any(run.code in codes for run in chain.runs)]
    wound = [group.to_wind / group.sections for group in groups] + chains
    least, bare = ([_least(group, more) for group in groups] + chains for more in (reserve, Fraction(0)))
    shorter = {(group.code, group.first) for group in plan.winding.short_spools}
    spools = [
        SpoolAsked(group.code, number, group.sections, group.to_wind * gram, (group.code, group.first) in shorter)
        for group in groups
        for number in range(group.first, group.last + 1)
    ]
    return YarnAsked(
        yarn_id=key,
        codes=codes,
        tex=needs[0].yarn.tex,
        ends=sum(need.ends for need in needs),
        warp_mass=sum((Fraction(need.warp_mass) for need in needs), Fraction(0)),
        weft_mass=sum((Fraction(need.weft_mass) for need in needs), Fraction(0)),
        spools=tuple(spools),
        end_mass=max(wound, default=Fraction(0)) * gram,
        least_end_mass=max(least, default=Fraction(0)) * gram,
        bare_end_mass=max(bare, default=Fraction(0)) * gram,
    )


def _least(group: SpoolGroup, reserve: Fraction) -> Fraction:
    return (Fraction(group.real_length) * (1 + reserve) + group.lead_lost) / group.sections


def masses_taken(
    pieces: Sequence[tuple[Place, Place, Sections]], spools: Sequence[SpoolAsked], there: Sequence[Grams], mass: Grams
) -> tuple[Grams, ...]:
    """Weigh what each package gives: its share of the spools, and of what needs no whole ends.

    `pieces` are package, spool and sections, as the spools are filled; `there` is what each package could give.
    Together they give all that is needed, or all there is.
    Source: plain arithmetic. Raises ValueError if a mass is below zero.

    Two spools of 10 g from two packages, and 5 g of weft:
    >>> two = [SpoolAsked("A", number, 2, Fraction(10), False) for number in (1, 2)]
    >>> [int(mass) for mass in masses_taken([(0, 0, 2), (1, 1, 2)], two, [Fraction(12), Fraction(20)], Fraction(25))]
    [12, 13]
    """
    if min([mass, *there]) < 0:
        raise ValueError(f"mass {mass} and there {there} must not be below zero")
    taken = [Fraction(0)] * len(there)
    for package, spool, sections in pieces:
        taken[package] += spools[spool].mass * sections / spools[spool].sections
    taken = [min(given, most) for given, most in zip(taken, there, strict=True)]
    rest = mass - sum(taken)
    for place, most in enumerate(there):
        more = max(Fraction(0), min(rest, most - taken[place]))
        taken[place] += more
        rest -= more
    return tuple(taken)
