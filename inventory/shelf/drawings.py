"""Pictures of the shelf: figures go in, geometry comes out, templates only draw it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from inventory.calc.weight_classes import CLASSES, weight_class
from inventory.shelf.selectors import PackageRow, ShelfRow

BAR_LONG = 800
GAP_IN_LOT, GAP_BETWEEN_LOTS = 2, 14
"""Packages of one dye lot stand close together, lots apart, so that a mixed warp is seen before it is wound."""


@dataclass(frozen=True, slots=True)
class BarPiece:
    """One package in the bar."""

    x: str
    wide: str


@dataclass(frozen=True, slots=True)
class LotBar:
    """The packages of one dye lot, by name."""

    name: str
    pieces: tuple[BarPiece, ...]


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
            pieces.append(BarPiece(f"{float(x):.1f}", f"{float(wide):.1f}"))
            x += wide + within
        x += between - within
        bars.append(LotBar(name or "none given", tuple(pieces)))
    return tuple(bars)


def _gaps(packages: int, lots: int) -> tuple[int, int]:
    """Give the gaps within and between lots; a crowd of packages closes ranks."""
    taken = (packages - lots) * GAP_IN_LOT + (lots - 1) * GAP_BETWEEN_LOTS
    return (GAP_IN_LOT, GAP_BETWEEN_LOTS) if taken <= BAR_LONG / 2 else (0, 0)


@dataclass(frozen=True, slots=True)
class StockLine:
    """One yarn of the shelf with its bar: free, set aside and held back, each a part of the fullest on the page.

    `one_lot` says whether one dye lot suffices, where a length was asked for.
    """

    row: ShelfRow
    free: BarPiece | None
    promised: BarPiece | None
    held_back: BarPiece | None
    one_lot: bool | None = None


def stock_lines(rows: Sequence[ShelfRow], one_lot: Mapping[int, bool] | None = None) -> tuple[StockLine, ...]:
    """Draw each yarn's weight to the scale of the fullest among them."""
    fullest = max((row.net_g for row in rows), default=Fraction(0)) or Fraction(1)
    return tuple(
        StockLine(row, *_parts(row, fullest), one_lot.get(row.yarn.pk, False) if one_lot is not None else None)
        for row in rows
    )


def _parts(row: ShelfRow, fullest: Fraction) -> tuple[BarPiece | None, BarPiece | None, BarPiece | None]:
    promised_at = row.free_g
    return (
        _part(Fraction(0), row.free_g, fullest),
        _part(promised_at, row.promised_g, fullest),
        _part(promised_at + row.promised_g, row.held_back_g, fullest),
    )


def _part(at: Fraction, mass: Fraction, fullest: Fraction) -> BarPiece | None:
    return BarPiece(f"{float(at / fullest * 100):.2f}%", f"{float(mass / fullest * 100):.2f}%") if mass else None


@dataclass(frozen=True, slots=True)
class WallCard:
    """One yarn of the colour wall, wound as thick as it is: `winding` names the pattern of its weight class."""

    row: ShelfRow
    winding: str


@dataclass(frozen=True, slots=True)
class WoundPattern:
    """A pattern of wraps laid side by side, each `thick` high, its ply showing as slanting strokes `long` apart."""

    key: str
    thick: str
    long: str
    shade: str
    light: str
    twist: str


def _winding(key: str, thick: float) -> WoundPattern:
    long = thick * 1.5
    return WoundPattern(
        key,
        thick=f"{thick:g}",
        long=f"{long:g}",
        shade=f"M0 {thick - thick * 0.12:.2f}H{long:g}",
        light=f"M0 {thick * 0.3:.2f}H{long:g}",
        twist=f"M{long * 0.25:.2f} {thick:g}L{long * 0.75:.2f} 0",
    )


WINDINGS = tuple(_winding(one.key, thick) for one, thick in zip(CLASSES, (3.6, 4.8, 6.4, 9.0, 14.0), strict=True))
"""From very fine to very heavy, in the wall's own units: told apart, not to scale."""


def wall_cards(rows: Sequence[ShelfRow]) -> tuple[WallCard, ...]:
    """Wind each yarn on its card."""
    return tuple(WallCard(row, weight_class(row.tex).key) for row in rows)
