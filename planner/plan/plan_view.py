"""What a template shows: a part of the plan with its figures in the reader's units, and words beside them.

`planner.plan.presenter` makes these; page, card and print choose from them and repeat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from planner.calc.terms.kinds import Kind, kinds_of
from planner.calc.terms.plan import (
    Alternative,
    Chain,
    EdgeChoice,
    FewerSpools,
    Mismatch,
    Quantity,
    ReedChoice,
    Section,
    Setup,
    SpoolGroup,
    TurnRow,
    YarnNeed,
)
from planner.plan.formatter import Formatter, SumView

P = TypeVar("P")


class InWords(Generic[P]):
    """A part of the plan: its figures are written by their kinds, its counts stand as they are; words come first."""

    def __init__(self, part: P, formatter: Formatter, **words: object) -> None:
        self.part = part
        self.formatter = formatter
        self.__dict__.update(words)

    def __getattr__(self, name: str) -> Any:
        whose: type = type(self.part)
        value, kind = getattr(self.part, name), kinds_of(whose).get(name)
        if not isinstance(kind, Kind):
            return value
        if value is None:
            return ""
        if isinstance(value, tuple):
            return self.formatter.setts(value)
        return self.formatter.quantity(Quantity(value, kind.name))


SectionView = InWords[Section]
SetupView = InWords[Setup]
SpoolsView = InWords[SpoolGroup]
ChainView = InWords[Chain]
ReedView = InWords[ReedChoice]
NeedView = InWords[YarnNeed]
TurnView = InWords[TurnRow]
EdgeView = InWords[EdgeChoice]
AlternativeView = InWords[Alternative]
MismatchView = InWords[Mismatch]
WayView = InWords[FewerSpools]


@dataclass(frozen=True, slots=True)
class Figure:
    """One big number with its name."""

    key: str
    label: str
    value: str
    unit: str
    note: str


@dataclass(frozen=True, slots=True)
class YarnView:
    """A yarn by its code, with its pattern number for grey prints; `elsewhere` is on another warp beam."""

    code: str
    name: str
    colour_name: str
    colour: str
    pattern: int
    elsewhere: bool = False

    @property
    def words(self) -> str:
        """Colour name where there is one, else the yarn's name."""
        return self.colour_name or self.name


@dataclass(frozen=True, slots=True)
class RunView:
    """Neighbouring ends of one yarn, in words."""

    ends: int
    yarn: YarnView

    @property
    def text(self) -> str:
        """Such as "15 A"."""
        return f"{self.ends} {self.yarn.code}"


@dataclass(frozen=True, slots=True)
class LayoutView:
    """One way the repeat lies in sections, and where it does."""

    number: int
    ends: int
    sections: str
    wound: str
    seat_text: str
    edge: bool


@dataclass(frozen=True, slots=True)
class CostView:
    """What all yarn costs, and one of several pieces."""

    with_weft: bool
    whole: str
    pieces: int
    of_a_piece: str


ShaftRow = tuple[tuple[int, ...], ...]
"""Neighbouring shafts, each with its number and its figures: as many as stand side by side on a phone."""


@dataclass(frozen=True, slots=True)
class PartView:
    """One section or chain at the heddles and the reed."""

    title: str
    ends: int
    so_far: int
    threading: str
    shafts: tuple[ShaftRow, ...]
    dents: str
    shared: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GuideView:
    """Threading and sleying, section by section, chain by chain, or in parts of a cloth that lies on two beams."""

    kind: str
    repeat: str
    spare: tuple[ShaftRow, ...]
    short: bool
    reed: str
    floating_selvedge: int
    parts: tuple[PartView, ...]


@dataclass(frozen=True, slots=True)
class SumGroup:
    """Sums of one part of the plan."""

    key: str
    title: str
    sums: tuple[SumView, ...]
