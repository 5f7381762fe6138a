"""Cost: a mixture, warp and weft, whole packages to buy, and what is thrown away.

Money stays an exact fraction of the studio's own coin; it is rounded where it is shown, once.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from planner.calc.terms.plan import ClothCost
from studio.quantities import Cm, Grams, Money, MoneyPerGram, MoneyPerPackage, Packages, Pieces, Share

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Mixture:
    """Several yarns bought or used together."""

    mass: Grams
    cost: Money
    price: MoneyPerGram  # of one gram


@dataclass(frozen=True, slots=True)
class Purchase:
    """Whole packages bought for a mass that is missing."""

    packages: Packages
    cost: Money
    over: Grams  # yarn beyond what is missing


def mixture(parts: Iterable[tuple[Grams, MoneyPerGram]]) -> Mixture:
    """Give the price of yarns mixed by weight.

    Costs add, and their sum over the mass is the price.
    Source: W. Davis, Hosiery Manufacture, chapter on counts of yarn. Raises ValueError if a mass or price is below
    zero, or there is no mass at all.

    Equal weights at 4 and at 8 1/2:
    >>> mixture([(Fraction(3, 2), Fraction(4)), (Fraction(3, 2), Fraction(17, 2))]).price
    Fraction(25, 4)
    """
    kept = tuple(parts)
    mass = sum((grams for grams, _ in kept), ZERO)
    if mass <= 0 or any(grams < 0 or price < 0 for grams, price in kept):
        raise ValueError(f"parts {kept} must hold mass, and no mass or price below zero")
    cost = sum((grams * price for grams, price in kept), ZERO)
    return Mixture(mass, cost, cost / mass)


def cloth_cost(
    warp: Iterable[tuple[Grams, MoneyPerGram]], weft: Iterable[tuple[Grams, MoneyPerGram]], pieces: Pieces = 1
) -> ClothCost:
    """Give what warp and weft of a cloth cost.

    Each yarn is its mass, waste counted, and its price; the weaver's hours are not in it.
    Source: plain arithmetic. Raises ValueError if a mass or price is below zero or `pieces` is not above.

    >>> cloth_cost([(Fraction(400), Fraction(3, 100))], [(Fraction(300), Fraction(2, 100))], 4).of_a_piece
    Fraction(9, 2)
    """
    if pieces < 1:
        raise ValueError(f"pieces {pieces} must be above zero")
    of_warp, of_weft = _cost(warp), _cost(weft)
    return ClothCost(of_warp, of_weft, of_warp + of_weft, (of_warp + of_weft) / pieces)


def _cost(parts: Iterable[tuple[Fraction, Fraction]]) -> Fraction:
    kept = tuple(parts)
    if any(mass < 0 or price < 0 for mass, price in kept):
        raise ValueError("no mass and no price must be below zero")
    return sum((mass * price for mass, price in kept), ZERO)


def packages_to_buy(missing: Grams, package: Grams, price: MoneyPerPackage) -> Purchase:
    """Give the whole packages that make up for missing yarn.

    Rounded up, since half a cone is not sold; a core is not yarn.
    Source: plain arithmetic. Raises ValueError if `package` is not above zero, or `missing` or `price` is below.

    >>> packages_to_buy(Fraction(600), Fraction(250), Fraction(9))
    Purchase(packages=3, cost=Fraction(27, 1), over=Fraction(150, 1))
    """
    if package <= 0 or missing < 0 or price < 0:
        raise ValueError(f"package {package} must be above zero, missing {missing} and price {price} not below")
    packages = ceil(missing / package)
    return Purchase(packages, packages * price, packages * package - missing)


def waste_share(wasted: Cm, wound: Cm) -> Share:
    """Give the part of the yarn wound that is thrown away.

    wasted / wound. Lost are the loom waste of all ends, cut ends of sections and box lead; what is wound counts them
    too.
    Source: plain arithmetic. Raises ValueError if `wound` is not above zero, or `wasted` is below zero or above
    `wound`.

    Half a yard lost at each of 20 sections, of 510 yards on a spool:
    >>> round(float(100 * waste_share(Fraction(10), Fraction(510))), 2)
    1.96
    """
    if wound <= 0 or not 0 <= wasted <= wound:
        raise ValueError(f"wound {wound} must be above zero and wasted {wasted} a part of it")
    return wasted / wound
