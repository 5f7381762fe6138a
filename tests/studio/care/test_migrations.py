"""The tables of notices and care come and go, and reservations keep their guards and their days either way."""

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from studio.calendar.guards import GUARDS
from studio.guards import standing
from studio.models import LoomOccupancy
from tests.studio.bookings import a_class, reserve, sit

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]

BEFORE = [("studio", "0005_nothing_taken_twice")]


def go(targets):
    MigrationExecutor(connection).migrate(targets)


def today_targets():
    return [node for node in MigrationExecutor(connection).loader.graph.leaf_nodes() if node[0] == "studio"]


def test_back_and_forth_keeps_reservations_and_guards():
    made = reserve()
    sit(a_class(), made.member, 10, 12)
    here, days = today_targets(), list(LoomOccupancy.objects.values_list("pk", "starts_on", "ends_before", "uid"))
    before = timezone.now()
    try:
        go(BEFORE)
        tables = set(connection.introspection.table_names())
        assert GUARDS.names(connection) <= standing(connection)
    finally:
        go(here)
    assert not tables & {"studio_notice", "studio_feed", "studio_fault", "studio_upkeepdone"}
    assert GUARDS.names(connection) <= standing(connection)
    assert list(LoomOccupancy.objects.values_list("pk", "starts_on", "ends_before", "uid")) == days
    assert LoomOccupancy.objects.get(pk=made.pk).changed_at >= before  # when it came is the last change known
