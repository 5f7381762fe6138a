"""Lists to look a loom over by, and the faults that are found."""

import pytest
from django.core.exceptions import ValidationError

from studio.calendar.services import cancel_reservation
from studio.care.check_selectors import check_points, checks_of, faults_of, lists_to_fill, open_faults, points_asked
from studio.care.check_services import PointAnswer, fill_check, keep_point, mend_fault, note_fault
from studio.care.words import BEGIN_POINTS, END_POINTS
from studio.errors import RuleSaysNo, StudioError
from studio.files import photo_storage as photos
from studio.loom_states import LoomState
from studio.models import CheckPoint, Fault, LoomCheck
from tests.cast import guest, new_member, steward, teacher, trained_member
from tests.factories import a_loom
from tests.studio.bookings import a_class, day, out_of_order, reserve
from tests.studio.calendar.test_dressing import dressed

pytestmark = pytest.mark.django_db

GOOD = [PointAnswer("Brake holds"), PointAnswer("Cords whole")]
BAD = [PointAnswer("Brake holds", "slips when it is damp"), PointAnswer("Cords whole")]


def fill(occupancy, moment="begin", answers=GOOD, by=None, **known):
    return fill_check(occupancy=occupancy, moment=moment, answers=answers, by=by or occupancy.member, **known)


@pytest.fixture
def shelf(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path / "photos"


def test_the_usual_points_are_there_until_stewards_write_their_own():
    # Cords, brake and ratchet at the start; cut off, knots off every leader, heddles, tie-up, reed, lint, bench at the
    # end: common practice, no source.
    assert [point.text for point in points_asked("begin")] == list(BEGIN_POINTS)
    assert [point.text for point in points_asked("end")] == list(END_POINTS)


def test_a_point_no_longer_asked_is_not_asked_and_does_not_bring_the_usual_ones_back():
    for point in check_points():
        keep_point(point=point, values={"retired": True})
    assert points_asked("begin") == points_asked("end") == []


def test_points_are_asked_in_their_order():
    points_asked("begin")
    keep_point(point=None, values={"moment": "begin", "text": "Bench at its height", "place": 0})
    assert points_asked("begin")[0].text == "Bench at its height"


def test_a_point_stands_once_on_a_list():
    check_points()
    with pytest.raises(ValidationError, match="on the list already"):
        keep_point(point=None, values={"moment": "begin", "text": BEGIN_POINTS[0]})


def test_a_list_is_kept_with_the_words_it_had():
    made = fill(dressed("assigned"), note="Reed 12 is at the smith's")
    point = points_asked("begin")[0]
    keep_point(point=point, values={"text": "Something else"})
    kept = LoomCheck.objects.get()
    assert kept.answers == [{"point": "Brake holds", "fault": ""}, {"point": "Cords whole", "fault": ""}]
    assert (kept.made_by, kept.note) == (made.made_by, "Reed 12 is at the smith's")


def test_what_is_wrong_becomes_a_fault_of_the_loom():
    occupancy = dressed("assigned")
    made = fill(occupancy, answers=BAD)
    fault = Fault.objects.get()
    assert (fault.loom, fault.text, fault.found_in) == (occupancy.loom, "Brake holds: slips when it is damp", made)


BEGINS = {"assigned", "beaming", "beamed", "threaded", "sleyed"}


@pytest.mark.parametrize("state", [state.value for state in LoomState if state is not LoomState.HOLD])
@pytest.mark.parametrize(("moment", "states"), [("begin", BEGINS), ("end", {"checking"})])
def test_each_list_has_its_time(state, moment, states):
    occupancy = dressed(state)
    if state in states:
        assert fill(occupancy, moment).moment == moment
        return
    with pytest.raises(RuleSaysNo, match=r"This list is for when"):
        fill(occupancy, moment)


def test_a_class_fills_in_both_while_its_days_run():
    occupancy = a_class()
    fill(occupancy)
    fill(occupancy, "end")
    assert [check.moment for check in checks_of(occupancy)] == ["begin", "end"]


def test_a_class_to_come_and_a_closed_loom_are_not_looked_over():
    for occupancy in (a_class(start=5, end=9), out_of_order()):
        assert lists_to_fill(occupancy, day(0)) == []
        with pytest.raises(RuleSaysNo):
            fill(occupancy)


def test_a_cancelled_time_is_not_looked_over():
    made = reserve()
    cancel_reservation(occupancy=made, by=made.member)
    with pytest.raises(RuleSaysNo):
        fill(made)


def test_a_list_is_filled_in_once():
    occupancy = dressed("assigned")
    fill(occupancy)
    with pytest.raises(StudioError, match="filled in already"):
        fill(occupancy, answers=BAD)
    assert not Fault.objects.exists()


def test_the_list_that_waits_is_named_until_it_is_filled_in():
    occupancy = dressed("checking")
    assert lists_to_fill(occupancy, day(0)) == [("end", "when the loom is given back")]
    fill(occupancy, "end")
    assert lists_to_fill(occupancy, day(0)) == []


@pytest.mark.parametrize("someone", [guest, new_member])
def test_anothers_list_is_not_filled_in(someone):
    with pytest.raises(StudioError, match="has this loom"):
        fill(dressed("assigned"), by=someone())


@pytest.mark.parametrize("someone", [teacher, steward])
def test_teachers_and_stewards_look_over_for_others(someone):
    assert fill(dressed("checking"), "end", by=someone()).made_by.role == someone.__name__


def test_a_photo_is_kept_with_the_list_and_goes_when_it_is_refused(shelf):
    occupancy = dressed("assigned")
    made = fill(occupancy, photo=b"jpeg")
    assert (shelf / made.photo).read_bytes() == b"jpeg"
    other = dressed("assigned", member=trained_member("another"))
    with pytest.raises(ValidationError):
        fill(other, photo=b"jpeg", answers=BAD, note="x" * 500)
    assert [path.name for path in photos.folder().iterdir()] == [made.photo]
    assert not Fault.objects.exists()


def test_anybody_notes_a_fault_with_a_photo(shelf):
    made = note_fault(loom=a_loom(), text="A rake is bent", by=guest(), photo=b"jpeg")
    assert (shelf / made.photo).read_bytes() == b"jpeg"
    assert list(open_faults(made.loom)) == [made]


def test_a_mended_fault_says_by_whom_when_and_how():
    made, keeper = note_fault(loom=a_loom(), text="A rake is bent", by=guest()), steward()
    mend_fault(fault=made, mended_on=day(0), by=keeper, how="Bent straight in the vice")
    kept = Fault.objects.get()
    assert (kept.mended_by, kept.mended_on, kept.mended_how) == (keeper, day(0), "Bent straight in the vice")
    assert not open_faults(made.loom).exists()


@pytest.mark.parametrize("someone", [guest, new_member, trained_member])
def test_others_mend_nothing(someone):
    made = note_fault(loom=a_loom(), text="A rake is bent", by=steward())
    with pytest.raises(RuleSaysNo):
        mend_fault(fault=made, mended_on=day(0), by=someone())


@pytest.mark.parametrize("number", [1, -1])
def test_a_day_that_cannot_be_is_refused(number):
    made = note_fault(loom=a_loom(), text="A rake is bent", by=steward())
    with pytest.raises(ValidationError):
        mend_fault(fault=made, mended_on=day(number), by=made.noted_by)


def test_a_fault_is_mended_once():
    made = note_fault(loom=a_loom(), text="A rake is bent", by=steward())
    mend_fault(fault=made, mended_on=day(0), by=made.noted_by)
    with pytest.raises(StudioError, match="mended this already"):
        mend_fault(fault=made, mended_on=day(0), by=teacher())


def test_open_faults_come_before_mended_ones():
    loom, keeper = a_loom(), steward()
    first, second, third = (note_fault(loom=loom, text=f"fault {number}", by=keeper) for number in range(3))
    mend_fault(fault=third, mended_on=day(0), by=keeper)
    assert list(faults_of(loom)) == [second, first, third]


def test_two_who_ask_for_the_first_list_at_once_get_it_once(monkeypatch):
    check_points()
    count = CheckPoint.objects.count()
    monkeypatch.setattr(CheckPoint.objects.__class__, "exists", lambda _: False)
    check_points()
    assert CheckPoint.objects.count() == count == len(BEGIN_POINTS) + len(END_POINTS)
