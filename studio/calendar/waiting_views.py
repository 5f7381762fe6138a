"""Pages of the waiting list for a loom, and of tools by the hour."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.calendar.forms import QueueForm, ToolForm
from studio.calendar.services import book_tool, cancel_tool, leave_queue, wait_for_loom
from studio.models import Loom, QueuePlace, ToolBooking
from studio.rights import Act, may


@act_required(Act.RESERVE_LOOM)
def queue_join(request: HttpRequest, pk: int) -> HttpResponse:
    member, loom = member_of(request), get_object_or_404(Loom, pk=pk)
    form = QueueForm(posted(request))
    page = FormPage(
        f"Waiting list for loom {loom}", "Join", loom.get_absolute_url(), "You are on the waiting list.",
        lede="First come, first told. A place on the waiting list reserves nothing yet; who waits keeps others from "
        "extending their time, where the rules say so.",
    )  # fmt: skip
    return answer_form(request, form, page, lambda values: wait_for_loom(loom=loom, member=member, **values))


@require_POST
@act_required(Act.RESERVE_LOOM)
def queue_leave(request: HttpRequest, pk: int) -> HttpResponse:
    place, by = get_object_or_404(QueuePlace.objects.select_related("loom"), pk=pk), member_of(request)
    if place.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise PermissionDenied("This is another member's place.")
    leave_queue(place=place, by=by)
    messages.success(request, f"The place on the waiting list for loom {place.loom} is given up.")
    return redirect(place.loom)


@act_required(Act.RESERVE_LOOM)
def tool_book(request: HttpRequest) -> HttpResponse:
    by = member_of(request)
    asked = {"tool": request.GET.get("tool", ""), "day": request.GET.get("day", ""), "begins": "10:00", "ends": "13:00"}
    form = ToolForm(posted(request), by=by, initial=asked)
    page = FormPage("Book a board or another tool", "Book these hours", reverse("tools-week"), "The hours are booked.",
        lede="Hours on one day. Until 00:00 is until the end of the day.",
    )  # fmt: skip
    return answer_form(
        request, form, page,
        lambda values: book_tool(
            tool=form.which(), member=form.who(), starts_at=values["starts_at"], ends_at=values["ends_at"], by=by,
            note=values["note"],
        ),
    )  # fmt: skip


@require_POST
@act_required(Act.RESERVE_LOOM)
def tool_cancel(request: HttpRequest, pk: int) -> HttpResponse:
    booking, by = get_object_or_404(ToolBooking, pk=pk), member_of(request)
    if booking.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise PermissionDenied("This is another member's booking.")
    cancel_tool(booking=booking, by=by)
    messages.success(request, "The tool is free again.")
    return redirect(f"{reverse('tools-week')}?from={timezone.localdate(booking.starts_at).isoformat()}")
