"""What a label says about a yarn's thickness, taken apart: a length for a mass, or counts with their plies.

Only words and digits are sorted here; `inventory.calc.count` turns them into tex. Every text gives an answer or a
`UnitError` with a sentence, and no text takes long.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from inventory.calc.count_systems import PER_MASS, SYSTEM_WORDS, SYSTEMS
from studio.units import LONGEST_TEXT, UnitError, Units, read_number

EXAMPLES = "8/2 cotton, Nm 30/2, 3360 yd/lb, 6770 m/kg or 147.6 tex"
MOST_PLIES = 99
SURELY_PLIES = 4
"""A smaller number up to this is the plies; above it only the order of writing can tell."""

_WRITTEN_BOTH_WAYS = frozenset({"worsted", "metric"})
_THOUSANDS = re.compile(r"\d{1,3}(?:[., ]\d{3}){1,2}", re.ASCII)
_NUMBER = r"\d{1,3}(?:[., ]\d{3}){1,2}(?!\d)|\d[\d.,]{0,15}(?:\s\d{1,4}/\d{1,4})?"
_MEASURED = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>[^\d\s].{{0,30}})?", re.ASCII)
_COUNTED = re.compile(
    rf"(?P<before>[a-z][a-z ]{{0,30}})?(?:(?P<one>\d{{1,4}}(?:[.,]\d{{1,3}})?)/(?P<two>\d{{1,4}})"
    rf"(?:/(?P<three>\d{{1,2}}))?|(?P<alone>{_NUMBER}))"
    r"(?:'?s)? ?(?P<after>[a-z][a-z ]{0,30})?",
    re.ASCII,
)


class Thread(NamedTuple):
    """One thread of a yarn: what `count.tex_of_count` asks for."""

    number: Fraction
    system: str
    plies: int


def _plain(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise UnitError("too_long", "That is too long to be a yarn count.")
    return " ".join(text.lower().split())


def tex_of_label(text: str, units: Units | None) -> Fraction | None:
    """Read a length for a mass, such as 3360 yd/lb, as tex; None when the label speaks otherwise.

    Labels print thousands in groups, 3,360 yd/lb, and no yarn is sold by thousandths of a yard. So here alone a comma
    before three digits parts thousands, where `studio.units.read_number` asks what is meant.
    """
    found = _MEASURED.fullmatch(_plain(text))
    if not found:
        return None
    unit = (found["unit"] or "").strip()
    if not unit and units is not None:
        unit = "yd/lb" if units is Units.INCH else "m/kg"
    if unit not in PER_MASS:
        return None
    grouped = _THOUSANDS.fullmatch(found["number"])
    value = read_number(re.sub(r"[., ]", "", found["number"]) if grouped else found["number"])
    if value == 0:
        raise UnitError("not_above_zero", "A yarn needs a number above zero.")
    return PER_MASS[unit] / value


def threads_of_label(text: str) -> tuple[Thread, ...]:
    """Read counts joined by plus signs; a thread without a system takes that of its neighbour on the right."""
    threads: list[Thread] = []
    word = ""
    for part in reversed(_plain(text).split("+")):
        thread, word = _thread(part.strip(), word)
        threads.insert(0, thread)
    return tuple(threads)


def _thread(text: str, fallback: str) -> tuple[Thread, str]:
    found = _COUNTED.fullmatch(text)
    if not found:
        raise UnitError("not_a_count", f"“{text[:20]}” is not a yarn count; write it like {EXAMPLES}.")
    word = _system_word((found["before"] or "").strip(), (found["after"] or "").strip(), fallback)
    system = SYSTEM_WORDS[word]
    if found["alone"]:
        count, plies = read_number(found["alone"]), 1
    elif found["three"]:
        count, plies = _count_of_cabled(found.group("one", "two", "three"), system)
    else:
        count, plies = _count_and_plies(found["one"], found["two"], system)
    if count <= 0 or not 1 <= plies <= MOST_PLIES:
        raise UnitError("not_above_zero", f"A count is above zero and has 1 to {MOST_PLIES} plies.")
    return Thread(count, system, plies), word


def _system_word(before: str, after: str, fallback: str) -> str:
    if before and after and before != after:
        raise UnitError("not_a_count", f"“{before}” and “{after}” are two systems; name one, as in {EXAMPLES}.")
    word = before or after or fallback
    if word == "silk":
        raise UnitError(
            "silk_unclear",
            "Silk is numbered in many ways: write “spun silk”, “dram silk”, “old silk denier” or “Nm”, or give m/kg.",
        )
    if word not in SYSTEM_WORDS:
        named = f"“{word[:20]}” is not a count system we know" if word else "Say the count system"
        raise UnitError("system_unknown", f"{named}; write it like {EXAMPLES}.")
    return word


def _count_and_plies(one: str, two: str, system: str) -> tuple[Fraction, int]:
    first, second = read_number(one), int(two)
    one_is_small = first <= SURELY_PLIES or second <= SURELY_PLIES
    size_tells = one_is_small or first == second or first.denominator > 1
    if SYSTEMS[system].direct or (system in _WRITTEN_BOTH_WAYS and not size_tells):
        message = f"“{one}/{two}” does not say which number is the plies; give yd/lb or m/kg."
        raise UnitError("plies_unclear", message)
    if size_tells and first < second and first.denominator == 1:
        return Fraction(second), int(first)
    return first, second


def _count_of_cabled(numbers: tuple[str, ...], system: str) -> tuple[Fraction, int]:
    """Read 12/2/2, two threads of two plies twisted together: the count at one end, and as many plies as both make."""
    first, middle, last = (read_number(number) for number in numbers)
    is_last = max(first, middle) <= SURELY_PLIES < last
    told = is_last or max(middle, last) <= SURELY_PLIES
    if SYSTEMS[system].direct or (system in _WRITTEN_BOTH_WAYS and not told):
        message = f"“{'/'.join(numbers)}” does not say which number is the count; give yd/lb or m/kg."
        raise UnitError("plies_unclear", message)
    return (last, int(first * middle)) if is_last and first.denominator == 1 else (first, int(middle * last))
