"""From a shown sum to the page that explains it."""

from django import template
from django.urls import reverse

from planner.handbook.rulebook import slug_of_sum

register = template.Library()


@register.filter
def how_url(key: str) -> str:
    """Give the address of the page behind a sum; empty for a line that only an old plan knows."""
    slug = slug_of_sum(key)
    return reverse("how-one", args=[slug]) if slug else ""
