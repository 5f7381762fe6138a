"""Questions of one warp to the shelf: what it needs of each yarn, what is set aside for it, and where the rest is."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from inventory.ledger_selectors import Holding, holdings_of
from inventory.ledger_sums import SLACK_UG, grams, micrograms
from inventory.models import Package, Yarn
from inventory.yarn_count import length_of_mass
from planner.account_selectors import Moved, moved_of
from planner.calc.brief import WarpBrief
from planner.calc.package_plan import Filling, Piece, fewest_joins, uses_of_package
from planner.calc.plan import WarpPlan
from planner.calc.shelf_choice import Choice, Offer, choose_packages, spools_by_stripe, stripe_of_lots
from planner.calc.shelf_need import SpoolAsked, YarnAsked, masses_taken, yarn_asked
from planner.calc.worksheet import work_out
from planner.models import Project
from planner.selectors import read_sheet


@dataclass(frozen=True, slots=True)
class Amount:
    """Yarn by weight [g] and by length [cm]."""

    mass_g: Fraction
    length_cm: Fraction


@dataclass(frozen=True, slots=True)
class Part:
    """One spool that a package fills only in part: so many of its sections."""

    spool: str
    sections: int
    of: int


@dataclass(frozen=True, slots=True)
class Wish:
    """Packages the weaver insists on, and those she leaves out, by their keys."""

    insisted: frozenset[int] = frozenset()
    left_out: frozenset[int] = frozenset()

    @property
    def any(self) -> bool:
        """Something was wished."""
        return bool(self.insisted or self.left_out)


NO_WISH = Wish()


@dataclass(frozen=True, slots=True)
class HeldYarn:
    """What of one yarn is set aside, and how much of that lies in quarantine [g]."""

    yarn: Yarn
    mass_g: Fraction
    quarantined_g: Fraction


@dataclass(frozen=True, slots=True)
class Candidate:
    """A package the warp could have, and what the weaver says of it; what it has already is not hers to leave out."""

    package: Package
    there_g: Fraction
    had: bool
    insisted: bool
    left_out: bool


@dataclass(frozen=True, slots=True)
class Share:
    """What one package gives to the warp: in all, and of that still to be set aside."""

    package: Package
    taken: Amount
    held_g: Fraction
    out_g: Fraction
    more_ug: int
    spools: tuple[str, ...]
    parts: tuple[Part, ...]

    @property
    def more_g(self) -> Fraction:
        """What the button would set aside of it."""
        return grams(self.more_ug)


@dataclass(frozen=True, slots=True)
class YarnLine:
    """One yarn of a warp against the shelf, and the packages proposed for it."""

    yarn: Yarn
    asked: YarnAsked
    needed: Amount
    warp: Amount
    weft: Amount
    held: Amount
    out: Amount
    free: Amount
    short: Amount
    over: Amount
    locked: Amount
    """Set aside for it on packages that are in quarantine: counted apart, since it cannot be taken out."""
    quarantined: tuple[tuple[Package, Fraction], ...]
    """Packages in quarantine, each with what of it is set aside for this warp [g]."""
    candidates: tuple[Candidate, ...]
    masses: tuple[Fraction, ...]
    """What each chosen package gives or could give [g]."""
    shares: tuple[Share, ...]
    lots: tuple[str, ...]
    stripe: tuple[tuple[int, str], ...]
    dealt: bool
    joins: int
    fewest: bool
    enough: bool
    ends_served: int
    ends_missing: int
    bare: bool
    short_spools: tuple[str, ...]

    @property
    def more_ug(self) -> int:
        """What the button would set aside of this yarn."""
        return sum(share.more_ug for share in self.shares)

    @property
    def left_out(self) -> bool:
        """The weaver left some package of it out."""
        return any(one.left_out for one in self.candidates)

    @property
    def short_number(self) -> int:
        """Spools that serve fewer sections than the first of their yarn."""
        return sum(spool.short for spool in self.asked.spools)

    @property
    def nameless(self) -> bool:
        """Of some package no dye lot is written down."""
        return "" in self.lots

    @property
    def filled(self) -> bool:
        """Some spools are to be filled."""
        return any(share.spools or share.parts for share in self.shares)


@dataclass(frozen=True, slots=True)
class ShelfPlan:
    """A warp against the shelf."""

    lines: tuple[YarnLine, ...]
    held: bool
    """Something is set aside for it already, also of a yarn that it no longer uses."""

    @property
    def shares(self) -> tuple[tuple[Package, int], ...]:
        """What is still to be set aside, of each package."""
        return tuple((share.package, share.more_ug) for line in self.lines for share in line.shares if share.more_ug)

    @property
    def stamp(self) -> str:
        """Tells this proposal from another, so that nobody confirms one she has not seen."""
        said = ";".join(f"{package.pk}:{amount}" for package, amount in self.shares)
        return hashlib.sha256(said.encode()).hexdigest()[:24]


@dataclass(frozen=True, slots=True)
class Worked:
    """A saved warp worked out: its brief, its plan, and what that asks of each yarn of the yarn room."""

    brief: WarpBrief
    plan: WarpPlan
    asked: tuple[YarnAsked, ...] = field(default=())


def worked(warp: Project) -> Worked | None:
    """Work a saved warp out; nothing where it has mistakes."""
    brief = read_sheet(warp.typed, warp).brief
    if brief is None:
        return None
    plan = work_out(brief)
    return Worked(brief, plan, yarn_asked(brief, plan))


def asked_by(warp: Project) -> tuple[YarnAsked, ...]:
    """Work out what a saved warp needs of each yarn of the yarn room; nothing where it has mistakes."""
    found = worked(warp)
    return found.asked if found is not None else ()


def shelf_plan(warp: Project, asked: Sequence[YarnAsked], wish: Wish = NO_WISH) -> ShelfPlan:
    """Set what is asked against the shelf as it stands; as many questions for many yarns as for one."""
    yarns = Yarn.objects.in_bulk([one.yarn_id for one in asked])
    packages: dict[int, list[Package]] = {key: [] for key in yarns}
    for package in Package.objects.filter(yarn__in=yarns).select_related("yarn", "owner").order_by("dye_lot", "pk"):
        packages[package.yarn_id].append(package)
    moved = moved_of(warp)
    found = [one for one in asked if one.yarn_id in yarns]
    lines = (_line(warp, one, yarns[one.yarn_id], _Room(packages[one.yarn_id], moved, wish)) for one in found)
    return ShelfPlan(tuple(lines), any(one.held_ug for one in moved.values()))


def held_for(warp: Project) -> tuple[HeldYarn, ...]:
    """Give the yarns set aside for a warp, with how much of each, and how much of that is in quarantine [g]."""
    if warp.set_aside is None:
        return ()
    by_yarn: dict[int, list[Holding]] = {}
    for holding in holdings_of([warp.set_aside])[warp.set_aside.pk]:
        by_yarn.setdefault(holding.package.yarn_id, []).append(holding)
    return tuple(
        HeldYarn(
            found[0].package.yarn,
            sum((one.mass_g for one in found), Fraction(0)),
            sum((one.mass_g for one in found if one.package.quarantined), Fraction(0)),
        )
        for found in by_yarn.values()
    )


@dataclass(frozen=True, slots=True)
class _Room:
    """Packages of one yarn, what the warp did with each, and what the weaver wishes."""

    packages: list[Package]
    moved: Mapping[int, Moved]
    wish: Wish

    def own(self, package: Package) -> Moved:
        return self.moved.get(package.pk, Moved())

    def held(self, package: Package) -> int:
        """Give what is set aside and can be taken [ug]."""
        return 0 if package.quarantined else self.own(package).held_ug

    def had(self, package: Package) -> int:
        """Give what the warp has of a package: set aside, or taken out already [ug]."""
        return self.held(package) + self.own(package).used_ug

    def there(self, package: Package) -> Fraction:
        return grams(self.had(package) + package.free_ug)

    def usable(self, owner: int) -> list[Package]:
        return [
            one for one in self.packages if self.had(one) or (one.owner_id in {None, owner} and not one.quarantined)
        ]

    def wanted(self, usable: list[Package]) -> list[Package]:
        return [one for one in usable if self.had(one) or one.pk not in self.wish.left_out]

    def offer(self, package: Package) -> Offer:
        fixed = self.had(package) > 0 or package.pk in self.wish.insisted
        return Offer(package.dye_lot, self.there(package), fixed)

    def candidate(self, package: Package) -> Candidate:
        said = (package.pk in keys for keys in (self.wish.insisted, self.wish.left_out))
        had = self.had(package) > 0
        return Candidate(package, self.there(package), had, *(not had and one for one in said))

    def sum_of(self, amounts: Iterable[int]) -> Fraction:
        return grams(sum(amounts))


def _line(warp: Project, asked: YarnAsked, yarn: Yarn, room: _Room) -> YarnLine:
    usable = room.usable(warp.owner_id)
    wanted = room.wanted(usable)
    found = _found(asked, [room.offer(one) for one in wanted])
    chosen = [wanted[at] for at in found.choice.places]
    served = min(asked.ends, sum(found.room))
    locked = [(one, grams(room.own(one).held_ug)) for one in room.packages if one.quarantined]
    return YarnLine(
        yarn=yarn,
        asked=asked,
        **_amounts(asked, room, usable, sum((mass for _, mass in locked), Fraction(0))),
        quarantined=tuple(locked),
        candidates=tuple(room.candidate(one) for one in usable),
        masses=tuple(room.there(one) for one in chosen),
        shares=_shares(asked, chosen, room, found.filling),
        lots=found.choice.lots,
        stripe=tuple(zip(found.stripe, found.choice.lots, strict=False)),
        dealt=found.dealt,
        joins=found.filling.joins,
        fewest=found.filling.fewest,
        enough=found.choice.enough,
        ends_served=served,
        ends_missing=asked.ends - served,
        bare=not found.choice.enough and served == asked.ends > 0,
        short_spools=_named([spool for spool in asked.spools if spool.short], asked),
    )


def _amounts(asked: YarnAsked, room: _Room, usable: list[Package], locked: Fraction) -> dict[str, Amount]:
    held = room.sum_of(room.held(one) for one in usable)
    out = room.sum_of(room.own(one).used_ug for one in room.packages)
    free = room.sum_of(one.free_ug for one in usable)
    beyond = min(held, held + out - asked.mass)
    masses = {
        "needed": asked.mass,
        "warp": asked.warp_mass,
        "weft": asked.weft_mass,
        "held": held,
        "out": out,
        "free": free,
        "short": max(Fraction(0), asked.mass - held - out - free),
        "over": beyond if beyond > grams(SLACK_UG) else Fraction(0),
        "locked": locked,
    }
    return {name: _amount(mass, asked.tex) for name, mass in masses.items()}


def _amount(mass: Fraction, tex: Fraction) -> Amount:
    return Amount(mass, length_of_mass(mass, tex))


@dataclass(frozen=True, slots=True)
class _Found:
    """Packages chosen, the ends each has yarn for, how the lots are striped, and the spools filled."""

    choice: Choice
    room: list[int]
    stripe: tuple[int, ...]
    dealt: bool
    filling: Filling


def _found(asked: YarnAsked, offers: list[Offer]) -> _Found:
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
    return _Found(choice, room, stripe, bool(dealt), filling)


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


def _shares(asked: YarnAsked, chosen: list[Package], room: _Room, filling: Filling) -> tuple[Share, ...]:
    pieces = [(piece.package, piece.spool, piece.uses) for piece in filling.pieces]
    there = [room.there(one) for one in chosen]
    masses = masses_taken(pieces, asked.spools, there, asked.mass) if chosen else ()
    found = []
    for place, (package, mass) in enumerate(zip(chosen, masses, strict=True)):
        own = [(asked.spools[spool], uses) for at, spool, uses in pieces if at == place]
        whole = [spool for spool, uses in own if uses == spool.sections]
        parts = [Part(_label(spool, asked), uses, spool.sections) for spool, uses in own if uses < spool.sections]
        had = room.had(package)
        more = min(package.free_ug, max(0, micrograms(mass) - had))
        if mass or had or package.pk in room.wish.insisted:
            share = Share(
                package, _amount(mass, asked.tex), grams(room.held(package)), grams(room.own(package).used_ug),
                more, _named(whole, asked), tuple(parts),
            )  # fmt: skip
            found.append(share)
    return tuple(found)


def _label(spool: SpoolAsked, asked: YarnAsked) -> str:
    return f"{spool.code} {spool.number}" if len(asked.codes) > 1 else f"{spool.number}"


def _named(spools: Iterable[SpoolAsked], asked: YarnAsked) -> tuple[str, ...]:
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
