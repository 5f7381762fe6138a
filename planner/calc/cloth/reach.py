"""Reach: how far a given amount of yarn goes, and what is left of it.

An amount given as a mass is turned into a length first, by its tex. Where warp and weft are one yarn they share it;
where the weft is another yarn, its figures here are 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class PieceNeeds:
    """What pieces of one kind take.

    Attributes
    ----------
    warp : Fraction
        Warp of one piece with its fringe, no gap. [cm]
    gap : Fraction
        Unwoven warp between two pieces. [cm]
    fixed : Fraction
        Warp that does not depend on the number of pieces: waste, samples. [cm]
    weft : Fraction
        Weft of one piece, where it is of the same yarn as the warp; else 0. [cm]
    """

    warp: Fraction
    gap: Fraction = ZERO
    fixed: Fraction = ZERO
    weft: Fraction = ZERO

    def __post_init__(self) -> None:
        if self.warp <= 0 or min(self.gap, self.fixed, self.weft) < 0:
            raise ValueError(f"warp {self.warp} must be above zero, gap, fixed and weft not below")

    def warp_of(self, pieces: int) -> Fraction:
        """Warp length that so many pieces take; none for no pieces."""
        return pieces * (self.warp + self.gap) - self.gap + self.fixed if pieces else ZERO


@dataclass(frozen=True, slots=True)
class Widest:
    """The widest warp that an amount of yarn makes.

    Attributes
    ----------
    ends : int
        Warp ends; 0 where there is too little for any. [ends]
    width : Fraction
        Width in reed. [cm]
    left : Fraction
        Yarn over. [cm]
    """

    ends: int
    width: Fraction
    left: Fraction


@dataclass(frozen=True, slots=True)
class MostPieces:
    """The most pieces that an amount of yarn or a warp makes.

    Attributes
    ----------
    pieces : int
        Whole pieces; may be 0. [pieces]
    warp : Fraction
        Warp length they take, with gaps and fixed parts. [cm]
    left : Fraction
        Yarn over; of a given warp, the length over. [cm]
    """

    pieces: int
    warp: Fraction
    left: Fraction


def widest(yarn: Fraction, warp_length: Fraction, sett: Fraction, weft_per_cm: Fraction, multiple: int = 1) -> Widest:
    """Give the widest warp that an amount of yarn makes, its length given.

    Parameters
    ----------
    yarn : Fraction
        Yarn there is. [cm]
    warp_length : Fraction
        Length of each end, everything included. [cm]
    sett : Fraction
        Warp ends on a unit of width. [ends/cm]
    weft_per_cm : Fraction
        Weft of all pieces for one centimetre of width: picks of all with the allowance; 0 for another yarn. [picks]
    multiple : int
        Ends come in multiples of this. [ends]

    Returns
    -------
    widest : Widest
        Ends, width and what is over. [-]

    Raises
    ------
    ValueError
        If `warp_length`, `sett` or `multiple` is not above zero, or `yarn` or `weft_per_cm` is below.

    Notes
    -----
    Each end takes its length and the weft that crosses it, 1 / sett of a centimetre; rounded down. Plain arithmetic.

    Examples
    --------
    2 000 m for ends of 5 m at 8 to the centimetre, weft of another yarn:

    >>> widest(Fraction(200_000), Fraction(500), Fraction(8), Fraction(0))
    Widest(ends=400, width=Fraction(50, 1), left=Fraction(0, 1))
    """
    if warp_length <= 0 or sett <= 0 or multiple < 1 or yarn < 0 or weft_per_cm < 0:
        raise ValueError(
            f"warp_length {warp_length}, sett {sett} and multiple {multiple} must be above zero, "
            f"yarn {yarn} and weft_per_cm {weft_per_cm} not below"
        )
    each = warp_length + weft_per_cm / sett
    ends = floor(yarn / each / multiple) * multiple
    return Widest(ends, ends / sett, yarn - ends * each)


def longest_warp(yarn: Fraction, ends: int) -> Fraction:
    """Give the longest warp of so many ends, the weft being another yarn.

    Parameters
    ----------
    yarn : Fraction
        Yarn there is. [cm]
    ends : int
        Warp ends. [ends]

    Returns
    -------
    length : Fraction
        Length of each end. [cm]

    Raises
    ------
    ValueError
        If `ends` is not above zero or `yarn` is below.

    Notes
    -----
    yarn / ends. Plain arithmetic, so no source is cited.

    Examples
    --------
    A beam of 20s cotton with 420 ends holds 5 040 000 yd of yarn: 12 000 yd each.

    >>> longest_warp(Fraction(5_040_000), 420)
    Fraction(12000, 1)
    """
    if ends < 1 or yarn < 0:
        raise ValueError(f"ends {ends} must be above zero and yarn {yarn} not below")
    return yarn / ends


def longest_woven(yarn: Fraction, ends: int, fixed: Fraction, take_up: Fraction, weft_per_woven: Fraction) -> Fraction:
    """Give the longest cloth that an amount of yarn weaves, its ends given.

    Parameters
    ----------
    yarn : Fraction
        Yarn there is. [cm]
    ends : int
        Warp ends. [ends]
    fixed : Fraction
        Warp that is not woven: waste, gaps, samples, fringes. [cm]
    take_up : Fraction
        Warp used by bending round the weft, of the warp length. [share]
    weft_per_woven : Fraction
        Weft for one centimetre woven: picks/cm x width in reed x (1 + allowance); 0 for another yarn. [-]

    Returns
    -------
    woven : Fraction
        Length woven, under tension; 0 where there is too little yarn. [cm]

    Raises
    ------
    ValueError
        If `ends` is not above zero, `yarn`, `fixed` or `weft_per_woven` is below, or `take_up` is below 0 or not
        below 1.

    Notes
    -----
    yarn = ends (woven / (1 - take-up) + fixed) + woven x weft per woven, solved for woven. Plain algebra.

    Examples
    --------
    >>> longest_woven(Fraction(100_000), 100, Fraction(100), Fraction(1, 10), Fraction(0))
    Fraction(810, 1)
    """
    if ends < 1 or min(yarn, fixed, weft_per_woven) < 0 or not 0 <= take_up < 1:
        raise ValueError(
            f"ends {ends} must be above zero; yarn {yarn}, fixed {fixed}, weft_per_woven {weft_per_woven} not below; "
            f"take_up {take_up} from 0 to below 1"
        )
    return max(ZERO, (yarn - ends * fixed) / (ends / (1 - take_up) + weft_per_woven))


def most_pieces(yarn: Fraction, ends: int, needs: PieceNeeds) -> MostPieces:
    """Give the most pieces that an amount of yarn makes, the ends given.

    Parameters
    ----------
    yarn : Fraction
        Yarn there is. [cm]
    ends : int
        Warp ends. [ends]
    needs : PieceNeeds
        What a piece takes. [cm]

    Returns
    -------
    most : MostPieces
        Whole pieces, their warp length, and the yarn over. [-]

    Raises
    ------
    ValueError
        If `ends` is not above zero or `yarn` is below.

    Notes
    -----
    yarn = ends (pieces (warp + gap) - gap + fixed) + pieces x weft, rounded down. Plain algebra. A margin is not kept:
    take it off the yarn first.

    Examples
    --------
    >>> most_pieces(Fraction(100_000), 100, PieceNeeds(Fraction(300), Fraction(10), Fraction(80)))
    MostPieces(pieces=3, warp=Fraction(1000, 1), left=Fraction(0, 1))
    """
    if ends < 1 or yarn < 0:
        raise ValueError(f"ends {ends} must be above zero and yarn {yarn} not below")
    each = ends * (needs.warp + needs.gap) + needs.weft
    pieces = max(0, floor((yarn - ends * (needs.fixed - needs.gap)) / each))
    warp = needs.warp_of(pieces)
    return MostPieces(pieces, warp, yarn - ends * warp - pieces * needs.weft)


def pieces_of_warp(warp_length: Fraction, needs: PieceNeeds) -> MostPieces:
    """Give the most pieces that a warp already on the loom, or about to be wound, makes.

    Parameters
    ----------
    warp_length : Fraction
        Length of the warp. [cm]
    needs : PieceNeeds
        What a piece takes; its weft is not asked. [cm]

    Returns
    -------
    most : MostPieces
        Whole pieces, the warp they take, and the length over. [-]

    Raises
    ------
    ValueError
        If `warp_length` is below zero.

    Notes
    -----
    (length - fixed + gap) / (warp + gap), rounded down. Plain algebra.

    Examples
    --------
    >>> pieces_of_warp(Fraction(1309), PieceNeeds(Fraction(300), Fraction(10), Fraction(80)))
    MostPieces(pieces=3, warp=Fraction(1000, 1), left=Fraction(309, 1))
    """
    if warp_length < 0:
        raise ValueError(f"warp_length {warp_length} must not be below zero")
    pieces = max(0, floor((warp_length - needs.fixed + needs.gap) / (needs.warp + needs.gap)))
    warp = needs.warp_of(pieces)
    return MostPieces(pieces, warp, warp_length - warp)
