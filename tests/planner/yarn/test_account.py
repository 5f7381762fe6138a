"""The account of a warp: taken out and brought back by weight, all lines or none, and nothing twice."""

import re
import threading
from fractions import Fraction

import pytest
from django.db import connection, connections
from django.urls import reverse

from inventory.ledger.quarantine import quarantine
from inventory.ledger.selectors import ledger_faults
from inventory.ledger.services import reverse_move
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, SetAside
from planner.calc.worksheet.work_out import work_out
from planner.models import Project
from planner.sheet.services import archive_project
from planner.warps.selectors import read_sheet
from planner.yarn.account_selectors import account_of
from planner.yarn.account_services import (
    NOTHING_CHOSEN,
    WRITTEN_MEANWHILE,
    RowsRefused,
    Taking,
    YarnAction,
    close_account,
    move_yarn,
)
from planner.yarn.shelf_selectors import asked_by
from studio.errors import StudioError
from studio.models import Member
from tests import cast
from tests.inventory.stock import a_package, balance
from tests.planner.yarn.test_selectors import TOWELS_G, look, queries, set_aside, warp_of
from tests.planner.yarn.test_selectors import yarn as yarn  # noqa: PLC0414
from tests.races import PATIENCE

pytestmark = pytest.mark.django_db
HAIR = Fraction(1, 1000)


@pytest.fixture
def owner():
    return cast.new_member(units="metric")


@pytest.fixture
def cone(yarn):
    return a_package(yarn, gross_text="1025 g", tare_text="25 g", bin_name="A1", dye_lot="21B")


@pytest.fixture
def warp(owner, yarn, cone):
    warp = warp_of(owner, yarn)
    set_aside(warp)
    return again(warp)


def again(warp):
    return Project.objects.select_related("owner", "set_aside").get(pk=warp.pk)


def account(warp):
    warp = again(warp)
    return account_of(warp, asked_by(warp))


def do(warp, *takings, by=None, seen=None):
    seen = account(warp).stamp if seen is None else seen
    return move_yarn(warp=again(warp), takings=takings, by=by or warp.owner, seen=seen)


def figures(warp):
    (line,) = account(warp).lines
    return tuple(round(float(mass), 3) for mass in (line.set_aside, line.taken, line.back, line.used))


def test_all_that_is_set_aside_is_taken_in_one_step(warp, cone):
    do(warp, Taking(cone, YarnAction.TAKE_ALL))
    on_hand, promised = balance(cone)
    assert (abs(on_hand - (1000 - TOWELS_G)) < HAIR, promised) == (True, 0)
    assert figures(warp) == (0, 782.987, 0, 782.987)
    assert ledger_faults() == ()


def test_the_scale_says_what_was_taken_and_what_came_back(warp, cone):
    # By hand: 1 025 g before, 325 g left on the scale: 700 g out. Later 348 g: 23 g came back, 677 g used.
    do(warp, Taking(cone, YarnAction.TAKE, "325 g"))
    assert figures(warp) == (82.987, 700, 0, 700)
    do(warp, Taking(cone, YarnAction.BACK, "348 g"))
    assert figures(warp) == (82.987, 700, 23, 677)


def test_yarn_that_is_out_still_counts_for_its_warp(warp, cone):
    do(warp, Taking(cone, YarnAction.TAKE_ALL))
    (line,) = look(warp).lines
    assert (line.short.mass_g, line.more_ug, line.enough) == (0, 0, True)
    assert abs(line.out.mass_g - TOWELS_G) < HAIR
    brief = read_sheet(again(warp).typed, again(warp)).brief
    assert not work_out(brief).yarn.needs[0].short


def test_what_is_set_aside_suffices_when_others_have_the_rest(warp, cone):
    # The ledger keeps whole micrograms, so what is set aside may be half of one less than the sum that asked for it.
    set_aside(warp_of(cast.trained_member(), cone.yarn, title="More towels"))
    assert balance(cone) == (1000, 1000)
    (line,) = look(warp).lines
    assert (line.enough, line.ends_missing, line.short.mass_g, line.more_ug) == (True, 0, 0, 0)
    do(warp, Taking(cone, YarnAction.TAKE_ALL))
    (line,) = look(warp).lines
    assert (line.enough, line.ends_missing, line.short.mass_g) == (True, 0, 0)


def test_what_came_back_is_lacking_again(warp, cone):
    do(warp, Taking(cone, YarnAction.TAKE_ALL))
    do(warp, Taking(cone, YarnAction.BACK, "442 g"))  # by hand: 242.014 g in the book, 417 g of yarn by the scale
    (line,) = look(warp).lines
    assert abs(Fraction(line.more_ug, 10**6) - (417 - (1000 - TOWELS_G))) < HAIR


def test_a_reversed_taking_counts_for_nothing(warp, cone):
    (move,) = do(warp, Taking(cone, YarnAction.TAKE, "325 g"))
    reverse_move(move=move, by=warp.owner)
    assert figures(warp) == (782.987, 0, 0, 0)


def test_several_packages_go_in_one_step_or_none(owner, yarn):
    first, second = (a_package(yarn, gross_text="525 g", tare_text="25 g") for _ in range(2))
    warp = warp_of(owner, yarn)
    set_aside(warp)
    with pytest.raises(RowsRefused) as refused:
        do(warp, Taking(first, YarnAction.TAKE_ALL), Taking(second, YarnAction.BACK, "500 g"))
    assert set(refused.value.rows) == {second.pk}
    assert "stood in the book already" in refused.value.rows[second.pk]
    assert (balance(first)[0], balance(second)[0], Move.objects.filter(kind="issue").count()) == (500, 500, 0)
    held = balance(first)[1]
    do(warp, Taking(first, YarnAction.TAKE_ALL), Taking(second, YarnAction.TAKE, "300 g"))
    assert (balance(first), balance(second)[0]) == ((500 - held, 0), 275)


def test_a_second_press_takes_nothing(warp, cone):
    seen = account(warp).stamp
    do(warp, Taking(cone, YarnAction.TAKE, "625 g"), seen=seen)
    with pytest.raises(StudioError) as refused:
        do(warp, Taking(cone, YarnAction.TAKE, "425 g"), seen=seen)
    assert (refused.value.message, balance(cone)[0]) == (WRITTEN_MEANWHILE, 600)


def test_a_weighing_meanwhile_is_seen_first(warp, cone):
    seen = account(warp).stamp
    weigh_package(package=cone, gross_text="1000 g", by=cast.teacher())
    with pytest.raises(StudioError):
        do(warp, Taking(cone, YarnAction.TAKE_ALL), seen=seen)


def test_nothing_chosen_is_said(warp):
    with pytest.raises(StudioError) as refused:
        do(warp)
    assert refused.value.message == NOTHING_CHOSEN


def test_without_anything_set_aside_nothing_is_taken(owner, yarn, cone):
    bare = warp_of(owner, yarn)
    with pytest.raises(StudioError, match="Nothing was ever set aside"):
        move_yarn(warp=bare, takings=[Taking(cone, YarnAction.TAKE_ALL)], by=owner, seen="")


def test_all_of_nothing_is_refused_beside_its_package(warp, cone):
    do(warp, Taking(cone, YarnAction.TAKE_ALL))
    with pytest.raises(RowsRefused) as refused:
        do(warp, Taking(cone, YarnAction.TAKE_ALL))
    assert refused.value.rows[cone.pk] == "Nothing more of it is set aside for this warp."


def test_another_member_may_not_and_a_teacher_may(warp, cone):
    with pytest.raises(StudioError) as refused:
        do(warp, Taking(cone, YarnAction.TAKE_ALL), by=cast.trained_member())
    assert refused.value.code == "not_yours"
    assert balance(cone)[0] == 1000
    do(warp, Taking(cone, YarnAction.TAKE_ALL), by=cast.teacher())
    assert Move.objects.get(kind="issue").for_member == warp.owner


def test_a_package_of_no_business_here_is_refused(warp, yarn):
    stranger = a_package(yarn)
    with pytest.raises(StudioError, match="not set aside for this warp"):
        do(warp, Taking(stranger, YarnAction.BACK, "600 g"))


def test_quarantined_after_it_was_set_aside_it_is_counted_apart(warp, cone):
    quarantine(package=cone, by=cast.steward())
    (line,) = look(warp).lines
    assert (line.set_aside.mass_g, line.free.mass_g) == (0, 0)
    assert abs(line.in_quarantine.mass_g - TOWELS_G) < HAIR
    assert line.short.mass_g == line.needed.mass_g == TOWELS_G
    with pytest.raises(RowsRefused) as refused:
        do(warp, Taking(cone, YarnAction.TAKE_ALL))
    assert "in quarantine" in refused.value.rows[cone.pk]
    brief = read_sheet(again(warp).typed, again(warp)).brief
    assert brief.yarns[0].on_hand == 0


def test_closing_frees_the_rest_and_keeps_the_account(warp, cone):
    do(warp, Taking(cone, YarnAction.TAKE, "325 g"))
    close_account(warp=again(warp), by=warp.owner)
    assert (figures(warp), account(warp).closed, balance(cone)) == ((0, 700, 0, 700), True, (300, 0))
    with pytest.raises(RowsRefused, match="marked below"):
        do(warp, Taking(cone, YarnAction.TAKE, "225 g"))
    do(warp, Taking(cone, YarnAction.BACK, "345 g"))
    assert figures(warp) == (0, 700, 20, 680)


def test_setting_aside_again_goes_on_with_the_same_account(warp, cone):
    do(warp, Taking(cone, YarnAction.TAKE, "325 g"))
    work = again(warp).set_aside
    close_account(warp=again(warp), by=warp.owner)
    set_aside(warp)
    assert (again(warp).set_aside, SetAside.objects.count(), account(warp).closed) == (work, 1, False)
    assert figures(warp) == (82.987, 700, 0, 700)


def test_nobody_else_closes_it(warp, cone):
    with pytest.raises(StudioError):
        close_account(warp=again(warp), by=cast.trained_member())
    assert balance(cone)[1] > 0


def test_more_packages_cost_no_more_questions(owner, yarn):
    def cost(number):
        warp = warp_of(owner, yarn, title=f"{number}")
        set_aside(warp)
        asked = asked_by(again(warp))
        kept = again(warp)
        return queries(lambda: account_of(kept, asked))

    for _ in range(2):
        a_package(yarn, gross_text="425 g", tare_text="25 g")
    few = cost(2)
    for _ in range(12):
        a_package(yarn, gross_text="125 g", tare_text="25 g")
    assert cost(12) == few


# The page.


def address(warp, name="warp-account"):
    return reverse(name, args=[warp.pk])


def text_of(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


def send(someone, warp, *, follow=False, **rows):
    said = {"seen": account(warp).stamp, **{name.replace("_", "-"): value for name, value in rows.items()}}
    return cast.as_(someone).post(address(warp), said, follow=follow)


def test_the_page_shows_account_and_packages(owner, warp, cone):
    text = text_of(cast.as_(owner).get(address(warp)))
    for said in ("783 g", f"Cone {cone.pk}", "lot 21B, bin A1", "take out all 783 g", "Close the account"):
        assert said in text
    assert f'href="{address(warp)}"' in text_of(cast.as_(owner).get(address(warp, "warp-yarn")))


def test_taking_and_bringing_back_on_the_page(owner, warp, cone):
    key = cone.pk
    text = text_of(send(owner, warp, follow=True, **{f"action_{key}": "take", f"gross_{key}": "325"}))
    assert "Recorded" in text
    assert "700 g" in text
    text = text_of(send(owner, warp, follow=True, **{f"action_{key}": "back", f"gross_{key}": "348"}))
    assert "−106 g against the plan" in text  # by hand: 677 used of 783
    assert balance(cone)[0] == 323


@pytest.mark.parametrize(
    ("action", "gross", "said"),
    [
        ("take", "", "Say what the scale shows"),
        ("take", "twelve", "is not a number"),
        ("take", "10 g", "That is less than the empty cone alone, 25 g."),
        ("take", "2000 kg", "No package weighs a tonne"),
        ("", "300 g", "Choose an action."),
        ("take_all", "300 g", "empty this box"),
        ("steal", "300 g", "Choose one of those offered"),
        ("back", "900 g", "Choose one of those offered"),  # nothing of it is out
        ("take", "1026 g", "nothing was taken"),
        ("take", "9" * 500, "too long"),
        ("take", "3\x0000", "a sign in it that cannot be kept"),
    ],
)
def test_a_fault_stands_beside_its_package_and_what_was_typed_stays(owner, warp, cone, action, gross, said):
    response = send(owner, warp, **{f"action_{cone.pk}": action, f"gross_{cone.pk}": gross})
    text = text_of(response, 422)
    assert said in text
    assert response.context["form"].errors.keys() & {f"action-{cone.pk}", f"gross-{cone.pk}"}
    if "\x00" not in gross:
        assert not gross or f'value="{gross}"' in text
    assert (balance(cone)[0], Move.objects.filter(kind__in=("issue", "return")).count()) == (1000, 0)


@pytest.mark.parametrize(
    ("someone", "said"), [(None, "Only 700 g of cone"), (cast.teacher, "far more than ever was on it")]
)
def test_no_more_comes_back_than_a_warp_took(owner, warp, cone, someone, said):
    do(warp, Taking(cone, YarnAction.TAKE, "325 g"))
    by = owner if someone is None else someone()
    gross = "1040 g" if someone is None else "50 lb"  # by hand: 715 g back of 700 taken, and 2 % are 14
    text = text_of(send(by, warp, **{f"action_{cone.pk}": "back", f"gross_{cone.pk}": gross}), 422)
    assert said in text
    assert (balance(cone)[0], figures(warp)) == (300, (82.987, 700, 0, 700))


def test_bringing_back_is_offered_where_something_is_out(owner, warp, cone):
    assert "bring back, and weigh it" not in text_of(cast.as_(owner).get(address(warp)))
    do(warp, Taking(cone, YarnAction.TAKE, "325 g"))
    assert "bring back, and weigh it" in text_of(cast.as_(owner).get(address(warp)))


def test_a_page_seen_before_is_refused(owner, warp, cone):
    response = cast.as_(owner).post(address(warp), {"seen": "x" * 3000, f"action-{cone.pk}": "take_all"})
    assert WRITTEN_MEANWHILE in text_of(response, 409)
    assert balance(cone)[0] == 1000


@pytest.mark.parametrize("who", ["trained_member", "guest"])
def test_others_look_and_get_no_button(warp, who):
    assert "Record</button>" not in text_of(cast.as_(getattr(cast, who)()).get(address(warp)))


def test_a_guest_may_not_send(warp, cone):
    guest = cast.guest()
    assert send(guest, warp, **{f"action_{cone.pk}": "take_all"}).status_code == 403
    assert cast.as_(guest).post(address(warp, "warp-account-close")).status_code == 403
    assert balance(cone)[0] == 1000


def test_another_member_is_refused_in_a_sentence(warp, cone):
    text = text_of(send(cast.trained_member(), warp, **{f"action_{cone.pk}": "take_all"}), 409)
    assert "A teacher or a steward can do it" in text
    assert balance(cone)[0] == 1000


def test_strangers_sign_in_first(warp):
    for name in ("warp-account", "warp-account-close"):
        assert "/sign-in/" in cast.stranger().post(address(warp, name))["Location"]


def test_odd_requests_are_answered_plainly(owner, warp):
    browser = cast.as_(owner)
    assert browser.put(address(warp)).status_code == 405
    assert browser.get(address(warp, "warp-account-close")).status_code == 405
    assert browser.get(reverse("warp-account", args=[10**15])).status_code == 404


def test_closing_on_the_page(owner, warp, cone):
    text = text_of(cast.as_(owner).post(address(warp, "warp-account-close"), follow=True))
    assert "The account is closed" in text
    assert "Account closed" in text
    assert balance(cone) == (1000, 0)


def test_nothing_set_aside_is_said(owner, yarn):
    warp = warp_of(owner, yarn)
    assert "Nothing set aside yet" in text_of(cast.as_(owner).get(address(warp)))
    assert "Nothing was ever set aside" in text_of(
        cast.as_(owner).post(address(warp, "warp-account-close"), follow=True)
    )


def test_quarantine_is_said_on_every_page_of_the_warp(owner, warp, cone):
    quarantine(package=cone, by=cast.steward())
    browser = cast.as_(owner)
    assert "in quarantine until checked: cannot be taken out" in text_of(browser.get(address(warp)))
    yarn_page = text_of(browser.get(address(warp, "warp-yarn")))
    assert "Set aside, in quarantine" in yarn_page
    assert "783 g are set aside for this warp and counted apart" in yarn_page
    assert "of that 783 g in quarantine until it is checked" in text_of(browser.get(address(warp, "warp")))


def test_putting_away_and_deleting_say_what_went_back(owner, yarn, warp, cone):
    browser = cast.as_(owner)
    text = text_of(browser.post(reverse("warp-archive", args=[warp.pk]), {"away": "yes"}, follow=True))
    assert "Back on the shelf: 783 g of 8/2 cotton, natural." in text
    assert balance(cone)[1] == 0
    archive_project(project=again(warp), by=owner, away=False)
    set_aside(warp)
    text = text_of(browser.post(reverse("warp-delete", args=[warp.pk]), follow=True))
    assert "Back on the shelf: 783 g of 8/2 cotton, natural." in text
    assert balance(cone) == (1000, 0)


# Two presses at once.


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("action", [YarnAction.TAKE_ALL, YarnAction.TAKE])
def test_two_presses_at_once_take_it_once(owner, yarn, cone, action):
    warp = warp_of(owner, yarn)
    set_aside(warp)
    seen, gate, came = account(warp).stamp, threading.Barrier(4), []

    def press():
        gate.wait(PATIENCE)
        try:
            by = Member.objects.get(pk=owner.pk)
            move_yarn(warp=again(warp), takings=[Taking(cone, action, "525 g" if action is YarnAction.TAKE else "")],
                      by=by, seen=seen)  # fmt: skip
            came.append("done")
        except StudioError as refused:
            came.append(refused.code)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=press) for _ in range(4)]
    for one in threads:
        one.start()
    for one in threads:
        one.join(PATIENCE)
    assert sorted(came) == ["done", "written_meanwhile", "written_meanwhile", "written_meanwhile"], connection.vendor
    left = 500 if action is YarnAction.TAKE else 1000 - TOWELS_G
    assert abs(balance(cone)[0] - left) < HAIR
    assert (Move.objects.filter(kind="issue").count(), ledger_faults()) == (1, ())
