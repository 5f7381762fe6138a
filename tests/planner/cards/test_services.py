"""Cards: numbers, versions, papers that never change, and refusals."""

from decimal import Decimal

import pytest

from planner.cards.selectors import beams_for_cards, card_state, fits_of
from planner.cards.services import issue_card, keep_pdf
from planner.models import IssuedCard, Project
from planner.sheet.services import save_project
from studio.errors import CardRefused, StudioError
from studio.models import Beam, Loom
from studio.rules.selectors import studio_rules
from tests import cast, factories
from tests.planner.sheets import towels

pytestmark = pytest.mark.django_db


@pytest.fixture
def member():
    studio_rules()
    return cast.trained_member()


@pytest.fixture
def beam():
    factories.a_reed()
    return factories.a_beam()


@pytest.fixture
def project(member, beam):
    return save_project(owner=member, typed=towels(beam), by=member)


def change(project, member, **fields):
    typed = {**project.typed, "form": {**project.typed["form"], **fields}}
    return save_project(owner=member, typed=typed, project=project, by=member)


def issue(project, member, beam=None, lay_out=lambda _: "<p>card</p>", paper="A4"):
    """Print for one beam of the register, the warp's own unless another is named."""
    keys = [str((beam or project.beam).pk)]
    fit = fits_of(project, member, beams_for_cards(project, keys))[0]
    return issue_card(project=project, fit=fit, by=member, paper=paper, lay_out=lay_out)


def state(card):
    return card_state(IssuedCard.objects.select_related("project").get(pk=card.pk))


def test_cards_are_numbered_in_turn(project, member):
    first = issue(project, member)
    assert [first.number, issue(change(project, member, width_in_reed="20"), member).number] == [1, 2]


def test_the_same_card_again_is_a_reprint_under_its_number(project, member):
    assert issue(project, member).pk == issue(project, member).pk


def test_the_other_paper_is_a_card_of_its_own_and_supersedes_nothing(project, member):
    first, letter = issue(project, member), issue(project, member, paper="Letter")
    assert (first.number, letter.number, state(first).current, state(letter).current) == (1, 2, True, True)


def test_layout_knows_the_number_of_its_card(project, member):
    assert issue(project, member, lay_out=lambda number: f"no. {number}").html == "no. 1"


def test_a_card_keeps_the_plan_it_was_printed_with(project, member):
    card = issue(project, member)
    change(project, member, width_in_reed="20")
    assert IssuedCard.objects.get(pk=card.pk).plan["ends"] == 480


def test_a_plan_the_loom_cannot_take_gets_no_card(project, member, beam):
    Loom.objects.filter(pk=beam.loom_id).update(weaving_width_cm=Decimal(40))
    with pytest.raises(CardRefused):
        issue(project, member)
    assert not IssuedCard.objects.exists()


def test_a_warp_of_another_gets_no_card_from_a_member(project):
    with pytest.raises(StudioError, match="another member"):
        issue(project, cast.new_member())


def test_a_teacher_prints_for_a_member(project):
    assert issue(project, cast.teacher()).number == 1


def test_a_warp_saved_while_its_card_is_made_gets_no_card(project, member):
    seen = Project.objects.select_related("owner", "beam").get(pk=project.pk)
    change(project, member, width_in_reed="20")
    with pytest.raises(CardRefused, match="saved anew"):
        issue(seen, member)


def test_the_first_paper_stays_for_ever(project, member):
    card = issue(project, member)
    keep_pdf(card=card, pdf=b"first")
    assert bytes(keep_pdf(card=card, pdf=b"second").pdf) == b"first"


def test_the_card_of_a_changed_warp_supersedes_the_old(project, member):
    old = issue(project, member)
    new = issue(change(project, member, width_in_reed="20"), member)
    assert (state(old).current, state(old).newest, state(new).current) == (False, new, True)


def test_a_card_for_another_beam_supersedes_nothing(project, member):
    card = issue(project, member)
    issue(project, member, factories.a_beam())
    assert state(card).current


def test_a_card_follows_its_beam_when_the_loom_gets_another_name(project, member, beam):
    old = issue(project, member)
    Loom.objects.filter(pk=beam.loom_id).update(nickname="a new name")
    assert state(old).current
    new = issue(change(project, member, width_in_reed="20"), member)
    assert (state(old).newest, state(new).current) == (new, True)


@pytest.mark.parametrize(
    ("field", "text"), [("width_in_reed", "20"), ("pieces", "9"), ("sett", "18"), ("chain_sections", "7")]
)
def test_a_changed_brief_supersedes_the_card(project, member, field, text):
    card = issue(project, member)
    change(project, member, **{field: text})
    assert (state(card).current, state(card).newest) == (False, None)


@pytest.mark.parametrize(
    ("field", "text"), [("title", "Towels for the fair"), ("yarns-0-colour_name", "sea"), ("chain_sections", "1-3")]
)
def test_other_words_supersede_no_card(project, member, field, text):
    card = issue(project, member)
    change(project, member, **{field: text})
    assert state(card).current


def test_a_beam_measured_anew_supersedes_the_card(project, member, beam):
    card = issue(project, member)
    Beam.objects.filter(pk=beam.pk).update(circumference_cm=Decimal(80))
    assert not state(card).current


def test_a_card_is_good_again_when_a_typing_fault_is_put_right(project, member):
    card = issue(project, member)
    change(project, member, sett="twenty")
    seen = state(card).current
    mended = change(project, member, sett="20")
    assert (seen, state(card).current, mended.version) == (False, True, 1)


def test_a_card_whose_beam_is_gone_says_so(project, member):
    card = issue(project, member)
    IssuedCard.objects.filter(pk=card.pk).update(beam=None)
    assert "no longer in use" in state(card).sentence
