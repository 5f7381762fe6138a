"""Services of files of packages: keep one until its member says yes, then keep all of it or its good rows.

All that a file does is done through the services that pages use, in one transaction: a refusal on the way undoes it.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import timedelta
from hashlib import sha256
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.files.faults import yarn_facts
from inventory.files.plan import COMES_IN, CORRECTED, ImportPlan, PlannedRow, import_plan
from inventory.files.selectors import cells_by_name, the_book
from inventory.files.spreadsheets import FileRefused, FileTable, kind_of, read_table
from inventory.intake.selectors import FIBRES_OF_ANIMALS, listed
from inventory.ledger.services import lock_packages
from inventory.models import FileSent, Yarn
from inventory.shelf.services import PackageFacts, YarnFacts, correct_package, keep_yarn, receive_package
from studio.errors import StudioError
from studio.models import Member

LONGEST_FILE_NAME = 120
WAITS_FOR = timedelta(hours=1)
MOST_WAITING = 3
"""Files of one member that wait for a yes; a further one takes the place of the oldest."""
MOST_AT_ONCE = 500
TOO_MANY = f"More than {MOST_AT_ONCE} rows would change the book at once. Part the file into several."
GONE = "This file waited longer than an hour and was let go. Send it again."
KEPT_ALREADY = "This file was kept already, and is not kept twice."
CHANGED = "The book has changed since this was shown. Look at it again, then keep it."


@transaction.atomic
def stage_file(*, name: str, content: bytes, mass_unit: str, member: Member) -> FileSent:
    """Keep a file that can be read, for an hour and for its member alone; nothing of it is kept yet.

    Raises
    ------
    FileRefused
        If it cannot be read as a list of packages; the message says why.
    """
    kind = kind_of(content)
    table = read_table(content, kind)
    cells_by_name(table)
    if not table.lines:
        raise FileRefused("no_rows", "This file has headings and no rows.")
    sent = FileSent(
        key=secrets.token_hex(16),
        member=member,
        name=_short(name),
        kind=kind,
        mass_unit=mass_unit,
        digest=sha256(content).hexdigest(),
        content=content,
    )
    sent.full_clean()
    sent.save()
    _let_go(member)
    return sent


def _short(name: str) -> str:
    """Give the end of a file's name, without signs that no line should hold."""
    return "".join(sign for sign in name if sign.isprintable())[-LONGEST_FILE_NAME:] or "no name"


def _let_go(member: Member) -> None:
    """Delete files that waited too long, and a member's oldest beyond the few that may wait."""
    waiting = FileSent.objects.filter(kept_at=None)
    waiting.filter(sent_at__lt=timezone.now() - WAITS_FOR).delete()
    newest = list(waiting.filter(member=member).order_by("-pk").values_list("pk", flat=True)[:MOST_WAITING])
    waiting.filter(member=member).exclude(pk__in=newest).delete()


def table_of(sent: FileSent) -> FileTable:
    """Read a waiting file again.

    Raises
    ------
    FileRefused
        If it waited too long and its content is gone, or was kept.
    """
    if sent.kept_at is not None:
        raise FileRefused("kept_already", KEPT_ALREADY)
    if sent.content is None or sent.sent_at < timezone.now() - WAITS_FOR:
        raise FileRefused("gone", GONE)
    return read_table(bytes(sent.content), sent.kind)


@transaction.atomic
def import_file(*, sent: FileSent, by: Member, seen: str, good_only: bool) -> str:
    """Keep what a file says: all of it, or only its good rows where that was chosen. Give what was kept, in words.

    `seen` is the mark of the plan that was shown; where the book has moved on meanwhile, nothing is kept.

    Raises
    ------
    StudioError
        If it was kept before, waited too long, has mistakes that were not let go, or would do something else by now.
    """
    locked = FileSent.objects.select_for_update().get(pk=sent.pk, member=by)
    if locked.kept_at is not None:
        raise StudioError("kept_already", KEPT_ALREADY)
    table = table_of(locked)
    first = import_plan(table, the_book(), locked.mass_unit)
    _lock(first)
    plan = import_plan(table, the_book(), locked.mass_unit)
    _refuse(plan, seen, good_only=good_only)
    _write(plan, by)
    sentences = (f"Kept: {import_words(plan)}", moths_words(plan))
    locked.said, locked.kept_at, locked.content = " ".join(filter(None, sentences)), timezone.now(), None
    locked.save()
    return locked.said


def _lock(plan: ImportPlan) -> None:
    """Take every yarn and package it touches, each in the order of the keys, before anything is looked at for good."""
    yarns = {row.yarn.pk for row in plan.good if row.yarn is not None}
    list(Yarn.objects.select_for_update().filter(pk__in=yarns).order_by("pk").values_list("pk"))
    lock_packages(row.package for row in plan.of(CORRECTED) if row.package is not None)


def _refuse(plan: ImportPlan, seen: str, *, good_only: bool) -> None:
    if plan.mark != seen:
        raise StudioError("changed", CHANGED)
    if plan.wrong and not good_only:
        raise StudioError("has_mistakes", "Some rows cannot be kept. Put them right, or choose the good rows alone.")
    if not plan.good:
        raise StudioError("nothing_to_keep", "Nothing in this file would change the book.")
    if len(plan.good) > MOST_AT_ONCE:
        raise StudioError("too_many", TOO_MANY)


def _write(plan: ImportPlan, by: Member) -> None:
    new_yarns = {key: _new_yarn(cells) for key, cells in plan.new_yarns.items()}
    for row in plan.of(CORRECTED):
        _correct(row, by)
    for row in plan.of(COMES_IN):
        yarn = row.yarn if row.new_yarn is None else new_yarns[row.new_yarn]
        if yarn is None:
            raise ValueError(f"row {row.number} has no yarn")
        receive_package(yarn=yarn, facts=PackageFacts(**row.facts), by=by)


def _new_yarn(cells: Mapping[str, str]) -> Yarn:
    return keep_yarn(facts=YarnFacts(**yarn_facts(dict(cells), {})))


def _correct(row: PlannedRow, by: Member) -> None:
    package = row.package
    if package is None:
        raise ValueError(f"row {row.number} names no package")
    now: dict[str, Any] = {fact.name: getattr(package, fact.name) for fact in fields(PackageFacts)}
    correct_package(package=package, facts=replace(PackageFacts(**now), **row.facts), by=by)


def import_words(plan: ImportPlan) -> str:
    """Say what a plan does to the book, in numbers."""
    came, right, yarns = len(plan.of(COMES_IN)), len(plan.of(CORRECTED)), len(plan.new_yarns)
    parts = (
        f"{came} new package{'s' if came != 1 else ''}" if came else "",
        f"{right} package{'s' if right != 1 else ''} put right" if right else "",
        f"{yarns} new yarn{'s' if yarns != 1 else ''}" if yarns else "",
    )
    return f"{listed(list(filter(None, parts))) or 'nothing'}."


def moths_words(plan: ImportPlan) -> str:
    """Remind of quarantine where wool or silk would come in; nothing where none would."""
    new = {key for key, cells in plan.new_yarns.items() if yarn_facts(dict(cells), {})["fibre"] in FIBRES_OF_ANIMALS}
    rows = plan.of(COMES_IN)
    at_risk = [row for row in rows if row.new_yarn in new or (row.yarn and row.yarn.fibre in FIBRES_OF_ANIMALS)]
    if not at_risk:
        return ""
    return (
        f"Wool or silk is in {len(at_risk)} of the new packages, and may bring moths: bag each at once, freeze it "
        "sealed at −20 °C or below for at least a week, twice, and write it into quarantine at the scale."
    )
