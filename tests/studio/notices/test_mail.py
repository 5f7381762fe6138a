"""Notices by mail: who gets which, in what words, and never twice."""

from datetime import timedelta
from io import StringIO
from smtplib import SMTPServerDisconnected

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.core.management import call_command
from django.utils import timezone

from studio.calendar.dressing import call_back
from studio.calendar.notify import make_notices
from studio.models import Notice
from studio.notices.mail import Sent, send_notices
from studio.notices.services import choose_mail
from studio.people.services import change_member
from studio.rules.services import keep_rules
from tests.cast import steward, teacher, trained_member
from tests.studio.bookings import day, reserve

pytestmark = pytest.mark.django_db
ADDRESS = "weaver@example.org"


@pytest.fixture(autouse=True)
def mail_is_set_up(settings):
    settings.MAIL_IS_SET_UP = True


def ending(email=ADDRESS, no_mail_for=()):
    """Give a member whose time is about to end, with one notice of it."""
    made = reserve(end=3)
    choose_mail(member=made.member, email=email, no_mail_for=list(no_mail_for))
    make_notices(today=day(0))
    return made


def test_a_notice_goes_out_once_to_the_address_that_was_given():
    ending()
    assert [send_notices(), send_notices()] == [Sent(1, 0), Sent(0, 0)]
    (letter,) = mail.outbox
    assert letter.to == [ADDRESS]


def test_the_letter_is_plain_and_says_what_where_and_how_to_have_it_otherwise():
    keep_rules(values={"name": "Quayside Weaving Room"})
    made = ending()
    send_notices()
    (letter,) = mail.outbox
    assert letter.subject == "Quayside Weaving Room: a time is about to end"
    assert letter.body.startswith("the trained member,\n\nYour time on loom")
    for words in (f"http://testserver{made.get_absolute_url()}", "http://testserver/me/notices/"):
        assert words in letter.body
    assert letter.content_subtype == "plain"


def test_without_an_address_or_with_a_no_nothing_goes_out():
    ending(email="")
    assert send_notices() == Sent(0, 0)


def test_a_kind_that_was_turned_off_stays_on_today_alone():
    ending(no_mail_for=["ending"])
    assert (send_notices(), Notice.objects.get().mailed_at) == (Sent(0, 0), None)


def test_a_call_back_goes_out_whatever_was_chosen():
    made = reserve(end=60)
    choose_mail(member=made.member, email=ADDRESS, no_mail_for=["called", "ending"])
    call_back(occupancy=made, ends_before=day(20), by=teacher(), note="")
    send_notices()
    assert "rule of the house" in mail.outbox[0].body


def test_where_no_mail_is_set_up_none_is_sent(settings):
    settings.MAIL_IS_SET_UP = False
    ending()
    assert (send_notices(), mail.outbox) == (Sent(0, 0), [])


def test_a_member_who_may_not_sign_in_gets_no_mail():
    made = ending()
    steward()
    change_member(member=made.member, values={"may_sign_in": False})
    assert send_notices() == Sent(0, 0)


def test_old_notices_are_no_flood_when_mail_is_set_up_late(time_machine):
    ending()
    time_machine.move_to(timezone.now() + timedelta(days=4))
    assert send_notices() == Sent(0, 0)


@pytest.mark.parametrize("trouble", [SMTPServerDisconnected("gone"), ConnectionRefusedError("no"), TimeoutError()])
def test_what_could_not_be_sent_is_tried_again(monkeypatch, trouble):
    ending()

    def fail(self, messages):
        raise trouble

    with monkeypatch.context() as broken:
        broken.setattr(EmailBackend, "send_messages", fail)
        assert send_notices() == Sent(0, 1)
    assert send_notices() == Sent(1, 0)


def test_a_name_with_a_new_line_makes_no_header():
    # RFC 5322, 2.2: a header field ends at the line break, so a line break in a subject would begin another one.
    keep_rules(values={"name": "Quayside\nBcc: everybody@example.org"})
    ending()
    send_notices()
    message = mail.outbox[0].message()
    assert (message["Bcc"], "\n" in message["Subject"]) == (None, False)


def test_the_command_says_what_it_did():
    made = reserve(end=3)
    choose_mail(member=made.member, email=ADDRESS, no_mail_for=[])
    said = StringIO()
    for _ in range(2):
        call_command("notices", stdout=said)
    assert said.getvalue().splitlines() == ["1 new, 1 sent by mail.", "0 new, 0 sent by mail."]


def test_the_command_tells_of_mail_that_failed(monkeypatch):
    ending()

    def fail(self, messages):
        raise TimeoutError

    monkeypatch.setattr(EmailBackend, "send_messages", fail)
    said = StringIO()
    call_command("notices", stdout=said)
    assert said.getvalue() == "0 new, 0 sent by mail, 1 could not be sent and will be tried again.\n"


def test_letters_to_two_members_name_only_their_own_reader():
    ending()
    second = trained_member("another")
    reserve(member=second, end=3)
    choose_mail(member=second, email="other@example.org", no_mail_for=[])
    make_notices(today=day(0))
    send_notices()
    assert sorted(letter.to for letter in mail.outbox) == [["other@example.org"], [ADDRESS]]
