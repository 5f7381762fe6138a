"""Colours of yarn by family: where a weaver would look for one on the wall.

A colour is taken apart into lightness, chroma and hue as eyes see them. The bounds between the families are ours:
common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cbrt, degrees, hypot

from studio.quantities import Degrees, Place, PureFloat

FAMILIES = ("natural", "yellow", "orange", "red", "violet", "blue", "green", "brown", "grey", "black")
"""In the order they hang on the wall."""

Row = tuple[float, float, float]
_XYZ_OF_LINEAR: tuple[Row, Row, Row] = (
    (506752 / 1228815, 87881 / 245763, 12673 / 70218),
    (87098 / 409605, 175762 / 245763, 12673 / 175545),
    (7918 / 409605, 87881 / 737289, 1001167 / 1053270),
)
_CONES_OF_XYZ: tuple[Row, Row, Row] = (
    (0.8190224379967030, 0.3619062600528904, -0.1288737815209879),
    (0.0329836539323885, 0.9292868615863434, 0.0361446663506424),
    (0.0481771893596242, 0.2642395317527308, 0.6335478284694309),
)
_LAB_OF_CONES: tuple[Row, Row, Row] = (
    (0.2104542683093140, 0.7936177747023054, -0.0040720430116193),
    (1.9779985324311684, -2.4285922420485799, 0.4505937096174110),
    (0.0259040424655478, 0.7827717124575296, -0.8086757549230774),
)
_BLACK_BELOW, _WHITE_FROM, _CREAM_FROM, _UNDYED_FROM, _BROWN_BELOW = 0.30, 0.92, 0.85, 0.70, 0.55
"""Lightness: of dull colours below and above; of cream, of flax and other undyed fibre; of a strong brown."""
_GREY_TO, _CREAM_TO, _FLAX_TO, _BROWN_TO, _DARK_TO = 0.025, 0.05, 0.065, 0.08, 0.05
"""Chroma that these may have at most."""
_WARM = (40.0, 103.0)
_HUELESS = 0.002
"""Below this chroma the hue is only what the rounding left."""
_YELLOW_TO, _BRIGHT_FROM = 115.0, 0.80
"""A bright yellow may lean towards green as far as this, where a darker one is olive."""
_BY_HUE = ((40.0, "red"), (75.0, "orange"), (103.0, "yellow"), (200.0, "green"), (290.0, "blue"), (355.0, "violet"))
_STEPS = 1000


@dataclass(frozen=True, slots=True)
class Seen:
    """A colour as eyes see it (Oklch)."""

    lightness: PureFloat  # from 0, black, to 1, white
    chroma: PureFloat  # 0 for a grey, some 0.3 for the strongest on a screen
    hue: Degrees  # red near 29, yellow near 110, blue near 264


def seen(colour: str) -> Seen:
    """Take a colour of the screen, # and six hexadecimal digits, apart into lightness, chroma and hue.

    Source: IEC 61966-2-1 for sRGB; W3C, CSS Color Module Level 4, sample code for sRGB to XYZ to Oklab, and Oklab to
    Oklch. Raises ValueError if `colour` is not written so.

    The green of CSS, oklch(0.51975 0.17686 142.495) in that standard's own tests:
    >>> green = seen("#008000")
    >>> round(green.lightness, 4), round(green.chroma, 4), round(green.hue, 1)
    (0.5198, 0.1769, 142.5)
    """
    if len(colour) != 7 or colour[0] != "#":  # noqa: PLR2004
        raise ValueError(f"colour {colour!r} is not # and six hexadecimal digits")
    linear = tuple(_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    cones = tuple(cbrt(part) for part in _times(_CONES_OF_XYZ, _times(_XYZ_OF_LINEAR, linear)))
    lightness, a, b = _times(_LAB_OF_CONES, cones)
    return Seen(lightness, hypot(a, b), degrees(atan2(b, a)) % 360)


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4  # noqa: PLR2004  # IEC 61966-2-1


def _times(matrix: tuple[Row, Row, Row], column: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(sum(one * other for one, other in zip(row, column, strict=True)) for row in matrix)


def family_of(colour: str) -> str:
    """Name the family a colour of yarn belongs to.

    Brown is a dark or dull orange, natural a pale or undyed one.
    Source: common practice, no source for the bounds. Raises ValueError if `colour` is not written so.

    >>> [family_of(colour) for colour in ("#efe5cf", "#a9483c", "#2f4a78", "#6d4c37", "#62836a", "#5c5d61")]
    ['natural', 'red', 'blue', 'brown', 'green', 'grey']
    """
    return _family(seen(colour))


def _family(one: Seen) -> str:
    warm = one.chroma >= _HUELESS and _WARM[0] <= one.hue < _WARM[1]
    if one.lightness < _BLACK_BELOW and one.chroma < _DARK_TO:
        return "black"
    if _is_natural(one, warm=warm):
        return "natural"
    if one.chroma < _GREY_TO:
        return "grey"
    if warm and (one.lightness < _BROWN_BELOW or one.chroma < _BROWN_TO):
        return "brown"
    if _WARM[1] <= one.hue < _YELLOW_TO and one.lightness >= _BRIGHT_FROM:
        return "yellow"
    return next((name for end, name in _BY_HUE if one.hue < end), "red")


def _is_natural(one: Seen, *, warm: bool) -> bool:
    """Say whether it is white, or the cream or flax of undyed fibre."""
    if not warm:
        return one.lightness >= _WHITE_FROM and one.chroma < _GREY_TO / 2
    cream = one.lightness >= _CREAM_FROM and one.chroma < _CREAM_TO
    return cream or (one.lightness >= _UNDYED_FROM and _GREY_TO <= one.chroma < _FLAX_TO)


def wall_place(colour: str) -> Place:
    """Give the place of a colour on the wall: family by family, and in each from light to dark.

    What hangs first has the smallest number: the lightness of `seen`, in a thousand steps.
    Source: plain arithmetic. Raises ValueError if `colour` is not written so.

    >>> wall_place("#ffffff") < wall_place("#efe5cf") < wall_place("#a8bfcb") < wall_place("#2f4a78")
    True
    """
    one = seen(colour)
    dark = round((1 - min(1.0, max(0.0, one.lightness))) * _STEPS)
    return FAMILIES.index(_family(one)) * (_STEPS + 1) + dark
