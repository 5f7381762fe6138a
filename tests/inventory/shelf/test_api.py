"""The yarn room for other programs."""

import pytest
from django.urls import reverse

from inventory.ledger.quarantine import quarantine
from tests.cast import as_, guest, new_member, stranger
from tests.inventory.stock import a_package, a_yarn, promise

pytestmark = pytest.mark.django_db
LIST_QUERIES = 6  # session, user, member; how many yarns, which, their balances


def ask(name, *args, **query):
    return as_(guest()).get(reverse(name, args=args), query)


def test_the_list_gives_what_is_on_the_shelf_in_exact_text():
    a_package(a_yarn(grist_text="5000 m/kg"))
    found = ask("api-yarns").json()["yarns"][0]
    assert (found["tex"], found["on_hand_g"], found["on_hand_cm"]) == ("200.000000", "500.000", "250000.000")


def test_the_list_can_be_narrowed():
    a_yarn(colour_name="madder")
    a_yarn(colour_name="weld")
    assert [yarn["colour_name"] for yarn in ask("api-yarns", words="weld").json()["yarns"]] == ["weld"]


@pytest.mark.parametrize(
    ("query", "found"),
    [({"colour": "blue"}, ["sky"]), ({"weight": "heavy"}, ["rope"]), ({"bin_name": "A1"}, ["sky"]),
     ({"low": "1"}, ["rope"]),
     ({"length_cm": "200000", "tex": "250"}, ["sky"]), ({"length_cm": "200001", "tex": "250"}, [])],
)  # fmt: skip
def test_the_list_can_be_narrowed_like_the_page(query, found):
    a_package(a_yarn(colour_name="sky", colour="#a8bfcb", grist_text="4000 m/kg"), bin_name="A1")
    a_yarn(colour_name="rope", colour="#6d4c37", grist_text="1500 m/kg", keep_at_least_text="1 kg")
    assert [row["colour_name"] for row in ask("api-yarns", **query).json()["yarns"]] == found


def test_a_yarn_says_its_colour_family_and_how_much_should_be_there():
    found = ask("api-yarn", a_yarn(colour="#a8bfcb", keep_at_least_text="2 oz").pk).json()
    assert (found["colour_family"], found["keep_at_least_g"]) == ("blue", "56.699")


def test_one_yarn_comes_with_its_packages():
    package = a_package(gross_text="109 g", tare_text="25 g", dye_lot="pot 6")
    found = ask("api-yarn", package.yarn_id).json()["packages"]
    assert [(one["id"], one["net_g"], one["dye_lot"]) for one in found] == [(package.pk, "84.000", "pot 6")]


def test_promised_yarn_is_on_hand_and_not_free():
    package = a_package()
    promise(package, 120, new_member())
    found = ask("api-yarn", package.yarn_id).json()
    for row in (found, found["packages"][0]):
        assert [row[f"{name}_g"] for name in ("on_hand", "promised", "free")] == ["500.000", "120.000", "380.000"]


def test_a_package_says_whose_it_is_and_whether_it_is_in_quarantine():
    keeper = new_member()
    package = a_package(owner=keeper, source="donated")
    quarantine(package=package, by=keeper)
    (found,) = ask("api-yarn", package.yarn_id).json()["packages"]
    assert (found["owner"], found["source"], found["quarantined"]) == (keeper.pk, "donated", True)
    assert found["free_g"] == "0.000"


def test_a_yarn_that_is_not_there_has_the_one_error_shape():
    answer = ask("api-yarn", 1)
    assert (answer.status_code, set(answer.json())) == (404, {"code", "message", "fields"})


def test_strangers_are_refused_in_the_same_shape():
    answer = stranger().get(reverse("api-yarns"))
    assert (answer.status_code, set(answer.json())) == (403, {"code", "message", "fields"})


@pytest.mark.parametrize("yarns", [1, 20])
def test_the_list_asks_as_many_questions_for_many_yarns(django_assert_num_queries, yarns):
    browser = as_(guest())
    for _ in range(yarns):
        a_package()
    with django_assert_num_queries(LIST_QUERIES):
        browser.get(reverse("api-yarns"))
