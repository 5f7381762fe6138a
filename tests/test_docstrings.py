"""Data sheets: every public calculator says each figure's unit, shows an example, and names its source.

A number on a card must be traceable by whoever doubts it at the loom. The form is numpydoc's.
"""

import dataclasses
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from types import ModuleType

import pytest

import planner.calc

OTHER_SHEETS = (
    "inventory.calc.count", "inventory.calc.package_length", "inventory.calc.cold", "inventory.calc.ledger",
    "inventory.calc.tare",
    "inventory.calc.colour", "inventory.calc.weight_classes",
)  # fmt: skip
FEWEST_CALCULATORS = 10
PLUMBING = ("planner.calc.worksheet", "planner.calc.terms.kinds", "planner.calc.terms.plan")
"""How these begin: they add nothing up, or say their units by type."""
UNITS = frozenset({
    "-", "share", "degrees",
    "cm", "cm2", "cm/turn", "cm/end", "m", "in", "yd",
    "ug", "g", "kg", "lb", "g/m", "g/cm", "g/cm3", "g/m2", "g/cm2", "cm3/g",
    "tex", "m/kg", "yd/lb", "count", "plies",
    "ends", "ends/cm", "ends/dent", "ends/in", "picks", "picks/cm", "picks/in", "wraps/cm", "wraps/in",
    "threads", "threads/cm", "repeats",
    "dents", "dents/cm", "dents/in",
    "turns", "sections", "layers", "passes", "groups", "bars", "pegs",
    "shafts", "treadles", "heddles", "spools", "packages", "set-ups", "changes",
    "pieces", "weavers", "looms", "allotments", "knots", "ties",
    "days", "h", "h/week", "ends/h", "cm/h", "min", "money", "money/kg", "money/g", "money/package",
})  # fmt: skip

Sections = dict[str, list[str]]


def calc_modules() -> list[ModuleType]:
    names = [found.name for found in pkgutil.walk_packages(planner.calc.__path__, "planner.calc.")]
    return [importlib.import_module(name) for name in names]


def sheet_modules() -> list[ModuleType]:
    calculators = [module for module in calc_modules() if not module.__name__.startswith(PLUMBING)]
    return calculators + [importlib.import_module(name) for name in OTHER_SHEETS]


def public_functions(module: ModuleType) -> Iterator[Callable]:
    for name, thing in vars(module).items():
        if inspect.isfunction(thing) and thing.__module__ == module.__name__ and not name.startswith("_"):
            yield thing


def public_dataclasses(module: ModuleType) -> Iterator[type]:
    for name, thing in vars(module).items():
        own = inspect.isclass(thing) and thing.__module__ == module.__name__
        if own and dataclasses.is_dataclass(thing) and not name.startswith("_"):
            yield thing


def sections_of(thing: object) -> Sections:
    """A heading is a line with a line of dashes below it."""
    lines = (inspect.getdoc(thing) or "-").splitlines()
    sections: Sections = {}
    current: list[str] = []
    for line, below in zip(lines, [*lines[1:], ""], strict=True):
        if re.fullmatch(r"-{3,}", below) and line.strip():
            current = sections.setdefault(line.strip(), [])
        elif not re.fullmatch(r"-{3,}", line):
            current.append(line)
    return sections


def entries(lines: list[str]) -> dict[str, str]:
    """Heading of an entry (at the margin) and the words below it."""
    found: dict[str, str] = {}
    heading = ""
    for line in filter(str.strip, lines):
        if line.startswith(" "):
            found[heading] = found.get(heading, "") + " " + line.strip()
        else:
            heading = line.strip()
            found[heading] = ""
    return found


def names(lines: list[str]) -> list[str]:
    return [name.strip("* ") for heading in entries(lines) for name in heading.split(" : ")[0].split(",")]


def has_unit(words: str) -> bool:
    return any(unit in UNITS for unit in re.findall(r"\[([^\]]+)\]", words))


def faults(function: Callable) -> list[str]:
    """Everything a data sheet lacks."""
    sections = sections_of(function)
    parameters, returns = sections.get("Parameters", []), sections.get("Returns", sections.get("Yields", []))
    found = []
    if names(parameters) != list(inspect.signature(function).parameters):
        found.append("Parameters are not those of the signature, in its order")
    if not entries(returns):
        found.append("Returns is missing")
    found += [f"no unit: {entry}" for entry, words in entries(parameters + returns).items() if not has_unit(words)]
    if not any(">>> " in line for line in sections.get("Examples", [])):
        found.append("no example")
    if not sections.keys() & {"Notes", "References"}:
        found.append("no source, and no note that it is plain arithmetic")
    if re.search(r"^\s+raise ", inspect.getsource(function), re.MULTILINE) and "Raises" not in sections:
        found.append("Raises is missing")
    return found


def undocumented(kind: type) -> list[str]:
    attributes = names(sections_of(kind).get("Attributes", []))
    return [field.name for field in dataclasses.fields(kind) if field.name not in attributes]


def test_every_public_calculator_has_its_data_sheet():
    sheets = {f"{f.__module__}.{f.__name__}": faults(f) for module in sheet_modules() for f in public_functions(module)}
    assert {name: found for name, found in sheets.items() if found} == {}


def test_every_field_of_a_dataclass_is_explained():
    kinds = {kind.__qualname__: undocumented(kind) for module in sheet_modules() for kind in public_dataclasses(module)}
    assert {name: found for name, found in kinds.items() if found} == {}


def test_there_are_calculators_to_hold_to_it():
    assert sum(1 for module in calc_modules() for _ in public_functions(module)) >= FEWEST_CALCULATORS


def ends_across(width_in_reed: Fraction, sett: Fraction) -> Fraction:
    """Count the ends that fill a width in the reed.

    Parameters
    ----------
    width_in_reed : Fraction
        Width the warp takes up. [cm]
    sett : Fraction
        Warp ends per unit of width. [ends/cm]

    Returns
    -------
    ends : Fraction
        Ends. [ends]

    Raises
    ------
    ValueError
        If `sett` is not above zero.

    Notes
    -----
    Plain arithmetic.

    Examples
    --------
    >>> ends_across(Fraction(10), Fraction(4))
    Fraction(40, 1)
    """
    if sett <= 0:
        raise ValueError(sett)
    return width_in_reed * sett


SPOILT = {
    "a parameter forgotten": ("width_in_reed : Fraction\n        Width the warp takes up. [cm]\n    ", ""),
    "a parameter misnamed": ("sett : Fraction", "epi : Fraction"),
    "a unit forgotten": ("takes up. [cm]", "takes up."),
    "a unit of nobody's": ("takes up. [cm]", "takes up. [furlongs]"),
    "the result without a unit": ("Ends. [ends]", "Ends."),
    "no result": ("Returns\n    -------\n    ends : Fraction\n        Ends. [ends]\n\n    ", ""),
    "no example": (">>> ends_across", "ends_across"),
    "no source": ("Notes\n    -----\n    Plain arithmetic.\n\n    ", ""),
    "a hidden refusal": ("Raises\n    ------", "Hints\n    ------"),
}


def test_a_good_sheet_has_no_fault():
    assert faults(ends_across) == []


@pytest.mark.parametrize(("good", "bad"), SPOILT.values(), ids=SPOILT.keys())
def test_a_spoilt_sheet_is_caught(monkeypatch, good, bad):
    text = inspect.cleandoc(ends_across.__doc__)
    good, bad = good.replace("\n    ", "\n"), bad.replace("\n    ", "\n")
    assert good in text
    monkeypatch.setattr(ends_across, "__doc__", text.replace(good, bad))
    assert faults(ends_across) != []


def test_a_field_without_a_word_is_caught():
    @dataclasses.dataclass
    class Beam:
        """A beam.

        Attributes
        ----------
        pitch : Fraction
            From divider to divider. [cm]
        """

        pitch: Fraction
        circumference: Fraction

    assert undocumented(Beam) == ["circumference"]
