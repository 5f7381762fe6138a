"""Pictures of the shelf: figures go in, geometry comes out, templates only draw it."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from inventory.selectors import PackageRow

BAR_LONG = 800
GAP_IN_LOT, GAP_BETWEEN_LOTS = 2, 14
"""Packages of one dye lot stand close together, lots apart, so that a mixed warp is seen before it is wound."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One package in the bar."""

    x: str
    wide: str


@dataclass(frozen=True, slots=True)
class LotBar:
    """The packages of one dye lot, by name."""

    name: str
    pieces: tuple[Piece, ...]


def shelf_bar(packages: Sequence[PackageRow]) -> tuple[LotBar, ...]:
    """Lay the packages end to end, each as long as its yarn, those of one dye lot together."""
    full = [row for row in packages if row.net_g > 0]
    total = sum((row.length_cm for row in full), Fraction(0))
    lots = [(name, list(rows)) for name, rows in groupby(full, key=lambda row: row.package.dye_lot)]
    within, between = _gaps(len(full), len(lots))
    room = BAR_LONG - (len(full) - len(lots)) * within - (len(lots) - 1) * between
    x = Fraction(0)
    bars = []
    for name, rows in lots:
        pieces = []
        for row in rows:
            wide = row.length_cm / total * room
            pieces.append(Piece(f"{float(x):.1f}", f"{float(wide):.1f}"))
            x += wide + within
        x += between - within
        bars.append(LotBar(name or "none given", tuple(pieces)))
    return tuple(bars)


def _gaps(packages: int, lots: int) -> tuple[int, int]:
    """Give the gaps within and between lots; a crowd of packages closes ranks."""
    taken = (packages - lots) * GAP_IN_LOT + (lots - 1) * GAP_BETWEEN_LOTS
    return (GAP_IN_LOT, GAP_BETWEEN_LOTS) if taken <= BAR_LONG / 2 else (0, 0)
