"""Spools for the tension box: how many of each yarn, how much on each, and how often the box is threaded anew."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate
from math import ceil

from planner.calc.terms.plan import ColourRun, Setup, SpoolGroup
from studio.quantities import Cm, CmFloat, CmNumber, Ends, Grams, Place, Sections, Share, Spools, Tex

ZERO = Fraction(0)

CM_OF_ONE_TEX = 100_000
"""Centimetres of yarn that weigh one gram at one tex."""

STEP_TOLERANCE = 1e-9
"""Share by which a float length may pass a whole step and still be rounded to it."""


def length_per_spool(sections: Sections, warp_length: CmNumber, section_waste: CmNumber) -> CmNumber:
    """Give the yarn one spool needs when every section uses it and none builds up.

    length = sections x (warp length + waste), no reserve.
    Source: T. Vogl, How to calculate yards per spool when warping in sections (2001). Raises ValueError if any number
    is below zero.

    Ten sections of a 25 yard warp, half a yard lost at each:
    >>> length_per_spool(10, 25, Fraction(1, 2))
    Fraction(255, 1)
    """
    if sections < 0 or warp_length < 0 or section_waste < 0:
        raise ValueError(f"sections {sections}, warp_length {warp_length}, section_waste {section_waste}")
    return sections * (warp_length + section_waste)


def length_to_wind(length: CmNumber, reserve: Share, step: Cm, lead_lost: Cm = ZERO) -> Cm:
    """Give what to wind on a spool: reserve and lost lead added, then up to the next step of the winder.

    The reserve is added on for ends that draw differently; a lost lead is known, and bears none. A length that passes a
    step by no more than `STEP_TOLERANCE` of itself counts as that step, since it comes from a circle.
    Source: plain arithmetic. Raises ValueError if `length`, `reserve` or `lead_lost` is below zero, or `step` is not
    above zero.

    >>> length_to_wind(139.3, Fraction(3, 100), Fraction(5))
    Fraction(145, 1)
    """
    if length < 0 or reserve < 0 or lead_lost < 0 or step <= 0:
        given = f"length {length}, reserve {reserve} and lead_lost {lead_lost}"
        raise ValueError(f"{given} must not be below zero, step {step} above")
    steps = (float(length) * float(1 + reserve) + float(lead_lost)) / float(step)
    return ceil(steps * (1 - STEP_TOLERANCE)) * step


def spools_needed(counts: Iterable[Ends]) -> Spools:
    """Give the spools one yarn needs: as many as its fullest section has ends.

    Spool j serves every section with at least j ends of its yarn.
    Source: common practice, no source. Raises ValueError if a count is below zero.

    >>> spools_needed([8, 7, 8, 7])
    8
    """
    found = tuple(counts)
    if any(count < 0 for count in found):
        raise ValueError(f"counts {found} must not be below zero")
    return max(found, default=0)


def spool_groups(
    code: str, uses: Sequence[tuple[Ends, CmFloat]], nominal: CmNumber, reserve: Share, step: Cm
) -> tuple[SpoolGroup, ...]:
    """Give the spools of one yarn, those with the same length together, the fullest first.

    `uses` are, for each section, the ends of this yarn and what each takes there, waste included; `nominal` is the same
    without build-up. With the sections sorted by count, spool j serves the sections up to the last with j ends; running
    sums give each group at once, so the work grows with the sections and not with the ends.
    Source: plain arithmetic. Raises ValueError if a count or `reserve` is below zero, or `step` is not above zero.

    Two sections of 8 ends and two of 7, each end 6 1/2 yards:
    >>> found = spool_groups("A", [(8, 6.5), (7, 6.5)] * 2, 6.5, Fraction(0), Fraction(1))
    >>> [(group.first, group.last, group.sections, group.real_length) for group in found]
    [(1, 7, 4, 26.0), (8, 8, 2, 13.0)]
    """
    if any(count < 0 for count, _ in uses):
        raise ValueError(f"uses of {code} hold a count below zero")
    fullest = sorted((use for use in uses if use[0]), key=lambda use: -use[0])
    lengths = tuple(accumulate((length for _, length in fullest), initial=0.0))
    groups, first = [], 1
    for served in range(len(fullest), 0, -1):
        last = fullest[served - 1][0]
        if last >= first:
            wind = length_to_wind(lengths[served], reserve, step)
            groups.append(SpoolGroup(code, first, last, served, served * nominal, lengths[served], wind))
            first = last + 1
    return tuple(groups)


def with_lead_lost(
    groups: Sequence[SpoolGroup], setups: Sequence[Setup], lead: Cm, reserve: Share, step: Cm
) -> tuple[SpoolGroup, ...]:
    """Add to each spool the lead it loses at re-threads of the box.

    `setups` come in the order of winding, `lead` is from rack to beam. A set-up that is threaded anew is threaded with
    all its ends: spool j of a yarn takes part when the set-up has at least j ends of it. So the leads of all spools
    together are the lead of all ends threaded anew. The first threading is counted for nobody, as the shown loss counts
    changes alone.
    Source: common practice, no source. Raises ValueError if `lead` or `reserve` is below zero, or `step` is not above
    zero.

    Two spools of A and one of B; A is threaded again with both after a set-up of B:
    >>> two, one = (ColourRun("A", 2),), (ColourRun("B", 1),)
    >>> order = [Setup(1, one, (2,)), Setup(2, two, (1,), threaded=2)]
    >>> groups = [SpoolGroup("A", 1, 2, 1, 90, 90, Fraction(90)), SpoolGroup("B", 1, 1, 1, 90, 90, Fraction(90))]
    >>> found = with_lead_lost(groups, order, Fraction(5), Fraction(0), Fraction(1))
    >>> [(group.code, str(group.lead_lost), str(group.to_wind)) for group in found]
    [('A', '5', '95'), ('B', '0', '90')]
    """
    if lead < 0:
        raise ValueError(f"lead {lead} must not be below zero")
    anew = [_counts(setup.runs) for setup in setups if setup.threaded]
    found = []
    for group in groups:
        lost = sum(held[group.code] >= group.first for held in anew) * lead
        wind = length_to_wind(group.real_length, reserve, step, lost)
        found.append(replace(group, to_wind=wind, lead_lost=lost))
    return tuple(found)


def mass_of_lead(groups: Iterable[SpoolGroup], texes: Mapping[str, Tex]) -> Grams:
    """Weigh the yarn that all spools together lose at re-threads of the box.

    spools x lead lost x tex / 100 000, added over the groups.
    Source: plain arithmetic. Raises ValueError if `texes` lacks a yarn of the groups.

    Twenty spools of 100 tex that lose 5 m each:
    >>> mass_of_lead([SpoolGroup("A", 1, 20, 3, 90, 90, Fraction(90), Fraction(500))], {"A": Fraction(100)})
    Fraction(10, 1)
    """
    kept = tuple(groups)
    if not {group.code for group in kept} <= texes.keys():
        raise ValueError(f"texes {sorted(texes)} must hold every yarn of the groups")
    return sum((group.spools * group.lead_lost * texes[group.code] for group in kept), Fraction(0)) / CM_OF_ONE_TEX


def _counts(runs: tuple[ColourRun, ...]) -> Counter[str]:
    held: Counter[str] = Counter()
    for run in runs:
        held[run.code] += run.ends
    return held


def group_setups(layouts: Sequence[tuple[Place, tuple[ColourRun, ...]]]) -> tuple[Setup, ...]:
    """Put sections that are wound from the same arrangement of spools together.

    Numbered in the order they first appear from the left. Same runs, same set-up; a section with the same colours in
    another order is another set-up. One walk.
    Source: plain comparison. Raises ValueError if a section has no colours.

    >>> blue, white = (ColourRun("A", 8),), (ColourRun("B", 8),)
    >>> [setup.positions for setup in group_setups([(1, blue), (2, white), (3, blue)])]
    [(1, 3), (2,)]
    """
    found: dict[tuple[ColourRun, ...], list[int]] = {}
    for position, runs in layouts:
        if not runs:
            raise ValueError(f"section {position} has no colours")
        found.setdefault(runs, []).append(position)
    return tuple(Setup(number, runs, tuple(places)) for number, (runs, places) in enumerate(found.items(), 1))


def box_lead_lost(ends: Ends, lead: Cm) -> Cm:
    """Give the yarn lost between rack and beam at the re-threads.

    lost = ends x lead, beyond the section waste; measure the lead from one's own rack to one's own beam.
    Source: common practice, no source. Raises ValueError if `ends` or `lead` is below zero.

    Four re-threads of 24 ends at 2 1/2 yards:
    >>> box_lead_lost(96, Fraction(5, 2))
    Fraction(240, 1)
    """
    if ends < 0 or lead < 0:
        raise ValueError(f"ends {ends} and lead {lead} must not be below zero")
    return ends * lead
