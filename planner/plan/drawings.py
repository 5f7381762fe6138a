"""Pictures of a plan as plain numbers: where every line of the drawings goes. Templates only write them down.

Drawn once, seen from the seat; the view from the back is the same picture mirrored, with its words placed anew, so
that position numbers never change. Each section's stripes are one path for each yarn: a warp of a thousand stripes
stays a small page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import ColourRun, Quantity, WarpPlan
from planner.calc.terms.positions import spans
from planner.plan.formatter import Formatter
from planner.plan.plan_view import YarnView
from planner.plan.presenter_winding import cloth_places, cloth_runs

WIDE, SIDE = 800.0, 20.0
TOP, BOTTOM = 34.0, 118.0
"""The warp, spread: between these heights the stripes are drawn."""
BAR, RAKE = 232.0, 80.0
"""The beam's bar, and how tall its rakes are drawn; yarn is drawn to the same scale."""
STRIP_WIDE, STRIP_TALL = 72.0, 18.0
LETTER_ROOM, LABEL_ROOM = 10.0, 25.0
DIGIT, GAP, STEP_OUT = 9.0, 4.0, 8.0
STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 400)
MOST_LETTERS = 120

SECTIONS_CAPTION = (
    "Above the warp with the number of each section, below it the ends in each; then the yarn between the rakes."
)
MIXED_CAPTION = "A beaded line above the warp: sections wound as chains, the others by the box."
CHAINS_CAPTION = "The chains across the beam: their numbers above, their ends below."
WARP_CAPTION = "The warp across the beam."
PARTED_CAPTION = "What lies on the other beam is left out."

HATCHES = (
    "",
    "M-2 2L2 -2M0 8L8 0M6 10L10 6",
    "M0 4H8",
    "M4 0V8",
    "M-2 6L2 10M0 0L8 8M6 -2L10 2",
    "M0 4H8M4 0V8",
    "M2 2h1.6v1.6h-1.6zM6 6h1.6v1.6h-1.6z",
    "M0 6L4 2L8 6",
)
"""Eight hatches that stay apart in grey; a yarn keeps the one its plan gives it."""
DARK = 0.45


@dataclass(frozen=True, slots=True)
class Swatch:
    """How one yarn is filled in: its colour, and a hatch over it for grey prints."""

    key: str
    yarn: YarnView
    ink: str
    hatch: str


@dataclass(frozen=True, slots=True)
class Stripes:
    """All stripes of one yarn in one place, as one path."""

    d: str
    fill: str


@dataclass(frozen=True, slots=True)
class Block:
    """Stripes of one section or chain, seat view: in the big picture, and in a small strip of its own."""

    key: str
    stripes: tuple[Stripes, ...]
    strip: tuple[Stripes, ...]
    left: float
    width: float


Label = tuple[str, str]
"""A word in the picture: its place across, and the word."""


@dataclass(frozen=True, slots=True)
class View:
    """One way of looking: words placed for it, and whether the picture is mirrored."""

    name: str
    words: str
    mirrored: bool
    left: str
    right: str
    alternative: str
    numbers: tuple[Label, ...]
    ends: tuple[Label, ...]
    letters: tuple[Label, ...]


@dataclass(frozen=True, slots=True)
class BeamDrawing:
    """The warp on its beam, ready to be written as SVG; `cloth` is the whole order where the beam holds a part."""

    swatches: tuple[Swatch, ...]
    blocks: tuple[Block, ...]
    cloth: Block | None
    empty: str
    rakes: str
    depth: str
    limit: str
    has_rakes: bool
    extent: str
    height: str
    words_at: str
    middle: str
    middle_line: str
    chains: str
    caption: str
    note: str
    views: tuple[View, ...]


@dataclass(frozen=True, slots=True)
class _Piece:
    """A section or chain with its place: left edge and width in the picture, seat view."""

    number: int
    ends: int
    runs: tuple[ColourRun, ...]
    left: float
    width: float


def draw_beam(brief: WarpBrief, plan: WarpPlan, yarns: Sequence[YarnView], formatter: Formatter) -> BeamDrawing:
    """Draw the sections of a sectional beam, or the chains across a plain one."""
    sectional = bool(plan.winding.sections)
    pieces = tuple(_section_pieces(brief, plan) if sectional else _chain_pieces(brief, plan))
    swatches = tuple(_swatch(number, yarn) for number, yarn in enumerate(yarns))
    every = {swatch.yarn.code: f"url(#{swatch.key})" for swatch in swatches}
    fills = {swatch.yarn.code: every[swatch.yarn.code] for swatch in swatches if not swatch.yarn.elsewhere}
    cloth = _Piece(0, plan.cloth.ends, plan.cloth.pattern, 0.0, WIDE)
    count = brief.loom.beam.sections if sectional else 0
    return BeamDrawing(
        swatches=swatches,
        blocks=tuple(_block(piece, fills) for piece in pieces),
        cloth=_block(cloth, every) if plan.cloth.ends_elsewhere else None,
        empty=_boxes(_empty_places(plan, count)) if sectional else _boxes([(SIDE, WIDE - 2 * SIDE)]),
        rakes=_rakes(count),
        depth=_depth(brief, plan, pieces) if sectional else "",
        limit=_limit(brief, plan) if sectional else "",
        has_rakes=sectional,
        extent=_extent([cloth] if plan.cloth.ends_elsewhere else pieces),
        height=_number((BAR if sectional else BOTTOM) + 40),
        words_at=_number((BAR if sectional else BOTTOM) + 34),
        middle=_number(WIDE / 2),
        middle_line=f"M{WIDE / 2:.0f} {TOP:.0f}V{BOTTOM:.0f}"
        + (f"M{WIDE / 2:.0f} {BOTTOM + 24:.0f}V{BAR + 20:.0f}" if sectional else ""),
        chains=_chained(plan, pieces),
        caption=_caption(plan),
        note=_note(brief, plan, formatter),
        views=tuple(_view(name, brief, plan, pieces, frozenset(fills)) for name in ("seat", "back")),
    )


def _is_mixed(plan: WarpPlan) -> bool:
    return bool(plan.winding.setups and plan.winding.chains)


def _caption(plan: WarpPlan) -> str:
    caption = SECTIONS_CAPTION if plan.winding.sections else CHAINS_CAPTION if plan.winding.chains else WARP_CAPTION
    more = ((MIXED_CAPTION, _is_mixed(plan)), (PARTED_CAPTION, bool(plan.cloth.ends_elsewhere)))
    return " ".join([caption, *(words for words, applies in more if applies)])


def _chained(plan: WarpPlan, pieces: Sequence[_Piece]) -> str:
    """Draw a line over each section that is a chain while others come from the box."""
    places = {chain.position for chain in plan.winding.chains} if _is_mixed(plan) else set()
    apart = [piece for piece in pieces if piece.number in places]
    return "".join(f"M{_number(p.left + 3)} {TOP - 4:.0f}h{_number(max(p.width - 6, 1))}" for p in apart)


def _extent(pieces: Sequence[_Piece]) -> str:
    """Give the part of the picture that the warp takes, as an SVG view box."""
    left = min((piece.left for piece in pieces), default=SIDE)
    right = max((piece.left + piece.width for piece in pieces), default=WIDE - SIDE)
    return f"{_number(left)} {TOP:.0f} {_number(right - left)} {BOTTOM - TOP:.0f}"


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _swatch(number: int, yarn: YarnView) -> Swatch:
    return Swatch(f"yarn-{number}", yarn, "#ffffff" if _is_dark(yarn.colour) else "#1c1b19", HATCHES[yarn.pattern])


def _is_dark(colour: str) -> bool:
    """Say whether white shows better on a colour than black (weights of the sRGB primaries, ITU-R BT.709)."""
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue < DARK


def _section_pieces(brief: WarpBrief, plan: WarpPlan) -> Iterator[_Piece]:
    """Place each used section; a partial edge lies against its full neighbour, as it is wound."""
    step = _step(brief.loom.beam.sections)
    last = len(plan.winding.sections) - 1
    for at, (section, runs) in enumerate(zip(plan.winding.sections, cloth_runs(brief, plan), strict=True)):
        width = step * min(float(section.filled), 1.0)
        loose = step - width
        shift = loose if at == 0 and last else 0.0 if at == last and last else loose / 2
        if section.free_left is not None:  # one of two beams: the ends keep their place before the reed
            shift = step * float(section.free_left)
        yield _Piece(section.position, section.ends, runs, SIDE + (section.position - 1) * step + shift, width)


def _step(sections: int) -> float:
    return (WIDE - 2 * SIDE) / max(sections, 1)


def _chain_pieces(brief: WarpBrief, plan: WarpPlan) -> Iterator[_Piece]:
    """Place chains (or the whole warp) across the usable width of a plain beam."""
    room = WIDE - 2 * SIDE
    scale = min(room / float(brief.loom.beam.usable_width), room / float(plan.cloth.width_in_reed))
    width = scale * float(plan.cloth.width_in_reed)
    left = min(max(WIDE / 2 - width / 2 + scale * float(brief.shift), SIDE), WIDE - SIDE - width)
    step = width / plan.cloth.ends
    counts = [chain.ends for chain in plan.winding.chains] or [plan.cloth.ends_here]
    lots = zip(counts, cloth_places(brief, plan), cloth_runs(brief, plan), strict=True)
    for number, (ends, (start, stop), runs) in enumerate(lots, 1):
        yield _Piece(number, ends, runs, left + step * start, step * (stop - start))


def _block(piece: _Piece, fills: Mapping[str, str]) -> Block:
    strip = replace(piece, left=0.0, width=STRIP_WIDE)
    return Block(
        key=f"part-{piece.number}",
        stripes=tuple(_stripes(piece, fills, TOP, BOTTOM - TOP)),
        strip=tuple(_stripes(strip, fills, 0.0, STRIP_TALL)),
        left=piece.left,
        width=piece.width,
    )


def _stripes(piece: _Piece, fills: Mapping[str, str], top: float, tall: float) -> Iterator[Stripes]:
    """Draw the stripes of one piece, all of one yarn as one path."""
    paths: dict[str, list[tuple[float, float]]] = {}
    for run, left, width in _spread(piece):
        paths.setdefault(run.code, []).append((left, width))
    for code, places in paths.items():
        if code in fills:
            yield Stripes(_boxes(places, top, tall), fills[code])


def _spread(piece: _Piece) -> Iterator[tuple[ColourRun, float, float]]:
    """Give each stripe of a piece with its left edge and width."""
    total = sum(run.ends for run in piece.runs) or 1
    done = 0
    for run in piece.runs:
        yield run, piece.left + piece.width * done / total, piece.width * run.ends / total
        done += run.ends


def _boxes(places: Iterable[tuple[float, float]], top: float = TOP, tall: float = BOTTOM - TOP) -> str:
    return "".join(f"M{_number(x)} {top:.0f}h{_number(w)}v{tall:.0f}h-{_number(w)}z" for x, w in places)


def _empty_places(plan: WarpPlan, sections: int) -> Iterator[tuple[float, float]]:
    used = {section.position for section in plan.winding.sections}
    step = _step(sections)
    yield from ((SIDE + at * step, step) for at in range(sections) if at + 1 not in used)


def _rakes(sections: int) -> str:
    step = _step(sections)
    lines = (SIDE + at * step for at in range(sections + 1)) if sections else ()
    return "".join(f"M{_number(x)} {BAR:.0f}V{BAR - RAKE:.0f}" for x in lines)


def _scale(brief: WarpBrief, plan: WarpPlan) -> float:
    """Give how tall a centimetre of depth is drawn; yarn above the rakes still has to fit in."""
    rake = float(brief.loom.beam.rake_height or 0)
    deepest = max((section.depth for section in plan.winding.sections), default=0.0)
    return RAKE / max(rake, 0.75 * deepest, 0.001)


def _depth(brief: WarpBrief, plan: WarpPlan, pieces: Sequence[_Piece]) -> str:
    scale = _scale(brief, plan)
    tall = [scale * section.depth for section in plan.winding.sections]
    return "".join(
        f"M{_number(piece.left + 1)} {BAR:.0f}v-{height:.2f}h{_number(max(piece.width - 2, 0.5))}v{height:.2f}z"
        for piece, height in zip(pieces, tall, strict=True)
    )


def _limit(brief: WarpBrief, plan: WarpPlan) -> str:
    """Draw the height the yarn should stay below, rake less clearance."""
    room = float(brief.loom.beam.rake_height or 0) - float(brief.tolerances.rake_clearance)
    return f"M{SIDE:.0f} {BAR - _scale(brief, plan) * room:.1f}H{WIDE - SIDE:.0f}" if room > 0 else ""


def _note(brief: WarpBrief, plan: WarpPlan, formatter: Formatter) -> str:
    if not plan.winding.sections or brief.loom.beam.rake_height is None:
        return ""
    deepest = formatter.quantity(Quantity(max(section.depth for section in plan.winding.sections), "depth"))
    rake = formatter.quantity(Quantity(brief.loom.beam.rake_height, "length"))
    keep = formatter.quantity(Quantity(brief.tolerances.rake_clearance, "length"))
    return f"Yarn {deepest} deep after the last turn; rakes {rake} tall, {keep} of them to stay clear (broken line)."


def _view(name: str, brief: WarpBrief, plan: WarpPlan, pieces: Sequence[_Piece], drawn: frozenset[str]) -> View:
    mirrored = name == "back"
    seen = [_mirror(piece) for piece in pieces] if mirrored else list(pieces)
    return View(
        name=name,
        words=f"Seen from the {name}",
        mirrored=mirrored,
        left=f"Left, seen from the {name}",
        right=f"Right, seen from the {name}",
        alternative=_alternative(name, brief, plan),
        numbers=tuple(_numbers(brief, plan, seen, mirrored=mirrored)),
        ends=tuple(_ends(seen)),
        letters=tuple(_letters(seen, drawn)),
    )


def _mirror(piece: _Piece) -> _Piece:
    return _Piece(piece.number, piece.ends, piece.runs[::-1], WIDE - piece.left - piece.width, piece.width)


def _numbers(brief: WarpBrief, plan: WarpPlan, pieces: Sequence[_Piece], *, mirrored: bool) -> Iterator[Label]:
    """Number every position, thinned where they would run together."""
    if not plan.winding.sections:
        step = _thinning(min((piece.width for piece in pieces), default=WIDE))
        yield from (_label(p.left + p.width / 2, p.number) for p in pieces if p.number % step == 0)
        return
    count = brief.loom.beam.sections
    wide = _step(count)
    step = _thinning(wide)
    for position in range(1, count + 1):
        if position % step == 0 or (position == 1 and (step - 1) * wide >= LABEL_ROOM):
            place = SIDE + (position - 0.5) * wide
            yield _label(WIDE - place if mirrored else place, position)


def _thinning(room: float) -> int:
    return next((step for step in STEPS if step * room >= LABEL_ROOM), STEPS[-1])


def _label(x: float, text: object) -> Label:
    return (_number(x), str(text))


def _ends(pieces: Sequence[_Piece]) -> Iterator[Label]:
    """Write the ends under each section; where there is little room, only where they change."""
    ordered = sorted(pieces, key=lambda piece: piece.left)
    roomy = max((piece.width for piece in ordered), default=0.0) >= LABEL_ROOM
    right, before = 0.0, None
    for at, piece in enumerate(ordered):
        half = DIGIT * len(str(piece.ends)) / 2
        middle = piece.left + piece.width / 2 + _outward(at, ordered)
        if middle - half >= right and (roomy or piece.ends != before):
            yield _label(middle, piece.ends)
            right, before = middle + half + GAP, piece.ends


def _outward(at: int, pieces: Sequence[_Piece]) -> float:
    """Give a narrow edge's number a step outwards, clear of its neighbour's."""
    if pieces[at].width >= LABEL_ROOM or len(pieces) < 2:  # noqa: PLR2004 an edge needs a neighbour
        return 0.0
    return -STEP_OUT if at == 0 else STEP_OUT if at == len(pieces) - 1 else 0.0


def _letters(pieces: Sequence[_Piece], drawn: frozenset[str]) -> Iterator[Label]:
    """Write codes on the stripes wide enough for them, the first hundred or so."""
    wide = [
        (run.code, left + width / 2, width)
        for piece in pieces
        for run, left, width in _spread(piece)
        if width >= LETTER_ROOM and run.code in drawn
    ]
    yield from (_label(x, code) for code, x, width in wide[:MOST_LETTERS] if width >= 7 * len(code))


def _alternative(name: str, brief: WarpBrief, plan: WarpPlan) -> str:
    if not plan.winding.sections:
        chains = f" in {len(plan.winding.chains)} chains" if plan.winding.chains else ""
        return f"Plain beam seen from the {name}, {plan.cloth.ends_here} ends{chains}."
    places = spans(tuple(section.position for section in plan.winding.sections))
    counts = sorted({section.ends for section in plan.winding.sections})
    ends = f"{counts[0]}" if len(counts) == 1 else f"{counts[0]} to {counts[-1]}"
    chains = spans([chain.position for chain in plan.winding.chains if chain.position]) if _is_mixed(plan) else ""
    wound = f" Wound as chains: {chains}." if chains else ""
    return (
        f"Beam of {brief.loom.beam.sections} sections seen from the {name}; {places} carry yarn, {ends} ends in each."
        f"{wound} The table below gives every section."
    )
