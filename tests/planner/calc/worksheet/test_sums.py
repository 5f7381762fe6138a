"""A weaver trusts a sum she can check: each shown formula, worked out from its own inputs, gives what is shown."""

import ast
import operator
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor, isclose, pi, sqrt

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.calc.terms.plan import Quantity, Sum
from planner.calc.worksheet.sums import WORDS, added
from planner.calc.worksheet.two_beams import beam_problems
from planner.calc.worksheet.work_out import work_out
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_work_out import briefs, with_beam
from tests.planner.worked_projects import IN, inches, per_inch

IN_WORDS = {
    "ends_laid": "stripes laid side by side until a width is full",
    "turns_with_build_up": "the fewest turns with a length, tried one by one",
    "turns_calibrated": "the fewest turns with a length, tried one by one",
    "sett_in_reed": "names the dents of one repeat of the sley",
    "empty_dents": "half of what is left, moved by the shift",
    "empty_dents_shifted_left": "half of what is left, moved by the shift",
    "section_layouts": "a least common multiple",
    "sections_needed": "counted about the middle of the beam",
    "sections_here": "counted about the middle of the beam, less those without ends",
    "slots_changed": "an order of set-ups",
    "comb_angle": "an angle by its cosine",
    "knot": "the remainder of a division",
    "chains": "chains of at most so many ends",
    "heddles": "one heddle to each end",
}
"""Formulas that are not plain arithmetic, and what they say instead."""

ENDINGS = {
    "rounded up": lambda value, _: ceil(value - 1e-9 * max(1, value)),
    "rounded down": lambda value, _: floor(value + 1e-9 * max(1, value)),
    "up to whole steps of": lambda value, step: ceil(value / step - 1e-9 * max(1, value / step)) * step,
    "as a multiple of": lambda value, step: max(1, floor(value / step + 0.5 + 1e-12)) * step,
}
"""How a formula may end, and what that does to its value; some name a step."""

SIGNS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}
AS_PYTHON = {"×": "*", "÷": "/", "−": "-", "²": "**2", "√": "sqrt", "4π": "4 * pi", "2π": "2 * pi", "π": "pi"}
GRAM_PER_CM = 1e-5
"""Tex is grams in a kilometre; beside centimetres and grams it counts so much."""


def measured(line):
    """The inputs in centimetres, grams and what follows from them; the rule of diameters has tex above and below."""
    thin = {"tex"} if line.key != "diameters" else set()
    return {name: float(one.value) * (GRAM_PER_CM if one.kind in thin else 1) for name, one in line.inputs}


def value_of(node, inputs):
    """Work out a parsed formula; anything but plain arithmetic raises."""
    match node:
        case ast.Constant(value=int(number)):
            return number
        case ast.Name(id="pi"):
            return pi
        case ast.Name(id=name):
            return inputs[name]
        case ast.BinOp(left=left, op=ast.Pow(), right=ast.Constant(value=2)):
            return value_of(left, inputs) ** 2
        case ast.BinOp(left=left, op=sign, right=right):
            return SIGNS[type(sign)](value_of(left, inputs), value_of(right, inputs))
        case ast.Call(func=ast.Name(id="sqrt"), args=[inner]):
            return sqrt(value_of(inner, inputs))
    raise ValueError(ast.dump(node))


def worked(line):
    """What the formula of a line gives by itself."""
    inputs = measured(line)
    sum_, _, ending = line.formula.partition(", ")
    for sign, python in AS_PYTHON.items():
        sum_ = sum_.replace(sign, python)
    value = value_of(ast.parse(sum_.replace("{", "").replace("}", ""), mode="eval").body, inputs)
    words, _, step = ending.partition(" {")
    return ENDINGS[words](value, inputs.get(step.rstrip("}"))) if ending else value


def false_sums(plan):
    return [
        (line.key, line.formula, worked(line), float(line.result.value))
        for line in plan.sums
        if line.key not in IN_WORDS and not isclose(worked(line), line.result.value, rel_tol=2e-6, abs_tol=2e-6)
    ]


@st.composite
def full_briefs(draw):
    """Whatever a form could hold, with weft, prices, floating selvedges, comb and calibration."""
    brief = draw(briefs())
    fit = replace(brief.fit, floating_selvedge=draw(st.integers(0, 2)))
    yarns = tuple(replace(yarn, price=Fraction(1, 40), wraps=per_inch(30)) for yarn in brief.yarns)
    bench = replace(brief.bench, comb_dents=draw(st.sampled_from([None, per_inch(10)])))
    weft = replace(yarns[0], code="W", name="weft")
    away, own = draw(st.sampled_from(["", "B", "C"])), st.sampled_from([None, Fraction(1, 50), Fraction(1, 5)])
    marked = tuple(replace(yarn, elsewhere=yarn.code == away, take_up=draw(own)) for yarn in yarns)
    brief = replace(brief, fit=fit, yarns=yarns, bench=bench, weft=weft, picks=per_inch(12))
    brief = replace(brief, yarns=marked) if not beam_problems(replace(brief, yarns=marked)) else brief
    return with_beam(brief, depth_per_turn=draw(st.sampled_from([None, IN / 50])), bars=4, leader=inches(40))


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(brief=full_briefs())
def test_every_shown_sum_comes_out_as_shown(brief):
    assert false_sums(work_out(brief)) == []


@pytest.mark.parametrize("make", projects.ALL)
def test_every_sum_of_the_worked_projects_comes_out_as_shown(make):
    assert false_sums(work_out(make())) == []


def test_formulas_in_words_are_few_and_known():
    assert IN_WORDS.keys() < WORDS.keys()
    assert 4 * len(IN_WORDS) <= len(WORDS)


@pytest.mark.parametrize(
    ("formula", "inputs", "value"),
    [
        ("2 × {a} ÷ ({b} + √({b}² + 4π × {a}))", {"a": 3, "b": 4}, 6 / (4 + sqrt(16 + 12 * pi))),
        ("{a} ÷ {b}, rounded up", {"a": 7, "b": 2}, 4),
        ("{a} × (1 − {b}), up to whole steps of {step}", {"a": 7, "b": 0, "step": 5}, 10),
    ],
)
def test_a_formula_is_worked_out_as_a_reader_would(formula, inputs, value):
    quantities = tuple((name, Quantity(number, "count")) for name, number in inputs.items())
    assert worked(Sum("any", "fit", "Any", formula, quantities, Quantity(value, "count"), "")) == pytest.approx(value)


def test_a_sum_that_is_false_is_found():
    plan = work_out(projects.towels())
    wrong = [replace(line, result=Quantity(float(line.result.value) * 1.01, line.result.kind)) for line in plan.sums]
    found = {key for key, *_ in false_sums(replace(plan, sums=tuple(wrong)))}
    assert found == {line.key for line in plan.sums if line.result.value} - IN_WORDS.keys()


def test_many_products_are_added_in_one_line():
    long = Quantity(Fraction(100), "distance")
    three = [{"number": Quantity(number, "count"), "length": long} for number in (1, 2, 3)]
    assert worked(added("warp_yarn_spools", Quantity(600, "distance"), three)) == 600


def test_a_line_that_adds_nothing_is_refused():
    with pytest.raises(ValueError, match="warp_yarn_spools"):
        added("warp_yarn_spools", Quantity(0, "distance"), [])
