"""The warp sheet's words and the brief document: from one to the other, nothing lost on the way.

What people type is kept as they typed it. `typed` is always

    {"units": "inch" | "metric",              what a number without a unit means
     "form": {field name: text, ...}}         every field of the sheet, as posted, unread

Field names are those of the field table that have a label; a yarn of the warp adds YARN_PARTS, as `yarns-0-code`
(`elsewhere` is a box: whatever it says, it is ticked); rows count up. The weft has WEFT_PARTS, as `weft-grist`. `yarn`
is the label of a yarn of the yarn room, such as "8/2 cotton, navy (yarn 12)", a part of it (see
`planner.brief.yarn_names`), or any name with its `grist`. `beam` is the key of a beam; it names the loom too.
`typed_from_document` is the way back from a document.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from planner.brief.threading import DRAWS, STRAIGHT
from planner.brief.yarn_names import is_count, with_count, yarn_key, yarn_label
from planner.calc.cloth.sett import AS_TYPED
from planner.calc.terms.brief import WarpBrief, YarnChoice
from planner.calc.terms.field_table import Spec, entries, walk
from planner.calc.terms.loom_facts import LoomFacts
from studio.units import KINDS, Units

Form = Mapping[str, str]
Document = dict[str, Any]

MOST_ROWS = 26
MOST_SIGNS = 40_000
"""Characters kept of one field: more than any colour order, less than would fill a disk."""

UNNAMED = "Warp without a name"
WIDTHS = ("finished_width", "width_in_reed", "ends")
LENGTHS = ("finished_length", "warp_length", "turns")


@dataclass(frozen=True, slots=True)
class SheetField:
    """One field of the sheet: its place in the brief document, dotted, none where it only steers the sheet."""

    name: str
    path: str
    spec: Spec


STEERING: Mapping[str, Spec] = MappingProxyType({
    "beam": Spec("choice", label="Loom and warp beam"),
    "width_by": Spec("choice", label="Width by", radio=True, choices=tuple(
        zip(WIDTHS, ("Finished width", "Width in reed", "Ends"), strict=True))),
    "length_by": Spec("choice", label="Length by", radio=True, choices=tuple(
        zip(LENGTHS, ("Finished pieces", "Warp length", "Turns"), strict=True))),
    "threading_kind": Spec("choice", label="Threading", group="threading", radio=True, choices=(
        (STRAIGHT, "Straight"), ("point", "Point"), ("broken", "Broken"), ("lace", "Lace"), ("typed", "As typed"))),
    "rack": Spec("choice", label="Rack or tension box", group="tools"),
    "board": Spec("choice", label="Board or mill", group="tools"),
})  # fmt: skip
"""What a sheet asks and no brief holds."""

_LED_BY = {"threading": "threading_kind", "rack_spools": "rack", "board_path_max": "board"}
"""Fields of the brief with the one that stands before each on the page."""


def _fields() -> Iterator[SheetField]:
    """Give every field of the sheet but the yarns', in the order of the field table."""
    for path, entry in walk(WarpBrief):
        if entry.name in _LED_BY:
            yield SheetField(_LED_BY[entry.name], "", STEERING[_LED_BY[entry.name]])
        if entry.spec.label:
            yield SheetField(entry.name, path, entry.spec)
    yield from (SheetField(name, "", spec) for name, spec in STEERING.items() if name not in _LED_BY.values())


FIELDS: Mapping[str, SheetField] = MappingProxyType({field.name: field for field in _fields()})
_WORDS = Spec("words")
_NAME = "yarn"
"""What the sheet calls the name of a yarn: it may be a label of the yarn room."""

YARN_FIELDS: Mapping[str, Spec] = MappingProxyType({
    **{one.key: one.spec for one in entries(YarnChoice) if one.spec.label}, _NAME: Spec("words", label="Yarn"),
})  # fmt: skip
YARN_PARTS = tuple(YARN_FIELDS)
OF_OWN_YARN = tuple(name for name, spec in YARN_FIELDS.items() if spec.group == "own")
WEFT_PARTS = (_NAME, *OF_OWN_YARN)
_OF_ONE_WARP = tuple(name for name, spec in YARN_FIELDS.items() if spec.group == "warp")
_CHOSEN = frozenset({"choice", "flag", "weave"})
COME_FILLED_IN = ("fibre", "colour")
"""Controls that say something before anybody chose: not worth a draft, and never over what the yarn room knows."""

_UNCHOSEN = ("-code", *(f"-{part}" for part in COME_FILLED_IN))
_ROW = re.compile(r"yarns-(\d{1,2})-([a-z_]+)", re.ASCII)


@dataclass(frozen=True, slots=True)
class KnownFacts:
    """What the studio's tables add to a typed brief, each as a part of a brief document."""

    loom: LoomFacts | Document | None = None
    yarns: Mapping[int, Document] = field(default_factory=dict)
    meant: Mapping[str, int] = field(default_factory=dict)
    """Names typed without a count, each with the one yarn of the yarn room it leads to."""
    rules: Document = field(default_factory=dict)
    bench: Document = field(default_factory=dict)

    def key_of(self, label: str, grist: str) -> int | None:
        """Give the yarn of the yarn room that is meant; one typed with its count is one's own."""
        return yarn_key(label) or (None if grist else self.meant.get(label))


def says_nothing(form: Form) -> bool:
    """Say whether nothing was typed: no choice counts, since lists and colours come filled in, and no usual start."""
    usual = blank_typed(Units.INCH)["form"]
    typed = (name for name in form if spec_of(name).kind not in _CHOSEN and not name.endswith(_UNCHOSEN))
    return all(_said(form, name) == usual.get(name, "") for name in typed if _said(form, name))


def keep_typed(posted: Mapping[str, object]) -> dict[str, Any]:
    """Keep what was posted, as typed: known fields only, bounded, and without what no database stores."""
    form = {
        name: value.replace("\x00", "")[:MOST_SIGNS]
        for name, value in posted.items()
        if isinstance(value, str) and is_field(name)
    }
    return {"units": units_of(posted).value, "form": form}


def blank_typed(units: Units, beam: str = "", method: str = "box") -> dict[str, Any]:
    """Give an empty sheet with the choices most warps start from."""
    chosen = {"pieces": "1", "weave": "plain", "method": method, "colour_layout": "repeat", "margin_on": "all"}
    steering = {"beam": beam, "width_by": WIDTHS[0], "length_by": LENGTHS[0], "threading_kind": STRAIGHT}
    return {"units": units.value, "form": {**chosen, **steering, "yarns-0-code": usual_code(0)}}


def is_field(name: str) -> bool:
    """Say whether a name is one of the sheet's."""
    row = _ROW.fullmatch(name)
    if row:
        return int(row[1]) < MOST_ROWS and row[2] in YARN_PARTS
    return name in FIELDS or (name.startswith("weft-") and name.removeprefix("weft-") in WEFT_PARTS)


def units_of(posted: Mapping[str, object]) -> Units:
    """Give the unit system that bare numbers are in; anything unknown counts as inches."""
    return Units.METRIC if posted.get("units") == Units.METRIC.value else Units.INCH


def rows(form: Form) -> int:
    """Count the yarn rows of a sheet, empty ones too; there is always one."""
    matches = (_ROW.fullmatch(name) for name in form)
    return max((int(row[1]) + 1 for row in matches if row and int(row[1]) < MOST_ROWS), default=1)


def rows_used(form: Form) -> list[int]:
    """Give the rows in which a yarn was named; an empty row is no yarn."""
    return [row for row in range(rows(form)) if any(_said(form, f"yarns-{row}-{part}") for part in ("yarn", "grist"))]


def yarn_keys(form: Form) -> set[int]:
    """Give every yarn of the yarn room that a sheet names by its label."""
    return {key for _, label, _ in _named(form) if (key := yarn_key(label)) is not None}


def names_typed(form: Form) -> dict[str, str]:
    """Give the names that may be yarns of the yarn room, each by its row: no label of the list, and no count beside."""
    return {prefix: label for prefix, label, grist in _named(form) if label and not grist and yarn_key(label) is None}


def _named(form: Form) -> Iterator[tuple[str, str, str]]:
    for prefix in (*(f"yarns-{row}-" for row in range(rows(form))), "weft-"):
        yield prefix, _said(form, f"{prefix}yarn"), _said(form, f"{prefix}grist")


def document_of(typed: Mapping[str, Any], facts: KnownFacts) -> Document:
    """Make the brief document of a sheet, with the facts of loom, bench and yarn room filled in."""
    form: Form = typed["form"]
    document: Document = {"units": typed["units"], "title": UNNAMED, **_parts(facts.rules)}
    document["bench"] = {**document.get("bench", {}), **facts.bench}
    if facts.loom is not None:
        document["loom"] = facts.loom
    for item in FIELDS.values():
        value = _value(item, form)
        if value is not None:
            _put(document, item.path, value)
    document["yarns"] = [_warp_yarn(form, row, facts) for row in rows_used(form)]
    weft = _weft(form, document["yarns"], facts)
    return {**document, "weft": weft} if weft else document


def _parts(rules: Document) -> Document:
    return {name: dict(part) if isinstance(part, dict) else part for name, part in rules.items()}


def _said(form: Form, name: str) -> str:
    return form.get(name, "").strip()


def _value(item: SheetField, form: Form) -> str | bool | None:
    """Give what a field says, None when it says nothing or was not chosen to count."""
    if item.name in STEERING or not _counts(item.name, form):
        return None
    if item.spec.kind == "flag":
        return _said(form, item.name) != "" or None
    if item.name == "threading":
        return _threading(form)
    return _said(form, item.name) or None


def _counts(name: str, form: Form) -> bool:
    """Of the three ways to give a width or a length only the chosen one counts; a lift plan, when it is chosen."""
    if name in WIDTHS:
        return name == (form.get("width_by") or WIDTHS[0])
    if name in LENGTHS:
        return name == (form.get("length_by") or LENGTHS[0])
    return name != "lifts" or form.get("weave") == AS_TYPED


def _threading(form: Form) -> str | None:
    kind = _said(form, "threading_kind")
    return _said(form, "threading") or None if kind in {"typed", ""} else kind


def _put(document: Document, path: str, value: object) -> None:
    group, _, name = path.rpartition(".")
    place = document.setdefault(group, {}) if group else document
    place[name] = value


def _warp_yarn(form: Form, row: int, facts: KnownFacts) -> Document:
    """Give the yarn of one row; a row without a code takes the letter of its place."""
    return {"code": usual_code(row), **_yarn(form, f"yarns-{row}-", YARN_PARTS, facts)}


def usual_code(row: int) -> str:
    """Give the code a yarn row has when nobody chose another.

    >>> usual_code(0), usual_code(2)
    ('A', 'C')
    """
    return chr(ord("A") + row)


def _yarn(form: Form, prefix: str, parts: tuple[str, ...], facts: KnownFacts) -> Document:
    """Give one yarn: the yarn room's facts, and over them what was typed."""
    typed = {part: _said(form, prefix + part) for part in parts}
    label, beam = typed.pop("yarn"), {"elsewhere": True} if typed.pop("elsewhere", "") else {}
    room = facts.yarns.get(facts.key_of(label, typed["grist"]) or 0)
    if room is not None:
        own = {part: value for part, value in typed.items() if value and part not in COME_FILLED_IN}
        return with_count({**room, **own, **beam}, typed["grist"])
    typed["grist"] = typed["grist"] or (label if is_count(label) else "")
    mine: Document = {
        "name": label or typed["grist"],
        **{part: value for part, value in typed.items() if value},
        **beam,
    }
    return with_count(mine, typed["grist"])


def _weft(form: Form, yarns: list[Document], facts: KnownFacts) -> Document | None:
    """Give the weft; the code of a warp yarn stands for the same yarn."""
    label = _said(form, "weft-yarn")
    if not label and not _said(form, "weft-grist"):
        return None
    key = facts.key_of(label, _said(form, "weft-grist"))
    coded = (yarn for yarn in yarns if yarn["code"].casefold() == label.casefold())
    twin = next(coded, None) or next((yarn for yarn in yarns if key and yarn.get("yarn_id") == key), None)
    if twin is not None and not _said(form, "weft-grist"):
        return {name: value for name, value in twin.items() if name not in _OF_ONE_WARP}
    return _yarn(form, "weft-", WEFT_PARTS, facts)


def still_needed(form: Form) -> tuple[str, ...]:
    """Give the fields without which there is no plan, and which say nothing yet."""
    width = form.get("width_by") or WIDTHS[0]
    if form.get("colour_layout") == "as_typed":
        width = "colour_order"
    length = form.get("length_by") or LENGTHS[0]
    needed = [name for name in ("beam", "sett", width, length) if name in FIELDS and not _said(form, name)]
    return tuple(needed if rows_used(form) else [*needed[:1], "yarns-0-yarn", *needed[1:]])


_ELSEWHERE: Mapping[str, str] = MappingProxyType({
    "yarns": "yarns-0-yarn", "weft": "weft-yarn", "units": "units", "tolerances": "beam", "bench": "rack",
    "loom": "beam", "fit": "multiple", "allowances": "waste",
})  # fmt: skip
_PARTS_ELSEWHERE: Mapping[str, str] = MappingProxyType({"tex": "grist", "name": "yarn"})


def field_of_problem(path: str, form: Form) -> str:
    """Give the field of the sheet beside which a problem of the document belongs.

    >>> field_of_problem("allowances.draw_in", {}), field_of_problem("weft.tex", {})
    ('draw_in', 'weft-grist')
    """
    head, _, tail = path.partition(".")
    if head == "yarns" and tail:
        return _row_field(tail, form)
    if head == "weft" and tail:
        part = _PARTS_ELSEWHERE.get(tail, tail)
        return f"weft-{part}" if part in WEFT_PARTS else "weft-yarn"
    if path.startswith("bench.board"):
        return tail if tail in FIELDS else "board"
    if path == "threading" and _said(form, "threading_kind") not in {"typed", ""}:
        return "threading_kind"  # the field for shaft numbers is out of sight
    name = next((item.name for item in FIELDS.values() if item.path == path and item.name not in STEERING), None)
    return name or _ELSEWHERE.get(head, "title")


def _row_field(tail: str, form: Form) -> str:
    at, _, part = tail.partition(".")
    used = rows_used(form)
    row = used[int(at)] if at.isdecimal() and int(at) < len(used) else 0
    part = _PARTS_ELSEWHERE.get(part, part)
    return f"yarns-{row}-{part if part in YARN_PARTS else 'yarn'}"


_BARE = re.compile(r"\s*[-\u2212]?[\d.,/ ¼½¾⅛⅜⅝⅞⅓⅔]*[\d¼½¾⅛⅜⅝⅞⅓⅔]\s*")


def is_bare(value: str) -> bool:
    """Say whether a text is a number without a unit.

    >>> is_bare("12 1/2"), is_bare("30 cm")
    (True, False)
    """
    return _BARE.fullmatch(value) is not None


def with_units_kept(form: Form, was: Units, now: Units) -> dict[str, str]:
    """Write the former unit behind every bare number, so that a change of units changes no meaning.

    Examples
    --------
    >>> with_units_kept({"sett": "12", "draw_in": "8"}, Units.INCH, Units.METRIC)
    {'sett': '12 /in', 'draw_in': '8'}
    """
    if was is now:
        return dict(form)
    return {name: _with_unit(value, spec_of(name).kind, was) for name, value in form.items()}


def spec_of(name: str) -> Spec:
    """Give what the field table says of a field of the sheet, of a yarn row's or the weft's too."""
    return FIELDS[name].spec if name in FIELDS else YARN_FIELDS.get(name.rpartition("-")[2], _WORDS)


def _with_unit(value: str, kind: str, units: Units) -> str:
    measure = KINDS.get(kind)
    if measure is None or kind == "share" or not is_bare(value):
        return value
    return f"{value.strip()} {measure.usual[units]}"


def typed_from_document(document: Mapping[str, Any], beam: int | None = None) -> dict[str, Any]:
    """Fill a sheet from a brief document, such as the API's or the demo's; loom facts come from the beam."""
    form = dict(_fields_said(document))
    if beam is not None:
        form["beam"] = str(beam)
    form["width_by"] = next((name for name in WIDTHS if form.get(name)), WIDTHS[0])
    form["length_by"] = next((name for name in LENGTHS if form.get(name)), LENGTHS[0])
    threading = form.get("threading", STRAIGHT)
    form["threading_kind"] = threading if threading in {STRAIGHT, *DRAWS} else "typed"
    for row, yarn in enumerate(document.get("yarns", ())):
        form |= _yarn_said(f"yarns-{row}-", YARN_PARTS, yarn)
    if document.get("weft"):
        form |= _yarn_said("weft-", WEFT_PARTS, document["weft"])
    return {"units": units_of(document).value, "form": form}


def _fields_said(document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for item in FIELDS.values():
        if item.name in STEERING:
            continue
        group, _, name = item.path.rpartition(".")
        value = (document.get(group) or {} if group else document).get(name)
        if value is not None and value is not False:
            yield item.name, _in_words(value)


def _in_words(value: object) -> str:
    """Write a value as a person types it; a list goes with commas."""
    return "on" if value is True else ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _yarn_said(prefix: str, parts: tuple[str, ...], yarn: Mapping[str, Any]) -> dict[str, str]:
    key, name = yarn.get("yarn_id"), str(yarn.get("name", ""))
    if key:
        kept = {"yarn": yarn_label(name, str(yarn.get("colour_name", "")), key)}
        kept |= {part: _in_words(yarn[part]) for part in ("code", *_OF_ONE_WARP) if part in parts and yarn.get(part)}
    else:
        kept = {"yarn": name} | {p: _in_words(yarn[p]) for p in parts if p != "yarn" and yarn.get(p)}
    return {prefix + part: value for part, value in kept.items()}
