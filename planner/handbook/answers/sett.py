"""Questions of the sett: wraps of a mixture, the same cloth otherwise, thickness and cover, and how a weave crosses."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from inventory.calc import count as yarn_count
from planner.brief import threading as brief_threading
from planner.calc.cloth import cover, firmness, sett, weave
from planner.calc.cloth import record as cloth_record
from planner.handbook.question import Answers, Asked, CannotAnswer, Line
from studio.units import UnitError, Units, rounded, show

YARNS = ("first", "second", "third")
BY_WRAPS = ("plain", "twill_2_2")
MULTIPLIERS = (("4", "fine cotton"), ("3", "medium cotton"))


def _wraps(asked: Asked) -> tuple[Line, ...]:
    parts = [_wrapped(asked, name) for name in YARNS if asked.has(f"ends_{name}") or asked.has(f"wraps_{name}")]
    mixed = firmness.wraps_of_mixture(parts)
    across = asked.say(mixed, "wraps")
    added = " + ".join(f"{ends} ÷ {asked.say(wraps, 'wraps')}" for ends, wraps in parts)
    ends = " + ".join(str(ends) for ends, _wraps in parts)
    lines = [Line("Wraps of them all", across, worked=f"({ends}) ÷ ({added})")]
    for key in BY_WRAPS:
        lines += _of_weave(sett.WEAVES[key], mixed, asked["share"], asked)
    return tuple(lines)


def _wrapped(asked: Asked, name: str) -> tuple[int, Fraction]:
    ends, wraps = asked[f"ends_{name}"], asked[f"wraps_{name}"]
    if ends is None:
        raise CannotAnswer(f"ends_{name}", "Say how many ends of it there are in the repeat.")
    if wraps is None:
        raise CannotAnswer(f"wraps_{name}", "Say its wraps too.")
    return ends, wraps


def _of_weave(known: sett.Weave, wraps: Fraction, share: Fraction | None, asked: Asked) -> Iterator[Line]:
    greatest = sett.sett_from_wraps(wraps, known.ends, known.intersections)
    shown, name = asked.say(greatest, "sett"), known.name
    crossing = f"{known.ends} ÷ ({known.ends} + {known.intersections})"
    yield Line(f"Sett for {name}", shown, worked=f"{asked.say(wraps, 'wraps')} × {crossing}")
    if share is not None:
        if share > 1:
            raise CannotAnswer("share", "A share of the maximum sett is 100 % at most.")
        part = asked.say(share, "share")
        worked = f"{shown} × {part}"
        yield Line(f"{part} of it, for {name}", asked.say(sett.working_sett(greatest, share), "sett"), worked=worked)


def _firmness(asked: Asked) -> tuple[Line, ...]:
    if asked["grist"] is None and (asked.has("other") or asked.has("ratio")):
        raise CannotAnswer("grist", "Say which yarn it is woven in now.")
    lines: list[Line] = []
    if asked.has("other"):
        lines.append(_other_yarn(asked, asked["sett"], "In the other yarn"))
    if asked.has("new_weave"):
        lines += _other_weave(asked)
    if asked.has("ratio"):
        lines += _heavier(asked)
    if not lines:
        raise CannotAnswer("other", "Name another yarn, another weave, or how heavy it should be.")
    return tuple(lines)


def _other_yarn(asked: Asked, from_sett: Fraction, label: str) -> Line:
    found = firmness.sett_of_other_yarn(from_sett, asked["grist"], asked["other"])
    root = f"√({asked.told('grist', 'tex')} ÷ {asked.told('other', 'tex')})"
    return Line(label, asked.say(found, "sett"), worked=f"{asked.say(from_sett, 'sett')} × {root}")


def _other_weave(asked: Asked) -> Iterator[Line]:
    given, wanted = sett.WEAVES[asked["weave"]], sett.WEAVES[asked["new_weave"]]
    shapes = (given.ends, given.intersections), (wanted.ends, wanted.intersections)
    found = firmness.sett_of_other_weave(asked["sett"], *shapes)
    now, then = (f"({ends}/({ends} + {crossings}))" for ends, crossings in shapes)
    worked = f"{asked.told('sett')} × {then} ÷ {now}"
    yield Line(f"In {wanted.name}", asked.say(found, "sett"), worked=worked)
    if asked.has("other"):
        yield _other_yarn(asked, found, f"In {wanted.name} and the other yarn")


def _heavier(asked: Asked) -> Iterator[Line]:
    close, tex = firmness.heavier_cloth(asked["sett"], asked["grist"], asked["ratio"])
    if not yarn_count.FINEST <= tex <= yarn_count.THICKEST:
        raise CannotAnswer("ratio", "No yarn is so fine or so thick.")
    times, old = rounded(asked["ratio"], 4), asked.told("grist", "tex")
    grist = asked.say(tex, "grist")
    yield Line("Yarn of the new weight", asked.say(tex, "tex"), f"{grist}", f"{old} × {times} × {times}")
    worked = f"{asked.told('sett')} ÷ {times}"
    yield Line("Its sett", asked.say(close, "sett"), worked=worked)


def _cover(asked: Asked) -> tuple[Line, ...]:
    warp, weft = asked["grist"], asked["weft"] or asked["grist"]
    thick, lines = _thickness(asked, warp, "")
    if weft != warp:
        weft_thick, more = _thickness(asked, weft, " of the weft")
        lines += more
    else:
        weft_thick = thick
    covers = []
    for name, close, tex, through in (("warp", asked["sett"], warp, thick), ("weft", asked["picks"], weft, weft_thick)):
        if close is not None:
            covers.append(cover.fractional_cover(close, through))
            lines += _covered(name, close, tex, through, asked)
    if len(covers) > 1 and max(covers) <= 1:
        both, one, other = (asked.say(share, "share") for share in (cover.cloth_cover(*covers), *covers))
        lines.append(Line("Cover of both", both, worked=f"{one} + {other} − {one} × {other}"))
    return tuple(lines)


def _thickness(asked: Asked, tex: Fraction, whose: str) -> tuple[Fraction, list[Line]]:
    """Give the thickness to reckon with, and the line that says it: by the volume where it is known, else Peirce's."""
    volume = asked["volume"]
    if volume is not None:
        thick = Fraction(cover.thread_diameter(tex, volume))
        worked = f"√(4 × {asked.say(tex, 'tex')} × {rounded(volume, 3)} ÷ (100 000 π)) cm"
        return thick, [Line(f"Thickness{whose}, by its volume", asked.say(thick, "depth"), worked=worked)]
    thick, count = cover.peirce_diameter(tex), rounded(yarn_count.count_of_tex(tex, "cotton"), 2)
    worked = f"1 ÷ (28 × √{count}) in, {count} being the cotton count"
    return thick, [Line(f"Thickness{whose}, by Peirce for cotton", asked.say(thick, "depth"), worked=worked)]


def _covered(name: str, close: Fraction, tex: Fraction, thick: Fraction, asked: Asked) -> Iterator[Line]:
    share = cover.fractional_cover(close, thick)
    kind = "sett" if name == "warp" else "picks"
    full = "no room side by side" if share > 1 else ""
    worked = f"{asked.say(close, kind)} × {asked.say(thick, 'depth')}"
    yield Line(f"Cover of the {name}", asked.say(share, "share"), full, worked)
    per_cm, per_inch = (show(close, kind, units) for units in (Units.METRIC, Units.INCH))
    factor, peirce = rounded(cover.cover_factor(close, tex), 2), rounded(cover.peirce_cover_factor(close, tex), 2)
    yield Line(f"Metric cover factor of the {name}", factor, worked=f"{per_cm} × √({asked.say(tex, 'tex')}) ÷ 10")
    count = rounded(yarn_count.count_of_tex(tex, "cotton"), 2)
    yield Line(f"Peirce’s cover factor of the {name}", peirce, worked=f"{per_inch} ÷ √{count} (cotton count)")


def _weave(asked: Asked) -> tuple[Line, ...]:
    lifts, threaded = _lifts(asked["lifts"]), _threaded(asked)
    found = weave.count_weave(weave.drawdown(threaded, weave.shafts_raised(lifts)) if threaded else lifts)
    counted = "from face to back or back to face, once round the repeat"
    how = "each end up when its shaft is raised" if threaded else "straight draw: each end on its own shaft"
    return (
        Line("One repeat", f"{found.ends} ends, {found.picks} picks", worked=how),
        Line("Intersections of each end", _listed(found.of_ends), worked=counted),
        Line("Intersections of each pick", _listed(found.of_picks), worked=counted),
        Line("Longest float of the warp", _float(found.warp_float, "picks"), worked="counted round the repeat"),
        Line("Longest float of the weft", _float(found.weft_float, "ends"), worked="counted round the repeat"),
        *_greatest(asked, found),
        *_contraction(asked, found),
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


def _threaded(asked: Asked) -> tuple[int, ...]:
    """Give the threading as shaft numbers; empty for a straight draw, in which the lift plan is the drawdown."""
    if asked["threading"] is None:
        return ()
    shafts = len(_lifts(asked["lifts"])[0])
    try:
        return brief_threading.settled_threading(brief_threading.threading.read(asked["threading"], None), shafts)
    except UnitError as error:
        raise CannotAnswer("threading", error.message) from error


def _greatest(asked: Asked, found: weave.WeaveCount) -> Iterator[Line]:
    ends, intersections = found.mean
    if asked["grist"] is None or not intersections:
        return
    constant = sett.yarn_constant(asked["fibre"])
    side_by_side = sett.diameters(asked["grist"], constant)
    greatest = sett.greatest_sett(side_by_side, ends, intersections)
    tightest = sett.greatest_sett(side_by_side, *found.tightest)
    across, grist = asked.say(side_by_side, "wraps"), rounded(yarn_count.yards_per_pound(asked["grist"]), 0)
    by_one = "" if tightest == greatest else f"{asked.say(tightest, 'sett')} by the pick that crosses most"
    root = f"{rounded(constant, 2)} × √({grist} yd/lb), to the inch"
    yield Line("Threads side by side", across, worked=root)
    worked = f"{across} × {ends} ÷ ({ends} + {intersections})"
    yield Line("Maximum sett", asked.say(greatest, "sett"), by_one, worked)


def _contraction(asked: Asked, found: weave.WeaveCount) -> Iterator[Line]:
    """Give Taylor's rough contraction of the end that crosses most, as far as picks and weft are known."""
    if asked["picks"] is None:
        return
    most = max(found.of_ends)
    along = weave.intersections_along(asked["picks"], most, found.picks)
    worked = f"{asked.told('picks')} × {most} ÷ {found.picks}"
    yield Line("Crossings along an end", asked.say(along, "picks"), worked=worked)
    if asked["weft"] is None:
        return
    times, count = asked["cloth"], rounded(yarn_count.count_of_tex(asked["weft"], "cotton"), 2)
    rough = weave.rough_contraction(along, asked["weft"], Fraction(times))
    shown = asked.say(rough, "share")
    worked = f"{show(along, 'picks', Units.INCH)} × {times} ÷ {count} (cotton count of the weft)"
    yield Line("Rough contraction, of the cloth", shown, "a rule for mill cottons", worked)
    take_up = asked.say(cloth_record.take_up_of_crimp(rough), "share")
    yield Line("Take-up it makes, of the warp", take_up, worked=f"{shown} ÷ (1 + {shown})")


def _listed(numbers: tuple[int, ...]) -> str:
    return str(numbers[0]) if len(set(numbers)) == 1 else ", ".join(map(str, numbers))


def _float(threads: int | None, name: str) -> str:
    return "some never cross" if threads is None else f"{threads} {name}"


SETT_ANSWERS: Answers = {
    "wraps": _wraps,
    "firmness": _firmness,
    "cover": _cover,
    "weave": _weave,
}
