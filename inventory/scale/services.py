"""What is done at the yarn room's scale, one deed at a time: ask for the right once more, then hand on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from django.core.exceptions import PermissionDenied
from django.db import transaction

from inventory.calc.ledger import grams, meant, price_of
from inventory.calc.words import capitalised
from inventory.ledger.quarantine import quarantine, release_from_quarantine
from inventory.ledger.selectors import most_weighed, never_so_heavy
from inventory.ledger.services import Kind, Weighed, hold_one
from inventory.ledger.taking import Sale, issue_yarn, return_yarn, sell_yarn, taken_off, write_off
from inventory.ledger.weighing import weigh_package
from inventory.models import Package, SetAside
from inventory.scale.selectors import DEEDS
from studio.errors import StudioError
from studio.models import Member
from studio.rights import may
from studio.units import read, show

WRITTEN_MEANWHILE = (
    "This package was moved since you opened the page. Look at what is on it now; if it is still to be done, send it "
    "again."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """One deed at the scale: what it shows in its own words or the net mass [g], and what else was said.

    A sale is kept only when `agreed` is the very amount that was shown, and a reading far above all others of its
    package only when `really` is the very reading. `seen` is the latest move that was shown: a
    button pressed twice must not take the yarn twice.
    """

    kind: str
    gross_text: str = ""
    mass_g: Fraction | None = None
    set_aside: SetAside | None = None
    for_member: Member | None = None
    price_per_100g: Fraction = Fraction(0)
    price_text: str = ""
    buyer: Member | None = None
    agreed: str = ""
    really: str = ""
    seen: int | None = None
    said_why: str = ""
    temperature_text: str = ""


class ToAgree(StudioError):
    """What would be written is worked out and waits for a second press."""


class ReadingToAgree(ToAgree):
    """The scale shows far more than the package ever weighed; nothing is written yet."""

    def __init__(self, package: Package, gross_text: str, by: Member) -> None:
        most = show(most_weighed(package), "mass", by.reads_in)
        name = f"{capitalised(package.get_kind_display())} {package.pk}"
        super().__init__(
            "reading_to_agree", f"{name} never weighed more than {most}, and the scale shows {gross_text}. Is that so?"
        )
        self.gross_text = gross_text


class PriceToAgree(ToAgree):
    """The sale is worked out and not yet kept: this much yarn [g] costs this amount."""

    def __init__(self, mass_g: Fraction, amount: Decimal, price_text: str) -> None:
        super().__init__("price_to_agree", f"The amount is {amount}. Send it again to keep the sale.")
        self.mass_g = mass_g
        self.amount = amount
        self.price_text = price_text


@transaction.atomic
def write_down(*, package: Package, by: Member, deed: Deed) -> Weighed:
    """Do one deed at the scale; who may not is refused here as at the door.

    Raises
    ------
    StudioError
        If another move of the package was written since the page was shown; what the deed refuses comes first.
    ToAgree
        If a price or a reading waits for a second press; then nothing is written.
    """
    if deed.kind not in DEEDS or not may(by.role, DEEDS[deed.kind]):
        raise PermissionDenied(f"The role does not allow {deed.kind}.")
    doubted = ReadingToAgree(package, deed.gross_text, by) if _in_doubt(package, deed) else None
    done = _DO[deed.kind](package, by, deed)
    if deed.seen is not None and _others_since(deed.seen, package, done):
        raise StudioError("written_meanwhile", WRITTEN_MEANWHILE)
    if doubted is not None:
        raise doubted
    return done


def _in_doubt(package: Package, deed: Deed) -> bool:
    """Say whether a reading is asked about before the deed, while the ledger does not hold it."""
    asked = deed.kind in {Kind.WEIGH, Kind.RETURN} and deed.gross_text and deed.really != deed.gross_text
    return bool(asked) and never_so_heavy(package, read(deed.gross_text, "mass", None))


def _others_since(seen: int, package: Package, done: Weighed) -> bool:
    """Look after the deed, when the package is held: before it, two presses at once would both see nothing."""
    mine = [move.pk for move in (done.move, *done.cut) if move is not None]
    return package.moves.filter(pk__gt=seen).exclude(pk__in=mine).exists()


def _weigh(package: Package, by: Member, deed: Deed) -> Weighed:
    return weigh_package(package=package, gross_text=deed.gross_text, by=by, said_why=deed.said_why)


def _issue(package: Package, by: Member, deed: Deed) -> Weighed:
    move = issue_yarn(
        package=package,
        by=by,
        mass_g=deed.mass_g,
        gross_text=deed.gross_text,
        set_aside=deed.set_aside,
        for_member=deed.for_member,
        said_why=deed.said_why,
    )
    return Weighed(move.package, move)


def _return(package: Package, by: Member, deed: Deed) -> Weighed:
    move = return_yarn(
        package=package,
        by=by,
        mass_g=deed.mass_g,
        gross_text=deed.gross_text,
        set_aside=deed.set_aside,
        for_member=deed.for_member,
        said_why=deed.said_why,
    )
    return Weighed(move.package, move)


@transaction.atomic
def _sell(package: Package, by: Member, deed: Deed) -> Weighed:
    """Sell at the agreed amount; else every refusal is heard first, and what was written is taken back."""
    held = hold_one(package)
    sold = grams(meant(taken_off(held, by, deed.mass_g, deed.gross_text), held.free_ug))
    amount = price_of(sold, deed.price_per_100g)
    sale = Sale(unit_price_text=deed.price_text, amount=amount, buyer=deed.buyer)
    move = sell_yarn(
        package=held, by=by, sale=sale, mass_g=deed.mass_g, gross_text=deed.gross_text, said_why=deed.said_why
    )
    if deed.agreed != str(amount):
        raise PriceToAgree(sold, amount, deed.price_text)
    return Weighed(move.package, move)


def _write_off(package: Package, by: Member, deed: Deed) -> Weighed:
    return write_off(package=package, by=by, said_why=deed.said_why, mass_g=deed.mass_g, gross_text=deed.gross_text)


def _quarantine(package: Package, by: Member, deed: Deed) -> Weighed:
    move = quarantine(package=package, by=by, temperature_text=deed.temperature_text, said_why=deed.said_why)
    return Weighed(move.package, move)


def _release(package: Package, by: Member, deed: Deed) -> Weighed:
    move = release_from_quarantine(package=package, by=by, said_why=deed.said_why)
    return Weighed(move.package, move)


_DO: Mapping[str, Callable[[Package, Member, Deed], Weighed]] = MappingProxyType({
    Kind.WEIGH: _weigh,
    Kind.ISSUE: _issue,
    Kind.RETURN: _return,
    Kind.SELL: _sell,
    Kind.WRITE_OFF: _write_off,
    Kind.QUARANTINE_IN: _quarantine,
    Kind.QUARANTINE_OUT: _release,
})  # fmt: skip
