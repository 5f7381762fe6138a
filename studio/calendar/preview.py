"""A check before the action: would these days be granted, and if not, which would; and what may be done with a loom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial

from django.utils import timezone

from studio.calendar.rules import (
    refuse_by_rules,
    refuse_closed,
    refuse_still_dressed,
    refuse_taken,
    refuse_tool_taken,
    refuse_untrained_at,
    refuse_who_may_not,
)
from studio.calendar.selectors import Opening, at_midnight, between, late_on, openings, who_waits
from studio.calendar.services import ReservationRequest
from studio.errors import StudioError
from studio.loom_states import STEPS, LoomState, may_give_back, may_hold
from studio.models import Loom, LoomOccupancy, Member, Reed, Station
from studio.rights import Act, may
from studio.rules.selectors import booking_rules

Kind = LoomOccupancy.Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestCheck:
    """What a reservation would meet: nothing, or each rule that refuses it and perhaps other days."""

    starts_on: date
    ends_before: date
    against: str = ""
    instead: Opening | None = None
    met: tuple[LoomOccupancy, ...] = ()
    """Who has the loom in the days for which it is closed."""
    waiting: int = 0
    """How many others wait for the loom."""

    @property
    def days(self) -> int:
        """How many days were asked for."""
        return (self.ends_before - self.starts_on).days


def check_request(*, loom: Loom, request: ReservationRequest, by: Member) -> RequestCheck:
    """Say what stands against a reservation, by the same rules that meet it; nothing is written."""
    today, member, kind = timezone.localdate(), request.member, request.kind
    starts_on, ends_before = request.starts_on, request.ends_before
    checks = [
        partial(refuse_who_may_not, kind, member, by),
        partial(refuse_by_rules, booking_rules(), loom, member, kind, starts_on, ends_before, today),
        partial(_refuse_loom, loom, kind, starts_on, ends_before, today),
        *(partial(_refuse_tool, tool, member, starts_on, ends_before) for tool in request.tools),
    ]
    refused = [one for one in map(_refusal, checks) if one is not None]
    instead = None
    if any(one.code == "loom_taken" for one in refused):
        (instead,) = openings([loom], (ends_before - starts_on).days, starts_on)
    against = " ".join(one.message for one in refused)
    closes = kind == Kind.OUT
    return RequestCheck(
        starts_on=starts_on,
        ends_before=ends_before,
        against=against,
        instead=instead,
        met=met_by_closing(loom, starts_on, ends_before, today) if closes else (),
        waiting=0 if closes else who_waits(loom, besides=member).count(),
    )


def met_by_closing(loom: Loom, starts_on: date, ends_before: date, today: date) -> tuple[LoomOccupancy, ...]:
    """Give who has a loom, or a warp on it over time, in days for which it is to be closed; what is over is not met."""
    taken = between(max(starts_on, today), ends_before).filter(loom=loom).exclude(kind=Kind.OUT)
    met = list(taken.exclude(state=LoomState.DONE).order_by("starts_on"))
    late = late_on(loom, today) if starts_on <= today < ends_before else None
    return (*((late,) if late else ()), *met)


def _refusal(check: Callable[[], None]) -> StudioError | None:
    """Ask one rule; all are asked, so that one refusal does not hide another."""
    try:
        check()
    except StudioError as refused:
        return refused
    return None


def _refuse_loom(loom: Loom, kind: str, starts_on: date, ends_before: date, today: date) -> None:
    if kind == Kind.OUT:
        refuse_closed(loom, starts_on, ends_before)
        return
    refuse_taken(loom, starts_on, ends_before)
    refuse_still_dressed(loom, starts_on, ends_before, today)


def _refuse_tool(tool: Station | Reed, member: Member, starts_on: date, ends_before: date) -> None:
    if isinstance(tool, Station):
        refuse_untrained_at(booking_rules(), tool, member)
    refuse_tool_taken(tool, at_midnight(starts_on), at_midnight(ends_before))


@dataclass(frozen=True, slots=True, kw_only=True)
class AvailableActions:
    """What one member may do with one reservation today: a button for each that is true."""

    begins_later: bool
    """Its time is still to come: no step is noted yet."""
    steps: tuple[LoomState, ...]
    days: bool
    hold: bool
    take_up: bool
    offer: bool
    take_offer_back: bool
    cancel: bool
    give_back: bool
    cut_off: bool
    call_back: bool
    take_over: bool
    book_seat: bool

    @property
    def with_the_time(self) -> bool:
        """Something may be done with the loom's time."""
        return self.days or self.offer or self.take_offer_back or self.cancel or self.give_back or self.call_back


def available_actions(occupancy: LoomOccupancy, by: Member, today: date) -> AvailableActions:
    """Say what a member may do with a reservation; the actions ask again."""
    state = LoomState(occupancy.state)
    going = occupancy.stands and state is not LoomState.DONE
    teaches = may(by.role, Act.RESERVE_FOR_OTHERS)
    own = occupancy.member_id == by.pk
    yours = going and (own or teaches)
    at_work = yours and occupancy.kind != Kind.OUT
    begun = occupancy.starts_on <= today
    under_way = at_work and begun
    cut_off = under_way and LoomState.CUT_OFF in STEPS[state] and state is not LoomState.CHECKING
    back_too = state is LoomState.CHECKING and own
    return AvailableActions(
        begins_later=at_work and not begun,
        steps=tuple(step for step in STEPS[state] if step is not LoomState.CUT_OFF or back_too) if under_way else (),
        days=yours,
        hold=under_way and may_hold(state),
        take_up=at_work and state is LoomState.HOLD,
        offer=at_work and occupancy.kind == Kind.WARP and not occupancy.open_to_take_over and occupancy.is_dressed,
        take_offer_back=at_work and occupancy.open_to_take_over,
        cancel=yours and state is LoomState.RESERVED and not (begun and occupancy.kind == Kind.OUT),
        give_back=yours and begun and (occupancy.kind != Kind.WARP or may_give_back(state)),
        cut_off=cut_off and (own or may(by.role, Act.CUT_OFF_OTHERS)),
        call_back=going and occupancy.kind == Kind.WARP and teaches and occupancy.last_day > today,
        take_over=going
        and occupancy.open_to_take_over
        and occupancy.member_id != by.pk
        and may(by.role, Act.RESERVE_LOOM),
        book_seat=going and occupancy.kind == Kind.CLASS and may(by.role, Act.BOOK_SEAT),
    )
