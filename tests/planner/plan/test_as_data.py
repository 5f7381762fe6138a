"""The plan as data: nothing left out, nothing rounded that was counted, the same words as the reader's."""

import dataclasses
import json
from fractions import Fraction

import pytest

from planner.calc.terms import plan as plan_module
from planner.calc.terms.plan import WarpPlan
from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import (
    ALTERNATIVE,
    CHAIN,
    COST,
    EDGE,
    KNOT,
    LAYOUTS,
    MISMATCH,
    ONE_MORE,
    PLAN,
    REED,
    RUN,
    SECTION,
    SETUP,
    SLEY,
    SLEY_RUN,
    SLOTS,
    SPARE,
    SPOOLS,
    THREADING,
    TIE,
    TIES,
    TURN,
    WAY,
    YARN,
    number_text,
    plan_as_data,
)
from planner.plan.formatter import Reader
from studio.units import Units
from tests.planner import worked_projects

SHAPES = {
    "WarpPlan": PLAN, "Section": SECTION, "Setup": SETUP, "SpoolGroup": SPOOLS, "Chain": CHAIN, "ChokeTie": TIE,
    "ReedChoice": REED, "YarnNeed": YARN, "TurnRow": TURN, "KnotPlace": KNOT, "OneMore": ONE_MORE, "ColourRun": RUN,
    "SlotChange": SLOTS, "EdgeChoice": EDGE, "Alternative": ALTERNATIVE, "RepeatLayouts": LAYOUTS,
    "Mismatch": MISMATCH, "FewerSpools": WAY, "TieMarks": TIES, "SectionThreading": THREADING, "SpareHeddles": SPARE,
    "ClothCost": COST, "SleyRun": SLEY_RUN, "SectionSley": SLEY,
}  # fmt: skip
SAID_BY_THE_READER = {"sums", "remarks"}


@pytest.fixture(scope="module")
def towels() -> WarpPlan:
    return work_out(worked_projects.towels())


@pytest.mark.parametrize(("name", "shape"), SHAPES.items())
def test_every_field_of_the_plan_goes_out(name, shape):
    fields = {field.name for field in dataclasses.fields(getattr(plan_module, name))}
    assert fields - SAID_BY_THE_READER <= {column.name for column in shape}


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
    said = Reader(Units.INCH).line(towels.sums[0])
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
