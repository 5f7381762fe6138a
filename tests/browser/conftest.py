"""A studio of one loom, and a member who has signed in, for walks in a real browser."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests import cast
from tests.factories import a_beam, a_loom, a_reed
from tests.planner.sheets import a_yarn


@pytest.fixture
def member():
    return cast.trained_member()


@pytest.fixture
def house():
    """Give a studio of one loom with its reed, and a yarn on the shelf."""
    a_reed()
    return a_beam(a_loom(nickname="Heron")), a_yarn()


@pytest.fixture
def signed_in(page, live_server, member):
    page.goto(live_server.url + reverse("warps"))
    page.get_by_label("Username").fill(member.user.username)
    page.get_by_label("Password").fill(cast.PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Warps", exact=True)).to_be_visible()
    return page
