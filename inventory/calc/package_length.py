"""What is on a package, said honestly: the cone inside is seldom weighed, and cones differ by many yards of yarn."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from inventory.calc.count import length_of_mass

ZERO = Fraction(0)
OUNCE = Fraction("453.59237") / 16


@dataclass(frozen=True, slots=True)
class PackageLength:
    """Length of yarn on one package, or on several together.

    Attributes
    ----------
    low : Fraction
        With the heaviest cone: what can be counted on. [cm]
    likely : Fraction
        With a cone of middling weight. [cm]
    high : Fraction
        With the lightest cone. [cm]
    """

    low: Fraction
    likely: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True)
class UsualTare:
    """Weights seen of one kind of empty package.

    Attributes
    ----------
    lightest : Fraction
        Lightest seen. [g]
    heaviest : Fraction
        Heaviest seen. [g]
    source : str
        Where they were read. [-]
    """

    lightest: Fraction
    heaviest: Fraction
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


def package_length(gross: Fraction, lightest: Fraction, heaviest: Fraction, tex: Fraction) -> PackageLength:
    """Give the yarn on a package whose empty weight is known only between two bounds.

    Parameters
    ----------
    gross : Fraction
        Package on the scale, with its cone. [g]
    lightest : Fraction
        Least its cone can weigh. [g]
    heaviest : Fraction
        Most its cone can weigh; the same as `lightest` where an empty one was weighed. [g]
    tex : Fraction
        Mass per length of the yarn. [tex]

    Returns
    -------
    length : PackageLength
        Yarn at least, likely and at most; never below none. [cm]

    Raises
    ------
    ValueError
        If `tex` is not above zero, `lightest` is below zero or above `heaviest`, or `gross` is below `lightest`.

    Notes
    -----
    Length is mass over tex; the bounds are exact. A cone heavier than the whole package is impossible, so the low
    end stops at none. Plain arithmetic; weights of empty packages stand in `USUAL_TARES`.

    Examples
    --------
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


def length_in_doubt(lightest: Fraction, heaviest: Fraction, tex: Fraction) -> Fraction:
    """Give the length by which two tares differ: what is gained by weighing an empty one.

    Parameters
    ----------
    lightest : Fraction
        Least the empty package can weigh. [g]
    heaviest : Fraction
        Most it can weigh. [g]
    tex : Fraction
        Mass per length of the yarn. [tex]

    Returns
    -------
    length : Fraction
        Yarn that may or may not be there. [cm]

    Raises
    ------
    ValueError
        If `tex` is not above zero, or `lightest` is below zero or above `heaviest`.

    Notes
    -----
    Plain arithmetic, so no source is cited.

    Examples
    --------
    Taking nothing off for a 57 g core counts some 420 yards of 8/2 cotton that are not there:

    >>> round(length_in_doubt(Fraction(0), Fraction(57), Fraction(496055, 3360)) / Fraction(9144, 100))
    422
    """
    if not 0 <= lightest <= heaviest:
        raise ValueError(f"lightest {lightest} must not be below zero nor above heaviest {heaviest}")
    return length_of_mass(heaviest - lightest, tex)


def together(lengths: Iterable[PackageLength]) -> PackageLength:
    """Add the yarn of several packages.

    Parameters
    ----------
    lengths : Iterable[PackageLength]
        Each package. [cm]

    Returns
    -------
    length : PackageLength
        All of them; none when there are no packages. [cm]

    Notes
    -----
    Bounds are added to bounds: cones of one kind are often all light or all heavy, so their errors need not cancel.
    Plain arithmetic.

    Examples
    --------
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
