"""How cold a freezer is: checked against the fixed points of both scales."""

from fractions import Fraction

import pytest

from inventory.calc.cold import degrees_celsius


@pytest.mark.parametrize(
    ("said", "degrees"),
    [
        # Water freezes at 0 C and 32 F, and both scales meet at -40 (definition of the scales; NIST SP 811, B.8).
        ("32 F", 0), ("0 °C", 0), ("-40 F", -40), ("−40 °C", -40), ("- 4 °f", -20), ("minus 20 degrees C", -20),
        ("chest freezer, −24,5 °C", Fraction("-24.5")), ("0F", Fraction(-160, 9)), ("20 Celsius", 20),
        ("", None), ("-20", None), ("20 cm", None), ("x-20 C", None), ("-999 C", None), ("-1000 F", None),
        ("-20 °C\x00", -20), ("1" * 40 + " C", None),
    ],
)  # fmt: skip
def test_degrees_are_read_with_their_scale(said, degrees):
    assert degrees_celsius(said) == degrees
