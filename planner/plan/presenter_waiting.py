"""Which sections wait for yarn, and how that is said on sheet and card. A mark always has its words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from planner.brief.yarn_names import printed
from planner.calc.terms.brief import YarnChoice
from planner.calc.terms.plan import WarpPlan
from planner.calc.terms.positions import spans


@dataclass(frozen=True, slots=True)
class WantedYarn:
    """Yarn that is wanted and has not come: its key in the yarn room or none, its name, and the day if there is one."""

    yarn_id: int | None
    name: str
    expected_on: date | None


@dataclass(frozen=True, slots=True)
class Awaited:
    """One yarn that a warp waits for, with the places that hold it: sections, or chains where there are none."""

    name: str
    expected_on: date | None
    overdue: bool
    chains: bool
    places: tuple[int, ...]

    @property
    def until(self) -> str:
        """Until when, in words."""
        if self.expected_on is None:
            return "waits for yarn, no day yet"
        day = short_day(self.expected_on)
        return f"waits for yarn, overdue since {day}" if self.overdue else f"waits for yarn until {day}"

    @property
    def sentence(self) -> str:
        """Which places wait for what, and until when."""
        one = len(self.places) == 1
        what = ("chain" if one else "chains") if self.chains else ("section" if one else "sections")
        verb = "waits" if one else "wait"
        day = "no day is known yet" if self.expected_on is None else f"expected {short_day(self.expected_on)}"
        late = ", overdue" if self.overdue else ""
        return f"{what.capitalize()} {spans(self.places)} {verb} for {self.name}, {day}{late}."


def short_day(day: date) -> str:
    """Write a day.

    Examples
    --------
    >>> short_day(date(2026, 12, 2))
    '2 Dec 2026'
    """
    return f"{day.day} {day:%b %Y}"


def waiting_parts(wanted_yarns: Iterable[WantedYarn], plan: WarpPlan, today: date) -> tuple[Awaited, ...]:
    """Give the yarns a plan waits for: wanted, and still lacking by the plan itself."""
    lacking = [need for need in plan.yarn.needs if need.ends and (need.short or need.on_hand is None)]
    awaited = []
    for wanted in wanted_yarns:
        codes = {need.code for need in lacking if _means(wanted, need.yarn)}
        places = _places(plan, codes)
        if places:
            overdue = wanted.expected_on is not None and wanted.expected_on < today
            awaited.append(Awaited(wanted.name, wanted.expected_on, overdue, not plan.winding.sections, places))
    return tuple(awaited)


def _means(wanted: WantedYarn, yarn: YarnChoice) -> bool:
    if wanted.yarn_id is not None:
        return yarn.yarn_id == wanted.yarn_id
    return yarn.yarn_id is None and printed(yarn.name, yarn.colour_name) == wanted.name


def _places(plan: WarpPlan, codes: set[str]) -> tuple[int, ...]:
    if plan.winding.sections:
        return tuple(part.position for part in plan.winding.sections if any(run.code in codes for run in part.runs))
    return tuple(chain.number for chain in plan.winding.chains if any(run.code in codes for run in chain.runs))
