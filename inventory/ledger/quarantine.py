"""Deeds against moths: put a package into quarantine, freeze it again, let it out once it is safe.

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
from inventory.ledger.services import Kind, hold_one, write_move
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
    held = hold_one(package)
    if temperature_text and degrees_celsius(temperature_text) is None:
        raise ValidationError({"temperature_text": SAY_DEGREES})
    state = quarantine_of(held)
    _ask_why(state, said_why)
    known = {"round_number": len(state.rounds) + 1, "temperature_text": temperature_text}
    return write_move(held, Kind.QUARANTINE_IN, by, said_why=said_why, **known)


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
    held = hold_one(package)
    state = quarantine_of(held)
    if not state.rounds:
        raise YarnInQuarantine("not_in_quarantine", f"{capitalised(str(held))} is not in quarantine.")
    if state.lacks_a_round:
        fibre = held.yarn.get_fibre_display()
        raise YarnInQuarantine(
            "second_round_wanted",
            f"{capitalised(str(held))} ({fibre}) has had one round, and conservators advise two. Thaw it sealed, "
            "freeze it a second time, then let it out.",
        )
    _ask_why(state, said_why)
    return write_move(held, Kind.QUARANTINE_OUT, by, said_why=said_why, round_number=len(state.rounds))


def _ask_why(state: Quarantine, said_why: str) -> None:
    """Ask for a reason where the round that ends now was shorter than a week, or warmer than moths die of."""
    trouble = _fault_of(state.rounds[-1]) if state.rounds else ""
    if trouble and not said_why.strip():
        raise ValidationError({"said_why": f"{trouble} {BUT_FOR_A_REASON}"})


def _fault_of(last: Move) -> str:
    done_on = timezone.localdate(last.made_at) + timedelta(days=WEEK_DAYS)
    if timezone.localdate() < done_on:
        return (
            f"Round {last.round_number} began on {timezone.localdate(last.made_at):%-d %B %Y}; it takes a week at "
            f"least, until {done_on:%-d %B %Y}."
        )
    degrees = degrees_celsius(last.temperature_text)
    if degrees is not None and degrees > COLD_ENOUGH_C:
        return (
            f"Round {last.round_number} was at {last.temperature_text}, warmer than −20 °C: moths may live through it."
        )
    return ""
