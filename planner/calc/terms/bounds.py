"""The bounds of every number in a brief, as tables: what is asked of each, and what it is called.

Part of the rules in `planner.calc.terms.problems`; kept apart so that each file fits a reader's head.
"""

from __future__ import annotations

from fractions import Fraction

MOST_ENDS = 20_000
MOST_SECTIONS = 400
MOST_SECTIONS_OF_WARP = 4_000
MOST_TURNS = 5_000
MOST_RUNS = 2_000
MOST_PIECES = 1_000
MOST_LENGTH = 1_000_000
MOST_WIDTH = 2_000
MOST_SHAFTS = 100
MOST_YARNS = 100
MOST_GROUPS = 20_000
MOST_CODE = 12
MOST_AMOUNT = 10**9
MOST_PICKS = 128
MOST_THREADED = 2_000
"""Bounds far above any handloom; they keep hostile briefs from taking time. Lengths in cm."""

MOST_LOSS = Fraction(9, 10)
MOST_ADDED = Fraction(2)
"""A loss near the whole divides by nearly nothing; more than thrice the yarn is a slip of the finger."""

_LENGTH = (Fraction(0), Fraction(MOST_LENGTH))
_WIDTH = (Fraction(0), Fraction(MOST_WIDTH))
_LOSS = (Fraction(0), MOST_LOSS)
_ADDED = (Fraction(0), MOST_ADDED)
_WHOLE = (Fraction(0), Fraction(1))
_PER_CM = (Fraction(0), Fraction(1_000))

Rule = tuple[str, str, tuple[Fraction, Fraction | int]]

ABOVE_ZERO: tuple[Rule, ...] = (
    ("sett", "The sett", _PER_CM),
    ("finished_width", "The finished width", _WIDTH),
    ("width_in_reed", "The width in reed", _WIDTH),
    ("ends", "The number of ends", (Fraction(0), MOST_ENDS)),
    ("pieces", "The number of pieces", (Fraction(0), MOST_PIECES)),
    ("finished_length", "The finished length", _LENGTH),
    ("warp_length", "The warp length", _LENGTH),
    ("turns", "The number of turns", (Fraction(0), MOST_TURNS)),
    ("picks", "The number of picks", _PER_CM),
    ("weft.tex", "The count of the weft", _LENGTH),
    ("loom.weaving_width", "The weaving width of the loom", _WIDTH),
    ("loom.shafts", "The number of shafts", (Fraction(0), MOST_SHAFTS)),
    ("loom.beam.circumference", "The circumference of the beam", _WIDTH),
    ("loom.beam.usable_width", "The usable width of the beam", _WIDTH),
    ("loom.beam.depth_per_turn", "The measured depth per turn", _WIDTH),
    ("fit.multiple", "The multiple of ends", (Fraction(0), MOST_PIECES)),
    ("bench.rack_spools", "The number of places on the rack", (Fraction(0), MOST_ENDS)),
    ("bench.board_path_max", "The longest path of the board", _LENGTH),
    ("bench.board_step", "The step of the board", _LENGTH),
    ("bench.ends_at_once", "The ends wound at once", (Fraction(0), MOST_ENDS)),
    ("bench.chain_ends_max", "The ends of one chain", (Fraction(0), MOST_ENDS)),
    ("bench.raddle_space", "The raddle space", _WIDTH),
    ("bench.tie_every", "The distance between choke ties", _LENGTH),
    ("bench.comb_dents", "The dents of the comb", _PER_CM),
    ("bench.comb_ends_per_dent", "The ends in each dent of the comb", (Fraction(0), MOST_ENDS)),
    ("bench.spool_step", "The step of spool lengths", _LENGTH),
    ("tolerances.sett_share", "The share of the greatest sett", _WHOLE),
)
"""Field, what it is called, and its bounds; the lower bound itself is refused."""

FROM_ZERO: tuple[Rule, ...] = (
    ("loom.waste", "The loom waste", _LENGTH),
    ("loom.treadles", "The number of treadles", (Fraction(0), MOST_SHAFTS)),
    ("loom.beam.divider", "The thickness of a divider", _WIDTH),
    ("loom.beam.sections", "The number of sections", (Fraction(0), MOST_SECTIONS)),
    ("loom.beam.rake_height", "The height of the rakes", _WIDTH),
    ("loom.beam.bars", "The number of bars", (Fraction(0), MOST_SECTIONS)),
    ("loom.beam.leader", "The length of a leader", _LENGTH),
    ("loom.beam.leader_offset", "The place where a leader is fastened", _WIDTH),
    ("loom.beam.leader_knot", "The length of a leader knot", _WIDTH),
    ("loom.beam.tape", "The doubt of the tape", _WIDTH),
    ("fit.balance", "The balance ends", (Fraction(0), MOST_ENDS)),
    ("fit.selvedge", "The selvedge ends", (Fraction(0), MOST_ENDS)),
    ("fit.floating_selvedge", "The floating selvedge ends", (Fraction(0), MOST_CODE)),
    ("allowances.draw_in", "The draw-in", _LOSS),
    ("allowances.width_shrinkage", "The shrinkage in width", _LOSS),
    ("allowances.length_shrinkage", "The shrinkage in length", _LOSS),
    ("allowances.take_up", "The take-up", _LOSS),
    ("allowances.hem", "The hem", _LENGTH),
    ("allowances.fringe", "The fringe", _LENGTH),
    ("allowances.gap", "The gap between pieces", _LENGTH),
    ("allowances.gaps", "The number of gaps", (Fraction(0), MOST_PIECES)),
    ("allowances.demo_woven", "The strip for demonstration", _LENGTH),
    ("allowances.sampling", "The warp for samples", _LENGTH),
    ("allowances.waste", "The loom waste", _LENGTH),
    ("allowances.margin", "The margin", _ADDED),
    ("allowances.section_waste", "The waste of each section", _LENGTH),
    ("allowances.box_lead", "The yarn lost at each re-thread", _LENGTH),
    ("allowances.spool_reserve", "The reserve on each spool", _ADDED),
    ("allowances.weft_allowance", "The weft allowance", _ADDED),
    ("tolerances.mismatch_note", "The mismatch that is noted", _WHOLE),
    ("tolerances.mismatch_warn", "The mismatch that is warned of", _WHOLE),
    ("tolerances.mismatch_stop", "The mismatch that stops the card", _WHOLE),
    ("tolerances.sett_error", "The error of the sett", _WHOLE),
    ("tolerances.rake_clearance", "The clearance below the rakes", _WIDTH),
)
"""Field, what it is called, and its bounds; nought is allowed."""

OF_YARN: tuple[tuple[str, str, tuple[Fraction, Fraction | int], bool], ...] = (
    ("tex", "The count", _LENGTH, False),
    ("wraps", "The number of wraps", _PER_CM, False),
    ("sett", "The yarn's own sett", _PER_CM, False),
    ("wound_density", "The wound density", (Fraction(0), 10), False),
    ("density_low", "The least density", (Fraction(0), 10), False),
    ("density_high", "The greatest density", (Fraction(0), 10), False),
    ("on_hand", "The yarn on hand", (Fraction(0), MOST_AMOUNT), True),
    ("price", "The price", (Fraction(0), MOST_AMOUNT), True),
    ("take_up", "The yarn's own take-up", _LOSS, True),
)
"""Field of a yarn, what it is called, its bounds, and whether nought is allowed."""
