"""Pages of files: download the packages, send a file in, look at what it would do, and only then keep it."""

from __future__ import annotations

from functools import partial
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from inventory.files.forms import FileForm
from inventory.files.plan import CORRECTED, SAME, ImportPlan, import_plan
from inventory.files.selectors import HEADINGS, all_rows, the_book
from inventory.files.services import import_file, import_words, stage_file, table_of
from inventory.files.spreadsheets import FileRefused, write_table
from inventory.models import FileSent
from studio.access import act_required, member_of, posted, submit
from studio.errors import StudioError
from studio.models import Member
from studio.rights import Act

ROWS_ON_A_PAGE = 100
CONTENT_TYPES = {
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


@act_required(Act.EDIT_YARN)
def yarn_file(request: HttpRequest) -> HttpResponse:
    """Offer the packages as a file, and take one in to be looked at."""
    member = member_of(request)
    files = request.FILES if request.method == "POST" else None
    form = FileForm(posted(request), files, units=member.reads_in)
    sent = submit(form, partial(_stage, member)) if form.is_bound else None
    if sent is not None:
        return redirect("yarn-file-seen", sent.key)
    context = {"form": form, "headings": HEADINGS.values()}
    return render(request, "inventory/files/yarn_file.html", context, status=422 if form.is_bound else 200)


def _stage(member: Member, values: dict[str, Any]) -> FileSent:
    """Keep the file waiting; what is wrong with it as a whole is said beside its box."""
    file = values["file"]
    try:
        return stage_file(name=file.name, content=file.read(), mass_unit=values["mass_unit"], member=member)
    except FileRefused as refused:
        raise ValidationError({"file": refused.message}) from refused


@act_required(Act.EDIT_YARN)
@require_safe
def yarn_file_down(request: HttpRequest, kind: str) -> HttpResponse:
    """Give all packages, and the yarns that have none, as a file."""
    content = write_table(list(HEADINGS.values()), all_rows(), kind)
    answer = HttpResponse(content, content_type=CONTENT_TYPES[kind])
    answer["Content-Disposition"] = f'attachment; filename="packages-{timezone.localdate().isoformat()}.{kind}"'
    answer["Cache-Control"] = "private, no-store"
    return answer


@act_required(Act.EDIT_YARN)
def yarn_file_seen(request: HttpRequest, key: str) -> HttpResponse:
    """Show every row of a file and what it would do; keep it once that is agreed to."""
    member = member_of(request)
    sent = get_object_or_404(FileSent, key=key, member=member)
    try:
        if request.method == "POST":
            messages.success(request, _keep(request, sent, member))
            return redirect("yarn-file")
        plan = import_plan(table_of(sent), the_book(), sent.mass_unit)
    except FileRefused as refused:
        messages.warning(request, f"{refused.message} {sent.said}".strip())
        return redirect("yarn-file")
    except StudioError as refused:
        if refused.code != "kept_already":
            messages.error(request, refused.message)
        return redirect("yarn-file-seen", sent.key)
    return render(request, "inventory/files/yarn_file_seen.html", _shown(request, sent, plan))


def _keep(request: HttpRequest, sent: FileSent, member: Member) -> str:
    good_only = request.POST.get("what") == "good"
    seen = request.POST.get("seen", "")
    return f"{sent.name}. {import_file(sent=sent, by=member, seen=seen, good_only=good_only)}"


def _shown(request: HttpRequest, sent: FileSent, plan: ImportPlan) -> dict[str, Any]:
    only = request.GET.get("show", "")
    rows = {"wrong": plan.wrong, "good": plan.good}.get(only, list(plan.rows))
    before = FileSent.objects.filter(digest=sent.digest, kept_at__isnull=False).select_related("member").first()
    return {
        "sent": sent,
        "plan": plan,
        "page": Paginator(rows, ROWS_ON_A_PAGE).get_page(request.GET.get("page")),
        "only": only,
        "before": before,
        "same": len(plan.of(SAME)),
        "put_right": len(plan.of(CORRECTED)),
        "would_do": import_words(plan),
    }
