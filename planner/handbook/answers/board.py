"""Questions of the warping board and mill: paths and their truth, turns, passes and chains."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.winding import board, board_path, chains
from planner.handbook.question import Answers, Asked, CannotAnswer, Line


def _board(asked: Asked) -> tuple[Line, ...]:
    leg, cross = asked["leg"], asked["cross"]
    named = board_path.board_length(asked["legs"], leg, cross)
    called = asked.say(named, "distance")
    worked = f"{asked['legs']} × {asked.say(leg, 'length')} + {asked.say(cross, 'length')}"
    lines = [Line("Path by its name", called, worked=worked)]
    if asked.has("string"):
        lines.append(_error(named, asked["string"], asked))
    if asked.has("wanted"):
        lines += _to_wind(asked, named)
    return tuple(lines)


def _error(named: Fraction, true: Fraction, asked: Asked) -> Line:
    error = board_path.path_error(named, true)
    word = "longer than its name" if error > 0 else "shorter than its name" if error < 0 else "just as named"
    worked = f"{asked.say(true, 'distance')} ÷ {asked.say(named, 'distance')} − 1"
    return Line("The true path", asked.say(abs(error), "share"), word, worked)


def _to_wind(asked: Asked, named: Fraction) -> Iterator[Line]:
    """Give the path to wind for a length: the string tells how wrong names are, the step how paths can grow."""
    true, step = asked["string"] or named, asked["step"] or asked["leg"]
    path = board.path_by_name(asked["wanted"], step, named, true)
    wanted, grain = asked.told("wanted"), asked.say(step, "length")
    called, real, chosen = (asked.say(length, "distance") for length in (named, true, path))
    rule = "" if true == named else f" × {called} ÷ {real}"
    yield Line(f"Wind, by its name, for {wanted}", chosen, worked=f"{wanted}{rule}, up to whole steps of {grain}")
    winds = asked.say(board.measured_path(path, named, true), "distance")
    yield Line("It really winds", winds, worked=f"{chosen} × {real} ÷ {called}")


def _reaching(asked: Asked) -> tuple[Line, ...]:
    wanted, lines = asked.told("wanted"), []
    if asked.has("paths"):
        if max(asked["paths"]) < asked["wanted"]:
            raise CannotAnswer("paths", f"None of these paths is as long as {wanted}.")
        found = board.shortest_path(asked["paths"], asked["wanted"])
        compared = ", ".join(asked.say(path, "distance") for path in asked["paths"])
        lines.append(Line("Shortest path", asked.say(found, "distance"), worked=f"of {compared}"))
    if asked.has("round"):
        posts = asked["posts"]
        turns = board_path.turns_of_mill(asked["wanted"], asked["round"], posts)
        each = asked.told("round")
        grain = "whole turns" if posts == 1 else f"the next of {posts} posts"
        lines.append(Line("Turns of the mill", _mixed(turns), worked=f"{wanted} ÷ {each}, up to {grain}"))
    if not lines:
        raise CannotAnswer("paths", "Write the paths of your board, or once round your mill.")
    return tuple(lines)


def _mixed(turns: Fraction) -> str:
    """Write turns as people say them at a mill: 2 1/2 and not 2.5."""
    whole, part = divmod(turns, 1)
    return f"{whole} {part} turns" if whole and part else f"{part or whole} {'turn' if turns == 1 else 'turns'}"


def _passes(asked: Asked) -> tuple[Line, ...]:
    ends, at_once = asked["ends"], asked["at_once"]
    most = asked["most"] or ends
    if asked.has("most") and at_once > most:
        raise CannotAnswer("most", f"A pass of {at_once} ends has no room in a chain of {most}. Wind fewer together.")
    sizes = chains.chain_sizes(ends, at_once, most)
    shared = " or ".join(f"{size} ends" for size in sorted(set(sizes)))
    lines = []
    if asked.has("most"):
        worked = f"{ends} ends in whole passes, {most} in a chain at most"
        lines.append(Line("Chains", str(len(sizes)), f"of {shared}", worked))
    passes, each = board_path.passes_in_all(sizes, at_once), "for each chain, " if len(sizes) > 1 else ""
    lines.append(Line("Passes in all", str(passes), worked=f"{ends} ÷ {at_once} at a time, {each}rounded up"))
    if asked.has("length", "grist"):
        fullest = max(sizes)
        mass = board.chain_mass([(fullest, asked["grist"])], asked["length"])
        long, tex = asked.told("length"), asked.told("grist")
        label = "The fullest chain weighs" if len(set(sizes)) > 1 else "Each chain weighs"
        worked = f"{fullest} ends × {long} of {tex}"
        lines.append(Line(label, asked.say(mass, "mass"), "without its ties", worked))
    return tuple(lines)


BOARD_ANSWERS: Answers = {
    "board": _board,
    "mill": _reaching,
    "passes": _passes,
}
