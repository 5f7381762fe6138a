"""Beams: put on, changed, measured again, taken off. Stewards only."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone
from pytest_django.asserts import assertContains, assertRedirects

from planner.models import Project
from studio.models import Beam
from tests import cast, factories

pytestmark = pytest.mark.django_db

TYPED = {
    "name": "warp beam", "kind": "sectional", "circumference_cm": "36", "measured_on": "2026-03-02",
    "usable_width_cm": "45", "pitch_cm": "2", "divider_cm": "1/4", "sections": "22",
    "rake_height_cm": "2", "bars": "4", "leader_cm": "", "clockwise": "False", "turning": "under",
}  # fmt: skip


def url(name, thing):
    return reverse(name, args=[thing.pk])


def test_a_steward_puts_a_beam_on_a_loom():
    loom = factories.a_loom()
    page = cast.as_(cast.steward()).post(url("beam-new", loom), TYPED)
    assertRedirects(page, loom.get_absolute_url())
    beam = Beam.objects.get()
    assert (beam.circumference_cm, beam.pitch_cm, beam.clockwise) == (Decimal("91.44"), Decimal("5.08"), False)


def test_the_first_circumference_says_who_measured_it():
    steward = cast.steward()
    cast.as_(steward).post(url("beam-new", factories.a_loom()), TYPED)
    assert Beam.objects.get().rounds.get().measured_by == steward


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"sections": "30"}, "The sections together are wider than the beam."),
        ({"circumference_cm": "0.001"}, "No warp beam is less than 10 cm"),
        ({"rake_height_cm": "60"}, "no taller than half the circumference"),
        ({"pitch_cm": "0.1", "divider_cm": "0"}, "No section is narrower than 0.5 cm"),
        ({"sections": "-1"}, "This must be at least 0."),
        ({"bars": "four"}, "Write a whole number, such as 8."),
        ({"divider_cm": "2"}, "nothing could be wound"),
        ({"rake_height_cm": ""}, "needs the height of its rakes"),
        ({"pitch_cm": ""}, "needs its section width"),
        ({"circumference_cm": "0"}, "This must be more than 0."),
        ({"circumference_cm": "round"}, "“round” is not a number"),
    ],
)
def test_a_beam_that_cannot_exist_is_refused_and_what_was_typed_stays(wrong, sentence):
    page = cast.as_(cast.steward()).post(url("beam-new", factories.a_loom()), {**TYPED, **wrong})
    assertContains(page, sentence, status_code=422)
    assert page.context["form"]["usable_width_cm"].value() == "45"


def test_an_odd_number_of_sections_puts_one_at_the_middle_and_the_loom_page_says_so():
    loom = factories.a_loom()
    page = cast.as_(cast.steward()).post(url("beam-new", loom), {**TYPED, "sections": "21"}, follow=True)
    assertContains(page, "21, with a section at the middle")


def test_a_leader_at_a_hole_and_its_knot_are_kept_as_typed_and_stand_on_the_page_of_the_loom():
    loom, steward = factories.a_loom(), cast.as_(cast.steward())
    typed = {**TYPED, "leader_cm": "24", "leader_offset_cm": "2 1/4 in", "leader_knot_cm": "3 cm"}
    page = steward.post(url("beam-new", loom), typed, follow=True)
    beam = Beam.objects.get()
    assert (beam.leader_offset_cm, beam.leader_knot_cm) == (Decimal("5.715"), Decimal(3))
    assertContains(page, "2.25 in past a bar")
    assertContains(page, "1.18 in")
    form = steward.get(url("beam-edit", beam)).context["form"]
    assert form["leader_offset_cm"].value() in {"2 1/4 in", "2.25 in"}


def test_a_leader_of_which_nothing_is_said_is_on_a_bar():
    loom = factories.a_loom()
    page = cast.as_(cast.steward()).post(url("beam-new", loom), TYPED, follow=True)
    assert (Beam.objects.get().leader_offset_cm, Beam.objects.get().leader_knot_cm) == (0, 0)
    assertContains(page, "on a bar")


@pytest.mark.parametrize(("name", "typed"), [("leader_offset_cm", "-1"), ("leader_knot_cm", "a thumb")])
def test_a_leader_that_cannot_be_is_refused_beside_its_field(name, typed):
    page = cast.as_(cast.steward()).post(url("beam-new", factories.a_loom()), {**TYPED, name: typed})
    assert page.status_code == 422
    assert page.context["form"][name].errors
    assert page.context["form"][name].value() == typed


def test_a_plain_beam_needs_nothing_of_its_sections():
    plain = {**TYPED, "kind": "plain", "pitch_cm": "", "divider_cm": "", "sections": "", "rake_height_cm": ""}
    cast.as_(cast.steward()).post(url("beam-new", factories.a_loom()), plain)
    assert Beam.objects.get().kind == "plain"


def test_a_measurement_of_tomorrow_is_said_beside_its_day():
    tomorrow = f"{timezone.localdate() + timedelta(days=1)}"
    page = cast.as_(cast.steward()).post(url("beam-new", factories.a_loom()), {**TYPED, "measured_on": tomorrow})
    assertContains(page, "still to come", status_code=422)
    assert page.context["form"].errors.keys() == {"measured_on"}


def test_a_name_used_twice_on_one_loom_is_said():
    loom = factories.a_beam().loom
    page = cast.as_(cast.steward()).post(url("beam-new", loom), TYPED)
    assertContains(page, "already has a beam of that name", status_code=422)


def test_changing_a_beam_leaves_its_circumference():
    beam = factories.a_beam()
    cast.as_(cast.steward()).post(url("beam-edit", beam), {**TYPED, "circumference_cm": "40", "bars": "6"})
    beam.refresh_from_db()
    assert (beam.bars, beam.circumference_cm) == (6, Decimal("91.44"))


def test_measuring_again_keeps_the_earlier_measurement_on_the_loom_page():
    beam, browser = factories.a_beam(), cast.as_(cast.steward())
    typed = {"circumference_cm": "36 1/2", "measured_on": "2026-06-01", "note": "wood under the bars"}
    page = browser.post(url("beam-measure", beam), typed, follow=True)
    for words in ("36.5 in", "1 June 2026", "wood under the bars", "2 March 2026"):
        assertContains(page, words)


def test_removing_a_beam_says_what_goes_then_does_it():
    beam, browser = factories.a_beam(), cast.as_(cast.steward())
    assertContains(browser.get(url("beam-delete", beam)), "1 measurement of its circumference.")
    assertRedirects(browser.post(url("beam-delete", beam)), beam.loom.get_absolute_url())
    assert not Beam.objects.exists()


def test_a_beam_with_a_warp_stays():
    beam, steward = factories.a_beam(), cast.steward()
    Project.objects.create(owner=steward, title="Towels", loom=beam.loom, beam=beam)
    assertContains(cast.as_(steward).post(url("beam-delete", beam), follow=True), "cannot be removed")


@pytest.mark.parametrize("name", ["beam-edit", "beam-measure", "beam-delete"])
def test_members_change_no_beam(name):
    beam, browser = factories.a_beam(), cast.as_(cast.trained_member())
    assert browser.get(url(name, beam)).status_code == 403


@pytest.mark.parametrize("name", ["beam-edit", "beam-measure", "beam-delete"])
def test_a_stranger_is_asked_to_sign_in(name):
    target = url(name, factories.a_beam())
    assertRedirects(cast.stranger().post(target), f"{reverse('sign-in')}?next={target}")
