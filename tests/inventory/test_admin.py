"""Behind the counter the same rules hold: what a label says settles the tex, and faults stand beside their field."""

import pytest
from django.contrib.auth import get_user_model
from django.test import Client
from django.urls import reverse

from inventory.intake.services import weigh_empty
from inventory.models import Move, Package, SetAside, Yarn
from tests.cast import new_member
from tests.inventory.stock import a_package, a_yarn, promise

pytestmark = pytest.mark.django_db
YARN = {"name": "8/2 cotton", "fibre": "cotton", "count_text": "8/2 cotton", "colour": "#efe5cf"}


@pytest.fixture
def counter():
    browser = Client()
    browser.force_login(get_user_model().objects.create_superuser("keeper"))
    return browser


def test_a_yarn_added_there_has_its_tex(counter):
    counter.post(reverse("admin:inventory_yarn_add"), YARN)
    assert Yarn.objects.get().tex == a_yarn().tex


def test_a_bad_count_there_is_a_sentence_and_no_yarn(counter):
    answer = counter.post(reverse("admin:inventory_yarn_add"), {**YARN, "count_text": "eight"})
    assert "is not a yarn count" in answer.content.decode()
    assert not Yarn.objects.exists()


def test_a_package_added_there_is_weighed(counter):
    typed = {"yarn": a_yarn().pk, "kind": "cone", "gross_text": "525 g", "tare_text": "25 g", "source": "donated"}
    counter.post(reverse("admin:inventory_package_add"), typed)
    assert Package.objects.get().net_g == 500


def test_a_package_added_there_has_its_first_move(counter):
    typed = {"yarn": a_yarn().pk, "kind": "cone", "gross_text": "525 g", "tare_text": "25 g", "source": "donated"}
    counter.post(reverse("admin:inventory_package_add"), typed)
    package = Package.objects.get()
    assert list(package.moves.values_list("kind", "on_hand_ug")) == [("receive", 500_000_000)]
    assert (package.source, package.on_hand_ug) == ("donated", 500_000_000)


def test_weights_of_a_package_that_is_there_are_not_typed_there(counter):
    package = a_package()
    address = reverse("admin:inventory_package_change", args=[package.pk])
    typed = {"yarn": package.yarn_id, "kind": "tube", "gross_text": "1 g", "on_hand_ug": 7, "source": "other"}
    assert counter.post(address, typed).status_code == 302
    kept = Package.objects.get()
    assert (kept.kind, kept.source, kept.gross_text, kept.on_hand_ug) == ("tube", "other", "525 g", 500_000_000)


@pytest.mark.parametrize("action", ["add", "change", "delete"])
@pytest.mark.parametrize("name", ["move", "setaside"])
def test_the_ledger_is_only_read_there(counter, name, action):
    promise(a_package(), 1, new_member())
    key = {"move": Move, "setaside": SetAside}[name].objects.first().pk
    address = reverse(f"admin:inventory_{name}_{action}", args=[] if action == "add" else [key])
    assert counter.post(address, {"said_why": "x"}).status_code == 403


def test_a_package_with_moves_is_not_deleted_there(counter):
    package = a_package()
    counter.post(reverse("admin:inventory_package_delete", args=[package.pk]), {"post": "yes"})
    assert Package.objects.exists()


@pytest.mark.parametrize(
    "name", ["yarn", "package", "move", "setaside", "arrival", "tare", "tareweighing", "photo", "filesent"]
)
def test_the_lists_there_open(counter, name):
    promise(a_package(), 1, new_member())
    weigh_empty(kind="cone", name="cone", weight_text="25 g", by=None)
    assert counter.get(reverse(f"admin:inventory_{name}_changelist")).status_code == 200
