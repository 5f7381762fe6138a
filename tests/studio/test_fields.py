"""What weavers type, exactly.

Inch and yard are those of the international yard and pound agreement of 1959 (1 yd = 0.9144 m exactly).
"""

from contextlib import suppress
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from studio.fields import HeddlesField, NumberField, QuantityField, text_for
from studio.units import Units


def a_field(kind="length", units=Units.INCH, **known):
    made = QuantityField(kind, **known)
    made.units = units
    return made


@pytest.mark.parametrize(
    ("typed", "units", "kept"),
    [
        ("36", Units.INCH, "91.44"),
        ("36 1/2", Units.INCH, "92.71"),
        ("36 in", Units.METRIC, "91.44"),
        ("91.44 cm", Units.INCH, "91.44"),
        ("90", Units.METRIC, "90"),
        ("90,5", Units.METRIC, "90.5"),
        ("1 yd", Units.METRIC, "91.44"),
        ("1/64", Units.INCH, "0.039688"),
    ],
)
def test_a_length_is_read(typed, units, kept):
    assert a_field(units=units).clean(typed) == Decimal(kept)


def test_an_empty_box_that_may_be_empty_gives_nothing():
    assert a_field(required=False).clean(" ") is None


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("wide", "is not a number"),
        ("36 ells", "is not a unit of length"),
        ("0", "more than 0"),
        ("1/0", "below the line"),
        ("-3", "more than nothing"),
        ("9" * 61, "at most 60"),
        ("900 in", "check the unit"),
        ("", "required"),
        ("3 in\x00", "Null characters"),
    ],
)
def test_a_mistake_is_said_in_a_sentence(typed, sentence):
    with pytest.raises(ValidationError, match=sentence):
        a_field(most=Decimal(2000)).clean(typed)


def test_zero_is_let_through_where_it_makes_sense():
    assert a_field(above_zero=False).clean("0") == 0


@pytest.mark.parametrize(
    ("kept", "kind", "units", "shown"),
    [
        ("91.44", "length", Units.INCH, "36 in"),
        ("91.44", "length", Units.METRIC, "91.44 cm"),
        ("91.44", "distance", Units.INCH, "1 yd"),
        ("5", "length", Units.INCH, "5 cm"),
        ("0.846667", "length", Units.INCH, "1/3 in"),
        ("3.386667", "length", Units.INCH, "1 1/3 in"),
        ("0.003", "share", Units.INCH, "0.3 %"),
        ("0", "length", Units.INCH, "0 in"),
    ],
)
def test_a_kept_number_is_shown_as_people_write_it(kept, kind, units, shown):
    assert text_for(Decimal(kept), kind, units) == shown


@given(st.integers(1, 10**9), st.sampled_from(["length", "distance", "depth"]), st.sampled_from(list(Units)))
def test_a_shown_number_sent_back_is_the_same_number(millionths, kind, units):
    kept = Decimal(millionths) / 10**6
    assert a_field(kind, units).clean(text_for(kept, kind, units)) == kept


@given(st.integers(0, 200), st.integers(0, 63), st.sampled_from([2, 3, 4, 8, 16, 32, 64]))
def test_a_rulers_fraction_comes_back_to_an_inch_reader(whole, top, low):
    kept = a_field(above_zero=False).clean(f"{whole} {top % low}/{low}")
    assert text_for(kept, "length", Units.INCH).endswith(" in")


def test_the_box_keeps_the_words_that_were_typed():
    assert a_field().prepare_value("wide") == "wide"


def test_a_number_typed_another_way_is_no_change():
    assert not a_field().has_changed(Decimal("91.44"), "1 yd")


@pytest.mark.parametrize("typed", ["37", "wide", ""])
def test_anything_else_is_a_change(typed):
    assert a_field().has_changed(Decimal("91.44"), typed)


@pytest.mark.parametrize(
    ("typed", "counts"),
    [("100, 100, 100, 100", [100] * 4), ("50 60", [50, 60]), ("7;8", [7, 8]), ("", []), ("0, 12", [0, 12])],
)
def test_heddles_are_read_shaft_by_shaft(typed, counts):
    assert HeddlesField(required=False).clean(typed) == counts


@pytest.mark.parametrize("typed", ["many", "100, -1", "1.5", "10001", "9" * 30, "\uff11\uff10"])
def test_heddles_that_are_no_counts_are_refused(typed):
    with pytest.raises(ValidationError):
        HeddlesField(required=False).clean(typed)


@pytest.mark.parametrize(("typed", "kept"), [("12", "12"), ("7 1/2", "7.5"), ("12,5", "12.5")])
def test_dents_are_read(typed, kept):
    assert NumberField().clean(typed) == Decimal(kept)


@pytest.mark.parametrize("typed", ["0", "1/3", "10000", "ten"])
def test_dents_that_cannot_be_kept_are_refused(typed):
    with pytest.raises(ValidationError):
        NumberField().clean(typed)


@given(st.text(max_size=80), st.sampled_from(["length", "distance", "share", "dents"]))
def test_no_text_is_a_fault(text, kind):
    for box in (a_field(kind), NumberField(), HeddlesField()):
        with suppress(ValidationError):
            box.clean(text)
