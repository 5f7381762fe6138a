"""What is said of partial edges: the numbers of the choices, no more and no others."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import edges
from planner.calc.beam.edges import Lying
from planner.calc.fit.partial_edges import edge_remarks
from planner.calc.terms.plan import EdgeKind

TWO = Fraction(2)
LIMIT = Fraction(5, 1000)
EIGHTH = Lying(600, Fraction(25), TWO)
"""Project 8 in inches: 24 to the inch, 25 in on two-inch sections, a divider at the centre."""


def said(warp, build_up=(15.3, 0.0213)):
    found = edges.edge_choices(warp, build_up)
    return {remark.code: remark for remark in edge_remarks(found, warp.pitch, warp.shift, LIMIT)}


def values(remark):
    return {name: value if isinstance(value, str) else value.value for name, value in remark.values.items()}


def test_eighth_project_says_what_lies_at_each_edge_and_what_it_would_hold():
    """By hand: half an inch at 24 is 12 of 48 at each side, and 36 dummy ends on each."""
    found = values(said(EIGHTH)["edge_partial"])
    assert {name: found[name] for name in ("left", "left_full", "right", "right_full", "dummies")} == {
        "left": 12, "left_full": 48, "right": 12, "right_full": 48, "dummies": 72,
    }  # fmt: skip


def test_edges_of_a_short_warp_are_only_noted():
    assert {remark.severity.value for remark in said(EIGHTH, (0.3, 0.002)).values()} == {"note"}


def test_a_warp_with_one_partial_side_is_not_told_to_move():
    """Half an inch to the right leaves 24 of 48 at the right alone: nothing is left to win by moving."""
    found = said(replace(EIGHTH, shift=Fraction(1, 2)))
    assert set(found) == {"edge_partial_at", "edge_fills"}
    assert values(found["edge_partial_at"]) == {
        "side": "right", "ends": 24, "full": 48, "dummies": 24,
        "shorter": pytest.approx(15.3 / 2), "share": pytest.approx(0.0213 / 2),
    }  # fmt: skip


def test_the_move_is_told_from_where_the_warp_lies():
    """0.2 in right of the middle: the left part is 0.3 in, the right one 0.7; on by 0.3, not by half an inch."""
    assert values(said(replace(EIGHTH, shift=Fraction(1, 5)))["edge_moves"]) == {
        "one_sided": Fraction(3, 10), "side": "right",
    }  # fmt: skip


def test_a_warp_as_wide_as_whole_sections_need_only_be_moved():
    """Twelve sections of two inches about a beam with a section at its middle: an inch puts each in its place."""
    found = said(Lying(432, Fraction(24), TWO, section_at_centre=True))
    assert {code: (one.values["sections"].value, one.values["one_sided"].value) for code, one in found.items()} == {
        "edge_between_dividers": (12, 1)
    }


def test_full_edges_are_not_spoken_of():
    assert said(Lying(576, Fraction(24), TWO)) == {}


@given(
    ends=st.integers(1, 900), width=st.fractions(Fraction(1, 4), 60, max_denominator=16), at_centre=st.booleans(),
    shift=st.fractions(-5, 5, max_denominator=8), pitch=st.sampled_from([Fraction(1), TWO, Fraction(5, 2)]),
)  # fmt: skip
def test_every_number_said_is_one_of_the_choices(ends, width, at_centre, shift, pitch):
    warp = Lying(ends, width, pitch, at_centre, shift)
    known = {choice.kind: choice for choice in edges.edge_choices(warp, (15.3, 0.0213))}
    found = {code: values(remark) for code, remark in said(warp).items()}
    moves = {code for code, one in found.items() if "one_sided" in one}
    assert bool(moves) == (EdgeKind.SHIFT in known)
    for code in moves:
        assert found[code]["one_sided"] == abs(known[EdgeKind.SHIFT].shift - shift) > 0
    for name, kind in (("fewer", EdgeKind.FEWER), ("more", EdgeKind.MORE)):
        if name in found.get("edge_fills", {}):
            assert (found["edge_fills"][name], found["edge_fills"][f"{name}_width"]) == (
                known[kind].ends, known[kind].width,
            )  # fmt: skip


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: edge_remarks((), Fraction(0), Fraction(0), LIMIT), "pitch"),
        (lambda: edge_remarks(edges.edge_choices(EIGHTH, (1.0, 0.1))[:3], TWO, Fraction(0), LIMIT), "spread"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
