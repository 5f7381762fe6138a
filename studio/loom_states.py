"""States of a loom while somebody has it, and the steps from one to the next.

The order is the usual one of dressing a loom (common practice, no source). A loom is dressed from back to front or
from front to back, so beaming, threading and sleying may follow each other either way.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType


class LoomState(StrEnum):
    """Where the work on a loom stands."""

    RESERVED = "reserved"
    ASSIGNED = "assigned"
    BEAMING = "beaming"
    BEAMED = "beamed"
    THREADED = "threaded"
    SLEYED = "sleyed"
    WEAVING = "weaving"
    HOLD = "hold"
    CUT_OFF = "cut_off"
    CHECKING = "checking"
    DONE = "done"

    @property
    def label(self) -> str:
        """The state as people say it."""
        return _LABELS.get(self, self.value)


_LABELS: Mapping[LoomState, str] = MappingProxyType({
    LoomState.ASSIGNED: "planning and winding",
    LoomState.HOLD: "on hold",
    LoomState.CUT_OFF: "cut off",
    LoomState.CHECKING: "being checked",
    LoomState.DONE: "given back",
})  # fmt: skip

S = LoomState
DRESSING = (S.BEAMING, S.BEAMED, S.THREADED, S.SLEYED)
DRESSED = frozenset({*DRESSING, S.WEAVING})
"""A warp is on the loom: nobody else can use it, whatever the calendar says."""
BEFORE_THE_WARP = frozenset({S.RESERVED, S.ASSIGNED})

STEPS: Mapping[LoomState, tuple[LoomState, ...]] = MappingProxyType({
    S.RESERVED: (S.ASSIGNED, S.BEAMING, S.THREADED, S.SLEYED),
    S.ASSIGNED: (S.BEAMING, S.THREADED, S.SLEYED, S.RESERVED),
    S.BEAMING: (S.BEAMED, S.THREADED, S.SLEYED, S.CUT_OFF),
    **{one: (*(other for other in DRESSING if other is not one), S.WEAVING, S.CUT_OFF) for one in DRESSING[1:]},
    S.WEAVING: (S.CUT_OFF, S.SLEYED),
    S.CUT_OFF: (S.CHECKING, S.WEAVING),
    S.CHECKING: (S.CUT_OFF,),
    S.HOLD: (),
    S.DONE: (),
})  # fmt: skip
"""Steps by hand. Hold goes back to where it came from, and giving the loom back is a action of its own."""

_NEXT: Mapping[LoomState, LoomState] = MappingProxyType({
    S.RESERVED: S.ASSIGNED, S.ASSIGNED: S.BEAMING, S.BEAMING: S.BEAMED, S.BEAMED: S.THREADED, S.THREADED: S.SLEYED,
    S.SLEYED: S.WEAVING, S.CUT_OFF: S.CHECKING,
})  # fmt: skip
_BACK: Mapping[LoomState, LoomState] = MappingProxyType({
    S.ASSIGNED: S.RESERVED, S.WEAVING: S.SLEYED, S.CUT_OFF: S.WEAVING, S.CHECKING: S.CUT_OFF,
})  # fmt: skip
"""While a loom is dressed no step is a step back: from front to back it is sleyed before it is beamed."""


@dataclass(frozen=True, slots=True)
class Ways:
    """The steps that are open, parted for a page: the usual next one, those of another order, and one back."""

    onward: LoomState | None
    other: tuple[LoomState, ...]
    back: LoomState | None


def ways_from(state: str, steps: Iterable[LoomState]) -> Ways:
    """Part the open steps by where they lead.

    Examples
    --------
    >>> ways = ways_from("assigned", STEPS[LoomState.ASSIGNED])
    >>> ways.onward.label, [step.label for step in ways.other], ways.back.label
    ('beaming', ['threaded', 'sleyed'], 'reserved')
    """
    offered, at = tuple(steps), LoomState(state)
    onward, back = (one if one in offered else None for one in (_NEXT.get(at), _BACK.get(at)))
    return Ways(onward, tuple(one for one in offered if one not in {onward, back}), back)


def may_follow(state: str, to: str) -> bool:
    """Say whether a step is allowed.

    Examples
    --------
    >>> may_follow("beamed", "threaded"), may_follow("reserved", "weaving")
    (True, False)
    """
    return LoomState(to) in STEPS[LoomState(state)]


def may_hold(state: str) -> bool:
    """Say whether work can be put on hold: from planning until the warp is cut off.

    Examples
    --------
    >>> may_hold("weaving"), may_hold("cut_off")
    (True, False)
    """
    return LoomState(state) in DRESSED | {S.ASSIGNED}


def may_give_back(state: str) -> bool:
    """Say whether the loom can be given back: no warp was begun, or it was cut off and the loom looked over.

    Examples
    --------
    >>> may_give_back("reserved"), may_give_back("weaving"), may_give_back("checking")
    (True, False, True)
    """
    return LoomState(state) in BEFORE_THE_WARP | {S.CHECKING}
