"""Questions of the calendar's pages: who has a loom now and next, what is mine, which place in the queue."""

import pytest
import time_machine
from django.utils import timezone

from studio.calendar.dressing import change_loom_state
from studio.calendar.preview import available_actions
from studio.calendar.services import leave_queue, wait_for_loom
from studio.calendar.weeks import my_reservations, now_and_next, queue_places_of
from studio.errors import LoomTaken
from studio.models import BookingRules, Loom
from studio.rules.services import keep_booking_rules
from tests import cast, factories
from tests.studio import bookings as calendar

pytestmark = pytest.mark.django_db


def only_row():
    (row,) = now_and_next(Loom.objects.all(), timezone.localdate())
    return row


def test_a_loom_that_nobody_has_is_free():
    calendar.a_free_loom()
    assert (only_row().now, only_row().then, only_row().overdue) == (None, None, None)


def test_now_and_next_of_a_loom():
    now = calendar.reserve(start=0, end=5)
    then = calendar.reserve(now.loom, cast.teacher(), start=8, end=12)
    calendar.reserve(now.loom, cast.teacher("the other teacher"), start=12, end=15)
    assert (only_row().now, only_row().then) == (now, then)


def test_who_comes_later_is_next_and_not_now():
    then = calendar.reserve(start=2, end=5)
    assert (only_row().now, only_row().then) == (None, then)


def test_who_ends_today_has_it_no_more():
    occupancy = calendar.reserve(start=0, end=5)
    with time_machine.travel(f"{occupancy.ends_before}T12:00:00+00:00", tick=False):
        assert only_row().now is None


def test_places_are_counted_by_who_asked_first_and_close_up():
    loom = calendar.a_free_loom()
    first, second, third = cast.teacher(), cast.new_member(), cast.trained_member()
    places = [wait_for_loom(loom=loom, member=one, days=7) for one in (first, second, third)]
    assert [queue_places_of(one).get().place for one in (first, second, third)] == [1, 2, 3]
    leave_queue(place=places[0], by=first)
    assert queue_places_of(third).get().place == 2


def test_places_of_other_looms_do_not_count():
    someone = cast.new_member()
    wait_for_loom(loom=calendar.a_free_loom(), member=cast.teacher(), days=7)
    wait_for_loom(loom=calendar.a_free_loom(), member=someone, days=7)
    assert queue_places_of(someone).get().place == 1


@pytest.mark.parametrize(("end", "soon"), [(7, True), (8, False)])
def test_the_reminder_comes_when_the_rules_say(end, soon):
    # One published policy reminds a week before the end; it is the default of remind_days.
    (mine,) = my_reservations(calendar.reserve(end=end).member, timezone.localdate())
    assert mine.ends_soon is soon


def test_a_loom_out_of_order_is_nobodys_own():
    assert my_reservations(calendar.out_of_order().made_by, timezone.localdate()) == []


def test_a_check_says_what_the_action_would_say():
    occupancy, someone = calendar.reserve(start=0, end=5), cast.teacher()
    seen = calendar.check(occupancy.loom, someone, 1, 4)
    with pytest.raises(LoomTaken) as refused:
        calendar.reserve(occupancy.loom, someone, start=1, end=4)
    assert seen.against == refused.value.message
    assert seen.instead.starts_on == calendar.day(5)


def test_a_check_minds_the_tools_and_their_briefings():
    box, someone = factories.a_station(kind="box", training_needed=True), cast.new_member()
    loom = factories.a_plain_beam().loom
    seen = calendar.check(loom, someone, 1, 4, tools=(box,))
    assert "safety briefing" in seen.against


def test_each_may_do_what_role_and_state_allow():
    occupancy, today = calendar.reserve(), timezone.localdate()
    own, other = (
        available_actions(occupancy, occupancy.member, today),
        available_actions(occupancy, cast.new_member(), today),
    )
    assert (own.cancel, own.give_back, own.hold, own.cut_off, own.call_back) == (True, True, False, False, False)
    assert not any(getattr(other, name) for name in other.__slots__)
    occupancy = change_loom_state(occupancy=occupancy, to="beaming", by=occupancy.member)
    own, steward = (
        available_actions(occupancy, occupancy.member, today),
        available_actions(occupancy, cast.steward(), today),
    )
    assert (own.cancel, own.give_back, own.hold, own.cut_off) == (False, False, True, True)
    assert (steward.cut_off, steward.call_back, available_actions(occupancy, cast.teacher(), today).cut_off) == (
        True,
        True,
        False,
    )


def test_rules_are_kept_in_their_one_row():
    keep_booking_rules(values={"longest_days": 10})
    assert BookingRules.objects.get().longest_days == 10
