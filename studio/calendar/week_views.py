"""Pages that look at the calendar: the week, the month, free looms, the week of tools."""

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.utils.dateparse import parse_date
from django.views.decorators.http import require_safe

from studio.access import act_required, member_of
from studio.calendar.forms import FreeForm
from studio.calendar.loom_weeks import FIRST_DAY, LAST_DAY, LOOKS, CalendarRequest, month_of, week_of
from studio.calendar.selectors import Opening, openings
from studio.calendar.tool_weeks import tool_week
from studio.dates import days_words
from studio.models import Loom
from studio.rights import Act, may

LONGEST_NUMBER = 4
LONGEST_SAID = 40


@require_safe
@act_required(Act.SEE_STUDIO)
def week(request: HttpRequest) -> HttpResponse:
    asked, shown = _asked(request)
    return render(request, "studio/calendar/loom_week.html", {"calendar": week_of(asked), "here": "week", **shown})


@require_safe
@act_required(Act.SEE_STUDIO)
def month(request: HttpRequest) -> HttpResponse:
    asked, shown = _asked(request)
    return render(request, "studio/calendar/loom_week.html", {"calendar": month_of(asked), "here": "month", **shown})


def _asked(request: HttpRequest) -> tuple[CalendarRequest, dict[str, Any]]:
    """Read the address; a day that is none shows today, and says so."""
    day, wrong = day_in(request, "from")
    today = timezone.localdate()
    number = request.GET.get("loom", "")
    is_number = number.isascii() and number.isdigit() and len(number) <= LONGEST_NUMBER
    member = member_of(request)
    asked = CalendarRequest(
        day=day or today, today=today, loom_number=int(number) if is_number else None, member=member,
        may_reserve=may(member.role, Act.RESERVE_LOOM),
    )  # fmt: skip
    looks = [(look, word) for look, word in LOOKS.items() if look != "done"]
    return asked, {
        "today": today,
        "wrong_day": wrong,
        "looks": looks,
        "asked_day": asked.day,
        "loom_number": number if is_number else "",
    }


def day_in(request: HttpRequest, name: str) -> tuple[date | None, str]:
    """Read a day from the address: the day, or nothing and what was typed instead."""
    text = request.GET.get(name, "").strip()
    if not text:
        return None, ""
    try:
        day = parse_date(text)
    except ValueError:
        day = None
    if day is None or not FIRST_DAY <= day <= LAST_DAY:
        return None, text[:LONGEST_SAID].replace("\x00", "?")
    return day, ""


@require_safe
@act_required(Act.SEE_STUDIO)
def free(request: HttpRequest) -> HttpResponse:
    """Find looms by what they can take and when they are free; a changed form fetches the rows alone."""
    member = member_of(request)
    start = {"starts_on": timezone.localdate(), "many": 4, "per": "week"}
    typed = {**{name: str(value) for name, value in start.items()}, **request.GET.dict()}
    form = FreeForm(typed, units=member.reads_in)
    found = _found(form.cleaned_data) if form.is_valid() else None
    shown = {"form": form, "found": found, "may_reserve": may(member.role, Act.RESERVE_LOOM), "units": member.reads_in}
    part = "_free_looms" if request.headers.get("HX-Target") == "openings" else "free_looms"
    response = render(request, f"studio/calendar/{part}.html", shown, status=200 if form.is_valid() else 422)
    patch_vary_headers(response, ["HX-Target"])
    return response


def _found(asked: dict[str, Any]) -> dict[str, Any]:
    looms = Loom.objects.in_use()
    if asked["beam"]:
        looms = looms.filter(pk__in=Loom.objects.filter(beams__kind=asked["beam"]))
    if asked["width_cm"]:
        looms = looms.filter(weaving_width_cm__gte=asked["width_cm"])
    if asked["shafts"]:
        looms = looms.filter(shafts__gte=asked["shafts"])
    first, days = asked["starts_on"], asked["days"]
    choices = openings(looms, days, first)
    later = sorted((one for one in choices if one.starts_on > first), key=_by_day)
    return {
        "now": [one for one in choices if one.starts_on == first],
        "later": later,
        "days": days_words(days),
        "many": days,
    }


def _by_day(opening: Opening) -> tuple[date, int]:
    return opening.starts_on, opening.loom.number


@require_safe
@act_required(Act.SEE_STUDIO)
def tools(request: HttpRequest) -> HttpResponse:
    day, wrong = day_in(request, "from")
    today = timezone.localdate()
    shown = {
        "week": tool_week(day or today, today, member_of(request)),
        "wrong_day": wrong,
        "asked_day": day or today,
        "today": today,
        "may_book": may(member_of(request).role, Act.RESERVE_LOOM),
    }
    return render(request, "studio/calendar/tool_week.html", shown)
