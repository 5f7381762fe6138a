"""Fewer spools: the published case of one-inch against two-inch sections, then spools counted one by one."""

from collections import Counter
from fractions import Fraction
from itertools import accumulate, groupby, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.terms.plan import ColourRun, SpoolGroup, SpoolWay
from planner.calc.winding import fewer_spools

RUN = st.tuples(st.sampled_from("ABC"), st.integers(1, 9)).map(lambda pair: ColourRun(*pair))
LAYOUTS = st.lists(st.lists(RUN, min_size=1, max_size=4).map(tuple), min_size=1, max_size=12).map(tuple)
NOTHING = Fraction(0)


def plain(ends, count):
    return ((ColourRun("A", ends),),) * count


def placed(layouts):
    return dict(enumerate(layouts, 1))


def box(layouts, way=SpoolWay.PLANNED):
    return fewer_spools.by_box(way, Counter(layouts), Fraction(51, 2), NOTHING)


def rugs():
    order = ("A",) * 15 + ("B",) * 9 + ("C",) * 6
    ends = [order[end % 30] for end in range(360)]
    cuts = [ends[start : start + 24] for start in range(0, 360, 24)]
    return tuple(tuple(ColourRun(code, len(tuple(same))) for code, same in groupby(cut)) for cut in cuts)


@given(parts=st.lists(st.integers(1, 60), min_size=1, max_size=12))
def test_full_sections_are_parted_in_the_middle(parts):
    bounds = fewer_spools.halves([(ends, Fraction(1)) for ends in parts])
    pieces = [after - before for before, after in pairwise(bounds)]
    assert max(pieces) == -(-max(parts) // 2)
    assert (sum(pieces), min(pieces) > 0) == (sum(parts), True)
    assert set(accumulate(parts)) <= set(bounds)


def test_partial_edges_fill_their_inner_half_first():
    """Sections of 48, halves of 24: 36 at the left are 12 and 24, 36 at the right 24 and 12, 12 stay whole."""
    three, one = Fraction(3, 4), Fraction(1, 4)
    assert fewer_spools.halves([(36, three), (48, Fraction(1)), (36, three)]) == (0, 12, 36, 60, 84, 108, 120)
    assert fewer_spools.halves([(12, one), (48, Fraction(1)), (12, one)]) == (0, 12, 36, 60, 72)


def test_half_the_spools_with_twice_the_yarn():
    """T. Vogl, How to calculate yards per spool when warping in sections (2001): 60 of 255 yd, or 30 of 510."""
    wide, narrow = box(plain(60, 10)), box(plain(30, 20), SpoolWay.HALF_PITCH)
    assert [(way.spools, way.longest, way.tyings) for way in (wide, narrow)] == [(60, 255, 10), (30, 510, 20)]


def test_rugs_need_thirty_spools_24_at_a_time():
    """The studio's fourth worked project: A 15, B 9, C 6; four re-threads of 24 ends lose 240 yd."""
    found = fewer_spools.by_box(SpoolWay.PLANNED, Counter(rugs()), Fraction(27, 2), Fraction(5, 2))
    assert (found.spools, found.at_once, found.setups, found.lead_lost) == (30, 24, 5, 240)
    assert fewer_spools.spools_of(rugs()) == {"A": 15, "B": 9, "C": 6}


def test_rugs_mixed_wind_three_sections_by_box_and_twelve_as_chains():
    found = fewer_spools.mixed(placed(rugs()), 2, Fraction(27, 2))
    assert (found.spools, found.chains, found.passes, found.setups) == (24, 12, 12 * 12, 1)


def test_the_commonest_section_goes_by_box():
    odd = ((ColourRun("B", 11),),)
    found = fewer_spools.mixed(placed((*odd, *plain(40, 9))), 2, 10)
    assert (found.spools, found.chains, found.passes, found.longest) == (40, 1, 6, 90)


def test_chains_of_a_class_warp():
    """The studio's sixth worked project: 10 chains of 32 ends, two at a time, 16 passes each."""
    found = fewer_spools.all_chains(Counter(plain(32, 10)), 2)
    assert (found.spools, found.chains, found.passes) == (0, 10, 160)


@given(layouts=LAYOUTS)
def test_spools_are_counted_one_by_one(layouts):
    def needed(code):
        return max(sum(run.ends for run in runs if run.code == code) for runs in layouts)

    used = {run.code for runs in layouts for run in runs}
    assert fewer_spools.spools_of(layouts) == {code: needed(code) for code in sorted(used)}


@given(layouts=LAYOUTS, at_once=st.integers(1, 4))
def test_every_section_is_wound_in_every_way(layouts, at_once):
    ways = [
        fewer_spools.by_box(SpoolWay.PLANNED, Counter(layouts), 1, NOTHING),
        fewer_spools.mixed(placed(layouts), at_once, 1),
        fewer_spools.all_chains(Counter(layouts), at_once),
    ]
    assert [way.tyings for way in ways] == [len(layouts)] * 3
    assert ways[0].spools >= ways[1].spools >= ways[2].spools == 0
    assert ways[2].passes >= ways[1].passes >= 0


@given(layouts=LAYOUTS)
def test_only_what_needs_fewer_is_kept_after_the_planned_way(layouts):
    planned, other = (
        fewer_spools.by_box(SpoolWay.PLANNED, Counter(layouts), 1, NOTHING),
        fewer_spools.mixed(placed(layouts), 2, 1),
    )
    kept = fewer_spools.that_need_fewer([planned, other])
    saves = other.spools < planned.spools or other.at_once < planned.at_once
    assert kept == ((planned, other) if saves else ())


@pytest.mark.parametrize(
    ("held", "codes"),
    [(None, []), (40, []), (39, ["half_pitch_fits_rack", "mixed_fits_rack"]), (20, ["half_pitch_fits_rack"]), (19, [])],
)
def test_ways_that_fit_a_small_rack_are_named(held, codes):
    """Forty spools at once as planned, twenty at half the pitch, 36 with the odd section as a chain."""
    layouts = (*plain(36, 9), (ColourRun("B", 40),))
    halved = (*plain(18, 18), *((ColourRun("B", 20),),) * 2)
    ways = [box(layouts), box(halved, SpoolWay.HALF_PITCH), fewer_spools.mixed(placed(layouts), 2, 1)]
    assert [remark.code for remark in fewer_spools.rack_remarks(ways, held)] == codes


def test_spools_that_serve_fewer_sections_may_be_short():
    """The studio's third worked project: seven serve 36 sections, the eighth 18."""
    groups = [SpoolGroup("A", 1, 7, 36, 1, 1, NOTHING), SpoolGroup("A", 8, 8, 18, 1, 1, NOTHING)]
    assert fewer_spools.short_spools(groups) == (groups[1],)


def test_short_is_told_yarn_by_yarn():
    groups = [SpoolGroup("A", 1, 7, 36, 1, 1, NOTHING), SpoolGroup("B", 1, 2, 3, 1, 1, NOTHING)]
    assert fewer_spools.short_spools(groups) == ()


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: box(()), "layouts"),
        (lambda: fewer_spools.halves([(0, Fraction(1))]), "sections"),
        (lambda: fewer_spools.by_box(SpoolWay.PLANNED, Counter(plain(8, 1)), -1, NOTHING), "use"),
        (lambda: fewer_spools.mixed(placed(plain(8, 1)), 0, 1), "at_once"),
        (lambda: fewer_spools.all_chains({}, 1), "layouts"),
        (lambda: fewer_spools.that_need_fewer(()), "ways"),
        (lambda: fewer_spools.rack_remarks((), -1), "held"),
    ],
)
def test_misuse_is_refused(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
