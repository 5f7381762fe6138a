"""The yarn of a warp in a real browser: packages chosen live, pages on phone and desk, the wanted list on paper."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from planner.models import Project
from planner.yarn.wanted_services import WantedDetails, want_yarn
from tests.browser.hands import saved
from tests.inventory.stock import a_package
from tests.planner.yarn.test_selectors import OWN, set_aside

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]
PHONE, DESK = {"width": 390, "height": 844}, {"width": 1440, "height": 900}


@pytest.fixture
def warp(house, member):
    """Give eight towels with half a kilogram on the shelf, and two cones of a pound."""
    beam, yarn = house
    cones = [a_package(yarn, gross_text="1 lb", tare_text="", dye_lot="X") for _ in range(2)]
    return saved(beam, member, **{"yarns-0-yarn": f"x (yarn {yarn.pk})", **OWN}), cones


def test_leaving_a_cone_out_works_it_out_at_once(signed_in, live_server, warp):
    warp, (first, _) = warp
    signed_in.set_viewport_size(DESK)
    signed_in.goto(live_server.url + reverse("warp-yarn", args=[warp.pk]))
    signed_in.get_by_text("Choose packages yourself").click()
    box = signed_in.get_by_label(f"leave out cone {first.pk}")
    box.check()
    expect(signed_in.get_by_text("with the packages you chose")).to_be_visible()
    expect(signed_in.get_by_label(f"leave out cone {first.pk}")).to_be_focused()
    expect(signed_in.locator(f"tbody a[href='{first.get_absolute_url()}']")).to_have_count(0)
    signed_in.get_by_role("button", name="Set this yarn aside").click()
    expect(signed_in.get_by_role("status").first).to_contain_text("is set aside for this warp")


@pytest.mark.parametrize("size", [PHONE, DESK])
def test_every_page_of_it_is_sound_and_fits(signed_in, live_server, warp, size):
    warp, cones = warp
    set_aside(warp)
    for cone in cones:
        cone.refresh_from_db()
    more = {"pieces": "30", "yarns-0-yarn": warp.typed["form"]["yarns-0-yarn"], **OWN}
    long = saved(warp.beam, warp.owner, title="Thirty towels", **more)
    key = str(cones[0].yarn_id)
    want_yarn(warp=Project.objects.get(pk=long.pk), which=key, by=long.owner, asked=WantedDetails(note="from the mill"))
    signed_in.set_viewport_size(size)
    pages = [("warp-yarn", [warp.pk]), ("warp-yarn", [long.pk]), ("warp-account", [warp.pk]), ("wanted", [])]
    for name, where in pages:
        signed_in.goto(live_server.url + reverse(name, args=where))
        signed_in.evaluate("document.querySelectorAll('main details').forEach(one => { one.open = true })")
        found = Axe().run(signed_in)
        assert found.violations_count == 0, (name, found.generate_report())
        assert signed_in.evaluate("document.documentElement.scrollWidth") <= size["width"], name


def test_the_list_on_paper_has_nothing_to_press(signed_in, live_server, warp):
    warp, _ = warp
    more = {"pieces": "30", "yarns-0-yarn": warp.typed["form"]["yarns-0-yarn"], **OWN}
    long = saved(warp.beam, warp.owner, title="Thirty towels", **more)
    key = warp.typed["form"]["yarns-0-yarn"].split("yarn ")[1].rstrip(")")
    want_yarn(warp=Project.objects.get(pk=long.pk), which=key, by=long.owner, asked=WantedDetails())
    signed_in.goto(live_server.url + reverse("wanted"))
    signed_in.emulate_media(media="print")
    expect(signed_in.get_by_text("To buy:")).to_be_visible()
    expect(signed_in.get_by_role("link", name="Thirty towels")).to_be_visible()
    expect(signed_in.get_by_role("button", name="Drop it")).to_be_hidden()
    expect(signed_in.get_by_text("Change", exact=True).first).to_be_hidden()
