"""Length: from the finished pieces to the warp, each allowance on its own, losses divided out."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from planner.calc.plan import Number, OneMore

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
    _share("length_shrinkage", length_shrinkage)
    _not_below_zero(hem=hem)
    if finished_length <= 0:
        raise ValueError(f"finished_length {finished_length} must be above zero")
    return (finished_length + hem) / (1 - length_shrinkage)


def warp_of_woven(woven: Fraction, take_up: Fraction) -> Fraction:
    _share("take_up", take_up)
    _not_below_zero(woven=woven)
    return woven / (1 - take_up)


def gap_count(pieces: int, gaps: int | None) -> int:
    if pieces < 1:
        raise ValueError(f"pieces {pieces} must be above zero")
    if gaps is None:
        return pieces - 1
    _not_below_zero(gaps=gaps)
    return gaps


def margin_of(base: Fraction, margin: Fraction) -> Fraction:
    _not_below_zero(base=base, margin=margin)
    return base * margin


def rounded_up(length: Fraction, step: Fraction) -> Fraction:
    _not_below_zero(length=length)
    if step <= 0:
        raise ValueError(f"step {step} must be above zero")
    return ceil(length / step) * step


def warp_of_one_more(woven: Fraction, take_up: Fraction, gap: Fraction, fringe: Fraction) -> Fraction:
    _not_below_zero(gap=gap, fringe=fringe)
    return warp_of_woven(woven, take_up) + gap + fringe


def one_more_piece(needs: Fraction, real_length: Number, length_wanted: Fraction, margin: Fraction) -> OneMore:
    _not_below_zero(needs=needs, real_length=real_length, length_wanted=length_wanted, margin=margin)
    left = Fraction(real_length) - length_wanted
    return OneMore(needs=needs, left=left, margin=margin, fits=left + TOLERANCE >= needs)
