"""The actions that need a page of their own: what is asked, what is said before and after, and who does it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from operator import attrgetter
from types import MappingProxyType
from typing import Any

from django import forms

from studio.calendar.dressing import call_back, change_loom_state, put_on_hold, take_over
from studio.calendar.forms import CallBackForm, DaysForm, HoldForm, NoteForm, ReasonForm, SureForm, TakeOverForm
from studio.calendar.preview import AvailableActions
from studio.calendar.services import cancel_reservation, give_back, move_reservation
from studio.loom_states import LoomState
from studio.models import LoomOccupancy, Member

RunAction = Callable[[LoomOccupancy, Member, dict[str, Any]], LoomOccupancy]
TENSION = (
    "The warp is under tension. Hold the handle or wheel before you touch pawl or brake, and let the tension off "
    "slowly. Cut only what is slack, in small groups that you tie at once. Keep the scissors away from hands and from "
    "other warps, and close them before you walk."
)
"""Usual cautions (common practice, no source); the page adds the studio's rules and the maker's manual."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoomAction:
    """One action with a reservation."""

    title: str
    button: str
    done: str
    form: Callable[..., forms.Form]
    run: RunAction
    allowed: Callable[[AvailableActions], bool]
    lede: str = ""
    caution: str = ""
    leave: str = "Cancel"
    grave: bool = False
    """Others lose by it, or it cannot be taken back: the button says so."""
    starts_with: Callable[[LoomOccupancy], dict[str, Any]] = lambda _held: {}


def _days(occupancy: LoomOccupancy) -> dict[str, Any]:
    return {"starts_on": occupancy.starts_on, "last_day": occupancy.last_day}


LOOM_ACTIONS: Mapping[str, LoomAction] = MappingProxyType({
    "days": LoomAction(
        title="Change the days", button="Change the days", done="The days are changed.",
        lede="Everything reserved with it moves too. Once the work has begun, only the last day can be moved.",
        form=DaysForm, allowed=attrgetter("days"), starts_with=_days,
        run=lambda occupancy, by, typed: move_reservation(
            occupancy=occupancy, starts_on=typed["starts_on"], ends_before=typed["ends_before"], by=by
        ),
    ),
    "hold": LoomAction(
        title="Put on hold", button="Put on hold", done="The work is on hold.",
        lede="It keeps its loom and its days. On the day you give, somebody looks at it again.",
        form=HoldForm, allowed=attrgetter("hold"),
        run=lambda occupancy, by, typed: put_on_hold(
            occupancy=occupancy, review_on=typed["review_on"], by=by, note=typed["note"]
        ),
    ),
    "cancel": LoomAction(
        title="Cancel the reservation", button="Cancel the reservation", leave="Keep the reservation",
        done="The reservation is cancelled; its days are free.",
        lede="Its days are free at once, for anybody, and so is everything reserved with it.", grave=True,
        form=SureForm, allowed=attrgetter("cancel"),
        run=lambda occupancy, by, _typed: cancel_reservation(occupancy=occupancy, by=by),
    ),
    "give-back": LoomAction(
        title="Give the loom back", button="Give it back", done="The loom is given back. Thank you.", grave=True,
        lede="It is free from today, and so is everything reserved with it. First: knots and tape off the leaders, "
        "lint and ends swept up, reed and tools back in their place. This cannot be taken back.",
        form=NoteForm, allowed=attrgetter("give_back"),
        run=lambda occupancy, by, typed: give_back(occupancy=occupancy, by=by, note=typed["note"]),
    ),
    "cut-off": LoomAction(
        title="Cut the warp off", button="It is cut off", done="The warp is cut off. Inspect the loom next.",
        lede="Note it when the whole warp comes off: it does not go back on. Where a piece is cut off and the rest "
        "tied on again, the work is still weaving.", caution=TENSION, grave=True,
        form=NoteForm, allowed=attrgetter("cut_off"),
        run=lambda occupancy, by, typed: change_loom_state(
            occupancy=occupancy, to=LoomState.CUT_OFF, by=by, note=typed["note"]
        ),
    ),
    "call-back": LoomAction(
        title="Call the loom back", button="Call it back", done="The loom is called back.", grave=True,
        lede="Its time ends earlier and is not extended again. Talk to the weaver first: a warp has to be woven off or "
        "cut off by then.",
        form=CallBackForm, allowed=attrgetter("call_back"),
        run=lambda occupancy, by, typed: call_back(
            occupancy=occupancy, ends_before=typed["ends_before"], by=by, note=typed["note"]
        ),
    ),
    "take-over": LoomAction(
        title="Take the loom over", button="Take it over", done="The loom is yours.",
        lede="You get the days that are left, the warp as it is and everything reserved with it. Threading and sley "
        "stay; you can tie your own warp on to them.",
        form=TakeOverForm, allowed=attrgetter("take_over"),
        run=lambda occupancy, by, typed: take_over(occupancy=occupancy, title=typed["title"], by=by),
    ),
})  # fmt: skip
"""By the word in the address."""


def form_for(action: LoomAction, occupancy: LoomOccupancy, by: Member) -> Callable[..., forms.Form]:
    """Give the form of a action; cutting off another's warp needs its reason."""
    another = occupancy.member_id != by.pk
    return ReasonForm if action.form is NoteForm and action.caution and another else action.form
