"""Services of promises: set yarn aside for one piece of work, release it, close the work. Promised is not yet taken."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from django.db import transaction
from django.utils import timezone

from inventory.calc.ledger import meant
from inventory.ledger.selectors import promised_by_package
from inventory.ledger.services import (
    Kind,
    lock_packages,
    lock_set_aside,
    positive_micrograms,
    refuse_for_others,
    refuse_others_yarn,
    refuse_quarantined,
    shortage_words,
    write_move,
)
from inventory.models import Move, Package, SetAside
from studio.errors import NotEnoughYarn, StudioError
from studio.models import Member

Shares = Iterable[tuple[Package, Fraction]]


@transaction.atomic
def open_set_aside(*, title: str, for_member: Member, by: Member) -> SetAside:
    """Begin to set yarn aside for one piece of work."""
    refuse_for_others(by, for_member)
    work = SetAside(title=title, for_member=for_member)
    work.full_clean()
    work.save()
    return work


@transaction.atomic
def allocate_many(*, set_aside: SetAside, shares: Shares, by: Member, said_why: str = "") -> tuple[Move, ...]:
    """Promise yarn of several packages to one piece of work: all of it, or none and every shortage named.

    It stays on the shelf, and nobody else can have it.

    Raises
    ------
    NotEnoughYarn
        If less of a package is free.
    YarnInQuarantine
        If a package is in quarantine.
    StudioError
        If the work or a package is another member's, or the work is closed.
    """
    work = _open_work(set_aside, by)
    amounts = [(package, positive_micrograms(mass_g)) for package, mass_g in shares]
    locked = lock_packages(package for package, _ in amounts)
    totals: dict[int, int] = {}
    for package, amount in amounts:
        totals[package.pk] = totals.get(package.pk, 0) + amount
    for package in locked.values():
        refuse_others_yarn(package, work.for_member)
        refuse_quarantined(package)
    totals = {key: meant(amount, locked[key].free_ug) for key, amount in totals.items()}
    short = [key for key, amount in totals.items() if amount > locked[key].free_ug]
    if short:
        lines = [shortage_words(locked[key], totals[key], locked[key].free_ug, by.reads_in) for key in sorted(short)]
        raise NotEnoughYarn("not_enough_yarn", " ".join(lines))
    values = {"set_aside": work, "for_member": work.for_member, "said_why": said_why}
    return tuple(
        write_move(locked[key], Kind.ALLOCATE, by, promised_ug=totals[key], **values) for key in sorted(totals)
    )


def _open_work(set_aside: SetAside, by: Member) -> SetAside:
    work = lock_set_aside(set_aside)
    refuse_for_others(by, work.for_member)
    if work.closed_at is not None:
        raise StudioError("work_closed", f"{work} is closed; begin a new one to set yarn aside.")
    return work


@transaction.atomic
def release_all(*, set_aside: SetAside, by: Member, said_why: str = "") -> tuple[Move, ...]:
    """Take back every promise to one piece of work, which stays open."""
    work = lock_set_aside(set_aside)
    refuse_for_others(by, work.for_member)
    return _release_all(work, by, said_why)


@transaction.atomic
def close_set_aside(*, set_aside: SetAside, by: Member, said_why: str = "") -> SetAside:
    """End a piece of work: what it still holds is free again, and nothing more is promised to it."""
    work = lock_set_aside(set_aside)
    refuse_for_others(by, work.for_member)
    _release_all(work, by, said_why)
    if work.closed_at is None:
        work.closed_at = timezone.now()
        work.full_clean()
        work.save()
    return work


@transaction.atomic
def open_again(*, set_aside: SetAside, by: Member) -> SetAside:
    """Take up work that was closed: its account goes on where it ended."""
    work = lock_set_aside(set_aside)
    refuse_for_others(by, work.for_member)
    if work.closed_at is not None:
        work.closed_at = None
        work.full_clean()
        work.save()
    return work


def _release_all(work: SetAside, by: Member, said_why: str) -> tuple[Move, ...]:
    packages = lock_packages(Package.objects.filter(pk__in=promised_by_package(work)))
    holds = promised_by_package(work)  # again, now that no weighing can cut them any more
    return tuple(_release(work, packages[key], holds[key], by, said_why) for key in sorted(holds))


def _release(work: SetAside, package: Package, amount: int, by: Member, said_why: str) -> Move:
    values = {"set_aside": work, "for_member": work.for_member, "said_why": said_why}
    return write_move(package, Kind.RELEASE, by, promised_ug=-amount, **values)
