"""Warping cards: a shown plan laid out for paper. Words come from `planner.plan.presenter`, never from here."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import accumulate
from urllib.parse import quote

from django.template.loader import render_to_string

from planner.cards.chains import chain_kinds, ties_line
from planner.cards.room import (
    BLANK_LINES,
    FAULTS,
    LONGEST_ROW,
    MOST_IN_TWO,
    ROOM_FOR_A_REMARK,
    SAVED_BY_A_ROW,
    remark_height,
    room_for_remarks,
)
from planner.cards.selectors import CardWords
from planner.plan.plan_view import ReedView, SectionView, YarnView
from planner.plan.presenter import PlanView
from studio.files.pdf import qr_address

CAUTIONS = (
    "Follow this studio's rules and the maker's manual for this loom; they come first. Hold the wheel or handle "
    "before you lift a pawl or brake, and take the crank off when you are not cranking. Keep hair, cords and fingers "
    "away from rakes, ratchets and winders. Check every clamp before each section. Lift a loom or full beam with two "
    "people. Rest often, and stop at pain. Children and young people only with an adult at hand, never at the crank."
)
TWO_BEAMS = "Two beams: make sure which brake, pawl and crank belong to which before you free one."
IN_ORDER = "Sley and thread all in order."
START_MARK = "wind on until the knots lie in the gap, then count every section from the SAME beam mark."
LOOK_AT_LEADER = "look that its knot lies between two bars before you count the first turn."
BOX_CROSS = "tie one in each section, or tape both sides in order; its front side faces the SEAT."
CHAIN_CROSS = (
    "raddle cross to the beam, threading cross to the SEAT; sticks through the same side of every cross, tops up."
)
MIXED_CROSS = (
    "by the box tie one in each section, or tape both sides in order; a chain brings its own, raddle cross to the "
    "beam, threading cross to the SEAT. All go on the same sticks, tops up."
)
CHAINS_BESIDE = (
    "same start mark, same turns and same pull as the box; what is left of a chain stays at the front. Compare the "
    "circumference at the end with the neighbours' BEFORE you cut."
)
WAITING = (
    "Keep its leader free and tagged; wind the others, then it, to the same turns and the neighbours' circumference."
)
SEVERITY_WORDS = {"note": "Note.", "warn": "Warning.", "stop": "Stop."}
STRIP_WIDTH, STRIP_TOP, STRIP_BOTTOM = 1000, 11, 58
STRIP_LOW = 48
"""Where stripes of the other beam begin: they are low ones, so that this beam's stand out in grey too."""
LONGEST_RADDLE = 160
"""Characters of the raddle's list that are worth lines of their own, where each chain of the table says its spaces."""
MOST_STRIPES = 500
NARROWEST_LETTER = 14
"""Width of a run, in thousandths of the warp, below which its letter would not fit."""


@dataclass(frozen=True, slots=True)
class _Key:
    code: str
    name: str
    colour_name: str
    swatch: str
    elsewhere: bool


@dataclass(frozen=True, slots=True)
class _Pattern:
    number: int
    width: int
    height: int
    path: str


PATTERNS = (
    _Pattern(0, 8, 8, ""),
    _Pattern(1, 7, 7, "M0 7L7 0M-1 1L1 -1M6 8L8 6"),
    _Pattern(2, 6, 6, "M0 3H6"),
    _Pattern(3, 7, 7, "M0 0L7 7M-1 6L1 8M6 -1L8 1"),
    _Pattern(4, 6, 6, "M3 0V6"),
    _Pattern(5, 8, 8, "M0 4H8M4 0V8"),
    _Pattern(6, 8, 8, "M0 0L8 8M0 8L8 0"),
    _Pattern(7, 6, 6, "M2.5 3H3.5"),
)
"""Hatches that keep yarns apart in grey, in the order of the yarns."""


def _data_address(svg: str) -> str:
    """Give an SVG as an image of its own: fewer elements on the page, so the PDF is made faster."""
    return f"data:image/svg+xml,{quote(svg.strip())}"


def _box(yarn: YarnView, left: float, right: float) -> str:
    top = STRIP_LOW if yarn.elsewhere else STRIP_TOP
    return f"M{left:.1f} {top}H{right:.1f}V{STRIP_BOTTOM}H{left:.1f}Z"


Span = tuple[YarnView, float, float]
"""A yarn of the strip with its left and right edge."""


def _spans(plan: PlanView) -> list[Span]:
    """Give the stripes of the strip; more than ink can show are looked at where the columns of the picture fall."""
    ends = accumulate((run.ends for run in plan.order), initial=0)
    edges = [STRIP_WIDTH * done / plan.ends_of_cloth for done in ends]
    if len(plan.order) <= MOST_STRIPES:
        return [(run.yarn, left, right) for run, left, right in zip(plan.order, edges, edges[1:], strict=False)]
    width = STRIP_WIDTH / MOST_STRIPES
    seen = [plan.order[bisect_right(edges, width * (at + 0.5)) - 1].yarn for at in range(MOST_STRIPES)]
    return [(yarn, width * at, width * (at + 1)) for at, yarn in enumerate(seen)]


def strip_address(plan: PlanView) -> str:
    """Draw the colours across the warp with the section bounds, seen from the seat, as one image."""
    spans = _spans(plan)
    paths: dict[str, list[str]] = {}
    for yarn, left, right in spans:
        paths.setdefault(yarn.code, []).append(_box(yarn, left, right))
    yarns = [
        {"path": "".join(paths[yarn.code]), "colour": yarn.colour, "pattern": yarn.pattern}
        for yarn in plan.yarns
        if yarn.code in paths
    ]
    bounds = sorted({bound for place in plan.places for bound in place})
    ticks = "".join(f"M{STRIP_WIDTH * bound / plan.ends_of_cloth:.1f} 0V{STRIP_TOP}" for bound in bounds)
    letters = [
        {"x": f"{(left + right) / 2:.1f}", "text": f"({yarn.code})" if yarn.elsewhere else yarn.code}
        for yarn, left, right in spans
        if right - left >= NARROWEST_LETTER
    ]
    context = {"patterns": PATTERNS, "yarns": yarns, "ticks": ticks, "letters": letters}
    return _data_address(render_to_string("planner/cards/_strip.svg", context))


def _swatch(yarn: YarnView) -> str:
    pattern = PATTERNS[yarn.pattern]
    return _data_address(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 36 18"><defs>'
        f'<pattern id="p" width="{pattern.width}" height="{pattern.height}" patternUnits="userSpaceOnUse">'
        f'<path d="{pattern.path}" stroke="#000" stroke-width="1.1" fill="none"/></pattern></defs>'
        f'<rect x=".7" y=".7" width="34.6" height="16.6" fill="{yarn.colour}"/>'
        '<rect x=".7" y=".7" width="34.6" height="16.6" fill="url(#p)" stroke="#000" stroke-width="1.4"/></svg>'
    )


def _key(yarns: Iterable[YarnView]) -> list[_Key]:
    return [_Key(yarn.code, yarn.name, yarn.colour_name, _swatch(yarn), yarn.elsewhere) for yarn in yarns]


def _spoken(plan: PlanView, room: float) -> tuple[list[dict[str, str]], int]:
    """Give the loudest remarks there is room for, and how many more the warp's page has; cautions have their own."""
    advice = [remark for remark in plan.remarks if not remark.code.startswith("caution")]
    said = []
    for remark in advice:
        room -= remark_height(f"{remark.text} {remark.advice}")
        if room < 0:
            break
        word = SEVERITY_WORDS[str(remark.severity)]
        said.append({"severity": str(remark.severity), "word": word, "text": remark.text, "advice": remark.advice})
    return said, len(advice) - len(said)


def _lines(plan: PlanView) -> Iterator[tuple[str, str]]:
    """Give the set-up lines above the table: reed, start, leader, cross."""
    if plan.waits:
        yield "Waits:", f"{' '.join(plan.waits)} {WAITING}"
    if plan.other_beam:
        yield "Beam", f"{plan.other_beam} {IN_ORDER}"
    if plan.reed:
        yield "Reed:", _reed_words(plan.reed)
    if plan.sectional:
        yield "Start mark:", START_MARK
        yield "Leader:", plan.knot or LOOK_AT_LEADER
    yield "Cross:", MIXED_CROSS if plan.mixed else BOX_CROSS if plan.box else CHAIN_CROSS
    if plan.mixed:
        yield "Chains:", CHAINS_BESIDE
    if plan.raddle and not (plan.sections and len(plan.raddle) > LONGEST_RADDLE):
        yield "Raddle:", f"{plan.raddle}, for the whole warp."


def _reed_words(reed: ReedView) -> str:
    start = f"leave {reed.empty_left} empty at the left seen from the SEAT and start at dent {reed.start_dent}"
    return f"{reed.reed}, sley {reed.sley} ({reed.sett}), {reed.dents} dents; {start}. Width {reed.width}."


def _pictures(words: CardWords, plan: PlanView) -> dict[str, object]:
    used = {run.yarn.code for run in plan.order}
    return {
        "qr": qr_address(words.url),
        "strip": strip_address(plan),
        "key": _key(yarn for yarn in plan.yarns if yarn.code in used),
    }


def _rows(plan: PlanView, *, by_setup: bool) -> list[tuple[SectionView, str]]:
    """Give each section with its colours in the view of whoever winds; by codes alone where words would not fit."""
    words = [row.back_text if plan.box else row.seat_text for row in plan.sections]
    if max(map(len, words), default=0) > LONGEST_ROW:
        words = [_in_codes(row, text, back=plan.box) for row, text in zip(plan.sections, words, strict=True)]
    told = [_told(row, text, by_setup=by_setup) for row, text in zip(plan.sections, words, strict=True)]
    told = [f"{text} ({row.waits})" if row.waits else text for row, text in zip(plan.sections, told, strict=True)]
    return list(zip(plan.sections, told, strict=True))


def _told(row: SectionView, text: str, *, by_setup: bool) -> str:
    """Point to the table that has the colours, where they would take several lines here."""
    elsewhere = len(text) > LONGEST_ROW if row.chain else by_setup
    return f"as {row.wound}" if elsewhere else text


def _in_codes(row: SectionView, text: str, *, back: bool) -> str:
    codes = ", ".join(run.text for run in (row.back if back else row.seat))
    return codes if len(codes) < len(text) else text


def _by_setup(plan: PlanView) -> bool:
    """Say whether the section table points to its set-ups: rows too long for a line, and few set-ups for many rows."""
    boxed = [row for row in plan.sections if row.setup]
    long_rows = any(len(row.seat_text) > LONGEST_ROW for row in boxed)
    return long_rows and 0 < 2 * len(plan.setups) <= len(boxed)


def _card_context(words: CardWords, plan: PlanView) -> dict[str, object]:
    lines, by_setup = tuple(_lines(plan)), _by_setup(plan)
    rows = _rows(plan, by_setup=by_setup)
    cautions = f"{words.local_rules} {CAUTIONS} {TWO_BEAMS if plan.other_beam else ''}".strip()
    room = room_for_remarks(words, plan, (*lines, ("", cautions)), [text for _, text in rows], by_setup=by_setup)
    crowded = room < ROOM_FOR_A_REMARK  # then the lines for faults make way
    room += FAULTS if crowded else 0
    tight = room < 0
    remarks, more = _spoken(plan, room + (SAVED_BY_A_ROW * len(rows) if tight else 0))
    return {
        **_pictures(words, plan),
        "words": words,
        "plan": plan,
        "cautions": cautions,
        "order": ", ".join(run.text for run in plan.order[:40]),
        "lines": lines,
        "back": plan.box,
        "by_setup": by_setup,
        "rows": rows,
        "tight": tight,
        "dense": len(plan.spools) > MOST_IN_TWO,
        "turns": any(row.turns for row in plan.sections),
        "first": plan.sections[0].position if plan.sections else 1,
        "partial": any(row.partial for row in plan.sections),
        "ties": ties_line(plan, short=tight),
        "chain_kinds": chain_kinds(plan),
        "remarks": remarks,
        "more_remarks": more,
        "blank_lines": range(0 if crowded else BLANK_LINES),
    }


def card_html(words: CardWords, plan: PlanView) -> str:
    """Lay a plan out as a card: one page of HTML that serves print, PDF and a look on the screen."""
    return render_to_string("planner/cards/warping.html", _card_context(words, plan))
