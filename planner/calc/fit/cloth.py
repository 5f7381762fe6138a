"""The wish against its own numbers: sett, count, colour order, length. Advice, never refusal.

Codes and their values (words: `planner.plan.remarks`):
sett_above_greatest {sett, yarn, weave, greatest}; sett_closer_than_usual, sett_wider_than_usual {sett, yarn, low,
high}; ends_changed {wanted, ends, width}; width_changed {wanted, expected}; multiple_missed {multiple, repeat,
balance, ends}; repeat_cut {repeats, balance};
order_not_symmetrical {first, last}; order_fits_sections {order, setups}; one_more_fits {needs, left, margin};
one_more_short {needs, left, short, margin}; one_more_misses {needs, left}; margin_small {margin, usual};
waste_below_loom {waste, loom, measured}; and losses_missing; sley_by_stripe {yarn, order, reed}.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.calc.terms.plan import ColourRun, OneMore, Quantity, Remark, Severity
from studio.quantities import Cm, Ends, EndsExact, EndsPerCm, Repeats, Setups

NOTE, WARN = Severity.NOTE, Severity.WARN

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

LEAST_MARGIN = Fraction(1524, 100)
"""Margin below which a note is made, six inches [cm]. Common practice, no source."""

WIDTH_SEEN = Fraction(1, 100)
"""Share by which the finished width must change before a note is made. Common practice, no source."""


def sett_remarks(
    sett: EndsPerCm, greatest: EndsPerCm, usual: tuple[EndsPerCm, EndsPerCm] | None, yarn: str, weave: str
) -> tuple[Remark, ...]:
    """Say when a sett is closer than the yarn can lie, or far from what is usual.

    WARN above the greatest sett, NOTE outside the usual ones, which are None when no chart has the yarn. A chart
    advises; it never refuses, for charts carry misprints.
    Source: plain comparison. Raises ValueError if `sett` or `greatest` is not above zero.

    >>> band = (Fraction(7), Fraction(9))
    >>> [remark.code for remark in sett_remarks(Fraction(12), Fraction(10), band, "8/2 cotton", "plain weave")]
    ['sett_above_greatest', 'sett_closer_than_usual']
    """
    if sett <= 0 or greatest <= 0:
        raise ValueError(f"sett {sett} and greatest {greatest} must be above zero")
    said, wanted = [], Quantity(sett, "sett")
    if sett > greatest:
        values: Values = {"sett": wanted, "yarn": yarn, "weave": weave, "greatest": Quantity(greatest, "sett")}
        said.append(Remark("sett_above_greatest", WARN, values))
    if usual is not None:
        band: Values = {
            "sett": wanted,
            "yarn": yarn,
            "low": Quantity(usual[0], "sett"),
            "high": Quantity(usual[1], "sett"),
        }
        if sett > usual[1]:
            said.append(Remark("sett_closer_than_usual", NOTE, band))
        elif sett < usual[0]:
            said.append(Remark("sett_wider_than_usual", NOTE, band))
    return tuple(said)


def count_remarks(wanted: Ends | None, ends: Ends, width: Cm, finished: tuple[Cm | None, Cm]) -> tuple[Remark, ...]:
    """Say when repeats, pairs or selvedges changed the count, or the finished width.

    `wanted` fill the wanted width, None when ends were given; `finished` is the width wanted, None when not said, and
    to expect.
    Source: plain comparison. Raises ValueError if `ends` or `width` is not above zero.

    >>> [remark.code for remark in count_remarks(365, 360, Fraction(76), (Fraction(70), Fraction(68)))]
    ['ends_changed', 'width_changed']
    """
    if ends < 1 or width <= 0:
        raise ValueError(f"ends {ends} and width {width} must be above zero")
    said = []
    if wanted is not None and wanted != ends:
        values: Values = {"wanted": Quantity(wanted, "ends"), "ends": Quantity(ends, "ends")}
        said.append(Remark("ends_changed", NOTE, {**values, "width": Quantity(width, "length")}))
    hoped, expected = finished
    if hoped is not None and abs(expected - hoped) > WIDTH_SEEN * hoped:
        values = {"wanted": Quantity(hoped, "length"), "expected": Quantity(expected, "length")}
        said.append(Remark("width_changed", NOTE, values))
    return tuple(said)


def multiple_remarks(multiple: Ends, repeat: Ends, balance: Ends, ends: Ends) -> tuple[Remark, ...]:
    """Say when whole repeats with their balance can never be the multiple asked for.

    WARN where the count, without extra selvedges, is no such multiple.
    Source: plain comparison. Raises ValueError if `multiple`, `repeat` or `ends` is not above zero, or `balance` is
    below.

    >>> [remark.code for remark in multiple_remarks(2, 30, 1, 361)]
    ['multiple_missed']
    """
    if multiple < 1 or repeat < 1 or ends < 1 or balance < 0:
        raise ValueError(f"multiple {multiple}, repeat {repeat}, ends {ends} above zero, balance {balance} not below")
    if ends % multiple == 0:
        return ()
    values: Values = {"multiple": Quantity(multiple, "count"), "repeat": Quantity(repeat, "ends")}
    values |= {"balance": Quantity(balance, "ends"), "ends": Quantity(ends, "ends")}
    return (Remark("multiple_missed", WARN, values),)


def order_edge_remarks(
    pattern: Sequence[ColourRun], repeats: Repeats, balance: Ends, planned: Ends
) -> tuple[Remark, ...]:
    """Say when the edges of the colour order differ, or its last repeat is cut.

    `balance` ends lie beyond the repeats, `planned` the weaver asked for.
    Source: plain comparison. Raises ValueError if `pattern` is empty.

    >>> runs = (ColourRun("A", 15), ColourRun("C", 6))
    >>> [remark.code for remark in order_edge_remarks(runs, 1, 0, 0)]
    ['order_not_symmetrical']
    """
    if not pattern:
        raise ValueError("pattern must hold at least one run")
    said, first, last = [], pattern[0], pattern[-1]
    if len(pattern) > 1 and first != last:
        values: Values = {"first": f"{first.ends} {first.code}", "last": f"{last.ends} {last.code}"}
        said.append(Remark("order_not_symmetrical", NOTE, values))
    if repeats and balance != planned:
        values = {"repeats": Quantity(repeats, "count"), "balance": Quantity(balance, "ends")}
        said.append(Remark("repeat_cut", NOTE, values))
    return tuple(said)


def order_remarks(order: Sequence[ColourRun], section: EndsExact, setups: Setups) -> tuple[Remark, ...]:
    """Offer a colour order near the wanted one that makes every section alike.

    The stripes are stretched in proportion, running totals rounded, so that whole repeats fill one section.
    Source: plain arithmetic. Raises ValueError if `section` is not above zero.

    >>> order = (ColourRun("A", 15), ColourRun("B", 9), ColourRun("C", 6))
    >>> order_remarks(order, Fraction(24), 5)[0].values["order"]
    '12 A, 7 B, 5 C'
    """
    if section <= 0:
        raise ValueError(f"section {section} must be above zero")
    repeat = sum(run.ends for run in order)
    repeats = max(1, round(section / repeat)) if repeat else 1
    target = section / repeats
    if setups < 2 or not order or target.denominator != 1:  # noqa: PLR2004 - one set-up needs no offer
        return ()
    fitted = _stretched(order, repeat, int(target))
    if min(run.ends for run in fitted) < 1 or tuple(fitted) == tuple(order):
        return ()
    words = ", ".join(f"{run.ends} {run.code}" for run in fitted)
    return (Remark("order_fits_sections", NOTE, {"order": words, "setups": Quantity(setups - 1, "count")}),)


def _stretched(order: Sequence[ColourRun], repeat: int, target: int) -> list[ColourRun]:
    fitted, before, placed = [], 0, 0
    for run in order:
        before += run.ends
        stop = (2 * before * target + repeat) // (2 * repeat)
        fitted.append(ColourRun(run.code, stop - placed))
        placed = stop
    return fitted


def one_more_remarks(one_more: OneMore | None) -> tuple[Remark, ...]:
    """Say whether one more piece fits, and if not, by how much it fails.

    Where the margin would make it fit, the margin is named.
    Source: plain arithmetic.

    >>> one_more_remarks(OneMore(Fraction(38), Fraction(37), Fraction(10), fits=False))[0].code
    'one_more_short'
    """
    if one_more is None:
        return ()
    needs, left = Quantity(one_more.needs, "length"), Quantity(one_more.left, "length")
    values: Values = {"needs": needs, "left": left, "margin": Quantity(one_more.margin, "length")}
    short = one_more.needs - one_more.left
    if one_more.fits:
        return (Remark("one_more_fits", NOTE, values),)
    if short <= one_more.margin:
        return (Remark("one_more_short", NOTE, {**values, "short": Quantity(short, "length")}),)
    return (Remark("one_more_misses", NOTE, {"needs": needs, "left": left}),)


def length_remarks(margin: Cm, waste: Cm, measured: Cm, loom: str, *, losses_missing: bool) -> tuple[Remark, ...]:
    """Say when little is kept back: margin, loom waste, losses.

    WARN where a warp would run short, else notes; `losses_missing` says that neither take-up nor shrinkage is allowed
    for.
    Source: six inches is the least margin in common use; no source. Raises ValueError if a length is below zero.

    >>> [found.code for found in length_remarks(Fraction(0), Fraction(60), Fraction(90), "Heron", losses_missing=True)]
    ['losses_missing', 'waste_below_loom', 'margin_small']
    """
    if margin < 0 or waste < 0 or measured < 0:
        raise ValueError(f"margin {margin}, waste {waste} and measured {measured} must not be below zero")
    said = [Remark("losses_missing", WARN, {})] if losses_missing else []
    if waste < measured:
        values: Values = {"waste": Quantity(waste, "length"), "loom": loom, "measured": Quantity(measured, "length")}
        said.append(Remark("waste_below_loom", WARN, values))
    if margin < LEAST_MARGIN:
        values = {"margin": Quantity(margin, "length"), "usual": Quantity(LEAST_MARGIN, "length")}
        said.append(Remark("margin_small", NOTE, values))
    return tuple(said)


def stripe_sley_remarks(orders: Sequence[tuple[str, tuple[Ends, ...]]], reed: str) -> tuple[Remark, ...]:
    """Say how each stripe is sleyed where yarns have setts of their own.

    Source: plain words; no arithmetic happens here.

    >>> stripe_sley_remarks([("5/2", (1, 1, 1, 2))], "12 dpi")[0].values["order"]
    '1-1-1-2'
    """
    return tuple(
        Remark("sley_by_stripe", NOTE, {"yarn": yarn, "order": "-".join(map(str, order)), "reed": reed})
        for yarn, order in orders
    )
