"""What is on the shelf, and what is found there."""

from fractions import Fraction

import pytest

from inventory.shelf.selectors import balances_of, fineness_of, packages_of, shelf, yarns_matching
from studio.units import Units, in_units
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db


def yards(length_cm):
    return in_units(length_cm, "distance", Units.INCH)


def test_the_shelf_gives_net_weights_summed_to_the_microgram():
    # A tenth of an ounce is 2.8349523125 g by the agreement of 1959; each package is kept to its nearest microgram.
    yarn = a_yarn()
    for _ in range(3):
        a_package(yarn, gross_text="0.1 oz", tare_text="")
    assert balances_of([yarn])[yarn.pk].on_hand_g == 3 * Fraction("2.834952")


def test_only_the_yarns_asked_for_are_answered():
    yarn = a_yarn()
    a_package(a_yarn())
    assert set(balances_of([yarn])) == {yarn.pk}


def test_a_cone_of_84_g_net_holds_311_yards_of_8_4():
    # Worked by hand: 84 g / 453.59 g x 1680 yd = 311 yd; 8/4 cotton at 1680 yd/lb stands in published sett charts.
    yarn = a_yarn(name="8/4 cotton", count_text="8/4 cotton")
    a_package(yarn, gross_text="109 g", tare_text="25 g")
    assert round(yards(shelf([yarn])[0].length_cm)) == 311


def test_a_forgotten_tare_of_57_g_is_422_yards_of_8_2():
    # Worked by hand: 2 oz of tare forgotten, 57 g at 7.4 yd/g, is about 422 yd.
    package = a_package(gross_text="57 g", tare_text="")
    assert yards(packages_of(package.yarn)[0].length_cm) == pytest.approx(422, abs=1)


def test_a_row_counts_its_packages():
    yarn = a_yarn()
    a_package(yarn)
    a_package(yarn)
    assert [row.packages for row in shelf([yarn, a_yarn()])] == [2, 0]


@pytest.mark.parametrize("yarns", [1, 12])
def test_the_shelf_asks_one_question_however_many_yarns(django_assert_num_queries, yarns):
    kept = [a_package().yarn for _ in range(yarns)]
    with django_assert_num_queries(1):
        shelf(kept)


def test_packages_of_one_dye_lot_come_together():
    yarn = a_yarn()
    for lot in ("B", "A", "B"):
        a_package(yarn, dye_lot=lot)
    assert [row.package.dye_lot for row in packages_of(yarn)] == ["A", "B", "B"]


@pytest.mark.parametrize("words", ["madder", "MADDER", "8/2 madder", "21B", "shelf madder", "cotton"])
def test_every_word_is_found_in_name_colour_count_lot_or_bin(words):
    yarn = a_yarn(colour_name="madder")
    a_package(yarn, dye_lot="21B", bin_name="shelf 4")
    a_yarn(name="16/2 linen", count_text="16/2 linen", fibre="linen", colour_name="flax")
    assert list(yarns_matching(words=words)) == [yarn]


def test_words_that_meet_nowhere_find_nothing():
    a_yarn(colour_name="madder")
    a_yarn(colour_name="weld")
    assert list(yarns_matching(words="madder weld")) == []


def test_a_fibre_narrows_the_shelf():
    a_yarn()
    linen = a_yarn(fibre="linen")
    assert list(yarns_matching(fibre="linen")) == [linen]


def test_yarns_no_longer_kept_show_only_when_asked_for():
    old = a_yarn(retired=True)
    assert [list(yarns_matching()), list(yarns_matching(retired=True))] == [[], [old]]


def test_fineness_says_when_the_count_means_another_yarn():
    assert fineness_of(a_yarn(count_text="8/2 cotton", grist_text="3000 yd/lb")).count_differs


def test_fineness_is_silent_when_count_and_label_agree():
    # 16/2 linen is 2400 yd/lb by the lea of 300 yd, a label's 4838 m/kg.
    assert not fineness_of(a_yarn(count_text="16/2 linen", grist_text="4838 m/kg")).count_differs


def test_a_count_without_a_label_is_the_fineness():
    fineness = fineness_of(a_yarn())
    assert (fineness.from_label, fineness.tex) == (False, fineness.count_tex)
