"""Questions of the yarn shelf: counts, folded yarns, packages, what to buy, and what a mixture costs."""

from __future__ import annotations

from fractions import Fraction

from inventory.calc import count as yarn_count
from inventory.calc.count_systems import SYSTEMS
from inventory.calc.grist_text import Thread
from inventory.calc.package_length import USUAL_TARES, length_in_doubt, package_length
from planner.calc.cloth import cost
from planner.calc.terms.plan import Range
from planner.handbook.question import Answers, Asked, CannotAnswer, Line
from planner.plan.formatter import good_places
from studio.units import rounded, usual

ZERO = Fraction(0)
YARNS = ("first", "second", "third")


def _per_mass(tex: Fraction) -> tuple[Line, ...]:
    per_pound, per_kilogram = yarn_count.yards_per_pound(tex), yarn_count.metres_per_kilogram(tex)
    return (
        Line("Yards per pound", f"{rounded(per_pound, 0)} yd/lb", worked=f"496 054.65 ÷ {rounded(tex, 2)} tex"),
        Line("Metres per kilogram", f"{rounded(per_kilogram, 0)} m/kg", worked=f"1 000 000 ÷ {rounded(tex, 2)} tex"),
    )


def _as_one_ply(tex: Fraction, key: str, worked: str = "") -> Line:
    system = SYSTEMS[key]
    one, whole = (rounded(number, good_places(number, 2)) for number in (system.tex_of_one, tex))
    plain = f"{whole} tex ÷ {one} tex" if system.direct else f"{one} tex ÷ {whole} tex"
    return Line(f"As one ply, {system.name}", rounded(yarn_count.count_of_tex(tex, key), 2), worked=worked or plain)


def _counts(asked: Asked) -> tuple[Line, ...]:
    tex = asked["grist"]
    others = (_as_one_ply(tex, key) for key in SYSTEMS if key != "tex")
    return (Line("Tex", f"{rounded(tex, 2)} tex", worked="grams of a kilometre"), *_per_mass(tex), *others)


def _folded(asked: Asked) -> tuple[Line, ...]:
    threads: tuple[Thread, ...] = asked["singles"]
    texes = [yarn_count.tex_of_count(*thread) for thread in threads]
    tex = yarn_count.folded(texes)
    if not yarn_count.FINEST <= tex <= yarn_count.THICKEST:
        raise CannotAnswer("singles", "Together these would be no yarn. Check the counts.")
    added = " + ".join(f"{rounded(one, 2)} tex" for one in texes)
    systems = dict.fromkeys(thread.system for thread in threads if thread.system != "tex")
    in_counts = (_as_one_ply(tex, key, _by_counts(threads) if len(systems) == 1 else "") for key in systems)
    return (Line("Folded yarn", f"{rounded(tex, 2)} tex", worked=added), *in_counts, *_per_mass(tex))


def _by_counts(threads: tuple[Thread, ...]) -> str:
    """Write the rule as books of counts do; empty for systems in which the numbers themselves add."""
    if any(SYSTEMS[thread.system].direct for thread in threads):
        return ""
    plies = (thread.plies if SYSTEMS[thread.system].plied else 1 for thread in threads)
    return (
        f"1 ÷ ({' + '.join(f'{ply}/{rounded(thread.number, 3)}' for ply, thread in zip(plies, threads, strict=True))})"
    )


def _package(asked: Asked) -> tuple[Line, ...]:
    usual = USUAL_TARES[asked["package"]]
    light, heavy = asked["lightest"], asked["heaviest"]
    light, heavy = (usual.lightest, usual.heaviest) if light is None and heavy is None else (light, heavy)
    light, heavy = (heavy if light is None else light), (light if heavy is None else heavy)
    if light > heavy:
        raise CannotAnswer("heaviest", "The heaviest cannot weigh less than the lightest.")
    if asked["gross"] < light:
        raise CannotAnswer("gross", f"The package weighs less than an empty one, {asked.say(light, 'mass')}.")
    found = package_length(asked["gross"], light, heavy, asked["grist"])
    length = Range(found.low, found.likely, found.high)
    tare = " to ".join(dict.fromkeys((asked.say(light, "mass"), asked.say(heavy, "mass"))))
    grist = asked.told("grist")
    worked = f"({asked.told('gross')} − {tare}), at {grist}"
    lines = [asked.ranged("Yarn on the package", length, "distance", worked)]
    if light != heavy:
        doubt = asked.say(length_in_doubt(light, heavy, asked["grist"]), "distance")
        lines.append(Line("Known better by weighing an empty one", doubt, worked=f"{tare} apart, at {grist}"))
    return tuple(lines)


def _buy(asked: Asked) -> tuple[Line, ...]:
    missing, lines = _missing(asked)
    package, price = asked["package"], asked["price"]
    found = cost.packages_to_buy(missing, package, ZERO if price is None else price)
    short, each = asked.say(missing, "mass"), asked.say(package, "mass")
    worked = f"{short} ÷ {each}, rounded up"
    over = f"{found.packages} × {each} − {short}"
    lines += (
        Line("Packages to buy", str(found.packages), worked=worked),
        Line("Yarn over", asked.say(found.over, "mass"), worked=over),
    )
    if price is not None:
        money = f"{found.packages} × {asked.say(price, 'money')}"
        lines.append(Line("They cost", asked.say(found.cost, "money"), worked=money))
    return tuple(lines)


def _missing(asked: Asked) -> tuple[Fraction, list[Line]]:
    """Give the yarn that is missing by weight, and how it came from a length where it did."""
    if asked.has("mass", "length"):
        raise CannotAnswer("length", "Say what is missing by weight or by length, not both.")
    if asked.has("mass"):
        return asked["mass"], []
    if not asked.has("length"):
        raise CannotAnswer("mass", "Say what is missing: its weight, or its length and the yarn.")
    if not asked.has("grist"):
        raise CannotAnswer("grist", "A length needs its yarn, so that it can be weighed.")
    mass = yarn_count.mass_of_length(asked["length"], asked["grist"])
    worked = f"{asked.told('length')} at {asked.told('grist')}"
    return mass, [Line("Yarn missing", asked.say(mass, "mass"), worked=worked)]


def _mixture(asked: Asked) -> tuple[Line, ...]:
    parts = [_priced(asked, name) for name in YARNS if asked.has(f"mass_{name}") or asked.has(f"price_{name}")]
    found = cost.mixture(parts)
    shown = [(asked.say(mass, "mass"), asked.say(price, "price")) for mass, price in parts]
    mass, money = asked.say(found.mass, "mass"), asked.say(found.cost, "money")
    per = usual("price", asked.units).removeprefix("/")
    each = per if per[0].isdigit() else f"1 {per}"
    return (
        Line("Weight of all", mass, worked=" + ".join(mass for mass, _price in shown)),
        Line("They cost", money, worked=" + ".join(f"{mass} at {price}" for mass, price in shown)),
        Line("Price of the mixture", asked.say(found.price, "price"), worked=f"{money} ÷ {mass}, then for {each}"),
    )


def _priced(asked: Asked, name: str) -> tuple[Fraction, Fraction]:
    mass, price = asked[f"mass_{name}"], asked[f"price_{name}"]
    if mass is None:
        raise CannotAnswer(f"mass_{name}", "Say how much of it there is.")
    if price is None:
        raise CannotAnswer(f"price_{name}", "Say its price too, or 0 for a gift.")
    return mass, price


YARN_ANSWERS: Answers = {
    "counts": _counts,
    "folded": _folded,
    "package": _package,
    "buy": _buy,
    "mixture": _mixture,
}
