"""A calibration in words: depth and density, with what the tape leaves open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from planner.calc.terms.plan import Quantity, Range
from planner.calibration.selectors import Measured
from planner.models import Calibration
from planner.plan.formatter import Formatter


@dataclass(frozen=True, slots=True)
class ShownCalibration:
    """One measurement as its row says it."""

    key: int
    measured_on: date
    measured_by: str
    yarn: str
    wound: str
    circumferences: str
    depth: str
    density: str
    note: str
    may_remove: bool


@dataclass(frozen=True, slots=True)
class ShownDensity:
    """What plans take for one yarn on this beam."""

    yarn: str
    density: str
    between: str
    times: int
    agree: bool


def shown_calibrations(
    rows: Sequence[Calibration], formatter: Formatter, *, by: int, removes_all: bool
) -> list[ShownCalibration]:
    """Write measurements; each may be taken back by its maker, and by who may take back all."""
    return [_shown(one, formatter, may_remove=removes_all or one.measured_by_id == by) for one in rows]


def _shown(one: Calibration, formatter: Formatter, *, may_remove: bool) -> ShownCalibration:
    start, end, width = (_say(value, "length", formatter) for value in (one.start_cm, one.end_cm, one.width_cm))
    return ShownCalibration(
        key=one.pk,
        measured_on=one.measured_on,
        measured_by=str(one.measured_by or ""),
        yarn=one.yarn_name,
        wound=f"{one.ends} ends on {width}, {one.turns} turns",
        circumferences=f"{start} to {end}",
        depth=_say(one.depth.likely, "depth", formatter),
        density=_between(one.density, "density", formatter),
        note=one.note,
        may_remove=may_remove,
    )


def shown_density(one: Measured, formatter: Formatter) -> ShownDensity:
    """Write what all measurements of one yarn say together."""
    found = one.density.range
    likely, between = _say(found.likely, "density", formatter), _between(found, "density", formatter)
    return ShownDensity(one.yarn_name, likely, between, one.times, one.density.agree)


def _between(found: Range, kind: str, formatter: Formatter) -> str:
    return f"{_say(found.low, kind, formatter)} to {_say(found.high, kind, formatter)}"


def _say(value: object, kind: str, formatter: Formatter) -> str:
    return formatter.quantity(Quantity(Fraction(value), kind))  # type: ignore[call-overload]
