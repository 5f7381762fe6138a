"""The choices of a plan as a reader sees them: edges, widths, unequal sections, set-ups and ways with fewer spools.

`planner.plan.presenter` takes them from here. No sum is made; numbers come from the plan, `Formatter` writes them.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from planner.calc.cloth.fitting import ends_to_ask
from planner.calc.terms.kinds import Pairs
from planner.calc.terms.plan import (
    Alternative,
    EdgeChoice,
    EdgeKind,
    FewerSpools,
    Mismatch,
    Number,
    Quantity,
    RepeatLayouts,
    Setup,
    SlotChange,
    SpoolWay,
    TieMarks,
    WarpPlan,
)
from planner.calc.terms.positions import spans
from planner.plan.formatter import Formatter
from planner.plan.plan_view import AlternativeView, EdgeView, InWords, MismatchView, WayView, YarnView
from studio.units import Units, exact_text, usual

EDGE_WORDS: Mapping[EdgeKind, tuple[str, str]] = MappingProxyType({
    EdgeKind.FEWER: ("Fewer ends, so that sections fill", "The cloth comes out narrower."),
    EdgeKind.MORE: ("More ends, so that sections fill", "The cloth comes out wider."),
    EdgeKind.SETT: ("The same ends at another sett", "Weave a sample first."),
    EdgeKind.SHIFT: (
        "Move the warp sideways",
        "Sley it just as far off the middle of the reed. What is left partial is reckoned as spread.",
    ),
    EdgeKind.DUMMY: ("Fill with dummy ends", "Cheap yarn of the same thickness, wound and never threaded."),
    EdgeKind.PACKED: (
        "Pack against the full neighbour",
        "Wind at the same density and hold the free side with a moved pin, a flange or a card.",
    ),
    EdgeKind.SPREAD: ("Spread over the whole section", "On a long warp the edges go tight, then break."),
})  # fmt: skip
"""Title of each choice and what to know about it."""

WAY_WORDS: Mapping[SpoolWay, tuple[str, str]] = MappingProxyType({
    SpoolWay.PLANNED: ("As planned", ""),
    SpoolWay.HALF_PITCH: (
        "Sections of half the width",
        "Twice as many bundles to tie on, and more yarn on each spool; the beam must take dividers at half the pitch.",
    ),
    SpoolWay.MIXED: (
        "The commonest sections by the box, the others as chains",
        "Begin with a section by the box: no chain may be shorter than what it took on.",
    ),
    SpoolWay.CHAINS: ("Chains for all sections", "The board sets the length; no spools are wound."),
})  # fmt: skip
"""Title of each way of winding and what to know about it."""


def _span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}–{last}"


def change_text(change: SlotChange, yarn: YarnView) -> str:
    """Write what one yarn does on the rack.

    Examples
    --------
    >>> white = YarnView("B", "8/2 cotton", "white", "#ffffff", 1)
    >>> change_text(SlotChange("B", ((10, 15),), ((1, 6),)), white)
    'Move 6 B white from slots 10–15 to slots 1–6'
    >>> change_text(SlotChange("B", ((10, 15),), ((1, 4),)), white)
    'Take 6 B white off slots 10–15, put 4 on slots 1–4'
    >>> change_text(SlotChange("B", (), ((3, 3),)), white)
    'Put 1 B white on slot 3'
    """
    off, on, name = change.spools_off, change.spools_on, f"{yarn.code} {yarn.colour_name}".strip()
    if off == on:
        return f"Move {on} {name} from {_slots(change.taken_off)} to {_slots(change.put_on)}"
    if not off:
        return f"Put {on} {name} on {_slots(change.put_on)}"
    if not on:
        return f"Take {off} {name} off {_slots(change.taken_off)}"
    return f"Take {off} {name} off {_slots(change.taken_off)}, put {on} on {_slots(change.put_on)}"


def _slots(slots: Pairs) -> str:
    one = len(slots) == 1 and slots[0][0] == slots[0][1]
    return f"slot{'' if one else 's'} {', '.join(_span(*span) for span in slots)}"


def rack_work(plan: WarpPlan) -> str:
    """Write how much changes on the rack, and how well the order does."""
    if len(plan.winding.setups) < 2:  # noqa: PLR2004 - one set-up is never changed
        return ""
    moved = sum(setup.moved for setup in plan.winding.setups)
    best = (
        "the fewest there can be"
        if moved == plan.winding.fewest_moved
        else f"no order needs fewer than {plan.winding.fewest_moved}"
    )
    last = max((span[1] for setup in plan.winding.setups for span in setup.slots), default=0)
    free = f" They take slots 1 to {last}, some left free." if any(map(slots_text, plan.winding.setups)) else ""
    return (
        f"Wound in this order, {moved} slots of the rack change: {best} with the spools in the order of the ends, and "
        f"those not in use taken off.{free} Slots count from the left, seen from the back."
    )


def slots_text(setup: Setup) -> str:
    """Write which slots of the rack hold spools; empty where they fill it from slot 1 without a gap.

    Examples
    --------
    >>> slots_text(Setup(1, (), (1,), slots=((1, 4), (8, 33)))), slots_text(Setup(1, (), (1,), slots=((1, 30),)))
    ('slots 1–4, 8–33', '')
    """
    whole = len(setup.slots) == 1 and setup.slots[0][0] == 1
    return "" if whole or not setup.slots else _slots(setup.slots)


def lead_lost(plan: WarpPlan, formatter: Formatter) -> str:
    """Write what all changes of set-up lose; the spools' lengths have it in them."""
    if not plan.winding.lead_lost:
        return ""
    length, mass = (
        _text(plan.winding.lead_lost, "distance", formatter),
        _text(plan.winding.lead_lost_mass, "mass", formatter),
    )
    return f"Re-threading the box loses {length} of yarn in all, {mass}; it is in the lengths to wind."


def unsaid(part: object, *names: str) -> dict[str, str]:
    """Leave out figures that are nothing."""
    return {name: "" for name in names if not getattr(part, name)}


def edge_view(choice: EdgeChoice, formatter: Formatter) -> EdgeView:
    """Write one way to deal with partial edges."""
    title, note = EDGE_WORDS[choice.kind]
    shift, blank = _shift(choice.shift, formatter), unsaid(choice, "shorter", "share")
    return InWords(choice, formatter, title=title, note=note, shift=shift, **blank)


def _text(value: Number, kind: str, formatter: Formatter) -> str:
    return formatter.quantity(Quantity(value, kind))


def _shift(shift: Fraction, formatter: Formatter) -> str:
    if not shift:
        return ""
    return f"{_text(abs(shift), 'length', formatter)} to the {'right' if shift > 0 else 'left'}, seen from the seat"


def asked_for(other: Alternative, selvedge: int, units: Units) -> str:
    """Write the ends and the shift that the sheet is asked for; without a shift it keeps its own.

    Examples
    --------
    >>> from dataclasses import replace
    >>> whole = Alternative(True, False, 628, 24, Fraction(66), Fraction(60), 13, Fraction(254, 100), 0)
    >>> asked_for(whole, 2, Units.INCH), asked_for(replace(whole, sections_full=False), 2, Units.INCH)
    ('624, 1 in', '624')
    """
    ends = str(ends_to_ask(other.ends, selvedge))
    shift = f"{exact_text(other.shift, 'length', units)} {usual('length', units)}"
    return f"{ends}, {shift}" if other.sections_full else ends


def alternative_view(other: Alternative, selvedge: int, formatter: Formatter) -> AlternativeView:
    """Write one width that fits better, for a warp with so many extra selvedge ends on each side."""
    titles = {(True, True): "Sections full and repeats whole", (True, False): "Sections full"}
    return InWords(
        other,
        formatter,
        title=titles.get((other.sections_full, other.repeats_whole), "Repeats whole"),
        asked=asked_for(other, selvedge, formatter.units),
        change=f"{abs(other.change)} {'more' if other.change > 0 else 'fewer'}",
        shift=_shift(other.shift, formatter),
    )


def layouts_text(layouts: RepeatLayouts | None, formatter: Formatter) -> str:
    """Write how the repeat falls into the sections."""
    if layouts is None:
        return ""
    repeat, section = _text(layouts.repeat, "ends", formatter), _text(layouts.section, "ends", formatter)
    if layouts.layouts == 1:
        return f"The repeat of {repeat} lies the same in every full section of {section}."
    text = f"The repeat of {repeat} lies in {layouts.layouts} different ways in sections of {section}"
    one = _text(layouts.one_layout, "ends", formatter)
    return f"{text}; a repeat of {one} would lie the same in all." if layouts.one_layout else f"{text}."


def mismatch_view(pair: Mismatch, formatter: Formatter) -> MismatchView:
    """Write two groups of sections whose lengths come apart."""
    return InWords(pair, formatter, deep=spans(pair.deep), shallow=spans(pair.shallow))


def way_view(way: FewerSpools, places: int, formatter: Formatter) -> WayView:
    """Write one way to wind the warp, on a beam of so many sections; what lies beyond it cannot be asked for."""
    title, note = WAY_WORDS[way.way]
    asked = way.way is SpoolWay.MIXED and all(1 <= place <= places for place in way.chain_sections)
    return InWords(
        way,
        formatter,
        title=title,
        note=note,
        chain_sections=spans(way.chain_sections),
        asked=spans(way.chain_sections, "-") if asked else "",
        **unsaid(way, "longest", "lead_lost"),
    )


def ties_text(marks: TieMarks | None, *, alike: bool = True) -> str:
    """Write how many ties each chain gets; where lengths are not alike, the shorter ones have fewer chokes.

    Examples
    --------
    >>> ties_text(TieMarks(6, 6, 9))
    'Each chain: 6 ties in one colour on the tops of the pegs, 6 in another below, and 9 choke ties.'
    >>> ties_text(TieMarks(6, 6, 9), alike=False)[-36:]
    'and 9 choke ties, or as many as fit.'
    """
    if marks is None:
        return ""
    return (
        f"Each chain: {marks.tops} ties in one colour on the tops of the pegs, {marks.bottoms} in another below, "
        f"and {marks.chokes} choke ties{'' if alike else ', or as many as fit'}."
    )
