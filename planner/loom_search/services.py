"""Reserve a loom for a warp: the reservation, its reed and stations, and the warp's link to it, all or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from planner.models import Project
from planner.warps.selectors import may_change
from studio.calendar.services import ReservationRequest, reserve_loom
from studio.errors import StudioError
from studio.loom_states import LoomState
from studio.models import Loom, LoomOccupancy, Member, Reed, Station


@dataclass(frozen=True, slots=True, kw_only=True)
class LoomRequest:
    """Days half-open, and what is reserved with the loom."""

    starts_on: date
    ends_before: date
    tools: Sequence[Reed | Station] = ()
    note: str = ""


@transaction.atomic
def reserve_for_warp(*, warp: Project, loom: Loom, loom_request: LoomRequest, by: Member) -> LoomOccupancy:
    """Reserve a loom for a warp's owner and let the warp know its reservation.

    Raises
    ------
    StudioError
        If the warp is another member's, archived, or has a loom already.
    LoomTaken, RuleSaysNo, NotTrained
        As of any reservation.
    """
    kept = Project.objects.select_for_update(of=("self",)).select_related("owner", "reservation").get(pk=warp.pk)
    if not may_change(kept, by):
        raise StudioError("not_yours", "This warp belongs to another member; copy it to reserve a loom for your own.")
    if kept.archived:
        raise StudioError("archived", "This warp is archived. Restore it before you reserve a loom for it.")
    if kept.reservation is not None and kept.reservation.stands and kept.reservation.state != LoomState.DONE:
        raise StudioError("has_a_loom", f"This warp has loom {kept.reservation.loom} already. Give it back first.")
    request = ReservationRequest(
        member=kept.owner,
        title=kept.title,
        starts_on=loom_request.starts_on,
        ends_before=loom_request.ends_before,
        tools=loom_request.tools,
        note=loom_request.note,
    )
    reservation = reserve_loom(loom=loom, request=request, by=by)
    Project.objects.filter(pk=kept.pk).update(reservation=reservation)  # the brief is as old as it was
    return reservation
