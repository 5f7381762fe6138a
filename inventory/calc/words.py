"""The ledger's sentences: how much is there, how much was asked for, how much would be allowed."""

from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction

from inventory.calc.ledger import grams
from studio.units import KINDS, Units, in_units, rounded, usual

MOST_PLACES = 6


def mass_words(amount_ug: int, units: Units, places: int | None = None) -> str:
    """Write an amount for a reader, with as many decimals as is usual or as asked for.

    >>> mass_words(84_000_000, Units.METRIC), mass_words(28_349_523, Units.INCH)
    ('84 g', '1 oz')
    """
    shown = KINDS["mass"].places[units] if places is None else places
    return f"{rounded(in_units(grams(amount_ug), 'mass', units), shown)} {usual('mass', units)}"


def at_most(amount_ug: int, units: Units, places: int) -> str:
    """Write an amount that may be asked for: cut off, never rounded up past what is there.

    >>> at_most(84_990_000, Units.METRIC, 1), mass_words(84_990_000, Units.METRIC, 1)
    ('84.9 g', '85 g')
    """
    number = in_units(grams(amount_ug), "mass", units)
    cut = (Decimal(number.numerator) / Decimal(number.denominator)).quantize(Decimal(1).scaleb(-places), ROUND_FLOOR)
    return f"{rounded(Fraction(cut), places)} {usual('mass', units)}"


def told_apart(there_ug: int, asked_ug: int, units: Units) -> tuple[str, str]:
    """Write what there is and what was asked for with so many decimals that they do not read alike.

    >>> told_apart(499_990_000, 500_000_000, Units.METRIC)
    ('499.9 g', '500 g')
    >>> told_apart(500_000_000, 500_010_000, Units.METRIC)
    ('500 g', '500.01 g')
    """
    usual_places = KINDS["mass"].places[units]
    pair = ("", "")
    for places in range(usual_places, MOST_PLACES + 1):
        pair = at_most(there_ug, units, places), mass_words(asked_ug, units, places)
        if pair[0] != pair[1]:
            break
    return pair


def capitalised(sentence: str) -> str:
    """Begin a sentence with a capital letter and leave the rest as it is.

    >>> capitalised("cone 12 of 8/2 cotton, Quay blue")
    'Cone 12 of 8/2 cotton, Quay blue'
    """
    return sentence[:1].upper() + sentence[1:]


def with_unit(text: str, unit: str) -> str:
    """Add the unit a bare number was meant in, so that another reader's habits cannot change it.

    >>> with_unit("525", "g"), with_unit("18.5 oz", "g"), with_unit("", "g")
    ('525 g', '18.5 oz', '')
    """
    has_unit = any(sign.isalpha() or sign in '"″' for sign in text)
    return text if has_unit or not text else f"{text} {unit}"
