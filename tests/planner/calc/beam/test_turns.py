"""Turns and length, held to rolls in print, to integration and to the ground rule that whole turns come back whole."""

from fractions import Fraction
from itertools import pairwise
from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely import Polygon

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import turns as beam

CIRCUMFERENCES = st.floats(20, 400)
DEPTHS = st.floats(0, 0.3)
TURNS = st.integers(1, 400)


def test_length_of_a_roll():
    """A page on rolls prints 1499.39 in for D 5, d 2, t 0.011 in; the formula is also Dr Peterson's, Math Forum."""
    turns = (5 - 2) / 2 / 0.011
    assert beam.length_of_turns(turns, pi * 2, 0.011) == pytest.approx(1499.39, abs=0.01)


def test_length_at_the_mean_circumference():
    """Rehaan Overseas, residual yarn sheet: 940 mm empty, 1500 mm full, 10 000 turns; the mean round gives 12 200 m."""
    depth = beam_depth.depth_from_tape(10_000, 940, 1500)
    assert beam.length_of_turns(10_000, 940, depth) == pytest.approx(12_200_000, abs=0.5)


def test_turns_at_a_circumference():
    """The same sheet prints 1071.4 turns at 1000 mm."""
    depth = beam_depth.depth_from_tape(10_000, 940, 1500)
    assert beam.end_circumference(1071.4, 940, depth) == pytest.approx(1000, abs=0.01)


def test_twenty_turns_from_their_length():
    """Arithmetic of the check list: 770.3 in on a 11.4592 in barrel at 0.04 in are 20 turns."""
    assert beam.turns_of_length(770.3, pi * 11.4592, 0.04) == pytest.approx(20, abs=0.02)


@pytest.mark.parametrize(("turns", "empty", "layer"), [(11, 36.0, 0.0102), (61, 18.0, 0.0122), (300, 100.0, 0.05)])
def test_length_is_the_integral_of_the_circumference(turns, empty, layer):
    """Reference: scipy.integrate.quad over the round at each turn."""
    expected, _ = quad(lambda turn: empty + 2 * pi * layer * turn, 0, turns)
    assert beam.length_of_turns(turns, empty, layer) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("turns", "radius", "layer"), [(11, 15.0, 0.03), (200, 8.0, 0.05)])
def test_length_is_close_to_the_spiral(turns, radius, layer):
    """Reference: the arc of r = r0 + b t / 2 pi by scipy; layers as circles lie within a thousandth of it."""

    def arc(angle):
        return ((radius + layer * angle / (2 * pi)) ** 2 + (layer / (2 * pi)) ** 2) ** 0.5

    expected, _ = quad(arc, 0, 2 * pi * turns, limit=2000)
    assert beam.length_of_turns(turns, 2 * pi * radius, layer) == pytest.approx(expected, rel=1e-3)


def test_length_is_the_annulus_over_the_layer():
    """Plain geometry: the face of the yarn is as large as the layer laid out straight."""
    core, layer, turns = 6.0, 0.05, 40
    outer = core + layer * turns
    assert beam.length_of_turns(turns, 2 * pi * core, layer) == pytest.approx(pi * (outer**2 - core**2) / layer)


def ring(bars, radius=14.0, squashed=1.0):
    """Give a beam of so many bars, its corners on a circle or, squashed, on an oval."""
    angles = [2 * pi * bar / bars for bar in range(bars)]
    return Polygon([(radius * cos(angle), squashed * radius * sin(angle)) for angle in angles])


BEAMS = {"four bars": ring(4), "six bars": ring(6), "eight bars": ring(8), "flattened": ring(8, squashed=0.6)}
UNEVEN = Polygon([(0, 0), (30, 0), (26, 11), (4, 9)])


@pytest.mark.parametrize("cross_section", [*BEAMS.values(), UNEVEN], ids=[*BEAMS, "uneven"])
def test_a_beam_of_bars_winds_what_its_outlines_measure(cross_section):
    """Reference: shapely's offset curve round the bars, at the middle of each layer, laid end to end."""
    turns, layer = 40, 0.035
    middles = [cross_section.buffer(layer * (turn - 0.5), quad_segs=400).length for turn in range(1, turns + 1)]
    assert beam.length_of_turns(turns, cross_section.length, layer) == pytest.approx(sum(middles), rel=1e-6)


@pytest.mark.parametrize("cross_section", BEAMS.values(), ids=BEAMS)
def test_the_tape_reads_the_outline_of_the_full_beam(cross_section):
    """Reference: shapely's offset curve at the depth of all layers."""
    tape = cross_section.buffer(25 * 0.05, quad_segs=400).length
    assert beam.end_circumference(25, cross_section.length, 0.05) == pytest.approx(tape, rel=1e-6)


def test_a_beam_that_is_hollow_between_its_bars_is_wound_as_its_bridged_outline():
    """Yarn bridges a hollow: the tape's round is that of the convex hull, and so are the turns (shapely)."""
    star = Polygon([(14, 0), (3, 3), (0, 14), (-3, 3), (-14, 0), (-3, -3), (0, -14), (3, -3)])
    hull = star.convex_hull
    middles = [hull.buffer(0.05 * (turn - 0.5), quad_segs=400).length for turn in range(1, 21)]
    assert beam.length_of_turns(20, hull.length, 0.05) == pytest.approx(sum(middles), rel=1e-6)


@given(turns=TURNS, empty=CIRCUMFERENCES, depth=DEPTHS)
def test_whole_turns_come_back_whole(turns, empty, depth):
    length = beam.length_of_turns(turns, empty, depth)
    assert beam.whole_turns(length, empty, depth) == turns


@given(turns=TURNS, empty=CIRCUMFERENCES, depth=DEPTHS)
def test_a_little_more_than_whole_turns_asks_for_one_more(turns, empty, depth):
    length = beam.length_of_turns(turns, empty, depth) * 1.001
    assert beam.whole_turns(length, empty, depth) > turns


@given(turns=TURNS, empty=CIRCUMFERENCES, depth=DEPTHS)
def test_more_turns_more_length(turns, empty, depth):
    assert beam.length_of_turns(turns + 1, empty, depth) > beam.length_of_turns(turns, empty, depth)


@given(length=st.floats(1, 100_000), empty=CIRCUMFERENCES, depth=DEPTHS)
def test_turns_of_length_undoes_length_of_turns(length, empty, depth):
    turns = beam.turns_of_length(length, empty, depth)
    assert beam.length_of_turns(turns, empty, depth) == pytest.approx(length, rel=1e-9)


@given(length=st.fractions(1, 100_000, max_denominator=1000), empty=st.fractions(20, 400, max_denominator=100))
def test_the_empty_beam_never_plans_too_few_turns(length, empty):
    turns = beam.turns_by_empty_beam(length, empty)
    assert (turns - 1) * empty < length <= turns * empty


def test_a_length_of_whole_turns_by_the_empty_beam_is_not_rounded_up():
    """One third of a yard, thirty times: exact fractions give 10 turns, floats may give 11."""
    assert beam.turns_by_empty_beam(30 * Fraction(9144, 300), Fraction(9144, 100)) == 10


@given(turns=st.integers(1, 60), empty=CIRCUMFERENCES, depth=DEPTHS)
def test_turn_table_is_each_turn_by_itself(turns, empty, depth):
    rows = beam.turn_table(turns, empty, depth)
    assert [row.length for row in rows] == pytest.approx(
        [beam.length_of_turns(row.turn, empty, depth) for row in rows], rel=1e-12
    )


def test_each_turn_is_as_long_as_its_middle_circumference():
    rows = beam.turn_table(20, 36, 0.02)
    steps = [after.length - before.length for before, after in pairwise(rows)]
    assert steps == pytest.approx([36 + 2 * pi * 0.02 * (row.turn + 0.5) for row in rows[:-1]])


def test_twice_the_turns_four_times_the_mismatch():
    short, _ = beam.mismatch(15, 0.0122, 0.0098, 36)
    long, _ = beam.mismatch(30, 0.0122, 0.0098, 36)
    assert long == pytest.approx(4 * short)


@given(turns=TURNS, empty=CIRCUMFERENCES, one=DEPTHS, other=DEPTHS)
def test_mismatch_is_the_difference_of_the_lengths(turns, empty, one, other):
    deep, shallow = max(one, other), min(one, other)
    longer, _ = beam.mismatch(turns, deep, shallow, empty)
    lengths = [beam.length_of_turns(turns, empty, depth) for depth in (deep, shallow)]
    assert longer == pytest.approx(lengths[0] - lengths[1], rel=1e-6, abs=1e-6)


def test_depth_of_one_turn_from_sett_and_tex():
    """Arithmetic of the check list: 8 ends/cm of 147.635 tex at 0.35 g/cm3 give 0.03374 cm."""
    found = beam_depth.depth_per_turn(Fraction(8), Fraction("147.635"), Fraction("0.35"))
    assert float(found) == pytest.approx(0.03374, abs=1e-5)


def test_yarn_on_a_flanged_beam_weighs_its_volume_times_its_density():
    """Volume as Textile Learning Platform (2016) writes it: 30 cm on 10 cm, 100 cm wide, 0.4 g/cm3: 25.13 kg."""
    sett, tex = Fraction(8), Fraction(150)
    layer = beam_depth.depth_per_turn(sett, tex, Fraction(4, 10))
    turns = float((Fraction(15) - 5) / layer)
    grams = float(sett * 100) * beam.length_of_turns(turns, pi * 10, layer) * float(tex) / 100_000
    assert grams / 1000 == pytest.approx(25.13, abs=0.01)


def test_a_mixture_of_one_yarn_is_that_yarn():
    area = beam_depth.wound_area(Fraction(150), Fraction(1, 2))
    mixed = beam_depth.depth_of_mixture([(25, area), (15, area)], Fraction(5))
    assert mixed == beam_depth.depth_per_turn(Fraction(8), Fraction(150), Fraction(1, 2))


@given(turns=TURNS, empty=CIRCUMFERENCES, depth=DEPTHS)
def test_the_tape_gives_the_depth_back(turns, empty, depth):
    end = beam.end_circumference(turns, empty, depth)
    assert beam_depth.depth_from_tape(turns, empty, max(end, empty)) == pytest.approx(depth, abs=1e-9)


@given(depth=st.fractions(Fraction(1, 1000), 1, max_denominator=10_000), rake=st.fractions(0, 10, max_denominator=100))
def test_one_turn_more_than_the_most_is_over_the_clearance(depth, rake):
    most = beam_depth.most_turns(rake, Fraction(1, 2), depth)
    assert (most + 1) * depth > rake - Fraction(1, 2)
    assert most == 0 or most * depth <= rake - Fraction(1, 2)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: beam.length_of_turns(-1, 36, 0), "turns"),
        (lambda: beam.turns_of_length(1, 0, 0), "circumference"),
        (lambda: beam.whole_turns(-1, 36, 0), "length"),
        (lambda: beam.turns_by_empty_beam(Fraction(1), Fraction(0)), "circumference"),
        (lambda: beam.end_circumference(1, 36, -1), "depth_per_turn"),
        (lambda: beam.turn_table(-1, 36, 0), "turns"),
        (lambda: beam.mismatch(1, 1, 2, 36), "shallow"),
        (lambda: beam_depth.wound_area(Fraction(0), Fraction(1)), "tex"),
        (lambda: beam_depth.depth_per_turn(Fraction(1), Fraction(1), Fraction(0)), "density"),
        (lambda: beam_depth.depth_of_mixture([], Fraction(0)), "width"),
        (lambda: beam_depth.depth_from_tape(0, 36, 37), "turns"),
        (lambda: beam_depth.most_turns(Fraction(1), Fraction(0), Fraction(0)), "depth_per_turn"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
