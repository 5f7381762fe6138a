"""The main walk in a real browser: sign in, plan a warp, see it change, save it, print its card, read the paper."""

import io
import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect
from pypdf import PdfReader

from planner.models import Project
from tests import cast
from tests.browser.hands import figure, open_sheet, saved

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]


def choose(page, group, name):
    page.get_by_role("group", name=group, exact=True).get_by_label(name, exact=True).check()


def fill_in(page, yarn):
    page.get_by_label("Name of the warp").fill("Eight towels")
    page.get_by_label("Yarn", exact=True).fill(f"8/2 cotton, natural (yarn {yarn.pk})")
    page.get_by_label(re.compile("^Sett")).first.fill("20")
    choose(page, "Width by", "Width in reed")
    page.locator("#id_width_in_reed").fill("24")
    choose(page, "Length by", "Turns")
    page.locator("#id_turns").fill("11")


def test_from_an_idea_to_the_paper(signed_in, house, live_server):
    page = signed_in
    page.get_by_role("link", name="Start a warp").first.click()
    fill_in(page, house[1])
    expect(figure(page, "Ends")).to_have_text("480")
    page.locator("#id_sett").fill("18")
    expect(figure(page, "Ends")).to_have_text("432")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    page.get_by_role("button", name="Print card").click()
    page.get_by_role("button", name="Issue and print").click()
    expect(page.get_by_role("link", name="Open the PDF")).to_be_visible()
    number = Project.objects.get().cards.get().number
    paper = page.request.get(live_server.url + reverse("card-pdf", args=[number])).body()
    words = " ".join(leaf.extract_text() for leaf in PdfReader(io.BytesIO(paper)).pages)
    assert {"Eight towels", "432", "Heron"} <= set(re.findall(r"Eight towels|432|Heron", words))


def test_a_mistake_shows_beside_its_field_and_the_last_plan_stays(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_sett").fill("20x")
    expect(page.locator("#id_sett_error")).to_be_visible()
    expect(page.locator("#id_sett")).to_have_attribute("aria-invalid", "true")
    expect(figure(page, "Ends")).to_have_text("480")
    page.locator("#id_sett").fill("20")
    expect(page.locator("#id_sett_error")).to_be_hidden()


def test_a_mistake_in_a_folded_part_opens_it(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_weft-yarn").fill("handspun")
    expect(page.locator("#id_weft-grist_error")).to_be_visible()
    page.get_by_role("link", name="Weft, count or length in a weight").click()
    expect(page.locator("#id_weft-grist")).to_be_focused()


def test_a_sum_opened_after_typing_shows_the_new_figures(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_sett").fill("18")
    expect(figure(page, "Ends")).to_have_text("432")
    page.get_by_text("Every figure above").click()
    line = page.locator("#sums .sum").filter(has=page.get_by_text("Ends across")).first
    expect(line.locator(".sum-result")).to_have_text("432 ends")
    line.locator("summary").click()
    expect(line.get_by_text("Source:")).to_be_visible()


def test_a_change_of_units_keeps_the_plan(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    choose(page, "Default unit", "centimetres")
    expect(page.locator("#id_width_in_reed")).to_have_value("24 in")
    expect(figure(page, "Ends")).to_have_text("480")


def test_the_enter_key_works_out_and_saves_nothing(signed_in, house, live_server, member):
    page = signed_in
    project = saved(house[0], member)
    open_sheet(page, live_server, project)
    page.locator("#id_sett").fill("18")
    page.locator("#id_sett").press("Enter")
    expect(figure(page, "Ends")).to_have_text("432")
    assert page.url.endswith(project.get_absolute_url())
    project.refresh_from_db()
    assert project.ends == 480


def test_a_second_yarn_is_added_with_the_cursor_in_it(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.get_by_role("button", name="Add a yarn").click()
    expect(page.locator("#id_yarns-1-yarn")).to_be_focused()
    expect(page.locator("#id_yarns-1-code")).to_have_value("B")
    assert page.locator("form#sheet").count() == 1
    page.get_by_role("button", name="Take out yarn B").click()
    expect(page.locator("#id_yarns-1-yarn")).to_have_count(0)


def test_the_other_side_of_the_loom_is_one_key_away(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#view-seat").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("Drawing, Seen from the back")).to_be_visible()
    expect(page.get_by_label("Drawing, Seen from the seat")).to_be_hidden()


def test_stripes_can_be_pointed_at_with_the_keyboard(signed_in, house, live_server, member):
    page = signed_in
    rows = {"yarns-1-code": "B", "yarns-1-yarn": "linen", "yarns-1-grist": "3000 yd/lb", "colour_order": "8 A"}
    open_sheet(page, live_server, saved(house[0], member, **rows))
    page.get_by_role("radio", name="A", exact=True).focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Tab")
    for key in ("ArrowRight", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    expect(page.locator("#id_colour_order")).to_have_value("8 A, 3 B")


def test_the_sheet_is_filled_in_and_saved_with_the_keyboard_alone(signed_in, house, live_server):
    page = signed_in
    page.goto(live_server.url + reverse("warp-new"))
    page.locator("#id_title").focus()
    reached = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.name || document.activeElement.textContent.trim()"))
    assert {"beam", "method", "yarns-0-yarn", "sett", "width_by", "finished_width", "colour_order", "Save"} <= reached


def test_without_scripts_the_button_works_the_plan_out(browser, live_server, house, member):
    context = browser.new_context(java_script_enabled=False)
    context.add_cookies([session_of(member, live_server)])
    page = context.new_page()
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_sett").fill("18")
    page.get_by_role("button", name="Work out").click()
    expect(figure(page, "Ends")).to_have_text("432")
    context.close()


def session_of(member, live_server):
    cookie = cast.as_(member).cookies["sessionid"]
    return {"name": "sessionid", "value": cookie.value, "url": live_server.url}


def test_a_phone_shows_the_figures_and_never_scrolls_sideways(signed_in, house, live_server, member):
    page = signed_in
    page.set_viewport_size({"width": 390, "height": 800})
    open_sheet(page, live_server, saved(house[0], member))
    expect(page.locator("#figure-bar")).to_contain_text("480")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1440])
def test_the_sheet_has_no_fault_that_axe_finds(signed_in, house, live_server, member, scheme, width):
    page = signed_in
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": 900})
    open_sheet(page, live_server, saved(house[0], member, hem="2 furlongs" if width == 390 else "2"))
    page.evaluate("for (const part of document.querySelectorAll('details')) part.open = true")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
