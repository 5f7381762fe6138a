"""Which looms a warp fits, when each is free for as long as it takes, and what stands in the way of the others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from urllib.parse import urlencode

from planner.calc.terms.plan import WarpPlan
from planner.calc.winding.loom_time import (
    ENDS_AN_HOUR,
    WOVEN_AN_HOUR,
    days_on_loom,
    hours_of_dressing,
    hours_of_weaving,
)
from planner.calc.worksheet.work_out import work_out
from planner.cards.selectors import LoomFit, beams_for_cards, fits_of
from planner.models import Project
from planner.warps.from_database import reeds_by_name, reeds_for, reeds_in_use
from planner.warps.selectors import read_sheet
from studio.calendar.selectors import Opening, openings, standing
from studio.dates import day_words, days_words, span_words
from studio.models import Beam, LoomOccupancy, Member, Reed
from studio.units import Units, rounded, show


@dataclass(frozen=True, slots=True)
class TimeNeeded:
    """How long a warp keeps a loom, and the arithmetic as it is shown."""

    days: int
    sentence: str


@dataclass(frozen=True, slots=True)
class LoomFound:
    """One beam: whether the warp fits it, and when its loom is free."""

    fit: LoomFit
    opening: Opening
    days: int
    own: bool
    """The warp is planned on this beam."""
    asked: date
    """The day from which a loom is wanted."""
    gap_until: date | None = None
    """Free on the day that was asked for, but for fewer days than it takes: the day on which somebody else begins."""

    @property
    def at_once(self) -> bool:
        """Free from the day that was asked for, for as long as it takes."""
        return self.opening.starts_on == self.asked

    @property
    def query(self) -> str:
        """Give what a link to the reservation says: from which day, and for how long."""
        return urlencode({"starting": self.opening.starts_on.isoformat(), "days": self.days})

    @property
    def when(self) -> str:
        """Say when it is free, and who has it until then."""
        first, until = self.opening.starts_on, self.opening.until
        free = f"free {span_words(first, until)}" if until else f"free from {day_words(first)}"
        if self.gap_until:
            free += f"; before that for {self._gap}, {span_words(self.asked, self.gap_until)}"
        elif self.opening.now:
            free += f"; {_taken(self.opening.now, late=self.opening.over_time)}"
        many = self.opening.waiting
        return f"{free}; {many} wait{'s' if many == 1 else ''} for it" if many else free

    @property
    def _gap(self) -> str:
        return days_words((self.gap_until - self.asked).days) if self.gap_until else ""


def _taken(now: LoomOccupancy, *, late: bool) -> str:
    who = "out of order" if now.kind == LoomOccupancy.Kind.OUT else f"{now.member} has it"
    return f"{who}, over its time" if late else f"{who} until {day_words(now.last_day)}"


def time_needed(plan: WarpPlan, waste: Fraction, hours_a_week: Fraction, units: Units) -> TimeNeeded:
    """Reckon how long a warp keeps a loom: dressing by its ends, weaving by its length less the loom waste."""
    woven = max(Fraction(0), plan.beam.warp_length - waste)
    dressing, weaving = hours_of_dressing(plan.cloth.ends_here, ENDS_AN_HOUR), hours_of_weaving(woven, WOVEN_AN_HOUR)
    days = days_on_loom(dressing + weaving, hours_a_week)
    rate = show(WOVEN_AN_HOUR, "length", units)
    return TimeNeeded(
        days,
        f"{plan.cloth.ends_here} ends at {ENDS_AN_HOUR} an hour are {rounded(dressing, 1)} hours of dressing; "
        f"{show(woven, 'distance', units)} at {rate} an hour are {rounded(weaving, 1)} hours of weaving. "
        f"At {rounded(hours_a_week, 1)} hours a week that is {days_words(days)}.",
    )


def plan_of(warp: Project) -> tuple[WarpPlan, Fraction] | None:
    """Give the plan of a saved warp on its own loom, and that loom's waste; nothing where it has mistakes."""
    brief = read_sheet(warp.typed, warp).brief
    if brief is None:
        return None
    return work_out(brief), brief.loom.waste


def looms_found(warp: Project, member: Member, days: int, starts_on: date) -> tuple[LoomFound, ...]:
    """Give every beam of the studio: those the warp fits by when they are free, those with a warning, the others."""
    fits = fits_of(warp, member, beams_for_cards(warp))
    looms = {fit.beam.loom_id: fit.beam.loom for fit in fits}
    free = {opening.loom.pk: opening for opening in openings(looms.values(), days, starts_on)}
    next_ones = _next_starts(looms, starts_on)
    found = []
    for fit in fits:
        opening = free[fit.beam.loom_id]
        short = opening.now is None and opening.starts_on > starts_on
        gap = next_ones.get(fit.beam.loom_id) if short else None
        found.append(LoomFound(fit, opening, days, fit.beam.pk == warp.beam_id, starts_on, gap))
    return tuple(sorted(found, key=_in_order))


def _in_order(one: LoomFound) -> tuple[bool, bool, date, bool]:
    return bool(one.fit.refusal), one.fit.has_warnings, one.opening.starts_on, not one.own


def _next_starts(looms: Iterable[int], day: date) -> Mapping[int, date]:
    """Give for each loom the first day after a given one on which somebody begins."""
    ahead = standing().filter(loom__in=list(looms), starts_on__gt=day).order_by("-starts_on")
    return dict(ahead.values_list("loom_id", "starts_on"))  # the soonest comes last, and stays


def reed_of(fit: LoomFit) -> Reed | None:
    """Give the reed a plan would be sleyed in, to be reserved too; none where the studio has none that fits."""
    if fit.plan is None or fit.plan.reed.best is None:
        return None
    return reeds_by_name(fit.beam.loom, reeds_in_use()).get(fit.plan.reed.best.reed)


def reservation_of(warp: Project) -> LoomOccupancy | None:
    """Give the reservation a warp has on a loom, while it stands."""
    if warp.reservation_id is None:
        return None
    return standing().filter(pk=warp.reservation_id).first()


def fit_on(warp: Project, member: Member, beam: Beam) -> LoomFit:
    """Work a warp out for one beam."""
    (fit,) = fits_of(warp, member, [beam])
    return fit


def usable_reeds(beam: Beam) -> Sequence[Reed]:
    """Give the reeds that may be reserved with a loom, its own first."""
    return tuple(reeds_for(beam.loom, reeds_in_use()))
