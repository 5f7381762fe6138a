"""The formulas of the pages: each names what goes in, and worked out it gives what the calculator gives."""

import ast
import inspect
import re
from fractions import Fraction
from importlib import import_module
from math import acos, ceil, degrees, floor, isclose, pi, sqrt

import pytest

from planner.handbook.examples import calls_of
from planner.handbook.explained import by_key, sections_of
from planner.handbook.facts import CONSTANTS
from planner.handbook.formulas import FORMULAS
from planner.handbook.parts import PARTS
from tests.planner.calc.worksheet.test_sums import SIGNS

MODULES = {name.rsplit(".", 1)[1]: name for _, modules in PARTS.values() for name in modules}
NAMES = re.compile(r"\{(\w+)\}")
ENDINGS = {"rounded up": ceil, "rounded down": floor, "rounded": lambda value: floor(value + Fraction(1, 2))}
PYTHON = {"×": "*", "÷": "/", "−": "-", "²": "**2", "√": "sqrt", "π": "pi"}
TO_THE_INCH = {"sett.diameters"}


def function_of(key):
    module, name = key.split(".")
    return getattr(import_module(MODULES[module]), name)


def sides_of(key):
    """The right side of each line of a formula with how it ends, where it is arithmetic alone."""
    for line in FORMULAS[key].split("; "):
        right = line.partition(" = ")[2]
        work, _, ending = right.partition(", ")
        bare = NAMES.sub("", work).replace("arccos", "")
        if right and not re.search(r"[a-z…≥≤]", bare) and ending in {"", *ENDINGS}:
            yield work, ending


def worked(work, ending, arguments):
    text = NAMES.sub(r"(\1)", work)
    for sign, python in PYTHON.items():
        text = text.replace(sign, python)
    value = value_of(ast.parse(text, mode="eval").body, arguments)
    return ENDINGS[ending](value - (1e-9 if ending == "rounded up" else 0)) if ending else value


def value_of(node, names):  # noqa: PLR0911 - one line for each sign
    match node:
        case ast.Constant(value=number):
            return number
        case ast.Name(id="pi"):
            return pi
        case ast.Name(id=name):
            return names[name]
        case ast.BinOp(left=left, op=ast.Pow(), right=right):
            return value_of(left, names) ** value_of(right, names)
        case ast.BinOp(left=left, op=sign, right=right):
            return SIGNS[type(sign)](value_of(left, names), value_of(right, names))
        case ast.Call(func=ast.Name(id="sqrt"), args=[inner]):
            return sqrt(value_of(inner, names))
        case ast.Call(func=ast.Name(id="arccos"), args=[inner]):
            return degrees(acos(value_of(inner, names)))
    raise ValueError(ast.dump(node))


def figures_of(result):
    """The numbers that came out: the only one, or those of several things."""
    if isinstance(result, int | float | Fraction):
        return [result]
    parts = result if isinstance(result, tuple) else [getattr(result, name) for name in result.__slots__]
    return [part for part in parts if isinstance(part, int | float | Fraction)]


ARITHMETIC = [key for key in FORMULAS if list(sides_of(key))]


def test_most_formulas_are_arithmetic_that_can_be_worked_out():
    assert len(ARITHMETIC) * 2 > len(FORMULAS)


@pytest.mark.parametrize("key", ARITHMETIC)
def test_a_formula_gives_what_the_calculator_gives_in_its_example(key):
    function = function_of(key)
    lines = sections_of(inspect.getdoc(function))[1]["Examples"]
    usual = {name: one.default for name, one in inspect.signature(function).parameters.items()}
    for call in calls_of(function, lines):
        given = {**usual, **call.arguments}
        for work, ending in sides_of(key):
            value = worked(work, ending, given) / (Fraction(254, 100) if key in TO_THE_INCH else 1)
            assert any(isclose(value, found, rel_tol=1e-6) for found in figures_of(call.result)), (work, given)


@pytest.mark.parametrize("key", FORMULAS)
def test_a_formula_names_what_goes_in(key):
    assert set(NAMES.findall(FORMULAS[key])) <= set(inspect.signature(function_of(key)).parameters)


@pytest.mark.parametrize(
    "name", ["yards-per-pound", "length-of-mass", "count-of-tex", "turns-of-mill", "heavier-cloth", "tie-distances",
             "turns-range"],
)  # fmt: skip
def test_the_pages_without_a_formula_have_one(name):
    (sheet,) = (one for one in by_key().values() if one.slug == name)
    assert sheet.formula


def test_fixed_figures_are_said_as_they_are_in_the_code():
    named = set()
    for key in by_key():
        known = vars(import_module(MODULES[key.split(".")[0]]))
        for name in re.findall(r"`([A-Z][A-Z_]+)`", inspect.getdoc(function_of(key))):
            if isinstance(known.get(name), int | float | Fraction):
                named.add(name)
                assert isclose(known[name], CONSTANTS[name][0], rel_tol=1e-12), name
    assert named <= CONSTANTS.keys()
