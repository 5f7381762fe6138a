"""Reads at the scale: which package stands on it, and what was just written about it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from django.db.models import Case, IntegerField, OuterRef, Q, QuerySet, Subquery, Value, When

from inventory.calc.words import capitalised, mass_words
from inventory.ledger.selectors import promises_on
from inventory.models import Move, Package, SetAside
from inventory.shelf.selectors import MOST_WORDS
from studio.models import Member
from studio.rights import Act, may
from studio.units import Units, show

Kind = Move.Kind
ROWS_FOUND = 20
ROWS_LATELY = 8
LATEST_MOVES = 200
"""So far back the ledger is read for who was at the scale lately."""
ACTIONS: Mapping[str, Act] = MappingProxyType({
    Kind.WEIGH: Act.EDIT_YARN,
    Kind.ISSUE: Act.TAKE_YARN,
    Kind.RETURN: Act.TAKE_YARN,
    Kind.SELL: Act.ADJUST_STOCK,
    Kind.WRITE_OFF: Act.ADJUST_STOCK,
    Kind.QUARANTINE_IN: Act.ADJUST_STOCK,
    Kind.QUARANTINE_OUT: Act.ADJUST_STOCK,
})  # fmt: skip
"""What is done at the scale, and the right it needs."""
_LABEL = re.compile(r"(?:(?P<kind>[a-z]+)\s*)?#?(?P<number>\d{1,9})", re.ASCII | re.IGNORECASE)
ARRIVED = "a"
"""What came in without a name was labelled A12, and keeps that label when it is named."""
_ANY_KIND = frozenset({"package", "no", "number"})


def may_do(kind: str, by: Member) -> bool:
    """Say whether a person may do this; what is none of our actions at least needs the right to take yarn."""
    return may(by.role, ACTIONS.get(kind, Act.TAKE_YARN))


def actions_on(package: Package, by: Member) -> tuple[str, ...]:
    """Give the actions a person may do with a package as it is now."""
    allowed = (kind for kind in ACTIONS if may_do(kind, by))
    idle = {Kind.ISSUE, Kind.SELL} if package.quarantined else {Kind.QUARANTINE_OUT}
    return tuple(kind for kind in allowed if kind not in idle)


def package_by_label(words: str) -> Package | None:
    """Give the package whose label says so, such as "cone 12", "12" or "A7"; none where no label does."""
    label = _LABEL.fullmatch(words.strip())
    if label is None:
        return None
    packages = Package.objects.filter(pk=int(label["number"]))
    kind = (label["kind"] or "package").lower()
    if kind == ARRIVED:
        return Package.objects.filter(arrival=int(label["number"])).first()
    return packages.first() if kind in _ANY_KIND else packages.filter(kind=kind).first()


def find_packages(words: str) -> tuple[Package, ...]:
    """Give packages that every word is found in, those that hold yarn first, then the newest."""
    packages = packages_holding(words, Package.objects.select_related("yarn", "owner"))
    empty = Case(When(on_hand_ug=0, then=Value(1)), default=Value(0), output_field=IntegerField())
    return tuple(packages.order_by(empty, "-pk")[:ROWS_FOUND])


def packages_holding(words: str, packages: QuerySet[Package]) -> QuerySet[Package]:
    """Give those of some packages that every word is found in."""
    for word in words.split()[:MOST_WORDS]:
        packages = packages.filter(_holds(word))
    return packages


def _holds(word: str) -> Q:
    condition = Q(kind__iexact=word)
    for column in ("yarn__name", "yarn__colour_name", "dye_lot", "bin_name"):
        condition |= Q(**{f"{column}__icontains": word})
    number = _LABEL.fullmatch(word)
    return condition | Q(pk=int(number["number"])) if number and not number["kind"] else condition


def lately_moved() -> tuple[Package, ...]:
    """Give the packages that were moved last, the latest first; two queries."""
    latest = Move.objects.order_by("-pk").values_list("package", flat=True)[:LATEST_MOVES]
    keys = list(dict.fromkeys(latest))[:ROWS_LATELY]
    packages = Package.objects.select_related("yarn", "owner").in_bulk(keys)
    return tuple(packages[key] for key in keys)


def with_latest_move() -> QuerySet[Package]:
    """Give packages with the key of the latest move of each, as of the same moment; `latest_move_of` reads it."""
    latest = Move.objects.filter(package=OuterRef("pk")).order_by("-pk").values("pk")[:1]
    return Package.objects.select_related("yarn", "owner", "pictured__photo").annotate(latest_move=Subquery(latest))


def latest_move_of(package: Package) -> int:
    """Give the latest move that a page with this package shows; 0 where there is none."""
    return int(vars(package)["latest_move"] or 0)


def set_asides_to_take_for(package: Package, by: Member) -> QuerySet[SetAside]:
    """Give the open work yarn of a package may be taken for: one's own, and for teachers whoever it is promised to."""
    whose = Q(for_member=by)
    if may(by.role, Act.TAKE_YARN_FOR_OTHERS):
        promised = package.moves.filter(set_aside__isnull=False).order_by().values("set_aside")
        whose |= Q(pk__in=promised)
    return SetAside.objects.filter(whose, closed_at=None).select_related("for_member")


def move_sentence(move: Move, units: Units) -> str:
    """Say in one sentence what a move wrote and what it left, such as "212 g taken out; 301 g left, 40 g free"."""
    package = move.package
    name = f"{package.get_kind_display()} {package.pk}"
    if move.kind == Kind.QUARANTINE_IN:
        promised = (f"{show(one.mass_g, 'mass', units)} for {one.set_aside}" for one in promises_on(package))
        set_aside = f" Set aside of it: {', '.join(promised)}." if package.promised_ug else ""
        return (
            f"{capitalised(name)} is in quarantine, round {move.round_number}. Nothing of it can be taken "
            f"meanwhile.{set_aside}"
        )
    free = f"{mass_words(package.free_ug, units)} free" if package.free_ug else "none free"
    if move.kind == Kind.QUARANTINE_OUT:
        return f"{capitalised(name)} is out of quarantine; {free}."
    left = f"{mass_words(package.on_hand_ug, units)} left" if package.on_hand_ug else "nothing left"
    if move.kind == Kind.WEIGH:
        return f"{capitalised(name)} weighed: {_against_the_book(move, units)}; {left}, {free}."
    money = f" for {move.amount}" if move.amount is not None else ""
    return f"{mass_words(abs(move.on_hand_ug), units)} {_DONE[move.kind]} {name}{money}; {left}, {free}."


_DONE: Mapping[str, str] = MappingProxyType({
    Kind.ISSUE: "taken out of", Kind.RETURN: "brought back to", Kind.SELL: "sold of", Kind.WRITE_OFF: "written off",
})  # fmt: skip


def _against_the_book(move: Move, units: Units) -> str:
    if not move.on_hand_ug:
        return "as the book said"
    more = "more" if move.on_hand_ug > 0 else "less"
    return f"{mass_words(abs(move.on_hand_ug), units)} {more} than the book said"
