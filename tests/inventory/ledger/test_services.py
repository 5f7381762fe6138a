"""Reversal: a mistake is taken back by a move of its own, once, and only while that breaks no balance."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.ledger.quarantine import quarantine
from inventory.ledger.selectors import ledger_faults, promised_of
from inventory.ledger.services import reverse_move
from inventory.ledger.set_aside import close_set_aside, release_all
from inventory.ledger.taking import Sale, issue_yarn, return_yarn, sell_yarn, write_off
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, Package
from studio.errors import NotReversible, StudioError
from tests.cast import guest, new_member, steward, teacher, trained_member
from tests.inventory.stock import a_package, allocate, balance, correct_tare, promise, some_work

pytestmark = pytest.mark.django_db

TEN = Fraction(10)


@pytest.fixture
def keeper():
    return steward(units="metric")


@pytest.fixture
def package():
    return a_package()


def all_kinds(package, by):
    """Give one move of each kind that changes a balance, each of 10 g, latest last."""
    work = promise(package, 100, by)
    sale = Sale(unit_price_text="3.10 for 100 g", amount=Decimal("0.31"), buyer=by)
    return {
        "allocate": lambda: allocate(set_aside=work, package=package, mass_g=TEN, by=by),
        "release": lambda: release_all(set_aside=work, by=by)[0],
        "issue": lambda: issue_yarn(package=package, by=by, mass_g=TEN),
        "issue of a promise": lambda: issue_yarn(package=package, by=by, mass_g=TEN, set_aside=work),
        "return": lambda: return_yarn(package=package, by=by, gross_text="530 g"),
        "weigh": lambda: weigh_package(package=package, gross_text="515 g", by=by).move,
        "tare": lambda: correct_tare(package=package, tare_text="15 g", by=by).move,
        "sell": lambda: sell_yarn(package=package, by=by, sale=sale, mass_g=TEN),
        "write_off": lambda: write_off(package=package, by=by, said_why="Moths", mass_g=TEN).move,
    }


KINDS = ["allocate", "release", "issue", "issue of a promise", "return", "weigh", "tare", "sell", "write_off"]
SAID = ("gross_text", "gross_g", "tare_text", "tare_g")


@pytest.mark.parametrize("kind", KINDS)
def test_a_reversal_restores_what_was_before(package, keeper, kind):
    action = all_kinds(package, keeper)[kind]
    work = package.moves.get(kind="allocate").set_aside
    before = balance(package), promised_of(work, package), Package.objects.values_list(*SAID).get()
    move = action()
    changed = balance(package)
    made = reverse_move(move=move, by=keeper, said_why="Wrong cone")
    after = balance(package), promised_of(work, package), Package.objects.values_list(*SAID).get()
    assert (after, changed == before[0], made.said_why) == (before, False, "Wrong cone")
    assert ledger_faults() == ()


def test_a_reversal_leaves_both_moves_to_be_read(package, keeper):
    move = issue_yarn(package=package, by=keeper, mass_g=TEN)
    made = reverse_move(move=move, by=keeper)
    assert (made.reverses, Move.objects.get(pk=move.pk).reversed_by) == (move, made)


def test_the_money_of_a_sale_is_taken_back(package, keeper):
    move = all_kinds(package, keeper)["sell"]()
    made = reverse_move(move=move, by=keeper)
    assert (made.amount, made.buyer, made.unit_price_text) == (Decimal("-0.31"), keeper, "3.10 for 100 g")


def test_a_package_received_by_mistake_is_empty(package, keeper):
    reverse_move(move=package.moves.get(), by=keeper)
    assert (balance(package), Package.objects.get().gross_text) == ((0, 0), "525 g")


def test_an_older_reading_comes_back_although_others_were_reversed(package, keeper):
    weigh_package(package=package, gross_text="515 g", by=keeper)
    second = weigh_package(package=package, gross_text="505 g", by=keeper).move
    third = weigh_package(package=package, gross_text="495 g", by=keeper).move
    for move in (second, third):
        reverse_move(move=move, by=keeper)
    assert (Package.objects.get().gross_text, balance(package)) == ("515 g", (490, 0))


def test_a_reading_lighter_than_a_newer_tare_does_not_come_back(package, keeper):
    issue_yarn(package=package, by=keeper, mass_g=Fraction(60))
    weigh_package(package=package, gross_text="30 g", by=keeper)
    move = weigh_package(package=package, gross_text="525 g", by=keeper).move
    correct_tare(package=package, tare_text="40 g", by=keeper)
    return_yarn(package=package, by=keeper, mass_g=Fraction(60))
    reverse_move(move=move, by=keeper)
    # 440, then 5, 500, 485 and 545 g; 495 g go again, and a reading of 30 g cannot stand beside a tare of 40 g.
    assert (balance(package), Package.objects.get().gross_text) == ((50, 0), "525 g")


def refusal_of(move, by):
    before = balance(move.package)
    with pytest.raises(NotReversible) as refused:
        reverse_move(move=move, by=by)
    assert balance(move.package) == before
    return refused.value.message


def test_a_move_is_reversed_once(package, keeper):
    move = issue_yarn(package=package, by=keeper, mass_g=TEN)
    reverse_move(move=move, by=keeper)
    assert "was reversed already" in refusal_of(move, keeper)
    assert "by the steward" in refusal_of(move, keeper)


def test_a_reversal_is_not_reversed(package, keeper):
    made = reverse_move(move=issue_yarn(package=package, by=keeper, mass_g=TEN), by=keeper)
    assert "This is a reversal itself" in refusal_of(made, keeper)


def test_what_was_taken_since_cannot_be_unreceived(package, keeper):
    issue_yarn(package=package, by=keeper, mass_g=TEN)
    assert refusal_of(package.moves.get(kind="receive"), keeper) == (
        "This would take 500 g off the package, and only 490 g of the package are free. Release or return yarn first."
    )


def test_what_is_promised_since_cannot_be_unreceived(package, keeper):
    promise(package, 500, keeper)
    assert "only 0 g of the package are free" in refusal_of(package.moves.get(kind="receive"), keeper)


def test_a_promise_that_was_taken_meanwhile_cannot_be_unmade(package, keeper):
    work = promise(package, 100, keeper)
    issue_yarn(package=package, by=keeper, mass_g=TEN, set_aside=work)
    words = refusal_of(package.moves.get(kind="allocate"), keeper)
    assert words == "“Towels” of the steward holds only 90 g of these 100 g; the rest was taken or released."


def test_a_release_is_not_undone_once_others_were_promised_the_yarn(package, keeper):
    work = promise(package, 500, keeper)
    (move,) = release_all(set_aside=work, by=keeper)
    promise(package, 100, new_member())
    assert "This would promise 500 g of it again, and only 400 g of the package are free" in refusal_of(move, keeper)


def test_nothing_is_promised_again_to_closed_work(package, keeper):
    work = promise(package, 100, keeper)
    move = issue_yarn(package=package, by=keeper, mass_g=TEN, set_aside=work)
    close_set_aside(set_aside=work, by=keeper)
    assert "that work is closed" in refusal_of(move, keeper)


def test_nothing_is_promised_again_in_quarantine(package, keeper):
    work = promise(package, 100, keeper)
    (move,) = release_all(set_aside=work, by=keeper)
    quarantine(package=package, by=keeper)
    assert "in quarantine" in refusal_of(move, keeper)


@pytest.mark.parametrize("kind", ["issue", "return", "allocate", "release"])
def test_a_member_takes_back_their_own_errand(package, kind):
    weaver = new_member()
    if kind == "return":
        issue_yarn(package=package, by=weaver, mass_g=TEN)
    reverse_move(move=all_kinds(package, weaver)[kind](), by=weaver)
    assert ledger_faults() == ()


def test_a_trained_member_takes_back_their_own_weighing(package):
    weaver = trained_member()
    reverse_move(move=weigh_package(package=package, gross_text="515 g", by=weaver).move, by=weaver)
    assert balance(package) == (500, 0)


@pytest.mark.parametrize("who", [trained_member, new_member, guest])
def test_another_members_move_is_theirs(package, keeper, who):
    move = issue_yarn(package=package, by=keeper, mass_g=TEN)
    with pytest.raises(StudioError) as refused:
        reverse_move(move=move, by=who())
    assert (refused.value.code, balance(package)) == ("not_yours", (490, 0))


@pytest.mark.parametrize("kind", ["sell", "write_off"])
def test_a_sale_is_taken_back_by_those_who_keep_the_stock(package, kind):
    # A teacher who became a member again made it herself, and may not all the same.
    seller = teacher()
    move = all_kinds(package, seller)[kind]()
    seller.role = "trained"
    seller.save()
    with pytest.raises(StudioError):
        reverse_move(move=move, by=seller)
    reverse_move(move=move, by=steward())
    assert balance(package) == (500, 100)


def test_work_of_another_is_not_touched_by_a_reversal(package, keeper):
    mine, other = some_work(keeper), promise(package, 50, new_member())
    move = allocate(set_aside=mine, package=package, mass_g=TEN, by=keeper)
    reverse_move(move=move, by=keeper)
    assert promised_of(other, package) == 50_000_000
