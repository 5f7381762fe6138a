"""Every published value that was found, against our own calculators.

`published_values.csv` is the whole table: value, unit, tolerance, source, and whether the print agrees with its own
rule. `expected` is what the rule gives; a misprint is kept in words, and must not be what we find.
"""

import csv
import json
from fractions import Fraction
from pathlib import Path

import pytest

from tests.published_sums import COVERED, UNCOVERED

TABLE = Path(__file__).with_name("published_values.csv")
COLUMNS = ["id", "topic", "quantity", "inputs", "expected", "unit", "tolerance", "source", "agrees"]
with TABLE.open(encoding="utf-8", newline="") as table:
    ROWS = {row["id"]: row for row in csv.DictReader(table)}

MISPRINTS = {
    "Y04": ("8 1/8", "8.125"),
    "Y07": ("992.4", "992.4"),
    "Y55": ("2400", "2400"),
    "S08": ("102", "102"),
    "S17": ("118", "118"),
    "S35": ("0.0375", "0.0375"),
    "R06": ("2238", "2238"),
    "R27": ("24.5", "24.5"),
}
"""Row to the figure as printed, in words and as a number."""


def worked(row):
    inputs = json.loads(row["inputs"], parse_float=Fraction)
    return Fraction(COVERED[row["id"]](**inputs))


@pytest.mark.parametrize("number", COVERED)
def test_a_published_value_is_what_we_work_out(number):
    row = ROWS[number]
    off = abs(worked(row) - Fraction(row["expected"]))
    assert off <= Fraction(row["tolerance"]), f"{row['quantity']}: {row['source']}"


@pytest.mark.parametrize("number", MISPRINTS)
def test_a_misprint_is_told_and_not_followed(number):
    row, (words, printed) = ROWS[number], MISPRINTS[number]
    assert words in row["agrees"]
    assert abs(worked(row) - Fraction(row["expected"])) < abs(worked(row) - Fraction(printed))


def test_every_misprint_is_watched():
    assert {number for number, row in ROWS.items() if row["agrees"].startswith("no")} == MISPRINTS.keys()


def test_every_row_is_covered_or_says_why_not():
    assert COVERED.keys() & UNCOVERED.keys() == set()
    assert COVERED.keys() | UNCOVERED.keys() == ROWS.keys()


def test_the_table_is_whole():
    with TABLE.open(encoding="utf-8", newline="") as lines:
        read = list(csv.reader(lines))
    assert read[0] == COLUMNS
    assert len(read) - 1 == len(ROWS) == 175
    assert [row for row in read if len(row) != len(COLUMNS) or not all(row)] == []


def test_a_reason_is_a_sentence():
    assert [number for number, reason in UNCOVERED.items() if not reason.endswith(".")] == []
