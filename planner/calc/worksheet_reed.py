"""The worksheet's page of the reed: which reed, which order, where to start."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from planner.calc import colours, reed
from planner.calc.brief import ReedFacts, WarpBrief
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
    order of the yarn with the most ends.

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
    if cloth.is_even:
        reeds = reed.rank_reeds(brief.loom.reeds, cloth.mean_sett, cloth.ends, brief.shift)
    else:
        reeds, stripes = _ranked_by_stripes(brief, cloth)
    facts = {found.name: found for found in brief.loom.reeds}
    sums = tuple(_reed_sums(brief, cloth, reeds[0], facts[reeds[0].reed])) if reeds else ()
    return Sleying(reeds, stripes, sums)


def _ranked_by_stripes(brief: WarpBrief, cloth: Cloth) -> tuple[tuple[ReedChoice, ...], Stripes]:
    found = [pair for facts in brief.loom.reeds if (pair := _by_stripes(facts, cloth, brief.shift)) is not None]
    lengths = {facts.name: facts.reed_length for facts in brief.loom.reeds}
    found.sort(key=lambda pair: (pair[0].width > lengths[pair[0].reed], abs(pair[0].error), pair[0].dents))
    return tuple(choice for choice, _ in found), found[0][1] if found else ()


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
