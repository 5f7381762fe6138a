"""Write a calendar as other programs read it: iCalendar, RFC 5545, with two words of RFC 7986.

Days are written as days and hours in UTC, so nobody has to know when a country changes its clocks. Where no METHOD is
given, DTSTAMP and LAST-MODIFIED are both the time of the last change (RFC 5545, 3.8.7.2), so an unchanged calendar is
written the same again.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from unicodedata import category
from urllib.parse import urlsplit

from django.conf import settings
from icalendar import Calendar, Event, vText

from studio.feeds.selectors import FeedContents
from studio.models import LoomOccupancy, SeatTime, ToolBooking

MAKER = "-//Warproom//Looms and times//EN"
READ_AGAIN = timedelta(hours=1)
Entry = LoomOccupancy | SeatTime | ToolBooking


def write_calendar(calendar: FeedContents, name: str) -> bytes:
    """Write all that an address shows, under a name."""
    file = Calendar()
    file.add("prodid", MAKER)
    file.add("version", "2.0")
    file.add("calscale", "GREGORIAN")
    file.add("name", vText(_clean(name)))  # of RFC 7986, so the library would not escape it
    file.add("refresh-interval", READ_AGAIN, parameters={"VALUE": "DURATION"})
    own = calendar.feed.loom_id is None
    for occupancy in calendar.occupancies:
        file.add_component(_days(occupancy, own=own))
    for seat in calendar.seats:
        about = seat.occupancy
        words = f"Weaving on loom {about.loom}" if own else f"{seat.member} weaves"
        file.add_component(_hours(seat, words, about.get_absolute_url(), [about.title, seat.note if own else ""]))
    for booking in calendar.tools:
        file.add_component(_hours(booking, _tool_words(booking), "/", [booking.note]))
    return bytes(file.to_ical())


def _days(occupancy: LoomOccupancy, *, own: bool) -> Event:
    """Write the days of a loom: from the first one up to that on which it is free again (3.6.1, half-open)."""
    event = _event(occupancy)
    event.add("dtstart", occupancy.starts_on)
    event.add("dtend", occupancy.ends_before)
    event.add("summary", _clean(_loom_words(occupancy, own=own)))
    along = [f"Also reserved: {_tool_words(tool)}" for tool in occupancy.tools.all()]
    lines = [occupancy.title, f"State: {occupancy.get_state_display()}", *along, occupancy.note if own else ""]
    _say(event, lines, occupancy.get_absolute_url())
    event.add("transp", "TRANSPARENT")  # a warp on a loom leaves its weaver's day free
    return event


def _loom_words(occupancy: LoomOccupancy, *, own: bool) -> str:
    """Say whose the loom is, as the studio's own calendar does."""
    if occupancy.kind == LoomOccupancy.Kind.OUT:
        return f"Loom {occupancy.loom} out of order"
    if own:
        return f"Loom {occupancy.loom}: {occupancy.title}"
    return f"{occupancy.member}: {occupancy.title}"


def _hours(entry: SeatTime | ToolBooking, words: str, page: str, lines: list[str]) -> Event:
    event = _event(entry)
    event.add("dtstart", entry.starts_at.astimezone(UTC))
    event.add("dtend", entry.ends_at.astimezone(UTC))
    event.add("summary", _clean(words))
    _say(event, lines, page)
    return event


def _event(entry: Entry) -> Event:
    """Write what every entry needs: its name for good, how often and when it was changed, whether it still stands."""
    event, changed = Event(), _whole_second(entry.changed_at)
    event.add("uid", f"{entry.uid}@{urlsplit(settings.BASE_URL).hostname}")
    event.add("dtstamp", changed)
    event.add("created", _whole_second(entry.made_at))
    event.add("last-modified", changed)
    event.add("sequence", entry.changes)
    event.add("class", "PRIVATE")
    event.add("status", "CONFIRMED" if entry.stands else "CANCELLED")
    return event


def _clean(words: str) -> str:
    """Leave control characters out, which no text of a calendar may hold (3.3.11, TEXT); a new line is kept."""
    lines = words.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(sign for sign in lines if sign == "\n" or category(sign) != "Cc")


def _whole_second(moment: datetime) -> datetime:
    return moment.astimezone(UTC).replace(microsecond=0)


def _say(event: Event, lines: list[str], page: str) -> None:
    event.add("description", "\n".join(_clean(words) for words in lines if words))
    event.add("url", f"{settings.BASE_URL}{page}")


def _tool_words(booking: ToolBooking) -> str:
    return f"Reed {booking.reed}" if booking.reed else str(booking.station)
