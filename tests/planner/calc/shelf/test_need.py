"""What a plan asks of the yarn room, by the studio's own worked projects, and what each package gives."""

from dataclasses import replace
from fractions import Fraction

import pytest

from planner.calc.shelf.need import SpoolAsked, masses_taken, yarn_asked
from planner.calc.shelf.package_plan import uses_of_package
from planner.calc.worksheet.work_out import work_out
from tests.planner.worked_projects import class_warp, towels, waiting_section


def in_yarn_room(brief, key=7):
    return replace(brief, yarns=tuple(replace(yarn, yarn_id=key) for yarn in brief.yarns))


def test_eight_towels_ask_for_forty_spools_of_145_yards():
    # The studio's own worked project: 40 spools of 145 yd for twelve sections, 5 800 yd, 783 g at 3 360 yd/lb.
    brief = in_yarn_room(towels())
    (asked,) = yarn_asked(brief, work_out(brief))
    pound = Fraction("453.59237")
    assert asked.warp_mass == Fraction(40 * 145, 3360) * pound
    assert {spool.mass for spool in asked.spools} == {Fraction(145, 3360) * pound}
    assert (len(asked.spools), asked.ends, round(asked.mass)) == (40, 480, 783)


def test_a_yarn_that_is_not_of_the_yarn_room_is_not_asked_for():
    brief = in_yarn_room(towels(), None)
    assert yarn_asked(brief, work_out(brief)) == ()


def test_a_cone_of_84_grams_gives_23_ends_of_36():
    # The studio's own worked project: 84 g at 1 680 yd/lb are 311.1 yd, and an end takes 12.73 yd and 3 % in reserve.
    brief = in_yarn_room(waiting_section())
    brief = replace(brief, yarns=(replace(brief.yarns[0], yarn_id=1), replace(brief.yarns[1], yarn_id=2)))
    ground, dyed = yarn_asked(brief, work_out(brief))
    assert (ground.ends, dyed.ends, len(dyed.spools)) == (17 * 36, 36, 36)
    assert uses_of_package(Fraction(84), dyed.least_end_mass) == 23
    assert dyed.mass > 84


def test_chains_have_no_spools_and_ends_of_the_length_they_are_wound():
    # The class warp: 320 ends in chains of 10 yd, 3 200 yd of 2 100 yd/lb, 691 g (the studio's own worked project).
    brief = in_yarn_room(class_warp())
    (asked,) = yarn_asked(brief, work_out(brief))
    assert (asked.spools, asked.ends, round(asked.warp_mass)) == ((), 320, 691)
    assert asked.end_mass == asked.least_end_mass == Fraction(10, 2100) * Fraction("453.59237")


def spool(number, sections, mass):
    return SpoolAsked("A", number, sections, Fraction(mass), short=False)


def test_what_packages_give_adds_up_to_what_is_needed():
    spools = [spool(1, 4, 20), spool(2, 4, 20)]
    taken = masses_taken([(0, 0, 4), (0, 1, 1), (1, 1, 3)], spools, [Fraction(27), Fraction(60)], Fraction(50))
    assert taken == (27, 23)  # 20 and a quarter of 20, then 2 of the other 10; three quarters of 20, then the last 8


def test_where_all_is_not_enough_all_is_taken():
    assert masses_taken([], [], [Fraction(3), Fraction(4)], Fraction(50)) == (3, 4)


def test_masses_below_zero_are_refused():
    with pytest.raises(ValueError, match="must"):
        masses_taken([], [], [Fraction(-1)], Fraction(1))
