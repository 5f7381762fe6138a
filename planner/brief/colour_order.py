"""The colour order in plain words: text to runs of ends, and runs back to short text.

The grammar is everyday English: "15 indigo, 9 weld, 6 walnut" or "(8 A, 8 B) 3 times, 4 C". Semicolons and new
lines do as commas; a yarn goes by its code, its colour or its name. How the order fills the warp is no part of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from planner.calc.cloth.colours import merged
from planner.calc.terms.brief import MOST_ENDS, MOST_RUNS, Layout, YarnChoice
from planner.calc.terms.plan import ColourRun
from studio.units import UnitError

LONGEST_ORDER = 20_000
SETTLES_ENDS = ("finished_width", "width_in_reed", "ends", "balance", "whole_repeats")
"""Fields that say how many ends there are; an order of the whole warp says it by itself."""
DEEPEST = 4
LONGEST_BLOCK = 60
"""Characters of a text, brackets within brackets, and runs in a repeat that `write_order` looks for."""

_UNCLEAR = ""
_PIECES = re.compile(r"[(),;\n]|[^(),;\n]+")
_SEPARATORS = frozenset(",;\n")
_MARKS = frozenset("(),;\n")
_STRIPE = re.compile(r"(?P<ends>\d{1,6})(?:\s+|(?=[^\W\d]))(?P<yarn>\S.*)", re.DOTALL)
_TIMES = re.compile(r"(?:[x\u00d7]\s*)?(?P<times>\d{1,6})\s*(?:times|time|[x\u00d7])?", re.ASCII | re.IGNORECASE)
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


class OrderError(UnitError):
    """A colour order that cannot be read; the sentence says where and what would do."""


def names_of(yarns: Iterable[YarnChoice]) -> Mapping[str, str]:
    """Give every word a person may use for a yarn, with its code; a word two yarns share leads nowhere."""
    chosen = tuple(yarns)
    names: dict[str, str] = {}
    for words in ((yarn.colour_name for yarn in chosen), (yarn.name for yarn in chosen)):
        for word, yarn in zip(words, chosen, strict=True):
            key = _key(word)
            if key:
                names[key] = yarn.code if names.get(key, yarn.code) == yarn.code else _UNCLEAR
    return names | {_key(yarn.code): yarn.code for yarn in chosen}


def _key(word: str) -> str:
    return " ".join(word.casefold().split())


def read_order(text: str, names: Mapping[str, str]) -> tuple[ColourRun, ...]:
    """Read a colour order; `names` leads from what may be typed to the yarn's code."""
    if len(text) > LONGEST_ORDER:
        raise OrderError("too_long", "That colour order is too long to read; use brackets and times.")
    return _Reading(text, names).whole()


class _Reading:
    """Walks the pieces of a text once, counting stripes and brackets so that an error can say where."""

    def __init__(self, text: str, names: Mapping[str, str]) -> None:
        self.pieces = tuple(filter(None, (piece.strip(" \t\r") for piece in _PIECES.findall(text))))
        self.names = _plain_names(names)
        self.at = 0
        self.item = 0

    def whole(self) -> tuple[ColourRun, ...]:
        runs = self._items(0)
        if self._here() == ")":
            raise self._error("bracket_closed", "a bracket is closed that was never opened")
        if not runs:
            raise OrderError("empty", "Write the colour order, such as 8 A, 4 B.")
        return merged(runs)

    def _here(self) -> str:
        return self.pieces[self.at] if self.at < len(self.pieces) else ""

    def _next(self) -> str:
        piece = self._here()
        self.at += 1
        return piece

    def _items(self, depth: int) -> list[ColourRun]:
        runs: list[ColourRun] = []
        ends = 0
        while self._here() not in {"", ")"}:
            if self._here() in _SEPARATORS:
                self.at += 1
                continue
            self.item += 1
            more = self._one_item(depth)
            ends += sum(run.ends for run in more)
            if len(runs) + len(more) > MOST_RUNS or ends > MOST_ENDS:
                raise self._error("too_many", f"that makes more than {MOST_RUNS} stripes or {MOST_ENDS} ends")
            runs += more
        return runs

    def _one_item(self, depth: int) -> list[ColourRun]:
        piece = self._next()
        if piece == "(":
            return self._group(depth, None)
        if self._here() == "(":
            self.at += 1
            return self._group(depth, self._times(piece))
        return [self._stripe(piece)]

    def _group(self, depth: int, times: int | None) -> list[ColourRun]:
        if depth == DEEPEST:
            raise self._error("too_deep", f"brackets may stand at most {DEEPEST} deep")
        runs = self._items(depth + 1)
        if self._next() != ")":
            raise self._error("bracket_open", "a bracket is opened and never closed")
        if not runs:
            raise self._error("bracket_empty", "there is nothing between the brackets")
        if self._here() and self._here() not in _MARKS:
            if times is not None:
                raise self._error("times_twice", "say how many times either before or after the brackets")
            times = self._times(self._next())
        return self._repeated(runs, 1 if times is None else times)

    def _repeated(self, runs: list[ColourRun], times: int) -> list[ColourRun]:
        if len(runs) * times > MOST_RUNS:
            raise self._error("too_many", f"that makes more than {MOST_RUNS} stripes")
        return runs * times

    def _times(self, piece: str) -> int:
        match = _TIMES.fullmatch(piece)
        if not match or int(match["times"]) < 1:
            raise self._error("times_unclear", f"“{piece[:20]}” beside the brackets should be like “3 times”")
        return int(match["times"])

    def _stripe(self, piece: str) -> ColourRun:
        match = _STRIPE.fullmatch(piece)
        if not match or int(match["ends"]) < 1:
            raise self._error("stripe_unclear", f"“{piece[:20]}” should be a number and a yarn, like “8 A”")
        word = _key(match["yarn"])
        code = self.names.get(word)
        if code is None:
            codes = ", ".join(dict.fromkeys(code for code in self.names.values() if code))
            raise self._error("unknown_yarn", f"there is no yarn “{match['yarn'][:20]}”; the codes are {codes[:60]}")
        if code == _UNCLEAR:
            raise self._error("unclear_yarn", f"“{match['yarn'][:20]}” may be more than one yarn; use its code")
        return ColourRun(code, int(match["ends"]))

    def _error(self, code: str, what: str) -> OrderError:
        named = 0 < self.item <= len(_ORDINALS)
        place = f"the {_ORDINALS[self.item - 1]} stripe" if named else f"stripe {self.item}"
        return OrderError(code, f"At {place} of the colour order: {what}.")


def _plain_names(names: Mapping[str, str]) -> Mapping[str, str]:
    plain: dict[str, str] = {}
    for word, code in names.items():
        key = _key(word)
        plain[key] = code if plain.get(key, code) == code else _UNCLEAR
    return plain


def write_order(runs: Sequence[ColourRun]) -> str:
    """Write runs as short text that `read_order` reads back to the same runs."""
    return _written(merged(runs), DEEPEST)


def _written(runs: tuple[ColourRun, ...], depth: int) -> str:
    parts = []
    at = 0
    while at < len(runs):
        length, times = _best_block(runs, at) if depth else (1, 1)
        if times > 1:
            parts.append(f"({_written(runs[at : at + length], depth - 1)}) {times} times")
        else:
            parts.append(f"{runs[at].ends} {runs[at].code}")
        at += length * times
    return ", ".join(parts)


def _best_block(runs: tuple[ColourRun, ...], at: int) -> tuple[int, int]:
    """Find the block at this place whose repeats cover most; (1, 1) when nothing repeats."""
    best = (1, 1)
    for length in range(2, min(LONGEST_BLOCK, (len(runs) - at) // 2) + 1):
        times = _repeats(runs, at, length)
        if times > 1 and length * times > best[0] * best[1]:
            best = (length, times)
    return best


def _repeats(runs: tuple[ColourRun, ...], at: int, length: int) -> int:
    block = runs[at : at + length]
    times = 1
    while runs[at + times * length : at + (times + 1) * length] == block:
        times += 1
    return times


def with_whole_order(form: Mapping[str, str], order: str) -> dict[str, str]:
    """Give a sheet whose colour order names every end: what else settled their number is emptied.

    Examples
    --------
    >>> with_whole_order({"width_by": "ends", "ends": "12", "sett": "18"}, "8 A, 4 B")["ends"]
    ''
    """
    settled = dict.fromkeys((name for name in SETTLES_ENDS if form.get(name)), "")
    return {**form, **settled, "colour_order": order, "colour_layout": Layout.AS_TYPED.value}
