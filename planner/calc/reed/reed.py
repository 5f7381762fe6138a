"""Reed: which reed gives the sett, how many ends in each dent, and where to start."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from math import ceil, floor, gcd

from planner.calc.terms.brief import ReedFacts
from planner.calc.terms.plan import ReedChoice, StripeSley
from studio.quantities import Cm, Dents, DentsPerCm, Ends, EndsPerCm

ZERO = Fraction(0)
HALF = Fraction(1, 2)
COMFORTABLE = 2
MOST_PER_DENT = 4
PLAIN_ENOUGH = 2
USEFUL_ERROR = Fraction(1, 10)


def _even(ends: int, dents: int) -> tuple[int, ...]:
    return tuple((dent + 1) * ends // dents - dent * ends // dents for dent in range(dents))


def sley_orders(dents: DentsPerCm, sett: EndsPerCm, most_dents: Dents = 8) -> tuple[tuple[Ends, ...], ...]:
    """Propose ways to sley a sett in a reed, one for each length of repeat.

    The shortest first, up to `most_dents`, none said twice. The nearest whole number of ends is spread evenly over the
    dents by rounding the running total down. That gives the orders a yarn shop's reed substitution table prints (1-1-2,
    0-1-1, 2-2-3); some setts beside them are misprinted.
    Source: plain arithmetic. Raises ValueError if `dents`, `sett` or `most_dents` is not above zero.

    Sixteen ends to the inch in a 12-dent reed:
    >>> sley_orders(Fraction(12), Fraction(16), 3)
    ((1,), (1, 2), (1, 1, 2))
    """
    if dents <= 0 or sett <= 0 or most_dents < 1:
        raise ValueError(f"dents {dents}, sett {sett} and most_dents {most_dents} must be above zero")
    per_dent = sett / dents
    tried = ((floor(per_dent * count + HALF), count) for count in range(1, most_dents + 1))
    return tuple(_even(ends, count) for ends, count in tried if ends and gcd(ends, count) == 1)


def sley_sett(dents: DentsPerCm, sley: tuple[Ends, ...]) -> EndsPerCm:
    """Give the sett that a sley order makes.

    Source: plain arithmetic. Raises ValueError if `dents` is not above zero, or `sley` is empty, holds no ends or one
    below zero.

    >>> sley_sett(Fraction(10), (2, 2, 3))
    Fraction(70, 3)
    """
    if dents <= 0 or not sum(sley) or min(sley) < 0:
        raise ValueError(f"dents {dents} must be above zero and sley {sley} must hold ends, none below zero")
    return dents * sum(sley) / len(sley)


def empty_at_left(reed: ReedFacts, used: Dents, shift: Cm = ZERO) -> Dents:
    """Count the dents to leave empty at the left, seen from the seat, so that the warp lies straight.

    Half of the dents left over, moved by the shift to the right, to the nearest whole dent; never so many that the warp
    leaves the reed.
    Source: plain arithmetic. Raises ValueError if `used` is below one.

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


def rank_reeds(reeds: Iterable[ReedFacts], sett: EndsPerCm, ends: Ends, shift: Cm = ZERO) -> tuple[ReedChoice, ...]:
    """Rank the reeds of the studio for a sett, best first, with where to start.

    Long enough comes first, then the smaller error (exact before all), then an even order, no dent fuller than four,
    and near two ends in a dent, since knots pass and reed marks stay few. A reed that is not exact also shows its
    truest order of one or two dents, for weavers who prefer it. The empty dents are halved, an odd one to the right,
    and a shift, to the right, is taken to the nearest dent.
    Source: common practice, no source. Raises ValueError if `sett` or `ends` is not above zero.

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
    reeds: Iterable[ReedFacts], stripes: Mapping[str, tuple[EndsPerCm, Ends]], shift: Cm = ZERO
) -> tuple[ReedChoice, ...]:
    """Rank the reeds of the studio for stripes with setts of their own, best first.

    Each yarn, by its code, is sleyed in its truest order. Long enough comes first; then the reed whose orders are the
    most even, by how far the fullest dent of each yarn is from its emptiest, added up; then the least error of the
    worst yarn; then the fewest dents. Even orders leave fewer reed marks, and in stripes two orders stand side by side.
    The dents are those of all stripes together, rounded up.
    Source: common practice, no source. Raises ValueError if there are no stripes, or a sett or a number of ends is not
    above zero.

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
