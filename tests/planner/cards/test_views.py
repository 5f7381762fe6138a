"""Pages of cards: printing for chosen looms, the page behind the QR code, paper and print page, rights."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from planner.cards import views as card_views
from planner.models import IssuedCard
from planner.sheet.services import save_project
from studio.files import pdf as paper
from studio.rules.selectors import studio_rules
from tests import cast, factories
from tests.planner.sheets import towels

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    studio_rules()
    return cast.trained_member()


@pytest.fixture
def project(owner):
    return save_project(owner=owner, typed=towels(), by=owner)


@pytest.fixture
def no_pango(monkeypatch):
    """A machine without Pango, as the loader reports it."""
    monkeypatch.setattr(paper, "missing_library", lambda: "cannot load library 'libpango-1.0-0'")


def issue(person, project, *beams, size="A4"):
    keys = [str(beam.pk) for beam in beams or (project.beam,)]
    return cast.as_(person).post(reverse("cards-issue", args=[project.pk]), {"beams": keys, "paper": size}, follow=True)


def words(answer):
    return " ".join(answer.content.decode().split())


def test_a_loom_says_which_warning_it_comes_with(owner):
    beam = factories.a_beam(factories.a_loom(heddles=[10, 20, 30, 40]))
    project = save_project(owner=owner, typed=towels(beam), by=owner)
    text = words(cast.as_(owner).get(reverse("cards-issue", args=[project.pk])))
    assert re.search(r"warnings?(, first)?: Shaft \d needs", text)


def test_one_loom_leads_to_its_card(owner, project):
    answer = issue(owner, project)
    assert answer.redirect_chain[-1][0] == reverse("card", args=[1])
    assert "This card is the latest for its loom." in words(answer)


def test_each_chosen_loom_gets_a_card_worked_out_for_its_own_beam(owner, project):
    short = factories.a_beam(circumference_cm=factories.inches(27))
    issue(owner, project, project.beam, short)
    turns = {card.beam_id: card.plan["turns"] for card in IssuedCard.objects.all()}
    assert turns == {project.beam_id: 11, short.pk: 14}


def test_a_loom_the_warp_does_not_fit_is_listed_with_the_reason(owner, project):
    factories.a_plain_beam()
    page = words(cast.as_(owner).get(reverse("cards-issue", args=[project.pk])))
    assert "does not fit" in page
    assert "Choose chains" in page


def test_no_loom_chosen_keeps_the_page_and_says_so(owner, project):
    answer = cast.as_(owner).post(reverse("cards-issue", args=[project.pk]), {"paper": "A4"})
    assert (answer.status_code, "Choose at least one loom." in words(answer)) == (422, True)


@pytest.mark.parametrize("beams", [["999999"], ["x"], ["1' OR 1=1"], [""]])
def test_a_tampered_loom_is_refused(owner, project, beams):
    answer = cast.as_(owner).post(reverse("cards-issue", args=[project.pk]), {"beams": beams, "paper": "A4"})
    assert (answer.status_code, IssuedCard.objects.count()) == (422, 0)


def test_a_member_cannot_print_the_warp_of_another(project):
    answer = issue(cast.new_member(), project)
    assert "belongs to another member" in words(answer)
    assert not IssuedCard.objects.exists()


def test_a_stranger_is_asked_to_sign_in(owner, project):
    issue(owner, project)
    for name in ("card", "card-pdf", "card-print"):
        answer = cast.stranger().get(reverse(name, args=[1]))
        assert answer["Location"].startswith(reverse("sign-in"))


def test_a_scanned_card_of_a_changed_warp_says_it_is_superseded(owner, project):
    issue(owner, project)
    form = {**project.typed["form"], "width_in_reed": "20"}
    save_project(owner=owner, typed={**project.typed, "form": form}, project=project, by=owner)
    assert "Superseded" in words(cast.as_(owner).get(reverse("card", args=[1])))


def test_the_paper_is_the_same_to_the_byte_each_time(owner, project):
    issue(owner, project)
    browser, url = cast.as_(owner), reverse("card-pdf", args=[1])
    first, second = browser.get(url), browser.get(url)
    assert first["Content-Type"] == "application/pdf"
    assert first.content == second.content


@pytest.mark.parametrize(("size", "width"), [("A4", 595), ("Letter", 612)])
def test_paper_comes_in_the_size_chosen(owner, project, size, width, tmp_path):
    issue(owner, project, size=size)
    path = tmp_path / "card.pdf"
    path.write_bytes(bytes(IssuedCard.objects.get().pdf))
    assert round(float(PdfReader(path).pages[0].mediabox.width)) == width


@pytest.mark.usefixtures("no_pango")
def test_without_pango_the_card_is_issued_and_its_print_page_works(owner, project):
    assert "This card is the latest" in words(issue(owner, project))
    assert "480" in words(cast.as_(owner).get(reverse("card-print", args=[1])))


@pytest.mark.usefixtures("no_pango")
def test_without_pango_the_pdf_names_the_command_that_mends_it(owner, project):
    issue(owner, project)
    assert paper.INSTALL_LINE in words(cast.as_(owner).get(reverse("card-pdf", args=[1]), follow=True))


def test_more_looms_than_one_request_can_print_for_are_refused(owner, project, monkeypatch):
    monkeypatch.setattr("planner.cards.forms.MOST_LOOMS", 1)
    answer = issue(owner, project, project.beam, factories.a_beam())
    assert "at most 1 looms" in words(answer)


def test_looms_to_choose_from_cost_no_query_each(owner, project):
    def count():
        with CaptureQueriesContext(connection) as queries:
            cast.as_(owner).get(reverse("cards-issue", args=[project.pk]))
        return len(queries)

    few = count()
    for _ in range(5):
        factories.a_beam()
    assert count() == few


def test_a_card_of_no_number_is_not_found(owner):
    assert cast.as_(owner).get(reverse("card", args=[999_999])).status_code == 404


def test_most_papers_are_made_when_they_are_first_opened(owner, project, monkeypatch):
    monkeypatch.setattr(card_views, "AT_ONCE", 1)
    issue(owner, project, project.beam, factories.a_beam())
    assert sorted(card.pdf is not None for card in IssuedCard.objects.all()) == [False, True]
