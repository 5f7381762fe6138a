"""Pages of warps: the list, the warp sheet, and what can be done from it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner.brief.form import steered
from planner.brief.sheet_input import blank_typed, keep_typed, says_nothing
from planner.cards.selectors import cards_with_state
from planner.loom_search.selectors import reservation_of
from planner.models import Project
from planner.sheet.services import archive_project, copy_project, delete_project, save_project, start_other_beam
from planner.sheet.sheet import Sheet, sheet_form, work_sheet
from planner.sheet.warp_list import WHOSE, rows_of
from planner.warps.selectors import cards_issued, cards_of, first_beam, may_change, warps_in_order, warps_to_show
from planner.yarn.wanted_selectors import waiting_warps
from planner.yarn.words import set_aside_words
from studio.access import act_required, member_of, member_required
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act

PER_PAGE = 50
LONGEST_KEY = 18
GOES = ("The brief as typed, with all its numbers.", "Its place in every list and search.")
BACK_TO_THE_SHELF = "The yarn set aside for it: {yarn} go back to the shelf and are free for others."
BACK_ON_THE_SHELF = "Back on the shelf: {yarn}."
STAYS = ("Loom, yarn and all other warps.", "Copies that were made of it.")


@member_required
@require_safe
def warps(request: HttpRequest) -> HttpResponse:
    """List the warps: mine, everyone's, or the archived ones."""
    member = member_of(request)
    whose = request.GET.get("whose", "")
    whose = whose if whose in dict(WHOSE) else "mine"
    words = request.GET.get("q", "")[:100]
    keys = warps_to_show(member=member, whose=whose, text=words).values_list("pk", flat=True)
    page = Paginator(keys, PER_PAGE).get_page(request.GET.get("page"))
    projects = warps_in_order(page.object_list)
    rows = rows_of(projects, cards_issued(projects), waiting_warps(projects), member)
    context = {"page": page, "rows": rows, "whose": whose, "words": words, "choices": WHOSE}
    return render(request, "planner/sheet/warps.html", context)


@act_required(Act.PLAN_WARP)
def warp_new(request: HttpRequest) -> HttpResponse:
    """Start a warp: an empty sheet, then save it."""
    member = member_of(request)
    if request.method == "POST":
        typed = _typed(request)
        if says_nothing(typed["form"]):
            messages.warning(request, "Nothing is saved yet, since nothing is typed. What a plan needs is marked.")
            return _page(request, typed, None, status=422)
        return _saved(request, save_project(owner=member, typed=typed, by=member))
    return _page(request, blank_typed(member.reads_in, first_beam()), None, quiet=True)


@member_required
def warp(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a warp's sheet, or save it."""
    project = get_object_or_404(Project.objects.select_related("owner", "loom"), pk=pk)
    if request.method != "POST":
        return _page(request, project.typed, project)
    member = member_of(request)
    try:
        opened_at = request.POST.get("opened_at", "")
        project = save_project(
            owner=project.owner, typed=_typed(request), project=project, by=member, opened_at=opened_at
        )
    except StudioError as refused:
        messages.error(request, refused.message)
        return _page(request, _typed(request), project, status=409)
    return _saved(request, project)


@member_required
@require_http_methods(["GET", "POST"])
def plan(request: HttpRequest) -> HttpResponse:
    """Work out what stands on the sheet, without saving: the plan alone as one types, or the whole page."""
    if request.method == "GET":
        return redirect("warp-new")
    typed = _typed(request)
    if not request.htmx or request.htmx.target != "plan":  # type: ignore[attr-defined]
        return _page(request, typed, _project_named(request), quiet=True)
    warp_named = _project_named(request)
    sheet = work_sheet(typed, member_of(request).reads_in, warp_named, **_folds(request))
    context = {"sheet": sheet, "asked": "work_out" in request.POST}
    context["project"] = warp_named if sheet.two_beams else None
    response = HttpResponse(render_to_string("planner/sheet/_live.html", context))  # no page frame to ask for
    if sheet.plan is None:
        response["HX-Reswap"] = "none"  # the last good plan stays while a number is half typed
    return response


@act_required(Act.PLAN_WARP)
@require_POST
def warp_copy(request: HttpRequest, pk: int) -> HttpResponse:
    """Copy a warp to one's own, with the numbers that were tried on its sheet."""
    project = get_object_or_404(Project, pk=pk)
    typed = _typed(request) if "units" in request.POST else None
    copy = copy_project(project=project, by=member_of(request), typed=typed)
    messages.success(request, f"Copied. This is yours now: “{copy.title}”.")
    return redirect(copy)


@act_required(Act.PLAN_WARP)
@require_POST
def warp_other_beam(request: HttpRequest, pk: int) -> HttpResponse:
    """Start the sheet of the other warp beam, as one's own, from what stands on this one's sheet."""
    project = get_object_or_404(Project, pk=pk)
    typed = _typed(request) if "units" in request.POST else None
    other = start_other_beam(project=project, by=member_of(request), typed=typed)
    messages.success(request, f"This is the sheet for the other beam: “{other.title}”. Look over its beam and length.")
    return redirect(other)


@member_required
@require_POST
def warp_archive(request: HttpRequest, pk: int) -> HttpResponse:
    """Archive a warp, or restore it."""
    project = get_object_or_404(Project, pk=pk)
    away, member = request.POST.get("away") != "no", member_of(request)
    yarn = set_aside_words(project, member) if away else ""
    try:
        archive_project(project=project, by=member, away=away)
    except StudioError as refused:
        messages.error(request, refused.message)
        return redirect(project)
    done = f"“{project.title}” is {'archived' if away else 'restored'}."
    messages.success(request, f"{done} {BACK_ON_THE_SHELF.format(yarn=yarn)}" if yarn else done)
    return redirect("warps" if away else project)


@member_required
def warp_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Say what goes with a warp, then delete it."""
    project, member = get_object_or_404(Project.objects.select_related("owner"), pk=pk), member_of(request)
    yarn = set_aside_words(project, member)
    if request.method == "POST":
        try:
            delete_project(project=project, by=member)
        except StudioError as refused:
            messages.error(request, refused.message)
            return redirect(project)
        back = f" {BACK_ON_THE_SHELF.format(yarn=yarn)}" if yarn else ""
        messages.success(request, f"“{project.title}” is deleted.{back}")
        return redirect("warps")
    cards = list(cards_of(project))
    may_delete = may_change(project, member) and not cards
    goes = (*GOES, BACK_TO_THE_SHELF.format(yarn=yarn)) if yarn else GOES
    context = {"project": project, "cards": cards, "may_delete": may_delete, "goes": goes, "stays": STAYS}
    context["set_aside"] = yarn
    return render(request, "planner/sheet/warp_delete.html", context)


def _typed(request: HttpRequest) -> dict[str, Any]:
    return steered(keep_typed(request.POST), request.POST)


def _folds(request: HttpRequest) -> dict[str, bool]:
    """Say which folded parts of the plan stand open, so that a live answer must bring their words."""
    return {part: request.POST.get(part) == "open" for part in ("sums", "choices", "guide")}


def _project_named(request: HttpRequest) -> Project | None:
    """Give the warp whose sheet was sent without saving, so that its page keeps its buttons."""
    key = request.POST.get("project", "")
    if not (key.isascii() and key.isdigit() and len(key) <= LONGEST_KEY):
        return None
    return Project.objects.select_related("owner", "loom").filter(pk=key).first()


def _saved(request: HttpRequest, project: Project) -> HttpResponse:
    if project.is_draft:
        messages.warning(request, "Saved as a draft: it is kept as typed, and what it still needs is marked.")
    else:
        messages.success(request, "Saved.")
    return redirect(project)


def _page(
    request: HttpRequest, typed: dict[str, Any], project: Project | None, *, quiet: bool = False, status: int = 200
) -> HttpResponse:
    """Show the whole sheet; `quiet` leaves unmarked what is merely still empty."""
    member = member_of(request)
    sheet = work_sheet(typed, member.reads_in, project)
    marked = sheet.mistakes if quiet else (*sheet.needed, *sheet.mistakes)
    form = sheet_form(typed, member, marked)
    context = {"sheet": sheet, "form": form, "project": project, "unsaved": request.method == "POST"}
    context |= _actions(project, member, sheet)
    return render(request, "planner/sheet/warp.html", context, status=status)


def _actions(project: Project | None, member: Member, sheet: Sheet) -> dict[str, Any]:
    """Say what the member may do with the warp, and which cards it has."""
    if project is None:
        return {"save_url": reverse("warp-new"), "may_change": True, "cards": ()}
    cards = cards_with_state(project)
    return {
        "save_url": reverse("warp", args=[project.pk]),
        "may_change": may_change(project, member),
        "cards": cards,
        "may_print": may_change(project, member) and not project.is_draft and sheet.plan is not None,
        "has_yarn_page": not project.is_draft,
        "set_aside": set_aside_words(project, member),
        "reservation": reservation_of(project),
    }
