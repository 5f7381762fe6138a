"""What the database refuses by itself, from whoever writes past the services."""

import uuid
from datetime import UTC, datetime, timedelta

import pytest
from django.db import IntegrityError, connection, transaction

from inventory.ledger.guards import GUARDS as LEDGER
from studio.calendar.guards import GUARDS
from studio.calendar.services import cancel_reservation, never_twice
from studio.errors import LoomTaken
from studio.guards import standing
from studio.models import LoomOccupancy, SeatTime, ToolBooking
from tests.cast import guest, steward, teacher
from tests.factories import a_reed, a_station
from tests.studio.bookings import a_class, a_free_loom, at, day, reserve, sit

pytestmark = pytest.mark.django_db
REFUSED = "taken at that time|_taken_once"


def again(row, **known):
    """Write a copy of a row past every service, with what is said changed."""
    copied = type(row).objects.get(pk=row.pk)
    copied.pk, copied.uid = None, uuid.uuid4()
    for name, value in known.items():
        setattr(copied, name, value)
    with transaction.atomic():
        type(row).objects.bulk_create([copied])
    return copied


def test_all_guards_of_the_house_stand_and_no_others():
    assert standing(connection) == GUARDS.names(connection) | LEDGER.names(connection)


@pytest.mark.parametrize(("start", "end"), [(10, 20), (9, 11), (19, 21), (12, 13), (0, 40)])
def test_a_loom_is_not_written_twice_for_one_day(start, end):
    made = reserve(start=10, end=20)
    with pytest.raises(IntegrityError, match=REFUSED):
        again(made, starts_on=day(start), ends_before=day(end))


@pytest.mark.parametrize(("start", "end"), [(0, 10), (20, 30)])
def test_neighbours_do_not_meet(start, end):
    made = reserve(start=10, end=20)
    assert again(made, starts_on=day(start), ends_before=day(end)).pk


def test_what_was_cancelled_is_in_nobodys_way():
    made = reserve(start=10, end=20)
    cancel_reservation(occupancy=made, by=made.member)
    kept = again(made, cancelled_at=None)
    with pytest.raises(IntegrityError, match=REFUSED), transaction.atomic():
        LoomOccupancy.objects.filter(pk=made.pk).update(cancelled_at=None)
    assert LoomOccupancy.objects.filter(cancelled_at=None).get() == kept


@pytest.mark.parametrize("change", [{"ends_before": 21}, {"starts_on": 5, "ends_before": 25}])
def test_days_are_not_changed_onto_anothers(change):
    loom = a_free_loom()
    made = reserve(loom, start=10, end=20)
    reserve(loom, teacher(), start=20, end=30)
    with pytest.raises(IntegrityError, match=REFUSED), transaction.atomic():
        LoomOccupancy.objects.filter(pk=made.pk).update(**{name: day(number) for name, number in change.items()})


def test_a_loom_is_not_changed_onto_a_taken_one():
    made, other = reserve(start=0, end=9), reserve(member=teacher(), start=5, end=12)
    with pytest.raises(IntegrityError, match=REFUSED), transaction.atomic():
        LoomOccupancy.objects.filter(pk=made.pk).update(loom=other.loom)


def test_a_row_may_be_written_anew_as_it_is():
    made = reserve(start=0, end=9)
    assert LoomOccupancy.objects.filter(pk=made.pk).update(ends_before=day(9), starts_on=day(0)) == 1


def test_a_seat_is_not_written_twice():
    seat = sit(a_class(), guest(), 10, 12)
    with pytest.raises(IntegrityError, match=REFUSED):
        again(seat, starts_at=at(1, 11), ends_at=at(1, 13))
    assert again(seat, starts_at=at(1, 12), ends_at=at(1, 13)).pk
    assert SeatTime.objects.count() == 2


@pytest.mark.parametrize("make", [a_reed, a_station])
def test_a_tool_is_not_written_twice(make):
    (booking,) = reserve(start=0, end=7, tools=(make(),)).tools.all()
    with pytest.raises(IntegrityError, match=REFUSED):
        again(booking, occupancy=None)
    assert ToolBooking.objects.count() == 1


def test_half_a_second_counts():
    """SQLite compares times as text, so a fraction of a second must not slip past the comparison."""
    seat = sit(a_class(), guest(), 10, 12)
    with pytest.raises(IntegrityError, match=REFUSED):
        again(seat, starts_at=at(1, 12) - timedelta(microseconds=1), ends_at=at(1, 13))


@pytest.mark.skipif(connection.vendor != "sqlite", reason="PostgreSQL keeps dates as dates")
@pytest.mark.parametrize(
    ("table", "column", "text"),
    [
        ("studio_loomoccupancy", "starts_on", "2026-1-5"),
        ("studio_loomoccupancy", "ends_before", "soon"),
        ("studio_loomoccupancy", "ends_before", "20260105"),
        ("studio_seattime", "starts_at", "2026-01-05"),
        ("studio_seattime", "ends_at", "2026-01-05T10:00:00"),
    ],
)
def test_text_that_no_date_is_written_as_is_refused(table, column, text):
    sit(a_class(), guest(), 10, 12)
    with pytest.raises(IntegrityError, match="as the database itself writes it"), transaction.atomic():
        connection.cursor().execute(f"UPDATE {table} SET {column} = %s", [text])


@pytest.mark.skipif(connection.vendor != "sqlite", reason="a word of SQLite")
def test_replacing_a_row_is_no_way_round():
    made = reserve(start=0, end=9)
    columns = [field.column for field in LoomOccupancy._meta.concrete_fields if field.column != "id"]
    with pytest.raises(IntegrityError, match=REFUSED), transaction.atomic():
        connection.cursor().execute(
            f"INSERT OR REPLACE INTO studio_loomoccupancy ({', '.join(columns)}) "
            f"SELECT {', '.join('hex(randomblob(16))' if name == 'uid' else name for name in columns)} "
            f"FROM studio_loomoccupancy WHERE id = {made.pk}"
        )


def test_what_the_database_refuses_reads_like_any_refusal():
    made = reserve(start=0, end=9)
    with pytest.raises(LoomTaken, match="Somebody was quicker"), never_twice():
        again(made)


def test_another_fault_of_the_database_is_not_called_taken():
    made = reserve(start=0, end=9)
    with pytest.raises(IntegrityError, match=r"(?i)unique"), never_twice():
        LoomOccupancy.objects.bulk_create([LoomOccupancy(
            loom=a_free_loom(), member=made.member, title="Towels", starts_on=day(0), ends_before=day(3),
            made_by=steward(), uid=made.uid, state_since=datetime.now(UTC),
        )])  # fmt: skip
