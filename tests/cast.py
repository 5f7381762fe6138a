"""The named cast: people by role, so that every page is asked the same questions.

The steward looks after the house, the teacher teaches, the trained member may use the risky tools alone,
the new member just joined, the guest is a student for a day. The stranger is not signed in.
"""

from django.contrib.auth import get_user_model
from django.test import Client

from studio.models import Member
from studio.rights import Role

PASSWORD = "a long word of the warping room"


def member(role, name, *, units="inch"):
    """Give one person with a way to sign in."""
    user = get_user_model().objects.create_user(username=name.replace(" ", "-"), password=PASSWORD)
    return Member.objects.create(user=user, name=name, role=role, units=units)


def steward(name="the steward", **known):
    return member(Role.STEWARD, name, **known)


def teacher(name="the teacher", **known):
    return member(Role.TEACHER, name, **known)


def trained_member(name="the trained member", **known):
    return member(Role.TRAINED, name, **known)


def new_member(name="the new member", **known):
    return member(Role.MEMBER, name, **known)


def guest(name="the guest", **known):
    return member(Role.GUEST, name, **known)


def as_(someone):
    """Give a browser in which this person is signed in."""
    browser = Client()
    browser.force_login(someone.user)
    return browser


def stranger():
    """Give a browser in which nobody is signed in."""
    return Client()
