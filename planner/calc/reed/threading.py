"""Threading: how many heddles each shaft needs."""

from __future__ import annotations


def straight(shafts: int) -> tuple[int, ...]:
    """Give the straight draw over all shafts.

    Parameters
    ----------
    shafts : int
        Number of shafts. [shafts]

    Returns
    -------
    threading : tuple[int, ...]
        Shaft of each end of one repeat, front shaft first. [-]

    Raises
    ------
    ValueError
        If `shafts` is not above zero.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    >>> straight(4)
    (1, 2, 3, 4)
    """
    if shafts < 1:
        raise ValueError(f"shafts {shafts} must be above zero")
    return tuple(range(1, shafts + 1))


def heddles_per_shaft(threading: tuple[int, ...], ends: int, shafts: int) -> tuple[int, ...]:
    """Count the heddles each shaft needs.

    Parameters
    ----------
    threading : tuple[int, ...]
        Shaft of each end of one repeat, 1 at the front; empty means straight on all shafts. [-]
    ends : int
        Warp ends threaded. [ends]
    shafts : int
        Number of shafts. [shafts]

    Returns
    -------
    heddles : tuple[int, ...]
        Heddles on each shaft, front first. [heddles]

    Raises
    ------
    ValueError
        If `ends` is below zero, `shafts` is not above, or `threading` names a shaft that is not there.

    Notes
    -----
    Plain arithmetic: uses in one repeat times whole repeats, and the uses in what remains.

    Examples
    --------
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
