"""Data sheets: every public calculator carries a unit on each number, names its source, and shows an example.

A number on a card must be traceable by whoever doubts it at the loom. That the examples run is pytest's own business.
"""

import dataclasses
import doctest
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from types import ModuleType
from typing import Annotated, get_args, get_origin, get_type_hints

import pytest

import inventory.calc
import planner.calc
from studio import quantities
from studio.quantities import Cm, Ends, EndsPerCm

PLUMBING = ("inventory.calc.grist_text", "inventory.calc.words", "planner.calc.terms", "planner.calc.worksheet")
"""Words, shapes and the order of the sums: no calculator stands here."""
FEWEST_CALCULATORS = 250
NUMBERS = (int, float, Fraction, Decimal)
UNITS = {kind.__metadata__ for kind in vars(quantities).values() if get_origin(kind) is Annotated}


def sheet_modules() -> list[ModuleType]:
    names = [
        found.name
        for calc in (inventory.calc, planner.calc)
        for found in pkgutil.walk_packages(calc.__path__, f"{calc.__name__}.")
    ]
    return [importlib.import_module(name) for name in names if not name.startswith(PLUMBING)]


def public(module: ModuleType) -> Iterator[tuple[str, object]]:
    for name, thing in vars(module).items():
        if getattr(thing, "__module__", "") == module.__name__ and not name.startswith("_"):
            yield f"{module.__name__}.{name}", thing


def bare(hint: object) -> bool:
    """Say whether a number stands somewhere in a hint without a unit of the list."""
    if get_origin(hint) is Annotated:
        return hint.__metadata__ not in UNITS
    if isinstance(hint, list):
        return any(map(bare, hint))
    return hint in NUMBERS or any(map(bare, get_args(hint)))


def without_unit(thing: object) -> list[str]:
    return [f"no unit: {name}" for name, hint in get_type_hints(thing, include_extras=True).items() if bare(hint)]


def faults(function: Callable) -> list[str]:
    """Everything a data sheet lacks."""
    words = inspect.getdoc(function) or ""
    found = without_unit(function)
    if not doctest.DocTestParser().get_examples(words):
        found.append("no example")
    if not re.search(r"^Source: \S", words, re.MULTILINE):
        found.append("no source, and no word that it is plain arithmetic")
    if re.search(r"^\s+raise ", inspect.getsource(function), re.MULTILINE) and not re.search(r"\bRaises\s", words):
        found.append("its refusal is not told")
    return found


def test_every_public_calculator_has_its_data_sheet():
    sheets = {name: faults(f) for module in sheet_modules() for name, f in public(module) if inspect.isfunction(f)}
    assert len(sheets) >= FEWEST_CALCULATORS
    assert {name: found for name, found in sheets.items() if found} == {}


def test_every_number_in_a_dataclass_has_its_unit():
    kinds = {
        name: without_unit(kind)
        for module in sheet_modules()
        for name, kind in public(module)
        if dataclasses.is_dataclass(kind)
    }
    assert kinds
    assert {name: found for name, found in kinds.items() if found} == {}


def ends_across(width_in_reed: Cm, setts: Sequence[EndsPerCm]) -> Ends:
    """Count the ends that fill a width in the reed.

    Source: plain arithmetic. Raises ValueError if a sett is not above zero.

    >>> ends_across(Fraction(10), [Fraction(4)])
    40
    """
    if min(setts) <= 0:
        raise ValueError(setts)
    return int(width_in_reed * setts[0])


def test_a_good_sheet_has_no_fault():
    assert faults(ends_across) == []


@pytest.mark.parametrize("good", ["Source: plain arithmetic.", ">>> ", "Raises "])
def test_a_spoilt_sheet_is_caught(monkeypatch, good):
    monkeypatch.setattr(ends_across, "__doc__", ends_across.__doc__.replace(good, ""))
    assert len(faults(ends_across)) == 1


@pytest.mark.parametrize("name", ["width_in_reed", "setts", "return"])
@pytest.mark.parametrize("hint", [Fraction, Sequence[Fraction | None], tuple[str, int], Annotated[int, "furlongs"]])
def test_a_number_without_a_unit_is_caught(monkeypatch, name, hint):
    monkeypatch.setitem(ends_across.__annotations__, name, hint)
    assert faults(ends_across) == [f"no unit: {name}"]


def test_a_field_without_a_unit_is_caught():
    @dataclasses.dataclass
    class Beam:
        pitch: Cm
        circumference: Fraction
        name: str

    assert without_unit(Beam) == ["no unit: circumference"]
