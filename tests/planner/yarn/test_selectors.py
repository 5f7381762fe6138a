"""A warp against the shelf: what is needed, set aside, free and short, and the packages proposed."""

from dataclasses import replace
from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.ledger.quarantine import quarantine
from planner.calc.shelf.need import yarn_asked
from planner.calc.worksheet.work_out import work_out
from planner.models import Project
from planner.sheet.services import save_project
from planner.warps.selectors import read_sheet
from planner.yarn.shelf_selectors import asked_by, set_aside_for, shelf_plan
from planner.yarn.shelf_services import set_yarn_aside
from tests import cast
from tests.inventory.stock import a_package, promise
from tests.inventory.stock import a_yarn as a_bare_yarn
from tests.planner.sheets import towels
from tests.planner.worked_projects import waiting_section

pytestmark = pytest.mark.django_db
OWN = {"yarns-0-grist": "", "yarns-0-fibre": ""}
POUND = Fraction("453.59237")
TOWELS_G = Fraction(5800, 3360) * POUND
"""Eight towels: 40 spools of 145 yd at 3 360 yd/lb (the studio's own worked project, by hand)."""


@pytest.fixture
def owner():
    return cast.trained_member()


@pytest.fixture
def yarn():
    return a_bare_yarn(name="8/2 cotton", grist_text="3360 yd/lb", count_text="", colour_name="natural")


def warp_of(owner, yarn, **changes):
    return save_project(
        owner=owner, typed=towels(**{"yarns-0-yarn": f"x (yarn {yarn.pk})", **OWN, **changes}), by=owner
    )


def look(warp):
    warp = Project.objects.get(pk=warp.pk)
    return shelf_plan(warp, asked_by(warp))


def line_of(warp):
    (line,) = look(warp).lines
    return line


def set_aside(warp, by=None):
    warp = Project.objects.get(pk=warp.pk)
    return set_yarn_aside(warp=warp, by=by or warp.owner, seen=look(warp).stamp)


def test_eight_towels_take_two_cones_of_a_pound_and_no_join(owner, yarn):
    # By hand: a pound is 3 360 yd, 23 spools of 145 yd (3 335) with 25 yd left; the other 17 come from the second cone.
    cones = [a_package(yarn, gross_text="1 lb", tare_text="") for _ in range(3)]
    line = line_of(warp_of(owner, yarn))
    spools = {share.package.pk: share.spools for share in line.shares}
    assert (line.needed.mass_g, line.joins, line.enough, len(line.shares)) == (TOWELS_G, 0, True, 2)
    assert sorted(spools.values()) == [("1 to 23",), ("24 to 40",)]
    assert set(spools) < {cone.pk for cone in cones}
    assert abs(sum(share.more_g for share in line.shares) - TOWELS_G) < Fraction(1, 1000)


def test_small_cones_are_joined_between_sections_only(owner, yarn):
    # By hand: a cone of 1 000 yd (135 g) holds 82 uses of 145/12 yd, six whole spools and 10 uses. Three together hold
    # 246 uses, 20 spools with two joins, so twice three fill all 40 with four. No way has fewer: with three joins the
    # cones hang together as 1 + 1 + 4, 1 + 2 + 3 or 2 + 2 + 2, and each of these fills 39 spools.
    for _ in range(6):
        a_package(yarn, gross_text="135 g", tare_text="")
    line = line_of(warp_of(owner, yarn))
    parts = [part for share in line.shares for part in share.parts]
    assert (line.enough, line.joins, line.fewest) == (True, 4, True)
    assert {part.of for part in parts} == {12}
    by_spool = {}
    for part in parts:
        by_spool[part.spool] = by_spool.get(part.spool, 0) + part.sections
    assert set(by_spool.values()) == {12}


def test_a_cone_of_84_grams_gives_23_ends_and_13_are_missing(owner):
    # The studio's own worked project: gross 109 g, tare 25 g; 311 yd of the 472 that section 14 needs.
    ground, dyed = (
        a_bare_yarn(name=name, grist_text="1680 yd/lb", count_text="") for name in ("8/4 ground", "8/4 hand-dyed")
    )
    a_package(dyed, gross_text="109 g", tare_text="25 g")
    brief = waiting_section()
    keys = zip(brief.yarns, (ground, dyed), strict=True)
    brief = replace(brief, yarns=tuple(replace(yarn, yarn_id=kept.pk) for yarn, kept in keys))
    lines = shelf_plan(warp_of(owner, ground), yarn_asked(brief, work_out(brief))).lines
    (line,) = [line for line in lines if line.yarn == dyed]
    assert (line.ends_served, line.ends_missing, line.enough) == (23, 13, False)
    assert line.free.mass_g == 84
    assert line.short.mass_g == line.needed.mass_g - 84
    assert [share.more_g for share in line.shares] == [84]


def test_one_lot_that_suffices_goes_before_a_fuller_mixture(owner, yarn):
    for lot, weight in (("X", "700 g"), ("Y", "450 g"), ("Y", "450 g")):
        a_package(yarn, gross_text=weight, tare_text="", dye_lot=lot)
    line = line_of(warp_of(owner, yarn))
    assert (line.lots, line.stripe) == (("Y",), ())


def test_two_lots_are_striped_and_every_section_alike(owner, yarn):
    # 600 g hold 367 uses, which are 30 spools and 7 uses; 240 g hold 147. Of 480 ends 3 to 1 asks 360 and 120.
    for lot, weight in (("X", "600 g"), ("Y", "240 g")):
        a_package(yarn, gross_text=weight, tare_text="", dye_lot=lot)
    line = line_of(warp_of(owner, yarn))
    assert (line.lots, line.stripe, line.dealt) == (("X", "Y"), ((3, "X"), (1, "Y")), True)
    of_y = next(share for share in line.shares if share.package.dye_lot == "Y")
    assert of_y.spools == tuple(str(number) for number in range(4, 41, 4))


def test_quarantined_yarn_is_named_and_not_proposed(owner, yarn):
    ill, well = a_package(yarn, gross_text="2000 g"), a_package(yarn, gross_text="1500 g")
    quarantine(package=ill, by=cast.teacher())
    line = line_of(warp_of(owner, yarn))
    assert ([(one.pk, held) for one, held in line.quarantined], [share.package.pk for share in line.shares]) == (
        [(ill.pk, 0)],
        [well.pk],
    )


def test_another_members_cone_is_not_proposed_and_ones_own_is(owner, yarn):
    a_package(yarn, gross_text="2000 g", owner=cast.new_member())
    mine = a_package(yarn, gross_text="1500 g", owner=owner)
    assert [share.package.pk for share in line_of(warp_of(owner, yarn)).shares] == [mine.pk]


def test_the_second_warp_is_told_what_is_free(owner, yarn):
    cone = a_package(yarn, gross_text="1000 g", tare_text="")
    first, second = warp_of(owner, yarn), warp_of(cast.new_member(), yarn, title="More towels")
    set_aside(first)
    line = line_of(second)
    assert (line.enough, line.set_aside.mass_g) == (False, 0)
    assert abs(line.free.mass_g - (1000 - TOWELS_G)) < Fraction(1, 1000)
    assert abs(line.short.mass_g - (2 * TOWELS_G - 1000)) < Fraction(1, 1000)
    assert line.shares[0].package == cone


def test_what_is_held_is_not_proposed_again(owner, yarn):
    a_package(yarn, gross_text="1000 g", tare_text="")
    warp = warp_of(owner, yarn)
    set_aside(warp)
    plan = look(warp)
    assert (plan.shares, plan.has_set_aside, plan.lines[0].short.mass_g) == ((), True, 0)


def test_a_warp_can_count_on_what_is_set_aside_for_it(owner, yarn):
    a_package(yarn, gross_text="1000 g", tare_text="")
    warp = warp_of(owner, yarn)
    set_aside(warp)
    warp.refresh_from_db()
    mine, anybodys = (read_sheet(warp.typed, who).brief.yarns[0].on_hand for who in (warp, None))
    assert mine == 1000
    assert abs(anybodys - (1000 - TOWELS_G)) < Fraction(1, 1000)
    assert not work_out(read_sheet(warp.typed, warp).brief).yarn.needs[0].short


def test_held_yarn_is_named_with_its_weight(owner, yarn):
    a_package(yarn, gross_text="1000 g", tare_text="")
    warp = warp_of(owner, yarn)
    assert set_aside_for(warp) == ()
    set_aside(warp)
    (held,) = set_aside_for(Project.objects.get(pk=warp.pk))
    assert (held.yarn, abs(held.mass_g - TOWELS_G) < Fraction(1, 1000), held.quarantined_g) == (yarn, True, 0)


def test_a_draft_asks_for_nothing(owner, yarn):
    assert asked_by(warp_of(owner, yarn, sett="twenty")) == ()


def queries(question):
    with CaptureQueriesContext(connection) as asked:
        question()
    return len(asked)


def test_many_packages_and_yarns_cost_no_more_questions(owner, yarn):
    a_package(yarn)
    warp = Project.objects.select_related("owner", "set_aside").get(pk=warp_of(owner, yarn).pk)
    few_asked = asked_by(warp)
    few = queries(lambda: shelf_plan(warp, few_asked))
    others = [a_bare_yarn(name=f"yarn {number}") for number in range(4)]
    for other in (yarn, *others):
        for lot in "XYZ":
            promise(a_package(other, dye_lot=lot), 10, owner)
    many_asked = (*few_asked, *(replace(few_asked[0], yarn_id=other.pk) for other in others))
    assert len(shelf_plan(warp, many_asked).lines) == 5
    assert queries(lambda: shelf_plan(warp, many_asked)) == few > 0
