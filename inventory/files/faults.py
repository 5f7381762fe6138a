"""What is wrong with the cells of a row, in the file's own headings; everything at once, as the book would say it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from typing import Any

from django.core.exceptions import ValidationError
from django.db.models import Model

from inventory.files.selectors import HEADINGS, OF_YARN, Cells
from inventory.models import Fibre, Package, Yarn
from inventory.models.packages import trouble_with_day
from studio.units import LONGEST_TEXT

Faults = dict[str, str]
"""What is wrong with a row, by the column it is wrong in."""
YarnCells = dict[str, str]


def unlike(cells: Cells, other: Mapping[str, str], who: str) -> Faults:
    """Say what a row says otherwise of its yarn; what it leaves empty agrees with everything."""
    return {
        HEADINGS[name]: f"{who} “{other.get(name, '')}”. Make them alike, or give the yarn a name of its own."
        for name in OF_YARN[1:]
        if cells.get(name) and cells[name].casefold() != other.get(name, "").casefold()
    }


def trouble_with_yarn(cells: YarnCells) -> Faults:
    """Say what a new yarn lacks; empty where it can be written into the book."""
    wrong: Faults = {}
    facts = yarn_facts(cells, wrong)
    return faults_of(Yarn(), facts) | wrong


def yarn_facts(cells: YarnCells, wrong: Faults) -> dict[str, Any]:
    """Give what a file says of a new yarn as the book keeps it."""
    fibre = choice_of("fibre", cells.get("fibre", ""), Fibre.choices, Fibre.OTHER, wrong)
    return {**{name: cells.get(name, "") for name in OF_YARN[1:]}, "fibre": fibre}


def choice_of(name: str, cell: str, choices: Sequence[tuple[str, str]], usual: str, wrong: Faults) -> str:
    for value, label in choices:
        if cell.casefold() in {value, label.casefold()}:
            return value
    if cell:
        wrong[HEADINGS[name]] = f"“{cell[:20]}” is none of: {'; '.join(label for _, label in choices)}."
    return usual


def day_of(cell: str, wrong: Faults) -> date | None:
    """Read the day a package was received on."""
    try:
        day = date.fromisoformat(cell) if cell else None
    except ValueError:
        wrong[HEADINGS["received_on"]] = f"“{cell[:20]}” is not a day. Write year, month and day: 2026-03-02."
        return None
    if day and (trouble := trouble_with_day(day)):
        wrong[HEADINGS["received_on"]] = trouble
    return day


def faults_of(row: Package | Yarn, facts: Mapping[str, Any]) -> Faults:
    """Ask the book itself what it would say of these facts, in the file's words."""
    too_long = dict(_too_long(row, facts))
    for name, fact in facts.items():
        setattr(row, name, fact)
    unset = {"yarn", "owner", *({"gross_g", "tare_g"} if isinstance(row, Package) else ())}
    faults: Faults = {}
    for ask in (row.clean, partial(row.clean_fields, exclude=unset)):
        try:
            ask()
        except ValidationError as trouble:
            faults |= {HEADINGS.get(name, "the row"): " ".join(words) for name, words in trouble.message_dict.items()}
    return faults | too_long


def _too_long(row: Model, facts: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for name, fact in facts.items():
        most = getattr(row._meta.get_field(name), "max_length", None) or LONGEST_TEXT
        if isinstance(fact, str) and len(fact) > most:
            yield HEADINGS[name], f"Write at most {most} characters; these are {len(fact)}."
