"""Keys for other programs: shown once, kept as a hash, worthless once taken back."""

import json
from pathlib import Path

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

import planner
from studio.errors import StudioError
from studio.models import ApiKey
from studio.people import keys as key_services
from studio.people.services import change_member
from tests import cast

pytestmark = pytest.mark.django_db

BRIEF = json.loads((Path(planner.__file__).parent / "examples" / "runner_chains_plain_beam.json").read_text("utf-8"))
KEYS = "/me/keys/"


def a_key(member, name="spreadsheet"):
    return key_services.make_key(member=member, name=name)


def program(key):
    """Give a program without cookies that is as strict about forms as a browser."""
    return Client(enforce_csrf_checks=True, headers={"Authorization": f"Bearer {key}"})


def test_a_program_with_a_key_reads_the_register():
    assert program(a_key(cast.guest())).get(reverse("api-looms")).status_code == 200


def test_a_program_with_a_key_gets_a_plan_without_a_forms_token():
    answer = program(a_key(cast.guest())).post(reverse("api-plan"), BRIEF, content_type="application/json")
    assert answer.status_code == 200
    assert answer.json()["ends"] > 0


@pytest.mark.parametrize("key", ["", "warproom_guess", "\u00e9", "x" * 5000])
def test_a_key_that_opens_nothing_is_said_in_the_one_shape(key):
    answer = program(key).get(reverse("api-looms"))
    assert (answer.status_code, answer.json()["code"]) == (403, "authentication_failed")


def test_a_key_is_no_way_into_the_pages():
    assert program(a_key(cast.steward())).get("/looms/").status_code == 302


def test_a_key_taken_back_opens_nothing():
    member = cast.guest()
    key = a_key(member)
    page = cast.as_(member).post(reverse("key-revoke", args=[ApiKey.objects.get().pk]), follow=True)
    assertContains(page, "opens nothing any more")
    assert program(key).get(reverse("api-looms")).status_code == 403


def test_nobody_takes_back_anothers_key():
    a_key(cast.guest())
    cast.as_(cast.steward()).post(reverse("key-revoke", args=[ApiKey.objects.get().pk]))
    assert ApiKey.objects.count() == 1


def test_nobody_sees_anothers_keys():
    a_key(cast.guest(), "loom clock of the guest")
    assertNotContains(cast.as_(cast.steward()).get(KEYS), "loom clock")


def test_a_link_takes_nothing_back():
    member = cast.guest()
    a_key(member)
    assert cast.as_(member).get(reverse("key-revoke", args=[ApiKey.objects.get().pk])).status_code == 405


def test_the_key_of_a_member_who_left_opens_nothing():
    cast.steward()
    member = cast.new_member()
    key = a_key(member)
    change_member(member=member, values={"may_sign_in": False})
    assert program(key).get(reverse("api-looms")).status_code == 403


def test_a_key_is_shown_once():
    browser = cast.as_(cast.new_member())
    page = browser.post(KEYS, {"name": "spreadsheet"})
    key = page.context["made"]
    assertContains(page, key)
    assert "no-store" in page["Cache-Control"]
    assertNotContains(browser.get(KEYS), key)


def test_only_a_hash_of_a_key_is_kept():
    key = a_key(cast.guest())
    assert key not in str(list(ApiKey.objects.values()))


def test_the_day_of_its_last_use_is_shown():
    member = cast.guest()
    key = a_key(member)
    assertContains(cast.as_(member).get(KEYS), "not used yet")
    program(key).get(reverse("api-looms"))
    assertContains(cast.as_(member).get(KEYS), "last used")


def test_a_second_use_on_one_day_writes_nothing(django_assert_num_queries):
    key = a_key(cast.guest())
    key_services.use_key(key=key)
    with django_assert_num_queries(1):
        key_services.use_key(key=key)


def test_a_key_without_a_name_is_not_made():
    page = cast.as_(cast.guest()).post(KEYS, {"name": ""})
    assertContains(page, "Fill in this box.", status_code=422)
    assert not ApiKey.objects.exists()


def test_there_is_an_end_to_keys():
    member = cast.guest()
    for number in range(key_services.MOST_KEYS):
        a_key(member, f"program {number}")
    with pytest.raises(StudioError, match="no longer used"):
        a_key(member)


def test_a_stranger_makes_no_keys():
    assertRedirects(cast.stranger().post(KEYS, {"name": "x"}), f"/sign-in/?next={KEYS}")
