"""A warp at the winding: take its yarn out, bring back what is left, close the account."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.calc.ledger import grams
from inventory.ledger.selectors import never_so_heavy, promised_of
from inventory.ledger.services import lock_packages, lock_set_aside, refuse_for_others
from inventory.ledger.set_aside import close_set_aside
from inventory.ledger.taking import issue_yarn, return_yarn
from inventory.models import Move, Package, SetAside
from planner.models import Project
from planner.yarn.account_selectors import account_of
from planner.yarn.shelf_services import lock_warp
from studio.errors import StudioError
from studio.models import Member
from studio.units import read

WRITTEN_MEANWHILE = (
    "Some of this yarn was moved since you opened the page, so nothing was recorded. Look at the figures; if it is "
    "still to be done, send it again."
)
NOTHING_CHOSEN = "Nothing was recorded: choose an action for at least one package."
SOME_REFUSED = "Nothing was recorded yet: look at the packages marked below."
NO_ACCOUNT = "Nothing was ever set aside for this warp."
TOO_HEAVY = "That is far more than ever was on it. If it is right, weigh it at the scale."
CLOSED = "The account of this warp is closed: yarn can only come back."


class YarnAction(StrEnum):
    """What is done with one package."""

    TAKE_ALL = "take_all"
    TAKE = "take"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class Taking:
    """One package, what is done with it, and what the scale shows of it afterwards."""

    package: Package
    action: YarnAction
    gross_text: str = ""


class RowsRefused(StudioError):
    """Some packages were refused, so nothing was written; `rows` has a sentence for each, by its key."""

    def __init__(self, rows: Mapping[int, str]) -> None:
        super().__init__("rows_refused", SOME_REFUSED)
        self.rows = rows


@transaction.atomic
def move_yarn(*, warp: Project, takings: Sequence[Taking], by: Member, seen: str) -> tuple[Move, ...]:
    """Take yarn of a warp out or bring it back, several packages at once: all of it, or none and every fault named.

    `seen` is the stamp of the account as it was shown: a button pressed twice must not take the yarn twice.

    Raises
    ------
    StudioError
        If nothing is asked, the yarn was moved meanwhile, or the warp is another member's.
    RowsRefused
        If the action on some package is refused.
    """
    if not takings:
        raise StudioError("nothing_asked", NOTHING_CHOSEN)
    work = _locked_set_aside(lock_warp(warp))
    refuse_for_others(by, work.for_member)
    lock_packages(Package.objects.filter(moves__set_aside=work))  # all at once, in the order of their keys
    account = account_of(Project.objects.select_related("set_aside").get(pk=warp.pk), ())
    if account.stamp != seen:
        raise StudioError("written_meanwhile", WRITTEN_MEANWHILE)
    in_account = {one.package.pk for one in account.packages}
    moves, refusals = [], dict[int, str]()
    for one in takings:
        if one.package.pk not in in_account:
            raise StudioError("not_of_this_warp", f"{one.package} is not set aside for this warp.")
        try:
            moves.append(_DO[one.action](one, work, by))
        except (StudioError, ValidationError) as refused:
            refusals[one.package.pk] = _sentence(refused)
    if refusals:
        raise RowsRefused(refusals)
    return tuple(moves)


def _locked_set_aside(warp: Project) -> SetAside:
    if warp.set_aside is None:
        raise StudioError("no_account", NO_ACCOUNT)
    return lock_set_aside(warp.set_aside)


def _sentence(refused: StudioError | ValidationError) -> str:
    return refused.message if isinstance(refused, StudioError) else " ".join(refused.messages)


def _take_all(one: Taking, work: SetAside, by: Member) -> Move:
    _refuse_closed(work)
    promised = promised_of(work, one.package)
    if not promised:
        raise StudioError("nothing_promised", "Nothing more of it is set aside for this warp.")
    return issue_yarn(package=one.package, by=by, set_aside=work, mass_g=grams(promised))


def _take(one: Taking, work: SetAside, by: Member) -> Move:
    _refuse_closed(work)
    return issue_yarn(package=one.package, by=by, set_aside=work, gross_text=one.gross_text)


def _back(one: Taking, work: SetAside, by: Member) -> Move:
    if never_so_heavy(one.package, read(one.gross_text, "mass", None)):
        raise StudioError("too_heavy", TOO_HEAVY)
    return return_yarn(package=one.package, by=by, set_aside=work, gross_text=one.gross_text)


def _refuse_closed(work: SetAside) -> None:
    if work.closed_at is not None:
        raise StudioError("work_closed", CLOSED)


_DO: Mapping[YarnAction, Callable[[Taking, SetAside, Member], Move]] = MappingProxyType(
    {YarnAction.TAKE_ALL: _take_all, YarnAction.TAKE: _take, YarnAction.BACK: _back}
)


@transaction.atomic
def close_account(*, warp: Project, by: Member) -> SetAside:
    """End the account of a warp that is wound: what is still set aside is free again, and the account stays to be read.

    Raises
    ------
    StudioError
        If nothing was ever set aside, or the warp is another member's.
    """
    kept = lock_warp(warp)
    if kept.set_aside is None:
        raise StudioError("no_account", NO_ACCOUNT)
    return close_set_aside(set_aside=kept.set_aside, by=by)
