"""Sixteen people at once at a few packages: what was answered "done" is there, and nothing was promised twice.

Real processes on a real database: a file on SQLite, or PostgreSQL where DATABASE_URL says so.
"""

import multiprocessing
from collections import Counter
from fractions import Fraction
from random import Random

import pytest
from django.db import Error, connections

from inventory.ledger.selectors import history_of, ledger_faults, promised_by_package
from inventory.ledger.services import reverse_move
from inventory.ledger.set_aside import allocate_many, release_all
from inventory.ledger.taking import issue_yarn, return_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, Package, SetAside
from studio.errors import StudioError
from studio.models import Member
from tests.cast import member
from tests.doors import own_door
from tests.inventory.stock import a_package, allocate, some_work
from tests.races import PATIENCE

pytestmark = pytest.mark.django_db(transaction=True)

WRITERS, TURNS, PACKAGES = 16, 20, 4
RACE = multiprocessing.get_context(
    "fork"
)  # each writer has the test's own settings and database, and opens its own door


def hammer(number, start, told):
    """Do many actions as fast as they go; tell which moves were acknowledged, and what was refused or failed."""
    own_door()
    dice = Random(number)
    packages, by = list(Package.objects.order_by("pk")), Member.objects.get(name=f"Member {number}")
    work = SetAside.objects.get(for_member=by)
    start.wait()
    made, count = [], Counter()
    for _ in range(TURNS):
        try:
            made += action(dice, packages, work, by)
            count["done"] += 1
        except StudioError as refused:
            count[refused.code] += 1
        except Error as failed:
            count[f"{type(failed).__name__}: {failed}"] += 1
    connections.close_all()
    told.put((made, count))


def action(dice, packages, work, by):
    """Do one action; give the keys of the moves it wrote."""
    package, mass = dice.choice(packages), Fraction(dice.randrange(5, 300), 10)
    what = dice.randrange(10)
    known = {"package": package, "by": by, "mass_g": mass}
    if what < 3:
        moves = [allocate(set_aside=work, **known)]
    elif what == 3:
        shares = [(one, mass) for one in dice.sample(packages, 3)]  # in no order: the action sorts its locks
        moves = allocate_many(set_aside=work, shares=shares, by=by)
    elif what < 6:
        moves = [issue_yarn(set_aside=dice.choice([work, None]), **known)]
    elif what == 6:
        moves = [return_yarn(**known)]
    elif what == 7:
        moves = release_all(set_aside=work, by=by)
    elif what == 8:
        weighed = weigh_package(package=package, gross_text=f"{dice.randrange(75, 175)} g", by=by)
        moves = [weighed.move, *weighed.cut]
    else:
        mine = Move.objects.filter(made_by=by, reversed_by=None).exclude(kind="reverse").order_by("-pk").first()
        moves = [reverse_move(move=mine, by=by)] if mine else []
    return [move.pk for move in moves]


@pytest.fixture
def race():
    """Let the writers loose on a shelf of few packages; give what they were told."""
    for number in range(WRITERS):
        some_work(member("steward", f"Member {number}"))
    for _ in range(PACKAGES):
        a_package(gross_text="125 g", tare_text="25 g")  # so little that every action is at the edge
    connections.close_all()  # a door is not shared across a fork
    start, told = RACE.Barrier(WRITERS), RACE.Queue()
    writers = [RACE.Process(target=hammer, args=(number, start, told)) for number in range(WRITERS)]
    for writer in writers:
        writer.start()
    answers = [told.get(timeout=PATIENCE) for _ in writers]
    for writer in writers:
        writer.join(timeout=PATIENCE)
    return [key for made, _ in answers for key in made], sum((count for _, count in answers), Counter())


def readings_not_followed():
    """Give the weighings after which the ledger said something else than the scale, as if others had not written."""
    odd = []
    for package in Package.objects.all():
        weighed = [move for move in history_of(package) if move.kind == "weigh"]
        odd += [move for move in weighed if f"{move.on_hand_after / 1_000_000 + 25:.0f} g" != move.scale_text]
    return odd


def test_sixteen_writers_lose_nothing_and_promise_nothing_twice(race):
    acknowledged, count = race
    refusals = {"not_enough_yarn", "more_than_is_out", "not_reversible"}
    assert count.keys() <= {"done", *refusals}, count
    assert count["done"] > WRITERS * TURNS / 4
    assert sum(count[code] for code in refusals) > 0
    kept = set(Move.objects.exclude(kind="receive").values_list("pk", flat=True))
    assert (len(set(acknowledged)), set(acknowledged)) == (len(acknowledged), kept)
    assert ledger_faults() == ()
    assert readings_not_followed() == []
    assert all(0 <= one.promised_ug <= one.on_hand_ug for one in Package.objects.all())
    promised = Counter()
    for work in SetAside.objects.all():
        promised.update(promised_by_package(work))
    assert {one.pk: one.promised_ug for one in Package.objects.all()} == {
        one.pk: promised[one.pk] for one in Package.objects.all()
    }
