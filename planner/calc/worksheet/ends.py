"""The worksheet's first count: the ends that fill the wanted width, by one sett or stripe by stripe."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.calc.cloth import colours, crammed, warp_width
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import ColourRun, Quantity, Sum
from planner.calc.worksheet.sums import added, line, of

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Ends:
    """How many ends, and why."""

    ends: int
    filling: int | None
    sums: tuple[Sum, ...]


def stripes_of(brief: WarpBrief, setts: Mapping[str, Fraction]) -> crammed.Stripes | None:
    """Give the colour order with its setts, where stripes have setts of their own."""
    order = brief.colour_order
    if len({setts[code] for code in {run.code for run in order}}) <= 1:
        return None
    return crammed.Stripes(order, tuple(setts[run.code] for run in order), brief.colour_layout)


def ends_of(brief: WarpBrief, order: tuple[ColourRun, ...], setts: Mapping[str, Fraction]) -> Ends:
    """Count the ends of the warp.

    Given directly, or by the order as typed, or from the width.
    """
    if brief.ends is not None:
        return Ends(brief.ends, None, ())
    if brief.finished_width is None and brief.width_in_reed is None:
        return Ends(colours.total(order), None, ())
    width, sums = _wanted_width(brief)
    stripes = stripes_of(brief, setts)
    if stripes is not None:
        return _laid(brief, stripes, setts, (width, sums))
    return _even(brief, colours.total(order), setts[order[0].code], (width, sums))


def _even(brief: WarpBrief, repeat: int, sett: Fraction, width_asked: tuple[Fraction, tuple[Sum, ...]]) -> Ends:
    width, sums = width_asked
    filling = warp_width.ends_across(width, sett)
    put_in = {"width": of(width, "length"), "sett": of(sett, "sett")}
    if brief.fit.whole_repeats:
        shown = line("ends_filling", of(width * sett, "ends"), put_in)
        ends, repeats = warp_width.ends_in_repeats(width * sett, repeat, brief.fit.balance, _multiple(brief, repeat))
        return Ends(ends, filling, (*sums, shown, _in_repeats(brief, repeats, repeat, ends)))
    ends = warp_width.ends_across(width, sett, brief.fit.multiple)
    put_in["multiple"] = of(brief.fit.multiple, "count")
    return Ends(ends, filling, (*sums, line("ends_across", of(ends, "ends"), put_in)))


def _laid(
    brief: WarpBrief,
    stripes: crammed.Stripes,
    setts: Mapping[str, Fraction],
    width_asked: tuple[Fraction, tuple[Sum, ...]],
) -> Ends:
    """Settle the count by laying the stripes out; the sums show the width of one repeat, yarn by yarn."""
    (width, sums), repeat, multiple = width_asked, colours.total(stripes.order), brief.fit.multiple
    filling = crammed.ends_that_fill(width, stripes)
    parts = sett_parts(stripes.order, setts)
    one = of(width_of_parts(parts), "length")
    shown = (*sums, added("repeat_width", one, parts))
    if brief.fit.whole_repeats:
        balance, multiple = brief.fit.balance, _multiple(brief, repeat)
        fewest, step = warp_width.repeats_in_steps(repeat, balance, multiple)
        ends = crammed.ends_that_fill(width, stripes, fewest, step)
        repeats = (ends - balance) // repeat
        return Ends(ends, filling, (*shown, _in_repeats(brief, repeats, repeat, ends)))
    ends = crammed.ends_that_fill(width, stripes, multiple, multiple)
    put_in = {"width": of(width, "length"), "one": one, "repeat": of(repeat, "ends"), "multiple": of(multiple, "count")}
    return Ends(ends, filling, (*shown, line("ends_laid", of(ends, "ends"), put_in)))


def _multiple(brief: WarpBrief, repeat: int) -> int:
    """Give the multiple that is kept; one that cannot be had is left to a remark."""
    fit = brief.fit
    return fit.multiple if warp_width.multiple_fits_repeats(repeat, fit.balance, fit.multiple) else 1


def _in_repeats(brief: WarpBrief, repeats: int, repeat: int, ends: int) -> Sum:
    put_in = {"repeats": of(repeats, "count"), "repeat": of(repeat, "ends"), "balance": of(brief.fit.balance, "ends")}
    return line("ends_in_repeats", of(ends, "ends"), put_in)


def _wanted_width(brief: WarpBrief) -> tuple[Fraction, tuple[Sum, ...]]:
    if brief.finished_width is None:
        return brief.width_in_reed or ZERO, ()
    loss = brief.allowances
    width = warp_width.width_in_reed(brief.finished_width, loss.draw_in, loss.width_shrinkage)
    put_in = {
        "finished": of(brief.finished_width, "length"),
        "draw_in": of(loss.draw_in, "share"),
        "shrinkage": of(loss.width_shrinkage, "share"),
    }
    return width, (line("width_wanted", of(width, "length"), put_in),)


def sett_parts(runs: Iterable[ColourRun], setts: Mapping[str, Fraction]) -> list[dict[str, Quantity]]:
    """Give ends and sett of each sett among runs, for a sum that adds their widths up.

    Ends of one sett are added.
    """
    counted: dict[Fraction, int] = {}
    for code, ends in colours.counts(runs).items():
        counted[setts[code]] = counted.get(setts[code], 0) + ends
    return [{"ends": of(ends, "ends"), "sett": of(sett, "sett")} for sett, ends in counted.items()]


def width_of_parts(parts: Iterable[Mapping[str, Quantity]]) -> Fraction:
    """Add the widths of parts up."""
    return sum((Fraction(part["ends"].value) / Fraction(part["sett"].value) for part in parts), ZERO)
