"""Paths of a warping board or mill by their legs, turns and passes, and how far a name is from the truth."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil


def board_length(legs: int, leg: Fraction, cross: Fraction) -> Fraction:
    """Give the nominal length of a path on a board.

    Parameters
    ----------
    legs : int
        Full legs from side to side. [-]
    leg : Fraction
        Length of one, between the outer pegs. [cm]
    cross : Fraction
        Partial leg to the pegs of the cross. [cm]

    Returns
    -------
    length : Fraction
        Nominal length. [cm]

    Raises
    ------
    ValueError
        If `legs` or `cross` is below zero or `leg` is not above.

    Notes
    -----
    legs x leg + cross. Plain arithmetic. A board's size is often taken at the outsides of its pegs, so the true path
    differs; weaving teachers have run out of yarn over it. Lay a string that does not stretch, and measure that.

    Examples
    --------
    >>> board_length(4, Fraction(90), Fraction(45))
    Fraction(405, 1)
    """
    if legs < 0 or leg <= 0 or cross < 0:
        raise ValueError(f"legs {legs} and cross {cross} must not be below zero, leg {leg} must be above")
    return legs * leg + cross


def path_error(nominal: Fraction, true: Fraction) -> Fraction:
    """Give how far a path differs from what it is called.

    Parameters
    ----------
    nominal : Fraction
        Length it is called. [cm]
    true : Fraction
        Length of a guide string along it. [cm]

    Returns
    -------
    error : Fraction
        Part by which it is longer; below 0 it is shorter. [share]

    Raises
    ------
    ValueError
        If `nominal` or `true` is not above zero.

    Notes
    -----
    true / nominal - 1. Plain arithmetic, so no source is cited.

    Examples
    --------
    >>> path_error(Fraction(900), Fraction(927))
    Fraction(3, 100)
    """
    if nominal <= 0 or true <= 0:
        raise ValueError(f"nominal {nominal} and true {true} must be above zero")
    return true / nominal - 1


def turns_of_mill(length: Fraction, circumference: Fraction, posts: int) -> Fraction:
    """Give the turns of a mill for a wanted length, rounded up to its next post.

    Parameters
    ----------
    length : Fraction
        Warp length wanted. [cm]
    circumference : Fraction
        Once round the mill, along the yarn. [cm]
    posts : int
        Posts at which a peg can stand; 1 where only whole turns can be wound. [pegs]

    Returns
    -------
    turns : Fraction
        Fewest turns, in steps of one post. [turns]

    Raises
    ------
    ValueError
        If `length`, `circumference` or `posts` is not above zero.

    Notes
    -----
    Plain arithmetic. Posts are taken as evenly spaced, and the slope of the path as part of the circumference: measure
    it along a string for one turn and divide.

    Examples
    --------
    A mill four yards round holds ten yards in two and a half turns (a weaver's blog, June 2010):

    >>> turns_of_mill(Fraction(10), Fraction(4), 4)
    Fraction(5, 2)
    """
    if length <= 0 or circumference <= 0 or posts < 1:
        raise ValueError(f"length {length}, circumference {circumference} and posts {posts} must be above zero")
    return Fraction(ceil(length * posts / circumference), posts)


def passes_in_all(chains: Iterable[int], at_once: int) -> int:
    """Count the passes of all chains, a last smaller one of each counted.

    Parameters
    ----------
    chains : Iterable[int]
        Ends of each chain. [ends]
    at_once : int
        Ends wound together. [ends]

    Returns
    -------
    passes : int
        Passes from one end of the path to the other. [passes]

    Raises
    ------
    ValueError
        If `at_once` is not above zero or a chain is below.

    Notes
    -----
    Ends over ends at once, rounded up for each chain by itself, since a pass does not run from one chain into the next.
    Plain arithmetic.

    Examples
    --------
    1072 ends with five in hand (a weaver's blog, May 2024):

    >>> passes_in_all([1072], 5)
    215
    """
    kept = tuple(chains)
    if at_once < 1 or min(kept, default=0) < 0:
        raise ValueError(f"at_once {at_once} must be above zero and chains {kept} not below")
    return sum(ceil(Fraction(ends, at_once)) for ends in kept)
