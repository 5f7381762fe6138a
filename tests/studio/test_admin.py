"""The back room opens for whoever set the house up, and for nobody else."""

import pytest
from django.contrib.auth import get_user_model

from studio import selectors
from tests import cast, factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("table", ["loom", "beamround", "reed", "station", "member", "briefing", "studiorules"])
def test_every_table_has_a_list(client, table):
    client.force_login(get_user_model().objects.create_superuser("founder"))
    factories.a_beam()
    selectors.rules()
    assert client.get(f"/admin/studio/{table}/").status_code == 200


def test_a_steward_of_the_house_has_no_key_to_the_back_room():
    assert cast.as_(cast.steward()).get("/admin/studio/loom/").status_code == 302
