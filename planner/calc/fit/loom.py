"""The cloth against the loom: width, reed, heddles, shafts, sections, edges and rakes. Advice, never refusal.

Codes and their values (words: `planner.plan.remarks`):
width_over_loom {width, loom, room}; beam_narrow {width, room}; reed_missing {loom}; reed_unsuitable {loom, wanted};
reed_too_short {width, reed, length}; reed_changes_sett {wanted, reed, sett, error}; heddles_unknown {loom};
heddles_short {shaft, needed, held, missing}; heddles_short_alike {shafts, needed, held, missing, total}; shafts_short
{weave, needed, held}; sections_short {needed, held}; sections_overhang {over, side}; off_centre {shift, side};
rakes_over {turns, depth, room, most, longest, parts}; rakes_by_build_up {turns, most, fewer}; rakes_near {depth, room};
rakes_in_doubt {turns, depth, deepest, room, held}.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil
from typing import Annotated

from planner.calc.terms.plan import Quantity, Range, ReedChoice, Remark, Severity
from studio.quantities import (
    Cm,
    CmFloat,
    EndsPerCm,
    Heddles,
    Place,
    Sections,
    Shafts,
    Share,
    Turns,
    TurnsFloat,
    TurnsNumber,
)

NOTE, WARN, STOP = Severity.NOTE, Severity.WARN, Severity.STOP

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

NEARLY_FULL = Fraction(9, 10)
"""Share of the turns the rakes hold from which a note says so. Common practice, no source."""


def width_remarks(width: Cm, weaving_width: Cm, loom: str, plain_beam: Cm | None) -> tuple[Remark, ...]:
    """Say when the warp is wider than the loom or its plain beam.

    STOP for each that is too narrow; `plain_beam` is None on a sectional one.
    Source: plain comparison. Raises ValueError if a width is not above zero.

    >>> [remark.code for remark in width_remarks(Fraction(100), Fraction(90), "Heron", None)]
    ['width_over_loom']
    """
    if width <= 0 or weaving_width <= 0:
        raise ValueError(f"width {width} and weaving_width {weaving_width} must be above zero")
    said = []
    if width > weaving_width:
        values: Values = {"width": Quantity(width, "length"), "loom": loom, "room": Quantity(weaving_width, "length")}
        said.append(Remark("width_over_loom", STOP, values))
    if plain_beam is not None and width > plain_beam:
        values = {"width": Quantity(width, "length"), "room": Quantity(plain_beam, "length")}
        said.append(Remark("beam_narrow", STOP, values))
    return tuple(said)


def reed_remarks(
    best: ReedChoice | None, reed_length: Cm | None, wanted: EndsPerCm, tolerance: Share, loom: str
) -> tuple[Remark, ...]:
    """Say what the best reed does to the plan.

    NOTE within the tolerance, WARN beyond it, STOP where no reed is long enough. The best reed is the long enough one
    with the least error, so if it is too short they all are; `reed_length` is of any listed where none suits.
    Source: plain comparison. Raises ValueError if `wanted` is not above zero.

    >>> [remark.code for remark in reed_remarks(None, None, Fraction(8), Fraction(2, 100), "Heron")]
    ['reed_missing']
    """
    if wanted <= 0:
        raise ValueError(f"wanted {wanted} must be above zero")
    if reed_length is None:
        return (Remark("reed_missing", NOTE, {"loom": loom}),)
    if best is None:
        return (Remark("reed_unsuitable", WARN, {"loom": loom, "wanted": Quantity(wanted, "sett")}),)
    said = []
    if best.width > reed_length:
        values: Values = {
            "width": Quantity(best.width, "length"),
            "reed": best.reed,
            "length": Quantity(reed_length, "length"),
        }
        said.append(Remark("reed_too_short", STOP, values))
    if best.error:
        severity = WARN if abs(best.error) > tolerance else NOTE
        gives = wanted * (1 + best.error)  # of stripes the one that suits worst
        values = {"wanted": Quantity(wanted, "sett"), "reed": best.reed, "sett": Quantity(gives, "sett")}
        said.append(Remark("reed_changes_sett", severity, {**values, "error": Quantity(abs(best.error), "share")}))
    return tuple(said)


def heddle_remarks(needed: Sequence[Heddles], held: Sequence[Heddles], loom: str) -> tuple[Remark, ...]:
    """Say which shafts are short of heddles, and by how many.

    WARN for the shafts that are short, those with the same numbers together. Heddles can be moved or borrowed before
    threading, so this holds back no card.
    Source: plain arithmetic. Raises ValueError if the shafts are not the same.

    >>> [remark.values["missing"].value for remark in heddle_remarks([120, 90], [100, 100], "Heron")]
    [20]
    """
    if not held:
        return (Remark("heddles_unknown", NOTE, {"loom": loom}),)
    if len(held) != len(needed):
        raise ValueError(f"{len(needed)} shafts need heddles, {len(held)} have them")
    short: dict[tuple[int, int], list[int]] = {}
    for shaft, (wants, has) in enumerate(zip(needed, held, strict=True), 1):
        if wants > has:
            short.setdefault((wants, has), []).append(shaft)
    return tuple(_short_of_heddles(shafts, wants, has) for (wants, has), shafts in short.items())


def _short_of_heddles(shafts: list[int], wants: int, has: int) -> Remark:
    missing = Quantity(wants - has, "count")
    values: Values = {"needed": Quantity(wants, "count"), "held": Quantity(has, "count"), "missing": missing}
    if len(shafts) == 1:
        return Remark("heddles_short", WARN, {"shaft": str(shafts[0]), **values})
    total = Quantity((wants - has) * len(shafts), "count")
    return Remark("heddles_short_alike", WARN, {"shafts": _listed(shafts), **values, "total": total})


def _listed(shafts: list[int]) -> str:
    """Write rising numbers, such as 1 to 4 and 7."""
    first = [shaft for shaft in shafts if shaft - 1 not in shafts]
    last = [shaft for shaft in shafts if shaft + 1 not in shafts]
    spans = [str(one) if one == end else f"{one} to {end}" for one, end in zip(first, last, strict=True)]
    return " and ".join(filter(None, (", ".join(spans[:-1]), spans[-1])))


def shaft_remarks(weave: str, needed: Shafts, held: Shafts) -> tuple[Remark, ...]:
    """Say when a weave needs more shafts than the loom has.

    `needed` are the ends of one repeat, each on its own shaft.
    Source: plain comparison. Raises ValueError if a number is below one.

    >>> [remark.code for remark in shaft_remarks("5-end satin", 5, 4)]
    ['shafts_short']
    """
    if needed < 1 or held < 1:
        raise ValueError(f"needed {needed} and held {held} must be above zero")
    values: Values = {"weave": weave, "needed": Quantity(needed, "count"), "held": Quantity(held, "count")}
    return (Remark("shafts_short", WARN, values),) if needed > held else ()


def place_remarks(first: Place, last: Place, held: Sections, shift: Cm) -> tuple[Remark, ...]:
    """Say when the warp lies beyond the sections of the beam, or off its middle.

    STOP beyond the beam; NOTE off the middle. Positions are seen from the seat, `shift` is to the right.
    Source: plain arithmetic. Raises ValueError if `last` is before `first`, or `held` is below one.

    >>> [remark.code for remark in place_remarks(0, 17, 16, Fraction(0))]
    ['sections_short']
    >>> [remark.code for remark in place_remarks(2, 17, 16, Fraction(5))]
    ['sections_overhang', 'off_centre']
    """
    if last < first or held < 1:
        raise ValueError(f"first {first}, last {last} and held {held} are no sections")
    said, needed, over = [], last - first + 1, max(1 - first, last - held)
    if needed > held:
        values: Values = {"needed": Quantity(needed, "count"), "held": Quantity(held, "count")}
        said.append(Remark("sections_short", STOP, values))
    elif over > 0:
        values = {"over": Quantity(over, "count"), "side": "left" if first < 1 else "right"}
        said.append(Remark("sections_overhang", STOP, values))
    if shift:
        values = {"shift": Quantity(abs(shift), "length"), "side": "right" if shift > 0 else "left"}
        said.append(Remark("off_centre", NOTE, values))
    return tuple(said)


def rake_remarks(
    planned: TurnsFloat, least: Turns, most: Turns, longest: tuple[CmFloat, CmFloat], depth: tuple[Cm, Cm]
) -> tuple[Remark, ...]:
    """Say when the warp is higher than the rakes allow, or nearly so.

    `least` are the turns that would do, counting the build-up; `longest` is the longest warp the rakes hold, and the
    length wanted; `depth` is of one turn, and of yarn the rakes hold below the clearance. STOP when the length itself
    is too much; WARN when only the planned turns are; NOTE when nearly full. A warp too long is parted into the fewest
    equal warps that the rakes hold.
    Source: plain geometry. Raises ValueError if a number of turns is below zero.

    >>> depth = (Fraction("0.0122"), Fraction(3, 4))
    >>> [remark.code for remark in rake_remarks(80, 70, 61, (1240.7, 1440), depth)]
    ['rakes_over']
    """
    if planned < 0 or least < 0 or most < 0:
        raise ValueError(f"planned {planned}, least {least} and most {most} must not be below zero")
    needed = min(planned, least)
    room = Quantity(depth[1], "depth")
    if needed > most:
        values: Values = {"turns": Quantity(least, "turns"), "depth": Quantity(depth[0] * least, "depth"), "room": room}
        values |= {"most": Quantity(most, "turns"), "longest": Quantity(longest[0], "distance")}
        return (Remark("rakes_over", STOP, {**values, "parts": _parts(longest)}),)
    if planned > most:
        values = {"turns": Quantity(planned, "turns"), "most": Quantity(most, "turns")}
        return (Remark("rakes_by_build_up", WARN, {**values, "fewer": Quantity(least, "turns")}),)
    if planned >= NEARLY_FULL * most:
        return (Remark("rakes_near", NOTE, {"depth": Quantity(float(depth[0]) * planned, "depth"), "room": room}),)
    return ()


def rake_doubt_remarks(
    planned: TurnsNumber, held: Annotated[Range, "turns"] | None, depth: Annotated[Range, "cm"] | None, room: Cm
) -> tuple[Remark, ...]:
    """Say when the yarn may pass the clearance by what the tape leaves open, though it likely does not.

    Where the likeliest passes too, `rake_remarks` speaks.
    Source: plain comparison. Raises ValueError if `planned` or `room` is below zero.

    >>> held = Range(Fraction(121), Fraction(127), Fraction(134))
    >>> depth = Range(Fraction("1.66"), Fraction("1.74"), Fraction("1.82"))
    >>> [remark.code for remark in rake_doubt_remarks(127, held, depth, Fraction("1.75"))]
    ['rakes_in_doubt']
    """
    if planned < 0 or room < 0:
        raise ValueError(f"planned {planned} and room {room} must not be below zero")
    if held is None or depth is None or not held.low < planned <= held.likely:
        return ()
    values: Values = {
        "turns": Quantity(planned, "turns"),
        "depth": Quantity(depth.likely, "depth"),
        "deepest": Quantity(depth.high, "depth"),
        "room": Quantity(room, "depth"),
        "held": Quantity(held.low, "turns"),
    }
    return (Remark("rakes_in_doubt", WARN, values),)


def _parts(longest: tuple[float, float]) -> Quantity:
    return Quantity(ceil(longest[1] / longest[0]) if longest[0] else 0, "count")
