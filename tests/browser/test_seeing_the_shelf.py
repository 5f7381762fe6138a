"""The shelf seen: bars to scale, the wall in the colours of its yarns, and both fit for every eye and every width."""

from itertools import product

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from tests import cast
from tests.inventory.stock import a_package, a_yarn, promise

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]

WIDTHS = (390, 1440)
PAGES = ("yarn-room", "yarn-colours", "yarn-low", "yarn-bins", "yarn-labels", "my-yarn-statement")


@pytest.fixture
def member():
    return cast.teacher(units="metric")


@pytest.fixture
def shelf(member):
    """Give half a kilogram of sky, of which 100 g are set aside, and of a thicker wool in walnut."""
    sky = a_package(a_yarn(colour_name="sky", colour="#a8bfcb", keep_at_least_text="1 kg"), bin_name="A1")
    promise(sky, 100, member)
    a_package(a_yarn(colour_name="walnut", colour="#6d4c37", fibre="wool", grist_text="900 yd/lb"), bin_name="A2")
    return sky


def test_every_way_to_see_the_shelf_is_fit_for_all(signed_in, live_server, shelf):
    for name, width in product(PAGES, WIDTHS):  # one test, since signing in takes longer than looking
        signed_in.set_viewport_size({"width": width, "height": 900})
        signed_in.goto(live_server.url + reverse(name))
        assert (name, width, Axe().run(signed_in).response["violations"]) == (name, width, [])
        assert signed_in.evaluate("document.documentElement.scrollWidth") <= width, name


def test_a_bar_is_as_long_as_its_weight(signed_in, live_server, shelf):
    signed_in.set_viewport_size({"width": 1440, "height": 900})
    signed_in.goto(live_server.url + reverse("yarn-room"))
    bar = signed_in.locator("tr", has_text="sky").locator(".stock-bar")
    free, promised = (part.bounding_box()["width"] for part in bar.locator("rect").all())
    assert free / promised == pytest.approx(4, rel=0.05)  # 400 g free, 100 g set aside
    assert free + promised == pytest.approx(bar.bounding_box()["width"], rel=0.02)


def test_the_wall_narrows_without_a_reload_and_leads_to_the_yarn(signed_in, live_server, shelf):
    signed_in.goto(live_server.url + reverse("yarn-colours"))
    signed_in.get_by_label("Fibre").select_option("wool")
    expect(signed_in.get_by_role("link", name="sky 8/2 cotton")).to_have_count(0)
    signed_in.get_by_role("link", name="walnut 8/2 cotton").click()
    expect(signed_in.get_by_role("heading", name="8/2 cotton, walnut")).to_be_visible()
