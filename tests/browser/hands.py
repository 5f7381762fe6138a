"""What every walk on the warp sheet does: keep a warp, open its sheet, read a figure of its plan."""

from playwright.sync_api import expect

from planner.sheet.services import save_project
from tests.planner.sheets import towels


def figure(page, name):
    """Give the big figure under a name."""
    return page.locator("#plan .plan-figures > div").filter(has=page.get_by_text(name, exact=True)).locator(".figure")


def saved(beam, member, **changes):
    return save_project(owner=member, typed=towels(beam, **changes), by=member)


def open_sheet(page, live_server, project):
    page.goto(live_server.url + project.get_absolute_url())
    expect(page.get_by_role("heading", name="Plan", exact=True)).to_be_attached()
