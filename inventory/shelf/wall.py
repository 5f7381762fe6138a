"""The colour wall and the bins: what hangs where, and what stands where."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from django.db.models import Count, Exists, OuterRef, QuerySet, Sum

from inventory.calc.ledger import grams
from inventory.models import ColourFamily, Package, Yarn
from inventory.shelf.selectors import COLOUR_UNSAID, COLOURS, NOT_GIVEN, NOT_GIVEN_WORDS, of_colour


@dataclass(frozen=True, slots=True)
class Family:
    """A colour family of the wall, with how many yarns hang in it."""

    key: str
    name: str
    yarns: int


@dataclass(frozen=True, slots=True)
class BinRow:
    """One bin, or what has none written: packages that hold yarn, of how many yarns, and their weight [g]."""

    name: str
    packages: int
    yarns: int
    mass_g: Fraction


def on_the_wall(*, fibre: str = "", colour: str = "") -> QuerySet[Yarn]:
    """Give the yarns of which something is on the shelf, in the order they hang."""
    packages = Package.objects.filter(yarn=OuterRef("pk"), on_hand_ug__gt=0)
    yarns = Yarn.objects.filter(Exists(packages), retired=False)
    if fibre:
        yarns = yarns.filter(fibre=fibre)
    if colour:
        yarns = of_colour(yarns, colour)
    return yarns.order_by(COLOUR_UNSAID, "wall_place", "name", "colour_name", "pk")


def families(*, fibre: str = "") -> tuple[Family, ...]:
    """Give the colour families that hang on the wall, in its order; last those whose colour nobody gave."""
    kinds = on_the_wall(fibre=fibre).order_by().annotate(unsaid=COLOUR_UNSAID).values_list("unsaid", "colour_family")
    number = {NOT_GIVEN if unsaid else family: yarns for unsaid, family, yarns in kinds.annotate(yarns=Count("pk"))}
    return tuple(Family(key, name, number[key]) for key, name in COLOURS if key in number)


def family_on_wall(yarn: Yarn) -> str:
    """Name the family a yarn hangs with, or that its colour was not given."""
    return ColourFamily(yarn.colour_family).label if yarn.colour_given else NOT_GIVEN_WORDS


def _holding() -> QuerySet[Package]:
    return Package.objects.filter(on_hand_ug__gt=0)


def bins() -> tuple[BinRow, ...]:
    """Give every bin in which yarn is, A2 before A10, and last what has no bin written; one query."""
    sums = _holding().order_by().values_list("bin_name")
    counted = sums.annotate(packages=Count("pk"), yarns=Count("yarn", distinct=True), mass=Sum("on_hand_ug"))
    rows = [BinRow(name, packages, yarns, grams(int(mass))) for name, packages, yarns, mass in counted]
    return tuple(sorted(rows, key=lambda row: (not row.name, in_counting_order(row.name))))


def in_counting_order(name: str) -> tuple[tuple[str, int, str], ...]:
    """Give what puts names in the order people count in.

    Examples
    --------
    >>> sorted(["A10", "b1", "A2", ""], key=in_counting_order)
    ['', 'A2', 'A10', 'b1']
    """
    parts = re.findall(r"([^0-9]*)([0-9]{0,18})", name)
    return tuple((words.casefold(), int(digits or 0), words) for words, digits in parts if words or digits)


def packages_in_bin(name: str) -> QuerySet[Package]:
    """Give the packages that hold yarn in a bin, those of one yarn together; an empty name means none is written."""
    packages = _holding().filter(bin_name=name).select_related("yarn", "owner")
    return packages.order_by("yarn__name", "yarn__colour_name", "yarn", "dye_lot", "pk")


def weight_in_bin(name: str) -> Fraction:
    """Give the weight of all yarn in a bin [g]."""
    total = _holding().filter(bin_name=name).aggregate(total=Sum("on_hand_ug"))["total"]
    return grams(int(total or 0))
