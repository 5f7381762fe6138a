"""Promises: what is set aside for one piece of work cannot be set aside for another."""

from fractions import Fraction

import pytest
from django.core.exceptions import ValidationError

from inventory.ledger.quarantine import quarantine
from inventory.ledger.selectors import ledger_faults, promised_by_package
from inventory.ledger.set_aside import (
    allocate_many,
    close_set_aside,
    open_again,
    open_set_aside,
    release_all,
)
from inventory.models import SetAside
from studio.errors import NotEnoughYarn, StudioError, YarnInQuarantine
from tests.cast import new_member, steward, teacher, trained_member
from tests.inventory.stock import a_package, a_yarn, allocate, balance, promise, some_work

pytestmark = pytest.mark.django_db

GRAM = 1_000_000


@pytest.fixture
def weaver():
    return new_member(units="metric")


def set_aside(work, package, grams, by):
    return allocate(set_aside=work, package=package, mass_g=Fraction(grams), by=by)


def test_a_promise_leaves_the_yarn_on_the_shelf(weaver):
    package = a_package()
    work = promise(package, 120, weaver)
    assert (balance(package), promised_by_package(work)) == ((500, 120), {package.pk: 120 * GRAM})


def test_all_that_is_free_can_be_promised_and_no_more(weaver):
    package = a_package()
    promise(package, 380, steward(), "Rug")
    with pytest.raises(NotEnoughYarn) as refused:
        promise(package, "120.1", weaver)
    assert refused.value.message == (
        f"Cone {package.pk} of 8/2 cotton, natural: 120.1 g asked for, 120 g free "
        "(500 g are on it, 380 g of that set aside). At most 120 g can be had."
    )
    promise(package, 120, weaver)
    assert balance(package) == (500, 500)


def test_a_package_with_nothing_free_says_so(weaver):
    package = a_package()
    promise(package, 500, weaver)
    with pytest.raises(NotEnoughYarn, match="Nothing of it can be had"):
        promise(package, 1, weaver)


def test_half_a_milligram_too_much_means_all_of_it(weaver):
    package = a_package()
    promise(package, "500.0005", weaver)
    assert balance(package) == (500, 500)


@pytest.mark.parametrize("grams", ["0", "-1", "0.0000001"])
def test_nothing_cannot_be_promised(weaver, grams):
    with pytest.raises(StudioError, match="more than nothing"):
        promise(a_package(), grams, weaver)


def test_several_promises_are_made_together(weaver):
    packages = [a_package() for _ in range(3)]
    work = some_work(weaver)
    moves = allocate_many(set_aside=work, shares=[(one, Fraction(100)) for one in reversed(packages)], by=weaver)
    assert [move.package_id for move in moves] == sorted(one.pk for one in packages)
    assert promised_by_package(work) == {one.pk: 100 * GRAM for one in packages}


def test_several_promises_are_made_whole_or_not_at_all(weaver):
    enough, short, shorter = a_package(), a_package(gross_text="75 g"), a_package(gross_text="65 g")
    work = some_work(weaver)
    with pytest.raises(NotEnoughYarn) as refused:
        allocate_many(set_aside=work, shares=[(one, Fraction(100)) for one in (enough, short, shorter)], by=weaver)
    named = [f"Cone {one.pk} of" in refused.value.message for one in (enough, short, shorter)]
    assert (named, promised_by_package(work), balance(enough)) == ([False, True, True], {}, (500, 0))


def test_one_package_named_twice_is_promised_once_for_both(weaver):
    package, work = a_package(), some_work(weaver)
    (move,) = allocate_many(set_aside=work, shares=[(package, Fraction(100)), (package, Fraction(50))], by=weaver)
    assert (move.promised_ug, balance(package)) == (150 * GRAM, (500, 150))


def test_one_package_named_twice_is_refused_where_it_holds_only_one(weaver):
    package = a_package()
    with pytest.raises(NotEnoughYarn):
        allocate_many(set_aside=some_work(weaver), shares=[(package, Fraction(300))] * 2, by=weaver)


def test_yarn_in_quarantine_is_not_promised(weaver):
    package = a_package()
    quarantine(package=package, by=steward())
    with pytest.raises(YarnInQuarantine, match="in quarantine"):
        promise(package, 1, weaver)


def test_a_members_own_yarn_is_promised_to_that_member_alone(weaver):
    package = a_package(owner=weaver)
    with pytest.raises(StudioError, match="belongs to the new member"):
        promise(package, 1, trained_member())
    promise(package, 1, weaver)
    assert balance(package) == (500, 1)


def test_a_member_sets_nothing_aside_for_another(weaver):
    package = a_package()
    with pytest.raises(StudioError) as refused:
        open_set_aside(title="Towels", for_member=weaver, by=trained_member())
    assert refused.value.code == "not_yours"
    with pytest.raises(StudioError, match="for the new member"):
        set_aside(some_work(weaver), package, 1, trained_member("another"))


@pytest.mark.parametrize("who", [teacher, steward])
def test_teachers_and_stewards_set_aside_for_others(weaver, who):
    package, by = a_package(), who()
    work = open_set_aside(title="Class warp", for_member=weaver, by=by)
    move = set_aside(work, package, 40, by)
    assert (move.made_by, move.for_member, balance(package)) == (by, weaver, (500, 40))


def test_work_needs_a_name(weaver):
    with pytest.raises(ValidationError):
        open_set_aside(title="", for_member=weaver, by=weaver)


def test_a_released_promise_is_free_for_another(weaver):
    package = a_package()
    work = promise(package, 500, weaver)
    release_all(set_aside=work, by=weaver)
    promise(package, 200, trained_member())
    assert (balance(package), promised_by_package(work)) == ((500, 200), {})


def test_another_members_promise_is_not_released(weaver):
    package = a_package()
    work = promise(package, 100, weaver)
    with pytest.raises(StudioError, match="for the new member"):
        release_all(set_aside=work, by=trained_member())


def test_all_is_released_at_once(weaver):
    packages = [a_package() for _ in range(3)]
    work = some_work(weaver)
    allocate_many(set_aside=work, shares=[(one, Fraction(10)) for one in packages], by=weaver)
    moves = release_all(set_aside=work, by=weaver, said_why="Another colour")
    assert [(move.package_id, move.said_why) for move in moves] == [(one.pk, "Another colour") for one in packages]
    assert (promised_by_package(work), release_all(set_aside=work, by=weaver)) == ({}, ())


def test_work_that_ends_holds_nothing_and_takes_nothing_more(weaver):
    package = a_package()
    work = close_set_aside(set_aside=promise(package, 100, weaver), by=weaver)
    with pytest.raises(StudioError, match="is closed"):
        set_aside(work, package, 1, weaver)
    assert (balance(package), promised_by_package(work)) == ((500, 0), {})


def test_work_ends_once(weaver):
    work = close_set_aside(set_aside=some_work(weaver), by=weaver)
    close_set_aside(set_aside=work, by=weaver)
    assert SetAside.objects.get().closed_at == work.closed_at


def test_two_lots_of_one_yarn_are_promised_apart(weaver):
    yarn = a_yarn()
    first, second = a_package(yarn, dye_lot="21B"), a_package(yarn, dye_lot="23F")
    promise(first, 500, weaver)
    promise(second, 100, weaver)
    assert (balance(first), balance(second), ledger_faults()) == ((500, 500), (500, 100), ())


def test_closed_work_is_opened_again_and_can_be_promised_yarn(weaver):
    cone = a_package()
    work = promise(cone, 100, weaver)
    close_set_aside(set_aside=work, by=weaver)
    opened = open_again(set_aside=work, by=weaver)
    set_aside(opened, cone, 40, weaver)
    assert (opened.pk, opened.closed_at, balance(cone)[1]) == (work.pk, None, 40)


def test_nobody_opens_anothers_work(weaver):
    work = close_set_aside(set_aside=promise(a_package(), 100, weaver), by=weaver)
    with pytest.raises(StudioError):
        open_again(set_aside=work, by=trained_member())
    work.refresh_from_db()
    assert work.closed_at is not None
