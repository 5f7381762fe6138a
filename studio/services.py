"""Deeds done to looms, tools and people. Each takes its lock, looks, then writes; pages, admin and tests share them."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from studio.errors import StillInUse, StudioError
from studio.models import Beam, BeamRound, Briefing, Loom, Member, Reed, Station, StudioRules
from studio.rights import Role
from studio.selectors import hanging_on, is_last_steward, rules

Kept = TypeVar("Kept", bound=models.Model)
Values = Mapping[str, Any]


def _write(thing: Kept, values: Values) -> Kept:
    for name, value in values.items():
        setattr(thing, name, value)
    thing.full_clean()
    thing.save()
    return thing


def _locked(thing: Kept) -> Kept:
    """Take the row as it is now, and hold it until the deed is done."""
    return type(thing)._default_manager.select_for_update().get(pk=thing.pk)


def _change(thing: Kept, values: Values) -> Kept:
    return _write(_locked(thing) if thing.pk else thing, values)


@transaction.atomic
def keep_loom(*, loom: Loom | None, values: Values) -> Loom:
    """Put a loom on the register, or change what is known of it."""
    return _change(loom or Loom(), values)


@transaction.atomic
def remove_loom(*, loom: Loom) -> None:
    """Take a loom off the register, with its beams; refused while warps hang on it."""
    held = _locked(loom)
    _refuse_while_hanging(held, f"Loom {held}")
    held.delete()


@transaction.atomic
def keep_beam(*, beam: Beam | None, loom: Loom, values: Values, by: Member | None = None) -> Beam:
    """Put a beam on a loom, or change it. The first circumference is kept with its date."""
    _locked(loom)
    known = dict(values)
    measured_on = known.pop("measured_on", None) or timezone.localdate()
    if known.get("kind") == Beam.Kind.PLAIN:
        known |= {"pitch_cm": None, "rake_height_cm": None, "sections": 0, "divider_cm": Decimal(0)}
    if beam is not None and "circumference_cm" in known:
        raise ValueError("the circumference of a known beam changes by measure_beam, which keeps the date")
    kept = _change(beam or Beam(loom=loom), known)
    if beam is None:
        _note_round(kept, kept.circumference_cm, measured_on, by)
    return kept


@transaction.atomic
def measure_beam(
    *, beam: Beam, circumference_cm: Decimal, measured_on: date, by: Member | None, note: str = ""
) -> BeamRound:
    """Keep a new circumference with its date. Turns are counted on the latest one."""
    held = _locked(beam)
    made = _note_round(held, circumference_cm, measured_on, by, note)
    latest = held.rounds.first()
    if latest is not None and latest.circumference_cm != held.circumference_cm:
        _write(held, {"circumference_cm": latest.circumference_cm})
    return made


def _note_round(
    beam: Beam, circumference_cm: Decimal, measured_on: date, by: Member | None, note: str = ""
) -> BeamRound:
    if measured_on > timezone.localdate():
        raise ValidationError({"measured_on": "That day is still to come. Give the day it was measured."})
    known = {"circumference_cm": circumference_cm, "measured_on": measured_on, "measured_by": by, "note": note}
    return _write(BeamRound(beam=beam), known)


@transaction.atomic
def remove_beam(*, beam: Beam) -> None:
    """Take a beam off its loom, with its measurements; refused while warps hang on it."""
    held = _locked(beam)
    _refuse_while_hanging(held, f"The {held.name}")
    held.delete()


def _refuse_while_hanging(thing: Loom | Beam, name: str) -> None:
    counts = hanging_on(thing)
    if counts:
        said = " and ".join(counts)
        instead = "Mark the loom as no longer in use instead." if isinstance(thing, Loom) else "Move them first."
        raise StillInUse("still_in_use", f"{name} cannot be removed while other records name it: {said}. {instead}")


@transaction.atomic
def keep_reed(*, reed: Reed | None, values: Values) -> Reed:
    """Put a reed on the register, or change it."""
    return _change(reed or Reed(), values)


@transaction.atomic
def keep_station(*, station: Station | None, values: Values) -> Station:
    """Put a winding station on the register, or change it."""
    return _change(station or Station(), values)


@transaction.atomic
def keep_rules(*, values: Values) -> StudioRules:
    """Change the studio's rules, tolerances and defaults."""
    return _change(rules(), values)


@transaction.atomic
def add_member(*, username: str, password: str, values: Values) -> Member:
    """Let somebody in: a way to sign in, and a member with a role."""
    user = get_user_model()(username=username)
    user.set_password(password)
    user.full_clean()
    validate_password(password, user)
    user.save()
    return _write(Member(user=user), values)


@transaction.atomic
def change_member(*, member: Member, values: Values) -> Member:
    """Change a member's name, role, or whether they may sign in.

    The last steward stays one who may, or nobody could look after the house.
    """
    known = dict(values)
    stewards_first = Member.objects.select_for_update().filter(Q(role=Role.STEWARD) | Q(pk=member.pk)).order_by("pk")
    held = next(locked for locked in stewards_first if locked.pk == member.pk)
    may_sign_in = known.pop("may_sign_in", held.user.is_active)
    stays = may_sign_in and known.get("role", held.role) == Role.STEWARD
    if not stays and is_last_steward(held):
        raise StudioError("last_steward", "This is the only steward. Make somebody else a steward first.")
    if may_sign_in != held.user.is_active:
        held.user.is_active = may_sign_in
        held.user.save(update_fields=["is_active"])
    return _write(held, known)


@transaction.atomic
def change_my_settings(*, member: Member, values: Values) -> Member:
    """Change how a member is named and shown things; the role is not theirs to change."""
    return _write(_locked(member), {name: values[name] for name in ("name", "units", "paper")})


@transaction.atomic
def record_briefing(*, member: Member, tool: str, done_on: date, by: Member) -> Briefing:
    """Note a safety briefing on one tool; a later one takes the place of the earlier."""
    if done_on > timezone.localdate():
        raise ValidationError({"done_on": "That day is still to come. Give the day of the briefing."})
    held = _locked(member)
    known = held.briefings.filter(tool=tool).first() or Briefing(member=held, tool=tool)
    return _write(known, {"done_on": done_on, "given_by": by})


def welcome_founder(*, user: User) -> Member:
    """Make whoever set the house up on the command line its steward, so that there is a way in."""
    name = user.get_username()[:60]
    return Member.objects.get_or_create(user=user, defaults={"name": name, "role": Role.STEWARD})[0]
