"""The figures a weaver looks for first, in the reader's units: ends, width, length, turns, and where the knot lands."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from planner.calc.terms.plan import KnotPlace, Quantity, Range, WarpPlan
from planner.plan.formatter import Reader
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
    return next((str(said.values["places"]) for said in plan.remarks if said.code == PARTS), "")


def figures(plan: WarpPlan, reader: Reader) -> Iterator[Figure]:
    """Give the figures a weaver looks for first: E, S, R, L, turns."""
    yield Figure("ends", "Ends", str(plan.cloth.ends_here), "", _selvedge_note(plan))
    setts, _, per = reader.setts(plan.cloth.setts).rpartition("/")
    yield Figure("sett", "Sett" if len(plan.cloth.setts) == 1 else "Setts", setts, f"/{per}", "")
    yield _measure("width", "Width in reed", plan.cloth.width_in_reed, "length", reader)
    yield _measure("length", "Warp length", plan.beam.warp_length, "distance", reader)
    if plan.beam.turns is not None:
        yield Figure("turns", "Turns", str(plan.beam.turns), "", _turn_note(plan, reader))
    yield _measure("finished", "Finished width", plan.cloth.finished_width, "length", reader)


def _turn_note(plan: WarpPlan, reader: Reader) -> str:
    if plan.beam.real_length is None:
        return ""
    said = f"{reader.say(Quantity(plan.beam.real_length, 'distance'))} with build-up"
    return said + between(plan.beam.length_range, "distance", reader)


def between(found: Range | None, kind: str, reader: Reader) -> str:
    """Say between what a measured figure lies; nothing where it rests on a default, or the ends read alike."""
    if found is None:
        return ""
    low, high = (reader.say(Quantity(end, kind)) for end in (found.low, found.high))
    return f", {low} to {high} by the tape" if low != high else ""


def rake_words(plan: WarpPlan, reader: Reader) -> str:
    """Say how deep the yarn lies at the end and what the rakes hold, each with its doubt where it was measured."""
    if plan.beam.most_turns is None or plan.beam.longest_warp is None or not plan.winding.sections:
        return ""
    deep, turns = max(section.depth for section in plan.winding.sections), plan.beam.most_turns
    depth, held, longest = (
        reader.say(Quantity(value, kind)) + between(found, kind, reader)
        for value, kind, found in (
            (deep, "depth", plan.beam.depth_range),
            (turns, "turns", plan.beam.most_turns_range),
            (plan.beam.longest_warp, "distance", plan.beam.longest_range),
        )
    )
    return f"Depth of the yarn at the end: {depth}. The rakes hold {held}; the longest warp: {longest}."


def _selvedge_note(plan: WarpPlan) -> str:
    cloth = f"of {plan.cloth.ends} in the cloth" if plan.cloth.ends_elsewhere else ""
    floating = f"and {plan.yarn.floating} floating selvedge ends" if plan.yarn.floating else ""
    return ", ".join(said for said in (cloth, floating) if said)


def _measure(key: str, label: str, value: object, kind: str, reader: Reader) -> Figure:
    said = reader.say(Quantity(value, kind))  # type: ignore[arg-type]
    number, _, unit = said.partition(" ")
    return Figure(key, label, number, unit, "")


def length_words(value: float | None, reader: Reader) -> str:
    return "" if value is None else reader.say(Quantity(value, "length"))


def knot_words(plan: WarpPlan, reader: Reader) -> str:
    """Write where the leader knot lands and what to do about it."""
    if plan.winding.knot is None:
        return ""
    place = _knot_place(plan.winding.knot, reader)
    if plan.winding.knot.clear:
        return f"The leader knot lands {place}, clear in the gap."
    if plan.winding.knot.too_long:
        gap = reader.say(Quantity(plan.winding.knot.past_bar + plan.winding.knot.to_next_bar, "length"))
        return f"The leader knot is longer than the {gap} from bar to bar. Tie a shorter one."
    change = "Shorten" if plan.winding.knot.mend < 0 else "Lengthen"
    mend = reader.say(Quantity(abs(plan.winding.knot.mend), "length"))
    return f"The leader knot lands {place}. {change} every leader by {mend}."


def _knot_place(knot: KnotPlace, reader: Reader) -> str:
    """Write how far the knot is from the bar it is nearest to."""
    before = knot.to_next_bar < knot.past_bar
    away = reader.say(Quantity(knot.to_next_bar if before else knot.past_bar, "length"))
    if away.startswith("0 "):
        return "on a bar"
    return f"{away} before a bar" if before else f"{away} past a bar"
