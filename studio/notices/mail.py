"""Send notices by mail, each at most once however many send at the same time."""

from __future__ import annotations

import logging
from dataclasses import dataclass
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.urls import reverse
from django.utils import timezone

from studio.models import ALWAYS_BY_MAIL, Notice
from studio.notices.selectors import to_mail
from studio.rules.selectors import studio_rules

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Sent:
    """How many went out, and how many could not."""

    mailed: int
    failed: int


def send_notices() -> Sent:
    """Send what is to be sent. A notice is claimed before it goes out, so two who send at once send it once.

    What could not be sent is given back for the next time. Should the program die between claim and sending, that one
    mail is lost and its notice stands on Today all the same: better than to be told twice.
    """
    if not settings.MAIL_IS_SET_UP:
        return Sent(0, 0)
    mailed = failed = 0
    studio, connection = studio_rules().name, get_connection()
    for notice in to_mail(timezone.now()):
        if not wants_mail(notice) or not _claim(notice):
            continue
        if _send(notice, studio, connection):
            mailed += 1
        else:
            failed += 1
    return Sent(mailed, failed)


def wants_mail(notice: Notice) -> bool:
    """Say whether a notice goes by mail: rules of the house always, the rest unless the member said no."""
    return notice.kind in ALWAYS_BY_MAIL or notice.kind not in notice.member.no_mail_for


def _claim(notice: Notice) -> bool:
    return Notice.objects.filter(pk=notice.pk, mailed_at=None).update(mailed_at=timezone.now()) == 1


def _send(notice: Notice, studio: str, connection: BaseEmailBackend) -> bool:
    letter = write_letter(notice, studio)
    letter.connection = connection
    try:
        letter.send()
    except (OSError, SMTPException) as trouble:
        log.warning("Notice %s could not be mailed: %s", notice.pk, trouble)
        Notice.objects.filter(pk=notice.pk).update(mailed_at=None)
        return False
    return True


def write_letter(notice: Notice, studio: str) -> EmailMessage:
    """Write a notice as a plain letter."""
    home = settings.BASE_URL
    last = (
        "This is a rule of the house, so it always comes by mail."
        if notice.kind in ALWAYS_BY_MAIL
        else f"You choose what comes by mail here: {home}{reverse('my-notices')}"
    )
    body = f"{notice.member.name},\n\n{notice.text}\n\n{home}{notice.get_absolute_url()}\n\n{studio}\n{last}\n"
    kind = notice.get_kind_display()
    subject = " ".join(f"{studio}: {kind}".split())
    return EmailMessage(subject=subject, body=body, to=[notice.member.user.email])
