"""The formula of each calculator, in words and signs, as a weaver would write it on the edge of a page.

A name in braces is something put in, by the name the calculator gives it; what stands before the equals sign comes out.
`explained` shows the formula with the names spoken, and once more with the figures of the example put in.
`tests/planner/handbook/test_formulas.py` works each of them out and holds it against the calculator.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

FORMULAS: Mapping[str, str] = MappingProxyType({
    "count.tex_of_count": "tex = {plies} × tex of number 1 ÷ {count}; tex = {plies} × tex of number 1 × {count} "
                               "where the number grows with thickness",
    "count.count_of_tex": "count = tex of number 1 ÷ {tex}; count = {tex} ÷ tex of number 1 where the number "
                               "grows with thickness",
    "count.folded": "tex = tex of the first thread + tex of the second + …",
    "count.tex_of_yards_per_pound": "tex = 496054.65 ÷ {yards_per_pound}",
    "count.yards_per_pound": "yards per pound = 496054.65 ÷ {tex}",
    "count.tex_of_metres_per_kilogram": "tex = 1000000 ÷ {metres_per_kilogram}",
    "count.metres_per_kilogram": "metres per kilogram = 1000000 ÷ {tex}",
    "count.length_of_mass": "length = {mass} × 100000 ÷ {tex}",
    "count.mass_of_length": "mass = {length} × {tex} ÷ 100000",
    "package_length.package_length": "length = (gross − empty package) × 100000 ÷ {tex}, with the lightest, the middle "
                                     "and the heaviest empty package",
    "package_length.length_in_doubt": "length = ({heaviest} − {lightest}) × 100000 ÷ {tex}",
    "package_length.together": "low = sum of the lows; likely = sum of the likely; high = sum of the highs",
    "sett.diameters": "diameters to the inch = {constant} × √(496054.65 ÷ {tex})",
    "sett.greatest_sett": "greatest sett = {diameters} × {ends} ÷ ({ends} + {intersections})",
    "sett.working_sett": "sett = {greatest} × {share}",
    "sett.sett_from_wraps": "sett = {wraps} × {ends} ÷ ({ends} + {intersections})",
    "firmness.sett_of_other_weave": "new sett = sett × wanted e ÷ (wanted e + i) ÷ (given e ÷ (given e + i)), with e "
                                    "ends and i intersections",
    "firmness.sett_of_other_yarn": "new sett = {sett} × √({tex} ÷ {new_tex})",
    "firmness.heavier_cloth": "new sett = {sett} ÷ {ratio}; new tex = {tex} × {ratio}²",
    "firmness.wraps_of_mixture": "wraps = ends in all ÷ (ends of the first ÷ its wraps + ends of the second ÷ its "
                                 "wraps + …)",
    "cover.peirce_diameter": "diameter in inches = 1 ÷ (28 × √(cotton count))",
    "cover.thread_diameter": "diameter = √(4 × {tex} × {specific_volume} ÷ (100000 × π))",
    "cover.diameter_of_wraps": "diameter = 1 ÷ {side_by_side}",
    "cover.fractional_cover": "cover = {threads} × {diameter}",
    "cover.cloth_cover": "cover = {warp} + {weft} − {warp} × {weft}",
    "cover.cover_factor": "factor = {threads} × √({tex}) ÷ 10",
    "cover.peirce_cover_factor": "factor = threads to the inch ÷ √(cotton count)",
    "weave.intersections_along": "crossings = {threads} × {intersections} ÷ {repeat}",
    "weave.rough_contraction": "contraction in per cent = crossings to the inch × 4 ÷ cotton count of the weft",
    "warp_width.width_in_reed": "width in reed = {finished_width} ÷ ((1 − {draw_in}) × (1 − {width_shrinkage}))",
    "warp_width.finished_width_of": "finished width = {width_in_reed} × (1 − {draw_in}) × (1 − {width_shrinkage})",
    "warp_width.ends_across": "ends = {width_in_reed} × {sett}, to the nearest multiple",
    "warp_width.ends_in_repeats": "ends = repeats × {repeat} + {balance}, with the repeats that come nearest",
    "warp_width.width_of_ends": "width = {ends} ÷ {sett}",
    "fitting.layouts_of_repeat": "layouts = least common multiple of {repeat} and {section}, ÷ {section}",
    "fitting.sections_for": "sections = {width} ÷ {pitch}, rounded up",
    "fitting.ends_to_ask": "asked = {ends} − 2 × {selvedge}",
    "warp_length.woven_length": "woven = ({finished_length} + {hem}) ÷ (1 − {length_shrinkage})",
    "warp_length.warp_of_woven": "warp = {woven} ÷ (1 − {take_up})",
    "warp_length.gap_count": "gaps = {pieces} − 1, unless told otherwise",
    "warp_length.margin_of": "margin = {base} × {margin}",
    "warp_length.rounded_up": "length = {length} ÷ {step}, rounded up, × {step}",
    "warp_length.warp_of_one_more": "needs = {woven} ÷ (1 − {take_up}) + {gap} + {fringe}",
    "warp_length.one_more_piece": "left = {real_length} − {length_wanted}; it fits where left ≥ {needs}",
    "reed.sley_sett": "sett = {dents} × ends of one order ÷ dents of one order",
    "reed.empty_at_left": "empty = (dents of the reed − {used}) ÷ 2 + {shift} × dents to the centimetre",
    "reed_systems.dents_of": "dents = {number} × dents of one number ÷ width of one number",
    "reed_systems.number_of": "number = {dents} × width of one number ÷ dents of one number",
    "dent_room.dent_gap": "gap = 1 ÷ {dents} − {wire}",
    "dent_room.free_share": "free = 1 − {ends} × {diameter} ÷ {gap}",
    "dent_room.dent_room": "a knot passes where ({ends} − 1 + 3) × {diameter} ≤ gap",
    "sections.ends_per_section": "ends = {sett} × {pitch}",
    "sections.position_from_back": "place = {sections} + 1 − {position}",
    "sections.share_ends": "ends up to a bound = distance to it × {sett}, rounded; a section has the difference of two",
    "sections.filled_shares": "share = (right bound − left bound) ÷ {pitch}",
    "edges.edge_choices": "shorter = (1 − part of the section filled) × build-up, where ends are spread",
    "turns.length_of_turns": "length = {turns} × ({circumference} + π × {depth_per_turn} × {turns})",
    "turns.turns_of_length": "turns = 2 × {length} ÷ ({circumference} + √(({circumference})² + 4 × π × "
                            "{depth_per_turn} × {length}))",
    "turns.whole_turns": "fewest turns with turns × ({circumference} + π × {depth_per_turn} × turns) ≥ {length}",
    "turns.turns_by_empty_beam": "turns = {length} ÷ {circumference}, rounded up",
    "turns.end_circumference": "end = {circumference} + 2 × π × {depth_per_turn} × {turns}",
    "turns.turn_table": "length = turns × ({circumference} + π × {depth_per_turn} × turns) for each turn",
    "turns.mismatch": "longer = π × ({turns})² × ({deep} − {shallow}); share = π × {turns} × ({deep} − {shallow}) ÷ "
                     "{circumference}",
    "depth.wound_area": "area = {tex} ÷ (100000 × {density})",
    "depth.depth_per_turn": "depth = {ends_per_cm} × {tex} ÷ (100000 × {density})",
    "depth.depth_of_mixture": "depth = (ends of the first × its area + ends of the second × its area + …) "
                                   "÷ {width}",
    "depth.depth_from_tape": "depth = ({end} − {start}) ÷ (2 × π × {turns})",
    "depth.most_turns": "turns = ({rake_height} − {clearance}) ÷ {depth_per_turn}, rounded down",
    "calibration.taped": "low = {length} − {tape}; high = {length} + {tape}",
    "calibration.depth_range": "depth = ({end} − {start}) ÷ (2 × π × {turns}); low and high with both readings wrong "
                               "by {tape}",
    "calibration.turns_to_tell": "turns = {tape} ÷ (π × {depth} × {share}), rounded up",
    "calibration.combined": "low = greatest of the lows; high = least of the highs",
    "calibration.length_range": "length = {turns} × (circumference + π × depth × {turns}), with the least and the most "
                                "of each",
    "calibration.turns_range": "fewest turns with turns × (circumference + π × depth × turns) ≥ {length}, with the "
                               "least and the most of each",
    "calibration.density_range": "density = {ends_per_cm} × {tex} ÷ (100000 × depth)",
    "calibration.round_range": "circumference = empty circumference + 2 × π × depth × {turns}, with the least and the "
                               "most of each",
    "unequal.mismatches": "longer = π × ({turns})² × (deep − shallow); share = π × {turns} × (deep − shallow) ÷ "
                          "{circumference}",
    "two_beams.take_up_needs": "needs = {length} × ({more} − {less}) ÷ (1 − {less})",
    "spools.length_per_spool": "length = {sections} × ({warp_length} + {section_waste})",
    "spools.length_to_wind": "to wind = {length} × (1 + {reserve}) + {lead_lost}, up to whole steps of {step}",
    "spools.spools_needed": "spools = ends of the fullest section",
    "spools.mass_of_lead": "mass = spools × lead lost × tex ÷ 100000, added over the groups",
    "spools.box_lead_lost": "lost = {ends} × {lead}",
    "setup_order.changes_in_order": "changed = slots from the first to the second + from the second to the third + …",
    "chains.passes_of": "passes = {ends} ÷ {at_once}, rounded down; the rest are odd ends",
    "chains.tie_distances": "distances = {every}, 2 × {every}, 3 × {every} … short of {warp_length}",
    "mixed_winding.chain_length": "length = {taken} ÷ {step}, rounded up, × {step}",
    "board.measured_path": "true = {path} × {guide_measured} ÷ {guide}",
    "board.path_by_name": "path = {wanted} × {guide} ÷ {guide_measured}, up to whole steps of {step}",
    "board.chain_mass": "mass = (ends of the first × its tex + ends of the second × its tex + …) × {length} ÷ 100000",
    "board.tie_marks": "tops = bottoms = 2 × {crosses} + 2",
    "board_path.board_length": "length = {legs} × {leg} + {cross}",
    "board_path.path_error": "error = {true} ÷ {nominal} − 1",
    "board_path.turns_of_mill": "turns = {length} ÷ {circumference}, up to the next post",
    "board_path.passes_in_all": "passes = ends of each chain ÷ {at_once}, rounded up, added",
    "leader.knot_place": "past a bar = remainder of {leader} ÷ ({circumference} ÷ {bars})",
    "leader.ends_per_comb_dent": "ends in a dent = {ends} ÷ ({dents} × {section}), rounded down, and not below "
                                 "{fewest}",
    "leader.comb_angle": "angle = arccos({section} ÷ {bundle})",
    "package_plan.uses_of_package": "uses = {length} ÷ {use}, rounded down",
    "weft.picks_in": "picks = {woven} × {picks}, rounded",
    "weft.weft_length": "length = {woven_total} × {picks} × {width_in_reed} × (1 + {allowance})",
    "cost.mixture": "price = (first mass × its price + second mass × its price + …) ÷ mass in all",
    "cost.cloth_cost": "cost = first mass × its price + second mass × its price + …; of a piece = cost ÷ {pieces}",
    "cost.packages_to_buy": "packages = {missing} ÷ {package}, rounded up",
    "cost.waste_share": "share = {wasted} ÷ {wound}",
    "record.loss": "loss = 1 − {after} ÷ {before}",
    "record.crimp": "crimp = ({yarn_length} − {cloth_length}) ÷ {cloth_length}",
    "record.take_up_of_crimp": "take-up = {crimp} ÷ (1 + {crimp})",
    "record.yarn_check": "missing = {out} − {back} − {thrums} − {cloth}",
    "reach.widest": "ends = {yarn} ÷ ({warp_length} + {weft_per_cm} ÷ {sett}), rounded down",
    "reach.longest_warp": "length = {yarn} ÷ {ends}",
    "reach.longest_woven": "woven = ({yarn} − {ends} × {fixed}) ÷ ({ends} ÷ (1 − {take_up}) + {weft_per_woven})",
    "reach.most_pieces": "yarn = ends × (pieces × (warp + gap) − gap + fixed) + pieces × weft, solved for the pieces",
    "reach.pieces_of_warp": "pieces = ({warp_length} − fixed + gap) ÷ (warp of one + gap), rounded down",
})  # fmt: skip
"""Module and name of a calculator to its formula; those that sort, cut or choose have their rule in sentences alone."""
