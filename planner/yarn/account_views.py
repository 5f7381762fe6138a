"""Pages of a warp's account with the yarn room: take out and bring back at the winding, close it at the end."""

from __future__ import annotations

from http import HTTPStatus

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from planner.models import Project
from planner.yarn.account_forms import TakingForm
from planner.yarn.account_selectors import account_of
from planner.yarn.account_services import RowsRefused, close_account, move_yarn
from planner.yarn.shelf_selectors import asked_by
from studio.access import act_required, member_of, member_required, posted
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act, may

WRITTEN = "Recorded. The account below has it."


@member_required
@require_http_methods(["GET", "HEAD", "POST"])
def warp_account(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what a warp did with its yarn, or record what is taken out and brought back."""
    warp, member = warp_named(pk), member_of(request)
    if request.method == "POST" and not may(member.role, Act.TAKE_YARN):
        raise PermissionDenied(f"The role does not allow to {Act.TAKE_YARN}.")
    account = account_of(warp, asked_by(warp))
    form = TakingForm(posted(request), account=account, by=member)
    refused = _write(request, form, warp, member) if form.is_bound else HTTPStatus.OK
    if form.is_bound and refused is HTTPStatus.OK:
        messages.success(request, WRITTEN)
        return redirect("warp-account", pk=pk)
    context = {
        "warp": warp,
        "account": account,
        "form": form,
        "may_take": may_take(warp, member),
        "own": warp.owner_id == member.pk,
        "units": member.reads_in,
    }
    return render(request, "planner/yarn/warp_account.html", context, status=refused)


def _write(request: HttpRequest, form: TakingForm, warp: Project, member: Member) -> HTTPStatus:
    """Do what the form says; what is refused stands beside its package, or above all."""
    if not form.is_valid():
        return HTTPStatus.UNPROCESSABLE_ENTITY
    try:
        move_yarn(warp=warp, takings=form.takings(), by=member, seen=request.POST.get("seen", ""))
    except RowsRefused as refused:
        form.refuse(refused.rows)
        form.add_error(None, refused.message)
        return HTTPStatus.UNPROCESSABLE_ENTITY
    except StudioError as refused:
        messages.error(request, refused.message)
        return HTTPStatus.CONFLICT
    return HTTPStatus.OK


@act_required(Act.TAKE_YARN)
@require_POST
def warp_account_close(request: HttpRequest, pk: int) -> HttpResponse:
    """Close the account of a warp: what is left of its yarn is free again."""
    try:
        close_account(warp=warp_named(pk), by=member_of(request))
    except StudioError as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, "The account is closed. What was still set aside is free again.")
    return redirect("warp-account", pk=pk)


def warp_named(pk: int) -> Project:
    """Give a warp with all that its yarn pages say of it, or not found."""
    return get_object_or_404(Project.objects.select_related("owner", "set_aside__for_member"), pk=pk)


def may_take(warp: Project, member: Member) -> bool:
    """Say whether a member may handle the yarn of a warp."""
    return may(member.role, Act.TAKE_YARN if warp.owner_id == member.pk else Act.TAKE_YARN_FOR_OTHERS)
