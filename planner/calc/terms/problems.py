"""What makes a brief impossible to work out, said beside the field it concerns.

Form and API ask the same question, so both refuse the same briefs in the same words. What can be worked out but
is unwise is no problem: it becomes a remark in the plan. Most rules are rows of a table.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import lcm
from operator import attrgetter
from typing import Any

from planner.calc.terms.bounds import (
    MOST_CODE,
    MOST_ENDS,
    MOST_GROUPS,
    MOST_LENGTH,
    MOST_PICKS,
    MOST_RUNS,
    MOST_SECTIONS_OF_WARP,
    MOST_THREADED,
    MOST_TURNS,
    MOST_WIDTH,
    MOST_YARNS,
)
from planner.calc.terms.brief import WarpBrief, YarnChoice
from planner.calc.terms.field_table import Spec, entries, walk


@dataclass(frozen=True, slots=True)
class Problem:
    """Why a brief cannot be worked out, beside the field it concerns; the message says what to do."""

    field: str
    """Its name in the brief, dotted for nested ones."""
    code: str
    message: str


CENTRE_AND_SECTIONS = "An even number of sections has a divider at the middle, an odd number a section."
"""The sentence of the loom's own form, where a beam is entered."""

WEFT_TEX = replace(next(one.spec for one in entries(YarnChoice) if one.name == "tex"), called="The count of the weft")
NOT_IN_CODES = frozenset("(),;\n\r")


def problems_of(brief: WarpBrief) -> tuple[Problem, ...]:
    """Give everything that makes a brief impossible to work out, in the order of the form.

    Rules that combine fields are asked only when each field is sound by itself, so that one slip gives one sentence.

    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts, YarnChoice, WarpBrief
    >>> beam = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom by the window", Fraction(100), beam, Fraction(90))
    >>> yarns = (YarnChoice("A", "8/2 cotton", Fraction(148)),)
    >>> [problem.code for problem in problems_of(WarpBrief("Towels", loom, yarns, Fraction(8), ends=300))]
    ['length_missing']
    """
    alone = tuple(problem for check in _ALONE for problem in check(brief))
    return alone or tuple(problem for check in _TOGETHER for problem in check(brief))


BOUNDED = tuple((path, attrgetter(path), entry.spec) for path, entry in walk(WarpBrief) if entry.spec.called)
OF_YARN = tuple(entry for entry in entries(YarnChoice) if entry.spec.called)


def _out_of_bounds(brief: WarpBrief) -> Iterator[Problem]:
    for path, value_of, spec in BOUNDED:
        yield from _bounded(path, spec, value_of(brief))
    if brief.weft is not None:
        yield from _bounded("weft.tex", WEFT_TEX, brief.weft.tex)


def _bounded(path: str, spec: Spec, value: Any) -> Iterator[Problem]:
    if value is None:
        return
    if value < spec.least or (spec.above and value == spec.least):
        ask = "must be above zero" if spec.above or spec.least > 0 else "cannot be below zero"
        yield Problem(path, "too_small", f"{spec.called} {ask}.")
    elif value > spec.most:
        yield Problem(path, "too_large", f"{spec.called} is far too large; check the number and its unit.")


def _width(brief: WarpBrief) -> Iterator[Problem]:
    names = ("finished_width", "width_in_reed", "ends")
    given = [name for name in names if getattr(brief, name) is not None]
    typed = brief.colour_layout == "as_typed"
    if not given and not typed:
        yield Problem(names[0], "width_missing", "Give the finished width, the width in reed or the number of ends.")
    elif len(given) > 1:
        yield Problem(given[1], "width_twice", "Give only one of finished width, width in reed and number of ends.")
    elif typed and given and given != ["ends"]:
        message = "The colour order as typed sets the number of ends; leave this empty."
        yield Problem(given[0], "width_as_typed", message)


def _length(brief: WarpBrief) -> Iterator[Problem]:
    names = ("finished_length", "warp_length", "turns")
    given = [name for name in names if getattr(brief, name) is not None]
    if not given:
        yield Problem(names[0], "length_missing", "Give the finished length, the warp length or the beam turns.")
    elif len(given) > 1:
        yield Problem(given[1], "length_twice", "Give only one of finished length, warp length and beam turns.")


def _beam(brief: WarpBrief) -> Iterator[Problem]:
    beam = brief.loom.beam
    if beam.kind != "sectional":
        return
    if beam.sections < 1:
        yield Problem("loom.beam.sections", "too_small", "A sectional beam has at least one section.")
    if beam.pitch is None or beam.pitch <= 0:
        yield Problem("loom.beam.pitch", "too_small", "A sectional beam needs its section width, above zero.")
    elif beam.divider >= beam.pitch:
        yield Problem("loom.beam.divider", "too_large", "A divider must be thinner than the section is wide.")
    elif beam.pitch * (beam.sections - 1) > beam.usable_width:
        # The outermost dividers of some beams stand outside the usable width: one section of grace.
        yield Problem("loom.beam.sections", "beam_too_narrow", "So many sections are wider than the beam.")
    if beam.sections > 0 and (beam.sections % 2 == 1) != (beam.centre == "section"):
        yield Problem("loom.beam.centre", "centre_and_sections", CENTRE_AND_SECTIONS)


def _loom(brief: WarpBrief) -> Iterator[Problem]:
    loom = brief.loom
    if loom.heddles and len(loom.heddles) != loom.shafts:
        yield Problem("loom.heddles", "heddles_and_shafts", "Give the heddles of every shaft, or of none.")
    if any(count < 0 for count in loom.heddles):
        yield Problem("loom.heddles", "too_small", "A shaft cannot have fewer than no heddles.")
    if loom.beam.tape * 10 > loom.beam.circumference:
        message = "A tape that is wrong by more than a tenth of the circumference measures nothing."
        yield Problem("loom.beam.tape", "tape_unsound", message)
    for at, reed in enumerate(loom.reeds):
        if not (0 < reed.dents <= MOST_WIDTH and 0 < reed.reed_length <= MOST_WIDTH):
            message = f"The reed “{reed.name[:20]}” needs dents and a length above zero and below {MOST_WIDTH}."
            yield Problem(f"loom.reeds.{at}", "reed_unsound", message)
        if any(reed.name == other.name for other in loom.reeds[:at]):
            message = f"Two reeds are called “{reed.name[:20]}”; give each a name of its own."
            yield Problem(f"loom.reeds.{at}", "reed_twice", message)


def _yarns(brief: WarpBrief) -> Iterator[Problem]:
    if not 1 <= len(brief.yarns) <= MOST_YARNS:
        yield Problem("yarns", "yarns_missing", f"Choose the warp yarn; at most {MOST_YARNS}.")
    for at, yarn in enumerate(brief.yarns):
        for entry in OF_YARN:
            yield from _bounded(f"yarns.{at}.{entry.name}", entry.spec, getattr(yarn, entry.name))
        yield from _density_range(f"yarns.{at}.density_low", yarn)


def _density_range(place: str, yarn: YarnChoice) -> Iterator[Problem]:
    """A range has both ends, and the density planned with lies in it."""
    ends = (yarn.density_low, yarn.density_high)
    if ends == (None, None):
        return
    low, likely, high = yarn.density_low, yarn.wound_density, yarn.density_high
    if low is None or likely is None or high is None or not low <= likely <= high:
        message = "A measured density needs its least, its likeliest and its most, rising in this order."
        yield Problem(place, "range_unsound", message)


def _codes(brief: WarpBrief) -> Iterator[Problem]:
    codes = [yarn.code.strip().casefold() for yarn in brief.yarns]
    for at, yarn in enumerate(brief.yarns):
        if not codes[at] or len(yarn.code) > MOST_CODE or NOT_IN_CODES & set(yarn.code):
            message = "A yarn needs a short code without commas or brackets, such as A."
            yield Problem(f"yarns.{at}.code", "code_unsound", message)
        elif codes[at] in codes[:at]:
            message = f"Two yarns have the code {yarn.code}; each needs its own."
            yield Problem(f"yarns.{at}.code", "code_twice", message)


def _order(brief: WarpBrief) -> Iterator[Problem]:
    order = brief.colour_order
    codes = {yarn.code for yarn in brief.yarns}
    strange = sorted({run.code for run in order} - codes)
    if strange:
        yield Problem("colour_order", "unknown_yarn", f"There is no yarn with the code {strange[0][:MOST_CODE]}.")
    if any(run.ends < 1 for run in order):
        yield Problem("colour_order", "too_small", "Each stripe of the colour order has at least one end.")
    if len(order) > MOST_RUNS or sum(run.ends for run in order) > MOST_ENDS:
        message = f"A colour order has at most {MOST_RUNS} stripes and {MOST_ENDS} ends."
        yield Problem("colour_order", "too_large", message)
    if not order and len(brief.yarns) > 1:
        yield Problem("colour_order", "order_missing", "Say how the yarns follow each other, such as 8 A, 4 B.")


def _threading(brief: WarpBrief) -> Iterator[Problem]:
    shafts = brief.loom.shafts
    if len(brief.threading) > MOST_ENDS:
        yield Problem("threading", "too_large", f"One repeat of the threading has at most {MOST_ENDS} ends.")
    elif any(not 1 <= shaft <= shafts for shaft in brief.threading):
        yield Problem("threading", "shaft_unknown", f"The threading must keep to shafts 1 to {shafts}.")


def _lifts(brief: WarpBrief) -> Iterator[Problem]:
    shafts, typed = brief.loom.shafts, brief.weave == "as_typed"
    raised = {shaft for pick in brief.lifts for shaft in pick}
    beyond = max((shaft for shaft in raised if not 1 <= shaft <= shafts), default=None)
    if typed and not brief.lifts:
        yield Problem("lifts", "lifts_missing", "Type the lift plan: the shafts raised in each pick.")
    elif brief.lifts and not typed:
        yield Problem("lifts", "lifts_not_used", "A lift plan counts with the weave “as typed” alone.")
    elif typed and (len(brief.lifts) > MOST_PICKS or len(brief.threading) > MOST_THREADED):
        message = f"A weave is counted on at most {MOST_THREADED} ends and {MOST_PICKS} picks of one repeat."
        yield Problem("lifts", "too_large", message)
    elif beyond is not None:
        message = f"There is no shaft {beyond} on this loom; it has shafts 1 to {shafts}."
        figures = str(beyond)
        several = f" For several shafts write {' '.join(figures)} or {'+'.join(figures)}." if len(figures) > 1 else ""
        yield Problem("lifts", "shaft_unknown", message + several)


def _never_crosses(brief: WarpBrief) -> Iterator[Problem]:
    threaded = set(brief.threading or range(1, int(brief.loom.shafts) + 1))
    if brief.lifts and not any(0 < len(threaded.intersection(pick)) < len(threaded) for pick in brief.lifts):
        yield Problem("lifts", "never_crosses", "With this threading no pick goes over and under: nothing is woven.")


def _needs_order(brief: WarpBrief) -> Iterator[Problem]:
    if brief.colour_order:
        return
    if brief.colour_layout == "as_typed":
        yield Problem("colour_order", "order_missing", "Type the colour order of the whole warp.")
    elif brief.fit.whole_repeats:
        yield Problem("colour_order", "order_missing", "Whole repeats need a colour order to repeat.")


def _balance(brief: WarpBrief) -> Iterator[Problem]:
    """Balance follows whole repeats; a count that was typed is held against it, and nothing else can honour it."""
    balance, repeat = brief.fit.balance, sum(run.ends for run in brief.colour_order)
    if not balance:
        return
    if brief.colour_layout == "as_typed":
        message = "The colour order as typed holds every end; leave the balance empty, or type its ends."
        yield Problem("fit.balance", "balance_as_typed", message)
    elif not brief.fit.whole_repeats and brief.ends is None:
        message = "Balance ends follow whole repeats; ask for whole repeats too, or leave the balance empty."
        yield Problem("fit.balance", "balance_without_repeats", message)
    elif balance >= repeat > 0:
        message = f"One repeat has {repeat} ends, so the balance can be {repeat - 1} at most; more is a whole repeat."
        yield Problem("fit.balance", "balance_over_repeat", message)


def _as_typed(brief: WarpBrief) -> Iterator[Problem]:
    total = sum(run.ends for run in brief.colour_order)
    if brief.colour_layout == "as_typed" and brief.ends is not None and total and total != brief.ends:
        message = f"The colour order holds {total} ends, the number of ends says {brief.ends}; they must be the same."
        yield Problem("colour_order", "ends_differ", message)


def _method(brief: WarpBrief) -> Iterator[Problem]:
    if brief.method == "box" and brief.loom.beam.kind != "sectional":
        message = "The tension box fills sections; this beam has none. Choose chains."
        yield Problem("method", "box_needs_sections", message)


def _chain_sections(brief: WarpBrief) -> Iterator[Problem]:
    sections = brief.loom.beam.sections
    if brief.method != "box" or brief.loom.beam.kind != "sectional":
        return
    beyond = next((place for place in brief.chain_sections if not 1 <= place <= sections), None)
    if beyond is not None:
        message = f"This beam has sections 1 to {sections}; there is no section {beyond}."
        yield Problem("chain_sections", "not_on_beam", message)


def _tolerances(brief: WarpBrief) -> Iterator[Problem]:
    limits = brief.tolerances
    if not limits.mismatch_note <= limits.mismatch_warn <= limits.mismatch_stop:
        message = "The mismatch that is noted, warned of and stopped must rise in that order."
        yield Problem("tolerances.mismatch_warn", "order_of_limits", message)


def _shift(brief: WarpBrief) -> Iterator[Problem]:
    if 2 * abs(brief.shift) > brief.loom.beam.usable_width:
        yield Problem("shift", "too_large", "That shift would move the warp off the beam.")


def _size(brief: WarpBrief) -> Iterator[Problem]:
    loss, beam = brief.allowances, brief.loom.beam
    finished = brief.finished_width or Fraction(0)
    width = brief.width_in_reed or finished / ((1 - loss.draw_in) * (1 - loss.width_shrinkage))
    setts = [yarn.sett or brief.sett for yarn in brief.yarns]
    order = sum(run.ends for run in brief.colour_order)
    fit = brief.fit
    step = lcm(order, fit.multiple) if order and fit.whole_repeats else max(order, fit.multiple)
    fewest = Fraction(max(brief.ends or 0, step))
    ends = max(width * max(setts), fewest) + 2 * brief.fit.selvedge + brief.fit.balance
    width = max(width, ends / min(setts))
    if ends > MOST_ENDS:
        field = next((n for n in ("finished_width", "width_in_reed") if getattr(brief, n) is not None), "ends")
        yield Problem(field, "too_many_ends", f"That makes more than {MOST_ENDS} ends; check width and sett.")
    length = _roughly(brief)
    field = "finished_length" if brief.finished_length is not None else "warp_length"
    if length > MOST_LENGTH or length > beam.circumference * MOST_TURNS:
        yield Problem(field, "too_long", "That warp is far too long; check the numbers and their units.")
    elif length > brief.bench.tie_every * MOST_GROUPS:
        yield Problem("bench.tie_every", "too_small", "The distance between choke ties is far too small.")
    if width > brief.bench.raddle_space * MOST_GROUPS:
        yield Problem("bench.raddle_space", "too_small", "The raddle space is far too small.")
    if width > (beam.pitch or width) * MOST_SECTIONS_OF_WARP:
        yield Problem("loom.beam.pitch", "too_small", "The warp would need far too many sections.")


def _roughly(brief: WarpBrief) -> Fraction:
    """Give a warp length never below the planned one, for the bounds alone."""
    loss = brief.allowances
    if brief.finished_length is None:
        return brief.warp_length or brief.loom.beam.circumference * (brief.turns or 0)
    take_up = max(loss.take_up, *(yarn.take_up or Fraction(0) for yarn in brief.yarns))
    piece = (brief.finished_length + loss.hem) / ((1 - loss.length_shrinkage) * (1 - take_up))
    apart = (loss.gaps if loss.gaps is not None else brief.pieces) * loss.gap + brief.pieces * loss.fringe
    rest = loss.demo_woven / (1 - take_up) + loss.sampling + loss.waste
    return (brief.pieces * piece + apart + rest) * (1 + loss.margin)


Check = Callable[[WarpBrief], Iterator[Problem]]
_ALONE: tuple[Check, ...] = (_width, _length, _out_of_bounds, _beam, _loom, _yarns, _codes, _order, _threading, _lifts)
_TOGETHER: tuple[Check, ...] = (
    _needs_order, _balance, _never_crosses, _as_typed, _method, _chain_sections, _tolerances, _shift, _size,
)  # fmt: skip
