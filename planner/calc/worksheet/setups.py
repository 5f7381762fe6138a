"""The worksheet's page of the rack: set-ups in the order of winding, and ways that need fewer spools."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from planner.calc.cloth import colours
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Cloth, FewerSpools, Section, Setup, SlotChange, SpoolGroup, SpoolWay, Sum
from planner.calc.winding import fewer_spools, rack_slots, setup_order, setups, spools
from planner.calc.worksheet.sums import line, of

MOST_MEASURED = 30
"""Set-ups up to which every two are compared wherever their spools hang; beyond that it would take too long to wait
for, and they are ordered as if filled from slot 1."""


@dataclass(frozen=True, slots=True)
class Rack:
    """The set-ups in the order of winding."""

    setups: tuple[Setup, ...]
    moved: int
    fewest: int
    threaded_anew: int
    lead_lost: Fraction
    sums: tuple[Sum, ...]


def rack_of(layouts: Sequence[Setup], lead: Fraction, places: int | None = None) -> Rack:
    """Put the set-ups into the order of winding that moves the fewest spools.

    On a rack with too few places for that the slots are filled from slot 1, without a gap. Only the order of the work
    changes, never a place on the beam.
    """
    steps, fewest = _work(tuple(setup.runs_from_back for setup in layouts), places)
    ordered = tuple(_wound(layouts[step.place], number, step, lead) for number, step in enumerate(steps, 1))
    moved, anew = sum(step.moved for step in steps), sum(step.threaded for step in steps)
    return Rack(ordered, moved, fewest, anew, anew * lead, tuple(_rack_sums(len(ordered), moved, fewest)))


@dataclass(frozen=True, slots=True)
class _Step:
    """One set-up in the order of winding, by its place in the given order, with what changes before it."""

    place: int
    moved: int = 0
    threaded: int = 0
    changes: tuple[SlotChange, ...] = ()
    slots: setups.Runs = ()


@lru_cache(maxsize=64)
def _work(racks: tuple[setups.Runs, ...], places: int | None) -> tuple[tuple[_Step, ...], int]:
    """Remember the last warps: set-ups seldom change while the rest of a sheet is filled in."""
    few = len(racks) <= MOST_MEASURED
    packed = setups.change_costs(racks)
    costs = rack_slots.least_costs(racks) if few else packed
    order = _order(racks, costs) if few else _not_worse(racks, _order(racks, packed))
    fewest = setup_order.fewest_proven(costs if few else rack_slots.costs_by_yarns(racks), order)
    hung = rack_slots.slots_in_order([racks[place] for place in order])
    if places is not None and max(map(colours.total, hung)) > places:
        order = _order(racks, packed)
        hung = tuple(racks[place] for place in order)
    steps = [_Step(order[0], slots=hung[0])]
    for (one, was), (other, now) in pairwise(zip(order, hung, strict=True)):
        anew = setups.ends_threaded_anew(racks[one], racks[other])
        steps.append(_Step(other, setups.slots_changed(was, now), anew, setups.slot_changes(was, now), now))
    return tuple(steps), fewest


def _not_worse(racks: tuple[setups.Runs, ...], order: setup_order.Order) -> setup_order.Order:
    """Keep the given order where, with free slots, it changes fewer than one that was found without them."""
    orders = (order, tuple(range(len(racks))))
    return min(orders, key=lambda one: sum(rack_slots.least_between(racks[a], racks[b]) for a, b in pairwise(one)))


def _order(racks: tuple[setups.Runs, ...], costs: setups.Costs) -> setup_order.Order:
    return setup_order.order_of_setups(costs, lambda one, other: setups.ends_threaded_anew(racks[one], racks[other]))


def _wound(setup: Setup, number: int, step: _Step, lead: Fraction) -> Setup:
    lost, slots = spools.box_lead_lost(step.threaded, lead), rack_slots.filled(step.slots)
    return Setup(number, setup.runs, setup.positions, step.changes, step.moved, step.threaded, lost, slots)


def _rack_sums(count: int, moved: int, fewest: int) -> Iterator[Sum]:
    if moved:
        yield line("slots_changed", of(moved, "count"), {"setups": of(count, "count"), "fewest": of(fewest, "count")})


def fewer_spools_of(
    brief: WarpBrief, cloth: Cloth, sections: tuple[Section, ...], groups: tuple[SpoolGroup, ...], lead_lost: Fraction
) -> tuple[FewerSpools, ...]:
    """Set the planned way beside those that need fewer spools.

    Other ways are reckoned for the whole warp, with the length of the longest section; sections that are planned as
    chains count in the planned way alone. Where some ends lie on another beam, half sections are not offered: how the
    ends of this one would share them is not known.
    """
    by_position = {section.position: section.runs for section in sections}
    use = max(section.real_length for section in sections) + float(brief.allowances.section_waste)
    layouts = Counter(section.runs for section in sections)
    apart = frozenset(brief.chain_sections)
    boxed = Counter(section.runs for section in sections if section.position not in apart)
    lead, at_once = brief.allowances.box_lead, brief.bench.ends_at_once
    planned = fewer_spools.by_box(SpoolWay.PLANNED, boxed, use, lead)
    chains = {section.position: section.ends for section in sections if section.position in apart}
    longest = max(group.real_length for group in groups)
    ways = [replace(fewer_spools.with_chains(planned, chains, at_once), longest=longest, lead_lost=lead_lost)]
    if not cloth.parted:
        halved = colours.cut_many(cloth.pattern, fewer_spools.halves([(part.ends, part.filled) for part in sections]))
        ways.append(fewer_spools.by_box(SpoolWay.HALF_PITCH, Counter(halved), use, lead))
    ways += [
        *([fewer_spools.mixed(by_position, at_once, use)] if len(layouts) > 1 else []),
        fewer_spools.all_chains(layouts, at_once),
    ]
    return fewer_spools.that_need_fewer(ways)
