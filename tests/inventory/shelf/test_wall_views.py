"""The colour wall, the low-stock list and the bins: who sees them, what stands there, and how often they ask."""

import re

import pytest
from django.urls import reverse

from inventory.shelf.wall import in_counting_order
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db

PAGES = ("yarn-room", "yarn-colours", "yarn-low", "yarn-bins", "yarn-bin", "yarn-labels", "my-yarn-statement")
COLOURS = {"sky": "#a8bfcb", "indigo": "#2f4a78", "weld": "#d8b13f", "natural": "#efe5cf", "walnut": "#6d4c37"}
QUERIES = {  # session, user, member, rules; and then
    "yarn-colours": 4 + 4,  # how many yarns, the families, which yarns, their balances
    "yarn-low": 4 + 2,  # how many, which
    "yarn-bins": 4 + 1,  # the bins
    "yarn-bin": 4 + 3,  # how many packages, which, their weight
}


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def see(name, who=guest, **asked):
    return as_(who(units="metric")).get(reverse(name), asked)


def hung(response):
    return re.findall(r"<b>([^<]+)</b>", response.content.decode().split('id="wall"', 1)[1])


@pytest.mark.parametrize("who", [steward, teacher, trained_member, new_member, guest])
def test_everybody_of_the_studio_sees_the_shelf_in_every_way(who):
    a_package(a_yarn(keep_at_least_text="1 kg"), bin_name="A1")
    browser = as_(who())
    assert [browser.get(reverse(name)).status_code for name in PAGES] == [200] * len(PAGES)


@pytest.mark.parametrize("name", PAGES)
def test_strangers_are_sent_to_sign_in(name):
    assert stranger().get(reverse(name)).url.startswith(reverse("sign-in"))


@pytest.mark.parametrize("name", PAGES[1:])
def test_nothing_is_written_here(name):
    assert as_(steward()).post(reverse(name)).status_code == 405


@pytest.mark.parametrize("name", PAGES[1:])
def test_a_new_studio_is_told_what_will_stand_there(name):
    assert see(name, steward).status_code == 200


@pytest.mark.parametrize("name", QUERIES)
@pytest.mark.parametrize("rows", [10, 60])
def test_many_rows_ask_as_often_as_few(name, rows, django_assert_num_queries):
    for number in range(rows):
        a_package(
            a_yarn(colour_name=f"{number}", keep_at_least_text="1 kg"),
            bin_name="" if name == "yarn-bin" else f"{number}",
        )
    browser = as_(guest())
    browser.get(reverse(name))
    with django_assert_num_queries(QUERIES[name]):
        browser.get(reverse(name))


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize(
    "query", ["page=0", "page=x", "fibre=granite", "colour=%00", "name=%00%0a" + "x" * 300, "weight=granite",
              "length_cm=NaN&tex=1e999", "length_cm=-1&tex=0", "length_cm=1&tex=1&within=99", "since=0001-01-01",
              "until=9999-12-31", "since=granite", "numbers=%00", "newest=0", "start=99999999999", "yarn=x"],
)  # fmt: skip
def test_odd_questions_are_answered_all_the_same(name, query):
    a_package()
    assert as_(guest()).get(f"{reverse(name)}?{query}").status_code == 200


def test_the_wall_hangs_family_by_family_and_light_to_dark():
    for name in ("walnut", "indigo", "weld", "sky", "natural"):
        a_package(a_yarn(colour_name=name, colour=COLOURS[name]))
    page = see("yarn-colours")
    assert hung(page) == ["natural", "weld", "sky", "indigo", "walnut"]
    headings = re.findall(r"<h2[^>]*>([^<]+)", page.content.decode())
    assert headings == ["Whites and naturals", "Yellows", "Blues", "Browns"]


def test_a_yarn_hangs_while_something_of_it_is_there():
    a_yarn(colour_name="never came", colour=COLOURS["sky"])
    a_package(a_yarn(colour_name="empty cone"), gross_text="25 g")
    a_package(a_yarn(colour_name="no longer kept", retired=True))
    a_package(a_yarn(colour_name="there"))
    assert hung(see("yarn-colours")) == ["there"]


def test_the_wall_narrows_to_a_fibre_and_a_colour():
    a_package(a_yarn(colour_name="sky", colour=COLOURS["sky"]))
    a_package(a_yarn(colour_name="indigo", colour=COLOURS["indigo"], fibre="linen"))
    a_package(a_yarn(colour_name="weld", colour=COLOURS["weld"], fibre="linen"))
    assert hung(see("yarn-colours", fibre="linen")) == ["weld", "indigo"]
    assert hung(see("yarn-colours", teacher, fibre="linen", colour="blue")) == ["indigo"]
    assert "No yarn like that on the wall" in text_of(see("yarn-colours", steward, colour="black"))


def test_a_yarn_whose_colour_nobody_chose_hangs_apart_and_is_no_grey():
    a_package(a_yarn(colour_name="untouched"))  # the box as the form shows it
    a_package(a_yarn(colour_name="slate", colour="#5c5d61"))
    a_package(a_yarn(colour_name="soot", colour="#161514"))
    page = see("yarn-colours")
    assert hung(page) == ["slate", "soot", "untouched"]
    headings = re.findall(r"<h2[^>]*>([^<]+)", page.content.decode())
    assert headings == ["Greys", "Blacks", "Colour not given"]
    assert hung(see("yarn-colours", teacher, colour="grey")) == ["slate"]
    assert hung(see("yarn-colours", steward, colour="unsaid")) == ["untouched"]
    assert "untouched" not in text_of(see("yarn-room", new_member, colour="grey"))
    assert "#8a8a8a" not in page.content.decode()


def test_a_yarn_whose_colour_nobody_chose_says_so_on_its_page():
    yarns = a_yarn(colour_name="untouched"), a_yarn(colour_name="slate", colour="#5c5d61")
    untouched, slate = (text_of(as_(steward(f"of {yarn}")).get(yarn.get_absolute_url())) for yarn in yarns)
    assert "Colour in drawings not given" in untouched
    assert "Colour in drawings" not in slate


def test_the_wall_says_in_words_what_it_shows():
    a_package(a_yarn(colour_name="sky", colour=COLOURS["sky"], grist_text="4000 m/kg"))
    assert "sky 8/2 cotton 2000 m free" in text_of(see("yarn-colours"))


def test_a_changed_fibre_fetches_the_wall_alone():
    a_package()
    answer = as_(guest()).get(reverse("yarn-colours"), headers={"HX-Request": "true", "HX-Target": "wall"})
    assert answer.content.decode().strip().startswith('<div id="wall"')
    assert "HX-Target" in answer["Vary"]


def test_the_low_list_says_what_is_missing():
    a_package(a_yarn(keep_at_least_text="750 g", grist_text="4000 m/kg"))
    assert "natural 750 g 500 g 250 g 1000 m" in text_of(see("yarn-low"))


@pytest.mark.parametrize(("who", "told"), [(trained_member, True), (new_member, False)])
def test_today_tells_those_who_keep_the_shelf_what_runs_low(who, told):
    from_today = as_(who())
    a_yarn(keep_at_least_text="1 kg")
    page = text_of(from_today.get(reverse("today")))
    assert ("runs low" in page) is False  # a house without looms says first things first
    assert from_today.get(reverse("today")).context["yarns_low"] == int(told)


def test_bins_stand_in_counting_order_and_what_has_none_comes_last():
    for name in ("A10", "", "A2", "b1"):
        a_package(bin_name=name)
    named = re.findall(r"\?name=([^\"]*)\">", see("yarn-bins").content.decode())
    assert named == ["A2", "A10", "b1", ""]


def test_a_bin_says_how_much_is_in_it():
    yarn = a_yarn()
    for _ in range(2):
        a_package(yarn, bin_name="A1")
    a_package(bin_name="A1", gross_text="25 g")  # an empty cone is no yarn
    assert "A1 2 packages of 1 yarn 1000 g" in text_of(see("yarn-bins"))
    assert "2 packages, 1000 g of yarn." in text_of(
        as_(teacher(units="metric")).get(reverse("yarn-bin"), {"name": "A1"})
    )


def test_an_odd_name_of_a_bin_leads_to_its_own_page():
    a_package(bin_name="A1/2 & “x”?")
    browser = as_(guest())
    link = re.search(r'href="(/yarn/bins/one/\?name=[^"]*)"', browser.get(reverse("yarn-bins")).content.decode())[1]
    assert "1 package," in text_of(browser.get(link))


def test_any_names_can_be_put_in_order():
    names = ["", "Ä1", "1" * 40, "a\n2", "²", "A", "a", "10", "9"]
    assert [name for name in sorted(names, key=in_counting_order) if name.isascii() and name.isdigit()][:2] == [
        "9",
        "10",
    ]


def test_the_shelf_offers_a_way_back_from_what_a_warp_needs():
    yarn = a_yarn(grist_text="4000 m/kg")
    a_package(yarn, dye_lot="21B")
    page = see("yarn-room", length_cm="150000", tex="250", work="Eight <b>towels")
    shown = text_of(page)
    assert "Enough for “Eight &lt;b&gt;towels”: at least 1500 m of about 250 tex (3636 m/kg to 4444 m/kg)" in shown
    assert "in one dye lot" in shown
    assert 'name="length_cm" value="150000"' in page.content.decode()  # another filter keeps the question
    assert "No yarn like that" in text_of(see("yarn-room", teacher, length_cm="250000", tex="250"))


def test_weights_are_offered_with_their_bounds_in_the_readers_units():
    assert "fine: 6250 to 12500 m/kg" in text_of(see("yarn-room"))
    assert "fine: 3100 to 6201 yd/lb" in text_of(as_(teacher(units="inch")).get(reverse("yarn-room")))
