"""The sheet of one of two beams: marks kept as typed, a sheet for the other beam, pictures and cards of one beam."""

import re
from dataclasses import replace
from itertools import pairwise
from urllib.parse import unquote

import pytest
from django.urls import reverse

from planner.brief.beam_marks import on_two_beams, with_beams_swapped
from planner.brief.document import write_brief
from planner.brief.form import BriefForm, SheetChoices
from planner.brief.sheet_input import KnownFacts, document_of, keep_typed, typed_from_document
from planner.calc.terms.brief import Method
from planner.calc.terms.plan import ColourRun
from planner.calc.worksheet.work_out import work_out
from planner.cards.render import strip_address
from planner.models import IssuedCard, Project
from planner.plan.drawings import SIDE, WIDE, draw_beam
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from planner.sheet.services import copy_project, save_project, start_other_beam
from studio.units import Units
from tests import cast
from tests.factories import a_beam, a_plain_beam, a_reed
from tests.planner import worked_projects as projects
from tests.planner.briefs import COTTON, INDIGO, plain_brief, sectional_brief
from tests.planner.cards.test_render import WORDS, pages_of, text_of
from tests.planner.sheets import a_yarn, posted, towels

LIVE = {"HX-Request": "true", "HX-Target": "plan"}
TWO = {
    "title": "Thick and thin", "sett": "24", "width_by": "ends", "ends": "504", "length_by": "turns", "turns": "15",
    "colour_order": "96 N, 30 T", "yarns-0-code": "N", "yarns-0-grist": "4200 yd/lb",
    "yarns-1-code": "T", "yarns-1-yarn": "5/2 of our own", "yarns-1-grist": "2100 yd/lb", "yarns-1-sett": "15",
    "yarns-1-take_up": "11 %", "yarns-1-elsewhere": "on",
}  # fmt: skip
"""The thin yarn's beam of 9.9, the worked project of thick and thin."""


def two_beams(beam, **changes):
    return towels(beam, **{**TWO, **changes})


def marks(project):
    return {name for name, said in project.typed["form"].items() if name.endswith("-elsewhere") and said}


def page(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


@pytest.fixture
def owner(db):
    return cast.trained_member()


@pytest.fixture
def beam(db):
    a_reed()
    return a_beam()


@pytest.fixture
def project(owner, beam):
    return save_project(owner=owner, typed=two_beams(beam), by=owner)


# --- The marks as typed ---


def test_a_row_without_a_yarn_is_never_marked():
    form = {"yarns-0-yarn": "thin", "yarns-1-code": "B", "yarns-1-elsewhere": "on"}
    assert (on_two_beams(form), "yarns-1-elsewhere" in with_beams_swapped(form)) == (False, True)


def test_marks_exchanged_twice_are_the_first_again():
    form = {name: said for name, said in TWO.items() if name.startswith("yarns")}
    assert with_beams_swapped(with_beams_swapped(form)) == form


def test_mark_and_take_up_reach_the_document_and_come_back():
    document = document_of({"units": "inch", "form": TWO}, KnownFacts())
    assert [(yarn.get("elsewhere"), yarn.get("take_up")) for yarn in document["yarns"]] == [
        (None, None),
        (True, "11 %"),
    ]
    assert document_of(typed_from_document(document), KnownFacts())["yarns"] == document["yarns"]


def test_a_yarn_of_the_yarn_room_can_be_marked_too():
    facts = KnownFacts(yarns={7: {"name": "8/2 cotton", "grist": "3360 yd/lb", "yarn_id": 7}})
    form = {"yarns-0-yarn": "x (yarn 7)", "yarns-0-elsewhere": "on", "yarns-0-take_up": "9"}
    (yarn,) = document_of({"units": "inch", "form": form}, facts)["yarns"]
    assert (yarn["elsewhere"], yarn["take_up"]) == (True, "9")


def test_the_weft_of_a_marked_yarn_is_not_marked():
    document = document_of({"units": "inch", "form": {**TWO, "weft-yarn": "T"}}, KnownFacts())
    assert document["weft"].keys() & {"elsewhere", "take_up", "sett"} == set()


def test_both_fields_are_kept_to_the_letter_and_open_their_row():
    kept = keep_typed({"yarns-1-take_up": " 11 ½ ", "yarns-1-elsewhere": "on", "yarns-1-yarn": "x"})
    assert kept["form"]["yarns-1-take_up"] == " 11 ½ "
    form = BriefForm({"units": "inch", "form": kept["form"]}, SheetChoices())
    assert [row.open for row in form.yarn_rows] == [False, True]
    assert 'type="checkbox"' in str(form["yarns-1-elsewhere"])
    assert "checked" in str(form["yarns-1-elsewhere"])
    assert "checked" not in str(form["yarns-0-elsewhere"])


# --- The sheet for the other beam ---


def test_each_sheet_keeps_the_ends_of_its_own_beam(owner, project):
    a_beam(project.loom, name="upper beam")
    other = start_other_beam(project=project, by=owner)
    assert (project.ends, other.ends) == (384, 120)
    assert (marks(project), marks(other)) == ({"yarns-1-elsewhere"}, {"yarns-0-elsewhere"})


def test_the_other_sheet_is_a_copy_by_name_and_origin(owner, project):
    by = cast.new_member()
    other = start_other_beam(project=project, by=by)
    assert (other.owner, other.title, other.copied_from) == (by, "Thick and thin, other beam", project)
    assert other.typed["form"]["yarns-1-take_up"] == "11 %"


def test_the_other_sheet_takes_the_looms_other_beam(owner, project):
    beside = a_beam(project.loom, name="upper beam", sections=20)
    a_beam()
    assert start_other_beam(project=project, by=owner).beam == beside


def test_back_from_the_other_sheet_leads_to_the_first_beam(owner, project):
    a_beam(project.loom, name="upper beam")
    other = start_other_beam(project=project, by=owner)
    back = start_other_beam(project=other, by=owner)
    assert (back.beam, marks(back)) == (project.beam, marks(project))


def test_a_second_beam_that_is_plain_is_filled_with_chains(owner, project):
    a_plain_beam(project.loom)
    other = start_other_beam(project=project, by=owner)
    assert (other.is_draft, other.complete["method"]) == (False, "chain")


def test_with_one_beam_alone_the_other_is_left_to_choose(owner, project):
    other = start_other_beam(project=project, by=owner)
    assert (other.beam, other.is_draft, other.typed["form"]["beam"]) == (None, True, "")


def test_a_long_name_keeps_what_was_added(owner, beam):
    project = save_project(owner=owner, typed=two_beams(beam, title="x" * 300), by=owner)
    for copy, added in ((start_other_beam, ", other beam"), (copy_project, ", copy")):
        title = copy(project=project, by=owner).title
        assert (len(title), title.endswith(added)) == (120, True)


# --- Pages ---


def test_the_button_makes_the_sheet_from_what_is_typed_now(owner, project):
    client = cast.as_(owner)
    text = page(client.get(project.get_absolute_url()))
    url = reverse("warp-other-beam", args=[project.pk])
    assert f'formaction="{url}"' in text
    answer = client.post(url, posted(two_beams(project.beam, colour_order="48 N, 30 T")), follow=True)
    other = Project.objects.latest("pk")
    assert answer.redirect_chain == [(other.get_absolute_url(), 302)]
    assert other.typed["form"]["colour_order"] == "48 N, 30 T"
    assert "sheet for the other beam" in page(answer)
    project.refresh_from_db()
    assert project.typed["form"]["colour_order"] == "96 N, 30 T"


def test_a_bare_post_takes_the_sheet_as_saved(owner, project):
    a_beam(project.loom, name="upper beam")
    cast.as_(owner).post(reverse("warp-other-beam", args=[project.pk]))
    assert Project.objects.latest("pk").ends == 120


def test_a_warp_on_one_beam_offers_no_other(owner, beam):
    project = save_project(owner=owner, typed=towels(beam), by=owner)
    assert "other-beam/" not in page(cast.as_(owner).get(project.get_absolute_url()))


def test_the_button_appears_as_one_ticks(owner, project):
    sheet = posted(two_beams(project.beam), project=project.pk)
    text = page(cast.as_(owner).post(reverse("warp-plan"), sheet, headers=LIVE))
    assert reverse("warp-other-beam", args=[project.pk]) in text
    assert "Beam</b> holds 384 of 504 ends; the rest is on the other beam." in text


def test_an_unsaved_warp_is_asked_to_be_saved_first(owner, beam):
    text = page(cast.as_(owner).post(reverse("warp-plan"), posted(two_beams(beam)), headers=LIVE))
    assert "Save this warp first" in text
    assert "other-beam/" not in text


def test_a_beam_without_ends_is_told_beside_the_box(owner, beam):
    sheet = posted(two_beams(beam, **{"yarns-0-elsewhere": "on"}))
    text = page(cast.as_(owner).post(reverse("warp-plan"), sheet))
    assert "Warp yarn 1, on the other warp beam" in text
    assert text.count("at least one yarn of the colour order must lie on this one") == 2  # on top, and beside it


@pytest.mark.parametrize("person", [cast.new_member, cast.teacher, cast.guest])
def test_whoever_may_copy_may_make_the_other_sheet(project, person):
    someone = person()
    cast.as_(someone).post(reverse("warp-other-beam", args=[project.pk]))
    assert [warp.title for warp in someone.projects.all()] == ["Thick and thin, other beam"]


def test_a_stranger_makes_nothing(project):
    answer = cast.stranger().post(reverse("warp-other-beam", args=[project.pk]))
    assert (answer.status_code, Project.objects.count()) == (302, 1)
    assert answer.url.startswith("/sign-in/")


def test_the_other_sheet_is_never_made_by_a_look(owner, project):
    assert cast.as_(owner).get(reverse("warp-other-beam", args=[project.pk])).status_code == 405
    assert cast.as_(owner).post(reverse("warp-other-beam", args=[project.pk + 9])).status_code == 404


def test_each_sheet_has_cards_of_its_own(owner, project):
    a_beam(project.loom, name="upper beam")
    other = start_other_beam(project=project, by=owner)
    client = cast.as_(owner)
    for warp in (project, other):
        client.post(reverse("cards-issue", args=[warp.pk]), {"beams": [str(warp.beam_id)], "paper": "A4"})
    cards = list(IssuedCard.objects.order_by("number"))
    assert [(card.project, card.plan["ends"], card.plan["ends_elsewhere"]) for card in cards] == [
        (project, 384, 120), (other, 120, 384),
    ]  # fmt: skip
    assert "384 of 504" in page(client.get(cards[0].get_absolute_url()))


def test_the_shelf_says_which_yarn_is_on_the_other_beam(owner, beam):
    yarn = a_yarn()
    marked = {"yarns-1-yarn": f"8/2 cotton, natural (yarn {yarn.pk})", "yarns-1-grist": ""}
    text = page(cast.as_(owner).post(reverse("warp-plan"), posted(two_beams(beam, **marked))))
    assert text.count('<span class="muted">other beam</span>') == 1


# --- The API ---


def test_the_api_plans_one_beam(owner):
    document = write_brief(projects.two_beams("N", T=2))
    plan = cast.as_(owner).post(reverse("api-plan"), document, content_type="application/json").json()
    assert (plan["ends"], plan["ends_elsewhere"], len(plan["pattern"])) == (120, 384, 8)
    assert [section["position"] for section in plan["sections"]] == [8, 11, 14, 17]
    assert {"two_beams", "caution_two_beams"} <= {remark["code"] for remark in plan["remarks"]}


@pytest.mark.parametrize(
    ("yarn", "said"),
    [
        ({"elsewhere": "on"}, {"yarns.1.elsewhere": ["Write true or false, without quotes."]}),
        (
            {"take_up": "95 %"},
            {"yarns.1.take_up": ["The yarn's own take-up is far too large; check the number and its unit."]},
        ),
    ],
)
def test_the_api_says_what_is_wrong_beside_its_key(owner, yarn, said):
    document = write_brief(projects.two_beams("N"))
    document["yarns"][1] |= yarn
    answer = cast.as_(owner).post(reverse("api-plan"), document, content_type="application/json")
    assert (answer.status_code, answer.json()["fields"]) == (400, said)


# --- Pictures ---


def drawn(brief):
    plan, formatter = work_out(brief), Formatter(Units.INCH)
    return plan, draw_beam(brief, plan, PlanView(brief, plan, formatter).yarns, formatter)


def on_two_beams_brief(make=sectional_brief, order="20 A, 20 B", **changes):
    runs = tuple(ColourRun(code, int(ends)) for ends, code in (stripe.split() for stripe in order.split(", ")))
    brief = make(colour_order=runs, **changes)
    return replace(brief, yarns=(COTTON, replace(INDIGO, elsewhere=True)))


def lefts(path):
    return [float(left) for left in re.findall(r"M([\d.]+) ", path)]


def test_stripes_of_the_other_beam_are_drawn_in_no_section():
    _, beam = drawn(on_two_beams_brief(order="40 A, 40 B"))
    assert {stripes.fill for block in beam.blocks for stripes in block.stripes} == {"url(#yarn-0)"}
    assert {text for view in beam.views for _, text in view.letters} == {"A"}


def test_half_a_section_is_drawn_at_its_true_side():
    plan, beam = drawn(on_two_beams_brief())
    step = (WIDE - 2 * SIDE) / 24
    assert [block.left for block in beam.blocks] == pytest.approx(
        [SIDE + (section.position - 1) * step for section in plan.winding.sections]
    )
    assert {round(block.width, 3) for block in beam.blocks} == {round(step / 2, 3)}


def test_the_order_beside_its_field_is_that_of_the_whole_cloth():
    _, beam = drawn(on_two_beams_brief())
    assert {stripes.fill for stripes in beam.cloth.stripes} == {"url(#yarn-0)", "url(#yarn-1)"}
    assert (beam.cloth.left, beam.cloth.width, beam.extent.split()[2]) == (0, WIDE, "800")
    assert drawn(sectional_brief())[1].cloth is None


def test_chains_keep_their_places_across_a_plain_beam():
    """Stripes of the other beam leave gaps: the first chain begins at the left edge, and ends are drawn apart."""
    _, beam = drawn(on_two_beams_brief(plain_brief, order="30 A, 30 B"))
    places = sorted(left for block in beam.blocks for stripes in block.stripes for left in lefts(stripes.d))
    steps = {round(right - left) for left, right in pairwise(places)}
    assert len(places) >= 8
    assert max(steps) == pytest.approx(round(2 * 30 / 480 * 24 / 45 * (WIDE - 2 * SIDE)), abs=1)


# --- Cards ---


@pytest.mark.parametrize("method", list(Method))
def test_the_card_says_how_much_this_beam_holds(method):
    text = text_of(pages_of(replace(projects.two_beams(), method=method)))
    assert "Beam holds 384 of 504 ends; the rest is on the other beam." in text
    assert "which brake, pawl and crank belong to which" in text
    assert "5/2 cotton, on the other beam" in text


def test_a_card_of_one_beam_says_nothing_of_another():
    assert "other beam" not in text_of(pages_of(projects.thick_and_thin()))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(("method", "sections"), [(Method.BOX, 24), (Method.CHAIN, 12)])
@pytest.mark.parametrize("order", ["20 A, 30 B", "1 A, 1 B", "40 A, 40 B", "13 A, 7 B, 5 A, 31 B"])
def test_a_card_of_two_beams_stays_within_two_pages(paper, method, sections, order):
    brief = on_two_beams_brief(order=order, width_in_reed=projects.inches(2 * sections), method=method)
    assert len(pages_of(brief, replace(WORDS, paper=paper, local_rules="Mind. " * 50))) <= 2


def strip_of(shown):
    return unquote(strip_address(shown).partition(",")[2])


def test_stripes_of_the_other_beam_are_low_on_paper_and_bracketed():
    brief = projects.two_beams()
    shown = PlanView(brief, work_out(brief), Formatter(Units.INCH))
    strip = strip_of(shown)
    assert (strip.count(" 48H"), strip.count(" 11H")) == (2 * 4, 2 * 4)  # four stripes each, colour and hatch
    assert (strip.count(">(T)<"), strip.count(">N<")) == (4, 4)


def test_ticks_of_the_strip_stand_where_the_sections_lie_across_the_cloth():
    """Twelve sections of two inches, the third of each three without a tick of its own at its right."""
    brief = projects.two_beams()
    shown = PlanView(brief, work_out(brief), Formatter(Units.INCH))
    assert shown.places[:3] == ((0, 48), (48, 96), (126, 174))
    ticks = re.search(r'<path d="(M0\.0 0V[^"]*)"', strip_of(shown))[1]
    assert [round(tick * 504 / 1000) for tick in lefts(ticks)][:5] == [0, 48, 96, 126, 174]
