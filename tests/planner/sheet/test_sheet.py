"""The sheet put together: what is shown loudly, what is folded up, what is never left out."""

import sys

import pytest

from planner.calc.terms.problems import problems_of
from planner.sheet.sheet import sheet_form, work_sheet
from studio.units import Units
from tests import cast
from tests.factories import a_beam, a_loom, a_station
from tests.planner.sheets import towels

pytestmark = pytest.mark.django_db


def picture(typed, units=Units.INCH):
    return work_sheet(typed, units).plan


def test_cautions_are_never_folded_up():
    plan = picture(towels())
    shown = {remark.code for remark in plan.shown.remarks if remark.code.startswith("caution_")}
    assert {remark.code for remark in plan.cautions} == shown != set()
    assert not shown & {remark.code for remark in (*plan.loud, *plan.quiet)}


def test_everything_louder_than_a_note_is_in_plain_sight():
    beam = a_beam(a_loom(heddles=[10, 20, 30, 40]))
    plan = picture(towels(beam))
    assert len([remark for remark in plan.loud if remark.severity.value != "note"]) >= 4
    assert {remark.severity.value for remark in plan.quiet} <= {"note"}


def test_one_plan_is_written_in_the_readers_units():
    typed = towels()
    figures = [{figure.key: figure.value for figure in picture(typed, units).shown.figures} for units in Units]
    assert [found["ends"] for found in figures] == ["480", "480"]
    assert [found["width"] for found in figures] == ["24", "61"]


def test_each_section_has_its_own_strip():
    plan = picture(towels())
    assert [section.position for section, _ in plan.sections] == [int(block.key[5:]) for _, block in plan.sections]


def test_a_sheet_with_mistakes_has_no_plan():
    sheet = work_sheet(towels(sett="twenty"), Units.INCH)
    assert sheet.plan is None
    assert [(mistake.field, mistake.label) for mistake in sheet.mistakes] == [("sett", "Sett")]


def test_a_sound_sheet_is_checked_once_a_keystroke():
    typed, asked = towels(a_beam()), []
    sys.setprofile(lambda frame, event, _: asked.append(event) if frame.f_code is problems_of.__code__ else None)
    try:
        sheet = work_sheet(typed, Units.INCH)
    finally:
        sys.setprofile(None)
    assert (sheet.plan is None, asked) == (False, ["call", "return"])


def test_sums_stay_away_when_nobody_looks():
    typed = towels()
    assert work_sheet(typed, Units.INCH, sums=False).plan.sums == ()
    assert len(work_sheet(typed, Units.INCH).plan.sums) > 4


def test_looms_racks_and_boards_are_offered_by_name():
    loom = a_loom(number=7, nickname="Heron")
    a_beam(loom)
    a_beam(loom, name="second beam")
    a_station(name="long board")
    a_station(name="small rack", kind="rack", rack_spools=24, path_longest_cm=None)
    offered = sheet_form(towels(), cast.new_member()).offered
    assert [words for _, words in offered.beams if "Heron" in words] == [
        "7 Heron, warp beam (22 sections)", "7 Heron, second beam (22 sections)",
    ]  # fmt: skip
    assert ([words for _, words in offered.racks][1:], [words for _, words in offered.boards][1:]) == (
        ["small rack"], ["long board"],
    )  # fmt: skip


def test_the_looms_own_waste_is_shown_in_the_readers_units():
    beam = a_beam(a_loom(waste_cm=100))
    form = sheet_form(towels(beam), cast.new_member(units="metric"))
    assert form.fields["waste"].widget.attrs["placeholder"] == "100 cm"
