"""Finding a package at the scale: by the number on its label, by words, or because it was there a moment ago."""

import pytest
from django.urls import reverse

from inventory.ledger.weighing import weigh_package
from inventory.scale.selectors import find_packages, lately_moved, package_by_label
from inventory.shelf.services import PackageFacts, receive_package
from tests.cast import as_, guest, steward
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db


def find(words, **query):
    return as_(guest()).get(reverse("scale"), {"words": words, **query})


@pytest.mark.parametrize("words", ["{}", "cone {}", "Cone {}", " cone{} ", "#{}", "package {}", "no {}"])
def test_a_number_as_on_the_label_leads_straight_to_its_package(words):
    package = a_package()
    answer = find(words.format(package.pk), kind="weigh")
    assert (answer.status_code, answer.url) == (302, f"{reverse('package-scale', args=[package.pk])}?kind=weigh")


def test_a_label_that_says_another_kind_is_not_taken_for_this_package():
    package = a_package(kind="tube")
    assert package_by_label(f"cone {package.pk}") is None
    assert package_by_label(f"tube {package.pk}") == package


@pytest.mark.parametrize("words", ["natural", "8/2", "21B", "a3", "cone natural", "COTTON 21b"])
def test_words_find_by_name_colour_lot_bin_and_kind(words):
    package = a_package(dye_lot="21B", bin_name="A3")
    a_package(a_yarn(name="16/2 linen", colour_name="walnut", fibre="linen"), kind="tube")
    assert find_packages(words) == (package,)


def test_every_word_must_be_found():
    a_package(dye_lot="21B")
    assert find_packages("natural 22C") == ()


def test_full_packages_come_before_empty_ones_and_then_the_newest():
    yarn = a_yarn()
    older, newer = a_package(yarn), a_package(yarn)
    empty = a_package(yarn, gross_text="25 g")
    assert find_packages("cotton") == (newer, older, empty)


def test_who_was_at_the_scale_last_comes_first():
    yarn = a_yarn()
    first, second = a_package(yarn), a_package(yarn)
    weigh_package(package=first, gross_text="500 g", by=steward())
    assert lately_moved() == (first, second)


def test_a_number_that_is_no_package_is_looked_for_as_a_word():
    package = receive_package(yarn=a_yarn(), facts=PackageFacts(gross_text="500 g", dye_lot="70041"))
    answer = find("70041")
    assert (answer.status_code, [row.package for row in answer.context["rows"]]) == (200, [package])


@pytest.mark.parametrize("words", ["\x00", "9" * 400, "x " * 200, "1e400", "-1", "%", "cone 99999999999999999999"])
def test_odd_words_are_answered_all_the_same(words):
    a_package()
    assert find(words).status_code == 200


def test_nothing_found_says_what_to_do():
    a_package()
    assert "No package like that" in find("granite").content.decode()


def test_the_action_goes_along():
    package = a_package()
    assert f'href="{reverse("package-scale", args=[package.pk])}?kind=weigh"' in find("", kind="weigh").content.decode()


def test_a_strange_action_does_not_go_along():
    a_package()
    assert "burn" not in find("", kind="burn").content.decode()
