"""Deeds of the yarn room: keep a yarn, receive a package, correct what was written about one."""

from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal

from django.db import transaction

from inventory.models import Fibre, Package, Yarn


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
    kept = Yarn() if yarn is None else Yarn.objects.select_for_update().get(pk=yarn.pk)
    _write(kept, facts)
    return kept


@transaction.atomic
def receive_package(*, yarn: Yarn, facts: PackageFacts) -> Package:
    """Put a package on the shelf."""
    package = Package(yarn=Yarn.objects.select_for_update().get(pk=yarn.pk))
    _write(package, facts)
    return package


@transaction.atomic
def correct_package(*, package: Package, facts: PackageFacts) -> Package:
    """Write what the scale shows now, or put right what was written wrongly.

    The yarn is locked, not the package: whoever sums the shelf under the same lock sees all of it or nothing.
    """
    Yarn.objects.select_for_update().get(pk=package.yarn_id)
    kept = Package.objects.get(pk=package.pk)
    _write(kept, facts)
    return kept
