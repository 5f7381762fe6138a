"""Sums of the yarn room's ledger, in whole micrograms: every database adds them exactly, and no scale shows one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from math import floor

from studio.quantities import Grams, Key, Micrograms, Money, Price

MICROGRAMS_IN_GRAM = 1_000_000
DAMP_UG = 5_000_000
DAMP_SHARE = Fraction(1, 50)
"""What may come back beyond what went out: 5 g, or 2 % of it, for a damp day and a coarse scale (no source)."""
ALIKE_UG = 100_000
"""A tenth of a gram: readings nearer than this are called alike in words (common practice, no source)."""
SLACK_UG = 1_000
"""A thousandth of a gram: no studio's scale shows it, so words that miss all of it by less mean all of it."""


def micrograms(mass: Grams) -> Micrograms:
    """Give a mass in whole micrograms, halves up.

    A tenth of an ounce is not whole, so a sum of many readings may be off by half of one for each.
    Source: plain arithmetic.

    >>> micrograms(Fraction("28.349523125")), micrograms(Fraction(-84))
    (28349523, -84000000)
    """
    return floor(mass * MICROGRAMS_IN_GRAM + Fraction(1, 2))


def grams(amount: Micrograms) -> Grams:
    """Give an amount of the ledger in grams, exactly.

    Source: plain arithmetic.

    >>> grams(84_000_000)
    Fraction(84, 1)
    """
    return Fraction(amount, MICROGRAMS_IN_GRAM)


def net_micrograms(gross: Grams, tare: Grams) -> Micrograms:
    """Give the yarn on a package from two readings of the scale, rounded once.

    Source: plain arithmetic. Raises ValueError if `tare` is below zero or above `gross`.

    A cone of 109 g on a core of 25 g:
    >>> net_micrograms(Fraction(109), Fraction(25))
    84000000
    """
    if not 0 <= tare <= gross:
        raise ValueError(f"tare {tare} must not be below zero nor above gross {gross}")
    return micrograms(gross - tare)


def meant(asked: Micrograms, there: Micrograms) -> Micrograms:
    """Give what was meant by an amount: all that is there, where no scale could tell the two apart.

    `there` where the two differ by less than `SLACK_UG`, else `asked`: it leaves no crumbs of a few micrograms, and
    refuses nobody for want of one.
    Source: plain arithmetic.

    >>> meant(500_000_400, 500_000_000), meant(500_100_000, 500_000_000)
    (500000000, 500100000)
    """
    return there if abs(asked - there) < SLACK_UG else asked


def alike(one: Micrograms, other: Micrograms) -> bool:
    """Say whether two amounts read alike on a studio's scale.

    They do when they differ by less than a tenth of a gram.
    Source: plain arithmetic.

    >>> alike(261_669_900, 261_670_000), alike(261_600_000, 261_700_000)
    (True, False)
    """
    return abs(one - other) < ALIKE_UG


def most_back(out: Micrograms) -> Micrograms:
    """Give the most that may come back of what is out.

    A damp day adds a little; nothing comes back where nothing is out.
    Source: common practice, no source for the allowance.

    >>> most_back(100_000_000), most_back(1_000_000_000), most_back(0)
    (105000000, 1020000000, 0)
    """
    return out + max(DAMP_UG, floor(out * DAMP_SHARE)) if out > 0 else 0


def cut_back(
    need: Micrograms, promises: Iterable[tuple[Key, Micrograms]], held: Mapping[Key, Micrograms]
) -> dict[Key, Micrograms]:
    """Share a shortage among those who were promised yarn, the latest promise first.

    Each work is known by its key. What it released or took was of its oldest promises, so `held` bounds what it can
    lose. Who came first keeps most.
    Source: a habit of lists, no source. Raises ValueError if all of them together do not hold `need`.

    Work 1 was promised 100, then work 2 was promised 80, then work 1 another 50; of these 60 are not there:
    >>> cut_back(60, [(1, 50), (2, 80), (1, 100)], {1: 150, 2: 80})
    {1: 50, 2: 10}
    """
    left, cut = dict(held), dict[int, int]()
    for work, promised in promises:
        taken = min(need, promised, left.get(work, 0))
        if taken > 0:
            cut[work] = cut.get(work, 0) + taken
            left[work] -= taken
            need -= taken
    if need > 0:
        raise ValueError(f"need {need} is more than all promises hold")
    return cut


def price_of(mass: Grams, price_per_100g: Money) -> Price:
    """Give what yarn costs, rounded once to the smallest coin, halves up.

    Source: plain arithmetic. Raises ValueError if `mass` or `price_per_100g` is below zero.

    >>> price_of(Fraction(84), Fraction("3.10"))
    Decimal('2.60')
    """
    if mass < 0 or price_per_100g < 0:
        raise ValueError(f"mass {mass} and price_per_100g {price_per_100g} must not be below zero")
    price = mass / 100 * price_per_100g
    coins = Decimal(floor(price * 100 + Fraction(1, 2)))
    return coins.scaleb(-2)
