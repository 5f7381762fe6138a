"""The worksheet: from a brief to a plan, in the order of the bench.

Only modules named worksheet know the calculators; each page hands plain values down and passes its lines on.
"""

from __future__ import annotations

from itertools import chain

from planner.calc import threading
from planner.calc.brief import WarpBrief
from planner.calc.plan import WarpPlan
from planner.calc.sums import line, of
from planner.calc.worksheet_advice import cloth_advice, loom_advice, loudest_first, winding_advice, yarn_advice
from planner.calc.worksheet_beam import beaming_of
from planner.calc.worksheet_cloth import cloth_of, length_of
from planner.calc.worksheet_reed import sleying_of
from planner.calc.worksheet_winding import winding_of
from planner.calc.worksheet_yarn import one_more_of, yarn_of


def work_out(brief: WarpBrief) -> WarpPlan:
    """Work a brief out to a plan.

    Parameters
    ----------
    brief : WarpBrief
        What the weaver wants. [-]

    Returns
    -------
    plan : WarpPlan
        All that follows, with every sum and remark. [-]

    Raises
    ------
    ValueError
        If the brief has problems; doors ask for these first and show them beside the fields.

    Notes
    -----
    Order of the bench: sett, width and ends; length; sections, turns and depth; reed; spools or chains; yarn; fit.

    Examples
    --------
    Runner on a plain beam, 282 ends wound in pairs:

    >>> from fractions import Fraction
    >>> from planner.calc.brief import BeamFacts, BeamKind, LoomFacts, Method, YarnChoice
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> brief = WarpBrief("Runner", loom, yarns, Fraction(8), ends=282, turns=2, method=Method.CHAIN)
    >>> [chain.passes for chain in work_out(brief).chains]
    [47, 47, 47]
    """
    problems = brief.problems()
    if problems:
        raise ValueError(f"brief has problems: {', '.join(problem.code for problem in problems)}")
    cloth, length = cloth_of(brief), length_of(brief)
    beaming = beaming_of(brief, cloth, length)
    winding = winding_of(brief, cloth, beaming)
    yarn = yarn_of(brief, cloth, length, beaming, winding)
    sleying = sleying_of(brief, cloth)
    heddles = threading.heddles_per_shaft(brief.threading, cloth.ends, brief.loom.shafts)
    one_more, more_sums = one_more_of(brief, length, beaming)
    remarks = chain(
        loom_advice(brief, cloth, beaming, sleying, heddles),
        cloth_advice(brief, cloth, length, one_more),
        winding_advice(brief, cloth, beaming, winding),
        yarn_advice(brief, winding, yarn.needs, sleying),
    )
    return WarpPlan(
        ends=cloth.ends,
        floating_selvedge=brief.fit.floating_selvedge,
        repeats=cloth.repeats,
        balance=cloth.balance,
        sett=brief.sett,
        width_in_reed=cloth.width_in_reed,
        finished_width=cloth.finished_width,
        pattern=cloth.pattern,
        length_wanted=length.wanted,
        warp_length=beaming.warp_length,
        turns=beaming.turns,
        turns_exact=beaming.turns_exact,
        turns_with_build_up=beaming.turns_with_build_up,
        real_length=beaming.real_length,
        most_turns=beaming.most_turns,
        longest_warp=beaming.longest_warp,
        end_circumference=beaming.end_circumference,
        reed=sleying.reeds[0] if sleying.reeds else None,
        reeds=sleying.reeds,
        sections=winding.sections,
        setups=winding.setups,
        spools=winding.spools,
        chains=winding.chains,
        ties=winding.ties,
        raddle=winding.raddle,
        heddles=heddles,
        yarn=yarn.needs,
        turn_table=beaming.turn_table,
        knot=winding.knot,
        comb_angle=winding.comb_angle,
        one_more=one_more,
        sums=(
            *cloth.sums,
            *length.sums,
            *beaming.sums,
            *sleying.sums,
            *winding.sums,
            *yarn.sums,
            line("heddles", of(sum(heddles), "count"), {"ends": of(cloth.ends, "ends")}),
            *more_sums,
        ),
        remarks=loudest_first(remarks),
    )
