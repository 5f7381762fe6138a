"""The ledger for other programs: a scale that writes by itself, and whoever sums it up elsewhere."""

from decimal import Decimal
from fractions import Fraction

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given
from hypothesis import settings as tries
from hypothesis import strategies as st

from inventory.ledger.quarantine import quarantine
from inventory.ledger.taking import Sale, issue_yarn, sell_yarn
from inventory.models import Move
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.stock import a_package, a_yarn, balance, promise

pytestmark = pytest.mark.django_db
SHAPE = {"code", "message", "fields"}
PACKAGE_QUERIES = 5  # session, user, member; the package, what it is set aside for
MOVES_QUERIES = 6  # session, user, member; the package, how many moves, which


def send(someone, package, **said):
    address = reverse("api-moves", args=[package.pk])
    return as_(someone).post(address, said, content_type="application/json")


def ask(someone, name, pk, **query):
    return as_(someone).get(reverse(name, args=[pk]), query)


def test_a_package_says_what_is_free_and_what_may_be_done():
    package, member = a_package(), new_member()
    promise(package, 120, member)
    found = ask(member, "api-package", package.pk).json()
    assert [found[name] for name in ("on_hand_g", "promised_g", "free_g")] == ["500.000", "120.000", "380.000"]
    assert [(one["title"], one["mass_g"]) for one in found["set_aside"]] == [("Towels", "120.000000")]
    assert found["actions"] == ["issue", "return"]


def test_a_scale_that_writes_by_itself():
    package, keeper = a_package(), trained_member()
    answer = send(keeper, package, kind="weigh", gross_text="512 g")
    assert answer.status_code == 201
    assert (answer.json()["move"]["change_g"], answer.json()["package"]["on_hand_g"]) == ("-13.000000", "487.000")
    assert balance(package) == (487, 0)


def test_a_bare_number_is_in_the_unit_that_is_sent_with_it():
    """18.5 oz of 28.349523125 g are 524.466 g: the avoirdupois pound of 0.45359237 kg (NIST Handbook 44, app. C)."""
    package = a_package()
    send(trained_member(), package, kind="weigh", gross_text="18.5", unit="oz")
    assert balance(package)[0] == round(Fraction("18.5") * Fraction("28.349523125") - 25, 6)


def test_a_weighing_that_the_book_had_is_still_written_down():
    package = a_package()
    told = send(trained_member(), package, kind="weigh", gross_text="525 g").json()["move"]
    assert (told["kind"], Decimal(told["change_g"])) == ("weigh", 0)


def test_yarn_taken_by_its_weight():
    package, member = a_package(), new_member()
    work = promise(package, 120, member)
    told = send(member, package, kind="issue", mass="100 g", set_aside=work.pk).json()["move"]
    assert (told["change_g"], told["set_aside_change_g"], told["set_aside"]) == ("-100.000000", "-100.000000", work.pk)
    assert balance(package) == (400, 20)


def test_an_action_sent_twice_is_done_once():
    package, member = a_package(), new_member()
    seen = ask(member, "api-package", package.pk).json()["seen"]
    codes = [send(member, package, kind="issue", mass="100 g", seen=seen).status_code for _ in range(2)]
    assert codes == [201, 409]
    assert balance(package) == (400, 0)


def test_more_than_is_free_is_refused_and_nothing_is_written():
    package = a_package()
    answer = send(new_member(), package, kind="issue", mass="501 g")
    assert (answer.status_code, set(answer.json())) == (409, SHAPE)
    assert Move.objects.count() == 1


def test_a_sale_says_its_price_before_it_is_kept():
    package, keeper = a_package(), teacher()
    asked = send(keeper, package, kind="sell", mass="250 g", price="3.10 /100 g")
    assert (asked.status_code, asked.json()["code"], asked.json()["fields"]) == (
        409, "price_to_agree", {"agreed": ["7.75"]},
    )  # fmt: skip
    sold = send(keeper, package, kind="sell", mass="250 g", price="3.10 /100 g", agreed="7.75")
    assert (sold.status_code, sold.json()["move"]["amount"]) == (201, "7.75")


@pytest.mark.parametrize("who", [new_member, guest])
def test_who_bought_and_for_how_much_is_not_everybodys(who):
    package = a_package()
    sale = Sale(unit_price_text="3 /100 g", amount=Decimal("7.50"), buyer=new_member("the buyer"))
    sell_yarn(package=package, by=steward(), sale=sale, mass_g=Fraction(250))
    told = ask(who(), "api-moves", package.pk).json()["moves"][0]
    assert (told["kind"], told["amount"], told["buyer"]) == ("sell", None, None)


def test_the_buyer_sees_the_sale():
    package, buyer = a_package(), new_member()
    sale = Sale(unit_price_text="3 /100 g", amount=Decimal("7.50"), buyer=buyer)
    sell_yarn(package=package, by=steward(), sale=sale, mass_g=Fraction(250))
    told = ask(buyer, "api-moves", package.pk).json()["moves"][0]
    assert (told["amount"], told["buyer"]) == ("7.50", buyer.pk)


def test_the_moves_sum_up_to_what_they_left():
    package, member = a_package(), new_member()
    for grams in (100, 33, 7):
        issue_yarn(package=package, by=member, mass_g=Fraction(grams))
    told = ask(member, "api-moves", package.pk).json()["moves"]
    assert sum(Decimal(move["change_g"]) for move in told) == Decimal(told[0]["on_hand_g"]) == 360


def test_a_move_is_reversed_with_a_reason():
    package, member = a_package(), new_member()
    move = issue_yarn(package=package, by=member, mass_g=Fraction(300))
    address = reverse("api-move-reverse", args=[move.pk])
    answer = as_(member).post(address, {"said_why": "typed 300 for 30"}, content_type="application/json")
    assert (answer.status_code, answer.json()["move"]["reverses"]) == (201, move.pk)
    assert balance(package) == (500, 0)


def test_anothers_move_is_not_reversed():
    package = a_package()
    move = issue_yarn(package=package, by=teacher(), mass_g=Fraction(300))
    address = reverse("api-move-reverse", args=[move.pk])
    answer = as_(new_member()).post(address, {}, content_type="application/json")
    assert (answer.status_code, answer.json()["code"], balance(package)) == (409, "not_yours", (200, 0))


@pytest.mark.parametrize("action", ["weigh", "sell", "write_off", "quarantine_in", "no action", ""])
def test_what_the_role_does_not_allow_is_refused_in_the_one_shape(action):
    package = a_package()
    answer = send(guest(), package, kind=action, gross_text="300 g")
    assert (answer.status_code, set(answer.json()), balance(package)) == (403, SHAPE, (500, 0))


def test_a_guest_reverses_nothing():
    package = a_package()
    address = reverse("api-move-reverse", args=[Move.objects.get(package=package).pk])
    answer = as_(guest()).post(address, {}, content_type="application/json")
    assert (answer.status_code, set(answer.json())) == (403, SHAPE)


def test_strangers_are_refused_in_the_one_shape():
    answer = stranger().get(reverse("api-package", args=[a_package().pk]))
    assert (answer.status_code, set(answer.json())) == (403, SHAPE)


@pytest.mark.parametrize("body", ["[]", '"weigh"', "7", "null", "{", '{"kind": ["weigh"]}', '{"kind": 1.5}', ""])
def test_what_is_no_action_is_a_mistake_and_no_fault(body):
    address = reverse("api-moves", args=[a_package().pk])
    answer = as_(trained_member()).post(address, body, content_type="application/json")
    assert answer.status_code in {400, 403}
    assert set(answer.json()) == SHAPE


def test_a_float_is_refused_by_its_name():
    answer = send(trained_member(), a_package(), kind="weigh", gross_text=512.1)
    assert (answer.status_code, list(answer.json()["fields"])) == (400, ["gross_text"])


def test_quarantined_yarn_is_not_taken():
    package, keeper = a_package(), teacher()
    quarantine(package=package, by=keeper)
    answer = send(new_member(), package, kind="issue", mass="10 g")
    assert (answer.status_code, balance(package)) == (409, (500, 0))


@given(said=st.dictionaries(
    st.sampled_from(["kind", "gross_text", "mass", "unit", "seen", "set_aside", "for_member", "price", "agreed"]),
    st.one_of(st.text(max_size=30), st.integers(), st.booleans(), st.none(), st.just("issue"), st.just("12 g")),
))  # fmt: skip
@tries(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_sent_gets_an_answer_in_shape(kept_package, said):
    browser, package = kept_package
    answer = browser.post(reverse("api-moves", args=[package.pk]), said, content_type="application/json")
    assert answer.status_code in {200, 201, 400, 403, 409}
    assert set(answer.json()) == SHAPE or "move" in answer.json()
    assert balance(package)[0] >= 0


@pytest.fixture
def kept_package():
    return as_(steward()), a_package(a_yarn(price_per_100g=Decimal("3.10")))


@pytest.mark.parametrize("moves", [1, 30])
def test_as_many_questions_for_many_moves(django_assert_num_queries, moves):
    package, member = a_package(), new_member()
    for _ in range(moves):
        issue_yarn(package=package, by=member, mass_g=Fraction(1))
    browser = as_(member)
    with django_assert_num_queries(MOVES_QUERIES):
        browser.get(reverse("api-moves", args=[package.pk]))
    with django_assert_num_queries(PACKAGE_QUERIES):
        browser.get(reverse("api-package", args=[package.pk]))
