"""Beams taped with a yarn: what is kept and refused, how plans take it up, the pages and who may use them."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import pi

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from planner.calc.worksheet.work_out import work_out
from planner.calibration.selectors import measured_on, yarns_by_fineness
from planner.calibration.services import record_calibration, remove_calibration
from planner.models import Calibration
from planner.warps.from_database import read_document
from planner.warps.selectors import read_sheet
from studio.errors import StudioError
from studio.rules.selectors import studio_rules
from tests import cast
from tests.factories import a_beam, a_loom, a_plain_beam, a_reed
from tests.planner.sheets import a_yarn, towels

pytestmark = pytest.mark.django_db

READINGS = {
    "ends": 40, "width_cm": Decimal("4.445"), "turns": 20, "start_cm": Decimal("91.44"), "end_cm": Decimal("95.2"),
    "tape_cm": Decimal("0.1"), "measured_on": date(2026, 3, 2), "note": "pegs 1 and 2",
}  # fmt: skip
"""Forty ends of 8/2 on a 2 in section with dividers of 1/4 in, taped before and after twenty turns."""


@pytest.fixture
def beam():
    studio_rules()
    a_reed()
    return a_beam()


@pytest.fixture
def trained():
    return cast.trained_member()


def calibrated(beam, by, yarn=None, **changes):
    return record_calibration(beam=beam, yarn=yarn or a_yarn(), by=by, values={**READINGS, **changes})


def by_hand(ends=40, width=4.445, turns=20, start=91.44, end=95.2):
    """Give depth [cm] and density [g/cm3] with plain floats: 8/2 is 3360 yd/lb, so 147.64 g to the kilometre."""
    depth = (end - start) / (2 * pi * turns)
    return depth, ends / width * 453.59237 / (3360 * 0.9144) / 100 / depth


# --- What is kept ---


def test_depth_and_density_follow_from_the_tape(beam, trained):
    kept = calibrated(beam, trained)
    depth, density = by_hand()
    assert float(kept.depth.likely) == pytest.approx(depth, rel=1e-9)
    assert float(kept.density.likely) == pytest.approx(density, rel=1e-9)
    assert (kept.yarn_name, kept.fibre, kept.grist) == ("8/2 cotton", "cotton", "3360 yd/lb")


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"end_cm": Decimal("91.44")}, "end_cm"),
        ({"end_cm": Decimal("90")}, "end_cm"),
        ({"tape_cm": Decimal(10)}, "tape_cm"),
        ({"end_cm": Decimal("91.6")}, "turns"),
        ({"ends": 4000}, "ends"),
        ({"measured_on": date(2100, 1, 1)}, "measured_on"),
        ({"turns": 0}, "turns"),
    ],
)
def test_readings_that_no_winding_gives_are_refused_beside_their_field(beam, trained, wrong, field):
    with pytest.raises(ValidationError) as refused:
        calibrated(beam, trained, **wrong)
    assert field in refused.value.message_dict
    assert not Calibration.objects.exists()


def test_when_the_tape_cannot_tell_it_says_how_many_turns_would(beam, trained):
    """By hand: b = 0.15 / (2 pi 20); a millimetre within 5 % of it takes 0.1 / (pi b 0.05) = 533.3 turns."""
    with pytest.raises(ValidationError, match="after 534 turns or more"):
        calibrated(beam, trained, end_cm=Decimal("91.59"))


def test_a_plain_beam_has_no_turns_to_calibrate(trained):
    with pytest.raises(StudioError, match="sectional"):
        calibrated(a_plain_beam(), trained)


def test_its_maker_may_take_it_back_and_a_steward_but_no_other(beam, trained):
    mine, other = calibrated(beam, trained), cast.teacher()
    with pytest.raises(StudioError, match="Another member"):
        remove_calibration(calibration=mine, by=other)
    remove_calibration(calibration=mine, by=trained)
    again = calibrated(beam, trained)
    remove_calibration(calibration=again, by=cast.steward())
    assert not Calibration.objects.exists()


# --- What plans take from it ---


def test_a_plan_on_this_beam_counts_by_what_was_measured(beam, trained):
    plain = work_out(read_sheet(towels(beam)).brief)
    calibrated(beam, trained)
    plan = work_out(read_sheet(towels(beam)).brief)
    assert (plain.beam.turns_range, plain.beam.turns) == (None, 11)
    assert plan.beam.turns_range.safe == plan.beam.turns == 10
    assert float(plan.winding.sections[0].depth_per_turn) == pytest.approx(by_hand()[0], rel=2e-3)
    assert "density_guessed" not in [remark.code for remark in plan.remarks]


def test_it_counts_for_every_colour_of_the_yarn_and_for_no_other_yarn_or_beam(beam, trained):
    calibrated(beam, trained)
    navy = a_yarn(colour_name="navy")
    here = read_sheet(towels(beam, **{"yarns-0-yarn": f"x (yarn {navy.pk})", "yarns-0-grist": ""})).brief
    finer = read_sheet(towels(beam, **{"yarns-0-grist": "4200 yd/lb"})).brief
    wool = read_sheet(towels(beam, **{"yarns-0-fibre": "wool"})).brief
    elsewhere = read_sheet(towels(a_beam(a_loom()))).brief
    assert [brief.yarns[0].density_low is not None for brief in (here, finer, wool, elsewhere)] == [
        True, False, False, False,
    ]  # fmt: skip


def test_several_measurements_narrow_the_doubt(beam, trained):
    yarn = a_yarn()
    one = calibrated(beam, trained, yarn).density
    calibrated(beam, trained, yarn, end_cm=Decimal("95.3"))
    (both,) = measured_on(beam.pk).values()
    assert one.low <= both.density.range.low
    assert both.density.range.high <= one.high
    assert (both.times, both.density.agree) == (2, True)


def test_measurements_that_contradict_each_other_are_all_allowed_for(beam, trained):
    yarn = a_yarn()
    low = calibrated(beam, trained, yarn).density
    high = calibrated(beam, trained, yarn, end_cm=Decimal("93.4")).density
    (both,) = measured_on(beam.pk).values()
    assert not both.density.agree
    assert (both.density.range.low, both.density.range.high) == (low.low, high.high)


def test_a_document_of_the_api_takes_it_up_unless_it_brings_its_own_density(beam, trained):
    calibrated(beam, trained)
    warp = {"title": "Towels", "sett": "20 /in", "width_in_reed": "24 in", "warp_length": "10 yd"}
    asked = {**warp, "loom": {"number": beam.loom.number}, "yarns": [{"code": "A", "grist": "8/2 cotton"}]}
    assert read_document(asked).problems == ()
    assert read_document(asked).brief.yarns[0].density_low is not None
    own = {**asked, "yarns": [{"code": "A", "grist": "8/2 cotton", "wound_density": "0.5 g/cm3"}]}
    assert read_document(own).brief.yarns[0].density_low is None


def test_what_was_measured_takes_one_question(beam, trained, django_assert_num_queries):
    yarn = a_yarn()
    for turns in (20, 21, 22):
        calibrated(beam, trained, yarn, turns=turns)
    with django_assert_num_queries(1):
        measured_on(beam.pk)


def test_each_fineness_is_offered_once(beam):
    a_yarn(), a_yarn(colour_name="navy"), a_yarn(name="8/2 cotton", grist_text="3200 yd/lb")
    assert [words for _key, words in yarns_by_fineness()] == ["8/2 cotton (3360 yd/lb)", "8/2 cotton (3200 yd/lb)"]


# --- Pages ---


def filled(yarn, **changes):
    typed = {
        "yarn": yarn.pk, "ends": "40", "width_cm": "1 3/4", "turns": "20", "start_cm": "36", "end_cm": "95.2 cm",
        "tape_cm": "1 mm", "measured_on": timezone.localdate().isoformat(), "note": "",
    }  # fmt: skip
    return {**typed, **changes}


def test_entering_a_measurement_leads_to_what_plans_take_from_it(beam, trained):
    answer = cast.as_(trained).post(reverse("calibration-new", args=[beam.pk]), filled(a_yarn()), follow=True)
    text = " ".join(answer.content.decode().split())
    assert Fraction(Calibration.objects.get().tape_cm) == Fraction(1, 10)
    assert "What plans take from it" in text
    assert "40 ends on 1 3/4 in, 20 turns" in text or "40 ends on 1.75 in, 20 turns" in text


def test_a_mistake_stands_beside_its_field_and_what_was_typed_stays(beam, trained):
    answer = cast.as_(trained).post(reverse("calibration-new", args=[beam.pk]), filled(a_yarn(), end_cm="35"))
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "The circumference after winding must be larger than before." in text
    assert 'value="35"' in text


def test_a_day_to_come_is_refused_on_the_page(beam, trained):
    later = (timezone.localdate() + timedelta(days=3)).isoformat()
    answer = cast.as_(trained).post(
        reverse("calibration-new", args=[beam.pk]), filled(a_yarn(), measured_on=later)
    )  # fmt: skip
    assert "That day is still to come" in answer.content.decode()


def test_the_form_starts_from_the_section_and_the_empty_beam(beam, trained):
    text = cast.as_(trained).get(reverse("calibration-new", args=[beam.pk])).content.decode()
    assert all(f'value="{value}"' in text for value in ("1.75 in", "36 in"))


@pytest.mark.parametrize(("person", "status"), [(cast.new_member, 403), (cast.guest, 403), (cast.teacher, 200)])
def test_who_may_enter_measurements(beam, person, status):
    assert cast.as_(person()).get(reverse("calibration-new", args=[beam.pk])).status_code == status


def test_everyone_may_read_them_and_the_loom_page_leads_there(beam, trained):
    calibrated(beam, trained)
    client = cast.as_(cast.guest())
    assert reverse("calibrations", args=[beam.pk]) in client.get(beam.loom.get_absolute_url()).content.decode()
    text = client.get(reverse("calibrations", args=[beam.pk])).content.decode()
    assert "8/2 cotton" in text
    assert "Enter a measurement" not in text
    assert "Take it back" not in text


def test_an_empty_page_says_what_to_do_first(beam):
    assert "Nothing measured yet" in cast.as_(cast.guest()).get(
        reverse("calibrations", args=[beam.pk])
    ).content.decode()  # fmt: skip


def test_contradicting_measurements_are_told(beam, trained):
    yarn = a_yarn()
    calibrated(beam, trained, yarn)
    calibrated(beam, trained, yarn, end_cm=Decimal("93.4"))
    text = cast.as_(trained).get(reverse("calibrations", args=[beam.pk])).content.decode()
    assert "contradict each other" in text


def test_taking_back_asks_first(beam, trained):
    kept, client = calibrated(beam, trained), cast.as_(trained)
    url = reverse("calibration-remove", args=[kept.pk])
    assert "Take back the measurement" in client.get(url).content.decode()
    assert Calibration.objects.exists()
    client.post(url)
    assert not Calibration.objects.exists()


def test_anothers_measurement_is_not_taken_back(beam, trained):
    kept = calibrated(beam, trained)
    answer = cast.as_(cast.teacher()).post(reverse("calibration-remove", args=[kept.pk]), follow=True)
    assert "Another member measured this" in answer.content.decode()
    assert Calibration.objects.exists()


@pytest.mark.parametrize("name", ["calibrations", "calibration-new"])
def test_a_plain_beam_has_no_such_page(trained, name):
    assert cast.as_(trained).get(reverse(name, args=[a_plain_beam().pk])).status_code == 404
