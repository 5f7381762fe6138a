"""Bounds far above any handloom; they keep hostile briefs from taking time. Lengths in cm."""

from __future__ import annotations

from fractions import Fraction

MOST_ENDS = 20_000
MOST_SECTIONS = 400
MOST_SECTIONS_OF_WARP = 4_000
MOST_TURNS = 5_000
MOST_RUNS = 2_000
MOST_PIECES = 1_000
MOST_LENGTH = 1_000_000
MOST_WIDTH = 2_000
MOST_SHAFTS = 64
MOST_YARNS = 100
MOST_GROUPS = 20_000
MOST_CODE = 12
MOST_AMOUNT = 10**9
MOST_DENSITY = 10
MOST_PER_CM = 1_000
MOST_PICKS = 128
MOST_THREADED = 2_000

MOST_LOSS = Fraction(9, 10)
MOST_ADDED = Fraction(2)
"""A loss near the whole divides by nearly nothing; more than thrice the yarn is a slip of the finger."""
