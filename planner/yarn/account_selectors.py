"""Questions about what one warp did with its yarn: set aside, taken out, brought back, and so used."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.calc.ledger import grams
from inventory.models import Move, Package, Yarn
from inventory.scale.selectors import latest_move_of, with_latest_move
from planner.calc.shelf.need import YarnAsked
from planner.models import Project
from planner.warps.moved_yarn import Moved, moved_of

Kind = Move.Kind


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One yarn in the account of a warp [g]; planned is None where the warp no longer asks for it."""

    yarn: Yarn
    planned: Fraction | None
    set_aside: Fraction
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
    set_aside: Fraction
    used: Fraction

    @property
    def may_take(self) -> bool:
        """Something of it is set aside and can be taken."""
        return bool(self.set_aside) and not self.package.quarantined


@dataclass(frozen=True, slots=True)
class Account:
    """What a warp did with its yarn, by yarn and by package."""

    lines: tuple[AccountLine, ...]
    packages: tuple[AccountPackage, ...]
    closed: bool
    stamp: str

    @property
    def has_set_aside(self) -> bool:
        """Something is still set aside."""
        return any(line.set_aside for line in self.lines)


def account_of(warp: Project, asked: Sequence[YarnAsked]) -> Account:
    """Give the account of a warp; as many questions for many packages as for one."""
    moved = {key: one for key, one in moved_of(warp).items() if one.any}
    packages = list(with_latest_move().filter(pk__in=moved).order_by("yarn", "dye_lot", "pk")) if moved else []
    planned = {one.yarn_id: one.mass for one in asked}
    yarns = {package.yarn_id: package.yarn for package in packages}
    return Account(
        lines=tuple(_line(yarn, planned.get(yarn.pk), packages, moved) for yarn in yarns.values()),
        packages=tuple(
            AccountPackage(package, grams(moved[package.pk].set_aside_ug), grams(moved[package.pk].used_ug))
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
        set_aside=grams(sum(one.set_aside_ug for _, one in own)),
        quarantined=grams(sum(one.set_aside_ug for package, one in own if package.quarantined)),
        taken=grams(taken),
        back=grams(back),
        used=grams(taken - back),
    )


def _stamp(packages: Iterable[Package]) -> str:
    """Tell one state of these packages from another, so that a button pressed twice takes nothing twice."""
    state = ";".join(f"{package.pk}:{latest_move_of(package)}" for package in packages)
    return hashlib.sha256(state.encode()).hexdigest()[:24]
