"""Advice on two beams: loud enough, never certain, each side named from the seat."""

from fractions import Fraction

import pytest

from planner.calc.fit.beam import beam_remarks, part_remarks, take_up_remarks

LIMITS = (Fraction(3, 1000), Fraction(5, 1000))
HALF = Fraction(1, 2)


def said(needs, given, length=Fraction(1000)):
    return [one.severity.value for one in take_up_remarks(("T", "N"), Fraction(needs), given, length, LIMITS)]


@pytest.mark.parametrize(
    ("needs", "given", "severities"),
    [(3, 0, ["note"]), ("2.9", 0, []), (5, 0, ["warn"]), (5, 2, ["note"]), (5, 5, []), (5, 9, []), (500, 0, ["warn"])],
)
def test_unequal_take_up_is_noted_and_warned_of_and_never_stops_a_card(needs, given, severities):
    assert said(needs, given) == severities


def test_shallower_sections_make_it_worse():
    assert (said(3, 0), said(3, -2)) == (["note"], ["warn"])


def test_with_every_end_here_there_is_nothing_to_say():
    assert (beam_remarks([], 480), part_remarks([(6, Fraction(0), Fraction(1))])) == ((), ())


def test_what_lies_elsewhere_is_named_yarn_by_yarn():
    first, _ = beam_remarks([(120, "T"), (8, "U")], 504)
    assert (first.values["elsewhere"], first.values["ends"].value) == ("120 of T, 8 of U", 128)


def test_sections_in_a_row_are_told_by_the_first_and_the_last():
    (one,) = part_remarks([(at, Fraction(0), HALF) for at in (5, 6, 7, 9)])
    assert one.values["places"] == "5–7, 9 at the left"


@pytest.mark.parametrize(
    ("free_left", "side"), [(0, "at the left"), (Fraction(1, 8), "at the left"), (Fraction(1, 4), "in the middle"),
                            (Fraction(3, 8), "at the right"), (HALF, "at the right")],
)  # fmt: skip
def test_a_side_is_named_where_most_of_the_room_is_at_the_other(free_left, side):
    (one,) = part_remarks([(4, Fraction(free_left), HALF)])
    assert one.values["places"] == f"4 {side}"


@pytest.mark.parametrize(
    ("ask", "named"),
    [
        (lambda: take_up_remarks(("T", "N"), Fraction(1), 0, Fraction(0), LIMITS), "length"),
        (lambda: beam_remarks([(9, "T")], 8), "elsewhere"),
        (lambda: part_remarks([(4, HALF, Fraction(3, 4))]), "section"),
    ],
)
def test_misuse_is_named(ask, named):
    with pytest.raises(ValueError, match=named):
        ask()
