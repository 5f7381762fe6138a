"""A warp and the yarn room: all or nothing, once, by those who may, and back when the warp goes."""

from fractions import Fraction

import pytest

from inventory.ledger.selectors import ledger_faults, promised_by_package
from inventory.models import SetAside
from planner.models import Project
from planner.sheet.services import archive_project, copy_project, delete_project
from planner.yarn.shelf_selectors import asked_by, shelf_plan
from planner.yarn.shelf_services import ARCHIVED, NOTHING_LEFT, SHELF_CHANGED, give_yarn_back, set_yarn_aside
from studio.errors import StudioError
from tests import cast
from tests.inventory.stock import a_package, allocate, balance, some_work
from tests.planner.yarn.test_selectors import TOWELS_G, look, owner, set_aside, warp_of, yarn  # noqa: F401

pytestmark = pytest.mark.django_db


@pytest.fixture
def cone(yarn):  # noqa: F811
    return a_package(yarn, gross_text="1000 g", tare_text="")


@pytest.fixture
def warp(owner, yarn, cone):  # noqa: F811
    return warp_of(owner, yarn)


def again(warp):
    return Project.objects.get(pk=warp.pk)


def promised(cone):
    return balance(cone)[1]


def test_the_proposal_is_set_aside_under_the_warps_name(warp, cone, owner):  # noqa: F811
    set_aside(warp)
    work = again(warp).set_aside
    assert (work.title, work.for_member, set(promised_by_package(work))) == ("Eight towels", owner, {cone.pk})
    assert abs(promised(cone) - TOWELS_G) < Fraction(1, 1000)
    assert ledger_faults() == ()


def test_setting_aside_does_not_count_as_a_change_of_the_sheet(warp):
    stamp = again(warp).stamp
    set_aside(warp)
    assert again(warp).stamp == stamp


def test_twice_is_refused_and_changes_nothing(warp, cone):
    set_aside(warp)
    held = promised(cone)
    with pytest.raises(StudioError) as refused:
        set_aside(warp)
    assert (refused.value.message, promised(cone)) == (NOTHING_LEFT, held)


def test_two_warps_that_want_one_cone_do_not_both_get_it(warp, yarn, cone):  # noqa: F811
    other = warp_of(cast.new_member(), yarn, title="More towels")
    seen = look(other).stamp
    set_aside(warp)
    held = promised(cone)
    with pytest.raises(StudioError) as refused:
        set_yarn_aside(warp=again(other), by=other.owner, seen=seen)
    assert (refused.value.message, promised(cone), again(other).set_aside) == (SHELF_CHANGED, held, None)
    set_aside(other)  # what is left, once it has been seen
    assert (balance(cone), ledger_faults()) == ((1000, 1000), ())


def test_a_warp_changed_meanwhile_is_refused(warp, cone):
    plan, old = look(warp), again(warp)
    again(warp).save()
    with pytest.raises(StudioError, match="was changed"):
        set_yarn_aside(warp=old, by=warp.owner, seen=plan.stamp)
    assert promised(cone) == 0


def test_another_member_may_not_and_a_teacher_may(warp, cone, owner):  # noqa: F811
    with pytest.raises(StudioError) as refused:
        set_aside(warp, by=cast.new_member())
    assert (refused.value.code, promised(cone), SetAside.objects.count()) == ("not_yours", 0, 0)
    set_aside(warp, by=cast.teacher())
    assert again(warp).set_aside.for_member == owner


def test_a_warp_put_away_gets_nothing(warp):
    archive_project(project=warp, by=warp.owner, away=True)
    with pytest.raises(StudioError) as refused:
        set_aside(warp)
    assert refused.value.message == ARCHIVED


def test_given_back_it_is_free_and_can_be_set_aside_again(warp, cone):
    set_aside(warp)
    give_yarn_back(warp=warp, by=warp.owner)
    assert promised(cone) == 0
    set_aside(warp)
    assert promised(cone) > 0


def test_nothing_is_given_back_where_nothing_was_set_aside(warp):
    assert give_yarn_back(warp=warp, by=warp.owner) == ()


def test_another_member_may_not_give_it_back(warp, cone):
    set_aside(warp)
    with pytest.raises(StudioError):
        give_yarn_back(warp=warp, by=cast.new_member())
    assert promised(cone) > 0


def test_putting_away_gives_the_yarn_back_and_taking_out_again_does_not_take_it(warp, cone):
    set_aside(warp)
    archive_project(project=warp, by=warp.owner, away=True)
    assert promised(cone) == 0
    archive_project(project=warp, by=warp.owner, away=False)
    assert promised(cone) == 0


def test_deleting_gives_the_yarn_back_and_closes_the_work(warp, cone):
    set_aside(warp)
    work = again(warp).set_aside
    delete_project(project=warp, by=warp.owner)
    work.refresh_from_db()
    assert (promised(cone), work.closed_at is not None) == (0, True)


def test_a_copy_holds_nothing(warp):
    set_aside(warp)
    assert copy_project(project=warp, by=warp.owner).set_aside is None


def test_the_rest_is_set_aside_when_more_has_come(warp, yarn, cone):  # noqa: F811
    allocate(set_aside=some_work(warp.owner), package=cone, mass_g=Fraction(500), by=warp.owner)
    set_aside(warp)
    more = a_package(yarn, gross_text="800 g", tare_text="")
    plan = shelf_plan(again(warp), asked_by(again(warp)))
    assert [package.pk for package, _ in plan.shares] == [more.pk]
    set_aside(warp)
    assert (balance(cone)[1], look(warp).shares) == (1000, ())
