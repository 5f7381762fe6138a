"""The worksheet's page of the reed: which reed, which order, where to start."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from planner.calc import colours, dent_room, reed, sett
from planner.calc.brief import ReedFacts, WarpBrief, YarnChoice
from planner.calc.plan import ReedChoice, Sum
from planner.calc.sums import line, of
from planner.calc.worksheet_cloth import Cloth

Stripes = tuple[tuple[str, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True)
class Sleying:
    """Reeds for the warp.

    Attributes
    ----------
    reeds : tuple[ReedChoice, ...]
        Useful reeds, best first. [-]
    stripes : tuple[tuple[str, tuple[int, ...]], ...]
        Code and sley order of each yarn in the best reed, where yarns have setts of their own. [ends/dent]
    sums : tuple[Sum, ...]
        Lines shown. [-]
    """

    reeds: tuple[ReedChoice, ...]
    stripes: Stripes
    sums: tuple[Sum, ...]


def sleying_of(brief: WarpBrief, cloth: Cloth) -> Sleying:
    """Find the reeds for the warp, best first.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]
    cloth : Cloth
        Ends, colours and setts. [-]

    Returns
    -------
    sleying : Sleying
        Reeds and stripes, and the sums. [-]

    Notes
    -----
    Where yarns have setts of their own each is sleyed in its own order; the dents are added, and the choice shows the
    order of the yarn with the most ends. Reeds in whose dents the ends cannot stand side by side come after the others.

    Examples
    --------
    >>> from planner.calc.brief import BeamFacts, BeamKind, LoomFacts, YarnChoice
    >>> from planner.calc.worksheet_cloth import cloth_of
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> reeds = (ReedFacts("40/10", Fraction(4), Fraction(90)),)
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90), reeds=reeds)
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(8), ends=400, turns=2)
    >>> sleying_of(brief, cloth_of(brief)).reeds[0].sley
    (2,)
    """
    stripes: Stripes = ()
    facts = {found.name: found for found in brief.loom.reeds}
    if cloth.is_even:
        ranked = reed.rank_reeds(brief.loom.reeds, cloth.each_sett[0], cloth.ends, brief.shift)
        diameter = _thickest(brief, [run.code for run in cloth.pattern])
        reeds = _roomiest([_with_room(choice, facts, (choice.sley, diameter)) for choice in ranked], facts)
    else:
        reeds, stripes = _ranked_by_stripes(brief, cloth)
    sums = tuple(_reed_sums(brief, cloth, reeds[0], facts[reeds[0].reed])) if reeds else ()
    return Sleying(reeds, stripes, sums)


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


def _ranked_by_stripes(brief: WarpBrief, cloth: Cloth) -> tuple[tuple[ReedChoice, ...], Stripes]:
    facts = {found.name: found for found in brief.loom.reeds}
    found = [pair for one in brief.loom.reeds if (pair := _by_stripes(one, cloth, brief.shift)) is not None]
    found.sort(key=lambda pair: (abs(pair[0].error), pair[0].dents))
    stripes = {choice.reed: order for choice, order in found}
    placed = [
        _with_room(one, facts, *((sley, _thickest(brief, [code])) for code, sley in order)) for one, order in found
    ]
    reeds = _roomiest(placed, facts)
    return reeds, stripes[reeds[0].reed] if reeds else ()


def _by_stripes(facts: ReedFacts, cloth: Cloth, shift: Fraction) -> tuple[ReedChoice, Stripes] | None:
    counted = colours.counts(cloth.pattern)
    ranked = {code: reed.rank_reeds((facts,), cloth.setts[code], ends) for code, ends in counted.items()}
    if not all(ranked.values()):
        return None
    best = {code: choices[0] for code, choices in ranked.items()}
    width = sum((ends / best[code].sett for code, ends in counted.items()), Fraction(0))
    dents = ceil(width * facts.dents)
    empty = reed.empty_at_left(facts, dents, shift)
    leading = best[max(counted, key=lambda code: counted[code])]
    worst = max((choice.error for choice in best.values()), key=abs)
    choice = replace(
        leading,
        sett=cloth.ends / width,
        error=worst,
        dents=dents,
        empty_left=empty,
        start_dent=empty + 1,
        width=dents / facts.dents,
    )
    return choice, tuple((code, best[code].sley) for code in counted)


def _reed_sums(brief: WarpBrief, cloth: Cloth, best: ReedChoice, facts: ReedFacts) -> Iterator[Sum]:
    dents = of(facts.dents, "dents")
    if cloth.is_even:
        order = {"ends": of(sum(best.sley), "ends"), "order": of(len(best.sley), "count")}
        yield line("sett_in_reed", of(best.sett, "sett"), {"dents": dents, **order}, best.reed)
    put_in = {"ends": of(cloth.ends, "ends"), "dents": dents, "sett": of(best.sett, "sett")}
    yield line("dents_used", of(best.dents, "count"), put_in)
    put_in = {
        "reed_length": of(facts.reed_length, "length"),
        "dents": dents,
        "used": of(best.dents, "count"),
        "shift": of(brief.shift, "length"),
    }
    yield line("empty_dents", of(best.empty_left, "count"), put_in)
