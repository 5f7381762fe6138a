"""Pictures of the shelf: figures go in, geometry comes out, templates only draw it."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from inventory.selectors import PackageRow

BAR_LONG = 800
BAR_HIGH = 34
GAP_IN_LOT, GAP_BETWEEN_LOTS = 2, 14
"""Packages of one dye lot stand close together, lots apart, so that a mixed warp is seen before it is wound."""

ROOM_FOR_NAME = 90


@dataclass(frozen=True, slots=True)
class Piece:
    """One package in the bar."""

    x: str
    wide: str


@dataclass(frozen=True, slots=True)
class LotBar:
    """The packages of one dye lot, with its name where there is room for it."""

    name: str
    x: str
    pieces: tuple[Piece, ...]
    named: bool


def shelf_bar(packages: Sequence[PackageRow]) -> tuple[LotBar, ...]:
    """Lay the packages end to end, each as long as its yarn, those of one dye lot together."""
    full = [row for row in packages if row.net_g > 0]
    total = sum((row.length_cm for row in full), Fraction(0))
    lots = [(name, list(rows)) for name, rows in groupby(full, key=lambda row: row.package.dye_lot)]
    gaps = sum(len(rows) - 1 for _, rows in lots) * GAP_IN_LOT + (len(lots) - 1) * GAP_BETWEEN_LOTS
    x = Fraction(0)
    bars = []
    for name, rows in lots:
        widths = [row.length_cm / total * (BAR_LONG - gaps) for row in rows]
        bars.append(_lot_bar(name, x, widths))
        x += sum(widths, Fraction(0)) + (len(rows) - 1) * GAP_IN_LOT + GAP_BETWEEN_LOTS
    return tuple(bars)


def _lot_bar(name: str, start: Fraction, widths: Sequence[Fraction]) -> LotBar:
    x = start
    pieces = []
    for wide in widths:
        pieces.append(Piece(f"{float(x):.1f}", f"{float(wide):.1f}"))
        x += wide + GAP_IN_LOT
    return LotBar(name or "no lot", f"{float(start):.1f}", tuple(pieces), named=x - start >= ROOM_FOR_NAME)
