"""Reserving: what is kept, what is refused with the rule that stands against it, and what goes along."""

from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from studio.calendar.seat_services import book_seat, cancel_seat
from studio.calendar.services import (
    book_tool,
    cancel_reservation,
    cancel_tool,
    give_back,
    leave_queue,
    move_reservation,
    wait_for_loom,
)
from studio.errors import LoomTaken, NotTrained, RuleSaysNo, StillInUse, StudioError
from studio.looms.services import remove_loom
from studio.models import BookingRules, LoomOccupancy, ToolBooking
from studio.people.services import record_briefing
from studio.rules.selectors import booking_rules
from tests.cast import guest, new_member, steward, teacher, trained_member
from tests.factories import a_beam, a_loom, a_plain_beam, a_reed, a_station
from tests.studio.bookings import a_class, a_free_loom, at, day, out_of_order, reserve, sit

pytestmark = pytest.mark.django_db
Kind = LoomOccupancy.Kind


def rule(**values):
    """Change a rule of reserving."""
    booking_rules()
    BookingRules.objects.update(**values)


def test_a_loom_is_reserved_from_a_day_up_to_another():
    member = trained_member()
    made = reserve(member=member, start=3, end=24)
    assert (made.starts_on, made.ends_before, made.last_day, made.days) == (day(3), day(24), day(23), 21)
    assert [(step.state, step.made_by) for step in made.steps.all()] == [("reserved", member)]


def test_one_may_begin_on_the_day_another_is_out():
    loom = a_free_loom()
    first = reserve(loom, start=0, end=10)
    assert reserve(loom, teacher(), start=10, end=20).starts_on == first.ends_before


@pytest.mark.parametrize(("start", "end"), [(0, 11), (12, 15), (19, 30), (10, 20), (9, 21)])
def test_a_loom_that_somebody_has_is_refused_with_the_day_it_is_free(start, end):
    loom = a_free_loom()
    reserve(loom, trained_member("somebody"), start=10, end=20)
    with pytest.raises(LoomTaken, match="taken by somebody") as refused:
        reserve(loom, teacher(), start=start, end=end)
    free = day(start) if end - start <= 10 - start else day(20)
    assert f"from {free.day} {free:%B %Y}" in refused.value.message


def test_a_loom_out_of_order_says_so():
    loom = out_of_order(start=0, end=7).loom
    with pytest.raises(LoomTaken, match="out of order"):
        reserve(loom)


def test_a_class_block_lies_in_the_same_calendar():
    loom = a_class(start=5, end=9).loom
    with pytest.raises(LoomTaken):
        reserve(loom, start=0, end=6)


def test_what_goes_along_is_held_in_the_same_step():
    reed, board = a_reed(), a_station()
    made = reserve(start=0, end=7, tools=(board, reed))
    assert {booking.tool for booking in made.tools.all()} == {reed, board}
    assert {timezone.localtime(booking.ends_at).date() for booking in made.tools.all()} == {day(7)}


def test_a_reed_that_somebody_has_keeps_the_loom_free_too():
    reed = a_reed()
    reserve(start=0, end=7, tools=(reed,))
    with pytest.raises(LoomTaken, match="The reed 12 dents to the inch is with"):
        reserve(member=teacher(), start=6, end=20, tools=(a_station(), reed))
    assert (LoomOccupancy.objects.count(), ToolBooking.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("changed", "start", "end", "code", "said"),
    [
        ({"longest_days": 30}, 0, 31, "too_long", "30 days at most"),
        ({"ahead_days": 14}, 15, 20, "too_far_ahead", "2 weeks ahead"),
        ({"looms_trained": 0}, 0, 7, "too_many_looms", "0 looms at once"),
        ({}, -1, 7, "in_the_past", "can be today"),
    ],
)
def test_a_rule_that_stands_against_it_is_named_with_what_is_allowed(changed, start, end, code, said):
    rule(**changed)
    with pytest.raises(RuleSaysNo, match=said) as refused:
        reserve(start=start, end=end)
    assert refused.value.code == code


def test_the_longest_reservation_is_allowed():
    rule(longest_days=30)
    assert reserve(start=0, end=30).days == 30


def test_one_loom_more_than_the_role_has_at_once_is_refused():
    member = trained_member()
    for _ in range(2):
        reserve(member=member)
    with pytest.raises(RuleSaysNo, match="2 looms at once at most, and the trained member has 2"):
        reserve(member=member)


def test_a_loom_given_back_no_longer_counts():
    member = trained_member()
    given_back = reserve(member=member)
    reserve(member=member)
    give_back(occupancy=given_back, by=member)
    assert reserve(member=member).stands


def test_a_sectional_beam_waits_for_its_briefing():
    with pytest.raises(NotTrained, match="safety briefing on crank and brake"):
        reserve(member=new_member())


def test_a_member_who_was_briefed_gets_it():
    member = new_member()
    record_briefing(member=member, tool="sectional", done_on=day(0), by=teacher())
    assert reserve(member=member).stands


def test_a_plain_beam_needs_no_briefing():
    loom = a_plain_beam().loom
    assert reserve(loom, new_member()).stands


def test_a_loom_with_both_beams_needs_none():
    loom = a_loom()
    a_beam(loom)
    a_plain_beam(loom)
    assert reserve(loom, new_member()).stands


def test_a_mill_that_goes_along_waits_for_its_briefing():
    mill = a_station(kind="mill", training_needed=True)
    with pytest.raises(NotTrained, match="safety briefing"):
        reserve(a_plain_beam().loom, new_member(), tools=(mill,))
    assert not LoomOccupancy.objects.exists()


def test_a_guest_reserves_no_loom():
    with pytest.raises(RuleSaysNo) as refused:
        reserve(member=guest())
    assert refused.value.code == "not_your_role"


def test_a_member_reserves_only_for_herself():
    with pytest.raises(RuleSaysNo) as refused:
        reserve(member=teacher(), by=trained_member())
    assert refused.value.code == "not_for_others"


def test_a_teacher_reserves_for_another():
    member = trained_member()
    assert reserve(member=member, by=teacher()).member == member


@pytest.mark.parametrize("kind", [Kind.CLASS, Kind.OUT])
def test_a_member_blocks_no_loom(kind):
    with pytest.raises(RuleSaysNo):
        reserve(kind=kind)


def test_a_teacher_closes_no_loom():
    with pytest.raises(RuleSaysNo):
        reserve(member=teacher(), kind=Kind.OUT)


def test_a_retired_loom_is_not_reserved():
    with pytest.raises(RuleSaysNo, match="no longer in use"):
        reserve(a_free_loom(retired=True))


def test_the_last_day_is_not_before_the_first():
    with pytest.raises(ValidationError, match="last day comes before"):
        reserve(start=5, end=5)


def test_work_has_a_name():
    with pytest.raises(ValidationError):
        reserve(title="")


def test_a_loom_with_reservations_stays_on_the_register():
    made = reserve()
    with pytest.raises(StillInUse, match="1 loom occupancy"):
        remove_loom(loom=made.loom)


def test_a_reservation_is_moved_with_its_tools():
    reed = a_reed()
    made = reserve(start=5, end=12, tools=(reed,))
    moved = move_reservation(occupancy=made, starts_on=day(6), ends_before=day(20), by=made.member)
    booking = moved.tools.get()
    assert (moved.starts_on, moved.ends_before, moved.changes) == (day(6), day(20), 1)
    assert (timezone.localtime(booking.starts_at).date(), booking.changes) == (day(6), 1)


def test_a_reservation_is_not_moved_onto_another():
    loom = a_free_loom()
    made = reserve(loom, start=0, end=7)
    reserve(loom, teacher(), start=10, end=20)
    with pytest.raises(LoomTaken):
        move_reservation(occupancy=made, starts_on=day(0), ends_before=day(11), by=made.member)
    assert LoomOccupancy.objects.get(pk=made.pk).ends_before == day(7)


def test_a_reservation_may_lie_over_its_own_days():
    made = reserve(start=5, end=12)
    assert move_reservation(occupancy=made, starts_on=day(6), ends_before=day(13), by=made.member).days == 7


def test_a_tool_that_is_gone_by_then_keeps_the_days():
    reed, loom = a_reed(), a_free_loom()
    made = reserve(loom, start=0, end=7, tools=(reed,))
    reserve(member=teacher(), start=7, end=9, tools=(reed,))
    with pytest.raises(LoomTaken, match="The reed"):
        move_reservation(occupancy=made, starts_on=day(0), ends_before=day(8), by=made.member)
    assert LoomOccupancy.objects.get(pk=made.pk).ends_before == day(7)


def test_nothing_is_extended_while_somebody_waits():
    made = reserve()
    wait_for_loom(loom=made.loom, member=teacher("who waits"), days=14)
    with pytest.raises(RuleSaysNo, match="who waits has waited for this loom"):
        move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(30), by=made.member)


def test_a_studio_may_extend_though_somebody_waits():
    rule(extension_only_if_nobody_waits=False)
    made = reserve()
    wait_for_loom(loom=made.loom, member=teacher(), days=14)
    assert move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(30), by=made.member).days == 30


def test_an_extension_has_a_longest():
    made = reserve(start=0, end=10)
    with pytest.raises(RuleSaysNo, match="31 days at a time"):
        move_reservation(occupancy=made, starts_on=day(0), ends_before=day(42), by=made.member)
    assert move_reservation(occupancy=made, starts_on=day(0), ends_before=day(41), by=made.member).days == 41


def test_shortening_needs_no_leave():
    made = reserve()
    wait_for_loom(loom=made.loom, member=teacher(), days=14)
    assert move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(9), by=made.member).days == 9


def test_anothers_reservation_is_not_moved():
    made = reserve()
    with pytest.raises(StudioError) as refused:
        move_reservation(occupancy=made, starts_on=day(1), ends_before=day(5), by=new_member())
    assert refused.value.code == "not_yours"


def test_the_first_day_stays_once_work_has_begun(time_machine):
    made = reserve(start=0, end=20)
    time_machine.move_to(timezone.now() + timedelta(days=2), tick=False)
    with pytest.raises(RuleSaysNo) as refused:
        move_reservation(occupancy=made, starts_on=day(1), ends_before=day(20), by=made.member)
    assert refused.value.code == "begun"


def test_what_was_not_begun_is_cancelled_and_free_again():
    reed, loom = a_reed(), a_free_loom()
    made = reserve(loom, start=3, end=9, tools=(reed,))
    cancel_reservation(occupancy=made, by=made.member)
    assert reserve(loom, teacher(), start=3, end=9, tools=(reed,)).stands


def test_what_was_cancelled_is_over():
    made = cancel_reservation(occupancy=(kept := reserve(start=3, end=9)), by=kept.member)
    for action in (cancel_reservation, give_back):
        with pytest.raises(StudioError) as refused:
            action(occupancy=made, by=made.member)
        assert refused.value.code == "cancelled"


def test_given_back_early_a_loom_is_free_today(time_machine):
    reed, loom = a_reed(), a_free_loom()
    made = reserve(loom, start=0, end=28, tools=(reed,))
    time_machine.move_to(timezone.now() + timedelta(days=5), tick=False)
    give_back(occupancy=made, by=made.member)
    assert LoomOccupancy.objects.get(pk=made.pk).ends_before == day(0)
    assert reserve(loom, teacher(), start=0, end=9, tools=(reed,)).stands


def test_a_dressed_loom_is_not_given_back():
    made = reserve()
    LoomOccupancy.objects.filter(pk=made.pk).update(state="weaving")
    with pytest.raises(RuleSaysNo) as refused:
        give_back(occupancy=made, by=made.member)
    assert refused.value.code == "still_dressed"


def test_what_begins_later_is_cancelled_and_not_given_back():
    made = reserve(start=4, end=9)
    with pytest.raises(RuleSaysNo) as refused:
        give_back(occupancy=made, by=made.member)
    assert refused.value.code == "not_begun"


def test_a_reservation_takes_its_member_out_of_the_queue():
    loom, member = a_free_loom(), trained_member()
    wait_for_loom(loom=loom, member=member, days=14)
    reserve(loom, member)
    assert not loom.queue.filter(left_at=None).exists()


def test_a_queue_has_each_member_once():
    loom, member = a_free_loom(), trained_member()
    wait_for_loom(loom=loom, member=member, days=14)
    with pytest.raises(ValidationError, match="You wait for this loom already"):
        wait_for_loom(loom=loom, member=member, days=7)


def test_a_place_in_the_queue_is_given_up_by_its_own():
    loom, member = a_free_loom(), trained_member()
    place = wait_for_loom(loom=loom, member=member, days=14)
    with pytest.raises(StudioError):
        leave_queue(place=place, by=new_member())
    leave_queue(place=place, by=member)
    assert not loom.queue.filter(left_at=None).exists()


def test_a_guest_does_not_queue():
    with pytest.raises(RuleSaysNo):
        wait_for_loom(loom=a_free_loom(), member=guest(), days=3)


def test_a_board_is_booked_by_the_hour():
    board, member = a_station(), new_member()
    book_tool(tool=board, member=member, starts_at=at(1, 9), ends_at=at(1, 12), by=member)
    other = book_tool(tool=board, member=member, starts_at=at(1, 12), ends_at=at(1, 14), by=member)
    with pytest.raises(LoomTaken, match="09:00 to 12:00"):
        book_tool(tool=board, member=member, starts_at=at(1, 11), ends_at=at(1, 12), by=member)
    cancel_tool(booking=other, by=member)
    assert book_tool(tool=board, member=member, starts_at=at(1, 13), ends_at=at(1, 15), by=member).stands


def test_a_board_has_a_longest_time():
    member = new_member()
    with pytest.raises(RuleSaysNo, match="12 hours at a time"):
        book_tool(tool=a_station(), member=member, starts_at=at(1, 8), ends_at=at(1, 21), by=member)


def test_a_tool_out_of_use_is_not_booked():
    member = new_member()
    with pytest.raises(RuleSaysNo, match="no longer in use"):
        book_tool(tool=a_station(retired=True), member=member, starts_at=at(1, 8), ends_at=at(1, 9), by=member)


def test_anothers_booking_of_a_board_is_not_cancelled():
    member = new_member()
    booking = book_tool(tool=a_station(), member=member, starts_at=at(1, 8), ends_at=at(1, 9), by=member)
    with pytest.raises(StudioError):
        cancel_tool(booking=booking, by=trained_member())
    assert not cancel_tool(booking=booking, by=steward()).stands


def test_a_guest_books_hours_at_a_class_warp():
    warp, student = a_class(), guest()
    sit(warp, student, 10, 12)
    with pytest.raises(LoomTaken, match="the guest weaves there"):
        sit(warp, new_member(), 11, 13)
    assert sit(warp, new_member("another"), 12, 13).stands


def test_hours_given_up_are_free_at_once():
    warp, student = a_class(), guest()
    seat = sit(warp, student, 10, 12)
    with pytest.raises(StudioError):
        cancel_seat(seat=seat, by=new_member())
    cancel_seat(seat=seat, by=student)
    assert sit(warp, new_member("another"), 10, 12).stands


@pytest.mark.parametrize(
    ("start", "end", "day_number", "code"), [(9, 14, 1, "too_long"), (9, 10, -1, "in_the_past"), (9, 10, 28, "outside")]
)
def test_hours_that_cannot_be_are_refused(start, end, day_number, code):
    with pytest.raises(RuleSaysNo) as refused:
        sit(a_class(), guest(), start, end, day_number)
    assert refused.value.code == code


def test_hours_are_only_for_a_class_warp():
    with pytest.raises(RuleSaysNo) as refused:
        sit(reserve(), guest(), 9, 10)
    assert refused.value.code == "no_class_warp"


def test_a_student_books_for_nobody_else():
    warp = a_class()
    with pytest.raises(RuleSaysNo):
        book_seat(occupancy=warp, member=new_member(), starts_at=at(1, 9), ends_at=at(1, 10), by=guest())


def test_days_are_half_open_by_the_calendar():
    made = reserve(start=0, end=1)
    assert (made.last_day, made.days) == (date.today(), 1)  # noqa: DTZ011 - the studio's zone is UTC in tests
