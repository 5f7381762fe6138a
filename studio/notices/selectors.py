"""Reads of notices: what a member has not seen, what is to be mailed."""

from datetime import datetime, timedelta

from django.db.models import QuerySet

from studio.models import Member, Notice

SHOWN_TODAY = 5


DAYS_TO_MAIL = 3
"""An older notice is no news: whoever sets mail up, or mends it, sends no flood."""


def notices_of(member: Member) -> QuerySet[Notice]:
    """Give all that a member was told, latest first."""
    return member.notices.select_related("occupancy", "loom")


def unseen(member: Member) -> list[Notice]:
    """Give the latest that a member has not seen, as many as fit on Today."""
    return list(notices_of(member).filter(read_at=None)[:SHOWN_TODAY])


def to_mail(now: datetime) -> QuerySet[Notice]:
    """Give what may still go out by mail to whoever gave an address and may sign in, oldest first."""
    fresh = Notice.objects.filter(mailed_at=None, made_at__gt=now - timedelta(days=DAYS_TO_MAIL))
    reachable = fresh.filter(member__user__is_active=True).exclude(member__user__email="")
    return reachable.select_related("member__user", "occupancy").order_by("made_at", "pk")
