"""The worksheet's page of choices: edges, widths that fit better, the repeat in the sections, unequal sections."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.beam import edges, unequal
from planner.calc.cloth import colours, crammed, fitting, warp_width
from planner.calc.fit import partial_edges as edge_fit
from planner.calc.terms.brief import Layout, WarpBrief
from planner.calc.terms.plan import Alternative, Beaming, Choices, Cloth, Mismatch, Remark, RepeatLayouts, Sum
from planner.calc.worksheet.cloth import widths_of
from planner.calc.worksheet.edges import edge_choices_of, lying_of
from planner.calc.worksheet.ends import stripes_of
from planner.calc.worksheet.sums import line, of


def choices_of(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> Choices:
    """Set side by side what else could be done.

    Extra selvedge ends share no section, so they stay out; a sliver at an edge that is too narrow for one end makes no
    section partial. With ends on another beam edges, widths and repeat are left out.
    """
    # These rules take the sections for full of the cloth; with ends elsewhere partial ones are meant, not a fault.
    lying = lying_of(brief, cloth) if beaming.places and not cloth.parted else None
    full = lying is not None and all(place.filled == 1 for place in beaming.places)
    layouts = None
    if lying is not None and cloth.is_even and brief.colour_order and brief.colour_layout is not Layout.AS_TYPED:
        layouts = fitting.repeat_layouts(colours.total(brief.colour_order), lying.full)
    unlike: tuple[Mismatch, ...] = ()
    if beaming.turns is not None:
        depths = [(place.position, place.depth) for place in beaming.places]
        unlike = unequal.mismatches(depths, beaming.turns, brief.loom.beam.circumference)
    return Choices(
        edges=() if lying is None or full else edge_choices_of(brief, cloth, beaming),
        alternatives=tuple(_alternatives(brief, cloth, lying, full_sections=full)),
        layouts=layouts,
        mismatches=unlike,
        sums=tuple(_sums(layouts)),
    )


def edge_advice(brief: WarpBrief, choices: Choices) -> Iterator[Remark]:
    """Say what is worth knowing about edge sections that are not full.

    With ends on another beam there are none, since a section may then be partly filled by design; `worksheet_two_beams`
    says which.
    """
    facts = brief.loom.beam
    pitch = facts.pitch or facts.usable_width
    yield from edge_fit.edge_remarks(choices.edges, pitch, brief.shift, brief.tolerances.mismatch_warn)


def _alternatives(
    brief: WarpBrief, cloth: Cloth, lying: edges.Lying | None, *, full_sections: bool
) -> Iterator[Alternative]:
    if cloth.parted or brief.colour_layout is Layout.AS_TYPED:
        return
    repeat, balance = _repeat(brief)
    ends = colours.total(cloth.main)
    whole = repeat > 0 and ends >= repeat + balance and (ends - balance) % repeat == 0
    planned = fitting.Count(ends, full_sections, whole)
    stripes = stripes_of(brief, cloth.sett_of)
    if stripes is not None:
        pitch = None if lying is None else lying.pitch
        counts = fitting.better_of(planned, _counts_laid(brief, stripes, ends, pitch))
    else:
        section = None if lying is None else lying.full
        counts = fitting.better_counts(planned, section, repeat, balance, brief.fit.multiple)
    for count in counts:
        other = _alternative(brief, cloth, lying, count)
        if other.width <= brief.loom.weaving_width and other.sections <= brief.loom.beam.sections:
            yield other


def _counts_laid(
    brief: WarpBrief, stripes: crammed.Stripes, ends: int, pitch: Fraction | None
) -> Iterator[fitting.Count]:
    """Give counts near by of stripes with setts of their own, and what each fills."""
    (repeat, balance), multiple = _repeat(brief), brief.fit.multiple
    counts = [] if pitch is None else [count for count, _ in crammed.counts_that_fill(stripes, pitch, ends, multiple)]
    if repeat and warp_width.multiple_fits_repeats(repeat, balance, multiple):
        first, step = warp_width.repeats_in_steps(repeat, balance, multiple)
        counts += crammed.counts_of_repeats(stripes, ends, first, step, pitch)
    for count in dict.fromkeys(counts):
        full = pitch is not None and (crammed.width_laid(stripes, count) / pitch).denominator == 1
        yield fitting.Count(count, full, repeat > 0 and count >= repeat and (count - balance) % repeat == 0)


def _repeat(brief: WarpBrief) -> tuple[int, int]:
    if brief.colour_layout not in {Layout.REPEAT, Layout.CENTRED}:
        return 0, 0
    return colours.total(brief.colour_order), brief.fit.balance


def _alternative(brief: WarpBrief, cloth: Cloth, lying: edges.Lying | None, count: fitting.Count) -> Alternative:
    loss = brief.allowances
    inner, width = widths_of(brief, cloth, count.ends)
    repeat, balance = _repeat(brief)
    places = 0 if lying is None else fitting.sections_for(inner, lying.pitch)
    shift = Fraction(0)
    if lying is not None and count.sections_full:
        shift = edges.shift_that_fills(places, lying.pitch, section_at_centre=lying.section_at_centre)
    return Alternative(
        sections_full=count.sections_full,
        repeats_whole=count.repeats_whole,
        ends=count.ends + 2 * brief.fit.selvedge,
        change=count.ends - colours.total(cloth.main),
        width=width,
        finished_width=warp_width.finished_width_of(width, loss.draw_in, loss.width_shrinkage),
        sections=places,
        shift=shift,
        repeats=(count.ends - balance) // repeat if repeat else 0,
    )


def _sums(layouts: RepeatLayouts | None) -> Iterator[Sum]:
    if layouts is not None:
        put_in = {"repeat": of(layouts.repeat, "ends"), "section": of(layouts.section, "ends")}
        yield line("section_layouts", of(layouts.layouts, "count"), put_in)
