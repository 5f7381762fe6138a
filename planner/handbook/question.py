"""What a direct question is made of: what it asks for, the lines of its answer, and what it says when it cannot.

Questions are data, in `questions.toml`; one form serves them all, and each part of the bench has a module of answers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from planner.calc.terms.plan import Number, Quantity, Range
from planner.plan.formatter import Formatter
from studio.units import KINDS, Units

Choices = tuple[tuple[str, str], ...]


class CannotAnswer(Exception):
    """What was typed does not go together; the field and a sentence say why."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing a question asks for.

    Its kind is a key of `studio.units.KINDS` or of `planner.handbook.forms.READERS`, or choice. Where it is not
    needed it may be left empty, and where it may be zero nothing is a number too; `usual` is taken for an empty one.
    `part` is the heading over this and the next fields that name the same one.
    """

    name: str
    label: str
    kind: str
    hint: str = ""
    needed: bool = True
    zero: bool = False
    choices: Choices = ()
    usual: str = ""
    part: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an answer: what it is, its figure, its bounds or a word, and the arithmetic with its numbers.

    A folded line is a row of a long table, shown when it is opened.
    """

    label: str
    value: str
    between: str = ""
    worked: str = ""
    folded: bool = False


class Asked:
    """What was typed into a question, by the names of its fields, and how its reader is told figures."""

    def __init__(self, asks: Iterable[Ask], values: Mapping[str, Any], units: Units) -> None:
        self._kinds = {ask.name: ask.kind for ask in asks}
        self._values, self._formatter, self.units = values, Formatter(units), units

    def __getitem__(self, name: str) -> Any:
        return self._values[name]

    def has(self, *names: str) -> bool:
        """Tell whether all of these were answered."""
        return all(self[name] is not None for name in names)

    def told(self, name: str, kind: str = "") -> str:
        """Write what was typed, as its own kind or as another; nothing where nothing was."""
        return self.say(self[name], kind or self._kinds[name]) if self.has(name) else ""

    def say(self, value: Number, kind: str) -> str:
        """Write one figure with its unit, and with digits enough that its sum comes out again by hand.

        Examples
        --------
        >>> Asked((), {}, Units.INCH).say(0.0310, "depth"), Asked((), {}, Units.INCH).say(254, "length")
        ('0.0122 in', '100 in')
        """
        if kind not in KINDS or kind == "share":
            return self._formatter.quantity(Quantity(value, kind))
        return self._formatter.quantity_closely(Quantity(value, kind))

    def ranged(self, label: str, found: Range, kind: str, worked: str = "") -> Line:
        """Give a figure with its doubt as a line."""
        low, likely, high = (
            self._formatter.quantity(Quantity(value, kind)) for value in (found.low, found.likely, found.high)
        )
        return Line(label, likely, "" if low == high else f"{low} to {high}", worked)


Answer = Callable[[Asked], tuple[Line, ...]]
"""Gives the lines, or raises `CannotAnswer`."""

Answers = Mapping[str, Answer]


@dataclass(frozen=True, slots=True)
class Question:
    """One direct question, by the name in its address.

    The first of its rules tells the part of the bench; `example` is something to try, with units so that it serves
    every reader; `words` are others by which it is looked for.
    """

    key: str
    title: str
    about: str
    words: str
    asks: tuple[Ask, ...]
    rules: tuple[str, ...]
    example: Mapping[str, str]
    answer: Answer
