"""Services of the yarn room: written whole, or not at all."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from inventory.models import Package, Yarn
from inventory.shelf.services import PackageFacts, YarnFacts, correct_package, keep_yarn, receive_package
from tests.cast import trained_member
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db


def test_a_new_yarn_is_kept_in_its_labels_words():
    keep_yarn(facts=YarnFacts(name="16/2 linen", fibre="linen", grist_text="4838 m/kg"))
    assert Yarn.objects.values_list("name", "fibre", "grist_text").get() == ("16/2 linen", "linen", "4838 m/kg")


def test_a_changed_yarn_stays_the_same_row():
    yarn = a_yarn()
    keep_yarn(facts=YarnFacts(name="8/2 cotton", count_text="8/2 cotton", colour_name="weld"), yarn=yarn)
    assert Yarn.objects.values_list("pk", "colour_name").get() == (yarn.pk, "weld")


def test_a_changed_count_changes_the_tex():
    yarn = a_yarn()
    changed = keep_yarn(facts=YarnFacts(name="4/2 cotton", count_text="4/2 cotton"), yarn=yarn)
    assert changed.exact_tex == 2 * yarn.exact_tex


def test_a_yarn_that_cannot_be_read_is_not_kept():
    with pytest.raises(ValidationError):
        keep_yarn(facts=YarnFacts(name="8/2 cotton", count_text="eight over two"))
    assert not Yarn.objects.exists()


def test_a_received_package_stands_with_its_yarn():
    yarn = a_yarn()
    package = receive_package(yarn=yarn, facts=PackageFacts(gross_text="525 g", tare_text="25 g", dye_lot="21B"))
    assert list(yarn.packages.values_list("pk", "dye_lot")) == [(package.pk, "21B")]


def test_a_package_heavier_empty_than_full_is_not_received():
    with pytest.raises(ValidationError) as refused:
        receive_package(yarn=a_yarn(), facts=PackageFacts(gross_text="20 g", tare_text="25 g"))
    assert "tare_text" in refused.value.message_dict
    assert not Package.objects.exists()


def test_a_corrected_package_weighs_what_the_scale_shows_now():
    package = a_package()
    correct_package(package=package, facts=PackageFacts(gross_text="325 g", tare_text="25 g"), by=trained_member())
    assert Package.objects.get(pk=package.pk).net_g == 300


def test_a_tare_taken_back_is_zero_again():
    package = a_package()
    corrected = correct_package(package=package, facts=PackageFacts(gross_text="525 g"), by=trained_member())
    assert (corrected.package.tare_g, corrected.package.net_g) == (Decimal(0), 525)
