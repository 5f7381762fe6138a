"""Yarn that was on the shelf before the ledger comes into it to the gram, and out of it again."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from inventory.ledger import guards as ledger_guards
from inventory.ledger.selectors import ledger_faults
from inventory.ledger.taking import issue_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, Package
from studio.guards import standing
from tests.cast import steward

pytestmark = pytest.mark.django_db(transaction=True)

BEFORE, AFTER = [("inventory", "0001_yarns_and_packages")], [("inventory", "0004_guards_of_the_ledger")]
OUNCE = Decimal("28.349523125")
SAID = ("pk", "gross_text", "tare_text", "gross_g", "tare_g", "received_on", "notes")


def go(target):
    """Migrate, and give the tables as that state knows them."""
    executor = MigrationExecutor(connection)
    executor.migrate(target)
    return MigrationExecutor(connection).loader.project_state(target).apps


def go_home():
    """Bring back the tables of today, of all apps: a warp's tables lean on the yarn room's and went back with them."""
    go(MigrationExecutor(connection).loader.graph.leaf_nodes())


@pytest.fixture
def old_shelf():
    """Give a shelf of before the ledger; whatever happens, the tables of today stand again afterwards."""
    apps = go(BEFORE)
    yarn = apps.get_model("inventory", "Yarn").objects.create(name="8/2 cotton", count_text="8/2 cotton")
    model = apps.get_model("inventory", "Package")
    known = (
        {"gross_text": "525 g", "tare_text": "25 g", "gross_g": 525, "tare_g": 25, "received_on": date(2026, 3, 2)},
        {"gross_text": "18.5 oz", "tare_text": "0.9 oz", "gross_g": OUNCE * 185 / 10, "tare_g": OUNCE * 9 / 10},
        {"gross_g": Decimal("109.000000000001"), "tare_g": 25, "notes": "came without words"},
        {"gross_text": "25 g", "tare_text": "25 g", "gross_g": 25, "tare_g": 25},
    )
    made = [model.objects.create(yarn=yarn, **facts).pk for facts in known]
    yield made
    go_home()


def said(packages):
    return list(packages.objects.order_by("pk").values_list(*SAID))


def test_each_package_begins_with_what_the_scale_had_said(old_shelf):
    go(AFTER)
    weights = list(Package.objects.order_by("pk").values_list("on_hand_ug", flat=True))
    # 500 g; 17.6 oz of 28.349523125 g; 84 g (gross 109 g, tare 25 g); an empty cone.
    assert weights == [500_000_000, 498_951_607, 84_000_000, 0]
    assert ledger_faults() == ()
    assert ledger_guards.GUARDS.names(connection) <= standing(connection)


def test_its_first_move_says_so_in_the_scales_words(old_shelf):
    go(AFTER)
    columns = ("kind", "scale_text", "tare_text", "made_by")
    assert list(Move.objects.order_by("package").values_list(*columns)) == [
        ("receive", "525 g", "25 g", None),
        ("receive", "18.5 oz", "0.9 oz", None),
        ("receive", "109 g", "25 g", None),
        ("receive", "25 g", "25 g", None),
    ]
    assert Move.objects.get(package=old_shelf[0]).made_at.date() == date(2026, 3, 2)


def test_there_and_back_changes_nothing(old_shelf):
    before = said(go(BEFORE).get_model("inventory", "Package"))
    go(AFTER)
    assert said(go(BEFORE).get_model("inventory", "Package")) == before


def test_back_again_the_scale_says_what_the_moves_left(old_shelf):
    go_home()
    keeper = steward()
    taken, weighed, *_ = Package.objects.order_by("pk")
    issue_yarn(package=taken, by=keeper, mass_g=Fraction(84))
    weigh_package(package=weighed, gross_text="300 g", by=keeper)
    left = [
        Fraction(amount, 1_000_000) for amount in Package.objects.order_by("pk").values_list("on_hand_ug", flat=True)
    ]
    old = go(BEFORE).get_model("inventory", "Package").objects.order_by("pk")
    nets = [Fraction(one.gross_g) - Fraction(one.tare_g) for one in old]
    assert [abs(net - amount) < Fraction(1, 1_000_000) for net, amount in zip(nets, left, strict=True)] == [True] * 4
    assert [one.gross_text for one in old] == ["", "300 g", "", "25 g"]
