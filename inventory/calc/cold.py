"""How cold a freezer is, from what people write: degrees with C or F, and any words round them."""

from __future__ import annotations

import re
from fractions import Fraction

from studio.quantities import Celsius

COLD_ENOUGH_C = Fraction(-20)
"""At -20 C or below a week of freezing counts (a textile museum's pest brochure; Canadian conservation advice)."""
COLDEST_C = Fraction(-100)
WARMEST_C = Fraction(60)
_DEGREES = re.compile(
    r"(?<![\w.,\-\u2212\u2013])(?P<below>[-\u2212\u2013]\s*|minus\s+)?(?P<whole>\d{1,4})(?:[.,](?P<part>\d{1,4}))?"
    r"\s*(?:[\u00b0\u00ba]|degrees?|deg\.?)?\s*(?P<scale>C|F|celsius|fahrenheit)\b",
    re.ASCII | re.IGNORECASE,
)


def degrees_celsius(text: str) -> Celsius | None:
    """Give the temperature that words name.

    None where the words hold no number with C or F, or one that no freezer has.
    Source: Fahrenheit by its definition, 5/9 of what is above 32.

    >>> degrees_celsius("−20 °C, chest freezer"), degrees_celsius("minus 4 F"), degrees_celsius("-999")
    (Fraction(-20, 1), Fraction(-20, 1), None)
    """
    found = _DEGREES.search(text)
    if found is None:
        return None
    number = Fraction(f"{found['whole']}.{found['part'] or 0}") * (-1 if found["below"] else 1)
    degrees = number if found["scale"][0] in "cC" else (number - 32) * Fraction(5, 9)
    return degrees if COLDEST_C <= degrees <= WARMEST_C else None
