"""Questions of the reed: an old number, a sley order and its sett, and whether a yarn has room in the dent."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.cloth import cover, sett, warp_width
from planner.calc.reed import dent_room, reed, reed_systems
from planner.calc.reed.dent_room import KNOT_WIDTH, Room
from planner.handbook.question import Answers, Asked, CannotAnswer, Line
from studio.units import rounded

ROOMS = {
    Room.AMPLE: ("ample", "half of it or more is free"),
    Room.FAIR: ("fair", "room to spare, but not half"),
    Room.TIGHT: ("tight", "less than a tenth is free: ends rub, and a beat wears them"),
    Room.NONE: ("too narrow", "the ends cannot stand side by side: take fewer in a dent, or a coarser reed"),
}


def _reeds(asked: Asked) -> tuple[Line, ...]:
    number, system = asked["number"], asked["system"]
    dents = reed_systems.dents_of(number, system)
    known = reed_systems.SYSTEMS[system]
    shown = asked.say(dents, "dents")
    first = Line("Dents", shown, worked=f"{rounded(number, 4)} × {known.dents} in {asked.say(known.width, 'length')}")
    others = (other for key, other in reed_systems.SYSTEMS.items() if key != system)
    return (first, *(_in_system(dents, other, asked) for other in others))


def _in_system(dents: Fraction, other: reed_systems.ReedSystem, asked: Asked) -> Line:
    number = rounded(reed_systems.number_of(dents, other.key), 2)
    worked = f"{asked.say(dents, 'dents')} × {asked.say(other.width, 'length')} ÷ {other.dents}"
    return Line(f"{other.name[:1].upper()}{other.name[1:]}", number, worked=worked)


def _sley(asked: Asked) -> tuple[Line, ...]:
    lines: list[Line] = []
    if asked.has("order"):
        lines += _of_order(asked, asked["order"])
    if asked.has("sett"):
        lines += _near(asked)
    if not lines:
        raise CannotAnswer("order", "Write a sley order, or the sett you want.")
    return tuple(lines)


def _order(order: tuple[int, ...]) -> str:
    return "-".join(map(str, order))


def _of_order(asked: Asked, order: tuple[int, ...]) -> Iterator[Line]:
    given = reed.sley_sett(asked["dents"], order)
    shown, ends = asked.say(given, "sett"), asked["ends"]
    worked = f"{asked.told('dents')} × ({' + '.join(map(str, order))}) ÷ {len(order)}"
    yield Line(f"Sleyed {_order(order)}", shown, worked=worked)
    if ends is not None:
        width = asked.say(warp_width.width_of_ends(ends, given), "length")
        yield Line(f"Width in the reed, sleyed {_order(order)}", width, worked=f"{ends} ends ÷ {shown}")


def _near(asked: Asked) -> Iterator[Line]:
    """Give the orders near a wanted sett, the nearest first."""
    dents, wanted = asked["dents"], asked["sett"]
    found = {order: reed.sley_sett(dents, order) for order in reed.sley_orders(dents, wanted)}
    if not found:
        raise CannotAnswer("sett", "So open a sett leaves more than seven dents in eight empty. Take a coarser reed.")
    for order in sorted(found, key=lambda order: (abs(found[order] - wanted), len(order))):
        exact = "just as wanted" if found[order] == wanted else ""
        worked = f"{asked.say(dents, 'dents')} × {sum(order)} ends ÷ {_dents(len(order))}"
        yield Line(f"{_order(order)} for {asked.say(wanted, 'sett')}", asked.say(found[order], "sett"), exact, worked)


def _dents(count: int) -> str:
    return "1 dent" if count == 1 else f"{count} dents"


def _dent(asked: Asked) -> tuple[Line, ...]:
    dents, ends, wire = asked["dents"], asked["ends"], asked["wire"]
    if wire * dents >= 1:
        raise CannotAnswer("wire", "A wire as thick as that leaves no dent.")
    side_by_side = sett.diameters(asked["grist"], sett.yarn_constant(asked["fibre"]))
    thick = cover.diameter_of_wraps(side_by_side)
    found = dent_room.dent_room(dents, wire, ends, thick)
    gap, one = asked.say(found.gap, "depth"), asked.say(thick, "depth")
    wide = "" if wire else "a little too wide, without the wire"
    word, meaning = ROOMS[found.room]
    left = _free(found.free, ends, one, gap, asked)
    knot = f"({ends} − 1 + {KNOT_WIDTH}) × {one} {'within' if found.knot_passes else 'beyond'} {gap}"
    return (
        Line("The dent is", word, meaning, left.worked),
        Line("A knot", "passes" if found.knot_passes else "does not pass", worked=knot),
        Line("Most ends side by side", str(found.most), worked=f"{gap} ÷ {one}, rounded down"),
        left,
        Line("Clear width of the dent", gap, wide, f"1 ÷ ({asked.say(dents, 'dents')}) − {asked.say(wire, 'depth')}"),
        Line("Thickness of one end", one, worked=f"1 ÷ ({asked.say(side_by_side, 'wraps')}) side by side"),
    )


def _free(free: Fraction, ends: int, one: str, gap: str, asked: Asked) -> Line:
    """Say which part of a dent is free, or how many times over it is filled."""
    if free >= 0:
        return Line("Left free in the dent", asked.say(free, "share"), worked=f"1 − {ends} × {one} ÷ {gap}")
    times = asked.say(1 - free, "ratio")
    wide = f"side by side the ends are {times} times as wide as the dent"
    return Line("Left free in the dent", "nothing", wide, f"{ends} × {one} ÷ {gap}")


REED_ANSWERS: Answers = {
    "sley": _sley,
    "dent": _dent,
    "reeds": _reeds,
}
