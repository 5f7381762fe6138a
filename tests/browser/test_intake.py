"""The intake on a phone: a cone in a few presses, the next one shorter still, and a name for both at once."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from inventory.intake.services import weigh_empty
from inventory.models import Arrival, Package
from tests import cast
from tests.inventory.files.hostile_files import HEAD
from tests.inventory.photos import a_phones_photo
from tests.inventory.stock import a_yarn

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1440, "height": 900}
SMALLEST_TARGET = 44  # CSS pixels; WCAG 2.2, 2.5.5 (AAA); 2.5.8 asks for 24
TARGETS = ".till-form :is(.button, input:not([type=hidden], [type=radio], [type=checkbox]), select, summary)"
PHOTO = {"name": "cone.jpg", "mimeType": "image/jpeg", "buffer": a_phones_photo()}


@pytest.fixture
def member():
    return cast.teacher(units="metric")


@pytest.fixture
def phone(signed_in):
    signed_in.set_viewport_size(PHONE)
    return signed_in


def sound(page):
    """Say whether a page fits its screen and keeps the rules of accessibility, on a phone and on a desk."""
    for size in (PHONE, DESK):
        page.set_viewport_size(size)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
        assert Axe().run(page).response["violations"] == []
    page.set_viewport_size(PHONE)


def test_two_cones_come_in_and_are_named(phone, live_server, member):
    yarn = a_yarn()
    weigh_empty(kind="cone", name="small cardboard cone", weight_text="25 g", by=member)
    phone.goto(live_server.url + reverse("intake"))
    sound(phone)
    boxes = [box for box in (one.bounding_box() for one in phone.locator(TARGETS).all()) if box]
    assert min(box["height"] for box in boxes) >= SMALLEST_TARGET
    phone.get_by_label("Photo").set_input_files(PHOTO)
    phone.get_by_label("The scale shows").fill("525")
    phone.get_by_label("What it is on").select_option(index=1)
    phone.get_by_label("Bin").fill("N1")
    phone.get_by_role("button", name="Add to stock").click()
    expect(phone.get_by_role("status")).to_contain_text("waits for its name: a cone, 500 g of yarn.")
    # The next cone: empties, bin and unit are there already.
    phone.get_by_label("The scale shows").fill("530")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("status")).to_contain_text("505 g of yarn")
    assert list(Arrival.objects.values_list("bin_name", "tare_text")) == [("N1", "25 g")] * 2
    phone.get_by_role("link", name="Unidentified yarn (2)").click()
    expect(phone.get_by_role("img", name="Photo of A").first).to_be_visible()
    expect(phone.locator(".photo img").first).not_to_have_js_property("naturalWidth", 0)  # it has come
    sound(phone)
    for arrival in Arrival.objects.all():
        phone.get_by_label(f"{arrival} cone").check()
    phone.get_by_role("button", name="Name those ticked").click()
    sound(phone)
    phone.get_by_role("combobox", name="Yarn of the book").fill("8/2 cotton")
    phone.get_by_role("button", name="Name them", exact=True).click()
    expect(phone.get_by_role("status")).to_contain_text(f"{yarn}:")
    assert Package.objects.count() == 2


def test_a_file_is_looked_at_and_its_good_rows_are_kept(phone, live_server):
    a_yarn()
    content = f"{HEAD}8/2 cotton,natural,,525 g,25 g,N1\r\n8/2 cotton,natural,,heavy,25 g,N1\r\n"
    phone.goto(live_server.url + reverse("yarn-file"))
    sound(phone)
    phone.get_by_label("File").set_input_files({"name": "d.csv", "mimeType": "text/csv", "buffer": content.encode()})
    phone.get_by_role("button", name="Look at it").click()
    expect(phone.get_by_role("main")).to_contain_text("is not a number")
    sound(phone)
    phone.get_by_role("button", name="Keep the 1 good row, leave out 1").click()
    expect(phone.get_by_role("status")).to_contain_text("Kept: 1 new package.")


def test_empties_fit_and_are_weighed_by_keyboard(phone, live_server):
    phone.goto(live_server.url + reverse("empties"))
    phone.get_by_label("What you call it").fill("plastic tube")
    phone.get_by_label("It weighs").fill("42")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("main")).to_contain_text("42 g (1 weighed)")
    sound(phone)
