"""What each row of a file would do: stay as it is, come in, be put right, or what is wrong with it, in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from inventory.calc.words import with_unit
from inventory.files.faults import Faults, YarnCells, choice_of, day_of, faults_of, trouble_with_yarn, unlike
from inventory.files.selectors import (
    CORRECTABLE,
    HEADINGS,
    OF_PACKAGE,
    OF_YARN,
    Book,
    Cells,
    cells_by_name,
    cells_of,
    cells_of_yarn,
    name_key,
    numbers_twice,
    other_units,
)
from inventory.files.spreadsheets import FileTable, TableRow
from inventory.models import Package, Yarn
from studio.models import Member

SAME, COMES_IN, CORRECTED, NEW_YARN, WRONG = "same", "new", "changed", "yarn", "wrong"
OUTCOME_WORDS = {
    SAME: "as in the book", COMES_IN: "comes in", CORRECTED: "is put right", NEW_YARN: "new yarn",
    WRONG: "cannot be kept",
}  # fmt: skip
LONGEST_NUMBER = 9


@dataclass(frozen=True, slots=True)
class PlannedRow:
    """One row of a file, and what it would do."""

    number: int
    outcome: str
    cells: Cells
    wrong: tuple[tuple[str, str], ...] = ()
    changes: tuple[tuple[str, str, str], ...] = ()
    package: Package | None = None
    yarn: Yarn | None = None
    new_yarn: tuple[str, str] | None = None
    facts: Mapping[str, Any] = field(default_factory=dict)

    @property
    def outcome_words(self) -> str:
        """What it would do, in words."""
        return OUTCOME_WORDS[self.outcome]

    @property
    def gross(self) -> str:
        """The gross weight as it was understood, with its unit."""
        return str(self.facts.get("gross_text") or self.cells.get("gross_text", ""))

    @property
    def tare(self) -> str:
        """The tare as it was understood, with its unit."""
        return str(self.facts.get("tare_text") or self.cells.get("tare_text", ""))

    @property
    def bin_name(self) -> str:
        """The bin, empty also where the file has no such column."""
        return self.cells.get("bin_name", "")

    @property
    def dye_lot(self) -> str:
        """The dye lot, empty also where the file has no such column."""
        return self.cells.get("dye_lot", "")

    @property
    def title(self) -> str:
        """What it is, as far as the row says so."""
        cells = self.cells
        yarn = ", ".join(filter(None, (cells.get("name"), cells.get("colour_name"))))
        number = f"Package {cells['package']}: " if cells.get("package") else ""
        return f"{number}{yarn or 'no yarn named'}"


@dataclass(frozen=True, slots=True)
class ImportPlan:
    """What a whole file would do."""

    rows: tuple[PlannedRow, ...]
    new_yarns: Mapping[tuple[str, str], YarnCells]
    strange: tuple[str, ...] = ()
    """Headings that are none of ours; their columns are not read."""

    def of(self, *outcomes: str) -> list[PlannedRow]:
        """Give the rows that would do this."""
        return [row for row in self.rows if row.outcome in outcomes]

    @property
    def wrong(self) -> list[PlannedRow]:
        """Rows that cannot be kept."""
        return self.of(WRONG)

    @property
    def good(self) -> list[PlannedRow]:
        """Rows that would change the book."""
        return self.of(COMES_IN, CORRECTED, NEW_YARN)

    @property
    def mark(self) -> str:
        """Give a hash of what it would do, so that the yes is to what was seen."""
        effects = [(row.number, row.outcome, row.wrong, row.changes, row.yarn and row.yarn.pk) for row in self.rows]
        return sha256(repr(effects).encode()).hexdigest()


def import_plan(table: FileTable, book: Book, mass_unit: str) -> ImportPlan:
    """Compare a table with the book, and say of each row what it would do."""
    names, strange = cells_by_name(table)
    rows = [(line, _named(names, line)) for line in table.lines]
    reader = _PlanReader(book, mass_unit, numbers_twice((line.number, cells) for line, cells in rows))
    reader.other_units = other_units((cells for _, cells in rows), mass_unit)
    reader.learn_new_yarns([cells for line, cells in rows if not line.wrong])
    planned = tuple(reader.read(line, cells, _wrong_cells(names, line)) for line, cells in rows)
    keys = {row.new_yarn for row in planned if row.outcome != WRONG}
    return ImportPlan(planned, {key: cells for key, cells in reader.new_yarns.items() if key in keys}, tuple(strange))


def _named(names: Sequence[str | None], line: TableRow) -> Cells:
    return {name: cell for name, cell in zip(names, line.cells, strict=True) if name is not None}


def _wrong_cells(names: Sequence[str | None], line: TableRow) -> Faults:
    """Say what is wrong with single cells, by their headings; in columns that are not read nothing is."""
    wrong = {}
    for at, words in line.wrong:
        if at < 0:
            wrong["the row"] = words
        elif (name := names[at]) is not None:
            wrong[HEADINGS[name]] = words
    return wrong


class _PlanReader:
    """Reads row after row; it remembers the yarns that are new in this file."""

    def __init__(self, book: Book, mass_unit: str, twice: Mapping[str, list[int]]) -> None:
        self.book, self.mass_unit, self.twice = book, mass_unit, twice
        self.new_yarns: dict[tuple[str, str], YarnCells] = {}
        self.other_units: tuple[str, ...] = ()
        self.lengths: dict[tuple[str, str], str] = {}
        self.yarn_troubles: dict[tuple[str, str], Faults] = {}

    def learn_new_yarns(self, rows: Sequence[Cells]) -> None:
        """Gather what all rows say of each yarn that is not in the book: one may say more than another.

        What one row says wrongly is that row's fault alone.
        """
        keyed = [(self._new_key(cells), cells) for cells in rows]
        new = [(key, cells) for key, cells in keyed if key is not None]
        for key, cells in new:
            length = cells.get("grist_text", "")
            if length and HEADINGS["grist_text"] not in trouble_with_yarn(cells):
                self.lengths.setdefault(key, length)
        for key, cells in new:
            gathered, faults = self.new_yarns.setdefault(key, {}), self._own_faults(key, cells)
            for name in OF_YARN[1:]:
                if not gathered.get(name):
                    gathered[name] = "" if HEADINGS[name] in faults else cells.get(name, "")
        for key, gathered in self.new_yarns.items():
            self.yarn_troubles[key] = trouble_with_yarn(gathered)

    def _new_key(self, cells: Cells) -> tuple[str, str] | None:
        """Give the key of a yarn that is not in the book; None for a row that means another."""
        key = name_key(cells.get("name", ""), cells.get("colour_name", ""))
        is_new = key[0] and not cells.get("package") and not cells.get("yarn") and key not in self.book.yarns_by_name
        return key if is_new else None

    def _own_faults(self, key: tuple[str, str], cells: Cells) -> Faults:
        """Say what is wrong in what a row itself says of a new yarn; a count is read only where no length is known."""
        length = cells.get("grist_text") or self.lengths.get(key, "")
        headings = {HEADINGS[name] for name in OF_YARN[1:] if cells.get(name)}
        faults = trouble_with_yarn({**cells, "grist_text": length})
        return {heading: words for heading, words in faults.items() if heading in headings}

    def read(self, line: TableRow, cells: Cells, wrong: Faults) -> PlannedRow:
        """Say what one row would do."""
        if wrong:
            return _wrong_row(line, cells, wrong)
        number = cells.get("package", "")
        if number:
            return self._there(line, cells, number)
        if not any(cells.get(name) for name in OF_PACKAGE):
            return self._yarn_alone(line, cells)
        return self._comes_in(line, cells)

    def _there(self, line: TableRow, cells: Cells, number: str) -> PlannedRow:
        """Read a row that names a package of the book."""
        rows = self.twice.get(number.lstrip("0"))
        if rows:
            words = f"Package {number} stands in the rows {' and '.join(map(str, rows[:4]))}. Keep one of them."
            return _wrong_row(line, cells, {HEADINGS["package"]: words})
        readable = number.isascii() and number.isdigit() and len(number) <= LONGEST_NUMBER
        package = self.book.packages.get(int(number)) if readable else None
        if package is None:
            words = f"There is no package {number[:20]}. Leave the number empty for one that comes in."
            return _wrong_row(line, cells, {HEADINGS["package"]: words})
        now = cells_of(package)
        differing = [name for name in HEADINGS if name in cells and name != "mark" and cells[name] != now[name]]
        if not [name for name in differing if name != "package"]:
            return PlannedRow(line.number, SAME, now, package=package, yarn=package.yarn)
        return self._correct(line, cells, package, [name for name in differing if name != "package"])

    def _correct(self, line: TableRow, cells: Cells, package: Package, differing: Sequence[str]) -> PlannedRow:
        now = cells_of(package)
        wrong = _why_not_put_right(cells, now, differing)
        facts: dict[str, Any] = {}
        for name in differing:
            if name == "source" and not cells[name]:
                wrong[HEADINGS[name]] = f"Missing; the book says “{now[name]}”."
            elif name in CORRECTABLE:
                facts[name] = self._fact(name, cells[name], wrong)
        wrong = faults_of(copy(package), facts) | wrong
        if wrong:
            return _wrong_row(line, cells, wrong)
        changes = tuple((HEADINGS[name], now[name], cells[name]) for name in differing)
        return PlannedRow(line.number, CORRECTED, {**now, **cells}, (), changes, package, package.yarn, facts=facts)

    def _yarn_alone(self, line: TableRow, cells: Cells) -> PlannedRow:
        """Read a row that says a yarn and nothing of a package."""
        wrong: Faults = {}
        yarn, key = self._yarn(cells, wrong)
        if yarn is not None and not wrong:
            now = cells_of_yarn(yarn)
            wrong = _yarns_change_elsewhere(cells, now)
        if wrong:
            return _wrong_row(line, cells, wrong)
        outcome = SAME if yarn is not None else NEW_YARN
        return PlannedRow(line.number, outcome, cells, yarn=yarn, new_yarn=key)

    def _comes_in(self, line: TableRow, cells: Cells) -> PlannedRow:
        """Read a row of a package that comes in."""
        wrong: Faults = {}
        yarn, key = self._yarn(cells, wrong)
        facts = {name: self._fact(name, cells.get(name, ""), wrong) for name in OF_PACKAGE}
        if not facts["gross_text"]:
            wrong.setdefault(HEADINGS["gross_text"], "Missing. Weigh the package as it is, with its cone or tube.")
        wrong = faults_of(Package(yarn=yarn or Yarn()), facts) | wrong
        if wrong:
            return _wrong_row(line, cells, wrong)
        return PlannedRow(line.number, COMES_IN, cells, yarn=yarn, new_yarn=key, facts=facts)

    def _yarn(self, cells: Cells, wrong: Faults) -> tuple[Yarn | None, tuple[str, str] | None]:
        """Find the yarn a row means, in the book or new in this file; or say why neither."""
        number = cells.get("yarn", "")
        if number:
            return self._yarn_by_number(number, cells, wrong), None
        key = name_key(cells.get("name", ""), cells.get("colour_name", ""))
        if not key[0]:
            wrong[HEADINGS["name"]] = "Missing. Say which yarn it is, such as 8/2 cotton."
        elif key in self.book.yarns_by_name:
            return self._yarn_of_book(self.book.yarns_by_name[key], cells, wrong), None
        else:
            wrong |= self._faults_of_new(key, cells)
        return None, key

    def _faults_of_new(self, key: tuple[str, str], cells: Cells) -> Faults:
        """Say all that is wrong with a new yarn in one row: its own faults, what it says otherwise, what is missing."""
        own = self._own_faults(key, cells)
        others = unlike(cells, self.new_yarns.get(key, {}), "Another row of this file says")
        fineness = {HEADINGS["count_text"], HEADINGS["grist_text"]}
        missing = {} if fineness & set(own) else self.yarn_troubles.get(key, {})
        return missing | others | own

    def _yarn_by_number(self, number: str, cells: Cells, wrong: Faults) -> Yarn | None:
        readable = number.isascii() and number.isdigit() and len(number) <= LONGEST_NUMBER
        yarn = self.book.yarns.get(int(number)) if readable else None
        if yarn is None:
            wrong[HEADINGS["yarn"]] = f"There is no yarn {number[:20]}. Leave the number empty and give its name."
        else:
            wrong |= unlike(cells, cells_of_yarn(yarn), "The book says")
        return yarn

    def _yarn_of_book(self, yarns: Sequence[Yarn], cells: Cells, wrong: Faults) -> Yarn | None:
        alike = [yarn for yarn in yarns if not unlike(cells, cells_of_yarn(yarn), "")]
        if len(alike) == 1:
            return alike[0]
        if len(alike) > 1:
            numbers = " and ".join(str(yarn.pk) for yarn in alike[:4])
            wrong[HEADINGS["yarn"]] = f"More than one yarn is called so: give the yarn number ({numbers})."
        else:
            wrong |= unlike(cells, cells_of_yarn(yarns[0]), "The book says")
        return None

    def _fact(self, name: str, cell: str, wrong: Faults) -> Any:
        """Read one cell of a package; what is wrong with it is noted."""
        if name in {"gross_text", "tare_text"}:
            return self._weight(name, cell, wrong)
        if name == "kind":
            return choice_of(name, cell, Package.Kind.choices, Package.Kind.CONE, wrong)
        if name == "source":
            return choice_of(name, cell, Package.Source.choices, Package.Source.DONATED, wrong)
        if name == "owner":
            return self._owner(cell, wrong)
        return day_of(cell, wrong) if name == "received_on" else cell

    def _weight(self, name: str, cell: str, wrong: Faults) -> str:
        """Give a weight its unit; where the file writes other units too, a bare number is not guessed."""
        text = with_unit(cell, self.mass_unit)
        if text != cell and cell.strip("0.,") and self.other_units:
            wrong[HEADINGS[name]] = (
                f"“{cell[:20]}” has no unit, and this file has weights in {' and '.join(self.other_units)} where "
                f"{self.mass_unit} was chosen. Write the unit, or send the file again with the other one chosen."
            )
        return text

    def _owner(self, cell: str, wrong: Faults) -> Member | None:
        members = self.book.members_by_name.get(cell.casefold(), []) if cell else []
        if cell and len(members) != 1:
            why = "Nobody of the studio is called so" if not members else "More than one member is called so"
            wrong[HEADINGS["owner"]] = f"{why}. Leave it empty for the studio; a page can say whose it is."
        return members[0] if len(members) == 1 else None


def _wrong_row(line: TableRow, cells: Cells, wrong: Faults) -> PlannedRow:
    return PlannedRow(line.number, WRONG, cells, tuple(wrong.items()))


def _why_not_put_right(cells: Cells, now: Cells, differing: Sequence[str]) -> Faults:
    """Say why a file cannot change this about a package; empty where it can."""
    if "mark" not in cells or not cells["mark"]:
        words = "Changed rows need the mark they were downloaded with. Download the file anew, and change that."
        return {HEADINGS["mark"]: words}
    if cells["mark"] != now["mark"]:
        words = "The book has changed about this package since the file was downloaded. Download it anew."
        return {HEADINGS["mark"]: words}
    return {
        HEADINGS[name]: f"The book says “{now[name]}”. {_where(name)}" for name in differing if name not in CORRECTABLE
    }


def _where(name: str) -> str:
    """Say where a fact is changed that no file may change."""
    if name in {"gross_text", "tare_text", "on_hand"}:
        return "Weights of a package that is there change at the scale, where each is a move of the ledger."
    return "This changes on the yarn’s page." if name in OF_YARN else "This changes on the package’s page."


def _yarns_change_elsewhere(cells: Cells, now: Cells) -> Faults:
    return {
        HEADINGS[name]: f"The book says “{now[name]}”. {_where(name)}"
        for name in OF_YARN
        if name in cells and cells[name] != now[name] and cells[name]
    }
