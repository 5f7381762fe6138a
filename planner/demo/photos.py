"""Photos of the invented studio, drawn and not taken: a cone of yarn on a bench, as a PNG made by hand."""

import zlib
from struct import pack

SIDE, TOP, FOOT = 360, 60, 300
NARROW, WIDE = 45, 120
STRIPE, DARK = 9, 3
_WALL, _BENCH, _CORE = (226, 221, 211), (146, 116, 88), (196, 172, 138)


def a_cone(red: int, green: int, blue: int) -> bytes:
    """Draw a cone of yarn in a colour (PNG, ISO/IEC 15948: signature, IHDR, IDAT, IEND)."""
    yarn, sides = (red, green, blue), range(SIDE)
    rows = b"".join(b"\x00" + bytes(v for x in sides for v in _point(x, y, yarn)) for y in sides)
    head = pack(">IIBBBBB", SIDE, SIDE, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(rows)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_part(name, data) for name, data in parts)


def _part(name: bytes, data: bytes) -> bytes:
    return pack(">I", len(data)) + name + data + pack(">I", zlib.crc32(name + data))


def _point(x: int, y: int, yarn: tuple[int, int, int]) -> tuple[int, ...]:
    """Give the colour of one point: the wound yarn, its core above and below, the bench, the wall."""
    off = abs(x - SIDE // 2)
    half = NARROW + (y - TOP) * (WIDE - NARROW) // (FOOT - TOP)
    if TOP <= y < FOOT and off < half:
        dark = 18 if (y + off // 3) % STRIPE < DARK else 0
        light = 120 - 55 * off // half - dark
        return tuple(min(255, value * light // 100) for value in yarn)
    if (TOP - 20 <= y < TOP and off < NARROW * 2 // 3) or (FOOT <= y < FOOT + 12 and off < WIDE * 2 // 3):
        return _CORE
    return _BENCH if y > FOOT - 30 else _WALL
