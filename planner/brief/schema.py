"""The format of a brief document, made from the field table: a key's name, the kind of its value, whether it is needed.

BRIEF_FORMAT.md beside this file tells it in words; `format_page` writes its tables.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from planner.brief import fields
from planner.brief.fields import Kind
from planner.brief.threading import lifts, threading
from planner.calc.cloth.sett import AS_TYPED, WEAVES
from planner.calc.terms.brief import WOUND_DENSITY, WarpBrief
from planner.calc.terms.field_table import Entry, bare, entries

MOST_SHAFTS_COUNTED = 64


@dataclass(frozen=True, slots=True)
class Key:
    """One key of the document, and the field of the dataclass it fills."""

    name: str
    kind: Kind | Part
    needed: bool
    target: str


@dataclass(frozen=True, slots=True)
class Part:
    """An object of the document and the dataclass it makes; with `most`, a list of such objects."""

    made: type
    keys: tuple[Key, ...]
    most: int = 0


READERS: Mapping[str, Callable[[Entry], Kind]] = MappingProxyType(
    {
        "words": lambda entry: fields.words(int(entry.spec.most), needed=entry.spec.least > 0),
        "count": lambda entry: fields.whole(int(entry.spec.least), int(entry.spec.most)),
        "counts": lambda entry: fields.whole_list(int(entry.spec.least), int(entry.spec.most), MOST_SHAFTS_COUNTED),
        "flag": lambda _: fields.flag,
        "choice": lambda entry: fields.choice(bare(entry.hint)),
        "weave": lambda _: fields.choice((*WEAVES, AS_TYPED)),
        "fibre": lambda _: fields.choice(tuple(WOUND_DENSITY)),
        "code": lambda _: fields.code,
        "colour": lambda _: fields.colour,
        "grist": lambda _: fields.grist,
        "price": lambda _: fields.price,
        "colour_order": lambda _: fields.colour_order,
        "positions": lambda _: fields.positions,
        "threading": lambda _: threading,
        "lifts": lambda _: lifts,
    }
)
"""How each kind of the field table that is no quantity is read and written."""


def _part(made: type, most: int = 0, *, without: str = "") -> Part:
    """Make the part that a dataclass stands for; `without` names a field it can be without."""
    return Part(
        made, tuple(_key(entry, needed=entry.needed and entry.name != without) for entry in entries(made)), most
    )


def _key(entry: Entry, *, needed: bool) -> Key:
    return Key(entry.key, _kind(entry), needed, entry.name)


def _kind(entry: Entry) -> Kind | Part:
    spec = entry.spec
    if spec.kind == "part":
        return _part(bare(entry.hint), int(spec.most), without="code" if entry.name == "weft" else "")
    reader = READERS.get(spec.kind)
    return reader(entry) if reader is not None else fields.quantity(spec.kind, signed=spec.least < 0)


BRIEF = _part(WarpBrief)
MOST_YARNS = next(int(entry.spec.most) for entry in entries(WarpBrief) if entry.name == "yarns")
