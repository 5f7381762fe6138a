"""Packages on the shelf: what was said about each, and what the ledger of moves leaves on it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from inventory.calc.ledger import net_micrograms
from inventory.models.yarns import Yarn
from studio.models import Member
from studio.units import LONGEST_TEXT, UnitError, read, to_decimal

HEAVIEST_G = 1_000_000
EARLIEST_YEAR = 1900
WEIGH_IT = "Weigh the package as it is, with its cone or tube."
KEPT_BY_MOVES = ("on_hand_ug", "promised_ug", "quarantined")
"""Columns that follow from the moves. The database's own triggers write them; nothing else may."""


def grams(verbose_name: str, **options: Any) -> models.DecimalField[Any, Any]:
    """Make a column for a mass; twelve places hold every ounce with two decimals exactly."""
    return models.DecimalField(
        verbose_name,
        max_digits=20,
        decimal_places=12,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(HEAVIEST_G))],
        **options,
    )


def _grams_of(text: str) -> Decimal:
    """Read a weight as the scale showed it; fractions of an ounce are kept to a millionth of a microgram."""
    mass = read(text, "mass", None)
    if mass > HEAVIEST_G:
        raise UnitError("too_heavy", "No package weighs a tonne; look at the scale again.")
    return to_decimal(mass, places=12)


def read_weights(row: models.Model, *columns: str) -> dict[str, str]:
    """Turn the scale's words of some columns into grams, and give what is wrong beside each; no words weigh nothing."""
    wrong: dict[str, str] = {}
    for column in columns:
        try:
            setattr(row, f"{column}_g", _grams_of(getattr(row, f"{column}_text") or "0 g"))
        except UnitError as trouble:
            wrong[f"{column}_text"] = trouble.message
    return wrong


def trouble_with_day(day: date) -> str:
    """Say why a package cannot have been received on a day; empty where it can."""
    if day.year < EARLIEST_YEAR:
        return f"No package here came before {EARLIEST_YEAR}; look at the year again."
    if day > timezone.localdate():
        return "That day has not come yet; look at the year again."
    return ""


class Package(models.Model):
    """One cone, tube or skein, with its last reading on the scale.

    Readings are kept as the scale showed them and, beside that, in grams; the words lead where there are any. What
    is on hand and what is promised follow from the moves, so that yarn taken by weight counts before the next weighing.
    """

    class Kind(models.TextChoices):
        CONE = "cone", "cone"
        TUBE = "tube", "tube"
        SPOOL = "spool", "spool"
        SKEIN = "skein", "skein"
        BALL = "ball", "ball"
        PIRN = "pirn", "pirn"

    class Source(models.TextChoices):
        BOUGHT = "bought", "bought"
        DONATED = "donated", "donated"
        LEFT_OVER = "left_over", "left over"
        OTHER = "other", "other or not known"

    yarn = models.ForeignKey(Yarn, on_delete=models.PROTECT, related_name="packages")
    kind = models.CharField("kind of package", max_length=6, choices=Kind.choices, default=Kind.CONE)
    gross_text = models.CharField("gross weight", max_length=LONGEST_TEXT, blank=True)
    tare_text = models.CharField("tare", max_length=LONGEST_TEXT, blank=True)
    gross_g = grams("gross weight in grams", editable=False)
    tare_g = grams("tare in grams", editable=False, default=Decimal(0))
    on_hand_ug = models.BigIntegerField("yarn on hand, in micrograms", default=0, editable=False)
    promised_ug = models.BigIntegerField("promised of it, in micrograms", default=0, editable=False)
    quarantined = models.BooleanField("in quarantine", default=False, editable=False)
    dye_lot = models.CharField("dye lot", max_length=40, blank=True)
    bin_name = models.CharField("bin", max_length=40, blank=True)
    owner = models.ForeignKey(
        Member, on_delete=models.PROTECT, null=True, blank=True, related_name="yarn_packages", verbose_name="belongs to"
    )
    source = models.CharField("where it came from", max_length=9, choices=Source.choices, default=Source.BOUGHT)
    received_on = models.DateField("received on", null=True, blank=True)
    notes = models.CharField("notes", max_length=200, blank=True)

    class Meta:
        ordering = ("yarn", "dye_lot", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(tare_g__gte=0), name="package_tare_not_negative"),
            models.CheckConstraint(condition=Q(gross_g__gte=F("tare_g")), name="package_not_lighter_than_its_tare"),
            models.CheckConstraint(
                condition=Q(promised_ug__gte=0, promised_ug__lte=F("on_hand_ug")), name="package_promises_what_it_holds"
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.pk} of {self.yarn}"

    def save(self, *args: Any, **options: Any) -> None:
        """Write what is said about the package. Balances stay out: a row read a moment ago may hold old ones."""
        if not self._state.adding and options.get("update_fields") is None:
            names = [field.name for field in self._meta.concrete_fields if not field.primary_key]
            options["update_fields"] = [name for name in names if name not in KEPT_BY_MOVES]
        super().save(*args, **options)

    def get_absolute_url(self) -> str:
        return reverse("package-history", args=[self.pk])

    def clean(self) -> None:
        """Turn the scale's words into grams, each fault beside its field; without words the grams stand."""
        wrong = read_weights(self, *(("gross", "tare") if self.gross_text else ()))
        if self.gross_g is None:
            wrong.setdefault("gross_text", WEIGH_IT)
        elif not wrong and self.gross_g < self.tare_g:
            wrong["tare_text"] = "The empty package cannot weigh more than the full one."
        if wrong:
            raise ValidationError(wrong)

    @property
    def net_g(self) -> Decimal:
        """Yarn on the package, by the ledger."""
        return Decimal(self.on_hand_ug).scaleb(-6)

    @property
    def net_by_scale_ug(self) -> int:
        """Yarn on the package at its last reading, before anything was taken by weight."""
        return net_micrograms(Fraction(self.gross_g), Fraction(self.tare_g))

    @property
    def free_ug(self) -> int:
        """What could be set aside or taken now: neither promised nor in quarantine."""
        return 0 if self.quarantined else self.on_hand_ug - self.promised_ug
