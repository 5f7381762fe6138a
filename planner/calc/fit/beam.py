"""The ends of one beam beside those of another: what two beams ask for, and unequal take-up on one. Advice only.

Codes and their values (words: `planner.plan.remarks`):
two_beams {elsewhere, ends, all}; part_sections {places}; take_up_tight, take_up_tight_alone, take_up_tighter
{more, less, needs, length, given}; and without values caution_two_beams.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby

from planner.calc.terms.plan import Quantity, Remark, Severity
from studio.quantities import Cm, CmNumber, Ends, Place, Share

NOTE, WARN = Severity.NOTE, Severity.WARN

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

MUCH_TO_ONE_SIDE = 3
"""Times the free room at one side must be that at the other for ends to lie at a side. Common practice, no source."""


def take_up_remarks(
    names: tuple[str, str],
    needs: Cm,
    given: CmNumber,
    length: Cm,
    limits: tuple[Share, Share],
) -> tuple[Remark, ...]:
    """Say when the yarn that takes up more will be tight beside its neighbour on the same beam.

    `given` is what the sections of the first give it more, below zero where they are the shallower ones; `limits` are
    the shares that are noted and warned of, as for unequal sections. Never more than a warning, since take-up is not
    known beforehand.
    Source: plain comparison. Raises ValueError if `length` is not above zero.

    >>> limits = (Fraction(3, 1000), Fraction(5, 1000))
    >>> found = take_up_remarks(("T", "N"), Fraction("10.8"), 1.7, Fraction(540), limits)
    >>> [(remark.code, remark.severity.value) for remark in found]
    [('take_up_tight', 'warn')]
    """
    if length <= 0:
        raise ValueError(f"length {length} must be above zero")
    lacking = (float(needs) - float(given)) / float(length)
    if lacking <= 0 or lacking < limits[0]:
        return ()
    values: Values = {
        "more": names[0],
        "less": names[1],
        "needs": Quantity(needs, "length"),
        "length": Quantity(length, "distance"),
        "given": Quantity(abs(float(given)), "length"),
    }
    severity = WARN if lacking >= limits[1] else NOTE
    if given < 0:
        return (Remark("take_up_tighter", severity, values),)
    return (Remark("take_up_tight", severity, values) if given else Remark("take_up_tight_alone", severity, values),)


def beam_remarks(elsewhere: Sequence[tuple[Ends, str]], ends: Ends) -> tuple[Remark, ...]:
    """Say what lies on the other beam, and what two beams ask for.

    Source: usual advice and a usual caution of the trade, common practice, no source. Raises ValueError if there are
    more ends elsewhere than in the cloth.

    >>> [remark.code for remark in beam_remarks([(120, "T 5/2 cotton")], 504)]
    ['two_beams', 'caution_two_beams']
    """
    away = sum(count for count, _ in elsewhere)
    if away > ends:
        raise ValueError(f"ends elsewhere {away} are more than the cloth's {ends}")
    if not away:
        return ()
    values: Values = {
        "elsewhere": ", ".join(f"{count} of {name}" for count, name in elsewhere),
        "ends": Quantity(away, "count"),
        "all": Quantity(ends, "ends"),
    }
    return Remark("two_beams", NOTE, values), Remark("caution_two_beams", NOTE, {})


def part_remarks(sections: Sequence[tuple[Place, Share, Share]]) -> tuple[Remark, ...]:
    """Say in which sections the ends of this beam lie over a part of the width only, and at which side.

    Each section is its position, the part free to the left of its ends, and the part they cover. A side is named where
    the other side has `MUCH_TO_ONE_SIDE` times the room.
    Source: plain comparison. Raises ValueError if more than a whole section is free and covered.

    >>> half = Fraction(1, 2)
    >>> found = part_remarks([(6, Fraction(0), half), (7, half, half), (8, Fraction(0), half), (9, half / 2, half)])
    >>> found[0].values["places"]
    '6, 8 at the left; 7 at the right; 9 in the middle'
    """
    if any(left + filled > 1 for _, left, filled in sections):
        raise ValueError("a section cannot be more than whole")
    sides: dict[str, list[int]] = {}
    for position, left, filled in sections:
        if filled < 1:
            sides.setdefault(_side(left, 1 - left - filled), []).append(position)
    if not sides:
        return ()
    places = "; ".join(f"{_listed(positions)} {side}" for side, positions in sides.items())
    return (Remark("part_sections", NOTE, {"places": places}),)


def _listed(positions: Sequence[int]) -> str:
    """Write positions, those in a row as their first and last."""
    rows = (tuple(row) for _, row in groupby(enumerate(positions), lambda one: one[1] - one[0]))
    spans = ((row[0][1], row[-1][1]) for row in rows)
    return ", ".join(f"{first}" if first == last else f"{first}–{last}" for first, last in spans)


def _side(left: Fraction, right: Fraction) -> str:
    if left * MUCH_TO_ONE_SIDE <= right:
        return "at the left"
    return "at the right" if right * MUCH_TO_ONE_SIDE <= left else "in the middle"
