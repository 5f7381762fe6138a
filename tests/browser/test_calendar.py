"""The calendar in a real browser: by keyboard from a free day to a loom taken over, on a phone, and for all readers."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from planner.sheet.services import save_project
from studio.calendar.dressing import change_loom_state
from studio.calendar.services import wait_for_loom
from studio.models import LoomOccupancy, Member, QueuePlace
from tests import cast
from tests.factories import a_beam, a_loom, a_reed
from tests.planner.sheets import towels
from tests.studio import bookings as calendar

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1440, "height": 900}


@pytest.fixture
def week():
    """Give three looms: one free, one dressed by another, one of a class."""
    loom = calendar.a_free_loom(nickname="Heron")
    other = cast.trained_member("the other trained member")
    occupancy = calendar.reserve(calendar.a_free_loom(nickname="Egret"), other, start=0, end=20)
    change_loom_state(occupancy=occupancy, to="beaming", by=other)
    lessons = calendar.a_class(calendar.a_free_loom(nickname="Stork"))
    calendar.sit(lessons, cast.guest(), 10, 12)
    return loom, occupancy, lessons


def press_on(page, role, name):
    """Reach something as a keyboard does, and press Enter."""
    found = page.get_by_role(role, name=name, exact=True)
    found.focus()
    page.keyboard.press("Enter")


def test_reserve_be_refused_queue_and_take_over_by_keyboard(signed_in, live_server, week):
    loom, occupancy, _ = week
    page = signed_in
    page.set_viewport_size(DESK)
    page.goto(live_server.url + reverse("week"))
    today = calendar.day(0)
    press_on(page, "link", f"Reserve {loom} from {today.day} {today:%b}")
    page.get_by_label("Work").focus()
    page.keyboard.type("Eight towels")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Eight towels")).to_be_visible()
    assert LoomOccupancy.objects.filter(loom=loom, title="Eight towels").exists()

    page.goto(live_server.url + reverse("reserve", args=[occupancy.loom.pk]))
    page.get_by_label("Work").fill("Scarves")
    press_on(page, "button", "Reserve")
    expect(page.get_by_role("alert")).to_contain_text("taken by the other trained member")
    expect(page.get_by_label("Work")).to_have_value("Scarves")
    press_on(page, "link", "Join the waiting list")
    press_on(page, "button", "Join")
    expect(page.get_by_role("status").first).to_contain_text("You are on the waiting list")
    assert QueuePlace.objects.filter(loom=occupancy.loom, left_at=None).count() == 1

    LoomOccupancy.objects.filter(pk=occupancy.pk).update(open_to_take_over=True)
    page.reload()
    press_on(page, "link", "Towels")
    press_on(page, "link", "Take this loom over")
    page.get_by_label("Work").focus()
    page.keyboard.type("Scarves on the old threading")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Scarves on the old threading")).to_be_visible()
    assert LoomOccupancy.objects.get(taken_over_from=occupancy).state == "beaming"


def test_hold_a_loom_for_a_plan_on_a_phone_and_tell_who_waits_when_it_is_free(signed_in, live_server):
    """As its weaver does, from the sheet; who waits reads of it on Today."""
    by, waiting = Member.objects.get(name="the trained member"), cast.teacher("who waits")
    a_reed()
    warp = save_project(owner=by, typed=towels(a_beam(a_loom(nickname="Heron"))), by=by)
    page = signed_in
    page.set_viewport_size(PHONE)
    page.goto(live_server.url + warp.get_absolute_url())
    page.get_by_role("link", name="Find a loom").click()
    page.get_by_role("link", name=f"Reserve loom {warp.loom}, {warp.beam.name}").click()
    expect(page.get_by_label("Reed")).not_to_have_value("")
    page.get_by_role("button", name="Reserve").click()
    expect(page.get_by_role("heading", name="Eight towels")).to_be_visible()
    occupancy = LoomOccupancy.objects.get()
    assert [str(one.tool) for one in occupancy.tools.all()] == ["12 dents to the inch"]

    wait_for_loom(loom=occupancy.loom, member=waiting, days=14)
    page.get_by_role("link", name="Cancel the reservation").click()
    page.get_by_role("button", name="Cancel the reservation").click()
    expect(page.get_by_role("status").first).to_contain_text("its days are free")
    page.context.clear_cookies()
    page.goto(live_server.url + reverse("sign-in"))
    page.get_by_label("Username").fill(waiting.user.username)
    page.get_by_label("Password").fill(cast.PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("who waits")
    expect(page.locator("main")).to_contain_text("Heron")
    expect(page.locator("main")).to_contain_text("free")


def test_changed_days_are_looked_at_while_typing(signed_in, live_server, week):
    _, occupancy, _ = week
    signed_in.goto(live_server.url + reverse("reserve", args=[occupancy.loom.pk]))
    signed_in.get_by_label("Last day").fill(str(calendar.day(5)))
    signed_in.get_by_label("Last day").press("Tab")
    expect(signed_in.locator("#days-free")).to_contain_text("taken by the other trained member")
    signed_in.get_by_label("Last day").fill(str(calendar.day(40)))
    signed_in.get_by_label("First day").fill(str(calendar.day(21)))
    signed_in.get_by_label("First day").press("Tab")
    expect(signed_in.locator("#days-free")).to_contain_text("Free and within the rules")


def test_arrow_keys_walk_the_week(signed_in, live_server, week):
    signed_in.set_viewport_size(DESK)
    signed_in.goto(live_server.url + reverse("week"))
    bar = signed_in.locator("a.span").first
    bar.focus()
    signed_in.keyboard.press("ArrowDown")
    expect(signed_in.locator("a.span").nth(1)).to_be_focused()
    signed_in.keyboard.press("ArrowUp")
    expect(bar).to_be_focused()


def test_a_phone_shows_one_loom_at_a_time(signed_in, live_server, week):
    signed_in.set_viewport_size(PHONE)
    signed_in.goto(live_server.url + reverse("week"))
    expect(signed_in.get_by_role("table")).to_have_count(0)
    expect(signed_in.get_by_role("heading", name="Heron")).to_be_visible()
    signed_in.get_by_role("navigation", name="Looms", exact=True).get_by_role("link", name="Egret").click()
    expect(signed_in.get_by_role("heading", name="Egret")).to_be_visible()
    expect(signed_in.get_by_role("link", name="Towels")).to_be_visible()


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_every_page_fits_and_has_nothing_that_readers_stumble_over(signed_in, live_server, week, size):
    loom, occupancy, lessons = week
    signed_in.set_viewport_size(size)
    addresses = (
        "/", reverse("week"), reverse("month"), reverse("free-looms"), reverse("tools-week"), reverse("looms"),
        reverse("reserve", args=[loom.pk]), occupancy.get_absolute_url(), lessons.get_absolute_url(),
        loom.get_absolute_url(), reverse("tool-book"), reverse("booking-rules"), reverse("queue-join", args=[loom.pk]),
    )  # fmt: skip
    for address in addresses:
        signed_in.goto(live_server.url + address)
        assert signed_in.evaluate("document.documentElement.scrollWidth") <= size["width"], address
        found = Axe().run(signed_in).response["violations"]
        assert [(one["id"], one["nodes"][0]["html"][:200]) for one in found] == [], address
