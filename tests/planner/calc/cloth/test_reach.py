"""Reach: what an amount of yarn makes, held to what the same warp would use, and to a root found outside."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from planner.calc.cloth.reach import PieceNeeds, longest_warp, longest_woven, most_pieces, pieces_of_warp, widest
from planner.calc.cloth.warp_length import warp_of_woven
from planner.calc.worksheet.work_out import work_out
from tests.planner.worked_projects import inches, runner, towels

YARNS = st.fractions(0, 5_000_000, max_denominator=10)
LENGTHS = st.fractions(1, 3000, max_denominator=20)
EXTRAS = st.fractions(0, 300, max_denominator=20)
ENDS = st.integers(1, 1500)
SETTS = st.fractions(1, 30, max_denominator=20)
SHARES = st.fractions(0, Fraction(9, 10), max_denominator=50)
NEEDS = st.builds(PieceNeeds, LENGTHS, EXTRAS, EXTRAS, st.fractions(0, 90_000, max_denominator=5))


@given(yarn=YARNS, length=LENGTHS, sett=SETTS, weft=EXTRAS, multiple=st.integers(1, 12))
def test_the_widest_warp_can_be_wound_and_one_step_more_can_not(yarn, length, sett, weft, multiple):
    found = widest(yarn, length, sett, weft, multiple)
    used = found.ends * length + found.width * weft
    assert used + found.left == yarn
    assert found.ends % multiple == 0 <= found.left < multiple * (length + weft / sett)


@given(yarn=YARNS, ends=ENDS)
def test_the_longest_warp_uses_all(yarn, ends):
    assert longest_warp(yarn, ends) * ends == yarn


@given(yarn=YARNS, ends=ENDS, fixed=EXTRAS, take_up=SHARES, weft=EXTRAS)
def test_the_longest_cloth_uses_all_or_there_is_none(yarn, ends, fixed, take_up, weft):
    woven = longest_woven(yarn, ends, fixed, take_up, weft)
    used = ends * (warp_of_woven(woven, take_up) + fixed) + woven * weft
    assert used == yarn if woven else used >= yarn


@given(ends=ENDS, fixed=EXTRAS, take_up=SHARES, weft=EXTRAS, spare=st.integers(1, 1000))
def test_the_longest_cloth_is_the_root_that_brentq_finds(ends, fixed, take_up, weft, spare):
    yarn = ends * (fixed + spare)
    needed = lambda woven: float(ends * (woven / (1 - take_up) + fixed) + woven * weft - yarn)  # noqa: E731
    outside = brentq(lambda woven: needed(Fraction(woven)), 0, float(spare) + 1)
    assert float(longest_woven(yarn, ends, fixed, take_up, weft)) == pytest.approx(outside, rel=1e-6, abs=1e-6)


@given(yarn=YARNS, ends=ENDS, needs=NEEDS)
def test_the_most_pieces_can_be_made_and_one_more_can_not(yarn, ends, needs):
    found = most_pieces(yarn, ends, needs)
    more = found.pieces + 1
    assert found.left == yarn - ends * found.warp - found.pieces * needs.weft >= 0
    assert ends * needs.warp_of(more) + more * needs.weft > yarn


@given(length=LENGTHS, needs=NEEDS)
def test_a_warp_holds_the_pieces_it_says_and_not_one_more(length, needs):
    found = pieces_of_warp(length, needs)
    assert found.warp + found.left == length >= found.warp
    assert needs.warp_of(found.pieces + 1) > length


def test_the_warp_of_a_plan_holds_just_its_own_pieces():
    """Eight towels of the studio, margin left out: seven gaps, and the waste and samples."""
    brief = towels()
    brief = replace(brief, allowances=replace(brief.allowances, gaps=None, margin=Fraction(0)))
    plan = work_out(brief)
    each = warp_of_woven((inches(28) + inches(2)) / (1 - Fraction(12, 100)), Fraction(9, 100))
    needs = PieceNeeds(each, inches("0.5"), brief.loom.waste + inches(12))
    found = pieces_of_warp(plan.length.wanted, needs)
    assert (found.pieces, found.left) == (8, 0)


def test_the_yarn_of_a_plan_reaches_just_its_own_width():
    plan = work_out(replace(runner(), weft=None, picks=None))
    found = widest(plan.yarn.needs[0].warp_nominal, plan.beam.warp_length, plan.cloth.sett, Fraction(0), 2)
    assert (found.ends, found.width, found.left) == (plan.cloth.ends_here, plan.cloth.width_in_reed, 0)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: PieceNeeds(Fraction(0)), "warp"),
        (lambda: PieceNeeds(Fraction(1), weft=Fraction(-1)), "weft"),
        (lambda: widest(Fraction(-1), Fraction(1), Fraction(1), Fraction(0)), "yarn"),
        (lambda: widest(Fraction(1), Fraction(0), Fraction(1), Fraction(0)), "warp_length"),
        (lambda: widest(Fraction(1), Fraction(1), Fraction(0), Fraction(0)), "sett"),
        (lambda: widest(Fraction(1), Fraction(1), Fraction(1), Fraction(-1)), "weft_per_cm"),
        (lambda: widest(Fraction(1), Fraction(1), Fraction(1), Fraction(0), 0), "multiple"),
        (lambda: longest_warp(Fraction(1), 0), "ends"),
        (lambda: longest_woven(Fraction(1), 1, Fraction(0), Fraction(1), Fraction(0)), "take_up"),
        (lambda: longest_woven(Fraction(1), 1, Fraction(-1), Fraction(0), Fraction(0)), "fixed"),
        (lambda: most_pieces(Fraction(1), 0, PieceNeeds(Fraction(1))), "ends"),
        (lambda: pieces_of_warp(Fraction(-1), PieceNeeds(Fraction(1))), "warp_length"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
