"""Units: what people type, exactly, and what they read."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.units import (
    KINDS,
    LARGEST,
    UnitError,
    Units,
    exact_text,
    factor,
    in_units,
    read,
    read_number,
    registry,
    rounded,
    show,
    show_bare,
    to_decimal,
    usual,
)

EXACT = st.fractions(min_value=0, max_value=10**6, max_denominator=9999)
OUTSIDE = pint.UnitRegistry()
ASKED = [(kind.name, label) for kind in KINDS.values() for label in kind.labels]


def canonical(kind, text, units=None):
    return read(text, kind, units)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("12", Fraction(12)),
        ("12.5", Fraction(25, 2)),
        ("12,5", Fraction(25, 2)),
        ("12 1/2", Fraction(25, 2)),
        ("12½", Fraction(25, 2)),
        ("1/3", Fraction(1, 3)),
        ("⅔", Fraction(2, 3)),
        (" 0.1 ", Fraction(1, 10)),
    ],
)
def test_a_number_is_read_as_people_write_it(text, number):
    assert read_number(text) == number


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not_a_number"),
        ("twelve", "not_a_number"),
        ("1.2.3", "not_a_number"),
        ("-3", "not_a_number"),
        ("1e9", "not_a_number"),
        ("nan", "not_a_number"),
        ("٣", "not_a_number"),
        ("1/0", "not_a_number"),
        ("12 1/0", "not_a_number"),
        ("9999999999", "too_large"),
        ("9" * 20, "too_large"),
        ("9" * 20 + ".5", "too_large"),
        ("1" * 61, "too_long"),
    ],
)
def test_what_is_no_number_is_refused_with_a_reason(text, code):
    with pytest.raises(UnitError) as refused:
        read_number(text)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("1,200", "Is 1,200 in the thousands or a little over 1? Write 1200 or 1.2."),
        (" 12,345 ", "Is 12,345 in the thousands or a little over 12? Write 12345 or 12.345."),
        ("3,000", "Is 3,000 in the thousands or exactly 3? Write 3000 or 3."),
    ],
)
def test_a_comma_that_may_part_thousands_is_asked_about(text, question):
    with pytest.raises(UnitError) as refused:
        read_number(text)
    assert (refused.value.code, refused.value.message) == ("comma_unclear", question)


@pytest.mark.parametrize(
    ("text", "number"),
    [("0,125", Fraction(1, 8)), ("1.200", Fraction(6, 5)), ("7,25", Fraction(29, 4)), ("1234,500", Fraction(2469, 2))],
)
def test_a_comma_or_point_that_leaves_no_doubt_is_read(text, number):
    assert read_number(text) == number


# NIST Handbook 44, appendix C: 16 ounces are a pound of 453.59237 g; 2 lb 3 oz are 35 oz.
@pytest.mark.parametrize(
    ("text", "ounces"),
    [
        ("2 lb 3 oz", 35), ("2lb3oz", 35), ("2 lbs, 3 ounces", 35), ("2 lb. 3 oz.", 35), ("2 pounds and 3 oz", 35),
        ("0 lb 8 oz", 8), ("1 lb 3 1/2 oz", Fraction(39, 2)), ("1 lb 3½ oz", Fraction(39, 2)),
        ("1 LB 3,5 OZ", Fraction(39, 2)),
    ],
)  # fmt: skip
@pytest.mark.parametrize("units", [None, *Units])
def test_pounds_and_ounces_together_are_exact(text, ounces, units):
    assert read(text, "mass", units) == ounces * Fraction("453.59237") / 16


@pytest.mark.parametrize(
    "text", ["2 lb 3", "2.5 lb 3 oz", "3 oz 2 lb", "2 lb 3 oz 1 oz", "2 lb 3 g", "lb 3 oz", "2 lb x oz"]
)
def test_half_said_pounds_and_ounces_are_refused(text):
    with pytest.raises(UnitError):
        read(text, "mass", Units.INCH)


def test_pounds_and_ounces_are_a_mass_alone():
    with pytest.raises(UnitError):
        read("2 lb 3 oz", "length", Units.INCH)


def test_a_quantity_with_an_unclear_comma_is_refused():
    with pytest.raises(UnitError, match="Write 1200"):
        read("1,200 g", "mass", None)


# International yard and pound agreement, 1959: 1 in = 2.54 cm, 1 lb = 453.59237 g exactly.
@pytest.mark.parametrize(
    ("kind", "text", "wanted"),
    [
        ("length", "1 in", "2.54"),
        ("length", '12"', "30.48"),
        ("length", "36 inches", "91.44"),
        ("length", "2'", "60.96"),
        ("length", "2 ′", "60.96"),
        ("length", "1 yd", "91.44"),
        ("length", "1 m", "100"),
        ("length", "5 mm", "0.5"),
        ("distance", "10 yd", "914.4"),
        ("mass", "1 lb", "453.59237"),
        ("mass", "16 oz", "453.59237"),
        ("mass", "2 kg", "2000"),
        ("share", "12.5 %", "0.125"),
        ("share", "3 per cent", "0.03"),
        ("dents", "50 /10 cm", "5"),
        ("dents", "50/10cm", "5"),
        ("dents", "50/10", "5"),
        ("sett", "80/10 cm", "8"),
        ("density", "0.45 g/cm3", "0.45"),
    ],
)
def test_a_quantity_is_read_exactly(kind, text, wanted):
    assert canonical(kind, text) == Fraction(wanted)


def test_ends_to_the_inch_are_read_exactly():
    assert canonical("sett", "20 epi") == canonical("sett", "20 PER  inch") == Fraction(2000, 254)


@pytest.mark.parametrize("text", ["20 ends per inch", "20 ends/in", "20ends per in", "20 Ends Per Inch"])
def test_ends_may_be_named_beside_their_number(text):
    assert canonical("sett", text) == canonical("sett", "20 /in")


def test_ends_may_be_named_in_centimetres_too():
    assert canonical("sett", "8 ends per cm") == canonical("sett", "80 ends/10 cm") == 8


@pytest.mark.parametrize("text", ["-4", "−4 in", " - 4 cm"])
def test_less_than_nothing_is_told_so(text):
    with pytest.raises(UnitError, match="must be more than nothing") as refused:
        read(text, "length", Units.INCH)
    assert refused.value.code == "not_above_zero"


@pytest.mark.parametrize(("kind", "label"), ASKED)
def test_every_label_means_what_the_registry_says(kind, label):
    """The outside reference is pint's default registry, asked anew in floats."""
    known = KINDS[kind]
    outside = OUTSIDE.Quantity(3, known.labels[label]).to(known.canonical).magnitude
    assert float(canonical(kind, f"3 {label}")) == pytest.approx(outside, rel=1e-12)


@pytest.mark.parametrize(("units", "wanted"), [(Units.INCH, Fraction("5.08")), (Units.METRIC, Fraction(2))])
def test_a_bare_number_takes_the_readers_unit(units, wanted):
    assert canonical("length", "2", units) == wanted


@pytest.mark.parametrize(
    ("kind", "text", "code"),
    [
        ("length", "2", "unit_missing"),
        ("length", "2 ells", "unit_unknown"),
        ("length", "2 g", "unit_unknown"),
        ("length", "in", "not_a_number"),
        ("length", "", "not_a_number"),
        ("length", "1.2.3 in", "not_a_number"),
        ("sett", "20 in", "unit_unknown"),
        ("length", "2 in" + " " * 60, "too_long"),
    ],
)
def test_what_is_no_quantity_is_refused_with_a_reason(kind, text, code):
    with pytest.raises(UnitError) as refused:
        canonical(kind, text)
    assert refused.value.code == code


@given(text=st.text(alphabet="0123456789.,/ ½incmydbé%\n\x00-e²٣", max_size=70), kind=st.sampled_from(sorted(KINDS)))
def test_any_text_gives_a_bounded_number_or_a_sentence(text, kind):
    try:
        value, sentence = read(text, kind, Units.INCH), ""
    except UnitError as refused:
        value, sentence = Fraction(-1), refused.message
    assert sentence.endswith(".") or 0 <= value <= LARGEST * 10**6


@given(number=EXACT, kind=st.sampled_from(sorted(KINDS)), units=st.sampled_from(Units))
def test_what_was_typed_comes_back_exactly(number, kind, units):
    """A number in a form is read, stored, written again and read again: the same to the last digit."""
    known = KINDS[kind]
    value = number * factor(known.labels[known.usual[units]], known.canonical)
    assert read(exact_text(value, kind, units), kind, units) == value


@given(sett=st.integers(4, 40), inches=st.integers(4, 60))
def test_whole_setts_times_whole_widths_stay_whole(sett, inches):
    """The 2 109 cases of which 931 went wrong through floats."""
    assert canonical("sett", f"{sett} /in") * canonical("length", f"{inches} in") == sett * inches


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (Fraction(1412, 100), 2, "14.12"),
        (Fraction(1, 8), 2, "0.13"),
        (Fraction(-1, 8), 2, "−0.13"),
        (Fraction(2), 2, "2"),
        (Fraction(100), 0, "100"),
        (Fraction(1, 1000), 2, "0"),
        (Fraction(-1, 1000), 2, "0"),
        (0.1, 3, "0.1"),
        (7, 1, "7"),
    ],
)
def test_numbers_are_rounded_halves_up_without_needless_noughts(value, places, text):
    assert rounded(value, places) == text


@given(number=st.integers(1, 10**5), kind=st.sampled_from(sorted(KINDS)), units=st.sampled_from(Units))
def test_what_is_shown_may_be_typed(number, kind, units):
    """Numbers of as many places as are shown, so that nothing is lost by rounding."""
    known = KINDS[kind]
    value = Fraction(number, 10 ** known.places[units]) * factor(known.labels[known.usual[units]], known.canonical)
    assert read(show(value, kind, units), kind, None) == value


@pytest.mark.parametrize(("typed", "per_gram"), [("2/100 g", "0.02"), ("2.40 /100g", "0.024"), ("1/100 G", "0.01")])
def test_a_price_of_a_hundred_grams_is_no_fraction(typed, per_gram):
    assert read(typed, "price", None) == Fraction(per_gram)


@pytest.mark.parametrize(
    ("kind", "value", "inches", "metric"),
    [
        ("length", Fraction(254, 10), "10 in", "25.4 cm"),
        ("distance", Fraction(9144, 100), "1 yd", "0.91 m"),
        ("sett", Fraction(1000, 254), "10/in", "3.94/cm"),
        ("dents", Fraction(5), "12.7/in", "50/10 cm"),
        ("share", Fraction(1, 3), "33.33 %", "33.33 %"),
    ],
)
def test_a_quantity_is_shown_in_the_readers_unit(kind, value, inches, metric):
    assert (show(value, kind, Units.INCH), show(value, kind, Units.METRIC)) == (inches, metric)


def test_a_quantity_may_be_shown_without_its_unit():
    assert show_bare(Fraction(254, 10), "length", Units.INCH) == "10"


def test_a_third_is_kept_as_a_fraction():
    assert exact_text(Fraction(254 * 4, 300), "length", Units.INCH) == "1 1/3"


@given(number=EXACT, kind=st.sampled_from(sorted(KINDS)), units=st.sampled_from(Units))
def test_changing_units_and_back_changes_nothing(number, kind, units):
    known = KINDS[kind]
    back = in_units(number, kind, units) * factor(known.labels[known.usual[units]], known.canonical)
    assert back == number


def test_a_column_keeps_six_places():
    assert to_decimal(Fraction(1, 3)) == Decimal("0.333333")


def test_the_registry_is_exact():
    assert registry().Quantity(Fraction(1), "inch").to("meter").magnitude == Fraction(254, 10_000)


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("kind", KINDS)
def test_the_unit_shown_may_also_be_typed(kind, units):
    assert usual(kind, units) in KINDS[kind].labels
