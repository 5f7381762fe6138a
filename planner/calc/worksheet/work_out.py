"""The worksheet: from a brief to a plan, in the order of the bench.

Only modules named worksheet know the calculators; each page hands plain values down and passes its lines on.
"""

from __future__ import annotations

from itertools import chain

from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import WarpPlan
from planner.calc.worksheet.advice import cloth_advice, loom_advice, loudest_first, winding_advice, yarn_advice
from planner.calc.worksheet.beam import beaming_of
from planner.calc.worksheet.choices import choices_of, edge_advice
from planner.calc.worksheet.cloth import cloth_of, length_of
from planner.calc.worksheet.mixed import as_wound
from planner.calc.worksheet.reed import sleying_of
from planner.calc.worksheet.sums import line, of
from planner.calc.worksheet.threading import threading_of
from planner.calc.worksheet.two_beams import beams_of
from planner.calc.worksheet.winding import winding_of
from planner.calc.worksheet.yarn import one_more_of, yarn_of


def work_out(brief: WarpBrief) -> WarpPlan:
    """Work a brief out to a plan, in the order of the bench.

    Sett, width and ends; length; sections, turns and depth; reed; spools or chains; yarn; threading; fit.
    The brief has no problems: whoever reads it asks `problems_of` and `beam_problems`, once.

    Examples
    --------
    Runner on a plain beam, 282 ends wound in pairs:

    >>> from fractions import Fraction
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, Method, YarnChoice
    >>> facts = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "cotton", Fraction(150)),)
    >>> brief = WarpBrief("Runner", loom, yarns, Fraction(8), ends=282, turns=2, method=Method.CHAIN)
    >>> [chain.passes for chain in work_out(brief).winding.chains]
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
    one_more, more_sums = one_more_of(brief, length, beaming)
    heddles = line("heddles", of(sum(threading.heddles), "count"), {"ends": of(cloth.ends, "ends")})
    pages = (cloth, length, beaming, beams, choices, sleying, winding, yarn)
    remarks = chain(
        beams.remarks,
        loom_advice(brief, cloth, beaming, sleying, threading.heddles),
        edge_advice(brief, choices),
        cloth_advice(brief, cloth, length, one_more),
        winding_advice(brief, cloth, beaming, winding),
        yarn_advice(brief, winding, yarn.needs, sleying),
    )
    return WarpPlan(
        cloth=cloth,
        length=length,
        beam=beaming,
        reed=sleying,
        winding=winding,
        yarn=yarn,
        threading=threading,
        choices=choices,
        one_more=one_more,
        sums=(*(one for page in pages for one in page.sums), heddles, *more_sums),
        remarks=loudest_first(remarks),
    )
