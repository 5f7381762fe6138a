"""Notices: who is told what and when, and each thing once."""

from datetime import timedelta

import pytest
from django.utils import timezone

from studio.calendar.dressing import call_back, offer_loom, put_on_hold, take_over
from studio.calendar.notify import make_notices, tell
from studio.calendar.services import (
    ReservationRequest,
    cancel_reservation,
    give_back,
    leave_queue,
    move_reservation,
    reserve_loom,
    wait_for_loom,
)
from studio.dates import day_words
from studio.models import BookingRules, Loom, LoomOccupancy, Notice, QueuePlace
from studio.notices.selectors import unseen
from studio.notices.services import choose_mail, see_all, see_notice
from studio.rules.selectors import booking_rules
from tests.cast import new_member, steward, teacher, trained_member
from tests.factories import a_loom, a_plain_beam
from tests.studio.bookings import a_class, a_free_loom, day, out_of_order, reserve
from tests.studio.calendar.test_dressing import bring, dressed

pytestmark = pytest.mark.django_db


def told(member):
    """Give what somebody was told, oldest first, and when the action is done the day's notices too."""
    return [notice.kind for notice in Notice.objects.filter(member=member).order_by("pk")]


def run(days=0):
    return make_notices(today=day(days))


def waits(loom, member, days=14):
    return wait_for_loom(loom=loom, member=member, days=days)


def test_a_time_that_ends_within_the_rule_is_told_once():
    # A week before the end is the figure of a published studio policy; it is the rule's default.
    made = reserve(end=20)
    assert booking_rules().remind_days == 7
    assert [run(12), run(13), run(13), run(14)] == [0, 1, 0, 0]
    notice = Notice.objects.get()
    assert (notice.member, notice.kind, notice.occupancy) == (made.member, "ending", made)
    assert f"ends with {day_words(made.last_day)}" in notice.text


def test_a_time_that_was_lengthened_is_told_again_for_its_new_end():
    made = reserve(end=20)
    run(14)
    move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(30), by=made.member)
    assert [run(15), run(23)] == [0, 1]
    assert told(made.member) == ["ending", "ending"]


def test_the_rule_moves_the_reminder():
    reserve(end=20)
    booking_rules()
    BookingRules.objects.update(remind_days=2)
    assert [run(17), run(18)] == [0, 1]


@pytest.mark.parametrize("what", ["cancelled", "given back", "out of order", "not begun"])
def test_nobody_is_reminded_of_what_is_over_or_no_ones_time(what):
    if what == "out of order":
        out_of_order(end=5)
    elif what == "not begun":
        reserve(start=1, end=5)
    else:
        made = reserve(end=5)
        (cancel_reservation if what == "cancelled" else give_back)(occupancy=made, by=made.member)
    assert run() == 0


def test_an_overdue_loom_is_told_to_who_has_it_and_to_every_steward_once():
    made, keeper = dressed(end=10), steward()
    assert [run(9), run(10), run(11)] == [1, 2, 0]
    assert (told(made.member), told(keeper)) == (["ending", "overdue"], ["overdue"])
    texts = {notice.member_id: notice.text for notice in Notice.objects.filter(kind="overdue")}
    assert texts[made.member_id].startswith("Your time")
    assert texts[keeper.pk].startswith("the trained member’s time")
    assert f"From {day_words(day(40))} a steward may cut the warp off." in texts[keeper.pk]


def test_a_reservation_nobody_took_up_is_not_overdue():
    reserve(end=10)
    steward()
    assert run(11) == 0


def test_a_hold_is_told_on_its_day():
    made = dressed(end=80)
    put_on_hold(occupancy=made, review_on=day(5), by=made.member)
    assert [run(4), run(5), run(6)] == [0, 1, 0]
    assert told(made.member) == ["review"]


def test_a_loom_called_back_is_told_at_once_with_the_reason():
    made, caller = reserve(end=60), teacher()
    call_back(occupancy=made, ends_before=day(20), by=caller, note="The class needs it.")
    (notice,) = Notice.objects.filter(member=made.member)
    assert notice.kind == "called"
    assert notice.text.startswith("the teacher calls loom")
    assert notice.text.endswith("The class needs it.")


def test_who_calls_her_own_loom_back_is_not_told():
    caller = teacher()
    call_back(occupancy=reserve(member=caller, end=60), ends_before=day(20), by=caller, note="")
    assert not Notice.objects.exists()


def test_a_called_back_loom_that_is_called_back_further_is_told_again():
    made, caller = reserve(end=60), teacher()
    for end in (20, 10):
        call_back(occupancy=made, ends_before=day(end), by=caller, note="The class needs it.")
    assert told(made.member) == ["called", "called"]


def test_the_first_who_waits_is_told_when_the_loom_is_given_back():
    made, first, second = reserve(), new_member(), steward()
    for member in (first, second):
        waits(made.loom, member)
    give_back(occupancy=made, by=made.member)
    assert (told(first), told(second)) == ([], [])  # it began today, so the day is still its own
    assert run(1) == 1
    assert (told(first), told(second)) == (["free"], [])
    assert QueuePlace.objects.get(member=first).told_at is not None


def given_back_early(**known):
    """Give a reservation that began yesterday, so that it frees the loom today."""
    made = reserve(**known)
    LoomOccupancy.objects.update(starts_on=day(-1))
    return LoomOccupancy.objects.get(pk=made.pk)


def test_a_loom_freed_today_is_told_by_the_action_itself():
    made, first = given_back_early(), new_member()
    waits(made.loom, first)
    give_back(occupancy=made, by=made.member)
    assert told(first) == ["free"]
    assert run() == 0


def test_a_cancelled_reservation_frees_the_loom_for_who_waits():
    made, first = reserve(), new_member()
    waits(made.loom, first)
    cancel_reservation(occupancy=made, by=made.member)
    assert told(first) == ["free"]


def test_the_next_is_told_when_the_first_leaves():
    loom, first, second = a_free_loom(), new_member(), steward()
    place, _ = waits(loom, first), waits(loom, second)
    run()
    leave_queue(place=place, by=first)
    assert (told(first), told(second)) == (["free"], ["free"])


def test_the_next_is_told_after_so_many_days_and_the_first_not_again(time_machine):
    loom, people = a_free_loom(), [new_member(), steward(), teacher()]
    for member in people:
        waits(loom, member)
    seen = []
    for _ in range(8):
        run()
        seen.append([len(told(member)) for member in people])
        time_machine.move_to(timezone.now() + timedelta(days=1))
    assert booking_rules().queue_days == 3
    assert seen == [[1, 0, 0]] * 3 + [[1, 1, 0]] * 3 + [[1, 1, 1]] * 2


def test_a_loom_freed_anew_is_told_anew(time_machine):
    loom, first = a_free_loom(), new_member()
    waits(loom, first)
    run()
    other = trained_member("another")
    reserve_loom(
        loom=loom,
        request=ReservationRequest(member=other, title="Scarf", starts_on=day(0), ends_before=day(5)),
        by=other,
    )
    for _ in range(7):
        time_machine.move_to(timezone.now() + timedelta(days=1))
        run()
    assert told(first) == ["free", "free"]


def test_who_wants_more_days_than_there_are_is_passed_over():
    loom, first, second = a_free_loom(), new_member(), steward()
    a_class(loom, start=10, end=20)
    waits(loom, first, days=30)
    waits(loom, second, days=10)
    run()
    assert (told(first), told(second)) == ([], ["free"])


@pytest.mark.parametrize("why", ["taken", "overdue", "out of order", "retired"])
def test_nobody_is_told_of_a_loom_that_cannot_be_had(why):
    loom, first = a_free_loom(), new_member()
    waits(loom, first)
    if why == "out of order":
        out_of_order(loom)
    elif why == "retired":
        Loom.objects.update(retired=True)
    else:
        made = reserve(loom, start=0, end=3)
        bring(made, "weaving")
    run(4 if why == "overdue" else 0)
    assert "free" not in told(first)


def test_an_offer_is_told_once_to_who_waits_for_that_loom():
    made, first = dressed(), new_member()
    waits(made.loom, first)
    waits(a_plain_beam(a_loom()).loom, steward())
    for wanted in (True, True):
        offer_loom(occupancy=made, by=made.member, open_to_take_over=wanted)
    assert [notice.member for notice in Notice.objects.all()] == [first]
    assert "open to take over with “Towels” on it: weaving" in Notice.objects.get().text


def test_who_begins_to_wait_while_an_offer_stands_is_told_of_it():
    made, first = dressed(), new_member()
    offer_loom(occupancy=made, by=made.member)
    waits(made.loom, first)
    assert told(first) == ["offered"]


def test_an_offer_taken_back_takes_its_notice_back_and_a_new_one_is_told_anew():
    made, first = dressed(), new_member()
    waits(made.loom, first)
    seen = []
    for wanted in (True, False, True):
        offer_loom(occupancy=made, by=made.member, open_to_take_over=wanted)
        seen.append(told(first))
    assert seen == [["offered"], [], ["offered"]]


def test_an_offer_that_somebody_took_is_told_no_longer():
    made, first = dressed(), new_member()
    waits(made.loom, first)
    offer_loom(occupancy=made, by=made.member)
    take_over(occupancy=made, title="The rest", by=trained_member("another"))
    assert told(first) == []


@pytest.mark.parametrize("action", [cancel_reservation, give_back])
def test_an_offer_goes_with_the_time_it_was_of(action):
    made, first = reserve(), new_member()
    waits(made.loom, first)
    offer_loom(occupancy=made, by=made.member)
    action(occupancy=made, by=made.member)
    assert "offered" not in told(first)


def test_who_is_taken_over_from_is_told_by_whom():
    made, taker = dressed(), trained_member("another")
    offer_loom(occupancy=made, by=made.member)
    take_over(occupancy=made, title="The rest", by=taker)
    assert told(made.member) == ["taken"]
    assert Notice.objects.get().text.startswith("another took over loom")


def test_the_longest_names_and_words_are_told_whole():
    caller, who = teacher("t" * 60), trained_member("m" * 60)
    made = reserve(a_free_loom(nickname="n" * 60), who, end=60, title="w" * 120)
    call_back(occupancy=made, ends_before=day(20), by=caller, note="x" * 400)
    assert Notice.objects.get().text.endswith("x" * 400)


def test_a_action_that_fails_tells_nobody():
    made = reserve(end=60)
    with pytest.raises(Exception, match="Give a last day"):
        call_back(occupancy=made, ends_before=day(90), by=teacher(), note="")
    assert not Notice.objects.exists()


def test_the_same_notice_is_written_once():
    made = reserve()
    facts = {"member": made.member, "kind": "ending", "key": "x", "text": "a", "loom": made.loom}
    assert [tell(**facts), tell(**{**facts, "text": "b"})] == [True, False]
    assert Notice.objects.get().text == "a"


def test_seen_is_noted_for_ones_own_alone():
    made, other = reserve(end=3), new_member()
    run()
    notice = Notice.objects.get()
    see_notice(member=other, pk=notice.pk)
    see_all(member=other)
    assert unseen(made.member) == [notice]
    see_notice(member=made.member, pk=notice.pk)
    assert unseen(made.member) == []


def test_a_rule_of_the_house_cannot_be_turned_off():
    someone = new_member()
    choose_mail(member=someone, email="weaver@example.org", no_mail_for=["overdue", "called", "free"])
    someone.refresh_from_db()
    assert (someone.no_mail_for, someone.user.email) == (["free"], "weaver@example.org")


@pytest.mark.parametrize("rows", [2, 8])
def test_a_run_with_nothing_new_asks_little_for_each_loom(rows, django_assert_max_num_queries):
    keeper = steward()
    booking_rules()
    BookingRules.objects.update(looms_steward=99)
    for _ in range(rows):
        reserve(a_free_loom(), keeper, end=3)
    run()
    with django_assert_max_num_queries(6 + rows):
        run()
