"""From a warp to the shelf: what it needs of each yarn goes along, and the shelf shows what would do."""

from decimal import Decimal
from fractions import Fraction
from urllib.parse import parse_qs, urlsplit

import pytest
from django.urls import reverse

from inventory.calc.count import length_of_mass
from planner.sheet.services import save_project
from planner.yarn.shelf_selectors import asked_by
from tests import cast
from tests.factories import a_beam, a_reed
from tests.planner.sheets import a_yarn, towels

pytestmark = pytest.mark.django_db


@pytest.fixture
def weaver():
    return cast.new_member(units="metric")


@pytest.fixture
def beam():
    a_reed()
    return a_beam()


def a_warp(weaver, beam, *yarns, **changes):
    """Give eight towels of these yarns of the yarn room, stripe by stripe."""
    for at, yarn in enumerate(yarns):
        named = {"code": "AB"[at], "yarn": f"x (yarn {yarn.pk})", "grist": "", "fibre": ""}
        changes |= {f"yarns-{at}-{name}": words for name, words in named.items()}
    return save_project(owner=weaver, typed=towels(beam, **changes), by=weaver)


def door(warp, **asked):
    return reverse("warp-enough", args=[warp.pk]), asked


def test_a_warp_of_one_yarn_leads_straight_to_the_shelf(weaver, beam):
    warp = a_warp(weaver, beam, a_yarn())
    (needed,) = asked_by(warp)
    answer = cast.as_(weaver).get(*door(warp))
    path, said = urlsplit(answer.url).path, parse_qs(urlsplit(answer.url).query)
    assert path == reverse("yarn-room")
    assert said["work"] == [warp.title]
    assert abs(Fraction(said["length_cm"][0]) - length_of_mass(needed.mass, needed.tex)) <= Fraction(1, 200)
    # 3360 yd/lb: 496054.65 / 3360 tex (yard and pound of 1959, ISO 1144).
    assert Decimal(said["tex"][0]) == Decimal("147.635")


def test_the_shelf_then_shows_what_would_do(weaver, beam):
    kept = a_yarn()
    warp = a_warp(weaver, beam, kept)
    page = cast.as_(weaver).get(*door(warp), follow=True)
    assert page.context["enough"].work == warp.title
    assert f"Enough for “{warp.title}”" in page.content.decode()


def test_of_several_yarns_it_asks_which(weaver, beam):
    first, second = a_yarn(), a_yarn(colour_name="madder")
    warp = a_warp(weaver, beam, first, second, colour_order="20 A, 20 B")
    browser = cast.as_(weaver)
    assert [row[0] for row in browser.get(*door(warp)).context["rows"]] == [first, second]
    assert browser.get(*door(warp, yarn=second.pk)).status_code == 302


def test_a_warp_without_yarn_of_the_room_says_so(weaver, beam):
    warp = save_project(owner=weaver, typed=towels(beam), by=weaver)
    assert "No yarn of the yarn room" in cast.as_(weaver).get(*door(warp)).content.decode()


@pytest.mark.parametrize("yarn", ["0", "granite", "%00", "9" * 30])
def test_a_yarn_it_does_not_use_is_answered_all_the_same(weaver, beam, yarn):
    warp = a_warp(weaver, beam, a_yarn())
    assert cast.as_(weaver).get(*door(warp, yarn=yarn)).status_code == 200


def test_the_page_of_a_warps_yarn_asks_what_else_would_do(weaver, beam):
    yarn = a_yarn()
    warp = a_warp(weaver, beam, yarn)
    page = cast.as_(weaver).get(reverse("warp-yarn", args=[warp.pk])).content.decode()
    assert f"{reverse('warp-enough', args=[warp.pk])}?yarn={yarn.pk}" in page


def test_only_ones_own_planned_warps_are_offered(weaver, beam):
    warp = a_warp(weaver, beam, a_yarn(), title="My towels")
    draft = a_warp(weaver, beam, sett="", title="A draft")
    other = a_warp(cast.teacher(), beam, title="A teaching blanket")
    page = cast.as_(weaver).get(reverse("warps-enough")).content.decode()
    assert [reverse("warp-enough", args=[one.pk]) in page for one in (warp, draft, other)] == [True, False, False]


def test_without_a_warp_it_says_what_to_do_first(weaver):
    assert "No warp of yours has a plan yet" in cast.as_(weaver).get(reverse("warps-enough")).content.decode()


@pytest.mark.parametrize("who", [cast.guest, cast.trained_member, cast.teacher, cast.steward])
def test_everybody_may_look_for_yarn_for_any_warp(who, weaver, beam):
    warp = a_warp(weaver, beam, a_yarn())
    assert cast.as_(who()).get(*door(warp)).status_code == 302


def test_strangers_are_sent_to_sign_in(weaver, beam):
    warp = a_warp(weaver, beam)
    for url in (reverse("warp-enough", args=[warp.pk]), reverse("warps-enough")):
        assert cast.stranger().get(url).url.startswith(reverse("sign-in"))


def test_a_warp_that_is_not_there_is_not_found(weaver):
    assert cast.as_(weaver).get(reverse("warp-enough", args=[10**6])).status_code == 404


@pytest.mark.parametrize("rows", [3, 30])
def test_many_warps_ask_as_often_as_few(rows, weaver, beam, django_assert_num_queries):
    for number in range(rows):
        a_warp(weaver, beam, title=f"Towels {number}")
    browser = cast.as_(weaver)
    browser.get(reverse("warps-enough"))
    with django_assert_num_queries(5):  # session, user, member, rules; the warps
        browser.get(reverse("warps-enough"))
