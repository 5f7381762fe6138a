"""Deeds against moths: put a package into quarantine, freeze it again, let it out once it is safe.

Wool, silk and hair are bagged on arrival and frozen sealed, at -20 C or below for at least a week, thawed sealed, and
frozen a second time (a textile museum's pest brochure; Canadian conservation advice). Mothballs are never used.
"""

from __future__ import annotations

from django.db import transaction

from inventory.ledger_selectors import quarantine_of
from inventory.ledger_services import Kind, hold_one, write_move
from inventory.ledger_words import capitalised
from inventory.models import Move, Package
from studio.errors import YarnInQuarantine
from studio.models import Member


@transaction.atomic
def quarantine(*, package: Package, by: Member, temperature_text: str = "", said_why: str = "") -> Move:
    """Begin a round of quarantine; a package that is in quarantine begins its next round."""
    held = hold_one(package)
    known = {"round_number": len(quarantine_of(held).rounds) + 1, "temperature_text": temperature_text}
    return write_move(held, Kind.QUARANTINE_IN, by, said_why=said_why, **known)


@transaction.atomic
def release_from_quarantine(*, package: Package, by: Member, said_why: str = "") -> Move:
    """Let a package out once somebody has looked at it; what moths eat only after a second round.

    Raises
    ------
    YarnInQuarantine
        If it is in none, or a second round is wanted.
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
    return write_move(held, Kind.QUARANTINE_OUT, by, said_why=said_why, round_number=len(state.rounds))
