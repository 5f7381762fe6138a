"""How it is worked out: the data sheet of every calculator, read from its own docstring.

The page and the code can never disagree, because the page is made from the code's own words: what it is for, the
rule, each symbol with its unit, what it refuses, where the rule comes from, and an example that runs as a test.
"""

from __future__ import annotations

import inspect
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from doctest import DocTestParser, Example
from functools import cache
from importlib import import_module

from planner.calc.worksheet.sums import WORDS
from planner.handbook.examples import Figures, Step, spoken, steps_of
from planner.handbook.facts import CONSTANTS, Table, tables_named
from planner.handbook.formulas import FORMULAS
from planner.handbook.parts import PARTS, SUM_CALCULATORS, TITLES

Words = tuple[tuple[bool, str], ...]
"""A sentence in pieces: whether each is a name from the code, and its text."""

_DASHES = re.compile(r"-{3,}")
_UNIT = re.compile(r"\s*\[([^\]]*)\]\s*$")
_NAMED_IN = re.compile(r"\{(\w+)\}")
_WORD = re.compile(r"[a-z]{2,}")
_SIGN_WORDS = re.compile(
    r"arccos|remainder of|least common multiple of|rounded(?: up| down)?|up to whole steps of|and not below|\band\b"
)
"""What a formula may say in words and is worked out all the same."""

_LONG = re.compile(r"(?<![\d.])\d{5,}(?!\d)")
_NAMES = re.compile(r"`([^`]+)`")
SOURCE = re.compile(
    r"\b(?:1[5-9]|20)\d\d\b|\bed\.|\bISO\b|[Nn]o source|[Cc]ommon practice|[Nn]o arithmetic"
    r"|[Pp]lain (?:arithmetic|geometry|algebra|logic|reading|words|comparison)|\bDefinitions?\b"
    r"|\b[Ss]ources?\b|\bDavis\b|\bBrooks\b|\bTaylor\b|\bPeirce\b|\bVogl\b|\bForum\b",
)
_SENTENCE_END = re.compile(r"(?<=[a-z0-9)`\u201d][.])\s+(?=[A-Z0-9`])")
_TYPESET = (
    (re.compile(r"\bpi\b"), "π"),
    (re.compile(r"\bsqrt\b ?"), "√"),
    (re.compile(r"(?<=[\w)]) x (?=[\w(])"), " × "),
    (re.compile(r"(?<=[\w)]) / (?=[\w(])"), " ÷ "),
    (re.compile(r" - "), " − "),
    (re.compile(r">="), "≥"),
    (re.compile(r"(?<=\w)\^2\b"), "²"),
    (re.compile(r"\*(\w+)\*"), r"\1"),
)
_ABBREVIATED = ("ed.", "vol.", "par.", "p.", "pp.", "no.", "Dr.")


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
class Checked:
    """One line of an example as it runs as a test: what is asked, and the answer."""

    asked: str
    answer: str


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A line of the warp sheet that this calculator stands behind."""

    label: str
    formula: str
    source: str


@dataclass(frozen=True, slots=True)
class Calculator:
    """The data sheet of one calculator, ready to be shown."""

    key: str
    slug: str
    title: str
    part: str
    part_title: str
    purpose: Words
    more: tuple[Words, ...]
    formula: tuple[str, ...]
    rule: tuple[Words, ...]
    source: tuple[Words, ...]
    inputs: tuple[Symbol, ...]
    results: tuple[Symbol, ...]
    limits: tuple[Words, ...]
    examples: tuple[Worked, ...]
    checked: tuple[Checked, ...]
    tables: tuple[Table, ...]
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the bench with its calculators."""

    key: str
    title: str
    calculators: tuple[Calculator, ...]


@cache
def parts() -> tuple[Part, ...]:
    """Give every calculator, part by part; read once, since docstrings do not change while a server runs."""
    known = list(_found())
    several = {name for name, count in Counter(function.__name__ for _, function in known).items() if count > 1}
    made = [_calculator(part, function, alone=function.__name__ not in several) for part, function in known]
    return tuple(
        Part(key, title, tuple(one for one in made if one.part == key)) for key, (title, _modules) in PARTS.items()
    )


@cache
def by_slug() -> Mapping[str, Calculator]:
    """Give every calculator by the name in its address."""
    return {one.slug: one for part in parts() for one in part.calculators}


@cache
def by_key() -> Mapping[str, Calculator]:
    """Give every calculator by its module and name."""
    return {one.key: one for one in by_slug().values()}


def find_calculators(text: str) -> Iterator[Calculator]:
    """Give the calculators whose title or purpose has every word of a text."""
    words = text.casefold().split()
    for one in by_slug().values():
        known = f"{one.title} {plain(one.purpose)}".casefold()
        if words and all(word in known for word in words):
            yield one


def plain(words: Words) -> str:
    """Give a sentence without its type."""
    return "".join(piece for _is_name, piece in words)


def slug_of_sum(key: str) -> str:
    """Give the address name of the calculator behind a sum; empty for a line that an old plan kept."""
    calculator = by_key().get(SUM_CALCULATORS.get(key, ""))
    return calculator.slug if calculator else ""


def _found() -> Iterator[tuple[str, Callable[..., object]]]:
    for key, (_title, modules) in PARTS.items():
        for name in modules:
            yield from ((key, function) for function in public_functions(name))


def public_functions(module: str) -> Iterator[Callable[..., object]]:
    """Give the public calculators of a module, in the order they are written."""
    for name, thing in vars(import_module(module)).items():
        if inspect.isfunction(thing) and thing.__module__ == module and not name.startswith("_"):
            yield thing


def _calculator(part: str, function: Callable[..., object], *, alone: bool) -> Calculator:
    module, name = function.__module__.rsplit(".", 1)[1], function.__name__
    summary, sections = sections_of(inspect.getdoc(function) or "")
    key, rule = f"{module}.{name}", _paragraphs(sections.get("Notes", [])) + _paragraphs(sections.get("References", []))
    inputs = tuple(_symbols(sections.get("Parameters", []), function))
    results = tuple(_symbols(sections.get("Returns", sections.get("Yields", [])), function))
    examples = sections.get("Examples", [])
    return Calculator(
        key=key,
        slug=(name if alone else f"{module}-{name}").replace("_", "-"),
        title=title_of(key),
        part=part,
        part_title=PARTS[part][0],
        purpose=_words(summary[0] if summary else "", function),
        more=tuple(_words(text, function) for text in summary[1:]),
        formula=formula_lines(key),
        rule=tuple(_words(typeset(text), function) for text in rule),
        source=tuple(_words(typeset(text), function) for text in sources_in(rule)),
        inputs=inputs,
        results=results,
        limits=tuple(_words(text, function) for text in _limits(sections.get("Raises", []))),
        examples=tuple(_worked(key, function, examples, inputs, results)),
        checked=tuple(_checked(examples)),
        tables=tuple(tables_named(function)),
        lines=tuple(_lines(key)),
    )


def title_of(key: str) -> str:
    """Give the title of a calculator by its module and name."""
    return TITLES.get(key, key.rsplit(".", 1)[1].replace("_", " ").capitalize())


def formula_lines(key: str, figures: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """Give the formula of a calculator, its names spoken, or with figures in their place.

    Examples
    --------
    >>> formula_lines("warp_width.width_of_ends")
    ('width = ends ÷ sett',)
    >>> formula_lines("warp_width.width_of_ends", {"ends": "282 ends", "sett": "20/in"})
    ('width = 282 ends ÷ 20/in',)
    """
    formula = FORMULAS.get(key, "")
    said = _NAMED_IN.sub(lambda found: (figures or {}).get(found[1]) or spoken(found[1]), formula)
    return tuple(_grouped(line) for line in said.split("; ") if line)


def _grouped(text: str) -> str:
    """Part long numbers in threes: 496 054.65."""
    return _LONG.sub(lambda found: f"{int(found[0]):,}".replace(",", "\u202f"), text)


def sections_of(text: str) -> tuple[tuple[str, ...], dict[str, list[str]]]:
    """Part a data sheet: the paragraphs above the first heading, and the lines under each."""
    lines = text.splitlines()
    sections: dict[str, list[str]] = {}
    current = sections.setdefault("", [])
    for line, below in zip(lines, [*lines[1:], ""], strict=True):
        if line.strip() and _DASHES.fullmatch(below):
            current = sections.setdefault(line.strip(), [])
        elif not _DASHES.fullmatch(line):
            current.append(line)
    return _paragraphs(sections.pop("")), sections


def _paragraphs(lines: list[str]) -> tuple[str, ...]:
    blocks = "\n".join(lines).split("\n\n")
    return tuple(" ".join(block.split()) for block in blocks if block.strip())


def _entries(lines: list[str]) -> list[tuple[str, str]]:
    """Give each heading at the margin with the words below it."""
    found: list[tuple[str, str]] = []
    for line in filter(str.strip, lines):
        if line.startswith(" ") and found:
            heading, words = found[-1]
            found[-1] = (heading, f"{words} {line.strip()}".strip())
        else:
            found.append((line.strip(), ""))
    return found


def _symbols(lines: list[str], function: Callable[..., object]) -> Iterator[Symbol]:
    for heading, words in _entries(lines):
        unit = _UNIT.search(words)
        name = heading.split(" : ")[0].strip("* ")
        yield Symbol(
            spoken(name), _words(_UNIT.sub("", words), function), "" if not unit or unit[1] == "-" else unit[1]
        )


def _limits(lines: list[str]) -> Iterator[str]:
    for _heading, text in _entries(lines):
        yield re.sub(r"^If\b", "Refused if", text)


def _words(text: str, function: Callable[..., object]) -> Words:
    """Part words from names of the code, which stand between grave accents, and say those as a weaver would."""
    pieces = enumerate(_NAMES.split(text))
    return tuple(_spoken_piece(piece, function) if at % 2 else (False, piece) for at, piece in pieces if piece)


def _spoken_piece(name: str, function: Callable[..., object]) -> tuple[bool, str]:
    """Say a name: another calculator by its title, a fixed figure by its worth, a table as the one below."""
    if name in CONSTANTS:
        return False, CONSTANTS[name][1]
    if any(table.name == name for table in tables_named(function)):
        return False, "the table below"
    module = function.__module__.rsplit(".", 1)[1]
    key = name if "." in name else f"{module}.{name}"
    if key in _keys():
        return False, f"\u201c{title_of(key)}\u201d"
    return True, spoken(name)


@cache
def _keys() -> frozenset[str]:
    return frozenset(f"{function.__module__.rsplit('.', 1)[1]}.{function.__name__}" for _, function in _found())


def typeset(text: str) -> str:
    """Write a rule with the signs a book would print.

    Examples
    --------
    >>> typeset("L = T (C0 + pi b T), T >= 0; wide x long / (1 - loss)")
    'L = T (C0 + π b T), T ≥ 0; wide × long ÷ (1 − loss)'
    """
    for sign, printed in _TYPESET:
        text = sign.sub(printed, text)
    return text


def sources_in(paragraphs: tuple[str, ...]) -> tuple[str, ...]:
    """Pick the sentences that say where a rule comes from; of a rule that names none, all of it.

    Examples
    --------
    >>> sources_in(("A = b c. Plain geometry: a layer adds.",))
    ('Plain geometry: a layer adds.',)
    """
    sentences = [sentence for text in paragraphs for sentence in _sentences(text)]
    return tuple(sentence for sentence in sentences if SOURCE.search(sentence)) or tuple(sentences)


def _sentences(text: str) -> list[str]:
    """Part sentences, but not behind "6th ed." or "par."."""
    found: list[str] = []
    for piece in _SENTENCE_END.split(text):
        if found and found[-1].endswith(_ABBREVIATED):
            found[-1] = f"{found[-1]} {piece}"
        else:
            found.append(piece)
    return found


def _worked(
    key: str, function: Callable[..., object], lines: list[str], inputs: Sequence[Symbol], results: Sequence[Symbol]
) -> Iterator[Worked]:
    units = {one.name.replace(" ", "_").replace("-", "_"): one.unit for one in inputs}
    for step in steps_of(function, lines, units, {one.name: one.unit for one in results}):
        yield Worked(_words(step.words, function), step.puts, _with_figures(key, step), step.gives)


def _with_figures(key: str, step: Step) -> str:
    """Give the formula with the figures put in, where each of its names has one."""
    needed = set(_NAMED_IN.findall(FORMULAS.get(key, "")))
    if not needed or not needed <= step.figures.keys() or _WORD.search(_SIGN_WORDS.sub("", _right_sides(key))):
        return ""
    return "; ".join(formula_lines(key, step.figures))


def _right_sides(key: str) -> str:
    """Give what stands behind the equals signs of a formula, without its names."""
    lines = FORMULAS[key].split("; ")
    return " ".join(_NAMED_IN.sub("", line.partition("=")[2] or line) for line in lines)


def _checked(lines: list[str]) -> Iterator[Checked]:
    for piece in DocTestParser().parse("\n".join(lines)):
        if isinstance(piece, Example):
            yield Checked(piece.source.rstrip(), piece.want.rstrip())


def _lines(key: str) -> Iterator[SheetLine]:
    for line, calculator in SUM_CALCULATORS.items():
        if calculator == key and line in WORDS:
            _group, label, formula, source = WORDS[line]
            named = re.sub(r"\{(\w+)\}", lambda found: found[1].replace("_", " "), formula)
            yield SheetLine(label, named, source)
