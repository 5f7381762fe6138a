"""Private calendar addresses: made, made anew, taken back, read. Each is a key to one calendar and to nothing else."""

from __future__ import annotations

import secrets

from django.db import transaction
from django.utils import timezone

from studio.errors import StudioError
from studio.models import Feed, Loom, Member
from studio.people.keys import RANDOM_BYTES, digest_of

MOST_FEEDS = 40


@transaction.atomic
def make_feed(*, member: Member, loom: Loom | None = None) -> str:
    """Make the secret of a calendar address and give it this once; an earlier one for the same leads nowhere then.

    Raises
    ------
    StudioError
        If the member has so many addresses that some must be forgotten ones.
    """
    locked = Member.objects.select_for_update().get(pk=member.pk)
    locked.feeds.filter(loom=loom).delete()
    if locked.feeds.count() >= MOST_FEEDS:
        raise StudioError("too_many_feeds", f"You have {MOST_FEEDS} addresses. Take back one that is no longer used.")
    secret = secrets.token_urlsafe(RANDOM_BYTES)
    feed = Feed(member=locked, loom=loom, digest=digest_of(secret))
    feed.full_clean()
    feed.save()
    return secret


def take_back_feed(*, member: Member, pk: int) -> None:
    """Make one of a member's addresses lead nowhere, at once; another's stays."""
    Feed.objects.filter(member=member, pk=pk).delete()


def use_feed(*, secret: str) -> Feed | None:
    """Give the calendar a secret opens, and note the day; None where it opens nothing, or its member may not sign in.

    The database looks a hash up by its index, so how long it takes tells nothing about the secret.
    """
    usable = Feed.objects.filter(member__user__is_active=True)
    feed = usable.select_related("member__user", "loom").filter(digest=digest_of(secret)).first()
    if feed is None:
        return None
    today = timezone.localdate()
    if feed.used_on != today:
        Feed.objects.filter(pk=feed.pk).update(used_on=today)
    return feed
