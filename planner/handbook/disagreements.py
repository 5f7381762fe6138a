"""Where the trade disagrees: what each side says, where it was read, and what is done here.

Shown on the pages of the rules concerned and together; a weaver who knows why two books differ can choose.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.handbook.toml import one_line, read_toml


@dataclass(frozen=True, slots=True)
class Side:
    """One answer, and who gives it."""

    says: str
    source: str


@dataclass(frozen=True, slots=True)
class Disagreement:
    """One question the trade answers in several ways, what is done here, and the rules that it touches."""

    key: str
    title: str
    sides: tuple[Side, ...]
    ours: str
    rules: tuple[str, ...]


DISAGREEMENTS: tuple[Disagreement, ...] = tuple(
    Disagreement(
        key,
        told["title"],
        tuple(Side(one_line(side["says"]), side["source"]) for side in told["sides"]),
        one_line(told["ours"]),
        tuple(told["rules"]),
    )
    for key, told in read_toml("disagreements.toml").items()
)
"""In the order of the bench."""


def touching(slug: str) -> tuple[Disagreement, ...]:
    """Give the disagreements that touch a rule."""
    return tuple(one for one in DISAGREEMENTS if slug in one.rules)
