"""Edge sections that are not full: what to know about them, said with the numbers of the choices. Advice only.

Codes and their values (words: `planner.plan.remarks`):
edge_partial {left, left_full, right, right_full, shorter, share, dummies}; edge_partial_at {side, ends, full, shorter,
share, dummies}; edge_between_dividers {left, left_full, right, right_full, shorter, share, one_sided, sections};
edge_fills {fewer, fewer_width, more, more_width, moved}; edge_fills_by {ends, width, moved}; edge_moves {one_sided,
side}.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from planner.calc.terms.plan import EdgeChoice, EdgeKind, Quantity, Remark, Severity
from studio.quantities import Cm, Share

NOTE, WARN = Severity.NOTE, Severity.WARN

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

Choices = Mapping[EdgeKind, EdgeChoice]


def edge_remarks(choices: Sequence[EdgeChoice], pitch: Cm, shift: Cm, warn_at: Share) -> tuple[Remark, ...]:
    """Say that edge sections are partly filled, what spreading their ends would cost, and what would fill.

    WARN where spreading would cost more than `warn_at`; then notes of what fills or moves them.
    Source: no arithmetic here but how far the move is, so the remark cannot say other than the choices. Raises
    ValueError if `pitch` is not above zero, or the choices leave out the one to spread or the one to fill with dummy
    ends.

    >>> inch = Fraction(1)
    >>> lies = {"edge_ends": (12, 12), "edge_full": (48 * inch, 48 * inch), "partial": (True, True)}
    >>> size = {"width": 25 * inch, "setts": (24 * inch,), "shift": 0 * inch, "shorter": 11.5, "share": 0.016}
    >>> spread = EdgeChoice(kind=EdgeKind.SPREAD, ends=600, dummy_ends=0, sections=14, **lies, **size)
    >>> from dataclasses import replace
    >>> found = (replace(spread, kind=EdgeKind.DUMMY, dummy_ends=72), spread)
    >>> remark = edge_remarks(found, 2 * inch, 0 * inch, Fraction(5, 1000))[0]
    >>> remark.code, remark.severity.value, remark.values["left"].value, remark.values["dummies"].value
    ('edge_partial', 'warn', 12, 72)
    """
    if pitch <= 0:
        raise ValueError(f"pitch {pitch} must be above zero")
    known = {choice.kind: choice for choice in choices}
    if not known:
        return ()
    if not {EdgeKind.SPREAD, EdgeKind.DUMMY} <= known.keys():
        raise ValueError(f"choices {sorted(known)} must hold spread and dummy")
    spread = known[EdgeKind.SPREAD]
    severity = WARN if spread.share > warn_at else NOTE
    if EdgeKind.SHIFT in known and (spread.width / pitch).denominator == 1:
        between: Values = {"one_sided": _moved(known[EdgeKind.SHIFT], shift)[0]}
        between["sections"] = Quantity(int(spread.width / pitch), "count")
        return (Remark("edge_between_dividers", severity, {**_both(spread), **between}),)
    return (_partial(known, severity), *_fills(known, pitch), *_moves(known, shift))


def _both(spread: EdgeChoice) -> Values:
    (left, right), full = spread.edge_ends, spread.edge_full
    return {
        "left": Quantity(left, "count"),
        "left_full": Quantity(full[0], "ends"),
        "right": Quantity(right, "count"),
        "right_full": Quantity(full[1], "ends"),
        "shorter": Quantity(spread.shorter, "length"),
        "share": Quantity(spread.share, "share"),
    }


def _partial(known: Choices, severity: Severity) -> Remark:
    spread, dummies = known[EdgeKind.SPREAD], Quantity(known[EdgeKind.DUMMY].dummy_ends, "count")
    values: Values = {**_both(spread), "dummies": dummies}
    if spread.partial == (True, True):
        return Remark("edge_partial", severity, values)
    side = "left" if spread.partial[0] else "right"
    at_side: Values = {"side": side, "ends": values[side], "full": values[f"{side}_full"], "dummies": dummies}
    return Remark("edge_partial_at", severity, {**at_side, "shorter": values["shorter"], "share": values["share"]})


def _fills(known: Choices, pitch: Fraction) -> Iterator[Remark]:
    there = [
        (name, known[kind]) for name, kind in (("fewer", EdgeKind.FEWER), ("more", EdgeKind.MORE)) if kind in known
    ]
    moved = Quantity(pitch / 2, "length")
    if len(there) == 1:
        (_, one), *_ = there
        values: Values = {"ends": Quantity(one.ends, "ends"), "width": Quantity(one.width, "length"), "moved": moved}
        yield Remark("edge_fills_by", NOTE, values)
    elif there:
        values = {"moved": moved}
        for name, one in there:
            values |= {name: Quantity(one.ends, "ends"), f"{name}_width": Quantity(one.width, "length")}
        yield Remark("edge_fills", NOTE, values)


def _moves(known: Choices, shift: Fraction) -> Iterator[Remark]:
    if EdgeKind.SHIFT in known:
        by, side = _moved(known[EdgeKind.SHIFT], shift)
        yield Remark("edge_moves", NOTE, {"one_sided": by, "side": side})


def _moved(choice: EdgeChoice, shift: Fraction) -> tuple[Quantity, str]:
    by = choice.shift - shift
    return Quantity(abs(by), "length"), "right" if by > 0 else "left"
