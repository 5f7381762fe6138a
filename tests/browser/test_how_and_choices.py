"""Other ways and how it is worked out, in a real browser: opened, tried, asked, and looked at by axe."""

import io
import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect
from pypdf import PdfReader

from planner.sheet.services import save_project
from tests import cast
from tests.factories import a_beam, a_loom, a_reed
from tests.planner.sheets import towels

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]

PARTIAL = {"sett": "24", "width_in_reed": "25", "length_by": "turns", "turns": "20", "finished_length": ""}
ASKED = "?turns=12&start=91.4+cm&end=94.9+cm"


@pytest.fixture
def member():
    return cast.trained_member()


@pytest.fixture
def warp(member):
    """Give a warp of 600 ends whose edge sections are not full."""
    a_reed()
    return save_project(owner=member, typed=towels(a_beam(a_loom()), **PARTIAL), by=member)


def signed_in(context, live_server, member):
    cookie = cast.as_(member).cookies["sessionid"]
    context.add_cookies([{"name": "sessionid", "value": cookie.value, "url": live_server.url}])
    return context.new_page()


@pytest.fixture
def page(browser, live_server, member):
    context = browser.new_context(locale="en-GB", timezone_id="UTC")
    yield signed_in(context, live_server, member)
    context.close()


def fold(page, words):
    return page.locator("#plan summary").filter(has_text=words)


def ends(page):
    return page.locator("#plan .plan-figures > div").filter(has_text="Ends").locator(".figure").first


def test_a_choice_opened_after_typing_is_fetched_and_stays_open(page, live_server, warp):
    page.goto(live_server.url + warp.get_absolute_url())
    page.locator("#id_turns").fill("21")
    expect(page.locator("#plan [data-key='edges'] [data-awaited]")).to_be_attached()
    fold(page, "Edge sections are not full").click()
    expect(page.get_by_text("Pack against the full neighbour")).to_be_visible()
    page.locator("#id_turns").fill("22")
    expect(page.locator("#plan .plan-figures")).to_contain_text("22")
    expect(page.get_by_text("Pack against the full neighbour")).to_be_visible()


def test_the_guide_opened_after_typing_is_fetched_and_stays_open(page, live_server, warp):
    page.goto(live_server.url + warp.get_absolute_url())
    page.locator("#id_turns").fill("21")
    expect(page.locator("#plan [data-key='guide'] [data-awaited]")).to_be_attached()
    page.locator("#plan [data-key='guide'] > summary").click()
    expect(page.get_by_text("600 so far")).to_be_visible()
    page.locator("#id_threading_kind_2").evaluate("choice => choice.click()")
    expect(page.get_by_text("One repeat of the threading, from the left: 1, 2, 3, 4, 2, 1, 4, 3.")).to_be_visible()


def test_the_guide_is_open_on_paper_with_room_to_tick(page, live_server, warp):
    """Half of 25 in at each side of the middle divider, 12 1/2 in: seven sections of 2 in at each side, 14 to tick."""
    page.goto(live_server.url + warp.get_absolute_url())
    expect(page.get_by_text("600 so far")).to_be_hidden()
    text = " ".join(paper.extract_text() for paper in PdfReader(io.BytesIO(page.pdf(format="A4"))).pages)
    assert ("600 so far" in text, len(re.findall(r"threaded\s+sleyed", text))) == (True, 14)


def test_a_width_is_tried_at_once(page, live_server, warp):
    page.goto(live_server.url + warp.get_absolute_url())
    fold(page, "near by that fit better").click()
    page.get_by_role("button", name="Try 624 ends").click()
    expect(ends(page)).to_have_text("624")
    expect(page.locator("#id_ends")).to_have_value("624")
    expect(page.locator("#plan-pane")).to_be_focused()
    assert page.url == live_server.url + warp.get_absolute_url()


@pytest.fixture
def striped(member):
    """Give fifteen sections of 24 ends in five layouts."""
    a_reed()
    second = {"yarns-1-code": "B", "yarns-1-yarn": "8/2 red", "yarns-1-grist": "3360 yd/lb", "yarns-1-fibre": "cotton"}
    stripes = {"sett": "12", "width_in_reed": "30", "colour_order": "15 A, 15 B", "whole_repeats": "on"}
    return save_project(owner=member, typed=towels(a_beam(a_loom()), **stripes, **second), by=member)


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_odd_sections_are_wound_as_chains_at_a_button(browser, live_server, member, striped, scripts):
    context = browser.new_context(java_script_enabled=scripts)
    page = signed_in(context, live_server, member)
    page.goto(live_server.url + striped.get_absolute_url())
    fold(page, "Ways that need fewer spools").click()
    button = page.get_by_role("button", name="Wind it so")
    named = button.get_attribute("value")
    button.click()
    expect(page.locator("#id_chain_sections")).to_have_value(named)
    expect(page.get_by_role("heading", name="Chains, 2 ends wound at once")).to_be_visible()
    expect(page.get_by_role("heading", name="Spools to wind")).to_be_visible()
    context.close()


def test_a_width_is_tried_without_scripts(browser, live_server, member, warp):
    context = browser.new_context(java_script_enabled=False)
    page = signed_in(context, live_server, member)
    page.goto(live_server.url + warp.get_absolute_url())
    fold(page, "near by that fit better").click()
    page.get_by_role("button", name="Try 576 ends").click()
    expect(ends(page)).to_have_text("576")
    context.close()


def test_a_question_is_asked_with_the_keyboard_and_keeps_its_address(page, live_server):
    page.goto(live_server.url + reverse("how-ask", args=["reach"]))
    page.get_by_label("Yarn there is, without its cones").fill("10 lb")
    page.get_by_label("Yarn", exact=True).fill("8/2 cotton")
    page.get_by_label("Ends (optional)").fill("420")
    page.keyboard.press("Enter")
    expect(page.locator(".how-answer")).to_contain_text("80 yd")
    page.reload()
    expect(page.locator(".how-answer")).to_contain_text("80 yd")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1440])
@pytest.mark.parametrize(
    ("name", "key", "asked"),
    [
        ("how-one", "depth-range", ""),
        ("how-one", "dents-of", ""),
        ("how-ask", "calibrate", ASKED),
        ("how-ask", "turns", "?circumference=36+in&depth=0.01+in&turns=12"),
        ("how-ask", "firmness", "?sett=twenty"),
    ],
)
def test_a_page_of_a_rule_or_a_question_has_no_fault_that_axe_finds(page, live_server, scheme, width, name, key, asked):
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(live_server.url + reverse(name, args=[key]) + asked)
    page.evaluate("for (const part of document.querySelectorAll('details')) part.open = true")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("url", ["how", "how-disagreements"])
def test_the_lists_have_no_fault_that_axe_finds(page, live_server, scheme, url):
    page.emulate_media(color_scheme=scheme)
    page.goto(live_server.url + reverse(url))
    page.evaluate("for (const part of document.querySelectorAll('details')) part.open = true")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1440])
def test_the_choices_have_no_fault_that_axe_finds(page, live_server, warp, scheme, width):
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(live_server.url + warp.get_absolute_url())
    page.evaluate("for (const part of document.querySelectorAll('#plan details')) part.open = true")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    found = Axe().run(page, context="#plan")
    assert found.violations_count == 0, found.generate_report()
