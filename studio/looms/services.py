"""Writes of looms and tools. Each locks, checks, then writes; pages, admin and tests share them."""

from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from studio.errors import StillInUse
from studio.looms.selectors import hanging_on
from studio.models import Beam, BeamRound, Loom, Member, Reed, Station
from studio.records import Values, change, lock, write


@transaction.atomic
def keep_loom(*, loom: Loom | None, values: Values) -> Loom:
    """Put a loom on the register, or change what is known of it."""
    return change(loom or Loom(), values)


@transaction.atomic
def remove_loom(*, loom: Loom) -> None:
    """Take a loom off the register, with its beams; refused while warps refer to it."""
    locked = lock(loom)
    _refuse_while_hanging(locked, f"Loom {locked}")
    locked.delete()


@transaction.atomic
def keep_beam(*, beam: Beam | None, loom: Loom, values: Values, by: Member | None = None) -> Beam:
    """Put a beam on a loom, or change it. The first circumference is kept with its date."""
    lock(loom)
    fields = dict(values)
    measured_on = fields.pop("measured_on", None) or timezone.localdate()
    if fields.get("kind") == Beam.Kind.PLAIN:
        fields |= {"pitch_cm": None, "rake_height_cm": None, "sections": 0, "divider_cm": Decimal(0)}
    if beam is not None and "circumference_cm" in fields:
        raise ValueError("the circumference of a known beam changes by measure_beam, which keeps the date")
    saved = change(beam or Beam(loom=loom), fields)
    if beam is None:
        _note_round(saved, saved.circumference_cm, measured_on, by)
    return saved


@transaction.atomic
def measure_beam(
    *, beam: Beam, circumference_cm: Decimal, measured_on: date, by: Member | None, note: str = ""
) -> BeamRound:
    """Keep a new circumference with its date. Turns are counted on the latest one."""
    locked = lock(beam)
    measured = _note_round(locked, circumference_cm, measured_on, by, note)
    latest = locked.rounds.first()
    if latest is not None and latest.circumference_cm != locked.circumference_cm:
        write(locked, {"circumference_cm": latest.circumference_cm})
    return measured


def _note_round(
    beam: Beam, circumference_cm: Decimal, measured_on: date, by: Member | None, note: str = ""
) -> BeamRound:
    if measured_on > timezone.localdate():
        raise ValidationError({"measured_on": "That day is still to come. Give the day it was measured."})
    fields = {"circumference_cm": circumference_cm, "measured_on": measured_on, "measured_by": by, "note": note}
    return write(BeamRound(beam=beam), fields)


@transaction.atomic
def remove_beam(*, beam: Beam) -> None:
    """Take a beam off its loom, with its measurements; refused while warps refer to it."""
    locked = lock(beam)
    _refuse_while_hanging(locked, f"The {locked.name}")
    locked.delete()


def _refuse_while_hanging(thing: Loom | Beam, name: str) -> None:
    counts = hanging_on(thing)
    if counts:
        listed = " and ".join(counts)
        instead = "Mark the loom as no longer in use instead." if isinstance(thing, Loom) else "Move them first."
        raise StillInUse("still_in_use", f"{name} cannot be removed while other records name it: {listed}. {instead}")


@transaction.atomic
def keep_reed(*, reed: Reed | None, values: Values) -> Reed:
    """Put a reed on the register, or change it."""
    return change(reed or Reed(), values)


@transaction.atomic
def keep_station(*, station: Station | None, values: Values) -> Station:
    """Put a winding station on the register, or change it."""
    return change(station or Station(), values)
