"""Questions asked of looms, tools and people."""

import pytest

from planner.models import Project
from studio.looms import selectors
from studio.models import Loom
from studio.people.selectors import find_people, is_last_steward
from studio.rules.selectors import studio_rules
from tests import cast, factories

pytestmark = pytest.mark.django_db


def test_rules_are_made_by_the_first_question():
    assert [studio_rules().pk, studio_rules().pk] == [1, 1]


def test_looms_in_use_come_first():
    old, new = factories.a_loom(number=1, retired=True), factories.a_loom(number=2)
    assert list(Loom.objects.with_beams()) == [new, old]
    assert list(Loom.objects.in_use()) == [new]


@pytest.mark.parametrize(("numbers", "following"), [((), 1), ((3, 9), 10)])
def test_the_next_loom_number_follows_the_highest(numbers, following):
    for number in numbers:
        factories.a_loom(number=number)
    assert selectors.next_loom_number() == following


def test_what_hangs_on_a_loom_is_counted():
    loom, someone = factories.a_loom(), cast.guest()
    for title in ("Towels", "Runner"):
        Project.objects.create(owner=someone, title=title, loom=loom)
    assert selectors.hanging_on(loom) == ["2 warps"]


def test_its_own_beams_do_not_hang_on_a_loom():
    assert selectors.hanging_on(factories.a_beam().loom) == []


def test_a_reed_kept_with_a_loom_stays_when_it_goes():
    loom = factories.a_loom()
    factories.a_reed(kept_with=loom)
    assert selectors.going_with_loom(loom)["stays"] == ["The reed 12 dents to the inch, kept with no loom."]


def test_a_loom_with_two_beams_of_the_kind_is_found_once():
    loom = factories.a_loom()
    factories.a_beam(loom)
    factories.a_beam(loom, name="second beam")
    assert list(selectors.find_looms("sectional beam")) == [loom]


def test_the_only_steward_is_the_last():
    first = cast.steward()
    assert is_last_steward(first)
    cast.steward("another steward")
    assert not is_last_steward(first)


def test_nobody_is_found_by_nothing():
    cast.guest()
    assert not find_people("  ").exists()


def test_two_beams_of_a_kind_are_said_once():
    loom = factories.a_loom()
    for name in ("front", "back"):
        factories.a_beam(loom, name=name)
    assert (loom.beams_in_words, factories.a_plain_beam().loom.beams_in_words) == ("two sectional beams", "plain beam")


def test_one_dent_is_no_more_than_one():
    assert str(factories.a_reed(dents=1)) == "1 dent to the inch"
