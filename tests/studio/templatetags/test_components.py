"""Components whose words stand between two tags."""

from django.template import Context, Template

PAGE = """{% load components %}{% remark "warn" action="Ask first." %}
  Hold the handle of
  {{ loom }}.
{% endremark %}{% empty_state "No loom" action_url="/new/" action_label="Add loom" %}Measure it.{% endempty_state %}"""


def test_words_between_the_tags_are_joined_and_escaped_once():
    drawn = Template(PAGE).render(Context({"loom": "<6 Long Pier>"}))
    assert "<strong>Take care.</strong> Hold the handle of &lt;6 Long Pier&gt;.\n" in drawn
    assert '<p class="remark-do">Ask first.</p>' in drawn
    assert "<h2>No loom</h2>" in drawn
    assert '<a class="button" href="/new/">Add loom</a>' in drawn
