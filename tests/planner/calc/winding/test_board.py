"""Board and chains: the sixth worked project's mass, ties counted on the board, paths there and back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.winding import board
from tests.planner.worked_projects import tex_of, yards

LENGTHS = st.fractions(Fraction(1, 10), 5000, max_denominator=50)


def test_class_chains_weigh_as_the_whole_warp():
    """The studio's sixth worked project: 3 200 yd of 5/2 are 691 g, in ten chains of 32 ends and 10 yd."""
    assert round(float(10 * board.chain_mass([(32, tex_of(2100))], yards(10)))) == 691


def test_a_striped_chain_weighs_its_yarns_together():
    both = board.chain_mass([(10, Fraction(100)), (20, Fraction(50))], Fraction(1000))
    assert both == board.chain_mass([(40, Fraction(50))], Fraction(1000))


def test_ties_of_a_chain_with_two_crosses():
    """Trade notes, 2.3: four arms of each cross, both sides of each end peg, nine choke ties."""
    marks = board.tie_marks(2, 9)
    assert (marks.tops + marks.bottoms + marks.chokes, marks.tops) == (2 * 4 + 2 * 2 + 9, 6)


def test_a_board_that_winds_short_needs_a_longer_path():
    assert board.path_by_name(yards(10), yards("0.5"), yards(10), yards("9.8")) == yards("10.5")


@given(wanted=LENGTHS, step=LENGTHS, guide=LENGTHS, measured=LENGTHS)
def test_path_reaches_the_length_and_one_step_less_does_not(wanted, step, guide, measured):
    path = board.path_by_name(wanted, step, guide, measured)
    assert board.measured_path(path, guide, measured) >= wanted
    assert path == step or board.measured_path(path - step, guide, measured) < wanted


@given(paths=st.lists(LENGTHS, min_size=1, max_size=8), wanted=LENGTHS)
def test_shortest_path_that_reaches(paths, wanted):
    reaching = sorted(path for path in paths if path >= wanted)
    if reaching:
        assert board.shortest_path(paths, wanted) == reaching[0]
    else:
        with pytest.raises(ValueError, match="wanted"):
            board.shortest_path(paths, wanted)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: board.measured_path(Fraction(0), Fraction(1), Fraction(1)), "path"),
        (lambda: board.path_by_name(Fraction(1), Fraction(0), Fraction(1), Fraction(1)), "step"),
        (lambda: board.chain_mass([(-1, Fraction(1))], Fraction(1)), "ends"),
        (lambda: board.tie_marks(-1, 0), "crosses"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
