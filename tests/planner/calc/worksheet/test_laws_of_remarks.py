"""Laws of advice: it speaks exactly where its rule says so, the louder the worse it gets, and names no wrong figure."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth import colours
from planner.calc.fit import beam as beam_fit
from planner.calc.fit import cloth as cloth_fit
from planner.calc.fit import loom as loom_fit
from planner.calc.fit import winding as winding_fit
from planner.calc.fit import yarn as yarn_fit
from planner.calc.terms.brief import YarnChoice
from planner.calc.terms.plan import ColourRun, KnotPlace, OneMore, Severity, TurnsRange, YarnNeed

ABOVE = st.fractions(Fraction(1, 20), 300, max_denominator=20)
FROM_ZERO = st.fractions(0, 300, max_denominator=20)
COUNT = st.integers(1, 99)
LOUD = {None: 0, Severity.NOTE: 1, Severity.WARN: 2, Severity.STOP: 3}
ORDER = st.lists(st.tuples(st.sampled_from("ABC"), st.integers(1, 12)), min_size=2, max_size=5).map(
    lambda pairs: colours.merged(ColourRun(*pair) for pair in pairs)
)


def loudness(remarks):
    return max((LOUD[remark.severity] for remark in remarks), default=0)


def codes(remarks):
    return [remark.code for remark in remarks]


def figures(remark):
    return {name: value.value for name, value in remark.values.items() if not isinstance(value, str)}


# One beam beside another.


@given(needs=FROM_ZERO, more=FROM_ZERO, given_by_sections=FROM_ZERO, length=ABOVE)
def test_the_more_a_yarn_lacks_the_louder_it_is_said(needs, more, given_by_sections, length):
    limits = (Fraction(3, 1000), Fraction(1, 100))
    one, other = (
        beam_fit.take_up_remarks(("T", "N"), wanted, given_by_sections, length, limits)
        for wanted in (needs, needs + more)
    )
    assert loudness(one) <= loudness(other)
    assert needs > given_by_sections or not one


@given(away=st.lists(st.tuples(st.integers(0, 50), st.sampled_from("AB")), max_size=4), here=st.integers(0, 50))
def test_ends_on_another_beam_are_said_to_be_as_many_as_there_are(away, here):
    elsewhere = sum(count for count, _ in away)
    said = beam_fit.beam_remarks(away, elsewhere + here)
    assert bool(said) == bool(elsewhere)
    assert not said or (figures(said[0])["ends"], figures(said[0])["all"]) == (elsewhere, elsewhere + here)


@given(parts=st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), max_size=8))
def test_every_part_filled_section_is_named_and_no_full_one(parts):
    shares = [(Fraction(left, 4), Fraction(min(filled, 4 - left), 4)) for left, filled in parts]
    said = beam_fit.part_remarks([(100 + at, *share) for at, share in enumerate(shares)])
    told = said[0].values["places"] if said else ""
    listed = {at for first, last in spans_in(told) for at in range(first, last + 1)}
    assert listed == {100 + at for at, (_, filled) in enumerate(shares) if filled < 1}


def spans_in(text):
    for part in text.replace(";", " ").replace(",", " ").split():
        ends = part.replace("\N{EN DASH}", "-").split("-")
        if all(end.isdecimal() for end in ends):
            yield int(ends[0]), int(ends[-1])


# The loom.


@given(width=ABOVE, loom=ABOVE, beam=st.none() | ABOVE)
def test_a_warp_is_stopped_exactly_where_loom_or_beam_is_narrower(width, loom, beam):
    said = loom_fit.width_remarks(width, loom, "Heron", beam)
    assert len(said) == (width > loom) + (beam is not None and width > beam)
    assert all(figures(remark)["room"] < width for remark in said)


@given(needed=st.lists(st.integers(0, 200), min_size=1, max_size=8), held=st.integers(0, 200))
def test_heddles_said_to_be_missing_are_all_that_are_missing(needed, held):
    said = loom_fit.heddle_remarks(needed, [held] * len(needed), "Heron")
    missing = sum(figures(remark).get("total", figures(remark)["missing"]) for remark in said)
    assert missing == sum(max(0, wants - held) for wants in needed)


@given(needed=COUNT, held=COUNT)
def test_shafts_are_short_where_a_weave_needs_more(needed, held):
    assert bool(loom_fit.shaft_remarks("satin", needed, held)) == (needed > held)


@given(first=st.integers(-20, 60), used=st.integers(1, 60), held=st.integers(1, 60), shift=st.integers(-9, 9))
def test_a_warp_is_stopped_exactly_where_it_leaves_the_beam(first, used, held, shift):
    said = loom_fit.place_remarks(first, first + used - 1, held, Fraction(shift))
    stopped = loudness(said) == LOUD[Severity.STOP]
    assert stopped == (first < 1 or first + used - 1 > held)
    assert ("off_centre" in codes(said)) == (shift != 0)


@given(planned=st.integers(0, 300), more=st.integers(0, 50), most=st.integers(1, 300))
def test_the_fuller_the_rakes_the_louder(planned, more, most):
    def said(turns):
        return loom_fit.rake_remarks(turns, turns, most, (9000.0, 100.0 * turns), (Fraction(1, 40), Fraction(4)))

    assert loudness(said(planned)) <= loudness(said(planned + more))
    assert (loudness(said(planned)) == LOUD[Severity.STOP]) == (planned > most)


# The cloth.


@given(close=ABOVE, more=FROM_ZERO, greatest=ABOVE, low=ABOVE, high=FROM_ZERO)
def test_one_sett_is_never_too_close_and_too_open_and_closer_is_never_quieter(close, more, greatest, low, high):
    band = (low, low + high)
    one, other = (cloth_fit.sett_remarks(sett, greatest, band, "A", "plain weave") for sett in (close, close + more))
    assert len({"sett_closer_than_usual", "sett_wider_than_usual"} & set(codes(one))) == (
        not band[0] <= close <= band[1]
    )
    assert ("sett_above_greatest" in codes(one)) == (close > greatest)
    assert "sett_above_greatest" not in codes(one) or "sett_above_greatest" in codes(other)


@given(wanted=st.none() | COUNT, ends=COUNT, width=ABOVE, hoped=st.none() | ABOVE, expected=ABOVE)
def test_a_changed_count_or_width_is_said_with_both_figures(wanted, ends, width, hoped, expected):
    said = cloth_fit.count_remarks(wanted, ends, width, (hoped, expected))
    assert ("ends_changed" in codes(said)) == (wanted is not None and wanted != ends)
    assert ("width_changed" in codes(said)) == (hoped is not None and abs(expected - hoped) > hoped / 100)


@given(multiple=COUNT, repeat=COUNT, balance=st.integers(0, 40), times=COUNT)
def test_a_multiple_is_missed_where_it_does_not_divide_the_ends(multiple, repeat, balance, times):
    ends = repeat * times + balance
    said = cloth_fit.multiple_remarks(multiple, repeat, balance, ends)
    assert bool(said) == bool(ends % multiple)


@given(order=ORDER)
def test_an_order_that_reads_alike_from_both_sides_is_not_called_unsymmetrical(order):
    both = colours.merged((*order, *order[::-1]))
    assert "order_not_symmetrical" not in codes(cloth_fit.order_edge_remarks(both, 0, 0, 0))
    assert bool(cloth_fit.order_edge_remarks(order, 0, 0, 0)) == (order[0] != order[-1] and len(order) > 1)


@given(order=ORDER, section=st.integers(5, 60), setups=st.integers(1, 9))
def test_an_order_proposed_falls_whole_into_the_section_with_the_yarns_as_they_follow(order, section, setups):
    for remark in cloth_fit.order_remarks(order, Fraction(section), setups):
        parts = [part.split() for part in remark.values["order"].split(", ")]
        assert section % sum(int(ends) for ends, _ in parts) == 0
        assert [code for _, code in parts] == [run.code for run in order]
        assert setups > 1


@given(needs=FROM_ZERO, left=st.fractions(-300, 300, max_denominator=20), margin=FROM_ZERO)
def test_one_more_piece_is_told_in_one_way_and_short_by_what_lacks(needs, left, margin):
    said = cloth_fit.one_more_remarks(OneMore(needs, left, margin, fits=left >= needs))
    assert len(said) == 1
    short = figures(said[0]).get("short")
    assert short is None or 0 < short == needs - left <= margin
    assert (said[0].code == "one_more_fits") == (left >= needs)


@given(margin=FROM_ZERO, waste=FROM_ZERO, measured=FROM_ZERO, missing=st.booleans())
def test_less_waste_than_was_measured_is_warned_of(margin, waste, measured, missing):
    said = cloth_fit.length_remarks(margin, waste, measured, "Heron", losses_missing=missing)
    assert ("waste_below_loom" in codes(said)) == (waste < measured)
    assert ("margin_small" in codes(said)) == (margin < cloth_fit.LEAST_MARGIN)
    assert ("losses_missing" in codes(said)) == missing


# Winding.


@given(turns=COUNT, build_up=COUNT, nominal=ABOVE, more=FROM_ZERO)
def test_build_up_is_said_once_it_is_worth_saying(turns, build_up, nominal, more):
    said = winding_fit.turn_remarks(turns, build_up, float(nominal + more), nominal)
    assert ("fewer_turns_would_do" in codes(said)) == (build_up < turns)
    assert "build_up" not in codes(said) or more > 0


@given(fewest=COUNT, likely=st.integers(0, 9), safe=st.integers(0, 9))
def test_turns_are_in_doubt_where_they_differ(fewest, likely, safe):
    said = winding_fit.doubt_remarks(TurnsRange(fewest, fewest + likely, fewest + likely + safe))
    assert bool(said) == (likely + safe > 0)


@given(share=st.fractions(0, Fraction(1, 20), max_denominator=2000), more=st.fractions(0, Fraction(1, 20)))
def test_a_greater_mismatch_is_never_quieter_and_an_unkind_fibre_never_either(share, more):
    limits = {"note": Fraction(3, 1000), "warn": Fraction(5, 1000), "stop": Fraction(1, 100)}

    def said(part, *, unkind):
        return loudness(winding_fit.mismatch_remarks((float(part) * 900, float(part)), **limits, unkind=unkind))

    assert said(share, unkind=False) <= said(share + more, unkind=False)
    assert said(share, unkind=False) <= said(share, unkind=True)
    assert (said(share, unkind=True) == LOUD[Severity.STOP]) == (2 * float(share) >= limits["stop"])


@given(thin=ABOVE, more=FROM_ZERO, selvedge=st.integers(0, 4), guessed=st.integers(0, 3))
def test_each_guess_is_said_and_a_thicker_yarn(thin, more, selvedge, guessed):
    guesses = [(f"yarn {at}", Fraction(45, 100)) for at in range(guessed)]
    said = winding_fit.build_remarks(guesses, ("T", thin + more), ("N", thin), selvedge)
    assert len(said) == guessed + (more > 0) + (selvedge > 0)


@given(fullest=COUNT, places=st.none() | COUNT, setups=COUNT, lost=FROM_ZERO)
def test_a_rack_too_small_is_warned_of(fullest, places, setups, lost):
    said = winding_fit.rack_remarks(fullest, places, setups, lost)
    assert ("spools_over_rack" in codes(said)) == (places is not None and fullest > places)
    assert ("rethreads" in codes(said)) == (lost > 0)


@given(length=ABOVE, path=st.none() | ABOVE, ends=COUNT, at_once=st.integers(1, 9))
def test_ends_that_are_left_over_are_fewer_than_are_wound_at_once(length, path, ends, at_once):
    said = {remark.code: figures(remark) for remark in winding_fit.chain_remarks(length, path, ends, at_once, None)}
    assert ("board_too_short" in said) == (path is not None and length > path)
    assert ("odd_ends" in said) == (ends % at_once > 0)
    assert "odd_ends" not in said or (ends - said["odd_ends"]["odd"]) % at_once == 0 < said["odd_ends"]["odd"] < at_once


@given(angle=st.none() | st.floats(0, 90), clear=st.booleans(), mend=st.floats(-20, 20))
def test_a_knot_on_a_bar_is_mended_by_so_much_whichever_way(angle, clear, mend):
    said = winding_fit.comb_remarks(angle, None, None, KnotPlace(0.0, 10.0, clear, mend))
    assert ("comb_must_turn" in codes(said)) == bool(angle)
    assert ("knot_on_bar" in codes(said)) == (not clear)
    assert all(value >= 0 for remark in said for value in figures(remark).values())


@given(yarn=st.integers(0, 10**7), more=st.integers(0, 10**7), box=st.booleans())
def test_no_caution_falls_away_for_a_longer_warp(yarn, more, box):
    one, other = (set(codes(winding_fit.caution_remarks(Fraction(long), box=box))) for long in (yarn, yarn + more))
    assert one <= other
    assert ("caution_box" in one) == box


# The yarn.


YARN = YarnChoice("A", "cotton", Fraction(150))
NEED = YarnNeed(YARN, 100, 1, 1, Fraction(500), 0, Fraction(0), Fraction(0), None)


@given(
    held=st.none() | st.integers(0, 1500).map(Fraction), needed=st.integers(1, 1000).map(Fraction), room=st.booleans()
)
def test_yarn_is_short_close_unknown_or_enough_and_never_two_of_them(held, needed, room):
    short = Fraction(0) if held is None else max(Fraction(0), needed - held)
    need = replace(NEED, yarn=replace(YARN, on_hand=held), warp_mass=needed, short=short)
    said = yarn_fit.yarn_remarks(need, "A", None, in_yarn_room=room)
    assert len(said) <= 1
    assert ("yarn_short" in codes(said)) == (short > 0)
    assert ("yarn_unknown" in codes(said)) == (held is None and room)
    assert not short or figures(said[0])["short"] + figures(said[0])["held"] == figures(said[0])["needed"]


def test_a_need_below_nothing_is_refused():
    with pytest.raises(ValueError, match="A"):
        yarn_fit.yarn_remarks(replace(NEED, warp_mass=Fraction(-1)), "A", None, in_yarn_room=True)
