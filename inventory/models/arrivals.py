"""What comes in: packages whose yarn nobody has named yet, what empty cones weigh, and photos of both."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from django.urls import reverse
from django.utils import timezone

from inventory.calc.ledger import net_micrograms
from inventory.models.moves import LONGEST_REASON
from inventory.models.packages import Package, grams, read_weights
from studio.models import Member
from studio.units import LONGEST_TEXT

LONGEST_NAME = 60
LONGEST_STAMP = 32


class Tare(models.Model):
    """A sort of empty cone, tube or spool that the studio knows, with every time one of it was weighed."""

    kind = models.CharField("kind of package", max_length=6, choices=Package.Kind.choices, default=Package.Kind.CONE)
    name = models.CharField("name", max_length=LONGEST_NAME)

    class Meta:
        verbose_name = "empty cone"
        verbose_name_plural = "empty cones"
        ordering = ("kind", "name", "pk")
        constraints = (models.UniqueConstraint("kind", Lower("name"), name="tare_named_once"),)

    def __str__(self) -> str:
        return self.name


class TareWeighing(models.Model):
    """What one empty weighed. A wrong one is left out of the mean and stays to be read."""

    tare = models.ForeignKey(Tare, on_delete=models.PROTECT, related_name="weighings")
    weight_text = models.CharField("weight", max_length=LONGEST_TEXT)
    weight_g = grams("weight in grams", editable=False)
    left_out = models.BooleanField("left out of the mean", default=False)
    made_by = models.ForeignKey(Member, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)

    class Meta:
        verbose_name = "weighing of an empty cone"
        verbose_name_plural = "weighings of empty cones"
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.tare}: {self.weight_text}"

    def clean(self) -> None:
        """Turn the scale's words into grams; an empty that weighs nothing was not on the scale."""
        wrong = read_weights(self, "weight")
        if not wrong and not self.weight_g:
            wrong = {"weight_text": "An empty weighs more than nothing; look at the scale again."}
        if wrong:
            raise ValidationError(wrong)


class Photo(models.Model):
    """A photo as it is kept: made anew by us, small, and without where and when it was taken."""

    name = models.CharField("random name", max_length=LONGEST_STAMP, unique=True)
    width = models.PositiveSmallIntegerField("width in pixels")
    height = models.PositiveSmallIntegerField("height in pixels")
    made_by = models.ForeignKey(Member, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("photo", args=[self.name])


class PackagePhoto(models.Model):
    """The photo of a package; a table of its own, so that the ledger's tables stay as they are."""

    package = models.OneToOneField(Package, on_delete=models.PROTECT, related_name="pictured")
    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, related_name="of_packages")

    def __str__(self) -> str:
        return f"photo of package {self.package_id}"


class Arrival(models.Model):
    """A package that came in and whose yarn is not named yet. Named, it is a package; thrown out, it says why."""

    kind = models.CharField("kind of package", max_length=6, choices=Package.Kind.choices, default=Package.Kind.CONE)
    gross_text = models.CharField("gross weight", max_length=LONGEST_TEXT)
    tare_text = models.CharField("tare", max_length=LONGEST_TEXT, blank=True)
    gross_g = grams("gross weight in grams", editable=False)
    tare_g = grams("tare in grams", editable=False, default=Decimal(0))
    dye_lot = models.CharField("dye lot", max_length=40, blank=True)
    bin_name = models.CharField("bin", max_length=40, blank=True)
    owner = models.ForeignKey(
        Member, on_delete=models.PROTECT, null=True, blank=True, related_name="+", verbose_name="belongs to"
    )
    source = models.CharField(
        "where it came from", max_length=9, choices=Package.Source.choices, default=Package.Source.DONATED
    )
    notes = models.CharField("notes", max_length=200, blank=True)
    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, null=True, blank=True, related_name="of_arrivals")
    received_on = models.DateField("received on", default=timezone.localdate)
    received_by = models.ForeignKey(Member, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    package = models.OneToOneField(
        Package, on_delete=models.PROTECT, null=True, blank=True, editable=False, related_name="arrival"
    )
    closed_at = models.DateTimeField("named or thrown out", null=True, blank=True, editable=False)
    closed_by = models.ForeignKey(
        Member, on_delete=models.PROTECT, null=True, blank=True, editable=False, related_name="+"
    )
    why_out = models.CharField("why it was thrown out", max_length=LONGEST_REASON, blank=True, editable=False)

    class Meta:
        ordering = ("received_on", "pk")
        indexes = (models.Index(fields=("received_on", "id"), condition=Q(closed_at=None), name="arrival_waiting"),)
        constraints = (
            models.CheckConstraint(
                condition=Q(tare_g__gte=0, gross_g__gte=F("tare_g")), name="arrival_not_lighter_than_its_tare"
            ),
            models.CheckConstraint(
                condition=Q(closed_at=None, package=None, why_out="")
                | Q(closed_at__isnull=False, package__isnull=False, why_out="")
                | Q(closed_at__isnull=False, package=None) & ~Q(why_out=""),
                name="arrival_waits_or_is_named_or_says_why_not",
            ),
        )  # fmt: skip

    def __str__(self) -> str:
        return f"A{self.pk}"

    def clean(self) -> None:
        """Turn the scale's words into grams, as a package does."""
        wrong = read_weights(self, "gross", "tare")
        if not wrong and self.gross_g < self.tare_g:
            wrong["tare_text"] = "The empty package cannot weigh more than the full one."
        if wrong:
            raise ValidationError(wrong)

    @property
    def net_ug(self) -> int:
        """Yarn on it by the scale [ug]; with no tare known, all of it."""
        return net_micrograms(Fraction(self.gross_g), Fraction(self.tare_g))


class Stamp(models.Model):
    """A form that was sent: its stamp is written once, so that a button pressed twice is one action."""

    stamp = models.CharField("stamp of the form", max_length=LONGEST_STAMP, unique=True)
    said = models.TextField("what was said of it")
    made_by = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="+")
    made_at = models.DateTimeField("made", default=timezone.now, editable=False)

    def __str__(self) -> str:
        return self.stamp
