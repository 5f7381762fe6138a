"""Statements: whose they are, what stands in them, and what it comes to, to the coin."""

import re
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction

import pytest
import time_machine
from django.urls import reverse

from inventory.ledger.services import reverse_move
from inventory.ledger.statement import moves_of, totals_of
from inventory.ledger.taking import Sale, issue_yarn, return_yarn, sell_yarn
from studio.models import Member
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.stock import a_package, promise, some_work

pytestmark = pytest.mark.django_db

QUERIES = 6  # session, user, member, rules; the lines, their sums


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def at(year, month, day, hour=12):
    return time_machine.travel(datetime(year, month, day, hour, tzinfo=UTC), tick=False)


def sold(buyer, amount="2.60", grams=84, package=None, by=None):
    sale = Sale(unit_price_text="3.10 for 100 g", amount=Decimal(amount), buyer=buyer)
    return sell_yarn(package=package or a_package(), by=by or keeper(), sale=sale, mass_g=Fraction(grams))


def keeper():
    return Member.objects.filter(name="the keeper").first() or steward("the keeper")


def statement(person, who=None, **asked):
    return as_(who or person).get(reverse("yarn-statement", args=[person.pk]), asked)


@pytest.mark.parametrize("who", [guest, new_member, trained_member, teacher, steward])
def test_everybody_sees_their_own(who):
    person = who()
    assert [statement(person).status_code, as_(person).get(reverse("my-yarn-statement")).status_code] == [200, 200]


@pytest.mark.parametrize(
    ("who", "status"), [(guest, 403), (new_member, 403), (trained_member, 403), (teacher, 403), (steward, 200)]
)
def test_others_are_a_stewards_alone(who, status):
    assert statement(new_member("the weaver"), who("the reader")).status_code == status


def test_without_scripts_no_button_is_shown_that_does_nothing():
    package, weaver = a_package(), new_member()
    issue_yarn(package=package, by=weaver, mass_g=Fraction(10))
    page = as_(weaver).get(reverse("my-yarn-statement")).content.decode()
    assert re.findall(r"<button[^>]*data-print[^>]*>", page) == [
        '<button class="button-quiet" type="button" data-print hidden>'
    ]


def test_strangers_are_sent_to_sign_in():
    assert stranger().get(reverse("yarn-statement", args=[new_member().pk])).url.startswith(reverse("sign-in"))


def test_nobody_has_no_statement():
    assert as_(steward()).get(reverse("yarn-statement", args=[10**6])).status_code == 404


def test_a_statement_says_what_was_bought_taken_and_brought_back():
    weaver = new_member(units="metric")
    package = a_package()
    work = promise(package, 200, weaver, "Scarf")
    sold(weaver)
    issue_yarn(package=package, by=weaver, set_aside=work, mass_g=Fraction(150))
    return_yarn(package=package, by=weaver, set_aside=work, mass_g=Fraction(30))
    shown = text_of(statement(weaver))
    told = ("Bought 8/2 cotton", "84 g 2.60 3.10 for 100 g", "Taken out for “Scarf”", "150 g", "Brought back", "30 g")
    for words in (*told, "Yarn bought in this time comes to 2.60"):
        assert words in shown


def test_a_statement_leaves_out_what_others_bought_and_took():
    weaver, other = new_member(), trained_member()
    sold(other)
    issue_yarn(package=a_package(), by=other, mass_g=Fraction(50))
    assert "No yarn in this time" in text_of(statement(weaver))


def test_yarn_taken_by_a_teacher_for_her_work_is_hers():
    weaver, helper = new_member(units="metric"), teacher()
    issue_yarn(package=a_package(), by=helper, set_aside=some_work(weaver), mass_g=Fraction(70))
    assert "70 g" in text_of(statement(weaver))
    assert "No yarn in this time" in text_of(statement(helper))


def test_a_reversed_sale_is_struck_out_and_counts_for_nothing():
    weaver = new_member()
    sold(weaver, "1.10")
    mistake = sold(weaver, "9.99")
    reverse_move(move=mistake, by=keeper(), said_why="Typed wrongly")
    page = statement(weaver)
    assert "<s>9.99</s>" in page.content.decode()
    assert re.search(r"Reversed \d+ \w+ \d+ by the keeper: counts for nothing\.", text_of(page))
    assert page.context["totals"].money == Decimal("1.10")


def test_money_adds_up_to_the_coin():
    weaver, package = new_member(), a_package()
    for _ in range(30):
        sold(weaver, "0.10", 1, package)
    # 0.1 thirty times: a sum of floats gives 3.0000000000000013 (IEEE 754).
    assert str(statement(weaver).context["totals"].money) == "3.00"


def test_a_time_holds_its_first_and_its_last_day():
    weaver, package = new_member(), a_package()
    for day, hour in ((1, 23), (2, 0), (4, 23), (5, 0)):
        with at(2026, 3, day, hour):
            sold(weaver, "1.00", 1, package)
    with at(2026, 6, 1):
        page = statement(weaver, since="2026-03-02", until="2026-03-04")
    assert page.context["totals"].money == Decimal("2.00")


def test_without_days_it_is_this_year_until_today():
    weaver, package = new_member(), a_package()
    for year in (2025, 2026):
        with at(year, 7, 1):
            sold(weaver, "1.00", 1, package)
    with at(2026, 8, 1):
        assert statement(weaver).context["totals"].money == Decimal("1.00")


@pytest.mark.parametrize(
    ("asked", "said"),
    [({"since": "yesterday"}, "Write the day as year, month and day"),
     ({"since": "1066-10-14"}, "Choose a day between 1970 and 2199"),
     ({"since": "2026-05-02", "until": "2026-05-01"}, "This day comes before the first one")],
)  # fmt: skip
def test_a_day_that_is_none_is_said_beside_its_box_and_stays_in_it(asked, said):
    page = statement(new_member(), **asked)
    assert page.status_code == 200
    assert said in text_of(page)
    assert all(f'value="{words}"' in page.content.decode() for words in asked.values())


def test_used_is_what_was_taken_and_not_brought_back():
    weaver, package = new_member(), a_package()
    issue_yarn(package=package, by=weaver, mass_g=Fraction(100))
    return_yarn(package=package, by=weaver, mass_g=Fraction(40))
    today = datetime.now(tz=UTC).date()
    assert totals_of(moves_of(weaver, today, today)).used_g == 60


@pytest.mark.parametrize("rows", [10, 60])
def test_many_lines_ask_as_often_as_few(rows, django_assert_num_queries):
    weaver, package = new_member(), a_package()
    for _ in range(rows):
        sold(weaver, "0.10", 1, package)
    browser = as_(weaver)
    browser.get(reverse("my-yarn-statement"))
    with django_assert_num_queries(QUERIES):
        browser.get(reverse("my-yarn-statement"))


@pytest.mark.parametrize(("who", "there"), [(steward, True), (teacher, False)])
def test_the_page_of_a_person_leads_to_the_statement_for_who_may_see_it(who, there):
    weaver = new_member()
    page = as_(who()).get(weaver.get_absolute_url()).content.decode()
    assert (reverse("yarn-statement", args=[weaver.pk]) in page) is there
