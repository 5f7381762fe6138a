"""Threading and sleying as a reader sees them: section by section, from the seat, left to right.

No sum is made here; numbers come from the plan, and the calculators write a repeat out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.calc.reed.threading import straight
from planner.calc.reed.threading_guide import in_repeats
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import SectionSley, SectionThreading, WarpPlan
from planner.plan.plan_view import GuideView, PartView, ShaftRow

SHAFTS_IN_A_ROW, FEWER_IN_A_ROW = 8, 5
"""Shafts side by side on a phone, and with figures from a thousand up; more go on below."""

LONG_FIGURE = 1_000

MOST_FIGURES = 4_000
"""Sections times shafts that are still counted shaft by shaft; more would make the page slow and help nobody."""

LONGEST_REPEAT = 60
LONGEST_PART = 16
"""Shafts written out one by one, of a repeat and of its part at the edge of a section."""


def guide_view(brief: WarpBrief, plan: WarpPlan) -> GuideView:
    """Write threading and sleying out for whoever sits at the loom."""
    draft = brief.threading or straight(brief.loom.shafts)
    spare = [(shaft, kept.left, kept.right, kept.short) for shaft, kept in enumerate(plan.threading.spare, start=1)]
    return GuideView(
        kind=guided_by(plan),
        repeat=_row(draft) if len(draft) <= LONGEST_REPEAT else f"as typed, {len(draft)} ends",
        spare=_in_rows(spare),
        short=any(kept.short for kept in plan.threading.spare),
        reed=_reed(brief, plan),
        floating_selvedge=plan.yarn.floating,
        parts=tuple(_parts(plan, draft)),
    )


def guided_by(plan: WarpPlan) -> str:
    """Say what the guide goes by."""
    if plan.cloth.ends_elsewhere:
        return "part"
    return "section" if plan.winding.sections else "chain"


def _titles(plan: WarpPlan) -> list[str]:
    if plan.cloth.ends_elsewhere:
        return [f"Part {number}" for number, _ in enumerate(plan.threading.guide, start=1)]
    return [f"Section {one.position}" for one in plan.winding.sections] or [
        f"Chain {one.number}" for one in plan.winding.chains
    ]


def _row(shafts: Sequence[int]) -> str:
    return ", ".join(map(str, shafts))


def _in_rows(figures: Sequence[tuple[int, ...]]) -> tuple[ShaftRow, ...]:
    long = any(figure >= LONG_FIGURE for row in figures for figure in row)
    beside = FEWER_IN_A_ROW if long else SHAFTS_IN_A_ROW
    return tuple(tuple(figures[at : at + beside]) for at in range(0, len(figures), beside))


def _reed(brief: WarpBrief, plan: WarpPlan) -> str:
    if plan.reed.best is None:
        return ""
    used = {run.code for run in plan.cloth.pattern}
    one_sett = len({yarn.sett or brief.sett for yarn in brief.yarns if yarn.code in used}) == 1
    order = f"sley {'-'.join(map(str, plan.reed.best.sley))}" if one_sett else "each stripe in its own order"
    start = f"leave {plan.reed.best.empty_left} dents empty at the left and start at dent {plan.reed.best.start_dent}"
    return f"{plan.reed.best.reed}, {order}; {start}"


def _parts(plan: WarpPlan, draft: tuple[int, ...]) -> Iterator[PartView]:
    titles = _titles(plan)
    counted = len(plan.threading.guide) * len(plan.threading.heddles) <= MOST_FIGURES
    sleys: Sequence[SectionSley | None] = plan.threading.sleys or [None] * len(titles)
    for at, (part, sley) in enumerate(zip(plan.threading.guide, sleys, strict=True)):
        yield PartView(
            title=titles[at],
            ends=part.ends,
            so_far=part.so_far,
            threading=_threading(part, draft),
            shafts=_in_rows(_shafts(part)) if counted else (),
            dents="" if sley is None else _dents(sley),
            shared=() if sley is None else tuple(_shared(sley, titles, at)),
        )


def _threading(part: SectionThreading, draft: tuple[int, ...]) -> str:
    place = "with a new repeat" if part.starts_at == 1 else f"with end {part.starts_at} of the repeat"
    order = _order(*in_repeats(draft, part.starts_at, part.ends))
    return f"Begin on shaft {part.first_shaft} {place}: {order}. The last end is on shaft {part.last_shaft}."


def _order(head: tuple[int, ...], repeats: int, tail: tuple[int, ...]) -> str:
    """Write the threading of one section: what ends a repeat, whole repeats, what begins one.

    Examples
    --------
    >>> _order((3, 4), 6, (1, 2)), _order((), 1, ())
    ('3, 4, then 6 repeats, then 1, 2', '1 repeat')
    """
    whole = f"{repeats} repeat{'' if repeats == 1 else 's'}" if repeats else ""
    return ", then ".join(filter(None, (_few(head, "last"), whole, _few(tail, "first"))))


def _few(shafts: tuple[int, ...], which: str) -> str:
    return _row(shafts) if len(shafts) <= LONGEST_PART else f"the {which} {len(shafts)} ends of the repeat"


def _shafts(part: SectionThreading) -> list[tuple[int, ...]]:
    figures = zip(part.on_each, part.on_each_so_far, strict=True)
    return [(shaft, here, so_far) for shaft, (here, so_far) in enumerate(figures, start=1)]


def _dents(sley: SectionSley) -> str:
    """Write the dents of one section, such as: dents 61 to 75: 1, 13 × 2, 1."""
    if sley.first_dent == sley.last_dent:
        return f"Dent {sley.first_dent}: {sley.in_dents[0]}"
    orders = (("-".join(map(str, run.in_dents)), run.times) for run in sley.runs)
    rows = ", ".join(order if times == 1 else f"{times} × {order}" for order, times in orders)
    return f"Dents {sley.first_dent} to {sley.last_dent}: {rows}"


def _shared(sley: SectionSley, titles: Sequence[str], at: int) -> Iterator[str]:
    if sley.shares_first:
        yield f"Dent {sley.first_dent} is shared with {titles[at - 1].lower()}."
    if sley.shares_last:
        yield f"Dent {sley.last_dent} is shared with {titles[at + 1].lower()}."
