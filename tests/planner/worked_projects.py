"""The ten worked projects of the Quayside Weaving Room, as briefs; people by role, figures of the scenario.

Each was worked by hand first; the plans are held to those figures in `test_worked_projects.py`.
"""

from dataclasses import replace
from fractions import Fraction

from planner.calc.terms.brief import (
    Allowances,
    BeamFacts,
    BeamKind,
    Bench,
    Centre,
    Fit,
    LoomFacts,
    MarginOn,
    Method,
    ReedFacts,
    WarpBrief,
    YarnChoice,
)
from planner.calc.terms.plan import ColourRun

IN = Fraction(254, 100)
YD = Fraction(9144, 100)
METRE = Fraction(100)
POUND = Fraction("453.59237")


def inches(number):
    return Fraction(str(number)) * IN


def yards(number):
    return Fraction(str(number)) * YD


def per_inch(number):
    return Fraction(str(number)) / IN


def share(percent):
    return Fraction(str(percent)) / 100


def tex_of(yards_per_pound):
    """Exact: a gram in a kilometre, from the pound and the yard of 1959."""
    return POUND / (yards_per_pound * YD) * 100_000


def cotton(code, yards_per_pound, name="", **more):
    return YarnChoice(code, name or f"cotton {yards_per_pound} yd/lb", tex_of(yards_per_pound), **more)


def reeds(*dents, wide=48):
    return tuple(ReedFacts(f"{dent} dpi", per_inch(dent), inches(wide)) for dent in dents)


def sectional(circumference, pitch, sections, **more):
    pitch = inches(pitch)
    rake = more.pop("rake_height", inches(2))
    return BeamFacts(
        BeamKind.SECTIONAL,
        inches(circumference),
        pitch * sections,
        pitch=pitch,
        sections=sections,
        rake_height=rake,
        **more,
    )


def loom(name, width, beam, waste, **more):
    return LoomFacts(name, inches(width), beam, inches(waste), **more)


BOX_BENCH = Bench(spool_step=yards(5))
FINE_BENCH = Bench(spool_step=Fraction(1))
"""Spools wound to the centimetre, where a scenario gives the sum before any rounding."""


def runner():
    """9.1, a new member's runner on a plain beam."""
    beam = BeamFacts(BeamKind.PLAIN, inches(36), inches(36))
    return WarpBrief(
        title="Runner",
        loom=loom("Heron", 36, beam, 30, reeds=reeds(10, wide=36), heddles=(100, 100, 100, 100)),
        yarns=(cotton("A", 3360, "8/2 cotton"),),
        sett=per_inch(20),
        finished_width=inches(12),
        finished_length=inches(36),
        method=Method.CHAIN,
        weft=cotton("W", 3360, "8/2 cotton weft"),
        picks=per_inch(18),
        allowances=Allowances(
            width_shrinkage=share(15),
            length_shrinkage=share(10),
            take_up=share(8),
            waste=inches(30),
            margin=share(5),
            margin_on=MarginOn.WOVEN,
        ),
    )


def towels():
    """9.2, a trained member's eight towels with the tension box."""
    return WarpBrief(
        title="Eight towels",
        loom=loom("Curlew", 45, sectional(36, 2, 22), 36, reeds=reeds(8, 10, 12), heddles=(150,) * 4),
        yarns=(cotton("A", 3360, "8/2 cotton"),),
        sett=per_inch(20),
        width_in_reed=inches(24),
        pieces=8,
        finished_length=inches(28),
        bench=BOX_BENCH,
        allowances=Allowances(
            length_shrinkage=share(12),
            take_up=share(9),
            hem=inches(2),
            gap=inches("0.5"),
            gaps=8,
            sampling=inches(12),
            waste=inches(36),
            margin=share(3),
        ),
    )


def throws():
    """9.3, two wool throws at 7 1/2 ends to the inch on one-inch sections."""
    return WarpBrief(
        title="Two throws",
        loom=loom("Curlew", 45, sectional(36, 1, 44), 36, reeds=reeds(15, wide=45)),
        yarns=(cotton("A", 900, "wool", fibre="wool"),),
        sett=per_inch("7.5"),
        width_in_reed=inches(36),
        pieces=2,
        finished_length=inches(60),
        bench=FINE_BENCH,
        allowances=Allowances(
            width_shrinkage=Fraction(1, 6),
            length_shrinkage=share(17),
            take_up=share(10),
            gap=inches(12),
            waste=inches(36),
        ),
    )


def rugs():
    """9.4, stripes that ignore the sections."""
    return WarpBrief(
        title="Five rugs",
        loom=loom("Plover", 45, sectional(36, 2, 21, centre=Centre.SECTION), 45, reeds=reeds(12, wide=45)),
        yarns=tuple(cotton(code, 1680, "8/4 cotton", colour_name=code) for code in "ABC"),
        sett=per_inch(12),
        width_in_reed=inches(30),
        pieces=5,
        finished_length=inches(60),
        colour_order=(ColourRun("A", 15), ColourRun("B", 9), ColourRun("C", 6)),
        fit=Fit(whole_repeats=True),
        bench=FINE_BENCH,
        allowances=Allowances(
            length_shrinkage=share(5),
            take_up=share(8),
            gap=inches(8),
            sampling=inches(12),
            waste=inches(45),
            margin=share(2),
        ),
    )


def waiting_section():
    """9.5, section 14 waits for a hand-dyed colour; worked by hand without the lead of its own threading."""
    return WarpBrief(
        title="A section waiting",
        loom=loom("Plover", 45, sectional(36, 2, 18), 36),
        yarns=(cotton("G", 1680, "8/4 ground"), cotton("H", 1680, "8/4 hand-dyed", on_hand=Fraction(84))),
        sett=per_inch(18),
        width_in_reed=inches(36),
        turns=12,
        colour_order=(ColourRun("G", 13 * 36), ColourRun("H", 36), ColourRun("G", 4 * 36)),
        bench=FINE_BENCH,
        allowances=Allowances(box_lead=Fraction(0)),
    )


def class_warp():
    """9.6, eight weavers on one warp, wound as chains."""
    return WarpBrief(
        title="Class warp",
        loom=loom("Sandpiper", 32, sectional(27, 2, 16), 33, reeds=reeds(8, wide=32)),
        yarns=(cotton("A", 2100, "5/2 cotton"),),
        sett=per_inch(16),
        width_in_reed=inches(20),
        pieces=8,
        finished_length=inches(30),
        method=Method.CHAIN,
        allowances=Allowances(
            take_up=share(8),
            gap=inches(3),
            demo_woven=inches(12),
            waste=inches(33),
            margin=share(10),
            margin_on=MarginOn.WOVEN,
        ),
    )


def linen_cloths(centre=Centre.DIVIDER):
    """9.7, metric linen on five-centimetre sections."""
    sections = 24 if centre is Centre.DIVIDER else 23
    beam = BeamFacts(
        BeamKind.SECTIONAL,
        METRE,
        Fraction(5 * sections),
        pitch=Fraction(5),
        sections=sections,
        centre=centre,
        rake_height=Fraction(5),
    )
    return WarpBrief(
        title="Linen cloths",
        loom=LoomFacts(
            "Dunlin", Fraction(120), beam, Fraction(90), reeds=(ReedFacts("50/10", Fraction(5), Fraction(120)),)
        ),
        yarns=(YarnChoice("A", "16/2 linen", Fraction(1_000_000, 4838), fibre="linen"),),
        sett=Fraction(5),
        width_in_reed=Fraction(80),
        pieces=4,
        finished_length=Fraction(140),
        bench=FINE_BENCH,
        allowances=Allowances(
            length_shrinkage=share(6),
            take_up=share(6),
            gap=Fraction(2),
            gaps=4,
            sampling=Fraction(25),
            waste=Fraction(90),
            margin=share(3),
            section_waste=Fraction(50),
        ),
    )


def partial_edges():
    """9.8, a warp whose edges fill a quarter of a section."""
    return WarpBrief(
        title="Partial edges",
        loom=loom("Avocet", 60, sectional(36, 2, 30), 36, reeds=reeds(12, wide=60)),
        yarns=(cotton("A", 3360, "8/2 cotton"),),
        sett=per_inch(24),
        width_in_reed=inches(25),
        turns=20,
        bench=FINE_BENCH,
    )


def thick_and_thin(turns=15):
    """9.9, two thicknesses with setts of their own."""
    return WarpBrief(
        title="Thick and thin",
        loom=loom("Curlew", 45, sectional(36, 2, 22), 36, reeds=reeds(12, wide=45)),
        yarns=(cotton("N", 4200, "10/2 cotton"), cotton("T", 2100, "5/2 cotton", sett=per_inch(15))),
        sett=per_inch(24),
        ends=504,
        turns=turns,
        colour_order=(ColourRun("N", 96), ColourRun("T", 30)),
        bench=FINE_BENCH,
    )


def two_beams(away="T", turns=15, **own_take_ups):
    """9.9 on two beams: this one without the ends of one yarn; take-ups of their own in per cent."""
    brief = thick_and_thin(turns)
    own = {code: share(percent) for code, percent in own_take_ups.items()}
    yarns = (replace(yarn, elsewhere=yarn.code == away, take_up=own.get(yarn.code)) for yarn in brief.yarns)
    return replace(brief, yarns=tuple(yarns))


def too_long():
    """9.10, more warp than the rakes of the old loom hold."""
    return WarpBrief(
        title="Forty yards",
        loom=loom("Old loom", 36, sectional(18, 2, 18, rake_height=inches(1)), 36, reeds=reeds(12, wide=36)),
        yarns=(cotton("A", 1680, "8/4 cotton"),),
        sett=per_inch(12),
        width_in_reed=inches(32),
        warp_length=yards(40),
    )


ALL = (
    runner, towels, throws, rugs, waiting_section, class_warp, linen_cloths, partial_edges, thick_and_thin, too_long,
)  # fmt: skip


def with_heddles(brief, *heddles):
    return replace(brief, loom=replace(brief.loom, heddles=heddles))


def towels_measured():
    """Give the towels on a beam that was taped with this yarn: 0.40 to 0.50 g/cm3, the tape a millimetre wrong."""
    brief = towels()
    densities = {"density_low": share(40), "wound_density": share(45), "density_high": share(50)}
    beam = replace(brief.loom.beam, tape=Fraction(1, 10))
    yarns = tuple(replace(yarn, **densities) for yarn in brief.yarns)
    return replace(brief, yarns=yarns, loom=replace(brief.loom, beam=beam))
