"""The table in a page."""

from django.template import Context, Template

TABLE = """{% load tables %}{% table "Yarn bought" "row-cards" %}{% columns "Day" "Weight:num" %}<tbody>
{% row "undone" %}{% head span=2 %}{{ day }}{% endhead %}{% cell "Weight" "num" %}<b>{{ weight }}</b>{% endcell %}
{% endrow %}</tbody>{% endtable %}"""


def test_a_table_names_its_box_its_columns_and_each_cell():
    drawn = Template(TABLE).render(Context({"day": "<1 May>", "weight": "8 oz"}))
    assert 'role="region" aria-label="Yarn bought"><table role="table" class="table row-cards">' in drawn
    assert '<th role="columnheader" scope="col" class="num">Weight</th>' in drawn
    assert '<tr role="row" class="undone"><th role="rowheader" scope="row" colspan="2">&lt;1 May&gt;</th>' in drawn
    assert '<td role="cell" data-label="Weight" class="num"><b>8 oz</b></td>' in drawn
