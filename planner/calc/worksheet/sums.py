"""Each shown sum: its words stand in `sums.toml`, label, formula and source.

A weaver trusts a sum she can check, so page, card and API all print these lines. A formula names its inputs in
braces; `line` refuses a line whose inputs are not exactly those named.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from string import Formatter
from types import MappingProxyType

from planner.calc.terms.plan import Number, Quantity, Sum

_TABLES = tomllib.loads(Path(__file__).with_name("sums.toml").read_text(encoding="utf-8"))
_SOURCES: Mapping[str, str] = _TABLES.pop("sources")
ESTIMATED, MEASURED, OWN_FIGURE = (_SOURCES[name] for name in ("estimated", "measured", "own_figure"))
"""What a sum of depth rests on; the worksheet puts in which of them is true."""

WORDS: Mapping[str, tuple[str, str, str, str]] = MappingProxyType({
    key: (words["group"], words["label"], words["formula"], _SOURCES.get(words["source"], words["source"]))
    for key, words in _TABLES.items()
})  # fmt: skip
"""Key to group, label, formula and source of every line a plan can show."""


def line(key: str, result: Quantity, inputs: Mapping[str, Quantity], about: str = "") -> Sum:
    """Make one shown line of arithmetic; ValueError if `inputs` are not those the formula names."""
    group, label, formula, source = WORDS[key]
    if inputs.keys() != _named(formula):
        raise ValueError(f"{key} names {sorted(_named(formula))}, inputs are {sorted(inputs)}")
    return Sum(key, group, f"{label}, {about}" if about else label, formula, tuple(inputs.items()), result, source)


def added(key: str, result: Quantity, parts: Sequence[Mapping[str, Quantity]], about: str = "") -> Sum:
    """Make one shown line that adds up its formula, once for each part; ValueError if there are none."""
    if not parts:
        raise ValueError(f"{key} adds no parts")
    first = line(key, result, parts[0], about)
    if len(parts) == 1:
        return first
    terms, inputs = [], []
    for at, part in enumerate(parts, start=1):
        terms.append(first.formula.format_map({name: f"{{{name}_{at}}}" for name in part}))
        inputs += [(f"{name}_{at}", put_in) for name, put_in in part.items()]
    return replace(first, formula=" + ".join(terms), inputs=tuple(inputs))


def _named(formula: str) -> set[str]:
    return _NAMED[formula]


_NAMED: Mapping[str, set[str]] = MappingProxyType({
    formula: {name for _, name, _, _ in Formatter().parse(formula) if name} for _, _, formula, _ in WORDS.values()
})  # fmt: skip


def of(value: Number, kind: str) -> Quantity:
    """Give a number with its kind, shortly."""
    return Quantity(value, kind)
