"""The brief document: JSON in, a complete `WarpBrief` out, and back again without losing a hair.

One format serves the API, the command, stored projects and the form. `planner.brief.schema` holds it as tables.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from fractions import Fraction
from typing import Any, NoReturn

from planner.brief.colour_order import names_of, read_order
from planner.brief.fields import Kind, printable
from planner.brief.schema import BRIEF, Part
from planner.brief.threading import settled_threading
from planner.calc.terms.brief import Allowances, LoomFacts, WarpBrief, YarnChoice
from planner.calc.terms.problems import Problem, problems_of
from planner.calc.worksheet.two_beams import beam_problems
from studio.units import UnitError, Units

MOST_BYTES = 2_500_000
MOST_UNKNOWN = 10
"""Unknown keys of one object that are named one by one; the rest are counted."""

WEFT_CODE = "W"
"""Code of a weft that was given none."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of reading a document: a brief that can be worked out, or every reason why not."""

    brief: WarpBrief | None
    problems: tuple[Problem, ...]


@dataclass(slots=True)
class _Desk:
    """Where one reading gathers what it finds wrong."""

    units: Units | None
    problems: list[Problem] = field(default_factory=list)

    def refuse(self, place: str, word: str, message: str) -> None:
        """Note one problem."""
        self.problems.append(Problem(place, word, message))


def read_brief(
    document: object, units: Units | None = None, *, measured: Callable[[WarpBrief], WarpBrief] = lambda brief: brief
) -> Reading:
    """Read a brief document, whatever it is: never an exception, always all problems found.

    `units` says what a bare number means where the document does not; with neither, every quantity must say its unit.
    Facts of the database may stand in it as they are, exact fractions and dataclasses, which no JSON holds;
    `measured` lays over the brief what was measured on its beam, before its problems are asked for.

    Examples
    --------
    >>> read_brief([]).problems[0].message
    'A brief is an object with keys such as title, loom and yarns.'
    """
    if not isinstance(document, dict):
        problem = Problem("", "not_an_object", "A brief is an object with keys such as title, loom and yarns.")
        return Reading(None, (problem,))
    desk = _Desk(_units_of(document, units))
    if document.get("units") is not None and document["units"] not in tuple(Units):
        desk.refuse("units", "not_a_choice", "Choose one of: inch, metric.")
    values = _read_keys(BRIEF, {key: value for key, value in document.items() if key != "units"}, "", desk)
    _read_colour_order(values, desk)
    _settle_threading(values, desk)
    if desk.problems:
        return Reading(None, tuple(desk.problems))
    brief = measured(_completed(values, document))
    problems = tuple(_as_in_document(problem) for problem in problems_of(brief) or beam_problems(brief))
    return Reading(None if problems else brief, problems)


def _units_of(document: Mapping[str, object], units: Units | None) -> Units | None:
    asked = document.get("units")
    return Units(asked) if isinstance(asked, str) and asked in tuple(Units) else units


def _read_colour_order(values: dict[str, Any], desk: _Desk) -> None:
    """Read the words of the colour order, once the yarns they name are known."""
    text, yarns = values.pop("colour_order", None), values.get("yarns")
    if not text or not yarns or None in yarns:
        return
    try:
        values["colour_order"] = read_order(text, names_of(yarns))
    except UnitError as error:
        desk.refuse("colour_order", error.code, error.message)


def _settle_threading(values: dict[str, Any], desk: _Desk) -> None:
    """Write out a threading that was given as a word, once the shafts of the loom are known."""
    typed, loom = values.get("threading"), values.get("loom")
    if not typed or loom is None:
        return
    try:
        values["threading"] = settled_threading(typed, loom.shafts)
    except UnitError as error:
        desk.refuse("threading", error.code, error.message)


def _completed(values: dict[str, Any], document: Mapping[str, Any]) -> WarpBrief:
    """Fill in what follows from another part: the loom's own waste."""
    loom: LoomFacts = values["loom"]
    allowances: Allowances = values.get("allowances", Allowances())
    if (document.get("allowances") or {}).get("waste") is None:
        allowances = replace(allowances, waste=loom.waste)
    return WarpBrief(**{**values, "allowances": allowances})


def _as_in_document(problem: Problem) -> Problem:
    """Name the field as the document does: it says grist where the brief says tex."""
    front, dot, last = problem.field.rpartition(".")
    return replace(problem, field=f"{front}.grist") if dot and last == "tex" else problem


def _read_keys(part: Part, value: Mapping[Any, object], place: str, desk: _Desk) -> dict[str, Any]:
    """Read the keys of one object. What is null counts as left out; what is unknown is refused by name."""
    _refuse_unknown(part, value, place, desk)
    values: dict[str, Any] = {}
    for key in part.keys:
        given, here = value.get(key.name), f"{place}{key.name}"
        if given is not None:
            values[key.target] = _read_value(key.kind, given, here, desk)
        elif key.needed:
            desk.refuse(here, "missing", "This is needed.")
    return values


def _read_value(kind: Kind | Part, value: object, place: str, desk: _Desk) -> object:
    if isinstance(kind, Part):
        return _read_list(kind, value, place, desk) if kind.most else _read_part(kind, value, place, desk)
    try:
        return value if isinstance(value, Fraction) else kind.read(value, desk.units)
    except UnitError as error:
        desk.refuse(place, error.code, error.message)
        return None


def _read_list(part: Part, value: object, place: str, desk: _Desk) -> tuple[object, ...]:
    if not isinstance(value, list | tuple):
        desk.refuse(place, "not_a_list", "Give a list of objects.")
    elif len(value) > part.most:
        desk.refuse(place, "too_many", f"That is {len(value)}; {part.most} are the most.")
    else:
        return tuple(_read_part(part, one, f"{place}.{index}", desk) for index, one in enumerate(value))
    return ()


def _read_part(part: Part, value: object, place: str, desk: _Desk) -> object:
    if isinstance(value, part.made):
        return value
    if not isinstance(value, dict):
        desk.refuse(place, "not_an_object", "Give an object with keys and values.")
        return None
    reference = _reference(part, value)
    if reference:
        desk.refuse(f"{place}.{reference[0]}", "not_found", reference[1])
        return None
    before = len(desk.problems)
    values = _read_keys(part, value, f"{place}.", desk)
    return None if len(desk.problems) > before else _made(part, values)


def _made(part: Part, values: dict[str, Any]) -> object:
    if part.made is YarnChoice:
        values = {"code": WEFT_CODE, "name": "", **values}
    made: object = part.made(**values)
    return made


def _reference(part: Part, value: Mapping[str, object]) -> tuple[str, str] | None:
    """Tell of a loom or yarn that is only named by number: it should have been looked up before it came here."""
    if part.made is LoomFacts and "number" in value:
        return "number", f"There is no loom {printable(value['number'], 12)} to look up here; write the loom out."
    if part.made is YarnChoice and value.get("grist") is None and value.get("yarn_id") is not None:
        return "yarn_id", f"There is no yarn {printable(value['yarn_id'], 12)} to look up here; give its grist."
    return None


def _refuse_unknown(part: Part, value: Mapping[Any, object], place: str, desk: _Desk) -> None:
    names = [key.name for key in part.keys]
    unknown = [key for key in value if key not in names]
    for key in unknown[:MOST_UNKNOWN]:
        shown = printable(key)
        near = get_close_matches(shown, names, 1)
        hint = f" Did you mean “{near[0]}”?" if near else ""
        desk.refuse(f"{place}{shown}", "unknown_key", f"“{shown}” is not a key of this part.{hint}")
    if len(unknown) > MOST_UNKNOWN:
        rest = len(unknown) - MOST_UNKNOWN
        desk.refuse(place.rstrip("."), "unknown_key", f"{rest} more keys are not known either.")


def write_brief(brief: WarpBrief) -> dict[str, Any]:
    """Write a brief as a document: complete, exact, every quantity with its unit. What is not set is left out."""
    return _write_part(BRIEF, brief)


def _write_part(part: Part, thing: object) -> dict[str, Any]:
    values = ((key, getattr(thing, key.target)) for key in part.keys)
    return {key.name: _write_value(key.kind, value) for key, value in values if value is not None}


def _write_value(kind: Kind | Part, value: Any) -> object:
    if isinstance(kind, Kind):
        return kind.write(value)
    return [_write_part(kind, one) for one in value] if kind.most else _write_part(kind, value)


def digest(document: object) -> str:
    """Give the fingerprint of a document: equal for equal content, whatever the order of its keys."""
    text = json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()


def load(raw: bytes) -> object:
    """Read a document from the bytes of a file or a request; `UnitError` says what is wrong with them.

    Examples
    --------
    >>> load(b'{"title": "Runner"}')
    {'title': 'Runner'}
    """
    if len(raw) > MOST_BYTES:
        raise UnitError("too_large", "A brief of more than 2.5 MB is not read.")
    try:
        document: object = json.loads(raw.decode("utf-8-sig"), parse_constant=_no_constant, object_pairs_hook=_object)
    except UnitError:
        raise
    except UnicodeDecodeError:
        raise UnitError("not_utf8", "The text is not UTF-8.") from None
    except json.JSONDecodeError as error:
        raise UnitError("not_json", f"This is not JSON: line {error.lineno}, column {error.colno}.") from None
    except RecursionError:
        raise UnitError("too_deep", "The JSON is nested far too deep.") from None
    except ValueError:  # an integer of thousands of digits
        raise UnitError("too_large", "A number in the JSON is far too long.") from None
    return document


def _no_constant(word: str) -> NoReturn:
    raise UnitError("not_json", f"{word} is not a number in JSON.")


def _object(pairs: list[tuple[str, object]]) -> dict[str, object]:
    members = dict(pairs)
    if len(members) < len(pairs):
        raise UnitError("key_twice", "A key stands twice in the same object; it is not clear which one counts.")
    return members
