"""Looms for other programs: read only, members only, errors in one shape."""

import pytest
from django.urls import reverse

from tests import cast, factories

pytestmark = pytest.mark.django_db


def test_a_loom_comes_with_its_beams_and_every_digit():
    beam = factories.a_beam(factories.a_loom(number=7))
    data = cast.as_(cast.guest()).get(reverse("api-loom", args=[beam.loom.pk])).json()
    assert (data["number"], data["weaving_width_cm"], data["beams"][0]["circumference_cm"]) == (
        7, "114.300000", "91.440000",
    )  # fmt: skip


@pytest.mark.parametrize("rows", [3, 30])
def test_the_list_asks_as_often_for_many_looms_as_for_few(rows, django_assert_num_queries):
    for _ in range(rows):
        factories.a_beam()
    browser = cast.as_(cast.guest())
    with django_assert_num_queries(5):
        data = browser.get(reverse("api-looms")).json()
    assert len(data["looms"]) == rows


def test_a_stranger_gets_nothing():
    answer = cast.stranger().get(reverse("api-looms"))
    assert (answer.status_code, answer.json()["code"]) == (403, "not_authenticated")


def test_a_loom_that_is_not_there():
    answer = cast.as_(cast.guest()).get(reverse("api-loom", args=[99]))
    assert (answer.status_code, answer.json()["code"], answer.json()["fields"]) == (404, "not_found", {})


def test_looms_are_not_changed_here():
    answer = cast.as_(cast.steward()).post(reverse("api-looms"), {})
    assert (answer.status_code, answer.json()["code"]) == (405, "method_not_allowed")


def test_an_address_no_room_has_is_answered_in_the_same_shape():
    answer = cast.stranger().get("/api/teapots/")
    assert (answer.status_code, answer.json()) == (
        404, {"code": "not_found", "message": "There is nothing at teapots/.", "fields": {}},
    )  # fmt: skip
