"""Pages of the yarn room's scale: find the package, do one deed, and on to the next."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse

from inventory.ledger.selectors import may_reverse, promises_on, quarantine_of
from inventory.ledger.services import Weighed
from inventory.models import Package
from inventory.scale.forms import FindForm, ScaleForm
from inventory.scale.selectors import (
    at_the_scale,
    deeds_of,
    find_packages,
    lately_moved,
    may_do,
    package_by_label,
    seen_of,
    what_was_written,
)
from inventory.scale.services import PriceToAgree, ToAgree, write_down
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
    words = form.wanted()
    labelled = package_by_label(words)
    if labelled is not None:
        return redirect(_address("package-scale", labelled.pk, form.next_deed))
    context = {
        "form": form,
        "words": words,
        "rows": rows_of(find_packages(words) if words else lately_moved()),
        "query": _query(form.next_deed),
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
    }
    return render(request, "inventory/scale/scale.html", context)


@member_required
def package_scale(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what is on a package, and write down one deed with it."""
    member = member_of(request)
    package = get_object_or_404(at_the_scale(), pk=pk)
    if request.method == "POST" and not may_do(request.POST.get("deed", ""), member):
        raise PermissionDenied("The role does not allow this deed at the scale.")
    promises = promises_on(package) if package.promised_ug else ()
    deed = request.GET.get("deed", "")
    unit = request.session.get(UNIT, "")
    form = ScaleForm(posted(request), package=package, by=member, promises=promises, deed=deed, unit=unit)
    done = submit(form, lambda _: _do(form, package, member)) if form.is_bound else None
    if isinstance(done, Weighed):
        request.session[UNIT] = form.shown_unit()
        return _written(request, done, member)
    context = {
        "form": form,
        "asked": done,
        "seen": seen_of(package),
        "package": package,
        "row": rows_of([package])[0],
        "promises": promises,
        "quarantine": quarantine_of(package) if package.quarantined else None,
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
        "deeds": deeds_of(package, member),
    }
    status = 422 if form.is_bound and done is None else 200
    return render(request, "inventory/scale/scale_package.html", context, status=status)


def _do(form: ScaleForm, package: Package, member: Member) -> Weighed | ToAgree:
    """Do the deed; a price or a reading that waits for a yes is an answer and no refusal."""
    try:
        return write_down(package=package, by=member, deed=form.wanted())
    except ToAgree as asked:
        if isinstance(asked, PriceToAgree):
            form.show_price(asked.mass_g)
        return asked


def _written(request: HttpRequest, done: Weighed, member: Member) -> HttpResponse:
    """Say what was written, and lead on to the next package with the same deed."""
    if done.move is None:
        return redirect("scale")
    reverse_url = reverse("move-reverse", args=[done.move.pk]) if may_reverse(done.move, member) else ""
    said = {"sentence": what_was_written(done.move, member.reads_in), "reverse_url": reverse_url}
    messages.success(request, render_to_string("inventory/scale/_written.html", said))
    if done.cut:
        messages.warning(request, done.cut_words(member.reads_in))
    return redirect(_address("scale", None, done.move.kind))


def _query(deed: str) -> str:
    return f"?{urlencode({'deed': deed})}" if deed else ""


def _address(name: str, pk: int | None, deed: str) -> str:
    return reverse(name, args=[] if pk is None else [pk]) + _query(deed)
