"""Colours taken apart: the standard's own values, and the families of colours everybody can name."""

import pytest

from inventory.calc.colour import FAMILIES, family_of, seen, wall_place
from inventory.models import ColourFamily

# Oklch of CSS colours as the tests of W3C's CSS Color Module Level 4 give them (css-color/oklch-001 to -003).
PUBLISHED = [("#008000", 0.51975, 0.17686, 142.495), ("#000000", 0.0, 0.0, None), ("#ffffff", 1.0, 0.0, None)]

# Named colours of CSS Color Module Level 4 (6.1) whose very name is the family's.
NAMED = {
    "yellow": ("#ffff00",), "orange": ("#ffa500", "#ff8c00"), "red": ("#ff0000", "#dc143c"),
    "violet": ("#ee82ee", "#800080"), "blue": ("#0000ff", "#000080", "#add8e6"), "green": ("#008000", "#90ee90"),
    "brown": ("#8b4513", "#a0522d"), "grey": ("#808080", "#d3d3d3"), "black": ("#000000",),
    "natural": ("#ffffff", "#faf0e6"),
}  # fmt: skip


@pytest.mark.parametrize(("colour", "lightness", "chroma", "hue"), PUBLISHED)
def test_a_colour_is_seen_as_the_standard_says(colour, lightness, chroma, hue):
    found = seen(colour)
    assert (found.lightness, found.chroma) == pytest.approx((lightness, chroma), abs=5e-5)
    assert hue is None or found.hue == pytest.approx(hue, abs=5e-2)


@pytest.mark.parametrize(
    ("family", "colour"), [(family, colour) for family, colours in NAMED.items() for colour in colours]
)
def test_a_colour_hangs_with_those_of_its_name(family, colour):
    assert family_of(colour) == family


@pytest.mark.parametrize("colour", ["", "red", "#fff", "#ggg000", "1234567"])
def test_what_is_no_colour_is_refused(colour):
    with pytest.raises(ValueError):  # noqa: PT011  # int() says it in its own words
        seen(colour)


def test_the_wall_knows_every_family_in_its_order():
    assert tuple(ColourFamily.values) == FAMILIES


def test_each_family_hangs_from_light_to_dark():
    blues = ["#add8e6", "#4682b4", "#0000cd", "#000080"]
    assert sorted(blues, key=wall_place) == blues


def test_the_darkest_of_one_family_hangs_before_the_lightest_of_the_next():
    greys, blacks = [f"#{part:02x}{part:02x}{part:02x}" for part in range(60, 140)], ["#1a1a1a", "#000000"]
    assert max(map(wall_place, greys)) < min(map(wall_place, blacks))
