"""What is on a package, said honestly: the cone inside is seldom weighed, and cones differ by many yards of yarn."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from inventory.calc.count import length_of_mass
from studio.quantities import Cm, Grams, Tex

ZERO = Fraction(0)
OUNCE = Fraction("453.59237") / 16


@dataclass(frozen=True, slots=True)
class PackageLength:
    """Length of yarn on one package, or on several together."""

    low: Cm  # with the heaviest cone: what can be counted on
    likely: Cm  # with a cone of middling weight
    high: Cm  # with the lightest cone


@dataclass(frozen=True, slots=True)
class UsualTare:
    """Weights seen of one kind of empty package."""

    lightest: Grams
    heaviest: Grams
    source: str


_TEACHER = "A weaving teacher's page on yarn on hand (1 May 2020)"
_NO_CORE = "Plain arithmetic: nothing is inside."

USUAL_TARES: Mapping[str, UsualTare] = MappingProxyType({
    "cone": UsualTare(Fraction(12), 2 * OUNCE, f"{_TEACHER}: 12 and 25 g; a weaving magazine's answers: 1 to 2 oz"),
    "tube": UsualTare(Fraction(13), Fraction(16), f"{_TEACHER}: cardboard, 13 to 16 g"),
    "spool": UsualTare(Fraction(6), Fraction(16), f"{_TEACHER}: plastic 6 to 9 g, cardboard 13 to 16 g"),
    "pirn": UsualTare(Fraction(16), Fraction(16), f"{_TEACHER}: wood, 16 g"),
    "skein": UsualTare(ZERO, ZERO, _NO_CORE),
    "ball": UsualTare(ZERO, ZERO, _NO_CORE),
})  # fmt: skip
"""Empty packages by kind. The sources disagree by a factor of four for cones, so both ends are kept."""


def package_length(gross: Grams, lightest: Grams, heaviest: Grams, tex: Tex) -> PackageLength:
    """Give the yarn on a package whose empty weight is known only between two bounds.

    `gross` is with the cone; both bounds of the cone are the same where an empty one was weighed. A cone heavier than
    the whole package is impossible, so the low end stops at none. Weights of empty packages stand in `USUAL_TARES`.
    Source: plain arithmetic. Raises ValueError if `tex` is not above zero, `lightest` is below zero or above
    `heaviest`, or `gross` is below `lightest`.

    A cone of 500 g of 8/2 cotton, its core between 12 and 57 g, in yards:
    >>> found = package_length(Fraction(500), Fraction(12), Fraction(57), Fraction(496055, 3360))
    >>> [round(length / Fraction(9144, 100)) for length in (found.low, found.likely, found.high)]
    [3282, 3448, 3615]
    """
    if not 0 <= lightest <= heaviest or gross < lightest:
        raise ValueError(f"gross {gross}, lightest {lightest} and heaviest {heaviest} must rise from tare to gross")
    tares = (heaviest, (lightest + heaviest) / 2, lightest)
    low, likely, high = (length_of_mass(max(ZERO, gross - tare), tex) for tare in tares)
    return PackageLength(low, likely, high)


def length_in_doubt(lightest: Grams, heaviest: Grams, tex: Tex) -> Cm:
    """Give the length by which two tares differ: what is gained by weighing an empty one.

    Source: plain arithmetic. Raises ValueError if `tex` is not above zero, or `lightest` is below zero or above
    `heaviest`.

    Taking nothing off for a 57 g core counts some 420 yards of 8/2 cotton that are not there:
    >>> round(length_in_doubt(Fraction(0), Fraction(57), Fraction(496055, 3360)) / Fraction(9144, 100))
    422
    """
    if not 0 <= lightest <= heaviest:
        raise ValueError(f"lightest {lightest} must not be below zero nor above heaviest {heaviest}")
    return length_of_mass(heaviest - lightest, tex)


def together(lengths: Iterable[PackageLength]) -> PackageLength:
    """Add the yarn of several packages.

    Bounds are added to bounds: cones of one kind are often all light or all heavy, so their errors need not cancel.
    Source: plain arithmetic.

    >>> one = PackageLength(Fraction(90), Fraction(100), Fraction(110))
    >>> together([one, one]).low
    Fraction(180, 1)
    """
    kept = tuple(lengths)
    return PackageLength(
        sum((one.low for one in kept), ZERO),
        sum((one.likely for one in kept), ZERO),
        sum((one.high for one in kept), ZERO),
    )
