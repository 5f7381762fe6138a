"""The demo's studio on one day that never ends, with a card of every warp, loaded once for a module."""

import io
from unittest.mock import patch

import pytest
import time_machine
import weasyprint
from django.apps import apps
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.test import Client, override_settings

MONDAY = "2026-03-02T10:00:00+00:00"


def browser_of(username):
    """Give a browser in which somebody of the demo is signed in, or nobody."""
    browser = Client()
    if username:
        browser.force_login(get_user_model().objects.get(username=username))
    return browser


def warps():
    return apps.get_model("planner", "Project").objects.order_by("pk")


def owner_of(warp):
    return browser_of(warp.owner.user.get_username())


def print_cards():
    """Print one card of each warp for its own loom; the paper itself is left out, since it takes long."""
    with patch.object(weasyprint.HTML, "write_pdf", return_value=b"%PDF"):
        for warp in warps():
            owner_of(warp).post(f"/warps/{warp.pk}/cards/", {"beams": [warp.beam_id], "paper": "A4"})


@pytest.fixture(scope="module")
def studio(django_db_setup, django_db_blocker):
    """Load it into empty tables that count from one, whatever tests went before."""
    with django_db_blocker.unblock(), time_machine.travel(MONDAY, tick=False):
        call_command("flush", interactive=False, verbosity=0)
        with override_settings(DEMO=True):
            call_command("demo", "--no-serve", stdout=io.StringIO())
        print_cards()
        yield
        call_command("flush", interactive=False, verbosity=0)
