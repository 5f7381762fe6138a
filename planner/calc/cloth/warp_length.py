"""Length: from the finished pieces to the warp, each allowance on its own, losses divided out."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from planner.calc.terms.plan import Number, OneMore

TOLERANCE = Fraction(1, 1_000_000)
"""A hundredth of a micrometre: far below the yarn, far above the error of a float [cm]."""


def _share(name: str, value: Fraction) -> None:
    if not 0 <= value < 1:
        raise ValueError(f"{name} {value} must be at least 0 and below 1")


def _not_below_zero(**values: Number) -> None:
    for name, value in values.items():
        if value < 0:
            raise ValueError(f"{name} {value} must not be below zero")


def woven_length(finished_length: Fraction, hem: Fraction, length_shrinkage: Fraction) -> Fraction:
    """Give the length of one piece as woven, measured under tension.

    Parameters
    ----------
    finished_length : Fraction
        Finished length of one piece, hems not counted. [cm]
    hem : Fraction
        Hems of one piece, both together, finished. [cm]
    length_shrinkage : Fraction
        From woven to finished, of the woven length. [share]

    Returns
    -------
    woven : Fraction
        Length to weave. [cm]

    Raises
    ------
    ValueError
        If `finished_length` is not above zero, `hem` is below, or `length_shrinkage` is below 0 or not below 1.

    Notes
    -----
    Plain arithmetic. The loss is a share of the woven length, so it is divided out.

    Examples
    --------
    Thirty-six finished with a loss of a tenth:

    >>> woven_length(Fraction(36), Fraction(0), Fraction(1, 10))
    Fraction(40, 1)
    """
    _share("length_shrinkage", length_shrinkage)
    _not_below_zero(hem=hem)
    if finished_length <= 0:
        raise ValueError(f"finished_length {finished_length} must be above zero")
    return (finished_length + hem) / (1 - length_shrinkage)


def warp_of_woven(woven: Fraction, take_up: Fraction) -> Fraction:
    """Give the warp that a woven length uses up.

    Parameters
    ----------
    woven : Fraction
        Length woven, under tension. [cm]
    take_up : Fraction
        Warp used by bending round the weft, of the warp length. [share]

    Returns
    -------
    warp : Fraction
        Warp used. [cm]

    Raises
    ------
    ValueError
        If `woven` is below zero, or `take_up` is below 0 or not below 1.

    Notes
    -----
    Plain arithmetic. Mill books often give crimp, a share of the cloth; take-up = crimp / (1 + crimp).

    Examples
    --------
    >>> warp_of_woven(Fraction(36), Fraction(1, 10))
    Fraction(40, 1)
    """
    _share("take_up", take_up)
    _not_below_zero(woven=woven)
    return woven / (1 - take_up)


def gap_count(pieces: int, gaps: int | None) -> int:
    """Count the unwoven gaps of a warp.

    Parameters
    ----------
    pieces : int
        Number of pieces. [pieces]
    gaps : int | None
        Number said by the weaver; None means one fewer than pieces. [-]

    Returns
    -------
    count : int
        Gaps to leave. [-]

    Raises
    ------
    ValueError
        If `pieces` is not above zero or `gaps` is below.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    >>> gap_count(8, None), gap_count(8, 8)
    (7, 8)
    """
    if pieces < 1:
        raise ValueError(f"pieces {pieces} must be above zero")
    if gaps is None:
        return pieces - 1
    _not_below_zero(gaps=gaps)
    return gaps


def margin_of(base: Fraction, margin: Fraction) -> Fraction:
    """Give the warp kept in reserve.

    Parameters
    ----------
    base : Fraction
        Warp the margin is a share of. [cm]
    margin : Fraction
        Margin, added on. [share]

    Returns
    -------
    length : Fraction
        Warp kept in reserve. [cm]

    Raises
    ------
    ValueError
        If `base` or `margin` is below zero.

    Notes
    -----
    Plain arithmetic. A margin is chosen and not lost, so it is added on and not divided out.

    Examples
    --------
    >>> margin_of(Fraction(200), Fraction(5, 100))
    Fraction(10, 1)
    """
    _not_below_zero(base=base, margin=margin)
    return base * margin


def rounded_up(length: Fraction, step: Fraction) -> Fraction:
    """Round a length up to whole steps, such as half yards of a board or beam turns.

    Parameters
    ----------
    length : Fraction
        Length wanted. [cm]
    step : Fraction
        One step. [cm]

    Returns
    -------
    length : Fraction
        The fewest whole steps that hold it. [cm]

    Raises
    ------
    ValueError
        If `length` is below zero or `step` is not above.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    >>> rounded_up(Fraction(75), Fraction(20)), rounded_up(Fraction(80), Fraction(20))
    (Fraction(80, 1), Fraction(80, 1))
    """
    _not_below_zero(length=length)
    if step <= 0:
        raise ValueError(f"step {step} must be above zero")
    return ceil(length / step) * step


def warp_of_one_more(woven: Fraction, take_up: Fraction, gap: Fraction, fringe: Fraction) -> Fraction:
    """Give the warp that one more piece needs.

    Parameters
    ----------
    woven : Fraction
        Woven length of one piece. [cm]
    take_up : Fraction
        Warp used by bending round the weft, of the warp length. [share]
    gap : Fraction
        Unwoven warp of one gap. [cm]
    fringe : Fraction
        Warp left as fringe of one piece. [cm]

    Returns
    -------
    needs : Fraction
        Warp of the piece with its gap and fringe; no margin. [cm]

    Raises
    ------
    ValueError
        If `woven`, `gap` or `fringe` is below zero, or `take_up` is below 0 or not below 1.

    Notes
    -----
    Plain arithmetic. The margin of the pieces already planned is kept, and one more piece earns none of its own: it
    is woven from what is left, when the weaver can see how much that is.

    Examples
    --------
    >>> warp_of_one_more(Fraction(36), Fraction(1, 10), Fraction(2), Fraction(0))
    Fraction(42, 1)
    """
    _not_below_zero(gap=gap, fringe=fringe)
    return warp_of_woven(woven, take_up) + gap + fringe


def one_more_piece(needs: Fraction, real_length: Number, length_wanted: Fraction, margin: Fraction) -> OneMore:
    """Say whether one more piece fits into what is left over.

    Parameters
    ----------
    needs : Fraction
        Warp one more piece needs, from `warp_of_one_more`. [cm]
    real_length : Number
        Warp that is really put on: with build-up after whole turns, else as wound. [cm]
    length_wanted : Fraction
        Warp length before rounding up, margin in it. [cm]
    margin : Fraction
        Margin in `length_wanted`. [cm]

    Returns
    -------
    one_more : OneMore
        What is needed, what is left with the margin kept, the margin, and whether it fits. [cm]

    Raises
    ------
    ValueError
        If `needs`, `real_length`, `length_wanted` or `margin` is below zero.

    Notes
    -----
    Plain arithmetic. Left over is what rounding up and build-up gave beyond the wanted length. `real_length` may be
    a float: a piece counts as fitting when less than `TOLERANCE` is missing.

    Examples
    --------
    >>> one_more_piece(Fraction(42), Fraction(500), Fraction(460), Fraction(12)).fits
    False
    """
    _not_below_zero(needs=needs, real_length=real_length, length_wanted=length_wanted, margin=margin)
    left = Fraction(real_length) - length_wanted
    return OneMore(needs=needs, left=left, margin=margin, fits=left + TOLERANCE >= needs)
