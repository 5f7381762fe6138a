"""Reads of the rules: one row each."""

from studio.models import BookingRules, StudioRules

RULES_ROW = 1


def studio_rules() -> StudioRules:
    """Give the studio's one row of rules; the first question makes it, with the defaults."""
    return StudioRules.objects.get_or_create(pk=RULES_ROW)[0]


def booking_rules() -> BookingRules:
    """Give the rules of reserving; the first question makes them, with the defaults."""
    return BookingRules.objects.get_or_create(pk=RULES_ROW)[0]
