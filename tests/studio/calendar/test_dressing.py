"""The work on a loom, step by step: who may, what follows what, holds, takings over and callings back."""

from datetime import timedelta

import pytest
from django.utils import timezone

from studio.calendar.dressing import call_back, change_loom_state, offer_loom, put_on_hold, take_over, take_up_again
from studio.calendar.preview import available_actions
from studio.calendar.selectors import days_in_state
from studio.calendar.services import give_back, move_reservation
from studio.calendar.weeks import steps_of
from studio.dates import day_words
from studio.errors import LoomTaken, NotTrained, RuleSaysNo, StudioError
from studio.loom_states import DRESSED, STEPS, LoomState
from studio.models import BookingRules, LoomOccupancy
from studio.rules.selectors import booking_rules
from tests.cast import guest, new_member, steward, teacher, trained_member
from tests.factories import a_reed
from tests.studio.bookings import a_class, day, reserve

pytestmark = pytest.mark.django_db
WAY = ("assigned", "beaming", "beamed", "threaded", "sleyed", "weaving", "cut_off", "checking")


def bring(occupancy, state):
    """Bring work to a state past the services, as if the steps had been taken."""
    LoomOccupancy.objects.filter(pk=occupancy.pk).update(state=state)
    return LoomOccupancy.objects.get(pk=occupancy.pk)


def dressed(state="weaving", **known):
    return bring(reserve(**known), state)


def test_the_whole_way_of_a_warp():
    made = reserve()
    for state in WAY:
        change_loom_state(occupancy=made, to=state, by=made.member)
    give_back(occupancy=made, by=made.member)
    assert [step.state for step in made.steps.all()] == ["reserved", *WAY, "done"]


def test_a_loom_may_be_dressed_from_front_to_back():
    made = reserve()
    for state in ("assigned", "sleyed", "threaded", "beaming", "beamed", "weaving"):
        change_loom_state(occupancy=made, to=state, by=made.member)
    assert LoomOccupancy.objects.get(pk=made.pk).state == "weaving"


# A hold is left by taking the work up again, and what is given back is over.
NO_STEPS = [(one, to) for one in LoomState if STEPS[one] for to in LoomState if to not in STEPS[one]]


@pytest.mark.parametrize(("state", "to"), NO_STEPS)
def test_a_step_that_the_trade_does_not_know_is_refused(state, to):
    made = bring(reserve(), state)
    with pytest.raises(StudioError) as refused:
        change_loom_state(occupancy=made, to=to, by=made.member)
    assert refused.value.code == "no_such_step"


def test_every_step_keeps_who_and_when_and_starts_the_count_of_days(time_machine):
    made = reserve()
    time_machine.move_to(timezone.now() + timedelta(days=3), tick=False)
    change_loom_state(occupancy=made, to="assigned", by=made.member, note="wound two chains")
    time_machine.move_to(timezone.now() + timedelta(days=9), tick=False)
    occupancy = LoomOccupancy.objects.get(pk=made.pk)
    last = occupancy.steps.last()
    assert (last.made_by, last.note, days_in_state(occupancy, day(0))) == (made.member, "wound two chains", 9)


def test_anothers_work_is_left_alone():
    made = dressed()
    with pytest.raises(StudioError) as refused:
        change_loom_state(occupancy=made, to="cut_off", by=new_member())
    assert refused.value.code == "not_yours"


def test_a_teacher_does_not_cut_off_anothers_warp():
    with pytest.raises(RuleSaysNo) as refused:
        change_loom_state(occupancy=dressed(), to="cut_off", by=teacher(), note="class begins")
    assert refused.value.code == "not_your_role"


def test_a_steward_cuts_off_a_warp_long_overdue_and_says_why(time_machine):
    made, keeper = dressed(end=10), steward()
    with pytest.raises(RuleSaysNo, match="30 days after its time"):
        change_loom_state(occupancy=made, to="cut_off", by=keeper, note="told three times")
    time_machine.move_to(timezone.now() + timedelta(days=40), tick=False)
    with pytest.raises(StudioError, match="Say why"):
        change_loom_state(occupancy=made, to="cut_off", by=keeper)
    change_loom_state(occupancy=made, to="cut_off", by=keeper, note="told three times")
    assert LoomOccupancy.objects.get(pk=made.pk).state == "cut_off"


def test_a_hold_has_a_day_on_which_it_is_looked_at():
    made = dressed("threaded")
    occupancy = put_on_hold(occupancy=made, review_on=day(14), by=made.member, note="yarn is late")
    assert (occupancy.state, occupancy.held_from, occupancy.review_on, occupancy.is_dressed) == (
        "hold",
        "threaded",
        day(14),
        True,
    )
    assert take_up_again(occupancy=made, by=made.member).state == "threaded"
    assert LoomOccupancy.objects.get(pk=made.pk).review_on is None


@pytest.mark.parametrize("days", [-1, 0, 29])
def test_a_hold_is_neither_past_nor_for_ever(days):
    made = dressed()
    with pytest.raises(RuleSaysNo, match="by") as refused:
        put_on_hold(occupancy=made, review_on=day(days), by=made.member)
    assert list(refused.value.fields) == ["review_on"]


@pytest.mark.parametrize("state", ["reserved", "cut_off", "checking", "hold"])
def test_what_is_not_under_way_is_not_put_on_hold(state):
    made = reserve()
    if state == "hold":
        put_on_hold(occupancy=bring(made, "weaving"), review_on=day(3), by=made.member)
    else:
        bring(made, state)
    with pytest.raises(StudioError) as refused:
        put_on_hold(occupancy=made, review_on=day(5), by=made.member)
    assert refused.value.code == "no_such_step"


def test_what_is_not_on_hold_is_not_taken_up_again():
    made = dressed()
    with pytest.raises(StudioError):
        take_up_again(occupancy=made, by=made.member)


def test_a_dressed_loom_is_taken_over_with_its_threading_and_its_reed(time_machine):
    reed, taker = a_reed(), trained_member("who takes over")
    made = dressed("sleyed", member=trained_member("who leaves"), end=20, tools=(reed,))
    offer_loom(occupancy=made, by=made.member)
    time_machine.move_to(timezone.now() + timedelta(days=5), tick=False)
    taken = take_over(occupancy=made, title="More towels", by=taker)
    left = LoomOccupancy.objects.get(pk=made.pk)
    assert (taken.state, taken.starts_on, taken.ends_before, taken.taken_over_from) == ("sleyed", day(0), day(15), left)
    assert (left.state, left.ends_before) == ("done", day(0))
    assert [(one.occupancy, one.member) for one in reed.bookings.filter(cancelled_at=None)] == [(taken, taker)]


def test_a_loom_taken_over_on_its_first_day_leaves_nothing_behind():
    made = dressed()
    offer_loom(occupancy=made, by=made.member)
    take_over(occupancy=made, title="More towels", by=teacher())
    assert not LoomOccupancy.objects.get(pk=made.pk).stands


def test_a_hold_is_taken_over_where_it_was():
    made = dressed("threaded")
    put_on_hold(occupancy=made, review_on=day(9), by=made.member)
    offer_loom(occupancy=made, by=made.member)
    assert take_over(occupancy=made, title="More towels", by=teacher()).state == "threaded"


def test_what_was_not_offered_is_not_taken_over():
    made = dressed()
    with pytest.raises(StudioError) as refused:
        take_over(occupancy=made, title="More towels", by=teacher())
    assert refused.value.code == "not_offered"


def test_an_offer_is_taken_back():
    made = dressed()
    offer_loom(occupancy=made, by=made.member)
    offer_loom(occupancy=made, by=made.member, open_to_take_over=False)
    with pytest.raises(StudioError):
        take_over(occupancy=made, title="More towels", by=teacher())


def test_the_rules_hold_for_who_takes_over():
    made = dressed()
    offer_loom(occupancy=made, by=made.member)
    with pytest.raises(NotTrained):
        take_over(occupancy=made, title="More towels", by=new_member())
    with pytest.raises(RuleSaysNo):
        take_over(occupancy=made, title="More towels", by=guest())


def test_what_has_not_begun_is_not_taken_over():
    made = reserve(start=3, end=9)
    offer_loom(occupancy=made, by=made.member)
    with pytest.raises(RuleSaysNo) as refused:
        take_over(occupancy=made, title="More towels", by=teacher())
    assert refused.value.code == "not_now"


def test_a_class_block_is_not_offered():
    warp = a_class()
    with pytest.raises(StudioError) as refused:
        offer_loom(occupancy=warp, by=warp.member)
    assert refused.value.code == "no_warp"


@pytest.mark.parametrize("state", ["weaving", "hold"])
def test_a_teacher_calls_a_loom_back_and_its_time_stays_so(state):
    made, caller = dressed("sleyed"), teacher()
    change_loom_state(occupancy=made, to="weaving", by=made.member)
    if state == "hold":
        put_on_hold(occupancy=made, review_on=day(3), by=made.member)
    called = call_back(occupancy=made, ends_before=day(10), by=caller, note="workshop on the 10th")
    assert (called.ends_before, called.called_back_by, called.state) == (day(10), caller, state)
    since = LoomOccupancy.objects.get(pk=made.pk).state_since
    last, before = steps_of(called)[:2]
    assert last.note == f"Called back: its time ends with {day_words(day(9))}. workshop on the 10th"
    assert (last.before, since) == (last.state, called.state_since)
    assert since < last.made_at
    assert (before.state, before.before != before.state) == (state, True)
    with pytest.raises(RuleSaysNo, match="called back by the teacher"):
        move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(20), by=made.member)


@pytest.mark.parametrize("days", [0, 1, 29])
def test_a_loom_is_called_back_within_its_time_and_with_a_days_notice(days):
    with pytest.raises(RuleSaysNo) as refused:
        call_back(occupancy=dressed(), ends_before=day(days), by=teacher(), note="workshop")
    assert refused.value.code == "call_back_days"


def test_a_member_calls_nothing_back():
    made = dressed()
    with pytest.raises(RuleSaysNo):
        call_back(occupancy=made, ends_before=day(10), by=trained_member("another"), note="mine now")


def test_a_loom_called_back_is_free_for_the_class():
    made = dressed()
    with pytest.raises(LoomTaken):
        a_class(made.loom, steward(), start=10, end=12)
    call_back(occupancy=made, ends_before=day(10), by=teacher(), note="workshop")
    assert a_class(made.loom, steward("another steward"), start=10, end=12).stands


def test_the_longest_hold_is_a_rule_of_the_studio():
    booking_rules()
    BookingRules.objects.update(hold_days=60)
    made = dressed(end=80)
    assert put_on_hold(occupancy=made, review_on=day(60), by=made.member).review_on == day(60)


def test_a_hold_is_looked_at_again_before_its_time_ends():
    made = dressed(end=10)
    with pytest.raises(RuleSaysNo, match="the last day of its time"):
        put_on_hold(occupancy=made, review_on=day(10), by=made.member)
    assert put_on_hold(occupancy=made, review_on=day(9), by=made.member).review_on == day(9)
    move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(6), by=made.member)
    assert LoomOccupancy.objects.get(pk=made.pk).review_on == day(5)


def test_on_the_last_day_more_days_come_before_a_hold():
    made = dressed(end=1)
    with pytest.raises(RuleSaysNo, match="Its last day is today"):
        put_on_hold(occupancy=made, review_on=day(1), by=made.member)


def test_on_its_last_day_a_loom_is_called_back_no_more():
    with pytest.raises(RuleSaysNo, match="no day's notice left"):
        call_back(occupancy=dressed(end=1), ends_before=day(1), by=teacher(), note="workshop")


def test_no_work_is_noted_before_the_first_day():
    made = reserve(start=1)
    with pytest.raises(RuleSaysNo, match=f"It begins on {day_words(day(1))}"):
        change_loom_state(occupancy=made, to="assigned", by=made.member)
    with pytest.raises(RuleSaysNo, match="It begins on"):
        put_on_hold(occupancy=bring(made, "assigned"), review_on=day(3), by=made.member)
    able = available_actions(made, made.member, day(0))
    assert (able.steps, able.hold, able.cut_off, able.begins_later) == ((), False, False, True)
    assert available_actions(made, made.member, day(1)).steps


def test_every_dressed_state_leads_on_to_the_scissors():
    assert {one for one in LoomState if LoomState.CUT_OFF in STEPS[one]} == DRESSED | {LoomState.CHECKING}
