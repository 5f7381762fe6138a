"""Questions about yarn that is wanted: what is to be bought, whose warp lacks it, and whether it lacks it still."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from django.db.models import Q, QuerySet
from django.utils import timezone

from inventory.calc.count import length_of_mass
from inventory.calc.ledger import SLACK_UG, grams
from inventory.models import Package, Yarn
from planner.calc.shelf.awaited import to_buy
from planner.models import Project, Wanted
from planner.warps.moved_yarn import moved_for
from planner.yarn.filling import Amount
from studio.models import Member
from studio.rights import Act, may


class Standing(StrEnum):
    """What became of a request: the warp still lacks the yarn, the shelf has it now, or the warp lacks it no more."""

    LACKING = "lacking"
    ON_SHELF = "on_shelf"
    SETTLED = "settled"


@dataclass(frozen=True, slots=True)
class WantedRow:
    """One request, as it stands today."""

    wanted: Wanted
    amount: Amount
    standing: Standing
    overdue: bool

    @property
    def lacking(self) -> bool:
        """The warp still lacks it."""
        return self.standing is Standing.LACKING

    @property
    def on_shelf(self) -> bool:
        """The shelf has enough of it now."""
        return self.standing is Standing.ON_SHELF


@dataclass(frozen=True, slots=True)
class WantedGroup:
    """One yarn of the list: what to buy of it in all, what is ordered already, and who lacks it."""

    name: str
    yarn: Yarn | None
    tex: Fraction
    grams: int
    ordered: int
    rows: tuple[WantedRow, ...]

    @property
    def length_cm(self) -> Fraction:
        """What so many grams measure."""
        return length_of_mass(Fraction(self.grams), self.tex)


@dataclass(frozen=True, slots=True)
class WarpWaits:
    """That a warp waits for yarn: until the last of it is expected, None where some has no day yet."""

    expected_on: date | None
    overdue: bool


def open_wanted() -> QuerySet[Wanted]:
    """Give what has not come, by yarn; of archived warps only what is ordered already."""
    away = Q(project__archived=True, state=Wanted.State.WANTED)
    found = Wanted.objects.exclude(state=Wanted.State.COME).exclude(away)
    return found.select_related("yarn", "project__owner", "project__set_aside", "changed_by")


def wanted_by(warp: Project) -> tuple[WantedRow, ...]:
    """Give what one warp has on the list."""
    return rows_of(open_wanted().filter(project=warp))


def wanted_list() -> tuple[WantedGroup, ...]:
    """Give the whole list by yarn; as many questions for many warps as for one."""
    groups: dict[tuple[int | None, str, str], list[WantedRow]] = {}
    for row in rows_of(open_wanted()):
        wanted = row.wanted
        own = ("", "") if wanted.yarn_id is not None else (wanted.yarn_name, wanted.grist)
        groups.setdefault((wanted.yarn_id, *own), []).append(row)
    return tuple(_group(rows) for rows in groups.values())


def _group(rows: Sequence[WantedRow]) -> WantedGroup:
    first = rows[0].wanted
    name = str(first.yarn) if first.yarn is not None else first.yarn_name
    bought, ordered = (
        to_buy([grams(row.wanted.mass_ug) for row in rows if row.lacking and row.wanted.state == state])
        for state in (Wanted.State.WANTED, Wanted.State.ORDERED)
    )
    return WantedGroup(name, first.yarn, first.tex, bought, ordered, tuple(rows))


def rows_of(wanted: Iterable[Wanted]) -> tuple[WantedRow, ...]:
    """Say of each request how it stands; who asked first is served first by what is free; two questions more."""
    found = list(wanted)
    shelf = _Shelf.of(found)
    standing = {one.pk: shelf.standing(one) for one in sorted(found, key=lambda one: (one.asked_at, one.pk))}
    today = timezone.localdate()
    return tuple(
        WantedRow(
            one,
            Amount(grams(one.mass_ug), length_of_mass(grams(one.mass_ug), one.tex)),
            standing[one.pk],
            one.expected_on is not None and one.expected_on < today,
        )
        for one in found
    )


def waiting_warps(warps: Iterable[Project]) -> dict[int, WarpWaits]:
    """Say which warps of a page wait for yarn, and until when; as many questions for many as for one."""
    waits: dict[int, list[WantedRow]] = {}
    for row in rows_of(open_wanted().filter(project__in=[warp.pk for warp in warps])):
        if row.lacking:
            waits.setdefault(row.wanted.project_id, []).append(row)
    return {key: _together(rows) for key, rows in waits.items()}


def _together(rows: Sequence[WantedRow]) -> WarpWaits:
    days = [row.wanted.expected_on for row in rows]
    known = [day for day in days if day is not None]
    overdue = [row.wanted.expected_on for row in rows if row.overdue and row.wanted.expected_on is not None]
    if overdue:
        return WarpWaits(min(overdue), overdue=True)
    return WarpWaits(max(known) if len(known) == len(days) else None, overdue=False)


@dataclass(frozen=True, slots=True)
class _Shelf:
    """What is free of each yarn for anybody and for owners, and what each piece of work has of it [ug]."""

    packages: Mapping[int, list[Package]]
    has: Mapping[tuple[int, int], int]
    spent: dict[int, int]

    @classmethod
    def of(cls, wanted: Sequence[Wanted]) -> _Shelf:
        keys = {one.yarn_id for one in wanted if one.yarn_id is not None}
        packages: dict[int, list[Package]] = {key: [] for key in keys}
        for package in Package.objects.filter(yarn__in=keys) if keys else ():
            packages[package.yarn_id].append(package)
        by_key = {package.pk: package for found in packages.values() for package in found}
        has: dict[tuple[int, int], int] = {}
        for (work, key), moved in moved_for(one.project.set_aside for one in wanted).items():
            if key in by_key:
                package = by_key[key]
                had = moved.had_of(package)
                has[work, package.yarn_id] = has.get((work, package.yarn_id), 0) + had
        return cls(packages, has, {})

    def standing(self, one: Wanted) -> Standing:
        if not one.needed_ug:
            return Standing.SETTLED
        if one.yarn_id is None:
            return Standing.LACKING
        work = one.project.set_aside_id
        lacks = one.needed_ug - (self.has.get((work, one.yarn_id), 0) if work is not None else 0)
        if lacks < SLACK_UG:
            return Standing.SETTLED
        anybodys = {None, one.project.owner_id}
        free = sum(package.free_ug for package in self.packages[one.yarn_id] if package.owner_id in anybodys)
        if lacks - (free - self.spent.get(one.yarn_id, 0)) >= SLACK_UG:
            return Standing.LACKING
        self.spent[one.yarn_id] = self.spent.get(one.yarn_id, 0) + lacks
        return Standing.ON_SHELF


def may_ask(warp: Project, member: Member) -> bool:
    """Say whether a member may put a warp's yarn on the list: her own, or anybody's for those who look after others."""
    return warp.owner_id == member.pk or may(member.role, Act.OPEN_OTHERS_WARPS)


def may_mark(wanted: Wanted, member: Member) -> bool:
    """Say whether a member may give a request its day, or drop it: the warp's owner, and those who keep the book."""
    return may_ask(wanted.project, member) or may(member.role, Act.EDIT_YARN)
