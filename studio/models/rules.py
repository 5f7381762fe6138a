"""The studio's own rules, tolerances and defaults: one row, edited by stewards."""

from decimal import Decimal
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from studio.models.looms import cm
from studio.units import Units


def share(verbose_name: str, default: str) -> models.DecimalField[Any, Any]:
    """Make a column for a share of one, kept as a fraction (0.03 is 3 %)."""
    return models.DecimalField(
        verbose_name,
        max_digits=8,
        decimal_places=6,
        default=Decimal(default),
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal("0.9"))],
    )


class StudioRules(models.Model):
    """Name of the studio, and the figures it works by. Where no source is known the page says so."""

    name = models.CharField("name of the studio", max_length=80, default="Our weaving room")
    units = models.CharField(
        "measures of the house", max_length=6, default=Units.INCH,
        choices=[(Units.INCH.value, "inches, yards, ounces"), (Units.METRIC.value, "centimetres, metres, grams")],
    )  # fmt: skip
    local_rules = models.TextField("local safety rules, printed on cards", blank=True, max_length=300)
    mismatch_note = share("length difference between sections: note at", "0.003")
    mismatch_warn = share("length difference between sections: warn at", "0.005")
    mismatch_stop = share("length difference between sections: never silent at", "0.01")
    sett_error = share("sett error still called good", "0.02")
    sett_share = share("working sett, share of the maximum", "0.8")
    rake_clearance_cm = cm("rake kept clear above the yarn", above_zero=False, default=Decimal("0.635"))
    section_waste_cm = cm("yarn lost per end and section", above_zero=False, default=Decimal("45.72"))
    box_lead_cm = cm("box lead lost per end and re-thread", above_zero=False, default=Decimal("228.6"))
    spool_reserve = share("more yarn on each spool", "0.03")
    spool_step_cm = cm("spools are wound in steps of", default=Decimal("457.2"))
    tie_every_cm = cm("choke ties every", default=Decimal("91.44"))

    class Meta:
        verbose_name_plural = "studio rules"
        constraints = (models.CheckConstraint(condition=Q(pk=1), name="studio_rules_one_row"),)

    def __str__(self) -> str:
        return self.name
