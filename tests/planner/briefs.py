"""Briefs for tests of pictures: small, complete, changed by name."""

from dataclasses import replace
from fractions import Fraction

from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, Method, WarpBrief, YarnChoice

INCH = Fraction(254, 100)
COTTON = YarnChoice("A", "8/2 cotton", Fraction(496055, 3360), colour_name="natural", colour="#f1e8d2")
INDIGO = YarnChoice("B", "8/2 cotton", Fraction(496055, 3360), colour_name="indigo", colour="#24356e")


def sectional_brief(*, sections=24, **changes):
    """Give 24 in at 20 to the inch, on sections of two inches round a beam of one yard, for ten yards."""
    beam = BeamFacts(
        BeamKind.SECTIONAL, 36 * INCH, sections * 2 * INCH, pitch=2 * INCH, sections=sections, rake_height=2 * INCH
    )
    loom = LoomFacts("Heron", 130 * INCH, beam, 36 * INCH, heddles=(900,) * 4)
    start = {"sett": 20 / INCH, "width_in_reed": 24 * INCH, "warp_length": 360 * INCH}
    yarns = (COTTON, INDIGO) if "colour_order" in changes else (COTTON,)
    if "turns" in changes:
        start.pop("warp_length")
        changes.pop("finished_length", None)
    return WarpBrief("Towels", loom, yarns, **{**start, **changes})


def plain_brief(**changes):
    """Give the same warp in chains on a plain beam."""
    brief = sectional_brief(**changes)
    beam = BeamFacts(BeamKind.PLAIN, 18 * INCH, 45 * INCH)
    return replace(brief, method=Method.CHAIN, loom=replace(brief.loom, beam=beam))
