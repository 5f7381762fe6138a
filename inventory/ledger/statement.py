"""What a member bought, took and brought back in a time, and what that comes to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction

from django.db.models import Q, QuerySet
from django.utils import timezone

from inventory.calc.ledger import grams
from inventory.ledger.selectors import Kind
from inventory.models import Move
from studio.models import Member

MOST_LINES = 400
"""More lines than this are no statement; a shorter time shows them."""


@dataclass(frozen=True, slots=True)
class StatementLine:
    """One move of a statement, with its yarn [g]; a reversed one counts for nothing and stays to be read."""

    move: Move
    mass_g: Fraction
    reversed_by: Move | None

    @property
    def action(self) -> str:
        """What it was to the member, in a word."""
        return "Bought" if self.move.kind == Kind.SELL else self.move.get_kind_display().capitalize()


@dataclass(frozen=True, slots=True)
class Totals:
    """What a statement comes to: yarn [g], and the money of what was bought."""

    bought_g: Fraction
    money: Decimal
    taken_g: Fraction
    brought_g: Fraction

    @property
    def used_g(self) -> Fraction:
        """What was taken and not brought back."""
        return self.taken_g - self.brought_g


def moves_of(member: Member, since: date, until: date) -> QuerySet[Move]:
    """Give what a member bought, and what was taken for her work and brought back, from one day to another."""
    of_member = Q(kind=Kind.SELL, buyer=member) | Q(kind__in=(Kind.ISSUE, Kind.RETURN), for_member=member)
    begin, end = (_midnight(day) for day in (since, until + timedelta(days=1)))
    return Move.objects.filter(of_member, made_at__gte=begin, made_at__lt=end).order_by("made_at", "pk")


def _midnight(day: date) -> datetime:
    return timezone.make_aware(datetime.combine(day, time.min))


def statement_lines(moves: QuerySet[Move]) -> tuple[StatementLine, ...]:
    """Give moves with their yarn and their reversal, the first so many; one question."""
    with_links = moves.select_related("package__yarn", "set_aside", "made_by", "reversed_by__made_by")
    return tuple(_line(move) for move in with_links[:MOST_LINES])


def _line(move: Move) -> StatementLine:
    return StatementLine(move, grams(abs(move.on_hand_ug)), getattr(move, "reversed_by", None))


def totals_of(moves: QuerySet[Move]) -> Totals:
    """Add what was not reversed, all of it, exactly; one question."""
    counted = list(moves.filter(reversed_by=None).order_by().values_list("kind", "on_hand_ug", "amount"))
    bought, taken, brought = (_sum(counted, kind) for kind in (Kind.SELL, Kind.ISSUE, Kind.RETURN))
    money = sum((amount for *_, amount in counted if amount is not None), Decimal("0.00"))
    return Totals(bought, money, taken, brought)


def _sum(moves: Iterable[tuple[str, int, Decimal | None]], wanted_kind: str) -> Fraction:
    return grams(abs(sum(amount for kind, amount, _ in moves if kind == wanted_kind)))
