"""Paths of a warping board or mill by their legs, turns and passes, and how far a name is from the truth."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from studio.quantities import Cm, Ends, Legs, Passes, Pegs, Share, TurnsExact


def board_length(legs: Legs, leg: Cm, cross: Cm) -> Cm:
    """Give the nominal length of a path on a board.

    legs x leg + cross, the partial leg to the pegs of the cross. A board's size is often taken at the outsides of its
    pegs, so the true path differs; weaving teachers have run out of yarn over it. Lay a string that does not stretch,
    and measure that.
    Source: plain arithmetic. Raises ValueError if `legs` or `cross` is below zero or `leg` is not above.

    >>> board_length(4, Fraction(90), Fraction(45))
    Fraction(405, 1)
    """
    if legs < 0 or leg <= 0 or cross < 0:
        raise ValueError(f"legs {legs} and cross {cross} must not be below zero, leg {leg} must be above")
    return legs * leg + cross


def path_error(nominal: Cm, true: Cm) -> Share:
    """Give how far a path differs from what it is called.

    true / nominal - 1, by a guide string; below 0 the path is shorter.
    Source: plain arithmetic. Raises ValueError if `nominal` or `true` is not above zero.

    >>> path_error(Fraction(900), Fraction(927))
    Fraction(3, 100)
    """
    if nominal <= 0 or true <= 0:
        raise ValueError(f"nominal {nominal} and true {true} must be above zero")
    return true / nominal - 1


def turns_of_mill(length: Cm, circumference: Cm, posts: Pegs) -> TurnsExact:
    """Give the turns of a mill for a wanted length, rounded up to its next post.

    Where only whole turns can be wound, `posts` is 1. Posts are taken as evenly spaced, and the slope of the path as
    part of the circumference: measure it along a string for one turn and divide.
    Source: plain arithmetic. Raises ValueError if `length`, `circumference` or `posts` is not above zero.

    A mill four yards round holds ten yards in two and a half turns (a weaver's blog, June 2010):
    >>> turns_of_mill(Fraction(10), Fraction(4), 4)
    Fraction(5, 2)
    """
    if length <= 0 or circumference <= 0 or posts < 1:
        raise ValueError(f"length {length}, circumference {circumference} and posts {posts} must be above zero")
    return Fraction(ceil(length * posts / circumference), posts)


def passes_in_all(chains: Iterable[Ends], at_once: Ends) -> Passes:
    """Count the passes of all chains, a last smaller one of each counted.

    Ends over ends at once, rounded up for each chain by itself, since a pass does not run from one chain into the next.
    Source: plain arithmetic. Raises ValueError if `at_once` is not above zero or a chain is below.

    1072 ends with five in hand (a weaver's blog, May 2024):
    >>> passes_in_all([1072], 5)
    215
    """
    kept = tuple(chains)
    if at_once < 1 or min(kept, default=0) < 0:
        raise ValueError(f"at_once {at_once} must be above zero and chains {kept} not below")
    return sum(ceil(Fraction(ends, at_once)) for ends in kept)
