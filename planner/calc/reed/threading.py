"""Threading: how many heddles each shaft needs."""

from __future__ import annotations

from studio.quantities import Ends, Heddles, Shaft, Shafts


def straight(shafts: Shafts) -> tuple[Shaft, ...]:
    """Give the straight draw over all shafts.

    Source: plain arithmetic. Raises ValueError if `shafts` is not above zero.

    >>> straight(4)
    (1, 2, 3, 4)
    """
    if shafts < 1:
        raise ValueError(f"shafts {shafts} must be above zero")
    return tuple(range(1, shafts + 1))


def heddles_per_shaft(threading: tuple[Shaft, ...], ends: Ends, shafts: Shafts) -> tuple[Heddles, ...]:
    """Count the heddles each shaft needs.

    Shaft 1 is at the front; an empty threading means straight on all shafts. Uses in one repeat times whole repeats,
    and the uses in what remains.
    Source: plain arithmetic. Raises ValueError if `ends` is below zero, `shafts` is not above, or `threading` names a
    shaft that is not there.

    282 ends straight on four shafts:
    >>> heddles_per_shaft((), 282, 4)
    (71, 71, 70, 70)
    """
    if ends < 0:
        raise ValueError(f"ends {ends} must not be below zero")
    draft = threading or straight(shafts)
    if min(draft) < 1 or max(draft) > shafts:
        raise ValueError(f"threading {threading} must use shafts 1 to {shafts}")
    repeats, rest = divmod(ends, len(draft))
    return tuple(draft.count(shaft) * repeats + draft[:rest].count(shaft) for shaft in straight(shafts))
