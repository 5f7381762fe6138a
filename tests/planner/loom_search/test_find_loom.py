"""Finding a loom for a warp, as its owner, and holding it with its reed."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
import time_machine
from django.urls import reverse

from planner.loom_search.selectors import fit_on, looms_found, plan_of, reed_of, time_needed
from planner.models import Project
from planner.sheet.services import save_project
from studio.calendar.dressing import change_loom_state
from studio.calendar.services import give_back, wait_for_loom
from studio.dates import day_words, span_words
from studio.models import LoomOccupancy
from studio.units import Units
from tests.cast import as_, guest, new_member, teacher, trained_member
from tests.factories import a_beam, a_loom, a_reed, a_station, inches
from tests.planner.sheets import towels
from tests.studio.bookings import day, reserve

pytestmark = pytest.mark.django_db


@pytest.fixture
def member():
    return trained_member()


@pytest.fixture
def warp(member):
    """Give eight towels on a yard beam, with a reed of twelve in the house."""
    a_reed()
    return save_project(owner=member, typed=towels(a_beam(a_loom())), by=member)


def page(someone, warp, **query):
    return as_(someone).get(reverse("warp-looms", args=[warp.pk]), query)


def hold(someone, warp, beam=None, **said):
    address = reverse("warp-reserve-loom", args=[warp.pk, (beam or warp.beam).pk])
    start = {"starts_on": day(0).isoformat(), "last_day": day(20).isoformat(), **said}
    return as_(someone).post(address, start)


def test_the_days_follow_from_ends_and_length(warp):
    """Plain arithmetic: 480 ends at 60 an hour are 8 h; the length less a yard of waste at 30 cm an hour."""
    plan, waste = plan_of(warp)
    woven = (plan.beam.warp_length - waste) / 30
    hours = Fraction(480, 60) + woven
    needed = time_needed(plan, waste, Fraction(6), Units.METRIC)
    assert needed.days == -(-(hours * 7) // 6)
    assert "480 ends at 60 an hour are 8 hours of dressing" in needed.sentence


def test_looms_it_fits_come_first_and_the_soonest_free_before(warp, member):
    later, narrow = (
        a_beam(a_loom()),
        a_beam(a_loom(weaving_width_cm=inches(20)), usable_width_cm=inches(20), sections=10),
    )
    reserve(warp.loom, teacher(), 0, 30)
    reserve(later.loom, teacher("another"), 0, 9)
    found = looms_found(warp, member, 14, day(0))
    assert [one.fit.beam for one in found] == [later, warp.beam, narrow]
    assert [one.opening.starts_on for one in found] == [day(9), day(30), day(0)]
    assert bool(found[2].fit.refusal) and not found[0].fit.refusal  # noqa: PT018 - one thought


def test_a_loom_free_for_too_few_days_says_how_many_and_has_no_badge(warp, member):
    reserve(warp.loom, teacher(), 10, 30)
    (found,) = looms_found(warp, member, 14, day(0))
    assert (found.at_once, found.opening.starts_on, found.gap_until) == (False, day(30), day(10))
    assert found.when.startswith("free from ")
    assert "; before that for 10 days, " in found.when
    (found,) = looms_found(warp, member, 10, day(0))
    assert (found.at_once, found.gap_until) == (True, None)


def test_a_day_said_with_until_is_the_last_free_one(warp, member):
    reserve(warp.loom, teacher(), 0, 5)
    reserve(warp.loom, teacher("another"), 20, 30)
    (found,) = looms_found(warp, member, 10, day(0))
    assert found.when == f"free {span_words(day(5), day(20))}; the teacher has it until {day_words(day(4))}"


def test_who_waits_for_a_loom_is_counted_before_it_is_taken(warp, member):
    wait_for_loom(loom=warp.loom, member=teacher(), days=14)
    assert "; 1 waits for it." in page(member, warp).text


def test_a_warp_over_its_time_has_its_loom_still(warp, member):
    late = reserve(warp.loom, teacher(), 0, 5)
    change_loom_state(occupancy=late, to="beaming", by=late.member)
    with time_machine.travel(f"{day(9)}T12:00:00+00:00", tick=False):
        (found,) = looms_found(warp, member, 10, day(0))
        assert (found.at_once, found.gap_until) == (False, None)
        assert found.when.endswith("; the teacher has it, over its time")


def test_a_loom_with_a_warning_stands_after_those_without(member):
    a_reed()
    bare = a_beam(a_loom(heddles=[10, 10, 10, 10]))
    warp = save_project(owner=member, typed=towels(bare), by=member)
    ready = a_beam(a_loom())
    reserve(ready.loom, teacher(), 0, 9)
    found = looms_found(warp, member, 14, day(0))
    assert [(one.fit.beam, one.fit.has_warnings, one.fit.refusal) for one in found] == [
        (ready, False, ""), (bare, True, ""),
    ]  # fmt: skip
    text = page(member, warp).text
    assert "Fits, with warnings" in text
    assert ".." not in found[1].fit.sentence


def test_the_page_says_what_would_have_to_give(warp, member):
    a_beam(a_loom(nickname="Narrow", weaving_width_cm=inches(20)), usable_width_cm=inches(20), sections=10)
    text = page(member, warp).text
    assert "<h2>Does not fit</h2>" in text
    assert text.index("<h2>Fits</h2>") < text.index("Narrow")


def test_the_reed_of_the_plan_goes_along(warp, member):
    assert str(reed_of(fit_on(warp, member, warp.beam))) == "12 dents to the inch"


def test_twins_of_a_reed_are_told_apart_by_their_length(member):
    longer = a_reed(dents=Decimal(10), reed_length_cm=inches(60))
    a_reed(dents=Decimal(10))
    warp = save_project(owner=member, typed=towels(a_beam(a_loom())), by=member)
    found = reed_of(fit_on(warp, member, warp.beam))
    assert (found.dents, found.reed_length_cm in {inches(46), longer.reed_length_cm}) == (10, True)


def test_a_loom_is_held_for_the_warp_with_what_goes_along(warp, member):
    reed, rack = reed_of(fit_on(warp, member, warp.beam)), a_station(kind="rack")
    answer = hold(member, warp, reed=reed.pk, stations=[rack.pk])
    made = LoomOccupancy.objects.get()
    assert answer.url == made.get_absolute_url()
    assert (made.title, made.member, made.last_day) == ("Eight towels", member, day(20))
    assert {booking.tool for booking in made.tools.all()} == {reed, rack}
    assert Project.objects.get(pk=warp.pk).reservation == made


def test_the_sheet_says_which_loom_it_has(warp, member):
    hold(member, warp)
    text = as_(member).get(warp.get_absolute_url()).text
    assert LoomOccupancy.objects.get().get_absolute_url() in text
    assert reverse("warp-looms", args=[warp.pk]) not in text


def test_a_taken_reed_keeps_the_loom_free_and_what_was_typed(warp, member):
    reed = reed_of(fit_on(warp, member, warp.beam))
    reserve(member=teacher(), start=0, end=9, tools=(reed,))
    answer = hold(member, warp, reed=reed.pk, note="by the window, please")
    assert (answer.status_code, LoomOccupancy.objects.count()) == (422, 1)
    assert "is with the teacher" in answer.text
    assert "by the window, please" in answer.text


def test_a_warp_has_one_loom_at_a_time(warp, member):
    hold(member, warp)
    other = a_beam(a_loom())
    answer = hold(member, warp, other, starts_on=day(30).isoformat(), last_day=day(40).isoformat())
    assert (answer.status_code, LoomOccupancy.objects.count()) == (422, 1)
    give_back(occupancy=LoomOccupancy.objects.get(), by=member)
    assert hold(member, warp, other).status_code == 302


@pytest.mark.parametrize("who", [guest, new_member])
def test_anothers_warp_gets_no_loom(warp, who):
    answer = hold(who(), warp)
    assert (answer.status_code, LoomOccupancy.objects.count()) == (422, 0)


def test_a_teacher_holds_a_loom_for_a_members_warp(warp, member):
    assert hold(teacher(), warp).status_code == 302
    assert LoomOccupancy.objects.get().member == member


def test_a_warp_put_away_gets_no_loom(warp, member):
    Project.objects.filter(pk=warp.pk).update(archived=True)
    assert hold(member, warp).status_code == 422


def test_a_draft_has_no_loom_to_look_for(member):
    draft = save_project(owner=member, typed={"units": "inch", "form": {"title": "An idea"}}, by=member)
    assert page(member, draft).url == draft.get_absolute_url()


def test_a_changed_wish_fetches_the_list_alone(warp, member):
    answer = as_(member).get(reverse("warp-looms", args=[warp.pk]), {"days": 9}, headers={"HX-Target": "looms-found"})
    assert "<html" not in answer.text
    assert "For 9 days, as you said." in answer.text


@pytest.mark.parametrize(
    "query",
    [
        {"days": "0"}, {"days": "99999999999999999999"}, {"days": "soon"}, {"hours": "-3"}, {"hours": "1e999"},
        {"hours": "169"}, {"starting": "0000-00-00"}, {"starting": "9999-12-31"}, {"starting": "yesterday"},
        {"starting": "2001-01-01"}, {"hours": "\x00"}, {"starting": "2026-11-30", "days": "366", "hours": "0.0001"},
    ],
)  # fmt: skip
def test_whatever_is_asked_gets_a_page(warp, member, query):
    assert page(member, warp, **query).status_code == 200
    assert as_(member).get(reverse("warp-reserve-loom", args=[warp.pk, warp.beam.pk]), query).status_code == 200


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"starts_on": ""}, "Fill in this box"),
        ({"last_day": "9999-12-31"}, "too far ahead"),
        ({"starts_on": date(2001, 1, 1).isoformat()}, "90 days at most|past"),
        ({"reed": "999"}, "Choose one of those offered"),
        ({"stations": ["999"]}, "Choose one of those offered|not one of"),
    ],
)
def test_a_mistake_stands_on_the_page_and_nothing_is_held(warp, member, said, words):
    answer = hold(member, warp, **said)
    assert (answer.status_code, LoomOccupancy.objects.count()) == (422, 0)
    assert any(word in answer.text for word in words.split("|"))


def test_the_last_day_is_not_before_the_first(warp, member):
    answer = hold(member, warp, starts_on=day(5).isoformat(), last_day=day(4).isoformat())
    assert "The last day comes before the first." in answer.text


@pytest.mark.parametrize("looms", [1, 8])
def test_as_many_questions_for_many_looms(django_assert_max_num_queries, warp, member, looms):
    for _ in range(looms):
        a_beam(a_loom())
    browser = as_(member)
    with django_assert_max_num_queries(20):
        browser.get(reverse("warp-looms", args=[warp.pk]))
