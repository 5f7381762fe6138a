"""The roof: the frame of every page, the page of the day, and the search through the whole house."""

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from inventory.models import Yarn
from planner.handbook.questions import QUESTIONS
from planner.models import Project
from planner.today import views as home
from tests import cast, factories

pytestmark = pytest.mark.django_db


def found(someone, words):
    """Give what a search finds, as kinds with the names of their rows."""
    page = cast.as_(someone).get(reverse("search"), {"q": words})
    return {kind: [row[0] for row in rows] for kind, rows in page.context["found"]}


def test_a_stranger_is_asked_to_sign_in():
    assertRedirects(cast.stranger().get("/"), f"{reverse('sign-in')}?next=/")


def test_signing_in_leads_to_today():
    cast.new_member()
    typed = {"username": "the-new-member", "password": cast.PASSWORD}
    assertRedirects(cast.stranger().post(reverse("sign-in"), typed), "/")


def test_a_wrong_password_is_said_in_our_words():
    cast.new_member()
    page = cast.stranger().post(reverse("sign-in"), {"username": "the-new-member", "password": "wrong"})
    assertContains(page, "do not go together")


def test_signing_out_needs_a_button_not_a_link():
    browser = cast.as_(cast.guest())
    assert browser.get(reverse("sign-out")).status_code == 405
    assertRedirects(browser.post(reverse("sign-out")), reverse("sign-in"))


def test_the_empty_house_tells_a_steward_what_to_do_first():
    assertContains(cast.as_(cast.steward()).get("/"), "First, add a loom")


def test_the_empty_house_asks_nothing_of_a_guest():
    assertContains(cast.as_(cast.guest()).get("/"), "A steward of the studio adds the looms first")


def test_today_shows_the_looms_in_use_and_the_members_own_warps():
    someone, other = cast.new_member(), cast.teacher()
    factories.a_loom(nickname="Quay end")
    factories.a_loom(nickname="Old bridge", retired=True)
    Project.objects.create(owner=someone, title="Towels for the quay")
    Project.objects.create(owner=other, title="A teaching blanket")
    page = cast.as_(someone).get("/")
    for words in ("Quay end", "Towels for the quay"):
        assertContains(page, words)
    for words in ("Old bridge", "A teaching blanket"):
        assertNotContains(page, words)


@pytest.mark.parametrize("rows", [3, 30])
def test_today_asks_as_often_for_many_rows_as_for_few(rows, django_assert_num_queries):
    someone = cast.new_member()
    for number in range(rows):
        Project.objects.create(owner=someone, title=f"warp {number}", loom=factories.a_beam().loom)
    browser = cast.as_(someone)
    browser.get("/")
    with django_assert_num_queries(14):
        browser.get("/")


@pytest.mark.parametrize(
    ("hour", "words"), [(0, "Good morning"), (11, "Good morning"), (12, "Good afternoon"), (18, "Good evening")]
)
def test_the_greeting_knows_the_hour(hour, words):
    assert home.greeting(hour) == words


def test_the_rooms_of_a_steward():
    page = cast.as_(cast.steward()).get(reverse("looms"))
    assert page.context["navigation"] == [
        ("Today", "/", False), ("Looms", "/looms/", True), ("Week", "/looms/week/", False),
        ("Yarn room", "/yarn/", False),
        ("Warps", "/warps/", False), ("People", "/people/", False), ("Rules", "/rules/", False),
    ]  # fmt: skip


def test_a_member_sees_no_door_to_the_rules():
    labels = [label for label, _, _ in cast.as_(cast.teacher()).get("/").context["navigation"]]
    assert "Rules" not in labels


def test_a_page_that_is_not_there_keeps_the_frame():
    assertContains(cast.as_(cast.guest()).get("/nowhere/"), "Yarn room", status_code=404)


def test_a_stranger_gets_a_frame_without_rooms():
    assertNotContains(cast.stranger().get("/nowhere/"), "Yarn room", status_code=404)


def test_a_user_who_is_no_member_gets_a_frame_without_rooms(client):
    client.force_login(get_user_model().objects.create_user("visitor"))
    assertNotContains(client.get("/nowhere/"), "Yarn room", status_code=404)


@pytest.mark.parametrize("words", ["warping frame", "peg board", "Warping Board"])
def test_a_board_is_found_under_every_name_of_its_kind(words):
    factories.a_station(name="by the stairs")
    factories.a_station(name="by the door", kind="mill")
    asked = [QUESTIONS[key].title for key in ("board", "mill", "passes")]
    assert found(cast.guest(), words) == {"Stations": ["by the stairs"], "Questions to ask": asked}


def test_another_name_is_answered_with_the_house_word():
    page = cast.as_(cast.guest()).get(reverse("search"), {"q": "heald"})
    assertContains(page, "<strong>Heddle</strong>: loop with an eye that carries an end.")


def test_looms_are_found_by_number_nickname_and_kind_of_beam():
    quay = factories.a_beam(factories.a_loom(number=7, nickname="Quay end")).loom
    factories.a_plain_beam(factories.a_loom(number=8, nickname="Harbour"))
    someone = cast.guest()
    hits = [found(someone, words) for words in ("7", "quay", "section beam")]
    rules = [hit.pop("How it is worked out", []) + hit.pop("Questions to ask", []) for hit in hits]
    assert hits == [{"Looms": [str(quay)]}] * 3
    assert rules[:2] == [[], []]


def test_yarns_warps_and_people_are_found_by_name():
    someone = cast.new_member("the quay weaver")
    Yarn.objects.create(name="Quay cotton", count_text="8/2 cotton")
    Project.objects.create(owner=cast.teacher(), title="Quay towels")
    assert found(someone, "quay") == {
        "Yarns": ["Quay cotton"], "Warps": ["Quay towels"], "People": ["the quay weaver"],
    }  # fmt: skip


def test_a_person_named_exactly_comes_before_the_warps_that_hold_her_name():
    weaver, other = cast.new_member("Quay weaver"), cast.new_member("another Quay weaver")
    Project.objects.create(owner=weaver, title="Runner of the Quay weaver")
    Yarn.objects.create(name="Cotton of the quay weaver", count_text="8/2 cotton")
    hits = found(other, "quay weaver")
    assert list(hits) == ["People", "Yarns", "Warps"]
    assert hits["People"] == ["Quay weaver", "another Quay weaver"]


def test_a_loom_named_exactly_comes_before_those_that_hold_its_name():
    factories.a_loom(number=3, nickname="Quay end, old")
    factories.a_loom(number=7, nickname="Quay end")
    assert found(cast.guest(), "quay END") == {"Looms": ["7 Quay end", "3 Quay end, old"]}


def test_nothing_found_is_said_with_what_to_try():
    page = cast.as_(cast.guest()).get(reverse("search"), {"q": "teapot"})
    assertContains(page, "Nothing is called “teapot”")


@pytest.mark.parametrize("words", ["", "   ", "\x00", "%", "'; --", "9" * 400, "🧶"])
def test_no_search_is_a_fault(words):
    assert cast.as_(cast.guest()).get(reverse("search"), {"q": words}).status_code == 200


def test_what_was_searched_is_shown_as_text_not_as_markup():
    page = cast.as_(cast.guest()).get(reverse("search"), {"q": "<b>quay</b>"})
    assertNotContains(page, "<b>quay</b>")


def test_a_stranger_searches_nothing():
    assert cast.stranger().get(reverse("search"), {"q": "quay"}).status_code == 302
