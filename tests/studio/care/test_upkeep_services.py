"""Upkeep that comes round: what is due when, who logs it, who sets it."""

from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from studio.calendar.dressing import change_loom_state
from studio.care.upkeep_selectors import upkeep_due, upkeep_log, upkeep_of
from studio.care.upkeep_services import keep_job, log_upkeep, set_usual_rhythm
from studio.care.words import USUAL_JOBS
from studio.errors import RuleSaysNo
from studio.models import Loom, UpkeepDone, UpkeepJob
from tests.cast import guest, new_member, steward, teacher, trained_member
from tests.factories import a_loom
from tests.studio.bookings import day
from tests.studio.calendar.test_dressing import dressed

pytestmark = pytest.mark.django_db


def job(loom=None, every_days=120, text="Tighten bolts"):
    return UpkeepJob.objects.create(loom=loom or a_loom(), text=text, every_days=every_days)


def done(made, days, by=None):
    return UpkeepDone.objects.create(job=made, done_on=day(days), done_by=by or steward())


def due(made, days=0):
    """Give whether and since or until when a job is due, in days from today."""
    (one,) = upkeep_of(made.loom, day(days))
    return one.is_due, one.due_on and (one.due_on - day(0)).days


def test_the_usual_rhythm_is_after_each_warp_each_term_and_each_year():
    # Typical rhythm of care: common practice, no source.
    loom, keeper = a_loom(), steward()
    assert set_usual_rhythm(loom=loom, by=keeper) == 3
    assert [one.rhythm for one in upkeep_of(loom, day(0))] == ["every 120 days", "every year", "after each warp"]
    assert set_usual_rhythm(loom=loom, by=keeper) == 0


def test_what_was_never_logged_is_due_now():
    assert due(job()) == (True, None)


@pytest.mark.parametrize(("days", "answer"), [(-119, (False, 1)), (-120, (True, 0)), (-130, (True, -10))])
def test_a_job_is_due_so_many_days_after_the_last_time(days, answer):
    made = job()
    done(made, -300)
    done(made, days, teacher())
    assert due(made) == answer


def test_after_each_warp_nothing_is_due_before_the_first_is_cut_off():
    assert due(job(every_days=None)) == (False, None)


def test_after_each_warp_it_is_due_from_the_cutting_off_until_it_is_done(time_machine):
    occupancy = dressed("weaving")
    made = job(occupancy.loom, every_days=None)
    done(made, -5)
    assert due(made) == (False, None)
    change_loom_state(occupancy=occupancy, to="cut_off", by=occupancy.member)
    assert due(made) == (True, 0)
    log_upkeep(job=made, done_on=day(0), by=teacher())
    assert due(made) == (False, None)


def test_another_looms_warp_makes_nothing_due():
    occupancy = dressed("weaving")
    made = job(every_days=None)
    change_loom_state(occupancy=occupancy, to="cut_off", by=occupancy.member)
    assert due(made) == (False, None)


def test_a_job_no_longer_done_and_a_loom_no_longer_in_use_are_never_due():
    made = job()
    keep_job(job=made, loom=made.loom, values={"retired": True}, by=steward())
    assert upkeep_of(made.loom, day(0)) == []
    Loom.objects.filter(pk=job().loom_id).update(retired=True)
    assert upkeep_due(day(0)) == []


def test_the_longest_due_comes_first():
    early, late, fine = job(text="a"), job(text="b"), job(text="c")
    keeper = steward()
    for one, days in ((early, -200), (late, -130), (fine, -10)):
        done(one, days, keeper)
    assert [one.job for one in upkeep_due(day(0))] == [early, late]


@pytest.mark.parametrize("looms", [2, 20])
def test_what_is_due_asks_twice_however_many_looms(looms, django_assert_num_queries):
    for _ in range(looms):
        loom = a_loom()
        for text, every_days in USUAL_JOBS:
            job(loom, every_days, text)
    with django_assert_num_queries(2):
        assert len(upkeep_due(day(0))) == looms * 2


@pytest.mark.parametrize("someone", [teacher, steward])
def test_teachers_and_stewards_log(someone):
    made = job()
    log_upkeep(job=made, done_on=day(-1), by=someone(), note="Two bolts were loose")
    (entry,) = upkeep_log(made.loom)
    assert (entry.done_by.role, entry.note) == (someone.__name__, "Two bolts were loose")


@pytest.mark.parametrize("someone", [guest, new_member, trained_member])
def test_others_log_nothing(someone):
    with pytest.raises(RuleSaysNo):
        log_upkeep(job=job(), done_on=day(0), by=someone())


@pytest.mark.parametrize("someone", [guest, new_member, trained_member, teacher])
def test_only_stewards_set_the_rhythm(someone):
    asker, loom = someone(), a_loom()
    with pytest.raises(RuleSaysNo):
        keep_job(job=None, loom=loom, values={"text": "Wax the beam", "every_days": 30}, by=asker)
    with pytest.raises(RuleSaysNo):
        set_usual_rhythm(loom=loom, by=asker)


@pytest.mark.parametrize("every_days", [0, 3651])
def test_a_rhythm_that_makes_no_sense_is_refused(every_days):
    with pytest.raises(ValidationError):
        keep_job(job=None, loom=a_loom(), values={"text": "Wax the beam", "every_days": every_days}, by=steward())


def test_a_job_stands_once_on_a_loom():
    made = job()
    with pytest.raises(ValidationError, match="has that job already"):
        keep_job(job=None, loom=made.loom, values={"text": made.text, "every_days": 5}, by=steward())


def test_a_day_to_come_is_not_logged():
    with pytest.raises(ValidationError, match="still to come"):
        log_upkeep(job=job(), done_on=timezone.localdate() + timedelta(days=1), by=steward())
