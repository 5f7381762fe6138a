"""Reeds and winding stations: lists for everybody, forms for stewards."""

from decimal import Decimal

import pytest
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.models import Reed, Station
from tests import cast, factories

pytestmark = pytest.mark.django_db

REED = {"dents": "50", "per": "10cm", "reed_length_cm": "100 cm", "reed_height_cm": "", "kept_with": "", "mark": "blue"}
STATION = {
    "kind": "board", "name": "wall board", "path_longest_cm": "10", "path_step_cm": "1/2", "ends_at_once": "2",
    "rack_spools": "", "comb_dents": "", "comb_per": "in", "raddle_space_cm": "", "notes": "",
}  # fmt: skip


@pytest.mark.parametrize(("name", "make"), [("reeds", factories.a_reed), ("stations", factories.a_station)])
@pytest.mark.parametrize("rows", [3, 30])
def test_lists_ask_as_often_for_many_rows_as_for_few(name, make, rows, django_assert_num_queries):
    for _ in range(rows):
        make()
    browser = cast.as_(cast.steward())
    browser.get(reverse(name))
    with django_assert_num_queries(5):
        browser.get(reverse(name))


@pytest.mark.parametrize("name", ["reeds", "stations"])
def test_an_empty_list_says_what_to_do_first(name):
    assertContains(cast.as_(cast.steward()).get(reverse(name)), "on the register yet")


@pytest.mark.parametrize("name", ["reeds", "stations", "reed-new", "station-new"])
def test_a_stranger_is_asked_to_sign_in(name):
    assertRedirects(cast.stranger().get(reverse(name)), f"{reverse('sign-in')}?next={reverse(name)}")


@pytest.mark.parametrize("name", ["reed-new", "station-new"])
def test_members_add_no_tools(name):
    assert cast.as_(cast.teacher()).post(reverse(name)).status_code == 403


def test_members_read_the_reeds():
    factories.a_reed(dents=Decimal(50), per="10cm", reed_length_cm=Decimal(100))
    page = cast.as_(cast.guest(units="metric")).get(reverse("reeds"))
    assertContains(page, "50/10")
    assertContains(page, "100 cm long")
    assertNotContains(page, reverse("reed-new"))


def test_a_steward_adds_a_metric_reed():
    assertRedirects(cast.as_(cast.steward()).post(reverse("reed-new"), REED), reverse("reeds"))
    reed = Reed.objects.get()
    assert (reed.dents, reed.per, reed.reed_length_cm, str(reed)) == (50, "10cm", 100, "50/10 (blue)")


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"dents": "many"}, "“many” is not a number"),
        ({"dents": "1/3"}, "three decimals"),
        ({"reed_length_cm": "long"}, "is not a number"),
        ({"per": "yd"}, "Choose one of those offered."),
    ],
)
def test_a_mistake_on_a_reed_is_said_and_what_was_typed_stays(wrong, sentence):
    page = cast.as_(cast.steward()).post(reverse("reed-new"), {**REED, **wrong})
    assertContains(page, sentence, status_code=422)
    assert page.context["form"]["mark"].value() == "blue"


def test_a_reed_is_changed():
    reed = factories.a_reed()
    cast.as_(cast.steward()).post(reverse("reed-edit", args=[reed.pk]), {**REED, "mark": "red"})
    assert Reed.objects.get().mark == "red"


def test_a_steward_adds_a_board_in_yards():
    assertRedirects(cast.as_(cast.steward()).post(reverse("station-new"), STATION), reverse("stations"))
    station = Station.objects.get()
    assert (station.path_longest_cm, station.path_step_cm) == (Decimal("914.4"), Decimal("45.72"))


def test_a_name_used_twice_is_said_and_what_was_typed_stays():
    factories.a_station(name="wall board")
    page = cast.as_(cast.steward()).post(reverse("station-new"), STATION)
    assertContains(page, "Another station has this name.", status_code=422)
    assert page.context["form"]["path_step_cm"].value() == "1/2"


def test_a_station_is_changed():
    station = factories.a_station()
    cast.as_(cast.steward()).post(reverse("station-edit", args=[station.pk]), {**STATION, "name": "tall mill"})
    assert Station.objects.get().name == "tall mill"


def test_a_risky_station_says_so_and_its_comb_is_named_as_stamped():
    factories.a_station(kind="box", name="big box", comb_dents=Decimal(10), training_needed=True)
    page = cast.as_(cast.guest()).get(reverse("stations"))
    assertContains(page, "Only after a safety briefing")
    assertContains(page, "comb of 10 dents to the inch")


@pytest.mark.parametrize("loom", ["99999999999999999999999", "quay", "-1"])
def test_a_reed_kept_with_a_loom_that_is_not_there_is_refused(loom):
    page = cast.as_(cast.steward()).post(reverse("reed-new"), {**REED, "kept_with": loom})
    assertContains(page, "Choose one of those offered.", status_code=422)
