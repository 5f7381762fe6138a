"""What every test can count on: no waiting for people, and a browser only where there is one."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db.backends.base.operations import BaseDatabaseOperations
from hypothesis import HealthCheck
from hypothesis import settings as tries
from playwright.sync_api import Browser, Page, sync_playwright

from inventory.ledger.guards import lifted

BROWSERS = ("chromium", "chromium-browser")

# A busy computer is no fault of a test. In CI the same examples come each time; new ones are looked for at home.
patient: dict[str, Any] = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
tries.register_profile("home", **patient)
tries.register_profile("ci", derandomize=True, **patient)
tries.load_profile("ci" if os.environ.get("CI") else "home")


@pytest.fixture(scope="session", autouse=True)
def flush_past_the_guards():
    """Let Django empty the tables after a test that commits: the ledger's own guards refuse to lose a move.

    They refuse it here as in a studio, where emptying the tables is no deed of anybody's; so the trigger keeps no back
    door, and the tests lift it for that one moment, in one transaction.
    """
    plain = BaseDatabaseOperations.execute_sql_flush

    def flush(operations, sql_list):
        with lifted(operations.connection):
            plain(operations, sql_list)

    BaseDatabaseOperations.execute_sql_flush = flush
    yield
    BaseDatabaseOperations.execute_sql_flush = plain


def chromium() -> Path | None:
    """Give the browser that the system brings; none is ever downloaded."""
    found = [shutil.which(name) for name in BROWSERS]
    return next((Path(path) for path in found if path), None)


def pytest_collection_modifyitems(items):
    """Leave out browser tests for want of a browser; in CI that would hide a fault, so they fail there."""
    if chromium() or os.environ.get("CI"):
        return
    for item in items:
        if item.get_closest_marker("browser"):
            item.add_marker(pytest.mark.skip(reason="no Chromium; on Debian: apt-get install chromium"))


@pytest.fixture(scope="session")
def chromium_path() -> Path:
    """Give the browser's path, or fail with the line that brings it."""
    path = chromium()
    assert path, "No Chromium; on Debian: apt-get install chromium"
    return path


@pytest.fixture(scope="session")
def browser(chromium_path) -> Iterator[Browser]:
    """Give one browser for the whole run; root, as CI is, cannot have its sandbox."""
    # Playwright keeps an event loop in this thread, at which Django would refuse every query.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    arguments = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium_path, args=arguments)
        yield running
        running.close()


@pytest.fixture
def page(browser) -> Iterator[Page]:
    """Give an empty page with no memory of the last one."""
    context = browser.new_context(locale="en-GB", timezone_id="UTC")
    yield context.new_page()
    context.close()
