"""People, their own settings, and the rules of the studio."""

from datetime import date

import pytest
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.models import Briefing, Member
from studio.people.services import change_member, record_briefing
from studio.rules.selectors import studio_rules
from studio.rules.services import keep_rules
from tests import cast

pytestmark = pytest.mark.django_db

NEW = {"name": "the spinner", "role": "member", "username": "spinner", "password": cast.PASSWORD}
RULES = {
    "name": "Quayside Weaving Room", "units": "inch", "local_rules": "Brake on.", "mismatch_note": "0.3 %",
    "mismatch_warn": "0.5", "mismatch_stop": "1", "sett_error": "2", "sett_share": "75 %", "rake_clearance_cm": "1/4",
    "section_waste_cm": "18", "box_lead_cm": "2.5 yd", "spool_reserve": "3", "spool_step_cm": "5", "tie_every_cm": "1",
}  # fmt: skip


def url(name, thing=None):
    return reverse(name, args=[thing.pk] if thing else [])


def briefed(someone, steward):
    record_briefing(member=someone, tool="sectional", done_on=date(2026, 1, 5), by=steward)


def test_members_see_names_and_roles_only():
    someone = cast.trained_member()
    briefed(someone, cast.steward())
    page = cast.as_(cast.guest()).get(url("people"))
    assertContains(page, "the trained member")
    assertNotContains(page, "sectional beam")


def test_stewards_see_the_briefings():
    someone, steward = cast.trained_member(), cast.steward()
    briefed(someone, steward)
    assertContains(cast.as_(steward).get(url("people")), "sectional beam, crank and brake, 5 Jan 2026")


def test_a_member_sees_nothing_of_anothers_briefings():
    someone, steward = cast.trained_member(), cast.steward()
    briefed(someone, steward)
    assertNotContains(cast.as_(cast.teacher()).get(url("person", someone)), "briefing")


def test_a_member_sees_her_own_briefings():
    someone, steward = cast.trained_member(), cast.steward()
    briefed(someone, steward)
    assertContains(cast.as_(someone).get(url("person", someone)), "5 January 2026")


@pytest.mark.parametrize("rows", [3, 30])
def test_the_list_asks_as_often_for_many_people_as_for_few(rows, django_assert_num_queries):
    steward = cast.steward()
    for number in range(rows):
        briefed(cast.new_member(f"member {number}"), steward)
    browser = cast.as_(steward)
    browser.get(url("people"))
    with django_assert_num_queries(6):
        browser.get(url("people"))


def test_a_steward_lets_somebody_in_who_can_then_sign_in():
    assertRedirects(cast.as_(cast.steward()).post(url("person-new"), NEW), url("people"))
    assert cast.stranger().login(username="spinner", password=cast.PASSWORD)


def test_a_new_member_reads_the_measures_of_the_house():
    keep_rules(values={"units": "metric"})
    cast.as_(cast.steward()).post(url("person-new"), NEW)
    assert Member.objects.get(name="the spinner").units == "metric"


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"password": "1234"}, "too short"),
        ({"username": "the-steward"}, "already signs in with this name"),
        ({"username": "a b"}, "letters, digits and"),
        ({"role": "queen"}, "Choose one of those offered."),
        ({"name": ""}, "Fill in this box."),
    ],
)
def test_a_mistake_lets_nobody_in_and_is_said(wrong, sentence):
    page = cast.as_(cast.steward()).post(url("person-new"), {**NEW, **wrong})
    assertContains(page, sentence, status_code=422)
    assert Member.objects.count() == 1


def test_a_first_password_is_never_sent_back():
    page = cast.as_(cast.steward()).post(url("person-new"), {**NEW, "name": ""})
    assertNotContains(page, cast.PASSWORD, status_code=422)


def test_a_role_is_changed():
    someone = cast.new_member()
    typed = {"name": someone.name, "role": "trained", "may_sign_in": "on"}
    assertRedirects(cast.as_(cast.steward()).post(url("person-edit", someone), typed), url("person", someone))
    assert Member.objects.get(pk=someone.pk).role == "trained"


def test_the_last_steward_is_told_why_not():
    steward = cast.steward()
    page = cast.as_(steward).post(url("person-edit", steward), {"name": "me", "role": "guest"})
    assertContains(page, "This is the only steward.", status_code=422)


def test_a_member_who_leaves_is_signed_out_at_once_and_marked():
    steward, someone = cast.steward(), cast.new_member()
    browser = cast.as_(someone)
    cast.as_(steward).post(url("person-edit", someone), {"name": someone.name, "role": "member"})
    assert browser.get("/").status_code == 302
    for page in (url("people"), url("person", someone)):
        assertContains(cast.as_(steward).get(page), "May not sign in")


def test_the_box_shows_whether_a_member_may_sign_in():
    steward, someone = cast.steward(), cast.new_member()
    change_member(member=someone, values={"may_sign_in": False})
    boxes = [cast.as_(steward).get(url("person-edit", who)).context["form"]["may_sign_in"].value()
             for who in (steward, someone)]  # fmt: skip
    assert boxes == [True, False]


def test_the_last_steward_cannot_shut_the_door_behind_herself():
    steward = cast.steward()
    page = cast.as_(steward).post(url("person-edit", steward), {"name": "me", "role": "steward"})
    assertContains(page, "This is the only steward.", status_code=422)


def test_a_briefing_is_noted_with_who_gave_it():
    someone, steward = cast.new_member(), cast.steward()
    typed = {"tool": "box", "done_on": "2026-02-03"}
    assertRedirects(cast.as_(steward).post(url("briefing-new", someone), typed), url("person", someone))
    assert Briefing.objects.get().given_by == steward


def test_a_briefing_without_a_day_is_refused():
    page = cast.as_(cast.steward()).post(url("briefing-new", cast.new_member()), {"tool": "box", "done_on": "soon"})
    assertContains(page, "Write the day as year, month and day", status_code=422)


@pytest.mark.parametrize("name", ["person-edit", "briefing-new"])
@pytest.mark.parametrize("someone", [cast.guest, cast.new_member, cast.trained_member, cast.teacher])
def test_only_stewards_change_people(name, someone):
    asker = someone()
    assert cast.as_(asker).post(url(name, asker)).status_code == 403


def test_new_members_are_let_in_by_stewards():
    assert cast.as_(cast.teacher()).get(url("person-new")).status_code == 403


@pytest.mark.parametrize("someone", [cast.guest, cast.new_member, cast.trained_member, cast.teacher])
def test_members_read_the_rules_and_find_no_box_to_change_them(someone):
    keep_rules(values={"local_rules": "Brake on before you let go."})
    page = cast.as_(someone()).get(url("rules"))
    for words in ("Brake on before you let go.", "Rake kept clear above the yarn", "0.25 in", "0.3 %"):
        assertContains(page, words)
    assertNotContains(page, '<button class="button">Save')


def test_the_rules_are_in_the_readers_measures():
    assertContains(cast.as_(cast.new_member(units="metric")).get(url("rules")), "0.635 cm")


def test_members_change_no_rule():
    assert cast.as_(cast.teacher()).post(url("rules"), RULES).status_code == 403
    assert studio_rules().local_rules == ""


def test_every_page_leads_to_the_rules_it_speaks_of():
    assertContains(cast.as_(cast.guest()).get(url("looms")), '<a href="/rules/">this studio’s rules</a>')


def test_a_stranger_is_shown_no_way_to_the_rules():
    assertNotContains(cast.stranger().get(url("sign-in")), 'href="/rules/"')


@pytest.mark.parametrize("name", ["people", "person-new", "rules", "my-settings", "my-password"])
def test_a_stranger_is_asked_to_sign_in(name):
    assertRedirects(cast.stranger().get(url(name)), f"{url('sign-in')}?next={url(name)}")


def test_a_member_chooses_her_measures():
    someone = cast.new_member()
    typed = {"name": "the weaver", "units": "metric", "paper": "Letter"}
    assertRedirects(cast.as_(someone).post(url("my-settings"), typed), url("my-settings"))
    someone.refresh_from_db()
    assert (someone.name, someone.units, someone.paper) == ("the weaver", "metric", "Letter")


def test_settings_with_a_mistake_keep_what_was_typed():
    page = cast.as_(cast.new_member()).post(url("my-settings"), {"name": "", "units": "metric", "paper": "A4"})
    assertContains(page, "Fill in this box.", status_code=422)
    assert page.context["form"]["units"].value() == "metric"


def test_a_password_is_changed():
    someone = cast.new_member()
    fresh = "quite another long word"
    typed = {"old_password": cast.PASSWORD, "new_password1": fresh, "new_password2": fresh}
    assertRedirects(cast.as_(someone).post(url("my-password"), typed), url("my-settings"))
    assert cast.stranger().login(username="the-new-member", password=fresh)


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"old_password": "guess"}, "That is not your present password."),
        ({"new_password2": "another"}, "The two new passwords differ"),
        ({"new_password1": ""}, "Fill in this box."),
    ],
)
def test_a_mistake_in_a_password_is_said_in_our_words(wrong, sentence):
    fresh = "quite another long word"
    typed = {"old_password": cast.PASSWORD, "new_password1": fresh, "new_password2": fresh, **wrong}
    assertContains(cast.as_(cast.new_member()).post(url("my-password"), typed), sentence)


def test_the_rules_are_kept():
    assertRedirects(cast.as_(cast.steward()).post(url("rules"), RULES), url("rules"))
    kept = studio_rules()
    assert (str(kept.sett_share), str(kept.tie_every_cm), kept.name) == (
        "0.750000", "91.440000", "Quayside Weaving Room",
    )  # fmt: skip


def test_the_rules_show_the_usual_figures_first():
    page = cast.as_(cast.steward()).get(url("rules"))
    for figure in ("0.3 %", "0.5 %", "1 %", "80 %", "2.5 yd", "0.25 in"):
        assertContains(page, f'value="{figure}"')


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"mismatch_warn": "0.1"}, "not be less than the bound before it"),
        ({"sett_share": "95 %"}, "more than 90 %"),
        ({"spool_step_cm": "0"}, "more than 0"),
        ({"local_rules": "x" * 301}, "Write at most 300 characters; these are 301."),
    ],
)
def test_a_rule_that_makes_no_sense_is_refused(wrong, sentence):
    page = cast.as_(cast.steward()).post(url("rules"), {**RULES, **wrong})
    assertContains(page, sentence, status_code=422)
    assert page.context["form"]["local_rules"].value().startswith(("Brake on.", "x"))
