"""Deeds with warps: save, copy, put away, delete. Each looks after its own rights, locks and sums."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from planner.brief_text import digest, write_brief
from planner.calc.brief import WarpBrief
from planner.calc.worksheet import work_out
from planner.models import Project
from planner.selectors import beam_of, may_change, read_sheet
from planner.typed_brief import UNNAMED
from studio.errors import StillInUse, StudioError
from studio.models import Member
from studio.units import to_decimal

LONGEST_TITLE = 120


@transaction.atomic
def save_project(*, owner: Member, typed: Mapping[str, Any], project: Project | None = None, by: Member) -> Project:
    """Keep a warp as typed, and what follows from it when it has no mistakes.

    `typed` is `{"units": "inch" | "metric", "form": {field: text}}`, as `planner.typed_brief` describes it;
    its `typed_from_document` makes one from a brief document. With mistakes the warp is a draft: everything
    typed is kept, nothing follows.
    """
    kept = _locked(project, by) if project is not None else Project(owner=owner)
    brief = read_sheet(typed).brief
    kept.typed = dict(typed)
    kept.title = _title(typed)
    kept.words = _words(typed)
    kept.beam = beam_of(typed)
    kept.loom = kept.beam.loom if kept.beam else None
    before = _on_the_loom(kept.complete)
    _fill(kept, brief)
    if kept.pk and _on_the_loom(kept.complete) != before:
        kept.version += 1
    return _write(kept)


def _locked(project: Project, by: Member) -> Project:
    """Lock one warp, and refuse those it does not belong to."""
    locked = Project.objects.select_for_update().get(pk=project.pk)
    if not may_change(locked, by):
        raise StudioError("not_yours", "This warp belongs to another member; copy it to change it.")
    return locked


def _title(typed: Mapping[str, Any]) -> str:
    return " ".join(typed["form"].get("title", "").split())[:LONGEST_TITLE] or UNNAMED


def _words(typed: Mapping[str, Any]) -> str:
    said = typed["form"].items()
    return " ".join(text for name, text in said if name.endswith(("-yarn", "-colour_name", "-grist")) and text)


def _fill(project: Project, brief: WarpBrief | None) -> None:
    """Fill in the complete brief and the figures of lists; a draft has neither."""
    project.complete = write_brief(brief) if brief else None
    project.digest = digest(project.complete) if brief else ""
    plan = work_out(brief) if brief else None
    project.ends = plan.ends if plan else None
    project.width_in_reed_cm = to_decimal(plan.width_in_reed) if plan else None
    project.warp_length_cm = to_decimal(plan.warp_length) if plan else None


def _on_the_loom(complete: Mapping[str, Any] | None) -> dict[str, Any] | None:
    """Give the part of a brief that the warp itself depends on: a fuller shelf or a new price is no new version."""
    if complete is None:
        return None
    yarns = [_without_shelf(yarn) for yarn in complete["yarns"]]
    return {**complete, "yarns": yarns, "weft": _without_shelf(complete.get("weft") or {})}


def _without_shelf(yarn: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in yarn.items() if name not in {"on_hand", "price"}}


def _write(project: Project) -> Project:
    project.full_clean()
    project.save()
    return project


@transaction.atomic
def copy_project(*, project: Project, by: Member, typed: Mapping[str, Any] | None = None) -> Project:
    """Start a warp of one's own from another; `typed` carries numbers tried on the other's sheet."""
    taken = typed or project.typed
    title = f"{_title(taken)}, copy"[:LONGEST_TITLE]
    copy = save_project(owner=by, typed={**taken, "form": {**taken["form"], "title": title}}, by=by)
    copy.copied_from = project
    return _write(copy)


@transaction.atomic
def archive_project(*, project: Project, by: Member, away: bool) -> Project:
    """Put a warp away, or take it out again. Nothing of it is lost."""
    kept = _locked(project, by)
    kept.archived = away
    return _write(kept)


@transaction.atomic
def delete_project(*, project: Project, by: Member) -> None:
    """Delete a warp for good; refused while cards hang on it, since a card on a loom must be traceable."""
    kept = _locked(project, by)
    cards = kept.cards.count()
    if cards:
        many = "a card was" if cards == 1 else f"{cards} cards were"
        reason = f"“{kept.title}” cannot be deleted, since {many} issued for it. Put it away instead."
        raise StillInUse("still_in_use", reason)
    kept.delete()
