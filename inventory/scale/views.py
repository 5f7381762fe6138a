"""Pages of the yarn room's scale: find the package, write one stock movement, and on to the next."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse

from inventory.ledger.selectors import may_reverse, promises_on, quarantine_of
from inventory.ledger.services import MoveResult
from inventory.models import Package
from inventory.scale.forms import FindForm, ScaleForm
from inventory.scale.selectors import (
    actions_on,
    find_packages,
    lately_moved,
    latest_move_of,
    may_do,
    move_sentence,
    package_by_label,
    with_latest_move,
)
from inventory.scale.services import PriceToConfirm, ToConfirm, record_movement
from inventory.shelf.selectors import rows_of
from studio.access import member_of, member_required, posted, submit
from studio.models import Member
from studio.rights import Act, may

UNIT = "unit_of_the_scale"
"""Where a session keeps what unit the scale last showed: a code on a label leads here without any words."""


@member_required
def scale(request: HttpRequest) -> HttpResponse:
    """Find a package by its number or by words; a number on a label leads straight to its package."""
    member = member_of(request)
    form = FindForm(request.GET)
    words = form.search_words()
    labelled = package_by_label(words)
    if labelled is not None:
        return redirect(_address("package-scale", labelled.pk, form.next_kind))
    context = {
        "form": form,
        "words": words,
        "rows": rows_of(find_packages(words) if words else lately_moved()),
        "query": _query(form.next_kind),
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
    }
    return render(request, "inventory/scale/scale.html", context)


@member_required
def package_scale(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what is on a package, and write one stock movement of it."""
    member = member_of(request)
    package = get_object_or_404(with_latest_move(), pk=pk)
    if request.method == "POST" and not may_do(request.POST.get("kind", ""), member):
        raise PermissionDenied("The role does not allow this stock movement at the scale.")
    promises = promises_on(package) if package.promised_ug else ()
    kind = request.GET.get("kind", "")
    unit = request.session.get(UNIT, "")
    form = ScaleForm(posted(request), package=package, by=member, promises=promises, kind=kind, unit=unit)
    result = submit(form, lambda _: _record(form, package, member)) if form.is_bound else None
    if isinstance(result, MoveResult):
        request.session[UNIT] = form.shown_unit()
        return _written(request, result, member)
    context = {
        "form": form,
        "asked": result,
        "seen": latest_move_of(package),
        "package": package,
        "row": rows_of([package])[0],
        "promises": promises,
        "quarantine": quarantine_of(package) if package.quarantined else None,
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
        "actions": actions_on(package, member),
    }
    status = 422 if form.is_bound and result is None else 200
    return render(request, "inventory/scale/scale_package.html", context, status=status)


def _record(form: ScaleForm, package: Package, member: Member) -> MoveResult | ToConfirm:
    """Write it; a price or a reading that waits for a yes is an answer and no refusal."""
    try:
        return record_movement(package=package, by=member, movement=form.movement())
    except ToConfirm as asked:
        if isinstance(asked, PriceToConfirm):
            form.show_price(asked.mass_g)
        return asked


def _written(request: HttpRequest, result: MoveResult, member: Member) -> HttpResponse:
    """Say what was written, and lead on to the next package with the same action."""
    if result.move is None:
        return redirect("scale")
    reverse_url = reverse("move-reverse", args=[result.move.pk]) if may_reverse(result.move, member) else ""
    context = {"sentence": move_sentence(result.move, member.reads_in), "reverse_url": reverse_url}
    messages.success(request, render_to_string("inventory/scale/_written.html", context))
    if result.cut:
        messages.warning(request, result.cut_words(member.reads_in))
    return redirect(_address("scale", None, result.move.kind))


def _query(kind: str) -> str:
    return f"?{urlencode({'kind': kind})}" if kind else ""


def _address(name: str, pk: int | None, kind: str) -> str:
    return reverse(name, args=[] if pk is None else [pk]) + _query(kind)
