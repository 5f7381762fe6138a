"""The figures a weaver looks for first, in the reader's units: ends, width, length, turns, and where the knot lands."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from planner.calc.terms.plan import KnotPlace, Quantity, Range, WarpPlan
from planner.plan.formatter import Formatter
from planner.plan.plan_view import Figure

MOST_TERMS = 8
PARTS = "part_sections"
"""The remark whose places stand below the table of sections too."""


def check_total(plan: WarpPlan) -> str:
    """Write the sum a weaver checks against her own count, like ends in sections or chains together."""
    parts = [section.ends for section in plan.winding.sections] or [chain.ends for chain in plan.winding.chains]
    if not parts:
        return f"{plan.cloth.ends_here} ends"
    alike = [(ends, len(tuple(same))) for ends, same in groupby(parts)]
    terms = " + ".join(f"{count} × {ends}" if count > 1 else f"{ends}" for ends, count in alike)
    if len(alike) > MOST_TERMS:
        terms = f"{len(parts)} sections"
    return f"{terms} = {plan.cloth.ends_here} ends"


def other_beam(plan: WarpPlan) -> str:
    """Say how much of the cloth this beam carries, where another carries the rest."""
    if not plan.cloth.ends_elsewhere:
        return ""
    return f"holds {plan.cloth.ends_here} of {plan.cloth.ends} ends; the rest is on the other beam."


def part_sections(plan: WarpPlan) -> str:
    """Say at which side of its sections the ends of one of two beams lie, as the remark does."""
    return next((str(remark.values["places"]) for remark in plan.remarks if remark.code == PARTS), "")


def figures(plan: WarpPlan, formatter: Formatter) -> Iterator[Figure]:
    """Give the figures a weaver looks for first: E, S, R, L, turns."""
    yield Figure("ends", "Ends", str(plan.cloth.ends_here), "", _selvedge_note(plan))
    setts, _, per = formatter.setts(plan.cloth.setts).rpartition("/")
    yield Figure("sett", "Sett" if len(plan.cloth.setts) == 1 else "Setts", setts, f"/{per}", "")
    yield _measure("width", "Width in reed", plan.cloth.width_in_reed, "length", formatter)
    yield _measure("length", "Warp length", plan.beam.warp_length, "distance", formatter)
    if plan.beam.turns is not None:
        yield Figure("turns", "Turns", str(plan.beam.turns), "", _turn_note(plan, formatter))
    yield _measure("finished", "Finished width", plan.cloth.finished_width, "length", formatter)


def _turn_note(plan: WarpPlan, formatter: Formatter) -> str:
    if plan.beam.real_length is None:
        return ""
    text = f"{formatter.quantity(Quantity(plan.beam.real_length, 'distance'))} with build-up"
    return text + between(plan.beam.length_range, "distance", formatter)


def between(doubt: Range | None, kind: str, formatter: Formatter) -> str:
    """Say between what a measured figure lies; nothing where it rests on a default, or the ends read alike."""
    if doubt is None:
        return ""
    low, high = (formatter.quantity(Quantity(end, kind)) for end in (doubt.low, doubt.high))
    return f", {low} to {high} by the tape" if low != high else ""


def rake_words(plan: WarpPlan, formatter: Formatter) -> str:
    """Say how deep the yarn lies at the end and what the rakes hold, each with its doubt where it was measured."""
    if plan.beam.most_turns is None or plan.beam.longest_warp is None or not plan.winding.sections:
        return ""
    deep, turns = max(section.depth for section in plan.winding.sections), plan.beam.most_turns
    depth, most, longest = (
        formatter.quantity(Quantity(value, kind)) + between(doubt, kind, formatter)
        for value, kind, doubt in (
            (deep, "depth", plan.beam.depth_range),
            (turns, "turns", plan.beam.most_turns_range),
            (plan.beam.longest_warp, "distance", plan.beam.longest_range),
        )
    )
    return f"Depth of the yarn at the end: {depth}. The rakes hold {most}; the longest warp: {longest}."


def _selvedge_note(plan: WarpPlan) -> str:
    cloth = f"of {plan.cloth.ends} in the cloth" if plan.cloth.ends_elsewhere else ""
    floating = f"and {plan.yarn.floating} floating selvedge ends" if plan.yarn.floating else ""
    return ", ".join(filter(None, (cloth, floating)))


def _measure(key: str, label: str, value: object, kind: str, formatter: Formatter) -> Figure:
    text = formatter.quantity(Quantity(value, kind))  # type: ignore[arg-type]
    number, _, unit = text.partition(" ")
    return Figure(key, label, number, unit, "")


def length_words(value: float | None, formatter: Formatter) -> str:
    return "" if value is None else formatter.quantity(Quantity(value, "length"))


def knot_words(plan: WarpPlan, formatter: Formatter) -> str:
    """Write where the leader knot lands and what to do about it."""
    if plan.winding.knot is None:
        return ""
    place = _knot_place(plan.winding.knot, formatter)
    if plan.winding.knot.clear:
        return f"The leader knot lands {place}, clear in the gap."
    if plan.winding.knot.too_long:
        gap = formatter.quantity(Quantity(plan.winding.knot.past_bar + plan.winding.knot.to_next_bar, "length"))
        return f"The leader knot is longer than the {gap} from bar to bar. Tie a shorter one."
    change = "Shorten" if plan.winding.knot.mend < 0 else "Lengthen"
    mend = formatter.quantity(Quantity(abs(plan.winding.knot.mend), "length"))
    return f"The leader knot lands {place}. {change} every leader by {mend}."


def _knot_place(knot: KnotPlace, formatter: Formatter) -> str:
    """Write how far the knot is from the bar it is nearest to."""
    before = knot.to_next_bar < knot.past_bar
    away = formatter.quantity(Quantity(knot.to_next_bar if before else knot.past_bar, "length"))
    if away.startswith("0 "):
        return "on a bar"
    return f"{away} before a bar" if before else f"{away} past a bar"
