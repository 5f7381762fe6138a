"""A table in a page: it scrolls in its own box, and read aloud it stays a table when a phone shows its rows as cards.

    {% table "Yarn bought" %}
      {% columns "Day" "Weight:num" %}
      <tbody role="rowgroup">{% for line in lines %}{% row %}
        {% head %}{{ line.day }}{% endhead %}
        {% cell "Weight" "num" %}{{ line.weight }}{% endcell %}
      {% endrow %}{% endfor %}</tbody>
    {% endtable %}

Classes stand last; `row-cards` makes the cards, where a cell's label stands before it.
"""

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

register = template.Library()


def _classes(names: str) -> SafeString:
    return format_html(' class="{}"', names) if names else SafeString("")


@register.simple_block_tag
def table(content: SafeString, label: str, classes: str = "table-tight") -> SafeString:
    """Draw a table in a box that scrolls by itself."""
    return format_html(
        '<div class="table-wrap" tabindex="0" role="region" aria-label="{}">'
        '<table role="table" class="table {}">{}</table></div>',
        label, classes, content,
    )  # fmt: skip


@register.simple_tag
def columns(*names: str) -> SafeString:
    """Draw the heads of the columns; what follows a colon are a head's classes, and an empty one is left out."""
    heads = (name.partition(":") for name in names if name)
    cells = ((_classes(classes), name) for name, _, classes in heads)
    row = format_html_join("", '<th role="columnheader" scope="col"{}>{}</th>', cells)
    return format_html('<thead role="rowgroup"><tr role="row">{}</tr></thead>', row)


@register.simple_block_tag
def row(content: SafeString, classes: str = "") -> SafeString:
    """Draw a row."""
    return format_html('<tr role="row"{}>{}</tr>', _classes(classes), content)


@register.simple_block_tag
def head(content: SafeString, classes: str = "", span: int = 1) -> SafeString:
    """Draw the cell that names its row."""
    wide = format_html(' colspan="{}"', span) if span > 1 else ""
    return format_html('<th role="rowheader" scope="row"{}{}>{}</th>', wide, _classes(classes), content)


@register.simple_block_tag
def cell(content: SafeString, label: str = "", classes: str = "") -> SafeString:
    """Draw a cell; its label is said before it where rows are cards."""
    named = format_html(' data-label="{}"', label) if label else ""
    return format_html('<td role="cell"{}{}>{}</td>', named, _classes(classes), content)
