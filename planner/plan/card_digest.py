"""What a plan tells the weaver to do, apart from its words: the part of it that makes an old card wrong.

A card is superseded when this part has changed, for whatever reason: another brief, a beam measured anew, a rule of
the house. A new title, a price or a fuller shelf change nothing at the loom, and so supersede nothing.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

DONE_AT_THE_LOOM = (
    "ends",
    "ends_elsewhere",
    "floating_selvedge",
    "warp_length_cm",
    "turns",
    "end_circumference_cm",
    "reed",
    "sections",
    "setups",
    "spools",
    "chains",
    "ties",
    "raddle",
)
WORDS_ONLY = frozenset({"shown", "room", "knot_passes"})
LATER = frozenset({"ends_elsewhere", "free_left_share"})
"""What plans say since cards were first printed: it counts where it says something, so that those cards stay good."""


def card_digest(plan: Mapping[str, Any]) -> str:
    """Give a digest of what a plan, as `planner.plan.as_data` writes it, tells the weaver to do.

    Examples
    --------
    >>> plan = {"ends": 480, "turns": 11, "sums": []}
    >>> card_digest(plan) == card_digest({**plan, "sums": ["other words"]})
    True
    >>> card_digest(plan) == card_digest({**plan, "turns": 12})
    False
    """
    done = _without_words({key: plan.get(key) for key in DONE_AT_THE_LOOM})
    return hashlib.sha256(json.dumps(done, sort_keys=True).encode()).hexdigest()


def _without_words(value: Any) -> Any:
    if isinstance(value, Mapping):
        told = {key: part for key, part in value.items() if key not in WORDS_ONLY and (part or key not in LATER)}
        return {key: _without_words(part) for key, part in told.items()}
    if isinstance(value, list | tuple):
        return [_without_words(part) for part in value]
    return value
