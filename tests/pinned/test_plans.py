"""The ten worked projects and three hundred random briefs: the very same plan, or the very same problems.

The briefs were drawn once and are kept as documents: `random 000` to `169` from the wishes of the random tests, `170`
to `254` worked projects changed in some of their parts, `255` to `299` broken by hand.
"""

import gzip
import io
import json

import pytest
from django.apps import apps
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.test import Client

from tests.pinned.golden import FILES, agree, canonical, kept, mark, numbers, writing

BRIEFS = json.loads(gzip.decompress((FILES / "briefs.json.gz").read_bytes()))
WORKED = sorted(name for name in BRIEFS if name.startswith("worked"))
WORDS = frozenset({"units", "shown", "label", "formula", "result", "source", "text", "advice"})
UNITS = ("inch", "metric")


@pytest.fixture
def browser(db):
    user = get_user_model().objects.create_user(username="somebody")
    apps.get_model("studio", "Member").objects.create(user=user, name="Somebody", role="member")
    browser = Client()
    browser.force_login(user)
    return browser


def asked(browser, brief, units):
    answer = browser.post(f"/api/plan/?units={units}", brief, content_type="application/json")
    assert answer.status_code in {200, 400}
    return answer.json()


def exact(thing):
    """Leave out what is only said: what is left is the same in all measures and in any words."""
    if isinstance(thing, dict):
        return {key: exact(part) for key, part in thing.items() if key not in WORDS}
    return [exact(part) for part in thing] if isinstance(thing, list) else thing


def pinned(name, answers):
    """Give the marks of the answers in all measures."""
    if "fields" in answers["inch"]:
        text = kept(name, canonical(answers["inch"], indent=1))
        places = {place: len(said) for place, said in answers["inch"]["fields"].items()}
        assert answers["inch"] == answers["metric"]
        return {"problems": mark(canonical(places)), "words": mark(text)}
    exacts = [canonical(exact(answer)) for answer in answers.values()]
    assert len(set(exacts)) == 1
    texts = {units: kept(f"{name} {units}", canonical(answer, indent=1)) for units, answer in answers.items()}
    figures = {f"{units} figures": numbers(text) for units, text in texts.items()}
    return {"exact": mark(exacts[0]), **figures, **{f"{units} words": mark(text) for units, text in texts.items()}}


@pytest.mark.slow
def test_every_brief_gives_the_plan_or_the_problems_it_gave(browser):
    answers = {name: {units: asked(browser, brief, units) for units in UNITS} for name, brief in BRIEFS.items()}
    agree("plans.json", {name: pinned(name, answer) for name, answer in answers.items()})


@pytest.mark.parametrize("name", WORKED)
def test_a_worked_project_gives_its_plan_word_by_word(name, tmp_path):
    """The marks above tell that something differs; here it can be read what."""
    brief, out = tmp_path / "brief.json", io.StringIO()
    brief.write_text(json.dumps(BRIEFS[name]), encoding="utf-8")
    call_command("work_out", str(brief), "--units", "metric" if "linen" in name else "inch", stdout=out)
    plan = json.loads(out.getvalue())
    file = FILES / f"{name.replace(' ', '_')}.json"
    if writing():
        lines = (f"{json.dumps(key)}: {_by_lines(value)}" for key, value in plan.items())
        file.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")
    assert plan == json.loads(file.read_text(encoding="utf-8"))


def _by_lines(value):
    """Write a list of rows with a line for each, so that a difference is one line."""
    if not (isinstance(value, list) and value and isinstance(value[0], dict)):
        return canonical(value)
    return "[\n" + ",\n".join(canonical(row) for row in value) + "\n]"
