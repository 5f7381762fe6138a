"""What stands in the database of the demo: briefs as typed and complete, and cards with their digests."""

import pytest
from django.apps import apps

from tests.pinned.conftest import owner_of, warps
from tests.pinned.entry import card_digest, card_state
from tests.pinned.golden import agree, canonical, kept, mark, numbers
from tests.pinned.seen import Seen

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("studio")]

MESSY = (
    {"sett": "20 furlongs", "pieces": "many"},
    {"width_in_reed": "", "finished_width": "", "ends": ""},
    {"finished_length": " 28½ ", "warp_length": "12,5 m"},
    {"colour_order": "15 A, 9 Q (", "threading": "1, 2, 99"},
    {"title": "", "yarns-0-yarn": "no such yarn", "chain_sections": "7-"},
    {"units": "metric", "shift": "-1", "take_up": "8 %"},
)


def sheet_of(warp):
    """Give what the sheet's boxes hold, as a browser would post it."""
    page = owner_of(warp).get(f"/warps/{warp.pk}/")
    return dict(Seen(page.content.decode()).forms["sheet"])


def saved(warp, **changed):
    owner_of(warp).post(f"/warps/{warp.pk}/", sheet_of(warp) | changed)
    return warps().get(pk=warp.pk)


def stored(warp):
    names = ("typed", "complete", "digest", "words", "version", "ends", "width_in_reed_cm", "warp_length_cm")
    return {name: value if isinstance(value := getattr(warp, name), dict | int) else str(value) for name in names}


def plan_marks(warp):
    """Give the marks of the plan that follows from what is stored."""
    plan = owner_of(warp).post("/api/plan/?units=metric", warp.complete, content_type="application/json")
    text = kept(f"stored {warp.title}", canonical(plan.json(), indent=1))
    assert plan.status_code == 200
    return {"figures of the plan": numbers(text), "words of the plan": mark(text)}


def test_briefs_are_stored_as_they_were_and_give_their_plans():
    agree("sheets.json", {warp.title: stored(warp) | plan_marks(warp) for warp in warps()})


def test_a_sheet_saved_as_it_is_read_stays_as_it_is():
    """The first time boxes that were left out come along; from then on not a sign may change."""
    first = {warp.title: saved(warp) for warp in warps()}
    assert all(saved(warp).typed == warp.typed for warp in first.values())
    agree(
        "sheets_saved.json", {title: {"typed": warp.typed, "complete": warp.complete} for title, warp in first.items()}
    )


def test_messy_sheets_are_kept_and_shown_as_they_were_typed():
    def messy(warp, changed):
        after = saved(warp, **changed)
        shown = sheet_of(after)
        text = kept(f"messy {changed}", Seen(owner_of(after).get(f"/warps/{after.pk}/").content.decode()).text)
        return stored(after) | {"shown": {name: shown[name] for name in changed}, "page": mark(text)}

    agree(
        "sheets_messy.json",
        {canonical(changed): messy(warp, changed) for warp, changed in zip(warps(), MESSY, strict=False)},
    )


def test_cards_keep_their_digests_and_none_is_superseded():
    cards = apps.get_model("planner", "IssuedCard").objects.order_by("number")
    assert len(cards) == len(warps()) - 1, "one of the demo's warps is too long for its beam"
    assert all(card_state(card).current for card in cards)
    assert all(card_digest(card.plan) == card.digest for card in cards)
    agree("cards.json", {f"{card.number} {card.project.title}": card.digest for card in cards})


def test_a_card_is_superseded_once_its_warp_is_another():
    """Else the test above could not fail."""
    card = apps.get_model("planner", "IssuedCard").objects.get(project__title="Eight towels")
    saved(card.project, width_in_reed="20 in")
    card.project.refresh_from_db()
    assert not card_state(card).current
