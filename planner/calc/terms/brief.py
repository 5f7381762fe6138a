"""What the weaver wants: the brief, as plain frozen data in cm, g, tex and ends/cm.

A brief is complete: every default and every fact about the loom is written in, so that the same brief
gives the same plan for ever. `planner.brief.document` makes one from typed text; `calc.worksheet` works it out.
What a field is, how it is bounded and what it is called on the sheet stands beside it: see `field_table`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Annotated

from planner.calc.terms.bounds import MOST_ENDS, MOST_LENGTH, MOST_PIECES, MOST_RUNS, MOST_SECTIONS, MOST_TURNS
from planner.calc.terms.field_table import (
    Spec,
    added,
    amount,
    choice,
    density,
    flag,
    length,
    loss,
    part,
    per_cm,
    share,
    whole,
    width,
    words,
)
from planner.calc.terms.loom_facts import ZERO, BeamFacts, BeamKind, Bench, Centre, LoomFacts, ReedFacts, Turning
from planner.calc.terms.plan_parts import ColourRun
from studio.quantities import (
    Cm,
    Ends,
    EndsPerCm,
    Gaps,
    Grams,
    GramsPerCm3,
    Key,
    MoneyPerGram,
    PicksPerCm,
    Pieces,
    Share,
    Tex,
    Turns,
    WrapsPerCm,
)

__all__ = [
    "MOST_ENDS",
    "MOST_RUNS",
    "MOST_SECTIONS",
    "MOST_TURNS",
    "WOUND_DENSITY",
    "ZERO",
    "Allowances",
    "BeamFacts",
    "BeamKind",
    "Bench",
    "Centre",
    "Fit",
    "Layout",
    "LoomFacts",
    "MarginOn",
    "Method",
    "ReedFacts",
    "Tolerances",
    "Turning",
    "WarpBrief",
    "YarnChoice",
]


class Method(StrEnum):
    """How the warp gets on to the beam."""

    BOX = "box"
    CHAIN = "chain"


class Layout(StrEnum):
    """How a typed colour order fills the warp."""

    REPEAT = "repeat"
    CENTRED = "centred"
    MIRRORED = "mirrored"
    AS_TYPED = "as_typed"


class MarginOn(StrEnum):
    """What the safety margin is a share of."""

    WOVEN = "woven"
    ALL = "all"


# fmt: off
@dataclass(frozen=True, slots=True)
class YarnChoice:
    """One yarn of the warp, or the weft. Group `own` is asked of a yarn of one's own; `warp` is of one warp."""

    code: Annotated[str, Spec(
        "code", "a letter and up to eleven more signs; used in the colour order (a weft may leave it out: `W`)",
        label="Code")]
    name: Annotated[str, words("as the label says", most=80, left_out="empty")]
    tex: Annotated[Tex, Spec(
        "grist", "a count, or a length in a weight", "The count", "Count or length in a weight",
        "8/2 cotton, 3360 yd/lb, 7000 m/kg. For a yarn of your own.", "own", most=MOST_LENGTH, above=True, key="grist")]
    colour_name: Annotated[str, words("in words", label="Colour", help="In words.", group="own", most=40)] = ""
    fibre: Annotated[str, Spec("fibre", label="Fibre", help="Of a yarn of your own.", group="own")] = "cotton"
    colour: Annotated[str, Spec(
        "colour", "`#` and six hexadecimal digits, for drawings; never the only sign", label="Colour in drawings",
        help="Of a yarn of your own.", group="own", left_out="none")] = ""
    wraps: Annotated[WrapsPerCm | None, per_cm(
        "wraps", "as measured round a ruler", "The number of wraps", "Wraps",
        "As counted round a ruler, side by side and just touching.")] = None
    sett: Annotated[EndsPerCm | None, per_cm(
        "sett", "of this yarn where it differs from the warp's (crammed and spaced cloth)", "The yarn's own sett",
        "Own sett", "Where it differs.", "warp", left_out="the warp's")] = None
    take_up: Annotated[Share | None, loss(
        "of the warp length, of a warp yarn that takes up more or less than the others", "The yarn's own take-up",
        "Own take-up", "Where it differs from the warp’s.", "warp", left_out="the warp's")] = None
    elsewhere: Annotated[bool, flag(
        "of a warp yarn: its ends lie on another warp beam. They keep their place in width, reed, colour order, "
        "heddles and threading, and are not wound here. At least one yarn with ends must lie here",
        label="On the other warp beam", group="warp")] = False
    wound_density: Annotated[GramsPerCm3 | None, density(
        "as wound on a beam", "The wound density", left_out="an estimate for the fibre")] = None
    density_low: Annotated[GramsPerCm3 | None, density(
        "least it can be, where it was measured on this beam; goes with `wound_density` and `density_high`",
        "The least density", left_out="not measured")] = None
    density_high: Annotated[GramsPerCm3 | None, density(
        "most it can be", "The greatest density", left_out="not measured")] = None
    on_hand: Annotated[Grams | None, amount(
        "mass", "free on the shelf", "The yarn on hand", left_out="not known")] = None
    price: Annotated[MoneyPerGram | None, amount(
        "price", "money for a weight", "The price", left_out="not known")] = None
    yarn_id: Annotated[Key | None, whole("the yarn room's number", least=1, most=2**63 - 1)] = None
    count: Annotated[str, words(
        "the count as typed, such as 4/2 cotton, where `name` does not say it. It picks the row of the sett charts "
        "where two counts hold one length",
        most=60)] = ""


@dataclass(frozen=True, slots=True)
class Allowances:
    """What is lost or kept back. Shares are of the longer length and are divided out."""

    draw_in: Annotated[Share, loss(
        "narrowing from reed to fell, of the width in reed", "The draw-in", "Draw-in",
        "Reed to fell, share of the width in reed.")] = ZERO
    width_shrinkage: Annotated[Share, loss(
        "of the width on the loom", "The shrinkage in width", "Width shrinkage",
        "Share of the width on the loom.")] = ZERO
    length_shrinkage: Annotated[Share, loss(
        "of the woven length", "The shrinkage in length", "Length shrinkage",
        "Share of the woven length under tension.")] = ZERO
    take_up: Annotated[Share, loss(
        "of the warp length, used by bending", "The take-up", "Take-up", "Share of the warp used by bending.")] = ZERO
    hem: Annotated[Cm, length(
        "hems of one piece, both together, finished", "The hem", "Hems of a piece", "Both together, finished.",
        "allowances")] = ZERO
    fringe: Annotated[Cm, length(
        "fringe of one piece beyond waste and gaps", "The fringe", "Fringe of a piece", "Beyond waste and gaps.",
        "allowances")] = ZERO
    gap: Annotated[Cm, length(
        "of one gap between pieces, unwoven", "The gap between pieces", "Gap between pieces", "Left unwoven.",
        "allowances")] = ZERO
    gaps: Annotated[Gaps | None, whole(
        "gaps between pieces", "The number of gaps", "How many gaps", "Empty: one fewer than pieces.", "allowances",
        most=MOST_PIECES, left_out="one fewer than pieces")] = None
    demo_woven: Annotated[Cm, length(
        "woven for trial or demonstration", "The strip for demonstration", "Demonstration strip", "Woven for trial.",
        "allowances")] = ZERO
    sampling: Annotated[Cm, length(
        "kept for samples", "The warp for samples", "Warp for samples", group="allowances")] = ZERO
    waste: Annotated[Cm, length(
        "loom waste for this warp", "The loom waste", "Waste of this loom", "Empty: as measured on the loom.",
        "allowances", left_out="the loom's")] = ZERO
    margin: Annotated[Share, added("added on", "The margin", "Margin", "Added on.", "allowances")] = ZERO
    margin_on: Annotated[MarginOn, choice(
        "what the margin is a share of", label="Margin is a share of", group="allowances",
        choices=(("all", "the whole warp"), ("woven", "the woven warp")))] = MarginOn.ALL
    section_waste: Annotated[Cm, length(
        "of each end lost at cutting and tying each section (box)", "The waste of each section",
        "Lost per end and section", "Cut off and tied. Empty: the studio’s figure.", "lost")] = Fraction(4572, 100)
    box_lead: Annotated[Cm, length(
        "of each end lost at each complete re-thread (box)", "The yarn lost at each re-thread",
        "Lost per end and re-thread", "Empty: the studio’s figure.", "lost")] = Fraction(2286, 10)
    spool_reserve: Annotated[Share, added(
        "added on for each spool", "The reserve on each spool", "Reserve on each spool", "Empty: the studio’s figure.",
        "lost")] = Fraction(3, 100)
    weft_allowance: Annotated[Share, added(
        "added to the width in reed", "The weft allowance", "More weft than width", "Empty: 10 %.",
        "lost")] = Fraction(1, 10)


@dataclass(frozen=True, slots=True)
class Tolerances:
    """The studio's limits for remarks."""

    mismatch_note: Annotated[Share, share(
        "length difference between sections that is noted", "The mismatch that is noted")] = Fraction(3, 1_000)
    mismatch_warn: Annotated[Share, share("warned of", "The mismatch that is warned of")] = Fraction(5, 1_000)
    mismatch_stop: Annotated[Share, share(
        "never passed over in silence", "The mismatch that stops the card")] = Fraction(1, 100)
    sett_error: Annotated[Share, share(
        "error of the sett a reed gives that is still called good", "The error of the sett")] = Fraction(2, 100)
    rake_clearance: Annotated[Cm, width(
        "of rake kept clear above the yarn", "The clearance below the rakes")] = Fraction(635, 1_000)
    sett_share: Annotated[Share, share(
        "working sett of the maximum sett", "The share of the maximum sett", above=True)] = Fraction(8, 10)


@dataclass(frozen=True, slots=True)
class Fit:
    """How the count of ends is settled."""

    multiple: Annotated[Ends, whole(
        "ends come in multiples of this (pairs, ends per dent)", "The multiple of ends", "Ends in multiples of",
        "Pairs: 2. Empty: any number.", "fit", least=1, most=1_000)] = 1
    balance: Annotated[Ends, whole(
        "ends after the last whole repeat, so that the edges match", "The balance ends", "Balance ends",
        "After the last whole repeat.", "fit", most=MOST_ENDS)] = 0
    selvedge: Annotated[Ends, whole(
        "extra ends on each side, wound with the edge sections", "The selvedge ends", "Selvedge ends on each side",
        "Extra, wound with the edges.", "fit", most=1_000)] = 0
    floating_selvedge: Annotated[Ends, whole(
        "0 to 2 in all, wound apart from the beam", "The floating selvedge ends", "Floating selvedges",
        "Wound apart from the beam.", "fit", most=2, choices=(("", "none"), ("2", "one on each side")))] = 0
    whole_repeats: Annotated[bool, flag(
        "only whole repeats of the colour order, and the balance", label="Whole repeats of the colour order only",
        group="fit")] = False


@dataclass(frozen=True, slots=True)
class WarpBrief:
    """What the weaver wants, complete.

    Exactly one of `finished_width`, `width_in_reed`, `ends` sets the width (or the colour order, when its
    layout is AS_TYPED and none is given); exactly one of `finished_length`, `warp_length`, `turns` the length.
    """

    title: Annotated[str, words("name of the warp", label="Name of the warp", least=1, most=120)]
    loom: Annotated[LoomFacts, part("loom")]
    yarns: Annotated[tuple[YarnChoice, ...], part("yarns", most=26)]
    sett: Annotated[EndsPerCm, per_cm("sett", "", "The sett", "Sett", "Ends per unit of width.")]
    finished_width: Annotated[Cm | None, width(
        "of the finished cloth", "The finished width", "Finished width", "As it should be after washing.",
        above=True)] = None
    width_in_reed: Annotated[Cm | None, width(
        "given directly", "The width in reed", "Width in reed", above=True)] = None
    ends: Annotated[Ends | None, whole(
        "selvedges not counted", "The number of ends", "Ends", "Selvedge ends not counted.", least=1,
        most=MOST_ENDS)] = None
    pieces: Annotated[Pieces, whole("", "The number of pieces", "Pieces", least=1, most=MOST_PIECES)] = 1
    finished_length: Annotated[Cm | None, length(
        "of one finished piece, hems not counted", "The finished length", "Finished length of a piece",
        "Hems not counted.", above=True)] = None
    warp_length: Annotated[Cm | None, length(
        "given directly", "The warp length", "Warp length", "Yards and metres are understood: 10 yd.",
        above=True)] = None
    turns: Annotated[Turns | None, whole(
        "beam turns, given directly", "The number of turns", "Turns of the beam", least=1, most=MOST_TURNS)] = None
    weave: Annotated[str, Spec("weave", "`as_typed` goes with its `lifts`", label="Weave")] = "plain"
    method: Annotated[Method, choice(
        label="Winding method", choices=(("box", "Tension box"), ("chain", "Chains")), radio=True)] = Method.BOX
    chain_sections: Annotated[tuple[int, ...], Spec(
        "positions",
        "wound as chains while the box winds the rest, 1 at the seat's left: `\"3, 7-9\"`, or a list of whole "
        "numbers; counts with `box` alone, and all of them mean `chain`",
        label="Sections wound as chains", help="Positions on the beam, from the seat’s left: 3, 7-9.", group="tools",
        left_out="none")] = ()
    colour_order: Annotated[tuple[ColourRun, ...], Spec(
        "colour_order", 'seat view from the left: `"15 A, 9 B, 6 C"`, `"(8 A, 8 B) 3 times, 4 A"`',
        label="Colour order", help="Seen from the seat, from the left: 15 A, 9 B, 6 C or (8 A, 8 B) 3 times.",
        area=True, left_out="all of the first yarn")] = ()
    colour_layout: Annotated[Layout, choice(
        label="How it fills the warp",
        choices=(("repeat", "repeated from the left"), ("centred", "repeated, centred"),
                 ("mirrored", "mirrored at the middle"), ("as_typed", "as typed, once")))] = Layout.REPEAT
    fit: Annotated[Fit, part("fit")] = field(default_factory=Fit)
    allowances: Annotated[Allowances, part("allowances")] = field(default_factory=Allowances)
    threading: Annotated[tuple[int, ...], Spec(
        "threading",
        "`\"1, 2, 3, 4\"` from the first end, or `straight`, `point`, `broken` (an even number of shafts, at least 4) "
        "or `lace` (at least 3), written out on the loom's shafts",
        label="Threading, one repeat", help="Shafts from the first end: 1, 2, 3, 4.", group="threading",
        left_out="`straight`")] = ()
    lifts: Annotated[tuple[tuple[int, ...], ...], Spec(
        "lifts",
        'of a weave `as_typed`: the shafts raised in each pick, `"1 2 / 2 3 / 3 4 / 4 1"`, `"1+2, 2+3"` with a comma '
        'between picks, or a grid `"xx.. / .xx."`; `-` for none. It is laid over `threading`',
        label="Lift plan",
        help="Shafts raised in each pick, the first pick first: 1 2 / 2 3 / 3 4 / 4 1, or 1+2, 2+3, 3+4, 4+1. "
             "A dash for none. The threading stands below.", area=True)] = ()
    weft: Annotated[YarnChoice | None, part("weft", left_out="no weft worked out")] = None
    picks: Annotated[PicksPerCm | None, per_cm(
        "picks", "", "The number of picks", "Picks", "Leave empty to leave out the weft.")] = None
    bench: Annotated[Bench, part("bench")] = field(default_factory=Bench)
    tolerances: Annotated[Tolerances, part("tolerances")] = field(default_factory=Tolerances)
    shift: Annotated[Cm, length(
        'the warp is moved off the middle of the beam, right seen from the seat; `"-1 in"` is left',
        label="Shift off the middle", help="To the right seen from the seat; −1 goes left.", group="fit",
        least=-MOST_LENGTH)] = ZERO
# fmt: on


WOUND_DENSITY: Mapping[str, Fraction] = MappingProxyType({
    "cotton": Fraction(45, 100), "linen": Fraction(50, 100), "cottolin": Fraction(47, 100), "wool": Fraction(30, 100),
    "silk": Fraction(50, 100), "rayon": Fraction(50, 100), "hemp": Fraction(50, 100), "other": Fraction(40, 100),
})  # fmt: skip
"""Default density of yarn wound by hand on a beam [g/cm3]. No published source was found: estimates, to be
replaced by a calibration of the studio's own beam and yarn."""
