"""The plan's choices on the page: tried with a plain button, folded while nobody looks."""

import re

import pytest
from django.urls import reverse

from planner.brief.form import with_width_tried
from planner.models import Project
from planner.sheet.sheet import work_sheet
from studio.units import Units
from tests import cast
from tests.factories import a_beam, a_loom, a_reed
from tests.planner.sheets import a_yarn, posted, towels

pytestmark = pytest.mark.django_db

BARE = {"finished_length": "", "length_by": "turns", "turns": "20"}
STRIPES = {
    "colour_order": "10 A, 8 B, 6 A, 6 B", "width_in_reed": "22", "sett": "12",
    "yarns-1-code": "B", "yarns-1-yarn": "8/2 red", "yarns-1-grist": "3360 yd/lb", "yarns-1-fibre": "cotton",
}  # fmt: skip


@pytest.fixture
def beam():
    a_reed()
    return a_beam()


@pytest.fixture
def partial(beam):
    """Give a warp of 25 in at 24 to the inch on sections of 2 in: 600 ends, both edges partial."""
    return towels(beam, **BARE, sett="24", width_in_reed="25")


@pytest.fixture
def browser():
    return cast.as_(cast.trained_member())


def text_of(response):
    return re.sub(r"[ \n]+", " ", response.content.decode())


def plan_of(typed, units=Units.INCH):
    return work_sheet(typed, units).plan.shown


def press(browser, typed, asked):
    """Press a button of the sheet without scripts."""
    return browser.post(reverse("warp-plan"), posted(typed, try_width=asked))


def live(browser, typed, **more):
    headers = {"HX-Request": "true", "HX-Target": "plan"}
    return text_of(browser.post(reverse("warp-plan"), posted(typed, **more), headers=headers))


@pytest.mark.parametrize("selvedge", ["", "2"])
@pytest.mark.parametrize("units", Units)
def test_every_width_offered_is_had_when_it_is_tried(beam, selvedge, units):
    for changes in ({"sett": "24", "width_in_reed": "25"}, STRIPES):
        typed = towels(beam, **BARE, **changes, selvedge=selvedge, shift="0.5")
        offered = plan_of(typed, units).alternatives
        assert offered
        for other in offered:
            tried = {**typed, "form": with_width_tried(typed["form"], other.asked)}
            again = plan_of(tried, units)
            assert again.ends == other.ends
            if other.title.startswith("Sections full"):
                assert not any(section.partial for section in again.sections)


def test_a_width_is_tried_with_a_plain_button_and_nothing_is_saved(browser, partial):
    page = press(browser, partial, "624, 1 in")
    sheet, form = page.context["sheet"], page.context["form"]
    assert (sheet.plan.shown.ends, sheet.plan.shown.edge_choices) == (624, ())
    assert [form[name].value() for name in ("width_by", "ends", "shift")] == ["ends", "624", "1 in"]
    assert not Project.objects.exists()


def test_a_width_of_whole_repeats_alone_leaves_the_shift_as_typed():
    assert with_width_tried({"shift": "2 cm"}, "360") == {"shift": "2 cm", "width_by": "ends", "ends": "360"}


HOSTILE = ["", "x", "-4", "1e9", "²", "٣", "9999999", "1.5", ",", ", 1 in", "4 5"]


@pytest.mark.parametrize("asked", HOSTILE)
def test_what_is_no_count_of_ends_is_no_wish(asked):
    assert with_width_tried({"sett": "12"}, asked) == {"sett": "12"}


@pytest.mark.parametrize("asked", [*HOSTILE, "600, " + "9" * 400, "600, \x00", "600, <b>", "0", "600, 1 in, 2 in"])
def test_whatever_is_tried_there_is_a_page(browser, partial, asked):
    assert press(browser, partial, asked).status_code == 200


def test_a_page_has_a_button_for_every_width_outside_the_form(browser, partial):
    page = text_of(browser.post(reverse("warp-plan"), posted(partial)))
    assert all(f'form="sheet" formaction="/warps/plan/" name="try_width" value="{asked}"' in page
               for asked in ("576, 0 in", "624, 1 in"))  # fmt: skip


def test_edges_stand_side_by_side_with_what_each_costs(browser, partial):
    # The fifth trap of the trade brief's worked projects: spread edges come out 11.5 in shorter at twenty turns.
    page = text_of(browser.post(reverse("warp-plan"), posted(partial)))
    assert "Edge sections are not full: " in page
    assert plan_of(partial).edge_choices[-1].shorter in page


def test_full_edges_are_not_spoken_of(browser, beam):
    page = text_of(browser.post(reverse("warp-plan"), posted(towels(beam))))
    assert "Edge sections are not full" not in page


def test_choices_stay_out_of_live_answers_until_one_is_opened(browser, partial):
    closed, opened = live(browser, partial), live(browser, partial, choices="open")
    assert "Edge sections are not full" in closed
    assert ("try_width" in closed, "try_width" in opened) == (False, True)


def test_folded_choices_cost_a_live_answer_little(browser, partial):
    closed = live(browser, partial)
    part = closed[closed.index('id="plan-choices"') : closed.index("</section>", closed.index('id="plan-choices"'))]
    assert len(part) < 1200


def test_set_ups_come_in_the_order_of_winding_with_their_changes(browser, beam):
    typed = towels(beam, **BARE, **STRIPES)
    page, plan = text_of(browser.post(reverse("warp-plan"), posted(typed))), plan_of(typed)
    assert len(plan.setups) > 1
    assert plan.rack_work in page
    assert plan.lead_lost.startswith("Re-threading the box loses ")
    assert page.count(plan.lead_lost) == 1
    assert all(change in page for setup in plan.setups for change in setup.changes)


def test_chains_have_their_mass_and_their_ties(browser):
    typed = towels(a_beam(a_loom()), method="chain")
    page, plan = text_of(browser.post(reverse("warp-plan"), posted(typed))), plan_of(typed)
    assert plan.tie_marks in page
    assert f'<td class="num">{plan.chains[0].mass}</td>' in page
    assert "Chains, 2 ends wound at once" in page
    assert all(tie in page for tie in plan.ties)
    assert "reaches the beam at turn" in plan.ties[0]
    assert f"<td>{plan.chains[0].passes}</td>" in page
    assert f"<td>{plan.chains[0].groups}</td>" in page


def test_prices_that_are_all_known_make_a_total_and_a_part_of_each_piece(browser, beam):
    a_yarn(price_per_100g="2.40")
    typed = towels(beam, **{"yarns-0-yarn": "8/2 cotton, natural", "yarns-0-grist": ""})
    page, cost = text_of(browser.post(reverse("warp-plan"), posted(typed))), plan_of(typed).cost
    assert f"The warp yarn costs <b>{cost.whole}</b>, each of 8 pieces <b>{cost.of_a_piece}</b>." in page
    assert "per 100 g" in page


@pytest.fixture
def striped(beam):
    """Give eleven sections of 24 ends in five layouts."""
    return towels(beam, **BARE, **STRIPES)


def wound(plan):
    return [row.wound.split()[0] for row in plan.sections]


def test_odd_sections_become_chains_with_a_plain_button_and_nothing_is_saved(browser, striped):
    way = next(way for way in plan_of(striped).fewer_spools if way.asked)
    page = browser.post(
        reverse("warp-plan"), posted({**striped, "form": {**striped["form"], "method": "box"}}, wind_chains=way.asked)
    )
    plan, form = page.context["sheet"].plan.shown, page.context["form"]
    assert [form[name].value() for name in ("method", "chain_sections")] == ["box", way.asked]
    assert (plan.spool_count, len(plan.setups), wound(plan).count("chain")) == (way.spools, way.setups, way.chains)
    assert not Project.objects.exists()


def test_the_way_has_its_button_outside_the_form_and_names_its_sections(browser, striped):
    way = next(way for way in plan_of(striped).fewer_spools if way.asked)
    page = text_of(browser.post(reverse("warp-plan"), posted(striped)))
    assert f'form="sheet" formaction="/warps/plan/" name="wind_chains" value="{way.asked}"' in page
    assert f"<dd>{way.chain_sections}</dd>" in page
    assert "wind_chains" not in live(browser, striped)


@pytest.mark.parametrize("asked", [*HOSTILE, "1-400", "400", "9-3", "3, <b>", "5 – 6"])
def test_whatever_is_asked_to_be_chains_there_is_a_page(browser, striped, asked):
    assert browser.post(reverse("warp-plan"), posted(striped, wind_chains=asked)).status_code == 200


def test_a_mixed_warp_shows_spools_set_ups_and_chains_together(browser, striped):
    typed = {**striped, "form": {**striped["form"], "chain_sections": "6, 8–9"}}
    page = text_of(browser.post(reverse("warp-plan"), posted(typed)))
    assert all(f'id="plan-{part}"' in page for part in ("spools", "setups", "chains", "sections"))
    assert [place for place, way in zip(range(6, 17), wound(plan_of(typed)), strict=False) if way == "chain"] == [
        6,
        8,
        9,
    ]
    assert all(f"<td>chain\N{NO-BREAK SPACE}{number}</td>" in page for number in (1, 2, 3))
    assert 'value="6, 8–9"' in page


def test_a_chain_beyond_the_beam_is_told_beside_its_field(browser, striped):
    page = browser.post(reverse("warp-plan"), posted({**striped, "form": {**striped["form"], "chain_sections": "23"}}))
    form = page.context["form"]
    assert form["chain_sections"].errors == ["This beam has sections 1 to 22; there is no section 23."]
    assert [group.key for group in form.groups if group.open] == ["tools"]


def test_each_open_sum_leads_to_its_page(browser, partial):
    page = live(browser, partial, sums="open")
    assert f'href="{reverse("how-one", args=["length-of-turns"])}"' in page


def test_trying_asks_the_database_no_more_than_working_out(browser, partial, django_assert_max_num_queries):
    browser.post(reverse("warp-plan"), posted(partial))
    with django_assert_max_num_queries(14):
        press(browser, partial, "624, 1 in")


@pytest.mark.parametrize(
    ("repeats", "balance", "said"),
    [
        ("on", "9999", "One repeat has 30 ends, so the balance can be 29 at most; more is a whole repeat."),
        ("", "15", "Balance ends follow whole repeats; ask for whole repeats too, or leave the balance empty."),
    ],
)
def test_a_balance_that_cannot_be_had_is_told_beside_its_field(browser, striped, repeats, balance, said):
    form = {**striped["form"], "whole_repeats": repeats, "balance": balance}
    page = browser.post(reverse("warp-plan"), posted({**striped, "form": form}))
    assert page.context["form"]["balance"].errors == [said]
    assert f'value="{balance}"' in page.content.decode()
