"""Save, copy, archive and delete warps; each looks after its own rights, locks and arithmetic."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from planner.brief.beam_marks import with_beams_swapped
from planner.brief.document import write_brief
from planner.brief.sheet_input import UNNAMED
from planner.calc.terms.brief import Method, WarpBrief
from planner.calc.terms.plan import WarpPlan
from planner.calc.worksheet.work_out import work_out
from planner.models import Project
from planner.plan.as_data import plan_as_data
from planner.plan.card_digest import card_digest
from planner.warps.selectors import beam_of, may_change, other_beam, read_sheet
from planner.yarn.shelf_services import free_yarn_of
from planner.yarn.wanted_services import follow_plan
from studio.errors import StillInUse, StudioError
from studio.models import Beam, Member
from studio.units import Units, to_decimal

LONGEST_TITLE = 120


@dataclass(frozen=True, slots=True)
class _Follows:
    """What follows from a sound brief, ready to be kept."""

    complete: dict[str, Any]
    digest: str
    brief: WarpBrief
    plan: WarpPlan

    @classmethod
    def from_brief(cls, brief: WarpBrief) -> _Follows:
        plan = work_out(brief)
        return cls(write_brief(brief), card_digest(plan_as_data(plan, Units.METRIC)), brief, plan)


def save_project(
    *, owner: Member, typed: Mapping[str, Any], project: Project | None = None, by: Member, opened_at: str = ""
) -> Project:
    """Keep a warp as typed, and what follows from it when it has no mistakes.

    `typed` is `{"units": "inch" | "metric", "form": {field: text}}`, as `planner.brief.sheet_input` describes it;
    its `typed_from_document` makes one from a brief document. With mistakes the warp is a draft: everything
    typed is kept, nothing follows. `opened_at` is the warp's `changed_at` when the sheet was opened: when somebody
    else has saved since, the warp is refused rather than overwritten.

    Raises
    ------
    StudioError
        If the warp is another member's, or was changed since the sheet was opened.
    """
    brief = read_sheet(typed, project).brief
    follows = _Follows.from_brief(brief) if brief else None  # before the lock: other writers need not wait for sums
    with transaction.atomic():
        kept = _locked(project, by, opened_at) if project is not None else Project(owner=owner)
        kept.typed = dict(typed)
        kept.title = _title(typed)
        kept.words = _words(typed)
        kept.beam = beam_of(typed)
        kept.loom = kept.beam.loom if kept.beam else None
        _fill(kept, follows)
        _write(kept)
        if follows and project is not None:
            follow_plan(kept, follows.brief, follows.plan)
        return kept


def _locked(project: Project, by: Member, opened_at: str = "") -> Project:
    """Lock one warp, and refuse those that are another's or were changed meanwhile."""
    locked = Project.objects.select_for_update().get(pk=project.pk)
    if not may_change(locked, by):
        raise StudioError("not_yours", "This warp belongs to another member; copy it to change it.")
    if opened_at and opened_at != locked.stamp:
        raise StudioError(
            "changed_meanwhile",
            "Somebody saved this warp while you had it open. What you typed stands below and is not lost: look at the "
            "saved warp in another window, then save again to put yours in its place.",
        )
    return locked


def _title(typed: Mapping[str, Any]) -> str:
    return " ".join(typed["form"].get("title", "").split())[:LONGEST_TITLE] or UNNAMED


def _words(typed: Mapping[str, Any]) -> str:
    said = typed["form"].items()
    return " ".join(text for name, text in said if name.endswith(("-yarn", "-colour_name", "-grist")) and text)


def _fill(project: Project, follows: _Follows | None) -> None:
    """Fill in the complete brief and the figures of lists; a draft has neither, but remembers what it last said to do.

    The version rises when what is done at the loom has changed: a typing fault put right is no new version.
    """
    plan = follows.plan if follows else None
    project.complete = follows.complete if follows else None
    project.ends = plan.cloth.ends_here if plan else None
    project.width_in_reed_cm = to_decimal(plan.cloth.width_in_reed) if plan else None
    project.warp_length_cm = to_decimal(plan.beam.warp_length) if plan else None
    if follows and follows.digest != project.digest:
        project.version += 1 if project.digest else 0
        project.digest = follows.digest


def _write(project: Project) -> Project:
    project.full_clean()
    project.save()
    return project


@transaction.atomic
def copy_project(*, project: Project, by: Member, typed: Mapping[str, Any] | None = None) -> Project:
    """Start a warp of one's own from another; `typed` carries numbers tried on the other's sheet."""
    taken = typed or project.typed
    return _copied(project, by, {**taken, "form": {**taken["form"], "title": _titled(taken, "copy")}})


@transaction.atomic
def start_other_beam(*, project: Project, by: Member, typed: Mapping[str, Any] | None = None) -> Project:
    """Start the sheet of the other warp beam from one beam's: a copy with the marks exchanged, on another beam.

    The beam is the loom's next one where there is one, else it is left to choose. A plain beam is filled with chains.
    """
    taken = typed or project.typed
    beam = other_beam(beam_of(taken))
    form = {**with_beams_swapped(taken["form"]), "title": _titled(taken, "other beam")}
    form["beam"] = str(beam.pk) if beam else ""
    if beam and beam.kind == Beam.Kind.PLAIN:
        form["method"] = Method.CHAIN.value
    return _copied(project, by, {**taken, "form": form})


def _titled(typed: Mapping[str, Any], what: str) -> str:
    return f"{_title(typed)[: LONGEST_TITLE - len(what) - 2]}, {what}"


def _copied(project: Project, by: Member, typed: Mapping[str, Any]) -> Project:
    copy = save_project(owner=by, typed=typed, by=by)
    copy.copied_from = project
    return _write(copy)


@transaction.atomic
def archive_project(*, project: Project, by: Member, away: bool) -> Project:
    """Archive a warp, which gives its yarn back to the shelf, or restore it. Nothing of it is lost."""
    kept = _locked(project, by)
    kept.archived = away
    if away:
        free_yarn_of(kept, by)
    return _write(kept)


@transaction.atomic
def delete_project(*, project: Project, by: Member) -> None:
    """Delete a warp for good; refused while cards hang on it, since a card on a loom must be traceable."""
    kept = _locked(project, by)
    cards = kept.cards.count()
    if cards:
        many = "a card was" if cards == 1 else f"{cards} cards were"
        reason = f"“{kept.title}” cannot be deleted, since {many} issued for it. Archive it instead."
        raise StillInUse("still_in_use", reason)
    free_yarn_of(kept, by, for_good=True)
    kept.delete()
