"""Reads of people."""

from django.db.models import QuerySet

from studio.models import ApiKey, Briefing, Member
from studio.rights import Role


def people() -> QuerySet[Member]:
    """Give every member with the briefings they were given, by name."""
    return Member.objects.select_related("user").prefetch_related("briefings").order_by("name", "pk")


def briefings_of(member: Member) -> QuerySet[Briefing]:
    """Give the safety briefings of one member, latest first."""
    return member.briefings.select_related("given_by")


def keys_of(member: Member) -> QuerySet[ApiKey]:
    """Give a member's keys for other programs, latest first."""
    return member.keys.all()


def is_last_steward(member: Member) -> bool:
    """Say whether nobody else could look after the studio if this member no longer did."""
    others = Member.objects.filter(role=Role.STEWARD, user__is_active=True).exclude(pk=member.pk)
    return member.role == Role.STEWARD and not others.exists()


def find_people(text: str) -> QuerySet[Member]:
    """Find members by the name shown; the words of the trade are nobody's name."""
    name = text.replace("\x00", "").strip()
    return Member.objects.filter(name__icontains=name).order_by("name", "pk") if name else Member.objects.none()
