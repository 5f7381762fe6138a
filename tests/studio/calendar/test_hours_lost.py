"""Hours at a class warp: they go when the warp goes, whose they were is told, and nobody sits in two seats at once."""

import pytest
from django.urls import reverse

from studio.calendar.services import cancel_reservation, give_back, move_reservation
from studio.errors import LoomTaken
from studio.models import Notice, SeatTime
from tests.cast import new_member, steward, teacher
from tests.studio.bookings import a_class, sit

pytestmark = pytest.mark.django_db


def standing():
    """Give who still has hours."""
    return {seat.member.name for seat in SeatTime.objects.filter(cancelled_at=None)}


def told(member):
    return list(Notice.objects.filter(member=member, kind="hours").values_list("text", flat=True))


@pytest.mark.parametrize("action", [give_back, cancel_reservation])
def test_hours_go_with_their_class_and_are_told(action):
    warp, student = a_class(), new_member("student")
    sit(warp, student, 10, 12)
    sit(warp, warp.member, 14, 15)
    action(occupancy=warp, by=warp.member)
    assert standing() == set()
    assert {seat.changes for seat in SeatTime.objects.all()} == {1}
    (text,) = told(student)
    assert "10:00 to 12:00, are cancelled by the teacher: “Evening class” is not on loom" in text
    assert told(warp.member) == []


def test_only_hours_outside_the_new_days_go():
    warp, early, late = a_class(end=10), new_member("early"), new_member("late")
    sit(warp, early, 10, 12, day_number=4)
    sit(warp, late, 10, 12, day_number=5)
    move_reservation(occupancy=warp, starts_on=warp.starts_on, ends_before=sit(warp, early, 8, 9, 5).starts_at.date(),
                     by=warp.member)  # fmt: skip
    assert standing() == {"early"}
    assert SeatTime.objects.filter(cancelled_at=None).count() == 1
    assert (len(told(early)), len(told(late))) == (1, 1)


@pytest.mark.parametrize(
    ("word", "said"), [("give-back", "are cancelled with it"), ("days", "those outside the new days")]
)
def test_the_page_names_the_hours_before_the_action(client, word, said):
    warp, student = a_class(), new_member("student")
    seat = sit(warp, student, 10, 12)
    client.force_login(warp.member.user)
    page = client.get(reverse(f"occupancy-{word}", args=[warp.pk])).content.decode()
    assert said in " ".join(page.split())
    assert "student," in page
    assert f"{seat.starts_at.day} {seat.starts_at:%B}, 10:00 to 12:00" in page


def test_the_page_of_hours_names_none_where_none_are_booked(client):
    warp = a_class()
    client.force_login(warp.member.user)
    assert "booked hours" not in client.get(reverse("occupancy-give-back", args=[warp.pk])).content.decode()


def test_nobody_sits_in_two_seats_at_once():
    one, other, student = a_class(by=teacher()), a_class(by=steward()), new_member("student")
    sit(one, student, 10, 12)
    with pytest.raises(LoomTaken, match=f"student weaves at “Evening class” on loom {one.loom}, .* 10:00 to 12:00"):
        sit(other, student, 11, 13)
    assert sit(other, student, 12, 13).member == student
    assert sit(other, new_member("another"), 10, 12).occupancy == other
