"""Reed: which reed gives the sett, how many ends in each dent, and where to start."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from math import ceil, floor, gcd

from planner.calc.terms.brief import ReedFacts
from planner.calc.terms.plan import ReedChoice, StripeSley

ZERO = Fraction(0)
HALF = Fraction(1, 2)
COMFORTABLE = 2
MOST_PER_DENT = 4
PLAIN_ENOUGH = 2
USEFUL_ERROR = Fraction(1, 10)


def _even(ends: int, dents: int) -> tuple[int, ...]:
    return tuple((dent + 1) * ends // dents - dent * ends // dents for dent in range(dents))


def sley_orders(dents: Fraction, sett: Fraction, most_dents: int = 8) -> tuple[tuple[int, ...], ...]:
    """Propose ways to sley a sett in a reed, one for each length of repeat.

    Parameters
    ----------
    dents : Fraction
        Dents per unit of width. [dents/cm]
    sett : Fraction
        Wanted sett. [ends/cm]
    most_dents : int
        Longest repeat to try. [dents]

    Returns
    -------
    orders : tuple[tuple[int, ...], ...]
        Ends in each dent of one repeat, shortest repeat first, none said twice. [ends]

    Raises
    ------
    ValueError
        If `dents`, `sett` or `most_dents` is not above zero.

    Notes
    -----
    The nearest whole number of ends is spread evenly over the dents by rounding the running total down. That gives the
    orders a yarn shop's reed substitution table prints (1-1-2, 0-1-1, 2-2-3); some setts beside them are misprinted.
    Plain arithmetic.

    Examples
    --------
    Sixteen ends to the inch in a 12-dent reed:

    >>> sley_orders(Fraction(12), Fraction(16), 3)
    ((1,), (1, 2), (1, 1, 2))
    """
    if dents <= 0 or sett <= 0 or most_dents < 1:
        raise ValueError(f"dents {dents}, sett {sett} and most_dents {most_dents} must be above zero")
    per_dent = sett / dents
    tried = ((floor(per_dent * count + HALF), count) for count in range(1, most_dents + 1))
    return tuple(_even(ends, count) for ends, count in tried if ends and gcd(ends, count) == 1)


def sley_sett(dents: Fraction, sley: tuple[int, ...]) -> Fraction:
    """Give the sett that a sley order makes.

    Parameters
    ----------
    dents : Fraction
        Dents per unit of width. [dents/cm]
    sley : tuple[int, ...]
        Ends in each dent of one repeat. [ends]

    Returns
    -------
    sett : Fraction
        Mean sett over whole repeats. [ends/cm]

    Raises
    ------
    ValueError
        If `dents` is not above zero, or `sley` is empty, holds no ends or one below zero.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    >>> sley_sett(Fraction(10), (2, 2, 3))
    Fraction(70, 3)
    """
    if dents <= 0 or not sum(sley) or min(sley) < 0:
        raise ValueError(f"dents {dents} must be above zero and sley {sley} must hold ends, none below zero")
    return dents * sum(sley) / len(sley)


def empty_at_left(reed: ReedFacts, used: int, shift: Fraction = ZERO) -> int:
    """Count the dents to leave empty at the left, seen from the seat, so that the warp lies straight.

    Parameters
    ----------
    reed : ReedFacts
        The reed. [-]
    used : int
        Dents the warp takes. [dents]
    shift : Fraction
        Warp off the middle of the beam, to the right seen from the seat. [cm]

    Returns
    -------
    empty : int
        Dents before the first used one; never so many that the warp leaves the reed. [dents]

    Raises
    ------
    ValueError
        If `used` is below one.

    Notes
    -----
    Half of the dents left over, moved by the shift to the nearest whole dent. Plain arithmetic.

    Examples
    --------
    >>> empty_at_left(ReedFacts("10 dpi", Fraction(500, 127), Fraction(2286, 25)), 141)
    109
    """
    if used < 1:
        raise ValueError(f"used {used} must be above zero")
    spare = max(0, floor(reed.reed_length * reed.dents) - used)
    return min(spare, max(0, spare // 2 + floor(shift * reed.dents + HALF)))


def _choice(reed: ReedFacts, sley: tuple[int, ...], wanted: Fraction, ends: int, shift: Fraction) -> ReedChoice:
    sett = sley_sett(reed.dents, sley)
    used = ceil(ends * reed.dents / sett)
    empty = empty_at_left(reed, used, shift)
    return ReedChoice(
        reed=reed.name,
        sley=sley,
        sett=sett,
        error=sett / wanted - 1,
        dents=used,
        empty_left=empty,
        start_dent=empty + 1,
        width=used / reed.dents,
    )


def _merit(reed: ReedFacts, choice: ReedChoice) -> tuple[bool, Fraction, int, bool, Fraction, int]:
    per_dent = Fraction(sum(choice.sley), len(choice.sley))
    return (
        choice.width > reed.reed_length,
        abs(choice.error),
        max(choice.sley) - min(choice.sley),
        max(choice.sley) > MOST_PER_DENT,
        abs(per_dent - COMFORTABLE),
        len(choice.sley),
    )


def _best_of(reed: ReedFacts, wanted: Fraction, ends: int, shift: Fraction) -> list[ReedChoice]:
    """Give the truest order of one reed and, where that one is not exact, the truest simple one beside it."""
    orders = sley_orders(reed.dents, wanted)
    # Within one reed, its length is no reason to change the sett: that is the weaver's choice.
    choices = sorted(
        (_choice(reed, sley, wanted, ends, shift) for sley in orders), key=lambda one: _merit(reed, one)[1:]
    )
    simple = [one for one in choices[1:] if len(one.sley) <= PLAIN_ENOUGH and abs(one.error) <= USEFUL_ERROR]
    return choices[:1] if not choices or choices[0].error == 0 else choices[:1] + simple[:1]


def rank_reeds(reeds: Iterable[ReedFacts], sett: Fraction, ends: int, shift: Fraction = ZERO) -> tuple[ReedChoice, ...]:
    """Rank the reeds of the studio for a sett, best first, with where to start.

    Parameters
    ----------
    reeds : Iterable[ReedFacts]
        Reeds that fit the loom. [-]
    sett : Fraction
        Wanted sett. [ends/cm]
    ends : int
        Warp ends sleyed. [ends]
    shift : Fraction
        Warp moved off the middle, to the right seen from the seat. [cm]

    Returns
    -------
    choices : tuple[ReedChoice, ...]
        One or two ways for each reed, best first. [-]

    Raises
    ------
    ValueError
        If `sett` or `ends` is not above zero.

    Notes
    -----
    Long enough comes first, then the smaller error (exact before all), then an even order, no dent fuller than four,
    and near two ends in a dent: common practice, no source, since knots pass and reed marks stay few. A reed that is
    not exact also shows its truest order of one or two dents, for weavers who prefer it. The empty dents are halved,
    an odd one to the right, and a shift is taken to the nearest dent.

    Examples
    --------
    282 ends at 20 to the inch in a 36-inch reed of 10 dents leave 109 empty:

    >>> inch = Fraction(127, 50)
    >>> best = rank_reeds([ReedFacts("10 dpi", 10 / inch, 36 * inch)], 20 / inch, 282)[0]
    >>> best.sley, best.dents, best.empty_left, best.start_dent
    ((2,), 141, 109, 110)
    """
    if sett <= 0 or ends < 1:
        raise ValueError(f"sett {sett} and ends {ends} must be above zero")
    found = [(_merit(reed, choice), choice) for reed in reeds for choice in _best_of(reed, sett, ends, shift)]
    return tuple(choice for _, choice in sorted(found, key=lambda pair: pair[0]))


def rank_for_stripes(
    reeds: Iterable[ReedFacts], stripes: Mapping[str, tuple[Fraction, int]], shift: Fraction = ZERO
) -> tuple[ReedChoice, ...]:
    """Rank the reeds of the studio for stripes with setts of their own, best first.

    Parameters
    ----------
    reeds : Iterable[ReedFacts]
        Reeds that fit the loom. [-]
    stripes : Mapping[str, tuple[Fraction, int]]
        Code of each yarn to its sett [ends/cm] and its ends. [ends]
    shift : Fraction
        Warp moved off the middle, to the right seen from the seat. [cm]

    Returns
    -------
    choices : tuple[ReedChoice, ...]
        One for each reed that can carry them all, best first. [-]

    Raises
    ------
    ValueError
        If there are no stripes, or a sett or a number of ends is not above zero.

    Notes
    -----
    Each yarn is sleyed in its truest order. Long enough comes first; then the reed whose orders are the most even, by
    how far the fullest dent of each yarn is from its emptiest, added up; then the least error of the worst yarn; then
    the fewest dents. Even orders leave fewer reed marks, and in stripes two orders stand side by side: common practice,
    no source. The dents are those of all stripes together, rounded up.

    Examples
    --------
    Stripes at 20 and at 10 to the inch: 10 dents take 2 and 1, 6 dents 3-3-4 and 1-2-2, both exactly:

    >>> inch = Fraction(127, 50)
    >>> owned = [ReedFacts(f"{dents} dpi", dents / inch, 36 * inch) for dents in (6, 10)]
    >>> found = rank_for_stripes(owned, {"A": (20 / inch, 240), "B": (10 / inch, 80)})
    >>> [(one.reed, [stripe.sley for stripe in one.stripes], one.dents) for one in found]
    [('10 dpi', [(2,), (1,)], 200), ('6 dpi', [(3, 3, 4), (1, 2, 2)], 120)]
    """
    if not stripes or any(sett <= 0 or ends < 1 for sett, ends in stripes.values()):
        raise ValueError(f"stripes {sorted(stripes)} must each have a sett and ends above zero")
    found = [pair for one in reeds if (pair := _of_stripes(one, stripes, shift)) is not None]
    return tuple(choice for _, choice in sorted(found, key=lambda pair: pair[0]))


def _of_stripes(
    facts: ReedFacts, stripes: Mapping[str, tuple[Fraction, int]], shift: Fraction
) -> tuple[tuple[bool, int, Fraction, int], ReedChoice] | None:
    """Give a reed with the order of every yarn, and its merit; None where one of them has no order in it."""
    best: dict[tuple[int, int], list[ReedChoice]] = {}
    for sett, _ in stripes.values():
        key = (sett.numerator, sett.denominator)  # yarns of one sett share their order
        if key not in best:
            best[key] = _best_of(facts, sett, 1, ZERO)
    orders = {code: best[sett.numerator, sett.denominator] for code, (sett, _) in stripes.items()}
    if not all(orders.values()):
        return None
    sleys = tuple(StripeSley(code, one.sley, one.sett, one.error) for code, (one, *_) in orders.items())
    width = sum((stripes[one.code][1] / one.sett for one in sleys), ZERO)
    leading = max(sleys, key=lambda one: stripes[one.code][1])
    used, worst = ceil(width * facts.dents), max((one.error for one in sleys), key=abs)
    empty = empty_at_left(facts, used, shift)
    choice = ReedChoice(
        reed=facts.name,
        sley=leading.sley,
        sett=leading.sett,
        error=worst,
        dents=used,
        empty_left=empty,
        start_dent=empty + 1,
        width=used / facts.dents,
        stripes=sleys,
    )
    uneven = sum(max(one.sley) - min(one.sley) for one in sleys)
    return (choice.width > facts.reed_length, uneven, abs(worst), used), choice
