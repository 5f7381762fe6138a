"""Pages of a warp's yarn: what the shelf has for it, set it aside, give it back."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from planner.account_views import may_take, warp_named
from planner.models import Project
from planner.sheet import set_aside_words
from planner.shelf_selectors import asked_by, shelf_plan
from planner.shelf_services import give_yarn_back, set_yarn_aside
from studio.doors import member_of, needs, signed_in
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act, may

NO_PLAN = "This warp has no plan yet; what it still needs is marked. Its yarn can be looked up once it has one."


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def warp_yarn(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what the shelf has for a warp, or set aside what is proposed."""
    warp, member = warp_named(pk), member_of(request)
    if request.method != "POST":
        return _page(request, warp, member)
    _refuse_who_may_not(member)
    try:
        set_yarn_aside(warp=warp, by=member, seen=request.POST.get("seen", ""))
    except StudioError as refused:
        messages.error(request, refused.message)
        return _page(request, warp_named(pk), member, status=409)
    messages.success(
        request, "The yarn is set aside for this warp. It stays on the shelf, and nobody else can have it."
    )
    return redirect("warp-yarn", pk=pk)


@needs(Act.TAKE_YARN)
@require_http_methods(["GET", "HEAD", "POST"])
def warp_yarn_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask, then give back to the shelf all that is set aside for a warp."""
    warp, member = warp_named(pk), member_of(request)
    yarn = set_aside_words(warp, member)
    if request.method != "POST":
        context = {"warp": warp, "yarn": yarn, "may_take": may_take(warp, member)}
        return render(request, "planner/warp_yarn_back.html", context)
    try:
        give_yarn_back(warp=warp, by=member)
    except StudioError as refused:
        messages.error(request, refused.message)
    else:
        said = f"Back on the shelf: {yarn}." if yarn else "Nothing was set aside for this warp."
        messages.success(request, said)
    return redirect("warp-yarn", pk=pk)


def _refuse_who_may_not(member: Member) -> None:
    if not may(member.role, Act.TAKE_YARN):
        raise PermissionDenied(f"The role does not allow to {Act.TAKE_YARN}.")


def _page(request: HttpRequest, warp: Project, member: Member, status: int = 200) -> HttpResponse:
    if warp.is_draft:
        messages.warning(request, NO_PLAN)
        return redirect(reverse("warp", args=[warp.pk]))
    context = {
        "warp": warp,
        "plan": shelf_plan(warp, asked_by(warp)),
        "set_aside": set_aside_words(warp, member),
        "may_take": may_take(warp, member),
        "own": warp.owner_id == member.pk,
        "units": member.reads_in,
    }
    return render(request, "planner/warp_yarn.html", context, status=status)
