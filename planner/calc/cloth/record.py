"""A cloth measured three ways - under tension, relaxed, finished - and what it really lost.

These are the studio's own figures for the next warp. A loss is a share of the longer measure; one below 0 says that
the cloth grew, or that a measure was taken with the tension off: it is shown and not refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class ClothRecord:
    """What was measured on one warp. None stands for not measured.

    Attributes
    ----------
    width_in_reed : Fraction | None
        Width of the warp at the reed. [cm]
    warp_wound : Fraction | None
        Warp length as wound. [cm]
    width_at_fell : Fraction | None
        Width on the loom, at the fell. [cm]
    finished_width : Fraction | None
        Width after washing. [cm]
    woven : Fraction | None
        Length of all pieces, on the loom under tension. [cm]
    relaxed : Fraction | None
        Length of all pieces off the loom, not washed. [cm]
    finished : Fraction | None
        Length of all pieces after washing. [cm]
    front : Fraction | None
        Warp used for the tie-on in front. [cm]
    remnant : Fraction | None
        Warp left unwoven behind. [cm]
    """

    width_in_reed: Fraction | None = None
    warp_wound: Fraction | None = None
    width_at_fell: Fraction | None = None
    finished_width: Fraction | None = None
    woven: Fraction | None = None
    relaxed: Fraction | None = None
    finished: Fraction | None = None
    front: Fraction | None = None
    remnant: Fraction | None = None


@dataclass(frozen=True, slots=True)
class ClothLosses:
    """What follows from a record. None where a measure is wanting.

    Attributes
    ----------
    draw_in : Fraction | None
        Narrowing from reed to fell, of the width in reed. [share]
    width_loss : Fraction | None
        From reed to finished, of the width in reed. [share]
    width_shrinkage : Fraction | None
        From the width at the fell to finished, of the width at the fell. [share]
    take_up : Fraction | None
        Warp used by bending, by the length under tension, of the warp woven off. [share]
    take_up_relaxed : Fraction | None
        The same with the relaxing in it, by the relaxed length. [share]
    relaxing : Fraction | None
        From under tension to relaxed, of the woven length. [share]
    length_shrinkage : Fraction | None
        From under tension to finished, of the woven length. [share]
    waste : Fraction | None
        Loom waste of this warp. [cm]
    over : Fraction | None
        Tie-on, woven and remnant beyond the warp as wound; below 0 is the take-up, above 0 the warp stretched. [cm]
    """

    draw_in: Fraction | None
    width_loss: Fraction | None
    width_shrinkage: Fraction | None
    take_up: Fraction | None
    take_up_relaxed: Fraction | None
    relaxing: Fraction | None
    length_shrinkage: Fraction | None
    waste: Fraction | None
    over: Fraction | None


@dataclass(frozen=True, slots=True)
class YarnCheck:
    """Yarn of one warp by weight.

    Attributes
    ----------
    used : Fraction
        Out, less back, less thrums. [g]
    missing : Fraction
        Used beyond the cloth's mass; below 0 the cloth is heavier. [g]
    share : Fraction
        The same, of what was used. [share]
    """

    used: Fraction
    missing: Fraction
    share: Fraction


def loss(before: Fraction, after: Fraction) -> Fraction:
    """Give what a measure lost, as a share of what it was.

    Parameters
    ----------
    before : Fraction
        Measure at first. [cm]
    after : Fraction
        The same measure later. [cm]

    Returns
    -------
    loss : Fraction
        Part lost; below 0 it grew. [share]

    Raises
    ------
    ValueError
        If `before` or `after` is not above zero.

    Notes
    -----
    1 - after / before: a share of the longer measure, to be divided out and not added on. Plain arithmetic.

    Examples
    --------
    Ten inches on the loom, eight after washing:

    >>> loss(Fraction(10), Fraction(8))
    Fraction(1, 5)
    """
    if before <= 0 or after <= 0:
        raise ValueError(f"before {before} and after {after} must be above zero")
    return 1 - after / before


def crimp(yarn_length: Fraction, cloth_length: Fraction) -> Fraction:
    """Give the crimp of a thread drawn out of a cloth, as mill books and exam papers measure it.

    Parameters
    ----------
    yarn_length : Fraction
        Thread drawn straight. [cm]
    cloth_length : Fraction
        Cloth it came from. [cm]

    Returns
    -------
    crimp : Fraction
        Thread beyond the cloth, of the cloth's length. [share]

    Raises
    ------
    ValueError
        If `cloth_length` is not above zero or `yarn_length` is below it.

    Notes
    -----
    (yarn - cloth) / cloth, as an educational site on textile calculations gives it. Take-up is of the yarn instead:
    use `take_up_of_crimp` before putting it into a brief. Plain arithmetic.

    Examples
    --------
    >>> crimp(Fraction("21.2"), Fraction(20))
    Fraction(3, 50)
    """
    if cloth_length <= 0 or yarn_length < cloth_length:
        raise ValueError(f"cloth_length {cloth_length} must be above zero and yarn_length {yarn_length} not below it")
    return yarn_length / cloth_length - 1


def take_up_of_crimp(crimp: Fraction) -> Fraction:
    """Turn crimp, a share of the cloth, into take-up, a share of the warp.

    Parameters
    ----------
    crimp : Fraction
        Thread beyond the cloth, of the cloth's length. [share]

    Returns
    -------
    take_up : Fraction
        The same, of the thread's length. [share]

    Raises
    ------
    ValueError
        If `crimp` is below zero.

    Notes
    -----
    crimp / (1 + crimp). Plain arithmetic.

    Examples
    --------
    >>> take_up_of_crimp(Fraction(1, 9))
    Fraction(1, 10)
    """
    if crimp < 0:
        raise ValueError(f"crimp {crimp} must not be below zero")
    return crimp / (1 + crimp)


def losses_of(record: ClothRecord) -> ClothLosses:
    """Work out what a cloth really lost, as far as it was measured.

    Parameters
    ----------
    record : ClothRecord
        What was measured. [cm]

    Returns
    -------
    losses : ClothLosses
        Its losses; None where a measure is wanting. [share]

    Raises
    ------
    ValueError
        If a measure is not above zero (tie-on and remnant: below zero), or the waste is no less than the warp wound.

    Notes
    -----
    Draw-in = 1 - fell / reed; width loss = 1 - finished / reed; take-up = 1 - length / (wound - waste); length loss =
    1 - finished / woven. Plain arithmetic. Tie-on, woven and remnant may add up to more than was wound, since a warp
    stretches under tension (a weaver's blog, August 2025: 92 in of 90): that is told and is no fault of the record.

    Examples
    --------
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


def yarn_check(out: Fraction, back: Fraction, thrums: Fraction, cloth: Fraction) -> YarnCheck:
    """Compare the yarn that left the shelf with the cloth that came of it.

    Parameters
    ----------
    out : Fraction
        Weighed out. [g]
    back : Fraction
        Weighed back in. [g]
    thrums : Fraction
        Ends cut off and swept up. [g]
    cloth : Fraction
        Cloth off the loom, dry, not washed. [g]

    Returns
    -------
    check : YarnCheck
        Yarn used, and what is not accounted for. [g]

    Raises
    ------
    ValueError
        If a mass is below zero, or nothing was used.

    Notes
    -----
    out - back - thrums against the cloth. Plain arithmetic. A little is always missing: fluff and dropped ends.

    Examples
    --------
    >>> yarn_check(Fraction(1000), Fraction(300), Fraction(40), Fraction(650)).missing
    Fraction(10, 1)
    """
    used = out - back - thrums
    if min(out, back, thrums, cloth) < 0 or used <= 0:
        raise ValueError(f"out {out}, back {back}, thrums {thrums} and cloth {cloth} must leave yarn that was used")
    return YarnCheck(used, used - cloth, (used - cloth) / used)
