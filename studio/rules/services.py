"""Writes of the studio's rules."""

from django.db import transaction

from studio.models import StudioRules
from studio.records import Values, change
from studio.rules.selectors import studio_rules


@transaction.atomic
def keep_rules(*, values: Values) -> StudioRules:
    """Change the studio's rules, tolerances and defaults."""
    return change(studio_rules(), values)
