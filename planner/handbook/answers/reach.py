"""Questions of reach: how far a yarn goes, how much cloth it weaves, how many pieces are still on a warp."""

from __future__ import annotations

from fractions import Fraction

from inventory.calc import count as yarn_count
from planner.calc.cloth import reach, warp_length, weft
from planner.handbook.question import Answers, Asked, CannotAnswer, Line
from studio.units import rounded

ZERO = Fraction(0)


def _yarn_there_is(asked: Asked) -> tuple[Fraction, Line]:
    yarn = yarn_count.length_of_mass(asked["mass"], asked["grist"])
    worked = f"{asked.told('mass')} of {asked.told('grist')}"
    return yarn, Line("Yarn there is", asked.say(yarn, "distance"), worked=worked)


def _reach(asked: Asked) -> tuple[Line, ...]:
    yarn, first = _yarn_there_is(asked)
    lines, ends = [first], asked["ends"]
    if asked.has("warp_length", "sett"):
        found = reach.widest(yarn, asked["warp_length"], asked["sett"], ZERO)
        width, each = asked.say(found.width, "length"), asked.told("warp_length")
        worked = f"{first.value} ÷ {each}, rounded down to whole ends"
        lines.append(Line("Widest warp", width, f"in the reed, {found.ends} ends", worked))
    if asked.has("ends"):
        longest = asked.say(reach.longest_warp(yarn, ends), "distance")
        lines.append(Line("Longest warp", longest, worked=f"{first.value} ÷ {ends} ends"))
    if asked.has("ends", "piece"):
        lines.append(_most_pieces(yarn, asked))
    if len(lines) == 1:
        raise CannotAnswer("ends", "Say the ends, or both the warp length and the sett.")
    return tuple(lines)


def _most_pieces(yarn: Fraction, asked: Asked) -> Line:
    most = reach.most_pieces(yarn, asked["ends"], reach.PieceNeeds(asked["piece"], fixed=asked["fixed"]))
    each, once = asked.told("piece"), asked.told("fixed")
    over = asked.say(most.left, "distance")
    worked = f"{asked['ends']} ends × ({most.pieces} × {each} + {once}), and {over} of yarn over"
    return Line("Most pieces", str(most.pieces), worked=worked)


def _woven(asked: Asked) -> tuple[Line, ...]:
    yarn, first = _yarn_there_is(asked)
    take_up, fixed = asked["take_up"], asked["fixed"]
    if take_up >= 1:
        raise CannotAnswer("take_up", "The take-up is a part of the warp, less than 100 %.")
    if asked.has("picks") != asked.has("width"):
        field = "width" if asked.has("picks") else "picks"
        raise CannotAnswer(field, "For the weft say both the picks and the width in the reed.")
    of_weft, crossing = _weft_of_cloth(asked)
    woven = reach.longest_woven(yarn, asked["ends"], fixed, take_up, of_weft)
    if not woven:
        raise CannotAnswer("mass", "There is too little yarn to weave anything after the waste.")
    taken = warp_length.warp_of_woven(woven, take_up)
    cloth, once = asked.say(woven, "distance"), asked.told("fixed")
    bent = f"÷ (1 − {asked.told('take_up')})"
    worked = f"({first.value} − {asked['ends']} ends × {once}) ÷ ({asked['ends']} {bent}{crossing})"
    lines = [
        first,
        Line("Longest cloth, under tension", cloth, worked=worked),
        Line("Warp that it uses", asked.say(taken, "distance"), f"and {once} beside it", f"{cloth} {bent}"),
    ]
    if of_weft:
        lines.append(_weft_line(woven, asked))
    return tuple(lines)


def _weft_of_cloth(asked: Asked) -> tuple[Fraction, str]:
    """Give the weft of one centimetre of cloth, and how it stands in the sum; none where it is another yarn."""
    if not asked.has("picks", "width"):
        return ZERO, ""
    length = weft.weft_length(Fraction(1), asked["picks"], asked["width"], asked["allowance"])
    return length, f" + {rounded(length, 2)} of weft to one of cloth"


def _weft_line(woven: Fraction, asked: Asked) -> Line:
    length = weft.weft_length(woven, asked["picks"], asked["width"], asked["allowance"])
    worked = (
        f"{asked.say(woven, 'distance')} × {asked.told('picks')} × "
        f"{asked.told('width')} × (1 + {asked.told('allowance')})"
    )
    return Line("Weft for it", asked.say(length, "distance"), worked=worked)


def _pieces(asked: Asked) -> tuple[Line, ...]:
    found = reach.pieces_of_warp(asked["warp_length"], reach.PieceNeeds(asked["piece"], asked["gap"], asked["fixed"]))
    whole, each, between, once = (asked.told(name, "length") for name in ("warp_length", "piece", "gap", "fixed"))
    taken, left = asked.say(found.warp, "length"), asked.say(found.left, "length")
    counted = f"({whole} − {once} + {between}) ÷ ({each} + {between}), rounded down"
    lines = [Line("Whole pieces", str(found.pieces), worked=counted)]
    if found.pieces:
        used = f"{found.pieces} × ({each} + {between}) − {between} + {once}"
        lines.append(Line("Warp they take", taken, worked=used))
    return (*lines, Line("Warp over", left, worked=f"{whole} − {taken}"))


REACH_ANSWERS: Answers = {
    "reach": _reach,
    "woven": _woven,
    "pieces": _pieces,
}
