"""Warps: saved as typed, worked out when they can be, changed only by those who may."""

import pytest

from planner.models import IssuedCard, Project
from planner.sheet.services import archive_project, copy_project, delete_project, save_project
from studio.errors import StillInUse, StudioError
from tests import cast
from tests.inventory.stock import a_package
from tests.planner.sheets import a_yarn, towels

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return cast.trained_member()


def save(owner, **changes):
    return save_project(owner=owner, typed=towels(**changes), by=owner)


def with_card(project):
    return IssuedCard.objects.create(
        number=1, project=project, version=1, digest=project.digest, loom_name="x", brief={}, plan={}, units="inch",
        paper="A4", html="", issued_by=project.owner,
    )  # fmt: skip


def test_a_warp_keeps_the_figures_of_the_worked_project(owner):
    # Eight towels: 480 ends, 24 in, 10.06 yd rounded up to 11 turns of a yard (worked by hand, plain arithmetic).
    project = save(owner)
    kept = (project.ends, float(project.width_in_reed_cm), round(float(project.warp_length_cm) / 91.44, 6))
    assert kept == (480, 60.96, 11)


def test_what_was_typed_comes_back_as_typed(owner):
    project = save(owner, sett=" 20 ", hem="2 in")
    project.refresh_from_db()
    assert (project.typed["form"]["sett"], project.typed["form"]["hem"]) == (" 20 ", "2 in")


def test_a_warp_with_mistakes_is_kept_as_a_draft(owner):
    project = save(owner, sett="twenty")
    project.refresh_from_db()
    assert (project.is_draft, project.complete, project.ends) == (True, None, None)
    assert project.typed["form"]["sett"] == "twenty"


def test_a_mended_draft_is_worked_out(owner):
    project = save(owner, sett="twenty")
    mended = save_project(owner=owner, typed=towels(project.beam), project=project, by=owner)
    assert (mended.pk, mended.is_draft, mended.ends) == (project.pk, False, 480)


def test_the_version_rises_when_the_brief_changes(owner):
    project = save(owner)
    changed = save_project(owner=owner, typed=towels(project.beam, sett="18"), project=project, by=owner)
    assert changed.version == 2


def test_the_version_stays_when_only_the_spelling_changes(owner):
    project = save(owner)
    same = save_project(owner=owner, typed=towels(project.beam, sett="20 /in"), project=project, by=owner)
    assert (same.version, same.digest) == (1, project.digest)


def test_a_fuller_shelf_is_no_new_version(owner):
    yarn = a_yarn()
    project = save(owner, **{"yarns-0-yarn": f"8/2 cotton, natural (yarn {yarn.pk})", "yarns-0-grist": ""})
    a_package(yarn, gross_text="900 g", tare_text="")
    again = save_project(owner=owner, typed=project.typed, project=project, by=owner)
    assert again.complete["yarns"][0]["on_hand"] == "1400 g"
    assert (again.version, again.digest == project.digest) == (1, True)


def test_inches_and_centimetres_give_the_same_brief(owner):
    project = save(owner)
    metric = {"hem": "5.08", "sampling": "30.48", "gap": "1.27", "waste": "91.44", "finished_length": "71.12"}
    typed = towels(project.beam, units="metric", sett="20 /in", width_in_reed="60.96", **metric)
    assert save_project(owner=owner, typed=typed, by=owner).digest == project.digest


def test_a_yarn_of_the_yarn_room_can_be_searched_for(owner):
    yarn = a_yarn()
    project = save(owner, **{"yarns-0-yarn": f"8/2 cotton, natural (yarn {yarn.pk})", "yarns-0-grist": ""})
    assert project.complete["yarns"][0]["yarn_id"] == yarn.pk
    assert "natural" in project.words


def test_another_member_may_not_change_a_warp(owner):
    project = save(owner)
    with pytest.raises(StudioError) as refused:
        save_project(owner=owner, typed=project.typed, project=project, by=cast.new_member())
    assert refused.value.code == "not_yours"


@pytest.mark.parametrize("person", [cast.teacher, cast.steward])
def test_those_who_look_after_others_may_change_a_warp(owner, person):
    project = save(owner)
    changed = save_project(owner=owner, typed=towels(project.beam, title="Ten"), project=project, by=person())
    assert (changed.title, changed.owner) == ("Ten", owner)


def test_a_copy_belongs_to_who_copied_it(owner):
    project, by = save(owner), cast.new_member()
    copy = copy_project(project=project, by=by)
    assert (copy.owner, copy.title, copy.copied_from) == (by, "Eight towels, copy", project)


def test_a_copy_takes_the_numbers_that_were_tried(owner):
    project = save(owner)
    copy = copy_project(project=project, by=owner, typed=towels(project.beam, ends="240", width_by="ends"))
    assert copy.ends == 240


def test_a_warp_is_put_away_and_taken_out(owner):
    project = archive_project(project=save(owner), by=owner, away=True)
    assert project.archived
    assert not archive_project(project=project, by=owner, away=False).archived


def test_a_warp_without_cards_is_deleted(owner):
    project = save(owner)
    delete_project(project=project, by=owner)
    assert not owner.projects.exists()


def test_a_warp_with_a_card_stays(owner):
    project = save(owner)
    with_card(project)
    with pytest.raises(StillInUse) as refused:
        delete_project(project=project, by=owner)
    assert "a card was issued" in refused.value.message
    assert owner.projects.exists()


def test_a_long_name_is_shortened_in_lists_alone(owner):
    project = save(owner, title="x" * 300)
    assert (len(project.title), len(project.typed["form"]["title"])) == (120, 300)


def test_a_warp_without_a_name_gets_one(owner):
    assert save(owner, title="  ").title == "Warp without a name"


def change(owner, project, **fields):
    typed = {**project.typed, "form": {**project.typed["form"], **fields}}
    return save_project(owner=owner, typed=typed, project=project, by=owner)


def test_a_typing_fault_put_right_is_no_new_version(owner):
    project = save(owner)
    change(owner, project, sett="twenty")
    mended = change(owner, project, sett="20")
    assert (mended.version, mended.digest) == (1, project.digest)


def test_a_sheet_opened_before_another_was_saved_is_refused(owner):
    project = save(owner)
    change(owner, project, sett="22")
    with pytest.raises(StudioError, match="while you had it open"):
        save_project(owner=owner, typed=project.typed, project=project, by=owner, opened_at=project.stamp)
    assert Project.objects.get(pk=project.pk).typed["form"]["sett"] == "22"
