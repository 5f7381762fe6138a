"""Where the trade disagrees: what each side says, where it was read, and what Warproom does about it.

Shown on the pages of the calculators concerned and together; a weaver who knows why two books differ can choose.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Side:
    """One answer, and who gives it."""

    says: str
    source: str


@dataclass(frozen=True, slots=True)
class Disagreement:
    """One question the trade answers in several ways.

    Attributes
    ----------
    key : str
        Name in addresses. [-]
    title : str
        The question. [-]
    sides : tuple[Side, ...]
        The answers. [-]
    ours : str
        What is done here, and why. [-]
    calculators : tuple[str, ...]
        Module and name of each calculator that it touches. [-]
    """

    key: str
    title: str
    sides: tuple[Side, ...]
    ours: str
    calculators: tuple[str, ...]


_TAYLOR = "J. T. Taylor, Cotton Weaving and Designing, 6th ed."
_BROOKS = "C. P. Brooks, Cotton Manufacturing, 3rd ed."
_TEACHER = "A weaving teacher’s page on yarn on hand (1 May 2020)"
_MAGAZINE = "A weaving magazine’s answers to readers"

DISAGREEMENTS: tuple[Disagreement, ...] = (
    Disagreement(
        "add-or-divide",
        "Is a loss added on or divided out?",
        (
            Side("Divided out: a cloth that loses 20 % needs its length ÷ 0.80; for 100 in at 10 %, 111.1 in.",
                 "A weaving conference’s article on warp and weft dimensions and shrinkage"),
            Side("Added on: length × 1.20; for 100 in at 10 %, 110 in. Ten inches planned so come out at 9.6.",
                 "Many pattern books and worksheets; the same article calls it wrong"),
            Side("A ratio of start to finish: 10 in on the loom ÷ 8.5 in finished = 1.176.",
                 "A yarn shop’s how-to pages"),
            Side("One lump in inches: 31 in waste and 13 in take-up on a warp of 5 yards.", "A magazine’s project"),
        ),
        "Divided out. Every loss is a share of the longer length, said so beside the field. A margin is chosen and not "
        "lost, so it alone is added on.",
        ("warp_width.width_in_reed", "warp_width.finished_width_of", "warp_length.woven_length",
         "warp_length.warp_of_woven", "warp_length.margin_of", "record.loss", "record.losses_of"),
    ),
    Disagreement(
        "take-up",
        "Take-up of what?",
        (
            Side("Crimp: what the thread is longer than the cloth, as a share of the cloth.",
                 "Mill books and exam papers; an educational site on textile calculations"),
            Side("Take-up: the same length as a share of the yarn. Of 13 in beyond 136 in of cloth it is 8.7 %, "
                 "while crimp is 9.6 %.", "Exam papers, which keep the two apart; the sums are plain arithmetic"),
            Side("Contraction added to the length of the cloth.", _TAYLOR),
            Side("10 to 15 % for take-up and shrinkage together.", "Many handweaving pages"),
        ),
        "Take-up is a share of the warp and divided out; shrinkage is a figure of its own. A crimp from a mill book "
        "is turned with crimp ÷ (1 + crimp).",
        ("warp_length.warp_of_woven", "record.crimp", "record.take_up_of_crimp", "weave.rough_contraction",
         "record.losses_of"),
    ),
    Disagreement(
        "constant-k",
        "Which K in K × √(yards per pound)?",
        (
            Side("0.95 for cotton.", _TAYLOR),
            Side("0.90 for cotton and worsted, 0.84 for woollen.",
                 "A medieval textile study page on Ashenhurst’s formula (1999); his own book was not seen"),
            Side("0.91 or 0.92 for silk, cotton and linen, 0.90 for worsted, 0.85 for woollen.",
                 "Two handweaving pages"),
            Side("0.966 for cotton, from a diameter of 1 ÷ (28 √Ne) in.",
                 "F. T. Peirce, 1937, as used in a GATE textile paper of 2007"),
        ),
        "0.90, and 0.84 for woollen: the lowest, so that a sett errs to the open side. The K used is shown in the sum. "
        "They span some 7 per cent; wraps counted on your own yarn are better than any of them.",
        ("sett.yarn_constant", "sett.diameters", "sett.greatest_sett", "cover.peirce_diameter"),
    ),
    Disagreement(
        "cone-tare",
        "What does an empty cone weigh?",
        (
            Side("Plastic cones 12 g (4 1/2 in) and 25 g (7 in); cardboard spools 13 to 16 g; plastic bobbins "
                 "6 to 9 g.",
                 _TEACHER),
            Side("1 to 2 oz, which is 28 to 57 g.", _MAGAZINE),
        ),
        "Both ends are kept, and a package whose empty was never weighed shows a range. Weigh one empty of each kind: "
        "on 8/2 cotton, 57 g are 422 yards.",
        ("package_length.package_length", "package_length.length_in_doubt", "package_length.together"),
    ),
    Disagreement(
        "metric-reeds",
        "May a metric reed stand in for an inch reed?",
        (
            Side("Close enough to swap: 25/10 for 6, 30/10 for 8, 45/10 and 50/10 for 12 dents to the inch.",
                 _MAGAZINE),
            Side("25/10 has 6.35 and 50/10 has 12.7 dents to the inch, 5.8 % more; 30/10 and 45/10 have 4.8 % fewer.",
                 "Plain arithmetic: 2.54 cm to the inch"),
        ),
        "Reckoned exactly, whatever the reed is called. 5.8 % of a warp 80 cm wide are 4.7 cm.",
        ("reed_systems.dents_of", "reed_systems.number_of", "reed.rank_reeds", "reed.sley_sett"),
    ),
    Disagreement(
        "bolton",
        "How wide is a Bolton beer?",
        (
            Side("20 dents in 24 1/4 in.", f"{_TAYLOR}; {_BROOKS}"),
            Side("20 dents in 24 1/2 in, 1 per cent coarser.", "One table on the web"),
            Side("2238 ends in 39 in of a 36 reed, where his own rule gives 2316: a misprint.", _BROOKS),
        ),
        "24 1/4 in, as both printed books have it.",
        ("reed_systems.dents_of", "reed_systems.number_of"),
    ),
    Disagreement(
        "nominal-counts",
        "Does a yarn hold the yards its count says?",
        (
            Side("8/2 cotton holds 3360 yards in a pound: hank × count ÷ plies, exactly.",
                 "The definition of the count"),
            Side("Plying shortens a yarn, by about 5 per cent.", "One weavers’ page, whose own worked figure is wrong"),
            Side("Charts print 12 800 for 30/2 cotton, where the count gives 12 600.",
                 "A loom maker’s published sett chart"),
        ),
        "The count as defined, without twist. A label’s own yards per pound, or a length measured and weighed, goes "
        "before it.",
        ("count.tex_of_count", "count.read_grist", "count.folded", "count.length_of_mass",
         "sett.usual_setts"),
    ),
    Disagreement(
        "density",
        "How dense does yarn lie on a beam?",
        (
            Side("Soft cotton packages 0.36 to 0.40 g/cm3, measured 0.345 to 0.387; packages in general 0.35 to 0.45.",
                 "An educational site on textile calculations; packages are not beams"),
            Side("Measure the roll: two rounds of the tape and the turns between them.",
                 "Math Forum, Dr Peterson, November 2003, of rolls"),
        ),
        "No source for beams wound by hand was found. The default is a guess and is marked so; one calibration of "
        "this beam with this yarn replaces it.",
        ("depth.wound_area", "depth.depth_per_turn", "depth.depth_of_mixture",
         "depth.depth_from_tape", "calibration.depth_range", "calibration.density_range"),
    ),
)  # fmt: skip
"""In the order of the bench."""


def touching(calculator: str) -> tuple[Disagreement, ...]:
    """Give the disagreements that touch a calculator, named by its module and name."""
    return tuple(one for one in DISAGREEMENTS if calculator in one.calculators)
