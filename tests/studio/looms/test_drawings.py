"""Pictures of a beam are to scale, and say in words what they show."""

from decimal import Decimal
from itertools import pairwise

import pytest

from studio.looms.drawings import BEAM_ROOM, SIDE, end_view, facts_of, front_view, picture_of, shown_numbers
from studio.models import Beam, Loom
from studio.units import Units
from tests.factories import inches


def a_beam(**known):
    """Give a beam that needs no database: 45 in, 22 sections of 2 in, rakes of 2 in."""
    start = {
        "loom": Loom(nickname="Quay end", weaving_width_cm=inches(40)), "kind": "sectional", "name": "warp beam",
        "circumference_cm": inches(36), "usable_width_cm": inches(45), "pitch_cm": inches(2), "sections": 22,
        "divider_cm": inches("0.25"), "centre": "divider", "rake_height_cm": inches(2), "bars": 4,
    }  # fmt: skip
    return Beam(**{**start, **known})


def plain(**known):
    return a_beam(**{"kind": "plain", "pitch_cm": None, "rake_height_cm": None, "sections": 0, **known})


def middles(view):
    return [float(rake.x) + float(rake.width) / 2 for rake in view.rakes]


def test_there_is_a_rake_at_each_side_of_every_section():
    assert len(front_view(a_beam(), Units.INCH).rakes) == 23


def test_sections_are_as_wide_in_the_picture_as_on_the_beam():
    places = middles(front_view(a_beam(), Units.INCH))
    assert places[1] - places[0] == pytest.approx(BEAM_ROOM * 2 / 45, abs=0.02)


def test_rakes_are_as_high_against_a_section_as_on_the_beam():
    view = front_view(a_beam(), Units.INCH)
    above = float(view.beam.y) - float(view.rakes[0].y)
    assert above == pytest.approx(BEAM_ROOM * 2 / 45, abs=0.02)


def test_an_even_number_of_sections_has_a_rake_on_the_middle_line():
    view = front_view(a_beam(), Units.INCH)
    assert middles(view)[11] == pytest.approx(float(view.middle.x1), abs=0.02)


def test_an_odd_number_of_sections_has_a_section_on_the_middle_line():
    view = front_view(a_beam(sections=21, centre="section"), Units.INCH)
    before, after = middles(view)[10:12]
    assert (before + after) / 2 == pytest.approx(float(view.middle.x1), abs=0.02)


def test_numbers_run_from_the_seats_left():
    numbers = front_view(a_beam(), Units.INCH).numbers
    assert [mark.text for mark in numbers][:2] == ["1", "2"]
    assert [float(mark.x) for mark in numbers] == sorted(float(mark.x) for mark in numbers)


@pytest.mark.parametrize("sections", [1, 2, 7, 22, 60, 400])
def test_numbers_never_touch_and_show_both_ends(sections):
    room = BEAM_ROOM / sections
    shown = shown_numbers(sections, room)
    gaps = [(b - a) * room for a, b in pairwise(shown)]
    assert (shown[0], shown[-1]) == (1, sections)
    assert min(gaps, default=24) >= 24


@pytest.mark.parametrize(
    ("units", "width", "bar_cm", "words"), [(Units.INCH, 45, 50.8, "20 in"), (Units.METRIC, 45, 50, "50 cm")]
)
def test_the_scale_bar_is_as_long_as_it_says(units, width, bar_cm, words):
    view = front_view(a_beam(usable_width_cm=inches(width)), units)
    assert float(view.scale.x2) - SIDE == pytest.approx(BEAM_ROOM * bar_cm / (width * 2.54), abs=0.02)
    assert words in [text.text for text in view.texts]


def test_a_square_beam_is_as_high_as_a_quarter_of_its_circumference():
    """Four bars make a square (plain geometry): 36 in round is 9 in high, against 45 in of width."""
    assert float(front_view(a_beam(), Units.INCH).beam.height) == pytest.approx(BEAM_ROOM * 9 / 45, abs=0.02)


def test_a_hexagon_shows_the_bars_between_its_edges():
    assert len(front_view(a_beam(bars=6), Units.INCH).bars) == 1


def test_a_plain_beam_has_neither_rakes_nor_numbers():
    view = front_view(plain(), Units.INCH)
    assert (view.rakes, view.numbers) == ((), ())


def test_the_end_view_has_a_corner_for_each_bar():
    assert len(end_view(a_beam(bars=6), Units.INCH).corners.split()) == 6


@pytest.mark.parametrize("bars", [0, 1, 2])
def test_a_solid_roller_is_round(bars):
    view = end_view(plain(bars=bars), Units.INCH)
    assert (view.corners, view.rakes) == ("", ())
    assert "a solid roller" in view.description


@pytest.mark.parametrize(
    ("turning", "clockwise", "to_the_left", "above"),
    [
        ("over", True, True, True),
        ("over", False, False, True),
        ("under", True, False, False),
        ("under", False, True, False),
    ],
)
def test_the_warp_runs_the_way_the_beam_turns(turning, clockwise, to_the_left, above):
    warp = end_view(a_beam(turning=turning, clockwise=clockwise), Units.INCH).warp
    assert (float(warp.x2) < float(warp.x1), float(warp.y1) < 150) == (to_the_left, above)


def test_the_arrow_turns_the_other_way_on_the_other_beam():
    ways = [end_view(a_beam(clockwise=way), Units.INCH).turn for way in (True, False)]
    assert [" 0 0 1 " in ways[0], " 0 0 0 " in ways[1]] == [True, True]


def test_the_picture_is_told_in_the_readers_units():
    words = front_view(a_beam(), Units.METRIC).description
    assert "22 sections" in words
    assert "5.1 cm wide" in words


def test_facts_name_the_narrower_of_loom_and_beam():
    assert dict(facts_of(a_beam(), Units.INCH))["Widest warp, loom and beam"] == "40 in"


def test_a_leader_nobody_measured_says_so():
    assert dict(facts_of(a_beam(), Units.INCH))["Leader, to its loop"] == "not measured"


@pytest.mark.parametrize("width", ["0.000001", "100000"])
def test_the_smallest_and_widest_beam_can_be_drawn(width):
    assert picture_of(plain(usable_width_cm=Decimal(width)), Units.INCH).front.beam.width
