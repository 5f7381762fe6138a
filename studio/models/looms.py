"""Looms, their warp beams, the reeds and the winding stations, as measured in this studio."""

from collections import Counter
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

POSITIVE = MinValueValidator(Decimal("0.000001"))
NOT_NEGATIVE = MinValueValidator(Decimal(0))
WIDEST = MaxValueValidator(Decimal(100_000))
BENCH_COUNT = [MinValueValidator(1), MaxValueValidator(1000)]
MOST_HEDDLES = 10_000
COUNTS = {2: "two", 3: "three", 4: "four"}
LEAST_ROUND_CM = Decimal(10)
"""Less is a stick and no beam: the small ones of table looms are some 20 cm round (common practice, no source)."""
LEAST_PITCH_CM = Decimal("0.5")
"""No divider leaves room for yarn in less; the narrowest sections are 3/4 in (common practice, no source)."""
TALLEST_RAKE = Decimal("0.5")
"""Share of the circumference, so a little over three radii. Rakes are 2 to 8 cm on beams of 45 to 100 cm (common
practice, no source); taller ones than this on so thin a beam are a slip of the unit."""
ROUND_TOO_SMALL = "No warp beam is less than 10 cm (4 in) in circumference; check the number and its unit."
SLACK_CM = Decimal("0.01")
"""Decimals are floats inside SQLite, so the database's own check leaves a tenth of a millimetre; `clean` is exact."""


def cm(verbose_name: str, *, above_zero: bool = True, **options: Any) -> models.DecimalField[Any, Any]:
    """Make a column for a length; six places hold every inch with four decimals exactly."""
    first = POSITIVE if above_zero else NOT_NEGATIVE
    return models.DecimalField(verbose_name, max_digits=14, decimal_places=6, validators=[first, WIDEST], **options)


class LoomQuerySet(models.QuerySet["Loom"]):
    """Looms as lists of them are asked for."""

    def with_beams(self) -> "LoomQuerySet":
        """Give looms with their beams, those in use first."""
        return self.prefetch_related("beams").order_by("retired", "number")

    def in_use(self) -> "LoomQuerySet":
        """Give the looms that can take a warp, with their beams."""
        return self.with_beams().filter(retired=False)


class Loom(models.Model):
    """One loom: what it can take, and the waste measured on it."""

    number = models.PositiveSmallIntegerField(
        "loom number",
        unique=True,
        validators=[MaxValueValidator(9999)],
        error_messages={"unique": "This number hangs on another loom."},
    )
    nickname = models.CharField(
        "nickname", max_length=60, unique=True, error_messages={"unique": "Another loom has this nickname."}
    )
    weaving_width_cm = cm("weaving width")
    shafts = models.PositiveSmallIntegerField("shafts", validators=[MinValueValidator(1), MaxValueValidator(64)])
    treadles = models.PositiveSmallIntegerField("treadles", default=0, validators=[MaxValueValidator(64)])
    heddles = models.JSONField("heddles on each shaft", default=list, blank=True)
    waste_cm = cm("loom waste", above_zero=False, default=Decimal("91.44"))
    notes = models.TextField("notes", blank=True, max_length=4000)
    retired = models.BooleanField("no longer in use", default=False)

    objects = LoomQuerySet.as_manager()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.CheckConstraint(condition=Q(weaving_width_cm__gt=0), name="loom_weaving_width_above_zero"),
            models.CheckConstraint(condition=Q(waste_cm__gte=0), name="loom_waste_not_negative"),
        )

    def __str__(self) -> str:
        return f"{self.number} {self.nickname}"

    def get_absolute_url(self) -> str:
        return reverse("loom", args=[self.pk])

    @property
    def beams_in_words(self) -> str:
        """Its beams by their kind, such as sectional beam; or two sectional beams."""
        counts = Counter(beam.get_kind_display() for beam in self.beams.all())
        return ", ".join(f"{kind} beam" if n == 1 else f"{COUNTS.get(n, n)} {kind} beams" for kind, n in counts.items())

    @property
    def all_heddles(self) -> int:
        """Heddles on all shafts together; 0 when nobody has counted them."""
        return sum(self.heddles)

    def clean(self) -> None:
        counts = self.heddles
        whole = isinstance(counts, list) and all(type(n) is int and 0 <= n <= MOST_HEDDLES for n in counts)
        if not whole:
            raise ValidationError({"heddles": "Heddles are whole numbers, front shaft first."})
        if counts and self.shafts and len(counts) != self.shafts:
            raise ValidationError({"heddles": f"Give one number for each of the {self.shafts} shafts."})


class Beam(models.Model):
    """One warp beam of a loom, with its latest circumference; `BeamRound` keeps the earlier ones."""

    class Kind(models.TextChoices):
        PLAIN = "plain", "plain"
        SECTIONAL = "sectional", "sectional"

    class Centre(models.TextChoices):
        DIVIDER = "divider", "a divider"
        SECTION = "section", "a section"

    class Turning(models.TextChoices):
        OVER = "over", "over the top"
        UNDER = "under", "from under"

    loom = models.ForeignKey(Loom, on_delete=models.CASCADE, related_name="beams")
    name = models.CharField("name", max_length=40, default="warp beam")
    kind = models.CharField("kind", max_length=10, choices=Kind.choices, default=Kind.SECTIONAL)
    circumference_cm = cm("circumference, empty")
    usable_width_cm = cm("usable width")
    pitch_cm = cm("section width", null=True, blank=True)
    divider_cm = cm("thickness of a divider", above_zero=False, default=Decimal(0))
    sections = models.PositiveSmallIntegerField("number of sections", default=0, validators=[MaxValueValidator(400)])
    centre = models.CharField("at the middle", max_length=8, choices=Centre.choices, default=Centre.DIVIDER)
    rake_height_cm = cm("rake height above the bar", null=True, blank=True)
    bars = models.PositiveSmallIntegerField("bars", default=4, validators=[MaxValueValidator(24)])
    leader_cm = cm("leader, from its hole to its loop", null=True, blank=True)
    leader_offset_cm = cm(
        "hole of the leader past its bar, along the circumference", above_zero=False, default=Decimal(0)
    )
    leader_knot_cm = cm("knot and loop of the leader, along the circumference", above_zero=False, default=Decimal(0))
    turning = models.CharField("warp leaves the beam", max_length=6, choices=Turning.choices, default=Turning.OVER)
    clockwise = models.BooleanField("winds clockwise, seen from the crank side", default=True)

    class Meta:
        ordering = ("loom", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("loom", "name"),
                name="beam_name_once_per_loom",
                violation_error_message="This loom already has a beam of that name.",
            ),
            models.CheckConstraint(
                condition=Q(circumference_cm__gte=LEAST_ROUND_CM - SLACK_CM),
                name="beam_is_no_stick",
                violation_error_message=ROUND_TOO_SMALL,
            ),
            models.CheckConstraint(condition=Q(usable_width_cm__gt=0), name="beam_usable_width_above_zero"),
            models.CheckConstraint(
                condition=Q(kind="plain")
                | Q(
                    pitch_cm__gte=LEAST_PITCH_CM - SLACK_CM,
                    sections__gt=0,
                    rake_height_cm__gt=0,
                    rake_height_cm__lte=F("circumference_cm") * TALLEST_RAKE + SLACK_CM,
                    usable_width_cm__gte=F("pitch_cm") * F("sections") - SLACK_CM,
                ),
                name="beam_sections_fit",
                violation_error_message="The sections or their rakes do not fit on this beam.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.loom}, {self.name}"

    @property
    def is_sectional(self) -> bool:
        """True when rakes divide the beam."""
        return self.kind == self.Kind.SECTIONAL

    @property
    def widest_warp_cm(self) -> Decimal:
        """The widest warp that both this beam and its loom can take."""
        widest: Decimal = min(self.usable_width_cm, self.loom.weaving_width_cm)
        return widest

    @property
    def winds(self) -> str:
        """The way it turns while winding, seen from the crank side."""
        return "clockwise" if self.clockwise else "anticlockwise"

    def clean(self) -> None:
        """Work out what stands at the middle, and refuse a beam that cannot exist, each fault beside its field."""
        odd = self.kind == self.Kind.SECTIONAL and (self.sections or 0) % 2 == 1
        self.centre = self.Centre.SECTION if odd else self.Centre.DIVIDER
        wrong = self._wrong_with_sections() if self.kind == self.Kind.SECTIONAL else {}
        if too_small_round(self.circumference_cm):
            wrong["circumference_cm"] = ROUND_TOO_SMALL
        if wrong:
            raise ValidationError(wrong)

    def _wrong_with_sections(self) -> dict[str, str]:
        wrong: dict[str, str] = {}
        if not self.pitch_cm:
            wrong["pitch_cm"] = "A sectional beam needs its section width."
        elif self.pitch_cm < LEAST_PITCH_CM:
            wrong["pitch_cm"] = "No section is narrower than 0.5 cm (3/16 in); check the number and its unit."
        if not self.sections:
            wrong["sections"] = "A sectional beam needs at least one section."
        if not self.rake_height_cm:
            wrong["rake_height_cm"] = "A sectional beam needs the height of its rakes."
        elif self.circumference_cm and self.rake_height_cm > self.circumference_cm * TALLEST_RAKE:
            wrong["rake_height_cm"] = (
                "Rakes are no taller than half the circumference of their beam, most only 2 to 8 cm (3/4 to 3 in); "
                "check the number and its unit."
            )
        if self.pitch_cm and self.divider_cm >= self.pitch_cm:
            wrong["divider_cm"] = "The divider is as thick as the section is wide; nothing could be wound."
        if self.pitch_cm and self.sections and self.usable_width_cm:
            taken = self.pitch_cm * self.sections
            if taken > self.usable_width_cm + SLACK_CM:
                wrong["sections"] = "The sections together are wider than the beam."
        return wrong


def too_small_round(circumference_cm: Decimal | None) -> bool:
    """Say whether a circumference is too small for any warp beam; nought and nothing are said elsewhere."""
    return circumference_cm is not None and 0 < circumference_cm < LEAST_ROUND_CM


class BeamRound(models.Model):
    """A circumference as it was measured, with its date; turns on old cards were counted on it."""

    beam = models.ForeignKey(Beam, on_delete=models.CASCADE, related_name="rounds")
    circumference_cm = cm("circumference, empty")
    measured_on = models.DateField("measured on")
    measured_by = models.ForeignKey(
        "studio.Member", on_delete=models.SET_NULL, null=True, blank=True, related_name="beam_rounds"
    )
    note = models.CharField("note", max_length=200, blank=True)

    class Meta:
        ordering = ("-measured_on", "-pk")
        constraints = (
            models.CheckConstraint(
                condition=Q(circumference_cm__gte=LEAST_ROUND_CM - SLACK_CM),
                name="round_is_no_stick",
                violation_error_message=ROUND_TOO_SMALL,
            ),
        )

    def __str__(self) -> str:
        return f"{self.beam}: {self.measured_on:%Y-%m-%d}"

    def clean(self) -> None:
        if too_small_round(self.circumference_cm):
            raise ValidationError({"circumference_cm": ROUND_TOO_SMALL})


class Reed(models.Model):
    """One reed. Its dents are kept as it is stamped, so inch and metric reeds are both exact."""

    class Per(models.TextChoices):
        INCH = "in", "to the inch"
        CM = "cm", "to the cm"
        TEN_CM = "10cm", "to 10 cm"

    dents = models.DecimalField("dents", max_digits=8, decimal_places=3, validators=[POSITIVE])
    per = models.CharField("counted", max_length=4, choices=Per.choices, default=Per.INCH)
    reed_length_cm = cm("reed length")
    reed_height_cm = cm("reed height", null=True, blank=True)
    kept_with = models.ForeignKey(
        Loom, on_delete=models.SET_NULL, null=True, blank=True, related_name="own_reeds", verbose_name="kept with loom"
    )
    mark = models.CharField("mark on the reed", max_length=40, blank=True)
    retired = models.BooleanField("no longer in use", default=False)

    class Meta:
        ordering = ("per", "dents", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(dents__gt=0), name="reed_dents_above_zero"),
            models.CheckConstraint(condition=Q(reed_length_cm__gt=0), name="reed_length_above_zero"),
        )

    def __str__(self) -> str:
        stamped = dents_in_words(self.dents, self.per)
        return f"{stamped} ({self.mark})" if self.mark else stamped


def dents_in_words(dents: Decimal, per: str) -> str:
    """Say the dents as they are stamped, such as 12 dents to the inch, or 50/10."""
    number = f"{Decimal(dents).normalize():f}"
    if per == Reed.Per.TEN_CM:
        return f"{number}/10"
    return f"{number} dent{'' if dents == 1 else 's'} {Reed.Per(per).label}"


class Station(models.Model):
    """A place or tool for winding: board, mill, tension box, rack, raddle and the like."""

    class Kind(models.TextChoices):
        BOARD = "board", "warping board"
        MILL = "mill", "warping mill"
        BOX = "box", "tension box"
        RACK = "rack", "spool rack"
        RADDLE = "raddle", "raddle"
        WINDER = "winder", "winder"
        SCALE = "scale", "scale"
        TABLE = "table", "table"

    kind = models.CharField("kind", max_length=8, choices=Kind.choices)
    name = models.CharField(
        "name", max_length=60, unique=True, error_messages={"unique": "Another station has this name."}
    )
    path_longest_cm = cm("longest path", null=True, blank=True)
    path_step_cm = cm("paths change by", null=True, blank=True)
    ends_at_once = models.PositiveSmallIntegerField("ends wound at once", null=True, blank=True, validators=BENCH_COUNT)
    rack_spools = models.PositiveSmallIntegerField("spools on the rack", null=True, blank=True, validators=BENCH_COUNT)
    comb_dents = models.DecimalField(
        "dents of the comb", max_digits=8, decimal_places=3, null=True, blank=True, validators=[POSITIVE]
    )
    comb_per = models.CharField("counted", max_length=4, choices=Reed.Per.choices, default=Reed.Per.INCH)
    raddle_space_cm = cm("raddle space", null=True, blank=True)
    training_needed = models.BooleanField("only after a safety briefing", default=False)
    notes = models.TextField("notes", blank=True, max_length=4000)
    retired = models.BooleanField("no longer in use", default=False)

    class Meta:
        ordering = ("kind", "name")

    def __str__(self) -> str:
        return self.name

    @property
    def comb_words(self) -> str:
        """The exit comb as it is stamped; nothing where there is none."""
        return dents_in_words(self.comb_dents, self.comb_per) if self.comb_dents else ""
