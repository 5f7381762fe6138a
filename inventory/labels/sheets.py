"""Labels for packages, laid out on sheets of labels: one page of HTML serves the PDF and the browser's printing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from inventory.calc.ledger import grams
from inventory.models import Package, Yarn
from inventory.templatetags.yarn_room import as_grist, as_other_grist, as_scale
from studio.files.pdf import qr_address
from studio.units import Units, show


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of labels, by its measures [mm]; `size` says how much a label has room for.

    The style sheet has the same measures once more, since a page may not carry styles of its own; a test holds both
    together.
    """

    key: str
    paper: str
    wide: str
    high: str
    columns: int
    rows: int
    left: str
    top: str
    gap: str
    size: str = "middle"
    inches: str = ""

    @property
    def labels(self) -> int:
        """How many labels a page has."""
        return self.columns * self.rows

    @property
    def name(self) -> str:
        """What the sheet is called: its measures, and how many a page."""
        return f"{self.wide} × {self.high} mm{self.inches}, {self.labels} to {self.paper}"


SHEETS: Mapping[str, LabelSheet] = {
    sheet.key: sheet
    for sheet in (
        LabelSheet("a4-24", "A4", "70", "36", 3, 8, "0", "4.5", "0"),
        LabelSheet("a4-21", "A4", "63.5", "38.1", 3, 7, "7.25", "15.15", "2.5"),
        LabelSheet("a4-10", "A4", "105", "57", 2, 5, "0", "6", "0", "large"),
        LabelSheet("a4-8", "A4", "99.1", "67.7", 2, 4, "4.65", "13.1", "2.5", "large"),
        LabelSheet("letter-30", "Letter", "66.7", "25.4", 3, 10, "4.8", "12.7", "3.15", "small", " (2⅝ × 1 in)"),
        LabelSheet("letter-10", "Letter", "101.6", "50.8", 2, 5, "4", "12.7", "4.7", "large", " (4 × 2 in)"),
        LabelSheet("letter-6", "Letter", "101.6", "84.7", 2, 3, "4", "12.65", "4.7", "large", " (4 × 3⅓ in)"),
    )
}
"""Sheets that are sold everywhere, by their plain measures (common practice, no source)."""
PAPERS: Mapping[str, tuple[str, str]] = {"A4": ("210", "297"), "Letter": ("215.9", "279.4")}
"""Width and height [mm]: ISO 216, and 8½ by 11 in."""


@dataclass(frozen=True, slots=True)
class YarnLabel:
    """What stands on the label of one package."""

    number: str
    yarn: str
    colour_name: str
    colour: str
    facts: str
    scale: str
    net: str
    weighed: str
    dye_lot: str
    bin_name: str
    owner: str
    qr: str


def label_of(package: Package, weighed: datetime | None, units: Units) -> YarnLabel:
    """Say what a label says: gross and tare of the last reading, and the net weight of now, which may be less."""
    yarn = package.yarn
    read_ug, left = grams(package.net_by_scale_ug), grams(package.on_hand_ug)
    gross = as_scale((package.gross_text, package.gross_g), units)
    tare = as_scale((package.tare_text, package.tare_g), units)
    day = timezone.localtime(weighed) if weighed is not None else None
    return YarnLabel(
        number=f"{package.get_kind_display().capitalize()} {package.pk}",
        yarn=yarn.name,
        colour_name=yarn.colour_name,
        colour=yarn.colour if yarn.colour_given else "",
        facts=_facts(yarn, units),
        scale=f"Gross {gross}, tare {tare}",
        net=f"Net {'now ' if left != read_ug else ''}{_both(left, units)}",
        weighed=f"Weighed {date_format(day, 'j M Y')}" if day is not None else "",
        dye_lot=package.dye_lot,
        bin_name=package.bin_name,
        owner=package.owner.name if package.owner is not None else "",
        qr=qr_address(f"{settings.BASE_URL}{reverse('package-scale', args=[package.pk])}"),
    )


def _both(mass: Fraction, units: Units) -> str:
    other = Units.METRIC if units is Units.INCH else Units.INCH
    return f"{show(mass, 'mass', units)} ({show(mass, 'mass', other)})"


def _facts(yarn: Yarn, units: Units) -> str:
    """Say fibre, count and yards per pound or metres per kilogram; what the name says already is not said again."""
    words_before = [yarn.name.casefold()]
    for words in (yarn.count_text, yarn.get_fibre_display()):
        if not any(words.casefold() in before for before in words_before):
            words_before.insert(1, words)
    tex = yarn.exact_tex
    return ", ".join([*words_before[1:], as_grist(tex, units), as_other_grist(tex, units)])


def pages_of(labels: Sequence[YarnLabel], sheet: LabelSheet, start: int) -> list[list[YarnLabel | None]]:
    """Lay labels out page by page; those before `start` on the first page are used already."""
    slots: list[YarnLabel | None] = [*([None] * (start - 1)), *labels]
    return [slots[at : at + sheet.labels] for at in range(0, len(slots), sheet.labels)]


def labels_html(labels: Sequence[YarnLabel], sheet: LabelSheet, *, start: int, lines: bool, studio: str) -> str:
    """Give the whole print page; `lines` draws where to cut, for plain paper."""
    context = {"pages": pages_of(labels, sheet, start), "sheet": sheet, "lines": lines, "studio": studio}
    return render_to_string("inventory/labels/yarn_labels.html", context)
