"""Spools and set-ups: the published handloom case, then counting spool by spool as one would at the rack."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.beam import sections
from planner.calc.cloth import colours
from planner.calc.terms.plan import ColourRun, SpoolGroup
from planner.calc.winding import spools
from tests.planner.worked_projects import inches, per_inch

COUNTS = st.lists(st.integers(0, 12), min_size=1, max_size=12)
RUNS = st.lists(
    st.tuples(st.sampled_from("ABC"), st.integers(1, 4)).map(lambda pair: ColourRun(*pair)), min_size=1, max_size=3
).map(tuple)
NOTHING = Fraction(0)
STEP = Fraction(1, 100)


def groups(counts, length=10.0):
    return spools.spool_groups("A", [(count, length) for count in counts], length, NOTHING, STEP)


def vogl(pitch):
    """25 yd, 30 to the inch, 20 in wide, half a yard lost at each section; all in yards here."""
    count = 20 // pitch
    return spools.length_per_spool(count, 25, Fraction(1, 2)), sections.ends_per_section(per_inch(30), inches(pitch))


def test_yards_on_each_spool_for_two_inch_sections():
    """T. Vogl, How to calculate yards per spool when warping in sections (2001): 255 yd."""
    assert vogl(2)[0] == 255


def test_yards_on_each_spool_for_one_inch_sections():
    """T. Vogl, as above: 510 yd."""
    assert vogl(1)[0] == 510


def test_both_section_widths_take_the_same_yarn():
    """T. Vogl's own cross-check: 15 300 yd either way."""
    assert [length * packages for length, packages in map(vogl, (1, 2))] == [15_300, 15_300]


def test_cut_waste_as_a_share_of_the_yarn():
    """From Vogl's figures: twenty half yards in 510 yd are 1.96 %."""
    waste = spools.length_per_spool(20, 0, Fraction(1, 2))
    assert float(100 * waste / vogl(1)[0]) == pytest.approx(1.96, abs=0.005)


def test_yarn_of_a_real_job_from_cones():
    """A weaver's blog (tangleweave, November 2008): 17 sections of 4 m are 68 m on each of eight cones."""
    (group,) = groups([8] * 17, 4.0)
    assert (group.spools, group.real_length) == (8, 68.0)


def test_spools_are_as_many_as_the_fullest_section_has_ends():
    assert spools.spools_needed([8, 7, 0, 9]) == 9


def test_no_sections_need_no_spools():
    assert spools.spools_needed([]) == 0


@given(counts=COUNTS)
def test_each_spool_serves_the_sections_with_at_least_so_many_ends(counts):
    """Brute force at the rack: spool j runs wherever j ends of its colour stand."""
    served = {j: sum(1 for count in counts if count >= j) for j in range(1, max(counts) + 1)}
    found = {j: group.sections for group in groups(counts) for j in range(group.first, group.last + 1)}
    assert found == served


@given(counts=COUNTS)
def test_all_spools_together_hold_the_whole_warp(counts):
    total = sum(group.spools * group.real_length for group in groups(counts))
    assert total == pytest.approx(10 * sum(counts))


@given(counts=COUNTS)
def test_neighbouring_groups_carry_different_lengths(counts):
    served = [group.sections for group in groups(counts)]
    assert served == sorted(set(served), reverse=True)


def test_each_section_counts_with_its_own_length():
    first, second = spools.spool_groups("A", [(8, 11.0), (7, 10.0), (8, 11.0)], 10, NOTHING, STEP)
    assert (first.real_length, second.real_length) == (32.0, 22.0)


def test_a_spool_is_wound_up_to_the_step():
    assert spools.length_to_wind(139.29, Fraction(3, 100), Fraction(5)) == 145


def test_a_lost_lead_bears_no_reserve():
    """By hand: 100 with a tenth in reserve are 110, and 10 of lead are lost: 120, where 121 would reserve the lead."""
    assert spools.length_to_wind(100, Fraction(1, 10), Fraction(1), Fraction(10)) == 120


def test_a_length_of_whole_steps_is_not_rounded_up():
    assert spools.length_to_wind(0.1 * 3, NOTHING, Fraction(1, 10)) == Fraction(3, 10)


@given(layouts=st.lists(RUNS, min_size=1, max_size=20))
def test_set_ups_are_the_different_layouts(layouts):
    """Brute force: as many set-ups as different layouts, each at all its places, first seen first."""
    layouts = [colours.merged(runs) for runs in layouts]
    setups = spools.group_setups(list(enumerate(layouts, 1)))
    expected = [
        (runs, tuple(place for place, other in enumerate(layouts, 1) if other == runs))
        for runs in dict.fromkeys(layouts)
    ]
    assert [(setup.runs, setup.positions) for setup in setups] == expected
    assert [setup.number for setup in setups] == list(range(1, len(setups) + 1))


@given(lost=st.lists(st.tuples(st.sampled_from("AB"), st.integers(1, 30), st.fractions(0, 50, max_denominator=8))))
def test_the_mass_of_the_lead_is_that_of_its_length_yarn_by_yarn(lost):
    """Spool by spool; a tex is a gram in a kilometre (ISO 1144)."""
    texes = {"A": Fraction(100), "B": Fraction(30)}
    made = [SpoolGroup(code, 1, count, 1, 1, 1, STEP, lead) for code, count, lead in lost]
    metres = {code: sum(count * lead / 100 for one, count, lead in lost if one == code) for code in texes}
    assert spools.mass_of_lead(made, texes) == sum(metres[code] * texes[code] / 1000 for code in texes)


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: spools.length_per_spool(-1, 1, 1), "sections"),
        (lambda: spools.length_to_wind(1, NOTHING, NOTHING), "step"),
        (lambda: spools.spools_needed([-1]), "counts"),
        (lambda: spools.spool_groups("A", [(-1, 1.0)], 1, NOTHING, STEP), "uses"),
        (lambda: spools.group_setups([(1, ())]), "colours"),
        (lambda: spools.box_lead_lost(-1, STEP), "ends"),
        (lambda: spools.mass_of_lead([SpoolGroup("A", 1, 1, 1, 1, 1, STEP)], {"B": STEP}), "texes"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
