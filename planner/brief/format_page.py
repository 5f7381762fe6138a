"""The tables of BRIEF_FORMAT.md, written from the field table; `python -m planner.brief.format_page` renews them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType
from typing import Any

from planner.brief.fields import write_quantity
from planner.calc.cloth.sett import AS_TYPED, WEAVES
from planner.calc.terms.brief import WOUND_DENSITY, WarpBrief
from planner.calc.terms.field_table import Entry, bare, entries

PAGE = Path(__file__).resolve().parent.parent / "BRIEF_FORMAT.md"
HEAD = "| key | value | left out |\n|---|---|---|\n"
UNITS = "| units | `inch` or `metric`: what a bare number means | bare numbers refused |\n"
_TABLE = re.compile(rf"(?P<head>### (?P<part>\S+).*\n(?:(?!###).*\n)*?){re.escape(HEAD)}(?:\|.*\n)*")
_IN_WORDS: Mapping[str, str] = MappingProxyType({
    "count": "whole number", "counts": "list of whole numbers", "flag": "yes or no", "grist": "fineness",
    "depth": "length", "positions": "positions on the beam", "colour_order": "plain words", "lifts": "lift plan",
    **dict.fromkeys(("code", "colour", "threading", "choice", "weave", "fibre"), ""),
})  # fmt: skip


def with_tables(text: str) -> str:
    """Give the page with every table of keys as the field table has it now."""
    parts = dict(_parts(WarpBrief)) | {"The": WarpBrief}
    return _TABLE.sub(lambda table: table["head"] + HEAD + _rows(parts[table["part"]]), text)


def _parts(kind: type) -> Iterator[tuple[str, type]]:
    """Give every part below one, by its heading."""
    for entry in entries(kind):
        if entry.spec.kind == "part":
            yield entry.spec.told, bare(entry.hint)
            yield from _parts(bare(entry.hint))


def _rows(kind: type) -> str:
    rows = [f"| {_name(entry)} | {_value(entry)} | {_left_out(entry)} |\n" for entry in entries(kind)]
    return "".join([rows[0], UNITS, *rows[1:]] if kind is WarpBrief else rows)


def _name(entry: Entry) -> str:
    return f"**{entry.key}**" if entry.needed else entry.key


def _value(entry: Entry) -> str:
    spec = entry.spec
    if spec.kind == "part":
        return f"{'list of objects' if spec.most else 'object'}, below: {spec.told}"
    word = f"text, up to {spec.most} characters" if spec.kind == "words" else _IN_WORDS.get(spec.kind, spec.kind)
    listed = ", ".join(f"`{one}`" for one in _choices(entry))
    return ": ".join(filter(None, (word or listed, spec.told)))


def _choices(entry: Entry) -> tuple[str, ...]:
    kind = bare(entry.hint)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return tuple(kind)
    return {"weave": (*WEAVES, AS_TYPED), "fibre": tuple(WOUND_DENSITY)}.get(entry.spec.kind, ())


def _left_out(entry: Entry) -> str:
    if entry.needed or entry.spec.kind == "part":
        return entry.spec.left_out
    return entry.spec.left_out or _default(entry.default, entry.spec.kind)


def _default(value: Any, kind: str) -> str:
    if isinstance(value, Fraction) and value:
        return write_quantity(value, kind)
    if isinstance(value, bool | StrEnum) or (isinstance(value, str) and value):
        return f"`{str(value).lower()}`"
    return "" if value is None or value == () else str(value) or "empty"


if __name__ == "__main__":
    PAGE.write_text(with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
