"""What a direct question is made of: what it asks for, the lines of its answer, and what it says when it cannot.

Questions are data; one form serves them all. Each part of the bench has a module of them, `questions` the list.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from planner.calc.terms.plan import Number, Quantity, Range
from planner.plan.formatter import Reader
from studio.units import KINDS

Choices = tuple[tuple[str, str], ...]
Values = Mapping[str, Any]


class CannotAnswer(Exception):
    """What was typed does not go together; the field and a sentence say why."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing a question asks for.

    Attributes
    ----------
    name : str
        Name of the field. [-]
    label : str
        What is asked, in trade words. [-]
    kind : str
        A key of `studio.units.KINDS`, or a key of `planner.handbook.forms.READERS`, or choice. [-]
    hint : str
        How to write or measure it. [-]
    needed : bool
        There is no answer without it. [-]
    zero : bool
        Nothing is a number too. [-]
    choices : Choices
        Keys and words of a choice. [-]
    part : str
        Heading over this and the next fields that name the same one; empty for none. [-]
    """

    name: str
    label: str
    kind: str
    hint: str = ""
    needed: bool = True
    zero: bool = False
    choices: Choices = ()
    part: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an answer: what it is, its figure, and the bounds or a word beside it.

    Attributes
    ----------
    label : str
        What is told. [-]
    value : str
        The figure with its unit, or a word. [-]
    between : str
        Between which bounds it lies, or what it means; may be empty. [-]
    worked : str
        The arithmetic with its numbers. [-]
    folded : bool
        One row of a long table, shown when it is opened. [-]
    """

    label: str
    value: str
    between: str = ""
    worked: str = ""
    folded: bool = False


@dataclass(frozen=True, slots=True)
class Question:
    """One direct question.

    Attributes
    ----------
    key : str
        Name in addresses. [-]
    title : str
        The question as a weaver would put it. [-]
    about : str
        In a sentence, what it is for. [-]
    asks : tuple[Ask, ...]
        What it asks for, in order. [-]
    rules : tuple[str, ...]
        Address name of each rule that answers; the first one tells the part of the bench. [-]
    answer : Callable[[Values, Reader], tuple[Line, ...]]
        Gives the lines, or raises `CannotAnswer`. [-]
    example : tuple[tuple[str, str], ...]
        Something to try: fields, and what to type, with units so that it serves every reader. [-]
    words : str
        Other words by which it is looked for. [-]
    """

    key: str
    title: str
    about: str
    asks: tuple[Ask, ...]
    rules: tuple[str, ...]
    answer: Callable[[Values, Reader], tuple[Line, ...]]
    example: tuple[tuple[str, str], ...]
    words: str = ""


def say(reader: Reader, value: Number, kind: str) -> str:
    """Write one figure with its unit, and with digits enough that its sum comes out again by hand.

    Examples
    --------
    >>> from studio.units import Units
    >>> say(Reader(Units.INCH), 0.0310, "depth"), say(Reader(Units.INCH), 254, "length")
    ('0.0122 in', '100 in')
    """
    if kind not in KINDS or kind == "share":
        return reader.say(Quantity(value, kind))
    return reader.say_closely(Quantity(value, kind))


def ranged(label: str, found: Range, kind: str, reader: Reader, worked: str = "") -> Line:
    """Give a figure with its doubt as a line."""
    low, likely, high = (reader.say(Quantity(value, kind)) for value in (found.low, found.likely, found.high))
    return Line(label, likely, "" if low == high else f"{low} to {high}", worked)


def have(said: Values, *names: str) -> bool:
    """Tell whether all of these were answered."""
    return all(said[name] is not None for name in names)


FIBRES: Choices = (
    ("cotton", "cotton"), ("worsted", "worsted wool"), ("wool", "woollen"), ("linen", "linen"), ("silk", "silk"),
)  # fmt: skip
GRIST = Ask("grist", "Yarn", "grist", "Such as 8/2 cotton, Nm 30/2, 3360 yd/lb or 147.6 tex.")
GRIST_TOO = Ask("grist", "Yarn", "grist", "Such as 8/2 cotton or 3360 yd/lb.", needed=False)
