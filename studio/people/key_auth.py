"""The door for programs that bring a key; apart from the API itself, which asks for it by the settings."""

from django.contrib.auth.models import User
from rest_framework import authentication, exceptions
from rest_framework.request import Request

from studio.people.keys import use_key


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
