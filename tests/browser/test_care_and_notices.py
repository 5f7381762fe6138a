"""Walks with notices, a loom looked over and its faults, by keyboard and on a phone."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from studio.care.check_selectors import points_asked
from studio.care.check_services import note_fault
from studio.care.upkeep_services import set_usual_rhythm
from studio.models import Fault, LoomOccupancy, Notice
from tests.cast import steward
from tests.studio.bookings import reserve

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1440, "height": 900}
SMALLEST_TARGET = 24  # WCAG 2.2, 2.5.8
TARGETS = (
    "main :is(.button, .button-quiet, .button-danger, .row-deed > a, select, textarea, label:has(input),"
    " .checkbox label, input:not([type=hidden], [type=checkbox], [type=radio]))"
)


@pytest.fixture
def occupancy(member, settings, tmp_path):
    """Give a member's loom with a warp begun, upkeep that is due, a fault, and a notice."""
    settings.MEDIA_ROOT = tmp_path
    made = reserve(member=member, end=5)
    LoomOccupancy.objects.update(state="assigned")
    keeper = steward()
    set_usual_rhythm(loom=made.loom, by=keeper)
    note_fault(loom=made.loom, text="Wire divider between sections 30 and 31 is bent", by=keeper)
    text = f"Your time on loom {made.loom} with “Towels” ends soon."
    for number in range(2):
        Notice.objects.create(member=member, kind="ending", key=f"n{number}", text=text, loom=made.loom, occupancy=made)
    return made


def too_small(page):
    boxes = [target.bounding_box() for target in page.locator(TARGETS).all() if target.is_visible()]
    return [box for box in boxes if min(box["width"], box["height"]) < SMALLEST_TARGET]


def test_a_notice_is_seen_without_a_new_page(occupancy, signed_in, live_server):
    signed_in.goto(live_server.url)
    mine = signed_in.locator("#my-notices")
    expect(mine.get_by_role("listitem")).to_have_count(2)
    signed_in.evaluate("document.body.dataset.same = 'yes'")
    mine.get_by_role("button").first.click()
    expect(mine.get_by_role("listitem")).to_have_count(1)
    assert signed_in.evaluate("document.body.dataset.same") == "yes"


def test_a_loom_is_looked_over_by_keyboard_and_the_fault_stands_on_it(occupancy, signed_in, live_server):
    signed_in.set_viewport_size(PHONE)
    signed_in.goto(live_server.url + reverse("loom-checks", args=[occupancy.pk]))
    signed_in.get_by_role("link", name="Inspect the loom when the work begins").click()
    ticks = signed_in.get_by_role("checkbox")
    ticks.first.focus()
    for number in range(len(points_asked("begin"))):
        if number:
            signed_in.keyboard.press("Space")
            signed_in.keyboard.press("Tab")
        else:
            signed_in.keyboard.press("Tab")
            signed_in.keyboard.type("one shuttle is missing")
        signed_in.keyboard.press("Tab")
    signed_in.keyboard.type("All else well")
    signed_in.get_by_role("button", name="Save").press("Enter")
    expect(signed_in.get_by_text("one shuttle is missing")).to_be_visible()
    assert Fault.objects.filter(loom=occupancy.loom, noted_by=occupancy.member).count() == 1


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_every_page_fits_and_keeps_the_rules_of_access(occupancy, signed_in, live_server, size):
    signed_in.set_viewport_size(size)
    pages = {
        "today": [], "notices": [], "my-notices": [], "my-feeds": [], "loom-care": [occupancy.loom_id],
        "check-fill": [occupancy.pk, "begin"],
    }  # fmt: skip
    for name, args in pages.items():
        signed_in.goto(live_server.url + reverse(name, args=args))
        assert signed_in.evaluate("document.documentElement.scrollWidth") <= size["width"], name
        assert too_small(signed_in) == [], name
        assert Axe().run(signed_in).response["violations"] == [], name
