"""Calibration of a beam: bounds that hold whatever the tape did, against pi itself and scipy's brentq and quad."""

from fractions import Fraction
from math import pi

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import turns as beam
from planner.calc.beam.calibration import (
    PI_HIGH,
    PI_LOW,
    Range,
    combined,
    density_range,
    depth_range,
    length_range,
    outward,
    round_range,
    taped,
    turns_range,
    turns_to_tell,
)

TURNS = st.integers(1, 200)
ROUNDS = st.fractions(30, 200, max_denominator=20)
DEPTHS = st.fractions(Fraction(1, 1000), Fraction(1, 5), max_denominator=5000)
TAPES = st.fractions(0, Fraction(1, 2), max_denominator=100)
ERRORS = st.fractions(-1, 1, max_denominator=20)
LENGTHS = st.fractions(10, 20_000, max_denominator=10)


@st.composite
def ranges(draw):
    low, likely, high = sorted(draw(st.lists(DEPTHS, min_size=3, max_size=3)))
    return Range(low, likely, high)


def exactly(number):
    return Range(number, number, number)


def test_pi_lies_between_its_two_fractions():
    """Pi to twenty places, 3.14159265358979323846, as any table prints it."""
    assert PI_LOW < Fraction("3.14159265358979323846") < PI_HIGH


@given(turns=TURNS, start=ROUNDS, depth=DEPTHS, tape=TAPES, first=ERRORS, second=ERRORS)
def test_the_true_depth_lies_within_whatever_the_tape_read(turns, start, depth, tape, first, second):
    end = start + 2 * Fraction(pi) * depth * turns
    read = (start + first * tape, end + second * tape)
    assume(read[0] <= read[1])
    found = depth_range(turns, *read, tape)
    hair = Fraction(1, 10**12)  # pi is a float here
    assert found.low - hair <= depth <= found.high + hair


@given(turns=TURNS, start=ROUNDS, grown=st.fractions(0, 30, max_denominator=20), tape=TAPES)
def test_the_likeliest_depth_is_that_of_the_plain_rule(turns, start, grown, tape):
    found = depth_range(turns, start, start + grown, tape)
    assert float(found.likely) == pytest.approx(beam_depth.depth_from_tape(turns, start, start + grown), abs=1e-12)


@given(depth=DEPTHS, tape=st.fractions(Fraction(1, 100), 1, max_denominator=100))
def test_turns_to_tell_are_enough_and_one_fewer_is_not(depth, tape):
    share = Fraction(1, 10)
    turns = turns_to_tell(depth, tape, share)
    wrong = [float(tape) / (pi * count * float(depth)) for count in (turns, max(1, turns - 1))]
    assert wrong[0] <= 0.1 + 1e-9
    assert turns == 1 or wrong[1] > 0.1 - 1e-9


@given(turns=TURNS, empty=ROUNDS, tape=TAPES, depth=ranges(), part=st.tuples(ERRORS, st.fractions(0, 1)))
def test_the_length_lies_within_for_every_beam_in_the_ranges(turns, empty, tape, depth, part):
    found = length_range(turns, taped(empty, tape), depth)
    true = beam.length_of_turns(turns, empty + part[0] * tape, depth.low + part[1] * (depth.high - depth.low))
    assert float(found.low) * (1 - 1e-12) <= true <= float(found.high) * (1 + 1e-12)


@given(turns=TURNS, empty=ROUNDS, depth=DEPTHS)
def test_the_length_is_the_integral_of_the_growing_round(turns, empty, depth):
    found = length_range(turns, exactly(empty), exactly(depth))
    outside, _ = quad(lambda turn: float(empty) + 2 * pi * float(depth) * turn, 0, turns)
    assert float(found.likely) == pytest.approx(outside)


@given(length=LENGTHS, empty=ROUNDS, depth=DEPTHS)
def test_turns_are_the_root_that_brentq_finds_rounded_up(length, empty, depth):
    turns = turns_range(length, exactly(empty), exactly(depth)).likely
    root = brentq(lambda t: t * (float(empty) + pi * float(depth) * t) - float(length), 0, float(length / empty) + 1)
    assert turns - 1 - 1e-6 <= root <= turns + 1e-6


@given(length=LENGTHS, empty=ROUNDS, tape=TAPES, depth=ranges())
def test_safe_turns_reach_the_length_whatever_the_beam_and_one_fewer_might_not(length, empty, tape, depth):
    round_ = taped(empty, tape)
    found = turns_range(length, round_, depth)
    hair = length / 10**8
    assert found.fewest <= found.likely <= found.safe
    assert length_range(found.safe, round_, depth).low >= length - hair
    assert length_range(found.safe - 1, round_, depth).low < length


@given(turns=TURNS, empty=ROUNDS, depth=DEPTHS)
def test_a_length_of_whole_turns_gives_those_turns_back(turns, empty, depth):
    length = Fraction(beam.length_of_turns(turns, empty, depth))
    assert turns_range(length, exactly(empty), exactly(depth)).likely == turns == beam.whole_turns(length, empty, depth)


@given(depth=ranges(), ends=st.fractions(1, 30, max_denominator=10), tex=st.fractions(5, 2000, max_denominator=10))
def test_density_is_the_way_back_of_depth(depth, ends, tex):
    found = density_range(depth, ends, tex)
    back = [beam_depth.depth_per_turn(ends, tex, density) for density in (found.high, found.likely, found.low)]
    assert back == [depth.low, depth.likely, depth.high]


@given(true=DEPTHS, spreads=st.lists(st.tuples(TAPES, TAPES), min_size=1, max_size=5))
def test_measurements_of_one_figure_agree_and_still_hold_it(true, spreads):
    found = combined([Range(true - below, true, true + above) for below, above in spreads])
    assert found.agree
    assert found.range.low <= true <= found.range.high
    assert found.range.high - found.range.low <= min(below + above for below, above in spreads)


@given(one=ranges(), gap=DEPTHS)
def test_measurements_that_contradict_each_other_are_told(one, gap):
    other = Range(*(end + one.high - one.low + gap for end in (one.low, one.likely, one.high)))
    found = combined([one, other])
    assert not found.agree
    assert (found.range.low, found.range.high) == (one.low, other.high)


def test_one_measurement_stays_as_it_is():
    one = Range(Fraction(1), Fraction(2), Fraction(4))
    assert combined([one]).range == one


def test_a_tape_too_coarse_to_tell_gives_no_density():
    depth = depth_range(1, Fraction(90), Fraction("90.1"), Fraction("0.1"))
    assert depth.low == 0
    with pytest.raises(ValueError, match="low end of depth"):
        density_range(depth, Fraction(8), Fraction(148))


ONE = exactly(Fraction(1))


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: Range(Fraction(2), Fraction(1), Fraction(3)), "low"),
        (lambda: taped(Fraction(1), Fraction(-1)), "tape"),
        (lambda: taped(Fraction(1), Fraction(1)), "length"),
        (lambda: depth_range(0, Fraction(1), Fraction(2), Fraction(0)), "turns"),
        (lambda: depth_range(1, Fraction(2), Fraction(1), Fraction(0)), "end"),
        (lambda: depth_range(1, Fraction(1), Fraction(2), Fraction(-1)), "tape"),
        (lambda: turns_to_tell(Fraction(0), Fraction(1), Fraction(1)), "depth"),
        (lambda: turns_to_tell(Fraction(1), Fraction(1), Fraction(0)), "share"),
        (lambda: combined([]), "ranges"),
        (lambda: length_range(-1, ONE, ONE), "turns"),
        (lambda: length_range(1, exactly(Fraction(0)), ONE), "circumference"),
        (lambda: turns_range(Fraction(-1), ONE, ONE), "length"),
        (lambda: turns_range(Fraction(1), ONE, exactly(Fraction(-1))), "depth"),
        (lambda: density_range(ONE, Fraction(0), Fraction(1)), "ends_per_cm"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()


@given(turns=TURNS, start=ROUNDS, depth=DEPTHS, tape=TAPES)
def test_the_round_at_the_end_gives_the_depth_back(turns, start, depth, tape):
    """Against the float geometry of `beam`, and the other way round: taping that round allows that depth."""
    bounds = Range(depth, depth, depth)
    found = round_range(turns, taped(start, tape), bounds)
    assert float(found.likely) == pytest.approx(beam.end_circumference(turns, start, depth), rel=1e-9)
    back = depth_range(turns, start, found.likely, tape)
    assert back.low <= depth <= back.high


@given(
    parts=st.lists(st.fractions(0, 5, max_denominator=999), min_size=3, max_size=3).map(sorted),
    step=st.fractions(Fraction(1, 1000), 1, max_denominator=1000).filter(bool),
)
def test_short_figures_never_make_a_doubt_smaller(parts, step):
    found = outward(Range(*parts), step)
    assert found.low <= parts[0] <= parts[2] <= found.high
    assert all((part / step).denominator == 1 for part in (found.low, found.likely, found.high))


def test_a_step_of_nothing_is_refused():
    with pytest.raises(ValueError, match="step"):
        outward(Range(Fraction(1), Fraction(1), Fraction(1)), Fraction(0))
