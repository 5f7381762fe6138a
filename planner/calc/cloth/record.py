"""A cloth measured three ways - under tension, relaxed, finished - and what it really lost.

These are the studio's own figures for the next warp. A loss is a share of the longer measure; one below 0 says that
the cloth grew, or that a measure was taken with the tension off: it is shown and not refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from studio.quantities import Cm, Grams, Share

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class ClothRecord:
    """What was measured on one warp. None stands for not measured."""

    width_in_reed: Cm | None = None
    warp_wound: Cm | None = None
    width_at_fell: Cm | None = None  # on the loom
    finished_width: Cm | None = None  # after washing
    woven: Cm | None = None  # all pieces, on the loom under tension
    relaxed: Cm | None = None  # all pieces off the loom, not washed
    finished: Cm | None = None  # all pieces after washing
    front: Cm | None = None  # used for the tie-on in front
    remnant: Cm | None = None  # left unwoven behind


@dataclass(frozen=True, slots=True)
class ClothLosses:
    """What follows from a record. None where a measure is wanting."""

    draw_in: Share | None  # from reed to fell, of the width in reed
    width_loss: Share | None  # from reed to finished, of the width in reed
    width_shrinkage: Share | None  # from fell to finished, of the width at the fell
    take_up: Share | None  # by bending, by the length under tension, of the warp woven off
    take_up_relaxed: Share | None  # the same with the relaxing in it, by the relaxed length
    relaxing: Share | None  # from under tension to relaxed, of the woven length
    length_shrinkage: Share | None  # from under tension to finished, of the woven length
    waste: Cm | None  # loom waste of this warp
    over: Cm | None  # tie-on, woven and remnant beyond the warp wound; below 0 the take-up, above 0 it stretched


@dataclass(frozen=True, slots=True)
class YarnCheck:
    """Yarn of one warp by weight."""

    used: Grams  # out, less back, less thrums
    missing: Grams  # used beyond the cloth's mass; below 0 the cloth is heavier
    share: Share  # the same, of what was used


def loss(before: Cm, after: Cm) -> Share:
    """Give what a measure lost, as a share of what it was.

    1 - after / before: a share of the longer measure, to be divided out and not added on; below 0 it grew.
    Source: plain arithmetic. Raises ValueError if `before` or `after` is not above zero.

    Ten inches on the loom, eight after washing:
    >>> loss(Fraction(10), Fraction(8))
    Fraction(1, 5)
    """
    if before <= 0 or after <= 0:
        raise ValueError(f"before {before} and after {after} must be above zero")
    return 1 - after / before


def crimp(yarn_length: Cm, cloth_length: Cm) -> Share:
    """Give the crimp of a thread drawn out of a cloth, as mill books and exam papers measure it.

    (yarn - cloth) / cloth, the thread drawn straight. Take-up is of the yarn instead: use `take_up_of_crimp` before
    putting it into a brief.
    Source: an educational site on textile calculations. Raises ValueError if `cloth_length` is not above zero or
    `yarn_length` is below it.

    >>> crimp(Fraction("21.2"), Fraction(20))
    Fraction(3, 50)
    """
    if cloth_length <= 0 or yarn_length < cloth_length:
        raise ValueError(f"cloth_length {cloth_length} must be above zero and yarn_length {yarn_length} not below it")
    return yarn_length / cloth_length - 1


def take_up_of_crimp(crimp: Share) -> Share:
    """Turn crimp, a share of the cloth, into take-up, a share of the warp.

    crimp / (1 + crimp).
    Source: plain arithmetic. Raises ValueError if `crimp` is below zero.

    >>> take_up_of_crimp(Fraction(1, 9))
    Fraction(1, 10)
    """
    if crimp < 0:
        raise ValueError(f"crimp {crimp} must not be below zero")
    return crimp / (1 + crimp)


def losses_of(record: ClothRecord) -> ClothLosses:
    """Work out what a cloth really lost, as far as it was measured.

    Draw-in = 1 - fell / reed; width loss = 1 - finished / reed; take-up = 1 - length / (wound - waste); length loss = 1
    - finished / woven. Tie-on, woven and remnant may add up to more than was wound, since a warp stretches under
    tension (a weaver's blog, August 2025: 92 in of 90): that is told and is no fault of the record.
    Source: plain arithmetic. Raises ValueError if a measure is not above zero (tie-on and remnant: below zero), or the
    waste is no less than the warp wound.

    75 in under tension come off the loom as 65:
    >>> cloth = ClothRecord(Fraction(14), Fraction(90), woven=Fraction(75), relaxed=Fraction(65))
    >>> losses_of(cloth).relaxing
    Fraction(2, 15)
    """
    waste, wound = _waste(record), record.warp_wound
    woven_off = None if waste is None or wound is None else wound - waste
    return ClothLosses(
        draw_in=_loss(record.width_in_reed, record.width_at_fell),
        width_loss=_loss(record.width_in_reed, record.finished_width),
        width_shrinkage=_loss(record.width_at_fell, record.finished_width),
        take_up=_loss(woven_off, record.woven),
        take_up_relaxed=_loss(woven_off, record.relaxed),
        relaxing=_loss(record.woven, record.relaxed),
        length_shrinkage=_loss(record.woven, record.finished),
        waste=waste,
        over=None if waste is None or wound is None or record.woven is None else waste + record.woven - wound,
    )


def _waste(record: ClothRecord) -> Fraction | None:
    measured = [size for size in (record.width_in_reed, record.warp_wound) if size is not None]
    if min(measured, default=Fraction(1)) <= 0:
        raise ValueError(f"width_in_reed {record.width_in_reed} and warp_wound {record.warp_wound} must be above zero")
    if record.front is None or record.remnant is None:
        return None
    waste = record.front + record.remnant
    if min(record.front, record.remnant) < 0 or (record.warp_wound is not None and waste >= record.warp_wound):
        raise ValueError(f"front {record.front} and remnant {record.remnant} must be parts of the warp wound")
    return waste


def _loss(before: Fraction | None, after: Fraction | None) -> Fraction | None:
    return None if before is None or after is None else loss(before, after)


def yarn_check(out: Grams, back: Grams, thrums: Grams, cloth: Grams) -> YarnCheck:
    """Compare the yarn that left the shelf with the cloth that came of it.

    out - back - thrums against the cloth off the loom, dry, not washed. A little is always missing: fluff and dropped
    ends.
    Source: plain arithmetic. Raises ValueError if a mass is below zero, or nothing was used.

    >>> yarn_check(Fraction(1000), Fraction(300), Fraction(40), Fraction(650)).missing
    Fraction(10, 1)
    """
    used = out - back - thrums
    if min(out, back, thrums, cloth) < 0 or used <= 0:
        raise ValueError(f"out {out}, back {back}, thrums {thrums} and cloth {cloth} must leave yarn that was used")
    return YarnCheck(used, used - cloth, (used - cloth) / used)
