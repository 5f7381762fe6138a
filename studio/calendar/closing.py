"""Put a loom out of order, whoever has it: free days are closed, and who has the others keeps them and is told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from django.db import transaction
from django.utils import timezone

from studio.calendar.notify import tell_out_of_order
from studio.calendar.preview import met_by_closing
from studio.calendar.rules import refuse_closed, refuse_who_may_not
from studio.calendar.selectors import between
from studio.calendar.services import ReservationRequest, reserve_loom
from studio.care.check_services import note_fault
from studio.models import Fault, Loom, LoomOccupancy, Member


@dataclass(frozen=True, slots=True, kw_only=True)
class LoomClosure:
    """What came of closing a loom."""

    spans: tuple[LoomOccupancy, ...]
    """The days that were free, and are closed now."""
    met: tuple[LoomOccupancy, ...]
    """Who has the loom in between, or a warp on it over time."""
    fault: Fault | None
    """What stands open on the loom while others have it."""


@transaction.atomic
def close_loom(*, loom: Loom, request: ReservationRequest, by: Member) -> LoomClosure:
    """Close a loom where it is free; where somebody has it, the reason stands as an open fault.

    No span is laid across another, and nobody loses days: with a warp on the loom they would be needed anyway.

    Raises
    ------
    LoomTaken
        If it is closed already in those days.
    """
    Member.objects.select_for_update().get(pk=request.member.pk)
    locked = Loom.objects.select_for_update().get(pk=loom.pk)
    refuse_who_may_not(request.kind, request.member, by)
    refuse_closed(locked, request.starts_on, request.ends_before)
    met = met_by_closing(locked, request.starts_on, request.ends_before, timezone.localdate())
    taken = between(request.starts_on, request.ends_before).filter(loom=locked).order_by("starts_on")
    gaps = list(_gaps(taken, request.starts_on, request.ends_before))
    free_days = (replace(request, starts_on=first, ends_before=free) for first, free in gaps)
    spans = tuple(reserve_loom(loom=locked, request=one, by=by) for one in free_days)
    fault = note_fault(loom=locked, text=f"Out of order: {request.title}", by=by) if met else None
    for one in met:
        tell_out_of_order(occupancy=one, by=by, fault=fault, why=request.title)
    return LoomClosure(spans=spans, met=met, fault=fault)


def _gaps(taken: Iterable[LoomOccupancy], starts_on: date, ends_before: date) -> Iterator[tuple[date, date]]:
    first = starts_on
    for one in taken:
        if first < one.starts_on:
            yield first, one.starts_on
        first = one.ends_before
    if first < ends_before:
        yield first, ends_before
