"""The wanted list: what a warp lacks, until it has it; who may say what; and what its page shows."""

import re
from datetime import timedelta
from fractions import Fraction

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.urls import reverse
from django.utils import timezone

from inventory.ledger.quarantine import quarantine
from inventory.shelf.selectors import free_weight
from planner.models import Project, Wanted
from planner.sheet.services import archive_project, delete_project, save_project
from planner.yarn.wanted_selectors import Standing, waiting_warps, wanted_by, wanted_list
from planner.yarn.wanted_services import WantedDetails, drop_wanted, expect_yarn, order_yarn, want_yarn, yarn_has_come
from studio.errors import StudioError
from tests import cast
from tests.inventory.stock import a_package, allocate
from tests.inventory.stock import a_yarn as another_yarn
from tests.planner.sheets import towels
from tests.planner.yarn.test_selectors import POUND, TOWELS_G, queries, set_aside, warp_of
from tests.planner.yarn.test_selectors import yarn as yarn  # noqa: PLC0414

pytestmark = pytest.mark.django_db
OWN = {
    "yarns-0-yarn": "handspun",
    "yarns-0-colour_name": "russet",
    "yarns-0-grist": "1680 yd/lb",
    "yarns-0-fibre": "wool",
}


@pytest.fixture
def owner():
    return cast.new_member(units="metric")


@pytest.fixture
def warp(owner, yarn):
    """Give eight towels that need 783 g, of which the shelf has 500."""
    a_package(yarn, gross_text="525 g", tare_text="25 g")
    return warp_of(owner, yarn)


def in_days(days):
    return timezone.localdate() + timedelta(days=days)


def want(warp, which=None, by=None, **said):
    warp = Project.objects.select_related("owner").get(pk=warp.pk)
    key = which or warp.typed["form"]["yarns-0-yarn"].split("yarn ")[1].rstrip(")")
    return want_yarn(warp=warp, which=key, by=by or warp.owner, asked=WantedDetails(**said))


def standing(warp):
    return [row.standing for row in wanted_by(warp)]


def test_a_warp_asks_for_what_it_lacks(warp, owner):
    # By hand: 5 800 yd at 3 360 yd/lb are 783 g; 500 are there, so 283 g are lacking.
    row = want(warp, expected_on=in_days(9), note="two cones")
    assert (row.project, row.asked_by, row.state, row.yarn_name) == (warp, owner, "wanted", "8/2 cotton, natural")
    assert abs(Fraction(row.mass_ug, 10**6) - (TOWELS_G - 500)) < Fraction(1, 1000)
    assert (row.expected_on, row.note) == (in_days(9), "two cones")


def test_asking_again_brings_the_amount_up_to_date(warp, yarn):
    first = want(warp, expected_on=in_days(9), note="two cones")
    a_package(yarn, gross_text="100 g", tare_text="")
    again = want(warp)
    assert (again.pk, Wanted.objects.count(), again.expected_on, again.note) == (first.pk, 1, in_days(9), "two cones")
    assert round(again.mass_ug / 10**6) == 183


def test_what_is_not_short_is_not_wanted(warp, yarn):
    a_package(yarn, gross_text="400 g", tare_text="")
    with pytest.raises(StudioError, match="does not lack"):
        want(warp)


@pytest.mark.parametrize("which", ["0", "999999", "own-1", "", "\x00", "x" * 9000])
def test_what_the_warp_does_not_use_is_not_wanted(warp, which):
    with pytest.raises(StudioError, match="does not use"):
        want_yarn(warp=warp, which=which, by=warp.owner, asked=WantedDetails())


def test_a_draft_wants_nothing(owner, yarn):
    draft = warp_of(owner, yarn, sett="twenty")
    with pytest.raises(StudioError):
        want_yarn(warp=draft, which=str(yarn.pk), by=owner, asked=WantedDetails())


def test_another_member_may_not_ask_and_a_teacher_may(warp):
    with pytest.raises(StudioError) as refused:
        want(warp, by=cast.trained_member())
    assert (refused.value.code, Wanted.objects.count()) == ("not_yours", 0)
    assert want(warp, by=cast.teacher()).asked_by.name == "the teacher"


def test_whole_ends_are_wanted_where_packages_are_too_small(owner, yarn):
    # Ninety cones of 9 g: enough by weight, and a cone holds 5 uses of 1.63 g: 450 of 480 ends.
    for _ in range(90):
        a_package(yarn, gross_text="9 g", tare_text="")
    warp = warp_of(owner, yarn)
    row = want(warp)
    assert row.mass_ug > 0
    assert standing(warp) == [Standing.LACKING]


# Until it has it.


def test_lacking_until_the_shelf_has_it(warp, yarn):
    want(warp)
    assert standing(warp) == [Standing.LACKING]
    cone = a_package(yarn, gross_text="400 g", tare_text="")
    assert standing(warp) == [Standing.ON_SHELF]
    quarantine(package=cone, by=cast.steward())
    assert standing(warp) == [Standing.LACKING]


def test_setting_it_aside_takes_it_off_the_list(warp, yarn):
    row = want(warp)
    set_aside(warp)
    row.refresh_from_db()
    assert row.state == "wanted"  # 500 of 783 g: the rest is still to come
    a_package(yarn, gross_text="400 g", tare_text="")
    set_aside(warp)
    row.refresh_from_db()
    assert (row.state, wanted_by(warp)) == ("come", ())


def test_promised_at_the_scale_it_is_no_longer_lacking(warp, yarn, owner):
    want(warp)
    set_aside(warp)  # 500 of 783 g
    more = a_package(yarn, gross_text="400 g", tare_text="")
    work = Project.objects.get(pk=warp.pk).set_aside
    allocate(set_aside=work, package=more, mass_g=Fraction(290), by=owner)
    assert standing(warp) == [Standing.SETTLED]
    assert "its warp no longer lacks it" in shown(owner)


def test_set_aside_elsewhere_it_is_no_longer_on_the_shelf(warp, yarn):
    want(warp)
    a_package(yarn, gross_text="400 g", tare_text="")
    set_aside(warp_of(cast.trained_member(), yarn, title="More towels"))
    assert standing(warp) == [Standing.LACKING]


def test_who_asked_first_is_served_first(warp, yarn):
    second = warp_of(cast.trained_member(), yarn, title="More towels")
    want(warp)
    want(second)
    a_package(yarn, gross_text="400 g", tare_text="")
    assert (standing(warp), [row.standing for group in wanted_list() for row in group.rows]) == (
        [Standing.ON_SHELF], [Standing.ON_SHELF, Standing.LACKING],
    )  # fmt: skip


def test_a_shorter_warp_no_longer_lacks_it(warp, owner, yarn):
    want(warp)
    shorter = {"yarns-0-yarn": f"x (yarn {yarn.pk})", "yarns-0-grist": "", "yarns-0-fibre": "", "pieces": "4"}
    save_project(owner=owner, typed=towels(warp.beam, **shorter), project=warp, by=owner)
    assert standing(warp) == [Standing.ON_SHELF]
    save_project(owner=owner, typed=towels(warp.beam, **OWN), project=warp, by=owner)
    assert standing(warp) == [Standing.SETTLED]


def test_a_member_counts_on_her_own_yarn(warp, yarn, owner):
    want(warp)
    a_package(yarn, gross_text="400 g", tare_text="", owner=cast.trained_member())
    assert standing(warp) == [Standing.LACKING]
    a_package(yarn, gross_text="400 g", tare_text="", owner=owner)
    assert standing(warp) == [Standing.ON_SHELF]


def test_yarn_in_no_book_is_wanted_by_name_and_count(owner):
    warp = save_project(owner=owner, typed=towels(**OWN), by=owner)
    row = want(warp, which="own-1")
    assert (row.yarn, row.yarn_name, round(float(row.tex))) == (None, "handspun, russet", 295)
    # Thicker yarn lies deeper: 40 spools to the next step of the winder, 150 yd in place of 145.
    assert abs(Fraction(row.mass_ug, 10**6) - Fraction(40 * 150, 1680) * POUND) < Fraction(1, 1000)
    assert (standing(warp), want(warp, which="own-1").pk) == ([Standing.LACKING], row.pk)
    other = {**OWN, "yarns-0-yarn": "tow"}
    save_project(owner=owner, typed=towels(warp.beam, **other), project=warp, by=owner)
    assert standing(warp) == [Standing.SETTLED]


def test_the_list_adds_warps_by_yarn_and_rounds_up_once(warp, yarn):
    # By hand: 2 x (782.987 - 500) = 565.97 g, 566 to buy.
    want(warp)
    want(warp_of(cast.trained_member(), yarn, title="More towels"))
    (group,) = wanted_list()
    assert (group.grams, len(group.rows), group.yarn) == (566, 2, yarn)
    assert round(float(group.length_cm / Fraction("91.44"))) == round(566 / 453.59237 * 3360)


def test_the_list_writes_every_weight_in_grams_and_for_who_reads_ounces_also_in_those(warp):
    want(warp)
    page = cast.as_(cast.steward(units="inch")).get(reverse("wanted")).content.decode()
    text = " ".join(re.sub(r"<[^>]+>", " ", page).split())
    # 283 / 28.349523125 (international pound of 1959) is 9.98.
    assert "To buy: 283 g (9.98 oz)" in text
    assert re.findall(r"<button[^>]*data-print[^>]*>", page) == [  # a script shows it; without one it would be dead
        '<button class="button-quiet" type="button" data-print hidden>'
    ]
    assert "283 g (9.98 oz)" in text.split("Asked for", 1)[1]


def test_what_is_ordered_is_not_bought_twice(warp, yarn):
    order_yarn(wanted=want(warp), by=cast.steward(), expected_on=None)
    want(warp_of(cast.trained_member(), yarn, title="More towels"))
    (group,) = wanted_list()
    assert (group.grams, group.ordered) == (283, 283)


# Who may say what.


def test_those_of_the_book_order_and_others_do_not(warp, owner):
    row = want(warp)
    with pytest.raises(StudioError, match="yarn book"):
        order_yarn(wanted=row, by=owner, expected_on=in_days(5))
    done = order_yarn(wanted=row, by=cast.trained_member(), expected_on=in_days(5), note="from the mill")
    assert (done.state, done.expected_on, done.note, done.changed_by.name) == (
        "ordered", in_days(5), "from the mill", "the trained member",
    )  # fmt: skip


def test_the_owner_says_when_and_drops_it(warp, owner):
    row = want(warp)
    assert expect_yarn(wanted=row, by=owner, expected_on=in_days(3)).expected_on == in_days(3)
    assert expect_yarn(wanted=row, by=owner, expected_on=None).expected_on is None
    drop_wanted(wanted=row, by=owner)
    with pytest.raises(StudioError, match="no longer on the list"):
        expect_yarn(wanted=row, by=owner, expected_on=None)


def test_strangers_to_the_warp_do_neither(warp):
    row, other = want(warp), cast.member("member", "the other member")
    for action in (
        lambda: expect_yarn(wanted=row, by=other, expected_on=None),
        lambda: drop_wanted(wanted=row, by=other),
        lambda: yarn_has_come(wanted=row, by=other),
    ):
        with pytest.raises(StudioError) as refused:
            action()
        assert refused.value.code == "not_yours"
    assert Wanted.objects.get().state == "wanted"


def test_what_has_come_is_off_the_list_and_can_be_wanted_again(warp, owner):
    row = want(warp)
    yarn_has_come(wanted=row, by=owner)
    assert (wanted_by(warp), want(warp).pk == row.pk) == ((), False)


def test_one_warp_wants_a_yarn_once(warp):
    row = want(warp)
    row.pk = None
    with pytest.raises(ValidationError, match="on the wanted list for this warp already"):
        row.full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        row.save(force_insert=True)


def test_a_warp_put_away_wants_only_what_is_ordered(warp, owner):
    row = want(warp)
    archive_project(project=warp, by=owner, away=True)
    assert wanted_list() == ()
    order_yarn(wanted=row, by=cast.steward(), expected_on=None)
    assert len(wanted_list()) == 1


def test_a_deleted_warp_wants_nothing_and_a_deleted_yarn_keeps_its_name(warp, owner, yarn):
    bare = another_yarn(name="16/2 linen", count_text="16/2 linen", colour_name="")
    row = want(warp)
    row.yarn = bare
    row.save()
    bare.delete()
    row.refresh_from_db()
    assert (row.yarn, str(row)) == (None, "8/2 cotton, natural for “Eight towels”")
    delete_project(project=warp, by=owner)
    assert not Wanted.objects.exists()


def test_lists_say_until_when(warp, yarn, owner):
    assert waiting_warps([warp]) == {}
    row = want(warp)
    assert waiting_warps([warp])[warp.pk].expected_on is None
    expect_yarn(wanted=row, by=owner, expected_on=in_days(4))
    found = waiting_warps([warp])[warp.pk]
    assert (found.expected_on, found.overdue) == (in_days(4), False)
    Wanted.objects.update(expected_on=in_days(-1))
    assert waiting_warps([warp])[warp.pk].overdue
    a_package(yarn, gross_text="400 g", tare_text="")
    assert waiting_warps([warp]) == {}
    assert free_weight([yarn])[yarn.pk] == 900


# The page.


def text_of(response, status=200):
    assert response.status_code == status
    return re.sub(r"\s+", " ", response.content.decode())


def shown(someone):
    return text_of(cast.as_(someone).get(reverse("wanted")))


def change(someone, row, *, follow=True, **said):
    return cast.as_(someone).post(reverse("wanted-change", args=[row.pk]), said, follow=follow)


def test_an_empty_list_says_so(owner):
    assert "Nothing is wanted" in shown(owner)


def test_the_page_says_what_to_buy_and_for_whom(warp, owner):
    want(warp, expected_on=in_days(9), note="two cones")
    text = shown(owner)
    for said in ("<b>283 g</b>, 1917 m", "Eight towels", "the new member", "two cones", "It has come", "Drop it"):
        assert said in text
    assert "Mark as ordered" not in text
    assert "Mark as ordered" in shown(cast.trained_member())


def test_a_guest_looks_and_changes_nothing(warp):
    row, guest = want(warp), cast.guest()
    assert "its owner can" in shown(guest)
    assert "belongs to another member" in text_of(change(guest, row, action="drop", follow=False), 409)
    assert Wanted.objects.count() == 1


def test_changes_on_the_page(warp, owner):
    row, trained = want(warp), cast.trained_member()
    day = in_days(12)
    assert "Marked as ordered" in text_of(
        change(trained, row, action="order", expected_on=day.isoformat(), note="mill")
    )
    text = shown(owner)
    assert f"{day:%b %Y}" in text
    assert "Ordered already: 283 g." in text
    assert "To buy" not in text
    assert "Saved." in text_of(change(owner, row, action="expect", expected_on="", note=""))
    assert "no day yet" in shown(owner)
    assert "it has come" in text_of(change(owner, row, action="come"))
    assert "no longer on the list" in text_of(change(owner, row, action="drop", follow=False), 409)


def test_overdue_and_come_are_said_in_words(warp, owner, yarn):
    want(warp)
    Wanted.objects.update(expected_on=in_days(-3))
    assert "overdue" in shown(owner)
    a_package(yarn, gross_text="400 g", tare_text="")
    text = shown(owner)
    assert "now on the shelf" in text
    assert "Nothing to buy any more" in text


@pytest.mark.parametrize(
    ("day", "said"),
    [("soon", "year, month and day"), ("2001-01-01", "That day is past"), ("9999-12-31", "five years away")],
)
def test_a_day_that_is_none_is_said_beside_it_and_kept(warp, owner, day, said):
    row = want(warp)
    text = text_of(change(owner, row, action="expect", expected_on=day, follow=False), 422)
    assert said in text
    assert f'value="{day}"' in text
    assert Wanted.objects.get().expected_on is None


@pytest.mark.parametrize("sent", [{}, {"action": "burn"}, {"action": "\x00"}, {"note": "x" * 201}, {"note": "a\x00b"}])
def test_hostile_changes_break_nothing(warp, owner, sent):
    row = want(warp)
    assert change(owner, row, **sent).status_code in {200, 422}
    assert Wanted.objects.get().state == "wanted"


def test_odd_requests_are_answered_plainly(warp, owner):
    row, browser = want(warp), cast.as_(owner)
    assert browser.post(reverse("wanted")).status_code == 405
    assert browser.get(reverse("wanted-change", args=[row.pk])).status_code == 405
    assert browser.post(reverse("wanted-change", args=[10**15])).status_code == 404
    assert "/sign-in/" in cast.stranger().get(reverse("wanted"))["Location"]
    assert "/sign-in/" in cast.stranger().post(reverse("wanted-change", args=[row.pk]))["Location"]


def wanting(owner, number):
    one = another_yarn(name=f"cotton {number}", grist_text="3360 yd/lb", count_text="")
    warp = warp_of(owner, one, title=f"Towels {number}")
    want(warp)
    set_aside_of = a_package(one, gross_text="100 g", tare_text="")
    set_aside(warp)
    return set_aside_of


def test_many_wishes_cost_no_more_questions(owner):
    for number in range(3):
        wanting(owner, number)
    browser = cast.as_(owner)
    pages = (reverse("wanted"), f"{reverse('warps')}?whose=all")
    few = [queries(lambda page=page: browser.get(page)) for page in pages]
    for number in range(3, 12):
        wanting(owner, number)
    assert [queries(lambda page=page: browser.get(page)) for page in pages] == few
    assert shown(owner).count("Eight towels") == 0
    assert "Towels 11" in shown(owner)


# From the warp's own page.


def press(someone, warp, *, follow=True, **said):
    return cast.as_(someone).post(reverse("warp-yarn-want", args=[warp.pk]), said, follow=follow)


def test_the_warps_page_offers_it_and_says_that_it_is_there(warp, owner, yarn):
    page = reverse("warp-yarn", args=[warp.pk])
    assert "Put it on the wanted list" in text_of(cast.as_(owner).get(page))
    text = text_of(press(owner, warp, which=yarn.pk, expected_on=in_days(7).isoformat(), note="mill"))
    assert "On the wanted list: 8/2 cotton, natural." in text
    assert "283 g, 1917 m asked for" in text
    assert "Ask again for what is lacking now" in text
    assert "waits for yarn, expected" in text_of(cast.as_(owner).get(reverse("warps")))


def test_a_slip_in_the_day_keeps_what_was_typed(warp, owner, yarn):
    text = text_of(press(owner, warp, follow=False, which=yarn.pk, expected_on="2001-01-01", note="mill"), 422)
    assert "That day is past" in text
    assert 'value="mill"' in text
    assert not Wanted.objects.exists()


@pytest.mark.parametrize("which", ["", "999", "own-7", "x" * 4000, "\x00"])
def test_hostile_wishes_are_refused_in_a_sentence(warp, owner, which):
    assert "does not use this yarn" in text_of(press(owner, warp, follow=False, which=which), 409)


def test_others_get_no_button(warp, yarn):
    other = cast.trained_member()
    assert "Put it on the wanted list" not in text_of(cast.as_(other).get(reverse("warp-yarn", args=[warp.pk])))
    assert "belongs to another member" in text_of(press(other, warp, follow=False, which=yarn.pk), 409)
    assert "/sign-in/" in cast.stranger().post(reverse("warp-yarn-want", args=[warp.pk]))["Location"]


def test_yarn_in_no_book_is_offered_too(owner):
    warp = save_project(owner=owner, typed=towels(**OWN), by=owner)
    text = text_of(cast.as_(owner).get(reverse("warp-yarn", args=[warp.pk])))
    assert "Yarn that is not in the yarn room" in text
    assert "handspun, russet" in text
    press(owner, warp, which="own-1")
    assert "not in the yarn room" in shown(owner)
