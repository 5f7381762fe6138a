"""Length: from the finished pieces to the warp, each allowance on its own, losses divided out."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from planner.calc.terms.plan import Number, OneMore
from studio.quantities import Cm, CmNumber, Gaps, Pieces, Share

TOLERANCE = Fraction(1, 1_000_000)
"""A hundredth of a micrometre: far below the yarn, far above the error of a float [cm]."""


def _share(name: str, value: Fraction) -> None:
    if not 0 <= value < 1:
        raise ValueError(f"{name} {value} must be at least 0 and below 1")


def _not_below_zero(**values: Number) -> None:
    for name, value in values.items():
        if value < 0:
            raise ValueError(f"{name} {value} must not be below zero")


def woven_length(finished_length: Cm, hem: Cm, length_shrinkage: Share) -> Cm:
    """Give the length of one piece as woven, measured under tension.

    The loss is a share of the woven length, so it is divided out; `hem` is both hems together, finished.
    Source: plain arithmetic. Raises ValueError if `finished_length` is not above zero, `hem` is below, or
    `length_shrinkage` is below 0 or not below 1.

    Thirty-six finished with a loss of a tenth:
    >>> woven_length(Fraction(36), Fraction(0), Fraction(1, 10))
    Fraction(40, 1)
    """
    _share("length_shrinkage", length_shrinkage)
    _not_below_zero(hem=hem)
    if finished_length <= 0:
        raise ValueError(f"finished_length {finished_length} must be above zero")
    return (finished_length + hem) / (1 - length_shrinkage)


def warp_of_woven(woven: Cm, take_up: Share) -> Cm:
    """Give the warp that a woven length uses up.

    `take_up` is of the warp length. Mill books often give crimp, a share of the cloth; take-up = crimp / (1 + crimp).
    Source: plain arithmetic. Raises ValueError if `woven` is below zero, or `take_up` is below 0 or not below 1.

    >>> warp_of_woven(Fraction(36), Fraction(1, 10))
    Fraction(40, 1)
    """
    _share("take_up", take_up)
    _not_below_zero(woven=woven)
    return woven / (1 - take_up)


def gap_count(pieces: Pieces, gaps: Gaps | None) -> Gaps:
    """Count the unwoven gaps of a warp.

    `gaps` is what the weaver said; None means one fewer than pieces.
    Source: plain arithmetic. Raises ValueError if `pieces` is not above zero or `gaps` is below.

    >>> gap_count(8, None), gap_count(8, 8)
    (7, 8)
    """
    if pieces < 1:
        raise ValueError(f"pieces {pieces} must be above zero")
    if gaps is None:
        return pieces - 1
    _not_below_zero(gaps=gaps)
    return gaps


def margin_of(base: Cm, margin: Share) -> Cm:
    """Give the warp kept in reserve.

    A margin is chosen and not lost, so it is added on and not divided out.
    Source: plain arithmetic. Raises ValueError if `base` or `margin` is below zero.

    >>> margin_of(Fraction(200), Fraction(5, 100))
    Fraction(10, 1)
    """
    _not_below_zero(base=base, margin=margin)
    return base * margin


def rounded_up(length: Cm, step: Cm) -> Cm:
    """Round a length up to whole steps, such as half yards of a board or beam turns.

    Source: plain arithmetic. Raises ValueError if `length` is below zero or `step` is not above.

    >>> rounded_up(Fraction(75), Fraction(20)), rounded_up(Fraction(80), Fraction(20))
    (Fraction(80, 1), Fraction(80, 1))
    """
    _not_below_zero(length=length)
    if step <= 0:
        raise ValueError(f"step {step} must be above zero")
    return ceil(length / step) * step


def warp_of_one_more(woven: Cm, take_up: Share, gap: Cm, fringe: Cm) -> Cm:
    """Give the warp that one more piece needs.

    The margin of the pieces already planned is kept, and one more piece earns none of its own: it is woven from what is
    left, when the weaver can see how much that is.
    Source: plain arithmetic. Raises ValueError if `woven`, `gap` or `fringe` is below zero, or `take_up` is below 0 or
    not below 1.

    >>> warp_of_one_more(Fraction(36), Fraction(1, 10), Fraction(2), Fraction(0))
    Fraction(42, 1)
    """
    _not_below_zero(gap=gap, fringe=fringe)
    return warp_of_woven(woven, take_up) + gap + fringe


def one_more_piece(needs: Cm, real_length: CmNumber, length_wanted: Cm, margin: Cm) -> OneMore:
    """Say whether one more piece fits into what is left over.

    `real_length` is what is really put on: with build-up after whole turns, else as wound. Left over is what rounding
    up and build-up gave beyond `length_wanted`, the margin in it. A piece counts as fitting when less than `TOLERANCE`
    is missing, since a float may come in.
    Source: plain arithmetic. Raises ValueError if `needs`, `real_length`, `length_wanted` or `margin` is below zero.

    >>> one_more_piece(Fraction(42), Fraction(500), Fraction(460), Fraction(12)).fits
    False
    """
    _not_below_zero(needs=needs, real_length=real_length, length_wanted=length_wanted, margin=margin)
    left = Fraction(real_length) - length_wanted
    return OneMore(needs=needs, left=left, margin=margin, fits=left + TOLERANCE >= needs)
