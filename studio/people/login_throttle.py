"""The throttle on guessing passwords: after a few wrong ones in a row, whoever guesses waits, longer each time.

Counted for a user name together with the address it is tried from, so that nobody can keep a member out from
elsewhere. The count lies in the database, because the server's processes share nothing else.
"""

from datetime import timedelta
from hashlib import sha256

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from studio.models import WrongPasswords

FREE_TRIES = 5
FIRST_WAIT = timedelta(minutes=1)
LONGEST_WAIT = timedelta(hours=1)
MOST_DOUBLINGS = 10
FORGOTTEN_AFTER = timedelta(days=1)


def wait_after(times: int) -> timedelta:
    """Give the wait after so many wrong passwords: none at first, then a minute, then twice as long each time.

    Examples
    --------
    >>> [wait_after(times).seconds // 60 for times in (4, 5, 6, 7, 11, 1000)]
    [0, 1, 2, 4, 60, 60]
    """
    if times < FREE_TRIES:
        return timedelta()
    doublings = min(times - FREE_TRIES, MOST_DOUBLINGS)
    return min(FIRST_WAIT * (1 << doublings), LONGEST_WAIT)


def time_to_wait(*, username: str, address: str) -> timedelta:
    """Give how long this name must not be tried from this address; nothing when it may be tried now."""
    wrong = WrongPasswords.objects.filter(key=_key(username, address)).first()
    if wrong is None or wrong.last_at < timezone.now() - FORGOTTEN_AFTER:
        return timedelta()
    return max(wrong.last_at + wait_after(wrong.times) - timezone.now(), timedelta())


@transaction.atomic
def note_wrong_password(*, username: str, address: str) -> None:
    """Count one wrong password, and forget those of other days."""
    now = timezone.now()
    WrongPasswords.objects.filter(last_at__lt=now - FORGOTTEN_AFTER).delete()
    key = _key(username, address)
    _known, is_new = WrongPasswords.objects.get_or_create(key=key, defaults={"times": 1, "last_at": now})
    if not is_new:
        WrongPasswords.objects.filter(key=key).update(times=F("times") + 1, last_at=now)


def forget_wrong_passwords(*, username: str, address: str) -> None:
    """Start anew once the right password was given."""
    WrongPasswords.objects.filter(key=_key(username, address)).delete()


def _key(username: str, address: str) -> str:
    return sha256(f"{username.strip().casefold()}\n{address}".encode(errors="replace")).hexdigest()
