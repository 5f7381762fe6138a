"""Questions of the reed: an old number, a sley order and its sett, and whether a yarn has room in the dent."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.cloth import cover, sett, warp_width
from planner.calc.reed import dent_room, reed, reed_systems
from planner.calc.reed.dent_room import KNOT_WIDTH, Room
from planner.handbook.question import FIBRES, GRIST, Ask, CannotAnswer, Line, Question, Values, have, say
from planner.plan.formatter import Reader
from studio.units import rounded

ZERO = Fraction(0)
ROOMS = {
    Room.AMPLE: ("ample", "half of it or more is free"),
    Room.FAIR: ("fair", "room to spare, but not half"),
    Room.TIGHT: ("tight", "less than a tenth is free: ends rub, and a beat wears them"),
    Room.NONE: ("too narrow", "the ends cannot stand side by side: take fewer in a dent, or a coarser reed"),
}


def _reeds(said: Values, reader: Reader) -> tuple[Line, ...]:
    number, system = said["number"], said["system"]
    dents = reed_systems.dents_of(number, system)
    known = reed_systems.SYSTEMS[system]
    shown = say(reader, dents, "dents")
    first = Line("Dents", shown, worked=f"{rounded(number, 4)} × {known.dents} in {say(reader, known.width, 'length')}")
    others = (other for key, other in reed_systems.SYSTEMS.items() if key != system)
    return (first, *(_in_system(dents, other, reader) for other in others))


def _in_system(dents: Fraction, other: reed_systems.ReedSystem, reader: Reader) -> Line:
    number = rounded(reed_systems.number_of(dents, other.key), 2)
    worked = f"{say(reader, dents, 'dents')} × {say(reader, other.width, 'length')} ÷ {other.dents}"
    return Line(f"{other.name[:1].upper()}{other.name[1:]}", number, worked=worked)


def _sley(said: Values, reader: Reader) -> tuple[Line, ...]:
    lines: list[Line] = []
    if have(said, "order"):
        lines += _of_order(said, said["order"], reader)
    if have(said, "sett"):
        lines += _near(said, reader)
    if not lines:
        raise CannotAnswer("order", "Write a sley order, or the sett you want.")
    return tuple(lines)


def _order(order: tuple[int, ...]) -> str:
    return "-".join(map(str, order))


def _of_order(said: Values, order: tuple[int, ...], reader: Reader) -> Iterator[Line]:
    given = reed.sley_sett(said["dents"], order)
    shown, ends = say(reader, given, "sett"), said["ends"]
    worked = f"{say(reader, said['dents'], 'dents')} × ({' + '.join(map(str, order))}) ÷ {len(order)}"
    yield Line(f"Sleyed {_order(order)}", shown, worked=worked)
    if ends is not None:
        width = say(reader, warp_width.width_of_ends(ends, given), "length")
        yield Line(f"Width in the reed, sleyed {_order(order)}", width, worked=f"{ends} ends ÷ {shown}")


def _near(said: Values, reader: Reader) -> Iterator[Line]:
    """Give the orders near a wanted sett, the nearest first."""
    dents, wanted = said["dents"], said["sett"]
    found = {order: reed.sley_sett(dents, order) for order in reed.sley_orders(dents, wanted)}
    if not found:
        raise CannotAnswer("sett", "So open a sett leaves more than seven dents in eight empty. Take a coarser reed.")
    for order in sorted(found, key=lambda order: (abs(found[order] - wanted), len(order))):
        exact = "just as wanted" if found[order] == wanted else ""
        worked = f"{say(reader, dents, 'dents')} × {sum(order)} ends ÷ {_dents(len(order))}"
        yield Line(
            f"{_order(order)} for {say(reader, wanted, 'sett')}", say(reader, found[order], "sett"), exact, worked
        )


def _dents(count: int) -> str:
    return "1 dent" if count == 1 else f"{count} dents"


def _dent(said: Values, reader: Reader) -> tuple[Line, ...]:
    dents, ends, wire = said["dents"], said["ends"], said["wire"] or ZERO
    if wire * dents >= 1:
        raise CannotAnswer("wire", "A wire as thick as that leaves no dent.")
    side_by_side = sett.diameters(said["grist"], sett.yarn_constant(said["fibre"]))
    thick = cover.diameter_of_wraps(side_by_side)
    found = dent_room.dent_room(dents, wire, ends, thick)
    gap, one = say(reader, found.gap, "depth"), say(reader, thick, "depth")
    wide = "" if wire else "a little too wide, without the wire"
    word, meaning = ROOMS[found.room]
    left = _free(found.free, ends, one, gap, reader)
    knot = f"({ends} − 1 + {KNOT_WIDTH}) × {one} {'within' if found.knot_passes else 'beyond'} {gap}"
    return (
        Line("The dent is", word, meaning, left.worked),
        Line("A knot", "passes" if found.knot_passes else "does not pass", worked=knot),
        Line("Most ends side by side", str(found.most), worked=f"{gap} ÷ {one}, rounded down"),
        left,
        Line(
            "Clear width of the dent", gap, wide, f"1 ÷ ({say(reader, dents, 'dents')}) − {say(reader, wire, 'depth')}"
        ),
        Line("Thickness of one end", one, worked=f"1 ÷ ({say(reader, side_by_side, 'wraps')}) side by side"),
    )


def _free(free: Fraction, ends: int, one: str, gap: str, reader: Reader) -> Line:
    """Say which part of a dent is free, or how many times over it is filled."""
    if free >= 0:
        return Line("Left free in the dent", say(reader, free, "share"), worked=f"1 − {ends} × {one} ÷ {gap}")
    times = say(reader, 1 - free, "ratio")
    wide = f"side by side the ends are {times} times as wide as the dent"
    return Line("Left free in the dent", "nothing", wide, f"{ends} × {one} ÷ {gap}")


_SYSTEMS = tuple((key, system.name) for key, system in reed_systems.SYSTEMS.items())

REED_QUESTIONS = (
    Question(
        "sley", "What sett does this reed give?",
        "By a sley order, and which orders come near a sett you want.",
        (
            Ask("dents", "Reed", "dents", "Its dents. A metric reed may be typed as 50/10."),
            Ask("order", "Sley order", "sley", "Ends in each dent, such as 1-1-2; 0 for an empty dent.",
                needed=False),
            Ask("ends", "Ends", "whole", "With the order, for the width in the reed.", needed=False),
            Ask("sett", "Sett wanted", "sett", "For the orders near it.", needed=False),
        ),
        ("sley-sett", "sley-orders", "width-of-ends"),
        _sley,
        (("dents", "12 /in"), ("order", "1-1-2"), ("ends", "320"), ("sett", "20 /in")),
        "sleying denting substitution dpi epi ends per dent width",
    ),
    Question(
        "dent", "Does this yarn pass in the dent?",
        "Room of the ends between two wires, and whether a weaver’s knot passes beside them.",
        (
            Ask("dents", "Reed", "dents", "Its dents. A metric reed may be typed as 50/10."),
            Ask("ends", "Ends in the fullest dent", "whole"),
            GRIST,
            Ask("fibre", "Fibre", "choice", choices=FIBRES),
            Ask("wire", "Thickness of a wire", "depth", "With a gauge. Left out when left empty.", needed=False,
                zero=True),
        ),
        ("dent-room", "dent-gap", "free-share", "diameter-of-wraps",
         "diameters"),
        _dent,
        (("dents", "10 /in"), ("ends", "2"), ("grist", "8/2 cotton"), ("fibre", "cotton"), ("wire", "0.005 in")),
        "knot room tight fit fraying thick",
    ),
    Question(
        "reeds", "What is this old reed?",
        "The number stamped on it, in its own district’s way of counting.",
        (Ask("number", "Number on the reed", "number"), Ask("system", "Counted as", "choice", choices=_SYSTEMS)),
        ("dents-of", "number-of"),
        _reeds,
        (("number", "36"), ("system", "bolton")),
        "stockport bradford bolton scotch porter irish radcliffe huddersfield beer dpi metric stamped",
    ),
)  # fmt: skip
