"""Whatever a weaver could ask: totals that agree, nothing below zero, no NaN, and one plan in inches and centimetres.

Three hundred briefs are tried each time. For a long look at night: TRY_BRIEFS=10000 before the command.
"""

import json
import os
from dataclasses import fields, is_dataclass
from fractions import Fraction
from math import isfinite

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.brief_text import read_brief, write_brief
from planner.calc.brief import MOST_ENDS, Method
from planner.calc.plan import Alternative, EdgeChoice, KnotPlace, OneMore, Quantity, ReedChoice
from planner.calc.worksheet import work_out
from studio.units import Units

BRIEFS = int(os.environ.get("TRY_BRIEFS", "300"))
INCH = Fraction(254, 100)
SIGNED = {
    (ReedChoice, "error"),
    (KnotPlace, "mend"),
    (OneMore, "left"),
    (Alternative, "change"),
    (Alternative, "shift"),
    (EdgeChoice, "shift"),
}
"""Fields that may be below zero, since their sign says which way."""

PLACES = {"position", "positions", "deep", "shallow", "chain_sections"}
"""Places on the beam: a warp wider than its beam is drawn past the edge, and a remark stops the card."""

MANY = settings(
    max_examples=BRIEFS, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
EIGHTHS = {"max_denominator": 8}


def in_words(number, unit):
    return f"{number.numerator}/{number.denominator} {unit}"


def length(inches, units):
    return in_words(inches, "in") if units is Units.INCH else in_words(inches * INCH, "cm")


def per_length(per_inch, units):
    return in_words(per_inch, "/in") if units is Units.INCH else in_words(per_inch / INCH, "/cm")


def lengths(least, most):
    return st.fractions(least, most, **EIGHTHS)


@st.composite
def wishes(draw):
    """Give one wish as a function of the units: the same cloth, typed by two weavers."""
    sectional = draw(st.booleans())
    pitch, sections = draw(st.sampled_from([Fraction(1), Fraction(2), Fraction(3, 2)])), draw(st.integers(4, 40))
    inches = {
        "weaving_width": draw(lengths(8, 60)),
        "loom_waste": draw(lengths(0, 45)),
        "circumference": draw(lengths(12, 60)),
        "rake_height": draw(lengths(1, 4)),
        "leader": draw(lengths(0, 40)),
        "leader_offset": draw(lengths(0, 9)),
        "leader_knot": draw(lengths(0, 3)),
        "width_in_reed": draw(lengths(1, 60)),
        "finished_length": draw(lengths(6, 120)),
        "gap": draw(lengths(0, 12)),
        "fringe": draw(lengths(0, 12)),
        "hem": draw(lengths(0, 4)),
        "shift": draw(lengths(0, 3)),
        "divider": draw(st.sampled_from([Fraction(0), Fraction(1, 8), Fraction(1, 4)])),
    }
    per_inch = {"sett": draw(lengths(3, 48)), "picks": draw(lengths(3, 48)), "dents": draw(lengths(4, 20))}
    counts = draw(st.fixed_dictionaries({
        "pieces": st.integers(1, 20), "take_up": st.integers(0, 40), "shrinkage": st.integers(0, 40),
        "draw_in": st.integers(0, 20), "margin": st.integers(0, 20), "multiple": st.integers(1, 4),
        "selvedge": st.integers(0, 4), "floating": st.sampled_from([0, 2]), "whole": st.booleans(),
        "order": st.sampled_from(["", "15 A, 9 B", "2 A, 1 B", "30 A, 7 B, 30 A"]),
        "layout": st.sampled_from(["repeat", "centred", "mirrored"]), "shafts": st.integers(2, 8),
        "threading": st.sampled_from(["straight", "point", "broken", "lace", "1, 2, 1, 3"]), "rack": st.integers(4, 80),
        "grist": st.sampled_from(["8/2 cotton", "20/2 linen", "12/1 worsted", "30/2 Nm", "900 yd/lb"]),
        "density": st.sampled_from([None, (40, 45, 50), (31, 31, 31), (10, 60, 150)]),
        "away": st.sampled_from(["", "", "A", "B"]), "own_take_up": st.none() | st.integers(0, 40),
        "chains": st.lists(st.integers(1, sections), max_size=sections),
        "method": st.sampled_from(["box", "chain"]), "width": st.sampled_from(["width_in_reed", "finished_width"]),
    }))  # fmt: skip
    return lambda units: document(inches, per_inch, counts, (sectional, pitch, sections), units)


def document(inches, per_inch, counts, beam, units):
    lie = {name: length(number, units) for name, number in inches.items()}
    stand = {name: per_length(number, units) for name, number in per_inch.items()}
    return {
        "title": "Whatever",
        "loom": loom(lie, stand, counts, beam, units),
        "yarns": [
            {
                "code": code,
                "name": code,
                "grist": counts["grist"],
                "price": "2.40 /100 g",
                "on_hand": "500 g",
                "elsewhere": code == counts["away"],
                **({} if counts["own_take_up"] is None or code == "B" else {"take_up": f"{counts['own_take_up']} %"}),
                **density(counts["density"]),
            }
            for code in ("AB" if counts["order"] else "A")
        ],
        "weft": {"name": "weft", "grist": counts["grist"]},
        "sett": stand["sett"],
        counts["width"]: lie["width_in_reed"],
        "pieces": counts["pieces"],
        "finished_length": lie["finished_length"],
        "method": counts["method"] if beam[0] else "chain",
        "chain_sections": counts["chains"],
        "colour_order": counts["order"],
        "colour_layout": counts["layout"],
        "threading": counts["threading"],
        "picks": stand["picks"],
        "shift": lie["shift"],
        "fit": fit(counts),
        "allowances": allowances(lie, counts),
        "bench": {"rack_spools": counts["rack"], "comb_dents": stand["dents"]},
    }


def density(measured):
    """Give a density as measured on the beam, in hundredths of a gram: least, likeliest, most."""
    names = ("density_low", "wound_density", "density_high")
    return {name: f"{part}/100 g/cm3" for name, part in zip(names, measured, strict=True)} if measured else {}


def fit(counts):
    return {
        "multiple": counts["multiple"],
        "selvedge": counts["selvedge"],
        "floating_selvedge": counts["floating"],
        "whole_repeats": counts["whole"] and bool(counts["order"]),
    }


def allowances(lie, counts):
    return {
        **{name: lie[name] for name in ("gap", "fringe", "hem")},
        "take_up": f"{counts['take_up']} %",
        "length_shrinkage": f"{counts['shrinkage']} %",
        "draw_in": f"{counts['draw_in']} %",
        "margin": f"{counts['margin']} %",
    }


def loom(lie, stand, counts, beam, units):
    sectional, pitch, sections = beam
    parts = {"kind": "plain", "circumference": lie["circumference"], "usable_width": lie["weaving_width"]}
    if sectional:
        parts |= {
            "kind": "sectional",
            "pitch": length(pitch, units),
            "sections": sections,
            "usable_width": length(pitch * sections, units),
            "divider": lie["divider"],
            "tape": length(Fraction(1, 25), units),
            "rake_height": lie["rake_height"],
            "centre": "section" if sections % 2 else "divider",
            "bars": 4,
            **{name: lie[name] for name in ("leader", "leader_offset", "leader_knot")},
        }
    return {
        "name": "Heron",
        "weaving_width": lie["weaving_width"],
        "waste": lie["loom_waste"],
        "shafts": counts["shafts"],
        "heddles": [100] * counts["shafts"],
        "beam": parts,
        "reeds": [{"name": "reed", "dents": stand["dents"], "reed_length": lie["weaving_width"]}],
    }


def wrong_numbers(thing, place="plan"):
    """Every number of a plan that is no number, or below zero where that means nothing."""
    if isinstance(thing, Quantity):
        return [] if isfinite(thing.value) else [place]
    if is_dataclass(thing):
        parts = {field.name: getattr(thing, field.name) for field in fields(thing) if field.name not in PLACES}
        unsigned = {name: abs(part) if (type(thing), name) in SIGNED else part for name, part in parts.items()}
        return [found for name, part in unsigned.items() for found in wrong_numbers(part, f"{place}.{name}")]
    if isinstance(thing, tuple):
        return [found for at, part in enumerate(thing) for found in wrong_numbers(part, f"{place}[{at}]")]
    is_number = isinstance(thing, int | float | Fraction)
    return [place] if is_number and not (isfinite(thing) and thing >= 0) else []


@MANY
@given(wish=wishes())
def test_a_wish_is_one_plan_in_inches_and_centimetres_and_its_totals_agree(wish):
    inches, metric = (read_brief(wish(units)) for units in (Units.INCH, Units.METRIC))
    assert inches == metric
    if inches.brief is None:
        assert inches.problems
        return
    plan = work_out(inches.brief)
    assert plan == work_out(metric.brief)
    assert wrong_numbers(plan) == []
    assert plan.stops or all(section.position > 0 for section in plan.sections)
    assert_totals_agree(plan, inches.brief)
    kept = json.loads(json.dumps(write_brief(inches.brief)))
    assert read_brief(kept).brief == inches.brief


def assert_totals_agree(plan, brief):
    """Every end is counted once, whichever way it is counted."""
    on_beam, cloth = plan.ends, plan.ends + plan.ends_elsewhere
    away = {yarn.code for yarn in brief.yarns if yarn.elsewhere}
    assert 0 < on_beam <= cloth <= MOST_ENDS
    assert sum(run.ends for run in plan.pattern) == cloth
    assert sum(run.ends for run in plan.pattern if run.code in away) == plan.ends_elsewhere
    assert sum(plan.heddles) == cloth
    assert sum(need.ends for need in plan.yarn) == on_beam
    assert brief.method is Method.BOX or not plan.setups
    by_box = [section for section in plan.sections if section.setup]
    assert sum(part.ends for part in (*by_box, *plan.chains)) == on_beam
    in_setups = {place for setup in plan.setups for place in setup.positions}
    assert in_setups == {section.position for section in by_box}
    assert in_setups.isdisjoint(chain.position for chain in plan.chains)
    assert all(sum(run.ends for run in part.runs) == part.ends for part in (*plan.sections, *plan.chains))
    assert plan.reed is None or plan.reed.dents * sum(plan.reed.sley) >= cloth * len(plan.reed.sley)
    assert plan.width_in_reed * plan.sett == cloth
    assert all(0 <= (part.free_left or 0) <= 1 - part.filled or not away for part in plan.sections)
    assert_guides_agree(plan, plan.sections or plan.chains, cloth)


def assert_guides_agree(plan, wound, cloth):
    """The last line of each guide is the whole cloth: its heddles, and the last dent of the reed's."""
    parts = [part.ends for part in plan.threading_guide]
    assert sum(parts) == cloth
    assert plan.ends_elsewhere or parts == [part.ends for part in wound]
    assert plan.threading_guide[-1].on_each_so_far == plan.heddles
    assert plan.threading_guide[-1].so_far == cloth
    if plan.reed is not None:
        assert [sum(part.in_dents) for part in plan.sley_guide] == parts
        assert plan.sley_guide[-1].last_dent == plan.reed.start_dent + plan.reed.dents - 1
    for spare, needed in zip(plan.spare_heddles, plan.heddles, strict=bool(plan.spare_heddles)):
        assert spare.left + needed + spare.right - spare.short == 100


def test_most_wishes_can_be_planned():
    """Else the tests above would pass over an empty room."""
    planned = []

    @settings(max_examples=50, deadline=None, database=None, derandomize=True, suppress_health_check=list(HealthCheck))
    @given(wish=wishes())
    def look(wish):
        planned.append(read_brief(wish(Units.INCH)).brief is not None)

    look()
    assert sum(planned) * 2 > len(planned)
