"""Tables from strangers' files, read as text and nothing else: CSV by RFC 4180, XLSX by its cells.

A file is looked at before it is unpacked: how large, how many parts, how large once unpacked. Nothing in it is worked
out. A cell that begins as a formula does is refused, and one that we write begins with an apostrophe, as OWASP advises
against CSV injection; reading takes exactly that apostrophe away again, so that a file comes back as it went.
"""

from __future__ import annotations

import csv
import re
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from io import BytesIO, StringIO
from typing import Any

from tablib import Dataset

from studio.errors import StudioError

MOST_BYTES = 2_000_000
MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 5_000, 40, 1_000
ENCRYPTED = 0x1
MOST_UNPACKED, MOST_PARTS = 30_000_000, 200
SEPARATORS = ",;\t"
FORMULA_SIGNS = "=+-@\t\r\n＝＋－＠"  # noqa: RUF001 - the wide ones start a formula in some programs too
_BEGINS = re.compile(f"'*[{re.escape(FORMULA_SIGNS)}]")
_UNKEEPABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
SAVE_AS = "Save it as CSV in UTF-8, or as XLSX, and send that."
NOT_UTF8 = f"This file is not in UTF-8, so its letters cannot be told apart. {SAVE_AS}"
TOO_LARGE = "This file is larger than 2 MB. Part it into several."
NO_TABLE = f"This file cannot be read as a table. {SAVE_AS}"
UNPACKS_TOO_LARGE = "This file unpacks to far more than a list of packages needs, so it was not opened."
IS_LOCKED = "This file is locked with a password. Save it without one."
OLD_XLS = f"This is a workbook of the old kind. {SAVE_AS}"


class FileRefused(StudioError):
    """A file cannot be read as a table; the message says why, and what would help."""


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table: its number in the file, its cells as text, and what is wrong with single cells."""

    number: int
    cells: tuple[str, ...]
    wrong: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True)
class FileTable:
    """What a file holds: the headings of its first row, and the rows that have anything in them."""

    headings: tuple[str, ...]
    lines: tuple[TableRow, ...]


def read_table(content: bytes, kind: str) -> FileTable:
    """Read a file of a kind ("csv" or "xlsx") as a table of text.

    Raises
    ------
    FileRefused
        If it is too large, malformed, in another encoding, or has no headings; the message says which.
    """
    if len(content) > MOST_BYTES:
        raise FileRefused("too_large", TOO_LARGE)
    if not content.strip():
        raise FileRefused("empty", "This file is empty.")
    rows = _csv_rows(_text_of(content)) if kind == "csv" else iter(_xlsx_rows(content))
    return _table(rows)


def kind_of(content: bytes) -> str:
    """Tell what a file is by its first bytes, whatever its name says."""
    if content.startswith(b"\xd0\xcf\x11\xe0"):
        raise FileRefused("old_xls", OLD_XLS)
    return "xlsx" if content.startswith(b"PK\x03\x04") else "csv"


def _table(rows: Iterator[TableRow]) -> FileTable:
    first = next(rows, None)
    headings = _without_empty_end(first.cells) if first else ()
    if first is None or not any(headings) or first.wrong:
        raise FileRefused("no_headings", "The first row must hold the headings of the columns.")
    if len(headings) > MOST_COLUMNS:
        raise FileRefused("too_many_columns", f"More than {MOST_COLUMNS} columns are no list of packages.")
    lines = []
    for line in rows:
        if any(line.cells) or line.wrong:
            lines.append(_fitted(line, len(headings)))
        if len(lines) > MOST_ROWS:
            raise FileRefused("too_many_rows", f"More than {MOST_ROWS} rows. Part the file into several.")
    return FileTable(headings, tuple(lines))


def _fitted(line: TableRow, columns: int) -> TableRow:
    """Give a row as many cells as there are headings; what stands beyond them is a mistake, not thrown away."""
    cells = _without_empty_end(line.cells)
    wrong = list(line.wrong)
    if len(cells) > columns:
        wrong.append((-1, "More cells than headings; is there a separator too many, or a quotation mark missing?"))
    padded = (*cells, *[""] * columns)[:columns]
    return TableRow(line.number, padded, tuple((at, words) for at, words in wrong if at < columns))


def _without_empty_end(cells: Sequence[str]) -> tuple[str, ...]:
    last = max((at for at, cell in enumerate(cells) if cell), default=-1)
    return tuple(cells[: last + 1])


def _line(number: int, raw: Iterable[str], wrong: Sequence[tuple[int, str]] = ()) -> TableRow:
    cells, faults = [], list(wrong)
    for at, cell in enumerate(raw):
        text = bare(cell)
        if len(cell) > LONGEST_CELL:
            faults.append((at, f"Longer than {LONGEST_CELL} characters."))
            text = cell[:20]
        elif text == cell and _BEGINS.match(cell.lstrip(" ")):
            faults.append((at, f"Begins with “{cell.strip()[:1]}” as a formula does. Begin it with an apostrophe."))
        elif _UNKEEPABLE.search(cell):
            faults.append((at, "Holds a sign that cannot be kept; type it anew."))
        cells.append(text.strip())
    return TableRow(number, tuple(cells), tuple(faults))


def neutral(text: str) -> str:
    """Put an apostrophe before what a spreadsheet would take for a formula (OWASP, CSV injection).

    Examples
    --------
    >>> neutral("=1+1"), neutral("21B"), neutral("'=x")
    ("'=1+1", '21B', "''=x")
    """
    return f"'{text}" if _BEGINS.match(text) else text


def bare(text: str) -> str:
    """Take away the apostrophe that `neutral` puts there, and no other.

    Examples
    --------
    >>> bare("'=1+1"), bare("'tis"), bare("''=x")
    ('=1+1', "'tis", "'=x")
    """
    return text[1:] if text.startswith("'") and _BEGINS.match(text) else text


def keepable(text: str) -> str:
    """Give a text as both kinds of file can hold it: one sort of line end, no signs that XML forbids."""
    return _UNKEEPABLE.sub("\ufffd", text.replace("\r\n", "\n").replace("\r", "\n")).strip()


def write_table(headings: Sequence[str], rows: Iterable[Sequence[str]], kind: str) -> bytes:
    """Write a table as CSV (UTF-8 with its mark, CRLF, quotes by RFC 4180) or as XLSX, every cell as text."""
    table = Dataset(*[[neutral(cell) for cell in row] for row in rows], headers=list(headings), title="Packages")
    if kind == "csv":
        return b"\xef\xbb\xbf" + str(table.export("csv")).encode()
    written: bytes = table.export("xlsx", column_width=None)
    return written


def _text_of(content: bytes) -> str:
    encoding = "utf-16" if content.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError as trouble:
        raise FileRefused("not_utf8", NOT_UTF8) from trouble
    if "\x00" in text:
        raise FileRefused("not_text", NO_TABLE)
    return text


def _csv_rows(text: str) -> Iterator[TableRow]:
    """Read rows, each with the number a spreadsheet would show it at: a cell may run over several lines."""
    reader = csv.reader(StringIO(text, newline=""), delimiter=_separator(text), strict=True)
    number = 0
    while True:
        number += 1
        try:
            raw = next(reader, None)
        except csv.Error as trouble:
            raise FileRefused("malformed", _csv_trouble(number)) from trouble
        if raw is None:
            return
        if len(raw) > MOST_COLUMNS * 5:
            raise FileRefused("too_many_columns", f"Row {number} has {len(raw)} cells; that is no list of packages.")
        yield _line(number, raw)


def _csv_trouble(number: int) -> str:
    return f"Row {number} cannot be read: a quotation mark does not end, or a cell is far too long."


def _separator(text: str) -> str:
    """Tell what parts the cells: the sign that is found most often in the headings, outside quotation marks."""
    first = re.sub(r'"[^"]*"', "", text.lstrip().split("\n", 1)[0][:20_000])
    return max(SEPARATORS, key=first.count)


def _xlsx_rows(content: bytes) -> list[TableRow]:
    _refuse_bomb(content)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what it leaves out (styles, drawings) is nothing to us
            return _cells_of(content)
    except Exception as trouble:  # a reader of strangers' bytes may stop with anything
        raise FileRefused("malformed", NO_TABLE) from trouble


def _refuse_bomb(content: bytes) -> None:
    """Look into the archive without unpacking it; what it says of its sizes is all that is ever unpacked."""
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            refusal = _trouble_with_archive(archive)
    except Exception as trouble:  # the same
        raise FileRefused("malformed", NO_TABLE) from trouble
    if refusal:
        raise FileRefused("archive", refusal)


def _trouble_with_archive(archive: zipfile.ZipFile) -> str:
    parts = archive.infolist()
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
        return UNPACKS_TOO_LARGE
    if any(part.flag_bits & ENCRYPTED for part in parts):
        return IS_LOCKED
    return NO_TABLE if any(_declares_words(archive, part) for part in parts) else ""


def _declares_words(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> bool:
    """Say whether a part declares words of its own (DOCTYPE): no workbook does, and they can grow without end."""
    if not part.filename.lower().endswith((".xml", ".rels")):
        return False
    with archive.open(part) as file:
        head = file.read(4096).replace(b"\x00", b"")
    return b"<!DOCTYPE" in head or b"<!ENTITY" in head


def _cells_of(content: bytes) -> list[TableRow]:
    from openpyxl import load_workbook  # noqa: PLC0415 - slow to load, and few starts of the house need it

    book = load_workbook(BytesIO(content), read_only=True, data_only=False, keep_links=False)
    try:
        sheet = book.worksheets[0]
        rows = sheet.iter_rows(max_row=4 * MOST_ROWS, max_col=MOST_COLUMNS + 10)
        lines = [_xlsx_line(number, row) for number, row in enumerate(rows, start=1) if _is_filled(row)]
    finally:
        book.close()
    return lines


def _is_filled(row: Sequence[Any]) -> bool:
    """Say whether a row has anything in it; between two far rows there may be thousands that have not."""
    return any(cell.value is not None for cell in row)


def _xlsx_line(number: int, row: Sequence[Any]) -> TableRow:
    raw, wrong = [], []
    for at, cell in enumerate(row):
        text, trouble = _xlsx_text(cell)
        raw.append(text)
        if trouble:
            wrong.append((at, trouble))
    return _line(number, raw, wrong)


def _xlsx_text(cell: Any) -> tuple[str, str]:
    """Give a cell as text, and what is wrong with it. A formula is never worked out, nor its last value taken."""
    value, kind = cell.value, getattr(cell, "data_type", "n")
    if kind == "f":
        return "", "Holds a formula. Put its value there instead."
    if kind == "e":
        return "", f"Holds a mistake of the spreadsheet ({str(value)[:10]})."
    if isinstance(value, bool):
        return "", "Holds yes or no, where words or a number belong."
    return _plain(value), ""


def _plain(value: Any) -> str:
    """Write what a cell keeps as a person would have typed it."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, float):
        return f"{Decimal(repr(value)).normalize():f}"[:LONGEST_CELL]
    return str(value)
