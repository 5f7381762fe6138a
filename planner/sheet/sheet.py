"""One warp sheet ready to be shown: what is still needed, what is wrong, or the plan with its pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from django.utils import timezone

from planner.brief.beam_marks import on_two_beams
from planner.brief.form import BriefForm, Mistake, SheetChoices
from planner.brief.form_fields import label_of
from planner.brief.sheet_input import still_needed
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Severity
from planner.calc.worksheet.work_out import work_out
from planner.models import Project
from planner.plan.charts import Curve, StockBar, draw_curve, draw_stock, draw_waiting
from planner.plan.drawings import BeamDrawing, Block, draw_beam
from planner.plan.formatter import Formatter, RemarkView
from planner.plan.plan_view import GuideView, SectionView, SumGroup, TurnView
from planner.plan.presenter import PlanView
from planner.plan.presenter_threading import guide_view
from planner.plan.presenter_waiting import WantedYarn, waiting_parts
from planner.warps.selectors import BOARDS, RACKS, beams_offered, faults_of, read_sheet, stations_offered, yarn_labels
from planner.yarn.awaited import wanted_yarns_of
from planner.yarn.shelf_selectors import set_aside_for
from planner.yarn.words import set_aside_note
from studio.models import Beam, Member
from studio.units import Units, show

CAUTION = "caution_"
"""How the codes of remarks begin that keep people from harm; these are never folded up."""
MOST_REMARKS, FEWEST_REMARKS = 6, 4
MOST_TURN_ROWS = 150
"""Turns listed one by one; a longer table helps nobody and slows the page."""


@dataclass(frozen=True, slots=True)
class PlanPicture:
    """A plan in words with its drawings."""

    shown: PlanView
    loud: tuple[RemarkView, ...]
    quiet: tuple[RemarkView, ...]
    cautions: tuple[RemarkView, ...]
    beam: BeamDrawing
    sections: tuple[tuple[SectionView, Block], ...]
    every_turn: tuple[TurnView, ...]
    stock: tuple[StockBar, ...]
    sums: tuple[SumGroup, ...]
    choices: bool
    guide: GuideView | None
    curve: Curve | None
    waiting: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """What came of a sheet: a plan, or what stands in its way."""

    plan: PlanPicture | None
    mistakes: tuple[Mistake, ...]
    needed: tuple[Mistake, ...]
    two_beams: bool


def work_sheet(
    typed: Mapping[str, Any],
    units: Units,
    warp: Project | None = None,
    *,
    sums: bool = True,
    choices: bool = True,
    guide: bool = True,
) -> Sheet:
    """Work out a sheet for someone who reads in these units; what is folded up may stay away."""
    reading, two_beams = read_sheet(typed, warp), on_two_beams(typed["form"])
    if reading.brief is not None:
        wanted_yarns = wanted_yarns_of(warp) if warp is not None else ()
        picture = draw_plan(reading.brief, units, wanted_yarns, sums=sums, choices=choices, guide=guide)
        return Sheet(_with_set_aside(picture, warp, units), (), (), two_beams)
    faults = faults_of(reading, typed)
    missing = still_needed(typed["form"])
    return Sheet(
        None,
        tuple(Mistake(fault.field, label_of(fault.field), fault.text) for fault in faults),
        tuple(Mistake(name, label_of(name), "This is still needed.") for name in missing),
        two_beams,
    )


def draw_plan(
    brief: WarpBrief,
    units: Units,
    wanted_yarns: Sequence[WantedYarn] = (),
    *,
    sums: bool = True,
    choices: bool = True,
    guide: bool = True,
) -> PlanPicture:
    """Work out a brief, and write and draw what follows; `wanted_yarns` is the yarn on the wanted list."""
    plan, formatter = work_out(brief), Formatter(units)
    awaited = waiting_parts(wanted_yarns, plan, timezone.localdate())
    shown = PlanView(brief, plan, formatter, awaited)
    beam = draw_beam(brief, plan, shown.yarns, formatter)
    rows = shown.all_turns
    advice = tuple(remark for remark in shown.remarks if not remark.code.startswith(CAUTION))
    loud = _loud(advice)
    return PlanPicture(
        shown=shown,
        loud=advice[:loud],
        quiet=advice[loud:],
        cautions=tuple(remark for remark in shown.remarks if remark.code.startswith(CAUTION)),
        beam=beam,
        sections=tuple(zip(shown.sections, beam.blocks, strict=False)),
        every_turn=rows if len(shown.turns) < len(rows) <= MOST_TURN_ROWS else (),
        stock=draw_stock(plan, shown.needs),
        sums=shown.groups if sums else (),
        choices=choices,
        guide=guide_view(brief, plan) if guide else None,
        curve=draw_curve(brief, plan, shown.all_turns),
        waiting=draw_waiting(beam, awaited),
    )


def _with_set_aside(picture: PlanPicture, warp: Project | None, units: Units) -> PlanPicture:
    """Write beside each yarn what of it is set aside for the warp."""
    set_aside = {one.yarn.pk: set_aside_note(one, units) for one in set_aside_for(warp)} if warp is not None else {}
    if not set_aside:
        return picture
    stock = (replace(bar, set_aside=set_aside.get(bar.need.part.yarn.yarn_id or 0, "")) for bar in picture.stock)
    return replace(picture, stock=tuple(stock))


def _loud(remarks: Sequence[RemarkView]) -> int:
    """Count the remarks in plain sight: all that are more than a note, and as many notes as there is room for."""
    if len(remarks) <= MOST_REMARKS:
        return len(remarks)
    return max(sum(remark.severity is not Severity.NOTE for remark in remarks), FEWEST_REMARKS)


def sheet_form(typed: Mapping[str, Any], member: Member, mistakes: tuple[Mistake, ...] = ()) -> BriefForm:
    """Make the form of a sheet, with what the studio offers and the mistakes beside their fields."""
    beams = list(beams_offered())
    form = BriefForm(typed, _choices(beams), waste=_waste(beams, typed["form"].get("beam", ""), member.reads_in))
    form.show_mistakes(mistakes)
    return form


def _choices(beams: list[Beam]) -> SheetChoices:
    several = {beam.loom_id for beam in beams if sum(other.loom_id == beam.loom_id for other in beams) > 1}
    stations = list(stations_offered())
    return SheetChoices(
        beams=(("", "Choose a loom"), *((str(beam.pk), _beam_words(beam, several)) for beam in beams)),
        racks=(("", "the studio’s largest"), *((str(s.pk), s.name) for s in stations if s.kind in RACKS)),
        boards=(("", "the studio’s longest"), *((str(s.pk), s.name) for s in stations if s.kind in BOARDS)),
        yarns=yarn_labels(),
    )


def _beam_words(beam: Beam, several: set[int]) -> str:
    """Name a loom with the kind of its beam, and the beam's own name where the loom has more than one."""
    name = f"{beam.loom}, {beam.name}" if beam.loom_id in several else f"{beam.loom}"
    kind = f"{beam.sections} sections" if beam.kind == Beam.Kind.SECTIONAL else "plain beam"
    return f"{name} ({kind})"


def _waste(beams: list[Beam], chosen: str, units: Units) -> str:
    beam = next((beam for beam in beams if str(beam.pk) == chosen), None)
    return show(Fraction(beam.loom.waste_cm), "length", units) if beam else ""
