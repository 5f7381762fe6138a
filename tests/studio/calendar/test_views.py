"""Pages that reserve, and the page of one reservation with its actions: who may, what is refused, what is kept."""

from datetime import date, timedelta

import pytest
import time_machine
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.calendar.dressing import change_loom_state, offer_loom
from studio.calendar.services import book_tool
from studio.models import LoomOccupancy, SeatTime, ToolBooking
from tests import cast, factories
from tests.studio import bookings as calendar

pytestmark = pytest.mark.django_db

LOOM_ACTIONS = ["days", "hold", "cancel", "give-back", "cut-off", "call-back", "take-over"]
HUGE = 10**30
RESERVE_QUERIES = 10


def url(name, thing):
    return reverse(name, args=[thing.pk])


def typed(start=0, last=27, **more):
    return {
        "starts_on": str(calendar.day(start)), "last_day": str(calendar.day(last)), "title": "Eight towels", **more,
    }  # fmt: skip


def post(someone, name, thing, **fields):
    return cast.as_(someone).post(url(name, thing), fields)


def beaming(occupancy):
    return change_loom_state(occupancy=occupancy, to="beaming", by=occupancy.member)


def walk(occupancy, *steps):
    for step in steps:
        occupancy = change_loom_state(occupancy=occupancy, to=step, by=occupancy.member)
    return occupancy


class TestReserve:
    def test_the_last_day_as_people_say_it_is_kept_half_open(self):
        loom, someone = calendar.a_free_loom(), cast.trained_member()
        answer = post(someone, "reserve", loom, **typed(1, 7))
        made = LoomOccupancy.objects.get()
        assertRedirects(answer, made.get_absolute_url())
        assert (made.starts_on, made.ends_before, made.member, made.title) == (
            calendar.day(1), calendar.day(8), someone, "Eight towels",
        )  # fmt: skip

    def test_the_page_proposes_four_weeks_from_the_day_that_was_pressed(self):
        loom, first = calendar.a_free_loom(), calendar.day(3)
        page = cast.as_(cast.trained_member()).get(url("reserve", loom), {"from": str(first)})
        assert page.context["form"].initial == {"starts_on": first, "last_day": first + timedelta(days=27)}

    def test_the_page_proposes_no_day_that_is_taken(self):
        loom = calendar.reserve(start=10, end=20).loom
        page = cast.as_(cast.new_member()).get(url("reserve", loom))
        assert page.context["form"].initial["last_day"] == calendar.day(9)

    def test_the_days_instead_come_with_their_length_and_the_name_of_the_work(self):
        loom = calendar.reserve(start=0, end=20).loom
        page = post(cast.teacher(), "reserve", loom, **typed(0, 6, title="Rags & rugs"))
        address = f"{url('reserve', loom)}?from={calendar.day(20)}&amp;days=7&amp;title=Rags%20%26%20rugs"
        assertContains(page, address, status_code=422)
        form = cast.as_(cast.new_member()).get(address.replace("&amp;", "&")).context["form"]
        assert form.initial == {
            "starts_on": calendar.day(20), "last_day": calendar.day(26), "title": "Rags & rugs",
        }  # fmt: skip

    @pytest.mark.parametrize("text", ["0000-00-00", "9999-12-31", "x", "\x00", "0", "999", "²"])
    def test_a_wrong_day_in_the_address_is_passed_over(self, text):
        page = cast.as_(cast.new_member()).get(
            url("reserve", calendar.a_free_loom()), {"from": text, "days": text, "title": text}
        )
        assert page.context["form"].initial["starts_on"] == calendar.day(0)

    def test_reeds_and_stations_go_along(self):
        loom, reed, board = calendar.a_free_loom(), factories.a_reed(), factories.a_station()
        post(cast.trained_member(), "reserve", loom, **typed(tools=[f"reed-{reed.pk}", f"station-{board.pk}"]))
        assert {(one.reed, one.station) for one in ToolBooking.objects.all()} == {(reed, None), (None, board)}

    def test_a_taken_loom_is_refused_with_who_has_it_and_what_would_do(self):
        loom = calendar.reserve(start=5, end=20).loom
        page = post(cast.new_member(), "reserve", factories.a_plain_beam(loom, name="second").loom, **typed(0, 9))
        assertContains(page, "taken by the trained member", status_code=422)
        assertContains(page, 'value="Eight towels"', status_code=422)
        assertContains(page, f"{url('reserve', loom)}?from={calendar.day(20)}", status_code=422)
        assertContains(page, url("queue-join", loom), status_code=422)

    def test_a_tool_that_another_has_is_refused_and_nothing_is_kept(self):
        reed = factories.a_reed()
        calendar.reserve(tools=[reed])
        page = post(
            cast.trained_member("another"), "reserve", calendar.a_free_loom(), **typed(tools=[f"reed-{reed.pk}"])
        )
        assertContains(page, "is with the trained member", status_code=422)
        assert LoomOccupancy.objects.count() == 1

    def test_a_reed_kept_with_another_loom_is_not_offered(self):
        loom, other = calendar.a_free_loom(), calendar.a_free_loom()
        own, rack, away = (factories.a_reed(kept_with=where) for where in (loom, None, other))
        someone = cast.new_member()
        form = cast.as_(someone).get(url("reserve", loom)).context["form"]
        assert form.fields["tools"].choices == [
            ("Reeds", [(f"reed-{own.pk}", f"{own}, kept with loom {loom}"), (f"reed-{rack.pk}", str(rack))])
        ]
        page = post(someone, "reserve", loom, **typed(tools=[f"reed-{away.pk}"]))
        assertContains(page, "Choose one of those offered", status_code=422)

    def test_what_is_taken_in_the_days_is_told_before_it_is_asked_for(self):
        reed, board, loom = factories.a_reed(), factories.a_station(name="Wide board"), calendar.a_free_loom()
        with time_machine.travel("2026-11-25T10:00:00+00:00", tick=False):
            calendar.reserve(start=2, end=6, tools=[reed, board])
            browser = cast.as_(cast.new_member())
            told = browser.get(url("reserve", loom)).context["taken"]
            looked = browser.post(url("reserve", loom), typed(10, 12, look="yes"))
        span = "the trained member, 27 to 30 November 2026"
        assert sorted(told) == [f"Wide board: {span}", f"reed, {reed}: {span}"]
        assert looked.context["taken"] == ()

    @pytest.mark.parametrize("rows", [2, 20])
    def test_the_page_asks_as_often_for_many_tools_taken(self, rows, django_assert_num_queries):
        for at in range(rows):
            calendar.reserve(member=cast.teacher(f"teacher {at}"), tools=[factories.a_reed()])
        loom, browser = calendar.a_free_loom(), cast.as_(cast.new_member())
        browser.get(url("reserve", loom))
        with django_assert_num_queries(RESERVE_QUERIES):
            browser.get(url("reserve", loom))

    def test_looking_reserves_nothing_and_says_free(self):
        loom = calendar.a_free_loom()
        page = post(cast.trained_member(), "reserve", loom, **typed(title="", look="yes"))
        assertContains(page, "Free and within the rules")
        assertNotContains(page, "Fill in this box")
        assert not LoomOccupancy.objects.exists()

    def test_looking_by_htmx_gives_the_fragment_alone(self):
        occupancy = calendar.reserve(start=0, end=5)
        page = cast.as_(cast.teacher()).post(
            url("reserve", occupancy.loom), typed(look="yes"), headers={"HX-Target": "days-free"}
        )
        assert page.content.decode().lstrip().startswith('<div id="days-free"')
        assertContains(page, "taken by the trained member")

    @pytest.mark.parametrize(
        ("change", "said"),
        [
            ({"starts_on": "0000-00-00"}, "Write the day as year, month and day"),
            ({"last_day": "9999-12-31"}, "at most 2199-12-31"),
            ({"starts_on": "0001-01-01"}, "at least 2000-01-01"),
            ({"starts_on": "2000-01-01", "last_day": "2000-01-02"}, "That day is past"),
            ({"last_day": "2150-01-01"}, "A reservation is for 90 days at most"),
            ({"last_day": str(date(2001, 1, 1))}, "The last day comes before the first"),
            ({"title": ""}, "Fill in this box"),
            ({"title": "x" * 121}, "at most 120 characters"),
            ({"title": "a\x00b"}, "cannot be kept"),
            ({"tools": ["reed-99999999999999999999999"]}, "Choose one of those offered"),
            ({"tools": ["\x00"]}, "Choose one of those offered"),
        ],
    )
    def test_what_cannot_be_is_said_and_what_was_typed_is_kept(self, change, said):
        factories.a_reed()
        page = post(
            cast.trained_member(), "reserve", calendar.a_free_loom(), **{**typed(note="by the window"), **change}
        )
        assertContains(page, said, status_code=422)
        assertContains(page, "by the window", status_code=422)
        assert not LoomOccupancy.objects.exists()

    def test_a_teacher_reserves_for_another_and_for_a_class(self):
        teacher, someone = cast.teacher(), cast.trained_member()
        post(teacher, "reserve", calendar.a_free_loom(), **typed(member=someone.pk, kind="warp"))
        post(teacher, "reserve", calendar.a_free_loom(), **typed(member=teacher.pk, kind="class"))
        assert set(LoomOccupancy.objects.values_list("member", "kind")) == {
            (someone.pk, "warp"), (teacher.pk, "class"),
        }  # fmt: skip

    @pytest.mark.parametrize("pk", [HUGE, -1, "x", "\x00", ""])
    def test_nobody_is_reserved_for_who_is_not_there(self, pk):
        page = post(cast.teacher(), "reserve", calendar.a_free_loom(), **typed(member=pk, kind="warp"))
        assert page.status_code == 422

    def test_a_member_cannot_reserve_for_another_by_adding_a_field(self):
        someone, other = cast.trained_member(), cast.new_member()
        post(someone, "reserve", calendar.a_free_loom(), **typed(member=other.pk, kind="out"))
        assert LoomOccupancy.objects.values_list("member", "kind").get() == (someone.pk, "warp")

    @pytest.mark.parametrize(
        ("someone", "kinds"),
        [(cast.trained_member, None), (cast.teacher, ["warp", "class"]), (cast.steward, ["warp", "class", "out"])],
    )
    def test_each_role_is_offered_its_kinds(self, someone, kinds):
        form = cast.as_(someone()).get(url("reserve", calendar.a_free_loom())).context["form"]
        offered = [value for value, _ in form.fields["kind"].choices] if "kind" in form.fields else None
        assert offered == kinds

    def test_a_guest_is_not_let_in(self):
        assert cast.as_(cast.guest()).get(url("reserve", calendar.a_free_loom())).status_code == 403

    def test_a_huge_number_is_no_loom(self):
        assert cast.as_(cast.steward()).get(reverse("reserve", args=[HUGE])).status_code == 404


class TestOneReservation:
    def test_everybody_reads_it_with_its_history_and_tools(self):
        occupancy = beaming(calendar.reserve(tools=[factories.a_reed()]))
        page = cast.as_(cast.guest()).get(occupancy.get_absolute_url())
        for words in ("Towels", "the trained member", "Beaming", "Reserved", "12 dents to the inch"):
            assertContains(page, words)

    @pytest.mark.parametrize("someone", [cast.guest, cast.new_member])
    def test_others_are_offered_nothing(self, someone):
        occupancy = beaming(calendar.reserve())
        page = cast.as_(someone()).get(occupancy.get_absolute_url())
        for name in ("occupancy-step", "occupancy-offer", *(f"occupancy-{word}" for word in LOOM_ACTIONS)):
            assertNotContains(page, url(name, occupancy))

    def test_its_owner_takes_a_step_with_a_note(self):
        occupancy = calendar.reserve()
        assertRedirects(
            post(occupancy.member, "occupancy-step", occupancy, to="beaming", note="two helpers"),
            occupancy.get_absolute_url(),
        )
        occupancy.refresh_from_db()
        assert (occupancy.state, occupancy.steps.last().note) == ("beaming", "two helpers")

    @pytest.mark.parametrize("to", ["weaving", "nowhere", "", "\x00", "done", "cut_off"])
    def test_a_step_that_is_not_open_is_refused_and_the_note_kept(self, to):
        occupancy = calendar.reserve()
        page = post(occupancy.member, "occupancy-step", occupancy, to=to, note="by the window")
        assertContains(page, "by the window", status_code=422)
        occupancy.refresh_from_db()
        assert occupancy.state == "reserved"

    @pytest.mark.parametrize("name", ["occupancy-step", "occupancy-take-up", "occupancy-offer"])
    def test_a_stranger_to_it_changes_nothing(self, name):
        occupancy = calendar.reserve()
        assert post(cast.new_member(), name, occupancy, to="beaming").status_code == 403

    @pytest.mark.parametrize("word", ["days", "hold", "cancel", "give-back", "cut-off", "call-back"])
    @pytest.mark.parametrize("someone", [cast.guest, cast.new_member])
    def test_anothers_actions_are_behind_a_closed_door(self, word, someone):
        occupancy, browser = beaming(calendar.reserve()), cast.as_(someone())
        target = url(f"occupancy-{word}", occupancy)
        assert [browser.get(target).status_code, browser.post(target).status_code] == [403, 403]

    @pytest.mark.parametrize("word", LOOM_ACTIONS)
    def test_a_action_is_asked_first_and_done_by_post(self, word):
        occupancy = calendar.reserve()
        cast.as_(occupancy.member).get(url(f"occupancy-{word}", occupancy))
        occupancy.refresh_from_db()
        assert (occupancy.state, occupancy.cancelled_at, occupancy.changes) == ("reserved", None, 0)

    def test_a_action_that_does_not_fit_the_state_says_so(self):
        occupancy = calendar.reserve()
        page = cast.as_(occupancy.member).get(url("occupancy-cut-off", occupancy), follow=True)
        assertContains(page, "cannot be done as the work stands now")

    def test_the_days_are_moved_with_last_day_included(self):
        occupancy = calendar.reserve(start=2, end=9)
        post(occupancy.member, "occupancy-days", occupancy, starts_on=calendar.day(3), last_day=calendar.day(11))
        occupancy.refresh_from_db()
        assert (occupancy.starts_on, occupancy.ends_before) == (calendar.day(3), calendar.day(12))

    def test_days_that_another_has_are_refused_and_kept_in_the_boxes(self):
        occupancy = calendar.reserve(start=0, end=9)
        calendar.reserve(occupancy.loom, cast.teacher(), start=9, end=12)
        page = post(occupancy.member, "occupancy-days", occupancy, starts_on=calendar.day(0), last_day=calendar.day(10))
        assertContains(page, "taken by the teacher", status_code=422)
        assertContains(page, f'value="{calendar.day(10)}"', status_code=422)

    def test_a_hold_has_its_review_date_and_ends_by_a_button(self):
        occupancy = beaming(calendar.reserve())
        post(occupancy.member, "occupancy-hold", occupancy, review_on=calendar.day(5), note="Waits for yarn")
        occupancy.refresh_from_db()
        assert (occupancy.state, occupancy.review_on) == ("hold", calendar.day(5))
        post(occupancy.member, "occupancy-take-up", occupancy, note="It came")
        occupancy.refresh_from_db()
        assert (occupancy.state, occupancy.review_on) == ("beaming", None)

    @pytest.mark.parametrize("day", ["2199-12-31", "2000-01-01", "0000-00-00", "9999-12-31", ""])
    def test_a_hold_without_a_sensible_date_is_refused(self, day):
        occupancy = beaming(calendar.reserve())
        assert post(occupancy.member, "occupancy-hold", occupancy, review_on=day).status_code == 422

    def test_taking_up_what_does_not_rest_is_refused(self):
        occupancy = calendar.reserve()
        assertContains(post(occupancy.member, "occupancy-take-up", occupancy), "not on hold", status_code=422)

    def test_cancelling_frees_the_days(self):
        occupancy = calendar.reserve()
        page = cast.as_(occupancy.member).post(url("occupancy-cancel", occupancy), follow=True)
        assertContains(page, "its days are free")
        occupancy.refresh_from_db()
        assert not occupancy.stands

    def test_giving_back(self):
        occupancy = calendar.reserve()
        post(occupancy.member, "occupancy-give-back", occupancy, note="Swept")
        occupancy.refresh_from_db()
        assert (occupancy.state, occupancy.ends_before) == ("done", calendar.day(1))

    def test_the_cautions_stand_before_a_warp_is_cut_off(self):
        occupancy = beaming(calendar.reserve())
        page = cast.as_(occupancy.member).get(url("occupancy-cut-off", occupancy))
        for words in ("under tension", "scissors", "slowly", "loom maker’s manual"):
            assertContains(page, words)

    def test_only_a_steward_cuts_off_anothers_warp_after_its_time_and_says_why(self):
        occupancy, steward = beaming(calendar.reserve(end=3)), cast.steward()
        teacher = cast.as_(cast.teacher())
        assert teacher.get(url("occupancy-cut-off", occupancy)).status_code == 403
        assertContains(
            post(steward, "occupancy-cut-off", occupancy, note="Told twice"), "at the earliest", status_code=422
        )
        with time_machine.travel(f"{calendar.day(40)}T12:00:00+00:00", tick=False):
            assert post(steward, "occupancy-cut-off", occupancy, note="").status_code == 422
            post(steward, "occupancy-cut-off", occupancy, note="Told twice by letter")
        occupancy.refresh_from_db()
        assert (occupancy.state, occupancy.steps.last().note) == ("cut_off", "Told twice by letter")

    def test_a_teacher_calls_a_loom_back(self):
        occupancy = beaming(calendar.reserve())
        post(cast.teacher(), "occupancy-call-back", occupancy, last_day=calendar.day(6), note="Evening class")
        page = cast.as_(cast.guest()).get(occupancy.get_absolute_url())
        assertContains(page, "Called back")
        occupancy.refresh_from_db()
        assert occupancy.ends_before == calendar.day(7)

    def test_an_offered_loom_changes_hands(self):
        occupancy, taker = beaming(calendar.reserve()), cast.trained_member("the other trained member")
        post(occupancy.member, "occupancy-offer", occupancy)
        assertContains(cast.as_(taker).get(occupancy.get_absolute_url()), url("occupancy-take-over", occupancy))
        answer = post(taker, "occupancy-take-over", occupancy, title="Second towels")
        made = LoomOccupancy.objects.get(taken_over_from=occupancy)
        assertRedirects(answer, made.get_absolute_url())
        assert (made.member, made.state, made.title) == (taker, "beaming", "Second towels")

    def test_an_offer_can_be_taken_back(self):
        occupancy = calendar.reserve()
        offer_loom(occupancy=occupancy, by=occupancy.member)
        post(occupancy.member, "occupancy-offer", occupancy, offer="no")
        occupancy.refresh_from_db()
        assert not occupancy.open_to_take_over

    def test_a_guest_takes_nothing_over(self):
        occupancy = calendar.reserve()
        offer_loom(occupancy=occupancy, by=occupancy.member)
        assert post(cast.guest(), "occupancy-take-over", occupancy, title="x").status_code == 403

    def test_a_class_offered_is_refused_in_words(self):
        occupancy = calendar.a_class()
        page = cast.as_(occupancy.member).post(url("occupancy-offer", occupancy), follow=True)
        assertContains(page, "Only a member&#x27;s warp can be taken over.")

    def test_one_step_leads_on_others_go_beside_it_and_one_back(self):
        occupancy = calendar.reserve()
        walk(occupancy, "beaming", "beamed", "threaded", "sleyed", "weaving")
        ways = cast.as_(occupancy.member).get(occupancy.get_absolute_url()).context["ways"]
        assert (ways.onward, ways.other, ways.back) == (None, (), "sleyed")
        other = calendar.reserve(member=cast.teacher())
        walk(other, "beaming", "beamed")
        ways = cast.as_(other.member).get(other.get_absolute_url()).context["ways"]
        assert (ways.onward, ways.other, ways.back) == ("threaded", ("beaming", "sleyed", "weaving"), None)

    def test_nobody_weaves_while_the_warp_is_going_on(self):
        occupancy = beaming(calendar.reserve())
        assert post(occupancy.member, "occupancy-step", occupancy, to="weaving").status_code == 422

    def test_a_warp_that_is_off_asks_for_no_second_cutting(self):
        occupancy = calendar.reserve()
        walk(occupancy, "beaming", "beamed", "weaving", "cut_off", "checking")
        page = cast.as_(occupancy.member).get(occupancy.get_absolute_url())
        assertNotContains(page, url("occupancy-cut-off", occupancy))
        assertContains(page, "The loom is inspected before it is given back")
        assert post(occupancy.member, "occupancy-step", occupancy, to="cut_off").status_code == 302

    def test_the_first_list_is_asked_for_as_soon_as_the_work_begins(self):
        occupancy = calendar.reserve()
        asked = "The loom is inspected before the weaving begins"
        assertNotContains(cast.as_(occupancy.member).get(occupancy.get_absolute_url()), asked)
        beaming(occupancy)
        assertContains(cast.as_(occupancy.member).get(occupancy.get_absolute_url()), asked)
        walk(occupancy, "beamed", "weaving")
        assertNotContains(cast.as_(occupancy.member).get(occupancy.get_absolute_url()), asked)

    @pytest.mark.parametrize("steps", [(), ("beaming", "cut_off"), ("beaming", "cut_off", "checking")])
    def test_only_a_loom_with_a_warp_on_it_is_offered(self, steps):
        occupancy = walk(calendar.reserve(), *steps)
        assertNotContains(
            cast.as_(occupancy.member).get(occupancy.get_absolute_url()), url("occupancy-offer", occupancy)
        )
        post(occupancy.member, "occupancy-offer", occupancy)
        occupancy.refresh_from_db()
        assert not occupancy.open_to_take_over

    def test_what_is_cancelled_says_when_and_who_and_has_nothing_to_look_over(self):
        occupancy, teacher = calendar.reserve(), cast.teacher()
        post(teacher, "occupancy-cancel", occupancy)
        page = cast.as_(occupancy.member).get(occupancy.get_absolute_url())
        assertContains(page, "<b>Cancelled</b>, the teacher")
        assertNotContains(page, "In this state")
        assertNotContains(page, "Inspected")

    def test_a_step_from_an_old_page_is_refused_in_words(self):
        occupancy = calendar.reserve()
        post(occupancy.member, "occupancy-cancel", occupancy)
        page = post(occupancy.member, "occupancy-step", occupancy, to="beaming")
        assertContains(page, "That step is not open from here", status_code=422)

    def test_a_class_given_back_has_no_hours_to_book_and_no_days_left(self):
        occupancy = calendar.a_class()
        post(occupancy.member, "occupancy-give-back", occupancy)
        page = cast.as_(cast.guest()).get(occupancy.get_absolute_url())
        assert not [hour for hour in page.context["day_hours"] if hour.book_url]
        assertNotContains(page, "Left, today included")

    @pytest.mark.parametrize(
        ("kind", "said"), [("out", "is closed,"), ("class", "is kept for the class,"), ("warp", "is yours,")]
    )
    def test_what_was_reserved_is_said_as_what_it_is(self, kind, said):
        someone = cast.steward()
        fields = typed(kind=kind, member=someone.pk)
        page = cast.as_(someone).post(url("reserve", calendar.a_free_loom()), fields, follow=True)
        assertContains(page, said)

    @pytest.mark.parametrize("pk", [HUGE, 0])
    def test_a_number_that_is_none_is_not_found(self, pk):
        assert cast.as_(cast.steward()).get(reverse("occupancy", args=[pk])).status_code == 404

    def test_a_stranger_signs_in_first(self):
        occupancy = calendar.reserve()
        target = occupancy.get_absolute_url()
        assertRedirects(cast.stranger().get(target), f"{reverse('sign-in')}?next={target}")

    @pytest.mark.parametrize("rows", [1, 20])
    def test_the_page_asks_as_often_for_a_long_history(self, rows, django_assert_num_queries):
        occupancy, browser = calendar.a_class(), cast.as_(cast.steward())
        for at in range(rows):
            calendar.sit(occupancy, cast.guest(f"guest {at}"), 8, 9, day_number=at) if at else None
            occupancy = change_loom_state(
                occupancy=occupancy, to="beaming" if at % 2 == 0 else "beamed", by=occupancy.member
            )
        browser.get(occupancy.get_absolute_url())
        with django_assert_num_queries(15):
            browser.get(occupancy.get_absolute_url())


class TestHoursAtAClassWarp:
    def test_a_guest_books_hours(self):
        occupancy, someone = calendar.a_class(), cast.guest()
        answer = post(someone, "seat-book", occupancy, day=calendar.day(1), begins="10:00", ends="12:00")
        assert answer.status_code == 302
        seat = SeatTime.objects.get()
        assert (seat.member, seat.starts_at, seat.ends_at) == (someone, calendar.at(1, 10), calendar.at(1, 12))

    def test_the_day_is_shown_hour_by_hour(self):
        occupancy = calendar.a_class()
        calendar.sit(occupancy, cast.guest(), 10, 12)
        page = cast.as_(cast.new_member()).get(occupancy.get_absolute_url(), {"day": str(calendar.day(1))})
        sits = {hour.begins: [str(seat.member) for seat in hour.seats] for hour in page.context["day_hours"]}
        assert (sits["09:00"], sits["10:00"], sits["11:00"], sits["12:00"]) == ([], ["the guest"], ["the guest"], [])

    def test_midnight_is_the_end_of_the_day(self):
        occupancy = calendar.a_class()
        post(cast.guest(), "seat-book", occupancy, day=calendar.day(1), begins="21:00", ends="00:00")
        assert SeatTime.objects.get().ends_at == calendar.at(2, 0)

    def test_taken_hours_are_refused_and_kept(self):
        occupancy = calendar.a_class()
        calendar.sit(occupancy, cast.guest(), 10, 12)
        page = post(
            cast.new_member(), "seat-book", occupancy, day=calendar.day(1), begins="11:00", ends="13:00", note="hem"
        )
        assertContains(page, "the guest weaves there", status_code=422)
        assertContains(page, 'value="hem"', status_code=422)

    @pytest.mark.parametrize(
        ("change", "said"),
        [
            ({"begins": "25:00"}, "Write the hour as hours and minutes"),
            ({"ends": "09:00"}, "It ends before it begins"),
            ({"day": "9999-12-31"}, "at most 2199-12-31"),
            ({"day": "0000-00-00"}, "Write the day as year, month and day"),
            ({"begins": ""}, "Fill in this box"),
            ({"ends": "20:00"}, "4 hours at a time at most"),
        ],
    )
    def test_wrong_hours_are_said(self, change, said):
        occupancy = calendar.a_class()
        start = {"day": str(calendar.day(1)), "begins": "10:00", "ends": "12:00"}
        assertContains(post(cast.guest(), "seat-book", occupancy, **{**start, **change}), said, status_code=422)

    def test_hours_are_given_up_by_their_weaver_or_a_teacher(self):
        occupancy, someone = calendar.a_class(), cast.guest()
        seat = calendar.sit(occupancy, someone, 10, 12)
        assert post(cast.new_member(), "seat-cancel", seat).status_code == 403
        assert post(someone, "seat-cancel", seat).status_code == 302
        seat.refresh_from_db()
        assert not seat.stands

    def test_one_weavers_loom_has_no_seats(self):
        occupancy = calendar.reserve()
        page = post(cast.guest(), "seat-book", occupancy, day=calendar.day(1), begins="10:00", ends="12:00")
        assert page.status_code == 422


class TestTheQueue:
    def test_a_member_waits_sees_the_place_and_leaves(self):
        loom, first, someone = calendar.reserve().loom, cast.teacher(), cast.new_member()
        post(first, "queue-join", loom, days=14)
        assertRedirects(post(someone, "queue-join", loom, days=28), loom.get_absolute_url())
        assertContains(cast.as_(someone).get("/"), "place 2")
        page = cast.as_(someone).get(loom.get_absolute_url())
        place = page.context["my_place"]
        assert [str(one.member) for one in page.context["queue"]] == ["the teacher", "the new member"]
        post(someone, "queue-leave", place)
        assert cast.as_(someone).get(loom.get_absolute_url()).context["my_place"] is None

    def test_nobody_waits_twice(self):
        loom, someone = calendar.reserve().loom, cast.new_member()
        post(someone, "queue-join", loom, days=28)
        assertContains(post(someone, "queue-join", loom, days=28), "You wait for this loom already", status_code=422)

    @pytest.mark.parametrize("days", ["0", "-1", "367", "9" * 30, "x", ""])
    def test_days_that_cannot_be_are_said(self, days):
        assert post(cast.new_member(), "queue-join", calendar.a_free_loom(), days=days).status_code == 422

    def test_a_guest_does_not_wait(self):
        assert cast.as_(cast.guest()).get(url("queue-join", calendar.a_free_loom())).status_code == 403

    def test_another_members_place_is_theirs(self):
        loom, someone = calendar.reserve().loom, cast.new_member()
        post(someone, "queue-join", loom, days=28)
        place = loom.queue.get()
        assert post(cast.trained_member("another"), "queue-leave", place).status_code == 403
        assert post(cast.teacher(), "queue-leave", place).status_code == 302


class TestToolsByTheHour:
    START = {"begins": "10:00", "ends": "12:00"}

    def book(self, someone, station, **change):
        fields = {"tool": f"station-{station.pk}", "day": str(calendar.day(1)), **self.START, **change}
        return cast.as_(someone).post(reverse("tool-book"), fields)

    def test_a_board_is_booked(self):
        someone, board = cast.new_member(), factories.a_station()
        assertRedirects(self.book(someone, board), reverse("tools-week"))
        assert ToolBooking.objects.get().starts_at == calendar.at(1, 10)

    def test_a_board_that_another_has_is_refused_with_who(self):
        board = factories.a_station()
        self.book(cast.new_member(), board)
        page = self.book(cast.trained_member(), board, begins="11:00", ends="13:00")
        assertContains(page, "is with the new member", status_code=422)

    def test_a_box_needs_its_briefing(self):
        box = factories.a_station(kind="box", training_needed=True)
        assertContains(self.book(cast.new_member(), box), "safety briefing", status_code=422)

    @pytest.mark.parametrize("change", [{"tool": "station-9"}, {"tool": "\x00"}, {"day": "9999-12-31"}, {"ends": "x"}])
    def test_nonsense_is_said(self, change):
        assert self.book(cast.new_member(), factories.a_station(), **change).status_code == 422

    @pytest.mark.parametrize("query", [{"tool": "x", "day": "0000-00-00"}, {"tool": "\x00", "day": "\x00"}])
    def test_nonsense_in_the_address_is_passed_over(self, query):
        assert cast.as_(cast.new_member()).get(reverse("tool-book"), query).status_code == 200

    def test_a_guest_books_none(self):
        assert self.book(cast.guest(), factories.a_station()).status_code == 403

    def test_only_its_member_or_a_teacher_gives_it_up(self):
        someone = cast.new_member()
        booked = book_tool(
            tool=factories.a_station(), member=someone, starts_at=calendar.at(1, 10), ends_at=calendar.at(1, 12),
            by=someone,
        )  # fmt: skip
        assert post(cast.trained_member(), "tool-cancel", booked).status_code == 403
        assert post(cast.teacher(), "tool-cancel", booked).status_code == 302


class TestTheRules:
    def test_everybody_reads_them(self):
        page = cast.as_(cast.guest()).get(reverse("booking-rules"))
        assertContains(page, "Longest reservation, days")
        assertNotContains(page, '<button class="button">Save')

    def test_a_steward_changes_them_and_refusals_follow(self):
        browser = cast.as_(cast.steward())
        form = browser.get(reverse("booking-rules")).context["form"]
        fields = {name: value for name, value in form.initial.items() if value is not False}
        assertRedirects(
            browser.post(reverse("booking-rules"), {**fields, "longest_days": "10"}), reverse("booking-rules")
        )
        page = post(cast.trained_member(), "reserve", calendar.a_free_loom(), **typed(0, 10))
        assertContains(page, "A reservation is for 10 days at most", status_code=422)

    @pytest.mark.parametrize("value", ["0", "-1", "1001", "x", "9" * 40, ""])
    def test_a_number_that_cannot_be_is_said(self, value):
        browser = cast.as_(cast.steward())
        fields = dict(browser.get(reverse("booking-rules")).context["form"].initial)
        assert browser.post(reverse("booking-rules"), {**fields, "longest_days": value}).status_code == 422

    @pytest.mark.parametrize("someone", [cast.guest, cast.trained_member, cast.teacher])
    def test_nobody_else_changes_them(self, someone):
        assert cast.as_(someone()).post(reverse("booking-rules"), {"longest_days": "5"}).status_code == 403


class TestToday:
    def test_it_tells_my_looms_with_days_left_and_what_ends_soon(self):
        occupancy = calendar.reserve(end=5)
        (mine,) = cast.as_(occupancy.member).get("/").context["mine"]
        assert (mine.occupancy, mine.days_left, mine.ends_soon, mine.overdue) == (occupancy, 5, True, False)

    def test_a_time_that_is_over_is_overdue(self):
        occupancy = beaming(calendar.reserve(end=3))
        with time_machine.travel(f"{calendar.day(5)}T12:00:00+00:00", tick=False):
            page = cast.as_(occupancy.member).get("/")
        assertContains(page, "Overdue")

    def test_until_is_the_last_day_of_what_it_is_said_of(self):
        with time_machine.travel("2026-11-25T10:00:00+00:00", tick=False):
            calendar.reserve(start=3, end=9)
            calendar.reserve(member=cast.teacher(), start=0, end=5)
            page = cast.as_(cast.new_member()).get("/")
        assertContains(page, "free until 27 Nov")
        assertContains(page, "taken until 29 Nov")

    def test_who_reserves_no_loom_is_sent_to_none(self):
        calendar.a_free_loom()
        assertContains(cast.as_(cast.new_member()).get("/"), "Find a free one")
        assertNotContains(cast.as_(cast.guest()).get("/"), "Find a free one")

    def test_it_tells_my_hours(self):
        someone = cast.guest()
        calendar.sit(calendar.a_class(), someone, 10, 12)
        assertContains(cast.as_(someone).get("/"), "My hours")

    def test_another_members_looms_are_not_mine(self):
        calendar.reserve()
        assert cast.as_(cast.new_member()).get("/").context["mine"] == []

    @pytest.mark.parametrize("rows", [10, 60])
    def test_today_asks_as_often_for_many_reservations(self, rows, django_assert_num_queries):
        someone = cast.steward()
        for _ in range(rows):
            calendar.a_class(calendar.a_free_loom(), someone)
        browser = cast.as_(someone)
        browser.get("/")
        with django_assert_num_queries(17):
            browser.get("/")


def test_the_whole_walk_without_scripts():
    """From a free day of the week to a loom taken over, by links and buttons alone, as without scripts."""
    other, someone = cast.trained_member("the other trained member"), cast.trained_member()
    occupancy = beaming(calendar.reserve(calendar.a_free_loom(number=1), other, start=0, end=20))
    free, browser = calendar.a_free_loom(number=2), cast.as_(someone)
    address = f"{url('reserve', free)}?from={calendar.day(0)}"
    assertContains(browser.get(reverse("week")), f'href="{address}"')
    first = {name: str(day) for name, day in browser.get(address).context["form"].initial.items()}
    assertContains(browser.post(address, {**first, "look": "yes"}), "Free and within the rules")
    assert browser.post(address, {**first, "title": "Towels"}).status_code == 302
    refused = browser.post(url("reserve", occupancy.loom), typed(0, 6))
    assertContains(refused, url("queue-join", occupancy.loom), status_code=422)
    assert browser.post(url("queue-join", occupancy.loom), {"days": "7"}).status_code == 302
    cast.as_(other).post(url("occupancy-offer", occupancy))
    assertContains(browser.get(occupancy.loom.get_absolute_url()), "Open to take over")
    page = browser.post(url("occupancy-take-over", occupancy), {"title": "Scarves"}, follow=True)
    assertContains(page, "The loom is yours")
