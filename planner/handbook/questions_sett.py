"""Questions of the sett: wraps of a mixture, the same cloth otherwise, thickness and cover, and how a weave crosses."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from inventory.calc import count as yarn_count
from planner.brief import threading as brief_threading
from planner.calc.cloth import cover, firmness, sett, weave
from planner.calc.cloth import record as cloth_record
from planner.handbook.question import FIBRES, GRIST, GRIST_TOO, Ask, CannotAnswer, Line, Question, Values, have, say
from planner.plan.formatter import Reader
from studio.units import UnitError, Units, rounded, show

YARNS = ("first", "second", "third")
BY_WRAPS = ("plain", "twill_2_2")
MULTIPLIERS = (("4", "fine cotton"), ("3", "medium cotton"))


def _wraps(said: Values, reader: Reader) -> tuple[Line, ...]:
    parts = [_wrapped(said, name) for name in YARNS if have(said, f"ends_{name}") or have(said, f"wraps_{name}")]
    mixed = firmness.wraps_of_mixture(parts)
    across = say(reader, mixed, "wraps")
    added = " + ".join(f"{ends} ÷ {say(reader, wraps, 'wraps')}" for ends, wraps in parts)
    ends = " + ".join(str(ends) for ends, _wraps in parts)
    lines = [Line("Wraps of them all", across, worked=f"({ends}) ÷ ({added})")]
    for key in BY_WRAPS:
        lines += _of_weave(sett.WEAVES[key], mixed, said["share"], reader)
    return tuple(lines)


def _wrapped(said: Values, name: str) -> tuple[int, Fraction]:
    ends, wraps = said[f"ends_{name}"], said[f"wraps_{name}"]
    if ends is None:
        raise CannotAnswer(f"ends_{name}", "Say how many ends of it there are in the repeat.")
    if wraps is None:
        raise CannotAnswer(f"wraps_{name}", "Say its wraps too.")
    return ends, wraps


def _of_weave(known: sett.Weave, wraps: Fraction, share: Fraction | None, reader: Reader) -> Iterator[Line]:
    greatest = sett.sett_from_wraps(wraps, known.ends, known.intersections)
    shown, name = say(reader, greatest, "sett"), known.name
    crossing = f"{known.ends} ÷ ({known.ends} + {known.intersections})"
    yield Line(f"Sett for {name}", shown, worked=f"{say(reader, wraps, 'wraps')} × {crossing}")
    if share is not None:
        if share > 1:
            raise CannotAnswer("share", "A share of the greatest sett is 100 % at most.")
        part = say(reader, share, "share")
        worked = f"{shown} × {part}"
        yield Line(f"{part} of it, for {name}", say(reader, sett.working_sett(greatest, share), "sett"), worked=worked)


def _firmness(said: Values, reader: Reader) -> tuple[Line, ...]:
    if said["grist"] is None and (have(said, "other") or have(said, "ratio")):
        raise CannotAnswer("grist", "Say which yarn it is woven in now.")
    lines: list[Line] = []
    if have(said, "other"):
        lines.append(_other_yarn(said, said["sett"], "In the other yarn", reader))
    if have(said, "new_weave"):
        lines += _other_weave(said, reader)
    if have(said, "ratio"):
        lines += _heavier(said, reader)
    if not lines:
        raise CannotAnswer("other", "Name another yarn, another weave, or how heavy it should be.")
    return tuple(lines)


def _other_yarn(said: Values, from_sett: Fraction, label: str, reader: Reader) -> Line:
    found = firmness.sett_of_other_yarn(from_sett, said["grist"], said["other"])
    root = f"√({say(reader, said['grist'], 'tex')} ÷ {say(reader, said['other'], 'tex')})"
    return Line(label, say(reader, found, "sett"), worked=f"{say(reader, from_sett, 'sett')} × {root}")


def _other_weave(said: Values, reader: Reader) -> Iterator[Line]:
    given, wanted = sett.WEAVES[said["weave"]], sett.WEAVES[said["new_weave"]]
    shapes = (given.ends, given.intersections), (wanted.ends, wanted.intersections)
    found = firmness.sett_of_other_weave(said["sett"], *shapes)
    now, then = (f"({ends}/({ends} + {crossings}))" for ends, crossings in shapes)
    worked = f"{say(reader, said['sett'], 'sett')} × {then} ÷ {now}"
    yield Line(f"In {wanted.name}", say(reader, found, "sett"), worked=worked)
    if have(said, "other"):
        yield _other_yarn(said, found, f"In {wanted.name} and the other yarn", reader)


def _heavier(said: Values, reader: Reader) -> Iterator[Line]:
    close, tex = firmness.heavier_cloth(said["sett"], said["grist"], said["ratio"])
    if not yarn_count.FINEST <= tex <= yarn_count.THICKEST:
        raise CannotAnswer("ratio", "No yarn is so fine or so thick.")
    times, old = rounded(said["ratio"], 4), say(reader, said["grist"], "tex")
    grist = say(reader, tex, "grist")
    yield Line("Yarn of the new weight", say(reader, tex, "tex"), f"{grist}", f"{old} × {times} × {times}")
    worked = f"{say(reader, said['sett'], 'sett')} ÷ {times}"
    yield Line("Its sett", say(reader, close, "sett"), worked=worked)


def _cover(said: Values, reader: Reader) -> tuple[Line, ...]:
    warp, weft = said["grist"], said["weft"] or said["grist"]
    thick, lines = _thickness(said, warp, "", reader)
    if weft != warp:
        weft_thick, more = _thickness(said, weft, " of the weft", reader)
        lines += more
    else:
        weft_thick = thick
    covers = []
    for name, close, tex, through in (("warp", said["sett"], warp, thick), ("weft", said["picks"], weft, weft_thick)):
        if close is not None:
            covers.append(cover.fractional_cover(close, through))
            lines += _covered(name, close, tex, through, reader)
    if len(covers) > 1 and max(covers) <= 1:
        both, one, other = (say(reader, share, "share") for share in (cover.cloth_cover(*covers), *covers))
        lines.append(Line("Cover of both", both, worked=f"{one} + {other} − {one} × {other}"))
    return tuple(lines)


def _thickness(said: Values, tex: Fraction, whose: str, reader: Reader) -> tuple[Fraction, list[Line]]:
    """Give the thickness to reckon with, and the line that says it: by the volume where it is known, else Peirce's."""
    volume = said["volume"]
    if volume is not None:
        thick = Fraction(cover.thread_diameter(tex, volume))
        worked = f"√(4 × {say(reader, tex, 'tex')} × {rounded(volume, 3)} ÷ (100 000 π)) cm"
        return thick, [Line(f"Thickness{whose}, by its volume", say(reader, thick, "depth"), worked=worked)]
    thick, count = cover.peirce_diameter(tex), rounded(yarn_count.count_of_tex(tex, "cotton"), 2)
    worked = f"1 ÷ (28 × √{count}) in, {count} being the cotton count"
    return thick, [Line(f"Thickness{whose}, by Peirce for cotton", say(reader, thick, "depth"), worked=worked)]


def _covered(name: str, close: Fraction, tex: Fraction, thick: Fraction, reader: Reader) -> Iterator[Line]:
    share = cover.fractional_cover(close, thick)
    kind = "sett" if name == "warp" else "picks"
    full = "no room side by side" if share > 1 else ""
    worked = f"{say(reader, close, kind)} × {say(reader, thick, 'depth')}"
    yield Line(f"Cover of the {name}", say(reader, share, "share"), full, worked)
    per_cm, per_inch = (show(close, kind, units) for units in (Units.METRIC, Units.INCH))
    factor, peirce = rounded(cover.cover_factor(close, tex), 2), rounded(cover.peirce_cover_factor(close, tex), 2)
    yield Line(f"Metric cover factor of the {name}", factor, worked=f"{per_cm} × √({say(reader, tex, 'tex')}) ÷ 10")
    count = rounded(yarn_count.count_of_tex(tex, "cotton"), 2)
    yield Line(f"Peirce’s cover factor of the {name}", peirce, worked=f"{per_inch} ÷ √{count} (cotton count)")


def _weave(said: Values, reader: Reader) -> tuple[Line, ...]:
    lifts, threaded = _lifts(said["lifts"]), _threaded(said)
    found = weave.count_weave(weave.drawdown(threaded, weave.shafts_raised(lifts)) if threaded else lifts)
    counted = "from face to back or back to face, once round the repeat"
    how = "each end up when its shaft is raised" if threaded else "straight draw: each end on its own shaft"
    return (
        Line("One repeat", f"{found.ends} ends, {found.picks} picks", worked=how),
        Line("Intersections of each end", _listed(found.of_ends), worked=counted),
        Line("Intersections of each pick", _listed(found.of_picks), worked=counted),
        Line("Longest float of the warp", _float(found.warp_float, "picks"), worked="counted round the repeat"),
        Line("Longest float of the weft", _float(found.weft_float, "ends"), worked="counted round the repeat"),
        *_greatest(said, found, reader),
        *_contraction(said, found, reader),
    )


def _lifts(text: str) -> weave.Drawdown:
    try:
        lifts = weave.read_lifts(text)
    except ValueError as wrong:
        example = "Write the shafts raised in each pick, 1,2 / 2,3 / 3,4 / 4,1, or a grid, xx.. / .xx. / ..xx / x..x."
        raise CannotAnswer("lifts", f"That is not one repeat of a weave. {example}") from wrong
    joined = weave.run_together(lifts)
    if joined is not None:
        raise CannotAnswer("lifts", f"That names a shaft {joined}. {brief_threading.apart(joined)}")
    return lifts


def _threaded(said: Values) -> tuple[int, ...]:
    """Give the threading as shaft numbers; empty for a straight draw, in which the lift plan is the drawdown."""
    if said["threading"] is None:
        return ()
    shafts = len(_lifts(said["lifts"])[0])
    try:
        return brief_threading.settled_threading(brief_threading.threading.read(said["threading"], None), shafts)
    except UnitError as error:
        raise CannotAnswer("threading", error.message) from error


def _greatest(said: Values, found: weave.WeaveCount, reader: Reader) -> Iterator[Line]:
    ends, intersections = found.mean
    if said["grist"] is None or not intersections:
        return
    constant = sett.yarn_constant(said["fibre"])
    side_by_side = sett.diameters(said["grist"], constant)
    greatest = sett.greatest_sett(side_by_side, ends, intersections)
    tightest = sett.greatest_sett(side_by_side, *found.tightest)
    across, grist = say(reader, side_by_side, "wraps"), rounded(yarn_count.yards_per_pound(said["grist"]), 0)
    by_one = "" if tightest == greatest else f"{say(reader, tightest, 'sett')} by the pick that crosses most"
    root = f"{rounded(constant, 2)} × √({grist} yd/lb), to the inch"
    yield Line("Threads side by side", across, worked=root)
    worked = f"{across} × {ends} ÷ ({ends} + {intersections})"
    yield Line("Greatest sett", say(reader, greatest, "sett"), by_one, worked)


def _contraction(said: Values, found: weave.WeaveCount, reader: Reader) -> Iterator[Line]:
    """Give Taylor's rough contraction of the end that crosses most, as far as picks and weft are known."""
    if said["picks"] is None:
        return
    most = max(found.of_ends)
    along = weave.intersections_along(said["picks"], most, found.picks)
    worked = f"{say(reader, said['picks'], 'picks')} × {most} ÷ {found.picks}"
    yield Line("Crossings along an end", say(reader, along, "picks"), worked=worked)
    if said["weft"] is None:
        return
    times, count = said["cloth"], rounded(yarn_count.count_of_tex(said["weft"], "cotton"), 2)
    rough = weave.rough_contraction(along, said["weft"], Fraction(times))
    shown = say(reader, rough, "share")
    worked = f"{show(along, 'picks', Units.INCH)} × {times} ÷ {count} (cotton count of the weft)"
    yield Line("Rough contraction, of the cloth", shown, "a rule for mill cottons", worked)
    take_up = say(reader, cloth_record.take_up_of_crimp(rough), "share")
    yield Line("Take-up it makes, of the warp", take_up, worked=f"{shown} ÷ (1 + {shown})")


def _listed(numbers: tuple[int, ...]) -> str:
    return str(numbers[0]) if len(set(numbers)) == 1 else ", ".join(map(str, numbers))


def _float(threads: int | None, name: str) -> str:
    return "some never cross" if threads is None else f"{threads} {name}"


def _asks_of_wraps() -> tuple[Ask, ...]:
    found: list[Ask] = []
    for at, name in enumerate(YARNS):
        part, needed = f"{name.capitalize()} yarn", at == 0
        found += (
            Ask(f"ends_{name}", "Ends in the repeat", "whole", part=part, needed=needed),
            Ask(f"wraps_{name}", "Its wraps", "wraps", part=part, needed=needed),
        )
    usual = "For ordinary cloth 80 %, hard wear 90 %, drape 50 to 60 %."
    return (*found, Ask("share", "Share of that sett", "share", usual, needed=False))


_WEAVES = tuple((key, known.name) for key, known in sett.WEAVES.items())
_WANTED = "Wanted: one of these, or several"

SETT_QUESTIONS = (
    Question(
        "wraps", "What sett do these yarns take together?",
        "Wrap each round a ruler by itself, side by side and just touching; here they are mixed as they are used.",
        _asks_of_wraps(),
        ("wraps-of-mixture", "sett-from-wraps", "working-sett"),
        _wraps,
        (("ends_first", "2"), ("wraps_first", "12 /in"), ("ends_second", "1"), ("wraps_second", "6 /in"),
         ("share", "80 %")),
        "wpi ruler epi ends mixed mixture thick thin plain twill",
    ),
    Question(
        "firmness", "What sett keeps this cloth as firm?",
        "The same cloth in another yarn or another weave, or heavier or lighter.",
        (
            Ask("sett", "Sett that is right", "sett", part="The cloth as it is"),
            Ask("grist", "Its yarn", "grist", "Needed for another yarn or weight.", needed=False,
                part="The cloth as it is"),
            Ask("weave", "Its weave", "choice", choices=_WEAVES, part="The cloth as it is"),
            Ask("other", "Another yarn", "grist", "Of the same fibre and twist.", needed=False, part=_WANTED),
            Ask("new_weave", "Another weave", "choice", choices=_WEAVES, needed=False, part=_WANTED),
            Ask("ratio", "So many times as heavy", "number", "7/6 is a sixth heavier, 0.9 a tenth lighter.",
                needed=False, part=_WANTED),
        ),
        ("sett-of-other-yarn", "sett-of-other-weave", "heavier-cloth"),
        _firmness,
        (("sett", "20 /in"), ("grist", "8/2 cotton"), ("weave", "plain"), ("other", "10/2 cotton"),
         ("new_weave", "twill_2_2"), ("ratio", "7/6")),
        "epi substitute replace instead twill plain heavier lighter thicker finer weight change",
    ),
    Question(
        "cover", "How thick is this yarn, and what does it cover?",
        "Thickness by Peirce’s rule for cotton, or by the room a gram takes; cover when sett or picks are given.",
        (
            GRIST,
            Ask("volume", "Room of one gram", "number", "In cm3, such as 1.1; Peirce’s rule when left empty.",
                needed=False),
            Ask("sett", "Sett", "sett", "For the cover of the warp.", needed=False),
            Ask("picks", "Picks", "picks", "For the cover of the weft.", needed=False),
            Ask("weft", "Weft yarn", "grist", "The same yarn when left empty.", needed=False),
        ),
        ("fractional-cover", "peirce-diameter", "thread-diameter", "cloth-cover",
         "cover-factor", "peirce-cover-factor"),
        _cover,
        (("grist", "36 cotton"), ("sett", "28 /cm"), ("picks", "24 /cm")),
        "diameter peirce thickness open dense see through factor",
    ),
    Question(
        "weave", "How often does this weave cross?",
        "One repeat, the first pick first. A yarn beside it gives the greatest sett, picks and weft the contraction.",
        (
            Ask("lifts", "Lift plan: shafts raised in each pick", "words",
                "1,2 / 2,3 / 3,4 / 4,1 or 1+2, 2+3, 3+4, 4+1 or xx.. / .xx. / ..xx / x..x; - for none"),
            Ask("threading", "Threading, one repeat", "words",
                "Shafts from the first end: 1, 2, 3, 2; or point, broken, lace. Straight when left empty.",
                needed=False),
            GRIST_TOO,
            Ask("fibre", "Fibre", "choice", choices=FIBRES),
            Ask("picks", "Picks", "picks", "For the crossings along an end.", needed=False,
                part="Rough contraction"),
            Ask("weft", "Weft yarn", "grist", "With the picks.", needed=False, part="Rough contraction"),
            Ask("cloth", "Cloth", "choice", choices=MULTIPLIERS, part="Rough contraction"),
        ),
        ("count-weave", "read-lifts", "drawdown", "greatest-sett", "diameters",
         "intersections-along", "rough-contraction", "take-up-of-crimp"),
        _weave,
        (("lifts", "1,2 / 2,3 / 3,4 / 4,1"), ("threading", "1, 2, 3, 4, 3, 2"), ("grist", "8/2 cotton"),
         ("fibre", "cotton"), ("picks", "20 /in"), ("weft", "8/2 cotton"), ("cloth", "3")),
        "float intersections lift plan draft drawdown satin twill contraction take-up greatest maximum epi",
    ),
)  # fmt: skip
