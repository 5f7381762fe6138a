"""Questions of the warping board and mill: paths and their truth, turns, passes and chains."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.winding import board, board_path, chains
from planner.handbook.question import Ask, CannotAnswer, Line, Question, Values, have, say
from planner.plan.formatter import Reader

ZERO = Fraction(0)


def _board(said: Values, reader: Reader) -> tuple[Line, ...]:
    leg, cross = said["leg"], said["cross"] or ZERO
    named = board_path.board_length(said["legs"], leg, cross)
    called = say(reader, named, "distance")
    worked = f"{said['legs']} × {say(reader, leg, 'length')} + {say(reader, cross, 'length')}"
    lines = [Line("Path by its name", called, worked=worked)]
    if have(said, "string"):
        lines.append(_error(named, said["string"], reader))
    if have(said, "wanted"):
        lines += _to_wind(said, named, reader)
    return tuple(lines)


def _error(named: Fraction, true: Fraction, reader: Reader) -> Line:
    error = board_path.path_error(named, true)
    word = "longer than its name" if error > 0 else "shorter than its name" if error < 0 else "just as named"
    worked = f"{say(reader, true, 'distance')} ÷ {say(reader, named, 'distance')} − 1"
    return Line("The true path", say(reader, abs(error), "share"), word, worked)


def _to_wind(said: Values, named: Fraction, reader: Reader) -> Iterator[Line]:
    """Give the path to wind for a length: the string tells how wrong names are, the step how paths can grow."""
    true, step = said["string"] or named, said["step"] or said["leg"]
    path = board.path_by_name(said["wanted"], step, named, true)
    wanted, grain = say(reader, said["wanted"], "distance"), say(reader, step, "length")
    called, real, chosen = (say(reader, length, "distance") for length in (named, true, path))
    rule = "" if true == named else f" × {called} ÷ {real}"
    yield Line(f"Wind, by its name, for {wanted}", chosen, worked=f"{wanted}{rule}, up to whole steps of {grain}")
    winds = say(reader, board.measured_path(path, named, true), "distance")
    yield Line("It really winds", winds, worked=f"{chosen} × {real} ÷ {called}")


def _reaching(said: Values, reader: Reader) -> tuple[Line, ...]:
    wanted, lines = say(reader, said["wanted"], "distance"), []
    if have(said, "paths"):
        if max(said["paths"]) < said["wanted"]:
            raise CannotAnswer("paths", f"None of these paths is as long as {wanted}.")
        found = board.shortest_path(said["paths"], said["wanted"])
        compared = ", ".join(say(reader, path, "distance") for path in said["paths"])
        lines.append(Line("Shortest path", say(reader, found, "distance"), worked=f"of {compared}"))
    if have(said, "round"):
        posts = said["posts"] or 1
        turns = board_path.turns_of_mill(said["wanted"], said["round"], posts)
        each = say(reader, said["round"], "distance")
        grain = "whole turns" if posts == 1 else f"the next of {posts} posts"
        lines.append(Line("Turns of the mill", _mixed(turns), worked=f"{wanted} ÷ {each}, up to {grain}"))
    if not lines:
        raise CannotAnswer("paths", "Write the paths of your board, or once round your mill.")
    return tuple(lines)


def _mixed(turns: Fraction) -> str:
    """Write turns as people say them at a mill: 2 1/2 and not 2.5."""
    whole, part = divmod(turns, 1)
    return f"{whole} {part} turns" if whole and part else f"{part or whole} {'turn' if turns == 1 else 'turns'}"


def _passes(said: Values, reader: Reader) -> tuple[Line, ...]:
    ends, at_once = said["ends"], said["at_once"]
    most = said["most"] or ends
    if have(said, "most") and at_once > most:
        raise CannotAnswer("most", f"A pass of {at_once} ends has no room in a chain of {most}. Wind fewer together.")
    sizes = chains.chain_sizes(ends, at_once, most)
    shared = " or ".join(f"{size} ends" for size in sorted(set(sizes)))
    lines = []
    if have(said, "most"):
        worked = f"{ends} ends in whole passes, {most} in a chain at most"
        lines.append(Line("Chains", str(len(sizes)), f"of {shared}", worked))
    passes, each = board_path.passes_in_all(sizes, at_once), "for each chain, " if len(sizes) > 1 else ""
    lines.append(Line("Passes in all", str(passes), worked=f"{ends} ÷ {at_once} at a time, {each}rounded up"))
    if have(said, "length", "grist"):
        fullest = max(sizes)
        mass = board.chain_mass([(fullest, said["grist"])], said["length"])
        long, tex = say(reader, said["length"], "distance"), say(reader, said["grist"], "grist")
        label = "The fullest chain weighs" if len(set(sizes)) > 1 else "Each chain weighs"
        worked = f"{fullest} ends × {long} of {tex}"
        lines.append(Line(label, say(reader, mass, "mass"), "without its ties", worked))
    return tuple(lines)


_PATH, _WIND = "The path", "To wind another length on this board"

BOARD_QUESTIONS = (
    Question(
        "board", "How long is this path on the board?",
        "By its legs; by a guide string laid along it, how wrong the board’s names are, and what to wind instead.",
        (
            Ask("legs", "Full legs", "whole", "From side to side.", part=_PATH),
            Ask("leg", "One leg", "length", "Between the outer pegs.", part=_PATH),
            Ask("cross", "Part leg to the cross", "length", needed=False, zero=True, part=_PATH),
            Ask("string", "Guide string", "distance", "A string that does not stretch, laid along the path.",
                needed=False, part=_PATH),
            Ask("wanted", "Warp length wanted", "distance", needed=False, part=_WIND),
            Ask("step", "Paths grow by", "length", "A whole leg when left empty.", needed=False, part=_WIND),
        ),
        ("board-length", "path-error", "path-by-name", "measured-path"),
        _board,
        (("legs", "10"), ("leg", "1 yd"), ("string", "10.2 yd"), ("wanted", "7 yd"), ("step", "18 in")),
        "warping board frame pegs guide string calibrate legs",
    ),
    Question(
        "mill", "Which path, or how many turns, for this length?",
        "The shortest of your board’s measured paths, and the turns of your mill.",
        (
            Ask("wanted", "Warp length wanted", "distance"),
            Ask("paths", "Paths of the board", "lengths", "As measured, such as 5 yd; 7 1/2 yd; 10 yd.",
                needed=False, part="Warping board"),
            Ask("round", "Once round the mill", "distance", "Along the yarn.", needed=False, part="Warping mill"),
            Ask("posts", "Posts where a peg can stand", "whole", "Whole turns when left empty.", needed=False,
                part="Warping mill"),
        ),
        ("turns-of-mill", "shortest-path"),
        _reaching,
        (("wanted", "10 yd"), ("paths", "5 yd; 8 yd; 10 1/2 yd; 13 yd"), ("round", "4 yd"), ("posts", "4")),
        "warping board mill reel drum turns path shortest",
    ),
    Question(
        "passes", "How many passes on the board?",
        "With several ends in hand, chain by chain; and what a chain weighs, so that a miscount shows on the scales.",
        (
            Ask("ends", "Ends", "whole"),
            Ask("at_once", "Ends wound together", "whole"),
            Ask("most", "Most ends in a chain", "whole", "One chain when left empty.", needed=False),
            Ask("length", "Warp length", "distance", "With the yarn, for the weight.", needed=False),
            Ask("grist", "Yarn", "grist", "Such as 8/2 cotton.", needed=False),
        ),
        ("passes-in-all", "chain-sizes", "chain-mass"),
        _passes,
        (("ends", "282"), ("at_once", "2"), ("most", "100"), ("length", "2.25 yd"), ("grist", "8/2 cotton")),
        "warping board mill chain chains wind count portee bout weigh",
    ),
)  # fmt: skip
