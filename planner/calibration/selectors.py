"""What was measured on a beam: how densely each yarn winds there, and what of it a brief takes up."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass, replace
from fractions import Fraction

from inventory.models import Yarn
from planner.brief.fields import write_tex
from planner.calc.beam.calibration import Combined, combined, outward
from planner.calc.terms.brief import WarpBrief, YarnChoice
from planner.models import Calibration
from studio.models import Beam

YarnKey = tuple[str, str]
"""Fibre and exact fineness: what a measurement counts for, whatever the colour."""

STEP = Fraction(1, 1000)
"""Densities are carried into a plan in thousandths of g/cm3, rounded outward."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What all measurements of one yarn on one beam say together."""

    yarn_name: str
    density: Combined
    tape: Fraction
    times: int


def calibrations_of(beam: Beam) -> list[Calibration]:
    """Give the measurements of a beam, the latest first."""
    return list(beam.calibrations.select_related("measured_by"))


def measured_on(beam_key: int | None) -> dict[YarnKey, Measured]:
    """Give what was measured on a beam, yarn by yarn, in one query."""
    if beam_key is None:
        return {}
    by_yarn: dict[YarnKey, list[Calibration]] = {}
    for one in Calibration.objects.filter(beam_id=beam_key):
        by_yarn.setdefault((one.fibre, one.grist), []).append(one)
    return {key: _together(rows) for key, rows in by_yarn.items()}


def _together(rows: list[Calibration]) -> Measured:
    density, tape = combined([one.density for one in rows]), max(Fraction(one.tape_cm) for one in rows)
    return Measured(rows[0].yarn_name, density, tape, len(rows))


def with_densities(brief: WarpBrief, beam_key: int | None, own: Container[int] = ()) -> WarpBrief:
    """Lay what was measured on the beam over the yarns of a brief, save those (by place) that bring their own."""
    measured = measured_on(beam_key)
    if not measured:
        return brief
    meant = [None if at in own else measured.get((one.fibre, write_tex(one.tex))) for at, one in enumerate(brief.yarns)]
    tapes = [one.tape for one in meant if one is not None]
    if not tapes:
        return brief
    yarns = tuple(yarn if one is None else _laid(yarn, one) for yarn, one in zip(brief.yarns, meant, strict=True))
    return replace(brief, yarns=yarns, loom=replace(brief.loom, beam=replace(brief.loom.beam, tape=max(tapes))))


def _laid(yarn: YarnChoice, one: Measured) -> YarnChoice:
    density = outward(one.density.range, STEP)
    low, likely, high = (max(figure, STEP) for figure in (density.low, density.likely, density.high))
    return replace(yarn, density_low=low, wound_density=likely, density_high=high)


def yarns_by_fineness() -> list[tuple[int, str]]:
    """Give the yarns in use, each name and fineness once: a measurement counts for all its colours."""
    yarns: dict[tuple[str, YarnKey], int] = {}
    for yarn in Yarn.objects.filter(retired=False).order_by("name", "pk"):
        yarns.setdefault((yarn.name, (yarn.fibre, write_tex(yarn.exact_tex))), yarn.pk)
    return [(key, f"{name} ({grist})") for (name, (_fibre, grist)), key in yarns.items()]
