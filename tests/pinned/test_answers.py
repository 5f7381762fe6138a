"""Every answer of the API on the demo: looms, yarns, packages, moves, plans, and what it refuses."""

import pytest
from django.apps import apps

from tests.pinned.conftest import browser_of
from tests.pinned.golden import agree, canonical, kept, mark, numbers

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("studio")]

WHO = (None, "student", "member", "steward")
READ = (
    "looms/", "looms/1/", "looms/3/", "looms/999/", "yarns/", "yarns/?page=2", "yarns/?fibre=wool",
    "yarns/?words=linen", "yarns/?low=on", "yarns/?length_cm=20000&tex=148&within=10", "yarns/?fibre=tin", "yarns/1/",
    "yarns/2/", "yarns/999/", "packages/1/", "packages/2/", "packages/999/", "packages/1/moves/", "packages/2/moves/",
    "plan/", "moves/1/reverse/", "nowhere/",
)  # fmt: skip
TOWELS = {
    "title": "Towels", "loom": {"number": 3}, "sett": "20 /in", "width_in_reed": "24 in", "pieces": 8,
    "yarns": [{"code": "A", "yarn_id": 1}], "weft": {"yarn_id": 2}, "picks": "18 /in", "finished_length": "28 in",
}  # fmt: skip
BRIEFS = {
    "towels on loom 3": TOWELS,
    "in chains": {**TOWELS, "method": "chain"},
    "on no such loom": {**TOWELS, "loom": {"number": 99}},
    "of no such yarn": {**TOWELS, "yarns": [{"code": "A", "yarn_id": 999}]},
    "by no such beam": {**TOWELS, "loom": {"number": 3, "beam": "third beam"}},
    "nothing": {},
}
MOVES = (
    {"kind": "weigh", "gross_text": "300 g"},
    {"kind": "weigh", "gross_text": 1.5},
    {"kind": "fly", "gross_text": "300 g"},
    {"kind": "receive", "gross_text": "much"},
    {},
)


def answer(browser, method, path, *body):
    said = getattr(browser, method)(f"/api/{path}", *body, content_type="application/json")
    return {"status": said.status_code, "body": said.json()}


def test_what_is_read():
    """What others get is written out where it is not what the steward gets."""
    browsers = {who or "nobody": browser_of(who) for who in WHO}
    answers = {who: {path: answer(browser, "get", path) for path in READ} for who, browser in browsers.items()}
    agree("read.json", {
        f"{path} {who}": "as for the steward" if who != "steward" and said == answers["steward"][path] else said
        for who, paths in answers.items()
        for path, said in paths.items()
    })  # fmt: skip


def test_plans_of_what_is_in_the_house():
    steward = browser_of("steward")
    answers = {name: answer(steward, "post", "plan/?units=inch", brief) for name, brief in BRIEFS.items()}
    texts = {name: kept(f"plan {name}", canonical(said, indent=1)) for name, said in answers.items()}
    agree("plans_of_the_house.json", {
        name: {"status": answers[name]["status"], "figures": numbers(text), "words": mark(text)}
        for name, text in texts.items()
    })  # fmt: skip


def test_moves_recorded_and_reversed():
    """A package with moves of every kind: one after the other, as a scale would send them."""
    steward, answers = browser_of("steward"), {}
    package = apps.get_model("inventory", "Package").objects.filter(quarantined=False).order_by("pk")[2].pk
    for number, move in enumerate(MOVES):
        answers[f"{number} {move}"] = answer(steward, "post", f"packages/{package}/moves/", move)
    reverse = f"moves/{answers[f'0 {MOVES[0]}']['body']['move']['id']}/reverse/"
    answers["reversed by a student"] = answer(browser_of("student"), "post", reverse, {})
    answers["reversed"] = answer(steward, "post", reverse, {"said_why": "the wrong cone"})
    answers["reversed again"] = answer(steward, "post", reverse, {"said_why": "the wrong cone"})
    answers["by a student"] = answer(browser_of("student"), "post", f"packages/{package}/moves/", MOVES[0])
    answers["after all"] = answer(steward, "get", f"packages/{package}/moves/")
    agree("moves.json", answers)
