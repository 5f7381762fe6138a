"""Eight timers at once: each notice is written once and sent once, and the queue is told one by one.

Real processes on a real database: a file on SQLite, or PostgreSQL where DATABASE_URL says so.
"""

import multiprocessing

import pytest
from django.db import connections
from django.utils import timezone

from studio.calendar.notify import make_notices
from studio.calendar.services import wait_for_loom
from studio.models import BookingRules, Notice, QueuePlace
from studio.notices.mail import send_notices
from studio.notices.services import choose_mail
from studio.rules.selectors import booking_rules, studio_rules
from tests.cast import member
from tests.doors import own_door
from tests.factories import a_loom
from tests.races import PATIENCE
from tests.studio.bookings import reserve

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]

RUNS, MEMBERS, LOOMS = 8, 6, 4
RACE = multiprocessing.get_context("fork")


@pytest.fixture
def letterbox(settings, tmp_path):
    """Give a folder into which every process puts its letters."""
    settings.MAIL_IS_SET_UP = True
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = str(tmp_path)
    return tmp_path


@pytest.fixture
def house():
    """Give a house where six times end, six looms are free, and three wait for each of those."""
    people = [member("steward", f"Member {number}") for number in range(MEMBERS)]
    booking_rules()
    studio_rules()
    BookingRules.objects.update(looms_steward=99)
    for person in people:
        choose_mail(member=person, email=f"{person.user.username}@example.org", no_mail_for=[])
        reserve(a_loom(), person, end=3)
    for _ in range(LOOMS):
        loom = a_loom()
        for person in people[:3]:
            wait_for_loom(loom=loom, member=person, days=7)
    connections.close_all()  # a door is not shared across a fork


def run(start, told):
    own_door()
    start.wait()
    made = make_notices(today=timezone.localdate())
    sent = send_notices()
    connections.close_all()
    told.put((made, sent.mailed))


def test_eight_at_once_tell_and_mail_each_thing_once(house, letterbox):
    start, told = RACE.Barrier(RUNS), RACE.Queue()
    timers = [RACE.Process(target=run, args=(start, told)) for _ in range(RUNS)]
    for timer in timers:
        timer.start()
    answers = [told.get(timeout=PATIENCE) for _ in timers]
    for timer in timers:
        timer.join(timeout=PATIENCE)
    wanted = MEMBERS + LOOMS  # an end for each member, and one of three for each free loom
    letters = "".join(path.read_text() for path in letterbox.iterdir()).count("Message-ID:")
    assert (sum(made for made, _ in answers), Notice.objects.count()) == (wanted, wanted)
    assert (sum(sent for _, sent in answers), letters) == (wanted, wanted)
    assert QueuePlace.objects.filter(told_at__isnull=False).count() == LOOMS
