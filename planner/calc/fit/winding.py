"""The warp against the winding bench: turns, mismatch, spools, set-ups, board, comb and leader. Advice only.

Codes and their values (words: `planner.plan.remarks`):
build_up {turns, real, nominal}; fewer_turns_would_do {turns, planned}; turns_in_doubt {fewest, safe};
sections_unequal {length, share}; selvedge_sections {extra}; density_guessed {yarn, density};
thickness_differs {thick, thin}; spools_over_rack {needed, held}; rethreads {setups, lost};
board_too_short {length, path}; board_path {length}; board_paths {shortest, longest}; odd_ends {ends, at_once, odd};
comb_must_turn {angle}; comb_too_narrow {}; knot_on_bar {change, mend}; knot_too_long {gap}; and without
values caution_beam, caution_box, caution_long_work.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.calc.terms.plan import KnotPlace, Quantity, Remark, Severity, TurnsRange

NOTE, WARN, STOP = Severity.NOTE, Severity.WARN, Severity.STOP

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

WORTH_SAYING = 0.005
"""Build-up, as a share of the length, from which a note says so. Common practice, no source."""

NARROW_BUNDLE = Fraction(85, 100)
"""Share of the section a bundle should fill at least. Common practice, no source."""

LONG_WORK = 500_000
"""Centimetres of warp yarn from which winding is called long work. Common practice, no source."""


def turn_remarks(turns: int, build_up: int, real: float, nominal: Fraction) -> tuple[Remark, ...]:
    """Say what the build-up does to turns and length.

    Parameters
    ----------
    turns : int
        Turns planned. [turns]
    build_up : int
        Whole turns that would do, counting the build-up. [turns]
    real : float
        Length after the planned turns. [cm]
    nominal : Fraction
        Turns times the empty circumference. [cm]

    Returns
    -------
    remarks : tuple[Remark, ...]
        Notes. [-]

    Raises
    ------
    ValueError
        If `nominal` is not above zero.

    Notes
    -----
    Planning by the empty beam is safe for the warp; the yarn is planned with build-up. Plain arithmetic.

    Examples
    --------
    >>> [remark.code for remark in turn_remarks(11, 10, 399.9, Fraction(396))]
    ['build_up', 'fewer_turns_would_do']
    """
    if nominal <= 0:
        raise ValueError(f"nominal {nominal} must be above zero")
    said, planned = [], Quantity(turns, "turns")
    if real - float(nominal) >= WORTH_SAYING * float(nominal):
        values: Values = {
            "turns": planned,
            "real": Quantity(real, "distance"),
            "nominal": Quantity(nominal, "distance"),
        }
        said.append(Remark("build_up", NOTE, values))
    if build_up < turns:
        said.append(Remark("fewer_turns_would_do", NOTE, {"turns": Quantity(build_up, "turns"), "planned": planned}))
    return tuple(said)


def doubt_remarks(turns: TurnsRange | None) -> tuple[Remark, ...]:
    """Say when the tape leaves the turns open.

    Parameters
    ----------
    turns : TurnsRange | None
        Whole turns by the doubt of the tape; None where nothing was measured. [turns]

    Returns
    -------
    remarks : tuple[Remark, ...]
        A note where fewer turns may do. [-]

    Notes
    -----
    Plain comparison.

    Examples
    --------
    >>> [remark.code for remark in doubt_remarks(TurnsRange(10, 10, 11))]
    ['turns_in_doubt']
    """
    if turns is None or turns.fewest == turns.safe:
        return ()
    values: Values = {"fewest": Quantity(turns.fewest, "turns"), "safe": Quantity(turns.safe, "turns")}
    return (Remark("turns_in_doubt", NOTE, values),)


def mismatch_remarks(
    difference: tuple[float, float], note: Fraction, warn: Fraction, stop: Fraction, *, unkind: bool
) -> tuple[Remark, ...]:
    """Say how unequal the sections come out.

    Parameters
    ----------
    difference : tuple[float, float]
        Deepest section longer than the shallowest, in length [cm] and as a share. [share]
    note : Fraction
        Share that is noted. [share]
    warn : Fraction
        Share that is warned of. [share]
    stop : Fraction
        Share that is never passed over. [share]
    unkind : bool
        A yarn that does not even out is in the warp, such as linen or silk: the limits are halved. [-]

    Returns
    -------
    remarks : tuple[Remark, ...]
        One remark at most. [-]

    Raises
    ------
    ValueError
        If the limits do not rise.

    Notes
    -----
    The limits are the studio's; the usual ones are estimates without a published source.

    Examples
    --------
    >>> limits = (Fraction(3, 1000), Fraction(5, 1000), Fraction(1, 100))
    >>> [remark.severity.value for remark in mismatch_remarks((6.9, 0.0064), *limits, unkind=False)]
    ['warn']
    >>> [remark.severity.value for remark in mismatch_remarks((6.9, 0.0064), *limits, unkind=True)]
    ['stop']
    """
    if not note <= warn <= stop:
        raise ValueError(f"limits {note}, {warn} and {stop} must rise")
    length, share = difference
    measured = share * (2 if unkind else 1)
    if not share or measured < note:
        return ()
    severity = STOP if measured >= stop else WARN if measured >= warn else NOTE
    values: Values = {"length": Quantity(length, "length"), "share": Quantity(share, "share")}
    return (Remark("sections_unequal", severity, values),)


def build_remarks(
    guessed: Sequence[tuple[str, Fraction]],
    thickest: tuple[str, Fraction],
    thinnest: tuple[str, Fraction],
    selvedge: int,
) -> tuple[Remark, ...]:
    """Say what is uncertain in the depth of the yarn.

    Parameters
    ----------
    guessed : Sequence[tuple[str, Fraction]]
        Name of each yarn whose density as wound is an estimate, and that density. [g/cm3]
    thickest : tuple[str, Fraction]
        Name and cross-section of the thickest warp yarn. [cm2]
    thinnest : tuple[str, Fraction]
        Name and cross-section of the thinnest. [cm2]
    selvedge : int
        Extra ends in each of the outer sections. [ends]

    Returns
    -------
    remarks : tuple[Remark, ...]
        Notes. [-]

    Raises
    ------
    ValueError
        If the thickest yarn is thinner than the thinnest.

    Notes
    -----
    Plain comparison; no published density of yarn wound by hand was found.

    Examples
    --------
    >>> [remark.code for remark in build_remarks([], ("5/2", Fraction(2)), ("10/2", Fraction(1)), 2)]
    ['thickness_differs', 'selvedge_sections']
    """
    if thickest[1] < thinnest[1]:
        raise ValueError(f"{thickest[0]} is thinner than {thinnest[0]}")
    said = [
        Remark("density_guessed", NOTE, {"yarn": yarn, "density": Quantity(density, "density")})
        for yarn, density in guessed
    ]
    if thickest[1] > thinnest[1]:
        said.append(Remark("thickness_differs", NOTE, {"thick": thickest[0], "thin": thinnest[0]}))
    if selvedge:
        said.append(Remark("selvedge_sections", NOTE, {"extra": Quantity(selvedge, "ends")}))
    return tuple(said)


def rack_remarks(fullest: int, places: int | None, setups: int, lost: Fraction) -> tuple[Remark, ...]:
    """Say when the rack is too small, and what changing set-ups costs.

    Parameters
    ----------
    fullest : int
        Spools of the fullest set-up. [spools]
    places : int | None
        Places on the rack; None when not known. [spools]
    setups : int
        Set-ups of the warp. [set-ups]
    lost : Fraction
        Yarn lost at complete re-threads. [cm]

    Returns
    -------
    remarks : tuple[Remark, ...]
        WARN for the rack, NOTE for re-threads. [-]

    Raises
    ------
    ValueError
        If `fullest` or `setups` is below one.

    Notes
    -----
    The rack holds one set-up at a time. Plain comparison.

    Examples
    --------
    >>> [remark.code for remark in rack_remarks(48, 40, 5, Fraction(240))]
    ['spools_over_rack', 'rethreads']
    """
    if fullest < 1 or setups < 1:
        raise ValueError(f"fullest {fullest} and setups {setups} must be above zero")
    said = []
    if places is not None and fullest > places:
        values: Values = {"needed": Quantity(fullest, "count"), "held": Quantity(places, "count")}
        said.append(Remark("spools_over_rack", WARN, values))
    if lost:
        values = {"setups": Quantity(setups, "count"), "lost": Quantity(lost, "distance")}
        said.append(Remark("rethreads", NOTE, values))
    return tuple(said)


def chain_remarks(
    length: Fraction, path: Fraction | None, ends: int, at_once: int, shortest: Fraction | None = None
) -> tuple[Remark, ...]:
    """Say when the board is too short for the chain, and that paths must be measured.

    Parameters
    ----------
    length : Fraction
        Length of the chain, the longest where they differ. [cm]
    path : Fraction | None
        Longest path of the board or mill; None when not known. [cm]
    ends : int
        Ends wound with odd passes, in the largest such chain; 0 when there is none. [ends]
    at_once : int
        Ends wound together. [ends]
    shortest : Fraction | None
        Length of the shortest chain; None where all are alike. [cm]

    Returns
    -------
    remarks : tuple[Remark, ...]
        WARN for the board, notes for the rest. [-]

    Raises
    ------
    ValueError
        If `length` is not above zero or `at_once` is below one.

    Notes
    -----
    The true path of a board can differ from its name, since pegs have thickness. Common practice, no source.

    Examples
    --------
    >>> [remark.code for remark in chain_remarks(Fraction(914), Fraction(800), 283, 2)]
    ['board_too_short', 'odd_ends', 'board_path']
    """
    if length <= 0 or at_once < 1:
        raise ValueError(f"length {length} and at_once {at_once} must be above zero")
    said, whole = [], Quantity(length, "distance")
    if path is not None and length > path:
        said.append(Remark("board_too_short", WARN, {"length": whole, "path": Quantity(path, "distance")}))
    if ends % at_once:
        values: Values = {"ends": Quantity(ends, "ends"), "at_once": Quantity(at_once, "count")}
        said.append(Remark("odd_ends", NOTE, {**values, "odd": Quantity(ends % at_once, "ends")}))
    if shortest is None or shortest == length:
        said.append(Remark("board_path", NOTE, {"length": whole}))
    else:
        said.append(Remark("board_paths", NOTE, {"shortest": Quantity(shortest, "distance"), "longest": whole}))
    return tuple(said)


def comb_remarks(
    angle: float | None, bundle: Fraction | None, section: Fraction | None, knot: KnotPlace | None
) -> tuple[Remark, ...]:
    """Say when the comb must be turned or changed, and when a leader knot lies on a bar.

    Parameters
    ----------
    angle : float | None
        Angle to turn the comb; None when the comb is not known. [degrees]
    bundle : Fraction | None
        Width of the bundle in the comb. [cm]
    section : Fraction | None
        Free width between two dividers. [cm]
    knot : KnotPlace | None
        Where the leader knot lands; None when not known. [-]

    Returns
    -------
    remarks : tuple[Remark, ...]
        Notes for the comb, WARN for the knot. [-]

    Raises
    ------
    ValueError
        If `bundle` or `section` is not above zero.

    Notes
    -----
    A bundle wider than its section climbs the dividers; one much narrower piles up into a hill. Common practice, no
    source.

    Examples
    --------
    >>> [remark.code for remark in comb_remarks(29.0, Fraction(2), Fraction(7, 4), None)]
    ['comb_must_turn']
    """
    if (bundle is not None and bundle <= 0) or (section is not None and section <= 0):
        raise ValueError(f"bundle {bundle} and section {section} must be above zero")
    said = []
    if angle:
        said.append(Remark("comb_must_turn", NOTE, {"angle": Quantity(angle, "angle")}))
    if bundle is not None and section is not None and bundle < NARROW_BUNDLE * section:
        said.append(Remark("comb_too_narrow", NOTE, {}))
    if knot is not None and not knot.clear:
        said.append(_knot_remark(knot))
    return tuple(said)


def _knot_remark(knot: KnotPlace) -> Remark:
    if knot.too_long:
        return Remark("knot_too_long", WARN, {"gap": Quantity(knot.past_bar + knot.to_next_bar, "length")})
    change = "shorten" if knot.mend < 0 else "lengthen"
    return Remark("knot_on_bar", WARN, {"change": change, "mend": Quantity(abs(knot.mend), "length")})


def caution_remarks(warp_yarn: Fraction, *, box: bool) -> tuple[Remark, ...]:
    """Give the cautions that are usual at the beam and the box.

    Parameters
    ----------
    warp_yarn : Fraction
        Warp yarn to wind. [cm]
    box : bool
        The tension box is used. [-]

    Returns
    -------
    remarks : tuple[Remark, ...]
        Notes; local rules and the maker's manual come first. [-]

    Raises
    ------
    ValueError
        If `warp_yarn` is below zero.

    Notes
    -----
    Usual cautions of the trade, common practice, no source.

    Examples
    --------
    >>> [remark.code for remark in caution_remarks(Fraction(600_000), box=True)]
    ['caution_beam', 'caution_box', 'caution_long_work']
    """
    if warp_yarn < 0:
        raise ValueError(f"warp_yarn {warp_yarn} must not be below zero")
    codes = [
        "caution_beam",
        *(["caution_box"] if box else []),
        *(["caution_long_work"] if warp_yarn >= LONG_WORK else []),
    ]
    return tuple(Remark(code, NOTE, {}) for code in codes)
