"""Pages of a warp's yarn: who sees what, who may press the button, and what hostile hands get."""

import re

import pytest
from django.urls import reverse

from inventory.ledger.quarantine import quarantine
from planner.models import Project
from planner.sheet.services import archive_project, save_project
from planner.yarn.shelf_services import SHELF_CHANGED, set_yarn_aside
from studio.models import Member
from tests import cast
from tests.inventory.stock import a_package, balance
from tests.planner.sheets import towels
from tests.planner.yarn.test_selectors import look, set_aside, warp_of
from tests.planner.yarn.test_selectors import yarn as yarn  # noqa: PLC0414

pytestmark = pytest.mark.django_db
BUTTON, BACK = "Set this yarn aside", "Give it back to the shelf"


@pytest.fixture
def owner():
    return cast.new_member(units="metric")


@pytest.fixture
def cone(yarn):
    return a_package(yarn, gross_text="1000 g", tare_text="", bin_name="A1", dye_lot="21B")


@pytest.fixture
def warp(owner, yarn, cone):
    return warp_of(owner, yarn)


def address(warp, name="warp-yarn"):
    return reverse(name, args=[warp.pk])


def text_of(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


def seen_by(someone, warp, name="warp-yarn"):
    return text_of(cast.as_(someone).get(address(warp, name)))


def press(someone, warp, **sent):
    return cast.as_(someone).post(address(warp), {"seen": look(warp).stamp, **sent})


def test_the_warp_leads_to_its_yarn(owner, warp):
    assert f'href="{address(warp)}">Yarn for this warp' in seen_by(owner, warp, "warp")


def test_a_draft_has_no_yarn_page(owner, yarn):
    draft = warp_of(owner, yarn, sett="twenty")
    assert "Yarn for this warp" not in seen_by(owner, draft, "warp")
    response = cast.as_(owner).get(address(draft))
    assert (response.status_code, response["Location"]) == (302, draft.get_absolute_url())
    told = cast.as_(owner).get(address(draft), follow=True).content.decode()
    assert told.count("This warp has no plan yet; what it still needs is marked.") == 1


def test_need_shelf_and_proposal_stand_on_the_page(owner, warp, cone):
    text = seen_by(owner, warp)
    # 5 800 yd of 3 360 yd/lb: 783 g, 5 304 m; spools 1 to 40 from one cone (the studio's own worked project).
    for said in ("783<small>g", "5304 m", "1000<small>g", f"Cone {cone.pk}", "21B", "1 to 40", "No spool is joined"):
        assert said in text
    assert BUTTON in text
    assert BACK not in text


def test_setting_aside_shows_on_every_page_of_the_warp(owner, warp, cone):
    response = press(owner, warp)
    assert (response.status_code, response["Location"]) == (302, address(warp))
    text = seen_by(owner, warp)
    assert BUTTON not in text
    assert BACK in text
    sheet = seen_by(owner, warp, "warp")
    assert "Set aside for this warp: 783 g of 8/2 cotton, natural." in sheet
    assert "783 g set aside for this warp" in sheet
    assert "783 g of 8/2 cotton, natural go back to the shelf" in seen_by(owner, warp, "warp-delete")


def test_giving_back_is_asked_first_and_then_done(owner, warp, cone):
    set_aside(warp)
    assert "783 g of 8/2 cotton, natural" in seen_by(owner, warp, "warp-yarn-back")
    assert balance(cone)[1] > 0
    response = cast.as_(owner).post(address(warp, "warp-yarn-back"), follow=True)
    assert "Back on the shelf: 783 g" in text_of(response)
    assert balance(cone) == (1000, 0)


def test_giving_back_nothing_says_so(owner, warp):
    assert "Nothing to give back" in seen_by(owner, warp, "warp-yarn-back")
    assert "Nothing was set aside" in text_of(cast.as_(owner).post(address(warp, "warp-yarn-back"), follow=True))


@pytest.mark.parametrize("who", ["trained_member", "guest"])
def test_others_see_the_page_and_get_no_button(warp, who):
    text = seen_by(getattr(cast, who)(), warp)
    assert "783" in text or "27.62" in text
    assert BUTTON not in text


def test_another_members_press_is_refused_in_a_sentence(warp, cone):
    assert "A teacher or a steward can do it" in text_of(press(cast.trained_member(), warp), 409)
    assert balance(cone) == (1000, 0)


def test_a_teacher_sets_aside_for_the_member(warp, cone, owner):
    teacher = cast.teacher()
    assert BUTTON in seen_by(teacher, warp)
    assert press(teacher, warp).status_code == 302
    assert Project.objects.get(pk=warp.pk).set_aside.for_member == owner


def test_a_guest_asks_a_teacher(yarn, cone):
    guest = cast.guest()
    warp = warp_of(guest, yarn)
    assert "Ask a teacher or a steward" in seen_by(guest, warp)
    for name in ("warp-yarn", "warp-yarn-back"):
        assert cast.as_(guest).post(address(warp, name)).status_code == 403
    assert balance(cone) == (1000, 0)


def test_strangers_sign_in_first(warp):
    for name in ("warp-yarn", "warp-yarn-back"):
        assert "/sign-in/" in cast.stranger().post(address(warp, name))["Location"]


def test_a_shelf_that_changed_shows_the_new_proposal(owner, warp, yarn, cone):
    stamp = look(warp).stamp
    other = warp_of(cast.trained_member(), yarn, title="More towels")
    set_aside(other)
    text = text_of(cast.as_(owner).post(address(warp), {"seen": stamp}), 409)
    assert SHELF_CHANGED in text
    assert "The shelf does not have enough" in text
    assert f'value="{look(warp).stamp}"' in text


@pytest.mark.parametrize("sent", [{}, {"seen": ""}, {"seen": "\x00"}, {"seen": "x" * 5000}, {"seen": ["a", "b"]}])
def test_hostile_posts_set_nothing_aside(owner, warp, cone, sent):
    assert SHELF_CHANGED in text_of(cast.as_(owner).post(address(warp), sent), 409)
    assert balance(cone) == (1000, 0)


@pytest.mark.parametrize("name", ["warp-yarn", "warp-yarn-back"])
def test_odd_requests_are_answered_plainly(owner, warp, name):
    browser = cast.as_(owner)
    assert browser.put(address(warp, name)).status_code == 405
    assert browser.head(address(warp, name)).status_code == 200
    assert browser.get(reverse(name, args=[10**15])).status_code == 404
    assert browser.post(reverse(name, args=[10**15])).status_code == 404


def test_a_page_without_a_token_of_ours_is_refused(owner, warp, cone):
    browser = cast.Client(enforce_csrf_checks=True)
    browser.force_login(owner.user)
    assert browser.post(address(warp), {"seen": look(warp).stamp}).status_code == 403
    assert balance(cone) == (1000, 0)


def test_a_warp_put_away_has_no_button(owner, warp):
    archive_project(project=warp, by=owner, away=True)
    text = seen_by(owner, warp)
    assert "archived. Restore it" in text
    assert BUTTON not in text
    assert press(owner, warp).status_code == 409


def test_quarantine_and_shortage_are_said_in_words(owner, warp, cone):
    quarantine(package=cone, by=cast.teacher())
    text = seen_by(owner, warp)
    assert "Cannot be taken out: " in text
    assert "There is yarn for 0 of its 480 ends; 480 are missing." in text
    assert "Nothing of it is free at the moment." in text


def test_lots_are_striped_in_one_sentence(owner, yarn):
    for lot, weight in (("X", "600 g"), ("Y", "240 g")):
        a_package(yarn, gross_text=weight, tare_text="", dye_lot=lot)
    text = seen_by(owner, warp_of(owner, yarn))
    assert "Stripe them evenly across the warp: 3 ends of lot X and 1 end of lot Y, over and over" in text


def test_a_warp_of_no_yarn_of_the_yarn_room_says_so(owner, yarn):
    own = {"yarns-0-yarn": "8/2 of our own", "yarns-0-grist": "3360 yd/lb", "yarns-0-fibre": "cotton"}
    assert "No yarn of the yarn room" in seen_by(owner, warp_of(owner, yarn, **own))


def test_a_warp_made_shorter_is_told_what_it_holds_too_much(owner, yarn, warp):
    set_aside(warp)
    assert "more than it needs" not in seen_by(owner, warp)
    shorter = {"yarns-0-yarn": f"x (yarn {yarn.pk})", "yarns-0-grist": "", "yarns-0-fibre": "", "pieces": "4"}
    save_project(owner=owner, typed=towels(warp.beam, **shorter), project=warp, by=owner)
    line = look(warp).lines[0]
    assert line.over.mass_g == line.set_aside.mass_g - line.needed.mass_g > 300
    assert "more than it needs by now" in seen_by(owner, warp)


def test_a_member_of_another_role_later_keeps_what_was_set_aside(owner, warp, cone):
    # A member who becomes a guest may still put her own warp away, and the yarn is free again.
    set_yarn_aside(warp=warp, by=owner, seen=look(warp).stamp)
    Member.objects.filter(pk=owner.pk).update(role="guest")
    cast.as_(owner).post(reverse("warp-archive", args=[warp.pk]), {"away": "yes"})
    assert balance(cone) == (1000, 0)
