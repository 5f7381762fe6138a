"""Pages of a reservation: reserve a loom, look at what is reserved, every deed with it, hours at a class warp."""

from datetime import datetime, timedelta
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_POST, require_safe

from studio.access import FormPage, act_required, member_of, posted, refuse_not_yours, submit
from studio.calendar import dressing, seat_services
from studio.calendar.actions import DEEDS, form_for
from studio.calendar.closing import close_loom
from studio.calendar.forms import ReserveForm, SeatForm, StepForm
from studio.calendar.preview import Look, doable, look
from studio.calendar.seat_days import hours_of_day
from studio.calendar.selectors import (
    booking_rules,
    days_in_state,
    in_the_way,
    late_on,
    seats_to_come,
    tools_along,
    who_waits,
)
from studio.calendar.services import Wish, reserve_loom
from studio.calendar.tool_weeks import taken_words
from studio.calendar.week_views import day_in
from studio.calendar.weeks import seats_on, steps_of, tools_between
from studio.calendar.words import span_words
from studio.care.check_selectors import checks_of, faults_met, lists_to_fill, may_fill
from studio.errors import StudioError
from studio.loom_states import LoomState, ways_from
from studio.models import Loom, LoomOccupancy, Member, SeatTime
from studio.models.reservations import LONGEST_TITLE
from studio.rights import Act, may

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
        made = submit(form, lambda _values: _take(request, loom, form.wish(), by))
        if made is not None:
            return redirect(made)
    if only_look:
        form.forget_all_but_days()
    shown = {"loom": loom, "form": form, "look": _look(form, loom, by), "looked": only_look, "taken": _taken(form)}
    part = "_days_free" if request.headers.get("HX-Target") == "days-free" else "reserve"
    status = 422 if form.is_bound and not only_look else 200
    response = render(request, f"studio/calendar/{part}.html", shown, status=status)
    patch_vary_headers(response, ["HX-Target"])
    return response


def _take(request: HttpRequest, loom: Loom, wish: Wish, by: Member) -> LoomOccupancy | Loom:
    """Reserve or close a loom, say what came of it, and give whose page comes next."""
    if wish.kind != LoomOccupancy.Kind.OUT:
        made = reserve_loom(loom=loom, wish=wish, by=by)
        messages.success(request, _reserved_words(made, by))
        return made
    closed = close_loom(loom=loom, wish=wish, by=by)
    for made in closed.spans:
        messages.success(request, _reserved_words(made, by))
    if closed.met:
        messages.warning(request, "Others have it too. It stands as an open fault, and they are told.")
    return loom if closed.met else closed.spans[0]


def _reserved_words(made: LoomOccupancy, by: Member) -> str:
    span = span_words(made.starts_on, made.ends_before)
    if made.kind == LoomOccupancy.Kind.OUT:
        return f"Loom {made.loom} is closed, {span}."
    if made.kind == LoomOccupancy.Kind.CLASS:
        return f"Loom {made.loom} is kept for the class, {span}."
    return f"Loom {made.loom} is {'yours' if made.member_id == by.pk else f'reserved for {made.member}'}, {span}."


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


def _look(form: ReserveForm, loom: Loom, by: Member) -> Look | None:
    if not form.is_bound:
        return None
    if not form.has_days:
        return None
    wish = form.wish()
    return look(
        loom=loom, member=wish.member, kind=wish.kind, starts_on=wish.starts_on, ends_before=wish.ends_before,
        tools=wish.tools, by=by,
    )  # fmt: skip


def _taken(form: ReserveForm) -> tuple[str, ...]:
    """Say what could go along but is taken in the days typed, or in those proposed."""
    days = form.cleaned_data if form.is_bound and form.has_days else form.initial
    if not days:
        return ()
    return taken_words(form.tools_by_key, tools_between(days["starts_on"], days["last_day"] + DAY))


@require_safe
@act_required(Act.SEE_STUDIO)
def occupancy(request: HttpRequest, pk: int) -> HttpResponse:
    return _occupancy_page(request, _found(pk))


def _found(pk: int) -> LoomOccupancy:
    people = ("loom", "member", "called_back_by", "taken_over_from__member", "made_by")
    return get_object_or_404(LoomOccupancy.objects.select_related(*people), pk=pk)


def _occupancy_page(
    request: HttpRequest, held: LoomOccupancy, *, step: StepForm | None = None, seat: SeatForm | None = None
) -> HttpResponse:
    by, today = member_of(request), timezone.localdate()
    can = doable(held, by, today)
    shown = {
        "held": held,
        "occupancy": held,
        "checks": checks_of(held),
        "lists_to_fill": lists_to_fill(held, today) if may_fill(by, held) else [],
        "doable": can,
        "ways": ways_from(held.state, can.steps),
        "days_in_state": days_in_state(held, today),
        "days_left": (held.ends_before - today).days,
        "running": held.starts_on <= today and held.stands and held.state != LoomState.DONE,
        "late": late_on(held.loom, today, besides=held.pk) if held.stands and held.state != LoomState.DONE else None,
        "faults": faults_met(held),
        "steps": steps_of(held),
        "tools": tools_along(held),
        "queue": who_waits(held.loom),
        "step_form": step or StepForm(),
        **(_seats(request, held, by, seat) if held.kind == LoomOccupancy.Kind.CLASS else {}),
    }
    refused = step is not None or seat is not None
    return render(request, "studio/calendar/occupancy.html", shown, status=422 if refused else 200)


def _seats(request: HttpRequest, held: LoomOccupancy, by: Member, form: SeatForm | None) -> dict[str, Any]:
    last, today = held.last_day, timezone.localdate()
    day = day_in(request, "day")[0] or min(max(today, held.starts_on), last)
    begins = request.GET.get("at", "")
    booked = list(seats_on(held, day, day + DAY))
    own = may(by.role, Act.RESERVE_FOR_OTHERS)
    page = held.get_absolute_url() if doable(held, by, today).book_seat else ""
    return {
        "seat_day": day,
        "day_hours": hours_of_day(booked, day, page),
        "seats": [(one, own or one.member_id == by.pk) for one in booked],
        "seat_before": day - DAY if day > held.starts_on else None,
        "seat_after": day + DAY if day < last else None,
        "seat_form": form or SeatForm(initial={"day": day, "begins": begins}, by=by),
    }


@require_POST
@act_required(Act.SEE_STUDIO)
def step(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a step in the work, with a note."""
    held, by = _yours(request, pk)
    form = StepForm(request.POST)

    def take(values: dict[str, Any]) -> LoomOccupancy:
        if values["to"] not in doable(held, by, timezone.localdate()).steps:
            raise StudioError("no_such_step", "That step is not open from here. Look again where the work stands.")
        return dressing.change_loom_state(occupancy=held, to=values["to"], by=by, note=values["note"])

    taken = submit(form, take)
    if taken is None:
        return _occupancy_page(request, held, step=form)
    messages.success(request, f"Noted: {taken.get_state_display()}.")
    return redirect(held)


@require_POST
@act_required(Act.SEE_STUDIO)
def take_up(request: HttpRequest, pk: int) -> HttpResponse:
    held, by = _yours(request, pk)
    form = StepForm(request.POST)
    taken = submit(form, lambda values: dressing.take_up_again(occupancy=held, by=by, note=values["note"]))
    if taken is None:
        return _occupancy_page(request, held, step=form)
    messages.success(request, f"The work goes on: {taken.get_state_display()}.")
    return redirect(held)


@require_POST
@act_required(Act.SEE_STUDIO)
def offer(request: HttpRequest, pk: int) -> HttpResponse:
    """Offer the rest of a warp, or take the offer back."""
    held, by = _yours(request, pk)
    wanted = request.POST.get("offer") != "no"
    try:
        _refuse_to_offer(held, wanted=wanted)
        dressing.offer_loom(occupancy=held, by=by, open_to_take_over=wanted)
    except StudioError as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, "It is open to take over." if wanted else "The offer is taken back.")
    return redirect(held)


def _refuse_to_offer(held: LoomOccupancy, *, wanted: bool) -> None:
    """Refuse to offer a loom on which nothing stays for whoever takes it over."""
    if wanted and held.kind == LoomOccupancy.Kind.WARP and not held.is_dressed:
        raise StudioError("no_warp", "Only a loom with a warp on it can be taken over: threading and sley stay.")


def _yours(request: HttpRequest, pk: int) -> tuple[LoomOccupancy, Member]:
    """Give a reservation to whoever may touch it."""
    held, by = _found(pk), member_of(request)
    try:
        refuse_not_yours(held, by)
    except StudioError as refused:
        raise PermissionDenied(refused.message) from refused
    return held, by


@act_required(Act.SEE_STUDIO)
def deed(request: HttpRequest, pk: int, word: str) -> HttpResponse:
    """Ask for what a deed needs, say what it brings, and do it."""
    held, by, wanted = _found(pk), member_of(request), DEEDS[word]
    if not wanted.allowed(doable(held, by, timezone.localdate())):
        return _not_now(request, held, by, word)
    form = form_for(wanted, held, by)(posted(request), initial=wanted.starts_with(held))
    new = submit(form, lambda values: wanted.act(held, by, values)) if form.is_bound else None
    if new is not None:
        messages.success(request, wanted.done)
        return redirect(new)
    page = FormPage(wanted.title, wanted.button, held.get_absolute_url(), wanted.done, lede=wanted.lede)
    status = 422 if form.is_bound else 200
    return render(
        request,
        "studio/calendar/action.html",
        {"held": held, "form": form, "page": page, "deed": wanted, "hours": _hours_at_stake(held, word)},
        status=status,
    )


def _hours_at_stake(held: LoomOccupancy, word: str) -> list[SeatTime]:
    """Give the booked hours that a deed cancels, or may."""
    return list(seats_to_come(held, timezone.now())) if word in {"days", "cancel", "give-back"} else []


def _not_now(request: HttpRequest, held: LoomOccupancy, by: Member, word: str) -> HttpResponse:
    """Say no: to whose role or reservation it is not with a closed door, to the others with a sentence."""
    teaches = may(by.role, Act.RESERVE_FOR_OTHERS)
    closed = {
        "call-back": not teaches,
        "take-over": not may(by.role, Act.RESERVE_LOOM),
        "cut-off": held.member_id != by.pk and not may(by.role, Act.CUT_OFF_OTHERS),
    }
    if closed.get(word, held.member_id != by.pk and not teaches):
        raise PermissionDenied("This is another member's reservation, or the role does not allow it.")
    messages.error(request, "That cannot be done as the work stands now.")
    return redirect(held)


@require_POST
@act_required(Act.BOOK_SEAT)
def seat_book(request: HttpRequest, pk: int) -> HttpResponse:
    """Book hours at a class warp."""
    held, by = _found(pk), member_of(request)
    form = SeatForm(request.POST, by=by)
    made = submit(
        form,
        lambda values: seat_services.book_seat(
            occupancy=held, member=form.who(), starts_at=values["starts_at"], ends_at=values["ends_at"], by=by,
            note=values["note"],
        ),
    )  # fmt: skip
    if made is None:
        return _occupancy_page(request, held, seat=form)
    messages.success(request, "The hours are booked.")
    return redirect(_on_day(held, made.starts_at))


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


def _on_day(held: LoomOccupancy, moment: datetime) -> str:
    return f"{held.get_absolute_url()}?day={timezone.localdate(moment).isoformat()}#hours"
