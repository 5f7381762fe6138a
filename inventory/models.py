"""The yarn room: yarns as their labels describe them, and the packages on the shelf."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from inventory.yarn_count import read_grist
from studio.units import Units, read

HEX_COLOUR = RegexValidator(r"^#[0-9a-f]{6}\Z", "Give the colour as # and six hexadecimal digits.")


def grams(verbose_name: str, **options: Any) -> models.DecimalField[Any, Any]:
    """Make a column for a mass; twelve places hold every ounce with two decimals exactly."""
    return models.DecimalField(
        verbose_name,
        max_digits=20,
        decimal_places=12,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(1_000_000))],
        **options,
    )


class Fibre(models.TextChoices):
    """Fibres that are wound differently on a beam."""

    COTTON = "cotton", "cotton"
    LINEN = "linen", "linen"
    COTTOLIN = "cottolin", "cottolin"
    WOOL = "wool", "wool"
    SILK = "silk", "silk"
    RAYON = "rayon", "rayon or lyocell"
    HEMP = "hemp", "hemp"
    OTHER = "other", "other or not known"


class Yarn(models.Model):
    """One yarn in one colour. Its fineness is kept as typed; the label's yd/lb or m/kg wins over the count."""

    name = models.CharField("name", max_length=80)
    fibre = models.CharField("fibre", max_length=10, choices=Fibre.choices, default=Fibre.COTTON)
    count_text = models.CharField("count", max_length=40, help_text="As on the label, such as 8/2 cotton.", blank=True)
    grist_text = models.CharField("length in a weight", max_length=40, blank=True, help_text="Such as 3360 yd/lb.")
    wraps_text = models.CharField("wraps", max_length=20, blank=True, help_text="As measured, such as 28 /in.")
    tex = models.DecimalField("tex", max_digits=16, decimal_places=6, editable=False, default=Decimal(0))
    colour_name = models.CharField("colour", max_length=40, blank=True)
    colour = models.CharField("colour for drawings", max_length=7, validators=[HEX_COLOUR], default="#8a8a8a")
    wound_density = models.DecimalField(
        "density wound on a beam, g/cm3", max_digits=5, decimal_places=3, null=True, blank=True,
        validators=[MinValueValidator(Decimal("0.05")), MaxValueValidator(Decimal(3))],
    )  # fmt: skip
    price_per_100g = models.DecimalField(
        "price of 100 g", max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    notes = models.TextField("notes", blank=True, max_length=4000)
    retired = models.BooleanField("no longer kept", default=False)

    class Meta:
        ordering = ("name", "colour_name", "pk")
        constraints = (
            models.CheckConstraint(
                condition=~Q(count_text="") | ~Q(grist_text=""), name="yarn_has_a_count_or_a_length_in_a_weight"
            ),
        )

    def __str__(self) -> str:
        return f"{self.name}, {self.colour_name}" if self.colour_name else self.name

    def get_absolute_url(self) -> str:
        return reverse("yarn", args=[self.pk])

    @property
    def exact_tex(self) -> Fraction:
        """Mass per length, exact: the label's figure where there is one, else the count's."""
        return read_grist(self.grist_text or self.count_text, None)

    @property
    def wraps(self) -> Fraction | None:
        """Wraps per cm as measured; None when not measured."""
        return read(self.wraps_text, "wraps", Units.INCH) if self.wraps_text else None


class Package(models.Model):
    """One cone, tube or skein. The ledger of moves (the yarn room's own work) will hang on it."""

    class Kind(models.TextChoices):
        CONE = "cone", "cone"
        TUBE = "tube", "tube"
        SPOOL = "spool", "spool"
        SKEIN = "skein", "skein"
        BALL = "ball", "ball"
        PIRN = "pirn", "pirn"

    yarn = models.ForeignKey(Yarn, on_delete=models.PROTECT, related_name="packages")
    kind = models.CharField("kind of package", max_length=6, choices=Kind.choices, default=Kind.CONE)
    gross_g = grams("gross weight")
    tare_g = grams("tare", default=Decimal(0))
    dye_lot = models.CharField("dye lot", max_length=40, blank=True)
    bin_name = models.CharField("bin", max_length=40, blank=True)
    received_on = models.DateField("received on", null=True, blank=True)
    notes = models.CharField("notes", max_length=200, blank=True)

    class Meta:
        ordering = ("yarn", "dye_lot", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(tare_g__gte=0), name="package_tare_not_negative"),
            models.CheckConstraint(condition=Q(gross_g__gte=F("tare_g")), name="package_not_lighter_than_its_tare"),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.pk} of {self.yarn}"

    @property
    def net_g(self) -> Decimal:
        """Yarn on the package."""
        return self.gross_g - self.tare_g
