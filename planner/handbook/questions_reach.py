"""Questions of reach: how far a yarn goes, how much cloth it weaves, how many pieces are still on a warp."""

from __future__ import annotations

from fractions import Fraction

from inventory.calc import count as yarn_count
from planner.calc.cloth import reach, warp_length, weft
from planner.calc.terms.brief import Allowances
from planner.handbook.question import GRIST, Ask, CannotAnswer, Line, Question, Values, have, say
from planner.plan.formatter import Reader
from studio.units import rounded

ZERO = Fraction(0)
USUAL_ALLOWANCE = Allowances().weft_allowance


def _yarn_there_is(said: Values, reader: Reader) -> tuple[Fraction, Line]:
    yarn = yarn_count.length_of_mass(said["mass"], said["grist"])
    worked = f"{say(reader, said['mass'], 'mass')} of {say(reader, said['grist'], 'grist')}"
    return yarn, Line("Yarn there is", say(reader, yarn, "distance"), worked=worked)


def _reach(said: Values, reader: Reader) -> tuple[Line, ...]:
    yarn, first = _yarn_there_is(said, reader)
    lines, ends = [first], said["ends"]
    if have(said, "warp_length", "sett"):
        found = reach.widest(yarn, said["warp_length"], said["sett"], ZERO)
        width, each = say(reader, found.width, "length"), say(reader, said["warp_length"], "distance")
        worked = f"{first.value} ÷ {each}, rounded down to whole ends"
        lines.append(Line("Widest warp", width, f"in the reed, {found.ends} ends", worked))
    if have(said, "ends"):
        longest = say(reader, reach.longest_warp(yarn, ends), "distance")
        lines.append(Line("Longest warp", longest, worked=f"{first.value} ÷ {ends} ends"))
    if have(said, "ends", "piece"):
        lines.append(_most_pieces(yarn, said, reader))
    if len(lines) == 1:
        raise CannotAnswer("ends", "Say the ends, or both the warp length and the sett.")
    return tuple(lines)


def _most_pieces(yarn: Fraction, said: Values, reader: Reader) -> Line:
    fixed = said["fixed"] or ZERO
    most = reach.most_pieces(yarn, said["ends"], reach.PieceNeeds(said["piece"], fixed=fixed))
    each, once = say(reader, said["piece"], "length"), say(reader, fixed, "length")
    over = say(reader, most.left, "distance")
    worked = f"{said['ends']} ends × ({most.pieces} × {each} + {once}), and {over} of yarn over"
    return Line("Most pieces", str(most.pieces), worked=worked)


def _woven(said: Values, reader: Reader) -> tuple[Line, ...]:
    yarn, first = _yarn_there_is(said, reader)
    take_up, fixed = said["take_up"] or ZERO, said["fixed"] or ZERO
    if take_up >= 1:
        raise CannotAnswer("take_up", "The take-up is a part of the warp, less than 100 %.")
    if have(said, "picks") != have(said, "width"):
        field = "width" if have(said, "picks") else "picks"
        raise CannotAnswer(field, "For the weft say both the picks and the width in the reed.")
    of_weft, crossing = _weft_of_cloth(said)
    woven = reach.longest_woven(yarn, said["ends"], fixed, take_up, of_weft)
    if not woven:
        raise CannotAnswer("mass", "There is too little yarn to weave anything after the waste.")
    taken = warp_length.warp_of_woven(woven, take_up)
    cloth, once = say(reader, woven, "distance"), say(reader, fixed, "length")
    bent = f"÷ (1 − {say(reader, take_up, 'share')})"
    worked = f"({first.value} − {said['ends']} ends × {once}) ÷ ({said['ends']} {bent}{crossing})"
    lines = [
        first,
        Line("Longest cloth, under tension", cloth, worked=worked),
        Line("Warp that it uses", say(reader, taken, "distance"), f"and {once} beside it", f"{cloth} {bent}"),
    ]
    if of_weft:
        lines.append(_weft_line(woven, said, reader))
    return tuple(lines)


def _allowance(said: Values) -> Fraction:
    return USUAL_ALLOWANCE if said["allowance"] is None else said["allowance"]


def _weft_of_cloth(said: Values) -> tuple[Fraction, str]:
    """Give the weft of one centimetre of cloth, and how it stands in the sum; none where it is another yarn."""
    if not have(said, "picks", "width"):
        return ZERO, ""
    length = weft.weft_length(Fraction(1), said["picks"], said["width"], _allowance(said))
    return length, f" + {rounded(length, 2)} of weft to one of cloth"


def _weft_line(woven: Fraction, said: Values, reader: Reader) -> Line:
    length = weft.weft_length(woven, said["picks"], said["width"], _allowance(said))
    worked = (
        f"{say(reader, woven, 'distance')} × {say(reader, said['picks'], 'picks')} × "
        f"{say(reader, said['width'], 'length')} × (1 + {say(reader, _allowance(said), 'share')})"
    )
    return Line("Weft for it", say(reader, length, "distance"), worked=worked)


def _pieces(said: Values, reader: Reader) -> tuple[Line, ...]:
    gap, fixed = said["gap"] or ZERO, said["fixed"] or ZERO
    found = reach.pieces_of_warp(said["warp_length"], reach.PieceNeeds(said["piece"], gap, fixed))
    whole, each, between, once = (
        say(reader, value, "length") for value in (said["warp_length"], said["piece"], gap, fixed)
    )
    taken, left = say(reader, found.warp, "length"), say(reader, found.left, "length")
    counted = f"({whole} − {once} + {between}) ÷ ({each} + {between}), rounded down"
    lines = [Line("Whole pieces", str(found.pieces), worked=counted)]
    if found.pieces:
        used = f"{found.pieces} × ({each} + {between}) − {between} + {once}"
        lines.append(Line("Warp they take", taken, worked=used))
    return (*lines, Line("Warp over", left, worked=f"{whole} − {taken}"))


REACH_QUESTIONS = (
    Question(
        "reach", "How far does this yarn go?",
        "For the warp alone; the weft is reckoned as another yarn. Keep a margin back before you ask.",
        (
            Ask("mass", "Yarn there is, without its cones", "mass"), GRIST,
            Ask("warp_length", "Warp length", "distance", "With the sett, for the widest warp.", needed=False),
            Ask("sett", "Sett", "sett", needed=False),
            Ask("ends", "Ends", "whole", "For the longest warp.", needed=False),
            Ask("piece", "Warp of one piece", "length", "With the ends, for the most pieces.", needed=False),
            Ask("fixed", "Waste and samples", "length", needed=False, zero=True),
        ),
        ("widest", "longest-warp", "most-pieces"),
        _reach,
        (("mass", "10 lb"), ("grist", "8/2 cotton"), ("warp_length", "10 yd"), ("sett", "20 /in"), ("ends", "420"),
         ("piece", "36 in"), ("fixed", "36 in")),
        "enough yarn widest longest warp pieces left",
    ),
    Question(
        "woven", "How much cloth does this yarn weave?",
        "Warp and weft from the same yarn, or the warp alone when picks and width are left empty.",
        (
            Ask("mass", "Yarn there is, without its cones", "mass"), GRIST,
            Ask("ends", "Ends", "whole"),
            Ask("fixed", "Waste, samples, gaps and fringes", "length", "Warp that is not woven.", needed=False,
                zero=True),
            Ask("take_up", "Take-up", "share", "Of the warp. None when left empty.", needed=False, zero=True),
            Ask("picks", "Picks", "picks", needed=False, part="Weft of the same yarn"),
            Ask("width", "Width in the reed", "length", needed=False, part="Weft of the same yarn"),
            Ask("allowance", "Weft beyond the width", "share",
                f"For bends and turns; {rounded(100 * USUAL_ALLOWANCE, 0)} % when left empty.", needed=False,
                zero=True, part="Weft of the same yarn"),
        ),
        ("longest-woven", "warp-of-woven", "weft-length"),
        _woven,
        (("mass", "1 kg"), ("grist", "8/2 cotton"), ("ends", "300"), ("fixed", "36 in"), ("take_up", "9 %"),
         ("picks", "18 /in"), ("width", "15 in")),
        "enough yarn longest cloth weft same yarn scarf stash",
    ),
    Question(
        "pieces", "How many pieces are on this warp?",
        "A warp already wound, or what is left of it: whole pieces, and what is over.",
        (
            Ask("warp_length", "Warp there is", "distance"),
            Ask("piece", "Warp of one piece", "length", "With its take-up, its hems and its fringe."),
            Ask("gap", "Unwoven warp between two", "length", needed=False, zero=True),
            Ask("fixed", "Waste and samples", "length", "What does not depend on the pieces.", needed=False,
                zero=True),
        ),
        ("pieces-of-warp",),
        _pieces,
        (("warp_length", "10 yd"), ("piece", "36 in"), ("gap", "2 in"), ("fixed", "36 in")),
        "left over towels another one more remaining warp",
    ),
)  # fmt: skip
