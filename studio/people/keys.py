"""Keys for programs that ask the API in a member's name: made, used, taken back."""

import secrets
from hashlib import sha256

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone
from rest_framework import authentication, exceptions
from rest_framework.request import Request

from studio.errors import StudioError
from studio.models import ApiKey, Member

PREFIX = "warproom_"
"""Tells what it is to whoever finds one lying about."""

RANDOM_BYTES = 32
MOST_KEYS = 20


def digest_of(key: str) -> str:
    """Hash a key. It is long and random, so a fast hash keeps it as safe as a slow one."""
    return sha256(key.encode(errors="replace")).hexdigest()


@transaction.atomic
def make_key(*, member: Member, name: str) -> str:
    """Make a key for one program, and give it this once; afterwards nobody can read it.

    Raises
    ------
    StudioError
        If the member has so many keys that some must be forgotten ones.
    """
    locked = Member.objects.select_for_update().get(pk=member.pk)
    if locked.keys.count() >= MOST_KEYS:
        raise StudioError("too_many_keys", f"You have {MOST_KEYS} keys. Take back one that is no longer used.")
    key = PREFIX + secrets.token_urlsafe(RANDOM_BYTES)
    api_key = ApiKey(member=locked, name=name, digest=digest_of(key))
    api_key.full_clean()
    api_key.save()
    return key


def take_back_key(*, member: Member, pk: int) -> None:
    """Make one of a member's keys worthless, at once; another's stays."""
    ApiKey.objects.filter(member=member, pk=pk).delete()


def use_key(*, key: str) -> Member | None:
    """Give the member a key speaks for, and note the day; None where it speaks for nobody who may sign in."""
    usable = ApiKey.objects.filter(member__user__is_active=True)
    api_key = usable.select_related("member__user").filter(digest=digest_of(key)).first()
    if api_key is None:
        return None
    today = timezone.localdate()
    if api_key.used_on != today:
        ApiKey.objects.filter(pk=api_key.pk).update(used_on=today)
    return api_key.member


class KeyAuthentication(authentication.BaseAuthentication):
    """Lets a program in by the key a member made for it: `Authorization: Bearer warproom_...`."""

    def authenticate(self, request: Request) -> tuple[User, None] | None:
        """Give the user the key speaks for; other kinds of header are none of its business."""
        kind, _, key = request.headers.get("Authorization", "").partition(" ")
        if kind.lower() != "bearer":
            return None
        member = use_key(key=key.strip())
        if member is None:
            raise exceptions.AuthenticationFailed("This key opens nothing; it may have been taken back.")
        return member.user, None
