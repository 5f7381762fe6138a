"""Every field of the warp sheet, filled in well and filled in badly: kept, shown again, and never a broken page."""

from itertools import cycle

import pytest
from django import forms
from django.urls import reverse

from planner.brief.form_fields import widget_of
from planner.brief.sheet_input import FIELDS, WEFT_PARTS, YARN_PARTS
from planner.models import Project
from planner.sheet.sheet import sheet_form
from tests import cast
from tests.factories import a_beam, a_reed, a_station
from tests.planner.sheets import a_yarn, posted, towels

pytestmark = pytest.mark.django_db
LIVE = {"HX-Request": "true", "HX-Target": "plan"}
NAMES = (*FIELDS, *(f"weft-{part}" for part in WEFT_PARTS), *(f"yarns-0-{part}" for part in YARN_PARTS))
WELL = {
    "colour_order": "3 A, 1 B", "threading": "1, 2, 3, 4", "picks": "18", "finished_width": "20", "shift": "1",
    "chain_sections": "7, 9–10", "lifts": "1 2 / 2 3 / 3 4 / 4 1", "yarns-0-wraps": "28",
    "ends": "400", "warp_length": "9 yd", "turns": "8", "multiple": "2", "balance": "3", "selvedge": "2",
    "whole_repeats": "on", "floating_selvedge": "2", "margin_on": "woven",
    "draw_in": "8 %", "width_shrinkage": "5 %", "fringe": "1", "demo_woven": "2",
    "spool_reserve": "3 %", "weft_allowance": "8 %", "section_waste": "20", "box_lead": "10", "rack_spools": "60",
    "ends_at_once": "4", "with_paddle": "on", "chain_ends_max": "80", "board_path_max": "12 yd", "board_step": "1 yd",
    "yarns-1-code": "B", "yarns-1-yarn": "linen", "yarns-1-grist": "3000 yd/lb", "yarns-0-colour_name": "natural",
    "yarns-0-sett": "20", "yarns-0-colour": "#f1e8d2", "yarns-0-take_up": "9 %", "yarns-0-elsewhere": "on",
    "weft-yarn": "linen", "weft-grist": "16/2 linen",
    "weft-colour_name": "grey", "weft-fibre": "linen", "weft-colour": "#888888",
}  # fmt: skip
"""What fills the fields that eight towels leave empty."""
HOSTILE = (
    "-4", "0", "1e400", "NaN", "½", "🧶", "<b>", "x" * 5000, "9" * 60, "1/0", "(" * 50, "٣", "True", "False", "1,200",
    "\x00", "200 %", " ",
)  # fmt: skip


@pytest.fixture
def full():
    a_reed()
    a_yarn()
    racks = {"rack": str(a_station(kind="rack").pk), "board": str(a_station(kind="board").pk)}
    return posted(towels(a_beam(), **WELL, **racks))


@pytest.fixture
def member():
    return cast.trained_member()


def offered(full, member, name):
    """Give the choices of a field as the page offers them; none for a field to type in."""
    form = sheet_form({"units": "inch", "form": full}, member)
    return [str(key) for key, _ in getattr(form.fields[name].widget, "choices", ())]


def saved_and_opened(member, sheet):
    client = cast.as_(member)
    answer = client.post(reverse("warp-new"), sheet, follow=True)
    assert answer.status_code == 200
    return client.get(Project.objects.latest("pk").get_absolute_url())


def test_a_sheet_with_every_field_filled_in_is_saved_and_read_again(full, member):
    assert set(NAMES) <= set(full)
    answer = saved_and_opened(member, full)
    assert (answer.status_code, Project.objects.get().is_draft) == (200, False)


CHOSEN = [name for name in NAMES if isinstance(widget_of(name), forms.Select | forms.RadioSelect)]


@pytest.mark.parametrize("name", [*CHOSEN, "beam", "rack", "board"])
def test_each_choice_of_a_list_is_saved_and_read_again(full, member, name):
    choices = offered(full, member, name)
    answers = {saved_and_opened(member, {**full, name: choice}).status_code for choice in choices}
    assert (len(choices) > 1, answers) == (True, {200})


@pytest.mark.parametrize("name", [name for name in NAMES if isinstance(widget_of(name), forms.CheckboxInput)])
def test_a_ticked_box_stays_ticked_and_is_told_in_its_folded_line(full, member, name):
    text = saved_and_opened(member, {**full, name: "on"}).content.decode()
    assert f'name="{name}" id="id_{name}" checked' in text or f'id="id_{name}" checked' in text
    assert ": yes" in text


TRIED = [
    (name, text)
    for name, start in zip(NAMES, cycle(range(len(HOSTILE))), strict=False)
    for text in (HOSTILE * 2)[start::9][:1]
]


@pytest.mark.parametrize(("name", "text"), TRIED)
def test_nothing_typed_into_a_full_sheet_breaks_it(full, member, name, text):
    sheet, client = {**full, name: text}, cast.as_(member)
    page, live = client.post(reverse("warp-plan"), sheet), client.post(reverse("warp-plan"), sheet, headers=LIVE)
    assert (page.status_code, live.status_code) == (200, 200)


@pytest.mark.parametrize("text", [text for text in HOSTILE if text.strip(" \x00")])
def test_the_same_nonsense_in_every_field_at_once_is_kept_as_a_draft(full, member, text):
    answer = saved_and_opened(member, dict.fromkeys(full, text))
    assert (answer.status_code, Project.objects.get().is_draft) == (200, True)


@pytest.mark.parametrize("text", [text for text in HOSTILE if not text.strip(" \x00")])
def test_a_sheet_on_which_nothing_is_typed_is_not_stored(full, member, text):
    answer = cast.as_(member).post(reverse("warp-new"), dict.fromkeys(full, text))
    assert (answer.status_code, Project.objects.count()) == (422, 0)
