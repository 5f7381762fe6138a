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
from studio.calendar.services import Wish, reserve_loom
from studio.care.check_services import note_fault
from studio.models import Fault, Loom, LoomOccupancy, Member


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """What came of closing a loom."""

    spans: tuple[LoomOccupancy, ...]
    """The days that were free, and are closed now."""
    met: tuple[LoomOccupancy, ...]
    """Who has the loom in between, or a warp on it over time."""
    fault: Fault | None
    """What stands open on the loom while others have it."""


@transaction.atomic
def close_loom(*, loom: Loom, wish: Wish, by: Member) -> Closed:
    """Close a loom where it is free; where somebody has it, the reason stands as an open fault.

    No span is laid across another, and nobody loses days: with a warp on the loom they would be needed anyway.

    Raises
    ------
    LoomTaken
        If it is closed already in those days.
    """
    Member.objects.select_for_update().get(pk=wish.member.pk)
    held = Loom.objects.select_for_update().get(pk=loom.pk)
    refuse_who_may_not(wish.kind, wish.member, by)
    refuse_closed(held, wish.starts_on, wish.ends_before)
    met = met_by_closing(held, wish.starts_on, wish.ends_before, timezone.localdate())
    taken = between(wish.starts_on, wish.ends_before).filter(loom=held).order_by("starts_on")
    gaps = list(_gaps(taken, wish.starts_on, wish.ends_before))
    spans = tuple(
        reserve_loom(loom=held, wish=replace(wish, starts_on=first, ends_before=free), by=by) for first, free in gaps
    )
    fault = note_fault(loom=held, text=f"Out of order: {wish.title}", by=by) if met else None
    for one in met:
        tell_out_of_order(held=one, by=by, fault=fault, why=wish.title)
    return Closed(spans=spans, met=met, fault=fault)


def _gaps(taken: Iterable[LoomOccupancy], starts_on: date, ends_before: date) -> Iterator[tuple[date, date]]:
    first = starts_on
    for one in taken:
        if first < one.starts_on:
            yield first, one.starts_on
        first = one.ends_before
    if first < ends_before:
        yield first, ends_before
