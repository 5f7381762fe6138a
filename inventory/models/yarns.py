"""Yarns as their labels describe them."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse

from inventory.calc.colour import family_of, wall_place
from inventory.calc.count import read_grist
from inventory.calc.ledger import micrograms
from studio.units import LONGEST_TEXT, UnitError, Units, read, to_decimal

HEX_COLOUR = RegexValidator(r"^#[0-9a-f]{6}\Z", "Give the colour as # and six hexadecimal digits.")
MOST_WRAPS_PER_CM = 400
"""Finer than any thread that can be laid round a ruler; a larger number is a slip of the pen."""
MOST_KEPT_G = 1_000_000
UNSAID_COLOUR = "#8a8a8a"
"""What the colour box holds until somebody chooses: it stands for no colour at all, and hangs with no family."""


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


class ColourFamily(models.TextChoices):
    """Where on the colour wall a yarn hangs, in the wall's order."""

    NATURAL = "natural", "whites and naturals"
    YELLOW = "yellow", "yellows"
    ORANGE = "orange", "oranges"
    RED = "red", "reds and pinks"
    VIOLET = "violet", "violets"
    BLUE = "blue", "blues"
    GREEN = "green", "greens"
    BROWN = "brown", "browns"
    GREY = "grey", "greys"
    BLACK = "black", "blacks"


class Yarn(models.Model):
    """One yarn in one colour. Its fineness is kept as typed; the label's yd/lb or m/kg wins over the count."""

    name = models.CharField("name", max_length=80)
    fibre = models.CharField("fibre", max_length=10, choices=Fibre.choices, default=Fibre.COTTON)
    count_text = models.CharField("count", max_length=40, help_text="As on the label, such as 8/2 cotton.", blank=True)
    grist_text = models.CharField(
        "yards per pound or metres per kilogram", max_length=40, blank=True, help_text="Such as 3360 yd/lb."
    )
    wraps_text = models.CharField("wraps", max_length=20, blank=True, help_text="As measured, such as 28 /in.")
    tex = models.DecimalField("tex", max_digits=16, decimal_places=6, editable=False, default=Decimal(0))
    colour_name = models.CharField("colour", max_length=40, blank=True)
    colour = models.CharField("colour for drawings", max_length=7, validators=[HEX_COLOUR], default=UNSAID_COLOUR)
    colour_family = models.CharField(
        "colour family", max_length=7, choices=ColourFamily.choices, editable=False, db_index=True,
        default=family_of(UNSAID_COLOUR),
    )  # fmt: skip
    wall_place = models.PositiveSmallIntegerField(
        "place on the colour wall", editable=False, db_index=True, default=wall_place(UNSAID_COLOUR)
    )
    wound_density = models.DecimalField(
        "density wound on a beam, g/cm3", max_digits=5, decimal_places=3, null=True, blank=True,
        validators=[MinValueValidator(Decimal("0.05")), MaxValueValidator(Decimal(3))],
    )  # fmt: skip
    price_per_100g = models.DecimalField(
        "price of 100 g", max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    keep_at_least_text = models.CharField("keep at least", max_length=LONGEST_TEXT, blank=True)
    keep_at_least_ug = models.BigIntegerField("keep at least, in micrograms", null=True, blank=True, editable=False)
    notes = models.TextField("notes", blank=True, max_length=4000)
    retired = models.BooleanField("discontinued", default=False)

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

    def clean(self) -> None:
        """Settle what follows from the words: tex, place on the wall, least stock; each fault beside its field."""
        wrong: dict[str, str] = {}
        figure = "grist_text" if self.grist_text else "count_text"
        if not getattr(self, figure):
            wrong["count_text"] = "Give the count, or the yards per pound or metres per kilogram from the label."
        else:
            try:
                self.tex = to_decimal(self.exact_tex)
            except UnitError as trouble:
                wrong[figure] = trouble.message
        if self.wraps_text and (trouble_with_wraps := _trouble_with_wraps(self.wraps_text)):
            wrong["wraps_text"] = trouble_with_wraps
        try:
            self.keep_at_least_ug = _least_stock(self.keep_at_least_text)
        except UnitError as trouble:
            wrong["keep_at_least_text"] = trouble.message
        if re.fullmatch(HEX_COLOUR.regex, self.colour):
            self.colour_family, self.wall_place = family_of(self.colour), wall_place(self.colour)
        if wrong:
            raise ValidationError(wrong)

    @property
    def colour_given(self) -> bool:
        """Whether somebody chose a colour for drawings; a form left as it was holds the one that says nothing."""
        return self.colour != UNSAID_COLOUR

    @property
    def exact_tex(self) -> Fraction:
        """Mass per length, exact: the label's figure where there is one, else the count's."""
        return read_grist(self.grist_text or self.count_text, None)

    @property
    def count_tex(self) -> Fraction | None:
        """What the count alone would give; None where it is a trade name and not a number we can read."""
        try:
            return read_grist(self.count_text, None) if self.count_text else None
        except UnitError:
            return None

    @property
    def wraps(self) -> Fraction | None:
        """Wraps per cm as measured; None when not measured."""
        return read(self.wraps_text, "wraps", Units.INCH) if self.wraps_text else None


def _least_stock(text: str) -> int | None:
    """Read how much of a yarn should be there [ug]; None where nobody said."""
    if not text:
        return None
    mass = read(text, "mass", None)
    if mass > MOST_KEPT_G:
        raise UnitError("too_heavy", "That is more than a tonne; look at the unit again.")
    if not mass:
        raise UnitError("not_above_zero", "Leave it empty where none need be kept.")
    return micrograms(mass)


def _trouble_with_wraps(text: str) -> str:
    """Say what is wrong with wraps as typed; empty when nothing is."""
    try:
        wraps = read(text, "wraps", Units.INCH)
    except UnitError:
        wraps = None
    return (
        ""
        if wraps is not None and 0 < wraps <= MOST_WRAPS_PER_CM
        else "Write how many wraps lie side by side, such as 28 /in."
    )
