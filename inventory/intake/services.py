"""Services of yarn coming in: add it to the stock, weigh an empty, name what came, throw out what is nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from inventory.ledger.quarantine import quarantine
from inventory.models import Arrival, Package, PackagePhoto, Photo, Stamp, Tare, TareWeighing, Yarn
from inventory.shelf.services import PackageFacts, YarnFacts, keep_yarn, receive_package
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act, may

STAMPS_KEPT = timedelta(days=2)
NAMED_ALREADY = "Somebody has named or thrown out one of these meanwhile. Look at the list again."


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedToStock:
    """What was added to the stock: packages where the yarn was known, arrivals where it was not."""

    packages: tuple[Package, ...] = ()
    arrivals: tuple[Arrival, ...] = ()


@transaction.atomic
def add_to_stock(
    *,
    facts: PackageFacts,
    grosses: Sequence[str],
    by: Member,
    yarn: Yarn | None = None,
    photo: Photo | None = None,
    to_quarantine: bool = False,
) -> AddedToStock:
    """Add like packages to the stock, each with its own reading; one photo stands for all of them.

    With the yarn known they are packages at once, and nothing stays to be named.
    """
    if not grosses:
        raise StudioError("nothing_weighed", "Weigh at least one.")
    dated = facts if facts.received_on else replace(facts, received_on=timezone.localdate())
    each = [replace(dated, gross_text=gross) for gross in grosses]
    if yarn is None:
        return AddedToStock(arrivals=tuple(_arrive(one, photo, by) for one in each))
    packages = tuple(receive_package(yarn=yarn, facts=one, by=by) for one in each)
    _after_receiving(packages, photo, by, to_quarantine=to_quarantine)
    return AddedToStock(packages=packages)


def _arrive(facts: PackageFacts, photo: Photo | None, by: Member) -> Arrival:
    values = {fact.name: getattr(facts, fact.name) for fact in fields(facts)}
    arrival = Arrival(**values, photo=photo, received_by=by)
    arrival.full_clean()
    arrival.save()
    return arrival


def _after_receiving(packages: Sequence[Package], photo: Photo | None, by: Member, *, to_quarantine: bool) -> None:
    if photo is not None:
        PackagePhoto.objects.bulk_create(PackagePhoto(package=package, photo=photo) for package in packages)
    if to_quarantine:
        if not may(by.role, Act.ADJUST_STOCK):
            raise StudioError("not_yours", "A teacher or a steward puts yarn into quarantine.")
        for package in packages:
            quarantine(package=package, by=by, said_why="On arrival.")
            package.refresh_from_db(fields=["quarantined"])


@transaction.atomic
def once(*, stamp: str, by: Member, action: Callable[[], str]) -> str:
    """Do an action once for a stamp, and give what it says; sent again, the form hears what was said the first time.

    The stamp is written first: a second press waits at it for the first, and finds it done.
    """
    sent, is_new = Stamp.objects.get_or_create(stamp=stamp, defaults={"said": "", "made_by": by})
    if not is_new:
        if sent.made_by_id != by.pk:
            raise StudioError("not_your_form", "This form was made for somebody else. Load the page anew.")
        return f"That was sent twice and kept once. {sent.said}"
    sent.said = action()
    sent.save(update_fields=["said"])
    Stamp.objects.filter(made_at__lt=timezone.now() - STAMPS_KEPT).delete()
    return sent.said


@transaction.atomic
def name_arrivals(
    *,
    arrivals: Sequence[Arrival],
    by: Member,
    yarn: Yarn | None = None,
    new_yarn: YarnFacts | None = None,
    to_quarantine: bool = False,
) -> tuple[Package, ...]:
    """Say which yarn it is that came in; each becomes a package with its own words, day and photo.

    Raises
    ------
    StudioError
        If one of them was named or thrown out meanwhile; then none is named.
    """
    locked = _lock(arrivals)
    if (yarn is None) == (new_yarn is None):
        raise ValueError("give a yarn of the book, or the facts of a new one")
    named_yarn = yarn if new_yarn is None else keep_yarn(facts=new_yarn)
    packages = tuple(_name(arrival, named_yarn, by) for arrival in locked)  # type: ignore[arg-type]  # one of the two is there
    _after_receiving(packages, None, by, to_quarantine=to_quarantine)
    return packages


def _name(arrival: Arrival, yarn: Yarn, by: Member) -> Package:
    values = {fact.name: getattr(arrival, fact.name) for fact in fields(PackageFacts)}
    package = receive_package(yarn=yarn, facts=PackageFacts(**values), by=by)
    if arrival.photo is not None:
        PackagePhoto.objects.create(package=package, photo=arrival.photo)
    _close(arrival, by, package=package)
    return package


@transaction.atomic
def throw_out(*, arrival: Arrival, by: Member, why_out: str) -> Arrival:
    """Close an arrival that is no yarn to keep, and say why; the row stays."""
    locked = _lock([arrival])[0]
    if not why_out.strip():
        raise StudioError("no_reason", "Say why it is thrown out.")
    return _close(locked, by, why_out=why_out)


def _lock(arrivals: Sequence[Arrival]) -> list[Arrival]:
    keys = {arrival.pk for arrival in arrivals}
    open_arrivals = Arrival.objects.select_for_update(of=("self",)).filter(pk__in=keys, closed_at=None)
    arrivals_now = list(open_arrivals.select_related("owner", "photo").order_by("pk"))
    if not keys or len(arrivals_now) != len(keys):
        raise StudioError("named_already", NAMED_ALREADY)
    return arrivals_now


def _close(arrival: Arrival, by: Member, *, package: Package | None = None, why_out: str = "") -> Arrival:
    arrival.package, arrival.why_out = package, why_out
    arrival.closed_at, arrival.closed_by = timezone.now(), by
    arrival.full_clean()
    arrival.save()
    return arrival


@transaction.atomic
def weigh_empty(*, kind: str, name: str, weight_text: str, by: Member | None) -> TareWeighing:
    """Write what one empty weighed; a name that is new begins a new sort."""
    tare = Tare.objects.select_for_update().filter(kind=kind, name__iexact=name).first()
    if tare is None:
        tare = Tare(kind=kind, name=name)
        tare.full_clean()
        tare.save()
    weighing = TareWeighing(tare=tare, weight_text=weight_text, made_by=by)
    weighing.full_clean()
    weighing.save()
    return weighing


@transaction.atomic
def leave_out(*, weighing: TareWeighing, left_out: bool) -> TareWeighing:
    """Leave a weighing out of the median, or count it again."""
    locked = TareWeighing.objects.select_for_update().get(pk=weighing.pk)
    locked.left_out = left_out
    locked.save(update_fields=["left_out"])
    return locked
