"""The worksheet's page of sections: which ends lie in which section, and how deep one turn makes them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import accumulate

from planner.calc.beam import depth as beam_depth
from planner.calc.beam import sections, two_beams
from planner.calc.cloth import colours
from planner.calc.terms.brief import WOUND_DENSITY, Centre, WarpBrief, YarnChoice
from planner.calc.terms.plan import ColourRun, Range, Sum
from planner.calc.worksheet.cloth import Cloth
from planner.calc.worksheet.sums import line, of

ZERO, ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True, slots=True)
class Place:
    """One section before its turns are known.

    Attributes
    ----------
    position : int
        Place on the beam, 1 at the seat's left. [-]
    ends : int
        Ends in it. [ends]
    runs : tuple[ColourRun, ...]
        Colours, seat view from the left. [ends]
    filled : Fraction
        Part of the pitch its ends cover. [share]
    depth : Fraction
        Depth one turn adds. [cm]
    spread_depth : Fraction
        Depth one turn would add, spread over the whole section. [cm]
    free_left : Fraction | None
        Part of the pitch left of its ends; None where the whole cloth lies on this beam. [share]
    across : tuple[ColourRun, ...]
        All ends of the cloth across it where some lie on another beam, else empty. [ends]
    """

    position: int
    ends: int
    runs: tuple[ColourRun, ...]
    filled: Fraction
    depth: Fraction
    spread_depth: Fraction
    free_left: Fraction | None = None
    across: tuple[ColourRun, ...] = ()


def density_of(yarn: YarnChoice) -> Fraction:
    """Give the density of a yarn as wound: its own, or the default of its fibre.

    Parameters
    ----------
    yarn : YarnChoice
        The yarn. [-]

    Returns
    -------
    density : Fraction
        Density on the beam. [g/cm3]

    Notes
    -----
    The defaults have no published source; see `WOUND_DENSITY`.

    Examples
    --------
    >>> density_of(YarnChoice("A", "16/2 linen", Fraction(207), fibre="linen"))
    Fraction(1, 2)
    """
    return yarn.wound_density or WOUND_DENSITY.get(yarn.fibre, WOUND_DENSITY["other"])


def places_of(brief: WarpBrief, cloth: Cloth) -> tuple[tuple[Place, ...], Fraction]:
    """Share the warp among the sections of its beam.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems, on a sectional beam. [-]
    cloth : Cloth
        Ends and colours. [-]

    Returns
    -------
    places : tuple[tuple[Place, ...], Fraction]
        Sections that hold ends, from the seat's left [-], and the depth of one turn in the deepest ordinary one. [cm]

    Notes
    -----
    Extra selvedge ends are wound with the edge sections and share nothing. A depth measured on this beam replaces the
    reckoned one in the ordinary section, and the others in proportion. Ends on another beam keep their room across
    the warp; sections that hold no others are left out.

    Examples
    --------
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts
    >>> from planner.calc.worksheet.cloth import cloth_of
    >>> facts = BeamFacts(BeamKind.SECTIONAL, Fraction(100), Fraction(120), pitch=Fraction(5), sections=24)
    >>> loom = LoomFacts("Loom", Fraction(120), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "linen", Fraction(200), fibre="linen"),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(5), width_in_reed=Fraction(80), turns=8)
    >>> places, depth = places_of(brief, cloth_of(brief))
    >>> len(places), float(depth)
    (16, 0.02)
    """
    places = _places(brief, cloth)
    ordinary = _ordinary_depth(places, brief.fit.selvedge)
    measured = brief.loom.beam.depth_per_turn
    if measured is None:
        return places, ordinary
    return tuple(_scaled(place, measured / ordinary) for place in places), measured


def depth_ranges(brief: WarpBrief, places: tuple[Place, ...], ordinary: Fraction) -> tuple[Range, Range, Range] | None:
    """Give the depth of one turn with its doubt, in the deepest ordinary section, the shallowest and the deepest.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems, on a sectional beam. [-]
    places : tuple[Place, ...]
        Sections that hold ends. [-]
    ordinary : Fraction
        Depth of one turn in the deepest ordinary section. [cm]

    Returns
    -------
    ranges : tuple[Range, Range, Range] | None
        Of the ordinary section, of the shallowest and of the deepest; None unless every yarn was measured on this
        beam. [cm]

    Notes
    -----
    A depth falls as the density rises, so its bounds come from the densities' bounds, each yarn by its share of the
    cross-section. The shallowest lies nowhere deeper than any section at its least, the deepest nowhere lower
    than any.

    Examples
    --------
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts
    >>> from planner.calc.worksheet.cloth import cloth_of
    >>> facts = BeamFacts(BeamKind.SECTIONAL, Fraction(100), Fraction(120), pitch=Fraction(5), sections=24)
    >>> loom = LoomFacts("Loom", Fraction(120), facts, Fraction(90))
    >>> known = {"wound_density": Fraction(1, 2), "density_low": Fraction(2, 5), "density_high": Fraction(5, 8)}
    >>> yarns = (YarnChoice("A", "linen", Fraction(200), **known),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(5), width_in_reed=Fraction(80), turns=8)
    >>> places, depth = places_of(brief, cloth_of(brief))
    >>> float(depth), [float(part) for found in depth_ranges(brief, places, depth) for part in (found.low, found.high)]
    (0.02, [0.016, 0.025, 0.016, 0.025, 0.016, 0.025])
    """
    used = {run.code for place in places for run in place.runs}
    yarns = {yarn.code: yarn for yarn in brief.yarns if yarn.code in used}
    if brief.loom.beam.depth_per_turn is not None or any(yarn.density_low is None for yarn in yarns.values()):
        return None
    deep = next(place for place in places if place.depth == ordinary)
    found = {place.depth: _depth_range(place, yarns) for place in places}
    parts = list(zip(*((one.low, one.likely, one.high) for one in found.values()), strict=True))
    return found[deep.depth], Range(*map(min, parts)), Range(*map(max, parts))


def _depth_range(place: Place, yarns: Mapping[str, YarnChoice]) -> Range:
    counted = colours.counts(place.runs)

    def area(density: Callable[[YarnChoice], Fraction | None]) -> Fraction:
        return sum((ends * yarns[code].tex / (density(yarns[code]) or ONE) for code, ends in counted.items()), ZERO)

    likely = area(lambda yarn: yarn.wound_density)
    low = place.depth * area(lambda yarn: yarn.density_high) / likely
    return Range(low, place.depth, place.depth * area(lambda yarn: yarn.density_low) / likely)


def ends_across(brief: WarpBrief, cloth: Cloth) -> tuple[int, ...]:
    """Count the ends of the whole cloth across each section, those of another beam too.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems, on a sectional beam. [-]
    cloth : Cloth
        Ends and colours. [-]

    Returns
    -------
    ends : tuple[int, ...]
        Ends from the seat's left, extra selvedge ends with the edges. [ends]

    Notes
    -----
    Shares the ends as `places_of` does.

    Examples
    --------
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts
    >>> from planner.calc.worksheet.cloth import cloth_of
    >>> facts = BeamFacts(BeamKind.SECTIONAL, Fraction(100), Fraction(120), pitch=Fraction(5), sections=24)
    >>> loom = LoomFacts("Loom", Fraction(120), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "linen", Fraction(200), fibre="linen"),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(5), width_in_reed=Fraction(12), turns=8)
    >>> ends_across(brief, cloth_of(brief))
    (5, 25, 25, 5)
    """
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
    return tuple(_place(one, cloth.setts, pitch, spread_of) for one in used)


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
        return sections.share_ends(bounds, cloth.setts[cloth.main[0].code], colours.total(cloth.main))
    return sections.share_runs(bounds, cloth.main, [cloth.setts[run.code] for run in cloth.main])


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
            start, stop = two_beams.stretch_of(runs, cloth.setts, cloth.elsewhere, pitch)
            filled, spread = (stop - start) * covered, spread_of(here)
            left = before.get(position, ZERO) + start * covered
            yield Place(position, colours.total(here), here, filled, spread / filled, spread, left, runs)


def _ordinary_depth(places: tuple[Place, ...], selvedge: int) -> Fraction:
    inner = places[1:-1] if selvedge and len(places) > 2 else places  # noqa: PLR2004 - two of them are edges
    return max((place.depth for place in inner if place.filled == 1), default=max(place.depth for place in places))


def _scaled(place: Place, scale: Fraction) -> Place:
    return replace(place, depth=place.depth * scale, spread_depth=place.spread_depth * scale)


def section_sums(brief: WarpBrief, cloth: Cloth, places: tuple[Place, ...]) -> Iterator[Sum]:
    """Show how the sections were counted.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems, on a sectional beam. [-]
    cloth : Cloth
        Ends and width. [-]
    places : tuple[Place, ...]
        Sections that hold ends. [-]

    Yields
    ------
    line : Sum
        Lines of the group sections. [-]

    Notes
    -----
    Shows what `places_of` did.

    Examples
    --------
    >>> from planner.calc.terms.brief import BeamFacts, BeamKind, LoomFacts
    >>> from planner.calc.worksheet.cloth import cloth_of
    >>> facts = BeamFacts(BeamKind.SECTIONAL, Fraction(100), Fraction(120), pitch=Fraction(5), sections=24)
    >>> loom = LoomFacts("Loom", Fraction(120), facts, Fraction(90))
    >>> yarns = (YarnChoice("A", "linen", Fraction(200), fibre="linen"),)
    >>> brief = WarpBrief("Cloth", loom, yarns, Fraction(5), width_in_reed=Fraction(80), turns=8)
    >>> [shown.key for shown in section_sums(brief, cloth_of(brief), places_of(brief, cloth_of(brief))[0])]
    ['ends_per_section', 'sections_needed']
    """
    pitch = brief.loom.beam.pitch or brief.loom.beam.usable_width
    if cloth.is_even and not cloth.parted:
        sett = cloth.setts[cloth.main[0].code]
        each = sections.ends_per_section(sett, pitch)
        yield line("ends_per_section", of(each, "ends"), {"sett": of(sett, "sett"), "pitch": of(pitch, "length")})
    put_in = {"width": of(cloth.main_width, "length"), "pitch": of(pitch, "length")}
    yield line("sections_here" if cloth.parted else "sections_needed", of(len(places), "count"), put_in)
