"""The wanted list: ask for what a warp lacks, say when it is expected, order it, drop it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.db import transaction

from inventory.calc.ledger import micrograms
from inventory.models import Yarn
from planner.brief.fields import write_tex
from planner.calc.shelf.need import yarn_asked
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import WarpPlan
from planner.models import Project, Wanted
from planner.yarn.awaited import OwnYarn, lacking, own_yarns
from planner.yarn.shelf_selectors import YarnLine, shelf_plan, worked
from planner.yarn.wanted_selectors import may_ask, may_mark
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act, may

NOT_YOURS = "This warp belongs to another member; its owner, a teacher or a steward can ask for its yarn."
NOT_SHORT = "The warp does not lack this yarn by now, so nothing was put on the list."
NO_SUCH_YARN = "The warp does not use this yarn by now, so nothing was put on the list."
NOT_THE_BOOK = "Those who keep the yarn book mark what is ordered."
GONE = "This is no longer on the list."
State = Wanted.State


@dataclass(frozen=True, slots=True)
class WantedDetails:
    """What is said with a request; a day or a note left empty keeps what stands there."""

    expected_on: date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class _Shortage:
    """What a warp lacks of one yarn, and all it needs of it [g]."""

    yarn: Yarn | None
    name: str
    tex: Fraction
    mass: Fraction
    needed: Fraction


def want_yarn(*, warp: Project, which: str, by: Member, asked: WantedDetails) -> Wanted:
    """Put what a warp lacks of one yarn on the wanted list, or ask anew where it stands there.

    `which` is the key of a yarn of the yarn room, or "own-" and the place of one that is in no book.

    Raises
    ------
    StudioError
        If the warp is another member's, or does not lack this yarn.
    """
    if not may_ask(warp, by):
        raise StudioError("not_yours", NOT_YOURS)
    lack = _shortage(warp, which)  # before the lock: other writers need not wait for sums
    with transaction.atomic():
        kept = Project.objects.select_for_update(of=("self",)).get(pk=warp.pk)
        grist = write_tex(lack.tex)
        same = {"yarn": lack.yarn} if lack.yarn is not None else {"yarn_name": lack.name, "grist": grist}
        row = kept.wanted.exclude(state=State.COME).filter(**same).first() or Wanted(project=kept, asked_by=by)
        row.yarn, row.yarn_name, row.grist = lack.yarn, lack.name, grist
        row.mass_ug, row.needed_ug = max(1, micrograms(lack.mass)), micrograms(lack.needed)
        return _saved(row, by, asked)


def _shortage(warp: Project, which: str) -> _Shortage:
    current = worked(warp)
    if current is None:
        raise StudioError("no_such_yarn", NO_SUCH_YARN)
    own = {one.key: one for one in own_yarns(current.plan)}
    if which in own:
        return _of_own(own[which])
    line = next((one for one in shelf_plan(warp, current.asked).lines if str(one.yarn.pk) == which), None)
    if line is None:
        raise StudioError("no_such_yarn", NO_SUCH_YARN)
    return _of_line(line)


def _of_own(one: OwnYarn) -> _Shortage:
    return _Shortage(None, one.name, one.tex, one.amount.mass_g, one.amount.mass_g)


def _of_line(line: YarnLine) -> _Shortage:
    mass = lacking(line)
    if not mass:
        raise StudioError("not_short", NOT_SHORT)
    needed = line.asked.mass + mass - line.short.mass_g  # what lies on packages too small for whole ends does not help
    return _Shortage(line.yarn, str(line.yarn), line.asked.tex, mass, needed)


def _saved(row: Wanted, by: Member, asked: WantedDetails) -> Wanted:
    row.expected_on = asked.expected_on or row.expected_on
    row.note = asked.note or row.note
    row.changed_by = by
    row.full_clean()
    row.save()
    return row


@transaction.atomic
def expect_yarn(*, wanted: Wanted, by: Member, expected_on: date | None, note: str = "") -> Wanted:
    """Say when wanted yarn is expected, or that nobody knows."""
    row = _locked(wanted, by)
    row.expected_on, row.note, row.changed_by = expected_on, note, by
    row.full_clean()
    row.save()
    return row


@transaction.atomic
def order_yarn(*, wanted: Wanted, by: Member, expected_on: date | None, note: str = "") -> Wanted:
    """Mark wanted yarn as ordered; those who keep the yarn book may.

    Raises
    ------
    StudioError
        If `by` does not keep the yarn book.
    """
    if not may(by.role, Act.EDIT_YARN):
        raise StudioError("not_allowed", NOT_THE_BOOK)
    row = _locked(wanted, by)
    row.state, row.changed_by = State.ORDERED, by
    row.expected_on, row.note = expected_on, note
    row.full_clean()
    row.save()
    return row


@transaction.atomic
def yarn_has_come(*, wanted: Wanted, by: Member) -> Wanted:
    """Take yarn that has come off the list; the row is kept."""
    row = _locked(wanted, by)
    return _mark_come(row, by)


@transaction.atomic
def drop_wanted(*, wanted: Wanted, by: Member) -> None:
    """Take a request off the list that nobody has any more."""
    _locked(wanted, by).delete()


def _locked(wanted: Wanted, by: Member) -> Wanted:
    row = Wanted.objects.select_for_update(of=("self",)).select_related("project").filter(pk=wanted.pk).first()
    if row is None or row.state == State.COME:
        raise StudioError("gone", GONE)
    if not may_mark(row, by):
        raise StudioError("not_yours", NOT_YOURS)
    return row


def _mark_come(row: Wanted, by: Member) -> Wanted:
    row.state, row.changed_by = State.COME, by
    row.full_clean()
    row.save()
    return row


def settle_wanted(warp: Project, yarns: Iterable[Yarn], by: Member) -> None:
    """Take off the list what a locked warp has set aside in full."""
    for row in warp.wanted.exclude(state=State.COME).filter(yarn__in=[yarn.pk for yarn in yarns]):
        _mark_come(row, by)


def follow_plan(warp: Project, brief: WarpBrief, plan: WarpPlan) -> None:
    """Let the requests of a locked warp know what it needs by its new plan; one it no longer has is needed no more."""
    rows = list(warp.wanted.exclude(state=State.COME))
    if not rows:
        return
    needs: Mapping[int, Fraction] = {one.yarn_id: one.mass for one in yarn_asked(brief, plan)}
    own = {(one.name, write_tex(one.tex)): one.amount.mass_g for one in own_yarns(plan)}
    for row in rows:
        if row.yarn_id is not None:
            needed = needs.get(row.yarn_id, Fraction(0))
        else:
            needed = own.get((row.yarn_name, row.grist), Fraction(0))
        row.needed_ug = micrograms(needed)
        row.full_clean()
        row.save()
