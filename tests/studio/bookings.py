"""Plain factories of the calendar, made by the same actions that pages use. Days are counted from today."""

from datetime import timedelta

from django.utils import timezone

from studio.calendar.preview import check_request
from studio.calendar.seat_services import book_seat
from studio.calendar.services import ReservationRequest, reserve_loom
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


def asked(member, start=0, end=28, **known):
    """Give what somebody asks for, from one day until the loom is free again on another."""
    days = {"starts_on": day(start), "ends_before": day(end)}
    return ReservationRequest(**{"member": member, "title": "Towels", **days, **known})


def reserve(loom=None, member=None, start=0, end=28, *, by=None, **known):
    """Reserve a loom from one day until it is free again on another."""
    member = member or trained_member()
    return reserve_loom(loom=loom or a_free_loom(), request=asked(member, start, end, **known), by=by or member)


def check(loom, member, start, end, **known):
    """Say what stands against a reservation."""
    return check_request(loom=loom, request=asked(member, start, end, **known), by=member)


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
