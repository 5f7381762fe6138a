"""Pages of the yarn room: who may, what shows, and what comes back with mistakes."""

import re

import pytest
from django.urls import reverse

from inventory.models import Package, Yarn
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db

YARN = {"name": "16/2 linen", "fibre": "linen", "count_text": "16/2 linen", "colour": "#e3d8c0"}
PACKAGE = {"kind": "tube", "gross_text": "18.5 oz", "tare_text": "0.9 oz", "dye_lot": "21B", "source": "bought"}
LIST_QUERIES = 7  # session, user, member, rules; how many yarns, which, their balances
PAGE_QUERIES = 7  # session, user, member, rules; the yarn, its packages, their balance


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def reading_pages():
    yarn = a_package().yarn
    return [reverse("yarn-room"), yarn.get_absolute_url()]


def writing_pages():
    package = a_package()
    yarn = package.yarn_id
    return [
        reverse("yarn-new"),
        reverse("yarn-edit", args=[yarn]),
        reverse("package-new", args=[yarn]),
        reverse("package-edit", args=[package.pk]),
    ]


@pytest.mark.parametrize("who", [steward, teacher, trained_member, new_member, guest])
def test_everybody_of_the_studio_reads_the_yarn_room(who):
    browser = as_(who())
    assert [browser.get(url).status_code for url in reading_pages()] == [200, 200]


@pytest.mark.parametrize("who", [steward, teacher, trained_member])
def test_those_who_may_write_see_the_forms(who):
    browser = as_(who())
    assert {browser.get(url).status_code for url in writing_pages()} == {200}


@pytest.mark.parametrize("who", [new_member, guest])
@pytest.mark.parametrize("verb", ["get", "post"])
def test_those_who_may_not_write_are_refused(who, verb):
    browser = as_(who())
    assert {getattr(browser, verb)(url).status_code for url in writing_pages()} == {403}


@pytest.mark.parametrize("who", [new_member, guest])
def test_those_who_may_not_write_are_offered_no_buttons(who):
    browser = as_(who())
    links = "".join(browser.get(url).content.decode() for url in reading_pages())
    assert not re.search(r'href="[^"]*/(new|edit)/"|href="/yarn/packages/', links.split("<main", 1)[1])


def test_strangers_are_sent_to_sign_in():
    browser = stranger()
    urls = reading_pages() + writing_pages()
    assert {browser.get(url).url.split("?")[0] for url in urls} == {reverse("sign-in")}


def test_the_shelf_shows_weight_and_length_in_inches_and_yards():
    a_package(gross_text="18.5 oz", tare_text="0.9 oz")
    shown = text_of(as_(new_member()).get(reverse("yarn-room")))
    # 17.6 oz of 8/2 at 3360 yd/lb: 17.6 / 16 * 3360 = 3696 yd.
    assert all(words in shown for words in ("3360 yd/lb", "3696 yd", "17.6 oz"))


def test_the_shelf_shows_weight_and_length_in_metric():
    a_package(a_yarn(grist_text="4838 m/kg"))
    shown = text_of(as_(new_member(units="metric")).get(reverse("yarn-room")))
    assert all(words in shown for words in ("4838 m/kg", "2419 m", "500 g"))


def test_a_changed_filter_fetches_the_rows_alone():
    a_yarn(colour_name="madder")
    answer = as_(new_member()).get(
        reverse("yarn-room"), {"words": "madder"}, headers={"HX-Request": "true", "HX-Target": "shelf"}
    )
    assert answer.content.decode().strip().startswith('<div id="shelf"')
    assert "HX-Target" in answer["Vary"]


def test_a_search_that_finds_nothing_says_what_to_do():
    a_yarn()
    assert "Try fewer words" in text_of(as_(guest()).get(reverse("yarn-room"), {"words": "granite"}))


@pytest.mark.parametrize(("who", "words"), [(teacher, "Add a first yarn"), (guest, "adds the first yarn")])
def test_an_empty_yarn_room_says_what_to_do_first(who, words):
    assert words in text_of(as_(who()).get(reverse("yarn-room")))


@pytest.mark.parametrize("query", ["page=0", "page=999", "page=x", "fibre=granite", "words=%00", "words=" + "x" * 500])
def test_odd_questions_are_answered_all_the_same(query):
    a_yarn()
    assert as_(guest()).get(f"{reverse('yarn-room')}?{query}").status_code == 200


@pytest.mark.parametrize(
    ("page", "said", "words"),
    [
        ("yarn-room", {"words": "\x00"}, "There is a sign in it that cannot be kept"),
        ("yarn-room", {"fibre": "zzz"}, "Choose one of those offered."),
        ("yarn-room", {"words": "x" * 81}, "Write at most 80 characters"),
        ("yarn-colours", {"fibre": "zzz"}, "Choose one of those offered."),
    ],
)
def test_odd_questions_are_answered_in_our_words(page, said, words):
    shown = as_(guest()).get(reverse(page), said).content.decode()
    assert words in shown
    assert "Select a valid choice" not in shown
    assert "Null characters" not in shown


def test_the_yarn_page_says_that_the_label_wins():
    yarn = a_yarn(count_text="8/2 cotton", grist_text="3000 yd/lb")
    shown = text_of(as_(new_member()).get(yarn.get_absolute_url()))
    assert "from the label, which wins over the count" in shown
    assert "The count alone would give 3360 yd/lb" in shown


def test_a_density_nobody_measured_is_marked():
    assert "which is not sourced" in text_of(as_(guest()).get(a_yarn().get_absolute_url()))


def test_a_package_shows_what_its_net_weight_gives():
    package = a_package(gross_text="109 g", tare_text="25 g", dye_lot="pot 6")
    shown = text_of(as_(guest(units="metric")).get(package.yarn.get_absolute_url()))
    assert all(words in shown for words in ("109 g", "25 g", "84 g", "pot 6", "569 m"))


@pytest.mark.parametrize("name", ["yarn", "yarn-edit", "package-new", "package-edit"])
@pytest.mark.parametrize("number", [1, 10**30])
def test_what_is_not_there_is_not_found(name, number):
    assert as_(steward()).get(reverse(name, args=[number])).status_code == 404


def test_a_new_yarn_is_kept_and_leads_to_its_page():
    answer = as_(trained_member()).post(reverse("yarn-new"), YARN)
    assert answer.url == Yarn.objects.get(name="16/2 linen").get_absolute_url()


def test_a_bad_count_comes_back_as_typed_with_a_sentence():
    answer = as_(trained_member()).post(reverse("yarn-new"), {**YARN, "count_text": "sixteen over two"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="sixteen over two"' in page
    assert re.search(r'<ul class="error" id="id_count_text_error"><li>[^<]+\.</li>', page)
    assert not Yarn.objects.exists()


def test_a_changed_yarn_is_kept():
    yarn = a_yarn()
    as_(trained_member()).post(reverse("yarn-edit", args=[yarn.pk]), {**YARN, "retired": "on"})
    assert Yarn.objects.values_list("name", "retired").get() == ("16/2 linen", True)


def test_a_page_with_mistakes_keeps_the_yarns_old_name_in_its_title():
    yarn = a_yarn()
    answer = as_(trained_member()).post(reverse("yarn-edit", args=[yarn.pk]), {**YARN, "count_text": "x"})
    assert "<h1>8/2 cotton, natural</h1>" in answer.content.decode()


def test_a_new_package_stands_on_the_shelf():
    yarn = a_yarn()
    answer = as_(trained_member()).post(reverse("package-new", args=[yarn.pk]), PACKAGE)
    assert answer.url == yarn.get_absolute_url()
    assert list(yarn.packages.values_list("kind", "gross_text", "dye_lot")) == [("tube", "18.5 oz", "21B")]


def test_a_corrected_package_keeps_its_yarn():
    package = a_package()
    as_(trained_member()).post(reverse("package-edit", args=[package.pk]), {**PACKAGE, "gross_text": "12 oz"})
    assert Package.objects.values_list("yarn", "gross_text").get() == (package.yarn_id, "12 oz")


def test_a_bad_weight_comes_back_as_typed_with_a_sentence():
    yarn = a_yarn()
    answer = as_(trained_member()).post(reverse("package-new", args=[yarn.pk]), {**PACKAGE, "tare_text": "20 oz"})
    assert answer.status_code == 422
    assert "The empty package cannot weigh more than the full one." in text_of(answer)
    assert 'value="20 oz"' in answer.content.decode()


@pytest.mark.parametrize("yarns", [1, 30])
def test_the_list_asks_as_many_questions_for_many_yarns(django_assert_num_queries, yarns):
    browser = as_(new_member())
    for _ in range(yarns):
        a_package()
    browser.get(reverse("yarn-room"))  # the first page makes the studio's one row of rules
    with django_assert_num_queries(LIST_QUERIES):
        browser.get(reverse("yarn-room"))


@pytest.mark.parametrize("packages", [1, 30])
def test_a_yarn_asks_as_many_questions_for_many_packages(django_assert_num_queries, packages):
    browser, yarn = as_(new_member()), a_yarn()
    for _ in range(packages):
        a_package(yarn)
    browser.get(yarn.get_absolute_url())
    with django_assert_num_queries(PAGE_QUERIES):
        browser.get(yarn.get_absolute_url())
