"""Chains as a card lists them for the board: what is alike stands once, and each chain has a box to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.plan.plan_view import ChainView
from planner.plan.presenter import PlanView

MOST_IN_HALF = 40
"""Signs of an entry of which two stand beside each other, its boxes counted."""
SIGNS_OF_A_BOX = 4


@dataclass(frozen=True, slots=True)
class ChainEntry:
    """One chain of the list, or several of the same colours."""

    numbers: str
    places: str
    text: str
    boxes: range

    @property
    def signs(self) -> int:
        """How much of a line it takes."""
        return len(f"{self.numbers} {self.places}: {self.text}") + SIGNS_OF_A_BOX * len(self.boxes)


@dataclass(frozen=True, slots=True)
class ChainKind:
    """Chains that are wound alike but for their colours; a chain that has no like says it all by itself."""

    head: str
    entries: tuple[ChainEntry, ...]

    @property
    def beside(self) -> int:
        """How many entries stand in a line."""
        return 2 if len(self.entries) > 1 and max(entry.signs for entry in self.entries) <= MOST_IN_HALF else 1


def chain_kinds(plan: PlanView) -> tuple[ChainKind, ...]:
    """Put the chains of a sectional beam together by what the board needs to know: ends, passes, groups and length."""
    kinds: dict[str, list[ChainView]] = {}
    for chain in plan.chains if plan.sectional else ():
        kinds.setdefault(_data(chain), []).append(chain)
    return tuple(_kind(data, chains) for data, chains in kinds.items())


def _data(chain: ChainView) -> str:
    return f"{chain.ends} ends, {chain.length}, {chain.mass}, passes {chain.passes}, raddle groups {chain.groups}"


def _kind(data: str, chains: Sequence[ChainView]) -> ChainKind:
    if len(chains) == 1:
        return ChainKind("", (_entry(chains[0], f"{data}; {chains[0].seat_text}"),))
    return ChainKind(data, tuple(_entry(chain, chain.seat_text) for chain in chains))


def _entry(chain: ChainView, text: str) -> ChainEntry:
    places = f"section{'s' if chain.count > 1 else ''} {chain.positions}"
    return ChainEntry(chain.numbers, places, text, chain.boxes)


def ties_line(plan: PlanView, *, short: bool = False) -> str:
    """Give the choke ties in one line, with the turn at which each reaches the beam unless there is no room."""
    if not plan.ties:
        return ""
    if short:
        return f"every {plan.tie_every} from the beam's end."
    ties = "; ".join(tie.replace(", reaches the beam at turn ", ", turn ") for tie in plan.ties)
    return f"from the beam's end, and the turn at which each reaches it: {ties}"
