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
from studio.quantities import Cm, Cm2, CmFloat, Degrees, Ends, GramsPerCm3, Setups, Share, ShareFloat, Spools, Turns

NOTE, WARN, STOP = Severity.NOTE, Severity.WARN, Severity.STOP

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

WORTH_SAYING = 0.005
"""Build-up, as a share of the length, from which a note says so. Common practice, no source."""

NARROW_BUNDLE = Fraction(85, 100)
"""Share of the section a bundle should fill at least. Common practice, no source."""

LONG_WORK = 500_000
"""Centimetres of warp yarn from which winding is called long work. Common practice, no source."""


def turn_remarks(turns: Turns, build_up: Turns, real: CmFloat, nominal: Cm) -> tuple[Remark, ...]:
    """Say what the build-up does to turns and length.

    `build_up` are the whole turns that would do, counting it. Planning by the empty beam is safe for the warp; the yarn
    is planned with build-up.
    Source: plain arithmetic. Raises ValueError if `nominal` is not above zero.

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

    Source: plain comparison.

    >>> [remark.code for remark in doubt_remarks(TurnsRange(10, 10, 11))]
    ['turns_in_doubt']
    """
    if turns is None or turns.fewest == turns.safe:
        return ()
    values: Values = {"fewest": Quantity(turns.fewest, "turns"), "safe": Quantity(turns.safe, "turns")}
    return (Remark("turns_in_doubt", NOTE, values),)


def mismatch_remarks(
    difference: tuple[CmFloat, ShareFloat], note: Share, warn: Share, stop: Share, *, unkind: bool
) -> tuple[Remark, ...]:
    """Say how unequal the sections come out.

    `difference` is of the deepest section from the shallowest. With an unkind yarn, one that does not even out such as
    linen or silk, the limits are halved.
    Source: the limits are the studio's; the usual ones are estimates without a published source. Raises ValueError if
    the limits do not rise.

    >>> limits = (Fraction(3, 1000), Fraction(5, 1000), Fraction(1, 100))
    >>> [remark.severity.value for remark in mismatch_remarks((6.9, 0.0064), *limits, unkind=False)]
    ['warn']
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
    guessed: Sequence[tuple[str, GramsPerCm3]],
    thickest: tuple[str, Cm2],
    thinnest: tuple[str, Cm2],
    selvedge: Ends,
) -> tuple[Remark, ...]:
    """Say what is uncertain in the depth of the yarn.

    `guessed` are yarns whose density as wound is an estimate.
    Source: plain comparison; no published density of yarn wound by hand was found. Raises ValueError if the thickest
    yarn is thinner than the thinnest.

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


def rack_remarks(fullest: Spools, places: Spools | None, setups: Setups, lost: Cm) -> tuple[Remark, ...]:
    """Say when the rack is too small, and what changing set-ups costs.

    WARN for the rack, which holds one set-up at a time; NOTE for re-threads.
    Source: plain comparison. Raises ValueError if `fullest` or `setups` is below one.

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
    length: Cm, path: Cm | None, ends: Ends, at_once: Ends, shortest: Cm | None = None
) -> tuple[Remark, ...]:
    """Say when the board is too short for the chain, and that paths must be measured.

    WARN for the board, notes for the rest. `ends` are wound with odd passes, in the largest such chain; `shortest` is
    None where all are alike. The true path of a board can differ from its name, since pegs have thickness.
    Source: common practice, no source. Raises ValueError if `length` is not above zero or `at_once` is below one.

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
    angle: Degrees | None, bundle: Cm | None, section: Cm | None, knot: KnotPlace | None
) -> tuple[Remark, ...]:
    """Say when the comb must be turned or changed, and when a leader knot lies on a bar.

    None stands for what is not known. A bundle wider than its section climbs the dividers; one much narrower piles up
    into a hill.
    Source: common practice, no source. Raises ValueError if `bundle` or `section` is not above zero.

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


def caution_remarks(warp_yarn: Cm, *, box: bool) -> tuple[Remark, ...]:
    """Give the cautions that are usual at the beam and the box.

    Local rules and the maker's manual come first.
    Source: usual cautions of the trade, common practice, no source. Raises ValueError if `warp_yarn` is below zero.

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
