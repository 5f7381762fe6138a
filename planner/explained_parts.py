"""Which calculator stands in which part of the bench, and which one each shown sum comes from.

`planner.explained` reads the data sheets of these modules; tests hold that no module and no sum is left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

PARTS: Mapping[str, tuple[str, tuple[str, ...]]] = MappingProxyType({
    "yarn": ("Yarn", ("inventory.yarn_count", "inventory.package_length")),
    "sett": ("Sett", (
        "planner.calc.sett", "planner.calc.firmness", "planner.calc.cover", "planner.calc.weave",
    )),
    "width": ("Width and ends", ("planner.calc.warp_width", "planner.calc.colours", "planner.calc.fitting")),
    "length": ("Length", ("planner.calc.warp_length",)),
    "reed": ("Reed and threading", (
        "planner.calc.reed", "planner.calc.reed_systems", "planner.calc.dent_room", "planner.calc.threading",
        "planner.calc.threading_guide",
    )),
    "sections": ("Sections", ("planner.calc.sections", "planner.calc.edges")),
    "beam": ("Beam", (
        "planner.calc.beam", "planner.calc.beam_depth", "planner.calc.calibration", "planner.calc.unequal",
    )),
    "winding": ("Winding", (
        "planner.calc.spools", "planner.calc.setups", "planner.calc.setup_order", "planner.calc.fewer_spools",
        "planner.calc.chains", "planner.calc.board", "planner.calc.board_path", "planner.calc.leader",
    )),
    "weft": ("Weft and cost", ("planner.calc.weft", "planner.calc.cost")),
    "fit": ("On this loom", (
        "planner.calc.loom_fit", "planner.calc.cloth_fit", "planner.calc.winding_fit", "planner.calc.yarn_fit",
    )),
    "records": ("Records and reach", ("planner.calc.cloth_record", "planner.calc.reach")),
})  # fmt: skip
"""Key of a part to its title and the modules whose calculators it holds, in the order of the bench."""

NO_CALCULATORS = frozenset({
    "brief", "loom_facts", "plan", "plan_choices", "plan_parts", "plan_winding", "problems", "sums", "usual_losses",
    "worksheet", "worksheet_advice", "worksheet_beam", "worksheet_choices", "worksheet_cloth", "worksheet_reed",
    "worksheet_sections", "worksheet_setups", "worksheet_winding", "worksheet_yarn",
})  # fmt: skip
"""Modules of `planner.calc` that hold facts and words, or only call calculators in the order of the bench."""

SUM_CALCULATORS: Mapping[str, str] = MappingProxyType({
    "diameters": "sett.diameters",
    "greatest_sett": "sett.greatest_sett",
    "sett_from_wraps": "sett.sett_from_wraps",
    "working_sett": "sett.working_sett",
    "width_wanted": "warp_width.width_in_reed",
    "mean_sett": "warp_width.width_of_ends",
    "ends_across": "warp_width.ends_across",
    "ends_filling": "warp_width.ends_across",
    "ends_in_repeats": "warp_width.ends_in_repeats",
    "ends": "warp_width.ends_across",
    "width_in_reed": "warp_width.width_of_ends",
    "width_in_reed_mixed": "warp_width.width_of_ends",
    "finished_width": "warp_width.finished_width_of",
    "woven_length": "warp_length.woven_length",
    "pieces_warp": "warp_length.warp_of_woven",
    "gaps_warp": "warp_length.gap_count",
    "fringe_warp": "warp_length.gap_count",
    "demo_warp": "warp_length.warp_of_woven",
    "margin": "warp_length.margin_of",
    "length_wanted": "warp_length.margin_of",
    "turns": "beam.turns_by_empty_beam",
    "turns_calibrated": "beam.whole_turns",
    "turns_with_build_up": "beam.whole_turns",
    "warp_by_turns": "beam.turns_by_empty_beam",
    "warp_by_board": "warp_length.rounded_up",
    "dents_used": "reed.rank_reeds",
    "sett_in_reed": "reed.sley_sett",
    "empty_dents": "reed.empty_at_left",
    "ends_per_section": "sections.ends_per_section",
    "section_layouts": "fitting.layouts_of_repeat",
    "sections_needed": "sections.boundaries",
    "depth_per_turn": "beam_depth.depth_per_turn",
    "depth_mixed": "beam_depth.depth_of_mixture",
    "depth_measured": "beam_depth.depth_from_tape",
    "depth": "beam_depth.depth_per_turn",
    "real_length": "beam.length_of_turns",
    "turns_of_chain": "beam.turns_of_length",
    "end_circumference": "beam.end_circumference",
    "most_turns": "beam_depth.most_turns",
    "longest_warp": "beam.length_of_turns",
    "mismatch": "beam.mismatch",
    "spools": "spools.spools_needed",
    "spool_nominal": "spools.length_per_spool",
    "spool_real": "spools.length_per_spool",
    "spool_to_wind": "spools.length_to_wind",
    "spool_lead": "spools.with_lead_lost",
    "slots_changed": "setup_order.order_of_setups",
    "box_lead_lost": "spools.box_lead_lost",
    "comb_bundle": "leader.ends_per_comb_dent",
    "comb_angle": "leader.comb_angle",
    "knot": "leader.knot_place",
    "chains": "chains.chain_sizes",
    "passes": "chains.passes_of",
    "chain_mass": "board.chain_mass",
    "warp_yarn_spools": "spools.length_per_spool",
    "warp_yarn_chains": "chains.chain_sizes",
    "warp_mass": "yarn_count.mass_of_length",
    "weft_length": "weft.weft_length",
    "weft_mass": "yarn_count.mass_of_length",
    "cost": "cost.cloth_cost",
    "heddles": "threading.heddles_per_shaft",
    "one_more_needs": "warp_length.warp_of_one_more",
    "one_more_left": "warp_length.one_more_piece",
})  # fmt: skip
"""Key of a shown sum to the calculator, as module and name, on whose page it is explained."""
