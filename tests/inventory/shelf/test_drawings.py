"""The bar of packages, as geometry."""

from decimal import Decimal

import pytest

from inventory.models import Package
from inventory.shelf.drawings import BAR_LONG, GAP_BETWEEN_LOTS, GAP_IN_LOT, shelf_bar
from inventory.shelf.selectors import PackageRow


def rows(*lots_and_lengths):
    return [
        PackageRow(Package(dye_lot=lot, gross_g=Decimal(length)), length, length * 100)
        for lot, length in lots_and_lengths
    ]


def test_an_empty_shelf_draws_nothing():
    assert shelf_bar([]) == ()


def test_packages_without_yarn_draw_nothing():
    assert shelf_bar(rows(("A", 0))) == ()


def test_one_package_fills_the_bar():
    assert float(shelf_bar(rows(("A", 3)))[0].pieces[0].wide) == BAR_LONG


def test_a_package_twice_as_long_is_drawn_twice_as_wide():
    first, second = shelf_bar(rows(("A", 1), ("A", 2)))[0].pieces
    assert float(second.wide) == pytest.approx(2 * float(first.wide), abs=0.2)


def test_lots_stand_further_apart_than_packages_of_one_lot():
    one, two = shelf_bar(rows(("A", 1), ("A", 1), ("B", 1)))
    within = float(one.pieces[1].x) - float(one.pieces[0].x) - float(one.pieces[0].wide)
    between = float(two.pieces[0].x) - float(one.pieces[1].x) - float(one.pieces[1].wide)
    assert (within, between) == (pytest.approx(GAP_IN_LOT, abs=0.2), pytest.approx(GAP_BETWEEN_LOTS, abs=0.2))


def test_the_last_package_ends_at_the_end_of_the_bar():
    last = shelf_bar(rows(("A", 1), ("B", 5), ("C", 2)))[-1].pieces[-1]
    assert float(last.x) + float(last.wide) == pytest.approx(BAR_LONG, abs=0.2)


def test_packages_without_a_lot_say_so():
    assert shelf_bar(rows(("", 1)))[0].name == "none given"


def test_a_crowd_of_packages_closes_ranks_and_still_fits():
    lots = shelf_bar(rows(*((f"{number:03}", 1) for number in range(400))))
    assert all(float(lot.pieces[0].wide) == BAR_LONG / 400 for lot in lots)
