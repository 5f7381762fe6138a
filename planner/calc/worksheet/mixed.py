"""The worksheet's page of box and chains in one warp: which sections are which, and what to say of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.calc.terms import positions
from planner.calc.terms.brief import BeamKind, Method, WarpBrief
from planner.calc.terms.plan import Remark
from planner.calc.winding import mixed_winding
from planner.calc.worksheet.beam import Beaming
from planner.calc.worksheet.cloth import Cloth
from planner.calc.worksheet.sections import places_of
from planner.calc.worksheet.winding import Winding


def as_wound(brief: WarpBrief, cloth: Cloth) -> WarpBrief:
    """Settle which sections are chains beside the box.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]
    cloth : Cloth
        Ends and colours. [-]

    Returns
    -------
    brief : WarpBrief
        The same, with the method chains where every section was named to be one, and with no section named where that
        counts for nothing: on a plain beam, or where all are chains by the method. [-]

    Notes
    -----
    Asks `places_of` which sections hold ends.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from planner.calc.terms.brief import BeamFacts, LoomFacts, YarnChoice
    >>> from planner.calc.worksheet.cloth import cloth_of
    >>> facts = BeamFacts(BeamKind.SECTIONAL, Fraction(100), Fraction(120), pitch=Fraction(5), sections=24)
    >>> loom = LoomFacts("Loom", Fraction(120), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "linen", Fraction(200), fibre="linen"),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(5), ends=50, turns=8, chain_sections=(12, 13))
    >>> as_wound(brief, cloth_of(brief)).method.value
    'chain'
    """
    if not brief.chain_sections:
        return brief
    if brief.method is Method.CHAIN or brief.loom.beam.kind is BeamKind.PLAIN:
        return replace(brief, chain_sections=())
    held = {place.position for place in places_of(brief, cloth)[0]}
    return replace(brief, method=Method.CHAIN) if held <= set(brief.chain_sections) else brief


def mixed_advice(brief: WarpBrief, beaming: Beaming, winding: Winding) -> Iterator[Remark]:
    """Say what is worth knowing about sections that were named to be chains.

    Parameters
    ----------
    brief : WarpBrief
        A brief as settled by `as_wound`. [-]
    beaming : Beaming
        Turns of the box. [-]
    winding : Winding
        Set-ups and chains. [-]

    Yields
    ------
    remark : Remark
        None where no section was named. [-]

    Notes
    -----
    Hands plain values to `mixed_winding`.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from planner.calc.terms.brief import BeamFacts, LoomFacts, YarnChoice
    >>> from planner.calc.worksheet.beam import beaming_of
    >>> from planner.calc.worksheet.cloth import cloth_of, length_of
    >>> from planner.calc.worksheet.winding import winding_of
    >>> facts = BeamFacts(BeamKind.SECTIONAL, Fraction(100), Fraction(120), pitch=Fraction(5), sections=24)
    >>> loom = LoomFacts("Loom", Fraction(120), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "linen", Fraction(200), fibre="linen"),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(5), ends=50, turns=8, chain_sections=(1, 13))
    >>> cloth = cloth_of(brief)
    >>> beaming = beaming_of(brief, cloth, length_of(brief))
    >>> [remark.code for remark in mixed_advice(brief, beaming, winding_of(brief, cloth, beaming))]
    ['mixed_winding', 'chain_length_reckoned', 'chain_sections_empty']
    """
    chained = [section.position for section in winding.sections if not section.setup]
    boxed = [section.position for section in winding.sections if section.setup]
    if boxed and chained:
        measured = brief.loom.beam.depth_per_turn is not None
        places = positions.spans(chained), positions.spans(boxed)
        yield from mixed_winding.mixed_remarks(*places, beaming.turns or 0, measured=measured)
    if brief.chain_sections:
        empty = sorted({*brief.chain_sections} - {*chained})
        yield from mixed_winding.named_remarks(positions.spans(empty), all_chains=not boxed)
