"""The worksheet's first pages: sett, width and ends, then the length of the warp before it is rounded up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from planner.calc.beam import two_beams
from planner.calc.cloth import colours, warp_length, warp_width
from planner.calc.terms.brief import Layout, MarginOn, WarpBrief
from planner.calc.terms.plan import Cloth, ColourRun, Quantity, Sum, WarpLength
from planner.calc.worksheet.ends import ends_of, sett_parts
from planner.calc.worksheet.sett import sett_advice
from planner.calc.worksheet.sums import added, line, of


def cloth_of(brief: WarpBrief) -> Cloth:
    """Work out ends, colours and width.

    Order of the bench: sett, width in reed, ends, repeats, selvedges, then the true width back again. Where yarns have
    setts of their own, the colour order is laid out stripe by stripe.
    """
    setts = {yarn.code: yarn.sett or brief.sett for yarn in brief.yarns}
    order = brief.colour_order or (ColourRun(brief.yarns[0].code, 1),)
    counted = ends_of(brief, order, setts)
    ends = counted.ends
    layout = brief.colour_layout if brief.colour_order else Layout.REPEAT
    main = colours.fill(order, layout, ends)
    pattern = _with_selvedges(main, brief.fit.selvedge)
    repeats, balance = _repeats(brief, order, ends)
    width = _width_of(pattern, setts)
    loss = brief.allowances
    finished = warp_width.finished_width_of(width, loss.draw_in, loss.width_shrinkage)
    greatest, sett_sums = sett_advice(brief, pattern)
    total = ends + 2 * brief.fit.selvedge
    elsewhere = frozenset(yarn.code for yarn in brief.yarns if yarn.elsewhere)
    here = two_beams.ends_here(pattern, elsewhere) if elsewhere else pattern
    widths = _width_sums(brief, pattern, setts, (width, finished))
    sums = (*sett_sums, *counted.sums, *widths, *_beam_sums(total, colours.total(here)))
    return Cloth(
        main=main,
        pattern=pattern,
        here=here,
        elsewhere=elsewhere,
        ends=total,
        repeats=repeats,
        balance=balance,
        filling=counted.filling,
        sett=setts[pattern[0].code] if len({setts[run.code] for run in main}) == 1 else brief.sett,
        sett_of=setts,
        greatest_setts=greatest,
        main_width=_width_of(main, setts),
        width_in_reed=width,
        finished_width=finished,
        sums=sums,
    )


def _beam_sums(ends: int, here: int) -> Iterator[Sum]:
    if here < ends:
        put_in = {"ends": of(ends, "ends"), "elsewhere": of(ends - here, "ends")}
        yield line("ends_here", of(here, "ends"), put_in)


def _width_of(runs: tuple[ColourRun, ...], setts: Mapping[str, Fraction]) -> Fraction:
    counted = colours.counts(runs)
    return sum((ends / setts[code] for code, ends in counted.items()), Fraction(0))


def widths_of(brief: WarpBrief, cloth: Cloth, ends: int) -> tuple[Fraction, Fraction]:
    """Give the widths another count of ends would have.

    Each stripe at its own sett.
    """
    order = brief.colour_order or (ColourRun(brief.yarns[0].code, 1),)
    main = colours.fill(order, brief.colour_layout if brief.colour_order else Layout.REPEAT, ends)
    return _width_of(main, cloth.sett_of), _width_of(_with_selvedges(main, brief.fit.selvedge), cloth.sett_of)


def _with_selvedges(main: tuple[ColourRun, ...], selvedge: int) -> tuple[ColourRun, ...]:
    if not selvedge:
        return main
    left, right = ColourRun(main[0].code, selvedge), ColourRun(main[-1].code, selvedge)
    return colours.merged((left, *main, right))


def _repeats(brief: WarpBrief, order: tuple[ColourRun, ...], ends: int) -> tuple[int, int]:
    if not brief.colour_order or brief.colour_layout not in {Layout.REPEAT, Layout.CENTRED}:
        return 0, 0
    return divmod(ends, colours.total(order))


def _width_sums(
    brief: WarpBrief, pattern: tuple[ColourRun, ...], setts: Mapping[str, Fraction], widths: tuple[Fraction, Fraction]
) -> Iterator[Sum]:
    selvedge, ends, (width, finished) = brief.fit.selvedge, colours.total(pattern), widths
    if selvedge:
        put_in = {"ends": of(ends - 2 * selvedge, "ends"), "selvedge": of(selvedge, "ends")}
        yield line("ends", of(ends, "ends"), put_in)
    parts = sett_parts(pattern, setts)
    yield added("width_in_reed" if len(parts) == 1 else "width_in_reed_mixed", of(width, "length"), parts)
    loss = brief.allowances
    put_in = {
        "width": of(width, "length"),
        "draw_in": of(loss.draw_in, "share"),
        "shrinkage": of(loss.width_shrinkage, "share"),
    }
    yield line("finished_width", of(finished, "length"), put_in)


def length_of(brief: WarpBrief) -> WarpLength:
    """Work out the warp length before it is rounded up to the board or to whole turns.

    Each allowance stands on a line of its own. A length or a number of turns given directly is taken as it is. Of
    several take-ups on this beam the largest counts.
    """
    if brief.finished_length is not None:
        return _length_of_pieces(brief, brief.finished_length)
    given = brief.warp_length or (brief.turns or 0) * brief.loom.beam.circumference
    loss = brief.allowances
    apart = warp_length.gap_count(brief.pieces, loss.gaps) * loss.gap + brief.pieces * loss.fringe
    take_up, _ = _take_up(brief)
    woven = max(Fraction(0), given - loss.waste - loss.sampling - apart) * (1 - take_up)
    return WarpLength(None, woven, take_up, Fraction(0), given, ())


def take_ups(brief: WarpBrief, cloth: Cloth) -> Mapping[str, Fraction]:
    """Give the take-up of each yarn that has ends on this beam: its own, or the warp's."""
    used, usual = {run.code for run in cloth.here}, brief.allowances.take_up
    own_take_ups = [(yarn.code, yarn.take_up) for yarn in brief.yarns if yarn.code in used]
    return {code: usual if own is None else own for code, own in own_take_ups}


def _take_up(brief: WarpBrief) -> tuple[Fraction, str]:
    """Give the largest take-up on this beam, and whose it is where yarns have take-ups of their own."""
    if all(yarn.take_up is None for yarn in brief.yarns):
        return brief.allowances.take_up, ""
    shares = take_ups(brief, cloth_of(brief))
    code = max(shares, key=lambda code: shares[code])
    return shares[code], f"by the take-up of {code}"


def _length_of_pieces(brief: WarpBrief, finished: Fraction) -> WarpLength:
    loss, pieces = brief.allowances, brief.pieces
    take_up, whose = _take_up(brief)
    woven = warp_length.woven_length(finished, loss.hem, loss.length_shrinkage)
    parts = {
        "pieces": pieces * warp_length.warp_of_woven(woven, take_up),
        "gaps": warp_length.gap_count(pieces, loss.gaps) * loss.gap,
        "fringe": pieces * loss.fringe,
        "demo": warp_length.warp_of_woven(loss.demo_woven, take_up),
        "sampling": loss.sampling,
        "waste": loss.waste,
    }
    base = parts["pieces"] if loss.margin_on is MarginOn.WOVEN else sum(parts.values(), Fraction(0))
    margin = warp_length.margin_of(base, loss.margin)
    parts["margin"] = margin
    length = sum(parts.values(), Fraction(0))
    shown = _part_sums(brief, woven, parts, base, (take_up, whose))
    sums = (*shown, line("length_wanted", of(length, "distance"), _lengths(parts)))
    return WarpLength(woven, pieces * woven + loss.demo_woven, take_up, margin, length, sums)


def _lengths(parts: Mapping[str, Fraction]) -> dict[str, Quantity]:
    return {name: of(part, "length") for name, part in parts.items()}


def _part_sums(
    brief: WarpBrief, woven: Fraction, parts: Mapping[str, Fraction], base: Fraction, taken_up: tuple[Fraction, str]
) -> Iterator[Sum]:
    loss, pieces = brief.allowances, of(brief.pieces, "count")
    finished = {"finished": of(brief.finished_length or 0, "length"), "hem": of(loss.hem, "length")}
    shrinkage, take_up = of(loss.length_shrinkage, "share"), of(taken_up[0], "share")
    yield line("woven_length", of(woven, "length"), {**finished, "shrinkage": shrinkage})
    put_in = {"pieces": pieces, "woven": of(woven, "length"), "take_up": take_up}
    yield line("pieces_warp", of(parts["pieces"], "length"), put_in, taken_up[1])
    gaps = warp_length.gap_count(brief.pieces, loss.gaps)
    if parts["gaps"]:
        put_in = {"gaps": of(gaps, "count"), "gap": of(loss.gap, "length")}
        yield line("gaps_warp", of(parts["gaps"], "length"), put_in)
    if parts["fringe"]:
        put_in = {"pieces": pieces, "fringe": of(loss.fringe, "length")}
        yield line("fringe_warp", of(parts["fringe"], "length"), put_in)
    if parts["demo"]:
        put_in = {"woven": of(loss.demo_woven, "length"), "take_up": take_up}
        yield line("demo_warp", of(parts["demo"], "length"), put_in, taken_up[1])
    if parts["margin"]:
        put_in = {"base": of(base, "length"), "margin": of(loss.margin, "share")}
        yield line("margin", of(parts["margin"], "length"), put_in)
