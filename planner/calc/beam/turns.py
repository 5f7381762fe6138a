"""Turns, length and depth of yarn on a warp beam: the one place where a circle comes in.

Yarn builds up evenly on any convex beam, round or square: each layer of depth b adds 2 pi b to the round. Turn k
is therefore C0 + 2 pi b (k - 1/2) long, and T turns are T (C0 + pi b T). Floats propose; whole numbers are accepted
only after their length has been looked at.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, pi, sqrt

from planner.calc.terms.plan import Number, TurnRow

LENGTH_TOLERANCE = 1e-9
"""Share by which a float length may miss its goal and still be taken as reaching it."""


def _refuse_no_beam(name: str, value: Number, circumference: Number, depth_per_turn: Number) -> None:
    if value < 0 or circumference <= 0 or depth_per_turn < 0:
        raise ValueError(f"{name} {value}, circumference {circumference}, depth_per_turn {depth_per_turn} are no beam")


def length_of_turns(turns: Number, circumference: Number, depth_per_turn: Number) -> float:
    """Give the length that a number of turns winds on.

    Parameters
    ----------
    turns : Number
        Turns of the beam. [turns]
    circumference : Number
        Round the bars, empty. [cm]
    depth_per_turn : Number
        Depth one turn adds. [cm]

    Returns
    -------
    length : float
        Length of each end. [cm]

    Raises
    ------
    ValueError
        If `turns` or `depth_per_turn` is below zero, or `circumference` is not above zero.

    Notes
    -----
    L = T (C0 + pi b T): the length of a roll, pi (D2 - d2) / (4 t), written with turns. Math Forum, Dr Peterson,
    November 2003, gives the roll.

    Examples
    --------
    Eleven turns on a 36 inch beam at 0.01017 in a turn (all in inches here):

    >>> round(length_of_turns(11, 36, 0.01017), 1)
    399.9
    """
    _refuse_no_beam("turns", turns, circumference, depth_per_turn)
    count = float(turns)
    return count * (float(circumference) + pi * float(depth_per_turn) * count)


def turns_of_length(length: Number, circumference: Number, depth_per_turn: Number) -> float:
    """Give the turns that a length takes, with its build-up.

    Parameters
    ----------
    length : Number
        Length of each end. [cm]
    circumference : Number
        Round the bars, empty. [cm]
    depth_per_turn : Number
        Depth one turn adds. [cm]

    Returns
    -------
    turns : float
        Turns, not rounded. [turns]

    Raises
    ------
    ValueError
        If `length` or `depth_per_turn` is below zero, or `circumference` is not above zero.

    Notes
    -----
    T = 2 L / (C0 + sqrt(C0^2 + 4 pi b L)), the root of pi b T^2 + C0 T = L in the form that stays exact where the
    layer is thin. Plain algebra.

    Examples
    --------
    >>> round(turns_of_length(360, 27, 0.0130), 1)
    13.1
    """
    _refuse_no_beam("length", length, circumference, depth_per_turn)
    goal, empty = float(length), float(circumference)
    return 2 * goal / (empty + sqrt(empty * empty + 4 * pi * float(depth_per_turn) * goal))


def whole_turns(length: Number, circumference: Number, depth_per_turn: Number) -> int:
    """Give the fewest whole turns whose length, with its build-up, reaches the wanted one.

    Parameters
    ----------
    length : Number
        Length wanted. [cm]
    circumference : Number
        Round the bars, empty. [cm]
    depth_per_turn : Number
        Depth one turn adds. [cm]

    Returns
    -------
    turns : int
        Whole turns. [turns]

    Raises
    ------
    ValueError
        If `length` or `depth_per_turn` is below zero, or `circumference` is not above zero.

    Notes
    -----
    The root proposes; the answer is the smallest whole number whose length reaches the goal to within
    `LENGTH_TOLERANCE`, so a length made from whole turns gives those turns back. The length of a roll; Math
    Forum, Dr Peterson, November 2003.

    Examples
    --------
    >>> whole_turns(length_of_turns(61, 18, 0.0122), 18, 0.0122)
    61
    >>> whole_turns(1440, 18, 0.0122)
    70
    """
    proposed = floor(turns_of_length(length, circumference, depth_per_turn))
    goal = float(length) * (1 - LENGTH_TOLERANCE)
    tried = max(0, proposed - 1)
    while length_of_turns(tried, circumference, depth_per_turn) < goal:
        tried += 1
    return tried


def turns_by_empty_beam(length: Fraction, circumference: Fraction) -> int:
    """Give the whole turns a length takes when no build-up is counted: the safe plan.

    Parameters
    ----------
    length : Fraction
        Length wanted. [cm]
    circumference : Fraction
        Round the bars, empty. [cm]

    Returns
    -------
    turns : int
        Whole turns. [turns]

    Raises
    ------
    ValueError
        If `length` is below zero or `circumference` is not above zero.

    Notes
    -----
    turns = length / C0, rounded up. The build-up can only make the warp longer. Plain arithmetic.

    Examples
    --------
    >>> turns_by_empty_beam(Fraction("362.3"), Fraction(36))
    11
    """
    if length < 0 or circumference <= 0:
        raise ValueError(f"length {length} and circumference {circumference} are no beam")
    return ceil(length / circumference)


def end_circumference(turns: Number, circumference: Number, depth_per_turn: Number) -> float:
    """Give the circumference to find with the tape after so many turns.

    Parameters
    ----------
    turns : Number
        Turns wound. [turns]
    circumference : Number
        Round the bars, empty. [cm]
    depth_per_turn : Number
        Depth one turn adds. [cm]

    Returns
    -------
    end : float
        Circumference over the yarn. [cm]

    Raises
    ------
    ValueError
        If `turns` or `depth_per_turn` is below zero, or `circumference` is not above zero.

    Notes
    -----
    C = C0 + 2 pi b T: an even layer of depth h adds 2 pi h to the round of any convex beam. Plain geometry.

    Examples
    --------
    Twelve turns at 0.0183 in on a 36 inch beam:

    >>> round(end_circumference(12, 36, 0.0183), 2)
    37.38
    """
    _refuse_no_beam("turns", turns, circumference, depth_per_turn)
    return float(circumference) + 2 * pi * float(depth_per_turn) * float(turns)


def turn_table(turns: int, circumference: Number, depth_per_turn: Number) -> tuple[TurnRow, ...]:
    """Give the length, circumference and depth after each turn.

    Parameters
    ----------
    turns : int
        Last turn of the table. [turns]
    circumference : Number
        Round the bars, empty. [cm]
    depth_per_turn : Number
        Depth one turn adds. [cm]

    Returns
    -------
    rows : tuple[TurnRow, ...]
        One row for each turn, from 1. [-]

    Raises
    ------
    ValueError
        If `turns` or `depth_per_turn` is below zero, or `circumference` is not above zero.

    Notes
    -----
    Each row is `length_of_turns` and `end_circumference` of its turn. Plain geometry.

    Examples
    --------
    >>> [round(row.length, 2) for row in turn_table(3, 36, 0.01)]
    [36.03, 72.13, 108.28]
    """
    _refuse_no_beam("turns", turns, circumference, depth_per_turn)
    empty, layer = float(circumference), float(depth_per_turn)
    return tuple(
        TurnRow(turn, turn * (empty + pi * layer * turn), empty + 2 * pi * layer * turn, layer * turn)
        for turn in range(1, turns + 1)
    )


def mismatch(turns: Number, deep: Number, shallow: Number, circumference: Number) -> tuple[float, float]:
    """Give how much longer a deep section is than a shallow one after the same turns.

    Parameters
    ----------
    turns : Number
        Turns of both. [turns]
    deep : Number
        Depth one turn adds in the deeper section. [cm]
    shallow : Number
        Depth one turn adds in the shallower section. [cm]
    circumference : Number
        Round the bars, empty. [cm]

    Returns
    -------
    difference : tuple[float, float]
        Length by which they differ [cm], and its share of the length by the empty beam. [share]

    Raises
    ------
    ValueError
        If `turns` is below zero, `circumference` is not above zero, or `deep` is below `shallow`.

    Notes
    -----
    dL = pi T^2 (b1 - b2): twice the turns, four times the difference; its share is pi T (b1 - b2) / C0. Plain
    geometry.

    Examples
    --------
    >>> longer, share = mismatch(15, 0.0122, 0.0098, 36)
    >>> round(longer, 1), round(100 * share, 2)
    (1.7, 0.31)
    """
    if turns < 0 or circumference <= 0 or deep < shallow:
        raise ValueError(f"turns {turns}, circumference {circumference}, deep {deep} and shallow {shallow}")
    per_turn = pi * float(turns) * (float(deep) - float(shallow))
    return per_turn * float(turns), per_turn / float(circumference)
