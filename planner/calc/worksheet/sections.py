"""The worksheet's page of sections: which ends lie in which section, and how deep one turn makes them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import accumulate

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import sections, two_beams
from planner.calc.cloth import colours
from planner.calc.terms.brief import WOUND_DENSITY, Centre, WarpBrief, YarnChoice
from planner.calc.terms.plan import Cloth, ColourRun, Place, Range, Sum
from planner.calc.worksheet.sums import line, of

ZERO, ONE = Fraction(0), Fraction(1)


def density_of(yarn: YarnChoice) -> Fraction:
    """Give the density of a yarn as wound: its own, or the default of its fibre.

    The defaults have no published source; see `WOUND_DENSITY`.
    """
    return yarn.wound_density or WOUND_DENSITY.get(yarn.fibre, WOUND_DENSITY["other"])


def places_of(brief: WarpBrief, cloth: Cloth) -> tuple[tuple[Place, ...], Fraction]:
    """Share the warp among the sections of its beam.

    Extra selvedge ends are wound with the edge sections and share nothing. A depth measured on this beam replaces the
    reckoned one in the ordinary section, and the others in proportion. Ends on another beam keep their room across the
    warp; sections that hold no others are left out.
    """
    places = _places(brief, cloth)
    ordinary = _ordinary_depth(places, brief.fit.selvedge)
    measured = brief.loom.beam.depth_per_turn
    if measured is None:
        return places, ordinary
    return tuple(_scaled(place, measured / ordinary) for place in places), measured


def depth_ranges(brief: WarpBrief, places: tuple[Place, ...], ordinary: Fraction) -> tuple[Range, Range, Range] | None:
    """Give the depth of one turn with its doubt, in the deepest ordinary section, the shallowest and the deepest.

    A depth falls as the density rises, so its bounds come from the densities' bounds, each yarn by its share of the
    cross-section. The shallowest lies nowhere deeper than any section at its least, the deepest nowhere lower than any.
    """
    used = {run.code for place in places for run in place.runs}
    yarns = {yarn.code: yarn for yarn in brief.yarns if yarn.code in used}
    if brief.loom.beam.depth_per_turn is not None or any(yarn.density_low is None for yarn in yarns.values()):
        return None
    deep = next(place for place in places if place.depth == ordinary)
    ranges = {place.depth: _depth_range(place, yarns) for place in places}
    parts = list(zip(*((one.low, one.likely, one.high) for one in ranges.values()), strict=True))
    return ranges[deep.depth], Range(*map(min, parts)), Range(*map(max, parts))


def _depth_range(place: Place, yarns: Mapping[str, YarnChoice]) -> Range:
    counted = colours.counts(place.runs)

    def area(density: Callable[[YarnChoice], Fraction | None]) -> Fraction:
        return sum((ends * yarns[code].tex / (density(yarns[code]) or ONE) for code, ends in counted.items()), ZERO)

    likely = area(lambda yarn: yarn.wound_density)
    low = place.depth * area(lambda yarn: yarn.density_high) / likely
    return Range(low, place.depth, place.depth * area(lambda yarn: yarn.density_low) / likely)


def ends_across(brief: WarpBrief, cloth: Cloth) -> tuple[int, ...]:
    """Count the ends of the whole cloth across each section, those of another beam too."""
    used, _ = _across(brief, cloth)
    return tuple(colours.total(runs) for _position, runs, _covered in used)


def _places(brief: WarpBrief, cloth: Cloth) -> tuple[Place, ...]:
    facts = brief.loom.beam
    pitch = facts.pitch or facts.usable_width
    used, first = _across(brief, cloth)
    spread_of = _spread_maker(brief, pitch)
    if cloth.parted:
        before = (brief.shift - cloth.main_width / 2) / pitch + Fraction(facts.sections, 2) - (first - 1)
        return tuple(_parted(cloth, pitch, used, {first: before}, spread_of))
    return tuple(_place(one, cloth.sett_of, pitch, spread_of) for one in used)


def _across(brief: WarpBrief, cloth: Cloth) -> tuple[list[_Used], int]:
    """Give the ends of the cloth across each section, and the position of the first section."""
    facts = brief.loom.beam
    pitch, centre = facts.pitch or facts.usable_width, facts.centre is Centre.SECTION
    bounds = sections.boundaries(cloth.main_width, pitch, section_at_centre=centre, shift=brief.shift)
    first = sections.first_position(
        cloth.main_width, pitch, facts.sections, section_at_centre=centre, shift=brief.shift
    )
    shares = _shares(bounds, cloth)
    cuts = colours.cut_many(cloth.main, tuple(accumulate(shares, initial=0)))
    full = sections.filled_shares(bounds, pitch)
    lying = [(first + at, cuts[at], full[at]) for at, ends in enumerate(shares) if ends]
    return _with_selvedges(lying, brief.fit.selvedge), first


def _shares(bounds: tuple[Fraction, ...], cloth: Cloth) -> tuple[int, ...]:
    if cloth.is_even:
        return sections.share_ends(bounds, cloth.sett_of[cloth.main[0].code], colours.total(cloth.main))
    return sections.share_runs(bounds, cloth.main, [cloth.sett_of[run.code] for run in cloth.main])


_Used = tuple[int, tuple[ColourRun, ...], Fraction]
"""Position of a section, the ends of the cloth across it, and the part of it they cover."""
_SpreadOf = Callable[[tuple[ColourRun, ...]], Fraction]


def _with_selvedges(used: list[_Used], selvedge: int) -> list[_Used]:
    if selvedge:
        position, runs, full = used[0]
        used[0] = (position, colours.merged((ColourRun(runs[0].code, selvedge), *runs)), full)
        position, runs, full = used[-1]
        used[-1] = (position, colours.merged((*runs, ColourRun(runs[-1].code, selvedge))), full)
    return used


def _spread_maker(brief: WarpBrief, pitch: Fraction) -> _SpreadOf:
    """Give what tells the depth of one turn, were the ends spread over a whole section."""
    areas = {yarn.code: beam_depth.wound_area(yarn.tex, density_of(yarn)) for yarn in brief.yarns}
    alike = {code: next(first for first in areas if areas[first] == area) for code, area in areas.items()}
    free = pitch - brief.loom.beam.divider

    @cache
    def spread_over(parts: tuple[tuple[str, int], ...]) -> Fraction:
        return beam_depth.depth_of_mixture([(ends, areas[code]) for code, ends in parts], free)

    def spread_of(runs: tuple[ColourRun, ...]) -> Fraction:
        thick: dict[str, int] = {}
        for code, ends in colours.counts(runs).items():
            thick[alike[code]] = thick.get(alike[code], 0) + ends
        return spread_over(tuple(thick.items()))

    return spread_of


def _place(used: _Used, setts: Mapping[str, Fraction], pitch: Fraction, spread_of: _SpreadOf) -> Place:
    position, runs, covered = used
    ends, spread = colours.total(runs), spread_of(runs)
    if covered == 1:
        return Place(position, ends, runs, ONE, spread, spread)
    filled = min(ONE, sum((ends / setts[code] for code, ends in colours.counts(runs).items()), ZERO) / pitch)
    return Place(position, ends, runs, filled, spread / filled, spread)


def _parted(
    cloth: Cloth, pitch: Fraction, used: list[_Used], before: Mapping[int, Fraction], spread_of: _SpreadOf
) -> Iterator[Place]:
    """Give the sections that hold ends of this beam, and the part of the width that these take.

    `before` is the part of a section that lies to the left of the whole cloth, of the first one alone.
    """
    for position, runs, covered in used:
        here = two_beams.ends_here(runs, cloth.elsewhere)
        if here:
            start, stop = two_beams.stretch_of(runs, cloth.sett_of, cloth.elsewhere, pitch)
            filled, spread = (stop - start) * covered, spread_of(here)
            left = before.get(position, ZERO) + start * covered
            yield Place(position, colours.total(here), here, filled, spread / filled, spread, left, runs)


def _ordinary_depth(places: tuple[Place, ...], selvedge: int) -> Fraction:
    inner = places[1:-1] if selvedge and len(places) > 2 else places  # noqa: PLR2004 - two of them are edges
    return max((place.depth for place in inner if place.filled == 1), default=max(place.depth for place in places))


def _scaled(place: Place, scale: Fraction) -> Place:
    return replace(place, depth=place.depth * scale, spread_depth=place.spread_depth * scale)


def section_sums(brief: WarpBrief, cloth: Cloth, places: tuple[Place, ...]) -> Iterator[Sum]:
    """Show how the sections were counted."""
    pitch = brief.loom.beam.pitch or brief.loom.beam.usable_width
    if cloth.is_even and not cloth.parted:
        sett = cloth.sett_of[cloth.main[0].code]
        each = sections.ends_per_section(sett, pitch)
        yield line("ends_per_section", of(each, "ends"), {"sett": of(sett, "sett"), "pitch": of(pitch, "length")})
    put_in = {"width": of(cloth.main_width, "length"), "pitch": of(pitch, "length")}
    yield line("sections_here" if cloth.parted else "sections_needed", of(len(places), "count"), put_in)
