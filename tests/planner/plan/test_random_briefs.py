"""Whatever a weaver could ask: totals that agree, nothing below zero, no NaN, and one plan in inches and centimetres.

Three hundred briefs are tried each time. For a long look at night: `bash .ci/nightly`, or TRY_BRIEFS=10000.
"""

import json
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from itertools import product
from math import isfinite

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.brief.document import read_brief, write_brief
from planner.calc.terms.brief import MOST_ENDS, Method
from planner.calc.terms.plan import Alternative, EdgeChoice, KnotPlace, OneMore, Quantity, ReedChoice, Remark, Sum
from planner.calc.terms.plan_parts import StripeSley
from planner.calc.worksheet.work_out import work_out

BRIEFS = int(os.environ.get("TRY_BRIEFS", "300"))
INCH = Fraction(254, 100)
SIGNED = {
    (ReedChoice, "error"),
    (StripeSley, "error"),
    (KnotPlace, "mend"),
    (OneMore, "left"),
    (Alternative, "change"),
    (Alternative, "shift"),
    (EdgeChoice, "shift"),
}
"""Fields that may be below zero, since their sign says which way."""

SIGNED_FIGURES = {
    ("reed_changes_sett", "error"): "the reed makes it more open",
    ("empty_dents", "shift"): "to the left",
    ("one_more_left", "result"): "the warp is shorter than was wanted: it was given in turns",
}
"""Figures of sums and remarks that may be below zero, and what it means there."""

UNSAID = {("take_up_tight", "given"), ("take_up_lacking", "given")}
"""Left out: by so much the yarn that takes up more is wound shorter than the other. It wants a word of its own in the
sentence, as a minus before a length says nothing; until it has one the figure may be below zero."""

PLACES = {"position", "positions", "deep", "shallow", "chain_sections"}
"""Places on the beam: a warp wider than its beam is drawn past the edge, and a remark stops the card."""

MANY = settings(
    max_examples=BRIEFS, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
EIGHTHS = {"max_denominator": 8}


@dataclass(frozen=True)
class Hand:
    """How one weaver writes lengths, lengths of the beam, and setts; all are thought of in inches."""

    length: Callable[[Fraction], str]
    of_beam: Callable[[Fraction], str]
    per_length: Callable[[Fraction], str]


def in_words(number, unit):
    return f"{number.numerator}/{number.denominator} {unit}"


def to_places(number, places):
    return Fraction((Decimal(number.numerator) / number.denominator).quantize(Decimal(10) ** -places, ROUND_HALF_EVEN))


def in_inches(number):
    return in_words(number, "in")


def in_centimetres(number):
    return in_words(number * INCH, "cm")


def as_read_off(number):
    return in_words(to_places(number * INCH, LENGTH_PLACES), "cm")


def cut_short(side):
    """Write a length as much too long or too short as a rounded one can be at most."""
    slip = side * Fraction(1, 2 * 10**LENGTH_PLACES)
    return lambda number: in_words(number * INCH + slip if number else number, "cm")


def sett_cut_short(side):
    slip = side * Fraction(1, 2 * 10**SETT_PLACES)
    return lambda number: in_words(number / INCH + slip, "/cm")


LENGTH_PLACES, SETT_PLACES = 2, 4
"""Places to which the weaver who rounds writes centimetres, and ends to the centimetre."""

INCHES = Hand(in_inches, in_inches, lambda number: in_words(number, "/in"))
METRIC = Hand(in_centimetres, in_centimetres, lambda number: in_words(number / INCH, "/cm"))
ROUNDED = Hand(as_read_off, as_read_off, lambda number: in_words(to_places(number / INCH, SETT_PLACES), "/cm"))
CORNERS = [
    Hand(cut_short(lengths), cut_short(beam), sett_cut_short(setts))
    for lengths, beam, setts in product((-1, 1), repeat=3)
]
"""As far off as rounding can go, either way."""


def lengths(least, most):
    return st.fractions(least, most, **EIGHTHS)


@st.composite
def wishes(draw):
    """Give one wish as a function of the hand: the same cloth, typed by weavers of different habits."""
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
        "width": draw(lengths(1, 60)),
        "warp_length": draw(lengths(20, 900)),
        "finished_length": draw(lengths(6, 120)),
        "gap": draw(lengths(0, 12)),
        "fringe": draw(lengths(0, 12)),
        "hem": draw(lengths(0, 4)),
        "shift": draw(lengths(-3, 3)),
        "divider": draw(st.sampled_from([Fraction(0), Fraction(1, 8), Fraction(1, 4)])),
    }
    per_inch = {
        "sett": draw(lengths(3, 48)), "picks": draw(lengths(3, 48)), "dents": draw(lengths(4, 20)),
        **{f"sett_{code}": draw(st.none() | lengths(3, 48)) for code in "AB"},
        **{f"wraps_{code}": draw(st.none() | lengths(4, 60)) for code in "AB"},
    }  # fmt: skip
    counts = draw(st.fixed_dictionaries({
        "pieces": st.integers(1, 20), "take_up": st.integers(0, 40), "shrinkage": st.integers(0, 40),
        "draw_in": st.integers(0, 20), "margin": st.integers(0, 20), "multiple": st.integers(1, 4),
        "selvedge": st.integers(0, 4), "floating": st.sampled_from([0, 2]), "whole": st.booleans(),
        "order": st.sampled_from(["", "15 A, 9 B", "2 A, 1 B", "30 A, 7 B, 30 A"]),
        "layout": st.sampled_from(["repeat", "centred", "mirrored", "as_typed"]), "shafts": st.integers(2, 8),
        "threading": st.sampled_from(["straight", "point", "broken", "lace", "1, 2, 1, 3", "1, 1, 2, 2"]),
        "weave": st.sampled_from(["plain", "twill_2_2", "satin_5", "as_typed"]),
        "lifts": st.sampled_from(["1 / 2", "1+3, 2+4", "1 2 / 2 3 / 3 4 / 4 1", "xx.. / .xx. / x..x", "2 / - / 1 2"]),
        "rack": st.integers(4, 80), "ends": st.integers(1, 700), "turns": st.integers(1, 60),
        "grist": st.sampled_from(["8/2 cotton", "20/2 linen", "12/1 worsted", "30/2 Nm", "900 yd/lb"]),
        "density": st.sampled_from([None, (40, 45, 50), (31, 31, 31), (10, 60, 150)]),
        "depth": st.none() | st.fractions(Fraction(1, 50), Fraction(1, 5), max_denominator=64),
        "balance": st.integers(0, 9), "demo": st.booleans(), "own_setts": st.booleans(),
        "away": st.sampled_from(["", "", "A", "B"]), "own_take_up": st.none() | st.integers(0, 40),
        "chains": st.lists(st.integers(1, sections), max_size=sections),
        "method": st.sampled_from(["box", "chain"]),
        "width": st.sampled_from(["width_in_reed", "finished_width", "ends"]),
        "length": st.sampled_from(["finished_length", "finished_length", "warp_length", "turns"]),
    }))  # fmt: skip
    return lambda hand: document(inches, per_inch, counts, (sectional, pitch, sections), hand)


OF_BEAM = frozenset({"circumference", "rake_height", "leader", "divider"})


def document(inches, per_inch, counts, beam, hand):
    lie = {name: (hand.of_beam if name in OF_BEAM else hand.length)(number) for name, number in inches.items()}
    stand = {name: hand.per_length(number) for name, number in per_inch.items() if number is not None}
    return {
        "title": "Whatever",
        "loom": loom(lie, stand, counts, beam, hand),
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
                **of_its_own(stand, code, counts),
            }
            for code in ("AB" if counts["order"] else "A")
        ],
        "weft": {"name": "weft", "grist": counts["grist"]},
        "sett": stand["sett"],
        **width(lie, counts),
        "pieces": counts["pieces"],
        **long(lie, counts),
        **woven(counts),
        "method": counts["method"] if beam[0] else "chain",
        "chain_sections": counts["chains"],
        "colour_order": counts["order"],
        "colour_layout": layout(counts),
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


def of_its_own(stand, code, counts):
    """Give the wraps and the own sett of a yarn, where it has them."""
    wraps, sett = stand.get(f"wraps_{code}"), stand.get(f"sett_{code}") if counts["own_setts"] else None
    return {name: value for name, value in (("wraps", wraps), ("sett", sett)) if value is not None}


def layout(counts):
    return counts["layout"] if counts["order"] or counts["layout"] != "as_typed" else "repeat"


def width(lie, counts):
    """Give the width in one way; a colour order as typed sets it by itself."""
    if layout(counts) == "as_typed":
        return {}
    return {counts["width"]: counts["ends"] if counts["width"] == "ends" else lie["width"]}


def long(lie, counts):
    return {counts["length"]: counts["turns"] if counts["length"] == "turns" else lie[counts["length"]]}


def woven(counts):
    return {"weave": counts["weave"], **({"lifts": counts["lifts"]} if counts["weave"] == "as_typed" else {})}


def fit(counts):
    return {
        "multiple": counts["multiple"],
        "selvedge": counts["selvedge"],
        "floating_selvedge": counts["floating"],
        "whole_repeats": counts["whole"] and bool(counts["order"]),
        "balance": balance(counts),
    }


def balance(counts):
    """Give balance ends where whole repeats precede them, fewer than one repeat."""
    repeat = sum(int(word) for word in counts["order"].replace(",", " ").split() if word.isdecimal())
    return counts["balance"] % repeat if counts["whole"] and repeat and counts["layout"] != "as_typed" else 0


def allowances(lie, counts):
    return {
        **{name: lie[name] for name in ("gap", "fringe", "hem")},
        **({"demo_woven": lie["gap"], "sampling": lie["fringe"]} if counts["demo"] else {}),
        "take_up": f"{counts['take_up']} %",
        "length_shrinkage": f"{counts['shrinkage']} %",
        "draw_in": f"{counts['draw_in']} %",
        "margin": f"{counts['margin']} %",
    }


def loom(lie, stand, counts, beam, hand):
    sectional, pitch, sections = beam
    parts = {"kind": "plain", "circumference": lie["circumference"], "usable_width": lie["weaving_width"]}
    if sectional:
        parts |= {
            "kind": "sectional",
            "pitch": hand.of_beam(pitch),
            "sections": sections,
            "usable_width": hand.of_beam(pitch * sections),
            "divider": lie["divider"],
            "tape": hand.of_beam(Fraction(1, 25)),
            **({} if counts["depth"] is None else {"depth_per_turn": hand.of_beam(counts["depth"])}),
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
    if isinstance(thing, Sum):
        return wrong_figures(thing.key, {**dict(thing.inputs), "result": thing.result})
    if isinstance(thing, Remark):
        return wrong_figures(thing.code, thing.values)
    if is_dataclass(thing):
        parts = {field.name: getattr(thing, field.name) for field in fields(thing) if field.name not in PLACES}
        unsigned = {name: abs(part) if (type(thing), name) in SIGNED else part for name, part in parts.items()}
        return [found for name, part in unsigned.items() for found in wrong_numbers(part, f"{place}.{name}")]
    if isinstance(thing, tuple):
        return [found for at, part in enumerate(thing) for found in wrong_numbers(part, f"{place}[{at}]")]
    is_number = isinstance(thing, int | float | Fraction)
    return [place] if is_number and not (isfinite(thing) and thing >= 0) else []


def wrong_figures(of: str, figures: Mapping[str, Quantity | str]) -> list[str]:
    """Every figure of a sum or a remark that is no number, or below zero where that means nothing."""
    values = {name: figure.value for name, figure in figures.items() if isinstance(figure, Quantity)}
    return [
        f"{of}.{name}"
        for name, value in values.items()
        if not isfinite(value) or (value < 0 and (of, name) not in SIGNED_FIGURES.keys() | UNSAID)
    ]


@MANY
@given(wish=wishes())
def test_a_wish_is_one_plan_in_inches_and_centimetres_and_its_totals_agree(wish):
    inches, metric = (read_brief(wish(hand)) for hand in (INCHES, METRIC))
    assert inches == metric
    if inches.brief is None:
        assert inches.problems
        return
    plan = work_out(inches.brief)
    assert plan == work_out(metric.brief)
    assert wrong_numbers(plan) == []
    assert plan.stops or all(section.position > 0 for section in plan.winding.sections)
    assert_totals_agree(plan, inches.brief)
    kept = json.loads(json.dumps(write_brief(inches.brief)))
    assert read_brief(kept).brief == inches.brief


def assert_totals_agree(plan, brief):
    """Every end is counted once, whichever way it is counted."""
    on_beam, cloth = plan.cloth.ends_here, plan.cloth.ends_here + plan.cloth.ends_elsewhere
    away = {yarn.code for yarn in brief.yarns if yarn.elsewhere}
    assert 0 < on_beam <= cloth <= MOST_ENDS
    assert sum(run.ends for run in plan.cloth.pattern) == cloth
    assert sum(run.ends for run in plan.cloth.pattern if run.code in away) == plan.cloth.ends_elsewhere
    assert sum(plan.threading.heddles) == cloth
    assert sum(need.ends for need in plan.yarn.needs) == on_beam
    assert brief.method is Method.BOX or not plan.winding.setups
    by_box = [section for section in plan.winding.sections if section.setup]
    assert sum(part.ends for part in (*by_box, *plan.winding.chains)) == on_beam
    in_setups = {place for setup in plan.winding.setups for place in setup.positions}
    assert in_setups == {section.position for section in by_box}
    assert in_setups.isdisjoint(chain.position for chain in plan.winding.chains)
    assert all(
        sum(run.ends for run in part.runs) == part.ends for part in (*plan.winding.sections, *plan.winding.chains)
    )
    setts = {yarn.code: yarn.sett or brief.sett for yarn in brief.yarns}
    if len({setts[run.code] for run in plan.cloth.pattern}) == 1:
        assert plan.reed.best is None or plan.reed.best.dents * sum(plan.reed.best.sley) >= cloth * len(
            plan.reed.best.sley
        )
    assert plan.cloth.width_in_reed == sum(run.ends / setts[run.code] for run in plan.cloth.pattern)
    assert sum(setup.moved for setup in plan.winding.setups) >= plan.winding.fewest_moved
    assert_yarn_agrees(plan, brief)
    assert all(0 <= (part.free_left or 0) <= 1 - part.filled or not away for part in plan.winding.sections)
    assert_guides_agree(plan, plan.winding.sections or plan.winding.chains, cloth)


def assert_yarn_agrees(plan, brief):
    """Spools of each yarn as many as the fullest section by the box has ends of it, and passes that wind every end."""
    by_box = [section.runs for section in plan.winding.sections if section.setup]
    for code in {yarn.code for yarn in brief.yarns}:
        fullest = max((sum(run.ends for run in runs if run.code == code) for runs in by_box), default=0)
        assert sum(group.spools for group in plan.winding.spools if group.code == code) == fullest
        used = sum(sum(run.ends for run in runs if run.code == code) for runs in by_box)
        assert sum(group.spools * group.sections for group in plan.winding.spools if group.code == code) == used
    at_once = brief.bench.ends_at_once
    assert all(chain.passes * at_once + chain.odd_ends == chain.ends for chain in plan.winding.chains)
    assert all(0 <= chain.odd_ends < at_once for chain in plan.winding.chains)
    assert all(sum(spaces * ends for spaces, ends in chain.groups) == chain.ends for chain in plan.winding.chains)


def assert_guides_agree(plan, wound, cloth):
    """The last line of each guide is the whole cloth: its heddles, and the last dent of the reed's."""
    parts = [part.ends for part in plan.threading.guide]
    assert sum(parts) == cloth
    assert plan.cloth.ends_elsewhere or parts == [part.ends for part in wound]
    assert plan.threading.guide[-1].on_each_so_far == plan.threading.heddles
    assert plan.threading.guide[-1].so_far == cloth
    if plan.reed.best is not None:
        assert [sum(part.in_dents) for part in plan.threading.sleys] == parts
        assert plan.threading.sleys[-1].last_dent == plan.reed.best.start_dent + plan.reed.best.dents - 1
    for spare, needed in zip(plan.threading.spare, plan.threading.heddles, strict=bool(plan.threading.spare)):
        assert spare.left + needed + spare.right - spare.short == 100


def test_most_wishes_can_be_planned():
    """Else the tests above would pass over an empty room."""
    planned = []

    @settings(max_examples=50, deadline=None, database=None, derandomize=True, suppress_health_check=list(HealthCheck))
    @given(wish=wishes())
    def look(wish):
        planned.append(read_brief(wish(INCHES)).brief is not None)

    look()
    assert sum(planned) * 2 > len(planned)


def counts_of(document):
    """Every count of a plan; None where there is no plan."""
    brief = read_brief(document).brief
    if brief is None:
        return None
    plan = work_out(brief)
    return {
        "ends": (plan.cloth.ends_here, plan.cloth.ends_elsewhere, plan.cloth.repeats, plan.cloth.balance),
        "turns": plan.beam.turns,
        "pattern": plan.cloth.pattern,
        "sections": [(section.position, section.ends) for section in plan.winding.sections],
        "setups": [(setup.positions, setup.moved) for setup in plan.winding.setups],
        "spools": [(group.code, group.spools, group.sections) for group in plan.winding.spools],
        "chains": [(chain.ends, chain.passes, chain.groups) for chain in plan.winding.chains],
        "heddles": plan.threading.heddles,
        "reed": plan.reed.best and (plan.reed.best.sley, plan.reed.best.dents, plan.reed.best.start_dent),
    }


@settings(parent=MANY, max_examples=max(BRIEFS // 5, 1))
@given(wish=wishes())
def test_a_wish_typed_in_rounded_centimetres_has_the_same_counts_where_rounding_cannot_matter(wish):
    """It cannot where lengths, the beam's lengths and setts, each as far off as rounding goes, all give one answer."""
    exact, rounded = counts_of(wish(INCHES)), counts_of(wish(ROUNDED))
    if exact is not None and all(counts_of(wish(hand)) == exact for hand in CORNERS):
        assert rounded == exact


def test_rounding_seldom_matters():
    """Else the test above would pass over an empty room."""
    alike = []

    @settings(max_examples=40, deadline=None, database=None, derandomize=True, suppress_health_check=list(HealthCheck))
    @given(wish=wishes())
    def look(wish):
        exact = counts_of(wish(INCHES))
        if exact is not None:
            alike.append(all(counts_of(wish(hand)) == exact for hand in CORNERS))

    look()
    assert sum(alike) * 6 > len(alike) > 0
