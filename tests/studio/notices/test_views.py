"""The list of notices, the little one on Today, and what comes by mail."""

import pytest
from django.urls import reverse
from django.utils import timezone
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.models import Notice
from tests import cast
from tests.factories import a_loom

pytestmark = pytest.mark.django_db


def told(member, text="Loom 3 is free.", **known):
    return Notice.objects.create(
        member=member, kind="free", key=f"free:{Notice.objects.count()}", text=text, loom=a_loom(), **known
    )


def seen(notice, back=""):
    return reverse("notice-seen", args=[notice.pk]), {"back": back}


def test_today_shows_what_was_not_seen_with_a_button():
    someone = cast.guest()
    notice = told(someone)
    told(cast.teacher(), "Another's")
    page = cast.as_(someone).get("/")
    assertContains(page, "Loom 3 is free.")
    assertContains(page, seen(notice)[0])
    assertNotContains(page, "Another's")


def test_seen_takes_it_off_today_and_keeps_it_in_the_list():
    someone = cast.guest()
    browser = cast.as_(someone)
    assertRedirects(browser.post(*seen(told(someone))), reverse("today"))
    assertNotContains(browser.get("/"), "Loom 3 is free.")
    assertContains(browser.get(reverse("notices")), "Loom 3 is free.")


def test_seen_in_the_list_leads_back_to_the_list():
    someone = cast.guest()
    assertRedirects(cast.as_(someone).post(*seen(told(someone), "notices")), reverse("notices"))


def test_a_live_page_gets_the_little_list_anew():
    someone = cast.guest()
    first, _ = told(someone, "The first"), told(someone, "The second")
    page = cast.as_(someone).post(*seen(first), headers={"HX-Request": "true"})
    assertContains(page, 'id="my-notices"')
    assertContains(page, "The second")
    assertNotContains(page, "The first")
    assertNotContains(page, "<html")


def test_all_are_seen_at_once():
    someone, other = cast.guest(), cast.teacher()
    told(someone)
    mine = told(other)
    assertRedirects(cast.as_(someone).post(reverse("notices-seen")), reverse("notices"))
    assert list(Notice.objects.filter(read_at=None)) == [mine]


def test_anothers_notice_is_not_seen_for_her():
    notice = told(cast.teacher())
    cast.as_(cast.guest()).post(*seen(notice))
    notice.refresh_from_db()
    assert notice.read_at is None


@pytest.mark.parametrize("name", ["notices", "my-notices"])
def test_a_stranger_is_asked_to_sign_in(name):
    assertRedirects(cast.stranger().get(reverse(name)), f"{reverse('sign-in')}?next={reverse(name)}")


@pytest.mark.parametrize("name", ["notices-seen", "notice-seen"])
def test_looking_changes_nothing(name):
    someone = cast.guest()
    notice = told(someone)
    args = [notice.pk] if name == "notice-seen" else []
    assert cast.as_(someone).get(reverse(name, args=args)).status_code == 405


def test_what_is_told_is_text_and_no_markup():
    someone = cast.guest()
    told(someone, "<b>bold</b>")
    for address in ("/", reverse("notices")):
        assertNotContains(cast.as_(someone).get(address), "<b>bold</b>")


def test_an_empty_list_says_what_will_stand_there():
    assertContains(cast.as_(cast.guest()).get(reverse("notices")), "Nothing to tell you yet")


@pytest.mark.parametrize("rows", [10, 60])
def test_the_list_asks_as_often_for_many_as_for_few(rows, django_assert_num_queries):
    someone = cast.guest()
    for number in range(rows):
        told(someone, f"notice {number}", read_at=timezone.now() if number % 2 else None)
    browser = cast.as_(someone)
    browser.get(reverse("notices"))
    with django_assert_num_queries(6):
        browser.get(reverse("notices"))


@pytest.mark.parametrize("page", ["0", "-1", "x", "9" * 30, "\x00"])
def test_no_page_number_is_a_fault(page):
    assert cast.as_(cast.guest()).get(reverse("notices"), {"page": page}).status_code == 200


def test_an_address_and_a_choice_are_kept_and_shown():
    someone = cast.guest()
    browser = cast.as_(someone)
    typed = {"email": "weaver@example.org", "wanted": ["ending", "review"]}
    assertRedirects(browser.post(reverse("my-notices"), typed), reverse("my-notices"))
    someone.refresh_from_db()
    assert (someone.user.email, someone.no_mail_for) == (
        "weaver@example.org",
        ["broken", "free", "hours", "offered", "taken"],
    )
    form = browser.get(reverse("my-notices")).context["form"]
    assert (form["email"].value(), form["wanted"].value()) == ("weaver@example.org", ["ending", "review"])


def test_the_rules_of_the_house_are_named_and_have_no_box():
    page = cast.as_(cast.guest()).get(reverse("my-notices"))
    assertContains(page, "a loom is called back and a loom is overdue")
    assertNotContains(page, 'value="overdue"')


@pytest.mark.parametrize(
    "typed",
    [
        {"email": "no address"},
        {"email": "a@b"},
        {"email": "a@example.org\nBcc: b@example.org"},
        {"email": "x" * 250 + "@example.org"},
        {"email": "a\x00@example.org"},
        {"wanted": ["overdue"]},
        {"wanted": ["never"]},
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_is_kept(typed):
    someone = cast.guest()
    page = cast.as_(someone).post(reverse("my-notices"), {"email": "", **typed})
    assert page.status_code == 422
    someone.user.refresh_from_db()
    assert someone.user.email == ""


def test_settings_lead_to_notices_and_calendars():
    page = cast.as_(cast.guest()).get(reverse("my-settings"))
    for name in ("my-notices", "my-feeds"):
        assertContains(page, reverse(name))
