"""Weft: picks in a woven length and the yarn they take."""

from __future__ import annotations

from fractions import Fraction
from math import ceil


def picks_in(woven: Fraction, picks: Fraction) -> int:
    if woven < 0 or picks <= 0:
        raise ValueError(f"woven {woven} must not be below zero and picks {picks} must be above")
    return ceil(woven * picks)


def weft_length(woven_total: Fraction, picks: Fraction, width_in_reed: Fraction, allowance: Fraction) -> Fraction:
    if woven_total < 0 or picks <= 0 or width_in_reed <= 0 or allowance < 0:
        raise ValueError(
            f"picks {picks} and width_in_reed {width_in_reed} must be above zero, "
            f"woven_total {woven_total} and allowance {allowance} not below"
        )
    return woven_total * picks * width_in_reed * (1 + allowance)
