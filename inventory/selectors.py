"""Questions asked of the yarn room. What is on the shelf has one answer, from one place."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from django.db.models import Count, Q, QuerySet

from inventory.models import Package, Yarn
from inventory.yarn_count import length_of_mass

MOST_WORDS = 8
"""More search words than this are nobody's question; each one costs the database a look."""

COUNT_AGREES = Fraction(1, 100)
"""Count and label may differ by this share and still mean the same yarn (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One yarn as it stands on the shelf: net weight [g], its length [cm], and in how many packages."""

    yarn: Yarn
    tex: Fraction
    net_g: Fraction
    length_cm: Fraction
    packages: int


@dataclass(frozen=True, slots=True)
class PackageRow:
    """One package, with its net weight [g] and the length that gives [cm]."""

    package: Package
    net_g: Fraction
    length_cm: Fraction

    @property
    def gross(self) -> tuple[str, Decimal]:
        """Give the full weight, in the scale's words and in grams."""
        return self.package.gross_text, self.package.gross_g

    @property
    def tare(self) -> tuple[str, Decimal]:
        """Give the empty weight, in the scale's words and in grams."""
        return self.package.tare_text, self.package.tare_g


@dataclass(frozen=True, slots=True)
class Fineness:
    """Where a yarn's tex comes from: the label's length in a weight, or else the count."""

    tex: Fraction
    from_label: bool
    count_tex: Fraction | None

    @property
    def count_differs(self) -> bool:
        """Tell whether the count alone would plan a different yarn than the label does."""
        return self.count_tex is not None and abs(self.count_tex - self.tex) > COUNT_AGREES * self.tex


def yarns_matching(*, words: str = "", fibre: str = "", retired: bool = False) -> QuerySet[Yarn]:
    """Give the yarns that every word is found in: name, colour, count, dye lot or bin."""
    found = Yarn.objects.all()
    if fibre:
        found = found.filter(fibre=fibre)
    if not retired:
        found = found.filter(retired=False)
    for word in words.split()[:MOST_WORDS]:
        found = found.filter(_holds(word))
    return found


def _holds(word: str) -> Q:
    columns = ("name", "fibre", "count_text", "grist_text", "colour_name")
    packed = Package.objects.filter(Q(dye_lot__icontains=word) | Q(bin_name__icontains=word)).values("yarn")
    wanted = Q(pk__in=packed)
    for column in columns:
        wanted |= Q(**{f"{column}__icontains": word})
    return wanted


def net_weight_on_hand(yarns: Iterable[Yarn]) -> dict[int, Fraction]:
    """Give the net weight of each yarn [g], 0 where the shelf is empty.

    The only place that says what is on hand: when the ledger of moves is there, it is asked here. Summed
    outside the database, because SQLite would sum in floats.
    """
    on_hand = {yarn.pk: Fraction(0) for yarn in yarns}
    weights = Package.objects.filter(yarn__in=on_hand).order_by().values_list("yarn_id", "gross_g", "tare_g")
    for yarn_id, gross, tare in weights:
        on_hand[yarn_id] += Fraction(gross - tare)
    return on_hand


def shelf(yarns: Iterable[Yarn]) -> tuple[ShelfRow, ...]:
    """Give each yarn with what is on the shelf of it; two queries, however many yarns."""
    kept = tuple(yarns)
    weights = net_weight_on_hand(kept)
    packages = dict(
        Package.objects.filter(yarn__in=weights)
        .order_by()
        .values("yarn")
        .annotate(n=Count("pk"))
        .values_list("yarn", "n")
    )
    return tuple(_shelf_row(yarn, weights[yarn.pk], packages.get(yarn.pk, 0)) for yarn in kept)


def _shelf_row(yarn: Yarn, net_g: Fraction, packages: int) -> ShelfRow:
    tex = yarn.exact_tex
    return ShelfRow(yarn, tex, net_g, length_of_mass(net_g, tex), packages)


def packages_of(yarn: Yarn) -> tuple[PackageRow, ...]:
    """Give the packages of a yarn, those of one dye lot together."""
    tex = yarn.exact_tex
    rows = []
    for package in yarn.packages.order_by("dye_lot", "pk"):
        net = Fraction(package.net_g)
        rows.append(PackageRow(package, net, length_of_mass(net, tex)))
    return tuple(rows)


def fineness_of(yarn: Yarn) -> Fineness:
    """Say how fine a yarn is, and by which figure."""
    return Fineness(yarn.exact_tex, bool(yarn.grist_text), yarn.count_tex)
