"""Deeds with cards: numbers, versions, papers kept to the byte, and refusals."""

from dataclasses import replace

import pytest

from planner.brief_text import write_brief
from planner.calc.worksheet import work_out
from planner.card_selectors import card_state
from planner.card_services import issue_card, keep_pdf
from planner.models import IssuedCard, Project
from studio.errors import CardRefused
from studio.selectors import rules
from tests import cast
from tests.planner import worked_projects

pytestmark = pytest.mark.django_db
TOWELS = worked_projects.towels()


@pytest.fixture
def member():
    rules()
    return cast.trained_member()


@pytest.fixture
def project(member):
    return Project.objects.create(owner=member, title="Eight towels", typed={}, complete=write_brief(TOWELS))


def issue(project, member, brief=TOWELS, lay_out=lambda _: "<p>card</p>"):
    return issue_card(
        project=project, brief=brief, plan=work_out(brief), by=member, loom_name=brief.loom.name, paper="A4",
        lay_out=lay_out,
    )  # fmt: skip


def test_cards_are_numbered_in_turn(project, member):
    assert [issue(project, member).number, issue(project, member).number] == [1, 2]


def test_layout_knows_the_number_of_its_card(project, member):
    card = issue(project, member, lay_out=lambda card: f"no. {card.number}")
    assert card.html == f"no. {card.number}"


def test_a_card_keeps_the_plan_it_was_printed_with(project, member):
    assert issue(project, member).plan["ends"] == 480


def test_a_plan_the_loom_cannot_take_gets_no_card(project, member):
    with pytest.raises(CardRefused):
        issue(project, member, worked_projects.too_long())
    assert not IssuedCard.objects.exists()


def test_the_first_paper_stays_for_ever(project, member):
    card = issue(project, member)
    keep_pdf(card=card, pdf=b"first")
    assert bytes(keep_pdf(card=card, pdf=b"second").pdf) == b"first"


def test_a_new_card_for_the_same_loom_supersedes_the_old(project, member):
    old, new = issue(project, member), issue(project, member)
    assert (card_state(old).current, card_state(old).newest, card_state(new).current) == (False, new, True)


def test_a_card_for_another_loom_supersedes_nothing(project, member):
    first = issue(project, member)
    issue(project, member, replace(TOWELS, loom=replace(TOWELS.loom, name="another loom")))
    assert card_state(first).current


def test_a_changed_brief_supersedes_the_card_before_a_new_one_is_printed(project, member):
    card = issue(project, member)
    Project.objects.filter(pk=project.pk).update(version=2)
    state = card_state(IssuedCard.objects.get(pk=card.pk))
    assert (state.current, state.newest) == (False, None)
