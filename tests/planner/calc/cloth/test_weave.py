"""A weave typed as its lift plan: counts that mill books print, and what holds for any weave."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.cloth.sett import WEAVES, greatest_sett
from planner.calc.cloth.weave import (
    MOST_TEXT,
    MOST_THREADS,
    count_weave,
    drawdown,
    idle_remarks,
    intersections_along,
    read_lifts,
    rough_contraction,
    run_together,
    shafts_raised,
)

PLAIN, TWILL = "1 / 2", "1,2 / 2,3 / 3,4 / 4,1"
SATIN = "1 / 4 / 2 / 5 / 3"
GRIDS = st.integers(1, 8).flatmap(
    lambda ends: st.lists(st.tuples(*[st.booleans()] * ends), min_size=1, max_size=8).map(tuple)
)
TYPED = [
    ("plain", "x. / .x"),
    ("twill_2_1", "xx. / .xx / x.x"),
    ("twill_2_2", TWILL),
    ("twill_1_3", "1 / 2 / 3 / 4"),
    ("satin_5", SATIN),
    ("satin_8", "1 / 4 / 7 / 2 / 5 / 8 / 3 / 6"),
    ("basket_2_2", "xx.. / xx.. / ..xx / ..xx"),
]


@pytest.mark.parametrize(("key", "text"), TYPED)
def test_a_typed_weave_has_the_sett_of_its_name(key, text):
    """J. T. Taylor, Cotton Weaving and Designing, 6th ed.: ends over ends and intersections."""
    known = WEAVES[key]
    typed = count_weave(read_lifts(text)).mean
    assert greatest_sett(Fraction(1), *typed) == greatest_sett(Fraction(1), known.ends, known.intersections)


@pytest.mark.parametrize(
    ("text", "floats"), [(PLAIN, (1, 1)), (TWILL, (2, 2)), (SATIN, (4, 4)), ("xx.. / xx.. / ..xx / ..xx", (2, 2))]
)
def test_floats_are_counted_round_the_repeat(text, floats):
    counted = count_weave(read_lifts(text))
    assert (counted.warp_float, counted.weft_float) == floats


def test_an_uneven_weave_names_its_tightest_pick():
    counted = count_weave(read_lifts("x.x. / xx.."))
    assert (counted.of_picks, counted.tightest, counted.mean) == ((4, 2), (4, 4), (8, 6))


def test_an_end_that_never_crosses_has_no_longest_float():
    counted = count_weave(read_lifts("x. / x."))
    assert (counted.of_ends, counted.warp_float, counted.weft_float) == ((0, 0), None, 1)


@pytest.mark.parametrize("text", [TWILL, "xx../.xx./..xx/x..x", "1 2\n2 3\n3 4\n4 1\n", "XX..\n.XX.\n..XX\nX..X"])
def test_a_weave_may_be_typed_in_several_ways(text):
    assert read_lifts(text) == read_lifts(TWILL)


@pytest.mark.parametrize("text", ["1 3, 2 4", "1+3 / 2+4", "1 + 3, 2 + 4", "1,3 / 2,4", "1, 3\n2, 4", "x.x., .x.x"])
def test_picks_are_parted_by_commas_where_there_is_no_stroke(text):
    assert shafts_raised(read_lifts(text)) == ((1, 3), (2, 4))


@pytest.mark.parametrize("text", ["1 3, 2 4 / 1 2", "1+3 2+4", "1+3,2 / 4", "1,,2", "1 /2 a", "+1 / 2", "1+ / 2"])
def test_a_pick_that_mixes_its_signs_is_refused_and_never_guessed(text):
    with pytest.raises(ValueError, match="no pick"):
        read_lifts(text)


@pytest.mark.parametrize(
    ("text", "shaft"),
    [("12 / 34", 12), ("1 2 / 34", 34), ("12, 23, 34, 41", 12), (" / ".join(map(str, range(1, 13))), None)],
)
def test_shafts_run_together_are_seen(text, shaft):
    assert run_together(read_lifts(text)) == shaft


@given(woven=GRIDS, threading=st.lists(st.integers(1, 8), min_size=1, max_size=12))
def test_intersections_of_a_drawdown_are_those_counted_square_by_square(woven, threading):
    """Every pick is walked end by end, by hand as it were, with the shafts as the plan names them."""
    lifts = shafts_raised(woven)
    counted = count_weave(drawdown(threading, lifts))
    pairs = list(zip(threading, (*threading[1:], threading[0]), strict=True))
    assert counted.of_picks == tuple(sum((one in up) != (other in up) for one, other in pairs) for up in lifts)


@given(woven=GRIDS)
def test_ends_on_shafts_of_their_own_weave_the_lift_plan_itself(woven):
    assert drawdown(range(1, len(woven[0]) + 1), shafts_raised(woven)) == woven


def test_idle_shafts_need_a_lift_plan():
    with pytest.raises(ValueError, match="lifts"):
        idle_remarks((1, 2), [])


def test_a_dash_is_a_pick_over_no_end():
    assert read_lifts("1,2 / -") == ((True, True), (False, False))


def test_a_straight_draw_weaves_the_lift_plan_itself():
    lifts = [(1, 2), (2, 3), (3, 4), (4, 1)]
    assert drawdown((1, 2, 3, 4), lifts) == read_lifts(TWILL)


def test_a_point_draw_turns_the_twill():
    woven = drawdown((1, 2, 3, 2), [(1,), (2,), (3,)])
    assert woven == read_lifts("x... / .x.x / ..x.")


@given(weave=GRIDS)
def test_a_thread_crosses_an_even_number_of_times(weave):
    """Whatever goes to the back comes to the face again before the repeat is over."""
    counted = count_weave(weave)
    assert {count % 2 for count in counted.of_ends + counted.of_picks} == {0}


@given(weave=GRIDS, ends=st.integers(0, 7), picks=st.integers(0, 7))
def test_the_repeat_may_begin_anywhere(weave, ends, picks):
    moved = tuple(pick[ends % len(pick) :] + pick[: ends % len(pick)] for pick in weave)
    moved = moved[picks % len(moved) :] + moved[: picks % len(moved)]
    first, second = count_weave(weave), count_weave(moved)
    assert sorted(first.of_ends) == sorted(second.of_ends)
    assert (first.mean, first.warp_float, first.weft_float) == (second.mean, second.warp_float, second.weft_float)


@given(weave=GRIDS)
def test_the_back_of_a_cloth_is_the_same_weave(weave):
    back = tuple(tuple(not over for over in pick) for pick in weave)
    assert count_weave(back) == count_weave(weave)


@given(weave=GRIDS)
def test_turned_by_a_quarter_ends_become_picks(weave):
    first, second = count_weave(weave), count_weave(tuple(zip(*weave, strict=True)))
    assert (first.of_ends, first.warp_float) == (second.of_picks, second.weft_float)


@given(weave=GRIDS)
def test_what_is_drawn_as_a_grid_is_read_back(weave):
    assert read_lifts("/".join("".join("x" if over else "." for over in pick) for pick in weave)) == weave


def picks_or_reason(text):
    """How many picks were read, or the sentence of the refusal; any other error is a fault."""
    try:
        return count_weave(read_lifts(text)).picks, ""
    except ValueError as refused:
        return 0, str(refused)


@given(text=st.text(max_size=60) | st.text("0123456789xX./,- \n", max_size=60))
def test_any_text_is_a_weave_or_a_reason(text):
    picks, reason = picks_or_reason(text)
    assert picks or reason.startswith("text")


@given(crossings=st.fractions(0, 80, max_denominator=50), tex=st.fractions(5, 900, max_denominator=50))
def test_contraction_grows_with_crossings_and_with_a_thicker_weft(crossings, tex):
    shrunk = rough_contraction(crossings, tex)
    assert rough_contraction(2 * crossings, tex) == rough_contraction(crossings, 2 * tex) == 2 * shrunk >= 0


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: read_lifts(""), "text"),
        (lambda: read_lifts("x. / x.."), "unequal"),
        (lambda: read_lifts("x. / 1"), "text"),
        (lambda: read_lifts("0 / 1"), "from 1"),
        (lambda: read_lifts("- / -"), "at least one"),
        (lambda: read_lifts(f"{MOST_THREADS + 1}"), "shafts from"),
        (lambda: read_lifts("x" * (MOST_THREADS + 1)), "more than"),
        (lambda: read_lifts("1/" * (MOST_THREADS + 1)), "picks"),
        (lambda: read_lifts("1" * (MOST_TEXT + 1)), "too long"),
        (lambda: drawdown((), [(1,)]), "threading"),
        (lambda: drawdown((1,), []), "lifts"),
        (lambda: count_weave(()), "weave"),
        (lambda: count_weave(((),)), "weave"),
        (lambda: count_weave(((True,), (True, False))), "weave"),
        (lambda: intersections_along(Fraction(0), 2, 5), "threads"),
        (lambda: intersections_along(Fraction(1), -1, 5), "intersections"),
        (lambda: intersections_along(Fraction(1), 2, 0), "repeat"),
        (lambda: rough_contraction(Fraction(-1), Fraction(1)), "crossings"),
        (lambda: rough_contraction(Fraction(1), Fraction(0)), "weft_tex"),
        (lambda: rough_contraction(Fraction(1), Fraction(1), Fraction(0)), "multiplier"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=named):
        misuse()
