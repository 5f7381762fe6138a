"""A warp and the yarn room: set its yarn aside in one step, and give it back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction

from inventory.calc.ledger import grams
from inventory.ledger.selectors import promised_by_package
from inventory.ledger.services import lock_packages
from inventory.ledger.set_aside import allocate_many, close_set_aside, open_again, open_set_aside, release_all
from inventory.models import Move, Package
from planner.calc.shelf.need import YarnAsked
from planner.models import Project
from planner.yarn.filling import NO_CHOICE, PackageChoice
from planner.yarn.shelf_selectors import asked_by, shelf_plan
from planner.yarn.wanted_services import settle_wanted
from studio.errors import StudioError
from studio.models import Member

SHELF_CHANGED = "The shelf has changed since you opened this page, so nothing was set aside. Look at the new proposal."
WARP_CHANGED = "This warp was changed a moment ago, so nothing was set aside. Look at what it needs now."
ARCHIVED = "This warp is archived. Restore it before you set yarn aside for it."
NOTHING_LEFT = "There is nothing more to set aside for this warp."


def set_yarn_aside(*, warp: Project, by: Member, seen: str, choice: PackageChoice = NO_CHOICE) -> tuple[Move, ...]:
    """Promise a warp the packages proposed for it: all of them, or none when the proposal is not the one seen.

    `choice` is what the weaver chose herself; the proposal is worked out anew with it.

    Raises
    ------
    StudioError
        If the shelf or the warp has changed meanwhile, the warp is another member's or archived, or nothing is left.
    """
    asked = asked_by(warp)  # before the lock: other writers need not wait for sums
    with transaction.atomic():
        kept = lock_warp(warp)
        if kept.archived:
            raise StudioError("archived", ARCHIVED)
        if kept.stamp != warp.stamp:
            raise StudioError("changed_meanwhile", WARP_CHANGED)
        return _set_aside(kept, asked, _Seen(seen, choice), by)


def lock_warp(warp: Project) -> Project:
    """Lock a warp as it is now; always before its set-aside and its packages."""
    return Project.objects.select_for_update(of=("self",)).select_related("owner").get(pk=warp.pk)


@dataclass(frozen=True, slots=True)
class _Seen:
    """The proposal as it was seen: its stamp, and what was wished for."""

    stamp: str
    choice: PackageChoice


def _set_aside(kept: Project, asked: Sequence[YarnAsked], seen: _Seen, by: Member) -> tuple[Move, ...]:
    if kept.set_aside is None:
        kept.set_aside = open_set_aside(title=kept.title, for_member=kept.owner, by=by)
        kept.full_clean()
        Project.objects.filter(pk=kept.pk).update(set_aside=kept.set_aside)  # the brief is as old as it was
    kept.set_aside = open_again(set_aside=kept.set_aside, by=by)  # its account goes on where it was closed
    lock_packages(Package.objects.filter(yarn__in=[one.yarn_id for one in asked]))
    plan = shelf_plan(kept, asked, seen.choice)
    if plan.stamp != seen.stamp:
        raise StudioError("shelf_changed", SHELF_CHANGED)
    if not plan.shares:
        raise StudioError("nothing_left", NOTHING_LEFT)
    shares = [(package, grams(amount)) for package, amount in plan.shares]
    settle_wanted(kept, [line.yarn for line in plan.lines if line.enough], by)
    return allocate_many(set_aside=kept.set_aside, shares=shares, by=by)


@transaction.atomic
def give_yarn_back(*, warp: Project, by: Member) -> tuple[Move, ...]:
    """Make all that is set aside for a warp free again."""
    kept = lock_warp(warp)
    if kept.set_aside is None:
        return ()
    return release_all(set_aside=kept.set_aside, by=by)


def free_yarn_of(warp: Project, by: Member, *, for_good: bool = False) -> None:
    """Give back what a locked warp has set aside, as it is archived or deleted."""
    if warp.set_aside is None:
        return
    if for_good:
        close_set_aside(set_aside=warp.set_aside, by=by)
    elif promised_by_package(warp.set_aside):
        release_all(set_aside=warp.set_aside, by=by)
