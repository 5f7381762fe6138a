"""Questions of the cloth off the loom: what it lost, where its yarn went, its crimp, and its weft."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from inventory.calc import count as yarn_count
from planner.calc.cloth import cost, weft
from planner.calc.cloth import record as cloth_record
from planner.calc.terms.brief import Allowances
from planner.handbook.question import Ask, CannotAnswer, Line, Question, Values, have, say
from planner.plan.formatter import Reader
from studio.units import rounded

ZERO = Fraction(0)
USUAL_ALLOWANCE = Allowances().weft_allowance
MEASURES = (
    "width_in_reed", "warp_wound", "width_at_fell", "finished_width", "woven", "relaxed", "finished", "front",
    "remnant",
)  # fmt: skip


def _losses(said: Values, reader: Reader) -> tuple[Line, ...]:
    if have(said, "warp_wound", "front", "remnant") and said["front"] + said["remnant"] >= said["warp_wound"]:
        raise CannotAnswer("remnant", "Tie-on and remnant cannot be as long as the whole warp.")
    found = cloth_record.losses_of(cloth_record.ClothRecord(**{name: said[name] for name in MEASURES}))
    lines = (*_width_lines(said, found, reader), *_length_lines(said, found, reader))
    if not lines:
        message = "Measure one thing twice, such as the width in the reed and after washing, or the length both ways."
        raise CannotAnswer("finished_width", message)
    return lines


def _lost(label: str, share: Fraction | None, before: str, after: str, reader: Reader) -> Iterator[Line]:
    if share is None:
        return
    if share < 0:
        grew = f"it grew by {say(reader, -share, 'share')}, or the tension was off"
        yield Line(label, "none", grew, f"{after} ÷ {before} − 1")
    else:
        yield Line(label, say(reader, share, "share"), worked=f"1 − {after} ÷ {before}")


def _width_lines(said: Values, found: cloth_record.ClothLosses, reader: Reader) -> Iterator[Line]:
    reed, fell, washed = _shown(said, reader, "width_in_reed", "width_at_fell", "finished_width")
    yield from _lost("Draw-in, of the width in the reed", found.draw_in, reed, fell, reader)
    yield from _lost("Width shrinkage, of the width at the fell", found.width_shrinkage, fell, washed, reader)
    yield from _lost("Width lost in all, of the width in the reed", found.width_loss, reed, washed, reader)


def _length_lines(said: Values, found: cloth_record.ClothLosses, reader: Reader) -> Iterator[Line]:
    wound, woven, relaxed, washed, front, behind = _shown(
        said, reader, "warp_wound", "woven", "relaxed", "finished", "front", "remnant"
    )
    if found.waste is not None:
        yield Line("Loom waste", say(reader, found.waste, "length"), worked=f"{front} + {behind}")
        woven_off = f"({wound} − {say(reader, found.waste, 'length')})"
        yield from _lost("Take-up, of the warp woven off", found.take_up, woven_off, woven, reader)
        yield from _lost("Take-up with the relaxing in it", found.take_up_relaxed, woven_off, relaxed, reader)
    yield from _lost("Relaxing off the loom, of the length under tension", found.relaxing, woven, relaxed, reader)
    yield from _lost("Length shrinkage, of the length under tension", found.length_shrinkage, woven, washed, reader)
    if found.over is not None:
        parts = f"{front} + {woven} + {behind} − {wound}"
        yield Line("Against the warp as wound", *_over(found.over, reader), worked=parts)


def _over(over: Fraction, reader: Reader) -> tuple[str, str]:
    """Say whether tie-on, woven and remnant are less than was wound, which is the take-up, or more."""
    if not over:
        return "just as long", "nothing taken up, or the warp stretched as much"
    size = say(reader, abs(over), "length")
    return (f"{size} more", "the warp stretched") if over > 0 else (f"{size} less", "taken up by bending")


def _shown(said: Values, reader: Reader, *names: str) -> list[str]:
    return ["" if said[name] is None else say(reader, said[name], "length") for name in names]


def _used(said: Values, reader: Reader) -> tuple[Line, ...]:
    lines = (*_by_weight(said, reader), *_by_length(said, reader))
    if not lines:
        message = "Say what was weighed out and what the cloth weighs, or the yarn wound and the yarn lost."
        raise CannotAnswer("cloth" if have(said, "out") else "out", message)
    return lines


def _by_weight(said: Values, reader: Reader) -> Iterator[Line]:
    if not have(said, "out", "cloth"):
        return
    back, thrums = said["back"] or ZERO, said["thrums"] or ZERO
    if back + thrums >= said["out"]:
        raise CannotAnswer("back", "With so much back and swept up, no yarn was used at all.")
    found = cloth_record.yarn_check(said["out"], back, thrums, said["cloth"])
    used, cloth = say(reader, found.used, "mass"), say(reader, said["cloth"], "mass")
    parts = (say(reader, value, "mass") for value in (said["out"], back, thrums))
    missing = say(reader, abs(found.missing), "mass")
    yield Line("Yarn used", used, worked=" − ".join(parts))
    if found.missing < 0:
        yield Line("Cloth heavier than the yarn used", missing, "weigh again: size, oil or water", f"{cloth} − {used}")
    else:
        yield Line("Not accounted for", missing, "fluff and dropped ends", f"{used} − {cloth}")
    yield Line("The same, of what was used", say(reader, abs(found.share), "share"), worked=f"{missing} ÷ {used}")


def _by_length(said: Values, reader: Reader) -> Iterator[Line]:
    if not have(said, "wasted", "wound"):
        return
    if said["wasted"] > said["wound"]:
        raise CannotAnswer("wasted", "More cannot be lost than was wound.")
    share = cost.waste_share(said["wasted"], said["wound"])
    wasted, wound = say(reader, said["wasted"], "distance"), say(reader, said["wound"], "distance")
    yield Line("Thrown away, of the yarn wound", say(reader, share, "share"), worked=f"{wasted} ÷ {wound}")


def _crimp(said: Values, reader: Reader) -> tuple[Line, ...]:
    lines: list[Line] = []
    if have(said, "yarn_length", "cloth_length"):
        if said["yarn_length"] < said["cloth_length"]:
            raise CannotAnswer("yarn_length", "A thread drawn straight is never shorter than its cloth.")
        found = cloth_record.crimp(said["yarn_length"], said["cloth_length"])
        yarn, cloth = (say(reader, said[name], "length") for name in ("yarn_length", "cloth_length"))
        lines.append(Line("Crimp, of the cloth", say(reader, found, "share"), worked=f"{yarn} ÷ {cloth} − 1"))
        lines.append(_take_up("Take-up, of the warp", found, reader))
    if have(said, "crimp"):
        lines.append(_take_up("Take-up of the crimp given", said["crimp"], reader))
    if not lines:
        raise CannotAnswer("yarn_length", "Measure a thread and the cloth it came from, or give a crimp.")
    return tuple(lines)


def _take_up(label: str, crimp: Fraction, reader: Reader) -> Line:
    shown = say(reader, crimp, "share")
    take_up = say(reader, cloth_record.take_up_of_crimp(crimp), "share")
    return Line(label, take_up, worked=f"{shown} ÷ (1 + {shown})")


def _weft(said: Values, reader: Reader) -> tuple[Line, ...]:
    woven, picks, width = said["woven"], said["picks"], said["width"]
    cloth, close = say(reader, woven, "length"), say(reader, picks, "picks")
    count = weft.picks_in(woven, picks)
    lines = [Line("Picks", str(count), worked=f"{cloth} × {close}, a last one begun counted")]
    if width is not None:
        more = USUAL_ALLOWANCE if said["allowance"] is None else said["allowance"]
        length = weft.weft_length(woven, picks, width, more)
        across = f"{say(reader, width, 'length')} × (1 + {say(reader, more, 'share')})"
        lines.append(Line("Weft yarn", say(reader, length, "distance"), worked=f"{cloth} × {close} × {across}"))
        if have(said, "grist"):
            mass = say(reader, yarn_count.mass_of_length(length, said["grist"]), "mass")
            worked = f"{say(reader, length, 'distance')} at {say(reader, said['grist'], 'grist')}"
            lines.append(Line("Weft by weight", mass, worked=worked))
    elif have(said, "grist"):
        raise CannotAnswer("width", "The weight of the weft needs the width in the reed too.")
    return tuple(lines)


_WIDTHS, _LENGTHS, _WASTE = "Widths", "Lengths, of all pieces together", "Waste"
_SCALES, _LOST = "By weight", "By length"

CLOTH_QUESTIONS = (
    Question(
        "losses", "What did this warp really lose?",
        "The cloth measured three ways: under tension, relaxed, finished. Write what you measured, leave out the rest.",
        (
            Ask("width_in_reed", "Width in the reed", "length", needed=False, part=_WIDTHS),
            Ask("width_at_fell", "Width at the fell", "length", "Where the last pick lies.", needed=False,
                part=_WIDTHS),
            Ask("finished_width", "Width after washing", "length", needed=False, part=_WIDTHS),
            Ask("woven", "On the loom", "length", "Under tension.", needed=False, part=_LENGTHS),
            Ask("relaxed", "Off the loom", "length", "Rested, not yet washed.", needed=False, part=_LENGTHS),
            Ask("finished", "After washing", "length", needed=False, part=_LENGTHS),
            Ask("warp_wound", "Warp as wound", "distance", "For the take-up, with both below.", needed=False,
                part=_WASTE),
            Ask("front", "Used for the tie-on in front", "length", needed=False, zero=True, part=_WASTE),
            Ask("remnant", "Left unwoven behind", "length", needed=False, zero=True, part=_WASTE),
        ),
        ("losses-of", "loss"),
        _losses,
        (("width_in_reed", "29 in"), ("width_at_fell", "26 in"), ("finished_width", "23 in"), ("woven", "75 in"),
         ("relaxed", "65 in"), ("warp_wound", "100 in"), ("front", "8 in"), ("remnant", "10 in")),
        "shrink shrinkage draw-in take-up waste record measured off the loom wash stretched",
    ),
    Question(
        "used", "Where did the yarn go?",
        "Weighed out and in again against the cloth, and the part of what was wound that was thrown away.",
        (
            Ask("out", "Weighed out", "mass", needed=False, part=_SCALES),
            Ask("back", "Weighed back in", "mass", "None when left empty.", needed=False, zero=True, part=_SCALES),
            Ask("thrums", "Thrums and sweepings", "mass", "None when left empty.", needed=False, zero=True,
                part=_SCALES),
            Ask("cloth", "Cloth, dry, not washed", "mass", needed=False, part=_SCALES),
            Ask("wound", "Yarn wound", "distance", "What was lost counted too.", needed=False, part=_LOST),
            Ask("wasted", "Yarn lost", "distance", "Loom waste of all ends, cut ends, box lead.", needed=False,
                zero=True, part=_LOST),
        ),
        ("yarn-check", "waste-share"),
        _used,
        (("out", "1000 g"), ("back", "300 g"), ("thrums", "40 g"), ("cloth", "650 g"), ("wound", "510 yd"),
         ("wasted", "10 yd")),
        "weight check missing waste thrums lost thrown away",
    ),
    Question(
        "crimp", "What take-up does this crimp make?",
        "Books give crimp, a share of the cloth; a warp is planned with take-up, a share of the warp.",
        (
            Ask("yarn_length", "Thread drawn straight", "length", "Out of the cloth, and pulled just straight.",
                needed=False, part="Measured"),
            Ask("cloth_length", "Cloth it came from", "length", needed=False, part="Measured"),
            Ask("crimp", "Crimp, of the cloth", "share", needed=False, zero=True, part="From a book"),
        ),
        ("crimp", "take-up-of-crimp"),
        _crimp,
        (("yarn_length", "21.2 cm"), ("cloth_length", "20 cm")),
        "contraction bending mill book",
    ),
    Question(
        "weft", "How many picks, and how much weft?",
        "For a length as it is woven, under tension.",
        (
            Ask("woven", "Woven, under tension", "length"),
            Ask("picks", "Picks", "picks"),
            Ask("width", "Width in the reed", "length", "For the yarn; not the narrower cloth.", needed=False),
            Ask("allowance", "Weft beyond the width", "share",
                f"For bends and turns; {rounded(100 * USUAL_ALLOWANCE, 0)} % when left empty.", needed=False,
                zero=True),
            Ask("grist", "Weft yarn", "grist", "For its weight. Such as 8/2 cotton.", needed=False),
        ),
        ("weft-length", "picks-in", "mass-of-length"),
        _weft,
        (("woven", "40 in"), ("picks", "18 /in"), ("width", "14.1 in"), ("grist", "8/2 cotton")),
        "shots crosswise yarn bobbins",
    ),
)  # fmt: skip
