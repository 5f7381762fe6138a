"""The worksheet: from a brief to a plan, in the order of the bench.

Only modules named worksheet know the calculators; each page hands plain values down and passes its lines on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import OneMore, Remark, Sum, WarpPlan
from planner.calc.worksheet.advice import cloth_advice, loom_advice, loudest_first, winding_advice, yarn_advice
from planner.calc.worksheet.beam import Beaming, beaming_of
from planner.calc.worksheet.choices import Choices, choices_of, edge_advice
from planner.calc.worksheet.cloth import Cloth, Length, cloth_of, length_of
from planner.calc.worksheet.mixed import as_wound
from planner.calc.worksheet.reed import Sleying, sleying_of
from planner.calc.worksheet.sums import line, of
from planner.calc.worksheet.threading import Threading, threading_of
from planner.calc.worksheet.two_beams import Beams, beams_of
from planner.calc.worksheet.winding import Winding, winding_of
from planner.calc.worksheet.yarn import Yarn, one_more_of, yarn_of


def work_out(brief: WarpBrief) -> WarpPlan:
    """Work a brief out to a plan.

    Parameters
    ----------
    brief : WarpBrief
        What the weaver wants, without problems: whoever reads it asks `problems_of` and `beam_problems`, once. [-]

    Returns
    -------
    plan : WarpPlan
        All that follows, with every sum and remark. [-]

    Notes
    -----
    Order of the bench: sett, width and ends; length; sections, turns and depth; reed; spools or chains; yarn;
    threading; fit.

    Examples
    --------
    Runner on a plain beam, 282 ends wound in pairs:

    >>> from fractions import Fraction
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, Method, YarnChoice
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> brief = WarpBrief("Runner", loom, yarns, Fraction(8), ends=282, turns=2, method=Method.CHAIN)
    >>> [chain.passes for chain in work_out(brief).chains]
    [47, 47, 47]
    """
    cloth, length = cloth_of(brief), length_of(brief)
    brief = as_wound(brief, cloth)
    beaming = beaming_of(brief, cloth, length)
    winding = winding_of(brief, cloth, beaming)
    yarn = yarn_of(brief, cloth, length, beaming, winding)
    choices, beams = choices_of(brief, cloth, beaming), beams_of(brief, cloth, beaming)
    sleying = sleying_of(brief, cloth)
    threading = threading_of(brief, cloth, winding, sleying)
    return _bound(brief, _Pages(cloth, length, beaming, beams, sleying, winding, yarn, threading, choices))


@dataclass(frozen=True, slots=True)
class _Pages:
    """Every page of the worksheet, before they are bound together."""

    cloth: Cloth
    length: Length
    beaming: Beaming
    beams: Beams
    sleying: Sleying
    winding: Winding
    yarn: Yarn
    threading: Threading
    choices: Choices


def _bound(brief: WarpBrief, pages: _Pages) -> WarpPlan:
    cloth, beaming, winding, reeds = pages.cloth, pages.beaming, pages.winding, pages.sleying.reeds
    one_more, more_sums = one_more_of(brief, pages.length, beaming)
    return WarpPlan(
        ends=cloth.ends_here,
        ends_elsewhere=cloth.ends - cloth.ends_here,
        floating_selvedge=pages.yarn.floating,
        repeats=cloth.repeats,
        balance=cloth.balance,
        sett=cloth.each_sett[0] if cloth.is_even else brief.sett,
        setts=cloth.each_sett,
        width_in_reed=cloth.width_in_reed,
        finished_width=cloth.finished_width,
        pattern=cloth.pattern,
        length_wanted=pages.length.wanted,
        warp_length=beaming.warp_length,
        turns=beaming.turns,
        turns_exact=beaming.turns_exact,
        turns_with_build_up=beaming.turns_with_build_up,
        real_length=beaming.real_length,
        most_turns=beaming.most_turns,
        longest_warp=beaming.longest_warp,
        end_circumference=beaming.end_circumference,
        turns_range=beaming.turns_range,
        length_range=beaming.length_range,
        round_range=beaming.round_range,
        depth_range=beaming.depth_range,
        most_turns_range=beaming.most_turns_range,
        longest_range=beaming.longest_range,
        reed=reeds[0] if reeds else None,
        reeds=reeds,
        sections=winding.sections,
        setups=winding.setups,
        fewest_moved=winding.fewest_moved,
        lead_lost=winding.lead_lost,
        lead_lost_mass=winding.lead_lost_mass,
        spools=winding.spools,
        chains=winding.chains,
        ties=winding.ties,
        raddle=winding.raddle,
        heddles=pages.threading.heddles,
        yarn=pages.yarn.needs,
        cost=pages.yarn.cost,
        turn_table=beaming.turn_table,
        knot=winding.knot,
        comb_angle=winding.comb_angle,
        one_more=one_more,
        edge_choices=pages.choices.edges,
        alternatives=pages.choices.alternatives,
        repeat_layouts=pages.choices.layouts,
        mismatches=pages.choices.mismatches,
        fewer_spools=winding.fewer_spools,
        short_spools=winding.short_spools,
        tie_marks=winding.tie_marks,
        threading_guide=pages.threading.guide,
        spare_heddles=pages.threading.spare,
        sley_guide=pages.threading.sleys,
        sums=(*_sums(pages), *more_sums),
        remarks=_remarks(brief, pages, one_more),
    )


def _sums(pages: _Pages) -> Iterator[Sum]:
    cloth, beam = (pages.cloth, pages.length), (pages.beaming, pages.beams)
    for page in (*cloth, *beam, pages.choices, pages.sleying, pages.winding, pages.yarn):
        yield from page.sums
    yield line("heddles", of(sum(pages.threading.heddles), "count"), {"ends": of(pages.cloth.ends, "ends")})


def _remarks(brief: WarpBrief, pages: _Pages, one_more: OneMore | None) -> tuple[Remark, ...]:
    return loudest_first(
        chain(
            pages.beams.remarks,
            loom_advice(brief, pages.cloth, pages.beaming, pages.sleying, pages.threading.heddles),
            edge_advice(brief, pages.choices),
            cloth_advice(brief, pages.cloth, pages.length, one_more),
            winding_advice(brief, pages.cloth, pages.beaming, pages.winding),
            yarn_advice(brief, pages.winding, pages.yarn.needs, pages.sleying),
        )
    )
