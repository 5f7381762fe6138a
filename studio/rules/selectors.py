"""The studio's one row of rules."""

from studio.models import StudioRules

RULES_ROW = 1


def studio_rules() -> StudioRules:
    """Give the studio's one row of rules; the first question makes it, with the defaults."""
    return StudioRules.objects.get_or_create(pk=RULES_ROW)[0]
