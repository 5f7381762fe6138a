"""What a yarn and a package may say about themselves."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from inventory.models import Package, Yarn
from studio.units import to_decimal
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db


def faults_of(thing):
    with pytest.raises(ValidationError) as refused:
        thing.full_clean()
    return refused.value.message_dict


def test_a_count_settles_the_tex():
    # 8/2 cotton holds 3360 yd/lb (a loom maker's published sett chart); by definition that is 147.6 tex.
    assert round(a_yarn().tex, 1) == Decimal("147.6")


def test_the_label_wins_over_the_count():
    yarn = a_yarn(count_text="8/2 cotton", grist_text="3000 yd/lb")
    assert yarn.exact_tex == a_yarn(count_text="", grist_text="3000 yd/lb").exact_tex


def test_a_count_that_is_only_a_trade_name_is_kept_beside_a_label():
    yarn = a_yarn(count_text="3/10 class", grist_text="2000 yd/lb")
    assert (yarn.count_text, yarn.count_tex) == ("3/10 class", None)


def test_the_stored_tex_is_the_exact_one_rounded():
    yarn = a_yarn(grist_text="4838 m/kg")
    yarn.refresh_from_db()
    assert yarn.tex == to_decimal(yarn.exact_tex)


def test_a_yarn_without_any_fineness_says_what_is_missing():
    sentence = "Give the count, or the yards per pound or metres per kilogram from the label."
    assert faults_of(Yarn(name="ends of cones")) == {"count_text": [sentence]}


def test_the_database_refuses_a_yarn_without_any_fineness():
    with pytest.raises(IntegrityError), transaction.atomic():
        Yarn.objects.create(name="ends of cones")


@pytest.mark.parametrize("text", ["many", "8", "-3 yd/lb", "8/0 cotton", "0 yd/lb"])
def test_a_bad_count_is_a_fault_of_its_own_field(text):
    assert set(faults_of(Yarn(name="8/2 cotton", count_text=text))) == {"count_text"}


def test_a_bad_label_is_a_fault_of_its_own_field():
    assert set(faults_of(Yarn(name="8/2 cotton", count_text="8/2 cotton", grist_text="3360 yd"))) == {"grist_text"}


@pytest.mark.parametrize("text", ["0 /in", "5000 /in", "28 kg", "a few"])
def test_bad_wraps_are_a_fault_of_their_own_field(text):
    assert set(faults_of(Yarn(name="8/2 cotton", count_text="8/2 cotton", wraps_text=text))) == {"wraps_text"}


def test_the_scales_words_lead_the_grams():
    package = a_package(gross_text="18.5 oz", tare_text="0.9 oz")
    # One avoirdupois ounce is 28.349523125 g by the agreement of 1959.
    assert package.net_g == Decimal("17.6") * Decimal("28.349523125")


def test_the_exact_grams_come_back_from_the_database():
    package = a_package(gross_text="38.47 oz", tare_text="1/3 oz")
    kept = Package.objects.get(pk=package.pk)
    assert (kept.gross_g, kept.tare_g) == (package.gross_g, package.tare_g)


def test_a_package_lighter_than_its_tare_is_a_fault_of_the_tare():
    package = Package(yarn=a_yarn(), gross_text="20 g", tare_text="1 oz")
    assert "tare_text" in faults_of(package)


def test_the_database_refuses_a_package_lighter_than_its_tare():
    with pytest.raises(IntegrityError), transaction.atomic():
        Package.objects.create(yarn=a_yarn(), gross_g=20, tare_g=25)


def test_a_tonne_is_refused():
    assert faults_of(Package(yarn=a_yarn(), gross_text="1001 kg"))["gross_text"] == [
        "No package weighs a tonne; look at the scale again."
    ]


def test_a_package_in_grams_without_words_stands():
    package = Package(yarn=a_yarn(), gross_g=Decimal(500), tare_g=Decimal(20))
    package.full_clean()
    assert package.net_by_scale_ug == 480_000_000
