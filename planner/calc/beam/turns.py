"""Turns, length and depth of yarn on a warp beam: the one place where a circle comes in.

Yarn builds up evenly on any convex beam, round or square: each layer of depth b adds 2 pi b to the round. Turn k
is therefore C0 + 2 pi b (k - 1/2) long, and T turns are T (C0 + pi b T). Floats propose; whole numbers are accepted
only after their length has been looked at.
"""

from __future__ import annotations

from math import ceil, floor, pi, sqrt

from planner.calc.terms.plan import Number, TurnRow
from studio.quantities import Cm, CmFloat, CmNumber, ShareFloat, Turns, TurnsFloat, TurnsNumber

LENGTH_TOLERANCE = 1e-9
"""Share by which a float length may miss its goal and still be taken as reaching it."""


def _refuse_no_beam(name: str, value: Number, circumference: Number, depth_per_turn: Number) -> None:
    if value < 0 or circumference <= 0 or depth_per_turn < 0:
        raise ValueError(f"{name} {value}, circumference {circumference}, depth_per_turn {depth_per_turn} are no beam")


def length_of_turns(turns: TurnsNumber, circumference: CmNumber, depth_per_turn: CmNumber) -> CmFloat:
    """Give the length that a number of turns winds on.

    L = T (C0 + pi b T): the length of a roll, pi (D2 - d2) / (4 t), written with turns.
    Source: Math Forum, Dr Peterson, November 2003, gives the roll. Raises ValueError if `turns` or `depth_per_turn` is
    below zero, or `circumference` is not above zero.

    Eleven turns on a 36 inch beam at 0.01017 in a turn (all in inches here):
    >>> round(length_of_turns(11, 36, 0.01017), 1)
    399.9
    """
    _refuse_no_beam("turns", turns, circumference, depth_per_turn)
    count = float(turns)
    return count * (float(circumference) + pi * float(depth_per_turn) * count)


def turns_of_length(length: CmNumber, circumference: CmNumber, depth_per_turn: CmNumber) -> TurnsFloat:
    """Give the turns that a length takes, with its build-up.

    T = 2 L / (C0 + sqrt(C0^2 + 4 pi b L)), the root of pi b T^2 + C0 T = L in the form that stays exact where the layer
    is thin.
    Source: plain algebra. Raises ValueError if `length` or `depth_per_turn` is below zero, or `circumference` is not
    above zero.

    >>> round(turns_of_length(360, 27, 0.0130), 1)
    13.1
    """
    _refuse_no_beam("length", length, circumference, depth_per_turn)
    goal, empty = float(length), float(circumference)
    return 2 * goal / (empty + sqrt(empty * empty + 4 * pi * float(depth_per_turn) * goal))


def whole_turns(length: CmNumber, circumference: CmNumber, depth_per_turn: CmNumber) -> Turns:
    """Give the fewest whole turns whose length, with its build-up, reaches the wanted one.

    The root proposes; the answer is the smallest whole number whose length reaches the goal to within
    `LENGTH_TOLERANCE`, so a length made from whole turns gives those turns back.
    Source: the length of a roll; Math Forum, Dr Peterson, November 2003. Raises ValueError if `length` or
    `depth_per_turn` is below zero, or `circumference` is not above zero.

    >>> whole_turns(length_of_turns(61, 18, 0.0122), 18, 0.0122)
    61
    """
    proposed = floor(turns_of_length(length, circumference, depth_per_turn))
    goal = float(length) * (1 - LENGTH_TOLERANCE)
    tried = max(0, proposed - 1)
    while length_of_turns(tried, circumference, depth_per_turn) < goal:
        tried += 1
    return tried


def turns_by_empty_beam(length: Cm, circumference: Cm) -> Turns:
    """Give the whole turns a length takes when no build-up is counted: the safe plan.

    turns = length / C0, rounded up. The build-up can only make the warp longer.
    Source: plain arithmetic. Raises ValueError if `length` is below zero or `circumference` is not above zero.

    >>> from fractions import Fraction
    >>> turns_by_empty_beam(Fraction("362.3"), Fraction(36))
    11
    """
    if length < 0 or circumference <= 0:
        raise ValueError(f"length {length} and circumference {circumference} are no beam")
    return ceil(length / circumference)


def end_circumference(turns: TurnsNumber, circumference: CmNumber, depth_per_turn: CmNumber) -> CmFloat:
    """Give the circumference to find with the tape after so many turns.

    C = C0 + 2 pi b T: an even layer of depth h adds 2 pi h to the round of any convex beam.
    Source: plain geometry. Raises ValueError if `turns` or `depth_per_turn` is below zero, or `circumference` is not
    above zero.

    Twelve turns at 0.0183 in on a 36 inch beam:
    >>> round(end_circumference(12, 36, 0.0183), 2)
    37.38
    """
    _refuse_no_beam("turns", turns, circumference, depth_per_turn)
    return float(circumference) + 2 * pi * float(depth_per_turn) * float(turns)


def turn_table(turns: Turns, circumference: CmNumber, depth_per_turn: CmNumber) -> tuple[TurnRow, ...]:
    """Give the length, circumference and depth after each turn.

    Each row is `length_of_turns` and `end_circumference` of its turn.
    Source: plain geometry. Raises ValueError if `turns` or `depth_per_turn` is below zero, or `circumference` is not
    above zero.

    >>> [round(row.length, 2) for row in turn_table(3, 36, 0.01)]
    [36.03, 72.13, 108.28]
    """
    _refuse_no_beam("turns", turns, circumference, depth_per_turn)
    empty, layer = float(circumference), float(depth_per_turn)
    return tuple(
        TurnRow(turn, turn * (empty + pi * layer * turn), empty + 2 * pi * layer * turn, layer * turn)
        for turn in range(1, turns + 1)
    )


def mismatch(
    turns: TurnsNumber, deep: CmNumber, shallow: CmNumber, circumference: CmNumber
) -> tuple[CmFloat, ShareFloat]:
    """Give how much longer a deep section is than a shallow one after the same turns.

    dL = pi T^2 (b1 - b2): twice the turns, four times the difference; its share of the length by the empty beam is pi T
    (b1 - b2) / C0.
    Source: plain geometry. Raises ValueError if `turns` is below zero, `circumference` is not above zero, or `deep` is
    below `shallow`.

    >>> longer, share = mismatch(15, 0.0122, 0.0098, 36)
    >>> round(longer, 1), round(100 * share, 2)
    (1.7, 0.31)
    """
    if turns < 0 or circumference <= 0 or deep < shallow:
        raise ValueError(f"turns {turns}, circumference {circumference}, deep {deep} and shallow {shallow}")
    per_turn = pi * float(turns) * (float(deep) - float(shallow))
    return per_turn * float(turns), per_turn / float(circumference)
