"""The warp sheet as a form: everything typed comes back, every mistake stands beside its field."""

import pytest

from planner.brief.form import (
    BriefForm,
    Mistake,
    SheetChoices,
    steered,
    with_chains_named,
    with_row_added,
    with_row_removed,
)
from planner.brief.form_fields import label_of, unit_after
from planner.brief.sheet_input import FIELDS
from studio.units import Units

FORM = {"yarns-0-code": "A", "yarns-0-yarn": "cotton", "yarns-1-code": "B", "yarns-1-yarn": "linen"}


def form(**changes):
    return BriefForm({"units": "inch", "form": {**FORM, **changes}}, SheetChoices(), waste="36 in")


@pytest.mark.parametrize("text", ["12 1/2", " 30 cm ", "8 %", "½", "<b>", "🧶", "1e400", ""])
def test_what_was_typed_comes_back_to_the_letter(text):
    assert form(sett=text)["sett"].value() == text


@pytest.mark.parametrize("name", FIELDS)
def test_every_field_has_a_label(name):
    assert label_of(name)
    assert form()[name].label


def test_a_mistake_is_told_to_screen_readers_too():
    sheet = form(sett="twenty")
    sheet.show_mistakes([Mistake("sett", "Sett", "Not a number.")])
    assert sheet["sett"].errors == ["Not a number."]
    html = str(sheet["sett"])
    assert 'aria-invalid="true"' in html
    assert 'aria-describedby="id_sett_helptext id_sett_error"' in html


def test_a_mistake_in_a_folded_part_opens_it():
    sheet = form(multiple="x")
    assert not any(group.open for group in sheet.groups)
    sheet.show_mistakes([Mistake("multiple", "", "Not a number.")])
    assert [group.key for group in sheet.groups if group.open] == ["fit"]


def test_a_folded_part_says_what_it_holds():
    assert form(hem="2 in", margin="3", margin_on="all").allowances.said == "Hems of a piece: 2 in, Margin: 3"


def test_the_looms_waste_stands_where_none_is_typed():
    assert 'placeholder="36 in"' in str(form()["waste"])


@pytest.mark.parametrize(
    ("name", "value", "units", "unit"),
    [
        ("sett", "", Units.INCH, "/in"), ("sett", "12", Units.METRIC, "/cm"), ("sett", "12 /in", Units.METRIC, ""),
        ("hem", "1 1/2", Units.INCH, "in"), ("hem", "3 cm", Units.INCH, ""), ("draw_in", "8", Units.METRIC, "%"),
        ("pieces", "8", Units.INCH, ""), ("yarns-3-sett", "", Units.INCH, "/in"), ("yarns-3-code", "A", Units.INCH, ""),
    ],
)  # fmt: skip
def test_a_bare_number_is_followed_by_its_unit(name, value, units, unit):
    assert unit_after(name, value, units) == unit


def test_a_new_yarn_takes_the_next_free_letter():
    assert with_row_added({**FORM, "yarns-1-code": "C"})["yarns-2-code"] == "B"


def test_no_more_yarns_than_letters():
    full = {f"yarns-{row}-code": "x" for row in range(26)}
    assert with_row_added(full) == full


def test_a_yarn_taken_out_closes_the_gap():
    assert with_row_removed(FORM, 0) == {"yarns-0-code": "B", "yarns-0-yarn": "linen"}


def test_the_last_yarn_is_only_emptied():
    assert with_row_removed({"yarns-0-yarn": "x"}, 0) == {"yarns-0-code": "A", "yarns-0-yarn": ""}


@pytest.mark.parametrize("row", ["-1", "99", "x", "9" * 50, ""])
def test_a_tampered_row_takes_nothing_out(row):
    typed = {"units": "inch", "form": FORM}
    assert steered(typed, {"remove_yarn": row}) == typed


def test_sections_are_named_to_be_chains_beside_the_box():
    asked = with_chains_named({"method": "chain", "sett": "12"}, "3, 7-9")
    assert asked == {"method": "box", "sett": "12", "chain_sections": "3, 7-9"}


@pytest.mark.parametrize("named", ["", " ", "x", "-4", "9-7", "0", "401", "1e9", "²", "3, <b>", "\x00"])
def test_what_names_no_section_is_no_wish(named):
    assert with_chains_named({"method": "chain"}, named) == {"method": "chain"}


def test_chains_beside_the_box_are_told_in_the_folded_line():
    said = {group.key: group.said for group in form(chain_sections="3, 7–9").groups}
    assert said["tools"] == "Sections wound as chains: 3, 7–9"


def test_usual_losses_are_filled_in_as_per_cent():
    filled = steered({"units": "inch", "form": FORM}, {"fill": "yes", "usual": "linen_plain"})["form"]
    assert [filled[name] for name in ("draw_in", "width_shrinkage", "length_shrinkage", "take_up")] == [
        "5 %", "3 %", "6 %", "6.5 %",
    ]  # fmt: skip


def test_unknown_losses_fill_in_nothing():
    typed = {"units": "inch", "form": FORM}
    assert steered(typed, {"fill": "yes", "usual": "moonlight"}) == typed


def test_a_change_of_units_writes_the_former_unit_behind_bare_numbers():
    changed = steered({"units": "metric", "form": {"sett": "12", "hem": "3 cm"}}, {"units_were": "inch"})
    assert changed == {"units": "metric", "form": {"sett": "12 /in", "hem": "3 cm"}}
