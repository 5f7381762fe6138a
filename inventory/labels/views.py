"""Pages of yarn labels: choose packages and a sheet, then its PDF or its print page."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from inventory.labels.forms import LabelForm
from inventory.labels.selectors import MOST_LABELS, packages_to_label, weighed_last
from inventory.labels.sheets import label_of, labels_html
from inventory.shelf.selectors import rows_of
from studio.access import member_of, member_required
from studio.files.pdf import PaperUnavailable, paper_ready, render_pdf
from studio.models import Member
from studio.rules.selectors import studio_rules


@require_safe
@member_required
def choose(request: HttpRequest) -> HttpResponse:
    """Choose packages and a sheet, and see which labels that gives."""
    member = member_of(request)
    form = _form(request, member)
    packages = packages_to_label(form.query())
    context = {
        "form": form,
        "rows": rows_of(packages[:MOST_LABELS]),
        "too_many": len(packages) > MOST_LABELS,
        "most": MOST_LABELS,
        "asked": form.query().anything,
        "query": request.GET.urlencode(),
        "pdf_ready": paper_ready(),
        "units": member.reads_in,
    }
    return render(request, "inventory/labels/labels.html", context)


@require_safe
@member_required
def labels_pdf(request: HttpRequest) -> HttpResponse:
    """Give the labels as a PDF; without Pango say what mends it."""
    html = _html(request)
    if html is None:
        return _back(request)
    try:
        pdf = render_pdf(html)
    except PaperUnavailable as refused:
        messages.warning(request, refused.message)
        return _back(request)
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = 'inline; filename="yarn-labels.pdf"'
    return answer


@require_safe
@member_required
def labels_print(request: HttpRequest) -> HttpResponse:
    """Show the labels as a page for the browser's own printing."""
    html = _html(request)
    return _back(request) if html is None else HttpResponse(html)


def _form(request: HttpRequest, member: Member) -> LabelForm:
    return LabelForm(request.GET or None, paper=member.paper)


def _back(request: HttpRequest) -> HttpResponse:
    return redirect(f"{reverse('yarn-labels')}?{request.GET.urlencode()}")


def _html(request: HttpRequest) -> str | None:
    """Lay out what is asked for; None where nothing is, or too much."""
    member = member_of(request)
    form = _form(request, member)
    packages = packages_to_label(form.query())
    if not 0 < len(packages) <= MOST_LABELS:
        return None
    weighed_at = weighed_last(packages)
    labels = [label_of(package, weighed_at.get(package.pk), member.reads_in) for package in packages]
    lines = bool(form.cleaned_data["lines"])
    return labels_html(labels, form.chosen_sheet, start=form.first, lines=lines, studio=studio_rules().name)
