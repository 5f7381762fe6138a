"""A loom that breaks while somebody has it: free days are closed, the others stay and their owners are told."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from studio.calendar.closing import close_loom
from studio.calendar.services import ReservationRequest, give_back, wait_for_loom
from studio.care.check_selectors import faults_met
from studio.care.check_services import PointAnswer, fill_check
from studio.errors import LoomTaken, RuleSaysNo
from studio.models import Fault, LoomOccupancy, Notice
from tests.cast import new_member, steward, teacher, trained_member
from tests.studio.bookings import a_free_loom, check, day, out_of_order, reserve

pytestmark = pytest.mark.django_db
Kind = LoomOccupancy.Kind


def close(loom, by=None, start=0, end=20):
    by = by or steward()
    request = ReservationRequest(
        member=by, title="Brake is worn", starts_on=day(start), ends_before=day(end), kind=Kind.OUT
    )
    return close_loom(loom=loom, request=request, by=by)


def days_closed(closed):
    return [(span.starts_on, span.ends_before) for span in closed.spans]


def test_a_free_loom_is_closed_for_all_days_and_nobody_is_told():
    closed = close(a_free_loom())
    assert (days_closed(closed), closed.met, closed.fault) == ([(day(0), day(20))], (), None)
    assert not Notice.objects.exists()


def test_days_that_others_have_stay_and_the_rest_is_closed():
    member = trained_member()
    first = reserve(member=member, start=0, end=3)
    second = reserve(first.loom, teacher(), 10, 15)
    closed = close(first.loom)
    assert days_closed(closed) == [(day(3), day(10)), (day(15), day(20))]
    assert closed.met == (first, second)
    assert Fault.objects.get() == closed.fault
    assert closed.fault.text == "Out of order: Brake is worn"
    told = {notice.member: notice for notice in Notice.objects.all()}
    assert set(told) == {member, second.member}
    assert told[member].occupancy == first
    assert "is out of order: Brake is worn (noted by the steward)" in told[member].text
    assert "Your days stay yours" in told[member].text


def test_a_loom_that_is_taken_all_along_has_an_open_fault_alone():
    made = reserve()
    assert (close(made.loom).spans, Fault.objects.count()) == ((), 1)


def test_a_warp_over_its_time_is_told_too(time_machine):
    late = reserve(end=3)
    LoomOccupancy.objects.update(state="weaving")
    time_machine.move_to(timezone.now() + timedelta(days=5), tick=False)
    closed = close(late.loom)
    assert (closed.met, days_closed(closed)) == ((late,), [(day(0), day(20))])


def test_who_gave_a_loom_back_is_not_told():
    made = reserve()
    give_back(occupancy=made, by=made.member)
    closed = close(made.loom)
    assert (closed.met, days_closed(closed)) == ((), [(day(1), day(20))])


def test_a_loom_is_not_closed_twice():
    loom = out_of_order(start=5, end=9).loom
    with pytest.raises(LoomTaken, match="out of order already"):
        close(loom, by=LoomOccupancy.objects.get().member)


def test_only_stewards_close_a_loom_that_is_taken():
    made = reserve()
    with pytest.raises(RuleSaysNo):
        close(made.loom, by=teacher())
    assert not Fault.objects.exists()


def test_the_pages_say_what_closing_brings_and_what_is_wrong(client):
    made, keeper = reserve(), steward()
    client.force_login(keeper.user)
    address = reverse("reserve", args=[made.loom.pk])
    typed = {
        "starts_on": day(0).isoformat(), "last_day": day(30).isoformat(), "title": "Brake is worn", "kind": "out",
        "member": keeper.pk,
    }  # fmt: skip
    page = client.post(address, {**typed, "look": "yes"}).content.decode()
    assert "In these days others have the loom" in page
    assert not Fault.objects.exists()
    done = client.post(address, typed, follow=True)
    assert done.redirect_chain == [(made.loom.get_absolute_url(), 302)]
    assert "It stands as an open fault, and they are told." in done.content.decode()
    assert "Out of order: Brake is worn" in client.get(made.get_absolute_url()).content.decode()
    assert "Open faults" in client.get(made.get_absolute_url()).content.decode()


def test_a_check_says_how_many_others_wait(client):
    made, member = reserve(), trained_member("asks")
    for waits in (member, new_member("first"), new_member("second")):
        wait_for_loom(loom=made.loom, member=waits, days=7)
    seen = check(made.loom, member, 0, 5)
    assert seen.waiting == 2
    client.force_login(member.user)
    typed = {"starts_on": day(40).isoformat(), "last_day": day(45).isoformat(), "look": "yes"}
    page = client.post(reverse("reserve", args=[made.loom.pk]), typed).content.decode()
    assert "2 wait for this loom." in page


def test_a_class_given_back_offers_no_hours_and_counts_no_days(client, time_machine):
    time_machine.move_to(timezone.now().replace(hour=10), tick=False)  # late at night no hour of today is left
    keeper = teacher()
    warp = reserve(member=keeper, kind=Kind.CLASS)
    client.force_login(keeper.user)
    page = client.get(warp.get_absolute_url()).content.decode()
    assert "#book-hours" in page
    assert "Left, today included" in page
    give_back(occupancy=warp, by=keeper)
    page = client.get(warp.get_absolute_url()).content.decode()
    assert "#book-hours" not in page
    assert "Left, today included" not in page


def test_what_ones_own_list_found_is_not_told_twice():
    first = reserve(start=0, end=5)
    LoomOccupancy.objects.update(state="beaming")
    answers = [PointAnswer("Reed", "one dent is bent")]
    fill_check(occupancy=first, moment="begin", answers=answers, by=first.member)
    second = reserve(first.loom, teacher(), 5, 9)
    assert [fault.text for fault in faults_met(second)] == ["Reed: one dent is bent"]
    assert list(faults_met(LoomOccupancy.objects.get(pk=first.pk))) == []
    closed = close(first.loom)
    assert list(faults_met(LoomOccupancy.objects.get(pk=first.pk))) == [closed.fault]
