"""`manage.py notices`: write what is to be told today, and send it by mail where mail is set up."""

from typing import Any

from django.core.management import BaseCommand
from django.utils import timezone

from studio.calendar.notify import make_notices
from studio.notices.mail import send_notices


class Command(BaseCommand):
    """For a timer, as often as you like: each notice is written once and sent once."""

    help = "Write the notices of the day and send them by mail. Run it from a timer, every ten minutes or so."

    def handle(self, *args: Any, **options: Any) -> None:
        """Do both, and say in one line what was done."""
        count = make_notices(today=timezone.localdate())
        sent = send_notices()
        failed = f", {sent.failed} could not be sent and will be tried again" if sent.failed else ""
        self.stdout.write(f"{count} new, {sent.mailed} sent by mail{failed}.")
