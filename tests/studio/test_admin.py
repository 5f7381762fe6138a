"""The back room opens for whoever set the house up, and for nobody else."""

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains

from studio.rules.selectors import studio_rules
from tests import cast, factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("table", ["loom", "beamround", "reed", "station", "member", "briefing", "studiorules"])
def test_every_table_has_a_list(client, table):
    client.force_login(get_user_model().objects.create_superuser("founder"))
    factories.a_beam()
    studio_rules()
    assert client.get(f"/admin/studio/{table}/").status_code == 200


def test_a_steward_of_the_house_has_no_key_to_the_back_room():
    assert cast.as_(cast.steward()).get("/admin/studio/loom/").status_code == 302


@pytest.fixture
def founder(client):
    client.force_login(get_user_model().objects.create_superuser("founder"))
    return client


@pytest.mark.parametrize("table", ["beamround", "member", "studiorules"])
@pytest.mark.parametrize("action", ["add", "change", "delete"])
def test_what_the_pages_check_is_only_looked_at_there(founder, table, action):
    someone, rounds = cast.new_member(), factories.a_beam().rounds
    keys = {"beamround": rounds.get().pk, "member": someone.pk, "studiorules": studio_rules().pk}
    address = reverse(f"admin:studio_{table}_{action}", args=[] if action == "add" else [keys[table]])
    assert founder.post(address, {"post": "yes", "role": "steward"}).status_code == 403


@pytest.mark.parametrize("table", ["loom", "beamround", "member", "studiorules"])
def test_each_can_be_looked_at_there(founder, table):
    beam, someone = factories.a_beam(), cast.new_member()
    keys = {"loom": beam.loom_id, "beamround": beam.rounds.get().pk, "member": someone.pk,
            "studiorules": studio_rules().pk}  # fmt: skip
    assert founder.get(reverse(f"admin:studio_{table}_change", args=[keys[table]])).status_code == 200


def test_a_circumference_is_not_changed_behind_its_day(founder):
    beam = factories.a_beam()
    page = founder.get(reverse("admin:studio_loom_change", args=[beam.loom_id]))
    assertContains(page, "91.44")
    assertNotContains(page, 'name="beams-0-circumference_cm"')


def test_a_loom_is_not_removed_behind_its_warps(founder):
    loom = factories.a_loom()
    assert founder.post(reverse("admin:studio_loom_delete", args=[loom.pk]), {"post": "yes"}).status_code == 403
