"""The worksheet's last pages: weft, yarn against the shelf, cost, and whether one more piece would fit."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from fractions import Fraction

from planner.calc.cloth import colours, cost, warp_length, weft
from planner.calc.terms.brief import WarpBrief, YarnChoice
from planner.calc.terms.plan import (
    Beaming,
    Cloth,
    ClothCost,
    OneMore,
    Quantity,
    Sum,
    WarpLength,
    Winding,
    Yarn,
    YarnNeed,
)
from planner.calc.worksheet.sums import added, line, of

CM_OF_ONE_TEX = 100_000
"""Centimetres of a yarn of one tex that weigh one gram, by the definition of tex (1 g in 1 km)."""


def yarn_of(brief: WarpBrief, cloth: Cloth, length: WarpLength, beaming: Beaming, winding: Winding) -> Yarn:
    """Work out the yarn of warp and weft, its mass, what is missing and what it costs.

    From the box the warp yarn is what is wound on the spools, of chains it is ends times length. Floating selvedges are
    wound apart, half of them counted with the yarn of each edge. Of ends on another beam nothing is counted here.
    """
    woven, weft_sums = _weft(brief, cloth, length)
    counted, floating, chained = colours.counts(cloth.here), _floating(brief, cloth), _chained(winding)
    needs = []
    for yarn in brief.yarns:
        ends, apart = counted.get(yarn.code, 0), floating[yarn.code] * beaming.warp_length
        nominal, real = _warp_of(yarn, chained[yarn.code], beaming, winding)
        own_weft = woven if _is_weft(brief, yarn) else Fraction(0)
        needs.append(_need(yarn, ends, nominal + apart, real + apart, own_weft))
    warp_sums = tuple(_warp_sums(winding, needs, chained, (floating, beaming.warp_length)))
    if brief.weft is not None and woven and not any(_is_weft(brief, yarn) for yarn in brief.yarns):
        needs.append(_need(brief.weft, 0, Fraction(0), Fraction(0), woven))
    pieces = 1 if length.woven is None else brief.pieces
    whole = _cost(needs, pieces)
    sums = (*warp_sums, *weft_sums, *_cost_sums(needs, whole, pieces))
    return Yarn(tuple(needs), sum(floating.values()), whole, sums)


def _floating(brief: WarpBrief, cloth: Cloth) -> Counter[str]:
    """Share the floating selvedges between the yarns at the edges, an odd one to the seat's left.

    One of a yarn on another beam is counted on that beam's sheet, so that both sheets together count each once.
    """
    right, left = brief.fit.floating_selvedge // 2, (brief.fit.floating_selvedge + 1) // 2
    both = Counter({cloth.pattern[0].code: left}) + Counter({cloth.pattern[-1].code: right})
    return Counter({code: ends for code, ends in both.items() if code not in cloth.elsewhere})


Chained = dict[str, Counter[Fraction]]
"""Ends of each yarn that lie in chains, by the length of the chain."""


def _chained(winding: Winding) -> Chained:
    chained: Chained = defaultdict(Counter)
    for chain in winding.chains:
        for run in chain.runs:
            chained[run.code][chain.length] += run.ends
    return chained


def _weft(brief: WarpBrief, cloth: Cloth, length: WarpLength) -> tuple[Fraction, tuple[Sum, ...]]:
    if brief.weft is None or brief.picks is None:
        return Fraction(0), ()
    allowance = brief.allowances.weft_allowance
    needed = weft.weft_length(length.woven_total, brief.picks, cloth.width_in_reed, allowance)
    put_in = {
        "picks": of(brief.picks, "picks"),
        "woven": of(length.woven_total, "distance"),
        "width": of(cloth.width_in_reed, "length"),
        "allowance": of(allowance, "share"),
    }
    by_length = line("weft_length", of(needed, "distance"), put_in)
    mass = needed * brief.weft.tex / CM_OF_ONE_TEX
    put_in = {"length": of(needed, "distance"), "count": of(brief.weft.tex, "tex")}
    return needed, (by_length, line("weft_mass", of(mass, "mass"), put_in))


def _is_weft(brief: WarpBrief, yarn: YarnChoice) -> bool:
    """Tell whether the weft is this very yarn: the same in the yarn room, or, unknown there, the same choice."""
    if brief.weft is None:
        return False
    if brief.weft.yarn_id is not None or yarn.yarn_id is not None:
        return brief.weft.yarn_id == yarn.yarn_id
    return (brief.weft.name, brief.weft.colour_name, brief.weft.tex) == (yarn.name, yarn.colour_name, yarn.tex)


def _warp_of(
    yarn: YarnChoice, chained: Counter[Fraction], beaming: Beaming, winding: Winding
) -> tuple[Fraction, Fraction]:
    groups = [group for group in winding.spools if group.code == yarn.code]
    nominal = sum((group.spools * Fraction(group.nominal_length) for group in groups), Fraction(0))
    real = sum((group.spools * group.to_wind for group in groups), Fraction(0))
    of_chains = sum((ends * length for length, ends in chained.items()), Fraction(0))
    return nominal + chained.total() * beaming.nominal, real + of_chains


def _need(yarn: YarnChoice, ends: int, nominal: Fraction, real: Fraction, woven: Fraction) -> YarnNeed:
    warp_mass, weft_mass = real * yarn.tex / CM_OF_ONE_TEX, woven * yarn.tex / CM_OF_ONE_TEX
    mass = warp_mass + weft_mass
    price = None if yarn.price is None else cost.cloth_cost([(warp_mass, yarn.price)], [(weft_mass, yarn.price)])
    return YarnNeed(
        yarn=yarn,
        ends=ends,
        warp_nominal=nominal,
        warp_real=real,
        warp_mass=warp_mass,
        weft=woven,
        weft_mass=weft_mass,
        short=Fraction(0) if yarn.on_hand is None else max(Fraction(0), mass - yarn.on_hand),
        cost=None if price is None else price.whole,
    )


def _warp_sums(
    winding: Winding,
    needs: list[YarnNeed],
    chained: Chained,
    floating: tuple[Counter[str], Fraction],
) -> Iterator[Sum]:
    apart, length = floating[0], of(floating[1], "distance")
    for need in needs:
        if not need.ends:
            continue
        needed = of(need.warp_real, "distance")
        groups = [group for group in winding.spools if group.code == need.code]
        parts = [_part(of(group.spools, "count"), of(group.to_wind, "distance")) for group in groups]
        key = "warp_yarn_spools" if parts else "warp_yarn_chains"
        parts += [_part(of(ends, "ends"), of(long, "distance")) for long, ends in sorted(chained[need.code].items())]
        if apart[need.code]:
            parts.append(_part(of(apart[need.code], "ends"), length))
        yield added(key, needed, parts, need.code)
        put_in = {"length": needed, "count": of(need.yarn.tex, "tex")}
        yield line("warp_mass", of(need.warp_mass, "mass"), put_in, need.code)


def _part(number: Quantity, length: Quantity) -> Mapping[str, Quantity]:
    return {"number": number, "length": length}


def _cost(needs: list[YarnNeed], pieces: int) -> ClothCost | None:
    """Reckon all yarn that is used; a cost that leaves one out would mislead, so then there is none."""
    warp, woven = [], []
    for need in needs:
        if need.yarn.price is not None:
            warp.append((Fraction(need.warp_mass), need.yarn.price))
            woven.append((Fraction(need.weft_mass), need.yarn.price))
        elif need.warp_mass or need.weft_mass:
            return None
    return cost.cloth_cost(warp, woven, pieces)


def _cost_sums(needs: list[YarnNeed], whole: ClothCost | None, pieces: int) -> Iterator[Sum]:
    for need in needs:
        if need.cost is not None and need.yarn.price is not None:
            mass = Fraction(need.warp_mass) + Fraction(need.weft_mass)
            put_in = {"mass": of(mass, "mass"), "price": of(need.yarn.price, "price_of_100_g")}
            yield line("cost", of(need.cost, "money"), put_in, need.code)
    if whole is not None:
        put_in = {"warp": of(whole.warp, "money"), "weft": of(whole.weft, "money")}
        yield line("cost_of_cloth", of(whole.whole, "money"), put_in)
    if whole is not None and pieces > 1:
        put_in = {"whole": of(whole.whole, "money"), "pieces": of(pieces, "count")}
        yield line("cost_of_piece", of(whole.of_a_piece, "money"), put_in)


def one_more_of(brief: WarpBrief, length: WarpLength, beaming: Beaming) -> tuple[OneMore | None, tuple[Sum, ...]]:
    """Ask whether the warp that must be put on anyway holds one more piece.

    The shortest section decides what is left, since a beam pays out by its tightest section.
    """
    if length.woven is None:
        return None, ()
    loss = brief.allowances
    needs = warp_length.warp_of_one_more(length.woven, length.take_up, loss.gap, loss.fringe)
    shortest = min((section.real_length for section in beaming.sections), default=beaming.warp_length)
    one_more = warp_length.one_more_piece(needs, shortest, length.wanted, length.margin)
    put_in = {
        "woven": of(length.woven, "length"),
        "take_up": of(length.take_up, "share"),
        "gap": of(loss.gap, "length"),
        "fringe": of(loss.fringe, "length"),
    }
    needs_sum = line("one_more_needs", of(needs, "length"), put_in)
    put_in = {"length": of(shortest, "distance"), "wanted": of(length.wanted, "distance")}
    return one_more, (needs_sum, line("one_more_left", of(one_more.left, "length"), put_in))
