"""Reads of the yarn room. What is on the shelf has one answer, from one place."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from django.db.models import Aggregate, Case, Count, Exists, F, OuterRef, Q, QuerySet, Sum, Value, When

from inventory.calc.count import length_of_mass
from inventory.calc.ledger import grams
from inventory.calc.weight_classes import CLASSES
from inventory.models import ColourFamily, Package, SetAside, Yarn
from inventory.models.yarns import UNSAID_COLOUR
from studio.models import Member
from studio.units import to_decimal

MOST_WORDS = 8
"""More search words than this are nobody's question; each one costs the database a look."""

COUNT_AGREES = Fraction(1, 100)
"""Count and label may differ by this share and still mean the same yarn (common practice, no source)."""

NOT_GIVEN, NOT_GIVEN_WORDS = "unsaid", "colour not given"
COLOURS = (*ColourFamily.choices, (NOT_GIVEN, NOT_GIVEN_WORDS))
"""What may be asked for as a colour: the families, and the yarns whose colour nobody chose."""
COLOUR_UNSAID = Case(When(colour=UNSAID_COLOUR, then=Value(1)), default=Value(0))


@dataclass(frozen=True, slots=True)
class Balance:
    """What is on hand, what of it is promised, and what is free [g]."""

    on_hand_g: Fraction = Fraction(0)
    promised_g: Fraction = Fraction(0)
    free_g: Fraction = Fraction(0)
    packages: int = 0


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One yarn as it stands on the shelf: its balance [g], the length on hand and free [cm], and in how many packages.

    Free is what the studio could promise to anybody: not what is in quarantine, and not a member's own.
    """

    yarn: Yarn
    tex: Fraction
    net_g: Fraction
    length_cm: Fraction
    packages: int
    promised_g: Fraction
    free_g: Fraction
    free_cm: Fraction

    @property
    def held_back_g(self) -> Fraction:
        """What is neither promised nor free: in quarantine, or a member's own."""
        return self.net_g - self.promised_g - self.free_g


@dataclass(frozen=True, slots=True)
class PackageRow:
    """One package, with its balance [g] and the length on hand and free [cm]."""

    package: Package
    net_g: Fraction
    length_cm: Fraction
    promised_g: Fraction = Fraction(0)
    free_g: Fraction = Fraction(0)
    free_cm: Fraction = Fraction(0)

    @property
    def gross(self) -> tuple[str, Decimal]:
        """Give the last reading of the scale, in its words and in grams."""
        return self.package.gross_text, self.package.gross_g

    @property
    def tare(self) -> tuple[str, Decimal]:
        """Give the empty weight, in the scale's words and in grams."""
        return self.package.tare_text, self.package.tare_g


@dataclass(frozen=True, slots=True)
class Fineness:
    """Where a yarn's tex comes from: the label's figure, or else the count."""

    tex: Fraction
    from_label: bool
    count_tex: Fraction | None

    @property
    def count_differs(self) -> bool:
        """Tell whether the count alone would plan a different yarn than the label does."""
        return self.count_tex is not None and abs(self.count_tex - self.tex) > COUNT_AGREES * self.tex


def yarns_matching(
    *, words: str = "", fibre: str = "", weight: str = "", colour: str = "", bin_name: str = "", retired: bool = False
) -> QuerySet[Yarn]:
    """Give the yarns that every word is found in: name, colour, count, dye lot or bin; each filter narrows them."""
    yarns = Yarn.objects.all() if retired else Yarn.objects.filter(retired=False)
    if fibre:
        yarns = yarns.filter(fibre=fibre)
    if colour:
        yarns = of_colour(yarns, colour)
    if weight:
        yarns = yarns.filter(_of_weight(weight))
    if bin_name:
        in_bin = Package.objects.filter(yarn=OuterRef("pk"), bin_name__iexact=bin_name, on_hand_ug__gt=0)
        yarns = yarns.filter(Exists(in_bin))
    for word in words.split()[:MOST_WORDS]:
        yarns = yarns.filter(_holds(word))
    return yarns


def of_colour(yarns: QuerySet[Yarn], colour: str) -> QuerySet[Yarn]:
    """Narrow yarns to a colour family, or to those whose colour nobody gave: the grey of an untouched box is none."""
    if colour == NOT_GIVEN:
        return yarns.filter(colour=UNSAID_COLOUR)
    return yarns.filter(colour_family=colour).exclude(colour=UNSAID_COLOUR)


def _holds(word: str) -> Q:
    columns = ("name", "fibre", "count_text", "grist_text", "colour_name")
    packed = Package.objects.filter(Q(dye_lot__icontains=word) | Q(bin_name__icontains=word)).values("yarn")
    condition = Q(pk__in=packed)
    for column in columns:
        condition |= Q(**{f"{column}__icontains": word})
    return condition


def _of_weight(key: str) -> Q:
    """Say which yarns are of a weight class; none where there is no such class."""
    weight = next((one for one in CLASSES if one.key == key), None)
    if weight is None:
        return Q(pk__in=())
    condition = Q(tex__gte=to_decimal(weight.from_tex))
    return condition if weight.below_tex is None else condition & Q(tex__lt=to_decimal(weight.below_tex))


def free_weight(
    yarns: Iterable[Yarn], *, for_member: Member | None = None, set_aside: SetAside | None = None
) -> dict[int, Fraction]:
    """Give what of each yarn could be promised now [g]: the studio's, a member's own, and what her work set aside."""
    free = {key: balance.free_g for key, balance in balances_of(yarns, for_member=for_member).items()}
    if set_aside is not None:
        promises = set_aside.moves.filter(package__yarn__in=free).order_by().values_list("package__yarn")
        for key, amount in promises.annotate(promised=Sum("promised_ug")):
            free[key] += grams(int(amount))
    return free


def balances_of(yarns: Iterable[Yarn], *, for_member: Member | None = None) -> dict[int, Balance]:
    """Give the balance of each yarn; one query, however many yarns.

    The only place that sums the shelf by yarn. It adds the packages' own balances, which the database keeps equal to
    their moves, so it never has to read a move.
    """
    balances = dict.fromkeys((yarn.pk for yarn in yarns), Balance())
    packages = Package.objects.filter(yarn__in=balances).order_by().values_list("yarn")
    sums = packages.annotate(**_balance(for_member))
    return balances | {key: _balance_row(*amounts) for key, *amounts in sums}


def _balance(for_member: Member | None) -> dict[str, Aggregate]:
    """Give the sums that make a balance: on hand, promised, what of the rest is free, and how many packages."""
    anybodys = Q(owner=None) if for_member is None else Q(owner=None) | Q(owner=for_member)
    could_be_free = anybodys & Q(quarantined=False)
    rest = F("on_hand_ug") - F("promised_ug")
    return {
        "on_hand": Sum("on_hand_ug"),
        "promised": Sum("promised_ug"),
        "free": Sum(rest, filter=could_be_free),
        "number": Count("pk"),
    }


def _balance_row(on_hand: int, promised: int, free: int | None, packages: int) -> Balance:
    return Balance(grams(int(on_hand)), grams(int(promised)), grams(int(free or 0)), packages)


def shelf(yarns: Iterable[Yarn]) -> tuple[ShelfRow, ...]:
    """Give each yarn with what is on the shelf of it; one query, however many yarns."""
    rows = tuple(yarns)
    balances = balances_of(rows)
    return tuple(_shelf_row(yarn, balances[yarn.pk]) for yarn in rows)


def _shelf_row(yarn: Yarn, balance: Balance) -> ShelfRow:
    tex = yarn.exact_tex
    length, free = (length_of_mass(mass, tex) for mass in (balance.on_hand_g, balance.free_g))
    return ShelfRow(yarn, tex, balance.on_hand_g, length, balance.packages, balance.promised_g, balance.free_g, free)


def packages_of(yarn: Yarn) -> tuple[PackageRow, ...]:
    """Give the packages of a yarn, those of one dye lot together."""
    tex = yarn.exact_tex
    return tuple(
        _package_row(package, tex) for package in yarn.packages.select_related("owner").order_by("dye_lot", "pk")
    )


def _package_row(package: Package, tex: Fraction) -> PackageRow:
    net, promised, free = map(grams, (package.on_hand_ug, package.promised_ug, package.free_ug))
    return PackageRow(package, net, length_of_mass(net, tex), promised, free, length_of_mass(free, tex))


def rows_of(packages: Iterable[Package]) -> tuple[PackageRow, ...]:
    """Give packages of any yarns with their balances; their yarns must be there already."""
    return tuple(_package_row(package, package.yarn.exact_tex) for package in packages)


def fineness_of(yarn: Yarn) -> Fineness:
    """Say how fine a yarn is, and by which figure."""
    return Fineness(yarn.exact_tex, bool(yarn.grist_text), yarn.count_tex)
