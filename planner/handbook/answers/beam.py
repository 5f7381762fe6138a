"""Questions of the beam: its calibration, turns and length, the leader knot, and the turn of the comb."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.beam import calibration, leader
from planner.calc.beam import depth as beam_depth
from planner.calc.beam import turns as beam
from planner.calc.cloth import warp_width
from planner.calc.reed import reed
from planner.calc.terms.brief import WOUND_DENSITY
from planner.calc.terms.plan import Range
from planner.handbook.question import Answers, Asked, CannotAnswer, Line
from planner.models import WELL_ENOUGH
from studio.units import Units, show

FEWEST_BARS = 2
MOST_ROWS = 200
"""Turns that are told one by one; of more, only the last."""

DENSITY = WOUND_DENSITY["cotton"]


def _calibrate(asked: Asked) -> tuple[Line, ...]:
    turns, start, end, tape = asked["turns"], asked["start"], asked["end"], asked["tape"]
    if end < start:
        raise CannotAnswer("end", "The circumference after winding cannot be less than before.")
    depth = calibration.depth_range(turns, start, end, tape)
    grown = f"({asked.say(end, 'length')} − {asked.say(start, 'length')}) ÷ (2π × {turns} turns)"
    lines = [asked.ranged("Depth of one turn", depth, "depth", grown)]
    if depth.likely > 0:
        enough = calibration.turns_to_tell(depth.likely, tape, WELL_ENOUGH)
        within, wrong = asked.say(WELL_ENOUGH, "share"), asked.say(tape, "depth")
        worked = f"{wrong} ÷ (π × {asked.say(depth.likely, 'depth')} × {within}), rounded up"
        lines.append(
            Line(f"Turns to wind so that it is known within {within} either way", f"{enough} turns", worked=worked)
        )
    return (*lines, *_density(asked, depth))


def _density(asked: Asked, depth: Range) -> tuple[Line, ...]:
    if asked["sett"] is None or asked["grist"] is None:
        return ()
    if depth.low <= 0:
        raise CannotAnswer("turns", "The tape cannot tell the depth from nothing yet. Wind more turns first.")
    found = calibration.density_range(depth, asked["sett"], asked["grist"])
    worked = f"{asked.told('sett')} × {asked.told('grist', 'tex')} ÷ depth"
    return (asked.ranged("Density as wound", found, "density", worked),)


def _turns(asked: Asked) -> tuple[Line, ...]:
    if not asked.has("turns") and not asked.has("length") and not asked.has("rake"):
        raise CannotAnswer("turns", "Say the turns, the length you want, or the height of the rakes.")
    depth, lines = _depth(asked)
    around, rows = asked["circumference"], 0
    if asked.has("turns"):
        rows = asked["turns"]
        lines += _of_turns(rows, around, depth, asked)
    if asked.has("length"):
        enough = beam.whole_turns(asked["length"], around, depth)
        wanted = asked.told("length")
        lines.append(
            Line(f"Turns that reach {wanted}", f"{enough} turns", worked="the fewest whole turns that are so long")
        )
        lines += _of_turns(enough, around, depth, asked)
        rows = max(rows, enough)
    if asked.has("rake"):
        lines += _rakes(asked, depth)
    return (*lines, *_rows(rows, around, depth, asked))


def _depth(asked: Asked) -> tuple[Fraction, list[Line]]:
    if asked.has("depth"):
        return asked["depth"], []
    if not asked.has("sett", "grist"):
        raise CannotAnswer("depth", "Say the depth of one turn, or the ends on the beam and their yarn.")
    density = DENSITY if asked["density"] is None else asked["density"]
    depth = beam_depth.depth_per_turn(asked["sett"], asked["grist"], density)
    guess = "by a guessed density; calibrate to know" if asked["density"] is None else ""
    ends, tex = show(asked["sett"], "sett", Units.METRIC), asked.told("grist", "tex")
    worked = f"{ends} × {tex} ÷ (100 000 × {asked.say(density, 'density')}) cm"
    return depth, [Line("Depth of one turn", asked.say(depth, "depth"), guess, worked)]


def _of_turns(turns: int, around: Fraction, depth: Fraction, asked: Asked) -> Iterator[Line]:
    long = asked.say(beam.length_of_turns(turns, around, depth), "distance")
    end = asked.say(beam.end_circumference(turns, around, depth), "length")
    empty, layer = asked.say(around, "length"), asked.say(depth, "depth")
    yield Line(f"Length of {turns} turns", long, worked=f"{turns} × ({empty} + π × {layer} × {turns})")
    yield Line(f"Circumference after {turns} turns", end, worked=f"{empty} + 2π × {layer} × {turns}")


def _rakes(asked: Asked, depth: Fraction) -> Iterator[Line]:
    most = beam_depth.most_turns(asked["rake"], asked["clearance"], depth)
    high, kept, layer = asked.told("rake"), asked.told("clearance"), asked.say(depth, "depth")
    yield Line("Most turns the rakes hold", f"{most} turns", worked=f"({high} − {kept}) ÷ {layer}, rounded down")
    if most:
        empty = asked.told("circumference")
        longest = asked.say(beam.length_of_turns(most, asked["circumference"], depth), "distance")
        yield Line("Longest warp the rakes hold", longest, worked=f"{most} × ({empty} + π × {layer} × {most})")


def _rows(turns: int, around: Fraction, depth: Fraction, asked: Asked) -> Iterator[Line]:
    if turns <= MOST_ROWS:
        for row in beam.turn_table(turns, around, depth):
            length, end = asked.say(row.length, "distance"), asked.say(row.circumference, "length")
            yield Line(f"After turn {row.turn}", length, f"circumference {end}", folded=True)


def _knot(asked: Asked) -> tuple[Line, ...]:
    if asked["bars"] < FEWEST_BARS:
        raise CannotAnswer("bars", "A beam of one bar has no gap for a knot to lie in.")
    place = leader.knot_place(*(asked[name] for name in ("leader", "circumference", "bars", "offset", "knot")))
    long, around, hole, tied = map(asked.told, ("leader", "circumference", "offset", "knot"))
    past, before = asked.say(place.past_bar, "length"), asked.say(place.to_next_bar, "length")
    step = f"{around} ÷ {asked['bars']} bars"
    word = "in the gap" if place.clear else "on a bar"
    if place.too_long:
        raise CannotAnswer("knot", f"The knot is longer than {step}, so it lies over a bar wherever it lands.")
    beside = "clear of the bars" if place.clear else "or so near one that the yarn over it bulges"
    change = "Shorten" if place.mend < 0 else "Lengthen"
    mend = asked.say(abs(place.mend), "length")
    reach = f"{hole} + {long} + {tied} ÷ 2"
    return (
        Line("The knot lands", word, beside, f"{past} past a bar, {before} before the next"),
        Line("Its middle past the bar behind it", past, worked=f"{reach}, less whole steps of {step}"),
        Line("Before the next bar", before, worked=f"{step} − {past}"),
        Line("For the middle of the gap", f"{change} by {mend}", "every leader alike", f"{step} ÷ 2 − {past}"),
    )


def _comb(asked: Asked) -> tuple[Line, ...]:
    lines: list[Line] = []
    free = asked.told("section")
    if asked.has("ends", "dents"):
        ends, dents = asked["ends"], asked["dents"]
        each = leader.ends_per_comb_dent(ends, dents, asked["section"], 1)
        packed = f"{ends} ends ÷ ({asked.say(dents, 'dents')} × {free}), rounded down, one at least"
        lines.append(Line("Ends in a dent of the comb", str(each), worked=packed))
        bundle = warp_width.width_of_ends(ends, reed.sley_sett(dents, (each,)))
        wide = f"{ends} ends ÷ ({asked.say(dents, 'dents')} × {each})"
        lines.append(Line("Width of the bundle", asked.say(bundle, "length"), worked=wide))
        lines.append(_angle("Turn the comb by", bundle, asked["section"], asked))
    if asked.has("bundle"):
        label = "Turn the comb, for the bundle as measured, by" if lines else "Turn the comb by"
        lines.append(_angle(label, asked["bundle"], asked["section"], asked))
    if not lines:
        raise CannotAnswer("bundle", "Measure the bundle in the comb, or say its ends and the dents of the comb.")
    return tuple(lines)


def _angle(label: str, bundle: Fraction, section: Fraction, asked: Asked) -> Line:
    fits = "it fits as it is" if bundle <= section else ""
    worked = f"arccos({asked.say(section, 'length')} ÷ {asked.say(bundle, 'length')})"
    angle = asked.say(leader.comb_angle(bundle, section), "angle")
    return Line(label, angle, fits, "the bundle is no wider than the section" if fits else worked)


BEAM_ANSWERS: Answers = {
    "calibrate": _calibrate,
    "turns": _turns,
    "knot": _knot,
    "comb": _comb,
}
