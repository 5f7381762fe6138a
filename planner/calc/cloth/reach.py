"""Reach: how far a given amount of yarn goes, and what is left of it.

An amount given as a mass is turned into a length first, by its tex. Where warp and weft are one yarn they share it;
where the weft is another yarn, its figures here are 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor

from studio.quantities import Cm, Ends, EndsPerCm, PicksExact, Pieces, Pure, Share

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class PieceNeeds:
    """What pieces of one kind take."""

    warp: Cm  # of one piece with its fringe, no gap
    gap: Cm = ZERO  # unwoven warp between two pieces
    fixed: Cm = ZERO  # whatever the number of pieces: waste, samples
    weft: Cm = ZERO  # of one piece, where it is of the same yarn as the warp

    def __post_init__(self) -> None:
        if self.warp <= 0 or min(self.gap, self.fixed, self.weft) < 0:
            raise ValueError(f"warp {self.warp} must be above zero, gap, fixed and weft not below")

    def warp_of(self, pieces: int) -> Fraction:
        """Warp length that so many pieces take; none for no pieces."""
        return pieces * (self.warp + self.gap) - self.gap + self.fixed if pieces else ZERO


@dataclass(frozen=True, slots=True)
class Widest:
    """The widest warp that an amount of yarn makes."""

    ends: Ends  # 0 where there is too little for any
    width: Cm  # in reed
    left: Cm  # yarn over


@dataclass(frozen=True, slots=True)
class MostPieces:
    """The most pieces that an amount of yarn or a warp makes."""

    pieces: Pieces
    warp: Cm  # with gaps and fixed parts
    left: Cm  # yarn over; of a given warp, the length over


def widest(yarn: Cm, warp_length: Cm, sett: EndsPerCm, weft_per_cm: PicksExact, multiple: Ends = 1) -> Widest:
    """Give the widest warp that an amount of yarn makes, its length given.

    `weft_per_cm` is the weft of all pieces for one centimetre of width: picks of all with the allowance; 0 for another
    yarn. Each end takes its length and the weft that crosses it, 1 / sett of a centimetre; rounded down.
    Source: plain arithmetic. Raises ValueError if `warp_length`, `sett` or `multiple` is not above zero, or `yarn` or
    `weft_per_cm` is below.

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


def longest_warp(yarn: Cm, ends: Ends) -> Cm:
    """Give the longest warp of so many ends, the weft being another yarn.

    yarn / ends.
    Source: plain arithmetic. Raises ValueError if `ends` is not above zero or `yarn` is below.

    A beam of 20s cotton with 420 ends holds 5 040 000 yd of yarn: 12 000 yd each.
    >>> longest_warp(Fraction(5_040_000), 420)
    Fraction(12000, 1)
    """
    if ends < 1 or yarn < 0:
        raise ValueError(f"ends {ends} must be above zero and yarn {yarn} not below")
    return yarn / ends


def longest_woven(yarn: Cm, ends: Ends, fixed: Cm, take_up: Share, weft_per_woven: Pure) -> Cm:
    """Give the longest cloth that an amount of yarn weaves, its ends given.

    yarn = ends (woven / (1 - take-up) + fixed) + woven x weft per woven, solved for the length woven under tension; 0
    where there is too little yarn. `fixed` is warp that is not woven; `weft_per_woven` is picks/cm x width in reed x (1
    + allowance), 0 for another yarn.
    Source: plain algebra. Raises ValueError if `ends` is not above zero, `yarn`, `fixed` or `weft_per_woven` is below,
    or `take_up` is below 0 or not below 1.

    >>> longest_woven(Fraction(100_000), 100, Fraction(100), Fraction(1, 10), Fraction(0))
    Fraction(810, 1)
    """
    if ends < 1 or min(yarn, fixed, weft_per_woven) < 0 or not 0 <= take_up < 1:
        raise ValueError(
            f"ends {ends} must be above zero; yarn {yarn}, fixed {fixed}, weft_per_woven {weft_per_woven} not below; "
            f"take_up {take_up} from 0 to below 1"
        )
    return max(ZERO, (yarn - ends * fixed) / (ends / (1 - take_up) + weft_per_woven))


def most_pieces(yarn: Cm, ends: Ends, needs: PieceNeeds) -> MostPieces:
    """Give the most pieces that an amount of yarn makes, the ends given.

    yarn = ends (pieces (warp + gap) - gap + fixed) + pieces x weft, rounded down. A margin is not kept: take it off the
    yarn first.
    Source: plain algebra. Raises ValueError if `ends` is not above zero or `yarn` is below.

    >>> most_pieces(Fraction(100_000), 100, PieceNeeds(Fraction(300), Fraction(10), Fraction(80)))
    MostPieces(pieces=3, warp=Fraction(1000, 1), left=Fraction(0, 1))
    """
    if ends < 1 or yarn < 0:
        raise ValueError(f"ends {ends} must be above zero and yarn {yarn} not below")
    each = ends * (needs.warp + needs.gap) + needs.weft
    pieces = max(0, floor((yarn - ends * (needs.fixed - needs.gap)) / each))
    warp = needs.warp_of(pieces)
    return MostPieces(pieces, warp, yarn - ends * warp - pieces * needs.weft)


def pieces_of_warp(warp_length: Cm, needs: PieceNeeds) -> MostPieces:
    """Give the most pieces that a warp already on the loom, or about to be wound, makes.

    (length - fixed + gap) / (warp + gap), rounded down; the weft is not asked.
    Source: plain algebra. Raises ValueError if `warp_length` is below zero.

    >>> pieces_of_warp(Fraction(1309), PieceNeeds(Fraction(300), Fraction(10), Fraction(80)))
    MostPieces(pieces=3, warp=Fraction(1000, 1), left=Fraction(309, 1))
    """
    if warp_length < 0:
        raise ValueError(f"warp_length {warp_length} must not be below zero")
    pieces = max(0, floor((warp_length - needs.fixed + needs.gap) / (needs.warp + needs.gap)))
    warp = needs.warp_of(pieces)
    return MostPieces(pieces, warp, warp_length - warp)
