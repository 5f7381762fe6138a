"""What every test can count on: no waiting for people, and a browser only where there is one."""

import os
import shutil
from pathlib import Path

import pytest

BROWSERS = ("chromium", "chromium-browser")


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
