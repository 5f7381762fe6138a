"""Questions of one warp to the shelf: what it needs of each yarn, what is set aside for it, and where the rest is."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.ledger_selectors import held_by, holdings_of
from inventory.ledger_sums import SLACK_UG, grams, micrograms
from inventory.models import Package, Yarn
from inventory.yarn_count import length_of_mass
from planner.calc.package_plan import Filling, Piece, fewest_joins, uses_of_package
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
class Share:
    """What one package gives to the warp: in all, and of that still to be set aside."""

    package: Package
    taken: Amount
    held_g: Fraction
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
    free: Amount
    short: Amount
    over: Amount
    quarantined: tuple[Package, ...]
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


def asked_by(warp: Project) -> tuple[YarnAsked, ...]:
    """Work out what a saved warp needs of each yarn of the yarn room; nothing where it has mistakes."""
    brief = read_sheet(warp.typed, warp).brief
    return yarn_asked(brief, work_out(brief)) if brief is not None else ()


def shelf_plan(warp: Project, asked: Sequence[YarnAsked]) -> ShelfPlan:
    """Set what is asked against the shelf as it stands; as many questions for many yarns as for one."""
    yarns = Yarn.objects.in_bulk([one.yarn_id for one in asked])
    packages: dict[int, list[Package]] = {key: [] for key in yarns}
    for package in Package.objects.filter(yarn__in=yarns).select_related("yarn", "owner").order_by("dye_lot", "pk"):
        packages[package.yarn_id].append(package)
    held = held_by(warp.set_aside) if warp.set_aside is not None else {}
    found = [one for one in asked if one.yarn_id in yarns]
    lines = (_line(warp, one, yarns[one.yarn_id], packages[one.yarn_id], held) for one in found)
    return ShelfPlan(tuple(lines), bool(held))


def held_for(warp: Project) -> tuple[tuple[Yarn, Fraction], ...]:
    """Give the yarns set aside for a warp, with how much of each [g]."""
    if warp.set_aside is None:
        return ()
    found: dict[int, tuple[Yarn, Fraction]] = {}
    for holding in holdings_of([warp.set_aside])[warp.set_aside.pk]:
        yarn = holding.package.yarn
        found[yarn.pk] = (yarn, found.get(yarn.pk, (yarn, Fraction(0)))[1] + holding.mass_g)
    return tuple(found.values())


def _line(warp: Project, asked: YarnAsked, yarn: Yarn, packages: list[Package], held: Mapping[int, int]) -> YarnLine:
    usable = [one for one in packages if one.owner_id in {None, warp.owner_id} and not one.quarantined]
    there = [grams(held.get(one.pk, 0) + one.free_ug) for one in usable]
    offers = [
        Offer(package.dye_lot, mass, held.get(package.pk, 0) > 0) for package, mass in zip(usable, there, strict=True)
    ]
    found = _found(asked, offers)
    places = found.choice.places
    shares = _shares(asked, [usable[at] for at in places], [there[at] for at in places], held, found.filling)
    holds = sum((grams(held.get(one.pk, 0)) for one in usable), Fraction(0))
    free = sum((grams(one.free_ug) for one in usable), Fraction(0))
    served = min(asked.ends, sum(found.room))
    return YarnLine(
        yarn=yarn,
        asked=asked,
        **_amounts(asked, holds, free),
        quarantined=tuple(one for one in packages if one.quarantined),
        shares=shares,
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


def _amounts(asked: YarnAsked, held: Fraction, free: Fraction) -> dict[str, Amount]:
    masses = {
        "needed": asked.mass,
        "warp": asked.warp_mass,
        "weft": asked.weft_mass,
        "held": held,
        "free": free,
        "short": max(Fraction(0), asked.mass - held - free),
        "over": held - asked.mass if held - asked.mass > grams(SLACK_UG) else Fraction(0),
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


def _shares(
    asked: YarnAsked, chosen: list[Package], there: list[Fraction], held: Mapping[int, int], filling: Filling
) -> tuple[Share, ...]:
    pieces = [(piece.package, piece.spool, piece.uses) for piece in filling.pieces]
    masses = masses_taken(pieces, asked.spools, there, asked.mass) if chosen else ()
    found = []
    for place, (package, mass) in enumerate(zip(chosen, masses, strict=True)):
        own = [(asked.spools[spool], uses) for at, spool, uses in pieces if at == place]
        whole = [spool for spool, uses in own if uses == spool.sections]
        parts = [Part(_label(spool, asked), uses, spool.sections) for spool, uses in own if uses < spool.sections]
        holds = held.get(package.pk, 0)
        more = min(package.free_ug, max(0, micrograms(mass) - holds))
        if mass or holds:
            share = Share(package, _amount(mass, asked.tex), grams(holds), more, _named(whole, asked), tuple(parts))
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
