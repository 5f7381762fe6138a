"""The scale on a phone: a cone is weighed by keyboard alone, and only the boxes of the chosen action are there."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from tests import cast
from tests.inventory.stock import a_package, balance

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]

PHONE = {"width": 390, "height": 844}
SMALLEST_TARGET = 44  # CSS pixels; WCAG 2.2, 2.5.5 (AAA); 2.5.8 asks for 24
TARGETS = ".till :is(.button, input:not([type=hidden]), select, .till-list a), .till label:has(> [type=radio])"


@pytest.fixture
def member():
    return cast.teacher(units="metric")


@pytest.fixture
def phone(signed_in):
    signed_in.set_viewport_size(PHONE)
    return signed_in


def too_small(page):
    found = page.locator(TARGETS)
    boxes = [box for box in (one.bounding_box() for one in found.all()) if box]
    assert boxes
    return [box for box in boxes if min(box["width"], box["height"]) < SMALLEST_TARGET]


def test_a_cone_is_weighed_by_keyboard_alone(phone, live_server):
    package = a_package()
    phone.goto(live_server.url + reverse("scale"))
    expect(phone.get_by_label("Which package?")).to_be_focused()
    phone.keyboard.type(f"cone {package.pk}")
    phone.keyboard.press("Enter")
    expect(phone.get_by_label("The scale shows")).to_be_focused()
    phone.keyboard.type("109")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("status")).to_contain_text("84 g left, 84 g free")
    expect(phone.get_by_label("Which package?")).to_be_focused()
    assert balance(package) == (84, 0)


def test_an_action_is_chosen_by_keyboard_and_shows_its_own_boxes(phone, live_server):
    package = a_package()
    phone.goto(live_server.url + reverse("package-scale", args=[package.pk]))
    expect(phone.get_by_label("Or so much yarn, by weight")).to_be_hidden()
    phone.keyboard.press("Tab")  # to the unit
    phone.keyboard.press("Tab")  # to the actions
    phone.keyboard.press("ArrowDown")
    expect(phone.get_by_label("Take out")).to_be_checked()
    phone.keyboard.press("Tab")
    expect(phone.get_by_label("Or so much yarn, by weight")).to_be_focused()
    expect(phone.get_by_label("Price")).to_be_hidden()
    phone.keyboard.type("100")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("status")).to_contain_text("400 g left, 400 g free")


@pytest.mark.parametrize("action", ["weigh", "issue", "sell", "write_off", "quarantine_in"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_action_fits_a_phone_and_its_targets_fit_a_thumb(phone, live_server, action, scheme):
    package = a_package()
    phone.emulate_media(color_scheme=scheme)
    phone.goto(f"{live_server.url}{reverse('package-scale', args=[package.pk])}?kind={action}")
    assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert too_small(phone) == []
    assert Axe().run(phone).response["violations"] == []


def test_the_list_fits_a_phone(phone, live_server):
    a_package(dye_lot="21B", bin_name="A3")
    phone.goto(live_server.url + reverse("scale"))
    assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert too_small(phone) == []
    assert Axe().run(phone).response["violations"] == []
