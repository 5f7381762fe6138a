"""Which packages one yarn of a warp takes, which spools they fill, and what of them the warp has already."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.calc.count import length_of_mass
from inventory.calc.ledger import grams, micrograms
from inventory.models import Package
from planner.calc.shelf.choice import Choice, Offer, choose_packages, spools_by_stripe, stripe_of_lots
from planner.calc.shelf.need import SpoolAsked, YarnAsked, masses_taken
from planner.calc.shelf.package_plan import Filling, Piece, fewest_joins, uses_of_package
from planner.warps.moved_yarn import Moved


@dataclass(frozen=True, slots=True)
class Amount:
    """Yarn by weight [g] and by length [cm]."""

    mass_g: Fraction
    length_cm: Fraction


@dataclass(frozen=True, slots=True)
class SpoolPart:
    """One spool that a package fills only in part: so many of its sections."""

    spool: str
    sections: int
    of: int


@dataclass(frozen=True, slots=True)
class PackageChoice:
    """Packages the weaver insists on, and those she leaves out, by their keys."""

    insisted: frozenset[int] = frozenset()
    left_out: frozenset[int] = frozenset()

    @property
    def any(self) -> bool:
        """Something was wished."""
        return bool(self.insisted or self.left_out)


NO_CHOICE = PackageChoice()


@dataclass(frozen=True, slots=True)
class Share:
    """What one package gives to the warp: in all, and of that still to be set aside."""

    package: Package
    taken: Amount
    set_aside_g: Fraction
    out_g: Fraction
    more_ug: int
    spools: tuple[str, ...]
    parts: tuple[SpoolPart, ...]

    @property
    def more_g(self) -> Fraction:
        """What the button would set aside of it."""
        return grams(self.more_ug)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A package the warp could have, and what the weaver says of it; what it has already is not hers to leave out."""

    package: Package
    there_g: Fraction
    had: bool
    insisted: bool
    left_out: bool


@dataclass(frozen=True, slots=True)
class YarnPackages:
    """Packages of one yarn, what the warp did with each, and what the weaver wishes."""

    packages: list[Package]
    moved: Mapping[int, Moved]
    choice: PackageChoice

    def own(self, package: Package) -> Moved:
        """Give what the warp did with a package."""
        return self.moved.get(package.pk, Moved())

    def set_aside(self, package: Package) -> int:
        """Give what is set aside and can be taken [ug]."""
        return 0 if package.quarantined else self.own(package).set_aside_ug

    def had(self, package: Package) -> int:
        """Give what the warp has of a package: set aside, or taken out already [ug]."""
        return self.own(package).had_of(package)

    def there(self, package: Package) -> Fraction:
        """Give all that the warp could have of a package [g]."""
        return grams(self.had(package) + package.free_ug)

    def usable(self, owner: int) -> list[Package]:
        """Give the packages that a warp of this owner may use, or has already."""
        return [
            one for one in self.packages if self.had(one) or (one.owner_id in {None, owner} and not one.quarantined)
        ]

    def offered(self, usable: list[Package]) -> list[Package]:
        """Give those that were not left out; what the warp has already cannot be."""
        return [one for one in usable if self.had(one) or one.pk not in self.choice.left_out]

    def offer(self, package: Package) -> Offer:
        """Give a package as the choice takes it: what is insisted on counts as had."""
        fixed = self.had(package) > 0 or package.pk in self.choice.insisted
        return Offer(package.dye_lot, self.there(package), fixed)

    def candidate(self, package: Package) -> Candidate:
        """Give a package as the weaver chooses it."""
        ticked = (package.pk in keys for keys in (self.choice.insisted, self.choice.left_out))
        had = self.had(package) > 0
        return Candidate(package, self.there(package), had, *(not had and one for one in ticked))

    def sum_of(self, amounts: Iterable[int]) -> Fraction:
        """Add amounts of the ledger [g]."""
        return grams(sum(amounts))


def amount_of(mass: Fraction, tex: Fraction) -> Amount:
    """Give an amount by weight with its length."""
    return Amount(mass, length_of_mass(mass, tex))


@dataclass(frozen=True, slots=True)
class ChosenPackages:
    """Packages chosen, the ends each has yarn for, how the lots are striped, and the spools filled."""

    choice: Choice
    room: list[int]
    stripe: tuple[int, ...]
    dealt: bool
    filling: Filling


def filled_for(asked: YarnAsked, offers: list[Offer]) -> ChosenPackages:
    """Choose packages and fill the spools; where they do not suffice, wound no longer than the reserve asks."""
    choice = choose_packages(offers, asked.mass, asked.ends, asked.end_mass)
    use = asked.end_mass if choice.enough else asked.least_end_mass
    room = [uses_of_package(offers[place].mass, use) if use else 0 for place in choice.places]
    lots = [choice.lots.index(offers[place].lot) for place in choice.places]
    served = [sum(ends for ends, own in zip(room, lots, strict=True) if own == lot) for lot in range(len(choice.lots))]
    stripe = _stripe(asked, served) if choice.enough else ()
    sections = [spool.sections for spool in asked.spools]
    dealt = spools_by_stripe(sections, stripe, served) if stripe else ()
    filling = _filled(sections, dealt or (0,) * len(sections), room, lots if dealt else [0] * len(lots))
    return ChosenPackages(choice, room, stripe, bool(dealt), filling)


def _stripe(asked: YarnAsked, served: Sequence[int]) -> tuple[int, ...]:
    """Say how the lots are striped over the warp; nothing where one lot does, or one has no whole end."""
    if len(served) <= 1 or not asked.ends or min(served) < 1 or sum(served) < asked.ends:
        return ()
    return stripe_of_lots(asked.ends, served)


def _filled(sections: Sequence[int], dealt: Sequence[int], room: Sequence[int], lots: Sequence[int]) -> Filling:
    """Fill the spools of each lot from its own packages."""
    pieces, fewest, missing = [], True, 0
    for lot in sorted(set(dealt)):
        spools = [at for at, own in enumerate(dealt) if own == lot]
        packages = [at for at, own in enumerate(lots) if own == lot]
        found = fewest_joins([sections[at] for at in spools], [room[at] for at in packages])
        pieces += [Piece(packages[piece.package], spools[piece.spool], piece.uses) for piece in found.pieces]
        fewest, missing = fewest and found.fewest, missing + found.missing
    return Filling(tuple(pieces), len(pieces) - len({piece.spool for piece in pieces}), fewest, missing)


def shares_of(asked: YarnAsked, chosen: list[Package], room: YarnPackages, filling: Filling) -> tuple[Share, ...]:
    """Say what each chosen package gives, and what of that is still to be set aside."""
    pieces = [(piece.package, piece.spool, piece.uses) for piece in filling.pieces]
    there = [room.there(one) for one in chosen]
    masses = masses_taken(pieces, asked.spools, there, asked.mass) if chosen else ()
    found = []
    for place, (package, mass) in enumerate(zip(chosen, masses, strict=True)):
        own = [(asked.spools[spool], uses) for at, spool, uses in pieces if at == place]
        whole = [spool for spool, uses in own if uses == spool.sections]
        parts = [SpoolPart(_label(spool, asked), uses, spool.sections) for spool, uses in own if uses < spool.sections]
        had = room.had(package)
        more = min(package.free_ug, max(0, micrograms(mass) - had))
        if mass or had or package.pk in room.choice.insisted:
            share = Share(
                package, amount_of(mass, asked.tex), grams(room.set_aside(package)), grams(room.own(package).used_ug),
                more, named_spools(whole, asked), tuple(parts),
            )  # fmt: skip
            found.append(share)
    return tuple(found)


def _label(spool: SpoolAsked, asked: YarnAsked) -> str:
    return f"{spool.code} {spool.number}" if len(asked.codes) > 1 else f"{spool.number}"


def named_spools(spools: Iterable[SpoolAsked], asked: YarnAsked) -> tuple[str, ...]:
    """Write spool numbers with neighbours together, such as 1 to 12, each code's own."""
    spans: list[list[SpoolAsked]] = []
    for spool in sorted(spools, key=lambda one: (one.code, one.number)):
        last = spans[-1][-1] if spans else None
        if last is not None and (last.code, last.number + 1) == (spool.code, spool.number):
            spans[-1].append(spool)
        else:
            spans.append([spool])
    return tuple(
        f"{_label(span[0], asked)} to {span[-1].number}" if len(span) > 1 else _label(span[0], asked) for span in spans
    )
