"""The worksheet's page of the reed: which reed, which order, where to start."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from planner.calc.cloth import colours, sett
from planner.calc.reed import dent_room, reed
from planner.calc.terms.brief import ReedFacts, WarpBrief, YarnChoice
from planner.calc.terms.plan import Cloth, ReedChoice, Sleying, StripeSley, Sum
from planner.calc.worksheet.ends import sett_parts, width_of_parts
from planner.calc.worksheet.sums import added, line, of


def sleying_of(brief: WarpBrief, cloth: Cloth) -> Sleying:
    """Find the reeds for the warp, best first.

    Where yarns have setts of their own each is sleyed in its own order, and the dents are added. Reeds in whose dents
    the ends cannot stand side by side come after the others.
    """
    facts = {found.name: found for found in brief.loom.reeds}
    if cloth.is_even:
        ranked = reed.rank_reeds(brief.loom.reeds, cloth.setts[0], cloth.ends, brief.shift)
        diameter = _thickest(brief, [run.code for run in cloth.pattern])
        reeds = _roomiest([_with_room(choice, facts, (choice.sley, diameter)) for choice in ranked], facts)
    else:
        reeds = _ranked_by_stripes(brief, cloth, facts)
    sums = tuple(_reed_sums(brief, cloth, reeds[0], facts[reeds[0].reed])) if reeds else ()
    return Sleying(reeds, sums)


def _thickest(brief: WarpBrief, codes: Iterable[str]) -> Fraction:
    """Give the diameter of the thickest yarn by the rule of diameters; wraps lie too loosely for a dent."""
    used = set(codes)
    return max(_diameter(yarn) for yarn in brief.yarns if yarn.code in used)


def _diameter(yarn: YarnChoice) -> Fraction:
    return 1 / sett.diameters(yarn.tex, sett.yarn_constant(yarn.fibre))


Filled = tuple[tuple[int, ...], Fraction]
"""Sley order and diameter of the yarn in it."""


def _with_room(choice: ReedChoice, facts: Mapping[str, ReedFacts], *filled: Filled) -> ReedChoice:
    dents = facts[choice.reed].dents
    rooms = [dent_room.dent_room(dents, Fraction(0), max(order), diameter) for order, diameter in filled]
    tightest = min(rooms, key=lambda room: room.free)
    return replace(choice, room=tightest.room.value, knot_passes=all(room.knot_passes for room in rooms))


def _roomiest(choices: Iterable[ReedChoice], facts: Mapping[str, ReedFacts]) -> tuple[ReedChoice, ...]:
    """Put behind the others what is too short, and then what leaves no room; else the order stays."""
    none = dent_room.Room.NONE.value
    return tuple(sorted(choices, key=lambda one: (one.width > facts[one.reed].reed_length, one.room == none)))


def _ranked_by_stripes(brief: WarpBrief, cloth: Cloth, facts: Mapping[str, ReedFacts]) -> tuple[ReedChoice, ...]:
    counted = colours.counts(cloth.pattern)
    stripes = {code: (cloth.sett_of[code], ends) for code, ends in counted.items()}
    thick = {code: _thickest(brief, [code]) for code in counted}
    ranked = reed.rank_for_stripes(brief.loom.reeds, stripes, brief.shift)
    placed = [_with_room(one, facts, *((part.sley, thick[part.code]) for part in one.stripes)) for one in ranked]
    return _roomiest(placed, facts)


def hardest_sett(brief: WarpBrief, cloth: Cloth, best: ReedChoice | None) -> Fraction:
    """Give the sett that a remark on the reed speaks of: the one sett, or that of the stripe which suits it worst.

    Without a reed it is the first sett that no reed here can carry by itself.
    """
    if best is not None and best.stripes:
        return cloth.sett_of[max(best.stripes, key=lambda one: abs(one.error)).code]
    alone = (sett for sett in cloth.setts if not reed.rank_reeds(brief.loom.reeds, sett, cloth.ends))
    return cloth.setts[0] if best is not None else next(alone, cloth.setts[0])


def _reed_sums(brief: WarpBrief, cloth: Cloth, best: ReedChoice, facts: ReedFacts) -> Iterator[Sum]:
    dents = of(facts.dents, "dents")
    for one in best.stripes or (best,):
        order = {"ends": of(sum(one.sley), "ends"), "order": of(len(one.sley), "counted_dents")}
        about = f"{best.reed}, {one.code}" if isinstance(one, StripeSley) else best.reed
        yield line("sett_in_reed", of(one.sett, "sett"), {"dents": dents, **order}, about)
    if best.stripes:
        parts = sett_parts(cloth.pattern, {one.code: one.sett for one in best.stripes})
        width = width_of_parts(parts)
        yield added("width_of_stripes", of(width, "length"), parts, best.reed)
        yield line("dents_of_stripes", of(best.dents, "count"), {"width": of(width, "length"), "dents": dents})
    else:
        put_in = {"ends": of(cloth.ends, "ends"), "dents": dents, "sett": of(best.sett, "sett")}
        yield line("dents_used", of(best.dents, "count"), put_in)
    put_in = {
        "reed_length": of(facts.reed_length, "length"),
        "dents": dents,
        "used": of(best.dents, "count"),
        "shift": of(abs(brief.shift), "length"),
    }
    yield line("empty_dents" if brief.shift >= 0 else "empty_dents_shifted_left", of(best.empty_left, "count"), put_in)
