"""Pictures of a beam, worked out to scale here so that the template only places them.

One drawing unit is the same length along and across, so a rake looks as high against its section as it is.
The front view is always seen from the SEAT, the end view from the crank side. Floats are at home here: nothing
in a picture is counted or wound.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import cos, pi, radians, sin

from studio.models import Beam
from studio.units import Units, show

PAGE = 720.0
SIDE = 28.0
BEAM_ROOM = PAGE - 2 * SIDE
TOP_ROOM = 50.0
NUMBER_ROOM = 24.0
"""Room a section number needs; closer numbers are thinned to every second, fifth or tenth."""
STEPS = (1, 2, 5, 10, 20, 50, 100)
THINNEST = 24.0
"""A beam is drawn at least so thick, or a thin one on a wide loom would vanish."""
SCALES = {
    Units.INCH: ((50.8, "20 in"), (25.4, "10 in"), (12.7, "5 in"), (2.54, "1 in")),
    Units.METRIC: ((50.0, "50 cm"), (20.0, "20 cm"), (10.0, "10 cm"), (2.0, "2 cm")),
}

END_PAGE = 300.0
MIDDLE = END_PAGE / 2
END_FOOT = 256.0
END_ROOM = 96.0
FEWEST_BARS = 3
ARROW = 0.55
ARC = (210.0, 330.0)
HEAD = 9.0


@dataclass(frozen=True, slots=True)
class Label:
    """A text at a place, with the way it is anchored."""

    x: str
    y: str
    text: str
    anchor: str = "draw-middle"


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle."""

    x: str
    y: str
    width: str
    height: str


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line."""

    x1: str
    y1: str
    x2: str
    y2: str


@dataclass(frozen=True, slots=True)
class FrontView:
    """The beam from the seat, in drawing units."""

    view_box: str
    description: str
    beam: Rectangle
    bars: tuple[Segment, ...]
    rakes: tuple[Rectangle, ...]
    numbers: tuple[Label, ...]
    middle: Segment
    size: Segment
    scale: Segment
    texts: tuple[Label, ...]


@dataclass(frozen=True, slots=True)
class EndView:
    """The beam from the crank side: outline, rakes, the way it winds, where the warp leaves."""

    view_box: str
    description: str
    centre: str
    corners: str
    radius: str
    rakes: tuple[Segment, ...]
    rake_radius: str
    turn: str
    head: str
    warp: Segment
    texts: tuple[Label, ...]


@dataclass(frozen=True, slots=True)
class BeamPicture:
    """Both views of one beam, and the same facts in words."""

    beam: Beam
    front: FrontView
    end: EndView
    facts: tuple[tuple[str, str], ...]


def picture_of(beam: Beam, units: Units) -> BeamPicture:
    """Draw a beam for a reader's units."""
    return BeamPicture(beam, front_view(beam, units), end_view(beam, units), facts_of(beam, units))


def _fastened(beam: Beam, units: Units) -> str:
    return f"{_shown(beam.leader_offset_cm, units)} past a bar" if beam.leader_offset_cm else "on a bar"


def facts_of(beam: Beam, units: Units) -> tuple[tuple[str, str], ...]:
    """Say what the beam can take, from what was measured; nothing is worked out here."""
    facts = [
        ("Kind", beam.get_kind_display()),
        ("Widest warp, loom and beam", _shown(beam.widest_warp_cm, units)),
        ("Circumference, empty", _shown(beam.circumference_cm, units)),
        ("Usable width", _shown(beam.usable_width_cm, units)),
    ]
    if beam.is_sectional:
        facts += [
            ("Sections", f"{beam.sections}, with {beam.get_centre_display()} at the middle"),
            ("Section width, divider to divider", _shown(beam.pitch_cm, units)),
            ("Thickness of a divider", _shown(beam.divider_cm, units)),
            ("Rake height above the bar", _shown(beam.rake_height_cm, units)),
        ]
    facts += [
        ("Bars", str(beam.bars) if beam.bars >= FEWEST_BARS else "none, a solid roller"),
        ("Leader, to its loop", _shown(beam.leader_cm, units)),
        ("Leader fastened", _fastened(beam, units)),
        ("Knot and loop of a leader", _shown(beam.leader_knot_cm or None, units)),
        ("Winds, seen from the crank side", beam.winds),
        ("Warp leaves", beam.get_turning_display()),
    ]
    return tuple(facts)


def front_view(beam: Beam, units: Units) -> FrontView:
    """Draw the beam as it is seen from the seat, sections numbered from the left hand."""
    one = BEAM_ROOM / float(beam.usable_width_cm)
    rake = one * float(beam.rake_height_cm or 0) if beam.is_sectional else 0.0
    top = TOP_ROOM + rake
    height = max(2 * one * _half_height(beam), THINNEST)
    foot = top + height + rake
    return FrontView(
        view_box=f"0 0 {_at(PAGE)} {_at(foot + 74)}",
        description=_front_in_words(beam, units),
        beam=_box(SIDE, top, BEAM_ROOM, height),
        bars=tuple(_line(SIDE, top + part * height, PAGE - SIDE, top + part * height) for part in _bars_between(beam)),
        rakes=tuple(_rakes(beam, one, TOP_ROOM, foot - TOP_ROOM)),
        numbers=tuple(_numbers(beam, one, TOP_ROOM - 8)),
        middle=_line(PAGE / 2, TOP_ROOM - 4, PAGE / 2, foot + 6),
        size=_line(SIDE, foot + 16, PAGE - SIDE, foot + 16),
        scale=_line(SIDE, foot + 56, SIDE + one * _scale(beam, units)[0], foot + 56),
        texts=tuple(_front_texts(beam, one, foot, units)),
    )


def _front_texts(beam: Beam, one: float, foot: float, units: Units) -> Iterator[Label]:
    middle = f"middle: {beam.get_centre_display()}" if beam.is_sectional else "middle"
    scale_cm, scale_words = _scale(beam, units)
    yield _mark(PAGE / 2, 16, middle)
    yield _mark(SIDE, 16, "left, from the SEAT", "draw-start")
    yield _mark(PAGE - SIDE, 16, "right", "draw-end")
    yield _mark(PAGE / 2, foot + 34, f"usable width {_shown(beam.usable_width_cm, units)}")
    yield _mark(SIDE + one * scale_cm + 10, foot + 61, scale_words, "draw-start")


def _rakes(beam: Beam, one: float, top: float, height: float) -> Iterator[Rectangle]:
    if not beam.is_sectional:
        return
    thick = max(float(beam.divider_cm) * one, 1.5)
    for number in range(beam.sections + 1):
        middle = SIDE + one * (_first_rake(beam) + number * float(beam.pitch_cm or 0))
        yield _box(middle - thick / 2, top, thick, height)


def _numbers(beam: Beam, one: float, y: float) -> Iterator[Label]:
    if not beam.is_sectional:
        return
    pitch = float(beam.pitch_cm or 0)
    for number in shown_numbers(beam.sections, one * pitch):
        yield _mark(SIDE + one * (_first_rake(beam) + (number - 0.5) * pitch), y, str(number))


def shown_numbers(sections: int, room: float) -> list[int]:
    """Give the section numbers that fit: the first, the last, and every so many between.

    Examples
    --------
    >>> shown_numbers(6, 40), shown_numbers(24, 11)
    ([1, 2, 3, 4, 5, 6], [1, 5, 10, 15, 20, 24])
    """
    step = next((step for step in STEPS if step * room >= NUMBER_ROOM), STEPS[-1])
    between = range(step, sections, step)
    numbers = [n for n in between if (n - 1) * room >= NUMBER_ROOM and (sections - n) * room >= NUMBER_ROOM]
    return sorted({1, *numbers, sections})


def _first_rake(beam: Beam) -> float:
    """Where the leftmost divider stands on the usable width: the sections lie centred. In cm."""
    return (float(beam.usable_width_cm) - float(beam.pitch_cm or 0) * beam.sections) / 2


def _scale(beam: Beam, units: Units) -> tuple[float, str]:
    fits = [scale for scale in SCALES[units] if scale[0] <= float(beam.usable_width_cm) / 2]
    return fits[0] if fits else SCALES[units][-1]


def _front_in_words(beam: Beam, units: Units) -> str:
    width = _shown(beam.usable_width_cm, units)
    if not beam.is_sectional:
        return f"A plain beam seen from the seat, with a usable width of {width}."
    return (
        f"Seen from the seat: {beam.sections} sections, number 1 at the left hand and {beam.sections} at the right, "
        f"each {_shown(beam.pitch_cm, units)} wide, with rakes {_shown(beam.rake_height_cm, units)} high and "
        f"{beam.get_centre_display()} at the middle of a usable width of {width}."
    )


def end_view(beam: Beam, units: Units) -> EndView:
    """Draw the beam as it is seen from the crank side."""
    rake = float(beam.rake_height_cm or 0) if beam.is_sectional else 0.0
    one = END_ROOM / (_radius(beam) + rake)
    radius = one * _radius(beam)
    reach = radius + one * rake
    return EndView(
        view_box=f"0 0 {_at(END_PAGE)} {_at(END_FOOT)}",
        description=_end_in_words(beam, units),
        centre=_at(MIDDLE),
        corners=" ".join(f"{_at(MIDDLE + x * radius)},{_at(MIDDLE + y * radius)}" for x, y in _corners(beam)),
        radius=_at(radius),
        rakes=tuple(_spokes(beam, radius, reach)) if rake else (),
        rake_radius=_at(reach) if rake else "",
        turn=_turn(ARROW * radius, clockwise=beam.clockwise),
        head=_head(ARROW * radius, clockwise=beam.clockwise),
        warp=_warp(beam, one),
        texts=tuple(_end_texts(beam, one)),
    )


def _corners(beam: Beam) -> list[tuple[float, float]]:
    """Where the bars stand on a circle of radius 1, a flat side up; a solid roller has none."""
    if beam.bars < FEWEST_BARS:
        return []
    turned = [2 * pi * number / beam.bars + pi / 2 + pi / beam.bars for number in range(beam.bars)]
    return [(cos(angle), -sin(angle)) for angle in turned]


def _radius(beam: Beam) -> float:
    """From the axle to a bar: the yarn runs along the straight sides between the bars. In cm."""
    around = float(beam.circumference_cm)
    return around / (2 * beam.bars * sin(pi / beam.bars)) if _corners(beam) else around / (2 * pi)


def _half_height(beam: Beam) -> float:
    """From the axle up to where the yarn lies over the top. In cm."""
    return _radius(beam) * max((-y for _, y in _corners(beam)), default=1.0)


def _bars_between(beam: Beam) -> list[float]:
    """Bars that show between the upper and lower edge, as parts of the height from the top."""
    half = max((-y for _, y in _corners(beam)), default=1.0)
    parts = {round((half + y) / (2 * half), 3) for _, y in _corners(beam)}
    return sorted(part for part in parts if 0 < part < 1)


def _spokes(beam: Beam, radius: float, reach: float) -> Iterator[Segment]:
    for x, y in _corners(beam):
        yield _line(MIDDLE + x * radius, MIDDLE + y * radius, MIDDLE + x * reach, MIDDLE + y * reach)


def _turn(radius: float, *, clockwise: bool) -> str:
    start, stop = ARC if clockwise else ARC[::-1]
    (x1, y1), (x2, y2) = _on_circle(radius, start), _on_circle(radius, stop)
    return f"M{_at(x1)} {_at(y1)}A{_at(radius)} {_at(radius)} 0 0 {int(clockwise)} {_at(x2)} {_at(y2)}"


def _head(radius: float, *, clockwise: bool) -> str:
    """Give the arrow's head, pointing the way the beam winds."""
    angle, way = (ARC[1], 1) if clockwise else (ARC[0], -1)
    x, y = _on_circle(radius, angle)
    along = (-sin(radians(angle)) * way, cos(radians(angle)) * way)
    tip = (x + HEAD * 1.4 * along[0], y + HEAD * 1.4 * along[1])
    sides = [(x - HEAD * along[1] * side, y + HEAD * along[0] * side) for side in (1, -1)]
    return " ".join(f"{_at(px)},{_at(py)}" for px, py in (tip, *sides))


def _on_circle(radius: float, degrees: float) -> tuple[float, float]:
    return MIDDLE + radius * cos(radians(degrees)), MIDDLE + radius * sin(radians(degrees))


def _warp_side(beam: Beam) -> int:
    """Say where the warp comes from, -1 left or 1 right: over the top of a clockwise beam it comes from the left."""
    over = beam.turning == Beam.Turning.OVER
    return -1 if over == beam.clockwise else 1


def _warp_height(beam: Beam, one: float) -> float:
    up = -1 if beam.turning == Beam.Turning.OVER else 1
    return MIDDLE + up * one * _half_height(beam)


def _warp(beam: Beam, one: float) -> Segment:
    y = _warp_height(beam, one)
    return _line(MIDDLE, y, MIDDLE + _warp_side(beam) * (MIDDLE - 4), y)


def _end_texts(beam: Beam, one: float) -> Iterator[Label]:
    over = beam.turning == Beam.Turning.OVER
    left = _warp_side(beam) < 0
    y = _warp_height(beam, one) + (-8 if over else 18)
    yield _mark(4 if left else END_PAGE - 4, y, "warp", "draw-start" if left else "draw-end")
    yield _mark(MIDDLE, MIDDLE + 20, "winds")
    yield _mark(MIDDLE, MIDDLE + 37, beam.winds)
    yield _mark(MIDDLE, 18, "from the crank side")


def _end_in_words(beam: Beam, units: Units) -> str:
    built = f"{beam.bars} bars" if _corners(beam) else "a solid roller"
    return (
        f"Seen from the crank side: {built}, {_shown(beam.circumference_cm, units)} in circumference when empty. The "
        f"beam winds {beam.winds}, and the warp leaves it {beam.get_turning_display()}."
    )


def _shown(value: Decimal | None, units: Units) -> str:
    return "not measured" if value is None else show(Fraction(value), "length", units)


def _at(number: float) -> str:
    """Write a place in the drawing, with a full stop whatever the reader's language."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


def _mark(x: float, y: float, text: str, anchor: str = "draw-middle") -> Label:
    return Label(_at(x), _at(y), text, anchor)


def _box(x: float, y: float, width: float, height: float) -> Rectangle:
    return Rectangle(_at(x), _at(y), _at(width), _at(height))


def _line(x1: float, y1: float, x2: float, y2: float) -> Segment:
    return Segment(_at(x1), _at(y1), _at(x2), _at(y2))
