"""Services that take yarn off a package or put it back: issue, return, sell, write off.

How much is told by weight, or by the scale once it is done: exactly one of `mass_g` and `gross_text` is given. The
scale's reading is the gross of what is left, with its cone or tube.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.calc.ledger import alike, meant, most_back
from inventory.calc.words import capitalised, mass_words, told_apart
from inventory.ledger.selectors import amount_out, amount_out_with, promised_of
from inventory.ledger.services import (
    Kind,
    MoveResult,
    cut_promises,
    lock_package,
    lock_set_aside,
    positive_micrograms,
    record_reading,
    refuse_for_others,
    refuse_others_yarn,
    refuse_quarantined,
    refuse_short,
    write_move,
)
from inventory.models import Move, Package, SetAside
from studio.errors import NotEnoughYarn, StudioError
from studio.models import Member
from studio.rights import Act, may

AS_BEFORE = "as stood in the book: nothing was taken"
WRITTEN_OFF = "The yarn was written off."


@dataclass(frozen=True, slots=True, kw_only=True)
class Sale:
    """The money of a sale: the price as said, such as 3.10 for 100 g, what was paid, and by which member if any."""

    unit_price_text: str
    amount: Decimal
    buyer: Member | None = None


@transaction.atomic
def issue_yarn(
    *,
    package: Package,
    by: Member,
    mass_g: Fraction | None = None,
    gross_text: str = "",
    set_aside: SetAside | None = None,
    for_member: Member | None = None,
    said_why: str = "",
) -> Move:
    """Let yarn out of the room: of what a piece of work has set aside first, and then of what is free.

    Raises
    ------
    NotEnoughYarn
        If more would go than is promised to the work and free.
    YarnInQuarantine
        If the package is in quarantine.
    StudioError
        If it is for another member and `by` may not, the package is another member's, or the scale shows no less.
    """
    work = lock_set_aside(set_aside) if set_aside is not None else None
    whose = work.for_member if work is not None else for_member or by
    refuse_for_others(by, whose)
    locked = lock_package(package)
    refuse_others_yarn(locked, whose)
    refuse_quarantined(locked)
    promised = promised_of(work, locked) if work is not None else 0
    available = promised + locked.free_ug
    amount = meant(meant(taken_off(locked, by, mass_g, gross_text), available), promised)
    called = "free" if not promised else "yours to take" if whose == by else "theirs to take"
    refuse_short(locked, amount, available, by.reads_in, called=called)
    values = {"set_aside": work, "for_member": whose, "said_why": said_why, "scale_text": gross_text or None}
    return write_move(locked, Kind.ISSUE, by, on_hand_ug=-amount, promised_ug=-min(amount, promised), **values)


@transaction.atomic
def return_yarn(
    *,
    package: Package,
    by: Member,
    mass_g: Fraction | None = None,
    gross_text: str = "",
    set_aside: SetAside | None = None,
    for_member: Member | None = None,
    said_why: str = "",
) -> Move:
    """Put yarn back on its package. It is free again; `set_aside` only says which work it came from.

    By weight no more can come back than is out. By the scale a little more, since wool brought back damp weighs more;
    beyond that it is a weighing, and believed of those who may weigh.

    Raises
    ------
    NotEnoughYarn
        If more would come back than is out.
    StudioError
        If it is for another member and `by` may not, or the scale shows no more.
    """
    whose = set_aside.for_member if set_aside is not None else for_member or by
    refuse_for_others(by, whose)
    locked = lock_package(package)
    amount = _brought_back(locked, by, mass_g, gross_text)
    if not may(by.role, Act.EDIT_YARN):
        _refuse_beyond(locked, amount, amount_out_with(locked, whose, set_aside), by, damp=bool(gross_text))
    values = {"set_aside": set_aside, "for_member": whose, "said_why": said_why, "scale_text": gross_text or None}
    return write_move(locked, Kind.RETURN, by, on_hand_ug=amount, **values)


@transaction.atomic
def sell_yarn(
    *,
    package: Package,
    by: Member,
    sale: Sale,
    mass_g: Fraction | None = None,
    gross_text: str = "",
    said_why: str = "",
) -> Move:
    """Sell yarn of the studio's that nobody was promised, and keep what was paid beside it."""
    if sale.amount < 0:
        raise ValidationError({"amount": "The price cannot be below nothing."})
    locked = lock_package(package)
    if locked.owner is not None:
        raise StudioError(
            "not_yours", f"{capitalised(str(locked))} belongs to {locked.owner}; the studio sells its own."
        )
    refuse_quarantined(locked)
    amount = meant(taken_off(locked, by, mass_g, gross_text), locked.free_ug)
    refuse_short(locked, amount, locked.free_ug, by.reads_in)
    money = {"unit_price_text": sale.unit_price_text, "amount": sale.amount, "buyer": sale.buyer}
    words = {"said_why": said_why, "scale_text": gross_text or None}
    return write_move(locked, Kind.SELL, by, on_hand_ug=-amount, **money, **words)


@transaction.atomic
def write_off(
    *, package: Package, by: Member, said_why: str, mass_g: Fraction | None = None, gross_text: str = ""
) -> MoveResult:
    """Take lost or spoilt yarn out of the book, promised or not; promises it cannot keep are cut, the latest first."""
    if not said_why.strip():
        raise ValidationError({"said_why": "Say what became of the yarn."})
    locked = lock_package(package)
    amount = meant(taken_off(locked, by, mass_g, gross_text), locked.on_hand_ug)
    refuse_short(locked, amount, locked.on_hand_ug, by.reads_in, called="held")
    cut = cut_promises(locked, locked.on_hand_ug - amount, by, WRITTEN_OFF)
    words = {"said_why": said_why, "scale_text": gross_text or None}
    return MoveResult(locked, write_move(locked, Kind.WRITE_OFF, by, on_hand_ug=-amount, **words), cut)


def _one_of(mass_g: Fraction | None, gross_text: str) -> None:
    if (mass_g is None) == (not gross_text):
        raise ValueError("give either mass_g or gross_text, and not both")


def taken_off(package: Package, by: Member, mass_g: Fraction | None, gross_text: str) -> int:
    """Give what is taken off a locked package [ug]: as said, or as the scale shows by what is left."""
    _one_of(mass_g, gross_text)
    if mass_g is not None:
        return positive_micrograms(mass_g)
    left = record_reading(package, gross_text)
    if left >= package.on_hand_ug:
        stood, now = told_apart(package.on_hand_ug, left, by.reads_in)
        if alike(left, package.on_hand_ug):
            raise StudioError(
                "nothing_taken", f"By the scale {mass_words(left, by.reads_in)} of yarn are left, {AS_BEFORE}."
            )
        raise StudioError(
            "nothing_taken", f"By the scale {now} of yarn are left, and {stood} stood in the book: nothing was taken."
        )
    return package.on_hand_ug - left


def _brought_back(package: Package, by: Member, mass_g: Fraction | None, gross_text: str) -> int:
    """Give what is brought back to a locked package [ug]."""
    _one_of(mass_g, gross_text)
    if mass_g is None:
        left = record_reading(package, gross_text)
        if left <= package.on_hand_ug and alike(left, package.on_hand_ug):
            now = mass_words(left, by.reads_in)
            raise StudioError("nothing_brought", f"By the scale {now} of yarn are there, as stood in the book already.")
        if left <= package.on_hand_ug:
            now, stood = (mass_words(amount, by.reads_in) for amount in (left, package.on_hand_ug))
            raise StudioError(
                "nothing_brought", f"By the scale {now} of yarn are there, and {stood} stood in the book already."
            )
        return left - package.on_hand_ug
    out = amount_out(package)
    amount = meant(positive_micrograms(mass_g), out)
    if amount > out:
        most, asked = told_apart(out, amount, by.reads_in)
        words = (
            f"Only {most} of {package} are out, and {asked} would come back" if out else f"Nothing of {package} is out"
        )
        raise NotEnoughYarn("more_than_is_out", f"{words}. Weigh it instead.")
    return amount


def _refuse_beyond(package: Package, amount: int, out: int, by: Member, *, damp: bool) -> None:
    """Refuse more than a member has out: yarn from nowhere is written down by those who may weigh."""
    if meant(amount, out) <= (most_back(out) if damp else out):
        return
    if not out:
        sentence = f"Nothing of {package} is out with you for this"
    else:
        most, asked = told_apart(out, amount, by.reads_in)
        sentence = f"Only {most} of {package} are out with you for this, and {asked} would come back"
    raise NotEnoughYarn(
        "more_than_is_out", f"{sentence}. Look at the scale again; if it is right, ask who may weigh packages."
    )
