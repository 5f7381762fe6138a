"""Questions of the cloth off the loom: what it lost, where its yarn went, its crimp, and its weft."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from inventory.calc import count as yarn_count
from planner.calc.cloth import cost, weft
from planner.calc.cloth import record as cloth_record
from planner.handbook.question import Answers, Asked, CannotAnswer, Line

MEASURES = (
    "width_in_reed", "warp_wound", "width_at_fell", "finished_width", "woven", "relaxed", "finished", "front",
    "remnant",
)  # fmt: skip


def _losses(asked: Asked) -> tuple[Line, ...]:
    if asked.has("warp_wound", "front", "remnant") and asked["front"] + asked["remnant"] >= asked["warp_wound"]:
        raise CannotAnswer("remnant", "Tie-on and remnant cannot be as long as the whole warp.")
    found = cloth_record.losses_of(cloth_record.ClothRecord(**{name: asked[name] for name in MEASURES}))
    lines = (*_width_lines(asked, found), *_length_lines(asked, found))
    if not lines:
        message = "Measure one thing twice, such as the width in the reed and after washing, or the length both ways."
        raise CannotAnswer("finished_width", message)
    return lines


def _lost(label: str, share: Fraction | None, before: str, after: str, asked: Asked) -> Iterator[Line]:
    if share is None:
        return
    if share < 0:
        grew = f"it grew by {asked.say(-share, 'share')}, or the tension was off"
        yield Line(label, "none", grew, f"{after} ÷ {before} − 1")
    else:
        yield Line(label, asked.say(share, "share"), worked=f"1 − {after} ÷ {before}")


def _width_lines(asked: Asked, found: cloth_record.ClothLosses) -> Iterator[Line]:
    reed, fell, washed = map(asked.told, ("width_in_reed", "width_at_fell", "finished_width"))
    yield from _lost("Draw-in, of the width in the reed", found.draw_in, reed, fell, asked)
    yield from _lost("Width shrinkage, of the width at the fell", found.width_shrinkage, fell, washed, asked)
    yield from _lost("Width lost in all, of the width in the reed", found.width_loss, reed, washed, asked)


def _length_lines(asked: Asked, found: cloth_record.ClothLosses) -> Iterator[Line]:
    wound, woven, relaxed, washed, front, behind = (
        asked.told(name, "length") for name in ("warp_wound", "woven", "relaxed", "finished", "front", "remnant")
    )
    if found.waste is not None:
        yield Line("Loom waste", asked.say(found.waste, "length"), worked=f"{front} + {behind}")
        woven_off = f"({wound} − {asked.say(found.waste, 'length')})"
        yield from _lost("Take-up, of the warp woven off", found.take_up, woven_off, woven, asked)
        yield from _lost("Take-up with the relaxing in it", found.take_up_relaxed, woven_off, relaxed, asked)
    yield from _lost("Relaxing off the loom, of the length under tension", found.relaxing, woven, relaxed, asked)
    yield from _lost("Length shrinkage, of the length under tension", found.length_shrinkage, woven, washed, asked)
    if found.over is not None:
        parts = f"{front} + {woven} + {behind} − {wound}"
        yield Line("Against the warp as wound", *_over(found.over, asked), worked=parts)


def _over(over: Fraction, asked: Asked) -> tuple[str, str]:
    """Say whether tie-on, woven and remnant are less than was wound, which is the take-up, or more."""
    if not over:
        return "just as long", "nothing taken up, or the warp stretched as much"
    size = asked.say(abs(over), "length")
    return (f"{size} more", "the warp stretched") if over > 0 else (f"{size} less", "taken up by bending")


def _used(asked: Asked) -> tuple[Line, ...]:
    lines = (*_by_weight(asked), *_by_length(asked))
    if not lines:
        message = "Say what was weighed out and what the cloth weighs, or the yarn wound and the yarn lost."
        raise CannotAnswer("cloth" if asked.has("out") else "out", message)
    return lines


def _by_weight(asked: Asked) -> Iterator[Line]:
    if not asked.has("out", "cloth"):
        return
    back, thrums = asked["back"], asked["thrums"]
    if back + thrums >= asked["out"]:
        raise CannotAnswer("back", "With so much back and swept up, no yarn was used at all.")
    found = cloth_record.yarn_check(asked["out"], back, thrums, asked["cloth"])
    used, cloth = asked.say(found.used, "mass"), asked.told("cloth", "mass")
    missing = asked.say(abs(found.missing), "mass")
    yield Line("Yarn used", used, worked=" − ".join(map(asked.told, ("out", "back", "thrums"))))
    if found.missing < 0:
        yield Line("Cloth heavier than the yarn used", missing, "weigh again: size, oil or water", f"{cloth} − {used}")
    else:
        yield Line("Not accounted for", missing, "fluff and dropped ends", f"{used} − {cloth}")
    yield Line("The same, of what was used", asked.say(abs(found.share), "share"), worked=f"{missing} ÷ {used}")


def _by_length(asked: Asked) -> Iterator[Line]:
    if not asked.has("wasted", "wound"):
        return
    if asked["wasted"] > asked["wound"]:
        raise CannotAnswer("wasted", "More cannot be lost than was wound.")
    share = cost.waste_share(asked["wasted"], asked["wound"])
    wasted, wound = asked.told("wasted"), asked.told("wound")
    yield Line("Thrown away, of the yarn wound", asked.say(share, "share"), worked=f"{wasted} ÷ {wound}")


def _crimp(asked: Asked) -> tuple[Line, ...]:
    lines: list[Line] = []
    if asked.has("yarn_length", "cloth_length"):
        if asked["yarn_length"] < asked["cloth_length"]:
            raise CannotAnswer("yarn_length", "A thread drawn straight is never shorter than its cloth.")
        found = cloth_record.crimp(asked["yarn_length"], asked["cloth_length"])
        yarn, cloth = map(asked.told, ("yarn_length", "cloth_length"))
        lines.append(Line("Crimp, of the cloth", asked.say(found, "share"), worked=f"{yarn} ÷ {cloth} − 1"))
        lines.append(_take_up("Take-up, of the warp", found, asked))
    if asked.has("crimp"):
        lines.append(_take_up("Take-up of the crimp given", asked["crimp"], asked))
    if not lines:
        raise CannotAnswer("yarn_length", "Measure a thread and the cloth it came from, or give a crimp.")
    return tuple(lines)


def _take_up(label: str, crimp: Fraction, asked: Asked) -> Line:
    shown = asked.say(crimp, "share")
    take_up = asked.say(cloth_record.take_up_of_crimp(crimp), "share")
    return Line(label, take_up, worked=f"{shown} ÷ (1 + {shown})")


def _weft(asked: Asked) -> tuple[Line, ...]:
    woven, picks, width = asked["woven"], asked["picks"], asked["width"]
    cloth, close = asked.told("woven", "length"), asked.told("picks")
    count = weft.picks_in(woven, picks)
    lines = [Line("Picks", str(count), worked=f"{cloth} × {close}, a last one begun counted")]
    if width is not None:
        length = weft.weft_length(woven, picks, width, asked["allowance"])
        across = f"{asked.told('width')} × (1 + {asked.told('allowance')})"
        lines.append(Line("Weft yarn", asked.say(length, "distance"), worked=f"{cloth} × {close} × {across}"))
        if asked.has("grist"):
            mass = asked.say(yarn_count.mass_of_length(length, asked["grist"]), "mass")
            worked = f"{asked.say(length, 'distance')} at {asked.told('grist')}"
            lines.append(Line("Weft by weight", mass, worked=worked))
    elif asked.has("grist"):
        raise CannotAnswer("width", "The weight of the weft needs the width in the reed too.")
    return tuple(lines)


CLOTH_ANSWERS: Answers = {
    "losses": _losses,
    "used": _used,
    "crimp": _crimp,
    "weft": _weft,
}
