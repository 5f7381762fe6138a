"""Warps as people typed them, and the cards issued for them.

A project keeps the brief as typed (so that it comes back exactly, mistakes and all) and, beside it, the
complete brief with every default and loom fact filled in; never the plan, which always follows again.
A card keeps its plan and its PDF for ever. Calibrations tell how deep a yarn winds on a beam, as taped. What a warp
lacks of its yarn stands on the wanted list.
"""

from __future__ import annotations

from fractions import Fraction

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from inventory.models import SetAside, Yarn
from planner.brief.fields import read_tex
from planner.calc.beam.calibration import density_range, depth_range, turns_to_tell
from planner.calc.terms.plan import Range
from studio.models import Beam, Loom, LoomOccupancy, Member
from studio.models.looms import cm

MOST_TAPED = 10_000
MOST_NAME = 200
WELL_ENOUGH = Fraction(1, 20)
"""Share of the depth within which a calibration is good enough to plan by (common practice, no source)."""
SPARSEST, DENSEST = Fraction(1, 50), Fraction(2)
"""Densities of yarn on a beam [g/cm3] that are no slip: fibre itself is 0.9 to 1.6, loosely wound wool about 0.1."""


class Project(models.Model):
    """One warp: whose it is, for which loom, and the brief."""

    owner = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="projects")
    title = models.CharField("title", max_length=120)
    loom = models.ForeignKey(Loom, on_delete=models.SET_NULL, null=True, blank=True, related_name="projects")
    beam = models.ForeignKey(Beam, on_delete=models.SET_NULL, null=True, blank=True, related_name="projects")
    digest = models.CharField("digest of what the plan says to do", max_length=64, blank=True)
    words = models.TextField("yarns, to search by", blank=True, editable=False)
    version = models.PositiveIntegerField("version", default=1)
    ends = models.PositiveIntegerField("ends", null=True, blank=True)
    width_in_reed_cm = models.DecimalField("width in reed", max_digits=14, decimal_places=6, null=True, blank=True)
    warp_length_cm = models.DecimalField("warp length", max_digits=14, decimal_places=6, null=True, blank=True)
    copied_from = models.ForeignKey("self", on_delete=models.SET_NULL, null=True, blank=True, related_name="copies")
    created_at = models.DateTimeField("started", auto_now_add=True)
    changed_at = models.DateTimeField("changed", auto_now=True)
    archived = models.BooleanField("put away", default=False)
    set_aside = models.OneToOneField(
        SetAside, on_delete=models.PROTECT, null=True, blank=True, editable=False, related_name="warp"
    )
    reservation = models.ForeignKey(
        LoomOccupancy, on_delete=models.PROTECT, null=True, blank=True, editable=False, related_name="warps"
    )
    typed = models.JSONField("brief as typed", default=dict)
    complete = models.JSONField("complete brief", null=True, blank=True)

    class Meta:
        verbose_name = "warp"
        ordering = ("-changed_at", "-pk")
        # A list is counted and put in order from its index alone. Partial ones were passed over: SQLite looks into them
        # only where a question says their condition in the very same words.
        indexes = (
            models.Index(fields=("owner", "archived", "-changed_at", "-id"), name="project_of_owner"),
            models.Index(fields=("archived", "-changed_at", "-id"), name="project_of_all"),
            models.Index(fields=("-changed_at", "-id"), name="project_changed"),
        )

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("warp", args=[self.pk])

    @property
    def stamp(self) -> str:
        """When it was last saved, to the microsecond: tells a sheet opened before from one opened since."""
        return self.changed_at.isoformat() if self.pk else ""

    @property
    def is_draft(self) -> bool:
        """True while the brief has mistakes and no plan follows from it."""
        return self.ends is None


class IssuedCard(models.Model):
    """A printed card under its number: the plan and the paper as they were; neither ever changes."""

    number = models.PositiveIntegerField("card number", unique=True)
    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="cards")
    version = models.PositiveIntegerField("version of the brief")
    digest = models.CharField("digest of what the card says to do", max_length=64)
    beam = models.ForeignKey(Beam, on_delete=models.SET_NULL, null=True, related_name="cards")
    loom_name = models.CharField("loom as printed", max_length=120)
    brief = models.JSONField("complete brief")
    plan = models.JSONField("plan as printed")
    units = models.CharField("measures", max_length=6)
    paper = models.CharField("paper", max_length=6)
    html = models.TextField("print page")
    pdf = models.BinaryField("PDF", null=True)
    issued_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="cards")
    issued_at = models.DateTimeField("issued", auto_now_add=True)

    class Meta:
        ordering = ("-number",)
        constraints = (models.CheckConstraint(condition=Q(number__gt=0), name="card_number_above_zero"),)

    def __str__(self) -> str:
        return f"Card {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("card", args=[self.number])


class Calibration(models.Model):
    """A beam taped before and after some turns with one yarn: how deep the turns came out, as read from the tape.

    The yarn is kept as words and figures, so that the measurement outlives the yarn room's list: it counts for any
    yarn of the same fibre and fineness, whatever its colour. What follows from the readings is worked out each time.
    """

    beam = models.ForeignKey(Beam, on_delete=models.CASCADE, related_name="calibrations")
    yarn_name = models.CharField("yarn", max_length=80)
    fibre = models.CharField("fibre", max_length=10)
    grist = models.CharField("fineness, exact", max_length=80)
    ends = models.PositiveIntegerField("ends taped", validators=[MinValueValidator(1), MaxValueValidator(MOST_TAPED)])
    width_cm = cm("width they lie on")
    turns = models.PositiveIntegerField(
        "turns wound between", validators=[MinValueValidator(1), MaxValueValidator(MOST_TAPED)]
    )
    start_cm = cm("round before")
    end_cm = cm("round after")
    tape_cm = cm("tape wrong by at most", above_zero=False)
    measured_on = models.DateField("measured on")
    measured_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="calibrations")
    note = models.CharField("note", max_length=200, blank=True)

    class Meta:
        ordering = ("-measured_on", "-pk")
        constraints = (
            models.CheckConstraint(
                condition=Q(end_cm__gt=F("start_cm")),
                name="calibration_grows",
                violation_error_message="The circumference after winding must be larger than before.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.beam}, {self.yarn_name}: {self.measured_on:%Y-%m-%d}"

    @property
    def depth(self) -> Range:
        """Depth of one turn with its doubt [cm]."""
        start, end, tape = Fraction(self.start_cm), Fraction(self.end_cm), Fraction(self.tape_cm)
        return depth_range(self.turns, start, end, tape)

    @property
    def density(self) -> Range:
        """Density as wound with its doubt [g/cm3]."""
        return density_range(self.depth, self.ends / Fraction(self.width_cm), read_tex(self.grist))

    def clean(self) -> None:
        """Refuse readings that no winding gives, each beside its field."""
        needed = (self.start_cm, self.end_cm, self.width_cm, self.turns, self.ends, self.grist)
        if not all(needed) or self.tape_cm is None:  # said beside their own fields, or the yarn is still to come
            return
        wrong: dict[str, str] = {}
        if self.end_cm <= self.start_cm:
            wrong["end_cm"] = "The circumference after winding must be larger than before."
        elif self.tape_cm * 10 > self.start_cm:
            wrong["tape_cm"] = "A tape that is wrong by more than a tenth of the circumference measures nothing."
        elif self.depth.low <= 0:
            more = turns_to_tell(self.depth.likely, Fraction(self.tape_cm), WELL_ENOUGH)
            wrong["turns"] = f"The tape cannot tell so few turns from nothing. Tape again after {more} turns or more."
        elif not SPARSEST <= self.density.likely <= DENSEST:
            wrong["ends"] = (
                "Yarn wound so densely, or so loosely, is a slip: check ends, width, turns and both circumferences."
            )
        if wrong:
            raise ValidationError(wrong)


class Wanted(models.Model):
    """Yarn that a warp lacks and that is to be bought: how much was asked for, and until when it is expected.

    The yarn is kept as words and figures beside its row of the yarn room, so that yarn which is in no book can be
    wanted too, and a row outlives the book's. `needed_ug` is all that the warp needs of it, and follows the warp.
    """

    class State(models.TextChoices):
        WANTED = "wanted", "wanted"
        ORDERED = "ordered", "ordered"
        COME = "come", "come"

    project = models.ForeignKey(Project, on_delete=models.CASCADE, related_name="wanted")
    yarn = models.ForeignKey(Yarn, on_delete=models.SET_NULL, null=True, blank=True, related_name="wanted")
    yarn_name = models.CharField("yarn", max_length=MOST_NAME)
    grist = models.CharField("fineness, exact", max_length=MOST_NAME)
    mass_ug = models.BigIntegerField("asked for, in micrograms", validators=[MinValueValidator(1)])
    needed_ug = models.BigIntegerField("needed in all, in micrograms", validators=[MinValueValidator(0)])
    expected_on = models.DateField("expected on", null=True, blank=True)
    note = models.CharField("note", max_length=200, blank=True)
    state = models.CharField("state", max_length=7, choices=State.choices, default=State.WANTED)
    asked_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="yarn_wanted")
    asked_at = models.DateTimeField("asked", auto_now_add=True)
    changed_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="yarn_wanted_changed")
    changed_at = models.DateTimeField("changed", auto_now=True)

    class Meta:
        verbose_name = "wanted yarn"
        verbose_name_plural = "wanted yarn"
        ordering = ("yarn_name", "asked_at", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(mass_ug__gt=0, needed_ug__gte=0), name="wanted_is_something"),
            models.UniqueConstraint(
                fields=("project", "yarn_name", "grist"),
                condition=~Q(state="come"),
                name="wanted_once_by_a_warp",
                violation_error_message="This yarn is on the wanted list for this warp already.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.yarn_name} for “{self.project}”"

    @property
    def tex(self) -> Fraction:
        """How fine it is [tex]."""
        return read_tex(self.grist)
