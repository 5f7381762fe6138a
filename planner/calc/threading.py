"""Threading: how many heddles each shaft needs."""

from __future__ import annotations


def straight(shafts: int) -> tuple[int, ...]:
    if shafts < 1:
        raise ValueError(f"shafts {shafts} must be above zero")
    return tuple(range(1, shafts + 1))


def heddles_per_shaft(threading: tuple[int, ...], ends: int, shafts: int) -> tuple[int, ...]:
    if ends < 0:
        raise ValueError(f"ends {ends} must not be below zero")
    draft = threading or straight(shafts)
    if min(draft) < 1 or max(draft) > shafts:
        raise ValueError(f"threading {threading} must use shafts 1 to {shafts}")
    repeats, rest = divmod(ends, len(draft))
    return tuple(draft.count(shaft) * repeats + draft[:rest].count(shaft) for shaft in straight(shafts))
