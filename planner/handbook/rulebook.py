"""How it is worked out: the rules of the bench, read once from `rules/*.toml`, a file for each part.

A rule stands there under the name in its address: `of`, the calculator that works by it; `title`, where the
calculator's own name says too little; `purpose`; `formula`, with names in braces for what is put in; `notes`;
`source`; `in` and `out`, each thing with its unit in brackets; `limits`; the `tables` it names; the `sums` of a warp
sheet that lead to it; and `examples` of what is put in and given back, worked out again by the tests. A name between
grave accents is set as a symbol.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from planner.calc.worksheet.sums import WORDS
from planner.handbook.toml import one_line, read_toml, with_unit

PARTS: Mapping[str, str] = {
    "yarn": "Yarn",
    "sett": "Sett",
    "width": "Width and ends",
    "length": "Length",
    "reed": "Reed and threading",
    "sections": "Sections",
    "beam": "Beam",
    "winding": "Winding",
    "weft": "Weft and cost",
    "fit": "On this loom",
    "records": "Records and reach",
}
"""File and title of each part, in the order of the bench."""

Words = tuple[tuple[bool, str], ...]
"""A sentence in pieces: whether each is a symbol, and its text."""

Figures = tuple[tuple[str, str], ...]

_NAMED_IN = re.compile(r"\{(\w+)\}")
_WORD = re.compile(r"[a-z]{2,}")
_SIGN_WORDS = re.compile(
    r"arccos|remainder of|least common multiple of|rounded(?: up| down)?|up to whole steps of|and not below|\band\b"
)
"""What a formula may say in words and is worked out all the same."""

_LONG = re.compile(r"(?<![\d.])\d{5,}(?!\d)")


@dataclass(frozen=True, slots=True)
class Symbol:
    """One thing put in or coming out: its name, what it is, and its unit."""

    name: str
    meaning: Words
    unit: str


@dataclass(frozen=True, slots=True)
class Worked:
    """One step of an example: words before it, what goes in, the rule with these figures, and what comes out."""

    words: Words
    puts: Figures
    formula: str
    gives: Figures


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A line of the warp sheet that this rule stands behind."""

    label: str
    formula: str
    source: str


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule, ready to be shown."""

    slug: str
    calculator: str
    title: str
    part: str
    part_title: str
    purpose: Words
    more: tuple[Words, ...]
    formula: tuple[str, ...]
    notes: tuple[Words, ...]
    source: tuple[Words, ...]
    inputs: tuple[Symbol, ...]
    results: tuple[Symbol, ...]
    limits: tuple[Words, ...]
    examples: tuple[Worked, ...]
    tables: tuple[str, ...]
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the bench with its rules."""

    key: str
    title: str
    rules: tuple[Rule, ...]


@cache
def parts() -> tuple[Part, ...]:
    """Give every rule, part by part."""
    return tuple(
        Part(key, title, tuple(_rule(key, slug, told) for slug, told in read_toml(f"rules/{key}.toml").items()))
        for key, title in PARTS.items()
    )


@cache
def by_slug() -> Mapping[str, Rule]:
    """Give every rule by the name in its address."""
    return {one.slug: one for part in parts() for one in part.rules}


@cache
def _by_sum() -> Mapping[str, str]:
    told = {slug: rule for key in PARTS for slug, rule in read_toml(f"rules/{key}.toml").items()}
    return {line: slug for slug, rule in told.items() for line in rule.get("sums", ())}


def slug_of_sum(key: str) -> str:
    """Give the address name of the rule behind a sum; empty for a line that an old plan kept."""
    return _by_sum().get(key, "")


def find_rules(text: str) -> Iterator[Rule]:
    """Give the rules whose title or purpose has every word of a text."""
    words = text.casefold().split()
    for one in by_slug().values():
        known = f"{one.title} {plain(one.purpose)}".casefold()
        if words and all(word in known for word in words):
            yield one


def plain(words: Words) -> str:
    """Give a sentence without its type."""
    return "".join(piece for _is_symbol, piece in words)


def spoken(name: str) -> str:
    """Say a name of the code as a weaver would.

    Examples
    --------
    >>> spoken("draw_in"), spoken("ends_per_cm")
    ('draw-in', 'ends per cm')
    """
    return name.replace("_", " ").replace("draw in", "draw-in").replace("take up", "take-up")


def formula_lines(formula: list[str], figures: Mapping[str, str]) -> tuple[str, ...]:
    """Give a formula with its names spoken, or with figures in their place.

    Examples
    --------
    >>> formula_lines(["width = {ends} ÷ {sett}"], {})
    ('width = ends ÷ sett',)
    >>> formula_lines(["width = {ends} ÷ {sett}"], {"ends": "282 ends", "sett": "20/in"})
    ('width = 282 ends ÷ 20/in',)
    """
    said = (_NAMED_IN.sub(lambda found: figures.get(found[1]) or spoken(found[1]), one_line(text)) for text in formula)
    return tuple(_LONG.sub(lambda found: f"{int(found[0]):,}".replace(",", "\u202f"), line) for line in said)


def _rule(part: str, slug: str, told: Mapping[str, Any]) -> Rule:
    purpose, *more = _paragraphs(told["purpose"])
    name, formula, source = told["of"].rpartition(".")[2], told.get("formula", []), _paragraphs(told["source"])
    return Rule(
        slug=slug,
        calculator=told["of"],
        title=told.get("title") or name.replace("_", " ").capitalize(),
        part=part,
        part_title=PARTS[part],
        purpose=purpose,
        more=tuple(more),
        formula=formula_lines(formula, {}),
        notes=_paragraphs(told.get("notes", "")) or (() if formula else source),
        source=source,
        inputs=_symbols(told.get("in", {})),
        results=_symbols(told["out"]),
        limits=tuple(_words(one_line(text)) for text in told.get("limits", ())),
        examples=tuple(_worked(formula, example) for example in told["examples"]),
        tables=tuple(told.get("tables", ())),
        lines=tuple(_line(line) for line in told.get("sums", ())),
    )


def _paragraphs(text: str) -> tuple[Words, ...]:
    return tuple(_words(one_line(paragraph)) for paragraph in text.split("\n\n") if paragraph)


def _words(text: str) -> Words:
    return tuple((at % 2 == 1, piece) for at, piece in enumerate(text.split("`")) if piece)


def _symbols(told: Mapping[str, str]) -> tuple[Symbol, ...]:
    parted = ((name, *with_unit(text)) for name, text in told.items())
    return tuple(Symbol(spoken(name), _words(words), unit) for name, words, unit in parted)


def _worked(formula: list[str], example: Mapping[str, Any]) -> Worked:
    puts, gives = ({name: one_line(text) for name, text in example.get(side, {}).items()} for side in ("put", "give"))
    return Worked(
        _words(one_line(example.get("words", ""))),
        tuple((spoken(name), figure) for name, figure in puts.items()),
        "; ".join(formula_lines(formula, puts)) if _is_sum_of(formula, puts) else "",
        tuple(gives.items()),
    )


def _is_sum_of(formula: list[str], figures: Mapping[str, str]) -> bool:
    """Tell whether each name of a formula has its figure, and nothing else in it stands for one."""
    needed = {name for line in formula for name in _NAMED_IN.findall(line)}
    right = " ".join(_NAMED_IN.sub("", line.partition("=")[2] or line) for line in formula)
    return bool(needed) and needed <= figures.keys() and not _WORD.search(_SIGN_WORDS.sub("", right))


def _line(key: str) -> SheetLine:
    _group, label, formula, source = WORDS[key]
    return SheetLine(label, _NAMED_IN.sub(lambda found: found[1].replace("_", " "), formula), source)
