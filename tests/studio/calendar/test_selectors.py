"""Questions asked of the calendar, each against a calendar made for it."""

from datetime import timedelta

import pytest
from django.utils import timezone

from studio.calendar.selectors import (
    looms_at_once,
    openings,
    overdue,
    reservations_of,
    to_look_at,
    who_waits,
)
from studio.calendar.services import cancel_reservation, give_back, wait_for_loom
from studio.errors import LoomTaken
from studio.models import LoomOccupancy
from studio.rules.selectors import booking_rules
from tests.cast import steward, teacher, trained_member
from tests.studio.bookings import a_class, a_free_loom, check, day, out_of_order, reserve

pytestmark = pytest.mark.django_db


def test_the_rules_are_one_row():
    assert booking_rules().pk == booking_rules().pk == 1


def test_a_cancelled_reservation_keeps_no_loom():
    made = reserve(start=5, end=10)
    cancel_reservation(occupancy=made, by=made.member)
    assert openings([made.loom], 1, day(5))[0].starts_on == day(5)


def test_a_loom_opens_in_the_first_gap_that_is_long_enough():
    loom, keeper = a_free_loom(), steward()
    for start, end in ((0, 10), (15, 20), (40, 50)):
        reserve(loom, keeper, start, end)
    found = {days: openings([loom], days, day(0))[0] for days in (5, 6, 20, 21)}
    assert [found[days].starts_on for days in found] == [day(10), day(20), day(20), day(50)]
    assert [found[days].until for days in found] == [day(15), day(40), day(40), None]
    assert found[5].now.ends_before == day(10)


def test_a_free_loom_opens_today():
    (found,) = openings([a_free_loom()], 28, day(0))
    assert (found.starts_on, found.until, found.now) == (day(0), None, None)


@pytest.mark.parametrize("looms", [1, 12])
def test_as_many_questions_for_many_looms(django_assert_num_queries, looms):
    keeper = teacher()
    some = [a_free_loom() for _ in range(looms)]
    for loom in some[:6]:
        reserve(loom, keeper)
    with django_assert_num_queries(2):
        openings(some, 14, day(0))


def test_classes_and_closed_looms_are_not_counted_as_held():
    keeper = steward()
    a_class(by=keeper)
    out_of_order(by=keeper)
    reserve(member=keeper)
    assert looms_at_once(keeper, day(0), day(28)) == 1


def test_looms_held_at_once_are_the_most_on_any_one_day_asked_for():
    keeper = steward()
    for start, end in ((0, 10), (10, 20), (15, 30)):
        reserve(member=keeper, start=start, end=end)
    occupancy = [looms_at_once(keeper, day(start), day(end)) for start, end in ((0, 15), (0, 16), (20, 40), (30, 40))]
    assert occupancy == [1, 2, 1, 0]


def test_what_stands_over_its_time_keeps_its_loom_and_counts_on_any_day(time_machine):
    member, keeper = trained_member(), steward()
    loom = reserve(member=member, end=4).loom
    LoomOccupancy.objects.update(state="weaving")
    time_machine.move_to(timezone.now() + timedelta(days=6), tick=False)
    found = openings([loom], 5, day(0))[0]
    assert (found.starts_on, found.now.member) == (day(1), member)
    assert openings([loom], 5, day(2))[0].now is None
    assert looms_at_once(member, day(200), day(201)) == 1
    with pytest.raises(LoomTaken, match=r"is not given back: the time of the trained member"):
        reserve(loom, keeper, 0, 5)
    seen = check(loom, keeper, 0, 5)
    assert "is not given back" in seen.against
    assert seen.instead.starts_on == day(1)
    assert reserve(loom, keeper, 1, 5).starts_on == day(1)


def test_a_check_names_every_rule_that_refuses():
    member, keeper = trained_member(), steward()
    for _ in range(2):
        reserve(member=member)
    loom = reserve(member=keeper).loom
    seen = check(loom, member, 0, 5)
    assert "2 looms at once at most" in seen.against
    assert "taken by the steward" in seen.against


def test_my_reservations_are_those_to_come_and_those_overdue(time_machine):
    member = trained_member()
    lapsed, late = reserve(member=member, end=3), reserve(member=member, end=4)
    LoomOccupancy.objects.filter(pk=late.pk).update(state="weaving")
    time_machine.move_to(timezone.now() + timedelta(days=10), tick=False)
    coming = reserve(member=member, start=2, end=9)
    assert list(reservations_of(member, day(0))) == [late, coming]
    assert list(overdue(day(0))) == [late]
    assert openings([lapsed.loom], 1, day(0))[0].starts_on == day(0)


def test_what_is_given_back_is_nobodys():
    made = reserve()
    give_back(occupancy=made, by=made.member)
    assert list(reservations_of(made.member, day(0))) == []


def test_holds_are_looked_at_when_their_day_comes():
    made = reserve()
    LoomOccupancy.objects.filter(pk=made.pk).update(state="hold", held_from="weaving", review_on=day(3))
    assert (list(to_look_at(day(2))), list(to_look_at(day(3)))) == ([], [made])


def test_an_opening_says_how_many_wait():
    loom, other = a_free_loom(), a_free_loom()
    for member in (trained_member("first"), teacher("second")):
        wait_for_loom(loom=loom, member=member, days=14)
    assert [one.waiting for one in openings([other, loom], 5, day(0))] == [0, 2]


def test_the_queue_is_first_come_first_served():
    loom, first, second = a_free_loom(), trained_member("first"), teacher("second")
    for member in (first, second):
        wait_for_loom(loom=loom, member=member, days=14)
    assert [place.member for place in who_waits(loom)] == [first, second]
    assert [place.member for place in who_waits(loom, besides=first)] == [second]
