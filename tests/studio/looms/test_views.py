"""The register of looms: everybody reads it, stewards keep it."""

from decimal import Decimal

import pytest
from django.urls import reverse
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects, assertTemplateUsed

from planner.models import Project
from studio.models import Beam, Loom
from tests import cast, factories

pytestmark = pytest.mark.django_db

TYPED = {
    "number": "7", "nickname": "Quay end", "weaving_width_cm": "45 in", "shafts": "4", "treadles": "6",
    "heddles": "100, 100, 100, 100", "waste_cm": "30", "notes": "",
}  # fmt: skip
EDITS = ["loom-edit", "loom-delete", "beam-new"]


def url(name, thing=None):
    return reverse(name, args=[thing.pk] if thing else [])


def test_the_list_shows_every_loom_in_the_readers_units():
    factories.a_beam(factories.a_loom(nickname="Harbour wall"))
    page = cast.as_(cast.new_member(units="metric")).get(url("looms"))
    assertContains(page, "Harbour wall")
    assertContains(page, "114.3 cm weaving width")


@pytest.mark.parametrize("rows", [3, 30])
def test_the_list_asks_the_database_as_often_for_many_looms_as_for_few(rows, django_assert_num_queries):
    for _ in range(rows):
        factories.a_beam()
    browser = cast.as_(cast.steward())
    browser.get(url("looms"))
    with django_assert_num_queries(7):
        browser.get(url("looms"))


def test_an_empty_list_says_what_to_do_first():
    assertContains(cast.as_(cast.steward()).get(url("looms")), "Add the first loom")


def test_an_empty_list_offers_members_nothing_they_may_not_do():
    assertNotContains(cast.as_(cast.new_member()).get(url("looms")), url("loom-new"))


@pytest.mark.parametrize("name", ["looms", "loom-new"])
def test_a_stranger_is_asked_to_sign_in(name):
    assertRedirects(cast.stranger().get(url(name)), f"{url('sign-in')}?next={url(name)}")


@pytest.mark.parametrize("name", ["loom", *EDITS])
def test_a_stranger_learns_nothing_of_a_loom(name):
    target = url(name, factories.a_loom())
    assertRedirects(cast.stranger().get(target), f"{url('sign-in')}?next={target}")


@pytest.mark.parametrize("someone", [cast.guest, cast.new_member, cast.trained_member, cast.teacher])
@pytest.mark.parametrize("name", EDITS)
def test_only_stewards_change_looms(name, someone):
    loom, browser = factories.a_loom(), cast.as_(someone())
    assert [browser.get(url(name, loom)).status_code, browser.post(url(name, loom)).status_code] == [403, 403]


def test_the_loom_page_shows_its_facts_and_its_beam():
    loom = factories.a_beam(factories.a_loom(nickname="Slipway")).loom
    page = cast.as_(cast.guest()).get(url("loom", loom))
    for words in ("Slipway", "22, with a divider at the middle", "The beam from the seat", "loom maker’s manual"):
        assertContains(page, words)


def test_the_loom_page_offers_changes_to_stewards_alone():
    loom = factories.a_loom()
    assertNotContains(cast.as_(cast.teacher()).get(url("loom", loom)), url("loom-edit", loom))
    assertContains(cast.as_(cast.steward()).get(url("loom", loom)), url("loom-edit", loom))


def test_the_loom_page_has_no_style_attribute_for_the_content_policy_to_refuse():
    page = cast.as_(cast.steward()).get(url("loom", factories.a_beam().loom))
    assertNotContains(page, "style=")


@pytest.mark.parametrize("beams", [1, 5])
def test_the_loom_page_asks_as_often_for_many_beams_as_for_one(beams, django_assert_num_queries):
    loom = factories.a_loom()
    for number in range(beams):
        factories.a_beam(loom, name=f"beam {number}")
    browser = cast.as_(cast.new_member())
    browser.get(url("loom", loom))
    with django_assert_num_queries(12):
        browser.get(url("loom", loom))


def test_a_loom_that_is_not_there_is_not_found():
    assert cast.as_(cast.steward()).get("/looms/99/").status_code == 404


def test_a_steward_puts_a_loom_on_the_register():
    browser = cast.as_(cast.steward())
    assertRedirects(browser.post(url("loom-new"), TYPED), url("looms"))
    assert Loom.objects.get(number=7).weaving_width_cm == Decimal("114.3")


def test_a_metric_stewards_bare_number_is_centimetres():
    cast.as_(cast.steward(units="metric")).post(url("loom-new"), {**TYPED, "weaving_width_cm": "100"})
    assert Loom.objects.get(number=7).weaving_width_cm == 100


def test_a_new_loom_starts_with_the_next_number_and_the_usual_waste():
    factories.a_loom(number=4)
    page = cast.as_(cast.steward()).get(url("loom-new"))
    assertContains(page, 'name="number" value="5"')
    assertContains(page, 'value="36 in"')


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"weaving_width_cm": "wide"}, "“wide” is not a number"),
        ({"heddles": "100, 100"}, "Give one number for each of the 4 shafts."),
        ({"shafts": "0"}, "This must be at least 1."),
        ({"nickname": ""}, "Fill in this box."),
        ({"number": "99999999999999999999"}, "This must be at most 9999."),
    ],
)
def test_a_mistake_is_said_and_what_was_typed_stays(wrong, sentence):
    page = cast.as_(cast.steward()).post(url("loom-new"), {**TYPED, **wrong})
    assertContains(page, sentence, status_code=422)
    for typed in {**TYPED, **wrong}.values():
        assertContains(page, typed, status_code=422)


def test_a_number_that_hangs_on_another_loom_is_refused():
    factories.a_loom(number=7)
    page = cast.as_(cast.steward()).post(url("loom-new"), TYPED)
    assertContains(page, "This number hangs on another loom.", status_code=422)


def test_an_unchanged_form_sent_back_changes_nothing():
    loom, browser = factories.a_loom(weaving_width_cm=Decimal("100.000001")), cast.as_(cast.steward())
    form = browser.get(url("loom-edit", loom)).context["form"]
    browser.post(url("loom-edit", loom), {name: form[name].value() for name in TYPED})
    before, after = loom, Loom.objects.get()
    assert (after.weaving_width_cm, after.waste_cm, after.heddles) == (
        before.weaving_width_cm, before.waste_cm, before.heddles,
    )  # fmt: skip


def test_removing_asks_first_and_says_what_goes():
    loom = factories.a_beam().loom
    page = cast.as_(cast.steward()).get(url("loom-delete", loom))
    assertTemplateUsed(page, "remove_page.html")
    assertContains(page, "Its warp beam, with 1 measurement of the circumference.")
    assert Loom.objects.exists()


def test_removing_takes_the_loom_off_the_register():
    loom = factories.a_beam().loom
    assertRedirects(cast.as_(cast.steward()).post(url("loom-delete", loom)), url("looms"))
    assert not Beam.objects.exists()


def test_a_loom_with_a_warp_is_not_removed_and_the_page_says_why():
    loom, steward = factories.a_loom(), cast.steward()
    Project.objects.create(owner=steward, title="Towels", loom=loom)
    page = cast.as_(steward).post(url("loom-delete", loom), follow=True)
    assertContains(page, "cannot be removed while other records name it")


@pytest.mark.parametrize("number", ["0", "99999999999999999999999"])
def test_a_number_no_row_can_have_is_not_found(number):
    assert cast.as_(cast.steward()).get(f"/looms/{number}/").status_code == 404
