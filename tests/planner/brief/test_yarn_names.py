"""A yarn by its name: as the plan prints it, by a beginning, or a count that makes it one's own."""

import pytest

from planner.sheet.sheet import sheet_form
from planner.warps.selectors import faults_of, read_sheet
from tests import cast
from tests.factories import a_beam
from tests.planner.sheets import a_yarn, towels

pytestmark = pytest.mark.django_db


@pytest.fixture
def shelf():
    return [a_yarn(colour_name=colour) for colour in ("natural", "navy", "white")]


def sheet(yarn, **changes):
    return towels(a_beam(), **{"yarns-0-yarn": yarn, "yarns-0-grist": "", **changes})


def the_yarn(yarn, **changes):
    return read_sheet(sheet(yarn, **changes)).brief.yarns[0]


@pytest.mark.parametrize("text", ["8/2 cotton, white", " 8/2 COTTON,  white ", "8/2 cotton, w"])
def test_a_yarn_is_found_by_the_name_the_plan_prints_or_its_beginning(shelf, text):
    found = the_yarn(text)
    assert (found.yarn_id, found.name, found.colour_name) == (shelf[2].pk, "8/2 cotton", "white")


@pytest.mark.parametrize("text", ["cochineal", "Cochineal, 8/4", "coch", "hand-dyed cotton"])
def test_a_yarn_is_found_by_words_that_only_its_name_has(shelf, text):
    dyed = a_yarn(name="8/4 cotton", colour_name="cochineal, hand-dyed")
    a_yarn(name="2/8 wool", colour_name="hand-dyed grey")
    assert the_yarn(text).yarn_id == dyed.pk


def test_words_that_several_yarns_have_are_asked_about(shelf):
    typed = sheet("cotton")
    (fault,) = faults_of(read_sheet(typed), typed)
    assert fault.text.startswith("There are 3 yarns called so: 8/2 cotton, natural;")


def test_a_beginning_that_several_yarns_share_is_asked_about(shelf):
    typed = sheet("8/2 cotton, na")
    (fault,) = faults_of(read_sheet(typed), typed)
    assert fault.field == "yarns-0-yarn"
    assert fault.text.startswith("There are 2 yarns called so: 8/2 cotton, natural; 8/2 cotton, navy.")


def test_two_yarns_of_one_name_are_told_apart_by_their_numbers(shelf):
    twin = a_yarn(colour_name="navy")
    typed = sheet("8/2 cotton, navy")
    (fault,) = faults_of(read_sheet(typed), typed)
    assert f"navy (yarn {twin.pk})" in fault.text


@pytest.mark.parametrize("text", ["8/2 cotton", "3360 yd/lb"])
def test_a_bare_count_is_a_yarn_of_ones_own(shelf, text):
    found, twin = the_yarn(text), the_yarn("8/2 cotton, navy")
    assert (found.yarn_id, found.name, found.tex) == (None, text, twin.tex)


def test_a_count_that_is_the_whole_name_of_a_yarn_is_that_yarn():
    yarn = a_yarn(name="8/2 cotton", colour_name="")
    assert the_yarn("8/2 cotton").yarn_id == yarn.pk


def test_a_name_with_its_own_count_stays_ones_own(shelf):
    assert the_yarn("8/2 cotton, navy", **{"yarns-0-grist": "10/2 cotton"}).yarn_id is None


def test_a_yarn_no_longer_kept_is_not_found_by_name():
    a_yarn(name="old linen", retired=True)
    typed = sheet("old linen")
    assert {fault.field for fault in faults_of(read_sheet(typed), typed)} == {"yarns-0-grist"}


def test_a_weft_is_found_by_name_too_but_a_code_comes_first(shelf):
    a_yarn(name="A fine linen", colour_name="")
    by_name = read_sheet(sheet("8/2 cotton, navy", picks="18", **{"weft-yarn": "8/2 cotton, white"})).brief
    by_code = read_sheet(sheet("8/2 cotton, navy", picks="18", **{"weft-yarn": "a"})).brief
    assert (by_name.weft.yarn_id, by_code.weft.yarn_id) == (shelf[2].pk, shelf[1].pk)


def test_what_was_typed_is_kept(shelf):
    typed = sheet("8/2 cotton, w")
    assert read_sheet(typed).brief is not None
    assert sheet_form(typed, cast.trained_member())["yarns-0-yarn"].value() == "8/2 cotton, w"
