"""Laws that hold for any figures: ways back, bounds, what grows with what, and nothing lost on the way.

One for each calculator whose other tests look at worked examples alone.
"""

from collections import Counter
from fractions import Fraction
from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from inventory.calc.count import tex_of_yards_per_pound
from planner.calc.beam import depth as beam_depth
from planner.calc.beam import edges, leader, sections
from planner.calc.cloth import firmness, sett, warp_length, weft
from planner.calc.reed import reed, threading, threading_guide
from planner.calc.shelf import need as shelf_need
from planner.calc.shelf.need import SpoolAsked
from planner.calc.terms.brief import ReedFacts
from planner.calc.winding import board, chains, spools

ABOVE = st.fractions(Fraction(1, 50), 500, max_denominator=50)
FROM_ZERO = st.fractions(0, 500, max_denominator=50)
SHARE = st.fractions(Fraction(1, 100), 1, max_denominator=100)
COUNT = st.integers(1, 60)
TEX = st.fractions(5, 2000, max_denominator=20)
DENSITY = st.fractions(Fraction(1, 10), Fraction(3, 2), max_denominator=100)


# Sett.


@given(wraps=ABOVE, ends=COUNT, crossings=COUNT, times=COUNT)
def test_a_repeat_written_twice_has_the_same_sett_and_thinner_yarn_a_closer_one(wraps, ends, crossings, times):
    found = sett.sett_from_wraps(wraps, ends, crossings)
    assert found == sett.sett_from_wraps(wraps, ends * times, crossings * times) < wraps
    assert sett.sett_from_wraps(wraps * times, ends, crossings) == found * times


@given(greatest=ABOVE, share=SHARE)
def test_the_working_sett_leads_back_to_the_greatest_and_never_passes_it(greatest, share):
    found = sett.working_sett(greatest, share)
    assert found / share == greatest >= found


@given(grist=st.integers(300, 20_000), fibre=st.sampled_from(["cotton", "linen", "rayon", "wool", "cottolin"]))
def test_usual_setts_are_the_nearest_rows_of_the_fibre_within_a_quarter(grist, fibre):
    """Every row of the table is looked at, and its length in a pound set in proportion."""
    found = sett.usual_setts(Fraction(grist), fibre)
    counted = [row for row in sett.USUAL_SETTS if row.yards_per_pound is not None]
    apart = {row: max(grist / Fraction(row.yards_per_pound), Fraction(row.yards_per_pound) / grist) for row in counted}
    near = sorted(apart[row] for row in counted if row.fibre == fibre and apart[row] <= Fraction(5, 4))
    assert [apart[row] for row in found] == near[: len(found)]
    assert len(found) == min(len(near), sett.MOST_ROWS)


@given(close=ABOVE, one=TEX, other=TEX)
def test_a_yarn_and_back_again_is_as_close_as_before(close, one, other):
    there = firmness.sett_of_other_yarn(close, one, other)
    back = firmness.sett_of_other_yarn(there, other, one)
    assert abs(back - close) <= close / 10_000
    assert (there >= close) == (other <= one)


# Reed and threading.


@given(used=st.integers(1, 400), dents=st.integers(2, 40), wide=st.integers(20, 200), shift=st.integers(-30, 30))
def test_dents_left_empty_are_those_there_are_and_alike_on_both_sides_of_the_middle(used, dents, wide, shift):
    facts = ReedFacts("reed", Fraction(dents, 4), Fraction(wide))
    spare = max(0, dents * wide // 4 - used)
    empty = reed.empty_at_left(facts, used, Fraction(shift))
    assert 0 <= empty <= spare
    assert 0 <= spare - 2 * reed.empty_at_left(facts, used) <= 1
    assert reed.empty_at_left(facts, used, Fraction(shift + 1)) >= empty


@given(shafts=COUNT)
def test_a_straight_draw_uses_each_shaft_once_in_order(shafts):
    assert list(threading.straight(shafts)) == sorted(set(threading.straight(shafts)))
    assert threading.heddles_per_shaft((), shafts, shafts) == (1,) * shafts


@given(shafts=st.integers(2, 60))
def test_a_point_draw_goes_on_by_one_shaft_all_round(shafts):
    drawn = threading_guide.point(shafts)
    assert all(abs(one - other) == 1 for one, other in pairwise((*drawn, drawn[0])))
    assert set(drawn) == set(range(1, shafts + 1))


@given(half=st.integers(2, 30))
def test_a_broken_draw_uses_each_shaft_twice_and_jumps_half_of_them_at_each_turn(half):
    drawn = threading_guide.broken(2 * half)
    steps = Counter(abs(one - other) for one, other in pairwise((*drawn, drawn[0])))
    assert Counter(drawn) == Counter([*range(1, 2 * half + 1)] * 2)
    assert steps == {1: 4 * half - 3, half: 2, 2 * half - 1: 1} or half == 2  # of four shafts one jump is a step wide


@given(shafts=st.integers(3, 60))
def test_a_lace_draw_has_half_its_ends_on_the_front_shaft_and_never_two_alike_beside_each_other(shafts):
    drawn = threading_guide.lace(shafts)
    assert 2 * drawn.count(1) == len(drawn) == 6 * (shafts - 2)
    assert all(one != other for one, other in pairwise((*drawn, drawn[0])))


@given(
    units=st.lists(st.lists(COUNT, min_size=1, max_size=6).map(tuple), min_size=1, max_size=4),
    counts=st.lists(st.tuples(st.integers(1, 4), st.integers(0, 5)), max_size=6),
)
def test_blocks_hold_each_unit_as_often_as_it_is_asked_for(units, counts):
    asked = [(min(block, len(units)), times) for block, times in counts]
    wanted: Counter[int] = Counter()
    for block, times in asked:
        wanted += Counter(units[block - 1] * times)
    assert Counter(threading_guide.blocks(units, asked)) == wanted


# Beam, sections, winding.


@given(ends=COUNT, dents=ABOVE, section=ABOVE, fewest=st.integers(1, 4))
def test_the_comb_is_never_so_full_that_the_bundle_is_narrower_than_the_section(ends, dents, section, fewest):
    in_a_dent = leader.ends_per_comb_dent(ends, dents, section, fewest)
    assert in_a_dent >= fewest
    assert in_a_dent == fewest or ends / (in_a_dent * dents) >= section > ends / ((in_a_dent + 1) * dents)


@given(tex=TEX, density=DENSITY, length=st.integers(1, 10**6))
def test_what_an_end_takes_on_the_beam_weighs_what_the_end_weighs(tex, density, length):
    grams = beam_depth.wound_area(tex, density) * length * density
    assert grams == tex * Fraction(length, 100_000)


@given(first=COUNT, second=COUNT, thin=TEX, thick=TEX, density=DENSITY, width=ABOVE)
def test_a_mixture_is_as_deep_as_its_yarns_wound_one_after_the_other(first, second, thin, thick, density, width):
    one, other = (beam_depth.wound_area(tex, density) for tex in (thin, thick))
    mixed = beam_depth.depth_of_mixture([(first, one), (second, other)], width)
    assert mixed == sum(
        beam_depth.depth_per_turn(ends / width, tex, density) for ends, tex in ((first, thin), (second, thick))
    )
    assert min(one, other) * (first + second) <= mixed * width <= max(one, other) * (first + second)


@given(length=ABOVE, every=ABOVE)
def test_ties_stand_at_even_distances_and_leave_no_stretch_longer(length, every):
    assume(length / every < 500)
    marks = (Fraction(0), *chains.tie_distances(length, every), length)
    steps = [later - sooner for sooner, later in pairwise(marks)]
    assert all(step == every for step in steps[:-1])
    assert 0 < steps[-1] <= every


@given(width=ABOVE, space=ABOVE)
def test_raddle_spaces_cover_the_width_once(width, space):
    assume(width / space < 500)
    places = chains.even_spaces(width, space)
    assert (places[0], places[-1]) == (0, width)
    assert all(later - sooner == space for sooner, later in pairwise(places[:-1]))
    assert 0 < places[-1] - places[-2] <= space


@given(parts=st.lists(st.tuples(st.integers(0, 200), TEX), max_size=5), length=FROM_ZERO, times=COUNT)
def test_a_chain_weighs_what_its_ends_weigh_one_by_one(parts, length, times):
    mass = board.chain_mass(parts, length)
    assert mass == sum(board.chain_mass([(1, tex)], length) for ends, tex in parts for _ in range(ends))
    assert board.chain_mass(parts, length * times) == mass * times


@given(crosses=st.integers(0, 9), chokes=st.integers(0, 99))
def test_each_cross_has_four_arms_to_tie_half_of_them_above(crosses, chokes):
    marks, bare = board.tie_marks(crosses, chokes), board.tie_marks(0, chokes)
    assert marks.tops == marks.bottoms
    assert marks.tops + marks.bottoms - bare.tops - bare.bottoms == 4 * crosses
    assert marks.chokes == chokes


@given(count=st.integers(1, 60), pitch=ABOVE, at_centre=st.booleans())
def test_a_warp_moved_so_fills_every_section_it_touches(count, pitch, at_centre):
    """Its edges are laid out on the beam: both lie on a divider, whichever way it is moved."""
    moved = edges.shift_that_fills(count, pitch, section_at_centre=at_centre)
    divider = pitch / 2 if at_centre else Fraction(0)
    for way in (moved, -moved):
        for edge in (way - count * pitch / 2, way + count * pitch / 2):
            assert ((edge - divider) / pitch).denominator == 1
    assert moved <= pitch / 2


@given(count=st.integers(0, 99), length=FROM_ZERO, waste=FROM_ZERO, more=st.integers(0, 9))
def test_yarn_of_a_spool_adds_up_over_its_sections(count, length, waste, more):
    one, other = (spools.length_per_spool(served, length, waste) for served in (count, more))
    assert spools.length_per_spool(count + more, length, waste) == one + other


@given(length=FROM_ZERO, reserve=st.fractions(0, 1, max_denominator=20), step=ABOVE, lead=FROM_ZERO)
def test_what_is_wound_is_whole_steps_just_enough(length, reserve, step, lead):
    wound = spools.length_to_wind(length, reserve, step, lead)
    needed = length * (1 + reserve) + lead
    assert (wound / step).denominator == 1
    assert needed * (1 - Fraction(1, 10**8)) <= wound < needed + step


@given(ends=st.integers(0, 900), more=st.integers(0, 900), lead=FROM_ZERO)
def test_lead_lost_adds_up_over_the_re_threads(ends, more, lead):
    assert spools.box_lead_lost(ends + more, lead) == spools.box_lead_lost(ends, lead) + spools.box_lead_lost(
        more, lead
    )


@given(setting=ABOVE, pitch=ABOVE)
def test_ends_of_a_section_lead_back_to_the_sett(setting, pitch):
    assert sections.ends_per_section(setting, pitch) / pitch == setting


# Length and weft.


@given(base=FROM_ZERO, more=FROM_ZERO, margin=st.fractions(0, 2, max_denominator=100))
def test_a_margin_is_the_same_taken_on_the_whole_or_on_its_parts(base, more, margin):
    parts = warp_length.margin_of(base, margin) + warp_length.margin_of(more, margin)
    assert warp_length.margin_of(base + more, margin) == parts


@given(pieces=st.integers(1, 999), gaps=st.none() | st.integers(0, 999))
def test_a_piece_more_is_a_gap_more_unless_the_gaps_are_said(pieces, gaps):
    more = warp_length.gap_count(pieces + 1, gaps) - warp_length.gap_count(pieces, gaps)
    assert more == (gaps is None)
    assert warp_length.gap_count(1, None) == 0


@given(needs=FROM_ZERO, wanted=FROM_ZERO, real=FROM_ZERO, margin=FROM_ZERO)
def test_one_more_piece_fits_exactly_where_enough_is_left(needs, wanted, real, margin):
    found = warp_length.one_more_piece(needs, real, wanted, margin)
    assert found.left + wanted == real
    assert found.fits == (real - wanted >= needs) or abs(real - wanted - needs) <= warp_length.TOLERANCE


@given(woven=FROM_ZERO, picks=ABOVE, width=ABOVE, allowance=st.fractions(0, 2, max_denominator=100), times=COUNT)
def test_weft_grows_with_length_picks_and_width_alike(woven, picks, width, allowance, times):
    length = weft.weft_length(woven, picks, width, allowance)
    assert length == weft.weft_length(woven, picks, width, Fraction(0)) * (1 + allowance)
    grown = (
        weft.weft_length(woven * times, picks, width, allowance),
        weft.weft_length(woven, picks * times, width, allowance),
        weft.weft_length(woven, picks, width * times, allowance),
    )
    assert set(grown) == {length * times}


# The shelf.


@given(
    there=st.lists(st.integers(0, 500).map(Fraction), min_size=1, max_size=5),
    mass=st.integers(0, 2000).map(Fraction),
    on_spools=st.lists(st.tuples(st.integers(0, 4), st.integers(1, 9)), max_size=4),
)
def test_no_package_gives_more_than_it_has_and_none_is_spared_while_yarn_lacks(there, mass, on_spools):
    asked = [SpoolAsked("A", at, served, Fraction(40), short=False) for at, (_, served) in enumerate(on_spools, 1)]
    pieces = [(place % len(there), at, asked[at].sections) for at, (place, _) in enumerate(on_spools)]
    taken = shelf_need.masses_taken(pieces, asked, there, mass)
    assert all(0 <= given <= most for given, most in zip(taken, there, strict=True))
    assert sum(taken) >= min(mass, sum(there))


@given(yards=st.integers(300, 30_000), fibre=st.sampled_from(["cotton", "wool"]))
def test_a_thicker_yarn_lies_less_close(yards, fibre):
    thin, thick = (
        sett.diameters(tex_of_yards_per_pound(Fraction(y)), sett.yarn_constant(fibre)) for y in (2 * yards, yards)
    )
    assert thick < thin
    assert abs((thin / thick) ** 2 - 2) < Fraction(1, 1000)
