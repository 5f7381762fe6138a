"""The bench of direct questions: calculators that stand alone, asked with a few typed quantities.

Each question is data: what it asks for, each with its kind, and the function that answers. One form serves them all.
Numbers come from the calculators, `Reader` writes them; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from inventory import yarn_count
from inventory.count_systems import SYSTEMS as COUNT_SYSTEMS
from inventory.package_length import USUAL_TARES, length_in_doubt, package_length
from planner.calc import calibration, reach, reed_systems, sett, weave
from planner.calc.plan import Number, Quantity, Range
from planner.models import WELL_ENOUGH
from planner.reading import Reader
from studio.units import rounded

MILLIMETRE = Fraction(1, 10)

Choices = tuple[tuple[str, str], ...]
Values = Mapping[str, Any]


class CannotAnswer(Exception):
    """What was typed does not go together; the field and a sentence say why."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing a question asks for.

    Attributes
    ----------
    name : str
        Name of the field. [-]
    label : str
        What is asked, in trade words. [-]
    kind : str
        A key of `studio.units.KINDS`, or one of whole, number, grist, words, choice. [-]
    hint : str
        How to write or measure it. [-]
    needed : bool
        There is no answer without it. [-]
    zero : bool
        Nothing is a number too. [-]
    choices : Choices
        Keys and words of a choice. [-]
    """

    name: str
    label: str
    kind: str
    hint: str = ""
    needed: bool = True
    zero: bool = False
    choices: Choices = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an answer: what it is, its figure, and between which bounds it lies."""

    label: str
    value: str
    between: str = ""
    worked: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """One direct question: what it asks, on whose pages it stands, and how it is answered."""

    key: str
    title: str
    about: str
    asks: tuple[Ask, ...]
    calculators: tuple[str, ...]
    answer: Callable[[Values, Reader], tuple[Line, ...]]


def _say(reader: Reader, value: Number, kind: str) -> str:
    return reader.say(Quantity(value, kind))


def _ranged(label: str, found: Range, kind: str, reader: Reader, worked: str = "") -> Line:
    low, likely, high = (_say(reader, value, kind) for value in (found.low, found.likely, found.high))
    return Line(label, likely, "" if low == high else f"{low} to {high}", worked)


def _calibrate(said: Values, reader: Reader) -> tuple[Line, ...]:
    turns, start, end, tape = said["turns"], said["start"], said["end"], said["tape"]
    tape = MILLIMETRE if tape is None else tape
    if end < start:
        raise CannotAnswer("end", "The round after winding cannot be less than before.")
    depth = calibration.depth_range(turns, start, end, tape)
    grown = f"({_say(reader, end, 'length')} − {_say(reader, start, 'length')}) ÷ (2π × {turns} turns)"
    lines = [_ranged("Depth of one turn", depth, "depth", reader, grown)]
    if depth.likely > 0:
        enough = calibration.turns_to_tell(depth.likely, tape, WELL_ENOUGH)
        within = _say(reader, WELL_ENOUGH, "share")
        lines.append(Line(f"Turns to wind so that it is known within {within} either way", f"{enough} turns"))
    return (*lines, *_density(said, depth, reader))


def _density(said: Values, depth: Range, reader: Reader) -> tuple[Line, ...]:
    if said["sett"] is None or said["grist"] is None:
        return ()
    if depth.low <= 0:
        raise CannotAnswer("turns", "The tape cannot tell the depth from nothing yet. Wind more turns first.")
    found = calibration.density_range(depth, said["sett"], said["grist"])
    worked = f"{_say(reader, said['sett'], 'sett')} × {_say(reader, said['grist'], 'tex')} ÷ depth"
    return (_ranged("Density as wound", found, "density", reader, worked),)


def _reach(said: Values, reader: Reader) -> tuple[Line, ...]:
    yarn = yarn_count.length_of_mass(said["mass"], said["grist"])
    long = _say(reader, yarn, "distance")
    lines = [Line("Yarn there is", long, worked=f"{_say(reader, said['mass'], 'mass')} of {_grist(said, reader)}")]
    length, ends, piece = said["warp_length"], said["ends"], said["piece"]
    if length is not None and said["sett"] is not None:
        found = reach.widest(yarn, length, said["sett"], Fraction(0))
        width, each = _say(reader, found.width, "length"), _say(reader, length, "distance")
        said_width = f"{width} in the reed, {found.ends} ends"
        lines.append(Line("Widest warp", said_width, worked=f"{long} ÷ {each}, rounded down to whole ends"))
    if ends is not None:
        longest = _say(reader, reach.longest_warp(yarn, ends), "distance")
        lines.append(Line("Longest warp", longest, worked=f"{long} ÷ {ends} ends"))
    if ends is not None and piece is not None:
        lines.append(_pieces(yarn, said, reader))
    if len(lines) == 1:
        raise CannotAnswer("ends", "Say the ends, or both the warp length and the sett.")
    return tuple(lines)


def _pieces(yarn: Fraction, said: Values, reader: Reader) -> Line:
    fixed = said["fixed"] or Fraction(0)
    most = reach.most_pieces(yarn, said["ends"], reach.PieceNeeds(said["piece"], fixed=fixed))
    each, once = _say(reader, said["piece"], "length"), _say(reader, fixed, "length")
    over = _say(reader, most.left, "distance")
    worked = f"{said['ends']} ends × ({most.pieces} × {each} + {once}), and {over} of yarn over"
    return Line("Most pieces", str(most.pieces), worked=worked)


def _grist(said: Values, reader: Reader) -> str:
    return _say(reader, said["grist"], "grist")


def _reeds(said: Values, reader: Reader) -> tuple[Line, ...]:
    number, system = said["number"], said["system"]
    dents = reed_systems.dents_of(number, system)
    known = reed_systems.SYSTEMS[system]
    width = _say(reader, known.width, "length")
    first = Line("Dents", _say(reader, dents, "dents"), worked=f"{rounded(number, 4)} × {known.dents} in {width}")
    others = (other for key, other in reed_systems.SYSTEMS.items() if key != system)
    return (first, *(Line(other.name, rounded(reed_systems.number_of(dents, other.key), 2)) for other in others))


def _counts(said: Values, _reader: Reader) -> tuple[Line, ...]:
    tex = said["grist"]
    per_pound, per_kilogram = yarn_count.yards_per_pound(tex), yarn_count.metres_per_kilogram(tex)
    return (
        Line("Tex", f"{rounded(tex, 2)} tex"),
        Line("Yards per pound", f"{rounded(per_pound, 0)} yd/lb", worked=f"496 054.65 ÷ {rounded(tex, 2)} tex"),
        Line("Metres per kilogram", f"{rounded(per_kilogram, 0)} m/kg", worked=f"1 000 000 ÷ {rounded(tex, 2)} tex"),
        *(
            Line(f"As one ply, {system.name}", rounded(yarn_count.count_of_tex(tex, key), 2))
            for key, system in COUNT_SYSTEMS.items()
            if key != "tex"
        ),
    )


def _weave(said: Values, reader: Reader) -> tuple[Line, ...]:
    try:
        found = weave.count_weave(weave.read_lifts(said["lifts"]))
    except ValueError as wrong:
        example = "Write the ends on top in each pick, 1,2 / 2,3 / 3,4 / 4,1, or a grid, xx.. / .xx. / ..xx / x..x."
        raise CannotAnswer("lifts", f"That is not one repeat of a weave. {example}") from wrong
    ends, intersections = found.mean
    lines = [
        Line("One repeat", f"{found.ends} ends, {found.picks} picks"),
        Line("Intersections of each end", _listed(found.of_ends)),
        Line("Intersections of each pick", _listed(found.of_picks)),
        Line("Longest float of the warp", _float(found.warp_float, "picks")),
        Line("Longest float of the weft", _float(found.weft_float, "ends")),
    ]
    if said["grist"] is not None and intersections:
        side_by_side = sett.diameters(said["grist"], sett.yarn_constant(said["fibre"]))
        greatest = sett.greatest_sett(side_by_side, ends, intersections)
        tightest = sett.greatest_sett(side_by_side, *found.tightest)
        across = _say(reader, side_by_side, "wraps")
        worked = f"{across} × {ends} ÷ ({ends} + {intersections})"
        by_one = _tightest(tightest, greatest, reader)
        lines.append(Line("Greatest sett", _say(reader, greatest, "sett"), by_one, worked))
    return tuple(lines)


def _tightest(tightest: Fraction, greatest: Fraction, reader: Reader) -> str:
    return "" if tightest == greatest else f"{_say(reader, tightest, 'sett')} by the pick that crosses most"


def _listed(numbers: tuple[int, ...]) -> str:
    return str(numbers[0]) if len(set(numbers)) == 1 else ", ".join(map(str, numbers))


def _float(threads: int | None, name: str) -> str:
    return "some never cross" if threads is None else f"{threads} {name}"


def _package(said: Values, reader: Reader) -> tuple[Line, ...]:
    usual = USUAL_TARES[said["package"]]
    light, heavy = said["lightest"], said["heaviest"]
    light, heavy = (usual.lightest, usual.heaviest) if light is None and heavy is None else (light, heavy)
    light, heavy = (heavy if light is None else light), (light if heavy is None else heavy)
    if light > heavy:
        raise CannotAnswer("heaviest", "The heaviest cannot weigh less than the lightest.")
    if said["gross"] < light:
        raise CannotAnswer("gross", f"The package weighs less than an empty one, {_say(reader, light, 'mass')}.")
    found = package_length(said["gross"], light, heavy, said["grist"])
    length = Range(found.low, found.likely, found.high)
    tare = " to ".join(dict.fromkeys((_say(reader, light, "mass"), _say(reader, heavy, "mass"))))
    worked = f"({_say(reader, said['gross'], 'mass')} − {tare}), at {_grist(said, reader)}"
    lines = [_ranged("Yarn on the package", length, "distance", reader, worked)]
    if light != heavy:
        doubt = length_in_doubt(light, heavy, said["grist"])
        lines.append(Line("Known better by weighing an empty one", _say(reader, doubt, "distance")))
    return tuple(lines)


_GRIST = Ask("grist", "Yarn", "grist", "Such as 8/2 cotton, Nm 30/2, 3360 yd/lb or 147.6 tex.")
_GRIST_TOO = Ask("grist", "Yarn", "grist", "Such as 8/2 cotton or 3360 yd/lb.", needed=False)
_SETT_TOO = Ask("sett", "Sett", "sett", needed=False)
_SYSTEMS = tuple((key, system.name) for key, system in reed_systems.SYSTEMS.items())
_PACKAGES = tuple((key, key.capitalize()) for key in USUAL_TARES)
_FIBRES = (("cotton", "cotton"), ("worsted", "worsted"), ("woollen", "woollen"), ("linen", "linen"), ("silk", "silk"))

QUESTIONS: Mapping[str, Question] = MappingProxyType({
    question.key: question
    for question in (
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
                _GRIST_TOO,
            ),
            ("calibration.depth_range", "calibration.turns_to_tell", "calibration.density_range",
             "beam_depth.depth_from_tape"),
            _calibrate,
        ),
        Question(
            "reach", "How far does this yarn go?",
            "For the warp alone; the weft is reckoned as another yarn. Keep a margin back before you ask.",
            (
                Ask("mass", "Yarn there is, without its cones", "mass"), _GRIST,
                Ask("warp_length", "Warp length", "distance", "With the sett, for the widest warp.", needed=False),
                _SETT_TOO,
                Ask("ends", "Ends", "whole", "For the longest warp.", needed=False),
                Ask("piece", "Warp of one piece", "length", "With the ends, for the most pieces.", needed=False),
                Ask("fixed", "Waste and samples", "length", needed=False, zero=True),
            ),
            ("reach.widest", "reach.longest_warp", "reach.most_pieces"),
            _reach,
        ),
        Question(
            "reeds", "What is this old reed?",
            "The number stamped on it, in its own district’s way of counting.",
            (Ask("number", "Number on the reed", "number"), Ask("system", "Counted as", "choice", choices=_SYSTEMS)),
            ("reed_systems.dents_of", "reed_systems.number_of"),
            _reeds,
        ),
        Question(
            "counts", "What is this count in the others?",
            "A yarn as its label names it, in every count system.",
            (_GRIST,),
            ("yarn_count.count_of_tex", "yarn_count.tex_of_count", "yarn_count.read_grist",
             "yarn_count.yards_per_pound", "yarn_count.metres_per_kilogram"),
            _counts,
        ),
        Question(
            "weave", "How often does this weave cross?",
            "One repeat, the first pick first. A yarn beside it gives the greatest sett.",
            (
                Ask("lifts", "Ends on top in each pick", "words", "1,2 / 2,3 / 3,4 / 4,1 or xx.. / .xx. / ..xx / x..x"),
                _GRIST_TOO,
                Ask("fibre", "Fibre", "choice", choices=_FIBRES),
            ),
            ("weave.read_lifts", "weave.count_weave", "sett.greatest_sett"),
            _weave,
        ),
        Question(
            "package", "How much yarn is on this package?",
            "Cones differ; what an empty one weighs, between two bounds, says how sure the length is.",
            (
                Ask("gross", "Package on the scale", "mass"), _GRIST,
                Ask("package", "It is a", "choice", choices=_PACKAGES),
                Ask("lightest", "Empty, at least", "mass", "What is usual when both are left empty.", needed=False,
                    zero=True),
                Ask("heaviest", "Empty, at most", "mass", "The same as the least when an empty one was weighed.",
                    needed=False, zero=True),
            ),
            ("package_length.package_length", "package_length.length_in_doubt", "yarn_count.length_of_mass"),
            _package,
        ),
    )
})  # fmt: skip
"""Every direct question by key."""


def questions_on(calculator: str) -> tuple[Question, ...]:
    """Give the questions that stand on a calculator's page."""
    return tuple(question for question in QUESTIONS.values() if calculator in question.calculators)
