"""Private calendars: what stands in them, held against RFC 5545, and who can read them.

Sections in brackets are those of RFC 5545 (Internet Calendaring and Scheduling Core Object Specification).
"""

import re
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from studio.calendar.seat_services import cancel_seat
from studio.calendar.services import book_tool, cancel_reservation, move_reservation
from studio.errors import StudioError
from studio.feeds import services as feed_services
from studio.feeds.selectors import DAYS_CANCELLED
from studio.models import Feed, LoomOccupancy, ToolBooking
from studio.people.services import change_member
from studio.rules.services import keep_rules
from tests import cast
from tests.factories import a_reed, a_station
from tests.studio.bookings import a_class, a_free_loom, at, day, out_of_order, reserve, sit

pytestmark = pytest.mark.django_db

AWKWARD = "Towels, eight; red\\blue\nwith a very long name: " + "Leinenwäsche für die Küche " * 2
LONGEST_LINE = 75


def address(member, loom=None):
    return reverse("feed", args=[feed_services.make_feed(member=member, loom=loom)])


def read(member, loom=None):
    """Give the bytes that a calendar program gets: no session, only the address."""
    return cast.stranger().get(address(member, loom)).content


def events(member, loom=None):
    return Calendar.from_ical(read(member, loom)).walk("VEVENT")


def the_event(member, loom=None):
    (event,) = events(member, loom)
    return event


def lines_of(written):
    """Unfold as the RFC says (3.1), by hand and not with the library that wrote it."""
    return re.sub(rb"\r\n[ \t]", b"", written).decode().split("\r\n")


def value_of(written, name):
    (line,) = [line for line in lines_of(written) if re.match(rf"{name}[:;]", line)]
    return line.split(":", 1)[1]


def plain(text):
    """Undo the escapes of a TEXT (3.3.11), by hand."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], text)


def test_lines_are_folded_at_75_octets_and_end_with_cr_lf():
    # 3.1: lines SHOULD NOT be longer than 75 octets, excluding the line break, which is CRLF.
    written = read(reserve(title=AWKWARD).member)
    assert written.endswith(b"END:VCALENDAR\r\n")
    assert max(len(line) for line in written.split(b"\r\n")) <= LONGEST_LINE
    assert b"\n" not in written.replace(b"\r\n", b"")


def test_the_whole_can_be_read_as_utf_8_and_says_so():
    # 3.1.4: the charset is UTF-8; 8.1: the media type is text/calendar.
    page = cast.stranger().get(address(reserve(title=AWKWARD).member))
    assert page["Content-Type"] == "text/calendar; charset=utf-8"
    assert "Küche" in re.sub(r"\r\n ", "", page.content.decode())


def test_commas_semicolons_backslashes_and_new_lines_are_escaped_and_come_back():
    # 3.3.11: BACKSLASH, COMMA, SEMICOLON are escaped, a line break is \\n.
    made = reserve(title=AWKWARD)
    said = value_of(read(made.member), "DESCRIPTION")
    assert re.search(r"(?<!\\)[,;]", said) is None
    assert plain(said).startswith(AWKWARD)
    assert str(the_event(made.member)["DESCRIPTION"]).startswith(AWKWARD)


@pytest.mark.parametrize(
    "title", ["Towels\r\nEND:VEVENT\r\nBEGIN:VALARM", "a\x0bb\x85c\x00d", "DTSTART:20260101", "🧶" * 60]
)
def test_no_title_breaks_out_of_its_line(title):
    made = reserve(title="Towels")
    LoomOccupancy.objects.update(title=title.replace("\x00", ""))
    written = read(made.member)
    names = [line.split(":")[0].split(";")[0] for line in lines_of(written) if line]
    assert (names.count("BEGIN"), names.count("END"), names.count("DTSTART")) == (2, 2, 1)
    assert re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f]", written) is None
    assert Calendar.from_ical(written).walk("VEVENT")[0]["UID"]


def test_the_calendar_and_its_entries_have_what_they_must_have():
    # 3.6: PRODID and VERSION once each; 3.6.1: UID and DTSTAMP once each, DTSTART where there is no METHOD.
    written = read(reserve().member)
    names = [re.split("[:;]", line)[0] for line in lines_of(written)]
    assert [names.count(name) for name in ("PRODID", "VERSION", "UID", "DTSTAMP", "DTSTART", "DTEND")] == [1] * 6
    assert (value_of(written, "VERSION"), "METHOD" in names, "RRULE" in names) == ("2.0", False, False)


def test_the_name_and_how_often_to_read_stand_in_it():
    # RFC 7986, 5.1 NAME and 5.7 REFRESH-INTERVAL (which must carry VALUE=DURATION).
    keep_rules(values={"name": "Quayside; Weaving Room"})
    lines = lines_of(read(reserve().member))
    assert r"NAME:Quayside\; Weaving Room: My own times" in lines
    assert "REFRESH-INTERVAL;VALUE=DURATION:PT1H" in lines


def test_days_are_dates_and_the_end_is_the_day_after_the_last():
    # 3.6.1: DTEND of a DATE is not part of the event; 3.2.20: VALUE=DATE must be said.
    made = reserve(start=3, end=10)
    lines = lines_of(read(made.member))
    assert f"DTSTART;VALUE=DATE:{made.starts_on:%Y%m%d}" in lines
    assert f"DTEND;VALUE=DATE:{made.ends_before:%Y%m%d}" in lines
    assert (made.ends_before - made.starts_on).days == 7


# The hours at which clocks change, by law: in the United Kingdom on the last Sundays of March and October at 01:00 UTC
# (Summer Time Act 1972, as amended 2002), in New York on the second Sunday of March and the first of November at 02:00
# local time (Energy Policy Act of 2005, section 110). UTC worked out by hand from that.
SWITCHES = [
    ("Europe/London", (2027, 3, 28), (0, 30), (2, 30), "20270328T003000Z", "20270328T013000Z"),
    ("Europe/London", (2027, 10, 31), (0, 30), (2, 30), "20271030T233000Z", "20271031T023000Z"),
    ("America/New_York", (2027, 3, 14), (1, 30), (3, 30), "20270314T063000Z", "20270314T073000Z"),
    ("America/New_York", (2027, 11, 7), (0, 30), (2, 30), "20271107T043000Z", "20271107T073000Z"),
]


@pytest.mark.parametrize(("zone", "when", "start", "end", "start_utc", "end_utc"), SWITCHES)
def test_hours_across_a_change_of_clocks_are_the_hours_meant(zone, when, start, end, start_utc, end_utc, settings):
    # 3.3.5, form 2: UTC, with a Z; the outside reference is the IANA data in the standard library's zoneinfo.
    settings.TIME_ZONE = zone
    begins, ends = (datetime(*when, *clock, tzinfo=ZoneInfo(zone)) for clock in (start, end))
    someone = cast.trained_member()
    ToolBooking.objects.create(station=a_station(), member=someone, made_by=someone, starts_at=begins, ends_at=ends)
    written = read(someone)
    assert (value_of(written, "DTSTART"), value_of(written, "DTEND")) == (start_utc, end_utc)
    event = the_event(someone)
    back = [event.decoded(name).astimezone(ZoneInfo(zone)) for name in ("DTSTART", "DTEND")]
    assert [(one.date(), one.hour, one.minute) for one in back] == [(date(*when), *start), (date(*when), *end)]


@pytest.mark.parametrize(("zone", "when"), [(zone, when) for zone, when, *_ in SWITCHES])
def test_days_across_a_change_of_clocks_stay_the_same_days(zone, when, settings, time_machine):
    settings.TIME_ZONE = zone
    time_machine.move_to(datetime(*when, 12, tzinfo=ZoneInfo(zone)) - timedelta(days=1))
    made = reserve(start=0, end=2)
    event = the_event(made.member)
    assert (event.decoded("DTSTART"), event.decoded("DTEND")) == (made.starts_on, date(*when) + timedelta(days=1))


def test_a_change_keeps_the_name_and_counts_up(time_machine):
    # 3.8.4.7 UID stays for good; 3.8.7.4 SEQUENCE goes up; 3.8.7.3 LAST-MODIFIED and 3.8.7.2 DTSTAMP tell when.
    made = reserve()
    before = the_event(made.member)
    later = timezone.now().replace(microsecond=0) + timedelta(hours=2)
    time_machine.move_to(later, tick=False)
    move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(30), by=made.member)
    after = the_event(made.member)
    assert before["UID"] == after["UID"] == f"{made.uid}@testserver"
    assert (before["SEQUENCE"], after["SEQUENCE"]) == (0, 1)
    assert before.decoded("DTSTAMP") < after.decoded("DTSTAMP") == after.decoded("LAST-MODIFIED") == later
    assert after.decoded("DTSTAMP").utcoffset() == timedelta(0)


def test_what_is_cancelled_is_told_as_cancelled_and_then_forgotten(time_machine):
    # 3.8.1.11: STATUS of a VEVENT is TENTATIVE, CONFIRMED or CANCELLED.
    made = reserve(start=100, end=120)
    kept = the_event(made.member)
    cancel_reservation(occupancy=made, by=made.member)
    gone = the_event(made.member)
    assert (kept["STATUS"], gone["STATUS"]) == ("CONFIRMED", "CANCELLED")
    assert (kept["UID"], kept["SEQUENCE"] < gone["SEQUENCE"]) == (gone["UID"], True)
    time_machine.move_to(timezone.now() + timedelta(days=DAYS_CANCELLED + 1))
    assert events(made.member) == []


def test_what_ended_long_ago_falls_out(time_machine):
    made = reserve()
    time_machine.move_to(timezone.now() + timedelta(days=27 + 180))
    assert len(events(made.member)) == 1
    time_machine.move_to(timezone.now() + timedelta(days=2))
    assert events(made.member) == []


def test_an_entry_leads_to_its_page():
    # 3.8.4.6: a URI of a page about the event.
    made = reserve()
    assert the_event(made.member)["URL"] == f"http://testserver{made.get_absolute_url()}"


def test_a_member_reads_her_looms_her_hours_and_her_tools_and_nobody_elses():
    someone, other = cast.new_member(), cast.teacher()
    lesson = a_class(by=other)
    sit(lesson, someone, 10, 12)
    sit(lesson, cast.trained_member(), 13, 14)
    reserve(member=cast.steward())
    book_tool(tool=a_station(name="Long board"), member=someone, starts_at=at(2, 9), ends_at=at(2, 11), by=someone)
    book_tool(tool=a_reed(), member=other, starts_at=at(2, 9), ends_at=at(2, 11), by=other)
    assert {str(event["SUMMARY"]) for event in events(someone)} == {f"Weaving on loom {lesson.loom}", "Long board"}


def test_what_goes_along_is_told_with_its_loom():
    made = reserve(tools=[a_reed()], note="Bring the black shuttle")
    (event,) = events(made.member)
    assert event["DESCRIPTION"].split("\n")[1:] == [
        "State: reserved", f"Also reserved: Reed {made.tools.get().reed}", "Bring the black shuttle",
    ]  # fmt: skip


def test_the_calendar_of_a_loom_says_whose_it_is_and_keeps_notes_to_their_owner():
    loom, reader = a_free_loom(), cast.guest()
    reserve(loom, note="My knee hurts")
    lesson = a_class(loom, start=30, end=60)
    sit(lesson, reader, 10, 12, day_number=31)
    out_of_order(loom, start=70, end=80)
    reserve(member=cast.trained_member("another"), loom=a_free_loom(nickname="elsewhere"))
    found = events(reader, loom)
    assert [str(event["SUMMARY"]) for event in found] == [
        "the trained member: Towels", "the teacher: Evening class", f"Loom {loom} out of order", "the guest weaves",
    ]  # fmt: skip
    assert not [event for event in found if "knee" in event["DESCRIPTION"]]


def test_hours_given_up_are_told_as_cancelled():
    lesson, someone = a_class(), cast.new_member()
    cancel_seat(seat=sit(lesson, someone, 10, 12), by=someone)
    assert the_event(someone)["STATUS"] == "CANCELLED"


@pytest.mark.parametrize("rows", [1, 12])
def test_a_calendar_asks_as_often_for_many_as_for_few(rows, django_assert_num_queries):
    someone = cast.steward()
    lesson = a_class(by=someone)
    for number in range(rows):
        out_of_order(by=someone)
        sit(lesson, someone, 8 + number, 9 + number)
        book_tool(tool=a_reed(), member=someone, starts_at=at(2, 9), ends_at=at(2, 11), by=someone)
    target = address(someone)
    cast.stranger().get(target)
    with django_assert_num_queries(6):
        assert cast.stranger().get(target).content.count(b"BEGIN:VEVENT") == rows * 3 + 1


def test_an_unchanged_calendar_is_not_sent_again():
    # RFC 9110, 13.1.2 If-None-Match is compared weakly, and 15.4.5 a 304 repeats ETag and Cache-Control.
    made = reserve()
    target = address(made.member)
    tag = cast.stranger().get(target)["ETag"]
    for known in (tag, f"W/{tag}"):
        again = cast.stranger().get(target, headers={"If-None-Match": known})
        assert (again.status_code, again.content, again["ETag"]) == (304, b"", tag)
        assert again["Cache-Control"] == "private, no-cache"
    move_reservation(occupancy=made, starts_on=made.starts_on, ends_before=day(30), by=made.member)
    fresh = cast.stranger().get(target, headers={"If-None-Match": tag})
    assert (fresh.status_code, fresh["ETag"] == tag) == (200, False)


def test_no_cache_in_between_and_no_search_engine_keeps_it():
    page = cast.stranger().get(address(cast.guest()))
    assert (page["Cache-Control"], page["X-Robots-Tag"]) == ("private, no-cache", "noindex, nofollow")
    assert "Set-Cookie" not in page


def test_the_address_is_kept_as_a_hash_only():
    someone = cast.guest()
    secret = feed_services.make_feed(member=someone)
    kept = Feed.objects.values().get()
    assert secret not in str(kept)
    assert len(secret) >= 43  # 32 random bytes


def test_an_address_made_anew_closes_the_old_one():
    someone, loom = cast.guest(), a_free_loom()
    other = address(someone, loom)
    old, new = address(someone), address(someone)
    assert [cast.stranger().get(one).status_code for one in (old, new, other)] == [404, 200, 200]


def test_an_address_taken_back_leads_nowhere_and_anothers_stays():
    someone, other = cast.guest(), cast.new_member()
    mine, theirs = address(someone), address(other)
    for feed in Feed.objects.all():
        cast.as_(someone).post(reverse("feed-revoke", args=[feed.pk]))
    assert [cast.stranger().get(one).status_code for one in (mine, theirs)] == [404, 200]


def test_a_member_who_may_not_sign_in_has_no_calendar():
    steward, someone = cast.steward(), cast.guest()
    target = address(someone)
    change_member(member=someone, values={"may_sign_in": False})
    assert (cast.stranger().get(target).status_code, steward.pk > 0) == (404, True)


def test_a_calendar_is_only_read():
    assert cast.stranger().post(address(cast.guest())).status_code == 405


@pytest.mark.parametrize("secret", ["x", "%00", "%C3%A9", "a" * 3000, "..", "%27%20OR%201=1--", "%2e%2e%2fsettings"])
def test_a_guessed_address_is_not_found(secret):
    address(cast.guest())
    assert cast.stranger().get(f"/calendars/{secret}.ics").status_code == 404


def test_the_address_is_shown_once_and_the_list_tells_when_it_was_read(time_machine):
    someone = cast.guest()
    made = cast.as_(someone).post(reverse("my-feeds"), {"loom": ""})
    target = made.context["address"]
    assert target.startswith("http://testserver/calendars/")
    assert target in made.content.decode()
    assert cast.stranger().get(target).status_code == 200
    after = cast.as_(someone).get(reverse("my-feeds")).content.decode()
    assert (target in after, "last read" in after, "My own times" in after) == (False, True, True)


def test_a_loom_is_chosen_by_its_link():
    loom = a_free_loom()
    page = cast.as_(cast.guest()).get(reverse("my-feeds"), {"loom": loom.pk})
    assert f'value="{loom.pk}" selected' in page.content.decode()


@pytest.mark.parametrize("loom", ["99999", "x", "-1", "9" * 40, "\x00", "<b>"])
def test_a_loom_nobody_has_is_refused_beside_its_box(loom):
    browser = cast.as_(cast.guest())
    assert browser.post(reverse("my-feeds"), {"loom": loom}).status_code == 422
    assert browser.get(reverse("my-feeds"), {"loom": loom}).status_code == 200
    assert not Feed.objects.exists()


def test_nobody_keeps_addresses_without_end(monkeypatch):
    monkeypatch.setattr(feed_services, "MOST_FEEDS", 1)
    someone = cast.guest()
    feed_services.make_feed(member=someone)
    with pytest.raises(StudioError, match="Take back one"):
        feed_services.make_feed(member=someone, loom=a_free_loom())


@pytest.mark.parametrize("name", ["my-feeds"])
def test_a_stranger_makes_no_address(name):
    assert cast.stranger().post(reverse(name), {"loom": ""}).status_code == 302
    assert not Feed.objects.exists()
