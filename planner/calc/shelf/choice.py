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

from studio.quantities import Ends, Grams, Place, Sections

MOST_LOTS = 12
"""Dye lots of one yarn among which every combination is tried; of more, the heaviest are taken in turn."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One package as it is offered to a warp."""

    lot: str
    mass: Grams  # all the warp could have of it: what it holds already, and what is free
    held: bool = False  # the warp holds yarn of it already


@dataclass(frozen=True, slots=True)
class Choice:
    """Packages chosen for one yarn."""

    places: tuple[Place, ...]  # in what was offered, rising
    lots: tuple[str, ...]  # in alphabetical order
    enough: bool


def choose_packages(offers: Sequence[Offer], mass: Grams, ends: Ends, end_mass: Grams) -> Choice:
    """Choose packages in the fewest dye lots, and of these the fewest packages.

    Those the warp holds already are always among the chosen; everything that holds yarn where all of it does not
    suffice. `ends` must each come whole from one package. Of one set of lots the heaviest packages are taken until they
    suffice, which no other packages of these lots do with fewer; the last is the lightest that still suffices, so that
    full packages stay whole.
    Source: plain arithmetic of our own, with no published source; it is checked against trying every way. Raises
    ValueError if `mass`, `ends`, `end_mass` or a mass offered is below zero.

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


def stripe_of_lots(ends: Ends, served: Sequence[Ends]) -> tuple[Ends, ...]:
    """Give the shortest stripe that spreads several dye lots evenly over a warp.

    Tries stripes of two ends, three, and so on, until no lot is asked for more than it serves.
    Source: striping lots on purpose to hide their difference is common practice, no source; plain arithmetic. Raises
    ValueError if a lot serves no end, or all together do not serve `ends`.

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


def spools_by_stripe(spools: Sequence[Sections], stripe: Sequence[Ends], served: Sequence[Ends]) -> tuple[Place, ...]:
    """Deal the spools out to the dye lots in the order of the stripe, so that every section is striped alike.

    Spool by spool, each with the sections it serves, in the order of the stripe, over and over; the place of the lot of
    each, and nothing where a lot would be asked for more than it has.
    Source: plain arithmetic. Raises ValueError if `stripe` and `served` are not of one length, or the stripe has no
    ends.

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
