"""Kinds of figures: `width: Length[Fraction]` is a number in the canonical unit of lengths, and is written as one.

JSON, page and card all ask `kinds_of`, so that a new figure of the plan needs no table besides its field.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, TypeVar, get_args, get_type_hints


@dataclass(frozen=True, slots=True)
class Kind:
    """A key of `studio.units.KINDS`, or turns, ends, angle, money; of the figures inside where it is `within`."""

    name: str
    within: bool = False


@dataclass(frozen=True, slots=True)
class Pair:
    """Names of the two numbers in each pair of a tuple."""

    names: tuple[str, str]


N = TypeVar("N")
Length = Annotated[N, Kind("length")]  # cm
Distance = Annotated[N, Kind("distance")]  # cm, long ones
Depth = Annotated[N, Kind("depth")]  # cm, thin ones
Mass = Annotated[N, Kind("mass")]  # g
Sett = Annotated[N, Kind("sett")]  # ends/cm
Share = Annotated[N, Kind("share")]
Ends = Annotated[N, Kind("ends")]
Turns = Annotated[N, Kind("turns")]
Angle = Annotated[N, Kind("angle")]  # degrees
Money = Annotated[N, Kind("money")]

Pairs = tuple[tuple[int, int], ...]
Spans = Annotated[Pairs, Pair(("first", "last"))]
Groups = Annotated[Pairs, Pair(("groups", "ends"))]
Spaces = Annotated[Pairs, Pair(("spaces", "ends"))]


@cache
def kinds_of(part: type) -> Mapping[str, Kind | Pair]:
    """Give the kind of each figure that a part of the plan holds, whether it is a field or a property."""
    hints = get_type_hints(part, include_extras=True)
    for name, member in vars(part).items():
        if isinstance(member, property):
            hints[name] = get_type_hints(member.fget, include_extras=True)["return"]
    return {name: kind for name, hint in hints.items() for kind in _kinds(hint)}


def _kinds(hint: Any) -> Iterator[Kind | Pair]:
    for choice in (hint, *get_args(hint)):  # the choices of `Length[Fraction] | None`
        yield from (one for one in getattr(choice, "__metadata__", ()) if isinstance(one, Kind | Pair))
