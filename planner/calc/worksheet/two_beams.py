"""The worksheet's page of two beams: what lies elsewhere, and yarns of one beam that take up unequally."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.calc.beam import two_beams
from planner.calc.cloth import colours
from planner.calc.fit import beam as beam_fit
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Beaming, Cloth, Remark, Sum
from planner.calc.terms.problems import Problem
from planner.calc.worksheet.advice import UNKIND_FIBRES
from planner.calc.worksheet.cloth import cloth_of, take_ups
from planner.calc.worksheet.sett import names_of_yarns
from planner.calc.worksheet.sums import line, of


@dataclass(frozen=True, slots=True)
class Beams:
    """What two beams ask for, and what unequal take-up on this one does."""

    sums: tuple[Sum, ...]
    remarks: tuple[Remark, ...]


def beam_problems(brief: WarpBrief) -> tuple[Problem, ...]:
    """Refuse a sheet on whose beam no end lies; asked once the brief is sound in all else.

    Only the whole colour order tells which yarns have ends, so this is asked of the worked-out cloth.
    """
    if not any(yarn.elsewhere for yarn in brief.yarns):
        return ()
    cloth = cloth_of(brief)
    if cloth.here:
        return ()
    at = [yarn.code for yarn in brief.yarns].index(cloth.pattern[0].code)
    message = "All ends lie on the other beam; at least one yarn of the colour order must lie on this one."
    return (Problem(f"yarns.{at}.elsewhere", "no_ends_here", message),)


def beams_of(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> Beams:
    """Say what lies on the other beam, how the ends here lie, and what unequal take-up does."""
    sums, remarks = _unequal_take_up(brief, cloth, beaming)
    if not cloth.parted:
        return Beams(sums, remarks)
    counted = colours.counts(cloth.pattern)
    marked = [yarn for yarn in brief.yarns if yarn.code in cloth.elsewhere and yarn.code in counted]
    away = [(counted[yarn.code], names_of_yarns([yarn])) for yarn in marked]
    lying = [(place.position, place.free_left or Fraction(0), place.filled) for place in beaming.places]
    elsewhere = beam_fit.beam_remarks(away, cloth.ends)
    return Beams(sums, (*remarks, *elsewhere, *beam_fit.part_remarks(lying)))


def _unequal_take_up(brief: WarpBrief, cloth: Cloth, beaming: Beaming) -> tuple[tuple[Sum, ...], tuple[Remark, ...]]:
    """Hold what takes up most on this beam against what takes up least."""
    shares = take_ups(brief, cloth)
    more, less = max(shares.values()), min(shares.values())
    if more == less:
        return (), ()
    needs = two_beams.take_up_needs(beaming.warp_length, more, less)
    given = _given(beaming, shares, (more, less))
    limits = (brief.tolerances.mismatch_note, brief.tolerances.mismatch_warn)
    if any(yarn.fibre in UNKIND_FIBRES for yarn in brief.yarns if yarn.code in shares):
        limits = (limits[0] / 2, limits[1] / 2)
    names = (_names(brief, shares, more), _names(brief, shares, less))
    remarks = beam_fit.take_up_remarks(names, needs, given, beaming.warp_length, limits)
    about = f"{_codes(shares, more)} beside {_codes(shares, less)}"
    put_in = {"length": of(beaming.warp_length, "distance"), "more": of(more, "share"), "less": of(less, "share")}
    return (line("take_up_needs", of(needs, "length"), put_in, about), _lacking(float(needs), given, about)), remarks


def _lacking(needs: float, given: float, about: str) -> Sum:
    """Show what lacks or is to spare, always as so much and never as less than nothing."""
    needed, sized = of(needs, "length"), of(abs(given), "length")
    if given < 0:
        return line("take_up_worse", of(needs - given, "length"), {"needs": needed, "shorter": sized}, about)
    key = "take_up_lacking" if given <= needs else "take_up_spare"
    return line(key, of(abs(needs - given), "length"), {"needs": needed, "given": sized}, about)


def _given(beaming: Beaming, found: Mapping[str, Fraction], shares: tuple[Fraction, Fraction]) -> float:
    """Give how much longer the sections of what takes up more are: its shortest less the longest of the other."""
    lengths: tuple[list[float], list[float]] = ([], [])
    for section in beaming.sections:
        for side, share in zip(lengths, shares, strict=True):
            if any(found[run.code] == share for run in section.runs):
                side.append(section.real_length)
    return min(lengths[0]) - max(lengths[1]) if beaming.sections else 0.0


def _codes(shares: Mapping[str, Fraction], share: Fraction) -> str:
    return ", ".join(code for code, own in shares.items() if own == share)


def _names(brief: WarpBrief, shares: Mapping[str, Fraction], share: Fraction) -> str:
    return names_of_yarns([yarn for yarn in brief.yarns if shares.get(yarn.code) == share])
