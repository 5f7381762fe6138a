"""Pages of a reservation: reserve a loom, look at what is reserved, every action with it, hours at a class warp."""

from datetime import datetime, timedelta
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_POST, require_safe

from studio.access import FormPage, act_required, member_of, posted, refuse_not_yours, submit
from studio.calendar import dressing, seat_services
from studio.calendar.actions import LOOM_ACTIONS, form_for
from studio.calendar.closing import close_loom
from studio.calendar.forms import ReserveForm, SeatForm, StepForm
from studio.calendar.preview import RequestCheck, available_actions, check_request
from studio.calendar.seat_days import hours_of_day
from studio.calendar.selectors import (
    days_in_state,
    in_the_way,
    late_on,
    seats_to_come,
    tools_along,
    who_waits,
)
from studio.calendar.services import ReservationRequest, reserve_loom
from studio.calendar.tool_weeks import taken_words
from studio.calendar.week_views import day_in
from studio.calendar.weeks import seats_on, steps_of, tools_between
from studio.care.check_selectors import checks_of, faults_met, lists_to_fill, may_fill
from studio.dates import span_words
from studio.errors import StudioError
from studio.loom_states import LoomState, ways_from
from studio.models import Loom, LoomOccupancy, Member, SeatTime
from studio.models.reservations import LONGEST_TITLE
from studio.rights import Act, may
from studio.rules.selectors import booking_rules

DAY = timedelta(days=1)
USUAL_DAYS = 28
"""What is proposed at first: four weeks (a published rule of one studio; see the rules of reserving)."""
LONGEST_DAYS = 3
"""Digits of a number of days in an address."""


@act_required(Act.RESERVE_LOOM)
def reserve(request: HttpRequest, pk: int) -> HttpResponse:
    """Reserve a loom. The button beside the days only looks whether they are free; a changed day looks by itself."""
    by, loom = member_of(request), get_object_or_404(Loom, pk=pk)
    start = {} if request.method == "POST" else _proposed(request, loom)
    form = ReserveForm(posted(request), by=by, loom=loom, initial=start)
    only_look = "look" in request.POST
    if form.is_bound and not only_look:
        done = submit(form, lambda _values: _take(request, loom, form.reservation_request(), by))
        if done is not None:
            return redirect(done)
    if only_look:
        form.forget_all_but_days()
    shown = {"loom": loom, "form": form, "check": _check(form, loom, by), "looked": only_look, "taken": _taken(form)}
    part = "_days_free" if request.headers.get("HX-Target") == "days-free" else "reserve"
    status = 422 if form.is_bound and not only_look else 200
    response = render(request, f"studio/calendar/{part}.html", shown, status=status)
    patch_vary_headers(response, ["HX-Target"])
    return response


def _take(request: HttpRequest, loom: Loom, asked: ReservationRequest, by: Member) -> LoomOccupancy | Loom:
    """Reserve or close a loom, say what came of it, and give whose page comes next."""
    if asked.kind != LoomOccupancy.Kind.OUT:
        occupancy = reserve_loom(loom=loom, request=asked, by=by)
        messages.success(request, _reserved_words(occupancy, by))
        return occupancy
    closed = close_loom(loom=loom, request=asked, by=by)
    for occupancy in closed.spans:
        messages.success(request, _reserved_words(occupancy, by))
    if closed.met:
        messages.warning(request, "Others have it too. It stands as an open fault, and they are told.")
    return loom if closed.met else closed.spans[0]


def _reserved_words(occupancy: LoomOccupancy, by: Member) -> str:
    span = span_words(occupancy.starts_on, occupancy.ends_before)
    if occupancy.kind == LoomOccupancy.Kind.OUT:
        return f"Loom {occupancy.loom} is closed, {span}."
    if occupancy.kind == LoomOccupancy.Kind.CLASS:
        return f"Loom {occupancy.loom} is kept for the class, {span}."
    whose = "yours" if occupancy.member_id == by.pk else f"reserved for {occupancy.member}"
    return f"Loom {occupancy.loom} is {whose}, {span}."


def _proposed(request: HttpRequest, loom: Loom) -> dict[str, Any]:
    """Propose what the address says: first day and how many; else four weeks, or as many days as are free."""
    first = day_in(request, "from")[0] or timezone.localdate()
    title = {"title": request.GET["title"].replace("\x00", "")[:LONGEST_TITLE]} if "title" in request.GET else {}
    if request.GET.get("kind") in LoomOccupancy.Kind.values:
        title["kind"] = request.GET["kind"]
    asked = request.GET.get("days", "")
    if asked.isascii() and asked.isdigit() and len(asked) <= LONGEST_DAYS:
        return {"starts_on": first, "last_day": first + (max(int(asked), 1) - 1) * DAY, **title}
    until = first + min(USUAL_DAYS, booking_rules().longest_days) * DAY
    other = in_the_way(loom, first, until)
    if other is not None and other.starts_on > first:
        until = other.starts_on
    return {"starts_on": first, "last_day": until - DAY, **title}


def _check(form: ReserveForm, loom: Loom, by: Member) -> RequestCheck | None:
    if not form.is_bound:
        return None
    if not form.has_days:
        return None
    request = form.reservation_request()
    return check_request(loom=loom, request=request, by=by)


def _taken(form: ReserveForm) -> tuple[str, ...]:
    """Say what could go along but is taken in the days typed, or in those proposed."""
    days = form.cleaned_data if form.is_bound and form.has_days else form.initial
    if not days:
        return ()
    return taken_words(form.tools_by_key, tools_between(days["starts_on"], days["last_day"] + DAY))


@require_safe
@act_required(Act.SEE_STUDIO)
def reservation(request: HttpRequest, pk: int) -> HttpResponse:
    return _occupancy_page(request, _found(pk))


def _found(pk: int) -> LoomOccupancy:
    people = ("loom", "member", "called_back_by", "taken_over_from__member", "made_by")
    return get_object_or_404(LoomOccupancy.objects.select_related(*people), pk=pk)


def _occupancy_page(
    request: HttpRequest, occupancy: LoomOccupancy, *, step: StepForm | None = None, seat: SeatForm | None = None
) -> HttpResponse:
    by, today = member_of(request), timezone.localdate()
    can = available_actions(occupancy, by, today)
    going = occupancy.stands and occupancy.state != LoomState.DONE
    shown = {
        "occupancy": occupancy,
        "checks": checks_of(occupancy),
        "lists_to_fill": lists_to_fill(occupancy, today) if may_fill(by, occupancy) else [],
        "actions": can,
        "ways": ways_from(occupancy.state, can.steps),
        "step_url": reverse("occupancy-take-up" if can.take_up else "occupancy-step", args=[occupancy.pk]),
        "days_in_state": days_in_state(occupancy, today),
        "days_left": (occupancy.ends_before - today).days,
        "running": going and occupancy.starts_on <= today,
        "late": late_on(occupancy.loom, today, besides=occupancy.pk) if going else None,
        "faults": faults_met(occupancy),
        "steps": steps_of(occupancy),
        "tools": tools_along(occupancy),
        "queue": who_waits(occupancy.loom),
        "step_form": step or StepForm(),
        **(_seats(request, occupancy, by, seat) if occupancy.kind == LoomOccupancy.Kind.CLASS else {}),
    }
    refused = step is not None or seat is not None
    return render(request, "studio/calendar/occupancy.html", shown, status=422 if refused else 200)


def _seats(request: HttpRequest, occupancy: LoomOccupancy, by: Member, form: SeatForm | None) -> dict[str, Any]:
    last, today = occupancy.last_day, timezone.localdate()
    day = day_in(request, "day")[0] or min(max(today, occupancy.starts_on), last)
    begins = request.GET.get("at", "")
    booked = list(seats_on(occupancy, day, day + DAY))
    own = may(by.role, Act.RESERVE_FOR_OTHERS)
    page = occupancy.get_absolute_url() if available_actions(occupancy, by, today).book_seat else ""
    return {
        "seat_day": day,
        "day_hours": hours_of_day(booked, day, page),
        "seats": [(one, own or one.member_id == by.pk) for one in booked],
        "seat_before": day - DAY if day > occupancy.starts_on else None,
        "seat_after": day + DAY if day < last else None,
        "seat_form": form or SeatForm(initial={"day": day, "begins": begins}, by=by),
    }


@require_POST
@act_required(Act.SEE_STUDIO)
def step(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a step in the work, with a note."""
    occupancy, by = _yours(request, pk)
    form = StepForm(request.POST)

    def take(values: dict[str, Any]) -> LoomOccupancy:
        if values["to"] not in available_actions(occupancy, by, timezone.localdate()).steps:
            raise StudioError("no_such_step", "That step is not open from here. Look again where the work stands.")
        return dressing.change_loom_state(occupancy=occupancy, to=values["to"], by=by, note=values["note"])

    taken = submit(form, take)
    if taken is None:
        return _occupancy_page(request, occupancy, step=form)
    messages.success(request, f"Noted: {taken.get_state_display()}.")
    return redirect(occupancy)


@require_POST
@act_required(Act.SEE_STUDIO)
def take_up(request: HttpRequest, pk: int) -> HttpResponse:
    occupancy, by = _yours(request, pk)
    form = StepForm(request.POST)
    taken = submit(form, lambda values: dressing.take_up_again(occupancy=occupancy, by=by, note=values["note"]))
    if taken is None:
        return _occupancy_page(request, occupancy, step=form)
    messages.success(request, f"The work goes on: {taken.get_state_display()}.")
    return redirect(occupancy)


@require_POST
@act_required(Act.SEE_STUDIO)
def offer(request: HttpRequest, pk: int) -> HttpResponse:
    """Offer the rest of a warp, or take the offer back."""
    occupancy, by = _yours(request, pk)
    offered = request.POST.get("offer") != "no"
    try:
        _refuse_to_offer(occupancy, offered=offered)
        dressing.offer_loom(occupancy=occupancy, by=by, open_to_take_over=offered)
    except StudioError as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, "It is open to take over." if offered else "The offer is taken back.")
    return redirect(occupancy)


def _refuse_to_offer(occupancy: LoomOccupancy, *, offered: bool) -> None:
    """Refuse to offer a loom on which nothing stays for whoever takes it over."""
    if offered and occupancy.kind == LoomOccupancy.Kind.WARP and not occupancy.is_dressed:
        raise StudioError("no_warp", "Only a loom with a warp on it can be taken over: threading and sley stay.")


def _yours(request: HttpRequest, pk: int) -> tuple[LoomOccupancy, Member]:
    """Give a reservation to whoever may touch it."""
    occupancy, by = _found(pk), member_of(request)
    try:
        refuse_not_yours(occupancy, by)
    except StudioError as refused:
        raise PermissionDenied(refused.message) from refused
    return occupancy, by


@act_required(Act.SEE_STUDIO)
def loom_action(request: HttpRequest, pk: int, word: str) -> HttpResponse:
    """Ask for what a action needs, say what it brings, and do it."""
    occupancy, by, action = _found(pk), member_of(request), LOOM_ACTIONS[word]
    if not action.allowed(available_actions(occupancy, by, timezone.localdate())):
        return _not_now(request, occupancy, by, word)
    form = form_for(action, occupancy, by)(posted(request), initial=action.starts_with(occupancy))
    new = submit(form, lambda values: action.run(occupancy, by, values)) if form.is_bound else None
    if new is not None:
        messages.success(request, action.done)
        return redirect(new)
    page = FormPage(action.title, action.button, occupancy.get_absolute_url(), action.done, lede=action.lede)
    status = 422 if form.is_bound else 200
    return render(
        request,
        "studio/calendar/action.html",
        {
            "occupancy": occupancy,
            "form": form,
            "page": page,
            "action": action,
            "hours": _hours_at_stake(occupancy, word),
        },
        status=status,
    )


def _hours_at_stake(occupancy: LoomOccupancy, word: str) -> list[SeatTime]:
    """Give the booked hours that a action cancels, or may."""
    return list(seats_to_come(occupancy, timezone.now())) if word in {"days", "cancel", "give-back"} else []


def _not_now(request: HttpRequest, occupancy: LoomOccupancy, by: Member, word: str) -> HttpResponse:
    """Say no: with 403 where role or owner forbid it, else with a sentence."""
    teaches = may(by.role, Act.RESERVE_FOR_OTHERS)
    closed = {
        "call-back": not teaches,
        "take-over": not may(by.role, Act.RESERVE_LOOM),
        "cut-off": occupancy.member_id != by.pk and not may(by.role, Act.CUT_OFF_OTHERS),
    }
    if closed.get(word, occupancy.member_id != by.pk and not teaches):
        raise PermissionDenied("This is another member's reservation, or the role does not allow it.")
    messages.error(request, "That cannot be done as the work stands now.")
    return redirect(occupancy)


@require_POST
@act_required(Act.BOOK_SEAT)
def seat_book(request: HttpRequest, pk: int) -> HttpResponse:
    """Book hours at a class warp."""
    occupancy, by = _found(pk), member_of(request)
    form = SeatForm(request.POST, by=by)
    seat = submit(
        form,
        lambda values: seat_services.book_seat(
            occupancy=occupancy, member=form.who(), starts_at=values["starts_at"], ends_at=values["ends_at"], by=by,
            note=values["note"],
        ),
    )  # fmt: skip
    if seat is None:
        return _occupancy_page(request, occupancy, seat=form)
    messages.success(request, "The hours are booked.")
    return redirect(_on_day(occupancy, seat.starts_at))


@require_POST
@act_required(Act.BOOK_SEAT)
def seat_cancel(request: HttpRequest, pk: int) -> HttpResponse:
    seat = get_object_or_404(SeatTime.objects.select_related("occupancy"), pk=pk)
    by = member_of(request)
    if seat.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise PermissionDenied("This is another member's time.")
    seat_services.cancel_seat(seat=seat, by=by)
    messages.success(request, "The hours are free again.")
    return redirect(_on_day(seat.occupancy, seat.starts_at))


def _on_day(occupancy: LoomOccupancy, moment: datetime) -> str:
    return f"{occupancy.get_absolute_url()}?day={timezone.localdate(moment).isoformat()}#hours"
