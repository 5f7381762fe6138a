"""Components whose words are long: they stand between two tags, over as many lines as they need.

{% remark "warn" action="The loom maker’s manual comes first." %}Hold the handle first.{% endremark %}
"""

from typing import Any

from django import template
from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

register = template.Library()


@register.simple_block_tag
def remark(content: SafeString, kind: str = "note", action: str = "") -> SafeString:
    """Draw advice that never blocks."""
    return _drawn("remark", text=_joined(content), kind=kind, action=action)


@register.simple_block_tag
def empty_state(content: SafeString, title: str, action_url: str = "", action_label: str = "") -> SafeString:
    """Draw an empty place that says what to do first."""
    return _drawn("empty", text=_joined(content), title=title, action_url=action_url, action_label=action_label)


def _drawn(name: str, **context: Any) -> SafeString:
    return render_to_string(f"components/{name}.html", context)


def _joined(content: SafeString) -> SafeString:
    """Join the lines of a template; what they hold is escaped already."""
    return mark_safe(" ".join(content.split()))  # noqa: S308
