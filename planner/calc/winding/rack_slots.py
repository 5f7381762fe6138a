"""Slots of the rack: spools that stay keep theirs, and free slots are left where others come between them.

The spools in use hang in the order of the ends, since the rack's order is the order of the comb and of the colours; a
slot between two of them may be empty. Spools that a set-up does not use are taken off. Between two set-ups a slot
counts once when its yarn changes, whether a spool is exchanged there, taken off or put on. A rack is written as runs
from the left, seen from the back; a run of no yarn is a stretch of empty slots.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, groupby

from planner.calc.terms.plan import ColourRun
from studio.quantities import Place, Spools

Runs = tuple[ColourRun, ...]
Costs = tuple[tuple[Spools, ...], ...]
Word = tuple[str, ...]

EMPTY = ""


def least_between(before: Runs, after: Runs) -> Spools:
    """Give the fewest slots that can change from one set-up to the next, wherever its spools hang in their order.

    Slots exchanged, emptied or filled. Spools that keep their slots keep their order, so the changes are insertions,
    deletions and exchanges between two words.
    Source: V. I. Levenshtein, Binary codes capable of correcting deletions, insertions and reversals, Soviet Physics
    Doklady 10 (1966), counted a whole column at once as in G. Myers, A fast bit-vector algorithm for approximate string
    matching, Journal of the ACM 46 (1999). Raises ValueError if a run holds fewer than one end.

    Three B are lifted and everything else stays:
    >>> seven, four = (ColourRun("B", 7), ColourRun("A", 26)), (ColourRun("B", 4), ColourRun("A", 26))
    >>> least_between(seven, four)
    3
    """
    _sound((before, after))
    return _distance(_word(before), _word(after))


def least_costs(racks: Sequence[Runs]) -> Costs:
    """Give the fewest slots that can change between every two set-ups.

    As `least_between`, for every pair in the order of `racks`. The distance is the same both ways and never shorter by
    way of a third.
    Source: V. I. Levenshtein, Soviet Physics Doklady 10 (1966). Raises ValueError if a run holds fewer than one end.

    >>> least_costs(((ColourRun("A", 8),), (ColourRun("A", 7),), (ColourRun("B", 7),)))
    ((0, 1, 8), (1, 0, 7), (8, 7, 0))
    """
    _sound(racks)
    words = tuple(map(_word, racks))
    rows = [[0] * len(words) for _ in words]
    for first, one in enumerate(words):
        for second in range(first):
            rows[first][second] = rows[second][first] = _distance(one, words[second])
    return tuple(map(tuple, rows))


def costs_by_yarns(racks: Sequence[Runs]) -> Costs:
    """Give slots that must change between every two set-ups, by the numbers of each yarn alone.

    A slot is emptied of one spool and filled with one at most, so no fewer change than spools come, or go: never more
    than `least_costs`, and quick where there are many set-ups.
    Source: plain arithmetic. Raises ValueError if a run holds fewer than one end.

    >>> costs_by_yarns(((ColourRun("A", 2), ColourRun("B", 2)), (ColourRun("B", 2), ColourRun("A", 3))))
    ((0, 1), (1, 0))
    """
    _sound(racks)
    codes = sorted({run.code for rack in racks for run in rack})
    held = [[sum(run.ends for run in rack if run.code == code) for code in codes] for rack in racks]
    rows = [[0] * len(held) for _ in held]
    for first, one in enumerate(held):
        for second in range(first):
            more = [mine - theirs for mine, theirs in zip(one, held[second], strict=True)]
            come = sum(number for number in more if number > 0)
            rows[first][second] = rows[second][first] = max(come, come - sum(more))
    return tuple(map(tuple, rows))


def slots_in_order(racks: Sequence[Runs]) -> tuple[Runs, ...]:
    """Hang the spools of each set-up so that those which stay keep their slots, and no two cross.

    Empty stretches are runs of no yarn. From each set-up to the next exactly `least_between` slots change, since a
    spool that comes between two others takes a slot left free for it. So no way to hang the spools in their order
    changes fewer: each change by itself is the least there is. A free slot is used again before another is left.
    Source: by tracing the table of R. A. Wagner and M. J. Fischer, The string-to-string correction problem, Journal of
    the ACM 21 (1974). Raises ValueError if a run holds fewer than one end.

    One B comes between, so the A that will stand behind it hang one slot further from the beginning:
    >>> two, three = (ColourRun("A", 2),), (ColourRun("A", 1), ColourRun("B", 1), ColourRun("A", 1))
    >>> slots_in_order((two, three))[0]
    (ColourRun(code='A', ends=1), ColourRun(code='', ends=1), ColourRun(code='A', ends=1))
    """
    _sound(racks)
    columns: list[list[str]] = []
    for number, rack in enumerate(racks):
        _hang(columns, _word(rack), number)
    return tuple(_runs([column[number] for column in columns]) for number in range(len(racks)))


def filled(slots: Runs) -> tuple[tuple[Place, Place], ...]:
    """Give the stretches of slots that hold spools.

    First and last slot of each, from the left seen from the back.
    Source: plain arithmetic.

    >>> filled((ColourRun("A", 4), ColourRun("", 3), ColourRun("B", 2), ColourRun("A", 1)))
    ((1, 4), (8, 10))
    """
    stops = tuple(accumulate(run.ends for run in slots))
    spans = [(stop - run.ends + 1, stop) for run, stop in zip(slots, stops, strict=True) if run.code != EMPTY]
    joined: list[tuple[int, int]] = []
    for first, last in spans:
        if joined and joined[-1][1] == first - 1:
            joined[-1] = (joined[-1][0], last)
        else:
            joined.append((first, last))
    return tuple(joined)


def _sound(racks: Sequence[Runs]) -> None:
    if any(run.ends < 1 for runs in racks for run in runs):
        raise ValueError("racks hold a run of fewer than one end")


def _word(runs: Runs) -> Word:
    return tuple(run.code for run in runs for _ in range(run.ends))


def _runs(cells: Sequence[str]) -> Runs:
    runs = [ColourRun(code, sum(1 for _ in same)) for code, same in groupby(cells)]
    return tuple(runs[:-1] if runs and runs[-1].code == EMPTY else runs)


def _alike(one: Word, other: Word) -> tuple[int, int]:
    """Count the cells that two words share at the left, and then at the right."""
    least = min(len(one), len(other))
    left = next((at for at in range(least) if one[at] != other[at]), least)
    right = next((at for at in range(least - left) if one[-1 - at] != other[-1 - at]), least - left)
    return left, right


def _distance(one: Word, other: Word) -> int:
    left, right = _alike(one, other)
    one, other = one[left : len(one) - right], other[left : len(other) - right]
    if not one or not other:
        return len(one) + len(other)
    up, down = _table(one, other)[-1]
    return len(other) + up.bit_count() - down.bit_count()


def _table(one: Word, other: Word) -> list[tuple[int, int]]:
    """Fill the table of changes between two words, a column at a time.

    The bits of `up` and `down` say where a column rises or falls from one row to the next; `rise` and `fall` the same
    from one column to the next. The first column, before any cell of the other word, rises throughout.
    """
    places: dict[str, int] = {}
    for at, code in enumerate(one):
        places[code] = places.get(code, 0) | 1 << at
    every = (1 << len(one)) - 1
    up, down = every, 0
    columns = [(up, down)]
    for code in other:
        same = places.get(code, 0)
        across = ((same & up) + up ^ up) | same | down
        rise, fall = (down | every & ~(across | up)) << 1 | 1, (up & across) << 1
        straight = same | down
        up, down = (fall | ~(straight | rise)) & every, rise & straight & every
        columns.append((up, down))
    return columns


def _hang(columns: list[list[str]], word: Word, number: int) -> None:
    """Add one set-up to the slots: `columns` hold, slot by slot, what hung there in every set-up so far."""
    held = [at for at, column in enumerate(columns) if column and column[-1] != EMPTY] if number else []
    before = tuple(columns[at][-1] for at in held)
    placed: list[tuple[int | None, str]] = []
    for old, new in _traced(before, word):
        if new is not None:
            placed.append((None if old is None else held[old], word[new]))
    for column in columns:
        column.append(EMPTY)
    _into_slots(columns, placed, number)


def _into_slots(columns: list[list[str]], placed: list[tuple[int | None, str]], number: int) -> None:
    """Write each spool into its slot; one that comes new takes an empty slot between its neighbours, or a new one."""
    stops = [at for at, _ in placed]
    ahead: int | None = None
    following: list[int | None] = []
    for at in reversed(stops):
        following.append(ahead)
        ahead = ahead if at is None else at
    following.reverse()
    shift, last = 0, -1
    for (at, code), until in zip(placed, following, strict=True):
        if at is not None:
            last = at + shift
        else:
            stop = len(columns) if until is None else until + shift
            if last + 1 < stop and columns[last + 1][-1] == EMPTY:
                last += 1
            else:
                last += 1
                columns.insert(last, [EMPTY] * (number + 1))
                shift += 1
        columns[last][-1] = code


def _traced(before: Word, after: Word) -> Iterator[tuple[int | None, int | None]]:
    """Pair the cells of two words, None where one comes new or goes; from left to right."""
    left, right = _alike(before, after)
    yield from ((at, at) for at in range(left))
    inner, other = before[left : len(before) - right], after[left : len(after) - right]
    for one, two in _paired(inner, other):
        yield None if one is None else left + one, None if two is None else left + two
    yield from ((len(before) - at, len(after) - at) for at in range(right, 0, -1))


def _paired(before: Word, after: Word) -> list[tuple[int | None, int | None]]:
    """Go back through the table, from its last cell to its first, along changes that are the fewest."""
    columns = _table(before, after)
    at, other, pairs = len(before), len(after), list[tuple[int | None, int | None]]()
    while at or other:
        if at and columns[other][0] >> at - 1 & 1:  # one row up is one change less
            at -= 1
            pairs.append((at, None))
        elif not at or columns[other - 1][1] >> at - 1 & 1:  # the column before falls here
            other -= 1
            pairs.append((None, other))
        else:
            at, other = at - 1, other - 1
            pairs.append((at, other))
    return pairs[::-1]
