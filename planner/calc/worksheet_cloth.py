"""The worksheet's first pages: sett, width and ends, then the length of the warp before it is rounded up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from planner.calc import colours, sett, warp_length, warp_width
from planner.calc.brief import Layout, MarginOn, WarpBrief, YarnChoice
from planner.calc.plan import ColourRun, Quantity, Sum
from planner.calc.sums import line, of


@dataclass(frozen=True, slots=True)
class Cloth:
    """Ends, colours and width of the warp.

    Attributes
    ----------
    main : tuple[ColourRun, ...]
        Colours without the extra selvedge ends; the sections are shared by these. [ends]
    pattern : tuple[ColourRun, ...]
        Colours of all ends on the beam. [ends]
    ends : int
        Ends on the beam. [ends]
    repeats : int
        Whole repeats of the colour order. [-]
    balance : int
        Ends beyond whole repeats. [ends]
    setts : Mapping[str, Fraction]
        Sett of each yarn. [ends/cm]
    main_width : Fraction
        Width of the ends without the extra selvedge ends. [cm]
    width_in_reed : Fraction
        True width in reed. [cm]
    finished_width : Fraction
        Finished width to expect. [cm]
    greatest_setts : Mapping[str, Fraction]
        Greatest sett of each yarn of the pattern in this weave. [ends/cm]
    sums : tuple[Sum, ...]
        Lines shown. [-]
    """

    main: tuple[ColourRun, ...]
    pattern: tuple[ColourRun, ...]
    ends: int
    repeats: int
    balance: int
    setts: Mapping[str, Fraction]
    main_width: Fraction
    width_in_reed: Fraction
    finished_width: Fraction
    greatest_setts: Mapping[str, Fraction]
    sums: tuple[Sum, ...]

    @property
    def is_even(self) -> bool:
        """One sett for the whole warp."""
        return len({self.setts[code] for code in {run.code for run in self.main}}) == 1

    @property
    def mean_sett(self) -> Fraction:
        """Sett on the whole; the planned one where the warp is even."""
        return self.ends / self.width_in_reed


@dataclass(frozen=True, slots=True)
class Length:
    """What the warp is long for.

    Attributes
    ----------
    woven : Fraction | None
        Woven length of one piece under tension; None when the warp length was given directly. [cm]
    woven_total : Fraction
        All that is woven, for the weft. [cm]
    margin : Fraction
        Margin in it. [cm]
    wanted : Fraction
        Warp length before rounding up. [cm]
    sums : tuple[Sum, ...]
        Lines shown. [-]
    """

    woven: Fraction | None
    woven_total: Fraction
    margin: Fraction
    wanted: Fraction
    sums: tuple[Sum, ...]


def cloth_of(brief: WarpBrief) -> Cloth:
    """Work out ends, colours and width.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]

    Returns
    -------
    cloth : Cloth
        Ends, colours, width, and the sums. [-]

    Notes
    -----
    Order of the bench: sett, width in reed, ends, repeats, selvedges, then the true width back again. Where yarns
    have setts of their own, the ends follow from the mean sett of one repeat.

    Examples
    --------
    >>> from planner.calc.brief import BeamFacts, BeamKind, LoomFacts
    >>> beam = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), beam, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> cloth_of(WarpBrief("Cloth", loom, yarns, Fraction(8), width_in_reed=Fraction(50), turns=5)).ends
    400
    """
    setts = {yarn.code: yarn.sett or brief.sett for yarn in brief.yarns}
    order = brief.colour_order or (ColourRun(brief.yarns[0].code, 1),)
    mean = Fraction(colours.total(order)) / _width_of(order, setts)
    ends, sums = _main_ends(brief, order, mean)
    layout = brief.colour_layout if brief.colour_order else Layout.REPEAT
    main = colours.fill(order, layout, ends)
    pattern = _with_selvedges(main, brief.fit.selvedge)
    repeats, balance = _repeats(brief, order, ends)
    width = _width_of(pattern, setts)
    loss = brief.allowances
    finished = warp_width.finished_width_of(width, loss.draw_in, loss.width_shrinkage)
    used = {run.code for run in pattern}
    greatest, sett_sums = _sett_advice(brief, [yarn for yarn in brief.yarns if yarn.code in used])
    total = ends + 2 * brief.fit.selvedge
    sums = (*sett_sums, *sums, *_width_sums(brief, total, width, finished))
    main_width = _width_of(main, setts)
    return Cloth(main, pattern, total, repeats, balance, setts, main_width, width, finished, greatest, sums)


def _width_of(runs: tuple[ColourRun, ...], setts: Mapping[str, Fraction]) -> Fraction:
    counted = colours.counts(runs)
    return sum((ends / setts[code] for code, ends in counted.items()), Fraction(0))


def _with_selvedges(main: tuple[ColourRun, ...], selvedge: int) -> tuple[ColourRun, ...]:
    if not selvedge:
        return main
    left, right = ColourRun(main[0].code, selvedge), ColourRun(main[-1].code, selvedge)
    return colours.merged((left, *main, right))


def _repeats(brief: WarpBrief, order: tuple[ColourRun, ...], ends: int) -> tuple[int, int]:
    if not brief.colour_order or brief.colour_layout not in {Layout.REPEAT, Layout.CENTRED}:
        return 0, 0
    return divmod(ends, colours.total(order))


def _main_ends(brief: WarpBrief, order: tuple[ColourRun, ...], mean: Fraction) -> tuple[int, tuple[Sum, ...]]:
    if brief.ends is not None:
        return brief.ends, ()
    if brief.finished_width is None and brief.width_in_reed is None:
        return colours.total(order), ()
    width, sums = _wanted_width(brief)
    if mean != brief.sett:
        parts = {"ends": of(colours.total(order), "ends"), "width": of(colours.total(order) / mean, "length")}
        sums += (line("mean_sett", of(mean, "sett"), parts),)
    put_in = {"width": of(width, "length"), "sett": of(mean, "sett")}
    if brief.fit.whole_repeats:
        filling = line("ends_filling", of(width * mean, "ends"), put_in)
        ends, in_repeats = _in_repeats(brief, width * mean, colours.total(order))
        return ends, (*sums, filling, in_repeats)
    ends = warp_width.ends_across(width, mean, brief.fit.multiple)
    put_in["multiple"] = of(brief.fit.multiple, "count")
    return ends, (*sums, line("ends_across", of(ends, "ends"), put_in))


def _in_repeats(brief: WarpBrief, filling: Fraction, repeat: int) -> tuple[int, Sum]:
    """Settle the count once, from what fills the width exactly; a multiple that cannot be had is left to a remark."""
    fit = brief.fit
    multiple = fit.multiple if warp_width.multiple_fits_repeats(repeat, fit.balance, fit.multiple) else 1
    ends, repeats = warp_width.ends_in_repeats(filling, repeat, fit.balance, multiple)
    put_in = {"repeats": of(repeats, "count"), "repeat": of(repeat, "ends"), "balance": of(fit.balance, "ends")}
    return ends, line("ends_in_repeats", of(ends, "ends"), put_in)


def _wanted_width(brief: WarpBrief) -> tuple[Fraction, tuple[Sum, ...]]:
    if brief.finished_width is None:
        return brief.width_in_reed or Fraction(0), ()
    loss = brief.allowances
    width = warp_width.width_in_reed(brief.finished_width, loss.draw_in, loss.width_shrinkage)
    put_in = {
        "finished": of(brief.finished_width, "length"),
        "draw_in": of(loss.draw_in, "share"),
        "shrinkage": of(loss.width_shrinkage, "share"),
    }
    return width, (line("width_wanted", of(width, "length"), put_in),)


def _width_sums(brief: WarpBrief, ends: int, width: Fraction, finished: Fraction) -> Iterator[Sum]:
    selvedge = brief.fit.selvedge
    if selvedge:
        put_in = {"ends": of(ends - 2 * selvedge, "ends"), "selvedge": of(selvedge, "ends")}
        yield line("ends", of(ends, "ends"), put_in)
    if width * brief.sett == ends:
        put_in = {"ends": of(ends, "ends"), "sett": of(brief.sett, "sett")}
        yield line("width_in_reed", of(width, "length"), put_in)
    else:
        yield line("width_in_reed_mixed", of(width, "length"), {"ends": of(ends, "ends")})
    loss = brief.allowances
    put_in = {
        "width": of(width, "length"),
        "draw_in": of(loss.draw_in, "share"),
        "shrinkage": of(loss.width_shrinkage, "share"),
    }
    yield line("finished_width", of(finished, "length"), put_in)


def _sett_advice(brief: WarpBrief, yarns: list[YarnChoice]) -> tuple[Mapping[str, Fraction], tuple[Sum, ...]]:
    """Give the greatest sett by each yarn's thickness, the lines once for yarns of one thickness."""
    weave = sett.WEAVES.get(brief.weave, sett.WEAVES["plain"])
    kinds: dict[tuple[Fraction, Fraction, Fraction | None], list[YarnChoice]] = {}
    for yarn in yarns:
        kinds.setdefault((yarn.tex, sett.yarn_constant(yarn.fibre), yarn.wraps), []).append(yarn)
    greatest: dict[str, Fraction] = {}
    sums: list[Sum] = []
    for (tex, constant, _), alike in kinds.items():
        found = sett.greatest_sett(sett.diameters(tex, constant), weave.ends, weave.intersections)
        greatest |= {yarn.code: found for yarn in alike}
        about = names_of_yarns(alike) if len(kinds) > 1 else ""
        sums += _sett_sums(alike[0], weave, found, brief.tolerances.sett_share, about)
    return greatest, tuple(sums)


def names_of_yarns(yarns: Sequence[YarnChoice]) -> str:
    """Name yarns that are alike but for their colour.

    Parameters
    ----------
    yarns : Sequence[YarnChoice]
        The yarns. [-]

    Returns
    -------
    names : str
        Code, name and colour of one; codes and names of several. [-]

    Notes
    -----
    Plain words; no arithmetic happens here.

    Examples
    --------
    >>> blue = YarnChoice("A", "8/2 cotton", Fraction(148), colour_name="blue")
    >>> white = YarnChoice("B", "8/2 cotton", Fraction(148), colour_name="white")
    >>> names_of_yarns([blue]), names_of_yarns([blue, white])
    ('A 8/2 cotton blue', 'A, B 8/2 cotton')
    """
    if len(yarns) == 1:
        yarn = yarns[0]
        return " ".join(word for word in (yarn.code, yarn.name, yarn.colour_name) if word)
    codes, names = ", ".join(yarn.code for yarn in yarns), dict.fromkeys(yarn.name for yarn in yarns if yarn.name)
    return " ".join(word for word in (codes, ", ".join(names)) if word)


def _sett_sums(yarn: YarnChoice, weave: sett.Weave, greatest: Fraction, share: Fraction, about: str) -> Iterator[Sum]:
    """Show the greatest sett, and beside it what wraps, when measured, propose.

    Wraps round a ruler lie far looser than yarns side by side in the rule of diameters: half the wraps of 8/2 cotton
    is 14 to the inch where charts print 20. So wraps propose a sett and never say which is too close.
    """
    crossing = {"ends": of(weave.ends, "count"), "intersections": of(weave.intersections, "count")}
    constant = sett.yarn_constant(yarn.fibre)
    side_by_side = sett.diameters(yarn.tex, constant)
    yield _diameter_sum(yarn, constant, side_by_side, about)
    yield line("greatest_sett", of(greatest, "sett"), {"diameters": of(side_by_side, "wraps"), **crossing}, about)
    put_in = {"greatest": of(greatest, "sett"), "share": of(share, "share")}
    yield line("working_sett", of(sett.working_sett(greatest, share), "sett"), put_in, about)
    if yarn.wraps is not None:
        by_wraps = sett.sett_from_wraps(yarn.wraps, weave.ends, weave.intersections)
        yield line("sett_from_wraps", of(by_wraps, "sett"), {"wraps": of(yarn.wraps, "wraps"), **crossing}, about)


def _diameter_sum(yarn: YarnChoice, constant: Fraction, result: Fraction, about: str) -> Sum:
    put_in = {
        "constant": of(constant / sett.CM_IN_INCH, "sett"),  # K is printed for the inch; a metric reader needs its own
        "tex_yards": of(sett.TEX_YARDS_PER_POUND, "ratio"),
        "count": of(yarn.tex, "tex"),
    }
    return line("diameters", of(result, "wraps"), put_in, about)


def length_of(brief: WarpBrief) -> Length:
    """Work out the warp length before it is rounded up to the board or to whole turns.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]

    Returns
    -------
    length : Length
        The length with its margin, and the sums. [-]

    Notes
    -----
    Each allowance stands on a line of its own. A length or a number of turns given directly is taken as it is.

    Examples
    --------
    >>> from planner.calc.brief import BeamFacts, BeamKind, LoomFacts
    >>> beam = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), beam, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> length_of(WarpBrief("Cloth", loom, yarns, Fraction(8), ends=400, turns=5)).wanted
    Fraction(450, 1)
    """
    if brief.finished_length is not None:
        return _length_of_pieces(brief, brief.finished_length)
    given = brief.warp_length or (brief.turns or 0) * brief.loom.beam.circumference
    loss = brief.allowances
    apart = warp_length.gap_count(brief.pieces, loss.gaps) * loss.gap + brief.pieces * loss.fringe
    woven = max(Fraction(0), given - loss.waste - loss.sampling - apart) * (1 - loss.take_up)
    return Length(None, woven, Fraction(0), given, ())


def _length_of_pieces(brief: WarpBrief, finished: Fraction) -> Length:
    loss, pieces = brief.allowances, brief.pieces
    woven = warp_length.woven_length(finished, loss.hem, loss.length_shrinkage)
    parts = {
        "pieces": pieces * warp_length.warp_of_woven(woven, loss.take_up),
        "gaps": warp_length.gap_count(pieces, loss.gaps) * loss.gap,
        "fringe": pieces * loss.fringe,
        "demo": warp_length.warp_of_woven(loss.demo_woven, loss.take_up),
        "sampling": loss.sampling,
        "waste": loss.waste,
    }
    base = parts["pieces"] if loss.margin_on is MarginOn.WOVEN else sum(parts.values(), Fraction(0))
    margin = warp_length.margin_of(base, loss.margin)
    parts["margin"] = margin
    wanted = sum(parts.values(), Fraction(0))
    sums = (*_part_sums(brief, woven, parts, base), line("length_wanted", of(wanted, "distance"), _lengths(parts)))
    return Length(woven, pieces * woven + loss.demo_woven, margin, wanted, sums)


def _lengths(parts: Mapping[str, Fraction]) -> dict[str, Quantity]:
    return {name: of(part, "length") for name, part in parts.items()}


def _part_sums(brief: WarpBrief, woven: Fraction, parts: Mapping[str, Fraction], base: Fraction) -> Iterator[Sum]:
    loss, pieces = brief.allowances, of(brief.pieces, "count")
    finished = {"finished": of(brief.finished_length or 0, "length"), "hem": of(loss.hem, "length")}
    shrinkage, take_up = of(loss.length_shrinkage, "share"), of(loss.take_up, "share")
    yield line("woven_length", of(woven, "length"), {**finished, "shrinkage": shrinkage})
    put_in = {"pieces": pieces, "woven": of(woven, "length"), "take_up": take_up}
    yield line("pieces_warp", of(parts["pieces"], "length"), put_in)
    gaps = warp_length.gap_count(brief.pieces, loss.gaps)
    if parts["gaps"]:
        put_in = {"gaps": of(gaps, "count"), "gap": of(loss.gap, "length")}
        yield line("gaps_warp", of(parts["gaps"], "length"), put_in)
    if parts["fringe"]:
        put_in = {"pieces": pieces, "fringe": of(loss.fringe, "length")}
        yield line("fringe_warp", of(parts["fringe"], "length"), put_in)
    if parts["demo"]:
        put_in = {"woven": of(loss.demo_woven, "length"), "take_up": take_up}
        yield line("demo_warp", of(parts["demo"], "length"), put_in)
    if parts["margin"]:
        put_in = {"base": of(base, "length"), "margin": of(loss.margin, "share")}
        yield line("margin", of(parts["margin"], "length"), put_in)
