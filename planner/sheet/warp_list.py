"""Rows of the list of warps, written in the reader's units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planner.models import Project
from planner.plan.presenter_waiting import short_day
from planner.yarn.wanted_selectors import WarpWaits
from studio.models import Member
from studio.units import show

WHOSE = (("mine", "Mine"), ("all", "Everyone’s"), ("away", "Archived"))


@dataclass(frozen=True, slots=True)
class WarpRow:
    """One warp of the list."""

    project: Project
    owner: str
    loom: str
    ends: str
    width: str
    length: str
    cards: int
    waits: str
    overdue: bool


def rows_of(
    projects: Iterable[Project], cards: Mapping[int, int], waiting: Mapping[int, WarpWaits], member: Member
) -> list[WarpRow]:
    """Write each warp of a page for its reader."""
    return [_row(project, cards.get(project.pk, 0), waiting.get(project.pk), member) for project in projects]


def waits_words(waits: WarpWaits) -> str:
    """Say that a warp waits for yarn, and until when."""
    if waits.expected_on is None:
        return "waits for yarn, no day yet"
    day = short_day(waits.expected_on)
    return f"waits for yarn, expected {day}: overdue" if waits.overdue else f"waits for yarn, expected {day}"


def _row(project: Project, cards: int, waits: WarpWaits | None, member: Member) -> WarpRow:
    return WarpRow(
        project=project,
        owner=project.owner.name,
        loom=str(project.loom) if project.loom else "",
        ends=f"{project.ends}" if project.ends is not None else "",
        width=_said(project.width_in_reed_cm, "length", member),
        length=_said(project.warp_length_cm, "distance", member),
        cards=cards,
        waits=waits_words(waits) if waits is not None else "",
        overdue=waits is not None and waits.overdue,
    )


def _said(value: Decimal | None, kind: str, member: Member) -> str:
    return "" if value is None else show(Fraction(value), kind, member.reads_in)
