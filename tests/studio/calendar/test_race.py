"""Sixteen people at once at four looms: nobody is double-booked, and what was answered "done" is there.

Real processes on a real database: a file on SQLite, or PostgreSQL where DATABASE_URL says so.
"""

import multiprocessing
import os
import select
import signal
import time
from collections import Counter
from datetime import timedelta
from random import Random

import pytest
from django.db import Error, connection, connections
from django.db.models import F
from django.utils import timezone

from studio.calendar.services import ReservationRequest, cancel_reservation, move_reservation, reserve_loom
from studio.errors import StudioError
from studio.models import BookingRules, Loom, LoomOccupancy, Member, Reed, ToolBooking
from studio.rules.selectors import booking_rules
from tests.cast import member
from tests.doors import own_door
from tests.factories import a_loom, a_reed
from tests.races import PATIENCE

pytestmark = pytest.mark.django_db(transaction=True)

WRITERS, ATTEMPTS, LOOMS, DAYS, REEDS = 16, 100, 4, 60, 2
KILLS, LONGEST_LIFE_S = 30, 0.25
RACE = multiprocessing.get_context("fork")  # each writer has the test's own settings, and opens its own door
REFUSALS = {"loom_taken", "tool_taken"}


@pytest.fixture
def house():
    """Give a house of few looms and reeds, where everybody may have as many as she likes."""
    for number in range(WRITERS):
        member("steward", f"Member {number}")
    for _ in range(LOOMS):
        a_loom()
    for _ in range(REEDS):
        a_reed()
    booking_rules()
    BookingRules.objects.update(looms_steward=99)
    connections.close_all()  # a door is not shared across a fork


def attempt(dice, by):
    """Reserve some days of some loom, at times with a reed; now and then move or cancel one's own."""
    start = timezone.localdate() + timedelta(days=dice.randrange(DAYS))
    end = start + timedelta(days=dice.randrange(1, 8))
    mine = LoomOccupancy.objects.filter(member=by, cancelled_at=None).order_by("?").first()
    what = dice.randrange(10)
    if mine is not None and what == 0:
        return cancel_reservation(occupancy=mine, by=by)
    if mine is not None and what == 1:
        return move_reservation(occupancy=mine, starts_on=start, ends_before=end, by=by)
    tools = (dice.choice(list(Reed.objects.all())),) if what == 2 else ()
    request = ReservationRequest(member=by, title="Towels", starts_on=start, ends_before=end, tools=tools)
    return reserve_loom(loom=dice.choice(list(Loom.objects.all())), request=request, by=by)


def hammer(number, start, told):
    """Try as fast as it goes; tell what was acknowledged, and what was refused or failed."""
    own_door()
    if connection.vendor == "sqlite":  # its waiting is not fair, and a busy machine is no fault of the studio's
        connection.settings_dict["OPTIONS"] = {**connection.settings_dict["OPTIONS"], "timeout": PATIENCE}
    dice, by = Random(number), Member.objects.get(name=f"Member {number}")
    start.wait()
    kept, count = {}, Counter()
    for _ in range(ATTEMPTS):
        try:
            made = attempt(dice, by)
            kept[made.pk] = (made.starts_on, made.ends_before, made.stands)
            count["done"] += 1
        except StudioError as refused:
            count[refused.code] += 1
        except Error as failed:
            count[f"{type(failed).__name__}: {failed}"] += 1
    connections.close_all()
    told.put((kept, count))


def overlaps():
    """Give every pair that meets, by a join of the tables with themselves."""
    asked = [
        f"SELECT a.id, b.id FROM {table} a JOIN {table} b ON a.{thing} = b.{thing} AND a.id < b.id "
        f"AND a.{start} < b.{end} AND b.{start} < a.{end} WHERE a.cancelled_at IS NULL AND b.cancelled_at IS NULL"
        for table, thing, start, end in (
            ("studio_loomoccupancy", "loom_id", "starts_on", "ends_before"),
            ("studio_toolbooking", "reed_id", "starts_at", "ends_at"),
        )
    ]
    found = []
    with connection.cursor() as cursor:
        for question in asked:
            cursor.execute(question)
            found += cursor.fetchall()
    return found


def astray():
    """Give tools that do not go where their loom goes."""
    along = ToolBooking.objects.filter(occupancy__isnull=False)
    return [one for one in along.select_related("occupancy") if one.stands != one.occupancy.stands]


@pytest.mark.slow
def test_sixteen_writers_are_never_double_booked(house):
    start, told = RACE.Barrier(WRITERS), RACE.Queue()
    writers = [RACE.Process(target=hammer, args=(number, start, told)) for number in range(WRITERS)]
    for writer in writers:
        writer.start()
    answers = [told.get(timeout=PATIENCE) for _ in writers]
    for writer in writers:
        writer.join(timeout=PATIENCE)
    count = sum((one for _, one in answers), Counter())
    kept = {pk: facts for one, _ in answers for pk, facts in one.items()}
    stored = {one.pk: (one.starts_on, one.ends_before, one.stands) for one in LoomOccupancy.objects.filter(pk__in=kept)}
    assert count.keys() <= {"done", *REFUSALS}, count
    assert sum(count.values()) == WRITERS * ATTEMPTS
    assert count["done"] > LOOMS and sum(count[code] for code in REFUSALS) > WRITERS  # noqa: PT018 - one thought
    assert (overlaps(), astray()) == ([], [])
    assert (stored, LoomOccupancy.objects.count()) == (kept, len(kept))


def write_until_killed(number, door):
    """Reserve and cancel without end; say each action only when it is acknowledged."""
    own_door()
    by = Member.objects.get(name=f"Member {number % WRITERS}")
    dice = Random(number)
    while True:
        try:
            made = attempt(dice, by)
        except StudioError:
            continue
        os.write(door, f"{made.pk} {made.starts_on} {made.ends_before} {int(made.stands)}\n".encode())


def acknowledged(door):
    """Read what was said before the end; a line cut short was never said."""
    heard = b""
    while chunk := os.read(door, 65_536):
        heard += chunk
    return [line.split() for line in heard.decode().split("\n")[:-1]]


@pytest.mark.slow
def test_a_writer_killed_in_the_middle_loses_nothing_it_acknowledged(house):
    dice, kept = Random(30), {}
    for number in range(KILLS):
        ear, mouth = os.pipe()
        writer = RACE.Process(target=write_until_killed, args=(number, mouth))
        writer.start()
        os.close(mouth)
        assert select.select([ear], [], [], PATIENCE)[
            0
        ]  # it lives until it has said something, however busy the machine
        time.sleep(dice.uniform(0, LONGEST_LIFE_S))
        os.kill(writer.pid, signal.SIGKILL)
        writer.join()
        kept |= {int(pk): (start, end, stands) for pk, start, end, stands in acknowledged(ear)}
        os.close(ear)
    stored = {
        one.pk: (f"{one.starts_on}", f"{one.ends_before}", f"{int(one.stands)}")
        for one in LoomOccupancy.objects.filter(pk__in=kept)
    }
    # The last action of each may have been kept without being said; none that was said may be missing.
    later = [pk for pk in kept if stored.get(pk) != kept[pk]]
    assert set(kept) <= set(stored)
    assert len(later) <= KILLS
    assert len(kept) > KILLS / 2  # each said one thing or more, and some said the same loom twice
    assert (overlaps(), astray()) == ([], [])
    assert LoomOccupancy.objects.filter(changes=0, steps=None).count() == 0
    assert not LoomOccupancy.objects.filter(ends_before__lte=F("starts_on")).exists()
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA integrity_check")
            assert cursor.fetchall() == [("ok",)]
