"""The words of each shown sum: label, formula and source, kept apart from the work itself.

A weaver trusts a sum she can check, so page, card and API all print these lines. A formula names its inputs in
braces; `line` refuses a line whose inputs are not exactly those named.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from string import Formatter
from types import MappingProxyType

from planner.calc.terms.plan import Number, Quantity, Sum

_PLAIN = "Plain arithmetic."
_GEOMETRY = "Plain geometry."
_COMMON = "Common practice, no source."
_TAYLOR = "The rule of diameters and intersections, as in J. T. Taylor, Cotton Weaving and Designing."
_MIXTURE = "Yarns wrapped in the proportion they are used: a weaving teacher's published advice; widths are added."
_VOGL = "T. Vogl, How to calculate yards per spool when warping in sections (2001)."
_SETUPS = (
    "Levenshtein (1966) for a change; Held and Karp (1962) for up to 12 set-ups, Croes (1958) and Prim (1957) beyond."
)
_TAPE = "Plain geometry, with the doubt of the tape in circumference and depth."
ESTIMATED = "Plain geometry; the wound density is an estimate without a published source."
MEASURED = "Plain geometry; the wound density was measured on this beam with this yarn."
OWN_FIGURE = "Plain geometry; the wound density is the studio’s own figure."
"""What a sum of depth rests on; the worksheet puts in which of them is true."""

_Words = tuple[str, str, str, str]
"""Group, label, formula, source."""

WORDS: Mapping[str, _Words] = MappingProxyType({
    "diameters": ("yarn", "Diameters side by side", "{constant} × √({tex_yards} ÷ {count})",
                  "The rule of diameters, K √(yards per pound); K 0.90, woollen 0.84, as handweaving pages print it."),
    "diameters_of_mixture": ("yarn", "Diameters of the mixture side by side", "{ends} ÷ {width}", _MIXTURE),
    "width_of_mixture": ("yarn", "Width of the mixture, its ends side by side", "{number} ÷ {across}", _MIXTURE),
    "wraps_of_mixture": ("yarn", "Wraps of the mixture", "{ends} ÷ {width}", _MIXTURE),
    "width_wrapped": ("yarn", "Width of the mixture, wrapped", "{number} ÷ {across}", _MIXTURE),
    "greatest_sett": ("sett", "Maximum sett", "{diameters} × {ends} ÷ ({ends} + {intersections})",
                      _TAYLOR),
    "sett_from_wraps": ("sett", "Sett that wraps propose", "{wraps} × {ends} ÷ ({ends} + {intersections})", _COMMON),
    "working_sett": ("sett", "Sett to work at", "{greatest} × {share}", _COMMON),
    "width_wanted": ("width", "Width in reed", "{finished} ÷ ((1 − {draw_in}) × (1 − {shrinkage}))", _PLAIN),
    "repeat_width": ("width", "Width of one repeat, each stripe at its own sett", "{ends} ÷ {sett}", _PLAIN),
    "ends_laid": ("width", "Ends across, the stripes laid side by side until the width is full",
                  "{width} ÷ {one} repeats of {repeat}, the last one cut, as a multiple of {multiple}", _PLAIN),
    "ends_across": ("width", "Ends across", "{width} × {sett}, as a multiple of {multiple}", _PLAIN),
    "ends_filling": ("width", "Ends that fill the width", "{width} × {sett}", _PLAIN),
    "ends_in_repeats": ("width", "Ends in whole repeats", "{repeats} × {repeat} + {balance}", _PLAIN),
    "ends": ("width", "Ends with the selvedges", "{ends} + 2 × {selvedge}", _PLAIN),
    "ends_here": ("width", "Ends on this beam", "{ends} − {elsewhere}", _PLAIN),
    "width_in_reed": ("width", "True width in reed", "{ends} ÷ {sett}", _PLAIN),
    "width_in_reed_mixed": ("width", "True width in reed, each stripe at its own sett", "{ends} ÷ {sett}", _PLAIN),
    "finished_width": ("width", "Finished width to expect", "{width} × (1 − {draw_in}) × (1 − {shrinkage})", _PLAIN),
    "woven_length": ("length", "Woven length of one piece", "({finished} + {hem}) ÷ (1 − {shrinkage})", _PLAIN),
    "pieces_warp": ("length", "Warp for the pieces", "{pieces} × {woven} ÷ (1 − {take_up})", _PLAIN),
    "gaps_warp": ("length", "Gaps between pieces", "{gaps} × {gap}", _PLAIN),
    "fringe_warp": ("length", "Fringes beyond waste and gaps", "{pieces} × {fringe}", _PLAIN),
    "demo_warp": ("length", "Warp for the trial strip", "{woven} ÷ (1 − {take_up})", _PLAIN),
    "margin": ("length", "Margin", "{base} × {margin}", _COMMON),
    "length_wanted": ("length", "Warp length wanted",
                      "{pieces} + {gaps} + {fringe} + {demo} + {sampling} + {waste} + {margin}", _PLAIN),
    "turns": ("length", "Turns, by the empty beam", "{length} ÷ {circumference}, rounded up", _PLAIN),
    "turns_calibrated": ("length", "Turns, by the depth measured on this beam, in its shallowest section",
                         "fewest T with T × ({circumference} + π × {depth} × T) ≥ {length}", _GEOMETRY),
    "turns_safe": ("length", "Turns that are enough whatever the doubt of the tape",
                   "fewest T with T × ({circumference} + π × {depth} × T) ≥ {length}, both at their least", _GEOMETRY),
    "turns_with_build_up": ("length", "Turns that would do, counting the build-up of the shallowest section",
                            "fewest T with T × ({circumference} + π × {depth} × T) ≥ {length}", ESTIMATED),
    "warp_by_turns": ("length", "Warp length by the empty beam", "{turns} × {circumference}", _PLAIN),
    "warp_by_board": ("length", "Warp length to wind", "{length}, up to whole steps of {step}", _PLAIN),
    "dents_used": ("reed", "Dents used", "{ends} × {dents} ÷ {sett}, rounded up", _PLAIN),
    "width_of_stripes": ("reed", "Width of the stripes as this reed sets them", "{ends} ÷ {sett}", _PLAIN),
    "dents_of_stripes": ("reed", "Dents used, each stripe in its own order", "{width} × {dents}, rounded up", _PLAIN),
    "sett_in_reed": ("reed", "Sett this reed gives", "{dents} × {ends} ÷ {order}", _PLAIN),
    "empty_dents": ("reed", "Dents left empty at the left, seen from the seat",
                    "({reed_length} × {dents} − {used}) ÷ 2 + {shift} × {dents}, in whole dents", _PLAIN),
    "empty_dents_shifted_left": ("reed", "Dents left empty at the left, seen from the seat",
                    "({reed_length} × {dents} − {used}) ÷ 2 − {shift} × {dents}, in whole dents", _PLAIN),
    "ends_per_section": ("sections", "Ends of a full section", "{sett} × {pitch}", _VOGL),
    "section_layouts": ("sections", "Sections before the repeat lies the same again",
                        "lcm of {repeat} and {section}, ÷ {section}", _PLAIN),
    "sections_needed": ("sections", "Sections the warp lies in", "{width} ÷ {pitch}, about the middle", _GEOMETRY),
    "sections_here": ("sections", "Sections with ends of this beam",
                      "those of {width} ÷ {pitch}, about the middle, that hold any", _GEOMETRY),
    "depth_per_turn": ("beam", "Depth of one turn", "{ends} × {count} ÷ ({width} × {density})", ESTIMATED),
    "depth_mixed": ("beam", "Depth of one turn", "{ends} × {count} ÷ ({width} × {density})", ESTIMATED),
    "depth_measured": ("beam", "Depth of one turn, measured", "{depth}", "Measured on this beam with this yarn."),
    "depth": ("beam", "Depth of yarn at the end", "{turns} × {depth}", _GEOMETRY),
    "real_length": ("beam", "Length with build-up", "{turns} × ({circumference} + π × {depth} × {turns})",
                    "Length of a roll; Math Forum, Dr Peterson, November 2003."),
    "turns_of_chain": ("beam", "Turns the chain takes",
                       "2 × {length} ÷ ({circumference} + √(({circumference})² + 4π × {depth} × {length}))", _GEOMETRY),
    "end_circumference": ("beam", "Circumference to find with the tape",
                          "{circumference} + 2π × {depth} × {turns}", _GEOMETRY),
    "length_least": ("beam", "Length at the least", "{turns} × ({circumference} + π × {depth} × {turns})", _TAPE),
    "length_most": ("beam", "Length at the most", "{turns} × ({circumference} + π × {depth} × {turns})", _TAPE),
    "round_least": ("beam", "Circumference at the least", "{circumference} + 2π × {depth} × {turns}", _TAPE),
    "round_most": ("beam", "Circumference at the most", "{circumference} + 2π × {depth} × {turns}", _TAPE),
    "depth_least": ("beam", "Depth of yarn at the end, at the least", "{turns} × {depth}", _TAPE),
    "depth_most": ("beam", "Depth of yarn at the end, at the most", "{turns} × {depth}", _TAPE),
    "most_turns_least": ("beam", "Turns the rakes hold, at the least", "({rake} − {clearance}) ÷ {depth}, rounded down",
                         _TAPE),
    "most_turns_most": ("beam", "Turns the rakes hold, at the most", "({rake} − {clearance}) ÷ {depth}, rounded down",
                        _TAPE),
    "longest_least": ("beam", "Longest warp the rakes hold, at the least",
                      "{turns} × ({circumference} + π × {depth} × {turns})", _TAPE),
    "longest_most": ("beam", "Longest warp the rakes hold, at the most",
                     "{turns} × ({circumference} + π × {depth} × {turns})", _TAPE),
    "most_turns": ("beam", "Turns the rakes hold", "({rake} − {clearance}) ÷ {depth}, rounded down", _GEOMETRY),
    "longest_warp": ("beam", "Longest warp the rakes hold", "{turns} × ({circumference} + π × {depth} × {turns})",
                     _GEOMETRY),
    "mismatch": ("beam", "Deepest section longer than the shallowest by", "π × ({turns})² × ({deep} − {shallow})",
                 _GEOMETRY),
    "take_up_needs": ("beam", "Needed more by what takes up more",
                      "{length} × ({more} − {less}) ÷ (1 − {less})", _PLAIN),
    "take_up_lacking": ("beam", "Lacking, when its sections are counted in", "{needs} − {given}", _PLAIN),
    "take_up_worse": ("beam", "Lacking, since its sections come out shorter besides", "{needs} + {shorter}", _PLAIN),
    "take_up_spare": ("beam", "To spare, when its sections are counted in", "{given} − {needs}", _PLAIN),
    "spools": ("winding", "Spools in all, of each yarn as many as its fullest section has ends", "{spools}", _VOGL),
    "spool_nominal": ("winding", "On each spool, by the empty beam", "{sections} × ({length} + {waste})", _VOGL),
    "spool_real": ("winding", "On each spool, with build-up", "{sections} × ({length} + {waste})", _VOGL),
    "spool_to_wind": ("winding", "To wind on each spool",
                      "{length} × (1 + {reserve}) + {lead}, up to whole steps of {step}", _COMMON),
    "spool_lead": ("winding", "Lost by each spool at re-threading the box", "{times} × {lead}", _COMMON),
    "slots_changed": ("winding", "Slots of the rack changed, in the order of winding",
                      "over {setups} set-ups, spools in the order of the ends; no order does with fewer than {fewest}",
                      _SETUPS),
    "box_lead_lost": ("winding", "Lost at re-threading the box", "{ends} × {lead}", _COMMON),
    "box_lead_mass": ("winding", "Mass of the yarn lost at re-threading", "{number} × {length}", _PLAIN),
    "comb_bundle": ("winding", "Bundle in the comb, so many to a dent", "{ends} ÷ ({dents} × {in_a_dent})", _PLAIN),
    "comb_angle": ("winding", "Angle to turn the comb", "arccos({section} ÷ {bundle})", _GEOMETRY),
    "knot": ("winding", "Middle of the leader knot past a bar",
             "remainder of ({offset} + {leader} + {knot} ÷ 2) ÷ ({circumference} ÷ {bars})", _GEOMETRY),
    "chain_length": ("winding", "Length of a chain",
                     "{turns} × ({circumference} + π × {depth} × {turns}), up to whole steps of {step}", _GEOMETRY),
    "chains": ("winding", "Chains", "{ends}, at most {most} in a chain", _PLAIN),
    "passes": ("winding", "Passes of a full chain", "{ends} ÷ {at_once}, rounded up", _PLAIN),
    "chain_mass": ("winding", "Mass of a full chain", "{ends} × {count} × {length}", _PLAIN),
    "warp_yarn_spools": ("winding", "Warp yarn to wind", "{number} × {length}", _PLAIN),
    "warp_yarn_chains": ("winding", "Warp yarn to wind", "{number} × {length}", _PLAIN),
    "warp_mass": ("winding", "Mass of the warp yarn", "{length} × {count}", _PLAIN),
    "weft_length": ("weft", "Weft yarn", "{picks} × {woven} × {width} × (1 + {allowance})", _PLAIN),
    "weft_mass": ("weft", "Mass of the weft yarn", "{length} × {count}", _PLAIN),
    "cost": ("weft", "Cost of the yarn", "{mass} × {price}", _PLAIN),
    "cost_of_cloth": ("weft", "Cost of all yarn, warp and weft", "{warp} + {weft}", _PLAIN),
    "cost_of_piece": ("weft", "Cost of the yarn of one piece", "{whole} ÷ {pieces}", _PLAIN),
    "heddles": ("fit", "Heddles needed on all shafts", "{ends}, one heddle each", _PLAIN),
    "one_more_needs": ("fit", "One more piece needs", "{woven} ÷ (1 − {take_up}) + {gap} + {fringe}", _PLAIN),
    "one_more_left": ("fit", "Warp left, the margin kept", "{length} − {wanted}", _PLAIN),
})  # fmt: skip
"""Key to group, label, formula and source of every line a plan can show."""


def line(key: str, result: Quantity, inputs: Mapping[str, Quantity], about: str = "") -> Sum:
    """Make one shown line of arithmetic.

    Raises
    ------
    ValueError
        If `inputs` are not those the formula names.
    """
    group, label, formula, source = WORDS[key]
    if inputs.keys() != _named(formula):
        raise ValueError(f"{key} names {sorted(_named(formula))}, inputs are {sorted(inputs)}")
    return Sum(key, group, f"{label}, {about}" if about else label, formula, tuple(inputs.items()), result, source)


def added(key: str, result: Quantity, parts: Sequence[Mapping[str, Quantity]], about: str = "") -> Sum:
    """Make one shown line that adds up its formula, once for each part.

    Raises
    ------
    ValueError
        If there are no parts.
    """
    if not parts:
        raise ValueError(f"{key} adds no parts")
    first = line(key, result, parts[0], about)
    if len(parts) == 1:
        return first
    terms, inputs = [], []
    for at, part in enumerate(parts, start=1):
        terms.append(first.formula.format_map({name: f"{{{name}_{at}}}" for name in part}))
        inputs += [(f"{name}_{at}", put_in) for name, put_in in part.items()]
    return replace(first, formula=" + ".join(terms), inputs=tuple(inputs))


def _named(formula: str) -> set[str]:
    return _NAMED[formula]


_NAMED: Mapping[str, set[str]] = MappingProxyType({
    formula: {name for _, name, _, _ in Formatter().parse(formula) if name} for _, _, formula, _ in WORDS.values()
})  # fmt: skip


def of(value: Number, kind: str) -> Quantity:
    """Give a number with its kind, shortly."""
    return Quantity(value, kind)
