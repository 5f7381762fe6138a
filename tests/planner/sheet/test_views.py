"""Pages of warps: the sheet live and without scripts, the list, and who may do what."""

import gzip
import re

import pytest
from django.contrib.auth import get_user_model
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from planner.brief.sheet_input import blank_typed
from planner.models import IssuedCard, Project
from planner.sheet.services import save_project
from studio.units import Units
from tests import cast
from tests.factories import a_beam
from tests.planner.sheets import a_yarn, posted, towels

pytestmark = pytest.mark.django_db
LIVE = {"HX-Request": "true", "HX-Target": "plan"}


@pytest.fixture
def owner():
    return cast.trained_member()


@pytest.fixture
def project(owner):
    return save_project(owner=owner, typed=towels(), by=owner)


def page(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


def live(person, typed, **more):
    return cast.as_(person).post(reverse("warp-plan"), posted(typed, **more), headers=LIVE)


def queries(question):
    question()
    with CaptureQueriesContext(connection) as asked:
        question()
    return len(asked)


def test_the_sheet_stands_beside_its_plan(owner, project):
    text = page(cast.as_(owner).get(project.get_absolute_url()))
    assert 'name="sett" value="20"' in text
    assert '<dd class="figure">480</dd>' in text
    assert "12 × 40 = 480 ends" in text


def test_a_new_sheet_shouts_about_nothing(owner):
    text = page(cast.as_(owner).get(reverse("warp-new")))
    assert "aria-invalid" not in text
    assert "Still needed" in text


def test_typing_answers_with_the_plan_alone(owner):
    text = page(live(owner, towels(sett="18")))
    assert '<dd class="figure">432</dd>' in text
    assert "<form" not in text


def test_every_sum_of_the_page_opens_to_its_figures_and_source(owner, project):
    text = page(cast.as_(owner).get(project.get_absolute_url()))
    assert text.count('<details class="sum"') == text.count("Source: ") > 20


@pytest.mark.parametrize(("wish", "sent"), [("", False), ("open", True)])
def test_sums_that_are_folded_up_are_left_out_while_one_types(owner, wish, sent):
    assert ("Source: " in page(live(owner, towels(), sums=wish))) is sent


def test_a_mistake_while_typing_leaves_the_last_plan_standing(owner):
    response = live(owner, towels(sett="1x"))
    assert response["HX-Reswap"] == "none"
    assert 'data-field="sett"' in page(response)


def test_the_live_answer_asks_the_database_as_often_for_many_yarns(owner):
    beam = a_beam()
    rooms = [a_yarn(colour_name=f"colour {n}") for n in range(8)]
    order = ", ".join(f"4 {chr(65 + n)}" for n in range(8))
    rows = {f"yarns-{n}-yarn": f"x (yarn {yarn.pk})" for n, yarn in enumerate(rooms)}
    many = towels(beam, colour_order=order, **rows)
    few = towels(beam, **{"yarns-0-yarn": f"x (yarn {rooms[0].pk})"})
    client, url = cast.as_(owner), reverse("warp-plan")
    asked = [queries(lambda typed=typed: client.post(url, posted(typed), headers=LIVE)) for typed in (few, many)]
    assert asked[0] == asked[1] <= 10


def test_without_scripts_the_same_form_redraws_the_page_unsaved(owner, project):
    typed = towels(project.beam, sett="18")
    text = page(cast.as_(owner).post(reverse("warp-plan"), posted(typed, project=project.pk)))
    assert '<dd class="figure">432</dd>' in text
    assert f'action="{project.get_absolute_url()}"' in text
    project.refresh_from_db()
    assert project.ends == 480


def test_saving_a_new_warp_leads_to_its_page(owner):
    response = cast.as_(owner).post(reverse("warp-new"), posted(towels()), follow=True)
    project = Project.objects.get()
    assert response.redirect_chain == [(project.get_absolute_url(), 302)]
    assert (project.owner, project.ends) == (owner, 480)
    assert "Saved." in page(response)


def test_a_draft_keeps_its_mistakes_and_marks_them(owner):
    response = cast.as_(owner).post(reverse("warp-new"), posted(towels(sett="twenty", hem="<b>")), follow=True)
    text = page(response)
    assert "Saved as a draft" in text
    assert 'name="sett" value="twenty"' in text
    assert 'name="hem" value="&lt;b&gt;"' in text
    assert text.count('aria-invalid="true"') == 2


def test_a_draft_marks_what_it_still_needs(owner):
    client = cast.as_(owner)
    text = page(client.post(reverse("warp-new"), {"units": "inch", "title": "An idea"}, follow=True))
    assert text.count("This is still needed.") == 5


@pytest.mark.parametrize("button", [{"add_yarn": "yes"}, {"remove_yarn": "0"}, {"fill": "yes", "usual": "silk"}])
def test_a_button_of_the_sheet_keeps_all_else(owner, button):
    text = page(cast.as_(owner).post(reverse("warp-plan"), posted(towels(), **button)))
    assert 'name="sett" value="20"' in text
    assert 'name="sampling" value="12"' in text


def test_a_change_of_units_keeps_the_plan(owner):
    typed = {**towels(), "units": "metric"}
    text = page(cast.as_(owner).post(reverse("warp-plan"), {**posted(typed), "units_were": "inch"}))
    assert 'name="width_in_reed" value="24 in"' in text
    assert '<dd class="figure">480</dd>' in text


@pytest.mark.parametrize(("person", "seen"), [(cast.guest, "Copy to my warps"), (cast.teacher, ">Save</button>")])
def test_others_may_read_and_try_and_some_may_save(project, person, seen):
    assert seen in page(cast.as_(person()).get(project.get_absolute_url()))


def test_another_member_cannot_save(project):
    response = cast.as_(cast.new_member()).post(project.get_absolute_url(), posted(towels(project.beam, sett="18")))
    assert "belongs to another member" in page(response, 409)
    project.refresh_from_db()
    assert project.ends == 480


def test_another_member_can_copy_what_she_tried(project):
    person = cast.new_member()
    url = reverse("warp-copy", args=[project.pk])
    cast.as_(person).post(url, posted(towels(project.beam, sett="18")))
    assert list(person.projects.values_list("title", "ends")) == [("Eight towels, copy", 432)]


def test_putting_away_takes_a_warp_from_the_list(owner, project):
    client = cast.as_(owner)
    client.post(reverse("warp-archive", args=[project.pk]))
    link = f'href="{project.get_absolute_url()}"'
    assert link not in page(client.get(reverse("warps")))
    assert link in page(client.get(reverse("warps"), {"whose": "away"}))


def test_deleting_asks_first_and_says_what_goes(owner, project):
    client, url = cast.as_(owner), reverse("warp-delete", args=[project.pk])
    assert "What goes with it" in page(client.get(url))
    assert Project.objects.exists()
    assert "is deleted" in page(client.post(url, follow=True))
    assert not Project.objects.exists()


def test_a_warp_with_cards_cannot_be_deleted(owner, project):
    IssuedCard.objects.create(
        number=1, project=project, version=1, digest=project.digest, loom_name="Heron", brief={}, plan={}, units="inch",
        beam=project.beam, paper="A4", html="", issued_by=owner,
    )  # fmt: skip
    client, url = cast.as_(owner), reverse("warp-delete", args=[project.pk])
    assert "Archive it" in page(client.get(url))
    assert "cannot be deleted" in page(client.post(url, follow=True))
    assert "Current" in page(client.get(project.get_absolute_url()))


@pytest.mark.parametrize("name", ["warp-archive", "warp-delete"])
def test_another_member_can_neither_put_away_nor_delete(project, name):
    text = page(cast.as_(cast.new_member()).post(reverse(name, args=[project.pk]), follow=True))
    assert "belongs to another member" in text
    project.refresh_from_db()
    assert not project.archived


@pytest.mark.parametrize("name", ["warp-copy", "warp-archive"])
def test_a_link_alone_changes_nothing(owner, project, name):
    assert cast.as_(owner).get(reverse(name, args=[project.pk])).status_code == 405


@pytest.mark.parametrize("name", ["warps", "warp-new", "warp-plan"])
def test_strangers_are_asked_to_sign_in(name):
    assert cast.stranger().get(reverse(name)).url.startswith(reverse("sign-in"))


def test_the_list_is_written_in_the_readers_units(owner, project):
    metric = cast.new_member(units="metric")
    assert "24 in" in page(cast.as_(owner).get(reverse("warps")))
    assert "61 cm" in page(cast.as_(metric).get(reverse("warps"), {"whose": "all"}))


def test_the_list_asks_as_often_for_many_warps_as_for_few(owner, project):
    client, url = cast.as_(owner), reverse("warps")
    few = queries(lambda: client.get(url))
    for number in range(60):
        Project.objects.create(owner=owner, title=f"warp {number}", loom=project.loom)
    assert queries(lambda: client.get(url)) == few
    assert "1 to 50 of 61" in page(client.get(url))


@pytest.mark.parametrize(
    "query", [{"page": "x"}, {"page": "-1"}, {"page": "9" * 40}, {"whose": "x"}, {"q": "\x00%_'\""}]
)
def test_odd_questions_of_the_list_are_answered(owner, project, query):
    assert cast.as_(owner).get(reverse("warps"), query).status_code == 200


HOSTILE = (
    "1000000000", "NaN", "-1", "0", "1/0", "🧶", "9" * 60, "x" * 5000, "1 A, " * 5000, "\x00", "<script>", "99999 /in",
    "0.0000001", "٣", "200 %", "(" * 50,
)  # fmt: skip
FIELDS_TRIED = (
    "sett", "ends", "colour_order", "warp_length", "turns", "draw_in", "margin", "multiple", "threading", "shift",
    "beam", "rack", "yarns-0-grist", "yarns-0-code", "yarns-0-colour", "weft-yarn", "units", "units_were", "project",
    "width_by",
)  # fmt: skip


@pytest.mark.parametrize("field", FIELDS_TRIED)
def test_nothing_typed_breaks_the_page(owner, field):
    beam, client = a_beam(), cast.as_(owner)
    steering = {
        "ends": ("width_by", "ends"),
        "warp_length": ("length_by", "warp_length"),
        "turns": ("length_by", "turns"),
    }
    typed = posted(towels(beam, threading_kind="typed", **{"weft-grist": "100 tex"}))
    if field in steering:
        typed |= dict([steering[field]])
    answers = {client.post(reverse("warp-plan"), {**typed, field: text}, headers=LIVE).status_code for text in HOSTILE}
    assert answers == {200}


@pytest.mark.parametrize(
    "sheet", [{}, posted(blank_typed(Units.INCH), **{"yarns-0-colour": "#000000", "weave": "twill"})]
)
def test_a_sheet_on_which_nothing_is_typed_is_not_stored(owner, sheet):
    text = page(cast.as_(owner).post(reverse("warp-new"), sheet), 422)
    assert text.count("This is still needed.") == 5
    assert not Project.objects.exists()


def test_a_name_alone_is_worth_keeping(owner):
    text = page(cast.as_(owner).post(reverse("warp-new"), {"title": "An idea"}, follow=True))
    assert "Saved as a draft" in text
    assert Project.objects.get().title == "An idea"


@pytest.mark.parametrize(("button", "seen"), [({}, False), ({"work_out": "yes"}, True)])
def test_the_list_of_mistakes_keeps_out_of_the_way_while_one_types(owner, button, seen):
    text = page(live(owner, towels(sett="1x"), **button))
    assert ('<div id="mistakes" hx-swap-oob="true" hidden>' not in text) is seen
    assert 'Please correct: <a href="#id_sett">Sett</a>' in text


def test_a_live_answer_is_sent_pressed_and_small(owner):
    client, url = cast.as_(owner), reverse("warp-plan")
    answer = client.post(url, posted(towels(sums="open")), headers={**LIVE, "Accept-Encoding": "gzip"})
    assert answer["Content-Encoding"] == "gzip"
    assert len(answer.content) < 30_000
    assert "480" in gzip.decompress(answer.content).decode()


def test_the_latest_three_cards_are_in_sight_with_their_papers(owner, project):
    for number in range(1, 6):
        IssuedCard.objects.create(
            number=number, project=project, version=1, digest=project.digest, loom_name="Heron", brief={}, plan={},
            units="inch", beam=project.beam, paper="A4", html="", issued_by=owner,
        )  # fmt: skip
    text = page(cast.as_(owner).get(project.get_absolute_url()))
    seen, folded = text[text.index("cards-title") : text.index('id="sheet-page"')].split("<summary>Earlier cards")
    assert [seen.count(reverse(name, args=[5])) for name in ("card-pdf", "card-print")] == [1, 1]
    assert ([seen.count(f">Card {n}</a>") for n in range(1, 6)], folded.count("<li>")) == ([0, 0, 1, 1, 1], 2)


def test_a_user_without_a_member_is_turned_away(client):
    client.force_login(get_user_model().objects.create_user("nobody"))
    assert client.get(reverse("warps")).status_code == 403


def test_a_stale_sheet_comes_back_with_all_that_was_typed(owner, project):
    client, url, stale = cast.as_(owner), project.get_absolute_url(), project.stamp
    client.post(url, posted(project.typed, sett="22", opened_at=stale))
    answer = client.post(url, posted(towels(project.beam, sett="18"), opened_at=stale))
    assert 'name="sett" value="18"' in page(answer, 409)
