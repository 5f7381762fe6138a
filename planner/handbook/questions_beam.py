"""Questions of the beam: its calibration, turns and length, the leader knot, and the turn of the comb."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.calc.beam import calibration, leader
from planner.calc.beam import depth as beam_depth
from planner.calc.beam import turns as beam
from planner.calc.cloth import warp_width
from planner.calc.reed import reed
from planner.calc.terms.brief import WOUND_DENSITY, Tolerances
from planner.calc.terms.plan import Range
from planner.handbook.question import GRIST_TOO, Ask, CannotAnswer, Line, Question, Values, have, ranged, say
from planner.models import WELL_ENOUGH
from planner.plan.formatter import Reader
from studio.units import Units, rounded, show

ZERO = Fraction(0)
MILLIMETRE = Fraction(1, 10)
FEWEST_BARS = 2
MOST_ROWS = 200
"""Turns that are told one by one; of more, only the last."""

CLEARANCE = Tolerances().rake_clearance
DENSITY = WOUND_DENSITY["cotton"]


def _calibrate(said: Values, reader: Reader) -> tuple[Line, ...]:
    turns, start, end, tape = said["turns"], said["start"], said["end"], said["tape"]
    tape = MILLIMETRE if tape is None else tape
    if end < start:
        raise CannotAnswer("end", "The round after winding cannot be less than before.")
    depth = calibration.depth_range(turns, start, end, tape)
    grown = f"({say(reader, end, 'length')} − {say(reader, start, 'length')}) ÷ (2π × {turns} turns)"
    lines = [ranged("Depth of one turn", depth, "depth", reader, grown)]
    if depth.likely > 0:
        enough = calibration.turns_to_tell(depth.likely, tape, WELL_ENOUGH)
        within, wrong = say(reader, WELL_ENOUGH, "share"), say(reader, tape, "depth")
        worked = f"{wrong} ÷ (π × {say(reader, depth.likely, 'depth')} × {within}), rounded up"
        lines.append(
            Line(f"Turns to wind so that it is known within {within} either way", f"{enough} turns", worked=worked)
        )
    return (*lines, *_density(said, depth, reader))


def _density(said: Values, depth: Range, reader: Reader) -> tuple[Line, ...]:
    if said["sett"] is None or said["grist"] is None:
        return ()
    if depth.low <= 0:
        raise CannotAnswer("turns", "The tape cannot tell the depth from nothing yet. Wind more turns first.")
    found = calibration.density_range(depth, said["sett"], said["grist"])
    worked = f"{say(reader, said['sett'], 'sett')} × {say(reader, said['grist'], 'tex')} ÷ depth"
    return (ranged("Density as wound", found, "density", reader, worked),)


def _turns(said: Values, reader: Reader) -> tuple[Line, ...]:
    if not have(said, "turns") and not have(said, "length") and not have(said, "rake"):
        raise CannotAnswer("turns", "Say the turns, the length you want, or the height of the rakes.")
    depth, lines = _depth(said, reader)
    around, rows = said["circumference"], 0
    if have(said, "turns"):
        rows = said["turns"]
        lines += _of_turns(rows, around, depth, reader)
    if have(said, "length"):
        enough = beam.whole_turns(said["length"], around, depth)
        wanted = say(reader, said["length"], "distance")
        lines.append(
            Line(f"Turns that reach {wanted}", f"{enough} turns", worked="the fewest whole turns that are so long")
        )
        lines += _of_turns(enough, around, depth, reader)
        rows = max(rows, enough)
    if have(said, "rake"):
        lines += _rakes(said, depth, reader)
    return (*lines, *_rows(rows, around, depth, reader))


def _depth(said: Values, reader: Reader) -> tuple[Fraction, list[Line]]:
    if have(said, "depth"):
        return said["depth"], []
    if not have(said, "sett", "grist"):
        raise CannotAnswer("depth", "Say the depth of one turn, or the ends on the beam and their yarn.")
    density = DENSITY if said["density"] is None else said["density"]
    depth = beam_depth.depth_per_turn(said["sett"], said["grist"], density)
    guess = "by a guessed density; calibrate to know" if said["density"] is None else ""
    ends, tex = show(said["sett"], "sett", Units.METRIC), say(reader, said["grist"], "tex")
    worked = f"{ends} × {tex} ÷ (100 000 × {say(reader, density, 'density')}) cm"
    return depth, [Line("Depth of one turn", say(reader, depth, "depth"), guess, worked)]


def _of_turns(turns: int, around: Fraction, depth: Fraction, reader: Reader) -> Iterator[Line]:
    long = say(reader, beam.length_of_turns(turns, around, depth), "distance")
    end = say(reader, beam.end_circumference(turns, around, depth), "length")
    empty, layer = say(reader, around, "length"), say(reader, depth, "depth")
    yield Line(f"Length of {turns} turns", long, worked=f"{turns} × ({empty} + π × {layer} × {turns})")
    yield Line(f"Round after {turns} turns", end, worked=f"{empty} + 2π × {layer} × {turns}")


def _rakes(said: Values, depth: Fraction, reader: Reader) -> Iterator[Line]:
    clear = CLEARANCE if said["clearance"] is None else said["clearance"]
    most = beam_depth.most_turns(said["rake"], clear, depth)
    high, kept, layer = say(reader, said["rake"], "length"), say(reader, clear, "length"), say(reader, depth, "depth")
    yield Line("Most turns the rakes hold", f"{most} turns", worked=f"({high} − {kept}) ÷ {layer}, rounded down")
    if most:
        empty = say(reader, said["circumference"], "length")
        longest = say(reader, beam.length_of_turns(most, said["circumference"], depth), "distance")
        yield Line("Longest warp the rakes hold", longest, worked=f"{most} × ({empty} + π × {layer} × {most})")


def _rows(turns: int, around: Fraction, depth: Fraction, reader: Reader) -> Iterator[Line]:
    if turns <= MOST_ROWS:
        for row in beam.turn_table(turns, around, depth):
            length, end = say(reader, row.length, "distance"), say(reader, row.circumference, "length")
            yield Line(f"After turn {row.turn}", length, f"{end} round", folded=True)


def _knot(said: Values, reader: Reader) -> tuple[Line, ...]:
    if said["bars"] < FEWEST_BARS:
        raise CannotAnswer("bars", "A beam of one bar has no gap for a knot to lie in.")
    offset, knot = said["offset"] or ZERO, said["knot"] or ZERO
    place = leader.knot_place(said["leader"], said["circumference"], said["bars"], offset, knot)
    hole, tied = say(reader, offset, "length"), say(reader, knot, "length")
    long, around = say(reader, said["leader"], "length"), say(reader, said["circumference"], "length")
    past, before = say(reader, place.past_bar, "length"), say(reader, place.to_next_bar, "length")
    step = f"{around} ÷ {said['bars']} bars"
    word = "in the gap" if place.clear else "on a bar"
    if place.too_long:
        raise CannotAnswer("knot", f"The knot is longer than {step}, so it lies over a bar wherever it lands.")
    beside = "clear of the bars" if place.clear else "or so near one that the yarn over it bulges"
    change = "Shorten" if place.mend < 0 else "Lengthen"
    mend = say(reader, abs(place.mend), "length")
    reach = f"{hole} + {long} + {tied} ÷ 2"
    return (
        Line("The knot lands", word, beside, f"{past} past a bar, {before} before the next"),
        Line("Its middle past the bar behind it", past, worked=f"{reach}, less whole steps of {step}"),
        Line("Before the next bar", before, worked=f"{step} − {past}"),
        Line("For the middle of the gap", f"{change} by {mend}", "every leader alike", f"{step} ÷ 2 − {past}"),
    )


def _comb(said: Values, reader: Reader) -> tuple[Line, ...]:
    lines: list[Line] = []
    free = say(reader, said["section"], "length")
    if have(said, "ends", "dents"):
        ends, dents = said["ends"], said["dents"]
        each = leader.ends_per_comb_dent(ends, dents, said["section"], 1)
        packed = f"{ends} ends ÷ ({say(reader, dents, 'dents')} × {free}), rounded down, one at least"
        lines.append(Line("Ends in a dent of the comb", str(each), worked=packed))
        bundle = warp_width.width_of_ends(ends, reed.sley_sett(dents, (each,)))
        wide = f"{ends} ends ÷ ({say(reader, dents, 'dents')} × {each})"
        lines.append(Line("Width of the bundle", say(reader, bundle, "length"), worked=wide))
        lines.append(_angle("Turn the comb by", bundle, said["section"], reader))
    if have(said, "bundle"):
        label = "Turn the comb, for the bundle as measured, by" if lines else "Turn the comb by"
        lines.append(_angle(label, said["bundle"], said["section"], reader))
    if not lines:
        raise CannotAnswer("bundle", "Measure the bundle in the comb, or say its ends and the dents of the comb.")
    return tuple(lines)


def _angle(label: str, bundle: Fraction, section: Fraction, reader: Reader) -> Line:
    fits = "it fits as it is" if bundle <= section else ""
    worked = f"arccos({say(reader, section, 'length')} ÷ {say(reader, bundle, 'length')})"
    angle = say(reader, leader.comb_angle(bundle, section), "angle")
    return Line(label, angle, fits, "the bundle is no wider than the section" if fits else worked)


_DEPTH, _WANTED = "Depth of a turn: measured, or from the yarn", "Wanted: one of these, or several"

BEAM_QUESTIONS = (
    Question(
        "calibrate", "Calibrate a beam from two rounds of the tape",
        "Tape round the bars, wind, and tape round the yarn in the same section.",
        (
            Ask("turns", "Turns between them", "whole"),
            Ask("start", "Round before", "length"),
            Ask("end", "Round after", "length"),
            Ask("tape", "A reading can be wrong by", "length", "One millimetre when left empty.", needed=False,
                zero=True),
            Ask("sett", "Ends on the beam", "sett", "With the yarn, for its density as wound.", needed=False),
            GRIST_TOO,
        ),
        ("depth-range", "turns-to-tell", "density-range",
         "depth-from-tape"),
        _calibrate,
        (("turns", "12"), ("start", "91.4 cm"), ("end", "94.9 cm"), ("sett", "8 /cm"), ("grist", "8/2 cotton")),
        "circumference measure build-up depth density",
    ),
    Question(
        "turns", "How long are so many turns of this beam?",
        "Turn by turn, with the yarn that builds up; the turns for a length; and the longest warp the rakes hold.",
        (
            Ask("circumference", "Round the empty beam", "length", "Over its bars, with the tape.", part="The beam"),
            Ask("rake", "Rake above the bar", "length", "For the most it holds.", needed=False, part="The beam"),
            Ask("clearance", "Kept free below its tip", "length",
                f"{show(CLEARANCE, 'length', Units.INCH)} when left empty.", needed=False, zero=True,
                part="The beam"),
            Ask("depth", "Depth of one turn", "depth", "Instead of the next three.", needed=False, part=_DEPTH),
            Ask("sett", "Ends on the beam", "sett", needed=False, part=_DEPTH),
            Ask("grist", "Yarn", "grist", "Such as 8/2 cotton.", needed=False, part=_DEPTH),
            Ask("density", "Density as wound", "density",
                f"{rounded(DENSITY, 2)} when left empty: a guess for cotton, no source.", needed=False, part=_DEPTH),
            Ask("turns", "Turns", "whole", "For their length.", needed=False, part=_WANTED),
            Ask("length", "Warp length", "distance", "For the turns that reach it.", needed=False, part=_WANTED),
        ),
        ("length-of-turns", "whole-turns", "end-circumference", "turn-table",
         "most-turns", "depth-per-turn"),
        _turns,
        (("circumference", "18 in"), ("rake", "1 in"), ("clearance", "1/4 in"), ("depth", "0.0122 in"),
         ("length", "30 yd")),
        "circumference build-up rakes longest warp table wind revolutions",
    ),
    Question(
        "knot", "Where does the leader knot land?",
        "Knots belong in the gap between two bars; over a bar they make the yarn bulge.",
        (
            Ask("leader", "Leader, from where it is fastened to its loop", "length"),
            Ask("circumference", "Round the empty beam", "length", "Over its bars, with the tape."),
            Ask("bars", "Bars of the beam", "whole"),
            Ask("offset", "Fastened past a bar", "length", "Along the round, the way it winds; empty on the bar.",
                needed=False, zero=True),
            Ask("knot", "Length of knot and loop", "length", "Along the round, beyond the leader’s end.",
                needed=False, zero=True),
        ),
        ("knot-place",),
        _knot,
        (("leader", "40 in"), ("circumference", "36 in"), ("bars", "4")),
        "apron cord extension loop tie bump",
    ),
    Question(
        "comb", "How far to turn the comb?",
        "A bundle wider than its section is narrowed by turning the comb of the tension box.",
        (
            Ask("section", "Free width of the section", "length", "Between two dividers."),
            Ask("bundle", "Bundle in the comb", "length", "As measured, instead of the next two.", needed=False),
            Ask("ends", "Ends of the fullest section", "whole", needed=False),
            Ask("dents", "Dents of the comb", "dents", needed=False),
        ),
        ("comb-angle", "ends-per-comb-dent", "width-of-ends"),
        _comb,
        (("section", "1.75 in"), ("ends", "40"), ("dents", "10 /in")),
        "angle tension box tilt spread narrow bundle",
    ),
)  # fmt: skip
