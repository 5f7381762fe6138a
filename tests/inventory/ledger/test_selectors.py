"""What the ledger answers: balances, promises, history, and whether it adds up."""

from fractions import Fraction

import pytest
from django.db import connection

from inventory.ledger.guards import lifted
from inventory.ledger.quarantine import quarantine
from inventory.ledger.selectors import (
    LedgerFault,
    history_of,
    history_rows,
    ledger_faults,
    may_reverse,
    promised_by_package,
    promises_of,
    promises_on,
)
from inventory.ledger.services import reverse_move
from inventory.ledger.taking import issue_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, Package
from inventory.shelf.selectors import (
    Balance,
    balances_of,
    free_weight,
    packages_of,
    shelf,
)
from tests.cast import new_member, steward, trained_member
from tests.inventory.stock import a_package, a_yarn, allocate, promise, some_work

pytestmark = pytest.mark.django_db

GRAM = 1_000_000


@pytest.fixture
def keeper():
    return steward()


def test_what_is_on_hand_follows_the_moves(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(84))
    assert balances_of([package.yarn])[package.yarn_id].on_hand_g == 416


def test_a_promise_is_on_hand_and_not_free(keeper):
    yarn = a_yarn()
    promise(a_package(yarn), 120, keeper)
    a_package(yarn)
    assert balances_of([yarn]) == {yarn.pk: Balance(Fraction(1000), Fraction(120), Fraction(880), 2)}


def test_an_empty_yarn_has_an_empty_balance():
    yarn = a_yarn()
    assert balances_of([yarn]) == {yarn.pk: Balance()}


def test_yarn_in_quarantine_is_on_hand_and_not_free(keeper):
    yarn = a_yarn()
    a_package(yarn)
    quarantine(package=a_package(yarn), by=keeper)
    assert (balances_of([yarn])[yarn.pk].on_hand_g, free_weight([yarn])[yarn.pk]) == (1000, 500)
    assert [row.free_g for row in packages_of(yarn)] == [500, 0]


def test_a_members_own_yarn_is_free_for_that_member_alone(keeper):
    weaver = new_member()
    yarn = a_yarn()
    a_package(yarn, owner=weaver)
    free = [free_weight([yarn], for_member=who)[yarn.pk] for who in (None, keeper, weaver)]
    assert free == [0, 0, 500]


def test_what_work_holds_is_there_for_that_work(keeper):
    yarn = a_yarn()
    work, other = promise(a_package(yarn), 300, keeper, "Towels"), promise(a_package(yarn), 50, keeper, "Rug")
    free = [free_weight([yarn], set_aside=one)[yarn.pk] for one in (None, work, other)]
    assert free == [650, 950, 700]


def test_the_shelf_says_what_is_set_aside_and_free(keeper):
    yarn = a_yarn(grist_text="5000 m/kg")
    promise(a_package(yarn), 100, keeper)
    (row,) = shelf([yarn])
    assert (row.net_g, row.promised_g, row.free_g, row.free_cm) == (500, 100, 400, 200_000)


def test_a_package_says_what_is_set_aside_and_free(keeper):
    package = a_package(a_yarn(grist_text="5000 m/kg"))
    promise(package, 100, keeper)
    (row,) = packages_of(package.yarn)
    assert (row.net_g, row.length_cm, row.promised_g, row.free_g, row.free_cm) == (500, 250_000, 100, 400, 200_000)


def test_a_history_runs_from_the_latest_with_what_each_move_left(keeper):
    package = a_package()
    work = promise(package, 200, keeper)
    issue_yarn(package=package, by=keeper, set_aside=work, mass_g=Fraction(50))
    weigh_package(package=package, gross_text="477 g", by=keeper)
    rows = history_rows(history_of(package), keeper)
    told = [(row.move.kind, row.change_g, row.on_hand_g, row.promised_change_g, row.promised_g) for row in rows]
    assert told == [
        ("weigh", 2, 452, 0, 150),
        ("issue", -50, 450, -50, 150),
        ("allocate", 0, 500, 200, 200),
        ("receive", 500, 500, 0, 0),
    ]


def test_a_part_of_a_history_keeps_its_balances(keeper):
    package = a_package()
    for _ in range(5):
        issue_yarn(package=package, by=keeper, mass_g=Fraction(10))
    assert [row.on_hand_g for row in history_rows(history_of(package)[2:4], keeper)] == [470, 480]


def test_a_reversed_move_is_marked_and_offers_no_second_reversal(keeper):
    package = a_package()
    made = reverse_move(move=issue_yarn(package=package, by=keeper, mass_g=Fraction(10)), by=keeper)
    rows = history_rows(history_of(package), keeper)
    assert [(row.move.kind, row.reversed_by, row.may_reverse) for row in rows] == [
        ("reverse", None, False), ("issue", made, False), ("receive", None, True),
    ]  # fmt: skip


def test_a_history_of_one_package_has_no_moves_of_others(keeper):
    package, other = a_package(), a_package()
    issue_yarn(package=other, by=keeper, mass_g=Fraction(10))
    assert [move.kind for move in history_of(package)] == ["receive"]


@pytest.mark.parametrize("moves", [1, 30])
def test_a_history_asks_one_question_however_many_moves(django_assert_num_queries, keeper, moves):
    package = a_package()
    work = promise(package, 400, keeper)
    for _ in range(moves):
        move = issue_yarn(package=package, by=keeper, set_aside=work, mass_g=Fraction(1))
        reverse_move(move=move, by=keeper)
    with django_assert_num_queries(1):
        rows = history_rows(history_of(package), keeper)
        assert [str(row.move.set_aside) + str(row.move.made_by) + str(row.reversed_by and row.reversed_by.made_by)
                for row in rows]  # fmt: skip


def test_work_says_what_it_holds_of_each_package(keeper):
    first, second = a_package(), a_package()
    work = promise(first, 100, keeper)
    allocate(set_aside=work, package=second, mass_g=Fraction(50), by=keeper)
    issue_yarn(package=first, by=keeper, set_aside=work, mass_g=Fraction(100))
    assert promised_by_package(work) == {second.pk: 50 * GRAM}
    told = [(one.set_aside, one.package, one.mass_g) for one in promises_of([work])[work.pk]]
    assert told == [(work, second, 50)]


def test_work_without_yarn_is_answered_too(keeper):
    work = some_work(keeper)
    assert promises_of([work]) == {work.pk: ()}


@pytest.mark.parametrize("works", [1, 15])
def test_the_holdings_of_many_ask_two_questions(django_assert_num_queries, keeper, works):
    package = a_package()
    made = [promise(package, 10, keeper, f"Warp {number}") for number in range(works)]
    with django_assert_num_queries(2):
        assert sum(one.mass_g for promises in promises_of(made).values() for one in promises) == 10 * works


@pytest.mark.parametrize("works", [1, 15])
def test_the_promises_on_a_package_ask_two_questions(django_assert_num_queries, keeper, works):
    package = a_package()
    made = [promise(package, 10, keeper, f"Warp {number}") for number in range(works)]
    with django_assert_num_queries(2):
        told = [(one.set_aside, str(one.set_aside.for_member), one.mass_g) for one in promises_on(package)]
    assert told == [(work, "the steward", 10) for work in made]


def test_who_may_reverse_is_who_made_it_or_keeps_the_stock(keeper):
    weaver, other = new_member(), trained_member()
    move = issue_yarn(package=a_package(), by=weaver, mass_g=Fraction(1))
    assert [may_reverse(move, who) for who in (weaver, other, keeper)] == [True, False, True]


def test_a_sound_ledger_has_nothing_to_name(keeper):
    promise(a_package(), 100, keeper)
    quarantine(package=a_package(), by=keeper)
    assert ledger_faults() == ()


def test_every_kind_of_fault_is_named(keeper):
    first, second, third = (a_package() for _ in range(3))
    work = promise(third, 10, keeper)
    with lifted(connection):
        Package.objects.filter(pk=first.pk).update(on_hand_ug=7, promised_ug=3)
        Package.objects.filter(pk=second.pk).update(quarantined=True)
        Move.objects.create(package=third, kind="release", promised_ug=-30 * GRAM, set_aside=work, made_by=keeper)
        Move.objects.create(package=third, kind="quarantine_in", round_number=1, made_by=keeper)
    assert set(ledger_faults()) == {
        LedgerFault(first.pk, "on hand", 7, 500 * GRAM),
        LedgerFault(first.pk, "promised", 3, 0),
        LedgerFault(second.pk, "in quarantine", 1, 0),
        LedgerFault(third.pk, "promised", 10 * GRAM, -20 * GRAM),
        LedgerFault(third.pk, "in quarantine", 0, 1),
        LedgerFault(third.pk, f"held by set-aside {work.pk}", 0, -20 * GRAM),
    }
