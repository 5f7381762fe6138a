"""Writes of people."""

from datetime import date

from django.contrib.auth import get_user_model
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from studio.errors import StudioError
from studio.models import Briefing, Member
from studio.people.selectors import is_last_steward
from studio.records import Values, lock, write
from studio.rights import Role


@transaction.atomic
def add_member(*, username: str, password: str, values: Values) -> Member:
    """Let somebody in: a way to sign in, and a member with a role."""
    user = get_user_model()(username=username)
    user.set_password(password)
    user.full_clean()
    validate_password(password, user)
    user.save()
    return write(Member(user=user), values)


@transaction.atomic
def change_member(*, member: Member, values: Values) -> Member:
    """Change a member's name, role, or whether they may sign in.

    The last steward stays one who may, or nobody could look after the studio.
    """
    fields = dict(values)
    stewards_first = Member.objects.select_for_update().filter(Q(role=Role.STEWARD) | Q(pk=member.pk)).order_by("pk")
    locked = next(row for row in stewards_first if row.pk == member.pk)
    may_sign_in = fields.pop("may_sign_in", locked.user.is_active)
    stays = may_sign_in and fields.get("role", locked.role) == Role.STEWARD
    if not stays and is_last_steward(locked):
        raise StudioError("last_steward", "This is the only steward. Make somebody else a steward first.")
    if may_sign_in != locked.user.is_active:
        locked.user.is_active = may_sign_in
        locked.user.save(update_fields=["is_active"])
    return write(locked, fields)


@transaction.atomic
def change_my_settings(*, member: Member, values: Values) -> Member:
    """Change how a member is named and shown things; the role is not theirs to change."""
    return write(lock(member), {name: values[name] for name in ("name", "units", "paper")})


@transaction.atomic
def record_briefing(*, member: Member, tool: str, done_on: date, by: Member) -> Briefing:
    """Note a safety briefing on one tool; a later one takes the place of the earlier."""
    if done_on > timezone.localdate():
        raise ValidationError({"done_on": "That day is still to come. Give the day of the briefing."})
    locked = lock(member)
    briefing = locked.briefings.filter(tool=tool).first() or Briefing(member=locked, tool=tool)
    return write(briefing, {"done_on": done_on, "given_by": by})
