"""Choosing packages by hand: insisted on, left out, worked out anew, and set aside as they are shown."""

import re
from fractions import Fraction

import pytest
from django.http import QueryDict
from django.urls import reverse

from planner.models import Project
from planner.yarn.filling import PackageChoice
from planner.yarn.shelf_forms import MOST_CHOSEN, choice_in
from planner.yarn.shelf_selectors import asked_by, shelf_plan
from planner.yarn.shelf_services import SHELF_CHANGED, set_yarn_aside
from studio.errors import StudioError
from tests import cast
from tests.inventory.stock import a_package, balance
from tests.planner.yarn.test_selectors import POUND, look, set_aside, warp_of
from tests.planner.yarn.test_selectors import yarn as yarn  # noqa: PLC0414

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return cast.new_member(units="metric")


@pytest.fixture
def cones(yarn):
    """Give three cones of a pound in lot X and one of two pounds in lot Y; the towels need a pound and 3/4."""
    lots = [("1 lb", "X"), ("1 lb", "X"), ("1 lb", "X"), ("2 lb", "Y")]
    return [a_package(yarn, gross_text=weight, tare_text="", dye_lot=lot) for weight, lot in lots]


@pytest.fixture
def warp(owner, yarn, cones):
    return warp_of(owner, yarn)


def plan(warp, insisted=(), left_out=()):
    warp = Project.objects.get(pk=warp.pk)
    return shelf_plan(warp, asked_by(warp), PackageChoice(frozenset(insisted), frozenset(left_out)))


def chosen(found):
    (line,) = found.lines
    return [share.package.pk for share in line.shares]


def test_the_app_takes_the_one_large_cone(warp, cones):
    assert chosen(plan(warp)) == [cones[3].pk]


def test_left_out_it_is_not_taken(warp, cones):
    # By hand: 23 spools from one cone of a pound, 17 from a second, both of lot X, and no join.
    found = plan(warp, left_out=[cones[3].pk])
    assert (len(chosen(found)), found.lines[0].lots, found.lines[0].joins) == (2, ("X",), 0)


def test_a_cone_insisted_on_begins_its_lot(warp, cones):
    found = plan(warp, insisted=[cones[2].pk])
    assert cones[2].pk in chosen(found)
    assert found.lines[0].lots == ("X",)
    assert len(chosen(found)) == 2


def test_all_left_out_it_is_short(warp, cones):
    (line,) = plan(warp, left_out=[cone.pk for cone in cones]).lines
    assert (line.shares, line.enough, line.ends_served) == ((), False, 0)
    assert abs(line.free.mass_g - 5 * POUND) < Fraction(1, 1000)  # left out is not gone: it is still free
    assert not line.short.mass_g


def test_what_the_warp_has_cannot_be_left_out(warp, cones):
    set_aside(warp)
    found = plan(warp, left_out=[cones[3].pk])
    assert chosen(found) == [cones[3].pk]
    assert found.lines[0].candidates[3].had


def test_a_cone_that_is_not_of_this_yarn_changes_nothing(warp):
    assert plan(warp, insisted=[999], left_out=[888]).stamp == plan(warp).stamp


def test_what_is_shown_is_set_aside(warp, cones):
    choice = PackageChoice(left_out=frozenset([cones[3].pk]))
    seen = plan(warp, left_out=choice.left_out).stamp
    set_yarn_aside(warp=warp, by=warp.owner, seen=seen, choice=choice)
    assert (sum(balance(cone)[1] > 0 for cone in cones), balance(cones[3])[1]) == (2, 0)


def test_the_stamp_of_another_choice_sets_nothing_aside(warp, cones):
    with pytest.raises(StudioError) as refused:
        set_yarn_aside(
            warp=warp, by=warp.owner, seen=look(warp).stamp, choice=PackageChoice(left_out=frozenset([cones[3].pk]))
        )
    assert (refused.value.message, balance(cones[0])[1]) == (SHELF_CHANGED, 0)


@pytest.mark.parametrize(
    ("said", "choice"),
    [
        ("with=1&with=2&without=3", PackageChoice(frozenset({1, 2}), frozenset({3}))),
        ("with=1&without=1", PackageChoice(left_out=frozenset({1}))),
        ("with=x&with=-1&with=%00&with=²&without=" + "9" * 30, PackageChoice()),
        ("with=", PackageChoice()),
    ],
)
def test_wishes_are_read_and_nonsense_is_not(said, choice):
    assert choice_in(QueryDict(said)) == choice


def test_no_more_is_read_than_a_shelf_holds():
    said = "&".join(f"with={number}" for number in range(MOST_CHOSEN + 50))
    assert len(choice_in(QueryDict(said)).insisted) == MOST_CHOSEN


# The page.


def text_of(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


def address(warp):
    return reverse("warp-yarn", args=[warp.pk])


def test_the_page_works_without_scripts(owner, warp, cones):
    browser, key = cast.as_(owner), cones[3].pk
    text = text_of(browser.get(address(warp)))
    assert "Work it out with these" in text
    assert f'id="without-{key}" name="without" value="{key}">' in text
    text = text_of(browser.get(address(warp), {"without": key}))
    assert f'id="without-{key}" name="without" value="{key}" checked>' in text
    assert f'<input type="hidden" name="without" value="{key}"> <button class="button">' in text
    assert "with the packages you chose" in text
    assert "<details open>" in text


def test_the_button_sets_aside_what_was_chosen(owner, warp, cones):
    browser, key = cast.as_(owner), cones[3].pk
    stamp = browser.get(address(warp), {"without": key}).context["plan"].stamp
    response = browser.post(address(warp), {"without": key, "seen": stamp})
    assert response.status_code == 302
    assert (balance(cones[3])[1], balance(cones[0])[1] > 0) == (0, True)


def test_a_shelf_that_changed_keeps_the_choice_on_the_page(owner, warp, cones, yarn):
    browser, key = cast.as_(owner), cones[3].pk
    stamp = browser.get(address(warp), {"without": key}).context["plan"].stamp
    other = warp_of(cast.trained_member(), yarn, title="More towels")
    choice = PackageChoice(left_out=frozenset([key]))
    set_yarn_aside(warp=other, by=other.owner, seen=plan(other, left_out=[key]).stamp, choice=choice)
    text = text_of(browser.post(address(warp), {"without": key, "seen": stamp}), 409)
    assert SHELF_CHANGED in text
    assert f'name="without" value="{key}" checked>' in text


def test_too_much_left_out_is_said_and_nothing_is_to_be_bought(owner, warp, cones):
    text = text_of(cast.as_(owner).get(address(warp), {"without": [cone.pk for cone in cones]}))
    assert "Without the packages you left out it does not suffice" in text
    assert "Put it on the wanted list" not in text
    assert "too small for so many" not in text


def test_those_who_may_not_take_choose_nothing(warp):
    assert "Choose packages yourself" not in text_of(cast.as_(cast.guest()).get(address(warp)))
