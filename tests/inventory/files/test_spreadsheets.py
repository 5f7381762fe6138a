"""Tables of strangers: quotes by RFC 4180, letters by their encoding, formulas by OWASP, and sizes before anything."""

import contextlib
import csv
from io import BytesIO, StringIO

import pytest
import tablib
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from inventory.files.spreadsheets import FileRefused, bare, keepable, kind_of, neutral, read_table, write_table
from tests.inventory.files.hostile_files import REFUSED, a_book

HEAD = ("Yarn", "Gross weight", "Notes")
# OWASP, "CSV Injection": cells that begin with = + - @, tab or carriage return are taken for formulas.
OWASP_SIGNS = ("=", "+", "-", "@", "\t", "\r")
WIDE_SIGNS = ("\uff1d", "\uff0b", "\uff0d", "\uff20")
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=30).map(keepable)
tables = st.lists(st.tuples(texts, texts, texts).filter(any), max_size=8)


def cells(content, kind="csv"):
    return [list(line.cells) for line in read_table(content, kind).lines]


def one_row(text, encoding="utf-8"):
    return cells(f"Yarn,Gross weight,Notes\r\n{text}".encode(encoding))[0]


# RFC 4180, section 2, rules 5 to 7: the examples there, with our headings.
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("aaa,bbb,ccc", ["aaa", "bbb", "ccc"]),
        ('"aaa","bbb","ccc"', ["aaa", "bbb", "ccc"]),
        ('"aaa","b\r\nbb","ccc"', ["aaa", "b\r\nbb", "ccc"]),
        ('"aaa","b""bb","ccc"', ["aaa", 'b"bb', "ccc"]),
        ('"a,aa","bbb","ccc"', ["a,aa", "bbb", "ccc"]),
    ],
)
def test_quotes_are_read_by_rfc_4180(text, wanted):
    assert one_row(text) == wanted


def test_quotes_are_written_by_rfc_4180():
    written = write_table(HEAD, [("aaa", 'b"bb', "c,c\nc")], "csv")
    assert written == b'\xef\xbb\xbfYarn,Gross weight,Notes\r\naaa,"b""bb","c,c\nc"\r\n'


@pytest.mark.parametrize("line_end", ["\r\n", "\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_line_ends_and_encodings_of_the_trade_are_read(line_end, encoding):
    content = f"Yarn,Gross weight{line_end}grün,525 g{line_end}".encode(encoding)
    assert cells(content) == [["grün", "525 g"]]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_the_separator_is_told_by_the_headings(separator):
    content = (
        separator.join(("Yarn", "Gross weight", "Notes")) + "\n" + separator.join(("8/2", '"525,5 g"', "a")) + "\n"
    )
    assert cells(content.encode()) == [["8/2", "525,5 g", "a"]]


def test_a_decimal_comma_stands_between_semicolons():
    assert cells(b"Yarn;Gross weight\n8/2;525,5 g\n") == [["8/2", "525,5 g"]]


def test_rows_keep_the_number_a_spreadsheet_shows_them_at():
    content = b'Yarn,Gross weight\r\n"one\r\nrow",1\r\n\r\nlast,2\r\n'
    assert [line.number for line in read_table(content, "csv").lines] == [2, 4]


def test_short_rows_are_filled_and_long_ones_are_a_mistake():
    table = read_table(b"Yarn,Gross weight\nx\ny,1,,\nz,1,2\n", "csv")
    assert [line.cells for line in table.lines] == [("x", ""), ("y", "1"), ("z", "1")]
    assert [bool(line.wrong) for line in table.lines] == [False, False, True]


@pytest.mark.parametrize("sign", [*OWASP_SIGNS, "\n", *WIDE_SIGNS])
def test_what_begins_as_a_formula_goes_out_with_an_apostrophe_and_comes_back_without(sign):
    assert neutral(f"{sign}1") == f"'{sign}1"
    assert bare(neutral(f"{sign}1")) == f"{sign}1"


@given(st.text(max_size=20))
@settings(max_examples=100)
def test_exactly_what_was_put_before_a_text_is_taken_away(text):
    assert bare(neutral(text)) == text
    assert not neutral(text).startswith(OWASP_SIGNS)


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
@given(table=tables)
@settings(max_examples=30)
def test_whatever_is_written_is_read_again_as_it_was(kind, table):
    assert cells(write_table(HEAD, table, kind), kind) == [list(row) for row in table]


@given(table=tables)
@settings(max_examples=30)
def test_other_readers_find_the_same_in_it(table):
    # Two readers outside this project: Python's own csv, and openpyxl without any setting of ours.
    wanted = [list(HEAD), *[[neutral(cell) for cell in row] for row in table]]
    text = write_table(HEAD, table, "csv").decode("utf-8-sig")
    assert list(csv.reader(StringIO(text, newline=""))) == wanted
    sheet = load_workbook(BytesIO(write_table(HEAD, table, "xlsx"))).active
    assert [[cell.value or "" for cell in row] for row in sheet.iter_rows(max_col=3)] == wanted
    assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "inlineStr", "n"}
    assert tablib.Dataset().load(text, format="csv").headers == list(HEAD)


@pytest.mark.parametrize(
    ("value", "text"),
    [(525, "525"), (525.5, "525.5"), (0.1, "0.1"), (1e-7, "0.0000001"), (12.0, "12"), ("525 g", "525 g"), (None, "")],
)
def test_numbers_of_a_workbook_are_what_was_typed(value, text):
    table = read_table(a_book([("x", value)], head=("Yarn", "Gross weight")), "xlsx")
    assert table.lines[0].cells == ("x", text)


def test_days_of_a_workbook_are_days():
    from datetime import date, datetime  # noqa: PLC0415

    rows = [(date(2026, 3, 2), datetime(2026, 3, 2, 10, 30))]  # noqa: DTZ001 - a workbook knows no time zones
    assert cells(a_book(rows, head=("Yarn", "Gross weight")), "xlsx") == [["2026-03-02", "2026-03-02"]]


def test_a_cell_far_away_costs_no_time_and_is_not_read():
    def far(book, sheet):
        sheet["XFD1048576"] = "far away"

    assert cells(a_book([("x", "1 g")], head=("Yarn", "Gross weight"), change=far), "xlsx") == [["x", "1 g"]]


def test_only_the_first_sheet_is_read():
    book = a_book([("x", "1 g")], head=("Yarn", "Gross weight"), change=lambda book, _: book.create_sheet("more"))
    assert len(cells(book, "xlsx")) == 1


@pytest.mark.parametrize("content", REFUSED.values(), ids=REFUSED.keys())
def test_a_hostile_file_is_read_as_nothing_or_refused_with_a_sentence(content):
    with contextlib.suppress(FileRefused):
        table = read_table(content, kind_of(content))
        # What reads as a table of something else is refused by its headings, or has no rows.
        assert not {"Yarn", "Gross weight"} <= set(table.headings) or not table.lines or len(set(table.headings)) < 3
