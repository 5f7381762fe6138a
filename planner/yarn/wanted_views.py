"""Pages of the wanted list: what the studio's warps lack, for whoever goes to the shop."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from http import HTTPStatus
from types import MappingProxyType

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from planner.models import Wanted
from planner.yarn.shelf_forms import WantForm
from planner.yarn.wanted_forms import pages_of
from planner.yarn.wanted_selectors import wanted_list
from planner.yarn.wanted_services import drop_wanted, expect_yarn, order_yarn, yarn_has_come
from studio.access import member_of, member_required, submit
from studio.models import Member

DONE: Mapping[str, str] = MappingProxyType({
    "expect": "Saved.",
    "order": "Marked as ordered.",
    "come": "Off the list: it has come. Set it aside for its warp, so that it is there when it is wound.",
    "drop": "Dropped from the list.",
})  # fmt: skip


@member_required
@require_safe
def wanted(request: HttpRequest) -> HttpResponse:
    """List the yarn that warps lack, by yarn, with what to buy of each."""
    return _page(request, member_of(request))


@member_required
@require_POST
def wanted_change(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a request its day, mark it ordered or come, or drop it."""
    member, row = member_of(request), get_object_or_404(Wanted.objects.select_related("project"), pk=pk)
    action = request.POST.get("action", "")
    form = WantForm(request.POST, auto_id=f"wanted-{pk}-%s")
    do = _DO.get(action, _expect)
    if submit(form, lambda _: do(row, form, member)) is None:
        for sentence in form.non_field_errors():
            messages.error(request, str(sentence))
        status = HTTPStatus.CONFLICT if form.non_field_errors() else HTTPStatus.UNPROCESSABLE_ENTITY
        return _page(request, member, {pk: form}, status)
    messages.success(request, DONE.get(action, DONE["expect"]))
    return redirect("wanted")


def _page(
    request: HttpRequest,
    member: Member,
    failed: Mapping[int, WantForm] | None = None,
    status: HTTPStatus = HTTPStatus.OK,
) -> HttpResponse:
    context = {"groups": pages_of(wanted_list(), member, failed or {}), "units": member.reads_in}
    return render(request, "planner/yarn/wanted.html", context, status=status)


def _expect(row: Wanted, form: WantForm, by: Member) -> Wanted:
    return expect_yarn(wanted=row, by=by, **form.cleaned_data)


def _order(row: Wanted, form: WantForm, by: Member) -> Wanted:
    return order_yarn(wanted=row, by=by, **form.cleaned_data)


def _come(row: Wanted, _form: WantForm, by: Member) -> Wanted:
    return yarn_has_come(wanted=row, by=by)


def _drop(row: Wanted, _form: WantForm, by: Member) -> bool:
    drop_wanted(wanted=row, by=by)
    return True


_DO: Mapping[str, Callable[[Wanted, WantForm, Member], object]] = MappingProxyType(
    {"expect": _expect, "order": _order, "come": _come, "drop": _drop}
)
