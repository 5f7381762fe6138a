"""A section that waits for yarn: marked on sheet, card and lists, and what can be done about it beside waiting.

The numbers are those of a worked project of the studio's own, by hand: 18 sections of 36 ends at 18 to the inch, 12
turns on a beam of one yard; one section hand-dyed, of which a cone of 84 g is there. It is worked without the yarn that
is lost when the box is threaded anew, so the sheets here say that nothing is; the reserve of 3 % is added on.
"""

import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from planner.calc.shelf.awaited import Reach
from planner.models import IssuedCard, Project, Wanted
from planner.plan.presenter_waiting import waiting_parts
from planner.sheet.services import save_project
from planner.yarn.awaited import options_for, wanted_yarns_of
from planner.yarn.shelf_selectors import shelf_plan, worked
from planner.yarn.wanted_services import WantedDetails, want_yarn, yarn_has_come
from studio.rules.selectors import studio_rules
from tests import cast
from tests.factories import a_beam, a_loom, a_plain_beam, a_reed, inches
from tests.inventory.stock import a_package, a_yarn
from tests.planner.sheets import posted
from tests.planner.yarn.test_selectors import queries

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    studio_rules()
    return cast.trained_member()


@pytest.fixture
def yarns():
    """Give ground enough, and one cone of the hand-dyed colour: 109 g on a core of 25 g."""
    ground, dyed = (
        a_yarn(name="8/4 cotton", grist_text="1680 yd/lb", count_text="", colour_name=colour)
        for colour in ("natural", "cochineal")
    )
    for _ in range(6):
        a_package(ground, gross_text="500 g", tare_text="")
    a_package(dyed, gross_text="109 g", tare_text="25 g", dye_lot="pot 6")
    return ground, dyed


@pytest.fixture
def beam():
    a_reed()
    loom = a_loom(nickname="Plover", weaving_width_cm=inches(45))
    return a_beam(loom, usable_width_cm=inches(36), divider_cm=0, sections=18)


def sheet(beam, yarns, **changes):
    ground, dyed = yarns
    form = {
        "title": "A section waiting", "beam": str(beam.pk), "sett": "18", "method": "box", "pieces": "1",
        "width_by": "finished_width", "length_by": "turns", "turns": "12", "weave": "plain",
        "colour_order": "468 A, 36 B, 144 A", "colour_layout": "as_typed", "threading_kind": "straight",
        "margin_on": "all", "box_lead": "0",
        "yarns-0-code": "A", "yarns-0-yarn": f"x (yarn {ground.pk})",
        "yarns-1-code": "B", "yarns-1-yarn": f"x (yarn {dyed.pk})",
    }  # fmt: skip
    return {"units": "inch", "form": {**form, **changes}}


@pytest.fixture
def warp(owner, beam, yarns):
    return save_project(owner=owner, typed=sheet(beam, yarns), by=owner)


def again(warp):
    return Project.objects.select_related("owner", "set_aside").get(pk=warp.pk)


def in_days(days):
    return timezone.localdate() + timedelta(days=days)


def want(warp, yarns, days=20):
    day = None if days is None else in_days(days)
    return want_yarn(warp=again(warp), which=str(yarns[1].pk), by=warp.owner, asked=WantedDetails(expected_on=day))


def waits(warp):
    found = worked(again(warp))
    return waiting_parts(wanted_yarns_of(warp), found.plan, timezone.localdate())


def text_of(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


def seen(someone, warp, name="warp-yarn", **asked):
    return text_of(cast.as_(someone).get(reverse(name, args=[warp.pk]), asked))


# Sections.


def test_only_the_section_that_holds_it_waits(warp, yarns):
    assert waits(warp) == ()
    want(warp, yarns)
    (found,) = waits(warp)
    assert (found.places, found.overdue, found.chains) == ((14,), False, False)
    assert found.expected_on == in_days(20)


def test_it_waits_no_more_once_there_is_enough(warp, yarns):
    want(warp, yarns)
    a_package(yarns[1], gross_text="150 g", tare_text="", dye_lot="pot 7")
    assert waits(warp) == ()


def test_it_waits_no_more_once_it_is_said_to_have_come(warp, yarns):
    yarn_has_come(wanted=want(warp, yarns), by=warp.owner)
    assert waits(warp) == ()


@pytest.mark.parametrize(
    ("days", "mark", "sentence"),
    [
        (None, "waits for yarn, no day yet", "no day is known yet."),
        (20, "waits for yarn until", "expected"),
        (-3, "waits for yarn, overdue since", ", overdue."),
    ],
)
def test_the_sheet_says_it_in_table_drawing_and_words(owner, warp, yarns, days, mark, sentence):
    plain = seen(owner, warp, "warp")
    assert "waits for" not in plain
    assert "beam-waiting" not in plain
    want(warp, yarns)
    Wanted.objects.update(expected_on=None if days is None else in_days(days))
    text = seen(owner, warp, "warp")
    assert text.count(f'section-waits">{mark}') == 1
    assert "Section 14 waits for 8/4 cotton, cochineal," in text
    assert sentence in text
    assert text.count('class="beam-waiting"') == 1
    assert "A broken line below the warp" in text
    assert "Keep the leader free and tagged" in text


def test_the_live_plan_marks_it_too(owner, warp, yarns):
    want(warp, yarns)
    answer = cast.as_(owner).post(
        reverse("warp-plan"), posted(again(warp).typed, project=warp.pk), HTTP_HX_REQUEST="true", HTTP_HX_TARGET="plan"
    )
    assert "Section 14 waits for" in text_of(answer)
    other = posted(sheet(warp.beam, yarns, colour_order="468 A, 144 A, 36 B"), project=warp.pk)
    answer = cast.as_(owner).post(reverse("warp-plan"), other, HTTP_HX_REQUEST="true", HTTP_HX_TARGET="plan")
    assert "Section 18 waits for" in text_of(answer)


def test_a_section_wound_as_a_chain_waits_too(owner, warp, yarns):
    save_project(owner=owner, typed=sheet(warp.beam, yarns, method="chain"), project=warp, by=owner)
    want(warp, yarns)
    (found,) = waits(warp)
    assert (found.places, found.chains) == ((14,), False)


def test_chains_wait_where_there_are_no_sections(owner, yarns):
    beam = a_plain_beam(a_loom(nickname="Knot", weaving_width_cm=inches(45)), usable_width_cm=inches(40))
    plain = {"method": "chain", "length_by": "warp_length", "warp_length": "12 yd", "turns": ""}
    warp = save_project(owner=owner, typed=sheet(beam, yarns, **plain), by=owner)
    want(warp, yarns)
    (found,) = waits(warp)
    assert found.chains
    assert found.sentence.startswith("Chain")
    assert found.sentence in seen(owner, warp, "warp")


def test_yarn_that_is_in_no_book_is_waited_for_by_its_name(owner, beam, yarns):
    own = {"yarns-1-yarn": "handspun", "yarns-1-colour_name": "russet", "yarns-1-grist": "1680 yd/lb",
           "yarns-1-fibre": "cotton"}  # fmt: skip
    warp = save_project(owner=owner, typed=sheet(beam, yarns, **own), by=owner)
    want_yarn(warp=again(warp), which="own-1", by=owner, asked=WantedDetails(expected_on=in_days(5)))
    (found,) = waits(warp)
    assert (found.name, found.places) == ("handspun, russet", (14,))
    assert "Section 14 waits for handspun, russet" in seen(owner, warp, "warp")


def test_wishes_cost_the_sheet_no_more_questions(owner, warp, yarns):
    browser, page = cast.as_(owner), reverse("warp", args=[warp.pk])
    browser.get(page)
    before = queries(lambda: browser.get(page))
    want(warp, yarns)
    assert queries(lambda: browser.get(page)) == before


# Cards.


def print_card(owner, warp):
    sent = {"beams": [str(warp.beam_id)], "paper": "A4"}
    assert cast.as_(owner).post(reverse("cards-issue", args=[warp.pk]), sent).status_code == 302
    return IssuedCard.objects.first()


def test_a_card_says_it_and_one_that_was_issued_never_changes(owner, warp, yarns):
    before = print_card(owner, warp)
    html = before.html
    want(warp, yarns)
    after = print_card(owner, warp)
    assert after.number == before.number + 1
    assert "Section 14 waits for 8/4 cotton, cochineal" in after.html
    assert after.html.count("(waits for yarn until") == 1
    assert print_card(owner, warp).number == after.number
    before.refresh_from_db()
    assert before.html == html
    assert "waits for" not in html


def test_a_later_day_makes_another_card_and_the_same_day_the_same(owner, warp, yarns):
    row = want(warp, yarns)
    first = print_card(owner, warp)
    Wanted.objects.filter(pk=row.pk).update(expected_on=in_days(27))
    assert print_card(owner, warp).number == first.number + 1


# ShortageOptions.


def choices(warp):
    warp = again(warp)
    found = worked(warp)
    return options_for(warp, found, shelf_plan(warp, found.asked))


def test_the_choices_of_the_worked_project(warp):
    # By hand: 311.1 yd / (12.73 x 1.03) = 23.7, so 23 ends; / 12.73 = 24.4, so 24; 22 of the colour, 14 of the ground.
    (found,) = choices(warp)
    assert found.reach == Reach(23, 24)
    assert (found.narrower.kept, found.narrower.ground_ends, found.narrower.ground) == (22, 14, "8/4 cotton, natural")
    assert (found.narrower.asked, found.dropped.asked) == ("475 A, 22 B, 151 A", "648 A")
    assert (found.bare_helps, found.bare_suffices, found.narrower.ground_there) == (True, False, True)
    assert float(found.narrower.more.length_cm) / 91.44 == pytest.approx(14 * 12.73 * 1.03, abs=0.3)


def test_re_threading_the_box_leaves_fewer_ends(owner, beam, yarns):
    # By hand: 311.1 / (12.73 x 1.03 + 2.5) = 19.9. The project leaves these two and a half yards out.
    warp = save_project(owner=owner, typed=sheet(beam, yarns, box_lead="2.5 yd"), by=owner)
    (found,) = choices(warp)
    assert (found.reach, found.narrower.kept) == (Reach(19, 20), 18)


def test_a_warp_of_one_yarn_has_no_ground(owner, beam, yarns):
    one = {"colour_order": "", "colour_layout": "repeat", "width_by": "ends", "ends": "648"}
    typed = sheet(beam, yarns, **one)
    typed["form"] = {name: said for name, said in typed["form"].items() if not name.startswith("yarns-0")}
    typed["form"] |= {"yarns-0-code": "B", "yarns-0-yarn": f"x (yarn {yarns[1].pk})"}
    typed["form"] = {name: said for name, said in typed["form"].items() if not name.startswith("yarns-1")}
    (found,) = choices(save_project(owner=owner, typed=typed, by=owner))
    assert (found.narrower, found.dropped) == (None, None)


def test_a_warp_with_enough_has_no_choices(warp, yarns):
    a_package(yarns[1], gross_text="150 g", tare_text="")
    assert choices(warp) == ()


def test_the_page_sets_them_side_by_side(owner, warp):
    text = seen(owner, warp)
    for said in (
        "<b>23 of 36 ends</b>", "22 ends of the colour, 14 of the ground", "No reserve: 24 ends", "Drop the stripe",
        "Wait for the rest", "Waiting against the weeks left", 'value="475 A, 22 B, 151 A"', 'value="648 A"',
    ):  # fmt: skip
        assert said in text


@pytest.mark.parametrize(("order", "ends"), [("475 A, 22 B, 151 A", "22"), ("648 A", None)])
def test_try_it_so_opens_the_sheet_and_keeps_nothing(owner, warp, order, ends):
    kept = again(warp)
    sent = posted(kept.typed, try_order=order, project=warp.pk)
    response = cast.as_(owner).post(reverse("warp-plan"), sent)
    text = text_of(response)
    assert order in text
    sheet_shown = response.context["sheet"]
    assert sheet_shown.plan is not None
    counts = {need.yarn.code: need.ends for need in sheet_shown.plan.shown.needs}
    assert str(counts["B"]) == (ends or "0")
    assert again(warp).typed == kept.typed
    assert again(warp).stamp == kept.stamp


WIDE = {"finished_width": "30 in", "colour_order": "13 A, 1 B, 4 A", "colour_layout": "repeat"}


@pytest.mark.parametrize(
    "said", [WIDE, {**WIDE, "whole_repeats": "on"}, {"finished_width": "", "width_by": "ends", "ends": "648"}]
)
def test_a_sheet_planned_by_its_width_can_be_tried_too(owner, beam, yarns, said):
    warp = save_project(owner=owner, typed=sheet(beam, yarns, **said), by=owner)
    (found,) = choices(warp)
    assert found.narrower.asked
    assert found.dropped.asked
    assert "“Try it so” opens the sheet" in seen(owner, warp)
    sent = posted(again(warp).typed, try_order=found.narrower.asked, project=warp.pk)
    response = cast.as_(owner).post(reverse("warp-plan"), sent)
    counts = {need.yarn.code: need.ends for need in response.context["sheet"].plan.shown.needs}
    assert counts["B"] == found.narrower.kept


@pytest.mark.parametrize("order", ["", "\x00", "drop everything", "1 Z", "9" * 100_000])
def test_hostile_orders_break_nothing(owner, warp, order):
    sent = posted(again(warp).typed, try_order=order, project=warp.pk)
    assert cast.as_(owner).post(reverse("warp-plan"), sent).status_code == 200
    assert again(warp).typed == warp.typed


def test_the_weeks_left_are_answered(owner, warp):
    # By hand: yarn on day 20, 8 sessions at 2 a week are 28 days: day 48, 20 beyond a booking to day 28.
    said = {"yarn_on": in_days(20), "sessions": "8", "a_week": "2", "booked_on": in_days(28)}
    text = seen(owner, warp, **said)
    assert "The yarn comes in 20 days, and the weaving takes 28: off the loom in 48 days" in text
    assert "20 days beyond the booking" in text
    assert "Ask for the longer booking today" in text
    assert "It suffices." in seen(owner, warp, **{**said, "booked_on": in_days(60)})


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"sessions": "many"}, "Write a whole number"),
        ({"sessions": "-1"}, "at least 0"),
        ({"a_week": "99"}, "Nobody weaves so often"),
        ({"a_week": "0"}, "more than 0"),
        ({"yarn_on": "2001-01-01"}, "That day is past"),
        ({"booked_on": "tomorrow"}, "year, month and day"),
        ({"sessions": "\x00"}, "Write a whole number"),
    ],
)
def test_slips_in_the_weeks_are_said_beside_their_box(owner, warp, said, words):
    assert words in seen(owner, warp, **said)


def test_the_day_on_the_list_stands_in_the_box(owner, warp, yarns):
    want(warp, yarns)
    assert f'name="yarn_on" value="{in_days(20).isoformat()}"' in seen(owner, warp)
