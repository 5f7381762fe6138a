"""What makes a brief impossible, one slip at a time, each beside its own field."""

from dataclasses import fields, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.calc.terms.brief import (
    MOST_ENDS,
    MOST_RUNS,
    Allowances,
    BeamFacts,
    BeamKind,
    Bench,
    Fit,
    Layout,
    LoomFacts,
    Method,
    ReedFacts,
    Tolerances,
    WarpBrief,
    YarnChoice,
)
from planner.calc.terms.plan import ColourRun
from planner.calc.terms.problems import BOUNDED, problems_of

BEAM = BeamFacts(BeamKind.SECTIONAL, Fraction(9144, 100), Fraction(12192, 100), pitch=Fraction(508, 100), sections=24)
LOOM = LoomFacts(
    "Loom by the window", Fraction(120), BEAM, Fraction(90), reeds=(ReedFacts("10 dpi", Fraction(4), Fraction(100)),)
)
INDIGO = YarnChoice("A", "8/2 cotton", Fraction(148), colour_name="indigo")
WELD = YarnChoice("B", "8/2 cotton", Fraction(148), colour_name="weld")
TOWELS = WarpBrief(
    "Eight towels", LOOM, (INDIGO,), Fraction(8), width_in_reed=Fraction(61), pieces=8, finished_length=Fraction(71)
)
STRIPES = replace(TOWELS, yarns=(INDIGO, WELD), colour_order=(ColourRun("A", 8), ColourRun("B", 4)))

ABOVE_ZERO = [path for path, _, spec in BOUNDED if spec.above or spec.least > 0]
FROM_ZERO = [path for path, _, spec in BOUNDED if path not in ABOVE_ZERO]


def changed(brief, path, value):
    """The same brief with one field changed, however deep."""
    first, _, rest = path.partition(".")
    return replace(brief, **{first: changed(getattr(brief, first), rest, value) if rest else value})


def found(brief):
    return [(problem.field, problem.code) for problem in problems_of(brief)]


@pytest.mark.parametrize("brief", [TOWELS, STRIPES], ids=["one yarn", "stripes"])
def test_a_sound_brief_has_no_problems(brief):
    assert found(brief) == []


@pytest.mark.parametrize("places", [(25,), (3, 0), (-1,), (1, 24, 400)])
def test_a_chain_beyond_the_beam_is_refused(places):
    assert found(replace(TOWELS, chain_sections=places)) == [("chain_sections", "not_on_beam")]


@pytest.mark.parametrize("places", [(), (1, 24), tuple(range(1, 25)), (24, 3, 3)])
def test_any_position_of_the_beam_may_be_a_chain(places):
    assert found(replace(TOWELS, chain_sections=places)) == []


def test_chains_beyond_the_beam_are_nothing_to_the_method_chains():
    assert found(replace(TOWELS, chain_sections=(400,), method=Method.CHAIN)) == []


@pytest.mark.parametrize(
    "path",
    [path for path in ABOVE_ZERO if path not in {"ends", "finished_width", "warp_length", "turns"}],
)
def test_nought_is_refused_where_a_number_must_be_above_zero(path):
    assert (path, "too_small") in found(changed(TOWELS, path, Fraction(0)))


@pytest.mark.parametrize("path", FROM_ZERO)
def test_below_nought_is_refused_everywhere(path):
    assert (path, "too_small") in found(changed(TOWELS, path, Fraction(-1)))


@pytest.mark.parametrize("path", [path for path in FROM_ZERO if path != "loom.beam.sections"])
def test_nought_is_welcome_where_there_may_be_none(path):
    # The limits of mismatch must rise, so all three are set to nought together.
    brief = replace(TOWELS, tolerances=replace(TOWELS.tolerances, mismatch_note=Fraction(0), mismatch_warn=Fraction(0)))
    assert found(changed(brief, path, Fraction(0))) == []


@pytest.mark.parametrize("path", [*ABOVE_ZERO, *FROM_ZERO])
def test_a_number_beyond_any_loom_is_refused(path):
    assert (path, "too_large") in found(changed(TOWELS, path, Fraction(10**9)))


@pytest.mark.parametrize("name", ["draw_in", "width_shrinkage", "length_shrinkage", "take_up"])
def test_a_loss_of_everything_is_refused(name):
    assert found(changed(TOWELS, f"allowances.{name}", Fraction(1))) == [(f"allowances.{name}", "too_large")]


@pytest.mark.parametrize(
    ("given", "problem"),
    [
        ({}, ("finished_width", "width_missing")),
        ({"finished_width": Fraction(50), "ends": 400}, ("ends", "width_twice")),
        ({"finished_width": Fraction(50), "width_in_reed": Fraction(61)}, ("width_in_reed", "width_twice")),
    ],
)
def test_exactly_one_of_the_widths_is_wanted(given, problem):
    blank = {"finished_width": None, "width_in_reed": None, "ends": None}
    assert found(replace(TOWELS, **(blank | given))) == [problem]


@pytest.mark.parametrize(
    ("given", "problem"),
    [
        ({}, ("finished_length", "length_missing")),
        ({"finished_length": Fraction(71), "turns": 11}, ("turns", "length_twice")),
        ({"warp_length": Fraction(900), "turns": 11}, ("turns", "length_twice")),
    ],
)
def test_exactly_one_of_the_lengths_is_wanted(given, problem):
    blank = {"finished_length": None, "warp_length": None, "turns": None}
    assert found(replace(TOWELS, **(blank | given))) == [problem]


AS_TYPED = replace(STRIPES, width_in_reed=None, colour_layout=Layout.AS_TYPED)


def test_an_order_as_typed_sets_the_width_by_itself():
    assert found(AS_TYPED) == []
    assert found(replace(AS_TYPED, ends=12)) == []


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"ends": 13}, ("colour_order", "ends_differ")),
        ({"width_in_reed": Fraction(61)}, ("width_in_reed", "width_as_typed")),
        ({"yarns": (INDIGO,), "colour_order": ()}, ("colour_order", "order_missing")),
    ],
)
def test_an_order_as_typed_must_agree_with_the_rest(change, problem):
    assert found(replace(AS_TYPED, **change)) == [problem]


@pytest.mark.parametrize(
    ("order", "code"),
    [
        ((), "order_missing"),
        ((ColourRun("C", 8),), "unknown_yarn"),
        ((ColourRun("A", 0),), "too_small"),
        ((ColourRun("A", MOST_ENDS + 1),), "too_large"),
        ((ColourRun("A", 1),) * (MOST_RUNS + 1), "too_large"),
    ],
)
def test_an_impossible_colour_order_is_refused(order, code):
    assert found(replace(STRIPES, colour_order=order)) == [("colour_order", code)]


def test_whole_repeats_need_something_to_repeat():
    assert found(replace(TOWELS, fit=Fit(whole_repeats=True))) == [("colour_order", "order_missing")]


@pytest.mark.parametrize(
    ("yarns", "problem"),
    [
        ((), ("yarns", "yarns_missing")),
        ((replace(INDIGO, code=" "),), ("yarns.0.code", "code_unsound")),
        ((replace(INDIGO, code="A,B"),), ("yarns.0.code", "code_unsound")),
        ((replace(INDIGO, tex=Fraction(0)),), ("yarns.0.tex", "too_small")),
        ((replace(INDIGO, sett=Fraction(0)),), ("yarns.0.sett", "too_small")),
        ((replace(INDIGO, wound_density=Fraction(11)),), ("yarns.0.wound_density", "too_large")),
        ((replace(INDIGO, on_hand=Fraction(-1)),), ("yarns.0.on_hand", "too_small")),
    ],
)
def test_an_unsound_yarn_is_named_by_its_place(yarns, problem):
    assert found(replace(TOWELS, yarns=yarns)) == [problem]


def test_two_yarns_may_not_share_a_code():
    brief = replace(STRIPES, yarns=(INDIGO, replace(WELD, code="a")), colour_order=(ColourRun("A", 8),))
    assert found(brief) == [("yarns.1.code", "code_twice")]


def test_a_weft_needs_a_count():
    assert found(replace(TOWELS, weft=replace(WELD, tex=Fraction(0)))) == [("weft.tex", "too_small")]


@pytest.mark.parametrize(
    ("path", "value", "problem"),
    [
        ("loom.beam.pitch", None, ("loom.beam.pitch", "too_small")),
        ("loom.beam.pitch", Fraction(0), ("loom.beam.pitch", "too_small")),
        ("loom.beam.sections", 0, ("loom.beam.sections", "too_small")),
        ("loom.beam.divider", Fraction(6), ("loom.beam.divider", "too_large")),
        ("loom.beam.sections", 26, ("loom.beam.sections", "beam_too_narrow")),
        ("loom.heddles", (100, 100), ("loom.heddles", "heddles_and_shafts")),
        ("loom.heddles", (100, 100, 100, -1), ("loom.heddles", "too_small")),
        ("loom.reeds", (ReedFacts("none", Fraction(0), Fraction(90)),), ("loom.reeds.0", "reed_unsound")),
        ("loom.reeds", (ReedFacts("12", Fraction(5), Fraction(90)),) * 2, ("loom.reeds.1", "reed_twice")),
    ],
)
def test_an_impossible_loom_is_refused(path, value, problem):
    assert found(changed(TOWELS, path, value)) == [problem]


def test_a_plain_beam_needs_no_sections():
    loom = replace(LOOM, beam=BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(120)))
    assert found(replace(TOWELS, loom=loom, method=Method.CHAIN)) == []
    assert found(replace(TOWELS, loom=loom)) == [("method", "box_needs_sections")]


@pytest.mark.parametrize("threading", [(1, 2, 5), (0, 1)])
def test_a_threading_keeps_to_the_shafts_there_are(threading):
    assert found(replace(TOWELS, threading=threading)) == [("threading", "shaft_unknown")]


def test_a_threading_longer_than_any_warp_is_refused():
    assert found(replace(TOWELS, threading=(1,) * (MOST_ENDS + 1))) == [("threading", "too_large")]


def test_a_yarns_own_sett_counts_towards_the_most_ends():
    crammed = replace(INDIGO, sett=Fraction(400))
    assert found(replace(TOWELS, yarns=(crammed,))) == [("width_in_reed", "too_many_ends")]


def test_far_too_many_sections_are_refused():
    narrow = changed(TOWELS, "loom.beam.pitch", Fraction(1, 100))
    assert found(narrow) == [("loom.beam.pitch", "too_small")]


def test_many_ends_given_directly_are_named_by_their_own_field():
    brief = replace(TOWELS, width_in_reed=None, ends=MOST_ENDS, fit=Fit(selvedge=1))
    assert ("ends", "too_many_ends") in found(brief)


@pytest.mark.parametrize("given", [{"warp_length": Fraction(990_000)}, {"turns": 5_000}])
def test_a_length_given_directly_is_bounded_too(given):
    small = changed(TOWELS, "loom.beam.circumference", Fraction(50))
    brief = replace(small, finished_length=None, bench=Bench(tie_every=Fraction(1)), **given)
    assert {field for field, _ in found(brief)} <= {"warp_length", "bench.tie_every"}
    assert found(brief)


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"sett": Fraction(400)}, ("width_in_reed", "too_many_ends")),
        ({"finished_length": Fraction(900_000)}, ("finished_length", "too_long")),
        ({"bench": Bench(tie_every=Fraction(1, 100))}, ("bench.tie_every", "too_small")),
        ({"bench": Bench(raddle_space=Fraction(1, 1000))}, ("bench.raddle_space", "too_small")),
        ({"shift": Fraction(-61)}, ("shift", "too_large")),
        ({"tolerances": Tolerances(mismatch_note=Fraction(1, 10))}, ("tolerances.mismatch_warn", "order_of_limits")),
    ],
)
def test_fields_that_are_sound_alone_may_be_impossible_together(change, problem):
    assert found(replace(TOWELS, **change)) == [problem]


def test_rules_between_fields_wait_until_each_is_sound():
    brief = replace(TOWELS, sett=Fraction(0), shift=Fraction(900))
    assert found(brief) == [("sett", "too_small")]


def test_every_allowance_is_bounded():
    """A new allowance without a bound would let hostile briefs through."""
    bounded = {path.removeprefix("allowances.") for path in FROM_ZERO if path.startswith("allowances.")}
    assert bounded == {field.name for field in fields(Allowances)} - {"margin_on"}


@given(
    path=st.sampled_from([*ABOVE_ZERO, *FROM_ZERO]),
    value=st.fractions(max_denominator=1000) | st.integers(-(10**9), 10**9),
)
def test_any_number_gives_sentences_and_never_an_error(path, value):
    assert all(problem.message.endswith(".") for problem in problems_of(changed(TOWELS, path, value)))


BALANCED = replace(STRIPES, fit=Fit(whole_repeats=True, balance=8))


@pytest.mark.parametrize("most", [0, 1, 8, 11])
def test_a_balance_within_one_repeat_is_no_problem(most):
    """A repeat of 8 A, 4 B holds 12 ends: eleven more are still a part of one."""
    assert found(changed(BALANCED, "fit.balance", most)) == []


@pytest.mark.parametrize("far", [12, 13, 9999])
def test_a_balance_of_a_whole_repeat_or_more_is_refused_beside_its_field(far):
    assert found(changed(BALANCED, "fit.balance", far)) == [("fit.balance", "balance_over_repeat")]


def test_the_most_that_a_balance_can_be_is_said():
    (problem,) = problems_of(changed(BALANCED, "fit.balance", 9999))
    assert problem.message.startswith("One repeat has 12 ends, so the balance can be 11 at most")


@pytest.mark.parametrize("brief", [replace(STRIPES, fit=Fit(balance=8)), replace(TOWELS, fit=Fit(balance=8))])
def test_a_balance_that_no_whole_repeats_precede_is_refused_beside_its_field(brief):
    assert found(brief) == [("fit.balance", "balance_without_repeats")]


def test_a_typed_count_is_held_against_its_balance():
    """116 ends are 9 repeats of 12 and 8 more, as was asked: nothing to refuse."""
    assert found(replace(STRIPES, width_in_reed=None, ends=116, fit=Fit(balance=8))) == []


def test_an_order_as_typed_takes_no_balance():
    brief = replace(BALANCED, width_in_reed=None, colour_layout=Layout.AS_TYPED)
    assert found(brief) == [("fit.balance", "balance_as_typed")]
