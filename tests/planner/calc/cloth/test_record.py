"""A cloth measured three ways: published records, and losses that plan the same cloth again."""

from dataclasses import fields, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.record import ClothLosses, ClothRecord, crimp, loss, losses_of, take_up_of_crimp, yarn_check
from planner.calc.cloth.warp_length import warp_of_woven, woven_length
from planner.calc.cloth.warp_width import finished_width_of

MEASURES = st.fractions(Fraction(1, 2), 500, max_denominator=20)
SHARES = st.fractions(0, Fraction(9, 10), max_denominator=50)
PUBLISHED = [
    pytest.param(14, 11, 21, id="8/2 cotton twill towels, a weaving school's forum"),
    pytest.param(27, 24, 11, id="cotton towels, width, a weaver's blog, December 2008"),
    pytest.param(37, 31, 16, id="cotton towels, length, the same"),
    pytest.param("15.5", 14, 10, id="cotton towels, several wefts, a weaver's blog"),
    pytest.param(29, 26, 10, id="bath sheet, draw-in, a weaver's blog, March 2022"),
    pytest.param(10, "8.5", 15, id="plain sample, a yarn shop's page"),
    pytest.param(75, 65, 13, id="wool scarf relaxing, a weaver's blog, August 2025"),
]


@pytest.mark.parametrize(("before", "after", "per_cent"), PUBLISHED)
def test_a_published_record_has_its_printed_loss(before, after, per_cent):
    assert abs(100 * loss(Fraction(before), Fraction(after)) - per_cent) <= Fraction(1, 2)


def scarf(**more):
    """A wool scarf of 90 in of warp, 75 in woven under tension, 65 in off the loom (a weaver's blog, August 2025)."""
    return ClothRecord(Fraction(10), Fraction(90), woven=Fraction(75), relaxed=Fraction(65), **more)


def test_a_warp_that_stretched_is_told_and_not_refused():
    """The same scarf: tie-on, woven and remnant come to 92 in of 90."""
    found = losses_of(scarf(front=Fraction(8), remnant=Fraction(9)))
    assert (found.over, found.take_up < 0) == (2, True)


def test_what_was_not_measured_is_not_guessed():
    found = losses_of(ClothRecord(Fraction(10), Fraction(90)))
    assert [getattr(found, field.name) for field in fields(ClothLosses)] == [None] * 9


def test_a_full_record_leaves_nothing_out():
    record = scarf(
        width_at_fell=Fraction(9), finished_width=Fraction(8), finished=Fraction(60), front=Fraction(4),
        remnant=Fraction(5),
    )  # fmt: skip
    assert None not in [getattr(losses_of(record), field.name) for field in fields(ClothLosses)]


@given(reed=MEASURES, draw_in=SHARES, shrinkage=SHARES)
def test_losses_of_a_width_plan_that_width_again(reed, draw_in, shrinkage):
    fell, finished = reed * (1 - draw_in), finished_width_of(reed, draw_in, shrinkage)
    found = losses_of(ClothRecord(reed, Fraction(1), width_at_fell=fell, finished_width=finished))
    assert (found.draw_in, found.width_shrinkage) == (draw_in, shrinkage)
    assert found.width_loss == 1 - (1 - draw_in) * (1 - shrinkage)


@given(finished=MEASURES, take_up=SHARES, shrinkage=SHARES, front=MEASURES, remnant=MEASURES)
def test_losses_of_a_length_plan_that_length_again(finished, take_up, shrinkage, front, remnant):
    woven = woven_length(finished, Fraction(0), shrinkage)
    wound = warp_of_woven(woven, take_up) + front + remnant
    record = ClothRecord(Fraction(1), wound, woven=woven, finished=finished, front=front, remnant=remnant)
    found = losses_of(record)
    assert (found.take_up, found.length_shrinkage, found.waste) == (take_up, shrinkage, front + remnant)
    assert found.over == woven - warp_of_woven(woven, take_up) <= 0


@given(cloth=MEASURES, more=st.fractions(0, 50, max_denominator=20))
def test_crimp_and_take_up_lead_to_the_same_thread(cloth, more):
    found = crimp(cloth + more, cloth)
    assert warp_of_woven(cloth, take_up_of_crimp(found)) == cloth * (1 + found) == cloth + more


@given(cloth=MEASURES, fluff=st.fractions(0, 5, max_denominator=20), back=MEASURES, thrums=MEASURES)
def test_a_yarn_check_finds_the_fluff(cloth, fluff, back, thrums):
    found = yarn_check(cloth + fluff + back + thrums, back, thrums, cloth)
    assert (found.used, found.missing) == (cloth + fluff, fluff)
    assert found.share * found.used == fluff


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: loss(Fraction(0), Fraction(1)), "before"),
        (lambda: loss(Fraction(1), Fraction(0)), "after"),
        (lambda: crimp(Fraction(1), Fraction(2)), "yarn_length"),
        (lambda: crimp(Fraction(1), Fraction(0)), "cloth_length"),
        (lambda: take_up_of_crimp(Fraction(-1)), "crimp"),
        (lambda: losses_of(replace(scarf(), width_in_reed=Fraction(0))), "width_in_reed"),
        (lambda: losses_of(replace(scarf(), warp_wound=Fraction(0))), "warp_wound"),
        (lambda: losses_of(scarf(front=Fraction(-1), remnant=Fraction(1))), "front"),
        (lambda: losses_of(scarf(front=Fraction(50), remnant=Fraction(40))), "remnant"),
        (lambda: losses_of(scarf(finished=Fraction(0))), "after"),
        (lambda: yarn_check(Fraction(1), Fraction(1), Fraction(0), Fraction(0)), "out"),
        (lambda: yarn_check(Fraction(1), Fraction(0), Fraction(0), Fraction(-1)), "cloth"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
