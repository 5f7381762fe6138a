"""The yarn room's ledger: every move of yarn, and what is set aside for which work. It only grows."""

from __future__ import annotations

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.models.packages import Package
from studio.models import Member
from studio.units import LONGEST_TEXT

LONGEST_REASON = 200
QUARANTINE = ("quarantine_in", "quarantine_out")


class SetAside(models.Model):
    """Yarn set aside for one piece of work. What it holds of each package is the sum of its moves."""

    for_member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="set_asides", verbose_name="for")
    title = models.CharField("work", max_length=120)
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)
    closed_at = models.DateTimeField("closed", null=True, blank=True, editable=False)

    class Meta:
        verbose_name = "set-aside"
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        return f"“{self.title}” of {self.for_member}"


def _kind(*kinds: str, **amounts: object) -> Q:
    return Q(kind__in=kinds, **amounts)


class Move(models.Model):
    """One move of yarn: what it changed on its package, who wrote it, and why. Never changed, never deleted.

    Amounts are whole micrograms, since SQLite adds decimals as floats. A mistake is put right by a move that
    reverses it, once.
    """

    class Kind(models.TextChoices):
        RECEIVE = "receive", "received"
        WEIGH = "weigh", "weighed"
        ALLOCATE = "allocate", "set aside"
        RELEASE = "release", "released"
        ISSUE = "issue", "taken out"
        RETURN = "return", "brought back"
        SELL = "sell", "sold"
        WRITE_OFF = "write_off", "written off"
        QUARANTINE_IN = "quarantine_in", "into quarantine"
        QUARANTINE_OUT = "quarantine_out", "out of quarantine"
        REVERSE = "reverse", "reversal"

    package = models.ForeignKey(Package, on_delete=models.PROTECT, related_name="moves", db_index=False)
    kind = models.CharField("what was done", max_length=14, choices=Kind.choices)
    on_hand_ug = models.BigIntegerField("change on hand, in micrograms", default=0)
    promised_ug = models.BigIntegerField("change of what is promised, in micrograms", default=0)
    scale_text = models.CharField("scale showed", max_length=LONGEST_TEXT, null=True, blank=True)
    tare_text = models.CharField("tare as weighed", max_length=LONGEST_TEXT, null=True, blank=True)
    said_why = models.CharField("why", max_length=LONGEST_REASON, blank=True)
    made_by = models.ForeignKey(Member, on_delete=models.PROTECT, null=True, blank=True, related_name="yarn_moves")
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)
    set_aside = models.ForeignKey(
        SetAside, on_delete=models.PROTECT, null=True, blank=True, related_name="moves", db_index=False
    )
    for_member = models.ForeignKey(
        Member, on_delete=models.PROTECT, null=True, blank=True, related_name="yarn_taken", verbose_name="for"
    )
    reverses = models.OneToOneField("self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by")
    unit_price_text = models.CharField("price of a unit", max_length=LONGEST_TEXT, blank=True)
    amount = models.DecimalField("money", max_digits=11, decimal_places=2, null=True, blank=True)
    buyer = models.ForeignKey(Member, on_delete=models.PROTECT, null=True, blank=True, related_name="yarn_bought")
    round_number = models.PositiveSmallIntegerField(
        "round of quarantine", null=True, blank=True, validators=[MinValueValidator(1)]
    )
    temperature_text = models.CharField("temperature", max_length=40, blank=True)

    class Meta:
        ordering = ("pk",)
        # Both balances of a package, and what a set-aside holds of it, are read from the index alone.
        indexes = (
            models.Index(fields=("package", "on_hand_ug", "promised_ug"), name="move_balance"),
            models.Index(fields=("set_aside", "package", "promised_ug"), name="move_promise"),
        )
        # A comparison with an empty column is neither true nor false, and SQL lets that pass: say it must be filled.
        constraints = (
            models.CheckConstraint(
                condition=_kind("receive", on_hand_ug__gte=0, promised_ug=0)
                | _kind("weigh", promised_ug=0)
                | _kind("allocate", on_hand_ug=0, promised_ug__gt=0)
                | _kind("release", on_hand_ug=0, promised_ug__lt=0)
                | _kind("issue", on_hand_ug__lt=0, promised_ug__lte=0, promised_ug__gte=F("on_hand_ug"))
                | _kind("return", on_hand_ug__gt=0, promised_ug=0)
                | _kind("sell", "write_off", on_hand_ug__lt=0, promised_ug=0)
                | _kind(*QUARANTINE, on_hand_ug=0, promised_ug=0)
                | _kind("reverse"),
                name="move_changes_what_its_kind_may",
            ),
            models.CheckConstraint(
                condition=Q(promised_ug=0) | Q(set_aside__isnull=False), name="move_promises_to_some_work"
            ),
            models.CheckConstraint(
                condition=Q(kind="reverse", reverses__isnull=False) | ~Q(kind="reverse") & Q(reverses__isnull=True),
                name="move_reverses_only_as_a_reversal",
            ),
            models.CheckConstraint(
                condition=Q(made_by__isnull=False) | Q(kind="receive"), name="move_says_who_made_it"
            ),
            models.CheckConstraint(
                condition=Q(kind="sell", amount__isnull=False, amount__gte=Decimal(0))
                | Q(kind="reverse", amount__lte=Decimal(0))
                | Q(amount__isnull=True) & ~Q(kind="sell"),
                name="move_has_money_only_as_a_sale",
            ),
            models.CheckConstraint(
                condition=_kind(*QUARANTINE, round_number__isnull=False, round_number__gte=1)
                | ~_kind(*QUARANTINE) & Q(round_number__isnull=True),
                name="move_counts_rounds_only_in_quarantine",
            ),
        )  # fmt: skip

    def __str__(self) -> str:
        return f"{self.pk}: {self.package_id} {self.get_kind_display()}"
