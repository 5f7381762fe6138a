"""At the scale: what it shows is what is there, and promises that cannot be kept are cut, the latest first."""

from fractions import Fraction

import pytest
from django.core.exceptions import ValidationError

from inventory.ledger.selectors import ledger_faults, promised_of
from inventory.ledger.taking import issue_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import Package
from studio.errors import NotEnoughYarn
from studio.units import Units
from tests.cast import new_member, steward, teacher, trained_member
from tests.inventory.stock import a_package, a_yarn, allocate, balance, correct_tare, promise

pytestmark = pytest.mark.django_db


@pytest.fixture
def keeper():
    return steward()


def readings(package):
    return Package.objects.values_list("gross_text", "gross_g", "tare_text", "tare_g").get(pk=package.pk)


def test_a_weighing_writes_the_difference(keeper):
    package = a_package()
    weighed = weigh_package(package=package, gross_text="325 g", by=keeper)
    assert (weighed.move.kind, weighed.move.on_hand_ug, weighed.move.scale_text) == ("weigh", -200_000_000, "325 g")
    assert (balance(package), readings(package)[:2]) == ((300, 0), ("325 g", 325))


def test_a_cone_of_109_g_on_a_tare_of_25_holds_84_g(keeper):
    # Worked by hand (the hand-dyed cone of the fifth worked project): gross 109 g, tare 25, net 84 g.
    package = a_package(a_yarn(name="8/4 cotton", count_text="8/4 cotton"))
    weigh_package(package=package, gross_text="109 g", by=keeper)
    assert balance(package) == (84, 0)


def test_a_weighing_that_finds_the_same_is_written_all_the_same(keeper):
    package = a_package()
    weigh_package(package=package, gross_text="525 g", by=keeper)
    assert list(package.moves.values_list("kind", "on_hand_ug")) == [("receive", 500_000_000), ("weigh", 0)]


def test_a_weighing_after_yarn_was_taken_by_weight_counts_from_the_ledger(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    weighed = weigh_package(package=package, gross_text="427 g", by=keeper)
    assert (weighed.move.on_hand_ug, balance(package)) == (2_000_000, (402, 0))


def test_ounces_are_weighed_to_the_microgram(keeper):
    package = a_package()
    weigh_package(package=package, gross_text="18.5 oz", by=keeper)
    # 18.5 oz of 28.349523125 g each, less 25 g of tare: 499.4661778... g.
    assert balance(package)[0] == Fraction("499.466178")


@pytest.mark.parametrize("text", ["", "  ", "heavy", "525", "20 g", "1001 kg"])
def test_a_reading_that_cannot_be_leaves_everything_as_it_was(keeper, text):
    package = a_package()
    with pytest.raises(ValidationError):
        weigh_package(package=package, gross_text=text, by=keeper)
    assert (balance(package), readings(package)[0], package.moves.count()) == ((500, 0), "525 g", 1)


def test_the_latest_promise_is_cut_first_and_named(keeper):
    package, first, second = a_package(), trained_member(), new_member()
    towels, rug = promise(package, 200, first, "Towels"), promise(package, 250, second, "Rug")
    allocate(set_aside=towels, package=package, mass_g=Fraction(50), by=first)
    weighed = weigh_package(package=package, gross_text="425 g", by=keeper)
    # 400 g are left of 500 g promised: the last 50 g of the towels go first, then 50 g of the rug.
    assert [(move.set_aside, move.promised_ug) for move in weighed.cut] == [(towels, -50_000_000), (rug, -50_000_000)]
    assert (balance(package), promised_of(towels, package), promised_of(rug, package)) == (
        (400, 400),
        200_000_000,
        200_000_000,
    )
    words = "Less is on the package than was set aside of it: “Towels” of the trained member lost 50 g, “Rug” of"
    assert weighed.cut_words(Units.METRIC) == f"{words} the new member lost 50 g."


def test_nothing_is_said_of_promises_that_were_kept(keeper):
    package = a_package()
    promise(package, 300, keeper)
    weighed = weigh_package(package=package, gross_text="325 g", by=keeper)
    assert (weighed.cut, weighed.cut_words(Units.INCH), balance(package)) == ((), "", (300, 300))


def test_a_crowd_that_lost_is_counted(keeper):
    package = a_package()
    for number in range(5):
        promise(package, 100, keeper, f"Warp {number}")
    words = weigh_package(package=package, gross_text="25 g", by=keeper).cut_words(Units.METRIC)
    assert words.count("lost") == 3
    assert words.endswith(", and 2 more.")


def test_what_somebody_took_is_of_their_oldest_promise(keeper):
    package = a_package()
    towels = promise(package, 200, keeper, "Towels")
    rug = promise(package, 100, keeper, "Rug")
    allocate(set_aside=towels, package=package, mass_g=Fraction(100), by=keeper)
    issue_yarn(package=package, by=keeper, set_aside=towels, mass_g=Fraction(250))
    weigh_package(package=package, gross_text="105 g", by=keeper)
    # The towels hold the last 50 g of their second promise, made after the rug's; 80 g are there for both.
    assert (promised_of(towels, package), promised_of(rug, package)) == (0, 80_000_000)


def test_a_corrected_tare_writes_the_difference_with_its_reason(keeper):
    package = a_package()
    corrected = correct_tare(package=package, tare_text="31.5 g", by=keeper)
    assert (corrected.move.kind, corrected.move.on_hand_ug) == ("weigh", -6_500_000)
    assert (balance(package)[0], readings(package)[2]) == (Fraction("493.5"), "31.5 g")


def test_a_corrected_tare_leaves_what_was_taken_taken(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    correct_tare(package=package, tare_text="20 g", by=keeper)
    assert balance(package) == (405, 0)


def test_a_heavier_tare_cuts_promises_too(keeper):
    package = a_package()
    work = promise(package, 500, keeper)
    corrected = correct_tare(package=package, tare_text="57 g", by=keeper)
    assert ([move.set_aside for move in corrected.cut], balance(package)) == ([work], (468, 468))


def test_a_tare_heavier_than_what_is_left_asks_for_a_weighing(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(490))
    with pytest.raises(NotEnoughYarn, match="Weigh it too"):
        correct_tare(package=package, tare_text="40 g", by=keeper)
    assert (balance(package), readings(package)[2]) == ((10, 0), "25 g")


def test_a_tare_heavier_than_the_package_is_a_fault_of_its_field(keeper):
    with pytest.raises(ValidationError) as refused:
        correct_tare(package=a_package(), tare_text="600 g", by=keeper)
    assert "tare_text" in refused.value.message_dict


def test_who_weighed_is_written_down():
    package, who = a_package(), teacher()
    assert weigh_package(package=package, gross_text="500 g", by=who).move.made_by == who
    assert ledger_faults() == ()
