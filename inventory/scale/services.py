"""Stock movements at the yarn room's scale, one at a time: ask for the right once more, then hand on."""

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
from inventory.ledger.services import Kind, MoveResult, lock_package
from inventory.ledger.taking import Sale, issue_yarn, return_yarn, sell_yarn, taken_off, write_off
from inventory.ledger.weighing import weigh_package
from inventory.models import Package, SetAside
from inventory.scale.selectors import ACTIONS
from studio.errors import StudioError
from studio.models import Member
from studio.rights import may
from studio.units import read, show

WRITTEN_MEANWHILE = (
    "This package was moved since you opened the page. Look at what is on it now; if it is still to be done, send it "
    "again."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockMovement:
    """One stock movement at the scale: what it shows in its own words or the net mass [g], and what else was said.

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


class ToConfirm(StudioError):
    """What would be written is worked out and waits for a second press."""


class ReadingToConfirm(ToConfirm):
    """The scale shows far more than the package ever weighed; nothing is written yet."""

    def __init__(self, package: Package, gross_text: str, by: Member) -> None:
        most = show(most_weighed(package), "mass", by.reads_in)
        name = f"{capitalised(package.get_kind_display())} {package.pk}"
        super().__init__(
            "reading_to_agree", f"{name} never weighed more than {most}, and the scale shows {gross_text}. Is that so?"
        )
        self.gross_text = gross_text


class PriceToConfirm(ToConfirm):
    """The sale is worked out and not yet kept: this much yarn [g] costs this amount."""

    def __init__(self, mass_g: Fraction, amount: Decimal, price_text: str) -> None:
        super().__init__("price_to_agree", f"The amount is {amount}. Send it again to keep the sale.")
        self.mass_g = mass_g
        self.amount = amount
        self.price_text = price_text


@transaction.atomic
def record_movement(*, package: Package, by: Member, movement: StockMovement) -> MoveResult:
    """Write one stock movement; who may not is refused here as by the view.

    Raises
    ------
    StudioError
        If another move of the package was written since the page was shown; what the movement refuses comes first.
    ToConfirm
        If a price or a reading waits for a second press; then nothing is written.
    """
    if movement.kind not in ACTIONS or not may(by.role, ACTIONS[movement.kind]):
        raise PermissionDenied(f"The role does not allow {movement.kind}.")
    unconfirmed = ReadingToConfirm(package, movement.gross_text, by) if _is_doubtful(package, movement) else None
    result = _WRITE[movement.kind](package, by, movement)
    if movement.seen is not None and _others_since(movement.seen, package, result):
        raise StudioError("written_meanwhile", WRITTEN_MEANWHILE)
    if unconfirmed is not None:
        raise unconfirmed
    return result


def _is_doubtful(package: Package, movement: StockMovement) -> bool:
    """Say whether a reading is asked about before the movement, while the ledger does not hold it."""
    reading = movement.gross_text if movement.kind in {Kind.WEIGH, Kind.RETURN} else ""
    return reading not in {"", movement.really} and never_so_heavy(package, read(reading, "mass", None))


def _others_since(seen: int, package: Package, result: MoveResult) -> bool:
    """Look after the movement, when the package is locked: before it, two presses at once would both see nothing."""
    mine = [move.pk for move in (result.move, *result.cut) if move is not None]
    return package.moves.filter(pk__gt=seen).exclude(pk__in=mine).exists()


def _weigh(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    return weigh_package(package=package, gross_text=movement.gross_text, by=by, said_why=movement.said_why)


def _issue(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    move = issue_yarn(
        package=package,
        by=by,
        mass_g=movement.mass_g,
        gross_text=movement.gross_text,
        set_aside=movement.set_aside,
        for_member=movement.for_member,
        said_why=movement.said_why,
    )
    return MoveResult(move.package, move)


def _return(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    move = return_yarn(
        package=package,
        by=by,
        mass_g=movement.mass_g,
        gross_text=movement.gross_text,
        set_aside=movement.set_aside,
        for_member=movement.for_member,
        said_why=movement.said_why,
    )
    return MoveResult(move.package, move)


@transaction.atomic
def _sell(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    """Sell at the agreed amount; else every refusal is heard first, and what was written is taken back."""
    locked = lock_package(package)
    mass_g, gross_text = movement.mass_g, movement.gross_text
    sold_g = grams(meant(taken_off(locked, by, mass_g, gross_text), locked.free_ug))
    amount = price_of(sold_g, movement.price_per_100g)
    sale = Sale(unit_price_text=movement.price_text, amount=amount, buyer=movement.buyer)
    move = sell_yarn(package=locked, by=by, sale=sale, mass_g=mass_g, gross_text=gross_text, said_why=movement.said_why)
    if movement.agreed != str(amount):
        raise PriceToConfirm(sold_g, amount, movement.price_text)
    return MoveResult(move.package, move)


def _write_off(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    return write_off(
        package=package,
        by=by,
        said_why=movement.said_why,
        mass_g=movement.mass_g,
        gross_text=movement.gross_text,
    )


def _quarantine(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    move = quarantine(package=package, by=by, temperature_text=movement.temperature_text, said_why=movement.said_why)
    return MoveResult(move.package, move)


def _release(package: Package, by: Member, movement: StockMovement) -> MoveResult:
    move = release_from_quarantine(package=package, by=by, said_why=movement.said_why)
    return MoveResult(move.package, move)


_WRITE: Mapping[str, Callable[[Package, Member, StockMovement], MoveResult]] = MappingProxyType({
    Kind.WEIGH: _weigh,
    Kind.ISSUE: _issue,
    Kind.RETURN: _return,
    Kind.SELL: _sell,
    Kind.WRITE_OFF: _write_off,
    Kind.QUARANTINE_IN: _quarantine,
    Kind.QUARANTINE_OUT: _release,
})  # fmt: skip
