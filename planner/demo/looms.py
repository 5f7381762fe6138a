"""Eight looms that differ, their beams, the reeds on the rack and the winding stations.

Lengths are in the unit the maker worked in; the loader turns them into cm exactly.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from studio.models import Beam, Reed, Station

Facts = Mapping[str, Any]


def _facts(**facts: Any) -> Facts:
    return MappingProxyType(facts)


@dataclass(frozen=True, slots=True)
class DemoBeam:
    """One warp beam; the keys are columns without `_cm`, the lengths text with units."""

    name: str
    facts: Facts
    before: tuple[tuple[str, int, str], ...] = ()
    """Earlier circumferences: text, days ago, note."""


@dataclass(frozen=True, slots=True)
class DemoLoom:
    """One loom with its beams."""

    number: int
    nickname: str
    facts: Facts
    beams: tuple[DemoBeam, ...]
    heddles: tuple[int, ...] = field(default=())


def _sections(width: str, pitch: str, sections: int, **more: Any) -> Facts:
    return _facts(usable_width=width, pitch=pitch, sections=sections, **more)


LOOMS = (
    DemoLoom(
        1, "Slipway",
        _facts(weaving_width="36 in", shafts=4, treadles=6, waste="30 in", notes="Good for a first warp."),
        (DemoBeam("plain beam", _facts(kind=Beam.Kind.PLAIN, circumference="18 in", usable_width="36 in", bars=0)),),
        (100, 100, 100, 100),
    ),
    DemoLoom(
        2, "Capstan",
        _facts(weaving_width="45 in", shafts=4, treadles=6, waste="36 in", notes="Wire dividers, easily bent."),
        (DemoBeam("sectional beam", _sections(
            "45 in", "1 in", 44, circumference="36 in", divider="1/16 in", rake_height="1 1/2 in", leader="31 1/2 in",
        )),),
        (150, 150, 150, 150),
    ),
    DemoLoom(
        3, "Lantern",
        _facts(weaving_width="36 in", shafts=4, treadles=6, waste="36 in", notes="Wire hoops; rail for the box."),
        (DemoBeam("sectional beam", _sections(
            "36 in", "2 in", 18, circumference="36 in", rake_height="2 in", leader="30 in",
        ), before=(("35 7/8 in", 400, "by the old tape"),)),),
        (180, 180, 180, 180),
    ),
    DemoLoom(
        4, "Tideline",
        _facts(weaving_width="36 in", shafts=4, treadles=4, waste="45 in", notes="The rug loom of the house."),
        (
            DemoBeam("sectional beam", _sections(
                "35 in", "2 in", 17, circumference="36 in", divider="3/8 in", rake_height="2 1/2 in", leader="34 in",
                turning=Beam.Turning.UNDER, clockwise=False,
            )),
            DemoBeam("second beam", _facts(
                kind=Beam.Kind.PLAIN, circumference="12 in", usable_width="36 in", bars=0,
            )),
        ),
        (120, 120, 120, 120),
    ),
    DemoLoom(
        5, "Ropewalk",
        _facts(weaving_width="32 in", shafts=2, treadles=2, waste="30 in", notes="Low wire rakes, small beam."),
        (DemoBeam("sectional beam", _sections(
            "32 in", "2 in", 16, circumference="18 in", divider="1/32 in", rake_height="1 in", leader="24 in",
        )),),
        (220, 220),
    ),
    DemoLoom(
        6, "Long Pier",
        _facts(weaving_width="60 in", shafts=8, treadles=10, waste="42 in", notes="Two people lift the cloth beam."),
        (
            DemoBeam("sectional beam", _sections(
                "60 in", "2 in", 30, circumference="36 in", divider="1/4 in", rake_height="2 in", bars=6,
                leader="40 in",
            )),
            DemoBeam("beam of one-inch sections", _sections(
                "60 in", "1 in", 60, circumference="36 in", divider="1/16 in", rake_height="2 in", bars=6,
                leader="40 in",
            )),
        ),
        (150,) * 8,
    ),
    DemoLoom(
        7, "Harbour Light",
        _facts(weaving_width="100 cm", shafts=4, treadles=6, waste="90 cm", notes="Metric throughout."),
        (
            DemoBeam("sectional beam", _sections(
                "100 cm", "5 cm", 20, circumference="1 m", divider="6 mm", rake_height="5 cm", leader="87.5 cm",
            )),
            DemoBeam("beam with a middle section", _sections(
                "96 cm", "5 cm", 19, circumference="1 m", divider="6 mm", rake_height="5 cm", leader="87.5 cm",
            )),
        ),
        (150, 150, 150, 150),
    ),
    DemoLoom(
        8, "Bollard",
        _facts(weaving_width="24 in", shafts=4, treadles=6, waste="33 in", notes="The class loom."),
        (DemoBeam("sectional beam", _sections(
            "24 in", "2 in", 12, circumference="27 in", divider="1/4 in", rake_height="1 3/4 in", leader="24 in",
        )),),
        (100, 100, 100, 100),
    ),
)  # fmt: skip

_INCH, _TEN = Reed.Per.INCH, Reed.Per.TEN_CM

REEDS: tuple[tuple[int, str, str, int | None], ...] = (
    (6, _INCH, "36 in", None), (8, _INCH, "36 in", None), (10, _INCH, "36 in", None), (12, _INCH, "36 in", None),
    (15, _INCH, "36 in", None), (10, _INCH, "45 in", 2), (15, _INCH, "45 in", 2), (10, _INCH, "62 in", 6),
    (12, _INCH, "62 in", 6), (8, _INCH, "24 in", 8), (40, _TEN, "100 cm", None), (50, _TEN, "100 cm", 7),
    (60, _TEN, "100 cm", None),
)  # fmt: skip
"""Dents, counted per, length, and the loom a reed is kept with."""

STATIONS: tuple[tuple[str, str, Facts], ...] = (
    (Station.Kind.BOARD, "Warping board by the window", _facts(path_longest="14 yd", path_step="9 in", ends_at_once=2)),
    (Station.Kind.MILL, "Warping mill", _facts(path_longest="30 yd", path_step="18 in", ends_at_once=4,
                                               training_needed=True)),
    (Station.Kind.BOX, "Tension box with its rack", _facts(rack_spools=48, comb_dents=10, training_needed=True)),
    (Station.Kind.RACK, "Small spool rack", _facts(rack_spools=24)),
    (Station.Kind.RADDLE, "Raddle, half-inch spaces", _facts(raddle_space="1/2 in")),
    (Station.Kind.WINDER, "Electric winder", _facts(training_needed=True, notes="Tie back hair and sleeves.")),
    (Station.Kind.SCALE, "Kitchen scale", _facts(notes="Weighs to 1 g, up to 5 kg.")),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class DemoCalibration:
    """A beam taped with a yarn: which loom and beam, the name of the yarn, and the readings as columns."""

    loom: int
    beam: str
    yarn: str
    facts: Facts
    days_ago: int


CALIBRATIONS = (
    DemoCalibration(
        6, "sectional beam", "8/2 cotton",
        _facts(
            ends=48, width="1 3/4 in", turns=20, start="36 in", end="95.8 cm", tape="1 mm", note="Box pegs 1, 2 and 3.",
        ),
        60,
    ),
)  # fmt: skip
