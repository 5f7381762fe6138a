"""A warp against the shelf: which packages it takes, in the fewest dye lots, and how two lots are striped.

Yarn is counted in ends of the warp, as on the winding bench: one end of one section, or one end of a chain, comes
whole from one package. Weft and floating selvedges need no whole ends and are counted by weight alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import floor

from planner.calc.brief import WarpBrief, YarnChoice
from planner.calc.plan import SpoolGroup, WarpPlan, YarnNeed

CM_OF_ONE_TEX = 100_000
"""Centimetres of a yarn of one tex that weigh one gram, by the definition of tex (1 g in 1 km)."""
MOST_LOTS = 12
"""Dye lots of one yarn among which every combination is tried; of more, the heaviest are taken in turn."""


@dataclass(frozen=True, slots=True)
class SpoolAsked:
    """One spool as the plan asks for it.

    Attributes
    ----------
    code : str
        Code of its yarn. [-]
    number : int
        Number of the spool in the plan. [-]
    sections : int
        Sections it serves, which is how many warp ends come from it. [sections]
    mass : Fraction
        Yarn to wind on it. [g]
    short : bool
        It serves fewer sections than the first of its yarn. [-]
    """

    code: str
    number: int
    sections: int
    mass: Fraction
    short: bool


@dataclass(frozen=True, slots=True)
class YarnAsked:
    """What a plan asks of one yarn of the yarn room.

    Attributes
    ----------
    yarn_id : int
        Key of the yarn. [-]
    codes : tuple[str, ...]
        Codes the brief has for it. [-]
    tex : Fraction
        Mass per length. [tex]
    ends : int
        Warp ends of it. [ends]
    warp_mass : Fraction
        Warp with build-up, waste and reserve. [g]
    weft_mass : Fraction
        Weft. [g]
    spools : tuple[SpoolAsked, ...]
        Spools to fill; empty where all are chains. [-]
    end_mass : Fraction
        Most that one warp end takes, as it is wound. [g]
    least_end_mass : Fraction
        The same with the reserve, but not rounded up to the winder's step. [g]
    """

    yarn_id: int
    codes: tuple[str, ...]
    tex: Fraction
    ends: int
    warp_mass: Fraction
    weft_mass: Fraction
    spools: tuple[SpoolAsked, ...]
    end_mass: Fraction
    least_end_mass: Fraction

    @property
    def mass(self) -> Fraction:
        """Warp and weft together."""
        return self.warp_mass + self.weft_mass


@dataclass(frozen=True, slots=True)
class Offer:
    """One package as it is offered to a warp.

    Attributes
    ----------
    lot : str
        Dye lot. [-]
    mass : Fraction
        All that the warp could have of it: what it holds already, and what is free. [g]
    held : bool
        The warp holds yarn of it already. [-]
    """

    lot: str
    mass: Fraction
    held: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """Packages chosen for one yarn.

    Attributes
    ----------
    places : tuple[int, ...]
        Places in what was offered, rising. [-]
    lots : tuple[str, ...]
        Their dye lots, in alphabetical order. [-]
    enough : bool
        They suffice. [-]
    """

    places: tuple[int, ...]
    lots: tuple[str, ...]
    enough: bool


def yarn_asked(brief: WarpBrief, plan: WarpPlan) -> tuple[YarnAsked, ...]:
    """Gather what a plan asks of each yarn of the yarn room.

    Parameters
    ----------
    brief : WarpBrief
        The brief. [-]
    plan : WarpPlan
        What follows from it. [-]

    Returns
    -------
    asked : tuple[YarnAsked, ...]
        One for each yarn of the yarn room, in the order of the brief. [-]

    Raises
    ------
    ValueError
        If a yarn of the plan is not in the brief.

    Notes
    -----
    The masses are the plan's own. Two codes that mean one yarn are added. Plain arithmetic.

    Examples
    --------
    >>> from planner.calc.brief import BeamFacts, BeamKind, LoomFacts, Method
    >>> from planner.calc.worksheet import work_out
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150), yarn_id=4),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=100, warp_length=Fraction(2286), method=Method.CHAIN)
    >>> [(yarn.yarn_id, yarn.ends, float(yarn.mass)) for yarn in yarn_asked(brief, work_out(brief))]
    [(4, 100, 342.9)]
    """
    chosen = [*brief.yarns, *([brief.weft] if brief.weft is not None else [])]
    if len(plan.yarn) > len(chosen):
        raise ValueError(f"plan has {len(plan.yarn)} yarns and the brief {len(chosen)}")
    found: dict[int, list[tuple[YarnChoice, YarnNeed]]] = {}
    for yarn, need in zip(chosen, plan.yarn, strict=False):
        if yarn.yarn_id is not None and (need.warp_mass or need.weft_mass):
            found.setdefault(yarn.yarn_id, []).append((yarn, need))
    reserve = brief.allowances.spool_reserve
    return tuple(_asked(key, parts, plan, reserve) for key, parts in found.items())


def _asked(key: int, parts: list[tuple[YarnChoice, YarnNeed]], plan: WarpPlan, reserve: Fraction) -> YarnAsked:
    gram = parts[0][0].tex / CM_OF_ONE_TEX
    codes = tuple(need.code for _, need in parts if need.ends)
    groups = [group for group in plan.spools if group.code in codes]
    chains = [chain.length for chain in plan.chains if any(run.code in codes for run in chain.runs)]
    wound = [group.to_wind / group.sections for group in groups] + chains
    bare = [_least(group, reserve) for group in groups] + chains
    shorter = {(group.code, group.first) for group in plan.short_spools}
    spools = [
        SpoolAsked(group.code, number, group.sections, group.to_wind * gram, (group.code, group.first) in shorter)
        for group in groups
        for number in range(group.first, group.last + 1)
    ]
    return YarnAsked(
        yarn_id=key,
        codes=codes,
        tex=parts[0][0].tex,
        ends=sum(need.ends for _, need in parts),
        warp_mass=sum((Fraction(need.warp_mass) for _, need in parts), Fraction(0)),
        weft_mass=sum((Fraction(need.weft_mass) for _, need in parts), Fraction(0)),
        spools=tuple(spools),
        end_mass=max(wound, default=Fraction(0)) * gram,
        least_end_mass=max(bare, default=Fraction(0)) * gram,
    )


def _least(group: SpoolGroup, reserve: Fraction) -> Fraction:
    return (Fraction(group.real_length) * (1 + reserve) + group.lead_lost) / group.sections


def choose_packages(offers: Sequence[Offer], mass: Fraction, ends: int, end_mass: Fraction) -> Choice:
    """Choose packages in the fewest dye lots, and of these the fewest packages.

    Parameters
    ----------
    offers : Sequence[Offer]
        Packages; those the warp holds already are always among the chosen. [-]
    mass : Fraction
        All that is needed. [g]
    ends : int
        Warp ends that must each come whole from one package. [ends]
    end_mass : Fraction
        What one of them takes; 0 where no whole ends are asked. [g]

    Returns
    -------
    choice : Choice
        Everything that holds yarn where all of it does not suffice. [-]

    Raises
    ------
    ValueError
        If `mass`, `ends`, `end_mass` or a mass offered is below zero.

    Notes
    -----
    Of one set of lots the heaviest packages are taken until they suffice, which no other packages of these lots do
    with fewer; the last is the lightest that still suffices, so that full packages stay whole. Own reckoning, checked
    against trying every way.

    Examples
    --------
    Lot X alone does not suffice, lot Y does with two packages:

    >>> offers = [Offer("X", Fraction(300)), Offer("Y", Fraction(280)), Offer("Y", Fraction(260))]
    >>> choose_packages(offers, Fraction(500), 0, Fraction(0))
    Choice(places=(1, 2), lots=('Y',), enough=True)
    """
    if min(mass, Fraction(ends), end_mass, *(offer.mass for offer in offers)) < 0:
        raise ValueError(f"mass {mass}, ends {ends}, end_mass {end_mass} and all offers must not be below zero")
    shelf = _Shelf(tuple(offers), mass, ends, end_mass)
    held = [place for place, offer in enumerate(offers) if offer.held]
    some = [place for place, offer in enumerate(offers) if offer.mass > 0 and not offer.held]
    if not shelf.suffices(held + some):
        return shelf.choice(held + some, enough=False)
    begun = {offers[place].lot for place in held}
    for lots in _lots(offers, some, begun):
        found = [shelf.fewest(held, [place for place in some if offers[place].lot in begun | set(one)]) for one in lots]
        good = [places for places in found if places is not None]
        if good:
            return shelf.choice(min(good, key=lambda places: (len(places), shelf.mass_of(places))), enough=True)
    return shelf.choice(held + some, enough=True)


def _lots(offers: Sequence[Offer], some: Sequence[int], begun: set[str]) -> Iterator[list[tuple[str, ...]]]:
    """Give the ways to begin no further lot, then one, then two."""
    masses: dict[str, Fraction] = {}
    for place in some:
        if offers[place].lot not in begun:
            masses[offers[place].lot] = masses.get(offers[place].lot, Fraction(0)) + offers[place].mass
    others = sorted(masses, key=lambda lot: (-masses[lot], lot))
    for number in range(len(others) + 1):
        yield list(combinations(others, number)) if len(others) <= MOST_LOTS else [tuple(others[:number])]


@dataclass(frozen=True, slots=True)
class _Shelf:
    """What is offered and what is needed."""

    offers: tuple[Offer, ...]
    mass: Fraction
    ends: int
    end_mass: Fraction

    def mass_of(self, places: Sequence[int]) -> Fraction:
        return sum((self.offers[place].mass for place in places), Fraction(0))

    def suffices(self, places: Sequence[int]) -> bool:
        if self.mass_of(places) < self.mass:
            return False
        return not self.end_mass or sum(self.offers[at].mass // self.end_mass for at in places) >= self.ends

    def fewest(self, held: list[int], some: list[int]) -> list[int] | None:
        """Give the held packages with the fewest of the others that suffice; None where all do not."""
        heaviest = sorted(some, key=lambda place: -self.offers[place].mass)
        number = next((n for n in range(len(some) + 1) if self.suffices(held + heaviest[:n])), None)
        if number is None or number == 0:
            return None if number is None else held
        kept = held + heaviest[: number - 1]
        last = next(place for place in reversed(heaviest) if place not in kept and self.suffices([*kept, place]))
        return [*kept, last]

    def choice(self, places: Sequence[int], *, enough: bool) -> Choice:
        lots = {self.offers[place].lot for place in places}
        return Choice(tuple(sorted(places)), tuple(sorted(lots)), enough)


def masses_taken(
    pieces: Sequence[tuple[int, int, int]], spools: Sequence[SpoolAsked], there: Sequence[Fraction], mass: Fraction
) -> tuple[Fraction, ...]:
    """Weigh what each package gives: its share of the spools, and of what needs no whole ends.

    Parameters
    ----------
    pieces : Sequence[tuple[int, int, int]]
        Package, spool and sections, as the spools are filled. [-]
    spools : Sequence[SpoolAsked]
        The spools. [-]
    there : Sequence[Fraction]
        What each package could give. [g]
    mass : Fraction
        All that is needed. [g]

    Returns
    -------
    taken : tuple[Fraction, ...]
        Of each package; together all that is needed, or all there is. [g]

    Raises
    ------
    ValueError
        If a mass is below zero.

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
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


def stripe_of_lots(ends: int, served: Sequence[int]) -> tuple[int, ...]:
    """Give the shortest stripe that spreads several dye lots evenly over a warp.

    Parameters
    ----------
    ends : int
        Ends of the warp in this yarn. [ends]
    served : Sequence[int]
        Ends that each lot has yarn for. [ends]

    Returns
    -------
    stripe : tuple[int, ...]
        Ends of each lot in one stripe, repeated across the warp. [ends]

    Raises
    ------
    ValueError
        If a lot serves no end, or all together do not serve `ends`.

    Notes
    -----
    Tries stripes of two ends, three, and so on, until no lot is asked for more than it has. Striping lots on purpose
    hides their difference: common practice, no source. Plain arithmetic.

    Examples
    --------
    480 ends, of which one lot has yarn for 400 and the other for 130:

    >>> stripe_of_lots(480, [400, 130])
    (3, 1)
    """
    if min(served) < 1 or sum(served) < ends:
        raise ValueError(f"served {served} must hold one end of each lot and {ends} in all")
    for long in range(len(served), max(ends, len(served)) + 1):
        most = [floor(Fraction(number * long, ends)) for number in served]
        if min(most) >= 1 and sum(most) >= long:
            break
    while sum(most) > long:
        most[most.index(max(most))] -= 1
    return tuple(most)


def spools_by_stripe(spools: Sequence[int], stripe: Sequence[int], served: Sequence[int]) -> tuple[int, ...]:
    """Deal the spools out to the dye lots in the order of the stripe, so that every section is striped alike.

    Parameters
    ----------
    spools : Sequence[int]
        Sections each spool serves, in the order of their numbers. [sections]
    stripe : Sequence[int]
        Ends of each lot in one stripe. [ends]
    served : Sequence[int]
        Ends that each lot has yarn for. [ends]

    Returns
    -------
    lots : tuple[int, ...]
        Place of the lot of each spool; empty where a lot would be asked for more than it has. [-]

    Raises
    ------
    ValueError
        If `stripe` and `served` are not of one length, or the stripe has no ends.

    Notes
    -----
    Spool by spool in the order of the stripe, over and over. Plain arithmetic.

    Examples
    --------
    >>> spools_by_stripe([12] * 8, (3, 1), [80, 24])
    (0, 0, 0, 1, 0, 0, 0, 1)
    """
    if len(stripe) != len(served) or sum(stripe) < 1:
        raise ValueError(f"stripe {stripe} must have ends and as many lots as served {served}")
    order = [lot for lot, ends in enumerate(stripe) for _ in range(ends)]
    dealt = tuple(order[place % len(order)] for place in range(len(spools)))
    asked = [0] * len(served)
    for lot, sections in zip(dealt, spools, strict=True):
        asked[lot] += sections
    return dealt if all(want <= there for want, there in zip(asked, served, strict=True)) else ()
