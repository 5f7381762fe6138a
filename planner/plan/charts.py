"""Small pictures beside the plan: the shelf against the need, length against turns, and what waits for yarn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import WarpPlan
from planner.plan.drawings import BOTTOM, BeamDrawing
from planner.plan.plan_view import NeedView, TurnView
from planner.plan.presenter_waiting import Awaited

BAR_WIDE = 240.0
CURVE_LEFT, CURVE_RIGHT, CURVE_TOP, CURVE_BOTTOM = 8.0, 472.0, 12.0, 168.0
MOST_POINTS = 80


@dataclass(frozen=True, slots=True)
class StockBar:
    """One yarn of the shelf: how much is needed and how much is there, to one scale."""

    need: NeedView
    needed: str
    there: str
    known: bool
    set_aside: str = ""
    """What of it is set aside for this warp."""


@dataclass(frozen=True, slots=True)
class Curve:
    """Length wound against turns: with build-up, and as the empty beam alone would give."""

    points: str
    plain: str
    last_turn: int
    last_length: str
    alternative: str


def draw_stock(plan: WarpPlan, needs: Sequence[NeedView]) -> tuple[StockBar, ...]:
    """Draw a bar for each yarn; the longer of need and shelf of all yarns fills the width."""
    masses = [(float(need.warp_mass + need.weft_mass), float(need.on_hand or 0)) for need in plan.yarn.needs]
    scale = BAR_WIDE / max(0.001, *(mass for pair in masses for mass in pair))
    return tuple(
        StockBar(need, f"{scale * want:.1f}", f"{scale * have:.1f}", need.part.on_hand is not None)
        for need, (want, have) in zip(needs, masses, strict=True)
    )


def draw_curve(brief: WarpBrief, plan: WarpPlan, turns: Sequence[TurnView]) -> Curve | None:
    """Draw the turn table as a line; nothing where turns are not counted or there is only one."""
    rows = plan.beam.turn_table
    if len(rows) < 2:  # noqa: PLR2004 one point is no line
        return None
    step = len(rows) // MOST_POINTS + 1
    across = (CURVE_RIGHT - CURVE_LEFT) / rows[-1].turn
    up = (CURVE_BOTTOM - CURVE_TOP) / rows[-1].length
    kept = [*rows[:-1:step], rows[-1]]
    points = " ".join(f"{CURVE_LEFT + across * row.turn:.1f},{CURVE_BOTTOM - up * row.length:.1f}" for row in kept)
    plain = CURVE_BOTTOM - up * float(brief.loom.beam.circumference) * rows[-1].turn
    last = turns[-1]
    return Curve(
        points=f"{CURVE_LEFT:.0f},{CURVE_BOTTOM:.0f} {points}",
        plain=f"{CURVE_LEFT:.0f},{CURVE_BOTTOM:.0f} {CURVE_RIGHT:.0f},{plain:.1f}",
        last_turn=last.turn,
        last_length=last.length,
        alternative=f"Length against turns: {last.length} after {last.turn} turns, the table gives the steps.",
    )


def draw_waiting(beam: BeamDrawing, awaited: Sequence[Awaited]) -> str:
    """Draw a line below each section, or chain, that waits for yarn; the style breaks it."""
    waits = {f"part-{place}" for one in awaited for place in one.places}
    places = (block for block in beam.blocks if block.key in waits)
    return "".join(f"M{one.left:.1f} {BOTTOM + 4:.0f}h{max(one.width, 4):.1f}" for one in places)
