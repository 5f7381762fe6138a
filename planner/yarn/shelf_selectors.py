"""Questions of one warp to the shelf: what it needs of each yarn, what is set aside for it, and where the rest is."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from inventory.calc.ledger import SLACK_UG, grams
from inventory.ledger.selectors import Promise, promises_of
from inventory.models import Package, Yarn
from planner.calc.shelf.need import YarnAsked, yarn_asked
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import WarpPlan
from planner.calc.worksheet.work_out import work_out
from planner.models import Project
from planner.warps.moved_yarn import moved_of
from planner.warps.selectors import read_sheet
from planner.yarn.filling import (
    NO_CHOICE,
    Amount,
    Candidate,
    PackageChoice,
    Share,
    YarnPackages,
    amount_of,
    filled_for,
    named_spools,
    shares_of,
)


@dataclass(frozen=True, slots=True)
class SetAsideYarn:
    """What of one yarn is set aside, and how much of that lies in quarantine [g]."""

    yarn: Yarn
    mass_g: Fraction
    quarantined_g: Fraction


@dataclass(frozen=True, slots=True)
class YarnLine:
    """One yarn of a warp against the shelf, and the packages proposed for it."""

    yarn: Yarn
    asked: YarnAsked
    needed: Amount
    warp: Amount
    weft: Amount
    set_aside: Amount
    out: Amount
    free: Amount
    short: Amount
    over: Amount
    in_quarantine: Amount
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
    has_set_aside: bool
    """Something is set aside for it already, also of a yarn that it no longer uses."""

    @property
    def shares(self) -> tuple[tuple[Package, int], ...]:
        """What is still to be set aside, of each package."""
        return tuple((share.package, share.more_ug) for line in self.lines for share in line.shares if share.more_ug)

    @property
    def stamp(self) -> str:
        """Tells this proposal from another, so that nobody confirms one she has not seen."""
        state = ";".join(f"{package.pk}:{amount}" for package, amount in self.shares)
        return hashlib.sha256(state.encode()).hexdigest()[:24]


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
    result = worked(warp)
    return result.asked if result is not None else ()


def shelf_plan(warp: Project, asked: Sequence[YarnAsked], choice: PackageChoice = NO_CHOICE) -> ShelfPlan:
    """Set what is asked against the shelf as it stands; as many questions for many yarns as for one."""
    yarns = Yarn.objects.in_bulk([one.yarn_id for one in asked])
    packages: dict[int, list[Package]] = {key: [] for key in yarns}
    for package in Package.objects.filter(yarn__in=yarns).select_related("yarn", "owner").order_by("dye_lot", "pk"):
        packages[package.yarn_id].append(package)
    moved = moved_of(warp)
    found = [one for one in asked if one.yarn_id in yarns]
    lines = (_line(warp, one, yarns[one.yarn_id], YarnPackages(packages[one.yarn_id], moved, choice)) for one in found)
    return ShelfPlan(tuple(lines), any(one.set_aside_ug for one in moved.values()))


def set_aside_for(warp: Project) -> tuple[SetAsideYarn, ...]:
    """Give the yarns set aside for a warp, with how much of each, and how much of that is in quarantine [g]."""
    if warp.set_aside is None:
        return ()
    by_yarn: dict[int, list[Promise]] = {}
    for holding in promises_of([warp.set_aside])[warp.set_aside.pk]:
        by_yarn.setdefault(holding.package.yarn_id, []).append(holding)
    return tuple(
        SetAsideYarn(
            found[0].package.yarn,
            sum((one.mass_g for one in found), Fraction(0)),
            sum((one.mass_g for one in found if one.package.quarantined), Fraction(0)),
        )
        for found in by_yarn.values()
    )


def _line(warp: Project, asked: YarnAsked, yarn: Yarn, room: YarnPackages) -> YarnLine:
    usable = room.usable(warp.owner_id)
    offered = room.offered(usable)
    packages = filled_for(asked, [room.offer(one) for one in offered])
    chosen = [offered[at] for at in packages.choice.places]
    served = min(asked.ends, sum(packages.room))
    in_quarantine = [(one, grams(room.own(one).set_aside_ug)) for one in room.packages if one.quarantined]
    return YarnLine(
        yarn=yarn,
        asked=asked,
        **_amounts(asked, room, usable, sum((mass for _, mass in in_quarantine), Fraction(0))),
        quarantined=tuple(in_quarantine),
        candidates=tuple(room.candidate(one) for one in usable),
        masses=tuple(room.there(one) for one in chosen),
        shares=shares_of(asked, chosen, room, packages.filling),
        lots=packages.choice.lots,
        stripe=tuple(zip(packages.stripe, packages.choice.lots, strict=False)),
        dealt=packages.dealt,
        joins=packages.filling.joins,
        fewest=packages.filling.fewest,
        enough=packages.choice.enough,
        ends_served=served,
        ends_missing=asked.ends - served,
        bare=not packages.choice.enough and served == asked.ends > 0,
        short_spools=named_spools([spool for spool in asked.spools if spool.short], asked),
    )


def _amounts(asked: YarnAsked, room: YarnPackages, usable: list[Package], in_quarantine: Fraction) -> dict[str, Amount]:
    set_aside = room.sum_of(room.set_aside(one) for one in usable)
    out = room.sum_of(room.own(one).used_ug for one in room.packages)
    free = room.sum_of(one.free_ug for one in usable)
    short = asked.mass - set_aside - out - free
    beyond = min(set_aside, set_aside + out - asked.mass)
    masses = {
        "needed": asked.mass,
        "warp": asked.warp_mass,
        "weft": asked.weft_mass,
        "set_aside": set_aside,
        "out": out,
        "free": free,
        "short": short if short > grams(SLACK_UG) else Fraction(0),
        "over": beyond if beyond > grams(SLACK_UG) else Fraction(0),
        "in_quarantine": in_quarantine,
    }
    return {name: amount_of(mass, asked.tex) for name, mass in masses.items()}
