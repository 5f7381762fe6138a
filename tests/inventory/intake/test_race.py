"""A hurried thumb and a slow line: one form sent by two presses at once is one action, and one file is kept once.

Real processes on a real database: a file on SQLite, or PostgreSQL where DATABASE_URL says so.
"""

import multiprocessing

import pytest
from django.db import Error, connections

from inventory.files.plan import import_plan
from inventory.files.selectors import the_book
from inventory.files.services import import_file, stage_file, table_of
from inventory.intake.services import add_to_stock, name_arrivals, once
from inventory.ledger.selectors import ledger_faults
from inventory.models import Arrival, FileSent, Package, Yarn
from inventory.shelf.services import PackageFacts
from studio.errors import StudioError
from studio.models import Member
from tests.cast import trained_member
from tests.doors import own_door
from tests.inventory.files.hostile_files import csv_row
from tests.inventory.stock import a_yarn
from tests.races import PATIENCE

pytestmark = pytest.mark.django_db(transaction=True)

PRESSES = 4
RACE = multiprocessing.get_context("fork")
CONE = PackageFacts(gross_text="", tare_text="25 g")


def press(action, start, told):
    """Wait for the others, press, and tell what was answered."""
    own_door()
    start.wait()
    try:
        said = action(Member.objects.get())
    except StudioError as refused:
        said = refused.code
    except Error as failed:
        said = f"{type(failed).__name__}: {failed}"
    connections.close_all()
    told.put(said)


def pressed_at_once(action):
    """Give what each of several presses at the same moment was answered, in the order of the alphabet."""
    connections.close_all()  # no door of ours may be shared
    start, told = RACE.Barrier(PRESSES), RACE.Queue()
    presses = [RACE.Process(target=press, args=(action, start, told)) for _ in range(PRESSES)]
    for one in presses:
        one.start()
    said = sorted(told.get(timeout=PATIENCE) for _ in presses)
    for one in presses:
        one.join(PATIENCE)
    return said


def take_one(by):
    def action():
        return f"{add_to_stock(facts=CONE, grosses=['525 g'], by=by).arrivals[0]} waits."

    return once(stamp="the same", by=by, action=action)


def keep_it(by):
    sent = FileSent.objects.get()
    return import_file(sent=sent, by=by, seen=import_plan(table_of(sent), the_book(), "g").mark, good_only=False)


def name_it(by):
    return f"package {name_arrivals(arrivals=[Arrival.objects.get()], by=by, yarn=Yarn.objects.get())[0].pk}"


def test_a_form_pressed_by_many_thumbs_at_once_is_one_action():
    trained_member()
    said = pressed_at_once(take_one)
    (arrival,) = Arrival.objects.all()
    assert said == [f"{arrival} waits.", *[f"That was sent twice and kept once. {arrival} waits."] * (PRESSES - 1)]


def test_a_file_is_kept_once():
    member = trained_member()
    a_yarn()
    stage_file(name="donation.csv", content=csv_row(), mass_unit="g", member=member)
    said = pressed_at_once(keep_it)
    assert said[0] == "Kept: 1 new package."
    assert set(said[1:]) <= {"kept_already", "gone"}  # gone where it was read after the first had kept it
    assert Package.objects.count() == 1
    assert ledger_faults() == ()


def test_what_came_in_is_named_once():
    member = trained_member()
    a_yarn()
    add_to_stock(facts=CONE, grosses=["525 g"], by=member)
    said = pressed_at_once(name_it)
    assert said == [*["named_already"] * (PRESSES - 1), f"package {Package.objects.get().pk}"]
