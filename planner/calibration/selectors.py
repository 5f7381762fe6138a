"""What was measured on a beam: how densely each yarn winds there, as part of a brief document."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from inventory.calc.count import read_grist
from inventory.models import Yarn
from planner.brief.fields import read_tex, write_quantity, write_tex
from planner.calc.beam.calibration import Combined, combined, outward
from planner.models import Calibration
from studio.models import Beam
from studio.units import UnitError, Units

Document = dict[str, Any]
Kept = tuple[str, str]
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


def measured_on(beam_key: int | None) -> dict[Kept, Measured]:
    """Give what was measured on a beam, yarn by yarn, in one query."""
    if beam_key is None:
        return {}
    by_yarn: dict[Kept, list[Calibration]] = {}
    for one in Calibration.objects.filter(beam_id=beam_key):
        by_yarn.setdefault((one.fibre, one.grist), []).append(one)
    return {kept: _together(found) for kept, found in by_yarn.items()}


def _together(found: list[Calibration]) -> Measured:
    density, tape = combined([one.density for one in found]), max(Fraction(one.tape_cm) for one in found)
    return Measured(found[0].yarn_name, density, tape, len(found))


def with_densities(document: Document, beam_key: int | None, own: Container[int] = ()) -> Document:
    """Lay what was measured on the beam over the yarns of a document, save those (by place) that bring their own."""
    found, yarns, loom = measured_on(beam_key), document.get("yarns"), document.get("loom")
    beam = loom.get("beam") if isinstance(loom, dict) else None
    if not found or not isinstance(yarns, list) or not isinstance(beam, dict):
        return document
    said = document.get("units")
    units = Units(said) if isinstance(said, str) and said in tuple(Units) else None
    meant = [None if at in own else _meant(yarn, found, units) for at, yarn in enumerate(yarns)]
    tapes = [one.tape for one in meant if one is not None]
    if not tapes:
        return document
    laid = [yarn if one is None else {**yarn, **_figures(one)} for yarn, one in zip(yarns, meant, strict=True)]
    taped = {**beam, "tape": write_quantity(max(tapes), "length")}
    return {**document, "yarns": laid, "loom": {**(loom or {}), "beam": taped}}


def _meant(yarn: object, found: Mapping[Kept, Measured], units: Units | None) -> Measured | None:
    if not isinstance(yarn, dict) or not isinstance(yarn.get("grist"), str):
        return None
    try:
        grist = write_tex(_tex(yarn["grist"], units))
    except UnitError:
        return None
    return found.get((str(yarn.get("fibre") or "cotton"), grist))


def _tex(text: str, units: Units | None) -> Fraction:
    try:
        return read_tex(text)
    except UnitError:
        return read_grist(text, units)


def _figures(one: Measured) -> Document:
    density = outward(one.density.range, STEP)
    ends = {"density_low": density.low, "wound_density": density.likely, "density_high": density.high}
    return {name: write_quantity(max(figure, STEP), "density") for name, figure in ends.items()}


def yarns_by_fineness() -> list[tuple[int, str]]:
    """Give the yarns in use, each name and fineness once: a measurement counts for all its colours."""
    told: dict[tuple[str, Kept], int] = {}
    for yarn in Yarn.objects.filter(retired=False).order_by("name", "pk"):
        told.setdefault((yarn.name, (yarn.fibre, write_tex(yarn.exact_tex))), yarn.pk)
    return [(key, f"{name} ({grist})") for (name, (_fibre, grist)), key in told.items()]
