"""The field table of the brief: what a field is beside name, type and default, said once, where it is declared.

`planner.brief` makes from it the form, the stored sheet, the document's reader and writer and BRIEF_FORMAT.md;
`problems` takes its bounds from it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import MISSING, Field, dataclass, fields
from fractions import Fraction
from functools import cache, partial
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from planner.calc.terms.bounds import (
    MOST_ADDED,
    MOST_AMOUNT,
    MOST_DENSITY,
    MOST_LENGTH,
    MOST_LOSS,
    MOST_PER_CM,
    MOST_WIDTH,
)

Number = int | Fraction


@dataclass(frozen=True, slots=True)
class Spec:
    """One field. A field with a `label` stands on the sheet; one that is `called` something is held to its bounds."""

    kind: str
    """A key of `studio.units.KINDS` where a number has a unit; else a key of `planner.brief.schema.READERS`."""
    told: str = ""
    """What it is, for whoever writes a document."""
    called: str = ""
    """What it is called at the head of a sentence."""
    label: str = ""
    help: str = ""
    group: str = ""
    """The folded part of the sheet it stands in; without one the page places it by name."""
    least: Number = 0
    most: Number = 0
    """Bounds of a number, fewest and most characters of a text, longest list."""
    above: bool = False
    """The least itself is refused."""
    choices: tuple[tuple[str, str], ...] = ()
    radio: bool = False
    area: bool = False
    left_out: str = ""
    """What is taken where a document leaves it out, if the default does not say it by itself."""
    key: str = ""
    """Its name in the document, where that is another."""


part = partial(Spec, "part")
words = partial(Spec, "words")
choice = partial(Spec, "choice")
flag = partial(Spec, "flag")
whole = partial(Spec, "count")
length = partial(Spec, "length", most=MOST_LENGTH)
width = partial(Spec, "length", most=MOST_WIDTH)
loss = partial(Spec, "share", most=MOST_LOSS)
added = partial(Spec, "share", most=MOST_ADDED)
share = partial(Spec, "share", most=Fraction(1))
density = partial(Spec, "density", most=MOST_DENSITY, above=True)
per_cm = partial(Spec, most=MOST_PER_CM, above=True)
amount = partial(Spec, most=MOST_AMOUNT)


@dataclass(frozen=True, slots=True)
class Entry:
    """One field of the table with its name, its type and its default."""

    name: str
    hint: Any
    default: Any
    spec: Spec

    @property
    def key(self) -> str:
        """Its name in the document."""
        return self.spec.key or self.name

    @property
    def needed(self) -> bool:
        """Whether a document cannot be without it."""
        return self.default is MISSING and not self.spec.left_out


@cache
def entries(kind: type) -> tuple[Entry, ...]:
    """Give the fields of a part of the brief, in their order."""
    hints = get_type_hints(kind, include_extras=True)
    return tuple(Entry(one.name, hints[one.name], _default(one), _spec(hints[one.name])) for one in fields(kind))


def _default(one: Field[Any]) -> Any:
    return one.default if one.default_factory is MISSING else one.default_factory()


def _spec(hint: Any) -> Spec:
    (spec,) = (about for about in hint.__metadata__ if isinstance(about, Spec))
    return spec


def bare(hint: Any) -> Any:
    """Give the type of a field itself, without what is said about it and without None."""
    if get_origin(hint) is Annotated:
        return bare(hint.__origin__)
    return next((bare(one) for one in get_args(hint) if one is not type(None)), hint)


def walk(kind: type, prefix: str = "") -> Iterator[tuple[str, Entry]]:
    """Give every field of a brief that stands once in it, with its dotted path: parts come in the place they have."""
    for entry in entries(kind):
        if entry.spec.kind != "part":
            yield f"{prefix}{entry.name}", entry
        elif not entry.spec.most and entry.default is not None:
            yield from walk(bare(entry.hint), f"{prefix}{entry.name}.")
