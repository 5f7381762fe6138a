"""Files of packages: what is written into one, and what a file sent in would do to the book.

Nothing is written here. A row with a package's number is that package: unchanged it stays as it is, and a few words
about it (bin, dye lot, notes and the like) may be put right, where the row's mark says that nobody did meanwhile. What
the ledger keeps changes at the scale. A row without a number is a package that comes in.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from types import MappingProxyType

from inventory.calc.ledger import grams
from inventory.files.spreadsheets import FileRefused, FileTable, keepable
from inventory.models import Package, Yarn
from studio.models import Member
from studio.units import KINDS, Units, exact_text

HEADINGS: Mapping[str, str] = MappingProxyType({
    "package": "Package", "kind": "Kind", "yarn": "Yarn number", "name": "Yarn", "colour_name": "Colour",
    "fibre": "Fibre", "count_text": "Count", "grist_text": "Yards per pound / metres per kilogram",
    "dye_lot": "Dye lot", "bin_name": "Bin", "gross_text": "Gross weight", "tare_text": "Tare", "source": "Source",
    "received_on": "Received on", "owner": "Belongs to", "notes": "Notes", "on_hand": "On hand", "mark": "Row mark",
})  # fmt: skip
"""The columns of a file, by what they hold."""
OF_YARN = ("yarn", "name", "colour_name", "fibre", "count_text", "grist_text")
OF_PACKAGE = ("kind", "dye_lot", "bin_name", "gross_text", "tare_text", "source", "received_on", "owner", "notes")
CORRECTABLE = ("dye_lot", "bin_name", "source", "received_on", "notes")
"""What a file may put right about a package that is there."""
MARK_LENGTH = 12
Cells = dict[str, str]


def all_rows() -> Iterator[tuple[str, ...]]:
    """Give the book as rows of a file: every package, then the yarns that have none; two queries."""
    for package in Package.objects.select_related("yarn", "owner").order_by("pk"):
        yield tuple(cells_of(package).values())
    for yarn in Yarn.objects.filter(packages=None).order_by("pk"):
        yield tuple(cells_of_yarn(yarn).values())


def cells_of(package: Package) -> Cells:
    """Write a package as a row of a file."""
    yarn = package.yarn
    cells = {
        "package": str(package.pk),
        "kind": package.get_kind_display(),
        **_yarn_cells(yarn),
        "dye_lot": package.dye_lot,
        "bin_name": package.bin_name,
        "gross_text": package.gross_text or _plain_grams(package.gross_g.normalize()),
        "tare_text": package.tare_text if package.gross_text else _plain_grams(package.tare_g.normalize()),
        "source": package.get_source_display(),
        "received_on": package.received_on.isoformat() if package.received_on else "",
        "owner": package.owner.name if package.owner else "",
        "notes": package.notes,
        "on_hand": f"{exact_text(grams(package.on_hand_ug), 'mass', Units.METRIC)} g",
    }
    return _marked(cells)


def _plain_grams(mass: object) -> str:
    return f"{mass:f} g"


def cells_of_yarn(yarn: Yarn) -> Cells:
    """Write a yarn that has no package as a row of a file."""
    return _marked(dict.fromkeys(HEADINGS, "") | _yarn_cells(yarn))


def _yarn_cells(yarn: Yarn) -> Cells:
    return {
        "yarn": str(yarn.pk),
        "name": yarn.name,
        "colour_name": yarn.colour_name,
        "fibre": yarn.get_fibre_display(),
        "count_text": yarn.count_text,
        "grist_text": yarn.grist_text,
    }


def _marked(cells: Cells) -> Cells:
    marked = {name: keepable(cells.get(name, "")) for name in HEADINGS}
    marked["mark"] = ""
    marked["mark"] = sha256("\x1f".join(marked.values()).encode()).hexdigest()[:MARK_LENGTH]
    return marked


@dataclass(frozen=True, slots=True)
class Book:
    """What a file is compared with: packages, yarns and people, read once for all rows."""

    packages: Mapping[int, Package]
    yarns: Mapping[int, Yarn]
    yarns_by_name: Mapping[tuple[str, str], list[Yarn]]
    members_by_name: Mapping[str, list[Member]] = field(default_factory=dict)


def the_book() -> Book:
    """Read the book; three queries, however long the file."""
    yarns = {yarn.pk: yarn for yarn in Yarn.objects.all()}
    by_name: dict[tuple[str, str], list[Yarn]] = defaultdict(list)
    for yarn in yarns.values():
        by_name[name_key(yarn.name, yarn.colour_name)].append(yarn)
    members: dict[str, list[Member]] = defaultdict(list)
    for member in Member.objects.filter(user__is_active=True):
        members[member.name.casefold()].append(member)
    packages = {one.pk: one for one in Package.objects.select_related("yarn", "owner")}
    return Book(packages, yarns, by_name, members)


def name_key(name: str, colour_name: str) -> tuple[str, str]:
    """Give what two writings of one yarn have in common."""
    return " ".join(name.split()).casefold(), " ".join(colour_name.split()).casefold()


def cells_by_name(table: FileTable) -> tuple[list[str | None], list[str]]:
    """Tell which column holds what, and give the headings that are none of ours.

    Raises
    ------
    FileRefused
        If a heading stands twice, or too little is there to know a package by.
    """
    ours = {heading.casefold(): name for name, heading in HEADINGS.items()}
    names = [ours.get(" ".join(heading.split()).casefold()) for heading in table.headings]
    twice = {HEADINGS[name] for name in names if name is not None and names.count(name) > 1}
    if twice:
        raise FileRefused("twice", f"A heading stands twice: {', '.join(sorted(twice))}.")
    if "package" not in names and not {"name", "gross_text"} <= set(names):
        raise FileRefused(
            "headings",
            "The first row must name the columns. A list of packages needs at least “Yarn” and “Gross weight”; "
            "download the file of this page to see all of them.",
        )
    strange = [heading for heading, name in zip(table.headings, names, strict=True) if name is None and heading]
    return names, strange


def numbers_twice(rows: Iterable[tuple[int, Cells]]) -> dict[str, list[int]]:
    """Give the package numbers that stand in more than one row, with those rows."""
    rows_by_number: dict[str, list[int]] = defaultdict(list)
    for number, cells in rows:
        if cells.get("package"):
            rows_by_number[cells["package"].lstrip("0")].append(number)
    return {package: numbers for package, numbers in rows_by_number.items() if len(numbers) > 1}


def other_units(rows: Iterable[Cells], chosen: str) -> tuple[str, ...]:
    """Give the units that weights of a file are written in, other than the one that was chosen for bare numbers."""
    meaning = KINDS["mass"].labels
    short = {unit: label for label, unit in reversed(list(meaning.items()))}
    weights = (cells.get(name, "") for cells in rows for name in ("gross_text", "tare_text"))
    units = {meaning[label] for text in weights for label in re.findall(r"[a-z]+", text.lower()) if label in meaning}
    return tuple(sorted(short[unit] for unit in units - {meaning[chosen]}))
