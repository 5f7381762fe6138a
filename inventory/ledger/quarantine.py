"""Services against moths: put a package into quarantine, freeze it again, let it out once it is safe.

Wool, silk and hair are bagged on arrival and frozen sealed, at -20 C or below for at least a week, thawed sealed, and
frozen a second time (a textile museum's pest brochure; Canadian conservation advice). Mothballs are never used.
"""

from __future__ import annotations

from datetime import timedelta

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from inventory.calc.cold import COLD_ENOUGH_C, degrees_celsius
from inventory.calc.words import capitalised
from inventory.ledger.selectors import WEEK_DAYS, Quarantine, quarantine_of
from inventory.ledger.services import Kind, lock_package, write_move
from inventory.models import Move, Package
from studio.errors import YarnInQuarantine
from studio.models import Member

SAY_DEGREES = "Write degrees with C or F, such as −20 °C, or leave it empty."
BUT_FOR_A_REASON = "If it must be now, say why."


@transaction.atomic
def quarantine(*, package: Package, by: Member, temperature_text: str = "", said_why: str = "") -> Move:
    """Begin a round of quarantine; a package that is in quarantine begins its next round.

    Raises
    ------
    ValidationError
        If the temperature is none, or the round before was short or warm and no reason is given.
    """
    locked = lock_package(package)
    if temperature_text and degrees_celsius(temperature_text) is None:
        raise ValidationError({"temperature_text": SAY_DEGREES})
    state = quarantine_of(locked)
    _ask_why(state, said_why)
    values = {"round_number": len(state.rounds) + 1, "temperature_text": temperature_text}
    return write_move(locked, Kind.QUARANTINE_IN, by, said_why=said_why, **values)


@transaction.atomic
def release_from_quarantine(*, package: Package, by: Member, said_why: str = "") -> Move:
    """Let a package out once somebody has looked at it; what moths eat only after a second round.

    Raises
    ------
    YarnInQuarantine
        If it is in none, or a second round is wanted.
    ValidationError
        If the last round was short or warm and no reason is given.
    """
    locked = lock_package(package)
    state = quarantine_of(locked)
    if not state.rounds:
        raise YarnInQuarantine("not_in_quarantine", f"{capitalised(str(locked))} is not in quarantine.")
    if state.lacks_a_round:
        fibre = locked.yarn.get_fibre_display()
        raise YarnInQuarantine(
            "second_round_wanted",
            f"{capitalised(str(locked))} ({fibre}) has had one round, and conservators advise two. Thaw it sealed, "
            "freeze it a second time, then let it out.",
        )
    _ask_why(state, said_why)
    return write_move(locked, Kind.QUARANTINE_OUT, by, said_why=said_why, round_number=len(state.rounds))


def _ask_why(state: Quarantine, said_why: str) -> None:
    """Ask for a reason where the round that ends now was shorter than a week, or warmer than moths die of."""
    trouble = _fault_of(state.rounds[-1]) if state.rounds else ""
    if trouble and not said_why.strip():
        raise ValidationError({"said_why": f"{trouble} {BUT_FOR_A_REASON}"})


def _fault_of(move: Move) -> str:
    week_ends_on = timezone.localdate(move.made_at) + timedelta(days=WEEK_DAYS)
    if timezone.localdate() < week_ends_on:
        return (
            f"Round {move.round_number} began on {timezone.localdate(move.made_at):%-d %B %Y}; it takes a week at "
            f"least, until {week_ends_on:%-d %B %Y}."
        )
    degrees = degrees_celsius(move.temperature_text)
    if degrees is not None and degrees > COLD_ENOUGH_C:
        return (
            f"Round {move.round_number} was at {move.temperature_text}, warmer than −20 °C: moths may live through it."
        )
    return ""
