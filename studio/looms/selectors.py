"""Reads of looms and tools. Each is one home for one query."""

from typing import Any

from django.db.models import PROTECT, Count, Model, Q, QuerySet

from studio.models import Beam, BeamRound, Loom, Reed, Station
from studio.synonyms import names_meant

LOOM_DIGITS = 4


def next_loom_number() -> int:
    """Give the number after the highest one."""
    last = Loom.objects.order_by("-number").values_list("number", flat=True).first()
    return (last or 0) + 1


def rounds_of(loom: Loom) -> QuerySet[BeamRound]:
    """Give every circumference measured on this loom's beams, latest first."""
    return BeamRound.objects.filter(beam__loom=loom).select_related("beam", "measured_by")


def reeds() -> QuerySet[Reed]:
    """Give all reeds with the loom they are kept with, those in use first."""
    return Reed.objects.select_related("kept_with").order_by("retired", "per", "dents", "pk")


def stations() -> QuerySet[Station]:
    """Give all winding stations, those in use first."""
    return Station.objects.order_by("retired", "kind", "name")


def hanging_on(thing: Loom | Beam) -> list[str]:
    """Count what other apps refer to a loom or beam by, in their own words: 1 warp, 3 warps.

    They import this app and not the other way round, so the models are asked who points here. Of this app only what
    would forbid the removal counts, such as a reservation; the rest is removed with it.
    """
    counts: list[str] = []
    for relation in thing._meta.related_objects:
        model: type[Model] = relation.related_model
        if model._meta.app_label == thing._meta.app_label and relation.on_delete is not PROTECT:
            continue
        count = model._default_manager.filter(**{relation.field.name: thing}).count()
        if count:
            words = model._meta.verbose_name if count == 1 else model._meta.verbose_name_plural
            counts.append(f"{count} {words}")
    return counts


def find_looms(text: str) -> QuerySet[Loom]:
    """Find looms by number, nickname, notes, or by the kind of beam they have."""
    names = names_meant(text)
    matches = Q(pk__in=[])
    for name in names:
        matches |= Q(nickname__icontains=name) | Q(notes__icontains=name) | Q(beams__name__icontains=name)
    matches |= Q(beams__kind__in=[kind.value for kind in Beam.Kind if f"{kind.label} beam" in names])
    numbers = [int(name) for name in names if name.isascii() and name.isdigit() and len(name) <= LOOM_DIGITS]
    matches |= Q(number__in=numbers)
    return Loom.objects.with_beams().filter(matches).distinct()


def find_stations(text: str) -> QuerySet[Station]:
    """Find stations by name or kind, under any name the trade has for the kind."""
    names = names_meant(text)
    matches = Q(kind__in=[kind.value for kind in Station.Kind if kind.label in names])
    for name in names:
        matches |= Q(name__icontains=name) | Q(notes__icontains=name)
    return stations().filter(matches)


def going_with_loom(loom: Loom) -> dict[str, Any]:
    """Say what goes and what stays when a loom leaves the register."""
    beams = loom.beams.annotate(times=Count("rounds"))
    goes = [f"Its {beam.name}, with {_counted(beam.times, 'measurement')} of the circumference." for beam in beams]
    counts = (
        (loom.faults.count(), "fault that was noted", "faults that were noted"),
        (loom.jobs.count(), "job of upkeep, with its log", "jobs of upkeep, with their log"),
    )
    goes += [f"{number} {one if number == 1 else many}." for number, one, many in counts if number]
    stays = [f"The reed {reed}, kept with no loom." for reed in loom.own_reeds.all()]
    return {"title": f"Remove loom {loom}?", "goes": goes, "stays": stays, "back": loom.get_absolute_url()}


def going_with_beam(beam: Beam) -> dict[str, Any]:
    """Say what goes when a beam is taken off its loom."""
    goes = [f"{_counted(beam.rounds.count(), 'measurement')} of its circumference."]
    stays = [f"Loom {beam.loom} and its other beams."]
    back = beam.loom.get_absolute_url()
    return {"title": f"Remove the {beam.name} of loom {beam.loom}?", "goes": goes, "stays": stays, "back": back}


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
