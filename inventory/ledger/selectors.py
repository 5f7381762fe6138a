"""Reads of the ledger: what moved, who was promised what, and whether every balance is still right."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from itertools import accumulate
from types import MappingProxyType

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery, Sum, Window
from django.db.models.functions import Coalesce

from inventory.calc.ledger import grams
from inventory.calc.words import mass_words, told_apart
from inventory.models import Fibre, Move, Package, SetAside
from studio.models import Member
from studio.rights import Act, may
from studio.units import Units

Kind = Move.Kind
ROUNDS_WANTED = 2
WEEK_DAYS = 7
"""A round of freezing: at least a week at -20 C, sealed (a textile museum's pest brochure)."""
FAR_ABOVE = Fraction(11, 10)
"""A reading so many times what a package ever weighed is asked about (common practice, no source)."""
FIBRES_MOTHS_EAT = frozenset({Fibre.WOOL, Fibre.SILK, Fibre.OTHER})
"""Wool, silk and hair; hair has no name of its own here, so a fibre that is not known may be one."""
OWN_MOVES: Mapping[str, Act] = MappingProxyType({
    **dict.fromkeys((Kind.ALLOCATE, Kind.RELEASE, Kind.ISSUE, Kind.RETURN), Act.TAKE_YARN),
    **dict.fromkeys((Kind.RECEIVE, Kind.WEIGH), Act.EDIT_YARN),
})  # fmt: skip
"""What who made a move needs the right to, to reverse it; the other kinds are reversed by those who keep the stock."""


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """One move of a package, with what it changed and what it left [g]."""

    move: Move
    change_g: Fraction
    promised_change_g: Fraction
    on_hand_g: Fraction
    promised_g: Fraction
    reversed_by: Move | None
    may_reverse: bool
    may_see_sale: bool


@dataclass(frozen=True, slots=True)
class Promise:
    """What of one package is set aside for one piece of work [g]."""

    set_aside: SetAside
    package: Package
    mass_g: Fraction


@dataclass(frozen=True, slots=True)
class Quarantine:
    """How long a package is in quarantine, by the latest round that stands; no rounds when it is in none."""

    rounds: tuple[Move, ...]
    second_round_wanted: bool

    @property
    def since(self) -> datetime | None:
        """When the first round began."""
        return self.rounds[0].made_at if self.rounds else None

    @property
    def lacks_a_round(self) -> bool:
        """Whether another round must follow before the yarn comes out."""
        return self.second_round_wanted and len(self.rounds) < ROUNDS_WANTED


@dataclass(frozen=True, slots=True)
class LedgerFault:
    """A package whose columns do not say what its moves say, or a set-aside that gave back more than it had."""

    package_id: int
    what: str
    kept: int
    summed: int


def standing_moves(package: Package) -> QuerySet[Move]:
    """Give the moves of a package that were not reversed, latest first; reversals are not among them."""
    return package.moves.filter(reversed_by=None).exclude(kind=Kind.REVERSE).order_by("-pk")


def history_of(package: Package) -> QuerySet[Move]:
    """Give every move of a package, latest first, with what was on hand and promised after it.

    The balances run over all moves of this package, whichever part of the list is shown.
    """
    running = {
        name: Window(Sum(column), order_by=F("pk").asc())
        for name, column in (("on_hand_after", "on_hand_ug"), ("promised_after", "promised_ug"))
    }
    people = ("made_by", "for_member", "buyer", "set_aside__for_member", "reversed_by__made_by", "reverses")
    return package.moves.annotate(**running).select_related(*people).order_by("-pk")


def history_rows(moves: Iterable[Move], by: Member) -> tuple[HistoryRow, ...]:
    """Give moves of `history_of` in grams, each with whether this reader may reverse it."""
    return tuple(_history_row(move, by) for move in moves)


def _history_row(move: Move, by: Member) -> HistoryRow:
    reversal = getattr(move, "reversed_by", None)
    stands = reversal is None and move.kind != Kind.REVERSE
    on_hand, promised = (grams(int(vars(move)[name])) for name in ("on_hand_after", "promised_after"))
    return HistoryRow(
        move=move,
        change_g=grams(move.on_hand_ug),
        promised_change_g=grams(move.promised_ug),
        on_hand_g=on_hand,
        promised_g=promised,
        reversed_by=reversal,
        may_reverse=stands and may_reverse(move, by),
        may_see_sale=may_see_sale(move, by),
    )


def _promised_sums(moves: QuerySet[Move], key: str) -> dict[int, int]:
    sums = moves.filter(set_aside__isnull=False).order_by().values_list(key).annotate(promised=Sum("promised_ug"))
    return {key: int(promised) for key, promised in sums if promised}


def promised_by_set_aside(package: Package) -> dict[int, int]:
    """Give what of a package is promised, by the key of each set-aside [ug]."""
    return _promised_sums(package.moves.all(), "set_aside")


def promised_of(set_aside: SetAside, package: Package) -> int:
    """Give what of one package is promised to a set-aside [ug]."""
    return _promised_sums(set_aside.moves.filter(package=package), "package").get(package.pk, 0)


def promised_by_package(set_aside: SetAside) -> dict[int, int]:
    """Give what is promised to a set-aside, by the key of each package [ug]."""
    return _promised_sums(set_aside.moves.all(), "package")


def promises_of(set_asides: Iterable[SetAside]) -> dict[int, tuple[Promise, ...]]:
    """Give what is promised to each of several set-asides, by its key; two queries, however many."""
    by_key = {work.pk: work for work in set_asides}
    sums = (
        Move.objects.filter(set_aside__in=by_key)
        .order_by("set_aside", "package")
        .values_list("set_aside", "package")
        .annotate(promised=Sum("promised_ug"))
    )
    amounts = [(work, package, int(amount)) for work, package, amount in sums if amount]
    packages = Package.objects.select_related("yarn").in_bulk({package for _, package, _ in amounts})
    promises: dict[int, tuple[Promise, ...]] = dict.fromkeys(by_key, ())
    for work, package, amount in amounts:
        promises[work] += (Promise(by_key[work], packages[package], grams(amount)),)
    return promises


def promises_on(package: Package) -> tuple[Promise, ...]:
    """Give to which work a package is promised, the oldest first; two queries."""
    amounts = promised_by_set_aside(package)
    set_asides = SetAside.objects.select_related("for_member").in_bulk(amounts)
    return tuple(Promise(set_asides[key], package, grams(amounts[key])) for key in sorted(amounts))


def amount_out(package: Package) -> int:
    """Give what was taken out of a package and not brought back [ug]; more can have come back by the scale."""
    moves = standing_moves(package).filter(kind__in=(Kind.ISSUE, Kind.RETURN)).order_by()
    total = moves.aggregate(total=Sum("on_hand_ug"))["total"]
    return max(0, -int(total or 0))


def amount_out_with(package: Package, whose: Member, work: SetAside | None) -> int:
    """Give what of a package one member has out [ug]; with a piece of work, no more than is out for that."""
    moved = standing_moves(package).filter(kind__in=(Kind.ISSUE, Kind.RETURN), for_member=whose).order_by()
    sums = moved.aggregate(all=Sum("on_hand_ug"), work=Sum("on_hand_ug", filter=Q(set_aside=work)))
    taken = [-int(sums[name] or 0) for name in (("all",) if work is None else ("all", "work"))]
    return max(0, min(taken))


def most_weighed(package: Package) -> Fraction:
    """Give the most a package weighed by the ledger, with its tare as it is known now [g]; 0 if it never held yarn."""
    most = max(accumulate(standing_moves(package).order_by("pk").values_list("on_hand_ug", flat=True)), default=0)
    return grams(most) + Fraction(package.tare_g) if most > 0 else Fraction(0)


def never_so_heavy(package: Package, gross_g: Fraction) -> bool:
    """Say whether a reading is far above all that a package ever weighed; never of one that held nothing yet."""
    most = most_weighed(package)
    return most > 0 and gross_g > FAR_ABOVE * most


def quarantine_of(package: Package) -> Quarantine:
    """Give the rounds of the quarantine a package is in, with their dates, temperatures and who checked."""
    moves = standing_moves(package).filter(kind__in=(Kind.QUARANTINE_IN, Kind.QUARANTINE_OUT)).select_related("made_by")
    rounds: list[Move] = []
    for move in moves:
        if move.kind == Kind.QUARANTINE_OUT:
            break
        rounds.insert(0, move)
    return Quarantine(tuple(rounds), package.yarn.fibre in FIBRES_MOTHS_EAT)


def may_see_sale(move: Move, by: Member) -> bool:
    """Say whether a member may know who bought and for how much: the buyer, the seller, those who keep the stock."""
    return by.pk in {move.buyer_id, move.made_by_id} or may(by.role, Act.ADJUST_STOCK)


def may_reverse(move: Move, by: Member) -> bool:
    """Say whether a member may reverse a move: their own, or anybody's as one of those who keep the stock."""
    act = OWN_MOVES.get(move.kind) if move.made_by_id == by.pk else None
    return may(by.role, act or Act.ADJUST_STOCK) or may(by.role, Act.ADJUST_STOCK)


def why_not_reversible(move: Move, package: Package, units: Units) -> str:
    """Say in one sentence why a move cannot be reversed now; nothing where it can."""
    if move.kind == Kind.REVERSE:
        return "This is a reversal itself. Write what is true now as a new move instead."
    done = Move.objects.filter(reverses=move).select_related("made_by").first()
    if done is not None:
        who = f" by {done.made_by}" if done.made_by else ""
        return f"This move was reversed already, on {done.made_at:%Y-%m-%d}{who}."
    if move.promised_ug < 0 and move.set_aside is not None and move.set_aside.closed_at is not None:
        return f"The yarn would be promised again to {move.set_aside}, and that work is closed."
    if move.promised_ug < 0 and package.quarantined:
        return "The yarn would be promised again, and the package is in quarantine."
    return _why_short(move, package, units)


def _why_short(move: Move, package: Package, units: Units) -> str:
    if move.promised_ug > 0 and move.set_aside is not None:
        promised = promised_of(move.set_aside, package)
        if promised < move.promised_ug:
            there, asked = told_apart(promised, move.promised_ug, units)
            return f"{move.set_aside} holds only {there} of these {asked}; the rest was taken or released."
    left = package.on_hand_ug - move.on_hand_ug
    if left < package.promised_ug - move.promised_ug:
        needed = max(move.on_hand_ug, -move.promised_ug)
        free, asked = told_apart(package.on_hand_ug - package.promised_ug, needed, units)
        what = f"take {asked} off the package" if move.on_hand_ug > 0 else f"promise {asked} of it again"
        return f"This would {what}, and only {free} of the package are free. Release or return yarn first."
    return ""


def what_reversal_does(move: Move, units: Units) -> tuple[str, ...]:
    """Say line by line what happens when a move is reversed."""
    mass, promised = (mass_words(abs(amount), units) for amount in (move.on_hand_ug, move.promised_ug))
    read_again = move.scale_text is not None or move.tare_text is not None
    lines = (
        (move.on_hand_ug > 0, f"{mass} go off the package."),
        (move.on_hand_ug < 0, f"{mass} are on the package again."),
        (move.promised_ug > 0, f"{promised} are no longer set aside for {move.set_aside}."),
        (move.promised_ug < 0, f"{promised} are set aside again for {move.set_aside}."),
        (move.kind == Kind.QUARANTINE_IN, "This round of quarantine does not count."),
        (move.kind == Kind.QUARANTINE_OUT, "The package is in quarantine again."),
        (move.amount is not None, f"The sale for {move.amount} is taken back."),
        (read_again, "The package shows the reading before this one, where there was one."),
        (
            move.kind in {Kind.WEIGH, Kind.WRITE_OFF} and move.on_hand_ug < 0,
            "Promises that were cut with it stay cut; set the yarn aside again.",
        ),
    )
    return tuple(line for true, line in lines if true)


def ledger_faults() -> tuple[LedgerFault, ...]:
    """Recount the whole ledger from its moves and name what differs. There must be nothing to name.

    For the steward's own check, a restored backup and the tests: it sums every move, so no page asks it.
    """
    return (*_wrong_balances(), *_wrong_quarantines(), *_overdrawn())


def _wrong_balances() -> list[LedgerFault]:
    summed = Package.objects.annotate(
        hand=Coalesce(Sum("moves__on_hand_ug"), 0), promise=Coalesce(Sum("moves__promised_ug"), 0)
    ).order_by("pk")
    wrong = summed.exclude(on_hand_ug=F("hand"), promised_ug=F("promise"))
    columns = wrong.values_list("pk", "on_hand_ug", "hand", "promised_ug", "promise")
    faults = []
    for key, on_hand, hand, promised, promise in columns:
        if on_hand != hand:
            faults.append(LedgerFault(key, "on hand", on_hand, int(hand)))
        if promised != promise:
            faults.append(LedgerFault(key, "promised", promised, int(promise)))
    return faults


def _wrong_quarantines() -> list[LedgerFault]:
    last = (
        Move.objects.filter(package=OuterRef("pk"), kind__in=(Kind.QUARANTINE_IN, Kind.QUARANTINE_OUT))
        .filter(~Exists(Move.objects.filter(reverses=OuterRef("pk"))))
        .order_by("-pk")
    )
    told = Package.objects.annotate(last=Subquery(last.values("kind")[:1])).order_by("pk")
    rows = told.values_list("pk", "quarantined", "last")
    return [
        LedgerFault(key, "in quarantine", int(kept), int(not kept))
        for key, kept, kind in rows
        if kept != (kind == Kind.QUARANTINE_IN)
    ]


def _overdrawn() -> list[LedgerFault]:
    sums = (
        Move.objects.filter(set_aside__isnull=False)
        .order_by("package", "set_aside")
        .values_list("package", "set_aside")
        .annotate(promised=Sum("promised_ug"))
        .filter(promised__lt=0)
    )
    return [LedgerFault(package, f"held by set-aside {work}", 0, int(promised)) for package, work, promised in sums]
