"""How each published value is worked out by our own calculators, and which ones none of them covers.

The values themselves, each with its source, stand in `published_values.csv`. Old units are turned into ours here and
the results back again, so that every sum ends in the unit its book prints.
"""
# ruff: noqa: N803 - arguments are named as in the table, where Ne and Nm are the trade's signs

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from math import ceil, pi

from inventory.calc.count import (
    count_of_tex,
    folded,
    length_of_mass,
    mass_of_length,
    metres_per_kilogram,
    tex_of_count,
    tex_of_metres_per_kilogram,
    tex_of_yards_per_pound,
    yards_per_pound,
)
from inventory.calc.count_systems import CM_IN_YARD, GRAMS_IN_POUND
from inventory.calc.package_length import package_length
from planner.calc.beam.depth import depth_from_tape, depth_per_turn
from planner.calc.beam.sections import ends_per_section
from planner.calc.beam.turns import length_of_turns, turns_of_length
from planner.calc.cloth.colours import total
from planner.calc.cloth.cost import mixture, packages_to_buy, waste_share
from planner.calc.cloth.cover import (
    cover_factor,
    fractional_cover,
    peirce_cover_factor,
    peirce_diameter,
    thread_diameter,
)
from planner.calc.cloth.firmness import heavier_cloth, sett_of_other_weave, sett_of_other_yarn
from planner.calc.cloth.reach import PieceNeeds, longest_warp
from planner.calc.cloth.record import crimp, loss, take_up_of_crimp
from planner.calc.cloth.sett import WEAVES, diameters, greatest_sett, working_sett
from planner.calc.cloth.warp_length import warp_of_woven
from planner.calc.cloth.warp_width import ends_across, ends_in_repeats, finished_width_of, width_in_reed, width_of_ends
from planner.calc.cloth.weave import intersections_along, rough_contraction
from planner.calc.cloth.weft import weft_length
from planner.calc.reed.reed import sley_sett
from planner.calc.reed.reed_systems import dents_of, number_of
from planner.calc.reed.sley_guide import sley_guide
from planner.calc.reed.threading import heddles_per_shaft
from planner.calc.reed.threading_guide import blocks
from planner.calc.terms.brief import Bench
from planner.calc.terms.plan import ColourRun
from planner.calc.winding.board_path import passes_in_all
from planner.calc.winding.chains import chain_sizes
from planner.calc.winding.spools import length_per_spool
from planner.calc.worksheet.work_out import work_out
from studio.units import factor, read
from tests.planner.worked_projects import runner

IN, YD, METRE = Fraction(254, 100), CM_IN_YARD, Fraction(100)
LB, OZ, GRAIN = GRAMS_IN_POUND, GRAMS_IN_POUND / 16, GRAMS_IN_POUND / 7000
HANK = 840 * YD
ZERO = Fraction(0)
PER_CENT = 100

Inputs = Mapping[str, object]
Work = Callable[..., object]


def cotton(count, ply=1):
    return tex_of_count(Fraction(count), "cotton", int(ply))


def as_cotton(tex):
    return count_of_tex(tex, "cotton")


def hanks(length):
    """A pound of a 1s cotton is one hank."""
    return mass_of_length(length, cotton(1)) / LB


def warp_yarn(ends, length):
    """Ask the whole worksheet, for ends and a length that are given."""
    brief = replace(
        runner(),
        bench=Bench(board_step=length),
        ends=int(ends),
        finished_width=None,
        finished_length=None,
        warp_length=length,
        weft=None,
        picks=None,
    )
    return work_out(brief).yarn.needs[0].warp_nominal


def folded_count(**row):
    (singles,) = row.values()
    return as_cotton(folded(map(cotton, singles)))


def cotton_yards(name_count_Ne, ply):
    return yards_per_pound(cotton(name_count_Ne, ply))


def worsted_yards(name_count_worsted, ply):
    return yards_per_pound(tex_of_count(Fraction(name_count_worsted), "worsted", int(ply)))


def yards_of_one(system):
    return lambda **_: yards_per_pound(tex_of_count(Fraction(1), system))


def one_cotton_as(system):
    return lambda count_Ne: count_of_tex(cotton(count_Ne), system)


YARN: dict[str, Work] = {
    **dict.fromkeys(("Y01", "Y02", "Y20", "Y24", "Y56", "Y58"), folded_count),
    "Y04": lambda count_Ne, length_yd: mass_of_length(length_yd * YD, cotton(count_Ne)) / GRAIN,
    "Y05": lambda count_Ne, **_: count_of_tex(cotton(count_Ne), "worsted"),
    "Y07": lambda length_m, mass_g: yards_per_pound(tex_of_metres_per_kilogram(Fraction(length_m, mass_g) * 1000)),
    "Y09": lambda length_yd, count_Ne: mass_of_length(length_yd * YD, cotton(count_Ne)) / LB,
    "Y10": lambda length_yd, weight_grain: as_cotton(tex_of_yards_per_pound(Fraction(length_yd * 7000, weight_grain))),
    "Y13": lambda ends, length_yd, weight_lb: as_cotton(tex_of_yards_per_pound(Fraction(ends * length_yd, weight_lb))),
    "Y14": lambda size_old_denier, **_: yards_per_pound(tex_of_count(Fraction(size_old_denier), "old_denier")) / 16,
    "Y16": lambda size_dram: yards_per_pound(tex_of_count(Fraction(size_dram), "dram")) / 16,
    **dict.fromkeys(("Y17", "Y19"), lambda name_count_Ne, ply: as_cotton(cotton(name_count_Ne, ply))),
    "Y22": one_cotton_as("worsted"),
    "Y26": lambda length_yd, run: mass_of_length(length_yd * YD, tex_of_count(Fraction(run), "run")) / OZ,
    "Y28": lambda length_yd, weight_oz: count_of_tex(
        tex_of_yards_per_pound(Fraction(length_yd * 16, weight_oz)), "run"
    ),
    "Y30": lambda run: yards_per_pound(tex_of_count(Fraction(run), "run")),
    "Y31": lambda **_: tex_of_yards_per_pound(Fraction(1)),
    "Y32": lambda count_Ne: folded([cotton(count_Ne)]),
    "Y34": one_cotton_as("metric"),
    "Y36": one_cotton_as("denier"),
    "Y37": lambda worsted: tex_of_count(Fraction(worsted), "worsted"),
    "Y40": yards_of_one("jute"),
    "Y42": yards_of_one("yorkshire"),
    **dict.fromkeys(("Y43", "Y44", "Y47", "Y48", "Y55"), cotton_yards),
    **dict.fromkeys(("Y46", "Y50"), worsted_yards),
    "Y52": lambda name_count_Ne, ply, strands: yards_per_pound(folded([cotton(name_count_Ne, ply)] * strands)),
    "Y54": lambda cut: yards_per_pound(tex_of_count(Fraction(cut), "cut")),
    "Y60": lambda mass_kg, tex, contraction_factor: (
        length_of_mass(mass_kg * 1000, tex / contraction_factor) / (1000 * METRE)
    ),
    "Y61": lambda mass_g, tex: length_of_mass(mass_g, tex) / METRE,
    "Y63": lambda name_Nm, ply: metres_per_kilogram(tex_of_count(Fraction(name_Nm), "metric", ply)),
}


def stockport_ends(reed_Stockport, width_in_reed_in, ends_per_dent):
    return ends_across(width_in_reed_in * IN, sley_sett(dents_of(reed_Stockport, "stockport"), (ends_per_dent,)))


def warp_pounds(ends, length_yd, count_Ne):
    return mass_of_length(ends * length_yd * YD, cotton(count_Ne)) / LB


def weft_of(width_in_reed_in, picks_per_in, cloth_length_yd):
    return weft_length(cloth_length_yd * YD, picks_per_in / IN, width_in_reed_in * IN, ZERO)


def weft_pounds(count_Ne, **weft):
    return mass_of_length(weft_of(**weft), cotton(count_Ne)) / LB


def yarn_pounds(yarn_yd, yd_per_lb):
    return mass_of_length(yarn_yd * YD, tex_of_yards_per_pound(Fraction(yd_per_lb))) / LB


def square_metre(ends_per_cm, picks_per_cm, warp_tex, weft_tex, warp_crimp_pct, weft_crimp_pct):
    warp = ends_across(METRE, ends_per_cm) * warp_of_woven(METRE, take_up_of_crimp(Fraction(warp_crimp_pct, 100)))
    weft = weft_length(METRE, picks_per_cm, METRE, Fraction(weft_crimp_pct, 100))
    return mass_of_length(warp, warp_tex) + mass_of_length(weft, weft_tex)


WEIGHT: dict[str, Work] = {
    "W01": stockport_ends,
    "W02": lambda ends, length_yd, **_: hanks(ends * length_yd * YD),
    **dict.fromkeys(("W03", "W08", "W31"), warp_pounds),
    **dict.fromkeys(("W04", "W11"), weft_pounds),
    "W07": lambda width_in_reed_in, ends_per_in, length_yd: hanks(
        ends_across(width_in_reed_in * IN, ends_per_in / IN) * length_yd * YD
    ),
    "W12": lambda **weft: hanks(weft_of(**weft)),
    "W13": lambda cloth_length_yd, takeup_on_cloth_pct: warp_of_woven(
        Fraction(cloth_length_yd), take_up_of_crimp(Fraction(takeup_on_cloth_pct, 100))
    ),
    "W15": lambda ends, length_yd: hanks(ends * length_yd * YD),
    "W16": lambda ends, length_m, tex: mass_of_length(ends * length_m * METRE, tex) / 1000,
    "W18": square_metre,
    "W20": lambda ends_per_in, width_in: ends_across(width_in * IN, ends_per_in / IN),
    "W21": lambda ends, length_yd: warp_yarn(ends, length_yd * YD) / YD,
    **dict.fromkeys(("W22", "W24"), yarn_pounds),
    "W25": lambda gross_lb, empty_beam_lb, count_Ne, ends: (
        longest_warp(length_of_mass((gross_lb - empty_beam_lb) * LB, cotton(count_Ne)), ends) / YD
    ),
    "W26": lambda net_lb, count_Ne: length_of_mass(net_lb * LB, cotton(count_Ne)) / HANK,
    "W28": lambda net_lb, length_yd, ends: as_cotton(tex_of_yards_per_pound(Fraction(ends * length_yd, net_lb))),
    "W29": lambda mass_kg, length_m, ends: tex_of_metres_per_kilogram(Fraction(ends * length_m, mass_kg)),
    "W32": lambda ends_per_in, width_in, length_in: (
        warp_yarn(ends_across(width_in * IN, ends_per_in / IN), length_in * IN) / YD
    ),
    "W33": lambda ends, length_yd: warp_yarn(ends, length_yd * YD) / YD,
}


def cotton_diameters(count_Ne, K):
    return diameters(cotton(count_Ne), K) * IN


def yards_diameters(yd_per_lb, K):
    return diameters(tex_of_yards_per_pound(Fraction(yd_per_lb)), K) * IN


def fullest(diameters_per_in, ends_per_repeat, intersections_per_repeat):
    return greatest_sett(Fraction(diameters_per_in), ends_per_repeat, intersections_per_repeat)


def three_quarters(yd_per_lb, weave):
    known = WEAVES[{"plain": "plain", "2/2 twill": "twill_2_2"}[weave]]
    threads = yards_diameters(yd_per_lb, Fraction(9, 10))
    return working_sett(greatest_sett(threads, known.ends, known.intersections), Fraction(3, 4))


def cover_ratio(threads_per_cm, tex):
    return cover_factor(Fraction(threads_per_cm), Fraction(tex)) / peirce_cover_factor(
        Fraction(threads_per_cm), Fraction(tex)
    )


FIBRE_IN_THREAD = Fraction(65, 100)
"""What the constant 4.44e-3 of exam papers means: 0.65 of the thread is fibre."""

SETT: dict[str, Work] = {
    **dict.fromkeys(("S01", "S02", "S04", "S06", "S14", "S16", "S17"), cotton_diameters),
    "S11": yards_diameters,
    **dict.fromkeys(("S08", "S12"), fullest),
    "S09": lambda sett_given_per_in, given_ends, given_intersections, new_ends, new_intersections: sett_of_other_weave(
        Fraction(sett_given_per_in), (given_ends, given_intersections), (new_ends, new_intersections)
    ),
    "S18": lambda count_Ne: peirce_diameter(cotton(count_Ne)) / IN,
    "S19": lambda count_Ne, threads_per_cm: fractional_cover(
        Fraction(threads_per_cm), peirce_diameter(cotton(count_Ne))
    ),
    "S21": lambda threads_per_cm, tex: cover_factor(Fraction(threads_per_cm), Fraction(tex)),
    "S23": cover_ratio,
    "S26": lambda tex, fibre_density_g_cm3: thread_diameter(tex, 1 / (fibre_density_g_cm3 * FIBRE_IN_THREAD)),
    "S28": lambda count_Ne, weight_ratio_new_to_old: as_cotton(
        heavier_cloth(Fraction(1), cotton(count_Ne), weight_ratio_new_to_old)[1]
    ),
    "S29": lambda ends_per_in, count_Ne_old, count_Ne_new: sett_of_other_yarn(
        Fraction(ends_per_in), cotton(count_Ne_old), cotton(count_Ne_new)
    ),
    **dict.fromkeys(("S30", "S31"), three_quarters),
    "S33": lambda count_Ne, specific_volume_cm3_g: (
        thread_diameter(cotton(count_Ne), specific_volume_cm3_g) / float(IN) * 1000
    ),
    "S35": lambda tex, specific_volume_cm3_g: thread_diameter(tex, float(specific_volume_cm3_g)),
}


def rough_per_cent(intersections_per_in, multiplier, weft_count_Ne):
    return rough_contraction(intersections_per_in / IN, cotton(weft_count_Ne), Fraction(multiplier)) * PER_CENT


def crimp_per_cent(yarn, cloth):
    return lambda **inputs: crimp(Fraction(inputs[yarn]), Fraction(inputs[cloth])) * PER_CENT


CONTRACTION: dict[str, Work] = {
    "C01": lambda picks_per_in, intersections_per_repeat, picks_per_repeat: intersections_along(
        Fraction(picks_per_in), intersections_per_repeat, picks_per_repeat
    ),
    **dict.fromkeys(("C02", "C04"), rough_per_cent),
    "C06": crimp_per_cent("warp_length_yd", "cloth_length_yd"),
    "C07": crimp_per_cent("yarn_length_cm", "cloth_length_cm"),
    **dict.fromkeys(("C11", "C12", "C13"), crimp_per_cent("yarn_length_m", "cloth_length_m")),
    "C09": lambda cloth_length_m, crimp_on_cloth_pct: warp_of_woven(
        Fraction(cloth_length_m), take_up_of_crimp(Fraction(crimp_on_cloth_pct, 100))
    ),
    "C15": lambda wanted_in, added_pct, shrinkage_of_loom_length_pct: finished_width_of(
        wanted_in * (1 + Fraction(added_pct, 100)), ZERO, Fraction(shrinkage_of_loom_length_pct, 100)
    ),
    "C17": lambda loom_length_in, finished_length_in: (
        loss(Fraction(loom_length_in), Fraction(finished_length_in)) * PER_CENT
    ),
    "C20": lambda cloth_width_in, contraction_on_cloth_pct: width_in_reed(
        Fraction(cloth_width_in), take_up_of_crimp(Fraction(contraction_on_cloth_pct, 100)), ZERO
    ),
    "C24": lambda length_in: read(f"{length_in} in", "length", None) / factor("yard", "centimeter"),
}


def ends_in_reed(system, key, ends="ends_per_dent"):
    """Ends to the inch of a numbered reed; a rule that names no ends in a dent means two."""
    return lambda **row: sley_sett(dents_of(Fraction(row[key]), system), (row.get(ends, 2),)) * IN


def dents_per_inch(system, key):
    return lambda **row: dents_of(Fraction(row[key]), system) * IN


def sley_mean(dents_per_in, sley):
    return sley_sett(Fraction(dents_per_in), tuple(sley))


def reed_width(ends, dents_per_in, ends_per_dent):
    return width_of_ends(ends, sley_sett(Fraction(dents_per_in), (ends_per_dent,)))


REED: dict[str, Work] = {
    **dict.fromkeys(("R01", "R13"), ends_in_reed("stockport", "reed_Stockport")),
    "R02": lambda reed_Stockport, width_in: dents_of(Fraction(reed_Stockport), "stockport") * width_in * IN,
    "R04": lambda reed_Bolton: number_of(dents_of(Fraction(reed_Bolton), "bolton"), "stockport"),
    "R06": lambda reed_Bolton, width_in_reed_in, ends_per_dent: ends_across(
        width_in_reed_in * IN, sley_sett(dents_of(Fraction(reed_Bolton), "bolton"), (ends_per_dent,))
    ),
    "R07": ends_in_reed("bradford", "sett_Bradford"),
    "R09": ends_in_reed("scotch", "reed_Scotch", "ends_per_split"),
    "R10": dents_per_inch("irish", "reed_Irish"),
    "R12": ends_in_reed("bradford", "reed_Bradford"),
    "R14": dents_per_inch("stockport", "reed_Stockport"),
    "R16": lambda dents_per_in, ends_per_dent: sley_sett(Fraction(dents_per_in), (ends_per_dent,)),
    **dict.fromkeys(("R18", "R19", "R20", "R22", "R23", "R25", "R27"), sley_mean),
    **dict.fromkeys(("R29", "R30"), reed_width),
    "R31": lambda ends, ends_per_dent: sley_guide((ends_per_dent,), (ends,), 1)[0].last_dent,
    "R32": dents_per_inch("porter", "porters"),
}


def spools_of_section(ends_per_in, section_width_in):
    return ends_per_section(ends_per_in / IN, section_width_in * IN)


def spool_yards(width_in_reed_in, section_width_in, warp_length_yd, cut_waste_per_section_yd):
    return length_per_spool(width_in_reed_in // section_width_in, warp_length_yd, cut_waste_per_section_yd)


def runs(*ends):
    return tuple(ColourRun(code, count) for code, count in zip("ABC", ends, strict=False))


WINDING: dict[str, Work] = {
    "P03": lambda pieces, warp_per_piece_yd: PieceNeeds(Fraction(warp_per_piece_yd)).warp_of(pieces),
    **dict.fromkeys(("P04", "P06"), spools_of_section),
    "P07": spool_yards,
    "P12": lambda cone_lb, count_Ne: length_of_mass(cone_lb * LB, cotton(count_Ne)) / METRE,
    "P15": lambda ends_on_creel, cones_per_bag: (
        packages_to_buy(Fraction(ends_on_creel), Fraction(cones_per_bag), ZERO).packages
    ),
    "P20": lambda ends, ends_per_beer: passes_in_all([ends], ends_per_beer),
    **dict.fromkeys(("P22", "P23"), lambda ends, ends_in_hand: passes_in_all([ends], ends_in_hand)),
    "P24": lambda main_ends, border_ends_each, borders: total(runs(main_ends, *[border_ends_each] * borders)),
    "T01": lambda satin_ends, lace_group_ends, lace_groups, closing_ends: total(
        runs(satin_ends, lace_group_ends * lace_groups, closing_ends)
    ),
    "T03": lambda ends, patterns: max(chain_sizes(ends, 1, ceil(Fraction(ends, patterns)))),
    "T05": lambda ends, repeat_ends: ends_in_repeats(ends, repeat_ends)[0],
    "T08": lambda ends_per_pattern, ends_per_in_old, ends_per_in_new: ends_across(
        width_of_ends(ends_per_pattern, ends_per_in_old / IN), ends_per_in_new / IN
    ),
    "T09": lambda width_in, ends_per_in, ends_per_repeat: ends_in_repeats(
        ends_across(width_in * IN, ends_per_in / IN), ends_per_repeat
    )[1],
    "T11": lambda satin_ends, plain_ends: total(runs(satin_ends, plain_ends)),
    "T13": lambda ends, ends_per_repeat: ends_in_repeats(ends, ends_per_repeat)[1],
    "T15": lambda border_ends, warp_length_m: warp_yarn(border_ends, warp_length_m * METRE) / METRE,
}


def strip_on_roll(outer_diameter_in, core_diameter_in, thickness_in):
    turns = (outer_diameter_in - core_diameter_in) / (2 * thickness_in)
    return length_of_turns(turns, pi * core_diameter_in, thickness_in)


def turns_left(actual_circumference_mm, empty_circumference_mm, full_circumference_mm, full_turns):
    layer = depth_from_tape(full_turns, empty_circumference_mm, full_circumference_mm)
    return depth_from_tape(1, empty_circumference_mm, actual_circumference_mm) / layer


def full_beam(turns, empty_circumference_mm, full_circumference_mm):
    layer = depth_from_tape(turns, empty_circumference_mm, full_circumference_mm)
    return length_of_turns(turns, empty_circumference_mm, layer) / 1000


GRAM_TO_THE_CM = Fraction(100_000)
"""Tex at which a length in cm reads as a mass in g."""

BEAM: dict[str, Work] = {
    "B01": strip_on_roll,
    "B07": turns_left,
    "B09": full_beam,
    "B13": lambda ends_per_cm, tex, density_g_cm3: depth_per_turn(Fraction(ends_per_cm), tex, density_g_cm3),
    "B15": lambda length_in, barrel_diameter_in, layer_thickness_in: turns_of_length(
        length_in, pi * barrel_diameter_in, layer_thickness_in
    ),
    "B16": lambda gross_lb, empty_beam_lb: (
        package_length(Fraction(gross_lb), Fraction(empty_beam_lb), Fraction(empty_beam_lb), GRAM_TO_THE_CM).likely
    ),
}


def block_draft(counts):
    """Blocks A to F of the unit 1, x, 2, x with x from shaft 3 to 8."""
    units = [(1, shaft, 2, shaft) for shaft in range(3, 3 + len(counts))]
    return blocks(units, list(enumerate(counts.values(), start=1)))


def block_heddles(shaft):
    def heddles(blocks, block_unit):
        draft = block_draft(blocks)
        counted = heddles_per_shaft(draft, len(draft), max(draft))
        return counted[shaft - 1] if shaft else sum(counted)

    return heddles


THREADING: dict[str, Work] = {
    "H01": lambda reed_Stockport, shafts: heddles_per_shaft((), reed_Stockport, shafts)[0],
    "H06": lambda ends_per_in, shafts: heddles_per_shaft((), ends_per_in, shafts)[0],
    "H07": block_heddles(1),
    "H08": block_heddles(4),
    "H10": block_heddles(0),
    "H11": lambda start_finish_units, per_repeat_units, repeats: len(
        blocks([(1,)], [(1, start_finish_units), *[(1, per_repeat_units)] * repeats])
    ),
    "H15": lambda draft, total_ends: heddles_per_shaft(tuple(draft), total_ends, max(draft))[1],
    "H17": lambda ends, shafts: heddles_per_shaft((), ends, shafts)[0],
}


def mixed(lb, price_shilling_per_lb):
    return mixture([(Fraction(mass), Fraction(price)) for mass, price in zip(lb, price_shilling_per_lb, strict=True)])


COST: dict[str, Work] = {
    "K01": lambda **row: mixed(**row).price,
    "K05": lambda cut_waste_per_section_yd, sections, yd_per_spool: (
        waste_share(cut_waste_per_section_yd * sections, Fraction(yd_per_spool)) * PER_CENT
    ),
    "K09": lambda **row: mixed(**row).cost,
}

COVERED: dict[str, Work] = {
    **YARN, **WEIGHT, **SETT, **CONTRACTION, **REED, **WINDING, **BEAM, **THREADING, **COST
}  # fmt: skip
"""Row of the table to the sum that our calculators make of its inputs."""

PRODUCT = "The product or quotient of the row's own two figures; nothing of ours stands between them."
MILL = "A mill's machinery, which no handweaver has."

UNCOVERED: dict[str, str] = {
    "S25": "Jammed cloth after Peirce's geometry is no part of planning a warp.",
    "C18": "Adds take-up and shrinkage on; Warproom divides losses out, and says so.",
    "C22": "Successive stretching in a drawing frame. " + MILL,
    "P01": "Wheels of a warping frame. " + MILL,
    "P08": PRODUCT + " T. Vogl's cross-check by both section widths stands beside the spools.",
    "P11": PRODUCT,
    "P14": "Warper's beams in a set. " + MILL,
    "P16": PRODUCT,
    "P18": "Section beams of a wide machine. " + MILL,
    "P21": PRODUCT + " P22 asks for the passes, which is the weaver's question.",
    "T06": "Hooks of a Jacquard cast out. " + MILL,
    "B03": "Volume of a dye package, which nobody at a loom measures.",
    "B04": "Volume of a dye package, which nobody at a loom measures.",
    "B06": "Density of a dye package; density on a beam is calibrated from its own circumference.",
    "B10": "Mass from the volume of a flanged beam; Warproom weighs by length and tex.",
    "H02": PRODUCT + " The draft itself is not printed in full.",
    "H04": PRODUCT,
    "H13": "The sum of the row's own two figures.",
    "K03": "Size on warp yarn. " + MILL,
    "K06": "A range of waste for mill creels, no sum.",
    "K08": "A range of loom waste; each loom keeps its own measured figure.",
}
"""Rows that no calculator covers, with the reason."""
