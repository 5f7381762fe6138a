"""The doctor: silent about a sound studio, and every fault of one that was written past the guards named."""

import io
import uuid

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from inventory.ledger.guards import lifted
from inventory.models import Package
from studio.calendar.guards import GUARDS
from studio.models import LoomOccupancy
from tests.inventory.stock import a_package
from tests.studio.bookings import reserve

pytestmark = pytest.mark.django_db


def test_a_sound_studio_is_called_so():
    a_package()
    first = reserve(start=0, end=10)
    reserve(first.loom, first.member, start=10, end=12)
    out = io.StringIO()
    call_command("doctor", stdout=out)
    assert out.getvalue() == "Every balance is the sum of its moves, and nothing is booked twice.\n"


def test_a_wrong_balance_and_a_loom_booked_twice_are_named():
    package, kept = a_package(), reserve(start=0, end=10)
    with lifted(connection):
        Package.objects.filter(pk=package.pk).update(on_hand_ug=7)
    connection.check_constraints()  # what waits for the end of the transaction would not let a table be altered
    with GUARDS.lifted(connection):
        again = LoomOccupancy.objects.get(pk=kept.pk)
        again.pk, again.uid = None, uuid.uuid4()
        LoomOccupancy.objects.bulk_create([again])
        with pytest.raises(CommandError) as refused:
            call_command("doctor")
        pk = again.pk
        again.delete()
        connection.check_constraints()
    assert str(refused.value).splitlines() == [
        f"Package {package.pk}, on hand: 7, by its moves 500000000.",
        f"LoomOccupancy {pk}: loom {kept.loom_id} is booked twice at one time.",
    ]
