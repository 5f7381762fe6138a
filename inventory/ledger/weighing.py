"""Services of the scale: weigh a package again, settle the ledger by what is left."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from django.db import transaction

from inventory.calc.ledger import net_micrograms
from inventory.calc.words import capitalised, mass_words
from inventory.ledger.services import Kind, MoveResult, cut_promises, lock_package, record_reading, write_move
from inventory.models import Package
from studio.errors import NotEnoughYarn
from studio.models import Member

LESS_THERE = "The scale shows less than was set aside."


@dataclass(frozen=True, slots=True)
class ScaleReading:
    """What a package weighed at its last reading [g], before new words are written over it."""

    gross: Fraction
    tare: Fraction

    @classmethod
    def of(cls, package: Package) -> ScaleReading:
        """Take it off a package."""
        return cls(Fraction(package.gross_g), Fraction(package.tare_g))

    @property
    def net_ug(self) -> int:
        """Yarn alone [ug]."""
        return net_micrograms(self.gross, self.tare)


@transaction.atomic
def weigh_package(*, package: Package, gross_text: str, by: Member, said_why: str = "") -> MoveResult:
    """Write what the scale shows now; the ledger follows it, and promises it cannot keep are cut, the latest first."""
    locked = lock_package(package)
    left = record_reading(locked, gross_text)
    return settle(locked, left, by, scale_text=gross_text, said_why=said_why)


def left_after_tare(package: Package, before: ScaleReading, by: Member) -> int:
    """Give what is on a package by a corrected tare [ug], and refuse less than nothing."""
    left = package.on_hand_ug + package.net_by_scale_ug - before.net_ug
    if left < 0:
        there = mass_words(package.on_hand_ug, by.reads_in)
        raise NotEnoughYarn(
            "not_enough_yarn",
            f"{capitalised(str(package))} holds {there} by the ledger, less than the tare grows by. Weigh it too.",
        )
    return left


def settle(package: Package, left_ug: int, by: Member, *, said_why: str, **words: str | None) -> MoveResult:
    """Write the difference between the ledger and what is left on a locked package, cutting promises where it must."""
    cut = cut_promises(package, left_ug, by, said_why or LESS_THERE)
    move = write_move(package, Kind.WEIGH, by, on_hand_ug=left_ug - package.on_hand_ug, said_why=said_why, **words)
    return MoveResult(package, move, cut)
