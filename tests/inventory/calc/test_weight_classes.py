"""Weight classes: every yarn has one, and their bounds are round in tex and in m/kg (ISO 1144: 1 tex is 1 g a km)."""

from fractions import Fraction

import pytest

from inventory.calc.count import metres_per_kilogram, read_grist
from inventory.calc.weight_classes import CLASSES, weight_class


def test_one_class_begins_where_the_one_before_ends():
    assert [one.below_tex for one in CLASSES[:-1]] == [one.from_tex for one in CLASSES[1:]]
    assert (CLASSES[0].from_tex, CLASSES[-1].below_tex) == (0, None)


def test_the_bounds_are_whole_metres_to_a_kilogram():
    assert [metres_per_kilogram(one.from_tex) for one in CLASSES[1:]] == [12500, 6250, 3125, 1000]


@pytest.mark.parametrize(
    ("label", "name"),  # counts and lengths of a pound as the trade's charts print them
    [("20/2 cotton", "very fine"), ("8/2 cotton", "fine"), ("5/2 cotton", "medium"), ("900 yd/lb", "heavy"),
     ("250 yd/lb", "very heavy"), ("6250 m/kg", "medium"), ("6251 m/kg", "fine")],
)  # fmt: skip
def test_a_yarn_belongs_where_its_label_says(label, name):
    assert weight_class(read_grist(label, None)).name == name


def test_less_than_nothing_has_no_class():
    with pytest.raises(ValueError, match="below zero"):
        weight_class(Fraction(-1))
