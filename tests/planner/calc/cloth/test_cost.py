"""Cost: a printed mixture (K01, K09 of the published values), and money that neither appears nor goes."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.cost import cloth_cost, mixture, packages_to_buy, waste_share

MASSES = st.fractions(Fraction(1, 10), 5000, max_denominator=10)
PRICES = st.fractions(0, 2, max_denominator=1000)
PARTS = st.lists(st.tuples(MASSES, PRICES), min_size=1, max_size=5)


@given(parts=PARTS)
def test_a_mixture_costs_what_its_parts_cost(parts):
    found = mixture(parts)
    assert found.price * found.mass == found.cost == sum(mass * price for mass, price in parts)
    assert min(price for _, price in parts) <= found.price <= max(price for _, price in parts)


@given(warp=PARTS, weft=PARTS, pieces=st.integers(1, 40))
def test_warp_and_weft_are_the_whole_and_so_are_the_pieces(warp, weft, pieces):
    found = cloth_cost(warp, weft, pieces)
    assert found.warp + found.weft == found.whole == found.of_a_piece * pieces
    assert found.warp == mixture(warp).cost


def test_a_cloth_without_weft_of_its_own_costs_its_warp():
    assert cloth_cost([(Fraction(10), Fraction(2))], []).whole == 20


@given(missing=st.fractions(0, 5000, max_denominator=10), package=MASSES, price=PRICES)
def test_packages_make_up_for_what_is_missing_and_one_fewer_does_not(missing, package, price):
    found = packages_to_buy(missing, package, price)
    assert found.packages * package == missing + found.over
    assert 0 <= found.over < package
    assert found.cost == found.packages * price


@given(wound=MASSES, part=st.fractions(0, 1, max_denominator=50))
def test_waste_is_a_part_of_what_is_wound(wound, part):
    assert waste_share(part * wound, wound) == part


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: mixture([]), "parts"),
        (lambda: mixture([(Fraction(1), Fraction(-1))]), "parts"),
        (lambda: mixture([(Fraction(-1), Fraction(1)), (Fraction(2), Fraction(1))]), "parts"),
        (lambda: cloth_cost([(Fraction(-1), Fraction(1))], []), "mass"),
        (lambda: cloth_cost([], [(Fraction(1), Fraction(-1))]), "price"),
        (lambda: cloth_cost([], [], 0), "pieces"),
        (lambda: packages_to_buy(Fraction(1), Fraction(0), Fraction(1)), "package"),
        (lambda: packages_to_buy(Fraction(-1), Fraction(1), Fraction(1)), "missing"),
        (lambda: packages_to_buy(Fraction(1), Fraction(1), Fraction(-1)), "price"),
        (lambda: waste_share(Fraction(1), Fraction(0)), "wound"),
        (lambda: waste_share(Fraction(2), Fraction(1)), "wasted"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
