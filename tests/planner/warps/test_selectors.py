"""Questions asked of warps."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from planner.models import IssuedCard, Project
from planner.sheet.services import archive_project, save_project
from planner.warps.selectors import (
    cards_issued,
    facts_for,
    faults_of,
    find_warps,
    first_beam,
    may_change,
    read_sheet,
    warps_to_show,
    yarn_labels,
)
from studio.rules.selectors import studio_rules
from tests import cast
from tests.factories import a_beam, a_loom, a_station
from tests.planner.sheets import a_yarn, towels

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return cast.trained_member()


def save(owner, **changes):
    return save_project(owner=owner, typed=towels(**changes), by=owner)


def queries(question):
    studio_rules()  # the first question of a new studio makes its row
    with CaptureQueriesContext(connection) as asked:
        question()
    return len(asked)


def test_a_sheet_is_read_with_the_looms_own_waste():
    beam = a_beam(a_loom(waste_cm=100))
    assert read_sheet(towels(beam, waste="")).brief.allowances.waste == 100


def test_a_sheet_with_many_yarns_asks_no_more_than_one_with_two():
    beam = a_beam()
    yarns = [a_yarn(colour_name=f"colour {n}") for n in range(12)]
    few, many = (
        towels(beam, **{f"yarns-{n}-yarn": f"x (yarn {yarn.pk})" for n, yarn in enumerate(yarns[:some])})
        for some in (2, 12)
    )
    assert queries(lambda: facts_for(few)) == queries(lambda: facts_for(many)) > 0


def test_a_chosen_rack_wins_over_a_larger_one():
    small = a_station(kind="rack", name="small rack", rack_spools=12, path_longest_cm=None)
    a_station(kind="rack", name="large rack", rack_spools=60, path_longest_cm=None)
    beam = a_beam()
    chosen, best = facts_for(towels(beam, rack=str(small.pk))), facts_for(towels(beam))
    assert (chosen.bench["rack_spools"], best.bench["rack_spools"]) == (12, 60)


@pytest.mark.parametrize("key", ["", "0", "-1", "999999", "9" * 30, "abc", "٣", "1; drop table"])
def test_a_tampered_loom_is_simply_not_there(key):
    assert facts_for({"units": "inch", "form": {"beam": key}}).loom is None


def test_each_mistake_stands_beside_its_field():
    typed = towels(sett="twenty", hem="2 furlongs", **{"yarns-0-grist": "8/2 granite"})
    assert {fault.field for fault in faults_of(read_sheet(typed), typed)} == {"sett", "hem", "yarns-0-grist"}


def test_mistakes_are_said_in_the_sheets_words():
    typed = towels(pieces="two", **{"weft-yarn": "handspun"})
    assert {fault.field: fault.text for fault in faults_of(read_sheet(typed), typed)} == {
        "pieces": "Give a whole number, such as 8.",
        "weft-grist": "Give the count of this yarn, such as 8/2 cotton, or choose one of the yarn room.",
    }


def test_what_is_only_missing_is_no_mistake():
    typed = towels(sett="", width_in_reed="")
    assert faults_of(read_sheet(typed), typed) == ()


@pytest.mark.parametrize(
    ("text", "found"),
    [("towels", 1), ("TOWELS eight", 1), ("trained", 1), ("window", 1), ("our own", 1), ("rug", 0), ("\x00", 1)],
)
def test_a_warp_is_found_by_name_member_loom_or_yarn(owner, text, found):
    save(owner)
    assert find_warps(text).count() == found


def test_the_list_shows_mine_everyones_or_those_put_away(owner):
    mine = save(owner)
    other = save(cast.new_member())
    away = archive_project(project=save(owner), by=owner, away=True)
    shown = {whose: set(warps_to_show(member=owner, whose=whose, text="")) for whose in ("mine", "all", "away")}
    assert shown == {"mine": {mine}, "all": {mine, other}, "away": {away}}


def test_cards_are_counted_in_one_question(owner):
    projects = [save(owner), save(owner)]
    card = {"version": 1, "digest": "", "loom_name": "x", "brief": {}, "plan": {}, "units": "inch", "html": ""}
    for number in (1, 2):
        IssuedCard.objects.create(number=number, project=projects[0], issued_by=owner, paper="A4", **card)
    assert cards_issued(projects) == {projects[0].pk: 2}
    assert queries(lambda: cards_issued(projects)) == 1


def test_the_list_never_fetches_what_was_typed(owner):
    save(owner)
    project = warps_to_show(member=owner, whose="mine", text="")[0]
    assert project.get_deferred_fields() == {"typed", "complete"}
    assert queries(lambda: (project.is_draft, project.owner.name, str(project.loom))) == 0


@pytest.mark.parametrize(
    ("person", "may"), [(cast.guest, False), (cast.new_member, False), (cast.teacher, True), (cast.steward, True)]
)
def test_who_may_change_a_warp_of_another(owner, person, may):
    assert may_change(Project(owner=owner), person()) is may


def test_everybody_may_change_her_own():
    guest = cast.guest()
    assert may_change(Project(owner=guest), guest)


def test_the_yarn_room_is_offered_by_label():
    yarn = a_yarn()
    a_yarn(colour_name="gone", retired=True)
    assert yarn_labels() == [f"8/2 cotton, natural (yarn {yarn.pk})"]


def test_a_studio_of_one_loom_need_not_choose():
    beam = a_beam()
    assert first_beam() == str(beam.pk)
    a_beam()
    assert first_beam() == ""
