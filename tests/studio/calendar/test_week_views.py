"""The calendar's pages: who has which loom by week and month, which are free, and the week of tools."""

from datetime import date

import pytest
import time_machine
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.calendar.dressing import change_loom_state, put_on_hold
from studio.calendar.services import book_tool
from tests import cast, factories
from tests.studio import bookings as calendar

pytestmark = pytest.mark.django_db

WEDNESDAY = "2026-11-25T10:00:00+00:00"
PAGES = ["week", "month", "free-looms", "tools-week"]
BAD_DAYS = ["0000-00-00", "9999-12-31", "0001-01-01", "1999-12-31", "2026-02-30", "soon", "\x00", "9" * 400]


@pytest.fixture
def wednesday():
    with time_machine.travel(WEDNESDAY, tick=False):
        yield


def get(someone, name, **query):
    return cast.as_(someone).get(reverse(name), query)


def cells_of(page, at=0):
    return [(cell.look, cell.days) for cell in page.context["calendar"].rows[at].cells]


@pytest.mark.parametrize("name", PAGES)
def test_a_stranger_is_asked_to_sign_in(name):
    assertRedirects(cast.stranger().get(reverse(name)), f"{reverse('sign-in')}?next={reverse(name)}")


@pytest.mark.parametrize("name", PAGES)
def test_a_guest_may_look(name):
    calendar.reserve()
    assert get(cast.guest(), name).status_code == 200


@pytest.mark.parametrize("name", PAGES)
def test_an_empty_house_has_its_pages(name):
    assert get(cast.steward(), name).status_code == 200


@pytest.mark.parametrize("name", PAGES)
def test_no_page_has_a_style_attribute_for_the_content_policy_to_refuse(name):
    calendar.reserve(title="Two & <b>one</b>")
    page = get(cast.steward(), name)
    assertNotContains(page, " style=")
    assertNotContains(page, "<b>one</b>")


@pytest.mark.usefixtures("wednesday")
class TestTheWeek:
    def test_it_runs_from_monday_to_sunday_with_its_number(self):
        # ISO 8601: weeks begin on Monday, and the week with 26 November 2026 in it is number 48.
        page = get(cast.guest(), "week", **{"from": "2026-11-29"})
        days = [head.day for head in page.context["calendar"].days]
        assert (days[0], days[-1]) == (date(2026, 11, 23), date(2026, 11, 29))
        assertContains(page, "23 to 29 November 2026, week 48")

    def test_a_span_lies_over_its_days_and_says_what_who_and_how_it_stands(self):
        calendar.reserve(start=1, end=3)
        page = get(cast.guest(), "week")
        assert cells_of(page) == [("free", 1)] * 3 + [("reserved", 2)] + [("free", 1)] * 2
        for words in ("Towels", "the trained member", "reserved", "26 to 27 November 2026"):
            assertContains(page, words)

    def test_a_span_that_began_before_and_goes_on_fills_the_row(self):
        calendar.reserve(start=0, end=28)
        (cell,) = get(cast.guest(), "week", **{"from": "2026-12-02"}).context["calendar"].rows[0].cells
        assert (cell.days, cell.from_before, cell.goes_on) == (7, True, True)

    def test_who_ends_on_a_monday_is_not_in_that_week(self):
        calendar.reserve(start=0, end=5)
        assert cells_of(get(cast.guest(), "week", **{"from": "2026-11-30"})) == [("free", 1)] * 7

    def test_what_was_cancelled_is_gone(self):
        occupancy = calendar.reserve()
        cast.as_(occupancy.member).post(reverse("occupancy-cancel", args=[occupancy.pk]))
        assert cells_of(get(cast.guest(), "week")) == [("free", 1)] * 7

    def test_each_kind_has_its_own_look(self):
        someone = cast.steward()
        looms = [calendar.a_free_loom() for _ in range(5)]
        calendar.reserve(looms[0], someone, title="Reserved")
        dressed = calendar.reserve(looms[1], someone, title="Dressed")
        change_loom_state(occupancy=dressed, to="beaming", by=someone)
        occupancy = calendar.reserve(looms[2], someone, title="Held")
        change_loom_state(occupancy=occupancy, to="beaming", by=someone)
        put_on_hold(occupancy=occupancy, review_on=calendar.day(3), by=someone)
        calendar.a_class(looms[3], someone)
        calendar.out_of_order(looms[4], someone)
        page = get(cast.guest(), "week")
        assert [cells_of(page, at)[-1][0] for at in range(5)] == ["reserved", "dressed", "hold", "class", "out"]
        for words in ("beaming", "on hold", "class, reserved", "out of order"):
            assertContains(page, f"<i>{words}</i>")

    def test_a_free_day_leads_to_a_reservation_from_that_day_but_no_past_one(self):
        loom = calendar.a_free_loom()
        page = get(cast.new_member(), "week")
        base = reverse("reserve", args=[loom.pk])
        urls = [cell.reserve_url for cell in page.context["calendar"].rows[0].cells]
        assert urls == ["", "", *(f"{base}?from=2026-11-{day}" for day in (25, 26, 27, 28, 29))]
        assertContains(page, f'href="{base}?from=2026-11-28"')

    def test_a_guest_is_offered_no_reservation(self):
        loom = calendar.a_free_loom()
        assertNotContains(get(cast.guest(), "week"), reverse("reserve", args=[loom.pk]))

    def test_an_overdue_loom_says_so_though_its_days_are_over(self):
        occupancy = calendar.reserve(end=3)
        change_loom_state(occupancy=occupancy, to="beaming", by=occupancy.member)
        with time_machine.travel("2026-12-09T10:00:00+00:00", tick=False):
            page = get(cast.guest(), "week")
        assert page.context["calendar"].rows[0].overdue == occupancy
        assertContains(page, "overdue")

    @pytest.mark.parametrize("text", BAD_DAYS)
    @pytest.mark.parametrize("name", ["week", "month", "tools-week"])
    def test_a_day_that_is_none_shows_today_and_says_so(self, name, text):
        page = get(cast.guest(), name, **{"from": text})
        assert page.context["asked_day"] == date(2026, 11, 25)
        assertContains(page, "is no day of this calendar")

    @pytest.mark.parametrize("name", ["week", "month", "tools-week"])
    @pytest.mark.parametrize("day", ["2000-01-01", "2199-12-31"])
    def test_the_calendar_ends_somewhere_and_no_link_leads_beyond(self, name, day):
        page = get(cast.guest(), name, **{"from": day})
        assert page.status_code == 200
        assertNotContains(page, "from=1999")
        assertNotContains(page, "from=2200")

    @pytest.mark.parametrize("number", ["9999999999", "-1", "x", "²", "\x00"])
    def test_a_loom_number_that_is_none_shows_the_first(self, number):
        calendar.a_free_loom(number=3)
        page = get(cast.guest(), "week", loom=number)
        assert page.context["calendar"].one.row.loom.number == 3

    def test_a_narrow_screen_has_one_loom_with_its_neighbours(self):
        for number in (1, 2, 3):
            calendar.a_free_loom(number=number)
        one = get(cast.guest(), "week", loom="2").context["calendar"].one
        assert (one.row.loom.number, one.place, one.before.number, one.after.number) == (2, 2, 1, 3)

    def test_a_narrow_screen_opens_on_ones_own_loom_and_lets_any_be_chosen(self):
        someone = cast.trained_member()
        for number in (1, 2, 3):
            calendar.a_free_loom(number=number)
        calendar.reserve(calendar.a_free_loom(number=4), someone)
        page = get(someone, "week")
        assert page.context["calendar"].one.row.loom.number == 4
        assertContains(page, 'value="4" selected>')
        assert get(someone, "week", loom="2").context["calendar"].one.row.loom.number == 2
        assert get(cast.guest(), "week").context["calendar"].one.row.loom.number == 1

    def test_who_closed_a_loom_has_it_not(self):
        calendar.a_free_loom(number=1)
        closed = calendar.out_of_order(calendar.a_free_loom(number=2))
        assert get(closed.member, "week").context["calendar"].one.row.loom.number == 1

    def test_a_narrow_screen_tells_spans_and_free_time_in_words(self):
        calendar.reserve(start=1, end=3)
        one = get(cast.new_member(), "week").context["calendar"].one
        assert [(part.words, part.look, bool(part.reserve_url)) for part in one.stretches] == [
            ("23 to 24 November 2026", "free", False),
            ("25 November 2026", "free", True),
            ("26 to 27 November 2026", "reserved", False),
            ("28 to 29 November 2026", "free", True),
        ]

    def test_the_table_is_one_for_readers_who_hear_it(self):
        calendar.reserve()
        page = get(cast.guest(), "week")
        for mark in ('<th scope="col"', '<th scope="row"', "<caption", 'aria-current="date"'):
            assertContains(page, mark)


@pytest.mark.usefixtures("wednesday")
@pytest.mark.parametrize(("day", "days"), [("2026-11-25", 30), ("2028-02-29", 29), ("2026-02-01", 28)])
def test_a_month_has_its_own_number_of_days(day, days):
    # The Gregorian calendar, ISO 8601: 2028 is a leap year.
    calendar.reserve()
    page = get(cast.guest(), "month", **{"from": day})
    assert len(page.context["calendar"].days) == days
    assert sum(many for _, many in cells_of(page)) == days


@pytest.mark.parametrize("rows", [10, 60])
@pytest.mark.parametrize(("name", "queries"), [("week", 7), ("month", 7), ("free-looms", 8), ("looms", 8)])
def test_pages_of_looms_ask_as_often_for_many_as_for_few(name, queries, rows, django_assert_num_queries):
    someone = cast.steward()
    for _ in range(rows):
        loom = calendar.a_free_loom()
        calendar.a_class(loom, someone, start=0, end=2)
        calendar.a_class(loom, someone, start=3, end=5)
    browser = cast.as_(someone)
    browser.get(reverse(name))
    with django_assert_num_queries(queries):
        browser.get(reverse(name))


@pytest.mark.parametrize("rows", [10, 60])
def test_the_week_of_tools_asks_as_often_for_many_as_for_few(rows, django_assert_num_queries):
    someone = cast.steward()
    for at in range(rows):
        board = factories.a_station(name=f"board {at}")
        book_tool(tool=board, member=someone, starts_at=calendar.at(1, 9), ends_at=calendar.at(1, 11), by=someone)
        calendar.reserve(calendar.a_free_loom(), someone, kind=calendar.Kind.CLASS, tools=[factories.a_reed()])
    browser = cast.as_(someone)
    browser.get(reverse("tools-week"))
    with django_assert_num_queries(7):
        browser.get(reverse("tools-week"))


@pytest.mark.usefixtures("wednesday")
class TestFreeLooms:
    def test_it_parts_what_is_free_then_from_what_is_free_later(self):
        busy, idle = calendar.a_free_loom(number=1), calendar.a_free_loom(number=2)
        calendar.reserve(busy, start=0, end=14)
        found = get(cast.new_member(), "free-looms", many="2", per="week").context["found"]
        assert [one.loom for one in found["now"]] == [idle]
        assert [(one.loom, one.starts_on) for one in found["later"]] == [(busy, date(2026, 12, 9))]

    def test_it_leads_to_a_reservation_of_that_loom_from_that_day(self):
        loom = calendar.reserve(start=0, end=14).loom
        page = get(cast.new_member(), "free-looms")
        assertContains(page, f"{reverse('reserve', args=[loom.pk])}?from=2026-12-09")

    def test_it_knows_width_shafts_and_beam(self):
        wide = factories.a_plain_beam(factories.a_loom(weaving_width_cm=150, shafts=8, heddles=[])).loom
        factories.a_beam(factories.a_loom(weaving_width_cm=150, shafts=8, heddles=[]))
        factories.a_plain_beam(factories.a_loom(weaving_width_cm=60, shafts=8, heddles=[]))
        factories.a_plain_beam(factories.a_loom(weaving_width_cm=150, shafts=4, heddles=[]))
        page = get(cast.guest(), "free-looms", width_cm="150 cm", shafts="8", beam="plain")
        assert [one.loom for one in page.context["found"]["now"]] == [wide]

    def test_a_loom_with_two_beams_comes_once(self):
        loom = calendar.a_free_loom()
        factories.a_beam(loom, name="second")
        assert len(get(cast.guest(), "free-looms", beam="sectional").context["found"]["now"]) == 1

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            ({"starts_on": "0000-00-00"}, "Write the day as year, month and day"),
            ({"starts_on": "9999-12-31"}, "at most 2199-12-31"),
            ({"starts_on": "2026-11-24"}, "That day is past"),
            ({"many": "0"}, "at least 1"),
            ({"many": "53"}, "at most 52 weeks"),
            ({"many": "9" * 40, "per": "day"}, "at most 366"),
            ({"per": "year"}, "Choose one of those offered"),
            ({"width_cm": "wide"}, "wide"),
            ({"shafts": "x"}, "Write a whole number"),
            ({"beam": "\x00"}, "Choose one of those offered"),
        ],
    )
    def test_a_wrong_word_is_said_beside_its_field_and_kept(self, typed, said):
        page = get(cast.guest(), "free-looms", **typed)
        assertContains(page, said, status_code=422)

    def test_a_changed_form_fetches_the_rows_alone(self):
        calendar.a_free_loom()
        page = cast.as_(cast.guest()).get(reverse("free-looms"), {"many": "3"}, headers={"HX-Target": "openings"})
        assert page.content.lstrip().startswith(b'<div id="openings"')


@pytest.mark.usefixtures("wednesday")
class TestTools:
    def test_boards_come_first_and_hours_stand_on_their_day(self):
        factories.a_station(kind="box", name="A box")
        board, someone = factories.a_station(name="Z board"), cast.new_member()
        book_tool(tool=board, member=someone, starts_at=calendar.at(1, 9), ends_at=calendar.at(1, 11), by=someone)
        (_, rows), _ = get(someone, "tools-week").context["week"].groups
        assert [row.name for row in rows] == ["Z board", "A box"]
        assert [[one.words for one in day.hours] for day in rows[0].days][3] == ["09:00 to 11:00"]

    def test_what_goes_along_with_a_loom_takes_whole_days(self):
        reed = factories.a_reed()
        calendar.reserve(start=1, end=3, tools=[reed])
        _, (_, (row,)) = get(cast.guest(), "tools-week").context["week"].groups
        assert [[one.words for one in day.hours] for day in row.days] == [
            [], [], [], ["all day"], ["all day"], [], [],
        ]  # fmt: skip

    def test_only_ones_own_hours_can_be_given_up(self):
        board, someone = factories.a_station(), cast.new_member()
        booked = book_tool(
            tool=board, member=someone, starts_at=calendar.at(1, 9), ends_at=calendar.at(1, 11), by=someone
        )
        url = reverse("tool-cancel", args=[booked.pk])
        assertContains(get(someone, "tools-week"), url)
        assertContains(get(cast.teacher(), "tools-week"), url)
        assertNotContains(get(cast.trained_member(), "tools-week"), url)


def test_past_weeks_still_show_who_had_the_loom():
    occupancy = calendar.reserve(start=0, end=3)
    with time_machine.travel(f"{calendar.day(30)}T10:00:00+00:00", tick=False):
        page = get(cast.guest(), "month", **{"from": str(occupancy.starts_on)})
    assertContains(page, "Towels")
