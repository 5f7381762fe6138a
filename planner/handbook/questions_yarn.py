"""Questions of the yarn shelf: counts, folded yarns, packages, what to buy, and what a mixture costs."""

from __future__ import annotations

from fractions import Fraction

from inventory.calc import count as yarn_count
from inventory.calc.count_systems import SYSTEMS
from inventory.calc.grist_text import Thread
from inventory.calc.package_length import USUAL_TARES, length_in_doubt, package_length
from planner.calc.cloth import cost
from planner.calc.terms.plan import Range
from planner.handbook.question import GRIST, Ask, CannotAnswer, Line, Question, Values, have, ranged, say
from planner.plan.formatter import Reader, good_places
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


def _counts(said: Values, _reader: Reader) -> tuple[Line, ...]:
    tex = said["grist"]
    others = (_as_one_ply(tex, key) for key in SYSTEMS if key != "tex")
    return (Line("Tex", f"{rounded(tex, 2)} tex", worked="grams of a kilometre"), *_per_mass(tex), *others)


def _folded(said: Values, _reader: Reader) -> tuple[Line, ...]:
    threads: tuple[Thread, ...] = said["singles"]
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


def _package(said: Values, reader: Reader) -> tuple[Line, ...]:
    usual = USUAL_TARES[said["package"]]
    light, heavy = said["lightest"], said["heaviest"]
    light, heavy = (usual.lightest, usual.heaviest) if light is None and heavy is None else (light, heavy)
    light, heavy = (heavy if light is None else light), (light if heavy is None else heavy)
    if light > heavy:
        raise CannotAnswer("heaviest", "The heaviest cannot weigh less than the lightest.")
    if said["gross"] < light:
        raise CannotAnswer("gross", f"The package weighs less than an empty one, {say(reader, light, 'mass')}.")
    found = package_length(said["gross"], light, heavy, said["grist"])
    length = Range(found.low, found.likely, found.high)
    tare = " to ".join(dict.fromkeys((say(reader, light, "mass"), say(reader, heavy, "mass"))))
    grist = say(reader, said["grist"], "grist")
    worked = f"({say(reader, said['gross'], 'mass')} − {tare}), at {grist}"
    lines = [ranged("Yarn on the package", length, "distance", reader, worked)]
    if light != heavy:
        doubt = say(reader, length_in_doubt(light, heavy, said["grist"]), "distance")
        lines.append(Line("Known better by weighing an empty one", doubt, worked=f"{tare} apart, at {grist}"))
    return tuple(lines)


def _buy(said: Values, reader: Reader) -> tuple[Line, ...]:
    missing, lines = _missing(said, reader)
    package, price = said["package"], said["price"]
    found = cost.packages_to_buy(missing, package, ZERO if price is None else price)
    short, each = say(reader, missing, "mass"), say(reader, package, "mass")
    worked = f"{short} ÷ {each}, rounded up"
    over = f"{found.packages} × {each} − {short}"
    lines += (
        Line("Packages to buy", str(found.packages), worked=worked),
        Line("Yarn over", say(reader, found.over, "mass"), worked=over),
    )
    if price is not None:
        money = f"{found.packages} × {say(reader, price, 'money')}"
        lines.append(Line("They cost", say(reader, found.cost, "money"), worked=money))
    return tuple(lines)


def _missing(said: Values, reader: Reader) -> tuple[Fraction, list[Line]]:
    """Give the yarn that is missing by weight, and how it came from a length where it did."""
    if have(said, "mass", "length"):
        raise CannotAnswer("length", "Say what is missing by weight or by length, not both.")
    if have(said, "mass"):
        return said["mass"], []
    if not have(said, "length"):
        raise CannotAnswer("mass", "Say what is missing: its weight, or its length and the yarn.")
    if not have(said, "grist"):
        raise CannotAnswer("grist", "A length needs its yarn, so that it can be weighed.")
    mass = yarn_count.mass_of_length(said["length"], said["grist"])
    worked = f"{say(reader, said['length'], 'distance')} at {say(reader, said['grist'], 'grist')}"
    return mass, [Line("Yarn missing", say(reader, mass, "mass"), worked=worked)]


def _mixture(said: Values, reader: Reader) -> tuple[Line, ...]:
    parts = [_priced(said, name) for name in YARNS if have(said, f"mass_{name}") or have(said, f"price_{name}")]
    found = cost.mixture(parts)
    shown = [(say(reader, mass, "mass"), say(reader, price, "price")) for mass, price in parts]
    mass, money = say(reader, found.mass, "mass"), say(reader, found.cost, "money")
    per = usual("price", reader.units).removeprefix("/")
    each = per if per[0].isdigit() else f"1 {per}"
    return (
        Line("Weight of all", mass, worked=" + ".join(mass for mass, _price in shown)),
        Line("They cost", money, worked=" + ".join(f"{mass} at {price}" for mass, price in shown)),
        Line("Price of the mixture", say(reader, found.price, "price"), worked=f"{money} ÷ {mass}, then for {each}"),
    )


def _priced(said: Values, name: str) -> tuple[Fraction, Fraction]:
    mass, price = said[f"mass_{name}"], said[f"price_{name}"]
    if mass is None:
        raise CannotAnswer(f"mass_{name}", "Say how much of it there is.")
    if price is None:
        raise CannotAnswer(f"price_{name}", "Say its price too, or 0 for a gift.")
    return mass, price


def _asks_of_mixture() -> tuple[Ask, ...]:
    found: list[Ask] = []
    for at, name in enumerate(YARNS):
        part, needed = f"{name.capitalize()} yarn", at == 0
        found += (
            Ask(f"mass_{name}", "Weight", "mass", part=part, needed=needed),
            Ask(f"price_{name}", "Price", "price", part=part, needed=needed, zero=True),
        )
    return tuple(found)


_PACKAGES = tuple((key, key.capitalize()) for key in USUAL_TARES)

YARN_QUESTIONS = (
    Question(
        "counts", "What is this count in the others?",
        "A yarn as its label names it, in every count system.",
        (GRIST,),
        ("count-of-tex", "tex-of-count", "read-grist",
         "yards-per-pound", "metres-per-kilogram"),
        _counts,
        (("grist", "20 cotton"),),
        "convert tex denier metric worsted linen lea woollen run cut silk grist number",
    ),
    Question(
        "folded", "What do these singles make when folded?",
        "Unequal threads twisted or wound together. The twist shortens them a little more; it is not counted.",
        (Ask("singles", "Singles", "singles", "Joined by plus signs, such as 16/1 cotton + 30/1 cotton."),),
        ("folded", "tex-of-count", "count-of-tex"),
        _folded,
        (("singles", "60 cotton + 40 cotton"),),
        "ply plies plied doubled twist resultant count strands together",
    ),
    Question(
        "package", "How much yarn is on this package?",
        "Cones differ; what an empty one weighs, between two bounds, says how sure the length is.",
        (
            Ask("gross", "Package on the scale", "mass"), GRIST,
            Ask("package", "It is a", "choice", choices=_PACKAGES),
            Ask("lightest", "Empty, at least", "mass", "What is usual when both are left empty.", needed=False,
                zero=True),
            Ask("heaviest", "Empty, at most", "mass", "The same as the least when an empty one was weighed.",
                needed=False, zero=True),
        ),
        ("package-length", "length-in-doubt", "length-of-mass"),
        _package,
        (("gross", "500 g"), ("grist", "8/2 cotton"), ("package", "cone")),
        "cone spool skein tube weigh scale tare left yards metres",
    ),
    Question(
        "buy", "How many packages to buy?",
        "What is missing, by weight or by length, in whole cones or skeins.",
        (
            Ask("mass", "Missing, by weight", "mass", needed=False, part="Yarn that is missing"),
            Ask("length", "Missing, by length", "distance", "With the yarn, instead of the weight.", needed=False,
                part="Yarn that is missing"),
            Ask("grist", "Yarn", "grist", "Such as 8/2 cotton or 3360 yd/lb.", needed=False,
                part="Yarn that is missing"),
            Ask("package", "Yarn on one", "mass", "Its core not counted.", part="The package"),
            Ask("price", "Price of one", "money", "In the studio’s own money.", needed=False, zero=True,
                part="The package"),
        ),
        ("packages-to-buy", "mass-of-length"),
        _buy,
        (("length", "2000 yd"), ("grist", "8/2 cotton"), ("package", "8 oz"), ("price", "9.50")),
        "cones skeins order shop cost price money bags",
    ),
    Question(
        "mixture", "What does a mixture cost?",
        "Several yarns used together, by weight: what all of it costs, and the price of the mixture.",
        _asks_of_mixture(),
        ("mixture",),
        _mixture,
        (("mass_first", "1.5 lb"), ("price_first", "4 /lb"), ("mass_second", "1.5 lb"), ("price_second", "8.50 /lb")),
        "price money blend mixed yarns",
    ),
)  # fmt: skip
