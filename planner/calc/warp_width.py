"""Width: from the finished cloth to the reed, to a whole number of ends, and back again."""

from __future__ import annotations

from fractions import Fraction
from math import floor

HALF = Fraction(1, 2)


def _kept(draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    if not 0 <= draw_in < 1:
        raise ValueError(f"draw_in {draw_in} must be at least 0 and below 1")
    if not 0 <= width_shrinkage < 1:
        raise ValueError(f"width_shrinkage {width_shrinkage} must be at least 0 and below 1")
    return (1 - draw_in) * (1 - width_shrinkage)


def width_in_reed(finished_width: Fraction, draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    if finished_width <= 0:
        raise ValueError(f"finished_width {finished_width} must be above zero")
    return finished_width / _kept(draw_in, width_shrinkage)


def finished_width_of(width_in_reed: Fraction, draw_in: Fraction, width_shrinkage: Fraction) -> Fraction:
    if width_in_reed <= 0:
        raise ValueError(f"width_in_reed {width_in_reed} must be above zero")
    return width_in_reed * _kept(draw_in, width_shrinkage)


def ends_across(width_in_reed: Fraction, sett: Fraction, multiple: int = 1) -> int:
    if width_in_reed <= 0 or sett <= 0 or multiple < 1:
        raise ValueError(f"width_in_reed {width_in_reed}, sett {sett} and multiple {multiple} must be above zero")
    return max(1, floor(width_in_reed * sett / multiple + HALF)) * multiple


def ends_in_repeats(ends: int, repeat: int, balance: int = 0) -> tuple[int, int]:
    if ends < 1 or repeat < 1 or balance < 0:
        raise ValueError(f"ends {ends} and repeat {repeat} must be above zero, balance {balance} not below")
    repeats = max(1, floor(Fraction(ends - balance, repeat) + HALF))
    return repeats * repeat + balance, repeats


def width_of_ends(ends: int, sett: Fraction) -> Fraction:
    if ends < 1 or sett <= 0:
        raise ValueError(f"ends {ends} and sett {sett} must be above zero")
    return ends / sett
