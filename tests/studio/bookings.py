"""Plain factories of the calendar, made by the same deeds that pages use. Days are counted from today."""

from datetime import timedelta

from django.utils import timezone

from studio.calendar.seat_services import book_seat
from studio.calendar.services import Wish, reserve_loom
from studio.models import LoomOccupancy
from tests.cast import steward, teacher, trained_member
from tests.factories import a_beam, a_loom

Kind = LoomOccupancy.Kind


def day(number):
    """Give the day so many days from today."""
    return timezone.localdate() + timedelta(days=number)


def a_free_loom(**known):
    """Give a loom with a sectional beam that nobody has."""
    return a_beam(a_loom(**known)).loom


def reserve(loom=None, member=None, start=0, end=28, *, by=None, **known):
    """Reserve a loom from one day until it is free again on another."""
    member = member or trained_member()
    wish = Wish(**{"member": member, "title": "Towels", "starts_on": day(start), "ends_before": day(end), **known})
    return reserve_loom(loom=loom or a_free_loom(), wish=wish, by=by or member)


def a_class(loom=None, by=None, start=0, end=28):
    """Give a class warp of a teacher's."""
    return reserve(loom, by or teacher(), start, end, kind=Kind.CLASS, title="Evening class")


def out_of_order(loom=None, by=None, start=0, end=7):
    """Give a loom that a steward closed."""
    return reserve(loom, by or steward(), start, end, kind=Kind.OUT, title="Brake is worn")


def at(days, hour, minute=0):
    """Give a moment of a day from today, by the studio's clock."""
    midnight = timezone.localtime().replace(hour=0, minute=0, second=0, microsecond=0)
    return (midnight + timedelta(days=days)).replace(hour=hour, minute=minute)


def sit(occupancy, member, start, end, day_number=1):
    """Book hours at a class warp tomorrow, or on another day."""
    return book_seat(
        occupancy=occupancy, member=member, starts_at=at(day_number, start), ends_at=at(day_number, end), by=member
    )
