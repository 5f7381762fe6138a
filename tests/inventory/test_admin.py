"""Behind the counter the same rules hold: what a label says settles the tex, and faults stand beside their field."""

import pytest
from django.contrib.auth import get_user_model
from django.test import Client
from django.urls import reverse

from inventory.models import Package, Yarn
from tests.inventory.shelf import a_package, a_yarn

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


@pytest.mark.parametrize("name", ["yarn", "package"])
def test_the_lists_there_open(counter, name):
    a_package()
    assert counter.get(reverse(f"admin:inventory_{name}_changelist")).status_code == 200
