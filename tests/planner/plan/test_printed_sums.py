"""A weaver checks a sum with a pencil: the printed figures, worked out, give the printed result, in either units.

The figures are read back from the page’s own words; pint says what each unit is. What a pencil gives may differ by one
in the last digit shown and by two in a thousand, as figures of four digits do.
"""

import os
import re
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor, pi, sqrt

import pint
import pytest
from hypothesis import HealthCheck, given, settings

from planner.calc.worksheet.work_out import work_out
from planner.plan.formatter import Formatter
from studio.units import Units
from tests.planner import worked_projects as projects
from tests.planner.calc.worksheet.test_sums import IN_WORDS, full_briefs
from tests.planner.worked_projects import IN

TRIES = int(os.environ.get("TRY_BRIEFS", "300")) // 4
FORMATTERS = [Formatter(Units.INCH), Formatter(Units.METRIC)]
OFF = 0.002
WORDS_ONLY = IN_WORDS.keys() - {"sett_in_reed"}

PINT = pint.UnitRegistry()
UNITS = {
    "in": "inch", "yd": "yard", "mm": "mm", "cm": "cm", "m": "m", "/in": "1/inch", "/cm": "1/cm", "/10 cm": "1/dm",
    "oz": "oz", "g": "g", "g/cm3": "g/cm**3", "%": "percent", "tex": "g/km", "per 100 g": "1/hectogram",
}  # fmt: skip
COUNTED = {"", "end", "ends", "turn", "turns", "dent", "dents", "°"}
BASE = {"[length]": "cm", "[mass]": "g"}
UNIT = "per 100 g|g/cm3|/10 cm|/in|/cm|turns?|ends?|dents?|tex|in|yd|mm|cm|oz|m|g|%|°|"
FIGURE = re.compile(rf"(?P<number>\d+(?:\.\d+)?) ?(?P<unit>{UNIT})(?![a-z\d.])")
SIGNS = {"×": "*", "÷": "/", "−": "-", "²": "**2", "√": "sqrt", "π": "pi"}


def size_of(unit):
    """One of a unit, in centimetres and grams."""
    if unit in COUNTED:
        return 1.0
    return PINT.Quantity(1, UNITS[unit]).to_base_units().magnitude / base_of(unit)


def base_of(unit):
    """What one centimetre or gram is in pint's own base, to the powers the unit has them."""
    powers = PINT.Quantity(1, UNITS[unit]).dimensionality
    sizes = [PINT.Quantity(1, BASE[name]).to_base_units().magnitude ** power for name, power in powers.items()]
    return sizes[0] if len(sizes) == 1 else sizes[0] * sizes[1] if sizes else 1.0


def read_figure(found, thin):
    unit = found["unit"]
    return f"({found['number']}*{1.0 if unit == 'tex' and not thin else size_of(unit)!r})"


def by_pencil(printed, *, thin=True):
    """Work out printed arithmetic; anything that is none raises."""
    text = FIGURE.sub(lambda found: read_figure(found, thin), printed.replace("2π", "2 × π").replace("4π", "4 × π"))
    for sign, python in SIGNS.items():
        text = text.replace(sign, python)
    return eval(text, {"__builtins__": {}, "sqrt": sqrt, "pi": pi})


def last_place(printed):
    """One in the last digit of a printed figure."""
    found = FIGURE.search(printed.replace("−", ""))
    _, _, part = found["number"].partition(".")
    return 10.0 ** -len(part) * size_of(found["unit"])


def wrong_by(shown):
    """By how much more than digits allow the printed result is off; 0 where a pencil agrees."""
    work, _, ending = shown.formula.partition(", ")
    words, step = re.fullmatch(
        r"(rounded up|rounded down|up to whole steps of|as a multiple of|) ?(.*)", ending
    ).groups()
    value, result = by_pencil(work, thin=shown.key != "diameters"), by_pencil(shown.result)
    loose = OFF * abs(value) + last_place(shown.result)
    step = by_pencil(step) if step else 1.0
    low, high = {
        "": (value, value),
        "rounded up": (ceil(value - loose), ceil(value + loose)),
        "rounded down": (floor(value - loose), floor(value + loose)),
        "up to whole steps of": (ceil((value - loose) / step) * step, ceil((value + loose) / step) * step),
        "as a multiple of": (value - step, value + step),
    }[words]
    return max(0.0, low - loose - result, result - high - loose)


def misprints(plan, formatter):
    shown = [formatter.line(found) for found in plan.sums if found.key not in WORDS_ONLY]
    return [(one.label, one.formula, one.result) for one in shown if wrong_by(one)]


@pytest.mark.parametrize("formatter", FORMATTERS, ids=["inch", "metric"])
@pytest.mark.parametrize("make", projects.ALL)
def test_the_printed_sums_of_the_worked_projects_come_out_by_pencil(make, formatter):
    assert misprints(work_out(make()), formatter) == []


@settings(max_examples=TRIES, deadline=None, suppress_health_check=list(HealthCheck))
@given(brief=full_briefs())
def test_the_printed_sums_of_any_brief_come_out_by_pencil(brief):
    plan = work_out(brief)
    assert [found for formatter in FORMATTERS for found in misprints(plan, formatter)] == []


def below_zero(plan):
    """Figures that would be printed with a minus before them."""
    figures = [(one.key, name, figure) for one in plan.sums for name, figure in (*one.inputs, ("result", one.result))]
    values = [(said.code, name, value) for said in plan.remarks for name, value in said.values.items()]
    return [found for found in (*figures, *values) if not isinstance(found[2], str) and found[2].value < 0]


@settings(max_examples=TRIES, deadline=None, suppress_health_check=list(HealthCheck))
@given(brief=full_briefs())
def test_no_sum_and_no_remark_of_any_brief_shows_less_than_nothing(brief):
    assert below_zero(work_out(brief)) == []


def tight(**take_ups):
    """The first two-beam cloth, both yarns on one beam."""
    return work_out(projects.two_beams("", **take_ups))


def sentence(plan, code):
    return next(FORMATTERS[0].sentence(said).text for said in plan.remarks if said.code == code)


def test_what_takes_up_more_and_lies_lower_is_told_by_how_much_it_is_shorter():
    plan = tight(N=12)
    shown = {one.key: FORMATTERS[0].line(one) for one in plan.sums}
    needs, shorter = shown["take_up_worse"].formula.split(" + ")
    assert f"it needs {needs} more over 15 yd, but its sections come out" in sentence(plan, "take_up_tighter")
    assert float(shorter.split()[0]) > 0


def test_what_the_deeper_sections_give_beyond_the_need_is_to_spare():
    lines = {one.key: FORMATTERS[0].line(one) for one in tight(T=Fraction(1, 10)).sums}
    given_, needs = (float(figure.split()[0]) for figure in lines["take_up_spare"].formula.split(" − "))
    assert given_ > needs


def test_a_warp_shifted_to_the_left_starts_so_many_dents_sooner():
    shifted = replace(projects.towels(), shift=-2 * IN)
    lines = {one.key: FORMATTERS[0].line(one) for one in work_out(shifted).sums}
    assert lines["empty_dents_shifted_left"].formula.endswith("÷ 2 − 2 in × 10/in, in whole dents")
