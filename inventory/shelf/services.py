"""Services of the yarn room: keep a yarn, receive a package, correct what was written about one.

What moves yarn on and off a package stands in the other services: scale, set-aside, taking and quarantine.
"""

from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal

from django.db import transaction

from inventory.ledger.selectors import promises_on
from inventory.ledger.services import Kind, MoveResult, lock_package, write_move
from inventory.ledger.weighing import ScaleReading, left_after_tare, settle
from inventory.models import Fibre, Package, Yarn
from studio.errors import StudioError
from studio.models import Member


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnFacts:
    """What is written about a yarn, in the words of its label; measures carry their units."""

    name: str
    fibre: str = Fibre.COTTON
    count_text: str = ""
    grist_text: str = ""
    wraps_text: str = ""
    colour_name: str = ""
    colour: str = "#8a8a8a"
    wound_density: Decimal | None = None
    price_per_100g: Decimal | None = None
    keep_at_least_text: str = ""
    notes: str = ""
    retired: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PackageFacts:
    """What is written about a package; weights in the scale's own words, such as 18.5 oz or 525 g."""

    gross_text: str
    tare_text: str = ""
    kind: str = Package.Kind.CONE
    dye_lot: str = ""
    bin_name: str = ""
    owner: Member | None = None
    source: str = Package.Source.BOUGHT
    received_on: date | None = None
    notes: str = ""


def _write(row: Yarn | Package, facts: YarnFacts | PackageFacts) -> None:
    for fact in fields(facts):
        setattr(row, fact.name, getattr(facts, fact.name))
    row.full_clean()
    row.save()


@transaction.atomic
def keep_yarn(*, facts: YarnFacts, yarn: Yarn | None = None) -> Yarn:
    """Write a new yarn into the book, or what is now known about one that is there."""
    row = Yarn() if yarn is None else Yarn.objects.select_for_update().get(pk=yarn.pk)
    _write(row, facts)
    return row


@transaction.atomic
def receive_package(*, yarn: Yarn, facts: PackageFacts, by: Member | None = None) -> Package:
    """Put a package on the shelf, with its first move; `by` is left out only where nobody is there to name."""
    package = Package(yarn=Yarn.objects.select_for_update().get(pk=yarn.pk))
    _write(package, facts)
    words = {"scale_text": facts.gross_text, "tare_text": facts.tare_text}
    write_move(package, Kind.RECEIVE, by, on_hand_ug=package.net_by_scale_ug, **words)
    return package


@transaction.atomic
def correct_package(*, package: Package, facts: PackageFacts, by: Member) -> MoveResult:
    """Write what the scale shows now, or put right what was written wrongly.

    The yarn is locked first: whoever sums the shelf under the same lock sees all of it or nothing. A gross weight
    left as it was is no new reading, so what was taken since stays taken; a new one is what is on the package now.
    """
    Yarn.objects.select_for_update().get(pk=package.yarn_id)
    locked = lock_package(package)
    before, owner = ScaleReading.of(locked), locked.owner
    _write(locked, facts)
    _refuse_promised_to_others(locked, owner)
    now = ScaleReading.of(locked)
    if now == before:
        return MoveResult(locked)
    gross = facts.gross_text if now.gross != before.gross else None
    tare = facts.tare_text if now.tare != before.tare else None
    left = now.net_ug if gross is not None else left_after_tare(locked, before, by)
    return settle(locked, left, by, scale_text=gross, tare_text=tare, said_why="")


def _refuse_promised_to_others(package: Package, owner: Member | None) -> None:
    """Refuse to give a package to a member while yarn of it is set aside for others' work."""
    if package.owner is None or package.owner == owner:
        return
    others = [one.set_aside for one in promises_on(package) if one.set_aside.for_member_id != package.owner_id]
    if others:
        raise StudioError(
            "promised_to_others",
            f"Yarn of this package is set aside for {others[0]}. Release it before it changes hands.",
        )
