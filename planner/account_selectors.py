"""Questions about what one warp did with its yarn: set aside, taken out, brought back, and so used."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.db.models import Q, Sum

from inventory.ledger_sums import grams
from inventory.models import Move, Package, SetAside, Yarn
from inventory.scale_selectors import at_the_scale, seen_of
from inventory.selectors import free_weight
from planner.calc.shelf_need import YarnAsked
from planner.models import Project

Kind = Move.Kind


@dataclass(frozen=True, slots=True)
class Moved:
    """What one piece of work did with one package [ug]; moves that were reversed do not count."""

    held_ug: int = 0
    taken_ug: int = 0
    back_ug: int = 0

    @property
    def used_ug(self) -> int:
        """Taken out and not brought back; damp wool can bring back more than went out."""
        return max(0, self.taken_ug - self.back_ug)

    def had_of(self, package: Package) -> int:
        """What the work has of this package [ug]: set aside where it can be taken, or out already.

        One microgram more where nothing else is free, since the ledger rounds: what was set aside must suffice for
        what it was set aside for.
        """
        had = (0 if package.quarantined else self.held_ug) + self.used_ug
        return had + 1 if had and not package.free_ug else had

    @property
    def any(self) -> bool:
        """Something is set aside, or was taken."""
        return bool(self.held_ug or self.taken_ug or self.back_ug)


def moved_for(works: Iterable[SetAside | None]) -> dict[tuple[int, int], Moved]:
    """Give what pieces of work did with each package, by the keys of both; one question, however many."""
    keys = [work.pk for work in works if work is not None]
    if not keys:
        return {}
    sums = (
        Move.objects.filter(set_aside__in=keys)
        .order_by()
        .values_list("set_aside", "package")
        .annotate(
            held=Sum("promised_ug"),
            taken=Sum("on_hand_ug", filter=Q(kind=Kind.ISSUE, reversed_by=None)),
            back=Sum("on_hand_ug", filter=Q(kind=Kind.RETURN, reversed_by=None)),
        )
    )
    return {
        (work, package): Moved(int(held or 0), -int(taken or 0), int(back or 0))
        for work, package, held, taken, back in sums
    }


def moved_of(warp: Project) -> dict[int, Moved]:
    """Give what a warp did with each package, by the key of the package."""
    return {package: moved for (_, package), moved in moved_for([warp.set_aside]).items()}


def had_by(warp: Project, yarns: Sequence[Yarn]) -> dict[int, Fraction]:
    """Give what a warp could have of each yarn [g]: free, its owner's own, set aside for it, or out for it already.

    What is set aside on a package in quarantine does not count: it cannot be taken out.
    """
    free = free_weight(yarns, for_member=warp.owner)
    moved = moved_of(warp)
    for package in Package.objects.filter(pk__in=moved, yarn__in=free) if moved else ():
        free[package.yarn_id] += grams(moved[package.pk].had_of(package))
    return free


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One yarn in the account of a warp [g]; planned is None where the warp no longer asks for it."""

    yarn: Yarn
    planned: Fraction | None
    held: Fraction
    quarantined: Fraction
    taken: Fraction
    back: Fraction
    used: Fraction

    @property
    def beyond(self) -> Fraction:
        """Used beyond what was planned; below zero where less was used."""
        return self.used - (self.planned or 0)


@dataclass(frozen=True, slots=True)
class AccountPackage:
    """One package in the account of a warp [g]."""

    package: Package
    held: Fraction
    used: Fraction

    @property
    def may_take(self) -> bool:
        """Something of it is set aside and can be taken."""
        return bool(self.held) and not self.package.quarantined


@dataclass(frozen=True, slots=True)
class Account:
    """What a warp did with its yarn, by yarn and by package."""

    lines: tuple[AccountLine, ...]
    packages: tuple[AccountPackage, ...]
    closed: bool
    stamp: str

    @property
    def held(self) -> bool:
        """Something is still set aside."""
        return any(line.held for line in self.lines)


def account_of(warp: Project, asked: Sequence[YarnAsked]) -> Account:
    """Give the account of a warp; as many questions for many packages as for one."""
    moved = {key: one for key, one in moved_of(warp).items() if one.any}
    packages = list(at_the_scale().filter(pk__in=moved).order_by("yarn", "dye_lot", "pk")) if moved else []
    planned = {one.yarn_id: one.mass for one in asked}
    yarns = {package.yarn_id: package.yarn for package in packages}
    return Account(
        lines=tuple(_line(yarn, planned.get(yarn.pk), packages, moved) for yarn in yarns.values()),
        packages=tuple(
            AccountPackage(package, grams(moved[package.pk].held_ug), grams(moved[package.pk].used_ug))
            for package in packages
        ),
        closed=warp.set_aside is not None and warp.set_aside.closed_at is not None,
        stamp=_stamp(packages),
    )


def _line(yarn: Yarn, planned: Fraction | None, packages: list[Package], moved: dict[int, Moved]) -> AccountLine:
    own = [(package, moved[package.pk]) for package in packages if package.yarn_id == yarn.pk]
    taken, back = sum(one.taken_ug for _, one in own), sum(one.back_ug for _, one in own)
    return AccountLine(
        yarn=yarn,
        planned=planned,
        held=grams(sum(one.held_ug for _, one in own)),
        quarantined=grams(sum(one.held_ug for package, one in own if package.quarantined)),
        taken=grams(taken),
        back=grams(back),
        used=grams(taken - back),
    )


def _stamp(packages: Iterable[Package]) -> str:
    """Tell one state of these packages from another, so that a button pressed twice takes nothing twice."""
    said = ";".join(f"{package.pk}:{seen_of(package)}" for package in packages)
    return hashlib.sha256(said.encode()).hexdigest()[:24]
