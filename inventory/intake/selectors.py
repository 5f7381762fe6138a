"""Reads for yarn coming in: what waits for a name, what an empty weighs, which yarn is meant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.db.models import Case, IntegerField, QuerySet, Value, When

from inventory.calc.tare import median
from inventory.calc.words import capitalised, mass_words
from inventory.ledger.selectors import FIBRES_MOTHS_EAT
from inventory.models import Arrival, Fibre, Package, Tare, TareWeighing, Yarn
from inventory.shelf.selectors import yarns_matching
from studio.units import Units, in_units, rounded, show

MOST_YARNS_OFFERED = 400
MOST_NAMED_AT_ONCE = 50
ROWS_THROWN_OUT = 20
NO_SUCH_YARN = "No yarn of the book is called so. Leave the box empty and name it later, or add the yarn first."
FIBRES_OF_ANIMALS = FIBRES_MOTHS_EAT - {Fibre.OTHER}
_NUMBERED = re.compile(r".*\bno\. (?P<number>\d{1,9})", re.ASCII | re.DOTALL)


@dataclass(frozen=True, slots=True)
class TareFigures:
    """One sort of empty with what was learned of it [g]; no figures where none of it counts."""

    tare: Tare
    weighings: tuple[TareWeighing, ...]
    median_g: Fraction | None
    least_g: Fraction | None
    most_g: Fraction | None

    @property
    def counted(self) -> int:
        """How many weighings the median is of."""
        return sum(not one.left_out for one in self.weighings)

    @property
    def in_ounces(self) -> bool:
        """Whether the studio weighs these in ounces."""
        return all("oz" in one.weight_text.lower() for one in self.weighings if not one.left_out)

    def median_words(self) -> str:
        """Write the median finer than a studio's scale shows: to a hundredth of a gram, or a thousandth of an ounce."""
        if self.median_g is None:
            return ""
        if self.in_ounces:
            return f"{rounded(in_units(self.median_g, 'mass', Units.INCH), 3)} oz"
        return f"{rounded(self.median_g, 2)} g"

    def spread_words(self, units: Units) -> str:
        """Write the median with least and most, such as "25.7 g (25 to 27 g, 3 weighed)"."""
        if self.median_g is None or self.least_g is None or self.most_g is None:
            return "none weighed yet"
        middle, least, most = (show(mass, "mass", units) for mass in (self.median_g, self.least_g, self.most_g))
        if self.counted == 1:
            return f"{middle} (1 weighed)"
        alike = f"all {self.counted} alike" if least == most else f"{least} to {most}, {self.counted} weighed"
        return f"{middle} ({alike})"


def known_tares() -> tuple[TareFigures, ...]:
    """Give every sort of empty with its figures; three queries."""
    return tuple(_figures(tare) for tare in Tare.objects.prefetch_related("weighings__made_by"))


def _figures(tare: Tare) -> TareFigures:
    weighings = tuple(tare.weighings.all())
    weights = [Fraction(one.weight_g) for one in weighings if not one.left_out]
    if not weights:
        return TareFigures(tare, weighings, None, None, None)
    return TareFigures(tare, weighings, median(weights), min(weights), max(weights))


def waiting() -> QuerySet[Arrival]:
    """Give what nobody has named yet, the oldest first."""
    return Arrival.objects.filter(closed_at=None).select_related("owner", "photo", "received_by")


def thrown_out_lately() -> tuple[Arrival, ...]:
    """Give what was thrown out last, the latest first."""
    out = Arrival.objects.filter(closed_at__isnull=False, package=None).select_related("closed_by")
    return tuple(out.order_by("-closed_at", "-pk")[:ROWS_THROWN_OUT])


def weight_waiting(reads_in: Units) -> tuple[Fraction, Fraction, Units]:
    """Give what all of it weighs by the scale, and what of that is yarn as far as tares are known [g].

    With them the units to write them in: those of the scale where all was weighed in one kind, else the reader's.
    """
    rows = waiting().order_by().values_list("gross_g", "tare_g", "gross_text")  # SQLite would add them as floats
    weights = [(Fraction(gross), Fraction(tare), weighed_in(text)) for gross, tare, text in rows]
    gross = sum((one for one, _, _ in weights), Fraction(0))
    tare = sum((one for _, one, _ in weights), Fraction(0))
    scales = {units for _, _, units in weights}
    return gross, gross - tare, scales.pop() if len(scales) == 1 else reads_in


def weighed_in(text: str) -> Units:
    """Tell in which kind of units a scale's words are.

    Examples
    --------
    >>> weighed_in("412 g").value, weighed_in("2 lb 3 oz").value
    ('metric', 'inch')
    """
    return Units.INCH if re.search(r"oz|ounce|lb", text.lower()) else Units.METRIC


def chosen_arrivals(keys: Sequence[str]) -> tuple[Arrival, ...]:
    """Give those of the waiting ones that were chosen, whatever else was sent."""
    numbers = [int(key) for key in keys[:MOST_NAMED_AT_ONCE] if key.isascii() and key.isdigit() and len(key) < 10]  # noqa: PLR2004
    return tuple(waiting().filter(pk__in=numbers))


def yarn_words(yarn: Yarn, *, numbered: bool = False) -> str:
    """Write a yarn for a box that finds it again."""
    return f"{yarn}, no. {yarn.pk}" if numbered else str(yarn)


def yarns_offered() -> list[str]:
    """Give the yarns of the book as they may be typed; two of one name with their numbers."""
    yarns = list(Yarn.objects.filter(retired=False)[:MOST_YARNS_OFFERED])
    names = [str(yarn) for yarn in yarns]
    return [yarn_words(yarn, numbered=names.count(name) > 1) for yarn, name in zip(yarns, names, strict=True)]


def yarn_of_words(words: str) -> tuple[Yarn | None, str]:
    """Find the one yarn that is meant, or say why there is not one."""
    numbered = _NUMBERED.fullmatch(words)
    by_number = Yarn.objects.filter(pk=int(numbered["number"])).first() if numbered else None
    if by_number is not None:
        return by_number, ""
    matching = _best_first(yarns_matching(words=words.replace(",", " "), retired=True))
    whole = [yarn for yarn in matching if str(yarn).casefold() == words.casefold()]
    named = [yarn for yarn in matching if yarn.name.casefold() == words.casefold()]
    yarns = whole or named or matching
    if len(yarns) == 1:
        return yarns[0], ""
    if not yarns:
        return None, NO_SUCH_YARN
    some = "; ".join(yarn_words(yarn, numbered=True) for yarn in yarns[:4])
    more = ", and others" if len(yarns) > 4 else ""  # noqa: PLR2004
    return None, f"More than one yarn is meant: {some}{more}. Write more of the name, or its number."


def _best_first(yarns: QuerySet[Yarn]) -> list[Yarn]:
    kept_first = Case(When(retired=True, then=Value(1)), default=Value(0), output_field=IntegerField())
    return list(yarns.order_by(kept_first, "name", "colour_name", "pk")[:20])


def of_an_animal(packages: Iterable[Package]) -> list[Package]:
    """Give those that moths would eat and that are in no quarantine."""
    return [one for one in packages if one.yarn.fibre in FIBRES_OF_ANIMALS and not one.quarantined]


def what_came_in(packages: Sequence[Package], arrivals: Sequence[Arrival], units: Units) -> str:
    """Say what was written, with the number that belongs on each label."""
    if packages:
        first, numbers = packages[0], [str(one.pk) for one in packages]
        kind, yarn = first.get_kind_display(), first.yarn
        weight = mass_words(sum(one.on_hand_ug for one in packages), units)
        if len(packages) == 1:
            number = numbers[0]
            return f"{capitalised(kind)} {number} of {yarn} is on the shelf: {weight} of yarn. Write {number} on it."
        words = listed(numbers)
        return (
            f"{len(packages)} {kind}s of {yarn} are on the shelf: {weight} of yarn. Write {words} on them, as you "
            "weighed them."
        )
    names = [str(one) for one in arrivals]
    what = "of yarn" if arrivals[0].tare_g else "with the empty, whose weight is not known"
    weight = f"{mass_words(sum(one.net_ug for one in arrivals), units)} {what}"
    if len(arrivals) == 1:
        return f"{names[0]} waits for its name: a {arrivals[0].get_kind_display()}, {weight}. Write {names[0]} on it."
    kind = arrivals[0].get_kind_display()
    return f"{len(names)} {kind}s wait for their name, {weight}. Write {listed(names)} on them, as you weighed them."


def listed(words: Sequence[str]) -> str:
    """Write a row of words as people say it: 7, 8 and 9."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def what_was_named(packages: Sequence[Package]) -> str:
    """Say which package each arrival became."""
    became = [f"{one.arrival} is {one.get_kind_display()} {one.pk}" for one in packages]
    return f"{packages[0].yarn}: {listed(became)} now. The scale finds each by either number."
