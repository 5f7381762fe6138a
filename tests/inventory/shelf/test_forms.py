"""What is typed in the yarn room comes back as typed, with the unit it was meant in."""

from decimal import Decimal

import pytest

from inventory.models import Package
from inventory.shelf.filters import ShelfFilter
from inventory.shelf.forms import PackageForm, YarnForm, with_unit
from studio.units import Units
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db  # the model asks the database about its constraints

YARN = {"name": "8/2 cotton", "fibre": "cotton", "count_text": "8/2 cotton", "colour": "#8A8A8A"}
PACKAGE = {"kind": "cone", "gross_text": "525 g", "tare_text": "25 g", "source": "bought"}


def yarn_form(units=Units.INCH, **typed):
    return YarnForm({**YARN, **typed}, units=units)


def package_form(units=Units.INCH, **typed):
    return PackageForm({**PACKAGE, **typed}, units=units)


@pytest.mark.parametrize(
    ("typed", "kept"), [("12", "12 oz"), ("12 1/2", "12 1/2 oz"), ("12½", "12½ oz"), ("350 g", "350 g"), ("", "")]
)
def test_a_bare_number_is_kept_with_the_unit_it_was_meant_in(typed, kept):
    assert with_unit(typed, "oz") == kept


@pytest.mark.parametrize(("units", "kept"), [(Units.INCH, "3360 yd/lb"), (Units.METRIC, "3360 m/kg")])
def test_a_bare_length_in_a_weight_takes_the_readers_unit(units, kept):
    form = yarn_form(units, grist_text="3360")
    assert form.is_valid(), form.errors
    assert form.cleaned_data["grist_text"] == kept


def test_a_colour_is_kept_in_small_letters():
    form = yarn_form()
    assert form.is_valid(), form.errors
    assert form.cleaned_data["colour"] == "#8a8a8a"


def test_a_colour_in_words_is_a_fault_of_its_field():
    assert yarn_form(colour="madder").errors == {"colour": ["Give the colour as # and six hexadecimal digits."]}


def test_a_comma_is_as_good_as_a_point():
    form = yarn_form(price_per_100g="2,40", wound_density="0,45")
    assert form.is_valid(), form.errors
    assert (form.cleaned_data["price_per_100g"], form.cleaned_data["wound_density"]) == (
        Decimal("2.40"),
        Decimal("0.45"),
    )


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("name", ""),
        ("count_text", "eight over two"),
        ("grist_text", "3360 oz"),
        ("wraps_text", "0"),
        ("wound_density", "heavy"),
        ("price_per_100g", "-1"),
    ],
)
def test_each_fault_of_a_yarn_is_one_sentence_beside_its_field(name, typed):
    errors = yarn_form(**{name: typed}).errors
    assert {field: len(sentences) for field, sentences in errors.items()} == {name: 1}


@pytest.mark.parametrize(
    ("name", "typed"), [("gross_text", ""), ("gross_text", "heavy"), ("tare_text", "1 yd"), ("tare_text", "600 g")]
)
def test_each_fault_of_a_package_is_one_sentence_beside_its_field(name, typed):
    errors = package_form(**{name: typed}).errors
    assert {field: len(sentences) for field, sentences in errors.items()} == {name: 1}


def test_bare_weights_are_in_the_readers_unit():
    form = package_form(Units.METRIC, gross_text="525", tare_text="25")
    assert form.is_valid(), form.errors
    assert form.cleaned_data["gross_text"] == "525 g"


def test_words_come_back_as_typed_to_a_reader_of_other_units():
    form = PackageForm(instance=a_package(gross_text="38 1/3 oz"), units=Units.METRIC)
    assert form["gross_text"].value() == "38 1/3 oz"


def test_a_weight_without_words_is_shown_in_the_readers_unit():
    package = Package.objects.create(yarn=a_yarn(), gross_g=Decimal("28.349523125"), tare_g=0)
    assert PackageForm(instance=package, units=Units.INCH)["gross_text"].value() == "1"


def test_a_filter_keeps_what_it_understands():
    wanted = ShelfFilter({"words": "madder", "fibre": "granite"}).criteria()
    assert wanted == {"words": "madder", "colour": "", "weight": "", "bin_name": "", "retired": False}


@pytest.mark.parametrize(
    ("typed", "kept", "amount"), [("2", "2 oz", 56_699_046), ("1 kg", "1 kg", 10**9), ("", "", None)]
)
def test_a_least_stock_takes_the_members_unit_and_stays_as_typed(typed, kept, amount):
    form = YarnForm({**YARN, "keep_at_least_text": typed}, units=Units.INCH)
    assert form.is_valid(), form.errors
    # 2 oz are 2 times 28.349523125 g (international pound of 1959), to the whole microgram.
    assert (form.instance.keep_at_least_text, form.instance.keep_at_least_ug) == (kept, amount)


@pytest.mark.parametrize("typed", ["lots", "-2 oz", "500 m", "0 g", "9999 kg"])
def test_a_least_stock_that_is_no_weight_is_said_beside_its_box(typed):
    form = YarnForm({**YARN, "keep_at_least_text": typed}, units=Units.INCH)
    assert list(form.errors) == ["keep_at_least_text"]
    assert f'value="{typed}"' in str(form["keep_at_least_text"])


@pytest.mark.parametrize(
    ("day", "said"),
    [("0001-01-01", "No package here came before 1900"), ("1899-12-31", "before 1900"), ("9999-12-31", "not come yet")],
)
def test_a_day_nothing_can_have_come_on_is_said_beside_its_box(day, said):
    form = package_form(received_on=day)
    assert said in form.errors["received_on"][0]
    assert form["received_on"].value() == day


def test_an_old_day_of_the_book_stands_in_nobodys_way():
    package = a_package()
    Package.objects.filter(pk=package.pk).update(received_on="0001-01-01")
    package.refresh_from_db()
    form = PackageForm({**PACKAGE, "received_on": "0001-01-01"}, instance=package, units=Units.METRIC)
    assert form.is_valid(), form.errors
    assert package_form(received_on="1900-01-01").is_valid()
