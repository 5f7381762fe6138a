"""Actions of the house: what is written, what is refused, what stays as it was."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection
from django.utils import timezone

from planner.models import Project
from studio.errors import StillInUse, StudioError
from studio.looms import services
from studio.models import Beam, BeamRound, Loom, Member
from studio.people.services import add_member, change_member, change_my_settings, record_briefing
from studio.rules.services import keep_rules
from tests import cast, factories

pytestmark = pytest.mark.django_db

LOOM = {
    "number": 7, "nickname": "Quay end", "weaving_width_cm": Decimal("114.3"), "shafts": 4, "treadles": 6,
    "heddles": [100, 100, 100, 100], "waste_cm": Decimal("76.2"),
}  # fmt: skip
BEAM = {
    "name": "warp beam", "kind": "sectional", "circumference_cm": Decimal("91.44"), "usable_width_cm": Decimal("114.3"),
    "pitch_cm": Decimal("5.08"), "sections": 22, "centre": "divider", "rake_height_cm": Decimal("5.08"),
}  # fmt: skip


def test_a_loom_is_put_on_the_register():
    assert services.keep_loom(loom=None, values=LOOM) == Loom.objects.get(number=7)


def test_a_loom_is_changed_in_its_own_row():
    loom = factories.a_loom()
    services.keep_loom(loom=loom, values={**LOOM, "nickname": "Harbour wall"})
    assert list(Loom.objects.values_list("nickname", flat=True)) == ["Harbour wall"]


@pytest.mark.parametrize(
    ("heddles", "sentence"),
    [
        ([100, 100], "Give one number for each of the 4 shafts."),
        ([100, 100, 100, "many"], "Heddles are whole numbers, front shaft first."),
        ([100, 100, 100, -1], "Heddles are whole numbers, front shaft first."),
    ],
)
def test_heddles_must_fit_the_shafts(heddles, sentence):
    with pytest.raises(ValidationError) as refused:
        services.keep_loom(loom=None, values={**LOOM, "heddles": heddles})
    assert refused.value.message_dict == {"heddles": [sentence]}


def test_a_new_beam_keeps_its_circumference_with_the_day():
    beam = services.keep_beam(
        beam=None, loom=factories.a_loom(), values={**BEAM, "measured_on": date(2026, 2, 1)}, by=None
    )
    assert list(beam.rounds.values_list("circumference_cm", "measured_on")) == [(Decimal("91.44"), date(2026, 2, 1))]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"sections": 23}, "sections"),
        ({"pitch_cm": None}, "pitch_cm"),
        ({"rake_height_cm": None}, "rake_height_cm"),
        ({"divider_cm": Decimal("5.08")}, "divider_cm"),
        ({"circumference_cm": Decimal("0.00254")}, "circumference_cm"),
        ({"circumference_cm": Decimal("9.99")}, "circumference_cm"),
        ({"rake_height_cm": Decimal("152.4")}, "rake_height_cm"),
        ({"rake_height_cm": Decimal("45.73")}, "rake_height_cm"),
        ({"pitch_cm": Decimal("0.49")}, "pitch_cm"),
        ({"sections": 0}, "sections"),
    ],
)
def test_a_beam_that_cannot_exist_is_refused_beside_its_field(wrong, field):
    with pytest.raises(ValidationError) as refused:
        services.keep_beam(beam=None, loom=factories.a_loom(), values={**BEAM, **wrong})
    assert field in refused.value.message_dict


@pytest.mark.parametrize(
    "least",
    [{"circumference_cm": Decimal(10)}, {"rake_height_cm": Decimal("45.72")}, {"pitch_cm": Decimal("0.5")}],
)
def test_a_beam_at_its_bound_is_kept(least):
    values = {**BEAM, "rake_height_cm": Decimal(5), **least}
    assert services.keep_beam(beam=None, loom=factories.a_loom(), values=values).pk


@pytest.mark.parametrize(
    "wrong",
    [{"circumference_cm": Decimal("0.00254")}, {"rake_height_cm": Decimal("152.4")}, {"pitch_cm": Decimal("0.3")}],
)
def test_the_database_refuses_such_a_beam_too(wrong):
    with pytest.raises(IntegrityError):
        factories.a_beam(**wrong)


@pytest.mark.parametrize(("sections", "centre"), [(21, "section"), (22, "divider")])
def test_what_stands_at_the_middle_follows_from_the_number_of_sections(sections, centre):
    values = {**BEAM, "sections": sections, "centre": "section"}
    assert services.keep_beam(beam=None, loom=factories.a_loom(), values=values).centre == centre


def test_a_plain_beam_has_nothing_at_its_middle():
    values = {**BEAM, "kind": "plain", "sections": 21}
    assert services.keep_beam(beam=None, loom=factories.a_loom(), values=values).centre == "divider"


def test_a_plain_beam_keeps_no_sections():
    beam = services.keep_beam(beam=None, loom=factories.a_loom(), values={**BEAM, "kind": "plain"})
    assert (beam.sections, beam.pitch_cm, beam.rake_height_cm) == (0, None, None)


def test_two_beams_of_one_loom_have_two_names():
    loom = factories.a_beam().loom
    with pytest.raises(ValidationError, match="already has a beam of that name"):
        services.keep_beam(beam=None, loom=loom, values=BEAM)


def test_the_circumference_never_changes_without_its_day():
    beam = factories.a_beam()
    with pytest.raises(ValueError, match="measure_beam"):
        services.keep_beam(beam=beam, loom=beam.loom, values={"circumference_cm": Decimal(90)})


def test_a_beam_measured_again_keeps_both_measurements():
    beam = factories.a_beam()
    services.measure_beam(beam=beam, circumference_cm=Decimal(93), measured_on=date(2026, 5, 1), by=None)
    beam.refresh_from_db()
    assert (beam.circumference_cm, beam.rounds.count()) == (93, 2)


def test_an_older_measurement_does_not_take_the_place_of_the_latest():
    beam = factories.a_beam()
    services.measure_beam(beam=beam, circumference_cm=Decimal(93), measured_on=date(2025, 5, 1), by=None)
    beam.refresh_from_db()
    assert beam.circumference_cm == Decimal("91.44")


def test_a_measurement_no_beam_can_have_is_refused_and_nothing_is_written():
    beam = factories.a_beam()
    with pytest.raises(ValidationError, match="less than 10 cm"):
        services.measure_beam(beam=beam, circumference_cm=Decimal("0.36"), measured_on=date(2026, 5, 1), by=None)
    assert BeamRound.objects.count() == 1


def test_a_measurement_of_tomorrow_is_refused_and_nothing_is_written():
    beam = factories.a_beam()
    tomorrow = timezone.localdate() + timedelta(days=1)
    with pytest.raises(ValidationError, match="still to come"):
        services.measure_beam(beam=beam, circumference_cm=Decimal(93), measured_on=tomorrow, by=None)
    assert BeamRound.objects.count() == 1


def test_a_loom_goes_with_its_beams():
    services.remove_loom(loom=factories.a_beam().loom)
    assert (Loom.objects.count(), Beam.objects.count(), BeamRound.objects.count()) == (0, 0, 0)


def test_a_loom_stays_while_a_warp_hangs_on_it():
    loom = factories.a_loom()
    Project.objects.create(owner=cast.new_member(), title="Towels", loom=loom)
    with pytest.raises(StillInUse, match="no longer in use instead"):
        services.remove_loom(loom=loom)
    assert Loom.objects.filter(pk=loom.pk).exists()


@pytest.mark.parametrize(("warps", "said"), [(1, ": 1 warp. Mark"), (3, ": 3 warps. Mark")])
def test_the_warps_that_keep_a_loom_are_counted_in_words(warps, said):
    loom, owner = factories.a_loom(), cast.new_member()
    for number in range(warps):
        Project.objects.create(owner=owner, title=f"Towels {number}", loom=loom)
    with pytest.raises(StillInUse, match=said):
        services.remove_loom(loom=loom)


def test_a_beam_stays_while_a_warp_hangs_on_it():
    beam = factories.a_beam()
    Project.objects.create(owner=cast.new_member(), title="Towels", loom=beam.loom, beam=beam)
    with pytest.raises(StillInUse):
        services.remove_beam(beam=beam)


def test_a_beam_without_warps_goes():
    services.remove_beam(beam=factories.a_beam())
    assert not Beam.objects.exists()


def test_a_member_is_let_in_with_a_role():
    values = {"name": "the spinner", "role": "member"}
    made = add_member(username="spinner", password=cast.PASSWORD, values=values)
    assert (made.role, made.user.check_password(cast.PASSWORD)) == ("member", True)


def test_a_weak_password_lets_nobody_in():
    with pytest.raises(ValidationError):
        add_member(username="spinner", password="1234", values={"name": "the spinner"})
    assert not Member.objects.exists()


def test_the_last_steward_stays_one():
    with pytest.raises(StudioError, match="only steward"):
        change_member(member=cast.steward(), values={"role": "member"})


def test_the_last_steward_always_may_sign_in():
    steward = cast.steward()
    with pytest.raises(StudioError, match="only steward"):
        change_member(member=steward, values={"may_sign_in": False})
    steward.user.refresh_from_db()
    assert steward.user.is_active


def test_who_leaves_cannot_sign_in_and_may_come_back():
    cast.steward()
    someone = cast.new_member()
    came_in = []
    for may_sign_in in (False, True):
        change_member(member=someone, values={"may_sign_in": may_sign_in})
        came_in.append(cast.stranger().login(username="the-new-member", password=cast.PASSWORD))
    assert came_in == [False, True]


def test_one_of_two_stewards_may_step_down():
    first, _second = cast.steward(), cast.steward("another steward")
    assert change_member(member=first, values={"role": "teacher"}).role == "teacher"


def test_a_steward_who_cannot_sign_in_does_not_count():
    first, second = cast.steward(), cast.steward("another steward")
    second.user.is_active = False
    second.user.save()
    with pytest.raises(StudioError):
        change_member(member=first, values={"role": "teacher"})


def step_down(member):
    """Try to step down in a thread of its own, with a database connection of its own."""
    try:
        change_member(member=member, values={"role": "teacher"})
    except StudioError as refused:
        return refused.code
    finally:
        connection.close()
    return "teacher"


@pytest.mark.django_db(transaction=True)
def test_two_stewards_stepping_down_at_once_leave_one():
    pair = [cast.steward(), cast.steward("another steward")]
    with ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(step_down, pair))
    assert sorted(answers) == ["last_steward", "teacher"]
    assert Member.objects.filter(role="steward").count() == 1


def test_own_settings_never_change_the_role():
    someone = cast.new_member()
    values = {"name": "the weaver", "units": "metric", "paper": "A4", "role": "steward"}
    assert change_my_settings(member=someone, values=values).role == "member"


def test_a_later_briefing_takes_the_place_of_the_earlier():
    someone, steward = cast.new_member(), cast.steward()
    for day in (date(2025, 1, 1), date(2026, 1, 1)):
        record_briefing(member=someone, tool="box", done_on=day, by=steward)
    assert list(someone.briefings.values_list("done_on", flat=True)) == [date(2026, 1, 1)]


def test_a_briefing_of_tomorrow_is_refused():
    with pytest.raises(ValidationError, match="still to come"):
        record_briefing(
            member=cast.new_member(), tool="box", by=cast.steward(), done_on=timezone.localdate() + timedelta(days=1)
        )


def test_rules_are_one_row_however_often_they_are_kept():
    keep_rules(values={"name": "Quayside Weaving Room"})
    kept = keep_rules(values={"sett_share": Decimal("0.75")})
    assert (kept.pk, kept.name, kept.sett_share) == (1, "Quayside Weaving Room", Decimal("0.75"))


def test_a_reed_and_a_station_are_kept():
    reed = services.keep_reed(reed=None, values={"dents": Decimal(50), "per": "10cm", "reed_length_cm": Decimal(100)})
    station = services.keep_station(station=None, values={"kind": "mill", "name": "the tall mill"})
    assert (str(reed), str(station)) == ("50/10", "the tall mill")
