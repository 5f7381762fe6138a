"""Writes of the ledger: lock, write a move, reverse one. Every service that moves yarn writes through here.

Locks are taken in one order, so that no two services wait for each other: the yarn, then the set-aside, then packages
by their keys. On SQLite the transaction itself is the lock.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.calc.ledger import cut_back, micrograms
from inventory.calc.words import capitalised, mass_words, told_apart
from inventory.ledger.selectors import may_reverse, promised_by_set_aside, standing_moves, why_not_reversible
from inventory.models import Move, Package, SetAside
from inventory.models.packages import KEPT_BY_MOVES, WEIGH_IT
from studio.errors import NotEnoughYarn, NotReversible, StudioError, YarnInQuarantine
from studio.models import Member
from studio.rights import Act, may
from studio.units import Units

Kind = Move.Kind
KEYS = ("package", "made_by", "set_aside", "for_member", "buyer", "reverses")
MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class MoveResult:
    """What was written: the package, its move (none where nothing changed), and the promises that were cut."""

    package: Package
    move: Move | None = None
    cut: tuple[Move, ...] = ()

    def cut_words(self, units: Units) -> str:
        """Say whose promises could not be kept; nothing where all were."""
        lost = [f"{move.set_aside} lost {mass_words(-move.promised_ug, units)}" for move in self.cut]
        if not lost:
            return ""
        more = f", and {len(lost) - MOST_NAMED} more" if len(lost) > MOST_NAMED else ""
        return f"Less is on the package than was set aside of it: {', '.join(lost[:MOST_NAMED])}{more}."


def lock_packages(packages: Iterable[Package]) -> dict[int, Package]:
    """Lock packages as they are now, by their keys and in the order of their keys."""
    keys = {package.pk for package in packages}
    rows = Package.objects.select_for_update(no_key=True, of=("self",)).select_related("yarn", "owner")
    return {package.pk: package for package in rows.filter(pk__in=keys).order_by("pk")}


def lock_package(package: Package) -> Package:
    """Lock one package as it is now."""
    return lock_packages([package])[package.pk]


def lock_set_aside(set_aside: SetAside) -> SetAside:
    """Lock a set-aside as it is now; always before the packages promised to it.

    Not against its key: a weighing that locked a package writes it into a move, and would wait for us while we wait.
    """
    rows = SetAside.objects.select_for_update(no_key=True, of=("self",)).select_related("for_member")
    return rows.get(pk=set_aside.pk)


def write_move(package: Package, kind: str, by: Member | None, **values: Any) -> Move:
    """Write one move of a locked package, and give it with the package as it is afterwards."""
    move = Move(package=package, kind=kind, made_by=by, **values)
    move.full_clean(exclude=KEYS, validate_unique=False, validate_constraints=False)  # locked rows; the database checks
    move.save(force_insert=True)
    package.refresh_from_db(fields=KEPT_BY_MOVES)
    return move


def positive_micrograms(mass_g: Fraction) -> int:
    """Give an amount in micrograms, and refuse nothing at all."""
    amount = micrograms(Fraction(mass_g))
    if amount <= 0:
        raise StudioError("nothing_asked", "Say how much yarn: it must be more than nothing.")
    return amount


def record_reading(package: Package, gross_text: str) -> int:
    """Write down what the scale shows, and give the yarn that leaves on the package [ug]."""
    if not gross_text.strip():
        raise ValidationError({"gross_text": WEIGH_IT})
    package.gross_text = gross_text
    package.full_clean(validate_constraints=False)
    package.save()
    return package.net_by_scale_ug


def refuse_for_others(by: Member, for_member: Member) -> None:
    """Refuse to handle another member's yarn, save for those who may."""
    if by.pk != for_member.pk and not may(by.role, Act.TAKE_YARN_FOR_OTHERS):
        raise StudioError(
            "not_yours", f"This is for {for_member}. A teacher or a steward can do it for another member."
        )


def refuse_others_yarn(package: Package, for_member: Member) -> None:
    """Refuse yarn that belongs to another member; the studio's own is for all."""
    if package.owner is not None and package.owner_id != for_member.pk:
        raise StudioError("not_yours", f"{capitalised(str(package))} belongs to {package.owner}, not to the studio.")


def refuse_quarantined(package: Package) -> None:
    """Refuse to let yarn out that may carry moths to the next shelf."""
    if package.quarantined:
        raise YarnInQuarantine(
            "in_quarantine", f"{capitalised(str(package))} is in quarantine; it must come out of it first."
        )


def shortage_words(package: Package, asked_ug: int, allowed_ug: int, units: Units, *, called: str = "free") -> str:
    """Say how much was asked for, what is there, and how much would be allowed and what that is called."""
    allowed, asked = told_apart(allowed_ug, asked_ug, units)
    on_hand, promised = (mass_words(amount, units) for amount in (package.on_hand_ug, package.promised_ug))
    shown = mass_words(allowed_ug, units)  # as the page shows it, so that its sum comes out; “at most” is cut off
    shown = allowed if shown == asked else shown
    there = f"{on_hand} are on it, {promised} of that set aside" if package.promised_ug else f"{on_hand} are on it"
    most = f"At most {allowed} can be had." if allowed_ug > 0 else "Nothing of it can be had."
    return f"{capitalised(str(package))}: {asked} asked for, {shown} {called} ({there}). {most}"


def refuse_short(package: Package, asked_ug: int, allowed_ug: int, units: Units, *, called: str = "free") -> None:
    """Refuse more than is allowed, with the sentence that says so."""
    if asked_ug > allowed_ug:
        raise NotEnoughYarn("not_enough_yarn", shortage_words(package, asked_ug, allowed_ug, units, called=called))


def cut_promises(package: Package, left_ug: int, by: Member, why: str) -> tuple[Move, ...]:
    """Release what can no longer be kept when so much is left on a locked package: the latest promise first."""
    need = package.promised_ug - left_ug
    if need <= 0:
        return ()
    promises = standing_moves(package).filter(kind=Kind.ALLOCATE).values_list("set_aside", "promised_ug")
    cut = cut_back(need, promises, promised_by_set_aside(package))
    set_asides = SetAside.objects.select_related("for_member").in_bulk(cut)
    return tuple(
        write_move(package, Kind.RELEASE, by, promised_ug=-lost, set_aside=set_asides[key], said_why=why)
        for key, lost in cut.items()
    )


@transaction.atomic
def reverse_move(*, move: Move, by: Member, said_why: str = "") -> Move:
    """Undo a move by one that takes back exactly what it did; once, and only while that breaks no balance.

    Raises
    ------
    StudioError
        If the move is another's and `by` does not keep the stock.
    NotReversible
        If it was reversed already, is a reversal, or its yarn has gone on meanwhile; the message says which.
    """
    work = lock_set_aside(move.set_aside) if move.set_aside is not None else None
    package = lock_package(move.package)
    reversed_move = Move.objects.get(pk=move.pk)
    reversed_move.set_aside = work
    if not may_reverse(reversed_move, by):
        raise StudioError("not_yours", "Another member made this move; a teacher or a steward can reverse it.")
    refusal = why_not_reversible(reversed_move, package, by.reads_in)
    if refusal:
        raise NotReversible("not_reversible", refusal)
    reversal = write_move(
        package,
        Kind.REVERSE,
        by,
        reverses=reversed_move,
        on_hand_ug=-reversed_move.on_hand_ug,
        promised_ug=-reversed_move.promised_ug,
        set_aside=work,
        for_member=reversed_move.for_member,
        buyer=reversed_move.buyer,
        unit_price_text=reversed_move.unit_price_text,
        amount=None if reversed_move.amount is None else -reversed_move.amount,
        said_why=said_why,
    )
    _restore_readings(package, reversed_move)
    return reversal


def _restore_readings(package: Package, reversed_move: Move) -> None:
    """Let the package say what the scale said before a reading that is now reversed."""
    for column, words in (("scale_text", "gross_text"), ("tare_text", "tare_text")):
        if getattr(reversed_move, column) is not None:
            before = standing_moves(package).exclude(**{column: None}).values_list(column, flat=True).first()
            setattr(package, words, getattr(package, words) if before is None else before)
    try:
        package.full_clean(validate_constraints=False)
    except ValidationError:  # the tare was weighed anew meanwhile, and the old reading is lighter: the new one stays
        package.refresh_from_db()
    package.save()
