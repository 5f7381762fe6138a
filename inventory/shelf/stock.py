"""Reads about how much is enough: which yarns run low, and which would do for a piece of work."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from django.db.models import BigIntegerField, F, OuterRef, QuerySet, Subquery, Sum, Value
from django.db.models.functions import Coalesce

from inventory.calc.count import length_of_mass, mass_of_length
from inventory.calc.ledger import SLACK_UG, grams, micrograms
from inventory.models import Package, Yarn
from studio.units import to_decimal

LIKE_FINENESS = Fraction(1, 10)
"""Yarns whose tex differs by no more than this share can stand for each other (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Enough:
    """What a piece of work needs of one yarn: a length [cm] of about one fineness [tex], and whose work it is."""

    length_cm: Fraction
    tex: Fraction
    within: Fraction = LIKE_FINENESS
    work: str = ""

    @property
    def finest(self) -> Fraction:
        """The least tex that will do."""
        return self.tex * (1 - self.within)

    @property
    def thickest(self) -> Fraction:
        """The most tex that will do."""
        return self.tex * (1 + self.within)


@dataclass(frozen=True, slots=True)
class LowRow:
    """A yarn of which less is free than should be there [g]; what is missing as a length too [cm]."""

    yarn: Yarn
    keep_g: Fraction
    free_g: Fraction
    missing_g: Fraction
    missing_cm: Fraction


def _anybodys(packages: QuerySet[Package]) -> QuerySet[Package]:
    """Give the packages that the studio could promise from: neither in quarantine nor a member's own."""
    return packages.filter(owner=None, quarantined=False).order_by()


def running_low() -> QuerySet[Yarn]:
    """Give the yarns still kept of which less is free than should be there, with what is free as `free_ug`."""
    free = _anybodys(Package.objects.filter(yarn=OuterRef("pk"))).values("yarn")
    summed = free.annotate(free=Sum(F("on_hand_ug") - F("promised_ug"))).values("free")
    watched = Yarn.objects.filter(retired=False, keep_at_least_ug__isnull=False)
    with_free = watched.annotate(free_ug=Coalesce(Subquery(summed), Value(0), output_field=BigIntegerField()))
    return with_free.filter(free_ug__lt=F("keep_at_least_ug"))


def narrowed(yarns: QuerySet[Yarn], *, low: bool, among: Iterable[int] | None) -> QuerySet[Yarn]:
    """Give those of some yarns that run low, where that is asked, and are `among` those found enough, where it is."""
    narrower = yarns.filter(pk__in=running_low().values("pk")) if low else yarns
    return narrower if among is None else narrower.filter(pk__in=list(among))


def low_row(yarn: Yarn) -> LowRow:
    """Give a yarn of `running_low` in grams, with what is missing."""
    keep, free = grams(yarn.keep_at_least_ug or 0), grams(int(vars(yarn)["free_ug"]))
    return LowRow(yarn, keep, free, keep - free, length_of_mass(keep - free, yarn.exact_tex))


def with_enough(need: Enough) -> dict[int, bool]:
    """Give the yarns of like fineness with so much free, by key, each with whether one named dye lot suffices.

    One query. What misses it by less than any scale shows is enough.
    """
    like = Yarn.objects.filter(tex__gte=to_decimal(need.finest), tex__lte=to_decimal(need.thickest))
    lots = _anybodys(Package.objects.filter(yarn__in=like)).values_list("yarn", "yarn__tex", "dye_lot")
    free: dict[int, dict[str, int]] = {}
    needed_ug: dict[int, int] = {}
    for yarn, tex, lot, amount in lots.annotate(free=Sum(F("on_hand_ug") - F("promised_ug"))):
        free.setdefault(yarn, {})[lot] = int(amount)
        needed_ug[yarn] = micrograms(mass_of_length(need.length_cm, Fraction(tex))) - SLACK_UG
    enough = (yarn for yarn, amounts in free.items() if sum(amounts.values()) >= needed_ug[yarn])
    return {yarn: any(lot and amount >= needed_ug[yarn] for lot, amount in free[yarn].items()) for yarn in enough}
