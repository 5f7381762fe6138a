"""Which package fills which spools, with the fewest joins, and none in the middle of a section.

Everything is counted in *uses*: the yarn that one end of one section takes, waste and reserve in it. A spool that
serves five sections holds five uses; a package of 311 yards holds 23 uses of 13. Where a spool has to be wound from two
packages, each gives whole uses, so that the knot comes when a section is cut and not inside it.

Packages and the spools they fill hang together in groups. A group of one package has no join; in a group of two, one
spool is begun from the one and finished from the other; so a group of p packages has p - 1 joins, and the fewest joins
are found by looking for groups as small as can be.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import floor

from studio.quantities import Cm, Knots, Place, Uses

MOST_LOOKS = 20_000
"""Ways looked at before the search is given up and the plain way is taken; what is then proposed may not be fewest."""


@dataclass(frozen=True, slots=True)
class Piece:
    """What one package gives to one spool."""

    package: Place  # in what was offered, 0 first
    spool: Place  # in what was asked, 0 first
    uses: Uses


@dataclass(frozen=True, slots=True)
class Filling:
    """Spools filled from packages."""

    pieces: tuple[Piece, ...]  # in the order of winding: package by package, spool by spool
    joins: Knots  # where one spool is wound from several packages
    fewest: bool  # no other way has fewer joins
    missing: Uses  # for which there is no yarn


def uses_of_package(length: Cm, use: Cm) -> Uses:
    """Give the whole uses that a package holds.

    length / use, rounded down: part of a use, one end of one section with waste and reserve, would end inside a
    section.
    Source: plain arithmetic. Raises ValueError if `use` is not above zero, or `length` is below.

    A cone of 311.1 yd; twelve yards and 0.73 of build-up and waste with 3 % in reserve:
    >>> from fractions import Fraction
    >>> uses_of_package(Fraction("311.1"), Fraction("12.73") * Fraction("1.03"))
    23
    """
    if use <= 0 or length < 0:
        raise ValueError(f"use {use} must be above zero and length {length} not below")
    return floor(length / use)


def fewest_joins(spools: Sequence[Uses], packages: Sequence[Uses]) -> Filling:
    """Fill spools from packages so that the fewest are joined.

    Both are counted in uses. Where the packages do not suffice, the last spools stay short. Looks for no join, then for
    one, then for two; the first that is found is the fewest. After `MOST_LOOKS` ways it takes them as they come instead
    and does not claim it. Finding the fewest is a form of packing, hard in general; the numbers of a yarn room are
    small.
    Source: plain arithmetic of our own, with no published source; it is checked against trying every way. Raises
    ValueError if a spool asks for less than one use, or a package gives less than none.

    Three spools of five uses from packages of seven, six and four: one spool must be joined.
    >>> found = fewest_joins([5, 5, 5], [7, 6, 4])
    >>> found.joins, found.fewest, found.missing
    (1, True, 0)
    """
    if any(uses < 1 for uses in spools) or any(uses < 0 for uses in packages):
        raise ValueError(f"spools {spools} must ask for a use or more, packages {packages} not give less than none")
    missing = max(0, sum(spools) - sum(packages))
    if missing:
        return _as_they_come(spools, packages, missing)
    search = _Search(tuple(packages))
    for joins in range(len(packages)):
        groups = search.groups(tuple(sorted(Counter(spools).items(), reverse=True)), joins)
        if groups is not None:
            return _laid_out(spools, packages, groups)
        if search.looks > MOST_LOOKS:
            break
    return _as_they_come(spools, packages, 0)


Wanted = tuple[tuple[int, int], ...]
"""Spools still to fill, as (uses of each, how many), the largest first."""
Group = tuple[tuple[int, ...], Wanted]
"""Packages that hang together, and the spools they fill."""


@dataclass(slots=True)
class _Search:
    """Looks for groups, and counts how often it looked."""

    packages: tuple[int, ...]
    looks: int = 0
    hopeless: set[tuple[tuple[int, ...], Wanted, int]] = field(default_factory=set)

    def groups(self, wanted: Wanted, joins: int) -> tuple[Group, ...] | None:
        """Give groups with exactly so many joins, or None."""
        order = sorted(range(len(self.packages)), key=lambda at: -self.packages[at])
        return self._from(tuple(order), wanted, joins)

    def _from(self, free: tuple[int, ...], wanted: Wanted, joins: int) -> tuple[Group, ...] | None:
        if not wanted:
            return ()
        self.looks += 1
        state = (tuple(self.packages[at] for at in free), wanted, joins)
        if state in self.hopeless or self.looks > MOST_LOOKS or sum(state[0]) < _asked(wanted):
            return None
        for together in range(min(joins, len(free) - 1) + 1):
            for others in combinations(free[1:], together):
                group = (free[0], *others)
                room = sum(self.packages[at] for at in group)
                left = tuple(at for at in free if at not in group)
                for taken, rest in _ways(wanted, room):
                    found = self._from(left, rest, joins - together)
                    if found is not None:
                        return ((group, taken), *found)
        self.hopeless.add(state)
        return None


def _asked(wanted: Wanted) -> int:
    return sum(uses * count for uses, count in wanted)


def _ways(wanted: Wanted, room: int) -> Iterator[tuple[Wanted, Wanted]]:
    """Give each way to fill a room to where no other spool fits in, with what then is left to do; fullest first."""
    if not wanted:
        yield (), ()
        return
    (uses, count), others = wanted[0], wanted[1:]
    for number in range(min(count, room // uses), -1, -1):
        for taken, rest in _ways(others, room - number * uses):
            left = room - number * uses - _asked(taken)
            if number < count and left >= uses:
                continue  # one more of these would fit too, and taking it never hurts
            kept = ((uses, count - number), *rest) if number < count else rest
            yield (((uses, number), *taken) if number else taken), kept


def _laid_out(spools: Sequence[int], packages: Sequence[int], groups: tuple[Group, ...]) -> Filling:
    """Name the packages and spools of each group, and wind them one after the other."""
    places: dict[int, list[int]] = {}
    for place, uses in enumerate(spools):
        places.setdefault(uses, []).append(place)
    pieces: list[Piece] = []
    for group, taken in groups:
        filled = [places[uses].pop(0) for uses, count in taken for _ in range(count)]
        pieces += _wound(filled, group, spools, packages)
    return Filling(tuple(pieces), len(pieces) - len(spools), fewest=True, missing=0)


def _wound(filled: Sequence[int], group: Sequence[int], spools: Sequence[int], packages: Sequence[int]) -> list[Piece]:
    """Wind spools from packages in turn; each package is wound off before the next is begun."""
    pieces: list[Piece] = []
    waiting = [(package, packages[package]) for package in group]
    for spool in filled:
        needed = spools[spool]
        while needed and waiting:
            package, held = waiting.pop(0)
            given = min(needed, held)
            needed -= given
            if given:
                pieces.append(Piece(package, spool, given))
            if held > given:
                waiting.insert(0, (package, held - given))
    return pieces


def _as_they_come(spools: Sequence[int], packages: Sequence[int], missing: int) -> Filling:
    order = sorted(range(len(packages)), key=lambda at: -packages[at])
    pieces = tuple(_wound(range(len(spools)), order, spools, packages))
    filled = len({piece.spool for piece in pieces})
    return Filling(pieces, len(pieces) - filled, fewest=len(pieces) == filled and not missing, missing=missing)
