"""Sums of the yarn room's ledger, in whole micrograms: every database adds them exactly, and no scale shows one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from math import floor

MICROGRAMS_IN_GRAM = 1_000_000
DAMP_UG = 5_000_000
DAMP_SHARE = Fraction(1, 50)
"""What may come back beyond what went out: 5 g, or 2 % of it, for a damp day and a coarse scale (no source)."""
ALIKE_UG = 100_000
"""A tenth of a gram: readings nearer than this are called alike in words (common practice, no source)."""
SLACK_UG = 1_000
"""A thousandth of a gram: no studio's scale shows it, so words that miss all of it by less mean all of it."""


def micrograms(mass: Fraction) -> int:
    """Give a mass in whole micrograms, halves up.

    Parameters
    ----------
    mass : Fraction
        Any mass, also below zero. [g]

    Returns
    -------
    amount : int
        The same, to the nearest whole one. [ug]

    Notes
    -----
    Plain arithmetic. A tenth of an ounce is not whole, so a sum of many readings may be off by half of one for each.

    Examples
    --------
    >>> micrograms(Fraction("28.349523125")), micrograms(Fraction(-84))
    (28349523, -84000000)
    """
    return floor(mass * MICROGRAMS_IN_GRAM + Fraction(1, 2))


def grams(amount: int) -> Fraction:
    """Give an amount of the ledger in grams, exactly.

    Parameters
    ----------
    amount : int
        Whole micrograms, also below zero. [ug]

    Returns
    -------
    mass : Fraction
        The same. [g]

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
    >>> grams(84_000_000)
    Fraction(84, 1)
    """
    return Fraction(amount, MICROGRAMS_IN_GRAM)


def net_micrograms(gross: Fraction, tare: Fraction) -> int:
    """Give the yarn on a package from two readings of the scale, rounded once.

    Parameters
    ----------
    gross : Fraction
        Package with its yarn. [g]
    tare : Fraction
        The same kind of package, empty. [g]

    Returns
    -------
    amount : int
        Yarn alone. [ug]

    Raises
    ------
    ValueError
        If `tare` is below zero or above `gross`.

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
    A cone of 109 g on a core of 25 g:

    >>> net_micrograms(Fraction(109), Fraction(25))
    84000000
    """
    if not 0 <= tare <= gross:
        raise ValueError(f"tare {tare} must not be below zero nor above gross {gross}")
    return micrograms(gross - tare)


def meant(asked: int, there: int) -> int:
    """Give what was meant by an amount: all that is there, where no scale could tell the two apart.

    Parameters
    ----------
    asked : int
        As typed. [ug]
    there : int
        All there is. [ug]

    Returns
    -------
    amount : int
        `there` where the two differ by less than `SLACK_UG`, else `asked`. [ug]

    Notes
    -----
    Plain arithmetic. It leaves no crumbs of a few micrograms, and refuses nobody for want of one.

    Examples
    --------
    >>> meant(500_000_400, 500_000_000), meant(500_100_000, 500_000_000)
    (500000000, 500100000)
    """
    return there if abs(asked - there) < SLACK_UG else asked


def alike(one: int, other: int) -> bool:
    """Say whether two amounts read alike on a studio's scale.

    Parameters
    ----------
    one, other : int
        The two. [ug]

    Returns
    -------
    alike : bool
        They differ by less than a tenth of a gram. [-]

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
    >>> alike(261_669_900, 261_670_000), alike(261_600_000, 261_700_000)
    (True, False)
    """
    return abs(one - other) < ALIKE_UG


def most_back(out: int) -> int:
    """Give the most that may come back of what is out.

    Parameters
    ----------
    out : int
        What is out, 0 or more. [ug]

    Returns
    -------
    most : int
        The same with what a damp day adds; nothing where nothing is out. [ug]

    Notes
    -----
    Plain arithmetic. The allowance is common practice, no source.

    Examples
    --------
    >>> most_back(100_000_000), most_back(1_000_000_000), most_back(0)
    (105000000, 1020000000, 0)
    """
    return out + max(DAMP_UG, floor(out * DAMP_SHARE)) if out > 0 else 0


def cut_back(need: int, promises: Iterable[tuple[int, int]], held: Mapping[int, int]) -> dict[int, int]:
    """Share a shortage among those who were promised yarn, the latest promise first.

    Parameters
    ----------
    need : int
        What can no longer be kept. [ug]
    promises : Iterable[tuple[int, int]]
        Key of the work and what was promised to it, the latest promise first. [ug]
    held : Mapping[int, int]
        What each work still holds by its key; what it released or took was of its oldest promises. [ug]

    Returns
    -------
    cut : dict[int, int]
        What each work loses by its key, in the order of the cuts. [ug]

    Raises
    ------
    ValueError
        If all of them together do not hold `need`.

    Notes
    -----
    Plain arithmetic. Who came first keeps most: a habit of lists, no source.

    Examples
    --------
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


def price_of(mass: Fraction, price_per_100g: Fraction) -> Decimal:
    """Give what yarn costs, rounded once to the smallest coin, halves up.

    Parameters
    ----------
    mass : Fraction
        Yarn sold. [g]
    price_per_100g : Fraction
        Price of a hundred grams. [money]

    Returns
    -------
    price : Decimal
        To two decimals. [money]

    Raises
    ------
    ValueError
        If `mass` or `price_per_100g` is below zero.

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
    >>> price_of(Fraction(84), Fraction("3.10"))
    Decimal('2.60')
    """
    if mass < 0 or price_per_100g < 0:
        raise ValueError(f"mass {mass} and price_per_100g {price_per_100g} must not be below zero")
    price = mass / 100 * price_per_100g
    coins = Decimal(floor(price * 100 + Fraction(1, 2)))
    return coins.scaleb(-2)
