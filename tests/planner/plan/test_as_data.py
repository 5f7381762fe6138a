"""The plan as data: nothing left out, nothing rounded that was counted, the same words as the reader's."""

import dataclasses
import json
from fractions import Fraction

import pytest

from planner.calc.terms.plan import WarpPlan
from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import PAGES, PARTS, number_text, plan_as_data
from planner.plan.formatter import Formatter
from studio.units import Units
from tests.planner import worked_projects

STAYS_INSIDE = {
    "cloth": {"main", "here", "elsewhere", "ends", "filling", "sett_of", "greatest_setts", "main_width", "sums"},
    "length": {"woven", "woven_total", "take_up", "margin", "sums"},
    "beam": {"places", "sections", "ordinary", "nominal", "difference", "sums"},
    "reed": {"sums"}, "winding": {"bundle", "sums"}, "yarn": {"sums"}, "threading": set(), "choices": {"sums"},
}  # fmt: skip
"""What the worksheet hands from page to page and nobody reads; ends in all are those here and elsewhere."""


@pytest.fixture(scope="module")
def towels() -> WarpPlan:
    return work_out(worked_projects.towels())


@pytest.mark.parametrize("page", STAYS_INSIDE)
def test_every_field_of_a_page_goes_out_or_is_known_to_stay_inside(towels, page):
    fields = {field.name for field in dataclasses.fields(getattr(towels, page))}
    out = {name.partition(":")[0] for where, names in PAGES if where == page for name in names.split()}
    assert fields - STAYS_INSIDE[page] == out & fields


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
def test_every_field_of_a_part_goes_out(part):
    assert {field.name for field in dataclasses.fields(part)} - {"yarn"} <= set(PARTS[part].split())


@pytest.mark.parametrize("make", worked_projects.ALL, ids=lambda make: make.__name__)
@pytest.mark.parametrize("units", list(Units))
def test_each_worked_project_is_plain_json(make, units):
    data = plan_as_data(work_out(make()), units)
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_no_number_goes_out_as_a_float(towels):
    def kinds(value):
        if isinstance(value, dict | list):
            for inner in value.values() if isinstance(value, dict) else value:
                yield from kinds(inner)
        else:
            yield type(value)

    assert set(kinds(plan_as_data(towels, Units.INCH))) <= {int, str, bool, type(None)}


def test_counts_are_integers_and_lengths_exact_text(towels):
    data = plan_as_data(towels, Units.INCH)
    assert (data["ends"], data["turns"], data["width_in_reed_cm"]) == (480, 11, "60.96")


def test_exact_figures_are_the_same_in_both_measures(towels):
    inch, metric = plan_as_data(towels, Units.INCH), plan_as_data(towels, Units.METRIC)
    assert inch["warp_length_cm"] == metric["warp_length_cm"]
    assert inch["shown"]["warp_length"] != metric["shown"]["warp_length"]


def test_shown_words_are_the_readers(towels):
    assert plan_as_data(towels, Units.INCH)["shown"]["width_in_reed"] == "24 in"


def test_a_sum_is_filled_in_as_the_page_shows_it(towels):
    said = Formatter(Units.INCH).line(towels.sums[0])
    first = plan_as_data(towels, Units.INCH)["sums"][0]
    assert (first["label"], first["formula"], first["result"], first["source"]) == (
        said.label, said.formula, said.result, said.source,
    )  # fmt: skip


def test_a_sum_carries_its_exact_numbers(towels):
    line = towels.sums[0]
    data = plan_as_data(towels, Units.INCH)["sums"][0]
    assert data["exact"]["value"] == number_text(line.result.value)
    assert [given["name"] for given in data["inputs"]] == [name for name, _ in line.inputs]


def test_a_remark_is_a_sentence_with_its_code():
    plan = work_out(worked_projects.too_long())
    remarks = plan_as_data(plan, Units.INCH)["remarks"]
    assert [remark["code"] for remark in remarks] == [remark.code for remark in plan.remarks]
    assert all(remark["text"] for remark in remarks)


def test_keys_always_come_in_the_same_order(towels):
    other = plan_as_data(work_out(worked_projects.runner()), Units.METRIC)
    assert list(plan_as_data(towels, Units.INCH)) == list(other)


def test_the_view_from_the_back_is_the_seats_reversed():
    (section, *_) = plan_as_data(work_out(worked_projects.rugs()), Units.INCH)["sections"]
    assert section["runs_from_back"] == section["runs"][::-1]


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (None, None),
        (7, "7"),
        (Fraction(1, 4), "0.25"),
        (Fraction(-5, 2), "-2.5"),
        (Fraction(1000, 127), "1000/127"),
        (Fraction(10**30 + 1, 2), "500000000000000000000000000000.5"),
        (0.1 + 0.2, "0.3"),
        (1e-7, "0.0000001"),
        (1e22, "10000000000000000000000"),
    ],
)
def test_a_number_is_written_in_full(number, text):
    assert number_text(number) == text
