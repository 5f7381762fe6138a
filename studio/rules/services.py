"""Writes of the rules."""

from django.db import transaction

from studio.models import BookingRules, StudioRules
from studio.records import Values, change
from studio.rules.selectors import booking_rules, studio_rules


@transaction.atomic
def keep_rules(*, values: Values) -> StudioRules:
    """Change the studio's rules, tolerances and defaults."""
    return change(studio_rules(), values)


@transaction.atomic
def keep_booking_rules(*, values: Values) -> BookingRules:
    """Change the rules of reserving; what is reserved already stays as it is."""
    return change(booking_rules(), values)
