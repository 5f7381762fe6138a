"""Threadings named by a word, and the guide to threading and sleying: sheet, page and API."""

import json
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

import planner
from planner.calc.reed.threading_guide import lace
from planner.calc.terms.brief import Fit
from planner.calc.worksheet.work_out import work_out
from planner.plan.presenter_threading import MOST_FIGURES, guide_view
from planner.sheet.sheet import work_sheet
from studio.units import Units
from tests import cast
from tests.factories import a_beam, a_loom, a_plain_beam, a_reed
from tests.planner import worked_projects as projects
from tests.planner.sheets import posted, towels

HOME = Path(planner.__file__).parent
TOWELS = json.loads((HOME / "examples" / "towels_sectional_beam_inches.json").read_text(encoding="utf-8"))
LIVE = {"HX-Request": "true", "HX-Target": "plan"}


def guide_of(brief):
    return guide_view(brief, work_out(brief))


# In words


def test_a_section_of_the_runner_in_words():
    """282 ends in chains of 94: the second begins on shaft 3, with the 95th end; dents 110 + 47 = 157 to 203."""
    guide = guide_of(projects.runner())
    second = guide.parts[1]
    assert guide.repeat == "1, 2, 3, 4"
    assert (second.title, second.ends, second.so_far) == ("Chain 2", 94, 188)
    assert second.threading == (
        "Begin on shaft 3 with end 3 of the repeat: 3, 4, then 23 repeats. The last end is on shaft 4."
    )
    assert (second.dents, second.shared) == ("Dents 157 to 203: 47 × 2", ())
    assert second.shafts == (((1, 23, 47), (2, 23, 47), (3, 24, 47), (4, 24, 47)),)


def test_a_dent_that_two_sections_share_is_told_in_both():
    """One more end on each side: 41 ends in the first section, the 21st dent holds one of them and one of the next."""
    guide = guide_of(replace(projects.towels(), fit=Fit(selvedge=1)))
    first, second = guide.parts[:2]
    assert first.dents.endswith(": 20 × 2, 1")
    assert second.dents.endswith(": 1, 19 × 2, 1")
    dent = first.shared[0].split()[1]
    assert first.shared == (f"Dent {dent} is shared with {second.title.lower()}.",)
    assert second.shared[0] == f"Dent {dent} is shared with {first.title.lower()}."


def test_an_order_of_several_dents_is_written_with_dashes():
    """The thick ends of the worked project: 5 in 4 dents, six times in a section."""
    guide = guide_of(projects.thick_and_thin())
    assert guide.parts[2].dents.endswith(": 6 × 1-1-1-2")
    assert "each stripe in its own order" in guide.reed


def test_more_than_eight_shafts_go_on_below():
    brief = projects.towels()
    brief = replace(brief, loom=replace(brief.loom, shafts=20, heddles=(30,) * 20))
    guide = guide_of(brief)
    assert [[shaft for shaft, *_ in row] for row in guide.parts[0].shafts] == [
        list(range(1, 9)), list(range(9, 17)), list(range(17, 21)),
    ]  # fmt: skip
    assert [len(row) for row in guide.spare] == [8, 8, 4]


def test_figures_from_a_thousand_up_stand_fewer_to_a_row():
    brief = projects.towels()
    brief = replace(brief, loom=replace(brief.loom, shafts=6, heddles=(2500, 100, 100, 100, 100, 100)))
    assert [len(row) for row in guide_of(brief).spare] == [5, 1]


def test_a_long_repeat_is_not_written_out_again_and_again():
    brief = projects.towels()
    brief = replace(brief, loom=replace(brief.loom, shafts=16, heddles=()), threading=lace(16))
    guide = guide_of(brief)
    assert guide.repeat == "as typed, 84 ends"
    assert guide.parts[0].threading == (
        "Begin on shaft 1 with a new repeat: the first 40 ends of the repeat. The last end is on shaft 9."
    )
    assert ": 1, 16, 1, 2, then the first 36 ends of the repeat. " in guide.parts[2].threading


def test_figures_beyond_all_use_are_left_out_and_the_rest_stays():
    brief = projects.towels()
    loom = replace(brief.loom, shafts=64, heddles=(), weaving_width=Fraction(400))
    beam = replace(loom.beam, sections=90, pitch=loom.beam.pitch / 2, usable_width=Fraction(300))
    brief = replace(brief, loom=replace(loom, beam=beam), width_in_reed=Fraction(2 * 80))
    plan = work_out(brief)
    assert len(plan.threading.guide) * 64 > MOST_FIGURES
    assert {part.shafts for part in guide_view(brief, plan).parts} == {()}


# On the page


@pytest.fixture
def browser():
    return cast.as_(cast.trained_member())


def sheet(**changes):
    a_reed()
    return towels(a_beam(a_loom(shafts=changes.pop("shafts", 4), heddles=changes.pop("heddles", []))), **changes)


def as_read(answer):
    """A page without the spaces that nobody sees: between two tags, and at the ends of lines."""
    return re.sub(r">\s+<", "><", " ".join(answer.content.decode().split()))


def open_page(browser, typed):
    return as_read(browser.post(reverse("warp-plan"), posted(typed)))


def live(browser, typed, **more):
    return as_read(browser.post(reverse("warp-plan"), posted(typed, **more), headers=LIVE))


@pytest.mark.django_db
@pytest.mark.parametrize("kind", ["straight", "point", "broken", "lace"])
def test_a_threading_is_chosen_on_the_sheet_and_stays_chosen(browser, kind):
    page = open_page(browser, sheet(threading_kind=kind))
    assert f'name="threading_kind" value="{kind}" id="id_threading_kind_' in page
    chosen = page[page.index(f'name="threading_kind" value="{kind}"') :].partition(">")[0]
    assert chosen.endswith("checked")
    assert "One repeat of the threading" in page


@pytest.mark.django_db
def test_a_broken_threading_on_two_shafts_is_told_beside_the_choice(browser):
    typed = sheet(shafts=2, threading_kind="broken")
    page = open_page(browser, typed)
    place = page[page.index('id="id_threading_kind_error"') :]
    said = "A broken threading needs an even number of shafts, at least 4; this loom has 2 shafts."
    assert place.startswith(f'id="id_threading_kind_error"><li>{said}</li>')
    assert [(one.field, one.label) for one in work_sheet(typed, Units.INCH).mistakes] == [
        ("threading_kind", "Threading")
    ]
    assert 'data-field="threading_kind"' in live(browser, typed)


@pytest.mark.django_db
def test_a_kind_of_threading_that_nobody_offers_is_told_there_too(browser):
    typed = sheet(threading_kind="zigzag")
    assert [one.field for one in work_sheet(typed, Units.INCH).mistakes] == ["threading_kind"]
    assert open_page(browser, typed)


@pytest.mark.django_db
def test_the_guide_stands_folded_on_the_page_with_every_section(browser):
    page = open_page(browser, sheet(heddles=[150] * 4))
    part = page[page.index('id="plan-guide"') : page.index('id="plan-sums"')]
    assert part.startswith('id="plan-guide">Threading and sleying, seen from the seat</h3>')
    assert "<summary>Section by section, left to right</summary>" in part
    assert part.count('<p class="way-title">Section ') == 12
    assert "40 ends, 480 so far" in part
    assert '<th scope="row">Left</th><td>15</td><td>15</td><td>15</td><td>15</td>' in part
    assert "Too few by" not in part
    assert "data-awaited" not in part


@pytest.mark.django_db
def test_heddles_that_are_too_few_are_told_shaft_by_shaft(browser):
    page = open_page(browser, sheet(heddles=[100, 120, 130, 140]))
    assert '<th scope="row">Too few by</th><td><b>20</b></td><td>0</td><td>0</td><td>0</td>' in page


@pytest.mark.django_db
def test_heddles_nobody_counted_are_said_to_be_so(browser):
    assert "The heddles of this loom are not counted" in open_page(browser, sheet())


@pytest.mark.django_db
def test_floating_selvedges_are_said_to_pass_no_heddle(browser):
    page = open_page(browser, sheet(floating_selvedge="2"))
    assert "The 2 floating selvedge ends pass through no heddle and are not counted here." in page


@pytest.mark.django_db
def test_a_plain_beam_goes_chain_by_chain(browser):
    a_reed()
    page = open_page(browser, towels(a_plain_beam(), method="chain"))
    assert "Chain by chain, left to right" in page
    assert "Chain 5 <span" in page
    assert "Chain by chain, left to right" in live(browser, towels(a_plain_beam(), method="chain"))


@pytest.mark.django_db
def test_without_a_reed_the_heddles_are_still_told(browser):
    page = open_page(browser, towels(a_beam()))
    assert "No reed is known for this sett, so the dents are left out." in page
    assert "Begin on shaft 1 with a new repeat: 10 repeats. The last end is on shaft 4." in page


@pytest.mark.django_db
def test_the_guide_stays_out_of_live_answers_until_it_is_opened(browser):
    typed = sheet()
    closed, opened = live(browser, typed), live(browser, typed, guide="open")
    assert ("so far</span>" in closed, "so far</span>" in opened) == (False, True)
    part = closed[closed.index('id="plan-guide"') : closed.index("</section>", closed.index('id="plan-guide"'))]
    assert len(part) < 500
    assert "then print again" in part


@pytest.mark.django_db
def test_the_guide_asks_the_database_nothing(browser):
    typed, url = sheet(), reverse("warp-plan")
    browser.post(url, posted(typed), headers=LIVE)
    asked = []
    for fold in ("", "open"):
        with CaptureQueriesContext(connection) as queries:
            browser.post(url, posted(typed, guide=fold), headers=LIVE)
        asked.append(len(queries))
    assert asked[0] == asked[1] <= 9


# Over the API


@pytest.mark.django_db
def test_the_api_gives_the_guides_of_a_broken_threading():
    answer = cast.as_(cast.new_member()).post(
        reverse("api-plan"), json.dumps({**TOWELS, "threading": "broken"}), content_type="application/json"
    )
    plan = answer.json()
    last = plan["threading_guide"][-1]
    assert (answer.status_code, last["so_far"], last["on_each_so_far"]) == (200, 480, plan["heddles"])
    assert plan["sley_guide"][0]["runs"] == [{"times": 20, "in_dents": [2]}]
    assert {"left", "right", "short"} == plan["spare_heddles"][0].keys()


@pytest.mark.django_db
def test_the_api_tells_of_a_loom_whose_shafts_do_not_do():
    document = {**TOWELS, "threading": "lace", "loom": {**TOWELS["loom"], "shafts": 2, "heddles": None}}
    answer = cast.as_(cast.new_member()).post(
        reverse("api-plan"), json.dumps(document), content_type="application/json"
    )
    assert (answer.status_code, answer.json()["fields"]) == (
        400, {"threading": ["A lace threading needs at least 3 shafts; this loom has 2 shafts."]},
    )  # fmt: skip
