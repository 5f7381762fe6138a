"""Ways to wind a warp with fewer spools, side by side with what each costs, and spools that may be short.

Codes and their values (words: `planner.plan.remarks`):
half_pitch_fits_rack {at_once, held, tyings}; mixed_fits_rack {at_once, held, chains, passes}.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from planner.calc.terms.plan import ColourRun, FewerSpools, Quantity, Remark, Severity, SpoolGroup, SpoolWay
from studio.quantities import Cm, CmNumber, Ends, Place, Sections, Share, Spools

Runs = tuple[ColourRun, ...]


def halves(sections: Sequence[tuple[Ends, Share]]) -> tuple[Ends, ...]:
    """Give the places where the warp would be parted if every section of its beam were two.

    Sections come from the seat's left, each with its ends and the part of it that they cover; the answer is the ends
    before each cut. A full section is parted in the middle, an odd end to the left. A partial one, at an edge, fills
    the half at its inner side first: the right half at the left edge, the left half elsewhere.
    Source: plain arithmetic. Raises ValueError if a section holds no end or covers nothing.

    Three quarters of a section, a full one, and a quarter:
    >>> halves([(18, Fraction(3, 4)), (25, Fraction(1)), (6, Fraction(1, 4))])
    (0, 6, 18, 31, 43, 49)
    """
    if any(ends < 1 or filled <= 0 for ends, filled in sections):
        raise ValueError("sections must hold ends and cover something")
    bounds = [0]
    for place, (ends, filled) in enumerate(sections):
        inner = ends // 2 if filled == 1 else min(ends, int(ends / filled / 2))
        cut = inner if filled != 1 and place else ends - inner
        bounds += [bounds[-1] + cut] * (0 < cut < ends) + [bounds[-1] + ends]
    return tuple(bounds)


def spools_of(layouts: Iterable[Runs]) -> Mapping[str, Spools]:
    """Count the spools of each yarn that a set of sections asks for.

    For each code as many as its fullest section has ends.
    Source: T. Vogl, How to calculate yards per spool when warping in sections (2001), for one yarn; several are counted
    each for itself, plain arithmetic.

    >>> spools_of([(ColourRun("A", 15), ColourRun("B", 9)), (ColourRun("A", 12), ColourRun("B", 12))])
    {'A': 15, 'B': 12}
    """
    most: dict[str, int] = {}
    for runs in layouts:
        counted: dict[str, int] = {}
        for run in runs:
            counted[run.code] = counted.get(run.code, 0) + run.ends
        for code, ends in counted.items():
            most[code] = max(ends, most.get(code, 0))
    return dict(sorted(most.items()))


def by_box(way: SpoolWay, layouts: Mapping[Runs, Sections], use: CmNumber, lead: Cm) -> FewerSpools:
    """Reckon a warp that is wound from the rack altogether.

    `layouts` say how many sections have the same colours, `use` what each end takes there, waste included, `lead` what
    each loses when the box is threaded anew. The first spool of a yarn serves every section that has the yarn. Sections
    of half the width halve the spools and double the yarn on each, and every bundle is tied on twice as often; the yarn
    in all stays the same.
    Source: T. Vogl, How to calculate yards per spool when warping in sections (2001), gives 60 spools of 255 yd against
    30 of 510. Raises ValueError if there is no section, or `use` or `lead` is below zero.

    Twenty inches at 30 to the inch, a section of two inches, then of one; 25 1/2 yards each:
    >>> two, one = {(ColourRun("A", 60),): 10}, {(ColourRun("A", 30),): 20}
    >>> wide = by_box(SpoolWay.PLANNED, two, Fraction(51, 2), Fraction(0))
    >>> narrow = by_box(SpoolWay.HALF_PITCH, one, Fraction(51, 2), Fraction(0))
    >>> (wide.spools, int(wide.longest)), (narrow.spools, int(narrow.longest))
    ((60, 255), (30, 510))
    """
    if not layouts or use < 0 or lead < 0:
        raise ValueError(f"layouts {len(layouts)}, use {use} and lead {lead} are no warp")
    sizes = [sum(run.ends for run in runs) for runs in layouts]
    sections_of: dict[str, int] = {}
    for runs, count in layouts.items():
        for code in {run.code for run in runs}:
            sections_of[code] = sections_of.get(code, 0) + count
    return FewerSpools(
        way=way,
        spools=sum(spools_of(layouts).values()),
        at_once=max(sizes),
        setups=len(sizes),
        tyings=sum(layouts.values()),
        chains=0,
        passes=0,
        longest=max(sections_of.values()) * use,
        lead_lost=(sum(sizes) - sizes[0]) * lead,
    )


def with_chains(box: FewerSpools, chains: Mapping[Place, Ends], at_once: Ends) -> FewerSpools:
    """Add the chains of the sections that the box leaves out.

    Every bundle is tied on, and a pass does not run from one chain into the next.
    Source: plain arithmetic. Raises ValueError if `at_once` is below one.

    >>> box = by_box(SpoolWay.MIXED, {(ColourRun("A", 40),): 2}, 10, Fraction(0))
    >>> found = with_chains(box, {3: 40, 5: 41}, 2)
    >>> found.spools, found.tyings, found.passes, found.chain_sections
    (40, 4, 41, (3, 5))
    """
    if at_once < 1:
        raise ValueError(f"at_once {at_once} must be above zero")
    passes, tyings = sum(-(-ends // at_once) for ends in chains.values()), box.tyings + len(chains)
    return replace(box, tyings=tyings, chains=len(chains), passes=passes, chain_sections=tuple(chains))


def mixed(sections: Mapping[Place, Runs], at_once: Ends, use: CmNumber) -> FewerSpools:
    """Reckon a warp whose commonest sections go by the box, all at one set-up, and the odd ones as chains.

    Of layouts that are equally common the first from the left goes by the box.
    Source: mixed winding is common practice, no source; the numbers are plain arithmetic. Raises ValueError if there is
    no section, `at_once` is below one, or `use` below zero.

    >>> plain, odd = (ColourRun("A", 40),), (ColourRun("A", 20), ColourRun("B", 20))
    >>> found = mixed({1: odd, 2: plain, 3: plain, 4: (ColourRun("B", 40),)}, 2, 10)
    >>> found.spools, found.chain_sections, found.passes, found.longest
    (40, (1, 4), 40, 20)
    """
    if not sections:
        raise ValueError("sections must hold at least one")
    common, count = Counter(sections.values()).most_common(1)[0]
    box = by_box(SpoolWay.MIXED, {common: count}, use, Fraction(0))
    chains = {position: _ends(runs) for position, runs in sections.items() if runs != common}
    return with_chains(box, chains, at_once)


def _ends(runs: Runs) -> int:
    return sum(run.ends for run in runs)


def all_chains(layouts: Mapping[Runs, Sections], at_once: Ends) -> FewerSpools:
    """Reckon a warp that is wound on the board altogether, a chain for each section.

    The board winds from as many packages as ends are wound at once.
    Source: plain arithmetic. Raises ValueError if there is no section or `at_once` is below one.

    >>> found = all_chains({(ColourRun("A", 32),): 10}, 2)
    >>> found.spools, found.at_once, found.chains, found.passes
    (0, 2, 10, 160)
    """
    if not layouts or at_once < 1:
        raise ValueError(f"layouts {len(layouts)} and at_once {at_once} must be above zero")
    chains, passes = sum(layouts.values()), _passes(layouts, at_once)
    return FewerSpools(SpoolWay.CHAINS, 0, at_once, 0, chains, chains, passes, 0, Fraction(0))


def _passes(layouts: Mapping[Runs, int], at_once: int) -> int:
    return sum(count * -(-_ends(runs) // at_once) for runs, count in layouts.items())


def that_need_fewer(ways: Sequence[FewerSpools]) -> tuple[FewerSpools, ...]:
    """Keep the planned way and those that need fewer spools, in all or at once.

    The planned way comes first; empty where no way needs fewer.
    Source: plain comparison. Raises ValueError if there is no way.

    >>> sections = {(ColourRun("A", 32),): 10}
    >>> planned = by_box(SpoolWay.PLANNED, sections, 10, Fraction(0))
    >>> same = mixed(dict.fromkeys(range(1, 11), (ColourRun("A", 32),)), 2, 10)
    >>> [way.way.value for way in that_need_fewer([planned, same, all_chains(sections, 2)])]
    ['planned', 'chains']
    """
    if not ways:
        raise ValueError("ways must hold the planned one")
    planned, *others = ways
    fewer = [way for way in others if way.spools < planned.spools or way.at_once < planned.at_once]
    return (planned, *fewer) if fewer else ()


def rack_remarks(ways: Sequence[FewerSpools], held: Spools | None) -> tuple[Remark, ...]:
    """Say which ways would fit a rack that is too small for the planned one.

    The planned way comes first; nothing is said where the rack holds it, or is not known.
    Source: plain comparison. Raises ValueError if `held` is below zero.

    >>> layouts = {(ColourRun("A", 60),): 10}, {(ColourRun("A", 30),): 20}
    >>> ways = [by_box(way, sections, 1, Fraction(0)) for way, sections in zip(SpoolWay, layouts)]
    >>> [remark.code for remark in rack_remarks(ways, 48)], rack_remarks(ways, 60)
    (['half_pitch_fits_rack'], ())
    """
    if held is not None and held < 0:
        raise ValueError(f"held {held} must not be below zero")
    if held is None or not ways or ways[0].at_once <= held:
        return ()
    said = []
    for way in (way for way in ways[1:] if way.at_once <= held):
        counts = {"at_once": Quantity(way.at_once, "count"), "held": Quantity(held, "count")}
        chains = {"chains": Quantity(way.chains, "count"), "passes": Quantity(way.passes, "count")}
        if way.way is SpoolWay.HALF_PITCH:
            values = {**counts, "tyings": Quantity(way.tyings, "count")}
            said.append(Remark("half_pitch_fits_rack", Severity.NOTE, values))
        elif way.way is SpoolWay.MIXED:
            said.append(Remark("mixed_fits_rack", Severity.NOTE, {**counts, **chains}))
    return tuple(said)


def short_spools(groups: Sequence[SpoolGroup]) -> tuple[SpoolGroup, ...]:
    """Find the spools that may be short ones: they serve fewer sections than the first of their yarn.

    Source: plain comparison.

    Seven ends serve all 36 sections, the eighth only every other:
    >>> seven = SpoolGroup("A", 1, 7, 36, 234, 234, Fraction(234))
    >>> eighth = SpoolGroup("A", 8, 8, 18, 117, 117, Fraction(117))
    >>> [(group.first, group.sections) for group in short_spools([seven, eighth])]
    [(8, 18)]
    """
    most: dict[str, int] = {}
    for group in groups:
        most[group.code] = max(group.sections, most.get(group.code, 0))
    return tuple(group for group in groups if group.sections < most[group.code])
