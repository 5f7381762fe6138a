"""Quarantine: what moths eat is frozen twice before it stands beside the other yarn.

A week at -20 C or below, sealed, then thawed sealed and repeated: a textile museum's pest brochure; repeated freezing
is also conservation advice in Canada.
"""

import pytest
import time_machine
from django.core.exceptions import ValidationError

from inventory.ledger.quarantine import quarantine, release_from_quarantine
from inventory.ledger.selectors import ledger_faults, quarantine_of
from inventory.ledger.services import reverse_move
from inventory.models import Fibre, Package
from studio.errors import YarnInQuarantine
from tests.cast import steward, teacher
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db
SURE = "Frozen a week at the donor’s"


@pytest.fixture
def keeper():
    return steward()


def a_cone(fibre=Fibre.WOOL):
    return a_package(a_yarn(name="2/8", count_text="Nm 2/8", fibre=fibre))


def inside(package):
    return Package.objects.get(pk=package.pk).quarantined


def test_a_package_goes_in_with_its_round_and_temperature(keeper):
    package = a_cone()
    move = quarantine(package=package, by=keeper, temperature_text="−24 °C", said_why="Came in a box with webs")
    assert (move.kind, move.round_number, move.temperature_text) == ("quarantine_in", 1, "−24 °C")
    assert inside(package)


@pytest.mark.parametrize("fibre", [Fibre.WOOL, Fibre.SILK, Fibre.OTHER])
def test_what_moths_eat_comes_out_only_after_a_second_round(keeper, fibre):
    package = a_cone(fibre)
    quarantine(package=package, by=keeper)
    with pytest.raises(YarnInQuarantine, match="freeze it a second time"):
        release_from_quarantine(package=package, by=keeper, said_why=SURE)
    assert quarantine(package=package, by=keeper, said_why=SURE).round_number == 2
    move = release_from_quarantine(package=package, by=keeper, said_why=SURE)
    assert (move.kind, move.round_number, inside(package)) == ("quarantine_out", 2, False)


@pytest.mark.parametrize("fibre", [Fibre.COTTON, Fibre.LINEN, Fibre.COTTOLIN, Fibre.HEMP, Fibre.RAYON])
def test_plant_fibres_come_out_after_one_round(keeper, fibre):
    package = a_cone(fibre)
    quarantine(package=package, by=keeper)
    release_from_quarantine(package=package, by=keeper, said_why=SURE)
    assert not inside(package)


def test_what_is_not_in_quarantine_does_not_come_out(keeper):
    with pytest.raises(YarnInQuarantine, match="is not in quarantine"):
        release_from_quarantine(package=a_cone(), by=keeper)


def test_a_new_quarantine_counts_its_rounds_anew(keeper):
    package = a_cone()
    for _ in range(2):
        quarantine(package=package, by=keeper, said_why=SURE)
    release_from_quarantine(package=package, by=keeper, said_why=SURE)
    assert quarantine(package=package, by=keeper).round_number == 1


def test_the_rounds_are_told_with_their_days_and_who_looked(keeper):
    package, other = a_cone(), teacher()
    with time_machine.travel("2026-03-02T10:00Z", tick=False):
        quarantine(package=package, by=keeper, temperature_text="−20 °C")
    with time_machine.travel("2026-03-10T10:00Z", tick=False):
        quarantine(package=package, by=other, temperature_text="−22 °C")
    state = quarantine_of(package)
    told = [(one.made_at.day, one.temperature_text, one.made_by) for one in state.rounds]
    assert told == [(2, "−20 °C", keeper), (10, "−22 °C", other)]
    assert (state.since.day, state.lacks_a_round) == (2, False)


def test_a_package_in_none_has_no_rounds():
    state = quarantine_of(a_cone())
    assert (state.rounds, state.since) == ((), None)


def test_a_round_put_down_by_mistake_is_reversed(keeper):
    package = a_cone()
    move = quarantine(package=package, by=keeper)
    reverse_move(move=move, by=keeper)
    assert (inside(package), ledger_faults()) == (False, ())


def test_a_second_round_reversed_leaves_the_first(keeper):
    package = a_cone()
    quarantine(package=package, by=keeper)
    reverse_move(move=quarantine(package=package, by=keeper, said_why=SURE), by=keeper)
    assert (inside(package), len(quarantine_of(package).rounds)) == (True, 1)


def test_a_release_reversed_puts_it_back_in(keeper):
    package = a_cone(Fibre.COTTON)
    quarantine(package=package, by=keeper)
    reverse_move(move=release_from_quarantine(package=package, by=keeper, said_why=SURE), by=keeper)
    assert (inside(package), ledger_faults()) == (True, ())


@pytest.mark.parametrize(("day", "kept"), [(3, False), (8, False), (9, True)])
@pytest.mark.parametrize("action", [quarantine, release_from_quarantine])
def test_a_round_takes_a_week_unless_a_reason_is_given(keeper, action, day, kept):
    # At least a week: a textile museum's pest brochure.
    package = a_cone(Fibre.COTTON)
    with time_machine.travel("2026-03-02T10:00Z", tick=False):
        quarantine(package=package, by=keeper, temperature_text="−20 °C")
    with time_machine.travel(f"2026-03-{day:02}T09:00Z", tick=False):
        if kept:
            action(package=package, by=keeper)
        else:
            with pytest.raises(ValidationError, match=r"until 9 March 2026\. If it must be now, say why") as refused:
                action(package=package, by=keeper)
            assert set(refused.value.message_dict) == {"said_why"}
            assert action(package=package, by=keeper, said_why=SURE).said_why == SURE


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("−20 °C", True),
        ("-4 F", True),
        ("", True),
        ("−18 °C, over a fridge", False),
        ("0 F", False),
        ("-19,9 c", False),
    ],
)
def test_a_warm_round_counts_only_with_a_reason(keeper, said, kept):
    # -20 C or below: the same brochure. -4 F is -20 C by the definition of the scale.
    package = a_cone(Fibre.COTTON)
    with time_machine.travel("2026-03-02T10:00Z", tick=False):
        quarantine(package=package, by=keeper, temperature_text=said)
    if kept:
        release_from_quarantine(package=package, by=keeper)
    else:
        with pytest.raises(ValidationError, match="warmer than −20 °C"):
            release_from_quarantine(package=package, by=keeper)
    assert inside(package) is not kept


@pytest.mark.parametrize("said", ["abc", "-999", "-999 C", "20", "C", "cold", "−20", "9" * 40])
def test_what_is_no_temperature_is_a_fault_of_its_field(keeper, said):
    package = a_cone()
    with pytest.raises(ValidationError, match="degrees with C or F") as refused:
        quarantine(package=package, by=keeper, temperature_text=said)
    assert (set(refused.value.message_dict), inside(package)) == ({"temperature_text"}, False)
