"""The examples of the handbook worked out: what is put in is read by the calculator's own types, and it is called."""

import ast
import dataclasses
import inspect
import operator
import re
from collections.abc import Iterable, Mapping
from enum import Enum
from fractions import Fraction
from importlib import import_module
from itertools import zip_longest
from math import acos, ceil, degrees, floor, pi, sqrt
from types import NoneType, UnionType
from typing import Union, get_args, get_origin, get_type_hints

from planner.calc.terms.plan import ColourRun, Remark
from planner.handbook.rulebook import spoken
from planner.plan.formatter import Formatter
from studio.units import Units

NUMBER = re.compile(r"-?\d+(?:/\d+|\.\d+)?(?: ?%)?")
SIGNS = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}  # fmt: skip
NOT_TOLD = {"source", "note", "number", "yarn_id"}


def calculator(rule):
    module, _, name = rule["of"].rpartition(".")
    return getattr(import_module(module), name)


def number(text):
    """The first number of a text, its share of a hundred divided out."""
    found = NUMBER.search(text)
    if not found:
        raise ValueError(text)
    value = Fraction(found[0].rstrip(" %"))
    return value / 100 if found[0].endswith("%") else value


def read(text, kind):  # noqa: PLR0911 - one line for each kind
    """Read a figure of an example as a type asks."""
    of, args = get_origin(kind), get_args(kind)
    if of in {UnionType, Union}:
        kinds = [one for one in args if one is not NoneType]
        return None if text == "none" and NoneType in args else read(text, Fraction if Fraction in kinds else kinds[0])
    if of and issubclass(of, Mapping):
        pairs = (pair.split(": ") for pair in re.split(r", (?=\w+: )", text))
        return {read(key, args[0]): read(value, args[1]) for key, value in pairs}
    if of:
        return read_row(text, args, several=of is not tuple or args[-1] is ...)
    if kind is bool:
        return {"yes": True, "no": False, "x": True, ".": False}[text]
    if kind is str:
        return text
    if kind is ColourRun:
        return ColourRun(text.split()[1], int(number(text)))
    if dataclasses.is_dataclass(kind):
        return read_thing(text, kind)
    return kind(text.replace(" ", "_")) if issubclass(kind, Enum) else kind(number(text))


def read_row(text, args, *, several):
    nested = several and (get_origin(args[0]) or dataclasses.is_dataclass(args[0])) and args[0] is not ColourRun
    parts = list(text) if args[0] is bool else text.split(" | " if nested or " | " in text else ", ")
    if text == "none":
        return ()
    kinds = [args[0]] * len(parts) if several else args
    return tuple(read(part, one) for part, one in zip_longest(parts, kinds, fillvalue=""))


def read_thing(text, kind):
    told, hints = text.split("; "), get_type_hints(kind)
    values = {}
    for field in dataclasses.fields(kind):
        start = f"{spoken(field.name)} "
        mine = [part.removeprefix(start) for part in told if part.startswith(start)]
        if mine:
            values[field.name] = read(mine[0], hints[field.name])
    return kind(**values)


def arguments(function, example):
    kinds = get_type_hints(function)
    return {name: read(text.replace("\n", " "), kinds[name]) for name, text in example.get("put", {}).items()}


def worked(function, given):
    result = function(**given)
    return tuple(result) if inspect.isgenerator(result) else result


def leaves(value):
    """Every number and word of a result that a page tells."""
    if isinstance(value, Remark):
        yield Formatter(Units.METRIC).sentence(value).text
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            if field.name not in NOT_TOLD:
                yield from leaves(getattr(value, field.name))
    elif isinstance(value, Mapping):
        yield from leaves(tuple(value.items()))
    elif isinstance(value, Enum):
        yield str(value.value).replace("_", " ")
    elif isinstance(value, str | int | float | Fraction):
        yield value
    elif isinstance(value, Iterable):
        for one in value:
            yield from leaves(one)


ENDINGS = {
    "rounded up": lambda value: ceil(value - 1e-9),
    "rounded down": floor,
    "rounded": lambda v: floor(v + Fraction(1, 2)),
}
PYTHON = {"×": "*", "÷": "/", "−": "-", "²": "**2", "√": "sqrt", "π": "pi", "{": "(", "}": ")"}
FUNCTIONS = {"sqrt": sqrt, "arccos": lambda value: degrees(acos(value))}


def arithmetic(line):
    """The right side of a line of a formula as Python and how it ends; nothing where it is more than arithmetic."""
    work, _, ending = line.partition(" = ")[2].partition(", ")
    bare = re.sub(r"\{\w+\}", "", work).replace("arccos", "")
    if not work or re.search(r"[a-z…≥≤]", bare) or ending not in {"", *ENDINGS}:
        return None
    for sign, python in PYTHON.items():
        work = work.replace(sign, python)
    return ast.parse(work, mode="eval").body, ENDINGS.get(ending, lambda value: value)


def value_of(node, names):
    match node:
        case ast.Constant(value=value):
            return value
        case ast.Name(id=name):
            return pi if name == "pi" else names[name]
        case ast.BinOp(left=left, op=sign, right=right):
            return SIGNS[type(sign)](value_of(left, names), value_of(right, names))
        case ast.Call(func=ast.Name(id=name), args=[inner]):
            return FUNCTIONS[name](value_of(inner, names))
    raise ValueError(ast.dump(node))
