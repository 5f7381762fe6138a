"""The brake on guessing passwords: a few tries are free, then each wrong one costs a longer wait."""

from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.contrib.auth import get_user_model
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.models import WrongPasswords
from studio.people import login_throttle as brake
from tests import cast

pytestmark = pytest.mark.django_db

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
NAME = "the-new-member"
WHO = {"username": NAME, "address": "192.0.2.7"}


@pytest.fixture
def clock():
    with time_machine.travel(NOON, tick=False) as stopped:
        yield stopped


def sign_in(password, *, username=NAME, address="192.0.2.7", door="sign-in"):
    typed = {"username": username, "password": password}
    return cast.stranger().post(reverse(door), typed, REMOTE_ADDR=address)


def guess(times, **known):
    for _ in range(times):
        page = sign_in("a guess", **known)
    return page


@pytest.mark.usefixtures("clock")
def test_five_wrong_passwords_are_told_like_any_other():
    cast.new_member()
    assertContains(guess(5), "do not go together")


@pytest.mark.usefixtures("clock")
def test_after_five_wrong_passwords_even_the_right_one_must_wait():
    cast.new_member()
    guess(5)
    page = sign_in(cast.PASSWORD)
    assertContains(page, "Too many wrong passwords. Wait 1 minute, then try again.")
    assertContains(page, f'value="{NAME}"')


def test_after_the_wait_the_right_password_opens_and_all_is_forgotten(clock):
    cast.new_member()
    guess(5)
    clock.shift(timedelta(seconds=61))
    assertRedirects(sign_in(cast.PASSWORD), "/", fetch_redirect_response=False)
    assert not WrongPasswords.objects.exists()


def test_each_further_wrong_password_doubles_the_wait(clock):
    cast.new_member()
    guess(5)
    clock.shift(timedelta(seconds=61))
    guess(1)
    assertContains(sign_in(cast.PASSWORD), "Wait 2 minutes")


@pytest.mark.usefixtures("clock")
def test_guesses_during_the_wait_are_not_looked_at_and_not_counted():
    cast.new_member()
    guess(9)
    assert WrongPasswords.objects.get().times == 5


@pytest.mark.usefixtures("clock")
@pytest.mark.parametrize("other", [{"address": "192.0.2.8"}, {"username": "the-guest"}])
def test_another_address_or_name_does_not_wait(other):
    cast.new_member()
    cast.guest()
    guess(5)
    assert sign_in(cast.PASSWORD, **other).status_code == 302


@pytest.mark.usefixtures("clock")
def test_a_name_in_capitals_is_the_same_name():
    guess(5, username=NAME)
    assertContains(sign_in("a guess", username=NAME.upper()), "Too many")


@pytest.mark.usefixtures("clock")
def test_a_name_nobody_has_waits_like_any_other_so_that_nothing_is_given_away():
    assertContains(guess(6, username="nobody"), "Too many wrong passwords")


@pytest.mark.usefixtures("clock")
def test_the_back_room_has_the_same_brake():
    get_user_model().objects.create_superuser("founder", password=cast.PASSWORD)
    guess(3, username="founder")
    guess(2, username="founder", door="admin:login")
    assertContains(sign_in(cast.PASSWORD, username="founder", door="admin:login"), "Too many wrong passwords")


@pytest.mark.usefixtures("clock")
def test_an_empty_box_is_no_guess():
    assertNotContains(guess(6, username=""), "Too many")
    assert not WrongPasswords.objects.exists()


def test_wrong_passwords_are_forgotten_after_a_day(clock):
    for _ in range(5):
        brake.note_wrong_password(**WHO)
    clock.shift(timedelta(days=1, seconds=1))
    assert brake.time_to_wait(**WHO) == timedelta()
    brake.note_wrong_password(username="another", address="192.0.2.9")
    assert WrongPasswords.objects.count() == 1


def test_what_is_kept_names_nobody():
    brake.note_wrong_password(**WHO)
    kept = WrongPasswords.objects.get()
    assert NAME not in kept.key
    assert WHO["address"] not in kept.key


@pytest.mark.parametrize(
    ("times", "minutes"), [(0, 0), (4, 0), (5, 1), (6, 2), (7, 4), (10, 32), (11, 60), (10_000, 60)]
)
def test_the_wait_grows_to_an_hour(times, minutes):
    assert brake.wait_after(times) == timedelta(minutes=minutes)
